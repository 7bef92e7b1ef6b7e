// SPDX-License-Identifier: MIT
#include "fault/grounds.h"

#include <algorithm>

#include "fault/ground_rows.h"

namespace loopmend {

namespace {

using Steps = std::vector<Step>;
using Place = GroundRow;

void add(Steps& steps, Op op, int times = 1) {
    addSteps(steps, op, times);
}

Step ropeCross(bool front) {
    Step step;
    step.op = Op::cable;
    step.over = 2;
    step.under = 2;
    step.front = front;
    return step;
}

/// Repeats of a pattern: at least one, and enough for the width.
int repeats(int stitches, int multiple, int edge) {
    return std::max(1, (stitches - edge + multiple - 1) / multiple);
}

Steps garterRow(const Place& p) {
    Steps steps;
    add(steps, p.round && p.row % 2 == 1 ? Op::purl : Op::knit, p.stitches);
    return steps;
}

Steps ribRow(const Place& p) {
    Steps steps;
    for (int i = 0; i < p.stitches; ++i) add(steps, (i % 4 < 2) != p.wrong ? Op::knit : Op::purl);
    return steps;
}

Steps seedRow(const Place& p) {
    Steps steps;
    const int first = p.round ? p.row : 0;
    for (int i = 0; i < p.stitches; ++i) add(steps, (i + first) % 2 == 0 ? Op::knit : Op::purl);
    return steps;
}

Steps eyeletRow(const Place& p) {
    if (p.row % 2 == 1) return stockinetteRow(p);
    Steps steps;
    if (!p.round) add(steps, Op::knit);
    for (int i = 0; i < p.repeats; ++i) {
        if (p.row % 4 == 0) {
            add(steps, Op::k2tog);
            add(steps, Op::yarnOver);
            add(steps, Op::knit, 2);
        } else {
            add(steps, Op::knit, 2);
            add(steps, Op::yarnOver);
            add(steps, Op::ssk);
        }
    }
    if (!p.round) add(steps, Op::knit, 2);
    return steps;
}

Steps netRow(const Place& p) {
    Steps steps;
    if (!p.round) add(steps, p.wrong ? Op::purl : Op::knit);
    for (int i = 0; i < p.repeats; ++i) {
        if (p.round && p.row % 2 == 1) {
            add(steps, Op::ssk);
            add(steps, Op::yarnOver);
        } else {
            add(steps, Op::yarnOver);
            add(steps, p.wrong ? Op::p2tog : Op::k2tog);
        }
    }
    if (!p.round) add(steps, p.wrong ? Op::purl : Op::knit);
    return steps;
}

Steps spineRow(const Place& p) {
    if (p.row % 2 == 1) return stockinetteRow(p);
    Steps steps;
    if (!p.round) add(steps, Op::knit);
    for (int i = 0; i < p.repeats; ++i) {
        add(steps, Op::yarnOver);
        add(steps, Op::knit);
        add(steps, Op::s2kp);
        add(steps, Op::knit);
        add(steps, Op::yarnOver);
        add(steps, Op::knit);
    }
    return steps;
}

Steps cableRow(const Place& p) {
    Steps steps;
    if (!p.round) add(steps, p.wrong ? Op::knit : Op::purl, 2);
    for (int i = 0; i < p.repeats; ++i) {
        if (p.row % 4 == 2) {
            steps.push_back(ropeCross(i % 2 == 0));
        } else {
            add(steps, p.wrong ? Op::purl : Op::knit, 4);
        }
        add(steps, p.wrong ? Op::knit : Op::purl, 2);
    }
    return steps;
}

Steps shapedRow(const Place& p) {
    if (p.row % 2 == 1) return stockinetteRow(p);
    Steps steps;
    add(steps, Op::knit);
    switch (p.row / 2 % 4) {
        case 0:
            add(steps, Op::m1Left);
            add(steps, Op::knit, p.stitches - 2);
            add(steps, Op::m1Right);
            break;
        case 1:
            add(steps, Op::ssk);
            add(steps, Op::knit, p.stitches - 6);
            add(steps, Op::k2tog);
            break;
        case 2:
            add(steps, Op::kfb);
            add(steps, Op::knit, p.stitches - 4);
            add(steps, Op::kfb);
            break;
        default:
            add(steps, Op::sk2p);
            add(steps, Op::knit, p.stitches - 5);
            break;
    }
    // The increases end before the last stitch, the decreases before the last one or two.
    int used = 0;
    for (const Step& step : steps) used += uses(step);
    add(steps, Op::knit, p.stitches - used);
    return steps;
}

struct Ground {
    StockGround ground;
    std::string_view name;
    int multiple;
    int edge;       ///< flat
    int edgeRound;  ///< in the round
    Steps (*row)(const Place&);
    bool flat = false;  ///< not in the round
    std::string_view yarns = "A";
};

constexpr Ground kGrounds[kAllStockGrounds] = {
    {StockGround::stockinette, "stockinette", 1, 0, 0, stockinetteRow},
    {StockGround::garter, "garter", 1, 0, 0, garterRow},
    {StockGround::rib, "rib", 4, 2, 0, ribRow},
    {StockGround::seed, "seed", 2, 1, 0, seedRow},
    {StockGround::eyelets, "eyelets", 4, 3, 0, eyeletRow},
    {StockGround::net, "net", 2, 2, 0, netRow},
    {StockGround::spines, "spines", 6, 1, 0, spineRow},
    {StockGround::cables, "cables", 6, 2, 0, cableRow},
    {StockGround::shaped, "shaped", 1, 0, 0, shapedRow},
    {StockGround::chained, "chained", 1, 0, 0, chainedRow, true},
    {StockGround::bound, "bound", 1, 0, 0, boundRow},
    {StockGround::banded, "banded", 1, 0, 0, bandedRow, true},
    {StockGround::turned, "turned", 1, 0, 0, turnedRow, true},
    {StockGround::joined, "joined", 1, 0, 0, joinedRow, false, "AA"},
    {StockGround::stranded, "stranded", 4, 0, 0, strandedRow, false, "AB"},
    {StockGround::blocks, "blocks", 1, 0, 0, blocksRow, true, "AB"},
    {StockGround::caught, "caught", 7, 0, 0, caughtRow, false, "AB"},
};

}  // namespace

void addSteps(std::vector<Step>& steps, Op op, int times) {
    Step step;
    step.op = op;
    for (int i = 0; i < times; ++i) steps.push_back(step);
}

std::vector<Step> stockinetteRow(const GroundRow& p) {
    Steps steps;
    add(steps, p.wrong ? Op::purl : Op::knit, p.stitches);
    return steps;
}

bool goesRound(StockGround ground) {
    return !kGrounds[static_cast<std::size_t>(ground)].flat;
}

std::string_view name(StockGround ground) {
    return kGrounds[static_cast<std::size_t>(ground)].name;
}

Script stockGround(StockGround which, int stitches, int rows, bool inTheRound) {
    const Ground& ground = kGrounds[static_cast<std::size_t>(which)];
    const bool round = inTheRound && !ground.flat;
    const int edge = round ? ground.edgeRound : ground.edge;
    const int least = which == StockGround::shaped ? std::max(stitches, 10) : stitches;
    const int n = repeats(least, ground.multiple, edge);
    Script script;
    script.castOn = n * ground.multiple + edge;
    script.round = round;
    script.yarns = ground.yarns;
    int live = script.castOn;
    for (int i = 0; i < rows; ++i) {
        const bool wrong = !round && i % 2 == 1;
        WorkedRow row;
        row.number = i + 1;
        row.printed = i + 1;
        row.facing = wrong ? Facing::wrong : Facing::right;
        row.round = round;
        row.steps = ground.row({i, rows, wrong, round, n, live});
        for (const Step& step : row.steps) live += makes(step) - uses(step);
        script.rows.push_back(std::move(row));
    }
    return script;
}

}  // namespace loopmend
