// SPDX-License-Identifier: MIT
#include "pattern/samplers.h"

#include <algorithm>

#include "fabric/rows.h"
#include "fabric/sewing.h"

namespace loopmend {

namespace {

/// The loops of one row, right to left as the right side shows them.
std::vector<LoopId> rowOf(const Fabric& fabric, int row) {
    std::vector<LoopId> loops;
    const Rows rows = rowsOf(fabric);
    for (const std::vector<LoopId>& of : loopsByRow(fabric, rows)) {
        if (of.empty() || rows[of.front()] != row) continue;
        loops = of;
        if (fabric.run(loops.front()) == Run::rightward) std::reverse(loops.begin(), loops.end());
    }
    return loops;
}

YarnId threadLike(Fabric& fabric, char colour) {
    const Yarn like = fabric[YarnId{0}];
    const YarnId thread = fabric.addYarn(colour, like.loopUm, like.strandUm);
    fabric.setBall(thread, false);
    return thread;
}

/// Three rows of three stitches covered in the middle of the piece, one row after another from right to left.
Result<void> coverMiddle(Knitting& knitting) {
    Fabric& f = *knitting.fabric;
    const YarnId thread = threadLike(f, 'B');
    Run run = Run::leftward;
    for (const int row : {5, 6, 7}) {
        const std::vector<LoopId> loops = rowOf(f, row);
        if (loops.size() < 8)
            return refuse(Why::notEnoughStitches, 8, static_cast<std::int32_t>(loops.size()));
        std::vector<LoopId> covered(loops.begin() + 5, loops.begin() + 8);
        if (run == Run::rightward) std::reverse(covered.begin(), covered.end());
        const auto sewn = duplicateStitches(f, thread, covered, run);
        if (!sewn) return tl::unexpected<Refusal>(sewn.error());
        run = opposite(run);
    }
    return {};
}

/// A row is snipped and picked out; the edges that come free are grafted with a thread of another color.
Result<void> graftRow(Knitting& knitting, int row, const GraftSides& sides) {
    Fabric& f = *knitting.fabric;
    const std::vector<LoopId> below = rowOf(f, row - 1);
    const std::vector<LoopId> above = rowOf(f, row + 1);
    std::vector<LoopId> out = rowOf(f, row);
    if (out.empty()) return refuse(Why::noSuchThing);
    if (f.run(out.front()) == Run::rightward) std::reverse(out.begin(), out.end());
    const auto before = f.cut(f[out.front()].prev);
    if (!before) return tl::unexpected<Refusal>(before.error());
    const auto after = f.cut(out.back());
    if (!after) return tl::unexpected<Refusal>(after.error());
    for (const LoopId loop : out) {
        if (const Result<void> drawn = f.unthread(loop); !drawn) return drawn;
    }
    knitting.knitter.takeYarn(*after);  // the ball hangs above the cut
    const auto sewn = graft(f, threadLike(f, 'B'), below, above, Run::leftward, sides);
    if (!sewn) return tl::unexpected<Refusal>(sewn.error());
    return {};
}

}  // namespace

std::vector<Sampler> colourSamplers() {
    std::vector<Sampler> all;
    const auto written = [&](std::string id, std::string words, const std::string& pattern, int row,
                             int stitch) {
        all.push_back(writtenSampler(std::move(id), std::move(words), {Op::knit, Op::purl}, pattern, 12, 12,
                                     row, stitch));
    };
    written("stripes", "stripes of two colors, two rows each",
            "Yarns: A, B.\nRows 1, 5, 9 (RS): with A, knit.\nRows 2, 6, 10: with A, purl.\n"
            "Rows 3, 7, 11: with B, knit.\nRows 4, 8, 12: with B, purl.\n",
            3, 0);
    written(
        "stranded", "stranded colors, the yarn that waits lies across the back",
        "Yarns: A, B.\nRows 1, 3, 5, 7, 9, 11 (RS): *with A k2, with B k1, with A k1; rep from * to end.\n"
        "Rows 2, 4, 6, 8, 10, 12: *with A p1, with B p2, with A p1; rep from * to end.\n",
        5, 0);
    written("stranded-round", "stranded colors in the round",
            "Yarns: A, B.\nRnds 1-12: *with A k2, with B k2; rep from * to end.\n", 5, 0);
    written("long-float", "a long float across the back",
            "Yarns: A, B.\nRows 1, 3, 7, 9, 11 (RS): with A, knit.\nRows 2, 4, 6, 8, 10, 12: with A, purl.\n"
            "Row 5: with A k2, with B k1, with A k6, with B k1, with A k2.\n",
            5, 4);
    written("caught-float", "a long float, caught with a knit of the next row",
            "Yarns: A, B.\nRows 1, 3, 7, 9, 11 (RS): with A, knit.\nRows 2, 6, 8, 10, 12: with A, purl.\n"
            "Row 4: with A p2, with B p1, with A p6, with B p1, with A p2.\n"
            "Row 5: with A k6, k1 with its float, k5.\n",
            5, 7);
    all.back().shows = {Op::knitWithFloat};
    written("caught-float-ws", "a long float, caught with a purl of the next row",
            "Yarns: A, B.\nRows 1, 3, 7, 9, 11 (RS): with A, knit.\nRows 2, 4, 8, 10, 12: with A, purl.\n"
            "Row 5: with A k2, with B k1, with A k6, with B k1, with A k2.\n"
            "Row 6: with A p6, p1 with its float, p5.\n",
            6, 7);
    all.back().shows = {Op::purlWithFloat};
    written("blocks", "blocks of color, the yarns linked at the change",
            "Yarns: A, B.\nRow 1 (RS): with A k6, with B k6.\n"
            "Rows 3, 5, 7, 9, 11: with A k6, with B linked k6.\n"
            "Rows 2, 4, 6, 8, 10, 12: with B p6, with A linked p6.\n",
            5, 7);
    written("blocks-unlinked", "blocks of color, the yarns not linked: a slit",
            "Yarns: A, B.\nRows 1, 3, 5, 7, 9, 11 (RS): with A k6, with B k6.\n"
            "Rows 2, 4, 6, 8, 10, 12: with B p6, with A p6.\n",
            5, 7);
    written("blocks-three", "a block between two of one color, each from a ball of its own",
            "Yarns: A, B, A2.\nRow 1 (RS): with A k4, with B k4, with A2 k4.\n"
            "Rows 3, 5, 7, 9, 11: with A k4, with B linked k4, with A2 linked k4.\n"
            "Rows 2, 4, 6, 8, 10, 12: with A2 p4, with B linked p4, with A linked p4.\n",
            5, 5);
    written(
        "new-ball", "a new ball of the same color, joined in the middle of a row",
        "Yarns: A, A2.\nRows 1, 3 (RS): with A, knit.\nRows 2, 4: with A, purl.\n"
        "Row 5: with A k6, with A2 k6.\nRows 6, 8, 10, 12: with A2, purl.\nRows 7, 9, 11: with A2, knit.\n",
        5, 7);
    written("duplicate-stitch", "duplicate stitch, sewn over the middle",
            "Rows 1, 3, 5, 7, 9, 11 (RS): knit.\nRows 2, 4, 6, 8, 10, 12: purl.\n", 5, 6);
    all.back().sew = coverMiddle;
    written("graft", "two edges grafted in stockinette, with another color so that it shows",
            "Rows 1, 3, 5, 7, 9, 11 (RS): knit.\nRows 2, 4, 6, 8, 10, 12: purl.\n", 6, 0);
    all.back().sew = [](Knitting& k) { return graftRow(k, 6, {}); };
    written("graft-garter", "two edges grafted in garter stitch, with another color so that it shows",
            "Rows 1-12: knit.\n", 6, 0);
    all.back().sew = [](Knitting& k) {
        return graftRow(k, 6, {std::vector<Side>(12, Side::wrong), std::vector<Side>(12, Side::right)});
    };
    written("graft-rib", "two edges grafted in rib, with another color so that it shows",
            "Rows 1-12: *k2, p2; rep from * to end.\n", 6, 0);
    all.back().sew = [](Knitting& k) {
        std::vector<Side> sides;  // right to left: the first two columns are knits on the right side
        sides.reserve(12);
        for (int i = 0; i < 12; ++i) sides.push_back(i % 4 < 2 ? Side::right : Side::wrong);
        if (k.knitter.mirrored()) std::reverse(sides.begin(), sides.end());
        return graftRow(k, 6, {sides, sides});
    };
    return all;
}

}  // namespace loopmend
