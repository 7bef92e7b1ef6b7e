// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <limits>
#include <optional>
#include <vector>

#include "fabric/fabric.h"

/// What fingers and gravity do: undoing, running, hooking. Physics, not the journal: what a run leaves behind
/// it leaves. None of this may look at anything but links, passes, tools and `anchored`.
namespace loopmend {

/// Draws one live loop out of its hosts, whether a tool holds it or not. It becomes one mark for each host
/// left live, right to left as the yarn runs, and hands its own marks to each of those, above what they have.
/// A host that is the loop's own yarn neighbour in the same direction (a bind-off chain) gets none. No host
/// left live: the yarn is slack. Refused: not live, anchored. Returns the hosts left live and held by
/// nothing, from right to left.
Result<std::vector<LoopId>> undo(Fabric& fabric, LoopId loop);

/// Lets every loose loop run as far as the pull goes: `tug` undoings at most. Marks stay to the very end of
/// the yarn. The order of undoing does not change the knot. Returns how many loops were undone.
int letRun(Fabric& fabric, int tug = std::numeric_limits<int>::max());

/// Lets one loose loop run: only what lies below it. Returns how many loops were undone.
int letRunFrom(Fabric& fabric, LoopId loop, int tug = std::numeric_limits<int>::max());

/// The strands that go by an open loop, lowest first: its rungs.
std::vector<PassId> rungs(const Fabric& fabric, LoopId loop);

/// A rung as the eye sees it: long (a stitch came out) or short (the bar between its neighbours), by its
/// share of the strand, µm.
std::int32_t rungUm(const Fabric& fabric, PassId rung);
/// More than half of what an ordinary loop of this yarn takes.
bool isLongRung(const Fabric& fabric, PassId rung);

struct HookThrough {
    LoopId host;
    std::int8_t twist = 0;
    std::int8_t place = 0;  ///< right to left among the hosts
    Plies plies = Plies::whole;
};

struct Hooking {
    PassId rung;  ///< a rung of one of the hosts, or a skipped strand below an open loop
    std::vector<HookThrough>
        through;                ///< open loops, in the order in which the new loop's bight goes through them
    Side toward = Side::right;  ///< the side to which the strand is drawn
    std::optional<Side>
        skipped;  ///< where strands lying lower than the rung are left (none: where each lies)
};

/// Lifts a loop in the rung's strand, with its share of the yarn, and draws it through open loops. Strands
/// lying lower are skipped and fixed, those above go by the new loop. It hangs in the place where the hosts
/// hung. Refused: a host that is not live, a rung that is not there.
Result<LoopId> hook(Fabric& fabric, const Hooking& hooking);

/// Hooks the bare strand after a loop (none: the yarn's lead): where no rung is left, half of it becomes the
/// loop. It is drawn through open loops like a rung, or through none (a lifted bar, left loose).
Result<LoopId> hookBar(Fabric& fabric, YarnId yarn, EntryId after, const std::vector<HookThrough>& through,
                       Side toward);

/// The share of a strand's yarn that a rung in it takes when it is hooked, and what stays on both sides, µm.
struct Share {
    std::int32_t loop;
    std::int32_t after;
};
/// first, count: which of the strand's `passes` become the loop.
Share shareOf(std::int32_t strandUm, std::int32_t naturalUm, int passes, int first, int count, bool endsYarn);

}  // namespace loopmend
