// SPDX-License-Identifier: MIT
// Charts as a language: every step has a square and every square its step; as text, and as words.
#include "support.h"

#include "pattern/chart.h"
#include "pattern/chart_text.h"
#include "pattern/samplers.h"

#include <catch2/catch.hpp>

#include <rapidcheck.h>
#include <rapidcheck/catch.h>

#include <algorithm>
#include <set>

using namespace loopmend;
using loopmend::testing::told;

namespace {

using Words = std::vector<std::string>;

constexpr Facing kFacings[] = {Facing::right, Facing::wrong};

/// Steps of every operation, with the numbers it looks at.
std::vector<Step> everyStep() {
    std::vector<Step> steps;
    for (int i = 0; i < kOpCount; ++i) {
        Step step;
        step.op = static_cast<Op>(i);
        if (step.op == Op::cable) {
            for (int bits = 0; bits < 32; ++bits) {
                step.over = 2;
                step.under = 1;
                step.front = (bits & 1) != 0;
                step.purlOver = (bits & 2) != 0;
                step.purlUnder = (bits & 4) != 0;
                step.tblOver = (bits & 8) != 0;
                step.tblUnder = (bits & 16) != 0;
                steps.push_back(step);
            }
            continue;
        }
        steps.push_back(step);
        if (!hasCount(step.op)) continue;
        step.count = 5;
        steps.push_back(step);
        if (step.op != Op::pickUp) continue;
        for (const Edge edge : {Edge::castOn, Edge::boundOff}) {
            step.edge = edge;
            steps.push_back(step);
        }
    }
    return steps;
}

/// The signs of a row as it stands in a text.
Words glyphs(const WrittenRow& row) {
    Words out;
    for (std::size_t i = row.cells.size(); i-- > 0;) {
        const ChartCell& cell = row.cells[i];
        out.push_back(cell.kind == ChartCell::Kind::none      ? "#"
                      : cell.kind == ChartCell::Kind::waiting ? ":"
                                                              : glyphOf(cell.sign));
    }
    return out;
}

WrittenChart charted(const std::string& text) {
    const Pattern pattern = parse(text);
    INFO(text << told(pattern.problems));
    REQUIRE(pattern.problems.empty());
    const auto chart = chartOf(pattern);
    INFO((chart ? "" : chart.error().message));
    REQUIRE(chart);
    return *chart;
}

bool sameWork(const Script& a, const Script& b) {
    return a.castOn == b.castOn && a.round == b.round &&
           std::equal(a.rows.begin(), a.rows.end(), b.rows.begin(), b.rows.end(),
                      [](const WorkedRow& x, const WorkedRow& y) {
                          return x.facing == y.facing && x.steps == y.steps;
                      });
}

Step anyStep(bool taking) {
    static const std::vector<Step> all = everyStep();
    while (true) {
        Step step = *rc::gen::elementOf(all);
        // Ends of rows have tests of their own.
        if (step.op == Op::turn || step.op == Op::wrapTurn || step.op == Op::castOnKnitted ||
            step.op == Op::passOver || step.op == Op::doubled)
            continue;
        if (taking && uses(step) < 1) continue;
        if (*rc::gen::inRange(0, 8) == 0) step.yarn = 1;
        return step;
    }
}

Item itemFor(const Step& step) {
    Item item;
    item.step = step;
    return item;
}

std::vector<Item> someItems(int most) {
    std::vector<Item> items;
    const int n = *rc::gen::inRange(0, most);
    for (int i = 0; i < n; ++i) {
        if (*rc::gen::inRange(0, 5) == 0) {
            Item group;
            group.kind = ItemKind::group;
            group.times = *rc::gen::inRange(2, 4);
            group.items = {itemFor(anyStep(true)), itemFor(anyStep(false))};
            items.push_back(std::move(group));
        } else {
            items.push_back(itemFor(anyStep(false)));
        }
    }
    return items;
}

/// Rows that come out at every number of repeats: each row is made for what the one before leaves.
Pattern anyPattern() {
    Pattern pattern;
    pattern.round = *rc::gen::inRange(0, 3) == 0;
    pattern.yarns = "AB";
    const int rows = *rc::gen::inRange(1, 6);
    std::int64_t each = 0;  // of the box of the row before
    std::int64_t edge = 0;
    for (int r = 0; r < rows; ++r) {
        Row row;
        row.round = pattern.round;
        row.spans = {{r + 1, r + 1}};
        std::vector<Item> before = someItems(4);
        std::vector<Item> after = someItems(4);
        Item star;
        star.kind = ItemKind::star;
        star.items = someItems(5);
        star.items.push_back(itemFor(anyStep(true)));
        if (r > 0) {
            // Fill up to what is there; start again plainly if it is too much already.
            const auto fill = [](std::vector<Item>& items, std::int64_t there) {
                std::int64_t lacking = there - usesOf(items);
                if (lacking < 0) {
                    items.clear();
                    lacking = there;
                }
                for (; lacking > 0; --lacking) items.push_back(itemFor(Step{}));
            };
            if (each < 1) break;
            fill(star.items, each);
            std::int64_t left = edge - usesOf(before);
            if (left < 0) {
                before.clear();
                left = edge;
            }
            fill(after, left);
        }
        star.last = static_cast<int>(usesOf(after));
        star.until = star.last > 0 ? Until::last : Until::end;
        each = makesOf(star.items);
        edge = makesOf(before) + makesOf(after);
        row.items = before;
        row.items.push_back(star);
        row.items.insert(row.items.end(), after.begin(), after.end());
        pattern.rows.push_back(std::move(row));
    }
    return pattern;
}

WrittenChart anyChart() {
    WrittenChart chart;
    chart.round = *rc::gen::inRange(0, 3) == 0;
    chart.leftHanded = *rc::gen::inRange(0, 2) == 0;
    chart.yarns = "AB";
    if (*rc::gen::inRange(0, 2) == 0)
        chart.title =
            "Harbour Lane \xC3\xA9"
            "chantillon";
    if (*rc::gen::inRange(0, 2) == 0) chart.castOn = 21;
    if (*rc::gen::inRange(0, 2) == 0) {
        PrintedMultiple multiple;
        multiple.of = 4;
        multiple.plus = *rc::gen::inRange(0, 3);
        chart.multiple = multiple;
    }
    const bool wrongFirst = *rc::gen::inRange(0, 2) == 0;
    const int rows = *rc::gen::inRange(1, 6);
    for (int r = 0; r < rows; ++r) {
        WrittenRow row;
        row.number = r + 1;
        row.facing = !chart.round && (r % 2 == 1) != wrongFirst ? Facing::wrong : Facing::right;
        const int cells = *rc::gen::inRange(1, 9);
        for (int i = 0; i < cells; ++i) {
            ChartCell cell;
            const int kind = *rc::gen::inRange(0, 8);
            cell.kind = kind == 0   ? ChartCell::Kind::none
                        : kind == 1 ? ChartCell::Kind::waiting
                                    : ChartCell::Kind::stitch;
            if (cell.kind == ChartCell::Kind::stitch) cell.sign = signOf(anyStep(false), row.facing);
            row.cells.push_back(cell);
        }
        if (*rc::gen::inRange(0, 2) == 0) {
            ChartCell cell;
            cell.sign = signOf(Step{}, row.facing);
            row.boxFirst = static_cast<std::size_t>(*rc::gen::inRange(0, cells));
            row.cells.insert(row.cells.begin() + static_cast<std::ptrdiff_t>(row.boxFirst), cell);
            row.boxEnd =
                static_cast<std::size_t>(*rc::gen::inRange(static_cast<int>(row.boxFirst) + 1, cells + 2));
            const bool taking = std::none_of(row.cells.begin(), row.cells.end(), [&](const ChartCell& c) {
                const auto step = stepOf(c.sign, row.facing);
                return c.kind == ChartCell::Kind::stitch && step && uses(*step) < 0;
            });
            if (!taking) row.boxEnd = row.boxFirst = 0;
        }
        chart.rows.push_back(std::move(row));
    }
    if (*rc::gen::inRange(0, 2) == 0) {
        RepeatRows repeat;
        repeat.rows = {1, *rc::gen::inRange(1, rows + 1)};
        repeat.times = *rc::gen::inRange(0, 4);
        repeat.more = repeat.times > 0 && *rc::gen::inRange(0, 2) == 0;
        repeat.after = static_cast<std::size_t>(*rc::gen::inRange(1, rows + 1));
        chart.repeats.push_back(repeat);
    }
    if (*rc::gen::inRange(0, 2) == 0) chart.notes.emplace_back("Drawn for 12 stitches.");
    chart.bindOffAtEnd = *rc::gen::inRange(0, 2) == 0;
    return chart;
}

}  // namespace

