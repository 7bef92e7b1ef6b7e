// SPDX-License-Identifier: MIT
// What the case says of what it believes: what it is not, and what does not go with it.
#include <catch2/catch.hpp>

#include <string>
#include <utility>
#include <vector>

#include "diagnosis/case.h"
#include "diagnosis/case_on.h"
#include "fault/catalogue.h"
#include "sampled.h"

using namespace loopmend;

namespace {
using What = Sighting::What;
}

TEST_CASE("what it may be taken for is told apart by its own sign, or by what it would show") {
    Case c = caseOn(StockGround::eyelets, 16, 14);
    REQUIRE(c.tell(note("search:row=5-8,column=6-12", What::place, 7, 9, OddSign::noHole)));
    int byWhatItShows = 0;
    for (const CaseExplanation& e : c.explanations()) {
        const Fault* other = nullptr;
        for (const std::string& id : e.taken) other = other == nullptr ? findFault(id) : other;
        if (other == nullptr) continue;
        INFO(e.id << ": " << e.notThis);
        CHECK(e.notThis.find(name(*other, Terms::us)) != std::string::npos);
        CHECK(e.notThis.find("..") == std::string::npos);
        if (!other->sign.empty()) CHECK(e.notThis.find("That one: ") != std::string::npos);
        byWhatItShows += other->sign.empty() && (e.notThis.find("That one would show") != std::string::npos ||
                                                 e.notThis.find("With that one") != std::string::npos)
                             ? 1
                             : 0;
    }
    CHECK(byWhatItShows > 0);
}

TEST_CASE("what contradicts the rest is named") {
    Case c = caseOn(StockGround::stockinette, 20, 12);
    REQUIRE(c.tell(
        std::vector<CaseNote>{note("close:row=6,column=9", What::sign, 0, 0, OddSign::bump),
                              note("search:row=4-8,column=5-14", What::place, 6, 9, OddSign::bump),
                              note("close:row=6,column=9,side=ws", What::sign, 0, 0, OddSign::v),
                              note("count:row=12,column=1-20", What::number, 0, 0, OddSign::none, -2)}));
    const CaseSettled s = c.settled();
    CHECK(s.leastCredible == 3);
    CHECK_FALSE(s.contradiction.empty());
}

TEST_CASE("where she points goes with what is found there, and not with what is found elsewhere") {
    const auto pointing = [](Case c, CasePicture picture, int row, int column) {
        CaseNote n;
        n.kind = CaseNote::Kind::picture;
        n.picture = picture;
        n.row = row;
        n.column = column;
        REQUIRE(c.tell(
            std::vector<CaseNote>{n, note("search:row=4-8,column=5-14", What::place, 6, 9, OddSign::bump),
                                  note("close:row=6,column=9", What::sign, 0, 0, OddSign::bump),
                                  note("close:row=6,column=9,side=ws", What::sign, 0, 0, OddSign::v)}));
        return c.settled();
    };
    for (const CasePicture picture : {CasePicture::bump, CasePicture::something}) {
        const CaseSettled there = pointing(caseOn(StockGround::stockinette, 20, 12), picture, 7, 8);
        CHECK((there.leastCredible == -1 && !there.second));
    }
    if (kSanitized) return;
    CHECK(pointing(caseOn(StockGround::stockinette, 40, 15), CasePicture::bump, 14, 30).leastCredible == 0);
}

TEST_CASE("a place in a row that is odd all along is one of many: any of them goes with it") {
    constexpr int kWide = kSanitized ? 60 : 90;
    Case c = caseOn(StockGround::stockinette, kWide, 12);
    constexpr int kFar = kWide - 12;
    REQUIRE(c.tell(std::vector<CaseNote>{
        note("search:row=6-7,column=3-30", What::place, 6, 9, OddSign::bump),
        note("close:row=6,column=9", What::sign, 0, 0, OddSign::bump),
        note("search:row=6,column=1-" + std::to_string(kWide), What::place, 6, kFar, OddSign::bump),
        note("close:row=6,column=" + std::to_string(kFar), What::sign, 0, 0, OddSign::bump),
        note("close:row=6,column=" + std::to_string(kWide / 2), What::sign, 0, 0, OddSign::bump)}));
    const CaseSettled s = c.settled();
    REQUIRE(s.explanation);
    INFO(s.explanation->words << " " << s.contradiction);
    const Fault* const f = findFault(s.explanation->id);
    REQUIRE(f != nullptr);
    CHECK(f->wholeRow);
    CHECK(s.leastCredible == -1);
    CHECK_FALSE(s.second);
}
