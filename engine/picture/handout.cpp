// SPDX-License-Identifier: MIT
#include "picture/handout.h"
#include "picture/set_off.h"

#include <algorithm>
#include <string_view>
#include <utility>

#include <fmt/format.h>

namespace loopmend {

namespace {

constexpr Colour kInk{0.12, 0.12, 0.12};
constexpr Colour kSoft{0.38, 0.38, 0.38};
constexpr Colour kRule{0.75, 0.75, 0.75};
constexpr double kLeading = 1.4;
constexpr double kCaptionLeading = 1.2;

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
    std::size_t at = 0;
    for (const SetOff& word : setOff(words)) {
        plain += words.substr(at, word.open - at);
        plain += words.substr(word.open + 1, word.close - word.open - 1);
        at = word.close + 1;
    }
    return plain + words.substr(at);
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
        for (const HandoutStep& step : handout_.steps) layStep(step);
        for (std::size_t i = 0; i < sheets_.size(); ++i) headAndFoot(i);
        return std::move(sheets_);
    }

  private:
    double inner() const { return size_.widthMm - 2 * size_.marginMm; }
    double bottom() const { return size_.heightMm - size_.marginMm - size_.letterMm; }
    double small() const { return 0.8 * size_.letterMm; }

    void newSheet() {
        Drawing sheet;
        sheet.widthMm = size_.widthMm;
        sheet.heightMm = size_.heightMm;
        sheets_.push_back(std::move(sheet));
        y_ = size_.marginMm;
        fresh_ = true;
    }

    /// One line; what is too long for it is cut.
    void lineAt(Drawing& sheet, const std::string& text, Point2 at, Align align, double room) const {
        const std::vector<std::string> lines = brokenLines(withoutStars(text), room, small());
        if (!lines.empty()) sheet.words(lines.front(), at, small(), kSoft, align);
    }

    void headAndFoot(std::size_t i) {
        Drawing& sheet = sheets_[i];
        sheet.title = fmt::format("{}, sheet {} of {}", handout_.title, i + 1, sheets_.size());
        const double foot = size_.heightMm - size_.marginMm / 2;
        const double right = size_.widthMm - size_.marginMm;
        lineAt(sheet, handout_.foot, {size_.marginMm, foot}, Align::left, 0.8 * inner());
        lineAt(sheet, fmt::format("{} of {}", i + 1, sheets_.size()), {right, foot}, Align::right, inner());
        if (i > 0) lineAt(sheet, handout_.title, {right, 0.7 * size_.marginMm}, Align::right, inner());
    }

    void words(const std::string& text, double letter, bool bold, Colour colour, double indent = 0) {
        asItIs(withoutStars(text), letter, bold, colour, indent);
    }
    void asItIs(const std::string& text, double letter, bool bold, Colour colour, double indent) {
        for (const std::string& line : brokenLines(text, inner() - indent, letter, bold)) {
            if (y_ + kLeading * letter > bottom()) newSheet();
            y_ += kLeading * letter;
            sheets_.back().words(line, {size_.marginMm + indent, y_}, letter, colour, Align::left, bold);
            fresh_ = false;
        }
    }
    double heightOfWords(const std::string& text, double letter, bool bold, double indent = 0) const {
        return kLeading * letter *
               static_cast<double>(brokenLines(withoutStars(text), inner() - indent, letter, bold).size());
    }

    double indent() const { return 1.8 * size_.letterMm; }
    void choice(const std::string& text) {
        const double box = 0.72 * size_.letterMm;
        const double needed = heightOfWords(text, size_.letterMm, false, indent());
        if (y_ + needed > bottom()) newSheet();
        const double top = y_ + kLeading * size_.letterMm - 0.75 * size_.letterMm;
        const double left = size_.marginMm + 0.4 * size_.letterMm;
        words(text, size_.letterMm, false, kInk, indent());
        sheets_.back().stroke(
            polygon({{left, top}, {left + box, top}, {left + box, top + box}, {left, top + box}}), 0.3, kInk);
    }