TEST_CASE("on either side every step has a sign, no two the same, and the sign gives the step back") {
    for (const Facing facing : kFacings) {
        std::vector<StitchSign> seen;
        for (const Step& step : everyStep()) {
            const StitchSign sign = signOf(step, facing);
            INFO("op " << static_cast<int>(step.op) << ", " << glyphOf(sign));
            CHECK(std::find(seen.begin(), seen.end(), sign) == seen.end());
            seen.push_back(sign);
            const auto back = stepOf(sign, facing);
            REQUIRE(back);
            CHECK(*back == step);
            const auto read = signFrom(glyphOf(sign));
            REQUIRE(read);
            CHECK(*read == sign);
            CHECK(mirrored(mirrored(sign)) == sign);
            CHECK(signFrom(glyphOf(mirrored(sign))) == mirrored(sign));
        }
    }
}

TEST_CASE(
    "a purl on the wrong side looks like a knit; decreases keep their hand (craft: one rule for both "
    "sides)") {
    const auto glyph = [](Op op, Facing facing) {
        Step step;
        step.op = op;
        return glyphOf(signOf(step, facing));
    };
    const Facing rs = Facing::right;
    const Facing ws = Facing::wrong;
    CHECK(glyph(Op::purl, ws) == glyph(Op::knit, rs));
    CHECK(glyph(Op::knit, ws) == glyph(Op::purl, rs));
    // Th. de Dillmont, Encyclopedia of Needlework, ch. Knitting: two purled together on the wrong side lean
    // to the right on the right side, two purled together from behind to the left.
    CHECK(glyph(Op::p2tog, ws) == glyph(Op::k2tog, rs));
    CHECK(glyph(Op::p2togTbl, ws) == glyph(Op::k2togTbl, rs));
    CHECK(glyph(Op::ssp, ws) == glyph(Op::ssk, rs));
    CHECK(glyph(Op::s2pp, ws) == glyph(Op::s2kp, rs));
    CHECK(glyph(Op::purlTbl, ws) == glyph(Op::knitTbl, rs));
    CHECK(glyph(Op::m1PurlLeft, ws) == glyph(Op::m1Left, rs));
    CHECK(glyph(Op::slipPurlwiseFront, ws) == glyph(Op::slipPurlwiseBack, rs));
    CHECK(glyph(Op::k2tog, ws) == glyph(Op::p2tog, rs));
    // A cross leans as before when the work is turned over, and what lay in front lies behind.
    Step cross;
    cross.op = Op::cable;
    cross.over = 2;
    cross.under = 1;
    cross.front = true;
    CHECK(glyphOf(signOf(cross, rs)) == "1\\2");
    CHECK(glyphOf(signOf(cross, ws)) == "2p\\1p");
}

