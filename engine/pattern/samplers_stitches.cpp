// SPDX-License-Identifier: MIT
#include "pattern/samplers.h"

#include <algorithm>

#include <fmt/format.h>

#include "pattern/counts.h"
#include "pattern/parse.h"

namespace loopmend {

Sampler writtenSampler(std::string id, std::string words, std::vector<Op> shows, std::string_view pattern,
                       int stitches, int rows, int row, int stitch) {
    Sampler sampler;
    sampler.id = std::move(id);
    sampler.name = std::move(words);
    sampler.shows = std::move(shows);
    sampler.row = row;
    sampler.stitch = stitch;
    // A slip of the pen here leaves a script without rows, and the test of samplers says so.
    if (auto script = expand(parse(pattern), stitches, rows)) sampler.script = std::move(*script);
    return sampler;
}

namespace {

constexpr int kStitches = 12;
constexpr int kRows = 12;
constexpr int kRow = 5;
constexpr int kStitch = 5;

/// A plain piece of twelve by twelve with one operation in the middle of one row, worked with the right side
/// facing (row 5) or the wrong side (row 6). What it adds or takes away stays.
Sampler middle(std::string id, std::string words, const std::vector<Step>& steps, bool wrongSide) {
    Sampler sampler;
    sampler.id = std::move(id) + (wrongSide ? "-ws" : "");
    sampler.name = std::move(words) + (wrongSide ? ", worked on the wrong side" : "");
    for (const Step& step : steps) sampler.shows.push_back(step.op);
    sampler.row = wrongSide ? kRow + 1 : kRow;
    sampler.stitch = kStitch;
    sampler.script.castOn = kStitches;
    int stitches = kStitches;
    for (int r = 1; r <= kRows; ++r) {
        WorkedRow row;
        row.number = row.printed = r;
        row.facing = r % 2 == 1 ? Facing::right : Facing::wrong;
        Step plain;
        plain.op = r % 2 == 1 ? Op::knit : Op::purl;
        int left = stitches;
        const auto put = [&](const Step& step) {
            row.steps.push_back(step);
            left -= uses(step);
            stitches += makes(step) - uses(step);
        };
        if (r == sampler.row) {
            for (int i = 1; i < kStitch; ++i) put(plain);
            std::for_each(steps.begin(), steps.end(), put);
        }
        while (left > 0) put(plain);
        sampler.script.rows.push_back(std::move(row));
    }
    return sampler;
}

Step stepOf(Op op, int count = 1) {
    Step step;
    step.op = op;
    step.count = static_cast<std::int16_t>(count);
    return step;
}

Step cross(int over, int under, bool front, bool purl = false) {
    Step step = stepOf(Op::cable);
    step.over = static_cast<std::int16_t>(over);
    step.under = static_cast<std::int16_t>(under);
    step.front = front;
    (front ? step.purlUnder : step.purlOver) = purl;  // the background lies behind
    return step;
}

Step twisted(bool front, bool purlBack, bool purlAll) {
    Step step = cross(1, 1, front, purlBack);
    step.tblOver = step.tblUnder = true;
    if (purlAll) step.purlOver = step.purlUnder = true;
    // The background is not twisted.
    if (purlBack && !purlAll) (front ? step.tblUnder : step.tblOver) = false;
    return step;
}

/// Crosses of twisted stitches, and crosses worked in purl while the wrong side faces: knits on the right
/// side.
void addMoreCrosses(std::vector<Sampler>& all) {
    for (const bool front : {false, true}) {
        const std::string hand = front ? "left" : "right";
        all.push_back(middle("cross-1-1-" + hand + "-twisted",
                             "1 over 1, crossed to the " + hand + ", both through the back loop",
                             {twisted(front, false, false)}, false));
        all.push_back(middle("cross-1-1-" + hand + "-twisted",
                             "1 over 1, crossed to the " + hand + ", both through the back loop",
                             {twisted(front, false, true)}, true));
        all.push_back(middle("cross-1-1-" + hand + "-twisted-purled",
                             "1 twisted stitch over 1 purl, crossed to the " + hand,
                             {twisted(front, true, false)}, false));
        for (const int n : {1, 2}) {
            Step step = cross(n, n, front);
            step.purlOver = step.purlUnder = true;
            all.push_back(middle(fmt::format("cross-{}-{}-{}-in-purl", n, n, hand),
                                 fmt::format("{} over {}, crossed to the {} in purl", n, n, hand), {step},
                                 true));
        }
    }
}

void addYarnOvers(std::vector<Sampler>& all) {
    const auto here = [&](const std::string& id, const std::string& words, const std::vector<Step>& steps,
                          bool wrongSide = false) { all.push_back(middle(id, words, steps, wrongSide)); };
    const Step yo = stepOf(Op::yarnOver);
    here("yo-ssk", "yarn over, ssk", {yo, stepOf(Op::ssk)});
    here("yo-skp", "yarn over, slip one, knit one, pass over", {yo, stepOf(Op::skp)});
    here("yo-sk2p-yo", "yarn overs on both sides of a double decrease", {yo, stepOf(Op::sk2p), yo});
    here("yo-s2kp-yo", "yarn overs on both sides of a centered double decrease", {yo, stepOf(Op::s2kp), yo});
    here("yo-k3tog-yo", "yarn overs on both sides of three together", {yo, stepOf(Op::k3tog), yo});
    here("yo-p2tog", "yarn over, purl two together", {yo, stepOf(Op::p2tog)}, true);
    here("ssp-yo", "ssp, yarn over", {stepOf(Op::ssp), yo}, true);
    here("p-yo-k", "yarn over between a purl and a knit", {stepOf(Op::purl), yo, stepOf(Op::knit)});
    here("k-yo-p", "yarn over between a knit and a purl", {stepOf(Op::knit), yo, stepOf(Op::purl)});
    const std::string plain = "Rows 1, 3, 7, 9, 11 (RS): knit.\nRows 2, 4, 8, 10, 12: purl.\n";
    all.push_back(writtenSampler("yo-closed", "yarn over, worked through the back loop in the next row",
                                 {Op::yarnOver, Op::purlTbl},
                                 plain + "Row 5: k4, yo, k8.\nRow 6: p8, p1 tbl, p4.\n", 12, 12, 5, 5));
    all.push_back(writtenSampler("yo-let-fall", "yarn over, let fall in the next row", {Op::letFall},
                                 plain + "Row 5: k4, yo, k8.\nRow 6: p8, let 1 fall, p4.\n", 12, 12, 6, 9));
    all.push_back(writtenSampler(
        "double-yo-worked", "a double yarn over, purled and knitted in the next row", {Op::yarnOver},
        plain + "Row 5: k4, k2tog, yo twice, ssk, k4.\nRow 6: p5, p1, k1, p5.\n", 12, 12, 5, 6));
    all.push_back(writtenSampler("spine", "centered double decreases one above another", {Op::s2kp},
                                 "Rows 1, 3, 5, 7, 9, 11 (RS): k1, yo, k4, s2kp, k4, yo, k1.\n"
                                 "Rows 2, 4, 6, 8, 10, 12: purl.\n",
                                 13, 12, 5, 7));
    all.push_back(writtenSampler(
        "k-wrapping", "stitches wrapped twice, the further wrap let fall in the next row",
        {Op::knitWraps, Op::letFall},
        plain + "Row 5: k4, k4 wrapping twice, k4.\nRow 6: p4, (let 1 fall, p1) 4 times, p4.\n", 12, 12, 5,
        5));
    all.push_back(writtenSampler(
        "p-wrapping-ws", "purled with three wraps, two let fall in the next row",
        {Op::purlWraps, Op::letFall},
        "Rows 1, 3, 5, 9, 11 (RS): knit.\nRows 2, 4, 8, 10, 12: purl.\nRow 6: p4, p4 wrapping 3 times, "
        "p4.\nRow 7: k4, (let 2 fall, k1) 4 times, k4.\n",
        12, 12, 6, 5));
}

void addTucks(std::vector<Sampler>& all) {
    all.push_back(writtenSampler("brioche",
                                 "brioche: every stitch slipped with a yarn over it, then both together",
                                 {Op::slipPurlwiseFront, Op::yarnOver, Op::k2tog},
                                 "Row 1 (RS): *sl1yo, k1; rep from * to end.\n"
                                 "Rows 2-12: *sl1yo, brk1; rep from * to end.\n",
                                 12, 12, 5, 0));
    all.push_back(writtenSampler("fishermans-rib", "fisherman's rib: tucks in every knit column",
                                 {Op::knitBelow},
                                 "Row 1 (RS): *k1, p1; rep from * to end.\n"
                                 "Rows 2-12: *k1 below, p1; rep from * to end.\n",
                                 12, 12, 5, 0));
}

}  // namespace

std::vector<Sampler> stitchSamplers() {
    std::vector<Sampler> all;
    const auto both = [&](const std::string& id, const std::string& words, const std::vector<Step>& steps) {
        all.push_back(middle(id, words, steps, false));
        all.push_back(middle(id, words, steps, true));
    };
    for (const Op op : {Op::knit,
                        Op::purl,
                        Op::knitTbl,
                        Op::purlTbl,
                        Op::slipPurlwiseBack,
                        Op::slipPurlwiseFront,
                        Op::slipKnitwiseBack,
                        Op::slipKnitwiseFront,
                        Op::yarnOver,
                        Op::yarnOverReverse,
                        Op::k2tog,
                        Op::ssk,
                        Op::skp,
                        Op::k2togTbl,
                        Op::p2tog,
                        Op::p2togTbl,
                        Op::ssp,
                        Op::spp,
                        Op::k3tog,
                        Op::k3togTbl,
                        Op::sssk,
                        Op::p3tog,
                        Op::p3togTbl,
                        Op::sk2p,
                        Op::sp2p,
                        Op::s2kp,
                        Op::s2pp,
                        Op::slip1k2Over,
                        Op::k2togOver,
                        Op::kfb,
                        Op::kpk,
                        Op::kyok,
                        Op::pfb,
                        Op::pkp,
                        Op::pyop,
                        Op::m1Left,
                        Op::m1Right,
                        Op::m1PurlLeft,
                        Op::m1PurlRight,
                        Op::m1Open,
                        Op::knitBelow,
                        Op::purlBelow,
                        Op::liftedRight,
                        Op::liftedLeft,
                        Op::liftedRightPurl,
                        Op::liftedLeftPurl}) {
        std::string id(name(op));
        std::replace(id.begin(), id.end(), ' ', '-');
        both(id, std::string(longName(op, Terms::us)), {stepOf(op)});
    }
    both("k-both-wraps", "knit, wrapping twice, both wraps worked in the next row",
         {stepOf(Op::knitWraps, 2)});
    both("kfbf", "knit into the front, the back and the front of one stitch", {stepOf(Op::kfb, 3)});
    both("pfbf", "purl into the front, the back and the front of one stitch", {stepOf(Op::pfb, 3)});
    all.push_back(middle("kpkpk", "knit and purl by turns, five in one stitch", {stepOf(Op::kpk, 5)}, false));
    all.push_back(
        middle("kyokyok", "knit and yarn over by turns, five in one stitch", {stepOf(Op::kyok, 5)}, false));
    both("double-yo", "yarn over twice", {stepOf(Op::yarnOver, 2)});
    both("eyelet", "knit two together, yarn over", {stepOf(Op::k2tog), stepOf(Op::yarnOver)});
    for (const auto& [over, under] : {std::pair{1, 1}, std::pair{2, 1}, std::pair{1, 2}, std::pair{2, 2}}) {
        for (const bool front : {false, true}) {
            for (const bool purl : {false, true}) {
                both(fmt::format("cross-{}-{}-{}{}", over, under, front ? "left" : "right",
                                 purl ? "-purled" : ""),
                     fmt::format("{} over {}, crossed to the {}{}", front ? over : under,
                                 front ? under : over, front ? "left" : "right", purl ? " on purls" : ""),
                     {cross(over, under, front, purl)});
            }
        }
    }
    addMoreCrosses(all);
    addYarnOvers(all);
    addTucks(all);
    return all;
}

}  // namespace loopmend
