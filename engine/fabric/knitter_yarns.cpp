// SPDX-License-Identifier: MIT
// What the yarn does between stitches: how far it goes round the needle, and what falls off it again.
#include <algorithm>

#include "fabric/hands.h"
#include "fabric/knitter.h"

namespace loopmend {

// ---- several yarns
// ------------------------------------------------------------------------------------------

Result<void> Knitter::takeYarnLinked(YarnId yarn) {
    if (yarn == yarn_) return {};
    const HeldId h = behindPlace();
    if (!h || (*fabric_)[h].state.hanging != 0 || !inThisRow((*fabric_)[h].loop))
        return refuse(Why::nothingBefore);
    // Named by what the stitch stands on: the level at which floats and slipped stitches are named too.
    const std::vector<LoopId> hosts = fabric_->hostsRightToLeft((*fabric_)[h].loop);
    if (hosts.empty()) return refuse(Why::noStitchBelow);
    yarn_ = yarn;
    const EntryId last = (*fabric_)[yarn].last;
    if (last && inThisRow(last)) return {};
    const LoopId beside = run_ == Run::leftward ? hosts.back() : hosts.front();
    const Result<PassId> led = fabric_->lay(yarn, last, beside, floats_, run_);
    if (!led) return tl::unexpected<Refusal>(led.error());
    return {};
}

Result<void> Knitter::takeUp(int number, bool link) {
    if (atHand_.empty() && number == 0) return {};
    if (number < 0 || static_cast<std::size_t>(number) >= atHand_.size()) return refuse(Why::noBall);
    const YarnId yarn = atHand_[static_cast<std::size_t>(number)];
    if (link) return takeYarnLinked(yarn);
    yarn_ = yarn;
    return {};
}

void Knitter::layFloatPast(LoopId loop) {
    std::vector<LoopId> hosts = fabric_->hostsRightToLeft(loop);
    if (run_ == Run::rightward) std::reverse(hosts.begin(), hosts.end());
    for (const LoopId host : hosts) {
        const EntryId last = (*fabric_)[yarn_].last;
        // Two loops that share a stitch are gone by once.
        bool laid = false;
        for (EntryId e = last; e && !fabric_->isLoop(e); e = (*fabric_)[e].prev)
            laid = laid || fabric_->passed(e) == host;
        if (!laid) (void)fabric_->lay(yarn_, last, host, floats_, run_);
    }
}

/// In the round a float runs on over the join: past what other yarns worked at the end of the round before.
/// False if this yarn waits in an older round.
bool Knitter::floatsOverJoin() {
    if (!round_) return false;
    const EntryId last = (*fabric_)[yarn_].last;
    const LoopId from = fabric_->isLoop(last) ? last : fabric_->loopBefore(last);
    const HeldId held = from ? fabric_->heldOn(from, fabric_->needle()) : HeldId{};
    if (!held || (*fabric_)[held].state.hanging != 0 || isBehind(from)) return false;
    std::vector<LoopId> skipped;
    const Tool& needle = (*fabric_)[fabric_->needle()];
    for (HeldId h = run_ == Run::leftward ? needle.last : needle.first; h && h != held; h = nextBehind(h)) {
        if ((*fabric_)[h].state.hanging == 0) skipped.push_back((*fabric_)[h].loop);
    }
    if (last != from || skipped.empty()) return true;  // laid already, or this yarn ended the round
    std::reverse(skipped.begin(), skipped.end());
    for (const LoopId loop : skipped) layFloatPast(loop);
    const EntryId end = (*fabric_)[yarn_].last;
    if (end != last) {  // the round ends after them now
        fabric_->setRowEnds(last, false);
        fabric_->setRowEnds(end, true);
    }
    return true;
}

/// A float that ends a round went over the join, to a stitch that is gone again: what it goes by is worked,
/// and the stitch from which it comes still waits.
bool Knitter::wentOverJoin(PassId pass) const {
    if (!round_ || fabric_->isLive(fabric_->passed(pass))) return false;
    const LoopId from = fabric_->loopBefore(pass);
    const HeldId held = from ? fabric_->heldOn(from, fabric_->needle()) : HeldId{};
    return held && (*fabric_)[held].state.hanging == 0 && !isBehind(from);
}

// ---- wraps
// ---------------------------------------------------------------------------------------------------

Result<LoopId> Knitter::wrapped(int turns, bool purl) {
    return whole([&]() -> Result<LoopId> {
        Result<LoopId> last = work(1, purl, Leg::leading);
        for (int i = 1; i < turns && last; ++i) {
            last = fabric_->liftFromBall(yarn_, run_, ordinaryUm(), ordinaryStrandUm() / kTurnStrand);
            if (last) putOnRight(*last, wrapMount(purl));
        }
        return last;
    });
}

bool Knitter::isTurn(LoopId loop) const {
    const Entry& e = (*fabric_)[loop];
    const Yarn& yarn = (*fabric_)[e.yarn];
    return !e.firstLink && e.um >= yarn.loopUm && e.prev && fabric_->isLoop(e.prev) &&
           (*fabric_)[e.prev].strandUm < yarn.strandUm;
}

Result<void> Knitter::letFall() {
    std::vector<HeldId> places;
    if (nextHeld(1, places) < 1) return refuse(Why::notEnoughStitches, 1, 0);
    const HeldId h = places.front();
    const LoopId loop = (*fabric_)[h].loop;
    if ((*fabric_)[loop].firstLink) return fabric_->letGo(loop, fabric_->needle(), true);
    if ((*fabric_)[loop].flags.anchored != 0) return refuse(Why::anchored);
    return whole([&]() -> Result<void> {
        if (isTurn(loop)) (void)fabric_->ease(loop, (*fabric_)[loop].prev, (*fabric_)[loop].um);
        moveTipPast(h);
        const Result<void> gone = fabric_->letGo(loop, fabric_->needle(), false);
        if (!gone || fabric_->isHeld(loop)) return gone;  // a lifeline may have it still
        return fabric_->sink(loop);
    });
}

// ---- how far round the needle a yarn-over goes
// ---------------------------------------------------------------

LoopId Knitter::yarnOverLast(YarnId yarn) const {
    const EntryId last = (*fabric_)[yarn].last;
    if (!last || !fabric_->isLoop(last)) return {};
    const Entry& e = (*fabric_)[last];
    const bool bare = !e.firstLink && e.flags.anchored == 0 && e.flags.rowEnds == 0;
    if (!bare || !fabric_->isLive(last) || !fabric_->isHeld(last) || isTurn(last)) return {};
    return last;
}

void Knitter::settleYarnOver(bool toFront) {
    const LoopId loop = yarnOverLast(yarn_);
    if (!loop) return;
    // Beside a turn nobody knows where the yarn comes from.
    const EntryId before = (*fabric_)[loop].prev;
    if (!before || (*fabric_)[before].flags.rowEnds != 0) return;
    const HeldId held = fabric_->heldOn(loop, fabric_->needle());
    if (!held) return;
    bool fromFront = false;  // another yarn-over leaves it behind
    if (!fabric_->isLoop(before)) {
        fromFront = fabric_->passSide(before) == facing_;
    } else if (const LinkId link = (*fabric_)[before].firstLink) {
        fromFront = (*fabric_)[link].form.side != facing_;
    }
    const bool reversed = sitsTurned(held);
    const int halfTurns = 1 + (fromFront == reversed ? 1 : 0) + (toFront != reversed ? 1 : 0);
    giveHalfTurns(loop, halfTurns);
}

void Knitter::giveHalfTurns(LoopId loop, int halfTurns) {
    const Yarn& yarn = (*fabric_)[(*fabric_)[loop].yarn];
    const std::int32_t um = yarn.loopUm * tension_.loop / 100 * kTurnThirds * halfTurns / 6;
    if ((*fabric_)[loop].um != um) (void)fabric_->easeFromBall(loop, um - (*fabric_)[loop].um);
}

void Knitter::unsettleYarnOver(YarnId yarn) {
    if (const LoopId loop = yarnOverLast(yarn)) giveHalfTurns(loop, 2);
}

}  // namespace loopmend