TEST_CASE("words become squares: right-side rows from right to left, wrong-side rows from left to right") {
    const WrittenChart chart = charted("Row 1 (RS): k1, p1, yo, k2tog, k2.\nRow 2: p2, k4.\n");
    REQUIRE(chart.rows.size() == 2);
    CHECK(glyphs(chart.rows[0]) == Words{"|", "|", "/", "o", "-", "|"});
    CHECK(glyphs(chart.rows[1]) == Words{"|", "|", "-", "-", "-", "-"});
    const WrittenChart round = charted("Cast on 4 sts, join in the round.\nRnd 1: k1, p3.\nRnd 2: k1, p3.\n");
    CHECK(glyphs(round.rows[0]) == glyphs(round.rows[1]));
}

TEST_CASE("the star stands in the box, and a plain row's box stands above it") {
    const WrittenChart chart =
        charted("Row 1: k2, *yo, k2tog, k2; rep from * to last 3 sts, k3.\nRow 2: p.\nRow 3: k to end.\n");
    for (const WrittenRow& row : chart.rows) {
        CHECK(row.boxFirst == 2);
        CHECK(row.boxEnd == 6);
    }
    REQUIRE(chart.multiple);
    CHECK(chart.multiple->of == 4);
    CHECK(chart.multiple->plus == 1);
}

