// SPDX-License-Identifier: MIT
#include "repair/uneven.h"

#include <cstdlib>

#include "fabric/itinerary.h"
#include "fabric/size.h"

namespace loopmend {

namespace {

/// Loops of the actual fabric of which differs(actual, meant) says so.
template <class Differs>
std::vector<LoopId> loopsThat(const Fabric& meant, const Fabric& actual, const Pairing& pairing,
                              Differs differs) {
    std::vector<LoopId> found;
    for (std::int32_t i = 0; i < actual.entryCount(); ++i) {
        const LoopId a{i};
        if (!actual.has(a) || !actual.isLoop(a)) continue;
        const LoopId m = pairing.meant(a);
        if (m && meant.isLoop(m) && differs(a, m)) found.push_back(a);
    }
    return found;
}

}  // namespace

std::vector<LoopId> unevenLoops(const Fabric& meant, const Fabric& actual, const Pairing& pairing) {
    return loopsThat(meant, actual, pairing,
                     [&](LoopId a, LoopId m) { return isOtherSize(actual[a].um, meant[m].um); });
}

std::vector<LoopId> unevenFloats(const Fabric& meant, const Fabric& actual, const Pairing& pairing) {
    return loopsThat(meant, actual, pairing, [&](LoopId a, LoopId m) {
        const EntryId next = actual[a].next;
        return next && !actual.isLoop(next) && !actual.isFree(next) &&
               std::abs(actual[a].strandUm - meant[m].strandUm) * 2 > meant[m].strandUm;
    });
}

std::vector<LoopId> wideStrands(const Fabric& meant, const Fabric& actual, const Pairing& pairing) {
    return loopsThat(meant, actual, pairing, [&](LoopId a, LoopId m) {
        const EntryId next = actual[a].next;
        return next && actual.isLoop(next) && actual[a].strandUm > 2 * meant[m].strandUm;
    });
}

Uneven unevenIn(const Fabric& meant, const Fabric& actual, const Pairing& pairing) {
    return {unevenLoops(meant, actual, pairing), unevenFloats(meant, actual, pairing),
            wideStrands(meant, actual, pairing)};
}

bool nothingToMend(const Fabric& meant, const Fabric& actual) {
    if (knotOf(meant) != knotOf(actual)) return false;
    return unevenIn(meant, actual, pairUp(meant, actual)).none();
}

}  // namespace loopmend
