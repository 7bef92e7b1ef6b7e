// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <string_view>

#include "diagnosis/explain.h"

namespace loopmend {

/// What happened, where, how the knitting went on, and the sign that settles it: two to four short
/// sentences.
std::string wordsOf(const FoundFault& fault, const Script& meant, Terms terms);
/// The sign alone that tells a mistake from its look-alikes; empty: none is known.
std::string signWords(std::string_view faultId, Terms terms);
/// One sentence over all explanations.
std::string wordsOf(const Explanations& explanations, Terms terms);

}  // namespace loopmend
