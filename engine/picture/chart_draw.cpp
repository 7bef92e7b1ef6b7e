// SPDX-License-Identifier: MIT
#include <algorithm>

#include <fmt/format.h>

#include "picture/chart.h"

namespace loopmend {

namespace {

class Drafter {
  public:
    Drafter(const Chart& chart, const ChartOptions& options) : chart_(chart), options_(options) {
        q_ = std::clamp(options.squareMm, 2.0, 40.0);
        ink_ = options.dark ? Colour{0.92, 0.92, 0.90} : Colour{0.10, 0.10, 0.12};
        ground_ = options.dark ? Colour{0.12, 0.13, 0.15} : Colour{1, 1, 1};
        line_ = blend(ground_, ink_, 0.45);
    }

    Drawing run() {
        drawing_.ground = ground_;
        drawing_.title =
            options_.title.empty() ? fmt::format("Knitting chart, {}", sideName()) : options_.title;
        if (chart_.rows.empty()) {
            drawing_.widthMm = 60;
            drawing_.heightMm = 20;
            drawing_.words("no stitches here", {30, 11}, 4, ink_, Align::middle);
            return std::move(drawing_);
        }
        measure();
        for (std::size_t i = 0; i < chart_.rows.size(); ++i) squares(i);
        for (std::size_t i = 0; i < chart_.rows.size(); ++i) signs(i);
        numbers();
        legend();
        heading();
        return std::move(drawing_);
    }

  private:
    std::string sideName() const { return chart_.side == Side::right ? "right side" : "wrong side"; }

    /// A sign once in the legend, with an example of it.
    struct Known {
        ChartSquare square;
        std::string words;
    };

    void measure() {
        for (const ChartRow& row : chart_.rows) {
            for (const ChartSquare& square : row.squares) {
                const std::string words = wordsOf(square, options_.terms);
                const auto same = [&](const Known& k) { return k.words == words; };
                if (std::none_of(known_.begin(), known_.end(), same)) known_.push_back({square, words});
            }
        }
        std::stable_sort(known_.begin(), known_.end(),
                         [](const Known& a, const Known& b) { return a.square.sign < b.square.sign; });
        text_ = std::clamp(0.55 * q_, 2.2, 4.5);
        margin_ = 0.5 * q_;
        side_ = margin_ + 2.6 * text_;
        top_ = margin_ + (options_.title.empty() ? 0 : 2.0 * text_);
        const double columns = chart_.left - chart_.right;
        gridWidth_ = columns * q_;
        gridHeight_ = static_cast<double>(chart_.rows.size()) * q_;
        double widest = 0;
        for (const Known& k : known_) widest = std::max(widest, static_cast<double>(k.words.size()));
        const double entry = 1.6 * q_ + 0.56 * text_ * widest + text_;
        drawing_.widthMm = std::max(gridWidth_ + 2 * side_, entry + 2 * margin_);
        perLine_ = std::max(1, static_cast<int>((drawing_.widthMm - 2 * margin_) / entry));
        entry_ = entry;
        const auto lines = (static_cast<int>(known_.size()) + perLine_ - 1) / perLine_;
        legendTop_ = top_ + gridHeight_ + 3.4 * text_;
        drawing_.heightMm = legendTop_ + lines * 1.35 * q_ + margin_;
        left_ = 0.5 * (drawing_.widthMm - gridWidth_);
    }

    /// Left bottom corner of a square, counted from the right edge and from the bottom.
    Point2 corner(int place, std::size_t row) const {
        return {left_ + (chart_.left - 1 - place) * q_, top_ + gridHeight_ - static_cast<double>(row) * q_};
    }

    void squares(std::size_t i) {
        const ChartRow& row = chart_.rows[i];
        for (std::size_t k = 0; k < row.squares.size(); ++k) {
            const Point2 at = corner(row.start + static_cast<int>(k), i);
            const Curve box = polygon({at, at + Point2{q_, 0}, at + Point2{q_, -q_}, at + Point2{0, -q_}});
            const ChartSquare& square = row.squares[k];
            if (square.colour != 'A') {
                drawing_.area(box, blend(ground_, safeColour(square.colour - 'A' + 1), 0.3));
                drawing_.words(std::string(1, square.colour), at + Point2{0.06 * q_, -0.06 * q_}, 0.26 * q_,
                               ink_);
            }
            if (square.sign == Sign::rung) drawing_.area(box, blend(ground_, ink_, 0.12));
            drawing_.stroke(box, 0.03 * q_, line_);
        }
    }

