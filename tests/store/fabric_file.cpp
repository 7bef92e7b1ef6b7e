// SPDX-License-Identifier: MIT
#include "store/fabric_file.h"

#include <rapidcheck/catch.h>
#include <catch2/catch.hpp>

#include <cstdint>
#include <string>
#include <vector>

#include <fmt/format.h>

#include "fabric/itinerary.h"

namespace loopmend {
namespace {

bool contains(const std::string& text, const std::string& part) {
    return text.find(part) != std::string::npos;
}

/// Six rows over nine stitches with an eyelet, a decrease and a twisted stitch.
FabricFile swatch() {
    Script script;
    script.castOn = 9;
    for (int number = 1; number <= 6; ++number) {
        WorkedRow row;
        row.number = row.printed = number;
        row.facing = number % 2 == 1 ? Facing::right : Facing::wrong;
        Step plain;
        plain.op = number % 2 == 1 ? Op::knit : Op::purl;
        if (number == 3) {
            for (const Op op : {Op::knit, Op::k2tog, Op::yarnOver, Op::knitTbl, Op::yarnOver, Op::ssk}) {
                Step step;
                step.op = op;
                row.steps.push_back(step);
            }
            row.steps.insert(row.steps.end(), 3, plain);
        } else {
            row.steps.assign(9, plain);
        }
        script.rows.push_back(row);
    }
    auto knitting = knit(script);
    REQUIRE(knitting);
    FabricFile file{std::move(*knitting->fabric), {}};
    file.notes.facing = Side::right;
    file.notes.stitches = 9;
    file.notes.rows = 6;
    file.notes.pattern = "Cast on 9 sts.\nRow 1: k \\ remark\r\n";
    return file;
}

std::string textOf(const FabricFile& file) {
    return fabricText(file.fabric, file.notes);
}

/// The text with other lines and a check that fits them.
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
    const auto file = fabricFromText(text, "a.fabric");
    if (file) return "";
    const std::string& message = file.error().message;
    // One sentence that names the file and says what to do.
    CHECK(message.rfind("cannot read a.fabric: ", 0) == 0);
    CHECK(message.find('\n') == std::string::npos);
    CHECK(message.find(';') != std::string::npos);
    return message;
}

}  // namespace

TEST_CASE("a fabric file gives back the fabric and what is noted beside it") {
    const FabricFile file = swatch();
    const std::string text = textOf(file);
    INFO(text);
    CHECK(text.rfind("loopmend fabric 1\n", 0) == 0);
    const auto read = fabricFromText(text, "a.fabric");
    REQUIRE(read);
    CHECK(itinerary(read->fabric).knot == itinerary(file.fabric).knot);
    CHECK(itinerary(read->fabric).measure == itinerary(file.fabric).measure);
    CHECK(read->notes.facing == Side::right);
    CHECK(read->notes.rows == 6);
    CHECK(read->notes.stitches == 9);
    CHECK(read->notes.castOn == CastOn::longTail);
    CHECK(read->notes.pattern == file.notes.pattern);
    CHECK(textOf(*read) == text);
}

TEST_CASE("every note comes back as it was") {
    FabricFile file = swatch();
    for (const Habit habit : {Habit::western, Habit::eastern, Habit::combination}) {
        for (const bool yes : {false, true}) {
            file.notes.habit = habit;
            file.notes.mirrored = yes;
            file.notes.round = !yes;
            file.notes.facing = yes ? Side::wrong : Side::right;
            file.notes.castOn = yes ? CastOn::backward : CastOn::longTail;
            const auto read = fabricFromText(textOf(file), "a.fabric");
            REQUIRE(read);
            CHECK(read->notes.habit == habit);
            CHECK(read->notes.mirrored == yes);
            CHECK(read->notes.round == !yes);
            CHECK(read->notes.facing == (yes ? Side::wrong : Side::right));
            CHECK(read->notes.castOn == (yes ? CastOn::backward : CastOn::longTail));
        }
    }
}

TEST_CASE("notes of a newer program are kept and written back") {
    const std::string text =
        rechecked(replaced(textOf(swatch()), "knot ", "dye lot 7, \\q as it stands\nempty\nknot "));
    const auto read = fabricFromText(text, "a.fabric");
    REQUIRE(read);
    REQUIRE(read->notes.unknown.size() == 2);
    CHECK(read->notes.unknown[0].first == "dye");
    CHECK(read->notes.unknown[0].second == "lot 7, \\q as it stands");
    const auto again = fabricFromText(textOf(*read), "a.fabric");
    REQUIRE(again);
    CHECK(again->notes.unknown == read->notes.unknown);
}

TEST_CASE("notes that are missing have their ordinary values") {
    const Itinerary lines = itinerary(swatch().fabric);
    const auto read = fabricFromText(
        rechecked("loopmend fabric 1\nknot " + lines.knot + "\nmeasure " + lines.measure + "\ncheck "),
        "a.fabric");
    REQUIRE(read);
    CHECK(read->notes.rows == 0);
    CHECK_FALSE(read->notes.round);
    CHECK(read->notes.pattern.empty());
}

TEST_CASE("a knitter goes on over a reloaded fabric as if she had never stopped") {
    FabricFile straight = swatch();
    auto reloaded = fabricFromText(textOf(straight), "a.fabric");
    REQUIRE(reloaded);
    const auto twoRows = [](FabricFile& file) {
        auto knitter = knitterOver(file, "a.fabric");
        REQUIRE(knitter);
        for (int row = 0; row < 2; ++row) {
            CHECK(knitter->aheadCount() == 9);
            while (knitter->aheadCount() > 0)
                REQUIRE((row == 0 ? knitter->knit() : knitter->purl()).has_value());
            knitter->turn();
        }
        return knotOf(file.fabric);
    };
    CHECK(twoRows(straight) == twoRows(*reloaded));

    // Without a ball nobody can go on.
    straight.fabric.setBall(YarnId{0}, false);
    const auto none = knitterOver(straight, "a.fabric");
    REQUIRE_FALSE(none);
    CHECK(none.error().message == "cannot knit on a.fabric: no yarn in it has a ball; join a ball first");
}

