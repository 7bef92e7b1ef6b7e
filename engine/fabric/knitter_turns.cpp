// SPDX-License-Identifier: MIT
// Turns in mid-row: plain, round a stitch, with a stitch pulled up to two legs.
#include <algorithm>

#include "fabric/knitter.h"

namespace loopmend {

// ---- the strand led round a stitch
// ------------------------------------------------------------------------------

Result<void> Knitter::wrapAndTurn(std::optional<bool> frontFirst) {
    std::vector<HeldId> places;
    if (nextHeld(1, places) < 1) return refuse(Why::notEnoughStitches, 1, 0);
    if (!frontFirst) {
        frontFirst = facing_ == Side::right;
        for (const LoopId loop : behind()) {
            const LinkId link = (*fabric_)[loop].lastLink;
            if (link && inThisRow(loop)) frontFirst = (*fabric_)[link].form.side == facing_;
        }
    }
    const LoopId wrapped = (*fabric_)[places.front()].loop;
    const Side first = yarnSide(*frontFirst);
    layFloats();
    (void)fabric_->lay(yarn_, (*fabric_)[yarn_].last, wrapped, first, run_);
    turn();
    (void)fabric_->lay(yarn_, (*fabric_)[yarn_].last, wrapped, opposite(first), run_);
    return {};
}

namespace {

/// The strand goes by one stitch and comes back past it on its other side.
bool goesRound(const Fabric& f, EntryId out, EntryId back) {
    return out && back && !f.isLoop(out) && !f.isLoop(back) && f.passed(out) == f.passed(back) &&
           f.run(out) != f.run(back) && f.passSide(out) != f.passSide(back);
}

}  // namespace

PassId Knitter::wrapAtTurn() const {
    for (std::int32_t y = 0; y < fabric_->yarnCount(); ++y) {
        const EntryId last = (*fabric_)[YarnId{y}].last;
        if (!last || (*fabric_)[last].flags.rowEnds != 0) continue;
        const EntryId out = (*fabric_)[last].prev;
        if (!goesRound(*fabric_, out, last) || (*fabric_)[out].flags.rowEnds == 0) continue;
        // Slipped at the end of a row and again at the start of the next, an edge stitch has such a strand
        // too; nothing waits beyond it.
        const HeldId h = fabric_->heldOn(fabric_->passed(last), fabric_->needle());
        if (h && h == behindPlace() && nextBehind(h)) return last;
    }
    return {};
}

bool Knitter::turnedIntoRow() const {
    if (!round_) return true;
    EntryId last = (*fabric_)[yarn_].last;
    if (last && last == wrapAtTurn()) last = (*fabric_)[last].prev;
    return last && fabric_->run(last) != run_;
}

std::vector<PassId> Knitter::wrapsOf(LoopId stitch) const {
    std::vector<PassId> wraps;
    for (const PassId pass : fabric_->passesOf(stitch)) {
        if (goesRound(*fabric_, pass, (*fabric_)[pass].next)) wraps.push_back(pass);
    }
    return wraps;
}

/// Knitted a lifted strand goes before its stitch, purled beyond it: either way the stitch covers it on the
/// side of its V.
void Knitter::putBeside(LoopId strand, HeldId stitch, bool purl) {
    if (!purl) {
        putOnLeft(strand, mountOf(Mount::western));
        return;
    }
    const HeldId before = run_ == Run::leftward ? (*fabric_)[stitch].next : stitch;
    (void)fabric_->hold(strand, fabric_->needle(), before, mountOf(Mount::western));
    moveTipBack(run_ == Run::leftward ? stitch : aheadPlace());
}

Result<LoopId> Knitter::workWithWrap(std::optional<bool> purl) {
    std::vector<HeldId> places;
    if (nextHeld(1, places) < 1) return refuse(Why::notEnoughStitches, 1, 0);
    const HeldId h = places.front();
    const std::vector<PassId> wraps = wrapsOf((*fabric_)[h].loop);
    if (wraps.empty()) return refuse(Why::noWrap);
    const bool purled = purl.value_or(facing_ == Side::wrong);
    return whole([&]() -> Result<LoopId> {
        moveTipBack(h);
        for (const PassId wrap : wraps) {
            const YarnId yarn = (*fabric_)[wrap].yarn;
            const Run run = fabric_->run(wrap);
            const EntryId after = (*fabric_)[wrap].prev;
            const bool endsRow = (*fabric_)[wrap].flags.rowEnds != 0;
            const bool endedBefore = after && (*fabric_)[after].flags.rowEnds != 0;
            (void)fabric_->unlay(wrap);
            const LoopId owner = after && fabric_->isLoop(after) ? LoopId{after}
                                 : after                         ? fabric_->loopBefore(after)
                                                                 : LoopId{};
            const std::int32_t strand = owner ? (*fabric_)[owner].strandUm : (*fabric_)[yarn].leadUm;
            const Result<LoopId> lifted =
                fabric_->liftInStrand(yarn, after, run, std::min(smallUm(), strand / 2));
            if (!lifted) return lifted;
            if (endsRow) {  // the wrap was the turn of a row
                if (after && !endedBefore) fabric_->setRowEnds(after, false);
                fabric_->setRowEnds(*lifted, true);
            }
            putBeside(*lifted, h, purled);
        }
        return openTogether(static_cast<int>(wraps.size()) + 1, purled);
    });
}

bool Knitter::wrapGoesBack(LoopId bare, const std::vector<LoopId>& together) {
    // Let go by the stitch that was worked with it, a lifted strand lies round its stitch again.
    if ((*fabric_)[bare].firstLink || (*fabric_)[bare].firstKid || (*fabric_)[bare].flags.anchored != 0)
        return false;
    const EntryId back = (*fabric_)[bare].next;
    if (!back || fabric_->isLoop(back) || fabric_->run(back) == fabric_->run(bare)) return false;
    const LoopId stitch = fabric_->passed(back);
    // A yarn-over at the end of a row, worked by itself, was no wrap.
    const bool with = stitch != bare && std::find(together.begin(), together.end(), stitch) != together.end();
    if (!with || !fabric_->isLive(stitch)) return false;
    const YarnId yarn = (*fabric_)[bare].yarn;
    const Run run = fabric_->run(bare);
    const EntryId before = (*fabric_)[bare].prev;
    const bool endedBefore = before && (*fabric_)[before].flags.rowEnds != 0;
    const bool ends = (*fabric_)[bare].flags.rowEnds != 0;
    if (const HeldId place = fabric_->heldOn(bare, fabric_->needle())) fabric_->forgetPlace(place);
    if (!fabric_->sink(bare)) return false;
    const Result<PassId> wrap =
        fabric_->lay(yarn, before, stitch, opposite(fabric_->passSide(back)), run, back);
    if (before) fabric_->setRowEnds(before, endedBefore);
    if (wrap) fabric_->setRowEnds(*wrap, ends);
    return true;
}

// ---- the stitch pulled up to two legs
// ---------------------------------------------------------------------------

HeldId Knitter::sitsBeside(LoopId leg) const {
    const Entry& entry = (*fabric_)[leg];
    if (entry.firstLink || entry.firstKid || entry.flags.anchored != 0 || !entry.prev) return {};
    if (!fabric_->isLoop(entry.prev) || fabric_->run(entry.prev) == fabric_->run(leg)) return {};
    const HeldId h = fabric_->heldOn(leg, fabric_->needle());
    if (!h || (*fabric_)[h].state.hanging != 0) return {};
    const HeldId beside = fabric_->run(leg) == Run::leftward ? (*fabric_)[h].prev : (*fabric_)[h].next;
    if (!beside || (*fabric_)[beside].loop != entry.prev || (*fabric_)[beside].state.hanging != 0) return {};
    return beside;
}

bool Knitter::isDoubling(LoopId loop) const {
    return static_cast<bool>(sitsBeside(loop));
}

Result<LoopId> Knitter::doubleStitch() {
    std::vector<HeldId> places;
    if (nextHeld(1, places) < 1) return refuse(Why::notEnoughStitches, 1, 0);
    if ((*fabric_)[yarn_].flags.ball == 0) return refuse(Why::noBall);
    const LoopId stitch = (*fabric_)[places.front()].loop;
    if (EntryId{stitch} != (*fabric_)[yarn_].last || fabric_->run(stitch) == run_)
        return refuse(Why::notAtATurn);
    moveTipPast(places.front());
    return yarnOver();
}

Result<LoopId> Knitter::germanTurn() {
    return whole([&]() -> Result<LoopId> {
        turn();
        return doubleStitch();
    });
}

Result<LoopId> Knitter::workDoubled(bool purl) {
    std::vector<HeldId> places;
    if (nextHeld(2, places) < 2) return refuse(Why::notDoubled);
    const LoopId a = (*fabric_)[places[0]].loop;
    const LoopId b = (*fabric_)[places[1]].loop;
    if (sitsBeside(a) != places[1] && sitsBeside(b) != places[0]) return refuse(Why::notDoubled);
    return openTogether(2, purl);
}

}  // namespace loopmend
