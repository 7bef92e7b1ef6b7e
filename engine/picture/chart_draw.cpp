// SPDX-License-Identifier: MIT
#include <algorithm>

#include <fmt/format.h>

#include "picture/chart.h"
#include "picture/chart_signs.h"

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

    void sign(const ChartSquare& square, Point2 at) {
        drawSign(drawing_, {square.sign, square.bar, square.count, 0}, at, {q_, ink_, ground_});
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
