// SPDX-License-Identifier: MIT
#include "picture/handout.h"

#include <algorithm>
#include <string_view>
#include <utility>

#include <fmt/format.h>

namespace loopmend {

namespace {

constexpr Colour kInk{0.12, 0.12, 0.12};
constexpr Colour kSoft{0.38, 0.38, 0.38};
constexpr Colour kRule{0.75, 0.75, 0.75};

/// Share of the letters' body that a character of DejaVu Sans takes at most.
double widthOf(char c) {
    constexpr std::string_view kNarrow = " iljI.,:;'|!()[]-";
    constexpr std::string_view kMiddling = "frtJ/\\\"*";
    constexpr std::string_view kWide = "mMW%@&";
    const auto byte = static_cast<unsigned char>(c);
    if (byte >= 0x80 && byte < 0xc0) return 0;  // a later byte of a character
    if (kNarrow.find(c) != std::string_view::npos) return 0.40;
    if (kMiddling.find(c) != std::string_view::npos) return 0.50;
    if (kWide.find(c) != std::string_view::npos) return 1.0;
    if (c >= 'A' && c <= 'Z') return 0.79;
    if (byte >= 0xc0) return 1.0;
    return c == 'w' ? 0.82 : 0.64;
}

double widthOf(std::string_view words, double letterMm, bool bold) {
    double sum = 0;
    for (const char c : words) sum += widthOf(c);
    return sum * letterMm * (bold ? 1.13 : 1.0);
}

std::string withoutStars(const std::string& words) {
    std::string plain;
    for (const char c : words) {
        if (c != '*') plain += c;
    }
    return plain;
}

/// Puts things below each other on sheets.
class Sheets {
  public:
    Sheets(const Handout& handout, const SheetSize& size) : handout_(handout), size_(size) {}

    std::vector<Drawing> lay() {
        newSheet();
        words(handout_.title, 2.0 * size_.letterMm, true, kInk);
        if (!handout_.from.empty()) words(handout_.from, size_.letterMm, false, kSoft);
        y_ += size_.letterMm;
        for (const HandoutStep& step : handout_.steps) laySheetOf(step);
        for (std::size_t i = 0; i < sheets_.size(); ++i) {
            sheets_[i].title = fmt::format("{}, sheet {} of {}", handout_.title, i + 1, sheets_.size());
            sheets_[i].words(fmt::format("{} of {}", i + 1, sheets_.size()),
                             {size_.widthMm / 2, size_.heightMm - size_.marginMm / 2}, 0.8 * size_.letterMm,
                             kSoft, Align::middle);
        }
        return std::move(sheets_);
    }

  private:
    double inner() const { return size_.widthMm - 2 * size_.marginMm; }
    double bottom() const { return size_.heightMm - size_.marginMm - size_.letterMm; }

    void newSheet() {
        Drawing sheet;
        sheet.widthMm = size_.widthMm;
        sheet.heightMm = size_.heightMm;
        sheets_.push_back(std::move(sheet));
        y_ = size_.marginMm;
        fresh_ = true;
    }

    void words(const std::string& text, double letter, bool bold, Colour colour) {
        for (const std::string& line : brokenLines(withoutStars(text), inner(), letter, bold)) {
            if (y_ + 1.4 * letter > bottom()) newSheet();
            y_ += 1.4 * letter;
            sheets_.back().words(line, {size_.marginMm, y_}, letter, colour, Align::left, bold);
            fresh_ = false;
        }
    }
    double heightOfWords(const std::string& text, double letter, bool bold) const {
        return 1.4 * letter *
               static_cast<double>(brokenLines(withoutStars(text), inner(), letter, bold).size());
    }

    /// Pictures of one step stand in lines of two.
    struct Line {
        std::size_t first;
        std::size_t count;
        double scale;
        double height;
    };
    std::vector<Line> linesOf(const HandoutStep& step) const {
        std::vector<Line> lines;
        const double gap = size_.letterMm;
        for (std::size_t i = 0; i < step.pictures.size();) {
            const std::size_t count = std::min<std::size_t>(2, step.pictures.size() - i);
            double width = gap * static_cast<double>(count - 1);
            double high = 0;
            for (std::size_t k = i; k < i + count; ++k) {
                width += step.pictures[k].drawing.widthMm;
                high = std::max(high, step.pictures[k].drawing.heightMm);
            }
            const double most = size_.heightMm / 2.6;  // two steps with pictures to a sheet
            const double scale = std::min({1.0, inner() / width, most / std::max(high, 1.0)});
            lines.push_back({i, count, scale, high * scale + 2.2 * size_.letterMm});
            i += count;
        }
        return lines;
    }

