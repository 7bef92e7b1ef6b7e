// SPDX-License-Identifier: MIT
#include "picture/drawing.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <set>

#include "fabric/rows.h"
#include "picture/cloths.h"
#include "picture/paper/paper.h"
#include "picture/scenes.h"
#include "picture/strokes.h"
#include "shape/crossings.h"

namespace loopmend {
namespace {

bool says(const Drawing& drawing, const std::string& words) {
    return std::any_of(drawing.items.begin(), drawing.items.end(), [&](const DrawItem& item) {
        return item.what == DrawItem::What::words && item.words == words;
    });
}

std::size_t strokes(const Drawing& drawing) {
    std::size_t n = 0;
    for (const DrawItem& item : drawing.items) n += item.what == DrawItem::What::stroke ? 1 : 0;
    return n;
}

}  // namespace

TEST_CASE("what lies over is drawn after what lies under, seen from both sides") {
    for (const Scene& scene : scenes()) {
        const Swatch s = scene.knit();
        const Path path = pathOf(*s.fabric, layoutOf(*s.fabric));
        const std::vector<PlanarCrossing> crossings = crossingsOf(path);
        REQUIRE(crossings.size() > 100);
        for (const double side : {1.0, -1.0}) {
            const std::vector<StrokePiece> pieces = piecesOf(path, side);
            const auto drawnAt = [&](const PlanarCrossing::Branch& b) {
                for (std::size_t i = 0; i < pieces.size(); ++i) {
                    if (pieces[i].strand == b.strand && pieces[i].from <= b.at && b.at <= pieces[i].to)
                        return i;
                }
                return pieces.size();
            };
            std::size_t wrong = 0;
            for (const PlanarCrossing& x : crossings) {
                const std::size_t over = drawnAt(side > 0 ? x.over : x.under);
                const std::size_t under = drawnAt(side > 0 ? x.under : x.over);
                REQUIRE(over < pieces.size());
                REQUIRE(under < pieces.size());
                wrong += over > under ? 0 : 1;
            }
            INFO(scene.name << ", side " << side);
            CHECK(wrong == 0);
        }
    }
}

TEST_CASE("the pieces of a strand cover it once, and there are few") {
    const Swatch s = scenes().front().knit();
    const Path path = pathOf(*s.fabric, layoutOf(*s.fabric));
    std::vector<StrokePiece> pieces = piecesOf(path, 1);
    std::sort(pieces.begin(), pieces.end(), [](const StrokePiece& a, const StrokePiece& b) {
        return a.strand != b.strand ? a.strand < b.strand : a.from < b.from;
    });
    double at = 0;
    int strand = 0;
    for (const StrokePiece& piece : pieces) {
        if (piece.strand != strand) {
            CHECK(at ==
                  static_cast<double>(path.strands[static_cast<std::size_t>(strand)].points.size()) - 1);
            strand = piece.strand;
            at = 0;
        }
        CHECK(piece.from == at);
        at = piece.to;
    }
    // About five for each stitch: nothing is cut that crosses nothing in between.
    CHECK(pieces.size() < 6 * static_cast<std::size_t>(s.fabric->loopCount()));
}

TEST_CASE("a drawing says which side it is, and numbers rows where they begin") {
    const Swatch s = scenes().front().knit();
    DrawingOptions options;
    const Drawing right = drawingOf(*s.fabric, options);
    CHECK(says(right, "right side"));
    CHECK(says(right, "1"));
    CHECK(says(right, "8"));
    CHECK_FALSE(says(right, "0"));
    options.side = Side::wrong;
    const Drawing wrong = drawingOf(*s.fabric, options);
    CHECK(says(wrong, "wrong side"));
    CHECK_FALSE(says(wrong, "right side"));
    // Row 1 begins at the right edge, seen from the right side; turned over, at the left.
    const auto where = [](const Drawing& d, const std::string& words) {
        for (const DrawItem& item : d.items) {
            if (item.what == DrawItem::What::words && item.words == words) return item.at.x / d.widthMm;
        }
        return -1.0;
    };
    CHECK(where(right, "1") > 0.8);
    CHECK(where(right, "2") < 0.2);
    CHECK(where(wrong, "1") < 0.2);
    CHECK(where(wrong, "2") > 0.8);
}

TEST_CASE("a part of a piece is smaller than the whole, and its rows are named alone") {
    const Swatch s = scenes().front().knit();
    DrawingOptions options;
    const Drawing whole = drawingOf(*s.fabric, options);
    options.firstRow = 3;
    options.lastRow = 5;
    options.firstStitch = 2;
    options.lastStitch = 5;
    const Drawing part = drawingOf(*s.fabric, options);
    CHECK(part.widthMm < whole.widthMm);
    CHECK(part.heightMm < whole.heightMm);
    CHECK(strokes(part) < strokes(whole));
    CHECK(says(part, "3"));
    CHECK_FALSE(says(part, "6"));
    options.firstRow = 90;
    options.lastRow = 95;
    CHECK(says(drawingOf(*s.fabric, options), "no stitches here"));
    CHECK(says(drawingOf(Fabric{}), "no stitches here"));
}

TEST_CASE("a picture about one stitch shows it whole, and so much around it as is asked for") {
    const Swatch s = scenes().front().knit();
    DrawingOptions options;
    options.rowNumbers = false;
    options.caption = false;
    const Drawing whole = drawingOf(*s.fabric, options);
    const Rows rows = rowsOf(*s.fabric);
    std::vector<EntryId> row;
    for (std::int32_t e = 0; e < s.fabric->entryCount(); ++e) {
        if (s.fabric->isLoop(EntryId{e}) && rows[EntryId{e}] == 4) row.emplace_back(e);
    }
    REQUIRE(row.size() > 4);
    options.about = {row[2]};
    const Drawing one = drawingOf(*s.fabric, options);
    // A stitch and a half to either side of it, strands and all; not cut out of the middle of the row only.
    CHECK(one.widthMm == Approx(4.2 * options.stitchMm).margin(0.6 * options.stitchMm));
    CHECK(one.heightMm < whole.heightMm);
    options.about = {row[2], row[3]};
    CHECK(drawingOf(*s.fabric, options).widthMm ==
          Approx(one.widthMm + options.stitchMm).margin(0.4 * options.stitchMm));
    options.stitchesAbout = 0.5;
    CHECK(drawingOf(*s.fabric, options).widthMm < one.widthMm);
    // Of what is not there: as if nothing had been asked for.
    options.about = {EntryId{s.fabric->entryCount() + 5}};
    CHECK(drawingOf(*s.fabric, options).widthMm == whole.widthMm);
}

TEST_CASE("pulled wide, a piece is wider and lower") {
    const Swatch s = scenes().front().knit();
    DrawingOptions options = plainOptions(scenes().front(), Side::right);
    options.firstRow = options.firstStitch = 0;
    options.lastRow = options.lastStitch = -1;
    const Drawing plain = drawingOf(*s.fabric, options);
    options.stretch = 1.79;
    const Drawing wide = drawingOf(*s.fabric, options);
    CHECK(wide.widthMm > 1.6 * plain.widthMm);
    // A plain cell widened 1.79 times is 0.66 times as high: Singal et al., Programming mechanics in knitted
    // materials, stitch by stitch, Nature Communications 15 (2024) 2622, published sample output.
    CHECK(wide.heightMm / plain.heightMm == Approx(0.66).margin(0.06));
}

TEST_CASE("a highlight is more than a colour") {
    const Swatch s = scenes().front().knit();
    DrawingOptions options;
    const LoopId loop = s.k.ahead()[3];
    const Drawing plain = drawingOf(*s.fabric, options);
    const auto widths = [](const Drawing& d) {
        std::set<long> all;
        for (const DrawItem& item : d.items) {
            if (item.what == DrawItem::What::stroke) all.insert(std::lround(item.widthMm * 1000));
        }
        return all;
    };
    options.highlights.push_back({loop, 2, Highlight::Line::none, ""});
    const Drawing marked = drawingOf(*s.fabric, options);
    CHECK(*widths(marked).rbegin() > *widths(plain).rbegin());

    options.highlights[0].line = Highlight::Line::dots;
    options.highlights[0].letter = "a";
    const Drawing more = drawingOf(*s.fabric, options);
    CHECK(says(more, "a"));
    CHECK(
        std::any_of(more.items.begin(), more.items.end(), [](const DrawItem& i) { return !i.dash.empty(); }));
    CHECK(std::none_of(plain.items.begin(), plain.items.end(),
                       [](const DrawItem& i) { return !i.dash.empty(); }));
}

TEST_CASE("the eight colours can be told apart by how light they are, or are no near neighbours") {
    // Relative luminance, Rec. 709 weights.
    for (int i = 0; i < 8; ++i) {
        for (int k = i + 1; k < 8; ++k) {
            const Colour a = safeColour(i);
            const Colour b = safeColour(k);
            const double light = std::abs(0.2126 * (a.r - b.r) + 0.7152 * (a.g - b.g) + 0.0722 * (a.b - b.b));
            const double yellowBlue = std::abs((a.r + a.g) / 2 - a.b - (b.r + b.g) / 2 + b.b);
            INFO(i << " and " << k);
            CHECK(light + yellowBlue > 0.12);
        }
    }
}

TEST_CASE("a dark ground takes light words") {
    const Swatch s = scenes().front().knit();
    DrawingOptions options;
    options.dark = true;
    const Drawing d = drawingOf(*s.fabric, options);
    CHECK(d.ground.r < 0.3);
    for (const DrawItem& item : d.items) {
        if (item.what == DrawItem::What::words) CHECK(item.colour.r > 0.7);
    }
}

TEST_CASE("yarn that lies otherwise is drawn where it lies, as large as the sheet wants it") {
    const SeenCloth cloth = seenCloth(8, 8);
    DrawingOptions options;
    options.rowNumbers = false;
    options.caption = false;
    options.stitchMm = 10;
    const Drawing small = drawingOf(cloth.fabric(), cloth.path, options);
    options.stitchMm = 20;
    const Drawing large = drawingOf(cloth.fabric(), cloth.path, options);
    CHECK(large.widthMm == Approx(2 * small.widthMm));
    CHECK(large.heightMm == Approx(2 * small.heightMm));
    CHECK(small.widthMm > 70);
    CHECK(strokes(small) > 200);
    // A middle stitch alone takes less room, and the same room wherever the cloth lies.
    options.firstRow = options.lastRow = 4;
    options.firstStitch = 3;
    options.lastStitch = 5;
    const Drawing part = drawingOf(cloth.fabric(), cloth.path, options);
    CHECK(part.widthMm < 0.7 * large.widthMm);
    CHECK(part.heightMm < 0.5 * large.heightMm);
    Path moved = cloth.path;
    for (PathStrand& s : moved.strands) {
        for (PathPoint& p : s.points) p.at = p.at + Point3{40, -25, 0};
    }
    const Drawing elsewhere = drawingOf(cloth.fabric(), moved, options);
    CHECK(elsewhere.widthMm == Approx(part.widthMm));
    CHECK(elsewhere.heightMm == Approx(part.heightMm));
    CHECK(strokes(elsewhere) == strokes(part));
    CHECK(drawingOf(cloth.fabric(), Path{}, options).items.size() == 1);
}

TEST_CASE("wool is the same yarn with more strokes, and marks are seen on it") {
    const SeenCloth cloth = seenCloth(6, 6, Oddity::bump);
    DrawingOptions options;
    options.style = YarnStyle::wool;
    const Drawing wool = drawingOf(cloth.fabric(), cloth.path, options);
    options.style = YarnStyle::outlined;
    const Drawing outlined = drawingOf(cloth.fabric(), cloth.path, options);
    CHECK(wool.widthMm == Approx(outlined.widthMm));
    CHECK(strokes(wool) > 2 * strokes(outlined));
    options.style = YarnStyle::wool;
    Highlight mark;
    mark.entry = cloth.path.strands.front().points[150].entry;
    mark.line = Highlight::Line::dashes;
    options.highlights.push_back(mark);
    const Drawing marked = drawingOf(cloth.fabric(), cloth.path, options);
    CHECK(std::count_if(marked.items.begin(), marked.items.end(),
                        [](const DrawItem& item) { return !item.dash.empty(); }) > 0);
    const auto png = onPaper(wool, PaperFormat::png, {2});
    CHECK(png.has_value());
}

}  // namespace loopmend
