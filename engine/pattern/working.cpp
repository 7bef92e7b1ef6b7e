// SPDX-License-Identifier: MIT
#include "pattern/working.h"

#include "pattern/working_edges.h"
#include "pattern/working_yarns.h"

#include <vector>

#include <fmt/format.h>

namespace loopmend {

namespace {

using Into = Knitter::Into;

template <class T>
Result<void> done(const Result<T>& result) {
    if (!result) return tl::unexpected<Refusal>(result.error());
    return {};
}

Result<void> severalIntoOne(Knitter& k, int n, Into first, Into between) {
    std::vector<Into> sequence;
    sequence.reserve(static_cast<std::size_t>(n));
    for (int i = 0; i < n; ++i) sequence.push_back(i % 2 == 0 ? first : between);
    return done(k.workInto(sequence));
}

Result<void> yarnOvers(Knitter& k, int count, bool reverse) {
    for (int i = 0; i < count; ++i) {
        const Result<LoopId> loop = k.yarnOver(reverse);
        if (!loop) return done(loop);
    }
    return {};
}

Result<void> cable(Knitter& k, const Step& step) {
    return k.whole([&]() -> Result<void> {
        const Result<void> crossed = k.cross(step.over, step.under, step.front);
        if (!crossed) return crossed;
        for (int i = 0; i < step.under + step.over; ++i) {
            const bool purl = i < step.under ? step.purlUnder : step.purlOver;
            const bool back = i < step.under ? step.tblUnder : step.tblOver;
            const Result<LoopId> worked = k.work(1, purl, back ? Leg::back : Leg::leading);
            if (!worked) return done(worked);
        }
        return {};
    });
}

bool bindsOff(Op op) {
    return op == Op::bindOff || op == Op::bindOffPurl || op == Op::bindOffTogether;
}

}  // namespace

namespace {

Result<void> workInHand(Knitter& k, const Step& step) {
    switch (step.op) {
        case Op::knit: return done(k.knit());
        case Op::purl: return done(k.purl());
        case Op::knitTbl: return done(k.knitTbl());
        case Op::purlTbl: return done(k.purlTbl());
        case Op::slipPurlwiseBack: return done(k.slip(SlipWay::purlwise, false));
        case Op::slipPurlwiseFront: return done(k.slip(SlipWay::purlwise, true));
        case Op::slipKnitwiseBack: return done(k.slip(SlipWay::knitwise, false));
        case Op::slipKnitwiseFront: return done(k.slip(SlipWay::knitwise, true));
        case Op::yarnOver: return yarnOvers(k, step.count, false);
        case Op::yarnOverReverse: return yarnOvers(k, step.count, true);
        case Op::k2tog: return done(k.k2tog());
        case Op::ssk: return done(k.ssk());
        case Op::skp: return done(k.skp());
        case Op::k2togTbl: return done(k.k2togTbl());
        case Op::p2tog: return done(k.p2tog());
        case Op::p2togTbl: return done(k.p2togTbl());
        case Op::ssp: return done(k.ssp());
        case Op::spp: return done(k.spp());
        case Op::k3tog: return done(k.k3tog());
        case Op::k3togTbl: return done(k.k3togTbl());
        case Op::sssk: return done(k.sssk());
        case Op::p3tog: return done(k.p3tog());
        case Op::p3togTbl: return done(k.p3togTbl());
        case Op::sk2p: return done(k.sk2p());
        case Op::sp2p: return done(k.sp2p());
        case Op::s2kp: return done(k.s2kp());
        case Op::s2pp: return done(k.s2pp());
        case Op::slip1k2Over: return done(k.slipKnitOver(2));
        case Op::k2togOver:
            return k.whole([&]() -> Result<void> {
                const Result<LoopId> together = k.k2tog();
                return together ? done(k.passOver()) : done(together);
            });
        case Op::kfb: return severalIntoOne(k, makes(step), Into::knit, Into::knitOtherLeg);
        case Op::kpk: return severalIntoOne(k, makes(step), Into::knit, Into::purl);
        case Op::kyok: return severalIntoOne(k, makes(step), Into::knit, Into::yarnOver);
        case Op::pfb: return severalIntoOne(k, makes(step), Into::purl, Into::purlOtherLeg);
        case Op::pkp: return severalIntoOne(k, makes(step), Into::purl, Into::knit);
        case Op::pyop: return severalIntoOne(k, makes(step), Into::purl, Into::yarnOver);
        case Op::m1Left: return done(k.makeOne(Hand::left));
        case Op::m1Right: return done(k.makeOne(Hand::right));
        case Op::m1PurlLeft: return done(k.makeOne(Hand::left, true));
        case Op::m1PurlRight: return done(k.makeOne(Hand::right, true));
        case Op::m1Open: return done(k.makeOne(Hand::left, false, true));
        case Op::castOn: return k.castOnBackward(step.count);
        case Op::bindOff: return k.bindOff(step.count, false);
        case Op::bindOffPurl: return k.bindOff(step.count, true);
        case Op::passOver: return done(k.passOver());
        case Op::knitBelow: return done(k.workBelow(false));
        case Op::purlBelow: return done(k.workBelow(true));
        case Op::cable: return cable(k, step);
        case Op::hold: return done(k.leaveOnHolder(step.count));
        case Op::knitWraps: return done(k.wrapped(step.count, false));
        case Op::purlWraps: return done(k.wrapped(step.count, true));
        case Op::letFall: return k.letFall();
        case Op::liftedRight: return done(k.liftedLoop(Hand::right));
        case Op::liftedLeft: return done(k.liftedLoop(Hand::left));
        case Op::liftedRightPurl: return done(k.liftedLoop(Hand::right, true));
        case Op::liftedLeftPurl: return done(k.liftedLoop(Hand::left, true));
        case Op::turn: k.turn(); return {};
        case Op::wrapTurn: return k.wrapAndTurn();
        case Op::doubled: return done(k.doubleStitch());
        case Op::knitDoubled: return done(k.workDoubled(false));
        case Op::purlDoubled: return done(k.workDoubled(true));
        case Op::knitWithWrap: return done(k.workWithWrap(false));
        case Op::purlWithWrap: return done(k.workWithWrap(true));
        case Op::pickUp: return k.pickUpAlong(edgeOf(k, step.edge), step.count);
        case Op::castOnRight: return k.castOnBackward(step.count, Hand::right);
        case Op::castOnKnitted: return k.castOnKnitted(step.count);
        case Op::bindOffTogether: return k.bindOffTogether(step.count);
        case Op::knitWithFloat: return done(k.workWithFloat(false));
        case Op::purlWithFloat: return done(k.workWithFloat(true));
    }
    return refuse(Why::noSuchThing);
}

}  // namespace

Result<void> work(Knitter& k, const Step& step) {
    if (!changesYarn(k, step)) return workInHand(k, step);
    return k.whole([&]() -> Result<void> {
        const Result<void> taken = k.takeUp(step.yarn, step.link);
        return taken ? workInHand(k, step) : taken;
    });
}

Result<void> RowWork::work(const Step& step) {
    const bool chains = bindsOff(step.op);
    if (!chains && !loopLeft_) return loopmend::work(*knitter_, step);
    return knitter_->whole([&]() -> Result<void> {
        const bool left = loopLeft_;
        const Result<void> taken = knitter_->takeUp(step.yarn, step.link);
        if (!taken) return taken;
        const Result<void> worked = chains ? chain(step) : other(step);
        if (!worked) loopLeft_ = left;
        return worked;
    });
}

Result<void> RowWork::other(const Step& step) {
    if (loopLeft_ && uses(step) != 0) {
        loopLeft_ = false;
        if (uses(step) == 1 && makes(step) == 1) return {};
        // It is the first of several that are worked together, or what others are knitted on to.
        const Result<void> back = knitter_->slipBack();
        if (!back) return back;
    }
    return loopmend::work(*knitter_, step);
}

Result<void> RowWork::chain(const Step& step) {
    const bool together = step.op == Op::bindOffTogether;
    const bool purl = step.op == Op::bindOffPurl;
    const int ahead = knitter_->aheadCount() + (loopLeft_ ? 1 : 0);
    const bool all = ahead == step.count;
    if (all && !together && !loopLeft_ && knitter_->behind().empty()) return knitter_->bindOffAll(purl);
    if (!loopLeft_) {  // in mid-row the chain begins with a stitch of its own, not with the one before it
        const Result<LoopId> first =
            together ? knitter_->knitWithSpare() : knitter_->work(1, purl, Leg::leading);
        if (!first) return done(first);
    }
    const int further = all ? step.count - 1 : step.count;
    const Result<void> bound =
        together ? knitter_->bindOffTogether(further) : knitter_->bindOff(further, purl);
    if (!bound) return bound;
    loopLeft_ = !all;
    return all ? knitter_->fasten() : bound;
}

std::string sentence(const RowFault& fault) {
    if (fault.left > 0 && fault.refusal.why == Why::rowNotWorked) {
        return fmt::format("row {} ends with {} stitch{} left over", fault.row, fault.left,
                           fault.left == 1 ? "" : "es");
    }
    return fmt::format("row {} stops at its operation {}: {}", fault.row, fault.step + 1,
                       sentence(fault.refusal));
}

Knitting castOn(const Script& script, const Setup& setup) {
    auto fabric = std::make_unique<Fabric>();
    const char colour = script.yarns.empty() ? 'A' : script.yarns.front();
    const YarnId yarn = fabric->addYarn(colour, setup.loopUm, setup.strandUm);
    const Side first = !script.round && !script.rows.empty() && script.rows.front().facing == Facing::wrong
                           ? Side::wrong
                           : Side::right;
    // Flat, the work is turned between casting on and the first row.
    Knitter knitter(*fabric, yarn, script.round ? Side::right : opposite(first), false, setup.habit,
                    setup.mirrored);
    switch (setup.castOn) {
        case CastOn::longTail: (void)knitter.castOnLongTail(script.castOn); break;
        case CastOn::backward: (void)knitter.castOnBackward(script.castOn); break;
        case CastOn::knitted: (void)knitter.castOnKnitted(script.castOn); break;
    }
    if (script.yarns.size() > 1) layOutYarns(knitter, script.yarns);
    if (script.round) {
        (void)knitter.joinRound(script.twist);
    } else {
        knitter.turn();
    }
    return {std::move(fabric), std::move(knitter)};
}

tl::expected<void, RowFault> workRow(Knitter& knitter, const WorkedRow& row) {
    RowWork work(knitter);
    for (std::size_t i = 0; i < row.steps.size(); ++i) {
        const Result<void> worked = work.work(row.steps[i]);
        if (!worked) {
            return tl::make_unexpected(
                RowFault{row.number, static_cast<int>(i), knitter.aheadCount(), worked.error()});
        }
    }
    if (const int left = turnsEarly(row) ? 0 : knitter.aheadCount(); left > 0) {
        return tl::make_unexpected(
            RowFault{row.number, static_cast<int>(row.steps.size()), left, Refusal{Why::rowNotWorked, left}});
    }
    return {};
}

bool turnsEarly(const WorkedRow& row) {
    return !row.steps.empty() && (row.steps.back().op == Op::turn || row.steps.back().op == Op::wrapTurn);
}

void endRow(Knitter& knitter, const WorkedRow& row) {
    if (!turnsEarly(row)) endRow(knitter);
}

void endRow(Knitter& knitter) {
    if (knitter.inTheRound() && knitter.facing() == Side::right) {
        (void)knitter.endRound();
    } else {
        knitter.turn();
    }
}

tl::expected<Knitting, RowFault> knit(const Script& script, const Setup& setup) {
    Knitting knitting = castOn(script, setup);
    for (const WorkedRow& row : script.rows) {
        const auto worked = workRow(knitting.knitter, row);
        if (!worked) return tl::unexpected<RowFault>(worked.error());
        endRow(knitting.knitter, row);
    }
    return knitting;
}

}  // namespace loopmend
