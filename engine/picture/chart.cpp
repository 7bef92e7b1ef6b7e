// SPDX-License-Identifier: MIT
#include "picture/chart.h"

#include <algorithm>
#include <cmath>
#include <map>

#include <fmt/format.h>

namespace loopmend {

namespace {

ChartCell cellOf(const Cell& cell) {
    const Symbol& s = cell.symbol;
    ChartCell out;
    out.loop = cell.loop;
    const bool bump = s.face == Face::bump;
    const auto sign = [&](ChartSign which) {
        out.sign = which;
        out.purlForm = bump;
        return out;
    };
    if (s.sight == Sight::rung) {
        out.sign = ChartSign::rung;
        return out;
    }
    if (s.sight == Sight::slipped) {
        out.sign = s.strand == Strand::behind ? ChartSign::slippedBack : ChartSign::slippedFront;
        return out;
    }
    if (s.loose) {
        out.sign = ChartSign::loose;
        return out;
    }
    if (s.boundOff) {
        out.sign = ChartSign::boundOff;
        return out;
    }
    switch (s.sight) {
        case Sight::hole: out.sign = ChartSign::hole; return out;
        case Sight::castOn: out.sign = ChartSign::castOn; return out;
        case Sight::made: return sign(ChartSign::made);
        case Sight::tuck: return sign(ChartSign::tuck);
        case Sight::together:
            if (s.lean == Lean::upright) return sign(ChartSign::centreOver);
            if (s.lean == Lean::left) return sign(s.bases > 2 ? ChartSign::rightOver3 : ChartSign::rightOver);
            return sign(s.bases > 2 ? ChartSign::leftOver3 : ChartSign::leftOver);
        default: break;
    }
    if (s.isIncrease()) return sign(ChartSign::several);
    if (s.crossing != Lean::none && s.crossesOver > 0) {
        out.sign = ChartSign::crossed;
        out.purlForm = bump;
        out.inFront = s.crossesInFront;
        // The arm in front goes the way the crossing leans, the other one against it.
        const bool goesRight = (s.crossing == Lean::right) == s.crossesInFront;
        out.from = goesRight ? s.crossesOver : -s.crossesOver;
        return out;
    }
    if (s.twist != 0) return sign(s.twist < 0 ? ChartSign::twistedLeft : ChartSign::twistedRight);
    out.sign = bump ? ChartSign::purl : ChartSign::knit;
    return out;
}

/// Draws signs into squares; (0, 0) is a square's lower left corner, (1, 1) its upper right one.
class Pen {
  public:
    Pen(Drawing& drawing, double square, Colour ink, Colour ground)
        : d_(drawing), square_(square), ink_(ink), ground_(ground) {}

    void at(Point2 lowerLeft) { origin_ = lowerLeft; }

    void sign(const ChartCell& cell) {
        const double up = cell.purlForm ? 0.12 : 0.0;  // room for the bar of a purl form
        const auto y = [&](double v) { return up + v * (1.0 - up); };
        switch (cell.sign) {
            case ChartSign::none: break;
            case ChartSign::knit: line(0.5, 0.18, 0.5, 0.82); break;
            case ChartSign::purl: line(0.18, 0.5, 0.82, 0.5); break;
            case ChartSign::hole: ring(0.5, 0.5, 0.28); break;
            case ChartSign::rightOver3: line(0.5, y(0.42), 0.42, y(0.12)); [[fallthrough]];
            case ChartSign::rightOver:
                line(0.2, y(0.85), 0.82, y(0.12));
                line(0.44, y(0.56), 0.16, y(0.12));
                break;
            case ChartSign::leftOver3: line(0.5, y(0.42), 0.58, y(0.12)); [[fallthrough]];
            case ChartSign::leftOver:
                line(0.8, y(0.85), 0.18, y(0.12));
                line(0.56, y(0.56), 0.84, y(0.12));
                break;
            case ChartSign::centreOver:
                line(0.5, y(0.1), 0.5, y(0.88));
                line(0.5, y(0.6), 0.16, y(0.1));
                line(0.5, y(0.6), 0.84, y(0.1));
                break;
            case ChartSign::twistedLeft: twisted(y(0), y(1), true); break;
            case ChartSign::twistedRight: twisted(y(0), y(1), false); break;
            case ChartSign::made:
                twisted(y(0.16), y(1), true);
                line(0.22, y(0.1), 0.78, y(0.1));
                break;
            case ChartSign::several:
                line(0.5, y(0.12), 0.5, y(0.85));
                line(0.5, y(0.12), 0.16, y(0.85));
                line(0.5, y(0.12), 0.84, y(0.85));
                break;
            case ChartSign::slippedFront: line(0.14, 0.45, 0.86, 0.45); [[fallthrough]];
            case ChartSign::slippedBack:
                line(0.2, 0.82, 0.5, 0.18);
                line(0.8, 0.82, 0.5, 0.18);
                break;
            case ChartSign::tuck: {
                Curve arch;
                arch.start(p(0.2, y(0.12)));
                arch.bend(p(0.2, y(1.05)), p(0.8, y(1.05)), p(0.8, y(0.12)));
                stroke(std::move(arch));
                break;
            }
            case ChartSign::castOn:
                ring(0.5, 0.58, 0.22);
                line(0.5, 0.36, 0.5, 0.12);
                break;
            case ChartSign::boundOff: d_.area(circle(p(0.5, 0.5), 0.22 * square_), ink_); break;
            case ChartSign::crossed: break;  // drawn over all squares of the crossing
            case ChartSign::rung: {
                Curve dashes = straight(p(0.1, 0.5), p(0.9, 0.5));
                d_.stroke(std::move(dashes), width(), ink_, Cap::butt, {square_ * 0.16, square_ * 0.12});
                break;
            }
            case ChartSign::loose: {
                Curve loop;
                loop.start(p(0.34, 0.14));
                loop.bend(p(0.05, 1.1), p(0.95, 1.1), p(0.66, 0.14));
                stroke(std::move(loop));
                break;
            }
        }
        if (cell.purlForm && cell.sign != ChartSign::purl) line(0.22, 0.07, 0.78, 0.07);
    }

