// SPDX-License-Identifier: MIT
// Signs as letters.
#include <algorithm>
#include <iterator>
#include <tuple>

#include <fmt/format.h>

#include "pattern/chart_text.h"
#include "pattern/print.h"

namespace loopmend {

namespace {

struct GlyphFacts {
    Sign sign;
    std::string_view base;
    bool counted;
};

constexpr GlyphFacts kGlyphs[] = {
    {Sign::knit, "|", false},         {Sign::purl, "-", false},         {Sign::yarnOver, "o", true},
    {Sign::rightOver, "\\", false},   {Sign::leftOver, "/", false},     {Sign::centreOver, "^", false},
    {Sign::rightOver3, "\\3", false}, {Sign::leftOver3, "/3", false},   {Sign::twistedLeft, "x", false},
    {Sign::twistedRight, "z", false}, {Sign::slipped, "v", false},      {Sign::slippedInFront, "V", false},
    {Sign::below, "n", false},        {Sign::wrapped, "q", false},      {Sign::turned, "A", false},
    {Sign::pickedUp, "P", true},      {Sign::fromOne, "Y", true},       {Sign::made, "M", false},
    {Sign::madeLeft, "M\\", false},   {Sign::madeRight, "M/", false},   {Sign::castOff, "*", true},
    {Sign::castOn, "u", true},        {Sign::oneOverTwo, ">2", false},  {Sign::togetherOver, ">0", false},
    {Sign::passedOver, ">", false},   {Sign::held, "H", true},          {Sign::longStitch, "@", true},
    {Sign::letFall, "!", false},      {Sign::liftedLeft, "L\\", false}, {Sign::liftedRight, "L/", false},
    {Sign::turnHere, "T", false},     {Sign::wrapTurn, "W", false},     {Sign::doubled, "d", false},
    {Sign::caught, "f", false},
};

bool digit(char c) {
    return c >= '0' && c <= '9';
}

/// Takes a number off the front; none if there is none or it is too large.
std::optional<int> takeNumber(std::string_view& text) {
    int value = 0;
    std::size_t n = 0;
    while (n < text.size() && digit(text[n])) {
        value = value * 10 + (text[n] - '0');
        if (value > kLargestNumber) return std::nullopt;
        ++n;
    }
    if (n == 0) return std::nullopt;
    text.remove_prefix(n);
    return value;
}

bool takeChar(std::string_view& text, char c) {
    if (text.empty() || text.front() != c) return false;
    text.remove_prefix(1);
    return true;
}

std::string crossing(const StitchSign& sign) {
    const auto group = [](int n, bool purled, bool twisted) {
        return fmt::format("{}{}{}", n, purled ? "p" : "", twisted ? "t" : "");
    };
    return group(sign.left, sign.purlLeft, sign.twistLeft) + (sign.rightInFront ? "\\" : "/") +
           group(sign.right, sign.purlRight, sign.twistRight);
}

std::optional<StitchSign> crossingFrom(std::string_view& text) {
    StitchSign sign;
    sign.sign = Sign::crossing;
    const auto left = takeNumber(text);
    if (!left || *left < 1) return std::nullopt;
    sign.purlLeft = takeChar(text, 'p');
    sign.twistLeft = takeChar(text, 't');
    sign.rightInFront = takeChar(text, '\\');
    if (!sign.rightInFront && !takeChar(text, '/')) return std::nullopt;
    const auto right = takeNumber(text);
    if (!right || *right < 1) return std::nullopt;
    sign.purlRight = takeChar(text, 'p');
    sign.twistRight = takeChar(text, 't');
    sign.left = static_cast<std::int16_t>(*left);
    sign.right = static_cast<std::int16_t>(*right);
    return sign;
}

std::optional<StitchSign> plainFrom(std::string_view& text) {
    const GlyphFacts* found = nullptr;
    for (const GlyphFacts& glyph : kGlyphs)
        if (text.substr(0, glyph.base.size()) == glyph.base &&
            (!found || glyph.base.size() > found->base.size()))
            found = &glyph;
    if (!found) return std::nullopt;
    text.remove_prefix(found->base.size());
    StitchSign sign;
    sign.sign = found->sign;
    if (!text.empty() && digit(text.front())) {
        const auto count = takeNumber(text);
        if (!found->counted || !count || *count < 1) return std::nullopt;
        sign.count = static_cast<std::int16_t>(*count);
    }
    sign.bar = takeChar(text, '_');
    while (takeChar(text, '\'')) {
        if (sign.way == 9) return std::nullopt;
        ++sign.way;
    }
    return sign;
}

}  // namespace

std::string glyphOf(const StitchSign& sign) {
    std::string text;
    if (sign.sign == Sign::crossing) {
        text = crossing(sign);
    } else {
        const auto found = std::find_if(std::begin(kGlyphs), std::end(kGlyphs),
                                        [&](const GlyphFacts& g) { return g.sign == sign.sign; });
        text = found == std::end(kGlyphs) ? "?" : std::string(found->base);
        if (sign.count != 1) text += std::to_string(sign.count);
        if (sign.bar) text += '_';
        text.append(sign.way, '\'');
    }
    if (sign.yarn > 25)
        text += fmt::format(".{}", static_cast<int>(sign.yarn));
    else if (sign.yarn > 0)
        text += fmt::format(".{}", static_cast<char>('A' + sign.yarn));
    if (sign.link) text += '+';
    return text;
}

std::optional<StitchSign> signFrom(std::string_view glyph) {
    std::string_view text = glyph;
    if (text.empty()) return std::nullopt;
    auto sign = digit(text.front()) ? crossingFrom(text) : plainFrom(text);
    if (!sign) return std::nullopt;
    if (takeChar(text, '.')) {
        if (text.empty()) return std::nullopt;
        if (text.front() >= 'A' && text.front() <= 'Z') {
            sign->yarn = static_cast<std::uint8_t>(text.front() - 'A');
            text.remove_prefix(1);
        } else {
            const auto yarn = takeNumber(text);
            if (!yarn || *yarn > 255) return std::nullopt;
            sign->yarn = static_cast<std::uint8_t>(*yarn);
        }
    }
    sign->link = takeChar(text, '+');
    if (!text.empty()) return std::nullopt;
    return sign;
}

std::vector<LegendLine> legendOf(const WrittenChart& chart) {
    std::vector<LegendLine> lines;
    for (const WrittenRow& row : chart.rows) {
        for (const ChartCell& cell : row.cells) {
            if (cell.kind != ChartCell::Kind::stitch) continue;
            StitchSign sign = cell.sign;
            sign.yarn = 0;
            sign.link = false;
            auto found = std::find_if(lines.begin(), lines.end(),
                                      [&](const LegendLine& line) { return line.sign == sign; });
            if (found == lines.end()) {
                lines.push_back({sign, std::nullopt, std::nullopt});
                found = lines.end() - 1;
            }
            (row.facing == Facing::right ? found->right : found->wrong) = stepOf(sign, row.facing);
        }
    }
    std::stable_sort(lines.begin(), lines.end(), [](const LegendLine& a, const LegendLine& b) {
        return std::tuple(a.sign.sign, a.sign.bar, a.sign.way, a.sign.count) <
               std::tuple(b.sign.sign, b.sign.bar, b.sign.way, b.sign.count);
    });
    return lines;
}

std::string wordsOf(const LegendLine& line, bool round, Terms terms) {
    std::string words;
    if (line.right) words = printStep(*line.right, terms);
    if (line.wrong && !round)
        words += fmt::format("{}WS {}", words.empty() ? "" : "; ", printStep(*line.wrong, terms));
    return words;
}

}  // namespace loopmend
