// SPDX-License-Identifier: MIT
#include "store/table_file.h"

#include <rapidcheck/catch.h>
#include <catch2/catch.hpp>

#include <string>

#include <fmt/format.h>

#include "fabric/itinerary.h"
#include "fault/knit_with.h"
#include "forgetful_disk.h"
#include "pattern/samplers.h"
#include "scratch.h"
#include "store/fabric_file.h"

namespace loopmend {
namespace {

bool contains(const std::string& text, const std::string& part) {
    return text.find(part) != std::string::npos;
}

Script plain(int stitches, int rows) {
    Script script;
    script.castOn = stitches;
    for (int number = 1; number <= rows; ++number) {
        WorkedRow row;
        row.number = row.printed = number;
        row.facing = number % 2 == 1 ? Facing::right : Facing::wrong;
        Step step;
        step.op = number % 2 == 1 ? Op::knit : Op::purl;
        row.steps.assign(static_cast<std::size_t>(stitches), step);
        script.rows.push_back(row);
    }
    return script;
}

Move moveOf(const std::string& line) {
    const auto move = moveFrom(line);
    REQUIRE(move);
    return *move;
}

TableNotes notes() {
    TableNotes notes;
    notes.pattern = "Cast on 8 sts.\nRow 1 (RS): k.\nRow 2: p.\n\\ and so on\r\n";
    notes.castOn = CastOn::backward;
    notes.stitches = 8;
    notes.loopUm = 15001;
    notes.strandUm = 3999;
    notes.rows = 6;
    FaultPlace fault;
    fault.id = "ladder_stockinette";
    fault.row = 3;
    fault.stitch = 4;
    fault.rows = 2;
    notes.faults = {fault, fault};
    notes.faults[1].rows = 0;
    notes.after = After::byCount;
    notes.seed = 18446744073709551615ULL;
    notes.tex = 133.3;
    notes.needleMm = 0.1 + 0.2;  // no short decimal
    notes.color = 4294967295U;
    notes.session = "page 3\nhint find 2\n";
    return notes;
}

/// A stitch let down three rows and half hooked up again, the last move taken back.
Work mending() {
    auto knitting = knit(plain(8, 6));
    REQUIRE(knitting);
    Work work(std::move(*knitting));
    const Fabric& f = work.fabric();
    const LoopId top = f[f[f[f.needle()].first].next].loop;
    const LoopId one = f.hostsRightToLeft(top).front();
    const LoopId two = f.hostsRightToLeft(one).front();
    REQUIRE(work.perform(moveOf("pin " + std::to_string(two.value))));
    REQUIRE(work.perform(moveOf("drop " + std::to_string(top.value))));
    REQUIRE(work.perform(moveOf("let-run " + std::to_string(top.value))));
    REQUIRE(work.perform(moveOf("hook-k rung 1 loop " + std::to_string(two.value))));
    REQUIRE(work.perform(moveOf("turn")));
    REQUIRE(work.undo());
    REQUIRE(work.undo());
    return work;
}

std::string rechecked(std::string text) {
    text.resize(text.rfind("check "));
    return text + fmt::format("check {:016x}\n", hashOf(text));
}

std::string replaced(std::string text, const std::string& what, const std::string& by) {
    const std::size_t at = text.find(what);
    REQUIRE(at != std::string::npos);
    return text.replace(at, what.size(), by);
}

/// The sentence of a refusal; empty if the text is read.
std::string refusal(const std::string& text) {
    const auto file = tableFromText(text, "a.table");
    if (file) return "";
    const std::string& message = file.error().message;
    CHECK(message.rfind("cannot read a.table: ", 0) == 0);
    CHECK(message.find('\n') == std::string::npos);
    CHECK(message.find(';') != std::string::npos);
    return message;
}

}  // namespace

TEST_CASE("the table is taken up again as it was left, undo and redo included") {
    Work work = mending();
    const std::string text = tableText(work, notes());
    INFO(text);
    CHECK(text.rfind("loopmend table 1\n", 0) == 0);
    auto read = tableFromText(text, "a.table");
    REQUIRE(read);
    CHECK(read->notes == notes());
    CHECK(read->work.done() == work.done());
    CHECK(read->work.undone() == work.undone());
    CHECK(read->work.made() == work.made());
    CHECK(itinerary(read->work.fabric()).knot == itinerary(work.fabric()).knot);
    CHECK(itinerary(read->work.fabric()).measure == itinerary(work.fabric()).measure);
    CHECK(read->work.knitter().facing() == work.knitter().facing());
    CHECK(tableText(read->work, read->notes) == text);

    work.redoAll();
    read->work.redoAll();
    CHECK(itinerary(read->work.fabric()).measure == itinerary(work.fabric()).measure);
    CHECK(read->work.knitter().facing() == work.knitter().facing());
    work.undoAll();
    read->work.undoAll();
    CHECK(itinerary(read->work.fabric()).measure == itinerary(work.fabric()).measure);
    CHECK(read->work.undone() == work.undone());
}

TEST_CASE("a table of every knitter, and one with a fault in it, comes back") {
    for (const Habit habit : {Habit::western, Habit::eastern, Habit::combination}) {
        Setup setup;
        setup.habit = habit;
        setup.mirrored = habit == Habit::eastern;
        const Script script = plain(9, 7);
        FaultPlace fault;
        fault.id = "ladder_stockinette";
        fault.row = 4;
        fault.stitch = 5;
        auto faulty = knitWith(script, setup, {fault}, After::byReading);
        REQUIRE(faulty);
        const Work work(std::move(faulty->actual));
        const auto read = tableFromText(tableText(work, {}), "a.table");
        REQUIRE(read);
        CHECK(read->notes == TableNotes{});
        CHECK(read->work.knitter().habit() == habit);
        CHECK(read->work.knitter().mirrored() == setup.mirrored);
        CHECK(itinerary(read->work.fabric()).measure == itinerary(work.fabric()).measure);
    }
}

TEST_CASE("a table of several yarns comes back, and goes on with any of them") {
    int tables = 0;
    for (const Sampler& sampler : colourSamplers()) {
        if (sampler.sew || sampler.script.yarns.size() < 2) continue;
        INFO(sampler.id);
        Script some = sampler.script;
        some.rows.resize(some.rows.size() / 2);
        auto start = knit(some, sampler.setup);
        REQUIRE(start);
        Work work(std::move(*start));
        Move next;
        next.kind = MoveKind::work;
        next.steps = sampler.script.rows[some.rows.size()].steps;
        REQUIRE(work.perform(next));
        auto read = tableFromText(tableText(work, {}), "a.table");
        REQUIRE(read);
        CHECK(itinerary(read->work.fabric()).measure == itinerary(work.fabric()).measure);
        CHECK(read->work.start().stance.balls == work.start().stance.balls);
        CHECK(read->work.start().stance.balls.size() == sampler.script.yarns.size());
        ++tables;
    }
    CHECK(tables > 3);
    const std::string text =
        rechecked(replaced(tableText(mending(), {}), "floats wrong", "balls A0 B7\nfloats wrong"));
    CHECK(refusal(text).find("there is no such yarn to work with") != std::string::npos);
    CHECK_FALSE(refusal(rechecked(replaced(text, "balls A0 B7", "balls A B"))).empty());
}

TEST_CASE("every way of casting on is noted and read") {
    for (const CastOn castOn : {CastOn::longTail, CastOn::backward, CastOn::knitted}) {
        TableNotes kept = notes();
        kept.castOn = castOn;
        const auto read = tableFromText(tableText(mending(), kept), "a.table");
        REQUIRE(read);
        CHECK(read->notes.castOn == castOn);
        Setup setup;
        setup.castOn = castOn;
        const auto knitting = knit(plain(5, 2), setup);
        REQUIRE(knitting);
        FabricNotes of;
        of.castOn = castOn;
        of.stitches = 5;
        const auto again = fabricFromText(fabricText(*knitting->fabric, of), "a.fabric");
        REQUIRE(again);
        CHECK(again->notes.castOn == castOn);
    }
}

TEST_CASE("notes of a newer program are kept, missing ones are ordinary") {
    const std::string text = tableText(mending(), notes());
    const auto read = tableFromText(rechecked(replaced(text, "facing ", "dye lot \\q\nfacing ")), "a.table");
    REQUIRE(read);
    REQUIRE(read->notes.unknown.size() == 1);
    CHECK(contains(tableText(read->work, read->notes), "\ndye lot \\q\n"));
    const auto bare =
        tableFromText(rechecked("loopmend table 1\n" + text.substr(text.find("knot "))), "a.table");
    REQUIRE(bare);
    CHECK(bare->notes == TableNotes{});
    CHECK(bare->work.done().size() == 3);
}

TEST_CASE("what is no table file is refused with its own sentence") {
    const std::string text = tableText(mending(), notes());
    CHECK(contains(refusal(""), "it is empty"));
    CHECK(contains(refusal("Row 1: k to end.\n"), "it is not a file of Loopmend's table"));
    CHECK(contains(refusal("loopmend fabric 1\n"), "it is not a file of Loopmend's table"));
    CHECK(contains(refusal(replaced(text, "table 1", "table 2")), "a newer Loopmend wrote it (format 2"));
    CHECK(contains(refusal(text.substr(0, text.size() / 2)), "it is cut short"));
    CHECK(contains(refusal(replaced(text, "rows 6", "rows 7")), "it is damaged or was changed by hand"));
    CHECK(contains(refusal(text + text), "it is damaged"));
}

TEST_CASE("a line of a table file that makes no sense is named") {
    const std::string text = tableText(mending(), notes());
    const auto with = [&](const std::string& what, const std::string& by) {
        return refusal(rechecked(replaced(text, what, by)));
    };
    const char* const kSenseless = "makes no sense";
    CHECK(contains(with("facing right", "facing up"), "its line \"facing up\" makes no sense"));
    CHECK(contains(with("rows 6", "rows 6\nrows 6"), kSenseless));
    CHECK(contains(with("lengths 15001/3999", "lengths 15001"), kSenseless));
    CHECK(contains(with("cast-on backward 8", "cast-on forward 8"), kSenseless));
    CHECK(contains(with("seed 18446744073709551615", "seed 18446744073709551616"), kSenseless));
    CHECK(contains(with("color 4294967295", "color 4294967296"), kSenseless));
    CHECK(contains(with("tex 133.3", "tex nan"), kSenseless));
    CHECK(contains(with("tex 133.3", "tex 133.30"), kSenseless));
    CHECK(contains(with("tex 133.3", "tex 1e999"), kSenseless));
    CHECK(contains(with("fault ladder_stockinette@3,4,2", "fault ladder_stockinette"), kSenseless));
    CHECK(contains(with("after count", "after all"), kSenseless));
    CHECK(contains(with("did drop", "did dropp"), kSenseless));
    CHECK(contains(with("back turn", "did turn"), kSenseless));
    CHECK(contains(with("back turn", "mirrored yes"), kSenseless));
    CHECK(contains(with("round no\n", "did turn\nround no\n"), kSenseless));
    CHECK(contains(with("measure ", "misses "), "the fabric itself is not in it"));
    CHECK(contains(with("knot yarn A", "knot yarn A 99k"), "it tells of no possible fabric"));
    CHECK(contains(with("yarn 0", "yarn 5"), "it tells of no possible fabric"));
    CHECK(contains(with("did drop", "did unpin"), "its move 2 cannot be done"));
    CHECK(contains(with("back turn", "back rip 50"), "its move 5 cannot be done"));
}

TEST_CASE("a table file cut short anywhere, or with any byte changed, is refused") {
    const std::string text = tableText(mending(), notes());
    for (std::size_t length = 0; length < text.size(); ++length) {
        if (refusal(text.substr(0, length)).empty()) FAIL_CHECK("read when cut after " << length);
        std::string damaged = text;
        for (const int mask : {1, 32, 128, 255}) {
            damaged[length] = static_cast<char>(text[length] ^ mask);
            if (tableFromText(damaged, "a.table")) FAIL_CHECK("read with byte " << length << " changed");
        }
    }
}

TEST_CASE("nonsense in a table file with a check that fits never does harm") {
    // Whatever is read then is a table: it can be written and read again.
    const std::string text = tableText(mending(), notes());
    rc::prop("random bytes in the lines", [&] {
        std::string changed = text;
        const int changes = *rc::gen::inRange(1, 5);
        const std::size_t from = text.find('\n') + 1;
        const std::size_t until = text.rfind("check ");
        for (int i = 0; i < changes; ++i) {
            const auto at = *rc::gen::inRange<std::size_t>(from, until);
            changed[at] = *rc::gen::element('0', '1', '9', 'k', 'p', 'o', '!', '~', '|', '<', '>', ' ', '&',
                                            '@', '^', '-', '+', '.', '/', '\\', '\0', '\xff', '\n');
        }
        const auto read = tableFromText(rechecked(changed), "a.table");
        if (read) {
            const std::string again = tableText(read->work, read->notes);
            const auto twice = tableFromText(again, "a.table");
            RC_ASSERT(twice.has_value());
            RC_ASSERT(tableText(twice->work, twice->notes) == again);
        }
    });
}

TEST_CASE("a kill in the middle of saving the table leaves the old table or the new one") {
    Work work = mending();
    const std::string before = tableText(work, notes());
    work.redoAll();
    const std::string after = tableText(work, notes());
    REQUIRE(before != after);
    bool sawOld = false;
    bool sawNew = false;
    for (int step = 1;; ++step) {
        REQUIRE(step < 20);
        ForgetfulDisk disk(step);
        disk.put("a.table", before);
        (void)writeTable(disk, "a.table", work, notes());
        for (const bool namesKept : {false, true}) {
            const std::string found = disk.after("a.table", namesKept, after.size() / 2);
            CHECK((found == before || found == after));
            CHECK(tableFromText(found, "a.table").has_value());
            sawOld = sawOld || found == before;
            sawNew = sawNew || found == after;
        }
        if (!disk.cut()) break;
    }
    CHECK(sawOld);
    CHECK(sawNew);
}

TEST_CASE("a table is written to a file and read from it") {
    const Scratch scratch;
    MachineDisk disk;
    Work work = mending();
    const std::string path = scratch.path("shawl.table");
    REQUIRE(writeTable(disk, path, work, notes()));
    const auto read = readTable(disk, path);
    REQUIRE(read);
    CHECK(tableText(read->work, read->notes) == tableText(work, notes()));
    CHECK_FALSE(readTable(disk, scratch.path("no.table")));
    CHECK(scratch.names() == std::vector<std::string>{"shawl.table"});
}

}  // namespace loopmend