    void signs(std::size_t i) {
        const ChartRow& row = chart_.rows[i];
        for (const bool front : {false, true}) {
            for (std::size_t k = 0; k < row.squares.size(); ++k) {
                const ChartSquare& square = row.squares[k];
                const Point2 at = corner(row.start + static_cast<int>(k), i);
                if (square.sign == Sign::crossing) {
                    if (square.front == front) crossing(square, at);
                } else if (!front) {
                    sign(square, at);
                }
            }
        }
    }

    /// A line from the square it came from to the square where it stands; the front ones interrupt those
    /// behind.
    void crossing(const ChartSquare& square, Point2 at) {
        const Point2 from = at + Point2{(0.5 - square.moved) * q_, -0.06 * q_};
        const Point2 to = at + Point2{0.5 * q_, -0.94 * q_};
        if (square.front) drawing_.stroke(straight(from, to), 0.24 * q_, ground_);
        drawing_.stroke(straight(from, to), pen(), ink_, Cap::round);
        if (square.bar)
            drawing_.stroke(straight(to + Point2{-0.2 * q_, 0.12 * q_}, to + Point2{0.2 * q_, 0.12 * q_}),
                            pen(), ink_);
    }

    double pen() const { return 0.085 * q_; }

    /// Draws in a square whose left bottom corner is `at`; x and y from 0 to 1, y upward. With a bar the sign
    /// moves up a little to make room.
    void sign(const ChartSquare& square, Point2 at) {
        const auto p = [&](double x, double y) {
            const double lifted = square.bar ? 0.17 + 0.83 * y : y;
            return at + Point2{x * q_, -lifted * q_};
        };
        const auto stroke = [&](double x0, double y0, double x1, double y1) {
            drawing_.stroke(straight(p(x0, y0), p(x1, y1)), pen(), ink_, Cap::round);
        };
        const auto number = [&](const std::string& text, double x, double y, double size) {
            drawing_.words(text, p(x, y), size * q_, ink_, Align::middle, true);
        };
        switch (square.sign) {
            case Sign::knit: stroke(0.5, 0.2, 0.5, 0.8); break;
            case Sign::purl: stroke(0.2, 0.5, 0.8, 0.5); break;
            case Sign::yarnOver: drawing_.stroke(circle(p(0.5, 0.5), 0.27 * q_), pen(), ink_); break;
            case Sign::rightOver:
                stroke(0.22, 0.84, 0.8, 0.16);
                stroke(0.48, 0.53, 0.2, 0.16);
                break;
            case Sign::leftOver:
                stroke(0.78, 0.84, 0.2, 0.16);
                stroke(0.52, 0.53, 0.8, 0.16);
                break;
            case Sign::centreOver:
                stroke(0.5, 0.84, 0.5, 0.16);
                stroke(0.5, 0.6, 0.2, 0.16);
                stroke(0.5, 0.6, 0.8, 0.16);
                break;
            case Sign::rightOver3:
                stroke(0.22, 0.84, 0.84, 0.16);
                stroke(0.45, 0.58, 0.16, 0.16);
                stroke(0.52, 0.5, 0.5, 0.16);
                break;
            case Sign::leftOver3:
                stroke(0.78, 0.84, 0.16, 0.16);
                stroke(0.55, 0.58, 0.84, 0.16);
                stroke(0.48, 0.5, 0.5, 0.16);
                break;
            case Sign::several:
                stroke(0.5, 0.84, 0.2, 0.16);
                stroke(0.5, 0.84, 0.8, 0.16);
                number(std::to_string(square.count), 0.5, 0.18, 0.36);
                break;
            case Sign::twistedLeft: twisted(p, true); break;
            case Sign::twistedRight: twisted(p, false); break;
            case Sign::wound:
                twisted(p, true);
                stroke(0.3, 0.36, 0.7, 0.36);
                break;
            case Sign::slipped:
            case Sign::slippedInFront:
                stroke(0.2, 0.82, 0.5, 0.2);
                stroke(0.5, 0.2, 0.8, 0.82);
                if (square.sign == Sign::slippedInFront) stroke(0.15, 0.52, 0.85, 0.52);
                break;
            case Sign::below: {
                Curve arch;
                arch.start(p(0.22, 0.14));
                arch.line(p(0.22, 0.5));
                arch.bend(p(0.22, 0.95), p(0.78, 0.95), p(0.78, 0.5));
                arch.line(p(0.78, 0.14));
                drawing_.stroke(arch, pen(), ink_, Cap::round);
                break;
            }
            case Sign::wrapped:
                stroke(0.5, 0.2, 0.5, 0.84);
                drawing_.stroke(circle(p(0.5, 0.36), 0.16 * q_), 0.8 * pen(), ink_);
                break;
            case Sign::turned:
                stroke(0.36, 0.18, 0.5, 0.84);
                stroke(0.64, 0.18, 0.5, 0.84);
                break;
            case Sign::pickedUp:
                stroke(0.5, 0.16, 0.5, 0.84);
                stroke(0.5, 0.84, 0.32, 0.6);
                stroke(0.5, 0.84, 0.68, 0.6);
                break;
            case Sign::fromOne:
                for (int k = 0; k < square.count && k < 7; ++k) {
                    const double x =
                        square.count > 1 ? 0.2 + 0.6 * k / (std::min(square.count, 7) - 1.0) : 0.5;
                    stroke(0.5, 0.36, x, 0.84);
                }
                number(std::to_string(square.count), 0.5, 0.06, 0.28);
                break;
            case Sign::made:
            case Sign::madeLeft:
            case Sign::madeRight:
                number("M", 0.5, 0.42, 0.5);
                if (square.sign == Sign::madeLeft) stroke(0.35, 0.32, 0.65, 0.12);
                if (square.sign == Sign::madeRight) stroke(0.35, 0.12, 0.65, 0.32);
                if (square.sign == Sign::made)
                    drawing_.stroke(circle(p(0.5, 0.22), 0.1 * q_), 0.8 * pen(), ink_);
                break;
            case Sign::castOff: drawing_.area(circle(p(0.5, 0.5), 0.2 * q_), ink_); break;
            case Sign::castOn:
                drawing_.stroke(circle(p(0.46, 0.56), 0.2 * q_), pen(), ink_);
                stroke(0.6, 0.42, 0.82, 0.2);
                break;
            case Sign::crossing: break;
            case Sign::rung:
                stroke(0.15, 0.42, 0.85, 0.42);
                stroke(0.15, 0.58, 0.85, 0.58);
                break;
            case Sign::loose: {
                Curve open;
                open.start(p(0.38, 0.14));
                open.bend(p(0.42, 0.4), p(0.18, 0.5), p(0.24, 0.68));
                open.bend(p(0.3, 0.92), p(0.7, 0.92), p(0.76, 0.68));
                open.bend(p(0.82, 0.5), p(0.58, 0.4), p(0.62, 0.14));
                drawing_.stroke(open, pen(), ink_, Cap::round);
                break;
            }
        }
        if (square.bar)
            drawing_.stroke(straight(at + Point2{0.22 * q_, -0.14 * q_}, at + Point2{0.78 * q_, -0.14 * q_}),
                            pen(), ink_, Cap::round);
    }

