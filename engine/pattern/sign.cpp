// SPDX-License-Identifier: MIT
#include "pattern/sign.h"

#include <algorithm>
#include <iterator>
#include <utility>

namespace loopmend {

namespace {

/// One operation's look: with the right side facing, and with the wrong side facing. The hand of a decrease,
/// a cross or a twist is the same from both sides; knit and purl change places; left and right change places
/// for what stands beside another stitch.
struct LookFacts {
    Op op;
    Sign sign;
    bool bar;
    std::uint8_t way;
    Sign wrongSign;
    bool wrongBar;
    std::uint8_t wrongWay;
};

constexpr LookFacts both(Op op, Sign sign, std::uint8_t way = 0) {
    return {op, sign, false, way, sign, false, way};
}
/// Shows its V to the knitter.
constexpr LookFacts knitted(Op op, Sign sign, std::uint8_t way = 0) {
    return {op, sign, false, way, sign, true, way};
}
/// Shows its bump to the knitter.
constexpr LookFacts purled(Op op, Sign sign, std::uint8_t way = 0) {
    return {op, sign, true, way, sign, false, way};
}

constexpr LookFacts kLooks[] = {
    {Op::knit, Sign::knit, false, 0, Sign::purl, false, 0},
    {Op::purl, Sign::purl, false, 0, Sign::knit, false, 0},
    knitted(Op::knitTbl, Sign::twistedLeft),
    purled(Op::purlTbl, Sign::twistedLeft),
    {Op::slipPurlwiseBack, Sign::slipped, false, 0, Sign::slippedInFront, false, 0},
    {Op::slipPurlwiseFront, Sign::slippedInFront, false, 0, Sign::slipped, false, 0},
    {Op::slipKnitwiseBack, Sign::slipped, false, 1, Sign::slippedInFront, false, 1},
    {Op::slipKnitwiseFront, Sign::slippedInFront, false, 1, Sign::slipped, false, 1},
    both(Op::yarnOver, Sign::yarnOver),
    both(Op::yarnOverReverse, Sign::yarnOver, 1),
    knitted(Op::k2tog, Sign::leftOver),
    knitted(Op::ssk, Sign::rightOver),
    knitted(Op::skp, Sign::rightOver, 1),
    knitted(Op::k2togTbl, Sign::rightOver, 2),
    purled(Op::p2tog, Sign::leftOver),
    purled(Op::p2togTbl, Sign::rightOver, 2),
    purled(Op::ssp, Sign::rightOver),
    purled(Op::spp, Sign::leftOver, 1),
    knitted(Op::k3tog, Sign::leftOver3),
    knitted(Op::k3togTbl, Sign::rightOver3, 2),
    knitted(Op::sssk, Sign::rightOver3, 1),
    purled(Op::p3tog, Sign::leftOver3),
    purled(Op::p3togTbl, Sign::rightOver3, 2),
    knitted(Op::sk2p, Sign::rightOver3),
    purled(Op::sp2p, Sign::leftOver3, 1),
    knitted(Op::s2kp, Sign::centreOver),
    purled(Op::s2pp, Sign::centreOver),
    knitted(Op::slip1k2Over, Sign::oneOverTwo),
    knitted(Op::k2togOver, Sign::togetherOver),
    knitted(Op::kfb, Sign::fromOne, 2),
    knitted(Op::kpk, Sign::fromOne, 1),
    knitted(Op::kyok, Sign::fromOne),
    purled(Op::pfb, Sign::fromOne, 2),
    purled(Op::pkp, Sign::fromOne, 1),
    purled(Op::pyop, Sign::fromOne),
    knitted(Op::m1Left, Sign::madeLeft),
    knitted(Op::m1Right, Sign::madeRight),
    purled(Op::m1PurlLeft, Sign::madeLeft),
    purled(Op::m1PurlRight, Sign::madeRight),
    knitted(Op::m1Open, Sign::made),
    both(Op::castOn, Sign::castOn),
    knitted(Op::bindOff, Sign::castOff),
    purled(Op::bindOffPurl, Sign::castOff),
    both(Op::passOver, Sign::passedOver),
    knitted(Op::knitBelow, Sign::below),
    purled(Op::purlBelow, Sign::below),
    both(Op::cable, Sign::crossing),
    both(Op::hold, Sign::held),
    knitted(Op::knitWraps, Sign::longStitch),
    purled(Op::purlWraps, Sign::longStitch),
    both(Op::letFall, Sign::letFall),
    {Op::liftedRight, Sign::liftedRight, false, 0, Sign::liftedLeft, true, 0},
    {Op::liftedLeft, Sign::liftedLeft, false, 0, Sign::liftedRight, true, 0},
    {Op::liftedRightPurl, Sign::liftedRight, true, 0, Sign::liftedLeft, false, 0},
    {Op::liftedLeftPurl, Sign::liftedLeft, true, 0, Sign::liftedRight, false, 0},
    both(Op::turn, Sign::turnHere),
    both(Op::wrapTurn, Sign::wrapTurn),
    both(Op::doubled, Sign::doubled),
    knitted(Op::knitDoubled, Sign::turned),
    purled(Op::purlDoubled, Sign::turned),
    knitted(Op::knitWithWrap, Sign::wrapped),
    purled(Op::purlWithWrap, Sign::wrapped),
    knitted(Op::pickUp, Sign::pickedUp),
    both(Op::castOnRight, Sign::castOn, 1),
    both(Op::castOnKnitted, Sign::castOn, 2),
    knitted(Op::bindOffTogether, Sign::castOff, 1),
    knitted(Op::knitWithFloat, Sign::caught),
    purled(Op::purlWithFloat, Sign::caught),
};
static_assert(std::size(kLooks) == kOpCount, "one line of looks for each operation");

void swapGroups(StitchSign& sign) {
    std::swap(sign.right, sign.left);
    std::swap(sign.purlRight, sign.purlLeft);
    std::swap(sign.twistRight, sign.twistLeft);
}

/// Turned over, the held stitches are the left ones, and what was in front is behind: the cross leans as
/// before.
StitchSign crossingOf(const Step& step, Facing facing) {
    StitchSign sign;
    sign.sign = Sign::crossing;
    sign.right = step.over;
    sign.left = step.under;
    sign.rightInFront = step.front;
    sign.purlRight = step.purlOver;
    sign.purlLeft = step.purlUnder;
    sign.twistRight = step.tblOver;
    sign.twistLeft = step.tblUnder;
    if (facing == Facing::wrong) {
        swapGroups(sign);
        sign.purlRight = !sign.purlRight;
        sign.purlLeft = !sign.purlLeft;
    }
    return sign;
}

Step crossOf(StitchSign sign, Facing facing) {
    if (facing == Facing::wrong) {
        swapGroups(sign);
        sign.purlRight = !sign.purlRight;
        sign.purlLeft = !sign.purlLeft;
    }
    Step step;
    step.op = Op::cable;
    step.over = sign.right;
    step.under = sign.left;
    step.front = sign.rightInFront;
    step.purlOver = sign.purlRight;
    step.purlUnder = sign.purlLeft;
    step.tblOver = sign.twistRight;
    step.tblUnder = sign.twistLeft;
    return step;
}

}  // namespace

bool hasCount(Op op) {
    switch (op) {
        case Op::yarnOver:
        case Op::yarnOverReverse:
        case Op::kfb:
        case Op::pfb:
        case Op::kpk:
        case Op::kyok:
        case Op::pkp:
        case Op::pyop:
        case Op::castOn:
        case Op::castOnRight:
        case Op::castOnKnitted:
        case Op::bindOff:
        case Op::bindOffPurl:
        case Op::bindOffTogether:
        case Op::hold:
        case Op::knitWraps:
        case Op::purlWraps:
        case Op::pickUp: return true;
        default: return false;
    }
}

StitchSign signOf(const Step& step, Facing facing) {
    StitchSign sign;
    if (step.op == Op::cable) {
        sign = crossingOf(step, facing);
    } else {
        const LookFacts& look = kLooks[static_cast<std::size_t>(step.op)];
        const bool right = facing == Facing::right;
        sign.sign = right ? look.sign : look.wrongSign;
        sign.bar = right ? look.bar : look.wrongBar;
        sign.way = right ? look.way : look.wrongWay;
        if (step.op == Op::pickUp) sign.way = static_cast<std::uint8_t>(step.edge);
        if (hasCount(step.op)) sign.count = step.count;
    }
    sign.yarn = step.yarn;
    sign.link = step.link;
    return sign;
}

std::optional<Step> stepOf(const StitchSign& sign, Facing facing) {
    Step step;
    if (sign.sign == Sign::crossing) {
        if (sign.right < 1 || sign.left < 1) return std::nullopt;
        step = crossOf(sign, facing);
    } else {
        const bool pickedUp = sign.sign == Sign::pickedUp;
        const auto found = std::find_if(std::begin(kLooks), std::end(kLooks), [&](const LookFacts& look) {
            const bool right = facing == Facing::right;
            return look.op != Op::cable && sign.sign == (right ? look.sign : look.wrongSign) &&
                   sign.bar == (right ? look.bar : look.wrongBar) &&
                   (pickedUp ? sign.way <= static_cast<std::uint8_t>(Edge::boundOff)
                             : sign.way == (right ? look.way : look.wrongWay));
        });
        if (found == std::end(kLooks)) return std::nullopt;
        step.op = found->op;
        if (pickedUp) step.edge = static_cast<Edge>(sign.way);
        if (hasCount(step.op)) step.count = sign.count;
    }
    step.yarn = sign.yarn;
    step.link = sign.link;
    return step;
}

StitchSign mirrored(StitchSign sign) {
    switch (sign.sign) {
        case Sign::rightOver: sign.sign = Sign::leftOver; break;
        case Sign::leftOver: sign.sign = Sign::rightOver; break;
        case Sign::rightOver3: sign.sign = Sign::leftOver3; break;
        case Sign::leftOver3: sign.sign = Sign::rightOver3; break;
        case Sign::twistedLeft: sign.sign = Sign::twistedRight; break;
        case Sign::twistedRight: sign.sign = Sign::twistedLeft; break;
        case Sign::madeLeft: sign.sign = Sign::madeRight; break;
        case Sign::madeRight: sign.sign = Sign::madeLeft; break;
        case Sign::liftedLeft: sign.sign = Sign::liftedRight; break;
        case Sign::liftedRight: sign.sign = Sign::liftedLeft; break;
        case Sign::crossing:
            swapGroups(sign);
            sign.rightInFront = !sign.rightInFront;
            break;
        default: break;
    }
    return sign;
}

int widthOf(const StitchSign& sign) {
    const std::optional<Step> step = stepOf(sign, Facing::right);
    const std::optional<Step> other = step ? step : stepOf(sign, Facing::wrong);
    if (!other) return 1;
    if (other->op == Op::castOnKnitted) return std::max<int>(1, other->count);
    const int made = makes(*other);
    return std::max(1, made > 0 ? made : uses(*other));
}

}  // namespace loopmend