    void laySheetOf(const HandoutStep& step) {
        const double heading = (step.part ? 1.1 : 1.4) * size_.letterMm;
        const std::vector<Line> lines = linesOf(step);
        double needed = heightOfWords(step.heading, heading, true);
        for (const std::string& s : step.sentences) needed += heightOfWords(s, size_.letterMm, false);
        if (!step.caution.empty()) needed += heightOfWords(step.caution, size_.letterMm, true);
        for (const Line& line : lines) needed += line.height;
        if (!fresh_ && y_ + needed > bottom()) newSheet();
        if (!fresh_ && !step.part) rule();
        words(step.heading, heading, true, kInk);
        for (const std::string& s : step.sentences) words(s, size_.letterMm, false, kInk);
        if (!step.caution.empty()) words(step.caution, size_.letterMm, true, kInk);
        for (const Line& line : lines) pictures(step, line);
        y_ += size_.letterMm;
    }

    void rule() {
        sheets_.back().stroke(straight({size_.marginMm, y_}, {size_.widthMm - size_.marginMm, y_}), 0.25,
                              kRule);
        y_ += 0.3 * size_.letterMm;
    }

    void pictures(const HandoutStep& step, const Line& line) {
        if (!fresh_ && y_ + line.height > bottom()) newSheet();
        y_ += 0.6 * size_.letterMm;
        double x = size_.marginMm;
        for (std::size_t k = line.first; k < line.first + line.count; ++k) {
            const HandoutPicture& picture = step.pictures[k];
            place(picture.drawing, {x, y_}, line.scale);
            sheets_.back().words(picture.caption,
                                 {x, y_ + picture.drawing.heightMm * line.scale + 1.2 * size_.letterMm},
                                 0.85 * size_.letterMm, kSoft);
            x += picture.drawing.widthMm * line.scale + size_.letterMm;
        }
        y_ += line.height - 0.6 * size_.letterMm;
        fresh_ = false;
    }

    void place(const Drawing& drawing, Point2 corner, double scale) {
        const auto placed = [&](Point2 p) { return Point2{corner.x + scale * p.x, corner.y + scale * p.y}; };
        Drawing& sheet = sheets_.back();
        const Curve frame =
            polygon({placed({0, 0}), placed({drawing.widthMm, 0}),
                     placed({drawing.widthMm, drawing.heightMm}), placed({0, drawing.heightMm})});
        sheet.window(frame);
        sheet.area(frame, drawing.ground);
        for (DrawItem item : drawing.items) {
            for (Point2& p : item.curve.points) p = placed(p);
            item.at = placed(item.at);
            item.widthMm *= scale;
            item.sizeMm *= scale;
            for (double& d : item.dash) d *= scale;
            sheet.items.push_back(std::move(item));
        }
        sheet.window({});
    }

    const Handout& handout_;
    SheetSize size_;
    std::vector<Drawing> sheets_;
    double y_ = 0;
    bool fresh_ = true;  ///< nothing stands on the sheet yet
};

}  // namespace

std::vector<std::string> brokenLines(const std::string& words, double widthMm, double letterMm, bool bold) {
    std::vector<std::string> lines;
    std::string line;
    std::size_t at = 0;
    while (at < words.size()) {
        std::size_t end = words.find_first_of(" \n", at);
        if (end == std::string::npos) end = words.size();
        const std::string word = words.substr(at, end - at);
        if (!word.empty()) {
            const std::string longer = line.empty() ? word : line + " " + word;
            if (!line.empty() && widthOf(longer, letterMm, bold) > widthMm) {
                lines.push_back(std::move(line));
                line = word;
            } else {
                line = longer;
            }
        }
        at = end + 1;
    }
    if (!line.empty()) lines.push_back(std::move(line));
    return lines;
}

std::vector<Drawing> sheetsOf(const Handout& handout, const SheetSize& size) {
    return Sheets(handout, size).lay();
}

}  // namespace loopmend
