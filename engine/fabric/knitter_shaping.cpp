// SPDX-License-Identifier: MIT
// Decreases, increases and crossings.
#include <algorithm>

#include "fabric/knitter.h"

namespace loopmend {

Result<LoopId> Knitter::openTogether(int n, bool purl) {
    std::vector<HeldId> places;
    if (nextHeld(n, places) < n)
        return refuse(Why::notEnoughStitches, n, static_cast<std::int32_t>(places.size()));
    if ((*fabric_)[yarn_].flags.ball == 0) return refuse(Why::noBall);
    for (const HeldId h : places) {
        if (sitsTurned(h)) fabric_->setMount(h, mountOf(Mount::western), (*fabric_)[h].state.turns);
    }
    return workMany(n, purl, Leg::front);
}

Result<LoopId> Knitter::slippedTogether(int n, bool purl) {
    // Slipped one by one knitwise and given back: every loop now sits turned, and the back legs lead.
    std::vector<HeldId> places;
    if (nextHeld(n, places) < n)
        return refuse(Why::notEnoughStitches, n, static_cast<std::int32_t>(places.size()));
    if ((*fabric_)[yarn_].flags.ball == 0) return refuse(Why::noBall);
    for (const HeldId h : places) fabric_->setMount(h, mountOf(Mount::eastern), (*fabric_)[h].state.turns);
    return workMany(n, purl, Leg::back);
}

Result<LoopId> Knitter::skp(SlipWay way) {
    return whole([&]() -> Result<LoopId> {
        if (aheadCount() < 2) return refuse(Why::notEnoughStitches, 2, aheadCount());
        const bool turned = sitsTurned(aheadPlace());
        const Result<LoopId> slipped =
            slip(way == SlipWay::knitwise && turned ? SlipWay::purlwise : way, false);
        if (!slipped) return slipped;
        const Result<LoopId> knitted = knit();
        if (!knitted) return knitted;
        return passOver();
    });
}

Result<LoopId> Knitter::spp(SlipWay way) {
    return whole([&]() -> Result<LoopId> {
        if (aheadCount() < 2) return refuse(Why::notEnoughStitches, 2, aheadCount());
        std::vector<HeldId> next;
        nextHeld(1, next);
        if (sitsTurned(next.front())) {
            fabric_->setMount(next.front(), mountOf(Mount::western), (*fabric_)[next.front()].state.turns);
        }
        const Result<LoopId> slipped = slip(way, true);
        if (!slipped) return slipped;
        const Result<LoopId> purled = purl();
        if (!purled) return purled;
        return passOver();
    });
}

Result<LoopId> Knitter::sk2p() {
    return whole([&]() -> Result<LoopId> {
        if (aheadCount() < 3) return refuse(Why::notEnoughStitches, 3, aheadCount());
        std::vector<HeldId> next;
        nextHeld(1, next);
        (void)slip(sitsTurned(next.front()) ? SlipWay::purlwise : SlipWay::knitwise, false);
        const Result<LoopId> together = k2tog();
        if (!together) return together;
        return passOver();
    });
}

Result<LoopId> Knitter::sp2p() {
    return whole([&]() -> Result<LoopId> {
        if (aheadCount() < 3) return refuse(Why::notEnoughStitches, 3, aheadCount());
        std::vector<HeldId> next;
        nextHeld(1, next);
        if (sitsTurned(next.front())) {
            fabric_->setMount(next.front(), mountOf(Mount::western), (*fabric_)[next.front()].state.turns);
        }
        (void)slip(SlipWay::purlwise, true);
        const Result<LoopId> together = p2tog();
        if (!together) return together;
        return passOver();
    });
}

Result<LoopId> Knitter::slipTwoTogether(Mount hers) {
    // Taken together they change places on the needle; no column crosses another.
    std::vector<HeldId> places;
    const HeldId from = aheadPlace();
    if (nextHeld(2, places) < 2)
        return refuse(Why::notEnoughStitches, 2, static_cast<std::int32_t>(places.size()));
    const LoopId a = (*fabric_)[places[0]].loop;
    const LoopId b = (*fabric_)[places[1]].loop;
    const std::int8_t turnsA = (*fabric_)[places[0]].state.turns;
    const std::int8_t turnsB = (*fabric_)[places[1]].state.turns;
    layFloats();
    passHanging(from, places[1]);
    moveTipPast(places[1]);
    (void)fabric_->letGo(a, fabric_->needle(), false);
    (void)fabric_->letGo(b, fabric_->needle(), false);
    const Side side = yarnSide(hers == Mount::western);
    settleYarnOver(side == facing_);
    for (const auto& [loop, turns] : {std::pair{b, turnsB}, std::pair{a, turnsA}}) {
        putOnRight(loop, mountOf(hers), turns);
        (void)fabric_->lay(yarn_, (*fabric_)[yarn_].last, loop, side, run_);
    }
    return a;
}

Result<LoopId> Knitter::s2kp() {
    return whole([&]() -> Result<LoopId> {
        if (aheadCount() < 3) return refuse(Why::notEnoughStitches, 3, aheadCount());
        (void)slipTwoTogether(Mount::eastern);
        const Result<LoopId> knitted = knit();
        if (!knitted) return knitted;
        (void)passOverAt(1, -2);
        return passOverAt(1, -1);
    });
}

Result<LoopId> Knitter::s2pp() {
    return whole([&]() -> Result<LoopId> {
        if (aheadCount() < 3) return refuse(Why::notEnoughStitches, 3, aheadCount());
        (void)slipTwoTogether(Mount::western);
        const Result<LoopId> purled = purl();
        if (!purled) return purled;
        (void)passOverAt(1, -2);
        return passOverAt(1, -1);
    });
}

Result<LoopId> Knitter::slipKnitOver(int n) {
    return whole([&]() -> Result<LoopId> {
        if (aheadCount() < n + 1) return refuse(Why::notEnoughStitches, n + 1, aheadCount());
        std::vector<HeldId> next;
        nextHeld(1, next);
        (void)slip(sitsTurned(next.front()) ? SlipWay::purlwise : SlipWay::knitwise, false);
        for (int i = 0; i < n; ++i) {
            const Result<LoopId> knitted = knit();
            if (!knitted) return knitted;
        }
        return passOver(n);
    });
}

Result<LoopId> Knitter::passOver(int over) {
    return passOverAt(over, 0);
}

Result<LoopId> Knitter::passOverAt(int over, std::int8_t placeFromTip) {
    // The stitches passed over: the one nearest the passed loop stands through it.
    std::vector<HeldId> right;
    for (HeldId h = behindPlace(); h && static_cast<int>(right.size()) <= over; h = nextBehind(h)) {
        if ((*fabric_)[h].state.hanging == 0) right.push_back(h);
    }
    if (static_cast<int>(right.size()) <= over) return refuse(Why::nothingBefore);
    for (std::size_t i = 0; i + 1 < right.size(); ++i) {
        if (!fabric_->isLive((*fabric_)[right[i]].loop)) return refuse(Why::notLive);
    }
    const HeldId passed = right.back();
    const LoopId host = (*fabric_)[passed].loop;
    const HeldState state = (*fabric_)[passed].state;
    const bool chain = inThisRow(host);
    (void)fabric_->letGo(host, fabric_->needle(), false);
    LoopId top;
    for (int i = over - 1; i >= 0; --i) {
        top = (*fabric_)[right[static_cast<std::size_t>(i)]].loop;
        const LinkId first = (*fabric_)[top].firstLink;
        const bool purl = first && (*fabric_)[first].form.side != facing_;
        LinkForm form;
        form.side = sideOf(purl);
        form.twist = chain ? std::int8_t{0} : twistOf(state, !purl);
        int before = placeFromTip;
        if (before == 0) {  // it lies behind all that this stitch goes through already
            for (LinkId l = first; l; l = (*fabric_)[l].nextInLoop) {
                const int other = (*fabric_)[l].form.place;
                before = std::min(before, run_ == Run::leftward ? other : -other);
            }
            --before;
        }
        form.place = place(before);
        const Result<LinkId> link = fabric_->pull(top, host, form, forwardSlot());
        if (!link) return tl::unexpected<Refusal>(link.error());
    }
    return top;
}

// ---- increases
// -----------------------------------------------------------------------------------------------

Result<LoopId> Knitter::workInto(const std::vector<Into>& sequence) {
    std::vector<HeldId> places;
    const HeldId from = aheadPlace();
    if (nextHeld(1, places) < 1) return refuse(Why::notEnoughStitches, 1, 0);
    if ((*fabric_)[yarn_].flags.ball == 0) return refuse(Why::noBall);
    const HeldId h = places.front();
    const LoopId host = (*fabric_)[h].loop;
    const HeldState state = (*fabric_)[h].state;
    const bool leads = sitsTurned(h);
    if (!sequence.empty()) settleYarnOver(sequence.front() == Into::purl);
    layFloats();
    passHanging(from, h);
    moveTipBack(h);
    LoopId last;
    for (const Into way : sequence) {
        last = *newLoop(smallUm());
        const bool purled = way == Into::purl || way == Into::purlOtherLeg;
        const bool otherLeg = way == Into::knitOtherLeg || way == Into::purlOtherLeg;
        if (way != Into::yarnOver) {
            LinkForm form;
            form.side = sideOf(purled);
            form.twist = twistOf(state, otherLeg ? !leads : leads);
            (void)fabric_->pull(last, host, form, forwardSlot());
        }
        putOnRight(last, wrapMount(purled));
    }
    (void)fabric_->letGo(host, fabric_->needle(), false);
    return last;
}

Result<LoopId> Knitter::liftBar(bool turned) {
    // At the end of a round the next stitch is the first one of it.
    std::vector<HeldId> places;
    LoopId next;
    if (nextHeld(1, places) == 1) {
        next = (*fabric_)[places.front()].loop;
    } else if (const std::vector<LoopId> round = behind(); round_ && !round.empty()) {
        next = round.front();
    } else {
        return refuse(Why::noBar);
    }
    // In flat work the row below ran the other way: its strand leaves the next stitch toward the one just
    // worked.
    const Run run = fabric_->run(next);
    const EntryId after = run != run_ ? EntryId{next} : (*fabric_)[next].prev;
    const YarnId yarn = (*fabric_)[next].yarn;
    const LoopId owner = after && fabric_->isLoop(after) ? after : fabric_->loopBefore(next);
    if (!owner && run == run_) return refuse(Why::noBar);
    const std::int32_t strand = owner ? (*fabric_)[owner].strandUm : (*fabric_)[yarn].leadUm;
    const Result<LoopId> bar =
        fabric_->liftInStrand(yarn, after, run, std::min((*fabric_)[yarn].loopUm * 2 / 3, strand));
    if (!bar) return bar;
    putOnLeft(*bar, mountOf(turned ? Mount::eastern : Mount::western));
    return bar;
}

Result<LoopId> Knitter::makeOne(Hand hand, bool purl, bool open) {
    return whole([&]() -> Result<LoopId> {
        const Result<LoopId> bar = liftBar(hand == Hand::right);
        if (!bar) return bar;
        return work(1, purl, open ? Leg::leading : hand == Hand::left ? Leg::back : Leg::front);
    });
}

Result<LoopId> Knitter::liftedLoop(Hand hand, bool purl) {
    if ((*fabric_)[yarn_].flags.ball == 0) return refuse(Why::noBall);
    return whole([&]() -> Result<LoopId> {
        LoopId stitch;  // the loop whose host is entered once more
        if (hand == Hand::right) {
            std::vector<HeldId> places;
            if (nextHeld(1, places) < 1) return refuse(Why::notEnoughStitches, 1, 0);
            stitch = (*fabric_)[places.front()].loop;
        } else {
            const HeldId h = behindPlace();
            if (!h) return refuse(Why::nothingBefore);
            const LinkId link = (*fabric_)[(*fabric_)[h].loop].firstLink;
            if (!link) return refuse(Why::noStitchBelow);
            stitch = (*fabric_)[link].host;
        }
        const LinkId link = (*fabric_)[stitch].firstLink;
        if (!link) return refuse(Why::noStitchBelow);
        const LoopId below = (*fabric_)[link].host;
        std::int32_t slot = 0;
        for (LinkId k = (*fabric_)[below].firstKid; k && k != link; k = (*fabric_)[k].nextInHost) ++slot;
        const bool leftOfIt = (hand == Hand::left) == (run_ == Run::leftward);
        settleYarnOver(purl);
        const Result<LoopId> loop = newLoop(ordinaryUm());
        if (!loop) return loop;
        LinkForm form;
        form.side = sideOf(purl);
        const Result<LinkId> pulled = fabric_->pull(*loop, below, form, leftOfIt ? slot + 1 : slot);
        if (!pulled) return tl::unexpected<Refusal>(pulled.error());
        putOnRight(*loop, wrapMount(purl));
        return loop;
    });
}

Result<LoopId> Knitter::liftedIncrease(Hand hand) {
    return whole([&]() -> Result<LoopId> {
        const Result<LoopId> lifted = liftedLoop(hand);
        return lifted && hand == Hand::right ? knit() : lifted;
    });
}

// ---- crossings
// -----------------------------------------------------------------------------------------------

Result<void> Knitter::cross(int over, int under, bool front) {
    std::vector<HeldId> places;
    const int n = over + under;
    if (nextHeld(n, places) < n)
        return refuse(Why::notEnoughStitches, n, static_cast<std::int32_t>(places.size()));
    const State before = mark();
    std::vector<LoopId> order;
    order.reserve(places.size());
    for (const HeldId h : places) order.push_back((*fabric_)[h].loop);
    const auto i = [](int k) { return static_cast<std::size_t>(k); };
    const bool heldInFront = front == (facing_ == Side::right);
    for (int j = 0; j < under; ++j) {
        for (int k = over - 1 + j; k >= j; --k) {
            const LoopId held = order[i(k)];
            const LoopId other = order[i(k + 1)];
            const LoopId right = run_ == Run::leftward ? held : other;
            const LoopId left = run_ == Run::leftward ? other : held;
            const Result<void> crossed = fabric_->cross(right, left, heldInFront ? held : other);
            if (!crossed) {
                rollBack(before);
                return crossed;
            }
            std::swap(order[i(k)], order[i(k + 1)]);
        }
    }
    return {};
}

}  // namespace loopmend
