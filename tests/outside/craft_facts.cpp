// SPDX-License-Identifier: MIT
//
// Facts of the trade (common practice) as figures that come out of knitted pieces.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "fabric/hands.h"
#include "pattern/counts.h"
#include "pattern/parse.h"
#include "pattern/working.h"
#include "reading/read.h"
#include "shape/cloth.h"
#include "shape/crossings.h"

using namespace loopmend;

namespace {

Script written(const std::string& text, int stitches, int rows) {
    const Pattern pattern = parse(text);
    REQUIRE(pattern.problems.empty());
    const auto script = expand(pattern, stitches, rows);
    INFO((script ? std::string() : script.error().message));
    REQUIRE(script);
    return *script;
}

Knitting knitted(const std::string& text, int stitches, int rows) {
    auto knitting = knit(written(text, stitches, rows));
    REQUIRE(knitting);
    return std::move(*knitting);
}

}  // namespace

// Common practice: three more increases, one every sixth row, take eighteen rows if whole blocks of six are
// counted that each end with their increase; from the first to the last of them are 13 rows, both counted.
TEST_CASE("three increases, one every sixth row", "[outside]") {
    const Knitting k = knitted(
        "Row 1 (RS): k\nRow 2: p\nRow 3: k\nRow 4: p\nRow 5: k\nRow 6 (WS): p4, m1lp, p to end\n", 10, 18);
    std::vector<int> rows;
    for (const ReadRow& row : readFrom(*k.fabric, Side::right).rows) {
        for (const Cell& cell : row.cells) {
            if (cell.symbol.sight == Sight::made) rows.push_back(row.row);
        }
    }
    REQUIRE(rows.size() == 3);
    CHECK(rows.back() == 18);
    CHECK(rows.back() - rows.front() + 1 == 13);
    CHECK(k.knitter.aheadCount() == 13);
}

// Common practice: a triangle worked from the top down with balanced increases about a centre stitch has an
// odd count after every right-side row; a bind-off worked in twos plus one needs an odd count.
TEST_CASE("a triangle from the top down has an odd count, and a bind-off in twos plus one wants one",
          "[outside]") {
    constexpr int kRows = 20;
    std::string text;
    int stitches = 5;
    for (int r = 1; r <= kRows; r += 2, stitches += 4) {
        const int half = (stitches - 3) / 2;
        text +=
            fmt::format("Row {}: k1, yo, k{}, yo, k1, yo, k{}, yo, k1\nRow {}: p\n", r, half, half, r + 1);
    }
    const Knitting k = knitted(text, 5, kRows);
    for (const ReadRow& row : readFrom(*k.fabric, Side::right).rows) {
        if (row.facing == Facing::right) CHECK(row.stitches % 2 == 1);
    }
    CHECK(k.knitter.aheadCount() == stitches);
    const Pattern bindOff = parse("Row 1: *k2tog; rep from * to last st, k1\n");
    REQUIRE(bindOff.problems.empty());
    const PatternCounts counts = countAll(bindOff);
    REQUIRE(counts.multiple);
    CHECK(counts.multiple->of == 2);
    CHECK(counts.multiple->plus == 1);
}

// Common practice: one garter ridge is two rows; along a stockinette edge about three stitches are picked up
// for four rows, along a garter edge one for each ridge: as many stitches as are as wide as the rows are
// high.
TEST_CASE("so many picked-up stitches are as wide as the rows are high", "[outside]") {
    const auto rowsToStitch = [](const std::string& rows) {
        const Knitting k = knitted(rows, 15, 16);
        Cloth cloth = Cloth::drawn(*k.fabric);
        cloth.settle();
        REQUIRE_FALSE(cloth.fault());
        // Between heads in the middle of the piece.
        const Rows found = rowsOf(*k.fabric);
        const auto middle = [&](int row, int column) {
            int n = 0;
            LoopId loop;
            for (std::int32_t e = 0; e < k.fabric->entryCount(); ++e) {
                if (k.fabric->isLoop(EntryId{e}) && found[EntryId{e}] == row &&
                    k.fabric->linkCount(EntryId{e}) > 0 && n++ == (row % 2 == 1 ? column : 14 - column))
                    loop = EntryId{e};
            }
            REQUIRE(loop);
            return middleOf(cloth.path(), {loop});
        };
        const double width = length(middle(7, 4) - middle(7, 10)) / 6;
        const double height = length(middle(5, 7) - middle(11, 7)) / 6;
        return width / height;
    };
    const double plain = 4 / rowsToStitch("Row 1: k\nRow 2: p\n");
    const double ridge = 2 / rowsToStitch("Row 1: k\n");
    INFO(plain << " stitches for four rows of plain, " << ridge << " for a ridge");
    CHECK(plain == Approx(3).margin(0.35));
    CHECK(ridge == Approx(1).margin(0.15));
}