    /// One strand of a crossing, from the square it stood in below to this one.
    void strand(int from, bool inFront) {
        const Point2 a = p(0.5 - from, 0.08);  // squares count to the left, x to the right
        const Point2 b = p(0.5, 0.92);
        if (inFront) {
            d_.stroke(straight(a, b), width() * 3.0, ground_, Cap::butt);
            d_.stroke(straight(a, b), width() * 1.3, ink_, Cap::round);
        } else {
            d_.stroke(straight(a, b), width(), ink_, Cap::round);
        }
    }

  private:
    Point2 p(double x, double y) const { return {origin_.x + x * square_, origin_.y - y * square_}; }
    double width() const { return square_ * 0.07; }
    void stroke(Curve curve) { d_.stroke(std::move(curve), width(), ink_, Cap::round); }
    void line(double x0, double y0, double x1, double y1) { stroke(straight(p(x0, y0), p(x1, y1))); }
    void ring(double x, double y, double radius) { stroke(circle(p(x, y), radius * square_)); }
    void twisted(double low, double high, bool left) {
        const auto y = [&](double v) { return low + v * (high - low); };
        const double a = left ? 0.26 : 0.74;
        Curve loop;  // one foot, round the head, the other foot: the strand that is drawn last lies on top
        loop.start(p(a, y(0.12)));
        loop.bend(p(1 - a * 0.9, y(0.5)), p(1 - a * 0.6, y(0.92)), p(0.5, y(0.9)));
        loop.bend(p(a * 0.6 + 0.0, y(0.92)), p(a * 0.9, y(0.5)), p(1 - a, y(0.12)));
        stroke(std::move(loop));
    }

