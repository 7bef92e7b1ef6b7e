// SPDX-License-Identifier: MIT
#include "diagnosis/random_ground.h"

#include "fault/draw.h"

namespace loopmend {

namespace {

Op pickOp(Seeded& dice, int live, int stitches, bool first) {
    static constexpr Op kOne[] = {Op::knit, Op::knit, Op::knit,    Op::purl,
                                  Op::purl, Op::purl, Op::knitTbl, Op::slipPurlwiseBack};
    static constexpr Op kFewer[] = {Op::k2tog, Op::ssk,  Op::p2tog, Op::ssp,  Op::skp,
                                    Op::k3tog, Op::sk2p, Op::s2kp,  Op::p3tog};
    static constexpr Op kMore[] = {Op::yarnOver, Op::yarnOver, Op::m1Left,
                                   Op::m1Right,  Op::kfb,      Op::yarnOver};
    const int throwOf = dice.below(100);
    const bool wide = live > stitches;
    if (throwOf < (wide ? 16 : 6)) return kFewer[dice.below(static_cast<int>(std::size(kFewer)))];
    if (throwOf < (wide ? 22 : 22) && !first) return kMore[dice.below(static_cast<int>(std::size(kMore)))];
    if (throwOf < 26) return Op::cable;
    return kOne[dice.below(static_cast<int>(std::size(kOne)))];
}

}  // namespace

Script randomGround(std::uint64_t seed, int stitches, int rows, bool round, bool plainBetween) {
    Seeded dice(seed);
    Script script;
    script.castOn = stitches;
    script.round = round;
    int live = stitches;
    for (int r = 0; r < rows; ++r) {
        WorkedRow row;
        row.number = r + 1;
        row.printed = r + 1;
        row.round = round;
        row.facing = !round && r % 2 == 1 ? Facing::wrong : Facing::right;
        const bool plain = plainBetween && r % 2 == 1;
        int left = live;
        int made = 0;
        bool open = false;  // the step before made a loop that rests on nothing: no bar lies beside it
        while (left > 0) {
            Step step;
            step.op = plain ? (row.facing == Facing::wrong ? Op::purl : Op::knit)
                            : pickOp(dice, live, stitches, left == live);
            if (step.op == Op::cable) {
                step.over = 1;
                step.under = 1;
                step.front = dice.below(2) == 0;
            }
            const bool adds = uses(step) == 0;
            if (uses(step) > left || (adds && open)) step = Step{};
            open = adds;
            left -= uses(step);
            made += makes(step);
            row.steps.push_back(step);
        }
        live = made;
        script.rows.push_back(std::move(row));
    }
    return script;
}

}  // namespace loopmend
