// SPDX-License-Identifier: MIT
#include "picture/stitch_sheet.h"

#include <algorithm>
#include <tuple>

#include <fmt/format.h>

#include "fabric/itinerary.h"
#include "pattern/plain_words.h"
#include "picture/chart.h"
#include "picture/drawing.h"
#include "reading/read.h"
#include "shape/cloth.h"

namespace loopmend {

namespace {

constexpr double kLessonRows = 40;
constexpr double kLessonPixels = 800;
/// Shown of what lies all along a row: so many in the middle of it.
constexpr std::size_t kOfRow = 3;
/// Of an edge all along so many stitches are enough; more would be too small to be told.
constexpr std::size_t kMostStitches = 6;
/// Where something fell there is little to see: so much cloth around it, nearer than else.
constexpr double kStitchesBeside = 0.7;
constexpr double kRowsBeside = 1.3;

/// A sampler knitted and relaxed.
struct Piece {
    Knitting knitting;
    Cloth cloth;
    std::string knot;
    Point2 at;
    int change = 0;
    std::vector<EntryId> about;  ///< what the picture is about
    Glimpse glimpse;

    Likeness likeness() const { return {&cloth.path(), at}; }
};

/// The stitches of the sampler's row, in the order worked.
std::vector<LoopId> workedRow(const Reading& reading, const Sampler& sampler) {
    std::vector<LoopId> loops;
    for (const ReadRow& row : reading.rows) {
        if (row.row != sampler.row) continue;
        for (const Cell& cell : row.cells) loops.push_back(cell.loop);
        if (row.facing == Facing::wrong) std::reverse(loops.begin(), loops.end());
    }
    return loops;
}

bool isLetFall(const Sampler& sampler) {
    return !sampler.shows.empty() && sampler.shows.front() == Op::letFall;
}

/// What a picture of it is about: its loops, the middle of an edge all along, the middle of a row of several
/// colours or sewn, or of two pieces that lie folded. Where nothing stands (a turn, what was let fall) the
/// stitches beside it.
std::vector<EntryId> aboutWhat(const Fabric& fabric, const Reading& reading, const Sampler& sampler,
                               const StitchFacts& facts, bool folded) {
    std::vector<LoopId> loops = facts.loops;
    std::size_t most = folded ? kOfRow : kMostStitches;
    if (sampler.stitch == 0 && (sampler.sew || sampler.script.yarns.size() > 1) && loops.size() < kOfRow) {
        loops = workedRow(reading, sampler);
        most = kOfRow;
    } else if (loops.empty() && sampler.stitch > 0) {
        const std::vector<LoopId> row = workedRow(reading, sampler);
        const auto at = static_cast<std::size_t>(sampler.stitch);
        if (at >= 2 && at - 2 < row.size()) loops.push_back(row[at - 2]);
        if (at - 1 < row.size()) loops.push_back(row[at - 1]);
        // What fell stood a row below them.
        if (isLetFall(sampler)) {
            for (LoopId& loop : loops) {
                if (const LinkId link = fabric[loop].firstLink; link) loop = fabric[link].host;
            }
        }
    }
    const std::size_t more = loops.size() > most ? (loops.size() - most) / 2 : 0;
    std::vector<EntryId> about;
    for (std::size_t i = more; i < loops.size() && about.size() < most; ++i) about.emplace_back(loops[i]);
    // A yarn's end leads far away.
    if (about.size() > 2 && !fabric[about.back()].next) about.pop_back();
    return about;
}

std::optional<Piece> pieceOf(const Sampler& sampler, const StitchFacts& facts, bool relaxed) {
    auto knitting = knitSampler(sampler);
    if (!knitting) return std::nullopt;
    Cloth cloth = Cloth::drawn(*knitting->fabric);
    if (relaxed) cloth.settle();
    Piece piece{std::move(*knitting), std::move(cloth), "", {}, facts.change, {}, {}};
    piece.knot = knotOf(*piece.knitting.fabric);
    piece.at = flat(middleOf(piece.cloth.path(), facts.loops));
    const Reading reading = readFrom(*piece.knitting.fabric, Side::right);
    piece.about =
        aboutWhat(*piece.knitting.fabric, reading, sampler, facts, !piece.cloth.layout().fold.empty());
    View view;
    view.pixelsPerMm = lessonPixelsPerMm(piece.cloth.path().gauge);
    piece.glimpse = glimpseOf(piece.cloth.path(), piece.at, view, 1.6, kOrdinaryLight);
    return piece;
}

std::string chartWords(const Piece& piece, const std::vector<LoopId>& loops, Terms terms) {
    std::string said;
    for (const ChartRow& row : chartOf(*piece.knitting.fabric).rows) {
        for (const ChartSquare& square : row.squares) {
            if (std::find(loops.begin(), loops.end(), square.loop) == loops.end()) continue;
            const std::string one = wordsOf(square, terms);
            if (said.find(one) == std::string::npos) said += (said.empty() ? "" : "; ") + one;
        }
    }
    return said;
}

Drawing drawn(const Piece& piece, const Sampler& sampler, const std::vector<LoopId>& loops, Side side,
              YarnStyle style) {
    DrawingOptions options;
    options.side = side;
    options.style = style;
    options.about = piece.about;
    options.rowNumbers = false;
    options.caption = false;
    const bool beside = loops.empty() && !piece.about.empty();
    if (beside && isLetFall(sampler)) {
        // Pulled a little, so that the strand between the stitches shows.
        options.stitchesAbout = kStitchesBeside;
        options.rowsAbout = kRowsBeside;
        options.stretch = kGentlePull;
    }
    if (style == YarnStyle::outlined) {
        for (const EntryId e : beside ? piece.about : std::vector<EntryId>(loops.begin(), loops.end()))
            options.highlights.push_back({e, 1, Highlight::Line::dashes, ""});
    }
    return drawingOf(*piece.knitting.fabric, piece.cloth.path(), options);
}

std::string joined(const std::vector<std::string>& parts) {
    std::string all;
    for (const std::string& part : parts) all += (all.empty() ? "" : "; ") + part;
    return all;
}

}  // namespace

double lessonPixelsPerMm(const Gauge& gauge) {
    return kLessonPixels / (kLessonRows * gauge.rowMm);
}

std::vector<ShownStitch> shownStitches(const std::vector<Sampler>& samplers,
                                       const std::vector<std::string>& wanted, Terms terms) {
    std::vector<ShownStitch> all;
    std::vector<Piece> pieces;
    for (const Sampler& sampler : samplers) {
        auto facts = stitchFacts(sampler, terms);
        if (!facts) continue;
        auto piece = pieceOf(sampler, *facts, false);
        if (!piece) continue;
        ShownStitch one;
        one.sampler = sampler;
        one.chartWords = chartWords(*piece, facts->loops, terms);
        one.facts = std::move(*facts);
        all.push_back(std::move(one));
        pieces.push_back(std::move(*piece));
    }
    std::vector<ShownStitch> shown;
    for (std::size_t i = 0; i < all.size(); ++i) {
        const std::string& id = all[i].sampler.id;
        if (!wanted.empty() && std::find(wanted.begin(), wanted.end(), id) == wanted.end()) continue;
        // What is an edge or a way of turning, and not one stitch, is not taken for another.
        if (all[i].sampler.stitch == 0 || all[i].facts.loops.empty()) {
            shown.push_back(all[i]);
            continue;
        }
        double least = 1e300;
        std::size_t like = i;
        for (std::size_t k = 0; k < all.size(); ++k) {
            if (k == i || all[k].sampler.stitch == 0 || pieces[k].change != pieces[i].change ||
                pieces[k].knot == pieces[i].knot)
                continue;
            const double told = toldApart(pieces[i].glimpse, pieces[k].glimpse);
            if (told >= least) continue;
            least = told;
            like = k;
        }
        if (like != i) {
            all[i].takenFor = all[like].sampler.id;
            all[i].takenForName = all[like].sampler.name;
            View held;
            held.pixelsPerMm = lessonPixelsPerMm(pieces[i].cloth.path().gauge);
            all[i].bestWay = betterView(pieces[i].likeness(), pieces[like].likeness(), held);
        }
        shown.push_back(all[i]);
    }
    return shown;
}

std::string words(const WayOfLooking& way) {
    if (way.asHeld()) return "Look at it as you hold it.";
    std::vector<std::string> parts;
    if (way.otherSide) parts.emplace_back("turn it over");
    if (way.nearer > 1) parts.emplace_back(way.nearer > 2 ? "come very near" : "come nearer");
    if (way.pull > 1) parts.emplace_back("pull it a little wide");
    if (way.slant) parts.emplace_back("let the light slant");
    std::string all;
    for (std::size_t i = 0; i < parts.size(); ++i)
        all += (i == 0 ? "" : i + 1 == parts.size() ? " and " : ", ") + parts[i];
    return asSentence(all);
}

Handout stitchSheet(const std::vector<ShownStitch>& shown, Terms terms) {
    Handout handout;
    handout.title = "Every stitch, from both sides";
    for (const ShownStitch& one : shown) {
        HandoutStep step;
        step.heading = spelled(capital(one.sampler.name), terms);
        step.across = 4;
        if (!one.facts.looksRight.empty()) {
            step.sentences.push_back(asSentence("Right side: " + joined(one.facts.looksRight)));
            step.sentences.push_back(asSentence("Wrong side: " + joined(one.facts.looksWrong)));
        }
        if (!one.chartWords.empty()) step.sentences.push_back(asSentence("On a chart: " + one.chartWords));
        if (!one.facts.takenBackWords.empty())
            step.sentences.push_back(
                asSentence(one.facts.takenBackWords) +
                (one.facts.runsWords.empty() ? "" : " " + asSentence(one.facts.runsWords)));
        if (!one.takenFor.empty()) {
            step.sentences.push_back(
                asSentence(fmt::format("Most like it: {}", spelled(one.takenForName, terms))) + " " +
                words(one.bestWay));
        }
        if (const auto piece = pieceOf(one.sampler, one.facts, true)) {
            for (const auto& [side, style, caption] :
                 {std::tuple{Side::right, YarnStyle::outlined, "right side"},
                  std::tuple{Side::wrong, YarnStyle::outlined, "wrong side"},
                  std::tuple{Side::right, YarnStyle::wool, "right side, wool"},
                  std::tuple{Side::wrong, YarnStyle::wool, "wrong side, wool"}})
                step.pictures.push_back({drawn(*piece, one.sampler, one.facts.loops, side, style), caption});
        }
        handout.steps.push_back(std::move(step));
    }
    return handout;
}

}  // namespace loopmend
