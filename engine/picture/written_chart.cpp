// SPDX-License-Identifier: MIT
#include "picture/written_chart.h"

#include <algorithm>
#include <iterator>

#include <fmt/format.h>

#include "picture/chart_signs.h"

namespace loopmend {

namespace {

/// A cell where it stands, seen: columns from the left edge.
struct PlacedCell {
    ChartCell::Kind kind = ChartCell::Kind::stitch;
    StitchSign sign;
    int column = 0;
    int width = 1;
};

struct PlacedRow {
    int number = 0;
    bool fromRight = true;
    std::vector<PlacedCell> cells;
    int boxFrom = 0;  ///< squares [boxFrom, boxTo) are repeated; none if equal
    int boxTo = 0;
};

/// Letters of a text, not bytes.
std::size_t lengthOf(const std::string& text) {
    return static_cast<std::size_t>(std::count_if(
        text.begin(), text.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }));
}

/// Cut at blanks so that no line is longer than `most` letters.
std::vector<std::string> wrapped(const std::string& text, std::size_t most) {
    std::vector<std::string> lines(1);
    std::string word;
    const auto put = [&] {
        if (word.empty()) return;
        if (!lines.back().empty() && lengthOf(lines.back()) + 1 + lengthOf(word) > most) lines.emplace_back();
        if (!lines.back().empty()) lines.back() += ' ';
        lines.back() += word;
        word.clear();
    };
    for (const char c : text) {
        if (c == ' ')
            put();
        else
            word += c;
    }
    put();
    return lines;
}

/// Signs that take several squares and stand in each of them: a stitch each.
bool squareEach(Sign sign) {
    return sign == Sign::castOff || sign == Sign::castOn || sign == Sign::pickedUp ||
           sign == Sign::longStitch;
}

class WrittenDrafter {
  public:
    WrittenDrafter(const WrittenChart& chart, const WrittenChartOptions& options)
        : chart_(chart), options_(options) {
        pen_.square = std::clamp(options.squareMm, 2.0, 40.0);
        pen_.ink = options.dark ? Colour{0.92, 0.92, 0.90} : Colour{0.10, 0.10, 0.12};
        pen_.ground = options.dark ? Colour{0.12, 0.13, 0.15} : Colour{1, 1, 1};
        line_ = blend(pen_.ground, pen_.ink, 0.45);
        title_ = options.title.empty() ? chart.title : options.title;
    }

    Drawing run() {
        drawing_.ground = pen_.ground;
        drawing_.title = title_.empty() ? "Knitting chart" : title_;
        for (const WrittenRow& row : chart_.rows) placed_.push_back(placed(row));
        columns_ = chart_.width();
        if (columns_ == 0) {
            drawing_.widthMm = 60;
            drawing_.heightMm = 20;
            drawing_.words("no stitches here", {30, 11}, 4, pen_.ink, Align::middle);
            return std::move(drawing_);
        }
        entries();
        measure();
        for (std::size_t i = 0; i < placed_.size(); ++i)
            for (const PlacedCell& cell : placed_[i].cells) square(cell, corner(cell.column, i));
        for (std::size_t i = 0; i < placed_.size(); ++i) box(i);
        numbers();
        heading();
        legend();
        return std::move(drawing_);
    }

  private:
    PlacedRow placed(const WrittenRow& row) const {
        PlacedRow out;
        out.number = row.number;
        out.fromRight = (row.facing == Facing::right) != chart_.leftHanded;
        const std::size_t n = row.cells.size();
        int column = 0;
        for (std::size_t k = 0; k < n; ++k) {
            const std::size_t i = chart_.leftHanded ? k : n - 1 - k;
            const ChartCell& cell = row.cells[i];
            PlacedCell here{cell.kind, chart_.leftHanded ? mirrored(cell.sign) : cell.sign, column,
                            cell.width()};
            if (row.boxed() && i >= row.boxFirst && i < row.boxEnd) {
                if (out.boxTo == 0) out.boxFrom = column;
                out.boxTo = column + here.width;
            }
            column += here.width;
            out.cells.push_back(here);
        }
        return out;
    }

    struct Entry {
        enum class What { sign, none, waiting, box, colour } what = What::sign;
        StitchSign sign;
        std::uint8_t yarn = 0;
        std::string words;
    };

