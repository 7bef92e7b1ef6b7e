// SPDX-License-Identifier: MIT
#include "fault/place.h"

#include <catch2/catch.hpp>

#include "fault/scenes.h"

namespace loopmend {

TEST_CASE("a place is written as ID@ROW,STITCH, and a run may say how many rows") {
    const auto place = parsePlace("missed_yo@5,7");
    REQUIRE(place);
    CHECK(*place == FaultPlace{"missed_yo", 5, 7, 0});
    CHECK(text(*place) == "missed_yo@5,7");
    const auto run = parsePlace("ladder_rib@4,12,3");
    REQUIRE(run);
    CHECK(*run == FaultPlace{"ladder_rib", 4, 12, 3});
    CHECK(text(*run) == "ladder_rib@4,12,3");
    for (const char* words :
         {"", "missed_yo", "@5,7", "missed_yo@5", "missed_yo@5,", "missed_yo@5,7,1,2", "missed_yo@five,7",
          "missed_yo@5,-7", "missed_yo@5,7 ", "missed_yo@5,1234567"}) {
        INFO(words);
        const auto wrong = parsePlace(words);
        REQUIRE_FALSE(wrong);
        CHECK(wrong.error().what == FaultProblem::What::badWords);
        CHECK(wrong.error().message.find(words) != std::string::npos);
        CHECK(wrong.error().message.find("ID@ROW,STITCH") != std::string::npos);
    }
}

TEST_CASE("how she goes on has a word each") {
    for (const After after : kAllAfters) CHECK(afterFrom(name(after)) == after);
    CHECK(name(After::rowEnd) == "row-end");
    CHECK_FALSE(afterFrom("blindly"));
}

TEST_CASE("stitches are counted as they lie on the right needle, with those bound off") {
    Step bind;
    bind.op = Op::bindOff;
    bind.count = 3;
    Step twice;
    twice.op = Op::yarnOver;
    twice.count = 2;
    WorkedRow row = rowOf(1, Facing::right, steps({{2, Op::knit}, {1, Op::k2tog}}));
    row.steps.push_back(twice);
    row.steps.push_back(bind);
    row.steps.push_back(steps({{1, Op::kfb}})[0]);
    CHECK(stitchesIn(row) == 2 + 1 + 2 + 3 + 2);
    CHECK(stepOfStitch(row, 3) == 2);
    CHECK(stepOfStitch(row, 4) == 3);
    CHECK(stepOfStitch(row, 5) == 3);
    CHECK(stepOfStitch(row, 8) == 4);
    CHECK(stepOfStitch(row, 9) == 5);
    CHECK(stepOfStitch(row, 10) == 5);
    CHECK_FALSE(stepOfStitch(row, 0));
    CHECK_FALSE(stepOfStitch(row, 11));
    for (int i = 0; i < static_cast<int>(row.steps.size()); ++i)
        CHECK(stepOfStitch(row, stitchOfStep(row, i)) == i);
}

TEST_CASE("what cannot be put in says what, where and why") {
    const Script lace = stockGround(StockGround::eyelets, 11, 6);
    struct Wrong {
        FaultPlace place;
        FaultProblem::What what;
        const char* says;
    };
    for (const Wrong& wrong : std::vector<Wrong>{
             {{"missed_yoo", 1, 3, 0}, FaultProblem::What::unknownFault, "missed_yo"},
             {{"missed_yo", 0, 3, 0}, FaultProblem::What::noSuchRow, "rows 1 to 6"},
             {{"missed_yo", 7, 3, 0}, FaultProblem::What::noSuchRow, "rows 1 to 6"},
             {{"missed_yo", 1, 0, 0}, FaultProblem::What::noSuchStitch, "stitches 1 to 11"},
             {{"missed_yo", 1, 12, 0}, FaultProblem::What::noSuchStitch, "stitches 1 to 11"},
             {{"missed_yo", 1, 1, 0}, FaultProblem::What::cannotStand, "\"k\""},
             {{"ladder_rib", 3, 5, 0}, FaultProblem::What::cannotStand, "another kind"},
             {{"ladder_lace", 5, 3, 3}, FaultProblem::What::noSuchRow, "6 rows"},
             {{"knit_below", 1, 1, 0}, FaultProblem::What::cannotStand, "stitch 1 of row 1"}}) {
        const auto knitting = knitWith(lace, {}, {wrong.place}, After::byCount);
        INFO(text(wrong.place));
        REQUIRE_FALSE(knitting);
        CHECK(knitting.error().what == wrong.what);
        INFO(knitting.error().message);
        CHECK(knitting.error().message.find(wrong.says) != std::string::npos);
        CHECK(knitting.error().message.find(wrong.place.id) != std::string::npos);
    }
    Script broken = lace;
    broken.rows[3].steps.pop_back();
    const auto knitting = knitWith(broken, {}, {{"missed_yo", 1, 3, 0}}, After::byReading);
    REQUIRE_FALSE(knitting);
    CHECK(knitting.error().what == FaultProblem::What::patternStops);
    CHECK(knitting.error().message.find("row 4") != std::string::npos);
}

TEST_CASE("two mistakes cannot stand on the same stitches") {
    const Script plain = stockGround(StockGround::stockinette, 8, 4);
    const auto both = knitWith(plain, {}, {{"wrong_kp", 2, 3, 0}, {"twist_tbl", 2, 3, 0}}, After::byCount);
    REQUIRE_FALSE(both);
    CHECK(both.error().message.find("another mistake") != std::string::npos);
    CHECK(knitWith(plain, {}, {{"wrong_kp", 2, 3, 0}, {"twist_tbl", 2, 4, 0}}, After::byCount));
    // A strand before a stitch leaves the stitch itself to be worked.
    CHECK(knitWith(plain, {}, {{"accidental_yo", 2, 3, 0}, {"wrong_kp", 2, 3, 0}}, After::byCount));
}

}  // namespace loopmend
