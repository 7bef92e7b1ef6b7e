// SPDX-License-Identifier: MIT
// Starts, ends, edges and turns as steps of a script: every sampler of them, whichever hand and habit works
// it, counts as the algebra says, reads the same from its text, comes back by tinking and runs no farther
// than it may.
#include <catch2/catch.hpp>

#include <string>
#include <vector>

#include "fabric/hands.h"
#include "fabric/itinerary.h"
#include "pattern/samplers.h"
#include "sampled.h"

using namespace loopmend;

namespace {

std::string text(const Fabric& fabric) {
    const Itinerary lines = itinerary(fabric);
    return lines.knot + "\n" + lines.measure;
}

bool roundTrips(const Fabric& fabric) {
    const auto read = fabricFrom(itinerary(fabric));
    return read && text(*read) == text(fabric);
}

/// The same piece by either hand, in each habit.
std::vector<Setup> setups(const Setup& setup) {
    std::vector<Setup> all;
    for (const bool mirrored : {false, true}) {
        for (const Habit habit : {Habit::western, Habit::eastern, Habit::combination}) {
            all.push_back(setup);
            all.back().mirrored = mirrored;
            all.back().habit = habit;
        }
    }
    return all;
}

/// Works a script and looks on at every row and every step.
template <class AtRow, class AtStep>
void workThrough(const Script& script, const Setup& setup, AtRow atRow, AtStep atStep) {
    Knitting knitting = castOn(script, setup);
    for (const WorkedRow& row : script.rows) {
        atRow(knitting.knitter, row);
        RowWork work(knitting.knitter);
        for (std::size_t i = 0; i < row.steps.size(); ++i) {
            const std::string before = text(*knitting.fabric);
            const int ahead = knitting.knitter.aheadCount();
            CAPTURE(row.number, i);
            REQUIRE(work.work(row.steps[i]));
            atStep(knitting.knitter, row.steps[i], before, ahead);
        }
        endRow(knitting.knitter, row);
    }
}

const auto kNothing = [](auto&&...) {};

}  // namespace

TEST_CASE("edges and turns: what is ahead and behind is what the algebra counts") {
    for (const Sampler& sampler : edgeSamplers()) {
        INFO(sampler.id);
        for (const Setup& setup : setups(sampler.setup)) {
            int ahead = sampler.script.castOn;
            int behind = 0;
            workThrough(
                sampler.script, setup,
                [&](const Knitter& k, const WorkedRow& row) {
                    CAPTURE(row.number, setup.mirrored);
                    CHECK(k.aheadCount() == ahead);
                    CHECK(static_cast<int>(k.behind().size()) == behind);
                    CHECK(k.ahead().size() == static_cast<std::size_t>(ahead));
                    CHECK((k.facing() == Side::right) == (row.facing == Facing::right));
                    int used = 0;
                    int made = 0;
                    for (const Step& step : row.steps) {
                        used += uses(step);
                        made += makes(step);
                    }
                    const int left = ahead - used;
                    ahead = behind + made;
                    behind = left;
                },
                kNothing);
        }
    }
}

TEST_CASE("edges and turns: every row reads the same from its two lines of text") {
    for (const Sampler& sampler : edgeSamplers()) {
        INFO(sampler.id);
        for (const Setup& setup : setups(sampler.setup)) {
            workThrough(
                sampler.script, setup,
                [&](const Knitter& k, const WorkedRow& row) {
                    CAPTURE(row.number, setup.mirrored);
                    CHECK(roundTrips(k.fabric()));
                },
                kNothing);
        }
    }
}

TEST_CASE("edges and turns: taken back, each step leaves needle and knot as they were") {
    int n = 0;
    for (const Sampler& sampler : edgeSamplers()) {
        INFO(sampler.id);
        for (const bool mirrored : {false, true}) {
            if (!isSampled(n++ * 3)) continue;
            Setup setup = sampler.setup;
            setup.mirrored = mirrored;
            workThrough(sampler.script, setup, kNothing,
                        [&](Knitter& k, const Step& step, const std::string& before, int ahead) {
                            if (text(k.fabric()) == before && step.op != Op::turn)
                                return;  // a loop left over
                            // What is on a holder stays there, and a fastened end stays fastened.
                            if (step.op == Op::hold || k.fabric()[k.yarn()].flags.ball == 0) return;
                            // The half turn of a half-hitch is spent on the first stitch drawn through it.
                            const std::string needle = before.substr(0, before.find('\n'));
                            if (needle.find_first_of("+-", needle.find("| needle")) != std::string::npos)
                                return;
                            CAPTURE(name(step.op), step.count, mirrored);
                            const Knitter::State state = k.mark();
                            const std::string knot = before.substr(0, before.find('\n'));
                            if (step.op == Op::turn || step.op == Op::wrapTurn) {
                                CHECK_FALSE(k.rowBegun());
                                CHECK(k.tink().error().why == Why::nothingToUndo);
                                REQUIRE(k.backOneRow());
                                CHECK(text(k.fabric()) == before);
                            } else {
                                bool there = false;
                                for (int i = 0; i < 2 * step.count + 4 && !there && k.tink(); ++i) {
                                    // Knitted on to a loop left by a bind-off, that one stays on the left.
                                    const int more = k.aheadCount() - ahead;
                                    there = knotOf(k.fabric()) == knot &&
                                            (more == 0 || (more == 1 && step.op == Op::castOnKnitted));
                                }
                                CHECK(there);
                            }
                            k.rollBack(state);
                        });
        }
    }
}

TEST_CASE("edges and turns: nothing runs that is held or fastened") {
    for (const Sampler& sampler : edgeSamplers()) {
        INFO(sampler.id);
        auto knitting = knitSampler(sampler);
        REQUIRE(knitting);
        const std::string before = text(*knitting->fabric);
        CHECK(letRun(*knitting->fabric) == 0);
        CHECK(text(*knitting->fabric) == before);
    }
}