TEST_CASE("what is no fabric file is refused with its own sentence") {
    const std::string text = textOf(swatch());
    CHECK(contains(refusal(""), "it is empty"));
    CHECK(contains(refusal("Row 1: k to end.\n"), "it is not a fabric file of Loopmend"));
    CHECK(contains(refusal("\x89PNG\r\n\x1a\n"), "it is not a fabric file of Loopmend"));
    CHECK(contains(refusal("loopmend fabric\n"), "it is not a fabric file of Loopmend"));
    CHECK(contains(refusal("loopmend lesson 1\n"), "it is not a fabric file of Loopmend"));
    CHECK(contains(refusal(replaced(text, "fabric 1", "fabric 2")), "a newer Loopmend wrote it (format 2"));
    CHECK(contains(refusal(replaced(text, "fabric 1", "fabric 0")), "it is not a fabric file of Loopmend"));
    CHECK(contains(refusal(text.substr(0, text.size() / 2)), "it is cut short"));
    CHECK(contains(refusal(text.substr(0, 9)), "it is cut short"));
    CHECK(contains(refusal(replaced(text, "rows 6", "rows 7")), "it is damaged or was changed by hand"));
    CHECK(contains(refusal(text + "more\n"), "it is cut short"));
    CHECK(contains(refusal(text + text), "it is damaged"));
    CHECK(contains(refusal(replaced(text, "facing", "fac\ring")), "it is damaged"));
}

TEST_CASE("a line that makes no sense is named") {
    const std::string text = textOf(swatch());
    const auto with = [&](const std::string& what, const std::string& by) {
        return refusal(rechecked(replaced(text, what, by)));
    };
    CHECK(contains(with("facing right", "facing up"), "its line \"facing up\" makes no sense"));
    CHECK(contains(with("rows 6", "rows -6"), "its line \"rows -6\" makes no sense"));
    CHECK(contains(with("rows 6", "rows 999999999"), "makes no sense"));
    CHECK(contains(with("rows 6", "rows 6\nrows 6"), "makes no sense"));
    CHECK(contains(with("habit western", "habit none"), "makes no sense"));
    CHECK(contains(with("cast-on long-tail 9", "cast-on long-tail"), "makes no sense"));
    CHECK(contains(with("mirrored no", "mirrored"), "makes no sense"));
    CHECK(contains(with("Row 1: k \\\\", "Row 1: k \\"), "its line \"pattern "));
    CHECK(contains(with("round no\n", "\n"), "its line \"\" makes no sense"));
    CHECK(contains(with("measure ", "misses "), "the fabric itself is not in it"));
    CHECK(contains(with("knot ", "knit "), "the fabric itself is not in it"));
    CHECK(contains(with("knot yarn A", "knot yarn A 99k"), "it tells of no possible fabric"));
    CHECK(contains(with("knot yarn A", "knot "), "it tells of no possible fabric"));
}

TEST_CASE("a fabric file cut short anywhere is refused") {
    const std::string text = textOf(swatch());
    for (std::size_t length = 0; length < text.size(); ++length) {
        if (refusal(text.substr(0, length)).empty()) FAIL_CHECK("read when cut after " << length);
    }
}

TEST_CASE("a fabric file with any bit changed is refused") {
    const std::string text = textOf(swatch());
    for (std::size_t i = 0; i < text.size(); ++i) {
        for (int bit = 0; bit < 8; ++bit) {
            std::string damaged = text;
            damaged[i] = static_cast<char>(damaged[i] ^ (1 << bit));
            if (fabricFromText(damaged, "a.fabric")) FAIL_CHECK("read with bit " << bit << " of byte " << i);
        }
    }
}

TEST_CASE("parts swapped, doubled or left out are refused") {
    rc::prop("blocks of a file in another order", [] {
        const std::string text = textOf(swatch());
        const auto at = *rc::gen::inRange<std::size_t>(0, text.size());
        const auto length = *rc::gen::inRange<std::size_t>(1, 64);
        const auto to = *rc::gen::inRange<std::size_t>(0, text.size());
        const bool keep = *rc::gen::arbitrary<bool>();
        std::string changed = text;
        const std::string block = changed.substr(at, length);
        if (!keep) changed.erase(at, length);
        changed.insert(std::min(to, changed.size()), block);
        RC_PRE(changed != text);
        RC_ASSERT(!fabricFromText(changed, "a.fabric"));
    });
}

TEST_CASE("nonsense with a check that fits never does harm") {
    // Whatever is read then is a fabric: it can be written and read again.
    const std::string text = textOf(swatch());
    rc::prop("random bytes in the lines of a file", [&] {
        std::string changed = text;
        const int changes = *rc::gen::inRange(1, 6);
        const std::size_t from = text.find('\n') + 1;
        const std::size_t until = text.rfind("check ");
        for (int i = 0; i < changes; ++i) {
            const auto at = *rc::gen::inRange<std::size_t>(from, until);
            changed[at] = *rc::gen::element('0', '1', '9', 'k', 'p', 'o', '!', '~', '|', '<', '>', ' ', '&',
                                            '@', '^', '-', '+', '.', '/', '\n');
        }
        const auto read = fabricFromText(rechecked(changed), "a.fabric");
        if (read) {
            const std::string again = textOf(*read);
            RC_ASSERT(fabricFromText(again, "a.fabric").has_value());
        }
    });
}

}  // namespace loopmend