    /// A small loop with crossed feet; the foot on top is whole.
    template <class Place>
    void twisted(Place p, bool left) {
        const auto m = [&](double x, double y) { return p(left ? x : 1 - x, y); };
        const auto foot = [&](double x0, double x1) {
            Curve c;
            c.start(m(x0, 0.16));
            c.bend(m(x0, 0.3), m(x1, 0.38), m(x1, 0.6));
            return c;
        };
        drawing_.stroke(foot(0.3, 0.72), pen(), ink_, Cap::round);
        drawing_.stroke(foot(0.7, 0.28), 0.3 * q_ * 0.8, ground_);
        drawing_.stroke(foot(0.7, 0.28), pen(), ink_, Cap::round);
        Curve head;
        head.start(m(0.28, 0.6));
        head.bend(m(0.28, 0.92), m(0.72, 0.92), m(0.72, 0.6));
        drawing_.stroke(head, pen(), ink_, Cap::round);
    }

    void numbers() {
        for (std::size_t i = 0; i < chart_.rows.size(); ++i) {
            const ChartRow& row = chart_.rows[i];
            const Point2 at = row.fromRight
                                  ? corner(row.start, i) + Point2{q_ + 0.4 * text_, 0}
                                  : corner(row.start + static_cast<int>(row.squares.size()) - 1, i) -
                                        Point2{0.4 * text_, 0};
            drawing_.words(fmt::format("{}", row.row), at - Point2{0, 0.5 * q_ - 0.36 * text_}, text_, ink_,
                           row.fromRight ? Align::left : Align::right);
        }
        // Stitches, counted from the right edge of the chart; every fifth and the first.
        const int columns = chart_.left - chart_.right;
        for (int n = 1; n <= columns; ++n) {
            if (n != 1 && n % 5 != 0) continue;
            const Point2 at = corner(chart_.right + n - 1, 0) + Point2{0.5 * q_, 1.1 * text_};
            drawing_.words(fmt::format("{}", n), at, 0.8 * text_, line_, Align::middle);
        }
    }

