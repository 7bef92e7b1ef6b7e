// SPDX-License-Identifier: MIT
//
// Facts about relaxed cloth that hold outside this program. Those about density (Munden; Doyle; Singal et
// al.; Crassous et al.) and the links of courses (Markande & Matsumoto) are tests of patches without edges:
// tests/shape/relax_density.cpp and relax_crossings.cpp. Here are those about whole pieces.
#include <catch2/catch.hpp>

#include <algorithm>
#include <vector>

#include "fabric/hands.h"
#include "fabric/itinerary.h"
#include "pattern/working.h"
#include "shape/cloth.h"

using namespace loopmend;

namespace {

constexpr int kStitches = 15;
constexpr int kRows = 14;

enum class Ground { plain, rib, garter };  // 1x1 rib

Knitting knitted(Ground ground) {
    Script script;
    script.castOn = kStitches;
    for (int r = 1; r <= kRows; ++r) {
        WorkedRow row;
        row.number = row.printed = r;
        row.facing = r % 2 == 1 ? Facing::right : Facing::wrong;
        for (int i = 0; i < kStitches; ++i) {
            bool knit = r % 2 == 1;
            if (ground == Ground::garter) knit = true;
            if (ground == Ground::rib) knit = i % 2 == (r % 2 == 1 ? 0 : 1);
            Step step;
            step.op = knit ? Op::knit : Op::purl;
            row.steps.push_back(step);
        }
        script.rows.push_back(std::move(row));
    }
    return std::move(*knit(script));
}

Point3 middleOf(const Path& path, EntryId e) {
    Point3 sum;
    int n = 0;
    for (const PathStrand& s : path.strands) {
        for (const PathPoint& p : s.points) {
            if (p.entry != e) continue;
            sum = sum + p.at;
            ++n;
        }
    }
    return n > 0 ? sum * (1.0 / n) : sum;
}

struct Size {
    double stitch = 0;  ///< mm from column to column
    double row = 0;
};

/// Between the loops of the needle's columns, four stitches from the edges and three rows from top and
/// bottom.
Size sizeOf(const Cloth& cloth, const Fabric& f) {
    const Layout& layout = cloth.layout();
    std::vector<std::vector<LoopId>> rows;
    for (const SweptRow& row : layout.columns.rows) {
        std::vector<LoopId> loops;
        for (const EntryId e : row.entries) {
            if (f.isLoop(e) && layout[e].placed && f.linkCount(e) > 0) loops.push_back(e);
        }
        std::sort(loops.begin(), loops.end(),
                  [&](LoopId a, LoopId b) { return layout[a].frame.at.x > layout[b].frame.at.x; });
        if (loops.size() == kStitches) rows.push_back(std::move(loops));
    }
    REQUIRE(rows.size() >= 10);
    Size size;
    int n = 0;
    for (std::size_t r = 3; r + 4 < rows.size(); ++r) {
        const auto at = [&](std::size_t row, std::size_t i) { return middleOf(cloth.path(), rows[row][i]); };
        size.stitch += length(at(r, 4) - at(r, 10)) / 6;
        size.row += length(at(r, 7) - at(r + 2, 7)) / 2;  // of ridges every second row
        ++n;
    }
    return {size.stitch / n, size.row / n};
}

double ks(const Size& size, double yarnMm) {
    return yarnMm * yarnMm / (size.stitch * size.row);
}

}  // namespace

TEST_CASE("a ladder hooked up again is the same knitting, as dense as before") {
    // Derived: a run and its mending keep the yarn, and the knot comes back.
    Knitting k = knitted(Ground::plain);
    Fabric& f = *k.fabric;
    const std::string before = knotOf(f);
    const double yarn = (f[YarnId{0}].loopUm + f[YarnId{0}].strandUm) / 1000.0;
    Cloth cloth = Cloth::drawn(f);
    cloth.settle();
    const double was = ks(sizeOf(cloth, f), yarn);
    LoopId loop = k.knitter.ahead()[7];
    REQUIRE(k.knitter.drop(loop));
    REQUIRE(letRunFrom(f, loop, 5) == 5);
    cloth.follow(f);
    cloth.settle();
    CHECK_FALSE(cloth.fault());
    for (std::int32_t e = 0; e < f.entryCount(); ++e) {
        if (f.has(EntryId{e}) && f.isLoop(EntryId{e}) && f.isLoose(EntryId{e})) loop = EntryId{e};
    }
    int sides = 0;
    while (!rungs(f, loop).empty()) {
        Hooking hooking;
        hooking.rung = rungs(f, loop).front();
        hooking.through = {{loop, 0, 0}};
        const auto made = hook(f, hooking);
        REQUIRE(made);
        loop = *made;
        cloth.follow(f);
        cloth.settle();
        ++sides;
    }
    CHECK(sides == 5);
    for (HeldId h = f[f.needle()].first; h; h = f[h].next) {
        if (f[h].loop != loop) continue;
        REQUIRE(f.hold(loop, f.needle(), h, Mount::western));
        break;
    }
    cloth.follow(f);
    cloth.settle();
    CHECK_FALSE(cloth.fault());
    CHECK(knotOf(f) == before);
    CHECK(ks(sizeOf(cloth, f), yarn) == Approx(was).epsilon(0.02));
}

TEST_CASE("a whole piece of plain lies near the density of a piece without edges") {
    // Munden, Journal of the Textile Institute 50 (1959) T448 (from memory): Ks 21.6 for wet-relaxed plain
    // wool. The needle holds this piece at its width, and hands pat it flat: the tolerance is ours.
    const Knitting k = knitted(Ground::plain);
    Cloth cloth = Cloth::drawn(*k.fabric);
    cloth.settle();
    const Size size = sizeOf(cloth, *k.fabric);
    CHECK(ks(size, 21.0) == Approx(21.6).margin(2.5));
    CHECK(size.stitch / size.row == Approx(1.30).margin(0.2));
}

TEST_CASE("rib pulls in where the needle lets it") {
    // Common practice: ribbing is narrower than plain of as many stitches.
    const auto width = [](Ground ground) {
        const Knitting k = knitted(ground);
        Cloth cloth = Cloth::drawn(*k.fabric);
        cloth.settle();
        return sizeOf(cloth, *k.fabric).stitch;
    };
    CHECK(width(Ground::rib) < width(Ground::plain));
}

TEST_CASE("a whole piece of garter has two rows to the width of a stitch, away from its edges") {
    // "Twice as many rows as stitches": common practice, and reference texts; the tolerance is ours.
    const Knitting k = knitted(Ground::garter);
    Cloth cloth = Cloth::drawn(*k.fabric);
    cloth.settle();
    CHECK_FALSE(cloth.fault());
    CHECK(cloth.figures().atRest);
    CHECK(cloth.figures().nearest >= 0.9);
    const Size size = sizeOf(cloth, *k.fabric);
    CHECK(size.stitch / size.row == Approx(2.0).margin(0.25));
}