    void entries() {
        for (const LegendLine& known : legendOf(chart_)) {
            Entry entry;
            entry.sign = chart_.leftHanded ? mirrored(known.sign) : known.sign;
            entry.words = wordsOf(known, chart_.round, options_.terms);
            if (entry.words.empty()) entry.words = "nothing known here";
            entries_.push_back(std::move(entry));
        }
        const auto has = [&](ChartCell::Kind kind) {
            return std::any_of(placed_.begin(), placed_.end(), [&](const PlacedRow& row) {
                return std::any_of(row.cells.begin(), row.cells.end(),
                                   [&](const PlacedCell& cell) { return cell.kind == kind; });
            });
        };
        if (has(ChartCell::Kind::none))
            entries_.push_back({Entry::What::none, {}, 0, "no stitch: pass over it"});
        if (has(ChartCell::Kind::waiting))
            entries_.push_back({Entry::What::waiting, {}, 0, "not reached in this row"});
        if (std::any_of(placed_.begin(), placed_.end(),
                        [](const PlacedRow& row) { return row.boxTo > row.boxFrom; }))
            entries_.push_back({Entry::What::box, {}, 0, "repeat this"});
        for (std::size_t yarn = 1; yarn < chart_.yarns.size(); ++yarn)
            entries_.push_back({Entry::What::colour,
                                {},
                                static_cast<std::uint8_t>(yarn),
                                fmt::format("yarn of colour {}", chart_.yarns[yarn])});
    }

    double entryWidth(const Entry& entry) const {
        return (1.5 + squaresOf(entry) - 1) * pen_.square +
               0.56 * text_ * static_cast<double>(lengthOf(entry.words)) + 2 * text_;
    }
    static int squaresOf(const Entry& entry) {
        return entry.what == Entry::What::sign && entry.sign.sign == Sign::crossing
                   ? std::min<int>(entry.sign.left + entry.sign.right, 12)
                   : 1;
    }

    void measure() {
        const double q = pen_.square;
        text_ = std::clamp(0.55 * q, 2.2, 4.5);
        margin_ = 0.5 * q;
        const double side = margin_ + 3.0 * text_;
        gridWidth_ = columns_ * q;
        gridHeight_ = static_cast<double>(placed_.size()) * q;
        double widest = 0;
        for (const Entry& entry : entries_) widest = std::max(widest, entryWidth(entry));
        const double titleWidth = 0.66 * text_ * static_cast<double>(lengthOf(title_));
        drawing_.widthMm = std::max(
            {gridWidth_ + 2 * side, widest + 2 * margin_, std::min(titleWidth, 180.0) + 2 * margin_, 70.0});
        const auto letters = [&](double size) {
            return static_cast<std::size_t>((drawing_.widthMm - 2 * margin_) / (0.56 * size));
        };
        titleLines_ = title_.empty() ? std::vector<std::string>{} : wrapped(title_, letters(1.2 * text_));
        top_ = margin_ + static_cast<double>(titleLines_.size()) * 1.6 * text_ +
               (title_.empty() ? 0 : 0.6 * text_);
        left_ = 0.5 * (drawing_.widthMm - gridWidth_);
        for (const std::string& sentence : sentences())
            for (std::string& line : wrapped(sentence, letters(0.9 * text_)))
                said_.push_back(std::move(line));
        legendTop_ =
            top_ + gridHeight_ + 2.4 * text_ + static_cast<double>(said_.size()) * 1.3 * text_ + 0.8 * text_;
        // The legend flows in columns of one width.
        entry_ = widest;
        perLine_ = std::max(1, static_cast<int>((drawing_.widthMm - 2 * margin_) / entry_));
        const auto lines = (static_cast<int>(entries_.size()) + perLine_ - 1) / perLine_;
        drawing_.heightMm = legendTop_ + lines * 1.35 * q + margin_;
    }

    std::vector<std::string> sentences() const {
        std::vector<std::string> out;
        std::string how = chart_.round ? "Worked in rounds" : "Worked in rows";
        if (chart_.castOn) how += fmt::format(", {} stitches cast on", *chart_.castOn);
        if (chart_.multiple)
            how += chart_.multiple->plus == 0 ? fmt::format(", over a multiple of {}", chart_.multiple->of)
                                              : fmt::format(", over a multiple of {} plus {}",
                                                            chart_.multiple->of, chart_.multiple->plus);
        out.push_back(how + ". The chart shows the right side" +
                      (chart_.leftHanded ? ", for left hands." : "."));
        const std::string_view rows = chart_.round ? "rounds" : "rows";
        for (const RepeatRows& repeat : chart_.repeats) {
            std::string again = fmt::format("Repeat {} {}-{}", rows, repeat.rows.first, repeat.rows.last);
            if (repeat.times > 0)
                again += fmt::format(" {}{} {}", repeat.times, repeat.more ? " more" : "",
                                     repeat.times == 1 ? "time" : "times");
            out.push_back(again + ".");
        }
        if (chart_.bindOffAtEnd)
            out.emplace_back(options_.terms == Terms::uk ? "Cast off at the end." : "Bind off at the end.");
        out.insert(out.end(), chart_.notes.begin(), chart_.notes.end());
        return out;
    }

