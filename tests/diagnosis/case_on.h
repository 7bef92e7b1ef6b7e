// SPDX-License-Identifier: MIT
#pragma once

#include <catch2/catch.hpp>

#include <functional>
#include <memory>
#include <string>
#include <utility>

#include "case_answers.h"
#include "diagnosis/case.h"
#include "diagnosis/case_effects.h"
#include "fault/grounds.h"
#include "sampled.h"

/// Cases on stock grounds, and what she tells of them, for tests.
namespace loopmend {

/// Windows that were knitted for one case do for the next, which saves most of its time.
inline CaseManners usual() {
    static const auto knitted = std::make_shared<CaseEffects>();
    CaseManners manners;
    manners.effects = knitted;
    if (kSanitized) manners.sample = 150;
    return manners;
}

inline Case caseOn(StockGround ground, int stitches, int rows, int toCome = 2) {
    CaseStart start;
    start.rowsDone = rows;
    CaseMeant meant;
    meant.script = stockGround(ground, stitches, rows + toCome);
    meant.rowsDone = rows;
    auto made = Case::begin(start, std::move(meant), usual());
    REQUIRE(made);
    return std::move(*made);
}

inline CaseNote note(const std::string& look, Sighting::What what, int row = 0, int column = 0,
                     OddSign sign = OddSign::none, int by = 0) {
    CaseNote n;
    const auto found = lookFrom(look);
    REQUIRE(found);
    n.look = *found;
    n.seen.what = what;
    n.seen.row = row;
    n.seen.column = column;
    n.seen.oddity = sign;
    n.seen.by = by;
    return n;
}

/// She points at nothing, and answers all that is asked of a look as `says` has it.
inline void answerAll(Case& c, const std::function<Sighting(const Look&)>& says) {
    CaseNote first;
    first.kind = CaseNote::Kind::picture;
    REQUIRE(c.tell(first));
    // What is asked can be written down and taken up again.
    CHECK(answerLooks(c, [&](const CaseQuestion& q) { return says(q.look); }) == 0);
}

}  // namespace loopmend
