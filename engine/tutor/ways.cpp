// SPDX-License-Identifier: MIT
#include "tutor/ways.h"

#include <algorithm>

#include <fmt/format.h>

namespace loopmend {

bool somethingCameOut(const Scene& scene) {
    const std::vector<Evidence::Kind> signs = signsToBeSeen(scene);
    return std::find(signs.begin(), signs.end(), Evidence::Kind::openLoop) != signs.end();
}

std::string wayWords(const Swatch& swatch, const Scene& scene, const Plan& plan) {
    int hooks = 0;
    int taken = 0;
    int rows = 0;
    int columns = 0;
    bool down = false;
    for (const PlannedMove& m : plan.moves) {
        hooks += m.move.kind == MoveKind::hook ? 1 : 0;
        down = down || m.move.kind == MoveKind::drop || m.move.kind == MoveKind::letRun;
        columns += m.move.kind == MoveKind::letRun ? 1 : 0;
        if (m.move.kind == MoveKind::tink) taken += m.move.count;
        if (m.move.kind == MoveKind::rip) rows += m.move.count;
    }
    switch (plan.family) {
        case PlanFamily::column:
            if (!down && scene.standing.open.empty() && !somethingCameOut(scene))
                return fmt::format("Lift the bare strand and hook the column up from it, {}.",
                                   many(hooks, "rung", "rungs"));
            if (down && hooks == 0)
                return "Let that column go, down to its foot; nothing has to be hooked up.";
            if (columns > 1)
                return fmt::format(
                    "Let {} columns run down, one after the other, and hook each up again, {} in all.",
                    numberWord(columns), many(hooks, "rung", "rungs"));
            return down ? fmt::format("Let that column run down to the place, and hook it up again, {}.",
                                      many(hooks, "rung", "rungs"))
                        : fmt::format("Hook the fallen column up again, {}.", many(hooks, "rung", "rungs"));
        case PlanFamily::tink:
            return fmt::format("Take back {} one by one, and work them again.",
                               many(taken, "stitch", "stitches"));
        case PlanFamily::rip:
            return rows == 0 ? std::string("Put the loops on the needle and knit the rows again.")
                             : fmt::format("Take back {}, {} a row, and knit them again.",
                                           many(rows, "whole row", "whole rows"),
                                           many(swatch.script().castOn, "stitch", "stitches"));
        case PlanFamily::block: return "Lay the panel on two spare needles and work it up again, row by row.";
        case PlanFamily::lifelineFirst:
            return "Draw a thread through a row that is right first, then take back down to it.";
        case PlanFamily::fudge: return "Leave the stitches, and put the count right in this row.";
        case PlanFamily::duplicateOver: return "Sew the stitch that was meant over the one that is there.";
        case PlanFamily::snipAndGraft:
            return "Thread the rows on both sides, cut one strand between them, and sew the row anew.";
        case PlanFamily::fasten:
            return "Lead a short end of yarn through the open stitch, and sew it down on the other side.";
        case PlanFamily::ease: return "Draw the slack along the row with the tip of a needle, leg by leg.";
        case PlanFamily::sewIn: return "Sew in the stitch that slipped out, and join the ends.";
        case PlanFamily::startAgain: return "Draw it all out, and begin again.";
        case PlanFamily::untwist: return "Turn the band at the join, back to where it lies flat.";
        case PlanFamily::wash: return "Wash it, lay it flat, and judge again.";
        case PlanFamily::leave: break;
    }
    return {};
}

}  // namespace loopmend