TEST_CASE("no-stitch squares keep columns above each other where the count changes") {
    const WrittenChart chart = charted(
        "Row 1: *k1, yo, k1, yo, k1; rep from * to end.\nRow 2: p.\nRow 3: *k2tog, k1, ssk; rep from * to "
        "end.\n");
    CHECK(chart.width() == 5);
    for (const WrittenRow& row : chart.rows) CHECK(row.width() == 5);
    CHECK(glyphs(chart.rows[0]) == Words{"|", "o", "|", "o", "|"});
    // The middle stitch stands in the middle all the way up.
    CHECK(glyphs(chart.rows[2])[2] == "|");
}

TEST_CASE("rows that come round on the other side are drawn twice, and the note says so") {
    const WrittenChart chart = charted("Row 1: k.\nRow 2: p.\nRow 3: k1, p to end.\nRepeat rows 1-3.\n");
    CHECK(chart.rows.size() == 6);
    REQUIRE(chart.notes.size() == 1);
    CHECK(chart.notes[0].find("other side") != std::string::npos);
    CHECK(charted("Row 1: k.\nRow 2: p.\nRepeat rows 1-2.\n").rows.size() == 2);
}

TEST_CASE("the text of a chart, its legend and all") {
    const WrittenChart chart = charted(
        "Small eyelets\nRow 1 (RS): k1, *ssk, yo; rep from * to last 2 sts, k2.\nRow 2: p.\nRepeat rows "
        "1-2.\n");
    CHECK(printChart(chart) ==
          "loopmend chart 1\n"
          "Title: Small eyelets\n"
          "Multiple: 2 plus 1\n"
          "Worked: in rows\n"
          "First row: right side\n"
          "Repeat: rows 1-2\n"
          "\n"
          "Chart:\n"
          "2  |  | [|  | ]|\n"
          "   |  | [o  \\ ]|   1\n"
          "\n"
          "Legend:\n"
          "|       RS k1; WS p1\n"
          "o       RS yo\n"
          "\\       RS ssk\n"
          "[ ]     repeat this\n");
}

TEST_CASE("a left-handed chart is the mirror image, and says the same words") {
    WrittenChart chart = charted("Row 1 (RS): k1, k2tog, yo, 2/1 LC, k1.\nRow 2: p.\n");
    chart.leftHanded = true;
    const std::string text = printChart(chart);
    INFO(text);
    CHECK(text.find("1  |  \\  o  2/1") != std::string::npos);
    const WrittenChart read = parseChart(text);
    CHECK(read.problems.empty());
    CHECK(sameChart(read, chart));
    CHECK(sameRows(patternOf(read), patternOf(chart)));
}

TEST_CASE("faces and reverses: X and O, or a sentence that says what cannot be said") {
    const WrittenChart rib =
        charted("Row 1 (RS): *k2, p2; rep from * to end.\nRow 2: *k2, p2; rep from * to end.\n");
    CHECK_FALSE(sayable(rib, ChartStyle::faceReverse));
    const std::string text = printChart(rib, ChartStyle::faceReverse);
    CHECK(text.find("[O  O  X  X ]") != std::string::npos);
    CHECK(sameChart(parseChart(text), rib));
    const auto problem = sayable(charted("Row 1: k2tog, yo, k1.\n"), ChartStyle::faceReverse);
    REQUIRE(problem);
    CHECK(problem->row == 1);
    CHECK(problem->message.find("k2tog") != std::string::npos);
}

TEST_CASE("a sign of the writer's own is explained in the legend") {
    const WrittenChart chart = parseChart(
        "loopmend chart 1\nChart:\n2 |  |  |\n  |  Q  o  | 1\nLegend:\nQ  RS k2tog; WS p2tog\no  RS yo\n");
    INFO(told(chart.problems));
    CHECK(chart.problems.empty());
    CHECK(printBody(patternOf(chart).rows[0]) == "k1, yo, k2tog, k1");
}

