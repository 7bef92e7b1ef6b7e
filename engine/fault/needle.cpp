// SPDX-License-Identifier: MIT
#include "fault/needle.h"

#include <algorithm>

namespace loopmend {

namespace {

bool hangs(const Fabric& f, HeldId h) {
    return f[h].state.hanging != 0;
}

}  // namespace

LoopId nextLoop(const Knitter& k) {
    const Fabric& f = k.fabric();
    const Tool& needle = f[f.needle()];
    const bool leftward = k.run() == Run::leftward;
    HeldId h = leftward ? needle.tip : needle.tip ? f[needle.tip].prev : needle.last;
    while (h && hangs(f, h)) h = leftward ? f[h].next : f[h].prev;
    return h ? f[h].loop : LoopId{};
}

void nextLoops(const Knitter& k, int n, std::vector<LoopId>& into) {
    into.clear();
    const Fabric& f = k.fabric();
    const Tool& needle = f[f.needle()];
    const bool leftward = k.run() == Run::leftward;
    HeldId h = leftward ? needle.tip : needle.tip ? f[needle.tip].prev : needle.last;
    for (; h && static_cast<int>(into.size()) < n; h = leftward ? f[h].next : f[h].prev) {
        if (!hangs(f, h)) into.push_back(f[h].loop);
    }
}

void lastLoops(const Knitter& k, EntryId firstNew, const std::vector<LoopId>& were,
               std::vector<LoopId>& into) {
    into.clear();
    const Fabric& f = k.fabric();
    const Tool& needle = f[f.needle()];
    const bool leftward = k.run() == Run::leftward;
    HeldId h = !leftward ? needle.tip : needle.tip ? f[needle.tip].prev : needle.last;
    for (; h; h = leftward ? f[h].prev : f[h].next) {
        if (hangs(f, h)) continue;
        const LoopId loop = f[h].loop;
        if (loop < firstNew && std::find(were.begin(), were.end(), loop) == were.end()) break;
        into.push_back(loop);
    }
    std::reverse(into.begin(), into.end());
}

bool onNeedle(const Fabric& f, LoopId loop) {
    if (!f.has(loop)) return false;
    const HeldId h = f.heldOn(loop, f.needle());
    return h && !hangs(f, h);
}

bool restsOnNothing(const Fabric& f, LoopId loop) {
    return !f[loop].firstLink && f[loop].flags.anchored == 0;
}

bool sitsTurned(const Knitter& k, LoopId loop) {
    const Fabric& f = k.fabric();
    const HeldId h = f.heldOn(loop, f.needle());
    if (!h) return false;
    const Mount seen = f[h].state.mount;
    return (k.mirrored() ? opposite(seen) : seen) == Mount::eastern;
}

}  // namespace loopmend
