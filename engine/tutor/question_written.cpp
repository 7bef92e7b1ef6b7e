// SPDX-License-Identifier: MIT
// A row in the words of a pattern, and which row is due.
#include "tutor/question_written.h"

#include <algorithm>
#include <utility>

#include <fmt/format.h>

#include "tutor/row_words.h"

namespace loopmend {

Steps fromBehind(Steps steps) {
    for (Step& step : steps) {
        if (step.op == Op::knit || step.op == Op::purl) step.op = step.op == Op::knit ? Op::purl : Op::knit;
    }
    return steps;
}

Steps oneLate(Steps steps) {
    std::rotate(steps.begin(), steps.begin() + 1, steps.end());
    return steps;
}

std::vector<int> rowsThatSay(const Script& script, int knitted) {
    std::vector<int> rows;
    for (int r = 1; r <= std::min(knitted, static_cast<int>(script.rows.size())); ++r) {
        const Steps& steps = rowOf(script, r).steps;
        const bool says =
            std::any_of(steps.begin(), steps.end(), [&](const Step& step) { return step != steps.front(); });
        if (says && steps.size() > 2) rows.push_back(r);
    }
    return rows;
}

const WorkedRow& rowOf(const Script& script, int row) {
    return script.rows[static_cast<std::size_t>(row) - 1];
}

std::vector<LoopId> loopsOf(const AskedCloth& cloth, int row) {
    const std::vector<std::vector<LoopId>>& rows = cloth.scene.places.rows();
    return row < static_cast<int>(rows.size()) ? rows[static_cast<std::size_t>(row)] : std::vector<LoopId>{};
}

int rowFor(AskedCloth& cloth, const std::function<bool(const WorkedRow&)>& fits) {
    const Script& script = cloth.swatch.script();
    std::vector<int> rows = rowsThatSay(script, cloth.swatch.rows());
    rows.erase(std::remove_if(rows.begin(), rows.end(),
                              [&](int r) { return loopsOf(cloth, r).empty() || !fits(rowOf(script, r)); }),
               rows.end());
    if (rows.empty()) return 0;
    const int wanted = cloth.wanted.row;
    if (wanted > 0) return std::find(rows.begin(), rows.end(), wanted) != rows.end() ? wanted : 0;
    return rows[static_cast<std::size_t>(cloth.dice.below(static_cast<int>(rows.size())))];
}

Asked askedOfRow(AskedCloth& cloth, Question q, const std::vector<LoopId>& row, Answers answers,
                 std::vector<std::string> hints) {
    q.about = {litLoops(PageMarkKind::look, row)};
    q.answers = answers.mixed(cloth.dice);
    return finished(std::move(q), cloth, row.front(), std::move(hints));
}

namespace {

Asked askWords(AskedCloth& cloth) {
    const Script& script = cloth.swatch.script();
    const int r = rowFor(cloth, [](const WorkedRow&) { return true; });
    if (r == 0) return cannotAsk("every row of it is all of one stitch");
    const WorkedRow& row = rowOf(script, r);
    const auto words = [&](const Steps& steps) { return fixed(rowWords(steps, cloth.terms())); };
    Answers answers;
    answers.right(words(row.steps), "Yes. Those words, stitch for stitch.");
    answers.wrong(words(oneLate(row.steps)), "Count the stitches before the first one that is unlike it.",
                  "a repeat begins at its first odd stitch");
    answers.wrong(
        words(fromBehind(row.steps)),
        "That is how the row looks from its other side. Words are for the side that faces her who works it.",
        "knit and purl are the same from both sides");
    Steps backward = row.steps;
    std::reverse(backward.begin(), backward.end());
    answers.wrong(words(backward), "That begins at the end of the row where she stopped.",
                  "a row is read from the left");
    for (int other = r + 1; other <= static_cast<int>(script.rows.size()); ++other)
        answers.wrong(words(rowOf(script, other).steps), "That is another row of the pattern.",
                      "the row on top is the row that is meant");
    Question q;
    q.words =
        fmt::format("Row {} is lit. It was worked with the {} side in front. Which words did it follow?", r,
                    row.facing == Facing::right ? "right" : "wrong");
    if (row.round) q.words = fmt::format("Round {} is lit. Which words did it follow?", r);
    const std::vector<LoopId> loops = loopsOf(cloth, r);
    return askedOfRow(cloth, std::move(q), loops, std::move(answers),
                      {"Go along the lit row from the end where it was begun.",
                       "Say each stitch aloud, and count those that are alike.",
                       "What stands between the star and the next stop is worked again and again.",
                       fmt::format("The words are: {}.", rowWords(row.steps, cloth.terms()))});
}

/// Which row comes next, by the cloth alone.
Asked askDue(AskedCloth& cloth) {
    const Script& script = cloth.swatch.script();
    const auto next = static_cast<std::size_t>(cloth.swatch.rows());
    if (next >= script.rows.size() || next == 0 || cloth.swatch.steps() > 0)
        return cannotAsk("no row is due there");
    const auto words = [&](std::size_t i) { return fixed(rowWords(script.rows[i].steps, cloth.terms())); };
    Answers answers;
    answers.right(words(next), "Yes. It goes on from what lies there.");
    answers.wrong(words(next - 1), "That row lies on the needle already. Read the newest row.", "extra_row");
    const char* why = "Count the rows since the last one that stands out.";
    if (next + 1 < script.rows.size()) answers.wrong(words(next + 1), why, "missed_row");
    for (std::size_t back = 2; back <= next && answers.wrongs() < 3; ++back)
        answers.wrong(words(next - back), why, "wrong_row");
    for (std::size_t on = next + 2; on < script.rows.size() && answers.wrongs() < 3; ++on)
        answers.wrong(words(on), why, "missed_row");
    Question q;
    q.words =
        script.round ? "Which round of the pattern is due now?" : "Which row of the pattern is due now?";
    const std::vector<LoopId> loops = loopsOf(cloth, static_cast<int>(next));
    if (loops.empty()) return cannotAsk("no row lies there");
    return askedOfRow(
        cloth, std::move(q), loops, std::move(answers),
        {"Look at the newest row, and find it in the pattern.",
         "Count the rows since the last one that stands out.", "The row after the newest one is due.",
         fmt::format("It is: {}.", rowWords(script.rows[next].steps, cloth.terms()))});
}

}  // namespace

Asked askWritten(AskedCloth& cloth) {
    const std::string_view of = cloth.wanted.of;
    if (of.empty() || of == "words") return askWords(cloth);
    if (of == "due") return askDue(cloth);
    return askChart(cloth);
}

}  // namespace loopmend
