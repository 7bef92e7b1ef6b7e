// SPDX-License-Identifier: MIT
#include "repair/anew.h"

#include <algorithm>

#include <fmt/format.h>

#include "repair/uneven.h"

namespace loopmend {

CastOn castOnOf(const Fabric& f, const std::vector<LoopId>& firstRow) {
    bool hitches = true;
    bool knots = true;
    for (const LoopId l : firstRow) {
        const LinkId link = f[l].firstLink;
        if (!link && f[l].flags.anchored == 0) continue;  // a strand lifted in the row above
        hitches = hitches && link && f[f[link].host].flags.anchored != 0;
        knots = knots && f[l].flags.anchored != 0;
    }
    return hitches ? CastOn::longTail : knots ? CastOn::backward : CastOn::knitted;
}

bool planStartAgain(const Situation& s, PlanBuilder& b) {
    const Script& script = s.script;
    if (script.castOn < 1 || script.rows.empty()) return b.refuse("nothing says how it was begun");
    if (b.knitter().inTheRound() != script.round) return b.refuse("it was begun in another way");
    Move begin;
    begin.kind = MoveKind::castOn;
    begin.count = script.castOn;
    begin.castOn =
        s.meantSpots.rows().empty() ? CastOn::longTail : castOnOf(s.meant, s.meantSpots.rows().front());
    if (!script.round && script.rows.front().facing == Facing::wrong) begin.side = Side::wrong;
    if (script.round && script.twist != 0) begin.twists = {script.twist};
    b.caution(
        "Say first what went wrong, so that it does not happen again. With yarn to spare keep this piece "
        "until the new one has passed the row.");
    b.ripsTo(1);
    if (!b.add(std::move(begin), {},
               fmt::format("Draw the work out from its end, wind the yarn up loosely, and wet it if it has "
                           "crinkled. Cast on {} anew; count them twice, with a marker every ten{}.",
                           script.castOn, script.round ? ", and lay the edge flat before you join" : "")))
        return false;
    for (const WorkedRow& row : script.rows) {
        Move work;
        work.kind = MoveKind::work;
        work.steps = row.steps;
        if (!b.add(std::move(work), {row.number, 0, 0}, fmt::format("Work row {}.", row.number)))
            return false;
        if (turnsEarly(row)) continue;
        if (!b.add(Move{}, {row.number, 0, 0},
                   b.knitter().inTheRound() ? "Begin the next round." : "Turn the work."))
            return false;
    }
    return true;
}

bool planRework(const Situation& s, PlanBuilder& b) {
    const Uneven uneven = unevenIn(s.meant, b.fabric(), s.pairing);
    if (uneven.none()) return b.refuse("no stitch is much larger or smaller than it should be");
    int row = s.actualSpots.lastRow();
    for (const std::vector<LoopId>* list : {&uneven.loops, &uneven.floats, &uneven.strands}) {
        for (const LoopId l : *list) {
            // The hitches of the edge stand in no row.
            const StitchPlace spot = s.actualSpots.of(l);
            row = std::min(row, spot.column > 0 ? spot.row : row);
        }
    }
    if (row < 1) return b.refuse("it is the cast-on that is of another size");
    b.knitter().setTension({});
    std::size_t again = 0;  // stitches of the rows that come out
    const auto& rows = s.actualSpots.rows();
    for (auto r = static_cast<std::size_t>(row); r < rows.size(); ++r) again += rows[r].size();
    b.caution(s.offNeedle
                  ? "Chain over a thicker needle this time where it was too tight, a thinner one where "
                    "it was too slack, and stretch the edge beside the cloth as you go."
              : uneven.loops.size() * 2 > again
                  ? "Take the needle that the rest was worked with, and lay its pair beside it."
              : !uneven.floats.empty()
                  ? "Spread the stitches on the right needle before each change of yarn: the strand behind "
                    "must be as long as what it passes."
                  : "Another habit this time: tug the yarn after the stitch beside the place, row by row.");
    if (!planRipTo(s, b, row)) return false;
    const Uneven left = unevenIn(s.meant, b.fabric(), pairUp(s.meant, b.fabric()));
    if (left.size() * 2 > uneven.size()) return b.refuse("worked again it would come out much the same");
    if (!left.none()) b.leaves(Leaves::visible, 0);
    return true;
}

}  // namespace loopmend
