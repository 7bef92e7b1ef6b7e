// SPDX-License-Identifier: MIT
#include "cli/fault_sheet.h"

#include <algorithm>
#include <iterator>

#include <fmt/format.h>

#include "fault/draw.h"
#include "fault/grounds.h"
#include "fault/knit_with.h"
#include "reading/counts.h"
#include "reading/symptoms.h"
#include "repair/plan.h"

namespace loopmend {

namespace {

struct Sample {
    StockGround ground = StockGround::stockinette;
    Script script;
    FaultPlace place;
};

/// The place nearest the middle of the first ground that has one: clear of the edges if there is such a
/// place.
std::optional<Sample> sampleOf(const Fault& fault) {
    constexpr int kStitches = 20;
    constexpr int kRows = 12;
    constexpr int kClear = 4;
    constexpr int kNear = 2;
    struct Try {
        int clear;
        int rows;  // from the middle
    };
    for (const Try& pass : {Try{kClear, kNear}, Try{kClear, kRows}, Try{0, kRows}}) {
        for (int g = 0; g < kStockGrounds; ++g) {
            const auto ground = static_cast<StockGround>(g);
            Sample sample{ground, stockGround(ground, kStitches, kRows), {}};
            Wanted wanted;
            wanted.clearOfEdges = pass.clear;
            wanted.rowFrom = std::max(1, kRows / 2 - pass.rows);
            wanted.rowTo = std::min(kRows, kRows / 2 + pass.rows);
            const std::vector<FaultPlace> places = placesFor(fault, sample.script, {}, wanted);
            if (places.empty()) continue;
            const auto fromMiddle = [](const FaultPlace& place) {
                return std::abs(2 * place.row - kRows) + std::abs(2 * place.stitch - kStitches);
            };
            sample.place = *std::min_element(
                places.begin(), places.end(),
                [&](const FaultPlace& a, const FaultPlace& b) { return fromMiddle(a) < fromMiddle(b); });
            return sample;
        }
    }
    return std::nullopt;
}

/// Cells of a row as the side that was read shows them, from right to left; strands across a gap left out.
std::vector<Symbol> signsOf(const ReadRow& row, Side side) {
    std::vector<Symbol> signs;
    for (const Cell& cell : row.cells) {
        if (cell.symbol.sight != Sight::rung) signs.push_back(cell.symbol);
    }
    if (side == Side::wrong) std::reverse(signs.begin(), signs.end());
    return signs;
}

/// The first difference of a row in words; empty if it looks the same.
std::string differenceOf(const std::vector<Symbol>& meant, const std::vector<Symbol>& actual, Terms terms) {
    const std::size_t both = std::min(meant.size(), actual.size());
    std::size_t i = 0;
    while (i < both && looksAlike(meant[i], actual[i])) ++i;
    if (i == meant.size() && i == actual.size()) return "";
    if (i == actual.size() || (actual.size() < meant.size() && looksAlike(meant[i + 1], actual[i]))) {
        return fmt::format("missing: {}", words(meant[i], terms));
    }
    if (i == meant.size() || (actual.size() > meant.size() && looksAlike(meant[i], actual[i + 1]))) {
        return fmt::format("one more than there should be: {}", words(actual[i], terms));
    }
    const std::string seen = words(actual[i], terms);
    const std::string wanted = words(meant[i], terms);
    if (seen == wanted) return fmt::format("hardly to be told from what it should be: {}", seen);
    return fmt::format("{}; it should be {}", seen, wanted);
}

/// What is seen of it: what stands out, else the first stitch that looks otherwise, nearest row first.
std::string looksFrom(Side side, const Fabric& meant, const Fabric& actual, int row, Terms terms) {
    const Reading right = readFrom(meant, side);
    const Reading wrong = readFrom(actual, side);
    const std::vector<Symptom> usual = symptoms(meant, right, terms);
    std::string text;
    std::string line;
    for (const Symptom& symptom : symptoms(actual, wrong, terms)) {
        const bool known = std::any_of(usual.begin(), usual.end(), [&](const Symptom& other) {
            return other.kind == symptom.kind && other.row == symptom.row && other.column == symptom.column;
        });
        if (known) continue;
        // A line that breaks is seen from afar; what stands there says more.
        std::string& where = symptom.kind == SymptomKind::lineBreaks ? line : text;
        if (where.find(symptom.words) == std::string::npos) {
            where += (where.empty() ? "" : "; ") + symptom.words;
        }
    }
    if (!text.empty()) return text;
    // A twist shows one row below the row in which it was worked; a tall stitch in the rows above.
    for (const int r : {row, row - 1, row + 1, row + 2}) {
        const auto i = static_cast<std::size_t>(r);
        if (r < 0 || i >= right.rows.size() || i >= wrong.rows.size()) continue;
        text = differenceOf(signsOf(right.rows[i], side), signsOf(wrong.rows[i], side), terms);
        if (!text.empty()) return text;
    }
    return line.empty() ? "nothing that the eye could tell" : line;
}

}  // namespace

FaultSheet sheetOf(const Fault& fault, Terms terms) {
    FaultSheet sheet;
    const std::optional<Sample> sample = sampleOf(fault);
    if (!sample) return sheet;
    auto knitting = knitWith(sample->script, {}, {sample->place}, After::byReading);
    if (!knitting) return sheet;
    sheet.ground = name(sample->ground);
    sheet.place = sample->place;
    const Fabric& meant = *knitting->meant.fabric;
    const Fabric& actual = *knitting->actual.fabric;
    if (fault.suffered()) {
        sheet.countEffect =
            liveStitches(readFrom(actual, Side::right)) - liveStitches(readFrom(meant, Side::right));
    } else {
        const SideBySide::Counts& counts = knitting->counts[static_cast<std::size_t>(sample->place.row) - 1];
        sheet.countEffect = counts.actual - counts.meant;
    }
    sheet.looksRight = looksFrom(Side::right, meant, actual, sample->place.row, terms);
    sheet.looksWrong = looksFrom(Side::wrong, meant, actual, sample->place.row, terms);
    sheet.notice = firstNoticeable(meant, actual, {}, terms);
    for (const Plan& plan : plansFor(meant, sample->script, knitting->actual.knitter)) {
        const std::string family(nameOf(plan.family));
        if (std::find(sheet.repairs.begin(), sheet.repairs.end(), family) == sheet.repairs.end()) {
            sheet.repairs.push_back(family);
        }
    }
    return sheet;
}

}  // namespace loopmend