    Drawing& d_;
    double square_;
    Colour ink_;
    Colour ground_;
    Point2 origin_;
};

}  // namespace

std::string meaningOf(ChartSign sign, Terms terms) {
    const bool uk = terms == Terms::uk;
    switch (sign) {
        case ChartSign::none: return "no stitch";
        case ChartSign::knit: return "shows as a knit";
        case ChartSign::purl: return "shows as a purl";
        case ChartSign::hole: return "yarn-over";
        case ChartSign::rightOver: return "right over left, leans left";
        case ChartSign::leftOver: return "left over right, leans right";
        case ChartSign::rightOver3: return "right on top of three";
        case ChartSign::leftOver3: return "left on top of three";
        case ChartSign::centreOver: return "centre on top of three";
        case ChartSign::twistedLeft: return "twisted to the left";
        case ChartSign::twistedRight: return "twisted to the right";
        case ChartSign::made: return "made from the bar";
        case ChartSign::several: return "several from one";
        case ChartSign::slippedBack: return "slipped, yarn behind";
        case ChartSign::slippedFront: return "slipped, yarn in front";
        case ChartSign::tuck: return "pulled up from the row below";
        case ChartSign::castOn: return "cast on";
        case ChartSign::boundOff: return uk ? "cast off" : "bound off";
        case ChartSign::crossed: return "crossed, the unbroken line in front";
        case ChartSign::rung: return "a rung, no stitch";
        case ChartSign::loose: return "a loop that nothing holds";
    }
    return "no stitch";
}

Chart chartOf(const Reading& rightSide, int firstRow, int lastRow) {
    Chart chart;
    for (const ReadRow& row : rightSide.rows) {
        if (row.row < std::max(firstRow, 1) || (lastRow >= 0 && row.row > lastRow)) continue;
        ChartRow out;
        out.row = row.row;
        out.facing = row.facing;
        for (const Cell& cell : row.cells) out.cells.push_back(cellOf(cell));
        chart.columns = std::max(chart.columns, static_cast<int>(out.cells.size()));
        chart.rows.push_back(std::move(out));
    }
    return chart;
}

Drawing drawingOf(const Chart& chart, const ChartOptions& options) {
    const double s = options.squareMm;
    const double margin = s * 1.6;
    const Colour ink = options.dark ? Colour{0.94, 0.93, 0.9} : Colour{0.1, 0.1, 0.12};
    const Colour ground = options.dark ? Colour{0.12, 0.13, 0.15} : Colour{1, 1, 1};
    const Colour grid = blend(ink, ground, 0.65);
    const Colour empty = blend(ink, ground, 0.85);

    std::vector<std::pair<ChartSign, bool>> used;  // in the order of the signs
    for (const ChartRow& row : chart.rows) {
        for (const ChartCell& cell : row.cells) {
            const std::pair<ChartSign, bool> key{cell.sign, cell.purlForm && cell.sign != ChartSign::purl};
            if (std::find(used.begin(), used.end(), key) == used.end()) used.push_back(key);
        }
    }
    std::sort(used.begin(), used.end());

    const double titleMm = options.title.empty() ? 0 : s * 1.2;
    const double gridMm = s * static_cast<double>(chart.rows.size());
    const double legendLine = s * 1.25;
    Drawing d;
    d.ground = ground;
    d.title = options.title.empty() ? "Knitting chart, right side" : options.title;
    d.widthMm = std::max(2 * margin + s * chart.columns, 2 * margin + s * 15);
    d.heightMm =
        titleMm + margin + gridMm + s * 2.1 + legendLine * static_cast<double>(used.size() + 1) + s * 0.6;
    if (!options.title.empty()) d.words(options.title, {margin, s * 1.3}, s * 0.7, ink, Align::left, true);

    Pen pen(d, s, ink, ground);
    const double right = margin + s * chart.columns;
    const auto corner = [&](std::size_t row, int column) {  // lower left corner; column 0 is the right-most
        return Point2{right - s * (column + 1), titleMm + margin + gridMm - s * static_cast<double>(row)};
    };
    for (std::size_t r = 0; r < chart.rows.size(); ++r) {
        const ChartRow& row = chart.rows[r];
        for (int c = 0; c < chart.columns; ++c) {
            const Point2 o = corner(r, c);
            const std::vector<Point2> square{o, {o.x + s, o.y}, {o.x + s, o.y - s}, {o.x, o.y - s}};
            if (c >= static_cast<int>(row.cells.size())) d.area(polygon(square), empty);
            Curve edge = polygon(square);
            edge.line(square.front());
            d.stroke(std::move(edge), s * 0.025, grid);
        }
        for (int c = 0; c < static_cast<int>(row.cells.size()); ++c) {
            pen.at(corner(r, c));
            pen.sign(row.cells[static_cast<std::size_t>(c)]);
        }
        for (const bool front : {false, true}) {
            for (int c = 0; c < static_cast<int>(row.cells.size()); ++c) {
                const ChartCell& cell = row.cells[static_cast<std::size_t>(c)];
                if (cell.sign != ChartSign::crossed || cell.inFront != front) continue;
                pen.at(corner(r, c));
                pen.strand(cell.from, front);
            }
        }
        // The number stands where the row begins.
        const bool fromRight = row.facing == Facing::right;
        const double y = corner(r, 0).y - s * 0.3;
        d.words(fmt::format("{}", row.row), {fromRight ? right + s * 0.35 : margin - s * 0.35, y}, s * 0.5,
                ink, fromRight ? Align::left : Align::right);
    }

    double y = titleMm + margin + gridMm + s * 1.6;
    d.words("As the right side shows it.", {margin, y}, s * 0.45, ink);
    y += s * 0.7;
    d.words("A row is read from the side where its number stands.", {margin, y}, s * 0.45, ink);
    for (const auto& [sign, purlForm] : used) {
        y += legendLine;
        ChartCell cell;
        cell.sign = sign;
        cell.purlForm = purlForm;
        pen.at({margin, y + s * 0.25});
        if (sign == ChartSign::crossed) {
            pen.strand(1, false);
            pen.at({margin - s, y + s * 0.25});
            pen.strand(-1, true);
        } else {
            if (sign == ChartSign::none) {
                const Point2 o{margin, y + s * 0.25};
                d.area(polygon({o, {o.x + s, o.y}, {o.x + s, o.y - s}, {o.x, o.y - s}}), empty);
            }
            pen.sign(cell);
        }
        d.words(meaningOf(sign, options.terms) + (purlForm ? ", purled" : ""), {margin + s * 1.6, y}, s * 0.5,
                ink);
    }
    return d;
}

}  // namespace loopmend