// Common practice: each pair of short rows adds two rows to the side that is worked and none to the one that
// waits, so that the rows above run uphill.
TEST_CASE("short rows raise their side by two rows a pair", "[outside]") {
    struct Wedge {
        double more = 0;   ///< rows of the side worked on, beyond those of the one that waits
        double climb = 0;  ///< degrees by which the rows turn uphill toward that side
        double across = 0;
    };
    const auto wedge = [](int pairs) {
        std::string text = "Row 1: k\nRow 2: p\nRow 3: k\nRow 4: p\n";
        int row = 5;
        for (int i = 0; i < pairs; ++i, row += 2)
            text += fmt::format("Row {}: k{}, w&t\nRow {}: p to end\n", row, 12 - 3 * i, row + 1);
        text += fmt::format("Row {}: k\nRow {}: p\n", row, row + 1);
        const Knitting k = knitted(text, 16, row + 1);
        Cloth cloth = Cloth::drawn(*k.fabric);
        cloth.settle();
        REQUIRE_FALSE(cloth.fault());
        const Rows rows = rowsOf(*k.fabric);
        // The stitches beside the two edges: left and right.
        const auto ends = [&](int of) {
            std::vector<Point3> at;
            for (std::int32_t e = 0; e < k.fabric->entryCount(); ++e) {
                if (k.fabric->isLoop(EntryId{e}) && rows[EntryId{e}] == of)
                    at.push_back(middleOf(cloth.path(), {EntryId{e}}));
            }
            REQUIRE(at.size() == 16);
            std::sort(at.begin(), at.end(), [](Point3 a, Point3 b) { return a.x < b.x; });
            return std::pair{at[1], at[14]};
        };
        const auto lowest = ends(1);
        const auto below = ends(3);
        const auto above = ends(row);
        const double twoRows =
            0.5 * (length(below.first - lowest.first) + length(below.second - lowest.second));
        const auto uphill = [](const std::pair<Point3, Point3>& r) {
            return std::atan2(r.second.y - r.first.y, r.second.x - r.first.x) * 57.29577951;
        };
        Wedge found;
        found.more = 2 * (length(above.second - below.second) - length(above.first - below.first)) / twoRows;
        found.climb = uphill(above) - uphill(below);
        found.across = length(below.second - below.first) / (0.5 * twoRows);
        return found;
    };
    for (const int pairs : {1, 3}) {
        const Wedge w = wedge(pairs);
        INFO(pairs << " pairs: " << w.more << " rows more, " << w.climb << " degrees");
        CHECK(w.more == Approx(2 * pairs).epsilon(0.1));
        // The slope of so many rows over so many stitches.
        CHECK(w.climb == Approx(std::atan(2 * pairs / w.across) * 57.29577951).epsilon(0.15));
    }
}

// Common practice: a yarn-over restored from the bar is tighter than one that was made.
TEST_CASE("a yarn-over restored from the bar has less yarn than one that was made", "[outside]") {
    const Knitting made = knitted("Row 1: k3, yo, k to end\nRow 2: p\n", 8, 2);
    const Knitting restored = knitted("Row 1: k\nRow 2 (WS): p5, m1 open, p to end\n", 8, 2);
    const auto hole = [](const Fabric& f) {
        LoopId found;
        for (std::int32_t e = 0; e < f.entryCount(); ++e) {
            const LoopId loop{e};
            if (f.has(loop) && f.isLoop(loop) && f.linkCount(loop) == 0 && f[loop].flags.anchored == 0)
                found = loop;
        }
        REQUIRE(found);
        const LoopId before = f.loopBefore(found);
        return f[found].um + f[found].strandUm + f[before].strandUm;
    };
    CHECK(hole(*restored.fabric) < hole(*made.fabric) * 2 / 3);
}

