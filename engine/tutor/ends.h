// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <vector>

#include "fabric/knitter.h"
#include "pattern/op.h"
#include "pattern/working.h"
#include "repair/plan.h"

/// Where the mending of a swatch may end, if not in the very cloth that was meant.
namespace loopmend {

/// Families of plans that a lesson asks for besides those that are always looked for (column, tink, rip).
std::vector<PlanFamily> furtherWays(const std::vector<std::string>& repairs);

struct Ends {
    std::vector<PlanFamily> further;
    /// The knot is right from the start; what is wrong is the size of stitches or strands.
    bool sizes = false;
    /// So many may stay uneven: as many as the best of the ways leaves.
    std::size_t unevenLeft = 0;
    /// First lines of cloths that are otherwise than meant, and yet where a way of the lesson ends.
    std::vector<std::string> knots;
};
/// repairs: the ways of the lesson. knitter's fabric is as the lesson finds it.
Ends endsOf(const Fabric& meant, const Script& script, Knitter& knitter,
            const std::vector<std::string>& repairs);

/// Ways from the cloth as it lies to a meant one, proved, or ending where the lesson may end; cheapest first.
std::vector<Plan> waysHome(const Fabric& meant, const Script& script, Knitter& knitter, const Ends& ends);

}  // namespace loopmend
