// SPDX-License-Identifier: MIT
#include <catch2/catch.hpp>

#include <string>

#include "cli/program.h"

namespace loopmend {
namespace {

const std::string kCase = R"({
  "pattern": "Cast on 18 sts.\nRow 1: k.\nRow 2: p.\n",
  "stitches": 18,
  "rows_done": 12,
  "noticed": [
    { "kind": "looks", "row": 9, "stitch": 4, "seen": "bump", "sure": 0.9 },
    { "kind": "look", "look": "search:row=8-10,column=1-9", "what": "place", "seen": "bump", "row": 9, "column": 4 },
    { "kind": "look", "look": "close:row=9,column=4,side=ws", "what": "sign", "seen": "v" },
    { "kind": "fine", "row_from": 1, "row_to": 6 }
  ]
}
)";

}  // namespace

TEST_CASE("case explains what a knitter noticed, and asks for the next look") {
    const Bench bench;
    bench.put("scarf.case", kCase);
    const Ran ran = bench.run({"case", "scarf.case", "--json"});
    INFO(ran.err << ran.out);
    REQUIRE(ran.exit == 0);
    const auto document = ran.json();
    REQUIRE_FALSE(document["explanations"].empty());
    const auto& best = document["explanations"][0];
    for (const char* key : {"faults", "probability", "words", "same_fabric_as"}) CHECK(best.contains(key));
    CHECK(best["faults"][0]["id"] == "wrong_kp");
    CHECK(best["faults"][0]["row"] == 9);
    CHECK(best["faults"][0]["column"] == 4);
    CHECK(document.contains("settled"));
    CHECK(document.contains("next_look"));
    if (!document["next_look"].is_null()) {
        for (const char* key :
             {"kind", "row", "stitch_from", "stitch_to", "words", "expected_bits", "seconds"})
            CHECK(document["next_look"].contains(key));
    }
    const Ran told = bench.run({"case", "scarf.case"});
    CHECK(told.exit == 0);
    CHECK(told.out.find("row 9") != std::string::npos);
}

TEST_CASE("case names bad input with its line") {
    const Bench bench;
    const auto refused = [&](const std::string& from, const std::string& to) {
        std::string text = kCase;
        text.replace(text.find(from), from.size(), to);
        bench.put("bad.case", text);
        const Ran ran = bench.run({"case", "bad.case"});
        CHECK(ran.exit == 2);
        return ran.err;
    };
    CHECK(refused("\"row\": 9, \"stitch\": 4", "\"row\": 19, \"stitch\": 4").find("line 6") !=
          std::string::npos);
    CHECK(refused("\"stitch\": 4", "\"stitch\": 44").find("line 6") != std::string::npos);
    CHECK(refused("close:row", "peek:row").find("line 8") != std::string::npos);
    CHECK(refused("Row 1: k.", "Row 1: *k5, p2; rep from * to end.").find("line 2") != std::string::npos);
    CHECK_FALSE(refused("\"noticed\": [", "\"noticed\": ").empty());
    CHECK(bench.run({"case"}).exit == 2);
    CHECK(bench.run({"case", "none.case"}).exit == 2);
}

TEST_CASE("case asks question by question and keeps the answers") {
    const Bench bench;
    const std::string answers = "1\n5\n?\n1\nb\nnonsense\n999\nq\n";
    const Ran ran =
        bench.run({"case", "--ask", "plain", "--rows", "10", "--stitches", "16", "-o", "kept.case"}, answers);
    INFO(ran.err << ran.out);
    CHECK(ran.exit == 0);
    CHECK(ran.out.find("don't pull") != std::string::npos);
    CHECK(ran.out.find("I can't tell") != std::string::npos);
    const Ran again = bench.run({"case", "kept.case", "--json"});
    INFO(again.err);
    CHECK(again.exit == 0);
    CHECK(bench.run({"case", "--ask", "plain", "--rows", "0"}).exit == 2);
    const Ran noRows = bench.run({"case", "--ask", "plain"});
    CHECK(noRows.exit == 2);
    CHECK(noRows.err.find("--rows 24") != std::string::npos);
}

TEST_CASE("case takes up what it was asked before, and goes on in that file") {
    const Bench bench;
    const std::string hers =
        "{\"ground\": \"plain\", \"stitches\": 16, \"rows_done\": 10,\n"
        " \"noticed\": [{\"kind\": \"safe\"}, {\"kind\": \"picture\", \"picture\": \"nothing\"}]}";
    bench.put("hers.case", hers);
    // She only looks at the question: her own words stay as they are.
    const Ran looked = bench.run({"case", "--ask", "hers.case"}, "q\n");
    INFO(looked.err << looked.out);
    CHECK(looked.exit == 0);
    CHECK(looked.out.find("don't pull") == std::string::npos);
    CHECK(bench.bytes("hers.case") == hers);
    const Ran on = bench.run({"case", "--ask", "hers.case"}, "?\nq\n");
    CHECK(on.exit == 0);
    CHECK(on.out.find("Kept in hers.case") != std::string::npos);
    CHECK(bench.bytes("hers.case").find("\"told\": false") != std::string::npos);
    const Ran both = bench.run({"case", "--ask", "hers.case", "--rows", "12"});
    CHECK(both.exit == 2);
    CHECK(both.err.find("leave out --rows") != std::string::npos);
    bench.put("bad.case", "{\"ground\": \"plain\",\n \"rows_done\": many}");
    const Ran bad = bench.run({"case", "--ask", "bad.case"}, "q\n");
    CHECK(bad.exit == 2);
    CHECK(bad.err.find("line 2") != std::string::npos);
}

}  // namespace loopmend
