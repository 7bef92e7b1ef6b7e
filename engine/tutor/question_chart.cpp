// SPDX-License-Identifier: MIT
// Lines of a chart: which one a row is, squares that are no stitch, and the box of what repeats.
#include <algorithm>
#include <set>
#include <utility>

#include <fmt/format.h>

#include "pattern/print.h"
#include "tutor/question_written.h"
#include "tutor/row_words.h"

namespace loopmend {

namespace {

const WrittenRow& lineOf(const WrittenChart& chart, int row) {
    return chart.rows[static_cast<std::size_t>(row) - 1];
}

bool isEmpty(const ChartCell& cell) {
    return cell.kind == ChartCell::Kind::none;
}

bool hasEmpty(const WrittenRow& row) {
    return std::any_of(row.cells.begin(), row.cells.end(), isEmpty);
}

std::string lit(const WorkedRow& row) {
    return fmt::format("{} {} is lit.", row.round ? "Round" : "Row", row.number);
}

/// Each sign of the row and what is worked where it stands.
std::string signsOf(const WorkedRow& row, bool empty, const AskedCloth& cloth) {
    const bool mirror = cloth.scene.view.mirrored;
    std::set<std::string> known;
    std::string words;
    for (const Step& step : row.steps) {
        const StitchSign sign = signOf(step, row.facing);
        const std::string glyph = glyphOf(mirror ? mirrored(sign) : sign);
        if (!known.insert(glyph).second) continue;
        words += fmt::format("{}{} {}", words.empty() ? "" : ", ", glyph, printStep(step, cloth.terms()));
    }
    if (empty) words += ", # no stitch";
    return fmt::format("In this row: {}.", words);
}

/// The chart of a script in which one row is worked otherwise.
WrittenChart withRow(Script script, int row, Steps steps) {
    script.rows[static_cast<std::size_t>(row) - 1].steps = std::move(steps);
    return writtenOut(script);
}

Asked askSquares(AskedCloth& cloth, Facing facing) {
    const Script& script = cloth.swatch.script();
    const int r = rowFor(cloth, [&](const WorkedRow& row) { return row.round || row.facing == facing; });
    if (r == 0)
        return cannotAsk(fmt::format("no {} row of it has more than one kind of stitch",
                                     facing == Facing::right ? "right-side" : "wrong-side"));
    const WorkedRow& row = rowOf(script, r);
    const auto line = [&](const WrittenChart& chart, int at) {
        return fixed(chartLine(chart, at, cloth.scene.view.mirrored, cloth.terms()));
    };
    const auto otherwise = [&](Steps steps) { return line(withRow(script, r, std::move(steps)), r); };
    const WrittenChart chart = writtenOut(script);
    const std::string right = line(chart, r).text;
    Answers answers;
    answers.right(fixed(right),
                  "Yes. Squares show the right side, and the number stands where the row begins.");
    if (hasEmpty(lineOf(chart, r))) {
        WrittenChart full = chart;
        for (ChartCell& cell : full.rows[static_cast<std::size_t>(r) - 1].cells) {
            if (!isEmpty(cell)) continue;
            cell.kind = ChartCell::Kind::stitch;
            cell.sign = signOf(Step{}, Facing::right);
        }
        answers.wrong(line(full, r), "That line has more stitches than the row. Count them.",
                      "every square is a stitch");
    }
    answers.wrong(otherwise(Steps(row.steps.rbegin(), row.steps.rend())),
                  "Begin at the end where the number stands.", "a chart is read from the left");
    answers.wrong(otherwise(fromBehind(row.steps)),
                  "Squares show how a stitch looks from the right side, whichever side it is worked from.",
                  "a square says what the hands do");
    answers.wrong(otherwise(oneLate(row.steps)),
                  "Count the squares before the first sign that is unlike them.",
                  "a repeat begins at its first odd stitch");
    for (const int other : rowsThatSay(script, static_cast<int>(script.rows.size()))) {
        if (rowOf(script, other).facing != row.facing) continue;
        WrittenChart renumbered = chart;
        renumbered.rows[static_cast<std::size_t>(other) - 1].number = r;
        answers.wrong(line(renumbered, other), "That is another row of the pattern.",
                      "the row on top is the row that is meant");
    }
    Question q;
    q.words = fmt::format("{} Which line of a chart is it? {}", lit(row),
                          signsOf(row, hasEmpty(lineOf(chart, r)), cloth));
    return askedOfRow(
        cloth, std::move(q), loopsOf(cloth, r), std::move(answers),
        {"Lay the right side up, and find the end where the row was begun.",
         "The number of a row stands at that end.", "Go square by square and stitch by stitch from there.",
         fmt::format("The line is: {}", right)});
}

/// How many stitches a line with empty squares leaves on the needle.
Asked askNoStitch(AskedCloth& cloth) {
    const Script& script = cloth.swatch.script();
    const WrittenChart chart = writtenOut(script);
    const int r = rowFor(cloth, [&](const WorkedRow& row) { return hasEmpty(lineOf(chart, row.number)); });
    if (r == 0) return cannotAsk("no row of it has squares that are no stitch");
    const WorkedRow& row = rowOf(script, r);
    const WrittenRow& line = lineOf(chart, r);
    const int after = makesOf(row.steps);
    const int squares = line.width();
    const auto empty = static_cast<int>(std::count_if(line.cells.begin(), line.cells.end(), isEmpty));
    const auto number = [](int n) { return fixed(fmt::format("{}", n)); };
    Answers answers;
    answers.right(number(after), "Yes. A square marked # only keeps the columns above each other.");
    answers.wrong(number(squares), "You counted the squares marked #, too. Nothing is worked there.",
                  "every square is a stitch");
    answers.wrong(number(usesOf(row.steps)), "That is how many the row began with.",
                  "a row leaves what it began with");
    answers.wrong(number(after - empty), "The squares marked # were never stitches: nothing is taken away.",
                  "an empty square takes a stitch away");
    answers.wrong(number(after + 1), "Count once more, without the squares marked #.",
                  "every square is a stitch");
    Question q;
    q.words = fmt::format(
        "{} In the chart it is this line:\n{}\nHow many stitches does it leave on the needle? {}", lit(row),
        chartLine(chart, r, cloth.scene.view.mirrored, cloth.terms()), signsOf(row, true, cloth));
    return askedOfRow(cloth, std::move(q), loopsOf(cloth, r), std::move(answers),
                      {"A chart has as many squares in every line, whatever the count is.",
                       "Where a row has fewer stitches, squares marked # fill it up.",
                       "Count the other squares: each leaves one stitch.",
                       fmt::format("It has {} squares, and {} of them are no stitch.", squares, empty)});
}

/// How often the box of a line is worked.
Asked askBox(AskedCloth& cloth) {
    const Script& script = cloth.swatch.script();
    const std::optional<WrittenChart> chart = boxed(script);
    struct Box {
        int inside = 0;   ///< stitches that the box uses
        int outside = 0;  ///< and the rest
    };
    const auto boxOf = [&](const WorkedRow& row) {
        Box box;
        const WrittenRow& line = lineOf(*chart, row.number);
        for (std::size_t i = 0; i < line.cells.size(); ++i) {
            if (line.cells[i].kind != ChartCell::Kind::stitch) continue;
            const auto step = stepOf(line.cells[i].sign, row.facing);
            const bool in = i >= line.boxFirst && i < line.boxEnd;
            if (step) (in ? box.inside : box.outside) += uses(*step);
        }
        return box;
    };
    const int r = !chart ? 0 : rowFor(cloth, [&](const WorkedRow& row) {
        const Box box = boxOf(row);
        return lineOf(*chart, row.number).boxed() && box.inside > 1 && box.outside > 0 &&
               usesOf(row.steps) >= box.outside + 2 * box.inside;
    });
    if (r == 0) return cannotAsk("no row of it has a repeat between edges");
    const WorkedRow& row = rowOf(script, r);
    const Box box = boxOf(row);
    const int all = usesOf(row.steps);
    const int times = (all - box.outside) / box.inside;
    const auto number = [](int n) { return fixed(fmt::format("{}", n)); };
    const char* divide = "Take the stitches outside the box away, and divide what is left.";
    Answers answers;
    answers.right(number(times), "Yes. What stands outside the box is worked once, at its own edge.");
    answers.wrong(number(1), "What stands in the box is worked again as long as stitches are there for it.",
                  "a box is worked once");
    answers.wrong(number(all / (box.inside + box.outside)),
                  "You counted the edges into every repeat. They are worked once.",
                  "edges belong to the repeat");
    answers.wrong(number(times + 1), divide, "edges belong to the repeat");
    answers.wrong(number(times - 1), divide, "edges belong to the repeat");
    Question q;
    q.words = fmt::format(
        "{} In the chart it is this line:\n{}\nThere are {} stitches. How often is the box, from [ to ], "
        "worked? {}",
        lit(row), chartLine(*chart, r, cloth.scene.view.mirrored, cloth.terms()), all,
        signsOf(row, hasEmpty(lineOf(*chart, r)), cloth));
    return askedOfRow(
        cloth, std::move(q), loopsOf(cloth, r), std::move(answers),
        {"What stands between [ and ] is worked again and again.",
         "What stands outside the box is the edge: it is worked once.", divide,
         fmt::format("{} of the {} stitches are edge, and the box uses {}.", box.outside, all, box.inside)});
}

}  // namespace

Asked askChart(AskedCloth& cloth) {
    const std::string_view of = cloth.wanted.of;
    if (of == "squares") return askSquares(cloth, Facing::right);
    if (of == "squares-behind") return askSquares(cloth, Facing::wrong);
    if (of == "no-stitch") return askNoStitch(cloth);
    if (of == "box") return askBox(cloth);
    return cannotAsk(fmt::format("a pattern cannot be asked for \"{}\"", of));
}

}  // namespace loopmend
