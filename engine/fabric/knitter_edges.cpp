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
        const LoopId hitch =
            *fabric_->liftFromBall(yarn_, opposite(run_), ordinaryUm(), ordinaryStrandUm(), End::first);
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

LoopId Knitter::castOnLast() const {
    // On the left needle, next to be worked, its yarn running back along the row: it was knitted on.
    const EntryId last = (*fabric_)[yarn_].last;
    if (!last || !fabric_->isLoop(last) || fabric_->run(last) == run_ || !inThisRow(last)) return {};
    const HeldId h = fabric_->heldOn(last, fabric_->needle());
    return h && h == aheadPlace() && (*fabric_)[h].state.hanging == 0 && (*fabric_)[last].firstLink
               ? last
               : LoopId{};
}

bool Knitter::waits(LoopId loop) const {
    // Nothing goes through it but what was knitted on to it while it stayed on the needle.
    for (LinkId k = (*fabric_)[loop].firstKid; k; k = (*fabric_)[k].nextInHost) {
        const LoopId kid = (*fabric_)[k].loop;
        const bool chain = fabric_->loopBefore(kid) == loop && fabric_->run(kid) == fabric_->run(loop);
        if (!chain && !(inThisRow(kid) && fabric_->run(kid) != run_)) return false;
    }
    return true;
}

Result<void> Knitter::castOnKnitted(int n) {
    if ((*fabric_)[yarn_].flags.ball == 0) return refuse(Why::noBall);
    if (n < 1) return {};
    LinkForm form;
    LoopId last;
    if (!(*fabric_)[fabric_->needle()].first) {
        // She turns the needle round afterwards, to begin the first row with the loop made last.
        last = *newLoop(ordinaryUm());
        fabric_->setAnchored(last, true);
        putOnRight(last, mountOf(Mount::western));
        form.side = opposite(facing_);
        for (int i = 1; i < n; ++i) {
            const LoopId loop = *newLoop(ordinaryUm());
            (void)fabric_->pull(loop, last, form);
            putOnRight(loop, mountOf(Mount::western));
            last = loop;
        }
        return {};
    }
    std::vector<HeldId> places;
    if (nextHeld(1, places) < 1) return refuse(Why::notEnoughStitches, 1, 0);
    const HeldId next = places.front();
    last = (*fabric_)[next].loop;
    form.side = facing_;
    form.twist = twistOf((*fabric_)[next].state, sitsTurned(next));
    moveTipBack(next);
    for (int i = 0; i < n; ++i) {
        layFloats();
        const Yarn& yarn = (*fabric_)[yarn_];
        const LoopId loop = *fabric_->liftFromBall(yarn_, opposite(run_), yarn.loopUm, yarn.strandUm);
        (void)fabric_->pull(loop, last, form, forwardSlot());
        putOnLeft(loop, mountOf(Mount::western));
        form.twist = 0;
        last = loop;
    }
    return {};
}

template <class WorkOne>
Result<void> Knitter::chainOff(int n, WorkOne workOne) {
    return whole([&]() -> Result<void> {
        for (int i = 0; i < n; ++i) {
            // The chain begins with a stitch worked in this row.
            const std::vector<LoopId> right = behind();
            int mine = 0;
            for (auto it = right.rbegin(); it != right.rend() && mine < 2 && inThisRow(*it); ++it) ++mine;
            const int wanted = i == 0 && mine == 0 ? 2 : 1;
            for (int k = 0; k < wanted; ++k) {
                const Result<LoopId> worked = workOne();
                if (!worked) return tl::unexpected<Refusal>(worked.error());
            }
            const Result<LoopId> passed = passOver();
            if (!passed) return tl::unexpected<Refusal>(passed.error());
        }
        return {};
    });
}

Result<void> Knitter::bindOff(int n, bool purl) {
    return chainOff(n, [&] { return work(1, purl, Leg::leading); });
}

Result<void> Knitter::bindOffTogether(int n) {
    return chainOff(n, [&] { return knitWithSpare(); });
}

std::vector<LoopId> Knitter::spareStitches() const {
    std::vector<LoopId> loops;
    for (std::int32_t t = fabric_->toolCount(); t-- > 0 && loops.empty();) {
        const Tool& tool = (*fabric_)[ToolId{t}];
        if (tool.kind != ToolKind::holder && tool.kind != ToolKind::spareNeedle) continue;
        const bool fromLeft = run_ == Run::leftward;
        for (HeldId h = fromLeft ? tool.last : tool.first; h;
             h = fromLeft ? (*fabric_)[h].prev : (*fabric_)[h].next) {
            if ((*fabric_)[h].state.hanging == 0) loops.push_back((*fabric_)[h].loop);
        }
    }
    return loops;
}

Result<LoopId> Knitter::knitWithSpare() {
    std::vector<HeldId> places;
    const HeldId from = aheadPlace();
    if (nextHeld(1, places) < 1) return refuse(Why::notEnoughStitches, 1, 0);
    const std::vector<LoopId> spare = spareStitches();
    if (spare.empty()) return refuse(Why::noSpareStitches, 1, 0);
    if ((*fabric_)[yarn_].flags.ball == 0) return refuse(Why::noBall);
    const LoopId host = (*fabric_)[places.front()].loop;
    const LoopId behindIt = spare.front();
    const std::int8_t turns = (*fabric_)[places.front()].state.turns;
    const HeldId other = (*fabric_)[behindIt].held;
    const std::int8_t otherTurns = (*fabric_)[other].state.turns;
    layFloats();
    passHanging(from, places.front());
    moveTipPast(places.front());
    (void)fabric_->letGo(host, fabric_->needle(), false);
    (void)fabric_->letGo(behindIt, (*fabric_)[other].tool, false);
    const LoopId loop = *newLoop(ordinaryUm());
    LinkForm form;  // of the piece behind it is the other face that looks at her
    form.side = opposite(facing_);
    form.twist = otherTurns;
    form.place = place(1);
    (void)fabric_->pull(loop, behindIt, form, forwardSlot());
    form.side = facing_;
    form.twist = turns;
    form.place = place(0);
    (void)fabric_->pull(loop, host, form, forwardSlot());
    putOnRight(loop, wrapMount(false));
    return loop;
}

void Knitter::spareGoesBack(LoopId loop) {
    ToolId holder;
    for (std::int32_t t = fabric_->toolCount(); t-- > 0 && !holder;) {
        const ToolKind kind = (*fabric_)[ToolId{t}].kind;
        if (kind == ToolKind::holder || kind == ToolKind::spareNeedle) holder = ToolId{t};
    }
    if (!holder) holder = fabric_->addTool(ToolKind::holder);
    if (const HeldId place = fabric_->heldOn(loop, fabric_->needle())) fabric_->forgetPlace(place);
    (void)fabric_->hold(loop, holder, run_ == Run::leftward ? HeldId{} : (*fabric_)[holder].first,
                        mountOf(Mount::western));
}

Result<void> Knitter::fasten() {
    const std::vector<LoopId> right = behind();
    if (right.empty()) return refuse(Why::nothingBefore);
    (void)fabric_->letGo(right.back(), fabric_->needle(), false);
    fabric_->setAnchored(right.back(), true);
    fabric_->setBall(yarn_, false);
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
        return fasten();
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