    /// Left bottom corner of a square, counted from the left edge and from the bottom.
    Point2 corner(int column, std::size_t row) const {
        return {left_ + column * pen_.square, top_ + gridHeight_ - static_cast<double>(row) * pen_.square};
    }

    Curve outline(Point2 at, int width) const {
        const double q = pen_.square;
        return polygon({at, at + Point2{width * q, 0}, at + Point2{width * q, -q}, at + Point2{0, -q}});
    }

    void square(const PlacedCell& cell, Point2 at) {
        const double q = pen_.square;
        if (cell.kind == ChartCell::Kind::none) {
            drawNoStitch(drawing_, at, pen_);
        } else if (cell.kind == ChartCell::Kind::waiting) {
            drawWaiting(drawing_, at, pen_);
        } else {
            colour(cell.sign.yarn, at, cell.width);
            sign(cell.sign, at, cell.width);
            if (cell.sign.link) drawing_.area(circle(at + Point2{0, -0.5 * q}, 0.09 * q), pen_.ink);
        }
        // One stitch out of several squares is one box.
        const bool apart = cell.kind != ChartCell::Kind::stitch || squareEach(cell.sign.sign);
        for (int i = 0; i < (apart ? cell.width : 1); ++i)
            drawing_.stroke(outline(at + Point2{i * q, 0}, apart ? 1 : cell.width), 0.03 * q, line_);
    }

    /// Yarns are told by their letter as well as by their colour.
    void colour(std::uint8_t yarn, Point2 at, int width) {
        if (yarn == 0 || yarn >= chart_.yarns.size()) return;
        const double q = pen_.square;
        drawing_.area(outline(at, width), blend(pen_.ground, safeColour(chart_.yarns[yarn] - 'A' + 1), 0.3));
        drawing_.words(std::string(1, chart_.yarns[yarn]), at + Point2{0.06 * q, -0.06 * q}, 0.26 * q,
                       pen_.ink);
    }

    void sign(const StitchSign& sign, Point2 at, int width) {
        const double q = pen_.square;
        if (options_.style == ChartStyle::faceReverse &&
            (sign.sign == Sign::knit || sign.sign == Sign::purl)) {
            face(sign.sign == Sign::knit, at);
            return;
        }
        if (sign.sign == Sign::crossing) {
            drawCrossing(drawing_, sign, at, pen_);
            return;
        }
        if (squareEach(sign.sign)) {
            for (int i = 0; i < width; ++i)
                drawSign(drawing_,
                         {sign.sign, sign.bar, sign.sign == Sign::longStitch ? sign.count : 1, sign.way},
                         at + Point2{i * q, 0}, pen_);
            return;
        }
        const int count = sign.sign == Sign::fromOne || sign.sign == Sign::held ? width : sign.count;
        drawSign(drawing_, {sign.sign, sign.bar, count, sign.way}, at + Point2{0.5 * (width - 1) * q, 0},
                 pen_);
    }

    /// Square paper: X is a face stitch, O a reverse one.
    void face(bool knit, Point2 at) {
        const double q = pen_.square;
        if (!knit) {
            drawing_.stroke(circle(at + Point2{0.5 * q, -0.5 * q}, 0.28 * q), 0.085 * q, pen_.ink);
            return;
        }
        for (const double up : {1.0, -1.0})
            drawing_.stroke(straight(at + Point2{0.22 * q, -(0.5 + 0.28 * up) * q},
                                     at + Point2{0.78 * q, -(0.5 - 0.28 * up) * q}),
                            0.085 * q, pen_.ink, Cap::round);
    }

