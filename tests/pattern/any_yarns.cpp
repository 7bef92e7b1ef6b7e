// SPDX-License-Identifier: MIT
// Random rows of wraps, lifted loops, twisted crosses, brioche and several yarns: refused whole or done
// whole, the same from their text, and taken back to what was there.
#include <rapidcheck.h>
#include <rapidcheck/catch.h>
#include <catch2/catch.hpp>

#include "fabric/itinerary.h"
#include "pattern/print.h"
#include "pattern/working.h"

using namespace loopmend;

namespace {

int below(int n) {
    return *rc::gen::inRange(0, n);
}

Step anyStep(bool several) {
    static const Op kOps[] = {Op::knit,
                              Op::purl,
                              Op::knit,
                              Op::purl,
                              Op::knitTbl,
                              Op::purlTbl,
                              Op::yarnOver,
                              Op::yarnOverReverse,
                              Op::k2tog,
                              Op::p2tog,
                              Op::ssk,
                              Op::slipPurlwiseFront,
                              Op::knitWraps,
                              Op::purlWraps,
                              Op::letFall,
                              Op::liftedRight,
                              Op::liftedLeft,
                              Op::liftedRightPurl,
                              Op::liftedLeftPurl,
                              Op::cable,
                              Op::kfb};
    Step step;
    step.op = kOps[below(static_cast<int>(std::size(kOps)))];
    if (step.op == Op::knitWraps || step.op == Op::purlWraps)
        step.count = static_cast<std::int16_t>(2 + below(2));
    if (step.op == Op::cable) {
        step.over = static_cast<std::int16_t>(1 + below(2));
        step.under = static_cast<std::int16_t>(1 + below(2));
        step.front = below(2) == 0;
        step.purlOver = below(3) == 0;
        step.purlUnder = below(3) == 0;
        step.tblOver = below(2) == 0;
        step.tblUnder = below(2) == 0;
    }
    if (several) {
        step.yarn = static_cast<std::uint8_t>(below(3) == 0 ? below(3) : 0);
        step.link = below(4) == 0;
    }
    return step;
}

std::string textOf(const Fabric& fabric) {
    const Itinerary lines = itinerary(fabric);
    return lines.knot + "\n" + lines.measure;
}

}  // namespace

TEST_CASE("random rows of what yarn can do: refused whole or done whole, the same from their text") {
    rc::prop("rows", [] {
        Script script;
        script.castOn = 8;
        script.round = below(3) == 0;
        script.yarns = below(2) == 0 ? "A" : "ABA";
        Setup setup;
        setup.mirrored = below(4) == 0;
        setup.habit = below(4) == 0 ? Habit::combination : Habit::western;
        Knitting knitting = castOn(script, setup);
        Knitter& k = knitting.knitter;
        const Fabric& f = *knitting.fabric;
        for (int row = 0; row < 4; ++row) {
            const std::string before = textOf(f);
            std::vector<Step> worked;
            bool comesBack = true;
            for (int i = 0; i < 60 && k.aheadCount() > 0; ++i) {
                const Step step = anyStep(script.yarns.size() > 1);
                const std::string here = textOf(f);
                const YarnId inHand = k.yarn();
                const int ahead = k.aheadCount();
                const Result<void> done = work(k, step);
                if (!done) {
                    RC_ASSERT(textOf(f) == here);
                    RC_ASSERT(k.yarn() == inHand);
                    continue;
                }
                worked.push_back(step);
                // Slipped on both sides of a turn, a stitch is wrapped: that comes back with the turn.
                if (worked.size() == 1 && step.op == Op::slipPurlwiseFront) comesBack = false;
                if (step.op == Op::letFall) {
                    comesBack = false;
                    RC_ASSERT(k.aheadCount() == ahead - 1);
                }
            }
            while (k.aheadCount() > 0) RC_ASSERT(k.knit().has_value());
            const Itinerary lines = itinerary(f);
            const auto again = fabricFrom(lines);
            RC_ASSERT(again.has_value());
            RC_ASSERT(textOf(*again) == lines.knot + "\n" + lines.measure);
            if (comesBack && below(2) == 0) {
                RC_LOG() << printSteps(worked, Terms::us, script.yarns) << "\n";
                for (int i = 0; i < 200 && k.rowBegun(); ++i) {
                    const Result<void> back = k.tink();
                    RC_ASSERT(back.has_value());
                }
                (void)k.uncross();
                RC_ASSERT(itinerary(f).knot == before.substr(0, before.find('\n')));
                while (k.aheadCount() > 0) RC_ASSERT(k.knit().has_value());
            }
            endRow(k);
        }
    });
}
