// SPDX-License-Identifier: MIT
#pragma once

#include "pattern/edits.h"
#include "pattern/pattern.h"

#include <functional>
#include <string>

namespace loopmend {

/// The small changes of a row that is not understood after which it is: one of its printed words left out, or
/// one put in that rows are held together by (a bracket, a star, `rep from *`, `to end`, a number of times)
/// or that is worked. The row is read again by itself, so that what only the pattern's key can say counts as
/// usual; patterns of several yarns are left alone. `tried` is called with the row as it then reads, the
/// price of the misprint (edits.h) and the words to say it: `“k to end” instead of “k to to end”`.
void eachRewording(const Pattern& pattern, std::size_t row, const MisprintWords& words,
                   const std::function<Tried(const Row& read, int price, const std::string& words)>& tried);

}  // namespace loopmend