    /// The heavy outline; where the row above or below begins its box elsewhere, the edge jogs.
    void box(std::size_t i) {
        const PlacedRow& row = placed_[i];
        if (row.boxTo == row.boxFrom) return;
        const double q = pen_.square;
        const double heavy = 0.14 * q;
        const auto draw = [&](Point2 a, Point2 b) {
            drawing_.stroke(straight(a, b), heavy, pen_.ink, Cap::round);
        };
        for (const int edge : {row.boxFrom, row.boxTo}) draw(corner(edge, i), corner(edge, i + 1));
        const auto level = [&](std::size_t height, const PlacedRow* beside) {
            const bool none = beside == nullptr || beside->boxTo == beside->boxFrom;
            if (none) {
                draw(corner(row.boxFrom, height), corner(row.boxTo, height));
                return;
            }
            draw(corner(row.boxFrom, height), corner(beside->boxFrom, height));
            draw(corner(row.boxTo, height), corner(beside->boxTo, height));
        };
        level(i, i > 0 ? &placed_[i - 1] : nullptr);
        level(i + 1, i + 1 < placed_.size() ? &placed_[i + 1] : nullptr);
    }

    void numbers() {
        const double q = pen_.square;
        for (std::size_t i = 0; i < placed_.size(); ++i) {
            const PlacedRow& row = placed_[i];
            const Point2 at = row.fromRight ? corner(columns_, i) + Point2{0.5 * text_, 0}
                                            : corner(0, i) - Point2{0.5 * text_, 0};
            drawing_.words(std::to_string(row.number), at - Point2{0, 0.5 * q - 0.36 * text_}, text_,
                           pen_.ink, row.fromRight ? Align::left : Align::right);
        }
        // Squares, counted from the side where right-side rows begin; every fifth and the first.
        for (int n = 1; n <= columns_; ++n) {
            if (n != 1 && n % 5 != 0) continue;
            const int column = chart_.leftHanded ? n - 1 : columns_ - n;
            drawing_.words(std::to_string(n), corner(column, 0) + Point2{0.5 * q, 1.1 * text_}, 0.8 * text_,
                           line_, Align::middle);
        }
    }

    void heading() {
        double y = margin_ + 1.2 * text_;
        for (const std::string& line : titleLines_) {
            drawing_.words(line, {0.5 * drawing_.widthMm, y}, 1.15 * text_, pen_.ink, Align::middle, true);
            y += 1.6 * text_;
        }
        y = top_ + gridHeight_ + 2.9 * text_;
        for (const std::string& line : said_) {
            drawing_.words(line, {0.5 * drawing_.widthMm, y}, 0.9 * text_, pen_.ink, Align::middle);
            y += 1.3 * text_;
        }
    }

    void legend() {
        const double q = pen_.square;
        for (std::size_t i = 0; i < entries_.size(); ++i) {
            const Entry& entry = entries_[i];
            const auto line = static_cast<int>(i) / perLine_;
            const auto place = static_cast<int>(i) % perLine_;
            const Point2 at{margin_ + place * entry_, legendTop_ + line * 1.35 * q + q};
            const int squares = squaresOf(entry);
            switch (entry.what) {
                case Entry::What::sign: {
                    const int width = entry.sign.sign == Sign::crossing ? squares : 1;
                    if (entry.sign.sign == Sign::fromOne) {
                        drawSign(drawing_,
                                 {entry.sign.sign, entry.sign.bar, widthOf(entry.sign), entry.sign.way}, at,
                                 pen_);
                    } else {
                        sign(entry.sign, at, width);
                    }
                    break;
                }
                case Entry::What::none: drawNoStitch(drawing_, at, pen_); break;
                case Entry::What::waiting: drawWaiting(drawing_, at, pen_); break;
                case Entry::What::colour: colour(entry.yarn, at, 1); break;
                case Entry::What::box: break;
            }
            const bool box = entry.what == Entry::What::box;
            drawing_.stroke(outline(at, squares), (box ? 0.14 : 0.03) * q, box ? pen_.ink : line_);
            drawing_.words(entry.words, at + Point2{(squares + 0.4) * q, -0.5 * q + 0.36 * text_}, text_,
                           pen_.ink);
        }
    }

    const WrittenChart& chart_;
    WrittenChartOptions options_;
    SignPen pen_;
    Colour line_;
    std::string title_;
    Drawing drawing_;
    std::vector<PlacedRow> placed_;
    std::vector<Entry> entries_;
    std::vector<std::string> titleLines_;
    std::vector<std::string> said_;
    int columns_ = 0;
    int perLine_ = 1;
    double text_ = 3;
    double margin_ = 0;
    double top_ = 0;
    double left_ = 0;
    double gridWidth_ = 0;
    double gridHeight_ = 0;
    double legendTop_ = 0;
    double entry_ = 0;
};

}  // namespace

Drawing drawingOf(const WrittenChart& chart, const WrittenChartOptions& options) {
    return WrittenDrafter(chart, options).run();
}

}  // namespace loopmend