    void legend() {
        for (std::size_t i = 0; i < known_.size(); ++i) {
            const auto line = static_cast<int>(i) / perLine_;
            const auto place = static_cast<int>(i) % perLine_;
            const Point2 at{margin_ + place * entry_, legendTop_ + line * 1.35 * q_ + q_};
            drawing_.stroke(polygon({at, at + Point2{q_, 0}, at + Point2{q_, -q_}, at + Point2{0, -q_}}),
                            0.03 * q_, line_);
            if (known_[i].square.sign == Sign::crossing) {
                drawing_.stroke(straight(at + Point2{0.8 * q_, -0.1 * q_}, at + Point2{0.2 * q_, -0.9 * q_}),
                                pen(), ink_, Cap::round);
                drawing_.stroke(straight(at + Point2{0.2 * q_, -0.1 * q_}, at + Point2{0.8 * q_, -0.9 * q_}),
                                0.24 * q_, ground_);
                drawing_.stroke(straight(at + Point2{0.2 * q_, -0.1 * q_}, at + Point2{0.8 * q_, -0.9 * q_}),
                                pen(), ink_, Cap::round);
            } else {
                sign(known_[i].square, at);
            }
            drawing_.words(known_[i].words, at + Point2{1.3 * q_, -0.5 * q_ + 0.36 * text_}, text_, ink_);
        }
    }

    void heading() {
        if (!options_.title.empty())
            drawing_.words(options_.title, {0.5 * drawing_.widthMm, margin_ + text_}, 1.15 * text_, ink_,
                           Align::middle, true);
        drawing_.words(fmt::format("as the {} shows it", sideName()),
                       {0.5 * drawing_.widthMm, top_ + gridHeight_ + 2.6 * text_}, 0.9 * text_, ink_,
                       Align::middle);
    }

    const Chart& chart_;
    ChartOptions options_;
    Drawing drawing_;
    std::vector<Known> known_;
    double q_ = 6;
    double text_ = 3;
    double margin_ = 0;
    double side_ = 0;
    double top_ = 0;
    double left_ = 0;
    double gridWidth_ = 0;
    double gridHeight_ = 0;
    double legendTop_ = 0;
    double entry_ = 0;
    int perLine_ = 1;
    Colour ink_;
    Colour ground_;
    Colour line_;
};

}  // namespace

Drawing drawingOf(const Chart& chart, const ChartOptions& options) {
    return Drafter(chart, options).run();
}

}  // namespace loopmend
