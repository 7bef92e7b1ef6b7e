// SPDX-License-Identifier: MIT
//
// Whatever went wrong, and wherever: taken back to the row before it and worked again by hand, move after move,
// the piece is the faultless one, to the letter of its text.
#include <algorithm>
#include <catch2/catch.hpp>
#include <map>
#include <string>

#include "fabric/itinerary.h"
#include "fault/catalogue.h"
#include "fault/draw.h"
#include "fault/grounds.h"
#include "fault/knit_with.h"
#include "repair/planner.h"
#include "repair/work.h"
#include "sampled.h"

namespace loopmend {

namespace {

struct Tally {
    int tried = 0;
    int mended = 0;
    std::map<std::string, std::string> left;  ///< by mistake: the last place at which it was not mended
};

/// Empty: it is as it was meant.
std::string ripAndWorkAgain(FaultyKnitting k, const Script& script) {
    const std::string meant = knotOf(*k.meant.fabric);
    std::vector<PlannedMove> moves;
    {
        Planner planner(*k.meant.fabric, script, k.actual.knitter, {});
        if (planner.sameKnot()) return "";
        const Planner::Tried rip = planner.tryOut(PlanFamily::rip, planRip);
        if (!rip.made) return rip.plan.reason.empty() ? "no way back" : rip.plan.reason;
        moves = rip.plan.moves;
    }
    Work work(std::move(k.actual));
    for (const PlannedMove& m : moves) {
        const auto done = work.perform(m.move);
        if (!done) return m.words + ": " + sentence(done.error());
    }
    return knotOf(work.fabric()) == meant ? "" : "another piece";
}

/// It begins below every row, or the yarn itself is broken.
bool ripsToNoRow(const Fault& fault) {
    return fault.castsOn != nullptr || fault.family == Family::lengths || fault.id == "broken_yarn";
}

/// Each so-many-th place of each mistake on each ground, the first always; by both hands, and with both ways of
/// going on.
Tally ripEverywhere(int every) {
    Tally tally;
    int i = 0;
    for (int g = 0; g < kAllStockGrounds; ++g) {
        const auto ground = static_cast<StockGround>(g);
        for (const bool round : {false, true}) {
            if (round && !goesRound(ground)) continue;
            const Script script = stockGround(ground, 13, 8, round);
            for (const Fault* fault : catalogue()) {
                if (ripsToNoRow(*fault)) continue;
                Setup setup;
                for (const FaultPlace& place : placesFor(*fault, script, setup)) {
                    if (i++ % every != 0) continue;
                    setup.mirrored = i % 2 == 0;
                    const After after = i % 3 == 0 ? After::byCount : After::byReading;
                    auto k = knitWith(script, setup, {place}, after);
                    if (!k) continue;
                    ++tally.tried;
                    const std::string why = ripAndWorkAgain(std::move(*k), script);
                    if (why.empty()) {
                        ++tally.mended;
                        continue;
                    }
                    tally.left[place.id] = std::string(name(ground)) + (round ? ", round: " : ": ") +
                                           text(place) + " " + std::string(name(after)) + ": " + why;
                }
            }
        }
    }
    return tally;
}

void checkAll(const Tally& tally) {
    for (const auto& [id, where] : tally.left) UNSCOPED_INFO(where);
    CHECK(tally.mended == tally.tried);
}

}  // namespace

TEST_CASE("taken back to the row before and worked again by hand, a piece is the faultless one") {
    const Tally tally = ripEverywhere(kSanitized ? 977 : 113);
    CHECK(tally.tried > (kSanitized ? 20 : 200));
    checkAll(tally);
}

TEST_CASE("taken back and worked again from every place of every mistake on every ground", "[.all]") {
    const Tally tally = ripEverywhere(1);
    WARN(tally.mended << " of " << tally.tried);
    checkAll(tally);
}

}  // namespace loopmend
