// SPDX-License-Identifier: MIT
#include "tutor/lesson_handout_pictures.h"

#include <algorithm>
#include <array>
#include <utility>

#include <fmt/format.h>

#include "repair/builder.h"
#include "shape/cloth.h"

namespace loopmend {

namespace {

constexpr int kAround = 3;  ///< stitches shown to each side
constexpr int kBelow = 2;   ///< and rows below
constexpr int kAbove = 2;
constexpr int kFewRows = 4;
constexpr int kMostRelaxed = 6000;  ///< loops and strands; a larger piece would take long
constexpr int kRelaxSteps = 700;
constexpr double kLargeStitchMm = 9;

/// A letter says it where another thing is dotted too.
constexpr const char* kStays = "S";

/// How a mark is drawn, and what it means.
struct Lit {
    PageMarkKind kind;
    int color;
    Highlight::Line line;
    const char* line_;
    const char* meaning;
};
constexpr std::array<Lit, 7> kLit = {{
    {PageMarkKind::next, 1, Highlight::Line::dashes, "Dashes", "what this move takes"},
    {PageMarkKind::through, 5, Highlight::Line::dots, "Dots", "what it is drawn through"},
    {PageMarkKind::mustGo, 6, Highlight::Line::none, "Dark", "what comes undone"},
    {PageMarkKind::keep, 3, Highlight::Line::dots, kStays, "what must stay"},
    {PageMarkKind::evidence, 2, Highlight::Line::dashes, "Dashes", "the sign"},
    {PageMarkKind::notice, 2, Highlight::Line::dashes, "Dashes", "the sign"},
    {PageMarkKind::look, 2, Highlight::Line::none, "Dark", "where to look"},
}};

const Lit& litAs(PageMarkKind kind) {
    return *std::find_if(kLit.begin(), kLit.end(), [&](const Lit& l) { return l.kind == kind; });
}

DrawingOptions optionsFor(const HandoutView& view) {
    DrawingOptions options;
    options.firstRow = view.firstRow;
    options.lastRow = view.lastRow;
    options.firstStitch = view.firstStitch;
    options.lastStitch = view.lastStitch;
    options.caption = false;
    return options;
}

std::string sideWords(Side side, Side first) {
    return fmt::format("{}, the {} side", side == first ? "Facing you" : "From behind",
                       side == Side::right ? "right" : "wrong");
}

}  // namespace

HandoutView viewAbout(const Fabric& fabric, const std::vector<EntryId>& places) {
    const StitchPlaces spots(fabric);
    HandoutView view;
    int top = 0;
    for (const EntryId entry : places) {
        if (!entry || entry.value >= fabric.entryCount() || !fabric.has(entry)) continue;
        LoopId loop = entry;
        while (loop && !fabric.isLoop(loop)) loop = fabric[loop].prev;
        if (!loop) continue;
        const StitchPlace spot = spots.of(loop);
        if (spot.column == 0) continue;
        const int first = std::max(1, spot.column - kAround);
        view.firstStitch = view.firstStitch == 0 ? first : std::min(view.firstStitch, first);
        view.lastStitch = std::max(view.lastStitch, spot.column + kAround);
        const int row = std::max(0, spot.row - kBelow);
        view.firstRow = top == 0 ? row : std::min(view.firstRow, row);
        top = std::max(top, spot.row + kAbove);
    }
    if (top == 0) view.firstRow = std::max(0, spots.lastRow() - kFewRows);
    return view;
}

std::vector<Highlight> highlightsOf(const std::vector<PageMark>& marks) {
    std::vector<Highlight> all;
    for (const PageMark& mark : marks) {
        const Lit& lit = litAs(mark.kind);
        Highlight highlight;
        highlight.colour = lit.color;
        highlight.line = lit.line;
        if (mark.kind == PageMarkKind::keep) highlight.letter = kStays;
        for (const std::vector<EntryId>* list : {&mark.loops, &mark.rungs, &mark.strands}) {
            for (const EntryId entry : *list) {
                highlight.entry = entry;
                all.push_back(highlight);
            }
        }
    }
    return all;
}

std::string keyOf(const std::vector<PageMark>& marks) {
    std::string words;
    for (const Lit& lit : kLit) {
        const bool there =
            std::any_of(marks.begin(), marks.end(), [&](const PageMark& m) { return m.kind == lit.kind; });
        const std::string one = fmt::format("{}: {}.", lit.line_, lit.meaning);
        if (there && words.find(one) == std::string::npos) words += (words.empty() ? "" : " ") + one;
    }
    return words;
}

HandoutPicture faceOf(const HandoutView& view, const Fabric& fabric, Side side,
                      const std::vector<PageMark>& marks, double stitchMm) {
    DrawingOptions options = optionsFor(view);
    // Rows may have been taken out since.
    options.firstRow = std::clamp(StitchPlaces(fabric).lastRow() - kBelow, 0, view.firstRow);
    options.highlights = highlightsOf(marks);
    options.side = side;
    options.stitchMm = stitchMm;
    options.rowNumbers = false;
    return {drawingOf(fabric, options), {}};
}

std::vector<HandoutPicture> bothFaces(const HandoutView& view, const Fabric& fabric, Side first,
                                      const std::vector<PageMark>& marks) {
    std::vector<HandoutPicture> pictures;
    for (const Side side : {first, opposite(first)}) {
        pictures.push_back(faceOf(view, fabric, side, marks));
        pictures.back().caption = sideWords(side, first);
        pictures.back().drawing.title = pictures.back().caption;
    }
    return pictures;
}

PieceAtRest::PieceAtRest(const Fabric& fabric) : fabric_(fabric) {
    ClothOptions cloth;
    cloth.mostSteps = kRelaxSteps;
    cloth.relaxed = fabric.entryCount() <= kMostRelaxed;
    Cloth lying = Cloth::drawn(fabric, cloth);
    if (cloth.relaxed) lying.settle();
    path_ = lying.path();
}

HandoutPicture PieceAtRest::face(Side side, Side first, const std::vector<Highlight>& highlights) const {
    // Without the ends of the yarn: the stitches are larger then.
    DrawingOptions options = optionsFor({0, -1, 1, -1});
    options.side = side;
    options.stitchMm = kLargeStitchMm;
    options.highlights = highlights;
    HandoutPicture picture{drawingOf(fabric_, path_, options), sideWords(side, first)};
    picture.drawing.title = picture.caption;
    return picture;
}

std::vector<HandoutPicture> PieceAtRest::bothFaces(Side first,
                                                   const std::vector<Highlight>& highlights) const {
    return {face(first, first, highlights), face(opposite(first), first, highlights)};
}

std::string handoutFrom(const LessonSwatch& swatch) {
    if (swatch.member.empty()) return {};
    return fmt::format("Harbour Lane evening knitting circle: {}'s {}", swatch.member,
                       swatch.thing.empty() ? "swatch" : swatch.thing);
}

}  // namespace loopmend
