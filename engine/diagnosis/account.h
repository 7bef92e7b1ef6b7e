// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "pattern/terms.h"

namespace loopmend {

/// What settles a mistake for a learner, and what it is not.
struct Account {
    /// Two signs, each by another way of looking; from both sides where they differ.
    std::vector<std::string> signs;
    std::string notId;     ///< the nearest likeness that is ruled out; empty: nothing looks like it
    std::string notWords;  ///< what it is not, which look tells, and what would be seen then
};

/// Found by making the mistake on a small piece and looking (see facts.h and confusions.h), nothing known
/// beforehand but the sign that the trade tells. `open`: mistakes that make the same cloth, so that they are
/// not ruled out. About the price of 200 small pieces, so it is not part of every explanation.
Account accountOf(std::string_view faultId, const std::vector<std::string>& open, Terms terms = Terms::us);

}  // namespace loopmend
