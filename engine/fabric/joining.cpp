// SPDX-License-Identifier: MIT
#include "fabric/joining.h"

namespace loopmend {

JoinId joinAfter(const Fabric& f, LoopId last) {
    for (std::int32_t i = 0; last && i < f.joinCount(); ++i) {
        if (f[JoinId{i}].loop == last) return JoinId{i};
    }
    return {};
}

OtherTwist otherTwist(const Fabric& meant, const Fabric& actual, const Pairing& pairing) {
    for (std::int32_t j = 0; j < meant.joinCount(); ++j) {
        const Join& join = meant[JoinId{j}];
        const LoopId there = join.loop ? pairing.actual(join.loop) : LoopId{};
        const JoinId its = joinAfter(actual, there);
        if (its && join.twist != actual[its].twist) return {there, join.twist - actual[its].twist};
    }
    return {};
}

Result<void> turnAtJoin(Fabric& f, LoopId last, std::int32_t wholeTurns) {
    const JoinId join = joinAfter(f, last);
    if (!join) return refuse(Why::noSuchThing);
    EntryId first = f[last].next;
    while (first && (!f.isLoop(first) || f.isNothing(first))) first = f[first].next;
    // Worked on with another yarn, the first round stands on the last stitch itself when it is done.
    if (!f.isLive(first ? first : last) || (first && !f.passesOf(first).empty())) return refuse(Why::notLive);
    const std::int32_t twist = f[join].twist + 2 * wholeTurns;
    // What a join says never changes: this one lies nowhere from now on, and another one there.
    f.handJoinsTo(last, LoopId{});
    f.addJoin(last, twist);
    return {};
}

}  // namespace loopmend
