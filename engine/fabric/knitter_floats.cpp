// SPDX-License-Identifier: MIT
// Floats caught by a stitch of the next row.
#include <algorithm>

#include "fabric/floats.h"
#include "fabric/knitter.h"

namespace loopmend {

namespace {

/// How much of the float's yarn the place takes that is lifted: no more than a quarter of a stitch.
constexpr std::int32_t kOfALoop = 4;

}  // namespace

Result<LoopId> Knitter::workWithFloat(bool purl) {
    std::vector<HeldId> places;
    if (nextHeld(1, places) < 1) return refuse(Why::notEnoughStitches, 1, 0);
    const HeldId h = places.front();
    const std::vector<std::vector<PassId>> floats = floatsAcross(*fabric_, (*fabric_)[h].loop);
    if (floats.empty()) return refuse(Why::noFloat);
    return whole([&]() -> Result<LoopId> {
        moveTipBack(h);
        for (const std::vector<PassId>& strand : floats) {
            const YarnId yarn = (*fabric_)[strand.front()].yarn;
            const Run run = fabric_->run(strand.front());
            const EntryId after = (*fabric_)[strand.front()].prev;
            const EntryId beyond = (*fabric_)[strand.back()].next;
            const bool endsRow = std::any_of(strand.begin(), strand.end(), [&](PassId pass) {
                return (*fabric_)[pass].flags.rowEnds != 0;
            });
            const bool endedBefore = (*fabric_)[after].flags.rowEnds != 0;
            const LoopId owner = fabric_->isLoop(after) ? LoopId{after} : fabric_->loopBefore(after);
            // What is left of the strand is shared by how many stitches lie to each side.
            std::int32_t before = 1;
            for (EntryId e = after; e != owner; e = (*fabric_)[e].prev) ++before;
            std::int32_t rest = 1;
            for (EntryId e = beyond; !fabric_->isLoop(e); e = (*fabric_)[e].next) ++rest;
            for (const PassId pass : strand) (void)fabric_->unlay(pass);
            const std::int32_t um = (*fabric_)[owner].strandUm;
            const std::int32_t taken = std::min((*fabric_)[yarn].loopUm / kOfALoop, um / 3);
            const auto restUm = static_cast<std::int32_t>(std::int64_t{um - taken} * rest / (before + rest));
            const Result<LoopId> lifted = fabric_->liftInStrand(yarn, after, run, taken, restUm);
            if (!lifted) return lifted;
            if (endsRow) {  // in the round, where the float goes over the join
                fabric_->setRowEnds(after, endedBefore);
                fabric_->setRowEnds(*lifted, true);
            }
            putBeside(*lifted, h, purl);
        }
        return openTogether(static_cast<int>(floats.size()) + 1, purl);
    });
}

/// Let go by the stitch that was worked with it, a lifted float lies across its stitch again.
bool Knitter::floatGoesBack(LoopId bare, const std::vector<LoopId>& together) {
    if ((*fabric_)[bare].firstKid) return false;
    const auto across = std::find_if(together.begin(), together.end(), [&](LoopId stitch) {
        return stitch != bare && fabric_->isLive(stitch) && layAcross(*fabric_, bare, stitch);
    });
    if (across == together.end()) return false;
    const YarnId yarn = (*fabric_)[bare].yarn;
    const Run run = fabric_->run(bare);
    EntryId before = (*fabric_)[bare].prev;
    const bool endedBefore = (*fabric_)[before].flags.rowEnds != 0;
    const bool ends = (*fabric_)[bare].flags.rowEnds != 0;
    if (const HeldId place = fabric_->heldOn(bare, fabric_->needle())) fabric_->forgetPlace(place);
    if (!fabric_->sink(bare)) return false;
    fabric_->setRowEnds(before, endedBefore);
    std::vector<LoopId> hosts = fabric_->hostsRightToLeft(*across);
    if (run == Run::rightward) std::reverse(hosts.begin(), hosts.end());
    for (const LoopId host : hosts) {
        const Result<PassId> pass = fabric_->lay(yarn, before, host, floats_, run);
        if (pass) before = *pass;
    }
    if (ends) fabric_->setRowEnds(before, true);
    return true;
}

}  // namespace loopmend