TEST_CASE("all that is wrong in a chart is told at once, each at its place") {
    const WrittenChart chart = parseChart(
        "loopmend chart 1\n"
        "Titel: Waves\n"
        "Cast on: many\n"
        "First row: right side\n"
        "\n"
        "Chart:\n"
        "4 |  |  |\n"
        "  |  k  |  3\n"
        "  |  |  |\n"
        "2 |  [| |\n"
        "  |  o  /  /  ~  1\n"
        "Legend:\n"
        "/  RS ssk\n");
    const auto has = [&](int line, int column, const std::string& part) {
        return std::any_of(chart.problems.begin(), chart.problems.end(), [&](const Problem& p) {
            return p.line == line && p.column == column && p.message.find(part) != std::string::npos;
        });
    };
    INFO(told(chart.problems));
    CHECK(has(2, 1, "no line that a chart begins with"));
    CHECK(has(3, 10, "how many stitches"));
    CHECK(has(8, 6, "no sign known"));
    CHECK(has(9, 3, "no number"));
    CHECK(has(10, 1, "does not end"));
    CHECK(has(11, 15, "does not take so many squares"));
    CHECK(has(13, 7, "k2tog here"));
    CHECK(chart.problems.size() == 7);
    CHECK(chart.problems[0].suggestions == Words{"Title:"});
    CHECK(std::is_sorted(chart.problems.begin(), chart.problems.end(),
                         [](const Problem& a, const Problem& b) { return a.line < b.line; }));
}

TEST_CASE("a legend that says nothing for a sign") {
    const WrittenChart chart = parseChart("loopmend chart 1\n\nChart:\n1  |  |  1\n\nLegend:\nQ  ;\n");
    REQUIRE_FALSE(chart.problems.empty());
    CHECK(chart.problems.back().line == 7);
    CHECK(chart.problems.back().column >= 1);
}

TEST_CASE("a chart whose rows do not fit is found out as words are") {
    const WrittenChart chart =
        parseChart("loopmend chart 1\nCast on: 5\nChart:\n2 |  |  |  |  |\n  |  |  /  |  |  1\n");
    REQUIRE(chart.problems.empty());
    const CheckReport report = check(patternOf(chart));
    CHECK_FALSE(report.ok);
    REQUIRE_FALSE(report.problems.empty());
    CHECK(report.problems[0].line == 5);
}

TEST_CASE("a sign that nothing gives on its side is told") {
    // Purling and passing over on the knit side has no like.
    const WrittenChart chart = parseChart("loopmend chart 1\nChart:\n|  /'  | 1\n");
    REQUIRE(chart.problems.empty());
    const Pattern words = patternOf(chart);
    REQUIRE(words.problems.size() == 1);
    CHECK(words.problems[0].column == 4);
    CHECK(words.problems[0].words == "/'");
    CHECK_FALSE(words.problems[0].suggestions.empty());
}

TEST_CASE("every sampler is charted and worked from its chart as it was") {
    for (const Sampler& sampler : samplers()) {
        WrittenChart chart;
        chart.castOn = sampler.script.castOn;
        chart.round = sampler.script.round;
        chart.yarns = sampler.script.yarns;
        for (const WorkedRow& worked : sampler.script.rows) {
            WrittenRow row;
            row.number = worked.number;
            row.facing = worked.facing;
            for (const Step& step : worked.steps) {
                ChartCell cell;
                cell.sign = signOf(step, worked.facing);
                row.cells.push_back(cell);
            }
            if (worked.facing == Facing::wrong) std::reverse(row.cells.begin(), row.cells.end());
            chart.rows.push_back(std::move(row));
        }
        const WrittenChart read = parseChart(printChart(chart));
        INFO(sampler.id << "\n" << printChart(chart) << told(read.problems));
        REQUIRE(read.problems.empty());
        for (std::size_t r = 0; r < read.rows.size(); ++r) {
            std::vector<Step> steps;
            for (const ChartCell& cell : read.rows[r].cells)
                steps.push_back(stepOf(cell.sign, read.rows[r].facing).value());
            if (read.rows[r].facing == Facing::wrong) std::reverse(steps.begin(), steps.end());
            CHECK(steps == sampler.script.rows[r].steps);
        }
    }
}

TEST_CASE("any chart is read as it was printed, for either hand") {
    rc::prop("parseChart(printChart(c)) == c", [] {
        const WrittenChart chart = anyChart();
        const std::string text = printChart(chart);
        const WrittenChart read = parseChart(text);
        RC_LOG() << text << told(read.problems);
        RC_ASSERT(read.problems.empty());
        RC_ASSERT(sameChart(read, chart));
    });
}

