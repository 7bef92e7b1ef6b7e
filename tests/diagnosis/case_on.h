// SPDX-License-Identifier: MIT
#pragma once

#include <catch2/catch.hpp>

#include <functional>
#include <initializer_list>
#include <memory>
#include <string>
#include <utility>
#include <vector>

#include "case_answers.h"
#include "diagnosis/case.h"
#include "diagnosis/case_effects.h"
#include "fault/grounds.h"
#include "reading/answer.h"
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

/// What a perfect eye sees of a piece at these looks.
inline std::vector<CaseNote> seenAt(const LookedAt& piece, std::initializer_list<const char*> looks) {
    std::vector<CaseNote> notes;
    for (const char* const words : looks) {
        CaseNote n = note(words, Sighting::What::nothing);
        n.seen = answer(n.look, piece);
        notes.push_back(n);
    }
    return notes;
}

/// Answers what is still asked as `says` has it; every answer is one that can be.
inline void answerRest(Case& c, const std::function<Sighting(const Look&)>& says) {
    CHECK(answerLooks(
              c, [&](const CaseQuestion& q) { return says(q.look); },
              [](const auto& told) { REQUIRE(told); }) == 0);
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
