// SPDX-License-Identifier: MIT
// How many: stitches, rows, ridges, rungs, rows since; and in which row the count moved.
#include <algorithm>
#include <utility>

#include <fmt/format.h>

#include "fault/needle.h"
#include "reading/counts.h"
#include "tutor/question_cloth.h"

namespace loopmend {

namespace {

std::string figure(int n) {
    if (n == 0) return "None";
    return n > 0 && n <= 12 ? capital(numberWord(n)) : fmt::format("{}", n);
}

Reply number(int n) {
    return {fmt::format("{}", n), figure(n), figure(n)};
}

struct Miscount {
    int n;
    const char* why;
    const char* rightFor;
};

/// A number, and the numbers that are usually got instead.
Asked counted(AskedCloth& cloth, Question q, LoopId about, int truth, const std::vector<Miscount>& usual,
              std::vector<std::string> hints) {
    Answers answers;
    answers.right(number(truth), fmt::format("Yes, {}.", numberWord(truth)));
    for (const Miscount& m : usual) {
        if (m.n >= 0) answers.wrong(number(m.n), m.why, m.rightFor);
    }
    for (int more = 1; answers.wrongs() < 2; ++more)
        answers.wrong(number(truth + more), "That is more than lie there. Touch each as you count.",
                      "one was counted twice");
    q.answers = answers.mixed(cloth.dice);
    hints.push_back(fmt::format("Count {}.", numberWord(truth)));
    return finished(std::move(q), cloth, about, std::move(hints));
}

constexpr const char* kFewer = "There are more. Look at both ends.";
constexpr const char* kMore = "That is more than lie there. Touch each as you count.";

Asked countStitches(AskedCloth& cloth) {
    const Reading& reading = cloth.scene.reading;
    const int n = liveStitches(reading);
    if (n < 1) return cannotAsk("there is no stitch on the needle");
    std::vector<LoopId> loops;
    int strands = 0;
    for (const LiveLoop& live : reading.needle) {
        loops.push_back(live.loop);
        const Cell* cell = cellOf(reading, live.loop);
        strands += cell != nullptr && cell->symbol.sight == Sight::hole ? 1 : 0;
    }
    std::vector<Miscount> usual;
    if (strands > 0)
        usual.push_back({n - strands, "A yarn over lies on the needle like any loop: it counts as one.",
                         "a yarn over is no stitch"});
    const int meant = liveStitches(readFrom(cloth.swatch.meantAt(cloth.swatch.rows()), Side::right));
    if (meant != n)
        usual.push_back(
            {meant, "That is how many there should be. Count what hangs there.", "the count never changes"});
    usual.push_back({n + 1, kMore, "accidental_yo"});
    usual.push_back({n - 1, kFewer, "drop_live"});
    usual.push_back({n + 2, kMore, "the edge was counted twice"});
    Question q;
    q.words = "How many stitches are on the needle?";
    q.about = {litLoops(PageMarkKind::look, loops)};
    return counted(cloth, std::move(q), {}, n, usual,
                   {"Look at the needle, from one end to the other.", "Count by twos, and touch each pair.",
                    "Each loop on the needle is one stitch, whatever it looks like."});
}

Asked countRows(AskedCloth& cloth) {
    std::vector<LoopId> tops;
    for (const LiveLoop& live : cloth.reading(Side::right).needle) tops.push_back(live.loop);
    const LoopId top = cloth.choose(tops);
    if (!top) return cannotAsk("there is no stitch on the needle to count down from");
    const Columns& columns = cloth.columns();
    Columns::Place at = Columns::kNone;
    for (Columns::Place p = 0; p < columns.count(); ++p) {
        if (columns.cell(p).loop == top && columns.cell(p).symbol.sight != Sight::slipped) at = p;
    }
    if (at == Columns::kNone) return cannotAsk("that column cannot be followed");
    std::vector<LoopId> column;
    for (Columns::Place p = columns.below(at); p != Columns::kNone; p = columns.below(p)) {
        if (columns.cell(p).row < 1 || columns.cell(p).symbol.sight == Sight::rung) break;
        if (std::find(column.begin(), column.end(), columns.cell(p).loop) == column.end())
            column.push_back(columns.cell(p).loop);
    }
    const int n = static_cast<int>(column.size());
    if (n < 2) return cannotAsk("the piece is too short to count rows");
    Question q;
    q.words = fmt::format(
        "How many stitches stand one above the other in the lit column, {}? Leave out the loop on the needle "
        "and the cast-on edge.",
        acrossWords(cloth.scene.view, cloth.scene.places, top));
    q.about = {litLoops(PageMarkKind::notice, column)};
    return counted(
        cloth, std::move(q), column.front(), n,
        {{n + 1, "Was the loop on the needle counted too? It is not knitted yet.",
          "the loops on the needle are a row"},
         {n - 1, "There are more. Was the lowest one left out, right above the edge?",
          "the first row is the edge"},
         {n + 2, "That is more than stand there. Neither the needle nor the edge counts.",
          "the cast-on edge is a row"}},
        {"Look at the lit column, from the edge up to the needle.", "Each stitch of the column is one row.",
         "The loop on the needle is not knitted yet, so it is not counted here."});
}

Asked countRidges(AskedCloth& cloth) {
    const Reading& reading = cloth.scene.reading;
    // The newest row is still on the needle: it makes no ridge yet.
    const int last = static_cast<int>(reading.rows.size()) - 2;
    const int n = garterRidges(reading, 1, last);
    const int behind = garterRidges(
        cloth.seen() == Side::right ? cloth.reading(Side::wrong) : cloth.reading(Side::right), 1, last);
    if (n < 1 || behind < 1) return cannotAsk("there are no ridges there");
    Question q;
    q.words = "How many ridges stand out on the face you see, from the edge to the needle?";
    return counted(
        cloth, std::move(q), {}, n,
        {{2 * n, "A ridge is two rows, but it is one ridge.", "one ridge is two ridges"},
         {n + 1, "Was the edge counted, or a ridge of the other face?", "the cast-on edge is a ridge"},
         {n - 1, "There are more. Look close to the needle and close to the edge.",
          "the last ridge is no ridge"}},
        {"Look up one side of the piece, from the edge to the needle.",
         "Only rows of bumps stand out. The rows between lie deep: they show on the other face.",
         "Over plain knitting, one ridge on this face and the dip above it are two rows."});
}

Asked countRungs(AskedCloth& cloth) {
    const Fabric& f = cloth.fabric();
    std::vector<LoopId> feet;
    for (std::int32_t i = 0; i < f.entryCount(); ++i) {
        const LoopId l{i};
        if (f.has(l) && f.isLoop(l) && f.isLive(l) && !onNeedle(f, l) && !f.passesOf(l).empty())
            feet.push_back(l);
    }
    const LoopId foot = cloth.choose(feet);
    if (!foot) return cannotAsk("there is no ladder there");
    const std::vector<PassId> rungs = f.passesOf(foot);
    const int n = static_cast<int>(rungs.size());
    PageMark lit = litLoop(PageMarkKind::notice, foot);
    Question q;
    q.words = fmt::format("How many rungs lie above the lit loop? It is {}.",
                          acrossWords(cloth.scene.view, cloth.scene.places, foot));
    q.about = {std::move(lit)};
    return counted(cloth, std::move(q), foot, n,
                   {{n + 1, "Was the needle counted, or the loop at the foot?", "the foot is a rung"},
                    {n - 1, "There are more. Look right under the needle, and right above the loop.",
                     "the topmost strand belongs to the needle"},
                    {n + 2, "That is more than lie there.", "the needle and the foot are rungs"}},
                   {"Look between the lit loop and the needle.", "Each bare strand right across is one rung.",
                    "One stitch came out for each rung."});
}

/// Rows since a thing of one kind was last worked.
Asked countSince(AskedCloth& cloth) {
    const std::vector<ReadRow>& rows = cloth.reading(Side::right).rows;
    constexpr std::string_view kKinds[] = {"decrease", "double-decrease", "cable", "hole", "increase"};
    constexpr const char* kSaid[] = {"decrease", "double decrease", "crossing", "yarn over", "new stitch"};
    LoopId lit;
    int kind = -1;
    const int last = static_cast<int>(rows.size()) - 1;
    int at = -1;
    for (int row = last - 1; row >= 1 && kind < 0; --row) {
        for (const Cell& cell : rows[static_cast<std::size_t>(row)].cells) {
            for (int k = 0; k < 5; ++k) {
                if (kindOf(cell.symbol) == kKinds[k] && kind < 0 && cloth.fabric().has(cell.loop)) {
                    kind = k;
                    lit = cell.loop;
                    at = row;
                }
            }
        }
    }
    if (kind < 0 || last - at < 1) return cannotAsk("nothing lies there to count rows from");
    const int n = last - at;
    Question q;
    q.words =
        fmt::format("How many rows were worked after the lit {}, {}? The row on the needle counts as worked.",
                    kSaid[kind], acrossWords(cloth.scene.view, cloth.scene.places, lit));
    q.about = {litLoop(PageMarkKind::notice, lit)};
    return counted(
        cloth, std::move(q), lit, n,
        {{n + 1, "Was its own row counted too? Only the rows after it are asked for.",
          "the row it was worked in counts too"},
         {n - 1, "There is one more. The loops on the needle are a row that was worked.", "cross_missed"},
         {n + 2, "That is more than lie above it.", "rows are counted from the one below"}},
        {"Look from the lit stitch up to the needle.", "Count the stitches above it in its column.",
         "Its own row is not one of those after it; the one on the needle is."});
}

Asked countOf(AskedCloth& cloth, std::string_view kind, const char* one, const char* more) {
    std::vector<int> rowsWith;
    const std::vector<ReadRow>& rows = cloth.reading(Side::right).rows;
    const auto in = [&](const ReadRow& row) {
        std::vector<LoopId> loops;
        for (const Cell& cell : row.cells) {
            const std::string_view k = kindOf(cell.symbol);
            if (k == kind || (kind == "decrease" && k == "double-decrease")) loops.push_back(cell.loop);
        }
        return loops;
    };
    for (std::size_t i = 1; i + 1 < rows.size(); ++i) {
        const bool asked = cloth.wanted.row == 0 || cloth.wanted.row == rows[i].row;
        if (asked && !in(rows[i]).empty()) rowsWith.push_back(static_cast<int>(i));
    }
    if (rowsWith.empty()) return cannotAsk(fmt::format("there is no {} there", one));
    const int row = rowsWith[static_cast<std::size_t>(cloth.dice.below(static_cast<int>(rowsWith.size())))];
    const std::vector<LoopId> found = in(rows[static_cast<std::size_t>(row)]);
    const int n = static_cast<int>(found.size());
    std::vector<LoopId> all;
    for (const Cell& cell : rows[static_cast<std::size_t>(row)].cells) all.push_back(cell.loop);
    Question q;
    q.words = fmt::format("How many {} are in the lit row?", more);
    q.about = {litLoops(PageMarkKind::look, all)};
    return counted(cloth, std::move(q), found.front(), n,
                   {{n - 1, "There is one more. Go along the row once again.",
                     kind == "hole" ? "missed_yo" : "missed_dec"},
                    {n + 1, "That is more than lie there.", kind == "hole" ? "accidental_yo" : "merged"},
                    {2 * n, "That is more than lie there.", "each was counted with its partner"}},
                   {"Look along the lit row, from edge to edge.",
                    kind == "hole" ? "Look for gaps with a strand over them."
                                   : "Look for places where two columns become one.",
                    kind == "hole" ? "A hole that is meant has a column above it and none below."
                                   : "Where columns grow together, there is a decrease."});
}

/// What a row does to the count.
Asked countChange(AskedCloth& cloth) {
    const std::vector<ReadRow>& rows = cloth.reading(Side::right).rows;
    struct Sum {
        int row;
        int holes;
        int gone;
        int change;
    };
    std::vector<Sum> sums;
    for (std::size_t i = 1; i + 1 < rows.size(); ++i) {
        if (cloth.wanted.row != 0 && cloth.wanted.row != rows[i].row) continue;
        Sum sum{static_cast<int>(i), 0, 0, rows[i].stitches - rows[i - 1].stitches};
        for (const Cell& cell : rows[i].cells) {
            const std::string_view kind = kindOf(cell.symbol);
            sum.holes += kind == "hole" || kind == "increase" ? 1 : 0;
            if (cell.symbol.sight == Sight::together) sum.gone += cell.symbol.bases - 1;
        }
        if (sum.holes + sum.gone > 0) sums.push_back(sum);
    }
    if (sums.empty()) return cannotAsk("no row there adds stitches or takes them away");
    const Sum sum = sums[static_cast<std::size_t>(cloth.dice.below(static_cast<int>(sums.size())))];
    const auto reply = [](int change) {
        const int n = change < 0 ? -change : change;
        const std::string text = change == 0 ? std::string("It stays the same")
                                             : fmt::format("{} {}", capital(many(n, "stitch", "stitches")),
                                                           change < 0 ? "fewer" : "more");
        return Reply{fmt::format("{}", change), text, text};
    };
    Answers answers;
    answers.right(reply(sum.change), "Yes: what it adds and what it takes away come to that.");
    const char* why =
        "Each hole and each new stitch adds one. Each decrease takes one away, a double one two.";
    answers.wrong(reply(sum.holes), why, sum.gone > 0 ? "missed_dec" : "only what is added counts");
    answers.wrong(reply(-sum.gone), why, sum.holes > 0 ? "missed_yo" : "only what is taken away counts");
    answers.wrong(reply(0), why, "every row keeps its count");
    for (int n = 1; answers.wrongs() < 2; ++n) {
        answers.wrong(reply(sum.change + n), why, "missed_dec");
        answers.wrong(reply(sum.change - n), why, "missed_yo");
    }
    std::vector<LoopId> all;
    for (const Cell& cell : rows[static_cast<std::size_t>(sum.row)].cells) all.push_back(cell.loop);
    Question q;
    q.words = "What did the lit row do to the count of stitches?";
    q.answers = answers.mixed(cloth.dice);
    q.about = {litLoops(PageMarkKind::look, all)};
    return finished(std::move(q), cloth, all.front(),
                    {"Look along the lit row.", "Count the holes and new stitches, then the decreases.", why,
                     fmt::format("The answer: {}.", reply(sum.change).text)});
}

/// The first row after which the count is not what it should be.
Asked countMoved(AskedCloth& cloth) {
    const std::vector<int> is = stitchesAfter(cloth.reading(Side::right));
    const std::vector<int> due =
        stitchesAfter(readFrom(cloth.swatch.meantAt(cloth.swatch.rows()), Side::right,
                               cloth.scene.view.mirrored ? Knits::leftHanded : Knits::rightHanded));
    int row = -1;
    for (std::size_t i = 0; i < std::min(is.size(), due.size()) && row < 0; ++i) {
        if (is[i] != due[i]) row = static_cast<int>(i);
    }
    if (row < 1) return cannotAsk("the count is right in every row");
    const int last = static_cast<int>(is.size()) - 1;
    const auto reply = [&](int r) {
        const std::string text = fmt::format("Row {}: {} stitches", r, is[static_cast<std::size_t>(r)]);
        return Reply{fmt::format("{}", r), text, text};
    };
    Answers answers;
    answers.right(reply(row), "Yes. The row before it was still right.");
    if (row + 1 <= last)
        answers.wrong(reply(row + 1), "It was out before that row. Go down one more.",
                      "the row you notice is the row");
    answers.wrong(reply(row - 1), "That row still has as many as it should.", "missed_dec");
    if (last != row)
        answers.wrong(reply(last), "It was out long before that.", "the row you notice is the row");
    for (int r = row - 2; answers.wrongs() < 2 && r >= 0; --r)
        answers.wrong(reply(r), "That row still has as many as it should.", "missed_dec");
    if (answers.wrongs() < 2) return cannotAsk("too few rows lie there");
    Question q;
    const bool even = std::all_of(due.begin(), due.end(), [&](int n) { return n == due.front(); });
    q.words = even ? fmt::format("Every row should have {} stitches. Which is the first row that is out?",
                                 due.front())
                   : std::string("Which is the first row whose count is not what it should be?");
    q.answers = answers.mixed(cloth.dice);
    return finished(std::move(q), cloth, {},
                    {"Look at the count beside each row, from the lowest up.",
                     "Hold each count against what it should be.",
                     "The first row that is out holds the mistake. The rows above only carry it on.",
                     fmt::format("It is row {}.", row)});
}

}  // namespace

Asked askCount(AskedCloth& cloth) {
    const std::string_view of = cloth.wanted.of;
    if (of.empty() || of == "stitches") return countStitches(cloth);
    if (of == "rows") return countRows(cloth);
    if (of == "ridges") return countRidges(cloth);
    if (of == "rungs") return countRungs(cloth);
    if (of == "rows-since") return countSince(cloth);
    if (of == "holes") return countOf(cloth, "hole", "hole", "holes");
    if (of == "decreases") return countOf(cloth, "decrease", "decrease", "decreases");
    if (of == "row-change") return countChange(cloth);
    if (of == "row-that-moved") return countMoved(cloth);
    return cannotAsk(fmt::format("\"{}\" is nothing to be counted", of));
}

}  // namespace loopmend
