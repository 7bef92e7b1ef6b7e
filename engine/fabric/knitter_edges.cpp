// SPDX-License-Identifier: MIT
// Casting on, binding off, turns, picked-up and held stitches, and stitches worked into older loops.
#include <algorithm>

#include "fabric/knitter.h"

namespace loopmend {

Result<void> Knitter::castOnBackward(int n, Hand hand) {
    if ((*fabric_)[yarn_].flags.ball == 0) return refuse(Why::noBall);
    const int turn = (hand == Hand::left) == !mirrored_ ? -1 : 1;
    for (int i = 0; i < n; ++i) {
        const LoopId loop = *newLoop(ordinaryUm());
        fabric_->setAnchored(loop, true);
        putOnRight(loop, mountOf(Mount::western), static_cast<std::int8_t>(turn));
    }
    return {};
}

Result<void> Knitter::castOnLongTail(int n) {
    if ((*fabric_)[yarn_].flags.ball == 0) return refuse(Why::noBall);
    for (int i = 0; i < n; ++i) {
        const LoopId hitch = *fabric_->liftFromBall(yarn_, opposite(run_), ordinaryUm(),
                                                    (*fabric_)[yarn_].strandUm, End::first);
        fabric_->setAnchored(hitch, true);
        const LoopId loop = *newLoop(ordinaryUm());
        LinkForm form;
        form.side = facing_;
        (void)fabric_->pull(loop, hitch, form);
        putOnRight(loop, mountOf(Mount::western));
    }
    return {};
}

Result<LoopId> Knitter::workBelow(bool purl) {
    std::vector<HeldId> places;
    if (nextHeld(1, places) < 1) return refuse(Why::notEnoughStitches, 1, 0);
    const HeldId h = places.front();
    const LoopId top = (*fabric_)[h].loop;
    const LinkId link = (*fabric_)[top].lastLink;
    if (!link) return refuse(Why::noStitchBelow);
    const LoopId below = (*fabric_)[link].host;
    if (fabric_->linkCount(top) > 1 || fabric_->kidCount(below) > 1) return refuse(Why::noStitchBelow);
    return whole([&]() -> Result<LoopId> {
        const Result<LoopId> out = fabric_->unpull(top);
        if (!out) return out;
        // Beyond the top loop as she works: both are then entered together.
        const HeldId before = run_ == Run::leftward ? (*fabric_)[h].next : h;
        const Result<HeldId> held = fabric_->hold(below, fabric_->needle(), before, mountOf(Mount::western));
        if (!held) return tl::unexpected<Refusal>(held.error());
        return openTogether(2, purl);
    });
}

Result<LoopId> Knitter::pickUp(LoopId edge, Part part, Side toward) {
    if (!fabric_->has(edge)) return refuse(Why::noSuchThing);
    if (!fabric_->isLoop(edge)) return refuse(Why::notALoop);
    if ((*fabric_)[yarn_].flags.ball == 0) return refuse(Why::noBall);
    const LoopId loop = *newLoop(ordinaryUm());
    LinkForm form;
    form.side = toward;
    form.part = part;
    const std::int32_t slot = part == Part::rightLeg ? 0 : part == Part::leftLeg ? -1 : forwardSlot();
    (void)fabric_->pull(loop, edge, form, slot);
    putOnRight(loop, mountOf(Mount::western));
    return loop;
}

Result<void> Knitter::wrapAndTurn(bool frontFirst) {
    std::vector<HeldId> places;
    if (nextHeld(1, places) < 1) return refuse(Why::notEnoughStitches, 1, 0);
    const LoopId wrapped = (*fabric_)[places.front()].loop;
    const Side first = yarnSide(frontFirst);
    layFloats();
    (void)fabric_->lay(yarn_, (*fabric_)[yarn_].last, wrapped, first, run_);
    turn();
    (void)fabric_->lay(yarn_, (*fabric_)[yarn_].last, wrapped, opposite(first), run_);
    return {};
}

Result<LoopId> Knitter::workWithWrap() {
    std::vector<HeldId> places;
    if (nextHeld(1, places) < 1) return refuse(Why::notEnoughStitches, 1, 0);
    const LoopId stitch = (*fabric_)[places.front()].loop;
    const std::vector<PassId> passes = fabric_->passesOf(stitch);
    if (passes.empty()) return refuse(Why::noRung);
    return whole([&]() -> Result<LoopId> {
        const PassId wrap = passes.front();
        const YarnId yarn = (*fabric_)[wrap].yarn;
        const Run run = fabric_->run(wrap);
        const EntryId after = (*fabric_)[wrap].prev;
        const bool endsRow = (*fabric_)[wrap].flags.rowEnds != 0;
        const bool endedBefore = after && (*fabric_)[after].flags.rowEnds != 0;
        (void)fabric_->unlay(wrap);
        const LoopId owner = after && fabric_->isLoop(after) ? after
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
        putOnLeft(*lifted, mountOf(Mount::western));
        return openTogether(2, facing_ == Side::wrong);
    });
}

Result<LoopId> Knitter::germanTurn() {
    return whole([&]() -> Result<LoopId> {
        turn();
        std::vector<HeldId> places;
        if (nextHeld(1, places) < 1) return refuse(Why::notEnoughStitches, 1, 0);
        moveTipPast(places.front());
        return yarnOver();
    });
}

Result<void> Knitter::bindOff(int n, bool purl) {
    const State before = mark();
    const auto fail = [&](const Refusal& refusal) -> Result<void> {
        rollBack(before);
        return tl::unexpected<Refusal>(refusal);
    };
    for (int i = 0; i < n; ++i) {
        // The chain begins with a stitch worked in this row.
        const std::vector<LoopId> right = behind();
        int mine = 0;
        for (auto it = right.rbegin(); it != right.rend() && mine < 2 && inThisRow(*it); ++it) ++mine;
        const int wanted = i == 0 && mine == 0 ? 2 : 1;
        for (int k = 0; k < wanted; ++k) {
            const Result<LoopId> worked = work(1, purl, Leg::leading);
            if (!worked) return fail(worked.error());
        }
        const Result<LoopId> passed = passOver();
        if (!passed) return fail(passed.error());
    }
    return {};
}

Result<void> Knitter::bindOffAll(bool purl) {
    return whole([&]() -> Result<void> {
        const int n = aheadCount();
        if (n == 0) return refuse(Why::notEnoughStitches, 1, 0);
        const std::vector<LoopId> right = behind();
        const bool begun = !right.empty() && inThisRow(right.back());
        if (n == 1 && !begun) {
            const Result<LoopId> worked = work(1, purl, Leg::leading);
            if (!worked) return tl::unexpected<Refusal>(worked.error());
        } else {
            const Result<void> done = bindOff(begun ? n : n - 1, purl);
            if (!done) return done;
        }
        const LoopId last = behind().back();
        (void)fabric_->letGo(last, fabric_->needle(), false);
        fabric_->setAnchored(last, true);
        fabric_->setBall(yarn_, false);
        return {};
    });
}

Result<ToolId> Knitter::leaveOnHolder(int n) {
    std::vector<HeldId> places;
    if (nextHeld(n, places) < n)
        return refuse(Why::notEnoughStitches, n, static_cast<std::int32_t>(places.size()));
    const ToolId holder = fabric_->addTool(ToolKind::holder);
    moveTipPast(places.back());
    for (const HeldId h : places) {
        const LoopId loop = (*fabric_)[h].loop;
        const HeldState state = (*fabric_)[h].state;
        (void)fabric_->letGo(loop, fabric_->needle(), false);
        (void)fabric_->hold(loop, holder, run_ == Run::leftward ? HeldId{} : (*fabric_)[holder].first,
                            state.mount, state.turns);
    }
    return holder;
}

}  // namespace loopmend
