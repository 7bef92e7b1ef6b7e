// SPDX-License-Identifier: MIT
#include "picture/chart.h"

#include <algorithm>
#include <cstdlib>
#include <unordered_map>

namespace loopmend {

namespace {

Sign togetherSign(const Symbol& s) {
    if (s.bases == 2) return s.lean == Lean::left ? Sign::rightOver : Sign::leftOver;
    if (s.bases != 3) return Sign::several;
    if (s.lean == Lean::upright) return Sign::centreOver;
    return s.lean == Lean::left ? Sign::rightOver3 : Sign::leftOver3;
}

Sign twistSign(Lean hand) {
    return hand == Lean::left ? Sign::twistedLeft : hand == Lean::right ? Sign::twistedRight : Sign::wound;
}

Sign signOf(const Symbol& s) {
    if (s.boundOff || (s.chained && s.anchored)) return Sign::castOff;
    if (s.loose && s.sight != Sight::rung) return Sign::loose;
    switch (s.sight) {
        case Sight::stitch:
            if (s.crossing != Lean::none) return Sign::crossing;
            if (s.twist != 0) return twistSign(s.twistHand());
            if (s.sisters > 1) return Sign::fromOne;
            return s.face == Face::v ? Sign::knit : Sign::purl;
        case Sight::together: return togetherSign(s);
        case Sight::made: return s.twist == 0 ? Sign::made : s.twist < 0 ? Sign::madeLeft : Sign::madeRight;
        case Sight::hole: return Sign::yarnOver;
        case Sight::castOn: return Sign::castOn;
        case Sight::slipped: return s.strand == Strand::inFront ? Sign::slippedInFront : Sign::slipped;
        case Sight::tuck: return Sign::below;
        case Sight::wrapped: return Sign::wrapped;
        case Sight::turned: return Sign::turned;
        case Sight::caught: return Sign::caught;
        case Sight::pickedUp: return Sign::pickedUp;
        case Sight::rung: return Sign::rung;
    }
    return Sign::knit;
}

/// Signs that have a purl form.
bool hasBar(const Symbol& s, Sign sign) {
    if (s.face != Face::bump) return false;
    switch (sign) {
        case Sign::knit:
        case Sign::purl:
        case Sign::yarnOver:
        case Sign::slipped:
        case Sign::slippedInFront:
        case Sign::castOff:
        case Sign::castOn:
        case Sign::rung:
        case Sign::loose: return false;
        default: return true;
    }
}

class Charting {
  public:
    Charting(const Fabric& fabric, const Reading& reading, const ChartOptions& options)
        : f_(fabric), reading_(reading), options_(options) {}

    Chart run() {
        Chart chart;
        chart.side = reading_.side;
        for (const ReadRow& row : reading_.rows) {
            if (row.cells.empty()) continue;
            ChartRow line = squaresOf(row);
            align(line);
            if (row.row < 1) continue;
            chart.rows.push_back(std::move(line));
        }
        cut(chart);
        if (reading_.side == Side::wrong) mirror(chart);
        measure(chart);
        return chart;
    }

  private:
    ChartRow squaresOf(const ReadRow& row) const {
        ChartRow line;
        line.row = row.row;
        const bool leftward = (row.facing == Facing::right) != reading_.mirrored;
        line.fromRight = row.round || leftward;
        if (row.round && reading_.mirrored) line.fromRight = false;
        for (const Cell& cell : row.cells) {
            ChartSquare square;
            square.sign = signOf(cell.symbol);
            square.bar = hasBar(cell.symbol, square.sign);
            square.count = square.sign == Sign::fromOne ? cell.symbol.sisters : cell.symbol.bases;
            square.front = cell.symbol.crossesInFront;
            square.colour = cell.symbol.colour;
            square.loop = cell.loop;
            line.squares.push_back(square);
        }
        return line;
    }

    /// The loop on which a square stands: what was drawn through, or the slipped loop itself.
    std::int32_t placeBelow(const ChartSquare& square) const {
        const auto own = places_.find(square.loop.value);
        if (own != places_.end()) return own->second;
        std::int32_t sum = 0;
        int n = 0;
        for (LinkId l = f_[square.loop].firstLink; l; l = f_[l].nextInLoop) {
            const auto host = places_.find(f_[l].host.value);
            if (host == places_.end()) continue;
            sum += host->second;
            ++n;
        }
        return n == 0 ? kNone : sum / n;
    }