// "1x1 rib unthreaded from the cast-on end jams at every knit-purl change": a hand-knitter's analysis (seen).
// From the live edge it comes undone stitch by stitch; at the other end no loop can come out, and an end
// drawn through goes round the strand of the row above wherever knit and purl stand side by side.
TEST_CASE("from the needle a rib comes undone; from the cast-on the yarn is wrapped at every change",
          "[outside]") {
    constexpr int kStitches = 8;
    constexpr int kRow = 3;  // read in the middle, away from the edges
    const auto wraps = [&](const std::string& words) {
        Knitting k = knitted(words, kStitches, 6);
        const Fabric& f = *k.fabric;
        const Rows rows = rowsOf(f);
        // Nothing of the first row can be taken out: another loop stands in each.
        for (std::int32_t e = 0; e < f.entryCount(); ++e) {
            if (f.isLoop(EntryId{e}) && rows[EntryId{e}] == 1)
                CHECK_FALSE(undo(*k.fabric, EntryId{e}).has_value());
        }
        const Cloth cloth = Cloth::drawn(f);
        // Where along its strand each loop begins and ends.
        struct Stretch {
            int strand = -1;
            double from = 0;
            double to = 0;
        };
        std::vector<Stretch> stretch(static_cast<std::size_t>(f.entryCount()));
        for (std::size_t s = 0; s < cloth.path().strands.size(); ++s) {
            const auto& points = cloth.path().strands[s].points;
            for (std::size_t i = 0; i < points.size(); ++i) {
                if (!points[i].entry) continue;
                Stretch& one = stretch[static_cast<std::size_t>(points[i].entry.value)];
                if (one.strand < 0) one = {static_cast<int>(s), static_cast<double>(i), 0};
                one.to = static_cast<double>(i) + 1;
            }
        }
        const auto of = [&](EntryId e) { return stretch[static_cast<std::size_t>(e.value)]; };
        std::vector<bool> wrapped;
        const std::vector<PlanarCrossing> all = crossingsOf(cloth.path());
        for (std::int32_t e = 0; e < f.entryCount(); ++e) {
            const LoopId a{e};
            if (!f.isLoop(a) || rows[a] != kRow || !f[a].next || rows[f[a].next] != kRow) continue;
            const LoopId b = f[a].next;
            const LoopId aboveA = f[f[a].firstKid].loop;
            const LoopId aboveB = f[f[b].firstKid].loop;
            // From head to head, and the strand of the row above between the loops that stand in the two.
            const double from = (of(a).from + of(a).to) / 2;
            const double to = (of(b).from + of(b).to) / 2;
            // That is the middle of its way from head to head.
            const double headA = (of(aboveA).from + of(aboveA).to) / 2;
            const double headB = (of(aboveB).from + of(aboveB).to) / 2;
            const double low = (headA + headB - 0.25 * std::abs(headA - headB)) / 2;
            const double high = (headA + headB + 0.25 * std::abs(headA - headB)) / 2;
            bool over = false;
            bool under = false;
            for (const PlanarCrossing& x : all) {
                const auto in = [](const PlanarCrossing::Branch& branch, int strand, double least,
                                   double most) {
                    return branch.strand == strand && branch.at >= least && branch.at <= most;
                };
                over =
                    over || (in(x.over, of(a).strand, from, to) && in(x.under, of(aboveA).strand, low, high));
                under = under ||
                        (in(x.under, of(a).strand, from, to) && in(x.over, of(aboveA).strand, low, high));
            }
            wrapped.push_back(over && under);
        }
        return wrapped;
    };
    const std::vector<bool> rib = wraps("Row 1: *k1, p1; rep from * to end\n");
    const std::vector<bool> wide = wraps("Row 1: *k2, p2; rep from * to end\n");
    const std::vector<bool> plain = wraps("Row 1: k\nRow 2: p\n");
    REQUIRE(rib.size() == kStitches - 1);
    REQUIRE(wide.size() == kStitches - 1);
    CHECK(std::count(rib.begin(), rib.end(), true) == kStitches - 1);
    for (std::size_t i = 0; i < wide.size(); ++i) CHECK(wide[i] == (i % 2 == 1));
    CHECK(std::count(plain.begin(), plain.end(), true) == 0);

    // From the needle: stitch by stitch down to the cast-on, nothing jams.
    Knitting k = knitted("Row 1: *k1, p1; rep from * to end\n", kStitches, 6);
    int taken = 0;
    for (; k.knitter.tink() || k.knitter.backOneRow(); ++taken) REQUIRE(taken < 1000);
    CHECK(k.fabric->loopCount() == kStitches);  // the hitches of the cast-on
}
