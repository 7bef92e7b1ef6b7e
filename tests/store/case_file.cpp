// SPDX-License-Identifier: MIT
#include <catch2/catch.hpp>

#include <string>
#include <vector>

#include "diagnosis/case_on.h"
#include "store/case_file.h"

using namespace loopmend;

namespace {

const std::string kByHand = R"({
  "pattern": "Cast on 18 sts.\nRow 1: k.\nRow 2: p.\n",
  "stitches": 18,
  "rows_done": 12,
  "facing": "rs",
  "noticed": [
    { "kind": "count", "row": 12, "stitches": 17, "sure": 0.95 },
    { "kind": "row-does-not-fit", "row": 13, "by": -1 },
    { "kind": "looks", "row": 9, "stitch": 4, "seen": "bump" },
    { "kind": "fine", "row_from": 1, "row_to": 4 },
    { "kind": "picture", "picture": "hole", "row": 9, "column": 4 },
    { "kind": "came-out", "by": -1 },
    { "kind": "safe" },
    { "kind": "look", "look": "search:row=3-6,column=2-9", "what": "place", "seen": "hole", "row": 4, "column": 5 }
  ]
}
)";

std::string changed(const std::string& from, const std::string& to) {
    std::string text = kByHand;
    const std::size_t at = text.find(from);
    REQUIRE(at != std::string::npos);
    return text.replace(at, from.size(), to);
}

std::string refusal(const std::string& text) {
    const auto file = caseFromText(text, "scarf.case");
    if (!file) return file.error().message;
    const auto made = caseFrom(*file, "scarf.case", usual());
    return made ? "" : made.error().message;
}

}  // namespace

TEST_CASE("a case written by hand is taken up") {
    const auto file = caseFromText(kByHand, "scarf.case");
    REQUIRE(file);
    CHECK(file->start.rowsDone == 12);
    REQUIRE(file->notes.size() == 8);
    CHECK(file->notes[0].look.way == LookWay::countSpan);
    CHECK(file->notes[0].seen.by == -1);
    CHECK(file->notes[0].sure == Approx(0.95));
    CHECK(file->notes[0].line == 7);
    CHECK(file->notes[1].look.way == LookWay::rowFits);
    CHECK(file->notes[2].look.way == LookWay::closeLook);
    CHECK(file->notes[2].look.columnFrom == 4);  // row 9 goes from right to left
    CHECK(file->notes[7].seen.row == 4);
    CHECK(caseFrom(*file, "scarf.case", usual()));
}

TEST_CASE("a case comes back as it was kept") {
    const auto file = caseFromText(kByHand, "scarf.case");
    REQUIRE(file);
    std::vector<CaseNote> notes = file->notes;
    notes.push_back(notes.back());
    notes.back().look = *lookFrom("glance:side=ws");
    notes.back().told = false;
    const std::string text = caseText(file->start, notes);
    const auto again = caseFromText(text, "kept.case");
    REQUIRE(again);
    CHECK(again->start.pattern == file->start.pattern);
    CHECK(again->start.stitches == 18);
    REQUIRE(again->notes.size() == notes.size());
    for (std::size_t i = 0; i + 1 < notes.size(); ++i) CHECK(again->notes[i] == notes[i]);
    CHECK_FALSE(again->notes.back().told);
    CHECK(caseText(again->start, again->notes) == text);
}

TEST_CASE("bad input of a case is named, with its line") {
    CHECK(refusal(kByHand).empty());
    // A row past the end, a stitch outside the row, an unknown look.
    CHECK(refusal(changed("\"row\": 12, \"stitches\"", "\"row\": 30, \"stitches\"")).find("line 7") !=
          std::string::npos);
    CHECK(refusal(changed("\"stitch\": 4, \"seen\"", "\"stitch\": 40, \"seen\"")).find("line 9") !=
          std::string::npos);
    CHECK(refusal(changed("search:row", "sniff:row")).find("line 14") != std::string::npos);
    CHECK(refusal(changed("\"kind\": \"fine\"", "\"kind\": \"fime\"")).find("line 10") != std::string::npos);
    CHECK(refusal(changed("\"row\": 4, \"column\": 5", "\"row\": 11, \"column\": 5")).find("line 14") !=
          std::string::npos);
    // It contradicts its own pattern.
    CHECK(refusal(changed("Row 1: k.", "Row 1: *k5, p5; rep from * to end.")).find("line 2") !=
          std::string::npos);
    // Damaged, foreign, newer.
    CHECK_FALSE(refusal(kByHand.substr(0, kByHand.size() / 2)).empty());
    CHECK_FALSE(refusal("loopmend fabric 1\n").empty());
    CHECK_FALSE(refusal(changed("{", "{ \"format\": \"loopmend lesson\",")).empty());
    CHECK_FALSE(refusal(changed("{", "{ \"format\": \"loopmend case\", \"version\": 2,")).empty());
}

TEST_CASE("weights of mistakes are read from a file and written to one") {
    const auto priors =
        priorsFromText("# a club of lace knitters\nmissed_yo 20\n\nnot-in-list 0.5\n", "club.txt");
    REQUIRE(priors);
    CHECK(priors->at("missed_yo") == 20);
    CHECK(priorsFromText(priorsText(*priors), "club.txt").value() == *priors);
    for (const char* bad : {"missed_yo\n", "\n\nmissed_jo 3\n", "missed_yo -1\n", "missed_yo much\n"}) {
        const auto refused = priorsFromText(bad, "club.txt");
        REQUIRE_FALSE(refused);
        CHECK(refused.error().message.find("line") != std::string::npos);
    }
}