    /// A row of pictures, each in a place of the same width.
    struct Line {
        std::size_t first;
        std::size_t count;
        double height;  ///< of the pictures
        double below;   ///< and of the words under them
    };
    double gap() const { return 0.8 * size_.letterMm; }
    double captionLetter() const { return 0.85 * size_.letterMm; }
    double placeWidth(const HandoutStep& step) const {
        const double across = std::max(1, step.across);
        return (inner() - gap() * (across - 1)) / across;
    }
    double scaleOf(const HandoutStep& step, const Drawing& drawing) const {
        // Two steps with pictures to a sheet; or two pictures one above the other, with a few words.
        const double most = size_.heightMm / (step.across > 1 ? 2.6 : 3.6);
        return std::min({1.0, placeWidth(step) / drawing.widthMm, most / std::max(drawing.heightMm, 1.0)});
    }
    std::vector<Line> linesOf(const HandoutStep& step) const {
        std::vector<Line> lines;
        const auto across = static_cast<std::size_t>(std::max(1, step.across));
        for (std::size_t i = 0; i < step.pictures.size(); i += across) {
            Line line{i, std::min(across, step.pictures.size() - i), 0, 0};
            for (std::size_t k = i; k < i + line.count; ++k) {
                const HandoutPicture& p = step.pictures[k];
                line.height = std::max(line.height, p.drawing.heightMm * scaleOf(step, p.drawing));
                const auto rows =
                    brokenLines(withoutStars(p.caption), placeWidth(step), captionLetter()).size();
                line.below =
                    std::max(line.below, kCaptionLeading * captionLetter() * static_cast<double>(rows));
            }
            lines.push_back(line);
        }
        return lines;
    }
    double heightOf(const Line& line) const { return line.height + line.below + 1.2 * size_.letterMm; }

    void layStep(const HandoutStep& step) {
        const double heading = (step.part ? 1.1 : 1.4) * size_.letterMm;
        const std::vector<Line> lines = linesOf(step);
        double said = heightOfWords(step.heading, heading, true);
        for (const std::string& s : step.sentences) said += heightOfWords(s, size_.letterMm, false);
        for (const std::string& s : step.lines) said += heightOfWords(s, size_.letterMm, false, indent());
        for (const std::string& s : step.choices) said += heightOfWords(s, size_.letterMm, false, indent());
        if (!step.caution.empty()) said += heightOfWords(caution(step), size_.letterMm, true);
        double all = said;
        for (const Line& line : lines) all += heightOf(line);
        const double room = bottom() - y_;
        const double whole = bottom() - size_.marginMm;
        // A step that no sheet holds breaks between its pictures, but does not begin without one.
        const double begins = said + (lines.empty() ? 0 : heightOf(lines.front()));
        if (!fresh_ && (step.newSheet || (all <= whole ? all > room : begins > room))) newSheet();
        if (!fresh_ && !step.part) rule();
        words(step.heading, heading, true, kInk);
        for (const std::string& s : step.sentences) words(s, size_.letterMm, false, kInk);
        for (const std::string& s : step.lines) asItIs(s, size_.letterMm, false, kInk, indent());
        for (const std::string& s : step.choices) choice(s);
        if (!step.caution.empty()) words(caution(step), size_.letterMm, true, kInk);
        for (const Line& line : lines) pictures(step, line);
        y_ += (step.part ? 0.5 : 1.0) * size_.letterMm;
    }

    static std::string caution(const HandoutStep& step) { return "Take care: " + step.caution; }

    void rule() {
        sheets_.back().stroke(straight({size_.marginMm, y_}, {size_.widthMm - size_.marginMm, y_}), 0.25,
                              kRule);
        y_ += 0.3 * size_.letterMm;
    }

    void pictures(const HandoutStep& step, const Line& line) {
        if (!fresh_ && y_ + heightOf(line) > bottom()) newSheet();
        y_ += 0.6 * size_.letterMm;
        double x = size_.marginMm;
        for (std::size_t k = line.first; k < line.first + line.count; ++k) {
            const HandoutPicture& picture = step.pictures[k];
            const double scale = scaleOf(step, picture.drawing);
            place(picture.drawing, {x, y_}, scale);
            double y = y_ + line.height + 0.2 * captionLetter();
            for (const std::string& words :
                 brokenLines(withoutStars(picture.caption), placeWidth(step), captionLetter())) {
                y += kCaptionLeading * captionLetter();
                sheets_.back().words(words, {x, y}, captionLetter(), kInk);
            }
            x += placeWidth(step) + gap();
        }
        y_ += heightOf(line) - 0.6 * size_.letterMm;
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
            const std::string longer = line.empty() ? word : fmt::format("{} {}", line, word);
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

std::optional<SheetSize> sheetSizeFrom(std::string_view name) {
    if (name == "a4") return SheetSize{};
    SheetSize letter;
    letter.widthMm = 215.9;
    letter.heightMm = 279.4;
    return name == "letter" ? std::optional(letter) : std::nullopt;
}

std::vector<Drawing> sheetsOf(const Handout& handout, const SheetSize& size) {
    return Sheets(handout, size).lay();
}

}  // namespace loopmend
