// SPDX-License-Identifier: MIT
// Chart -> text.
#include <algorithm>

#include <fmt/format.h>

#include "pattern/chart_text.h"
#include "pattern/plain_words.h"
#include "pattern/print.h"

namespace loopmend {

namespace {

class Printing {
  public:
    Printing(const WrittenChart& chart, ChartStyle style, Terms terms)
        : chart_(chart), style_(style), terms_(terms) {}

    std::string run() {
        head();
        text_ += "\nChart:\n";
        measure();
        for (std::size_t i = chart_.rows.size(); i-- > 0;) row(chart_.rows[i]);
        legend();
        return std::move(text_);
    }

  private:
    void line(std::string_view key, const std::string& value) {
        text_ += fmt::format("{}: {}\n", key, oneLine(value));
    }

    void head() {
        text_ = fmt::format("{} 1\n", kChartHead);
        if (!chart_.title.empty()) line("Title", chart_.title);
        if (chart_.multiple)
            line("Multiple", chart_.multiple->plus == 0
                                 ? std::to_string(chart_.multiple->of)
                                 : fmt::format("{} plus {}", chart_.multiple->of, chart_.multiple->plus));
        if (chart_.castOn) line("Cast on", std::to_string(*chart_.castOn));
        line("Worked", chart_.round ? "in rounds" : "in rows");
        if (!chart_.round && !chart_.rows.empty())
            line("First row", chart_.rows.front().facing == Facing::right ? "right side" : "wrong side");
        if (chart_.leftHanded) line("Hand", "left");
        if (chart_.yarns != "A") line("Yarns", chart_.yarns);
        if (style_ == ChartStyle::faceReverse) line("Style", "face and reverse");
        for (const RepeatRows& repeat : chart_.repeats) line("Repeat", again(repeat));
        if (chart_.bindOffAtEnd) line("Bind off", "at the end");
        for (const std::string& note : chart_.notes) line("Note", note);
    }

    std::string again(const RepeatRows& repeat) const {
        std::string words = fmt::format("rows {}-{}", repeat.rows.first, repeat.rows.last);
        if (repeat.times > 0)
            words += fmt::format(" {}{} {}", repeat.times, repeat.more ? " more" : "",
                                 repeat.times == 1 ? "time" : "times");
        if (repeat.after > 0 && repeat.after <= chart_.rows.size()) {
            const int last = chart_.rows[repeat.after - 1].number;
            if (last != repeat.rows.last) words += fmt::format(" after row {}", last);
        }
        return words;
    }

    std::string glyph(const ChartCell& cell) const {
        if (cell.kind == ChartCell::Kind::none) return "#";
        if (cell.kind == ChartCell::Kind::waiting) return ":";
        if (style_ == ChartStyle::faceReverse) return cell.sign.sign == Sign::knit ? "X" : "O";
        return glyphOf(chart_.leftHanded ? mirrored(cell.sign) : cell.sign);
    }

    void measure() {
        for (const WrittenRow& row : chart_.rows) {
            number_ = std::max(number_, std::to_string(row.number).size());
            for (const ChartCell& cell : row.cells) {
                const auto width = static_cast<std::size_t>(cell.width());
                const std::size_t size = glyph(cell).size();
                // A wide sign has the blanks between its squares too.
                column_ = std::max(column_, (size + width) / width);
            }
        }
        if (column_ > 1) --column_;
        column_ = std::max<std::size_t>(column_, 2);
    }

    void row(const WrittenRow& row) {
        const bool fromRight = (row.facing == Facing::right) != chart_.leftHanded;
        std::string out = fromRight ? std::string(number_, ' ') : fmt::format("{:>{}}", row.number, number_);
        out += ' ';
        const std::size_t n = row.cells.size();
        for (std::size_t k = 0; k < n; ++k) {
            // From the left edge: cells are kept from the right, of a right-handed piece.
            const std::size_t i = chart_.leftHanded ? k : n - 1 - k;
            const bool opens = row.boxed() && (chart_.leftHanded ? i == row.boxFirst : i + 1 == row.boxEnd);
            const bool closes = row.boxed() && (chart_.leftHanded ? i == row.boxEnd : i + 1 == row.boxFirst);
            out += opens ? '[' : closes ? ']' : ' ';
            const ChartCell& cell = row.cells[i];
            const auto width = static_cast<std::size_t>(cell.width());
            std::string words = glyph(cell);
            const std::size_t room = width * (column_ + 1) - 1;
            for (std::size_t square = 1; square < width; ++square) {
                const std::size_t at = square * (column_ + 1);
                if (at <= words.size()) continue;
                words.resize(at, ' ');
                words += '~';
            }
            words.resize(std::max(room, words.size()), ' ');
            out += words;
        }
        const bool last = row.boxed() && (chart_.leftHanded ? row.boxEnd == n : row.boxFirst == 0);
        out += last ? ']' : ' ';
        if (fromRight) out += fmt::format(" {:>{}}", row.number, number_);
        while (!out.empty() && out.back() == ' ') out.pop_back();
        text_ += out + "\n";
    }