TEST_CASE("any pattern is worked from its chart as from its words, for one, two and three repeats") {
    rc::prop("words, chart, words", [] {
        const Pattern pattern = anyPattern();
        const auto chart = chartOf(pattern);
        RC_LOG() << print(pattern) << (chart ? std::string() : chart.error().message);
        RC_ASSERT(chart.has_value());
        const Pattern words = patternOf(*chart);
        RC_LOG() << printChart(*chart) << print(words) << told(words.problems);
        RC_ASSERT(words.problems.empty());
        const auto again = chartOf(words);
        RC_ASSERT(again.has_value());
        const PatternCounts counts = countAll(pattern);
        RC_ASSERT(counts.multiple.has_value());
        const int rows = static_cast<int>(pattern.rows.size());
        for (int n = 0; n < 3; ++n) {
            if (chart->multiple == std::nullopt && n > 0) break;
            const auto stitches = static_cast<int>(counts.multiple->least + n * counts.multiple->of);
            const auto one = expand(pattern, stitches, rows);
            const auto two = expand(words, stitches, rows);
            const auto three = expand(patternOf(*again), stitches, rows);
            RC_LOG() << stitches << (two ? std::string() : two.error().message);
            RC_ASSERT(one.has_value());
            RC_ASSERT(two.has_value());
            RC_ASSERT(three.has_value());
            RC_ASSERT(sameWork(*one, *two));
            RC_ASSERT(sameWork(*one, *three));
        }
    });
}

TEST_CASE("any chart with boxes becomes words, and those a chart that is worked alike") {
    rc::prop("chart, words, chart", [] {
        const Pattern pattern = anyPattern();
        const auto first = chartOf(pattern);
        RC_ASSERT(first.has_value());
        const WrittenChart chart = parseChart(printChart(*first));
        const auto again = chartOf(patternOf(chart));
        RC_LOG() << printChart(chart) << (again ? printChart(*again) : again.error().message);
        RC_ASSERT(again.has_value());
        const PatternCounts counts = countAll(patternOf(chart));
        RC_ASSERT(counts.multiple.has_value());
        for (int n = 0; n < 3; ++n) {
            if (chart.multiple == std::nullopt && n > 0) break;
            const auto stitches = static_cast<int>(counts.multiple->least + n * counts.multiple->of);
            const int rows = static_cast<int>(chart.rows.size());
            const auto one = expand(patternOf(chart), stitches, rows);
            const auto two = expand(patternOf(*again), stitches, rows);
            RC_ASSERT(one.has_value());
            RC_ASSERT(two.has_value());
            RC_ASSERT(sameWork(*one, *two));
        }
    });
}

TEST_CASE("noise is no chart, and never ends reading") {
    const std::string good = printChart(charted(
        "Cast on 13 sts.\nRow 1: k2, *yo, k2tog, 2/2 LC; rep from * to last 5 sts, bind off 3, k2.\n"));
    rc::prop("bytes changed at random", [&] {
        std::string text = good;
        const int changes = *rc::gen::inRange(1, 30);
        for (int i = 0; i < changes; ++i) {
            const auto at = static_cast<std::size_t>(*rc::gen::inRange(0, static_cast<int>(text.size())));
            switch (*rc::gen::inRange(0, 4)) {
                case 0: text[at] = static_cast<char>(*rc::gen::inRange(0, 256)); break;
                case 1: text.erase(at, 1); break;
                case 2:
                    text.insert(at, 1, *rc::gen::elementOf(std::string("|-o/\\[]#:~123'_.+\n \xC3")));
                    break;
                default: text.insert(at, text.substr(at / 2, 9)); break;
            }
            if (text.empty()) break;
        }
        const WrittenChart chart = parseChart(text);
        for (const Problem& problem : chart.problems) {
            RC_ASSERT(problem.line >= 1);
            RC_ASSERT(problem.column >= 1);
            RC_ASSERT(!problem.message.empty());
        }
        // Whatever was read can be said again, and checked.
        const CheckReport report = check(patternOf(chart));
        RC_ASSERT(report.ok == report.problems.empty());
        if (chart.problems.empty()) RC_ASSERT(sameChart(parseChart(printChart(chart)), chart));
    });
}
