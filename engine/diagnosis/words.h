// SPDX-License-Identifier: MIT
#pragma once

#include <string>

#include "diagnosis/explain.h"

namespace loopmend {

/// What happened, where, how the knitting went on, and the sign that settles it: two to four short
/// sentences.
std::string wordsOf(const FoundFault& fault, const Script& meant, Terms terms);
/// One sentence over all explanations.
std::string wordsOf(const Explanations& explanations, Terms terms);

}  // namespace loopmend
