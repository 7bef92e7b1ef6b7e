// SPDX-License-Identifier: MIT
#include "fabric/floats.h"

#include <algorithm>

namespace loopmend {

namespace {

/// The loop after an entry along its yarn, over passes.
LoopId loopAfter(const Fabric& f, EntryId e) {
    e = f[e].next;
    while (e && !f.isLoop(e)) e = f[e].next;
    return e;
}

/// From the loop before to the loop after it the yarn runs one way.
bool runsOn(const Fabric& f, EntryId e) {
    const LoopId before = f.loopBefore(e);
    const LoopId after = loopAfter(f, e);
    if (!before || !after) return false;
    for (EntryId x = before; x != after; x = f[x].next) {
        if (f.run(x) != f.run(after)) return false;
    }
    return true;
}

}  // namespace

std::vector<std::vector<PassId>> floatsAcross(const Fabric& f, LoopId stitch) {
    std::vector<std::vector<PassId>> floats;
    for (const LoopId host : f.hostsRightToLeft(stitch)) {
        for (const PassId pass : f.passesOf(host)) {
            if (f[pass].yarn == f[stitch].yarn || f.isFree(pass) || !runsOn(f, pass)) continue;
            const LoopId before = f.loopBefore(pass);
            if (f[before].flags.rowEnds != 0) continue;
            const auto same = std::find_if(floats.begin(), floats.end(), [&](const auto& strand) {
                return f.loopBefore(strand.front()) == before;
            });
            if (same == floats.end()) {
                floats.push_back({pass});
            } else if (f.run(pass) == Run::leftward) {
                same->push_back(pass);
            } else {
                same->insert(same->begin(), pass);
            }
        }
    }
    // Where a stitch was passed over two, what is between its passes lies across another stitch.
    const auto apart = [&](const std::vector<PassId>& strand) {
        for (std::size_t i = 1; i < strand.size(); ++i) {
            if (f[strand[i - 1]].next != strand[i]) return true;
        }
        return false;
    };
    floats.erase(std::remove_if(floats.begin(), floats.end(), apart), floats.end());
    return floats;
}

bool layAcross(const Fabric& f, LoopId bare, LoopId stitch) {
    const Entry& lifted = f[bare];
    if (lifted.firstLink || lifted.flags.anchored != 0 || lifted.yarn == f[stitch].yarn) return false;
    if (std::int64_t{lifted.um} * 10 > std::int64_t{f[lifted.yarn].loopUm} * 3) return false;
    if (!f[stitch].firstLink || f.run(stitch) != f.run(bare) || !runsOn(f, bare)) return false;
    const std::vector<LoopId> hosts = f.hostsRightToLeft(stitch);
    const LoopId after = loopAfter(f, bare);
    for (EntryId e = f.loopBefore(bare); e != after; e = f[e].next) {
        if (f.isLoop(e)) continue;
        const LoopId by = f.passed(e);
        if (by == stitch || std::find(hosts.begin(), hosts.end(), by) != hosts.end()) return false;
    }
    return true;
}

}  // namespace loopmend
