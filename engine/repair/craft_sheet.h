// SPDX-License-Identifier: MIT
#pragma once

#include <string_view>

#include "repair/craft_repairs.h"

namespace loopmend {

/// What a person wants to know of a repair before she begins. All of it is common practice; seconds, risk and
/// what a plan leaves are found by working it out (plan.h).
struct CraftSheet {
    std::string_view tools;    ///< what hands take up; empty: nothing but the needles
    std::string_view side;     ///< the side that faces her
    std::string_view needs;    ///< what has to be so before
    std::string_view risk;     ///< what goes wrong most easily
    std::string_view caution;  ///< empty: none
    int left = 0;  ///< to see afterwards: 0 nothing, 1 slight until washed, 2 she sees it, 3 all do
};

CraftSheet sheetFor(CraftRepair repair);

}  // namespace loopmend
