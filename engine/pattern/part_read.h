// SPDX-License-Identifier: MIT
#pragma once

#include <string_view>

#include "pattern/parse.h"
#include "pattern/parts.h"
#include "pattern/pattern.h"

namespace loopmend {

/// What a piece of a text has from the others, once its own rows are read: the stitches it begins with, its
/// rows turned about. `text` is all of it; what was taken for granted is said (Pattern::understood).
void finishPart(const Parts& parts, std::string_view text, const ParseOptions& options, Pattern& pattern);

}  // namespace loopmend
