// SPDX-License-Identifier: MIT
#include "reading/symptoms.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <set>
#include <string_view>

#include "fabric/hands.h"
#include "pattern/samplers.h"
#include "reading/scripts.h"

namespace loopmend {
namespace {

std::vector<Symptom> seen(const Fabric& fabric, Side side = Side::right) {
    const Fabric again = reloaded(fabric);
    return symptoms(again, readFrom(again, side));
}

std::vector<Symptom> seen(int castOn, const std::vector<std::string>& rows, Side side = Side::right) {
    const auto knitting = knit(scriptFrom(castOn, rows));
    INFO((knitting ? std::string() : sentence(knitting.error())));
    REQUIRE(knitting);
    return seen(*knitting->fabric, side);
}

void isOnly(const std::vector<Symptom>& all, SymptomKind kind, int row, int stitch) {
    REQUIRE(all.size() == 1);
    INFO(all[0].words);
    CHECK(all[0].kind == kind);
    CHECK(all[0].row == row);
    CHECK(all[0].stitch == stitch);
    CHECK_FALSE(all[0].words.empty());
}

}  // namespace

TEST_CASE("nothing stands out in faultless grounds") {
    for (const Side side : {Side::right, Side::wrong}) {
        CHECK(seen(8, {"k8", "p8", "k8", "p8", "k8", "p8"}, side).empty());
        CHECK(seen(8, std::vector<std::string>(6, "k8"), side).empty());
        CHECK(seen(8, std::vector<std::string>(6, "k2 p2 k2 p2"), side).empty());
        CHECK(seen(9, {"k p k p k p k p k", "k p k p k p k p k", "k p k p k p k p k", "k p k p k p k p k"},
                   side)
                  .empty());
        CHECK(
            seen(13, {"k2 yo s2kp yo k3 yo s2kp yo k2", "p13", "k2 yo s2kp yo k3 yo s2kp yo k2", "p13"}, side)
                .empty());
        CHECK(seen(8, {"sl k7", "sl p7", "sl k7", "sl p7", "sl k7", "sl p7"}, side).empty());
    }
}

TEST_CASE("what stands out is named and placed") {
    isOnly(seen(8, {"k8", "p8", "k3 p k4", "p8", "k8"}), SymptomKind::loneBump, 3, 4);
    isOnly(seen(8, {"k8", "p8", "k3 p k4", "p8", "k8"}, Side::wrong), SymptomKind::loneV, 3, 4);
    isOnly(seen(8, {"k8", "p8", "k3 ktbl k4", "p8", "k8"}), SymptomKind::crossedFeet, 3, 4);
    isOnly(seen(8, {"k8", "p8", "k3 yo k5", "p9", "k9"}), SymptomKind::loneHole, 3, 4);
    isOnly(seen(8, {"k8", "p8", "k3 k2tog k3", "p7", "k7"}), SymptomKind::loneJoin, 3, 4);
    isOnly(seen(8, {"k8", "p8", "k3 kfb k4", "p9", "k9"}), SymptomKind::extraColumn, 3, 5);
    isOnly(seen(8, {"k8", "p8", "k3 m1l k5", "p9", "k9"}), SymptomKind::extraColumn, 3, 4);
    isOnly(seen(8, {"k8", "p8", "k3 sl k4", "p8", "k8"}), SymptomKind::tallStitch, 2, 5);
    isOnly(seen(8, {"k8", "p8", "k3 kb k4", "p8", "k8"}), SymptomKind::tallStitch, 3, 4);
}

TEST_CASE("loose stitches, ladders, big loops at the edge") {
    const auto run = [](std::size_t stitch, int rows) {
        auto knitting = knit(scriptFrom(8, {"k8", "p8", "k8", "p8", "k8", "p8"}));
        REQUIRE(knitting);
        Knitter& k = knitting->knitter;
        const LoopId live = k.ahead()[stitch];
        REQUIRE(k.drop(live));
        if (rows > 0) REQUIRE(letRunFrom(*knitting->fabric, live, rows) == rows);
        return seen(*knitting->fabric);
    };
    isOnly(run(3, 0), SymptomKind::freeLoop, 6, 5);
    isOnly(run(3, 3), SymptomKind::ladder, 3, 4);
    CHECK(run(3, 3)[0].words == "a stitch stands free under a ladder of 3 rungs");
    isOnly(run(0, 4), SymptomKind::edgeLoop, 2, 8);
}

TEST_CASE("a stitch left behind under short rungs") {
    auto knitting = knit(scriptFrom(8, {"k8", "p8"}));
    REQUIRE(knitting);
    Knitter& k = knitting->knitter;
    REQUIRE(k.drop(k.ahead()[3]));
    for (int r = 0; r < 2; ++r) {
        while (k.aheadCount() > 0) REQUIRE((r % 2 == 0 ? k.knit() : k.purl()));
        k.turn();
    }
    const auto all = seen(*knitting->fabric);
    isOnly(all, SymptomKind::ladder, 2, 5);
    CHECK(all[0].words == "a stitch stands free under a ladder of 2 short rungs");
}

TEST_CASE("a turn in mid-row and a line that jumps") {
    auto knitting = knit(scriptFrom(8, {"k8", "p8"}));
    REQUIRE(knitting);
    Knitter& k = knitting->knitter;
    for (int i = 0; i < 4; ++i) REQUIRE(k.knit());
    k.turn();
    for (int i = 0; i < 4; ++i) REQUIRE(k.purl());
    k.turn();
    while (k.aheadCount() > 0) REQUIRE(k.knit());
    const auto all = seen(*knitting->fabric);
    REQUIRE_FALSE(all.empty());
    CHECK(all[0].kind == SymptomKind::turned);
    CHECK(all[0].row == 4);

    const std::string lace = "k2 yo s2kp yo k3 yo s2kp yo k2";
    const auto jump = seen(13, {lace, "p13", lace, "p13", "k2 yo s2kp k3 yo s2kp yo k2", "p12",
                                "k2 yo s2kp yo k3 yo s2kp yo k", "p12"});
    bool breaks = false;
    for (const Symptom& s : jump) breaks = breaks || (s.kind == SymptomKind::lineBreaks && s.row == 7);
    CHECK(breaks);
}

TEST_CASE("from which side it shows") {
    const auto one = [](const std::vector<std::string>& rows, Side side) {
        const auto all = seen(8, rows, side);
        REQUIRE(all.size() == 1);
        return all[0].seenFrom;
    };
    CHECK(one({"k8", "p8", "k3 ktbl k4", "p8", "k8"}, Side::right) == SeenFrom::right);
    CHECK(one({"p8", "k8", "p3 ptbl p4", "k8", "p8"}, Side::wrong) == SeenFrom::wrong);
    CHECK(one({"k8", "p8", "k3 p k4", "p8", "k8"}, Side::right) == SeenFrom::both);
    CHECK(one({"k8", "p8", "k3 yo k5", "p9", "k9"}, Side::wrong) == SeenFrom::both);
}

TEST_CASE("a needle pulled out, a ridge, a thick join, an open make-one, a tall edge stitch") {
    const auto has = [](const std::vector<Symptom>& all, SymptomKind kind) {
        return std::any_of(all.begin(), all.end(), [&](const Symptom& s) { return s.kind == kind; });
    };
    auto knitting = knit(scriptFrom(8, {"k8", "p8"}));
    REQUIRE(knitting);
    Knitter& k = knitting->knitter;
    for (int i = 0; i < 4; ++i) REQUIRE(k.drop(k.ahead()[0]));
    const auto open = seen(*knitting->fabric);
    CHECK(has(open, SymptomKind::openRow));

    std::vector<std::string> rows;
    for (int r = 0; r < 12; ++r) rows.emplace_back(r % 2 == 0 ? "k8" : "p8");
    rows[5] = "k8";
    const auto ridge = seen(8, rows);
    isOnly(ridge, SymptomKind::ridge, 6, 0);
    CHECK_FALSE(has(seen(8, rows, Side::wrong), SymptomKind::ridge));

    CHECK(has(seen(20, {"k20", "p20", "k2 k2tog yo k3 k2tog yo k3 k3tog yo k5", "p19", "k19"}),
              SymptomKind::thickJoin));
    CHECK(
        has(seen(20, {"k20", "p20", "k2 m1l k4 m1l k4 m1o k4 m1l k6", "p24", "k24"}), SymptomKind::openMade));
    CHECK(has(seen(8, {"k8", "p8", "sl k7", "p8", "k8", "p8", "k8", "p8"}), SymptomKind::tallEdge));
    CHECK_FALSE(has(seen(8, {"sl k7", "p8", "sl k7", "p8", "sl k7", "p8"}), SymptomKind::tallEdge));
}

TEST_CASE("a double decrease of another stack in a spine") {
    const std::string lace = "k2 yo s2kp yo k3 yo s2kp yo k2";
    const auto all = seen(
        13, {lace, "p13", lace, "p13", "k2 yo sk2p yo k3 yo s2kp yo k2", "p13", lace, "p13", lace, "p13"});
    bool found = false;
    for (const Symptom& s : all)
        found = found || (s.kind == SymptomKind::wrongStack && s.row == 5 && s.seenFrom == SeenFrom::right);
    CHECK(found);
}

// A piece that shows an operation shows nothing else: no turns where none are, no wraps left, no slits.
TEST_CASE("faultless samplers of edges and turns stand out by what they show") {
    for (const Sampler& sampler : samplers()) {
        const auto knitting = knitSampler(sampler);
        if (!knitting) continue;
        const bool turns =
            std::any_of(sampler.script.rows.begin(), sampler.script.rows.end(), [](const WorkedRow& r) {
                return std::any_of(r.steps.begin(), r.steps.end(), [](const Step& s) {
                    return s.op == Op::turn || s.op == Op::wrapTurn || s.op == Op::doubled;
                });
            });
        for (const Side side : {Side::right, Side::wrong}) {
            for (const Symptom& s : seen(*knitting->fabric, side)) {
                INFO(sampler.id << ": " << s.words);
                CHECK((s.kind != SymptomKind::turned || turns));
                CHECK((s.kind != SymptomKind::wrapLeft || sampler.id.find("wrap-left") != std::string::npos));
                CHECK((s.kind != SymptomKind::slit || sampler.id.find("slit") != std::string::npos ||
                       sampler.id.find("unlinked") != std::string::npos));
                CHECK(
                    (s.kind != SymptomKind::twistedRound || sampler.id.find("twisted") != std::string::npos));
                CHECK((s.kind != SymptomKind::pickedUpRidge || sampler.id.find("ws") != std::string::npos));
                CHECK(s.kind != SymptomKind::lineBreaks);
                CHECK(s.kind != SymptomKind::wrongHand);
                CHECK(s.kind != SymptomKind::wrongStack);
                CHECK(s.kind != SymptomKind::band);
                CHECK(s.kind != SymptomKind::freeLoop);
                CHECK(s.kind != SymptomKind::ladder);
            }
        }
        if (sampler.id == "short-row" || sampler.id == "short-row-wrap-left") {
            bool told = false;
            for (const Symptom& s : seen(*knitting->fabric)) told = told || s.kind == SymptomKind::turned;
            INFO(sampler.id);
            CHECK(told);
        }
    }
}

namespace {

/// Rows of words in two yarns; `b` before a word: with the second yarn, `&` before it: led round the other
/// first.
std::vector<Symptom> seenInColors(int castOn, const std::vector<std::string>& rows, Side side = Side::right) {
    Script script = scriptFrom(castOn, std::vector<std::string>(rows.size(), "k"));
    script.yarns = "AB";
    for (std::size_t r = 0; r < rows.size(); ++r) {
        std::vector<Step>& all = script.rows[r].steps;
        all.clear();
        for (std::size_t i = 0; i < rows[r].size();) {
            const std::size_t end = std::min(rows[r].find(' ', i), rows[r].size());
            std::string word = rows[r].substr(i, end - i);
            i = end + 1;
            const bool link = word[0] == '&';
            if (link) word.erase(0, 1);
            const bool second = word[0] == 'b';
            if (second) word.erase(0, 1);
            const std::size_t first = all.size();
            for (Step step : steps(word)) {
                step.yarn = second ? 1 : 0;
                all.push_back(step);
            }
            all[first].link = link;
        }
    }
    const auto knitting = knit(script);
    INFO((knitting ? std::string() : sentence(knitting.error())));
    REQUIRE(knitting);
    return seen(*knitting->fabric, side);
}

}  // namespace

// Common practice: where yarns are not crossed at the change of two blocks, an upright slit opens.
TEST_CASE("blocks of color with and without a link, one stitch of another color") {
    std::vector<std::string> open;
    std::vector<std::string> linked;
    std::vector<std::string> stranded;
    std::vector<std::string> stripes;
    for (int r = 0; r < 10; ++r) {
        const bool right = r % 2 == 0;
        open.emplace_back(right ? "k5 bk5" : "bp5 p5");
        linked.emplace_back(right ? "k5 &bk5" : "bp5 &p5");
        stranded.emplace_back(right ? "k bk k bk k bk k bk k bk" : "p bp p bp p bp p bp p bp");
        stripes.emplace_back(r % 4 < 2 ? (right ? "k10" : "p10") : (right ? "bk10" : "bp10"));
    }
    for (const Side side : {Side::right, Side::wrong}) {
        const auto slit = seenInColors(10, open, side);
        REQUIRE(slit.size() == 1);
        CHECK(slit[0].kind == SymptomKind::slit);
        CHECK(slit[0].column == 5);
        CHECK(seenInColors(10, linked, side).empty());
        CHECK(seenInColors(10, stranded, side).empty());
        CHECK(seenInColors(10, stripes, side).empty());
        std::vector<std::string> stray = linked;
        stray[4] = "k6 &bk4";
        const auto broken = seenInColors(10, stray, side);
        REQUIRE_FALSE(broken.empty());
        CHECK(broken[0].kind == SymptomKind::lineBreaks);
        CHECK(broken[0].row == 5);
        isOnly(seenInColors(10, {"k10", "p10", "k4 bk k5", "p10", "k10", "p10"}, side),
               SymptomKind::loneColor, 3, 5);
    }
}

TEST_CASE("every kind of symptom has a name of its own") {
    std::set<std::string_view> names;
    for (int k = 0; k < kSymptomKinds; ++k) {
        CHECK_FALSE(name(static_cast<SymptomKind>(k)).empty());
        names.insert(name(static_cast<SymptomKind>(k)));
    }
    CHECK(names.size() == static_cast<std::size_t>(kSymptomKinds));
}

}  // namespace loopmend
