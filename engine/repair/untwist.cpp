// SPDX-License-Identifier: MIT
#include "repair/untwist.h"

#include <cstdlib>

#include <fmt/format.h>

#include "fabric/joining.h"

namespace loopmend {

bool planUntwist(const Situation& s, PlanBuilder& b) {
    const auto [last, halfTurns] = otherTwist(s.meant, b.fabric(), s.pairing);
    if (halfTurns == 0) return false;  // nothing to be said: it lies as it was meant
    if (!s.pairing.agrees()) return b.refuse("more than the join is wrong");
    if (halfTurns % 2 != 0) return b.refuse("half a turn would stay in the band");
    constexpr int kSecond = 2;
    const bool later = s.actualSpots.lastRow() >= kSecond;
    if (later && !takeBackTo(s, b, kSecond)) return false;
    b.caution(
        "Lay the work flat first, the edge below the needle all the way round, and look where it winds; look "
        "again before the first stitch of the next round.");
    Move turn;
    turn.kind = MoveKind::turnJoin;
    turn.loops = {last};
    turn.count = halfTurns / 2;
    const int times = std::abs(turn.count);
    if (!b.add(std::move(turn), {1, 0, 0},
               fmt::format("At the gap between the last stitch and the first turn the whole cast-on {} round "
                           "the needle, until its edge hangs below all the way round. The turn goes into the "
                           "strand across the gap, where it does not show.",
                           times == 1 ? "once" : fmt::format("{} times", times))))
        return false;
    return !later || workAgainFrom(s, b, kSecond);
}

}  // namespace loopmend
