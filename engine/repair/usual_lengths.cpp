// SPDX-License-Identifier: MIT
#include "repair/usual_lengths.h"

#include "fabric/knitter.h"

namespace loopmend {

namespace {

bool isBare(const Fabric& f, LoopId loop) {
    return !f[loop].firstLink && f[loop].flags.anchored == 0;
}

}  // namespace

std::int32_t usualLoopUm(const Fabric& f, LoopId loop) {
    if (f.isNothing(loop)) return 0;
    const std::int32_t um = f[f[loop].yarn].loopUm;
    return isBare(f, loop) ? um * Knitter::kTurnThirds / 3 : um;
}

std::int32_t usualStrandUm(const Fabric& f, LoopId before) {
    std::int32_t strands = 1;
    for (EntryId e = f[before].next; e && !f.isLoop(e); e = f[e].next) strands += f.isFree(e) ? 0 : 1;
    return strands * f[f[before].yarn].strandUm;
}

bool isOnlyStrand(const Fabric& f, LoopId loop) {
    return isBare(f, loop) && !f.isNothing(loop) &&
           std::int64_t{f[loop].um} * 10 <= std::int64_t{f[f[loop].yarn].loopUm} * 3;
}

}  // namespace loopmend
