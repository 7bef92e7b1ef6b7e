// SPDX-License-Identifier: MIT
#pragma once

#include <string>

#include <tl/expected.hpp>

#include "picture/handout.h"

namespace loopmend {

/// A handout as one web page: nothing outside it is asked for, so it works without a network and can be
/// sent as it is. Large letters on a light ground, pictures as drawings in the page, each with words for
/// those who listen; printed, a step is not torn apart.
std::string htmlOf(const Handout& handout);

/// A handout as a PDF of sheets to print; the error is a sentence.
tl::expected<std::string, std::string> pdfOf(const Handout& handout, const SheetSize& size = {});

}  // namespace loopmend
