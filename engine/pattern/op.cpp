// SPDX-License-Identifier: MIT
#include "pattern/op.h"

namespace loopmend {

namespace {

struct OpFacts {
    Op op;
    std::string_view name;
    std::string_view longName;
    int uses;  // kCount: as many as the Step's count
    int makes;
};

constexpr int kCount = 1000;
constexpr int kMinusCount = -1000;

constexpr OpFacts kFacts[] = {
    {Op::knit, "k", "knit", 1, 1},
    {Op::purl, "p", "purl", 1, 1},
    {Op::knitTbl, "k tbl", "knit through the back loop", 1, 1},
    {Op::purlTbl, "p tbl", "purl through the back loop", 1, 1},
    {Op::slipPurlwiseBack, "sl wyib", "slip purlwise with the yarn in back", 1, 1},
    {Op::slipPurlwiseFront, "sl wyif", "slip purlwise with the yarn in front", 1, 1},
    {Op::slipKnitwiseBack, "sl kwise wyib", "slip knitwise with the yarn in back", 1, 1},
    {Op::slipKnitwiseFront, "sl kwise wyif", "slip knitwise with the yarn in front", 1, 1},
    {Op::yarnOver, "yo", "yarn over", 0, kCount},
    {Op::yarnOverReverse, "reverse yo", "yarn over from back to front", 0, kCount},
    {Op::k2tog, "k2tog", "knit two together", 2, 1},
    {Op::ssk, "ssk", "slip, slip, knit the two together", 2, 1},
    {Op::skp, "skp", "slip one, knit one, pass the slipped stitch over", 2, 1},
    {Op::k2togTbl, "k2tog tbl", "knit two together through the back loops", 2, 1},
    {Op::p2tog, "p2tog", "purl two together", 2, 1},
    {Op::p2togTbl, "p2tog tbl", "purl two together through the back loops", 2, 1},
    {Op::ssp, "ssp", "slip, slip, purl the two together through the back loops", 2, 1},
    {Op::spp, "spp", "slip one, purl one, pass the slipped stitch over", 2, 1},
    {Op::k3tog, "k3tog", "knit three together", 3, 1},
    {Op::k3togTbl, "k3tog tbl", "knit three together through the back loops", 3, 1},
    {Op::sssk, "sssk", "slip three, one by one, and knit them together", 3, 1},
    {Op::p3tog, "p3tog", "purl three together", 3, 1},
    {Op::p3togTbl, "p3tog tbl", "purl three together through the back loops", 3, 1},
    {Op::sk2p, "sk2p", "slip one, knit two together, pass the slipped stitch over", 3, 1},
    {Op::sp2p, "sp2p", "slip one, purl two together, pass the slipped stitch over", 3, 1},
    {Op::s2kp, "s2kp", "slip two together, knit one, pass both over", 3, 1},
    {Op::s2pp, "s2pp", "centred double decrease on the purl side", 3, 1},
    {Op::slip1k2Over, "s1k2po", "slip one, knit two, pass the slipped stitch over both", 3, 2},
    {Op::k2togOver, "k2togpo", "knit two together, pass the stitch before it over", 2, 0},
    {Op::kfb, "kfb", "knit into the front and the back of one stitch", 1, kCount},
    {Op::kpk, "kpk", "knit, purl, knit into one stitch", 1, kCount},
    {Op::kyok, "kyok", "knit, yarn over, knit into one stitch", 1, kCount},
    {Op::pfb, "pfb", "purl into the front and the back of one stitch", 1, kCount},
    {Op::pkp, "pkp", "purl, knit, purl into one stitch", 1, kCount},
    {Op::pyop, "pyop", "purl, yarn over, purl into one stitch", 1, kCount},
    {Op::m1Left, "m1l", "make one, leaning left", 0, 1},
    {Op::m1Right, "m1r", "make one, leaning right", 0, 1},
    {Op::m1PurlLeft, "m1lp", "make one purlwise, leaning left", 0, 1},
    {Op::m1PurlRight, "m1rp", "make one purlwise, leaning right", 0, 1},
    {Op::m1Open, "m1 open", "make one without a twist", 0, 1},
    {Op::castOn, "cast on", "cast on", 0, kCount},
    {Op::bindOff, "bind off", "bind off", kCount, 0},
    {Op::bindOffPurl, "bind off purlwise", "bind off purlwise", kCount, 0},
    {Op::passOver, "pass 2nd st over 1st", "pass the second stitch over the first", 0, -1},
    {Op::knitBelow, "k below", "knit into the stitch below", 1, 1},
    {Op::purlBelow, "p below", "purl into the stitch below", 1, 1},
    {Op::cable, "cable", "cross stitches", kCount, kCount},
    {Op::hold, "hold", "leave on a holder", kCount, 0},
    {Op::knitWraps, "k wrapping", "knit, wrapping the yarn several times", 1, kCount},
    {Op::purlWraps, "p wrapping", "purl, wrapping the yarn several times", 1, kCount},
    {Op::letFall, "let fall", "let one loop fall off the needle", 1, 0},
    {Op::liftedRight, "rli", "lifted increase to the right", 0, 1},
    {Op::liftedLeft, "lli", "lifted increase to the left", 0, 1},
    {Op::liftedRightPurl, "rlip", "lifted increase to the right, purled", 0, 1},
    {Op::liftedLeftPurl, "llip", "lifted increase to the left, purled", 0, 1},
    {Op::turn, "turn", "turn the work", 0, 0},
    {Op::wrapTurn, "w&t", "lead the yarn round the next stitch and turn", 0, 0},
    {Op::doubled, "ds", "double the stitch at the turn", 1, 1},
    {Op::knitDoubled, "k ds", "knit both strands of the doubled stitch as one", 1, 1},
    {Op::purlDoubled, "p ds", "purl both strands of the doubled stitch as one", 1, 1},
    {Op::knitWithWrap, "k with its wrap", "knit the stitch together with its wrap", 1, 1},
    {Op::purlWithWrap, "p with its wrap", "purl the stitch together with its wrap", 1, 1},
    {Op::pickUp, "pick up and knit", "pick up and knit along an edge", 0, kCount},
    {Op::castOnRight, "cast on turned right", "cast on loops turned to the right", 0, kCount},
    {Op::castOnKnitted, "cast on knitted", "cast on by knitting", kMinusCount, 0},
    {Op::bindOffTogether, "bind off together", "bind off together with the spare needle", kCount, 0},
    {Op::knitWithFloat, "k with its float", "knit the stitch together with the strand across it", 1, 1},
    {Op::purlWithFloat, "p with its float", "purl the stitch together with the strand across it", 1, 1},
};

static_assert(sizeof(kFacts) / sizeof(kFacts[0]) == kOpCount, "one line of facts for each operation");

const OpFacts& facts(Op op) {
    return kFacts[static_cast<std::size_t>(op)];
}

int counted(const Step& step) {
    if (step.op == Op::cable) return step.over + step.under;
    if (step.op == Op::kfb || step.op == Op::pfb) return step.count > 1 ? step.count : 2;
    if (isSeveralFromOne(step.op)) return step.count > 1 ? step.count : 3;
    return step.count;
}

}  // namespace

bool isSeveralFromOne(Op op) {
    return op == Op::kpk || op == Op::kyok || op == Op::pkp || op == Op::pyop;
}

int uses(const Step& step) {
    const int n = facts(step.op).uses;
    return n == kCount ? counted(step) : n == kMinusCount ? -counted(step) : n;
}

int makes(const Step& step) {
    const int n = facts(step.op).makes;
    return n == kCount ? counted(step) : n;
}

std::string_view name(Op op) {
    return facts(op).name;
}

std::string_view longName(Op op, Terms terms) {
    if (terms == Terms::uk) {
        if (op == Op::bindOff) return "cast off";
        if (op == Op::bindOffPurl) return "cast off purlwise";
        if (op == Op::bindOffTogether) return "cast off together with the spare needle";
    }
    return facts(op).longName;
}

}  // namespace loopmend