    void legend() {
        text_ += "\nLegend:\n";
        const auto entry = [&](const std::string& sign, const std::string& words) {
            text_ += fmt::format("{:<7} {}\n", sign, words);
        };
        for (const LegendLine& known : legendOf(chart_)) {
            ChartCell cell;
            cell.sign = known.sign;
            std::string words;
            if (known.right) words = "RS " + printStep(*known.right, terms_);
            if (known.wrong)
                words += fmt::format("{}WS {}", words.empty() ? "" : "; ", printStep(*known.wrong, terms_));
            if (words.empty()) words = "nothing known here";
            entry(glyph(cell), words);
        }
        const auto has = [&](ChartCell::Kind kind) {
            return std::any_of(chart_.rows.begin(), chart_.rows.end(), [&](const WrittenRow& row) {
                return std::any_of(row.cells.begin(), row.cells.end(),
                                   [&](const ChartCell& cell) { return cell.kind == kind; });
            });
        };
        if (has(ChartCell::Kind::none)) entry("#", "no stitch: pass over it");
        if (has(ChartCell::Kind::waiting)) entry(":", "not reached in this row");
        const bool boxed = std::any_of(chart_.rows.begin(), chart_.rows.end(),
                                       [](const WrittenRow& row) { return row.boxed(); });
        if (boxed) entry("[ ]", "repeat this");
        for (std::size_t yarn = 1; yarn < chart_.yarns.size(); ++yarn) {
            const std::string name =
                yarn < 26 ? std::string(1, static_cast<char>('A' + yarn)) : std::to_string(yarn);
            entry("." + name, fmt::format("with yarn {}, of colour {}", name, chart_.yarns[yarn]));
        }
        const bool wide = std::any_of(chart_.rows.begin(), chart_.rows.end(), [](const WrittenRow& row) {
            return std::any_of(row.cells.begin(), row.cells.end(),
                               [](const ChartCell& cell) { return cell.width() > 1; });
        });
        if (wide) entry("~", "belongs to the sign at its left");
    }

    const WrittenChart& chart_;
    ChartStyle style_;
    Terms terms_;
    std::string text_;
    std::size_t number_ = 1;
    std::size_t column_ = 1;
};

}  // namespace

bool looksLikeChart(std::string_view text) {
    if (text.substr(0, 3) == "\xEF\xBB\xBF") text.remove_prefix(3);
    const std::size_t start = text.find_first_not_of(" \t\r\n");
    return start != std::string_view::npos && text.substr(start, kChartHead.size()) == kChartHead;
}

std::optional<Problem> sayable(const WrittenChart& chart, ChartStyle style) {
    if (style == ChartStyle::symbols) return std::nullopt;
    for (const WrittenRow& row : chart.rows) {
        for (const ChartCell& cell : row.cells) {
            if (cell.kind != ChartCell::Kind::stitch) continue;
            const bool plain = cell.sign.sign == Sign::knit || cell.sign.sign == Sign::purl;
            if (plain && cell.sign.yarn == 0 && !cell.sign.link) continue;
            const auto step = stepOf(cell.sign, row.facing);
            Problem problem;
            problem.row = row.number;
            problem.words = step ? printStep(*step) : glyphOf(cell.sign);
            problem.message =
                plain
                    ? fmt::format("Face and reverse stitches are all of one yarn, and row {} has another.",
                                  row.number)
                    : fmt::format("Face and reverse are all that this notation can say, and row {} has “{}”.",
                                  row.number, problem.words);
            problem.suggestions = {"the chart of symbols"};
            return problem;
        }
    }
    return std::nullopt;
}

std::string printChart(const WrittenChart& chart, ChartStyle style, Terms terms) {
    return Printing(chart, style, terms).run();
}

}  // namespace loopmend
