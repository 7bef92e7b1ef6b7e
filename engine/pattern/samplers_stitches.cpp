// SPDX-License-Identifier: MIT
#include "pattern/samplers.h"

#include <algorithm>

#include <fmt/format.h>

namespace loopmend {

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
                        Op::m1Left,
                        Op::m1Right,
                        Op::m1PurlLeft,
                        Op::m1PurlRight,
                        Op::m1Open,
                        Op::knitBelow,
                        Op::purlBelow}) {
        std::string id(name(op));
        std::replace(id.begin(), id.end(), ' ', '-');
        both(id, std::string(longName(op, Terms::us)), {stepOf(op)});
    }
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
    return all;
}

}  // namespace loopmend