    /// Shifts the row so that most squares lie above the squares they stand on, and notes how far crossing
    /// columns came.
    void align(ChartRow& line) {
        std::vector<int> shifts;
        for (std::size_t i = 0; i < line.squares.size(); ++i) {
            const std::int32_t below = placeBelow(line.squares[i]);
            if (below != kNone && line.squares[i].sign != Sign::crossing)
                shifts.push_back(below - static_cast<int>(i));
        }
        if (!shifts.empty()) {
            std::sort(shifts.begin(), shifts.end());
            line.start = shifts[(shifts.size() - 1) / 2];
        }
        for (std::size_t i = 0; i < line.squares.size(); ++i) {
            ChartSquare& square = line.squares[i];
            if (square.sign != Sign::crossing) continue;
            const std::int32_t below = placeBelow(square);
            if (below != kNone) square.moved = below - (line.start + static_cast<int>(i));
        }
        for (std::size_t i = 0; i < line.squares.size(); ++i)
            places_[line.squares[i].loop.value] = line.start + static_cast<int>(i);
    }

    void cut(Chart& chart) const {
        std::vector<ChartRow> kept;
        for (ChartRow& line : chart.rows) {
            if (line.row < options_.firstRow) continue;
            if (options_.lastRow >= 0 && line.row > options_.lastRow) continue;
            ChartRow part = line;
            part.squares.clear();
            for (std::size_t i = 0; i < line.squares.size(); ++i) {
                const auto stitch = static_cast<int>(i) + 1;
                if (stitch < options_.firstStitch) {
                    part.start = line.start + stitch;
                    continue;
                }
                if (options_.lastStitch > 0 && stitch > options_.lastStitch) break;
                part.squares.push_back(line.squares[i]);
            }
            if (!part.squares.empty()) kept.push_back(std::move(part));
        }
        chart.rows = std::move(kept);
    }

    static void mirror(Chart& chart) {
        for (ChartRow& line : chart.rows) {
            line.start = -(line.start + static_cast<int>(line.squares.size()) - 1);
            line.fromRight = !line.fromRight;
            std::reverse(line.squares.begin(), line.squares.end());
            for (ChartSquare& square : line.squares) square.moved = -square.moved;
        }
    }

    static void measure(Chart& chart) {
        bool any = false;
        for (const ChartRow& line : chart.rows) {
            const int end = line.start + static_cast<int>(line.squares.size());
            chart.right = any ? std::min(chart.right, line.start) : line.start;
            chart.left = any ? std::max(chart.left, end) : end;
            any = true;
        }
    }

    static constexpr std::int32_t kNone = -1'000'000;

    const Fabric& f_;
    const Reading& reading_;
    ChartOptions options_;
    std::unordered_map<std::int32_t, std::int32_t> places_;  ///< by loop: its place from the right edge
};

}  // namespace

Chart chartOf(const Fabric& fabric, const Reading& reading, const ChartOptions& options) {
    return Charting(fabric, reading, options).run();
}

Chart chartOf(const Fabric& fabric, const ChartOptions& options) {
    return chartOf(fabric, readFrom(fabric, options.side), options);
}

std::string wordsOf(const ChartSquare& square, Terms terms) {
    const std::string purled = square.bar ? ", purled" : "";
    switch (square.sign) {
        case Sign::knit: return "knit";
        case Sign::purl: return "purl";
        case Sign::yarnOver: return "yarn-over";
        case Sign::rightOver: return "two together, right stitch on top" + purled;
        case Sign::leftOver: return "two together, left stitch on top" + purled;
        case Sign::centreOver: return "three together, middle stitch on top" + purled;
        case Sign::rightOver3: return "three together, right stitch on top" + purled;
        case Sign::leftOver3: return "three together, left stitch on top" + purled;
        case Sign::several: return std::to_string(square.count) + " together" + purled;
        case Sign::twistedLeft: return "twisted to the left" + purled;
        case Sign::twistedRight: return "twisted to the right" + purled;
        case Sign::wound: return "wound a whole turn or more" + purled;
        case Sign::slipped: return "slipped, yarn behind";
        case Sign::slippedInFront: return "slipped, yarn in front";
        case Sign::below: return "worked into the row below" + purled;
        case Sign::wrapped: return "worked with its wrap" + purled;
        case Sign::caught: return "worked with the strand across it" + purled;
        case Sign::turned: return "worked at a turn, both legs" + purled;
        case Sign::pickedUp: return "picked up" + purled;
        case Sign::fromOne: return "one of " + std::to_string(square.count) + " from one stitch" + purled;
        case Sign::made: return "made from the bar, open" + purled;
        case Sign::madeLeft: return "made from the bar, twisted left" + purled;
        case Sign::madeRight: return "made from the bar, twisted right" + purled;
        case Sign::castOff: return terms == Terms::us ? "bound off" : "cast off";
        case Sign::castOn: return "cast on";
        case Sign::crossing: return "crossing: the unbroken line lies in front";
        case Sign::rung: return "no stitch: a rung of a ladder";
        case Sign::loose: return "open loop, on no needle";
        default: return "";  // only in charts that are written
    }
}

}  // namespace loopmend
