// SPDX-License-Identifier: MIT
#include "picture/written_chart.h"

#include <algorithm>
#include <catch2/catch.hpp>

#include "pattern/parse.h"
#include "picture/chart_signs.h"

namespace loopmend {
namespace {

WrittenChart charted(const std::string& text) {
    const auto chart = chartOf(parse(text));
    INFO((chart ? "" : chart.error().message));
    REQUIRE(chart);
    return *chart;
}

const DrawItem* find(const Drawing& drawing, const std::string& words) {
    const auto it = std::find_if(drawing.items.begin(), drawing.items.end(), [&](const DrawItem& item) {
        return item.what == DrawItem::What::words && item.words == words;
    });
    return it == drawing.items.end() ? nullptr : &*it;
}

/// Strokes as wide as the outline of a repeat.
int heavy(const Drawing& drawing, double squareMm) {
    return static_cast<int>(
        std::count_if(drawing.items.begin(), drawing.items.end(), [&](const DrawItem& item) {
            return item.what == DrawItem::What::stroke && item.widthMm > 0.13 * squareMm &&
                   item.widthMm < 0.2 * squareMm;
        }));
}

const char* const kLace =
    "Small lace\nRow 1 (RS): k1, *yo, k3, k2tog; rep from * to last st, k1.\nRow 2: p.\n"
    "Row 3: k2, *yo, k3, k2tog; rep from * to last 5 sts, k5.\nRow 4: p.\nRepeat rows 1-4.\n";

}  // namespace

TEST_CASE("a written chart always has its legend, with the words for each side it is worked on") {
    const Drawing drawing = drawingOf(charted(kLace));
    for (const char* words : {"k1; WS p1", "yo", "k2tog", "repeat this", "Small lace", "Repeat rows 1-4."}) {
        INFO(words);
        CHECK(find(drawing, words) != nullptr);
    }
    CHECK(find(drawing, "no stitch: pass over it") == nullptr);
    const Drawing fan =
        drawingOf(charted("Row 1 (RS): k1, yo, k1, yo, k1.\nRow 2: p.\nRow 3: ssk, k1, k2tog.\n"));
    CHECK(find(fan, "no stitch: pass over it") != nullptr);
    CHECK(find(fan, "repeat this") == nullptr);
    // Grey, and crossed by two fine strokes.
    Drawing empty;
    drawNoStitch(empty, {0, 0}, {6, {0, 0, 0}, {1, 1, 1}});
    CHECK(empty.items.size() == 3);
}

TEST_CASE("row numbers stand where rows begin, for either hand") {
    WrittenChart chart = charted(kLace);
    for (const bool left : {false, true}) {
        chart.leftHanded = left;
        const Drawing drawing = drawingOf(chart);
        const DrawItem* const first = find(drawing, "3");
        const DrawItem* const second = find(drawing, "4");
        REQUIRE(first);
        REQUIRE(second);
        CHECK((first->at.x > second->at.x) == !left);
        CHECK(first->at.y > second->at.y);
    }
}

TEST_CASE("the outline of the repeat is heavy, and jogs where its edges do") {
    const WrittenChart straight =
        charted("Row 1 (RS): *k2, p2; rep from * to end.\nRow 2: *k2, p2; rep from * to end.\n");
    const WrittenChart jogs = charted(kLace);
    CHECK(heavy(drawingOf(straight), 6) > 0);
    bool jogged = false;
    for (const WrittenRow& row : jogs.rows) jogged = jogged || row.boxFirst != jogs.rows.front().boxFirst;
    CHECK(jogged);
    CHECK(heavy(drawingOf(charted("Row 1 (RS): k1, yo, k2.\n")), 6) == 0);
}

TEST_CASE("faces and reverses: X and O on square paper") {
    const WrittenChart rib = charted("Row 1 (RS): k1, p1.\nRow 2: k1, p1.\n");
    WrittenChartOptions options;
    const std::size_t symbols = drawingOf(rib, options).items.size();
    options.style = ChartStyle::faceReverse;
    // Two strokes for each X where the symbol has one: two in the chart, one in the legend.
    CHECK(drawingOf(rib, options).items.size() == symbols + 3);
}

TEST_CASE("nothing of a written chart lies beside its sheet, whatever is in it") {
    const char* const all =
        "A long title that needs more than one line on a sheet as narrow as this one surely is\n"
        "Row 1 (RS): k1, p1, yo, ssk, skp, k2tog tbl, k2tog, s2kp, sk2p, k3tog, k1 tbl, sl1, sl1 wyif, k1 "
        "below, "
        "kfb, kyok, m1l, m1r, m1 open, 2/2 LC, 2/1 RPC, p2tog, p1 tbl, cast on 2, k1.\n";
    for (const char* text : {all, kLace, "Row 1: k1.\n"}) {
        for (const bool left : {false, true}) {
            WrittenChart chart = charted(text);
            chart.leftHanded = left;
            const Drawing drawing = drawingOf(chart);
            for (const DrawItem& item : drawing.items) {
                for (const Point2& p : item.curve.points) {
                    CHECK(p.x >= 0);
                    CHECK(p.x <= drawing.widthMm);
                    CHECK(p.y >= 0);
                    CHECK(p.y <= drawing.heightMm);
                }
            }
        }
    }
    CHECK(find(drawingOf(WrittenChart{}), "no stitches here") != nullptr);
}

TEST_CASE("every sign that can be written is drawn, and no two alike") {
    std::vector<Drawing> drawn;
    for (int i = 0; i < kOpCount; ++i) {
        Step step;
        step.op = static_cast<Op>(i);
        if (step.op == Op::cable) continue;
        const StitchSign sign = signOf(step, Facing::right);
        Drawing drawing;
        drawSign(drawing, {sign.sign, sign.bar, sign.count, sign.way}, {0, 0}, {6, {0, 0, 0}, {1, 1, 1}});
        INFO(name(step.op));
        CHECK_FALSE(drawing.items.empty());
        for (const Drawing& other : drawn) {
            const bool same = std::equal(drawing.items.begin(), drawing.items.end(), other.items.begin(),
                                         other.items.end(), [](const DrawItem& a, const DrawItem& b) {
                                             return a.what == b.what && a.words == b.words &&
                                                    std::equal(a.curve.points.begin(), a.curve.points.end(),
                                                               b.curve.points.begin(), b.curve.points.end(),
                                                               [](const Point2& p, const Point2& q) {
                                                                   return p.x == q.x && p.y == q.y;
                                                               });
                                         });
            CHECK_FALSE(same);
        }
        drawn.push_back(std::move(drawing));
    }
}

}  // namespace loopmend
