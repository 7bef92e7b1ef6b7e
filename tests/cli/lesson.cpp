// SPDX-License-Identifier: MIT
#include <catch2/catch.hpp>
#include <string>

#include "cli/program.h"
#include "course.h"

namespace loopmend {
namespace {

std::string soundText() {
    return lessonText(firstLesson());
}

std::string changed(std::string text, const std::string& from, const std::string& to) {
    const std::size_t at = text.find(from);
    REQUIRE(at != std::string::npos);
    return text.replace(at, from.size(), to);
}

}  // namespace

TEST_CASE("the course is listed, in order, by units") {
    const Bench bench;
    const Ran ran = bench.run({"lesson", "list"});
    CHECK(ran.exit == 0);
    CHECK(ran.err.empty());
    CHECK(contains(ran.out, "Seeing\n  a-stitch-that-ran"));
    const Ran json = bench.run({"lesson", "list", "--json"});
    CHECK(json.exit == 0);
    const auto document = json.json();
    REQUIRE(document["lessons"].size() == wholeCourse().lessons().size());
    CHECK(document["unread"].empty());
    const auto lesson = document["lessons"][1];
    CHECK(lesson["id"] == "vs-and-bumps");
    CHECK(lesson["ok"] == true);
    CHECK(lesson["problems"].empty());
    CHECK(lesson["title"] == "Vs and bumps");
    CHECK(lesson["unit"] == "Seeing");
    CHECK(lesson["skills"][0] == "knit-or-purl");
    CHECK(lesson["swatches"] == 2);
}

TEST_CASE("a course of one's own is listed, and what cannot be read is told") {
    const Bench bench;
    bench.put("a-stitch-that-ran.json", soundText());
    bench.put("other.json", "{");
    bench.put("course.json",
              R"({"format": "loopmend course", "version": 1, "title": "Mine",
                  "units": [{"title": "One", "lessons": ["a-stitch-that-ran", "other", "none"]}]})");
    const Ran ran = bench.run({"lesson", "list", "--course", ".", "--json"});
    CHECK(ran.exit == 1);
    const auto document = ran.json();
    CHECK(document["title"] == "Mine");
    CHECK(document["lessons"].size() == 1);
    REQUIRE(document["unread"].size() == 2);
    CHECK(document["unread"][0]["file"] == "./other.json");
    CHECK(document["unread"][0]["problems"][0]["place"] == "line 1, column 2");
    const Ran words = bench.run({"lesson", "list", "--course", "."});
    CHECK(words.exit == 1);
    CHECK(contains(words.out, "Not read: ./none.json"));
    checkRefused(bench.run({"lesson", "list", "--course", "nowhere"}), 2, {"nowhere/course.json"});
    bench.put("course.json", "[]");
    checkRefused(bench.run({"lesson", "list", "--course", "."}), 2, {"course.json", "line 1"});
}

TEST_CASE("a lesson is checked") {
    const Bench bench;
    bench.put("good.json", soundText());
    bench.put("bad.json", changed(soundText(), "\"row\": 9", "\"row\": 99"));
    bench.put("shape.json", changed(soundText(), "\"row\": 9", "\"row\": \"nine\""));
    bench.put("text.json", changed(soundText(), "\"row\": 9,", "\"row\": 9"));

    const Ran good = bench.run({"lesson", "check", "good.json"});
    CHECK(good.exit == 0);
    CHECK(good.out == "good.json: it can be given.\n");
    CHECK(good.err.empty());
    const Ran fromInput = bench.run({"lesson", "check", "-", "--json"}, soundText());
    CHECK(fromInput.exit == 0);
    CHECK(fromInput.json()["lessons"][0]["id"] == "a-stitch-that-ran");
    CHECK(fromInput.json()["lessons"][0]["ok"] == true);

    const Ran all =
        bench.run({"lesson", "check", "good.json", "bad.json", "shape.json", "text.json", "--json"});
    CHECK(all.exit == 1);
    const auto lessons = all.json()["lessons"];
    REQUIRE(lessons.size() == 4);
    CHECK(lessons[0]["ok"] == true);
    CHECK(lessons[1]["ok"] == false);
    CHECK(lessons[1]["id"] == "a-stitch-that-ran");
    CHECK(lessons[1]["problems"][0]["place"] == "swatches[0].faults[0]");
    CHECK(contains(lessons[1]["problems"][0]["message"].get<std::string>(), "row 99"));
    CHECK(lessons[2]["problems"][0]["place"] == "swatches[0].faults[0].row");
    CHECK(contains(lessons[3]["problems"][0]["place"].get<std::string>(), "line "));
    const Ran words = bench.run({"lesson", "check", "bad.json"});
    CHECK(words.exit == 1);
    CHECK(contains(words.out, "bad.json: one problem.\n    swatches[0].faults[0]: "));
}

TEST_CASE("what is no lesson is refused, and kept as it is") {
    const Bench bench;
    const std::string newer = changed(soundText(), "\"version\": 1", "\"version\": 2");
    bench.put("newer.json", newer);
    bench.put("foreign.json", "{\"name\": \"something else\"}");
    bench.put("good.json", soundText());
    checkRefused(bench.run({"lesson", "check", "good.json", "newer.json"}), 2,
                 {"newer.json", "newer Loopmend"});
    CHECK(bench.bytes("newer.json") == newer);
    checkRefused(bench.run({"lesson", "check", "foreign.json"}), 2, {"foreign.json", "not a lesson"});
    checkRefused(bench.run({"lesson", "check", "none.json"}), 2, {"none.json", "no such file"});
    checkRefused(bench.run({"lesson"}), 2, {"--help"});
    checkRefused(bench.run({"lesson", "frobnicate"}), 2, {"--help"});
    CHECK(bench.run({"lesson", "check", "--help"}).exit == 0);
}

TEST_CASE("a whole course is checked with its order") {
    const Bench bench;
    bench.put("a-stitch-that-ran.json", soundText());
    Lesson late = firstLesson();
    late.id = "late";
    late.needs = {"the-neck"};
    bench.put("late.json", lessonText(late));
    bench.put("course.json", R"({"format": "loopmend course", "version": 1, "title": "Mine",
                                 "units": [{"title": "One", "lessons": ["a-stitch-that-ran", "late"]}]})");
    const Ran ran = bench.run({"lesson", "check", "--course", ".", "--json"});
    CHECK(ran.exit == 1);
    const auto document = ran.json();
    CHECK(document["lessons"].size() == 2);
    CHECK(document["lessons"][1]["ok"] == true);
    REQUIRE(document["course"].size() == 1);
    CHECK(document["course"][0]["place"] == "lessons[1].needs[0]");
    CHECK(contains(bench.run({"lesson", "check", "--course", "."}).out, "The order of the course:\n"));
}

}  // namespace loopmend
