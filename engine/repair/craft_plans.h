// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <vector>

#include <tl/expected.hpp>

#include "repair/builder.h"
#include "repair/craft_repairs.h"

/// Repairs of the craft for which no meant cloth is needed: done at a place of the fabric as it lies. Those
/// that make a meant stitch of a wrong one come out of the planner.
namespace loopmend {

/// Where. What a repair does not ask for is left out.
struct CraftPlace {
    LoopId loop;
    PassId pass;                ///< catchFloat: the strand where it goes by, in mid-span
    std::vector<LoopId> round;  ///< sewGapShut: the stitches round the gap, in the order of sewing
};

/// Whether it can be done by itself at a place: secure, lifeline, reseat, close_yarn_over, ease_snag, fasten,
/// open_bind_off, even_tension, sew_gap_shut, weave_end, catch_float, wash.
bool isByPlace(CraftRepair repair);

/// Its moves, carried out and taken back. The failure says in one sentence what has to be so first. Wash:
/// no moves, for no cloth changes by it here; its time and what has to be looked to.
tl::expected<Plan, std::string> craftPlan(CraftRepair repair, Knitter& knitter, const CraftPlace& at,
                                          const Pace& pace = {});

/// The stitches are right, and only some of them a little larger or smaller than they were meant, while their
/// rows hold as much yarn as they should: in water it finds its place. Refused where it would not.
bool planWash(const Situation& situation, PlanBuilder& builder);

/// A yarn-over that should not be is worked shut in this row, and the count put right beside it.
bool planCloseYarnOver(const Situation& situation, PlanBuilder& builder);

}  // namespace loopmend
