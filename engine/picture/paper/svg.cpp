// SPDX-License-Identifier: MIT
#include "picture/paper/svg.h"

#include <cmath>

#include <fmt/format.h>

#include "picture/paper/markup.h"

namespace loopmend {

namespace {

/// Hundredths of a millimetre, without useless zeros.
std::string number(double x) {
    const auto hundredths = std::llround(x * 100);
    const long long whole = std::llabs(hundredths) / 100;
    const long long rest = std::llabs(hundredths) % 100;
    std::string text = hundredths < 0 ? "-" : "";
    if (rest == 0) return text + std::to_string(whole);
    if (whole != 0) text += std::to_string(whole);
    text += fmt::format(".{:02}", rest);
    if (text.back() == '0') text.pop_back();
    return text;
}

void appendNumber(std::string& d, double x) {
    const std::string n = number(x);
    const char last = d.back();
    if (n[0] != '-' && last != 'M' && last != 'c') d += ' ';
    d += n;
}

std::string pathData(const Curve& curve) {
    std::string d = "M";
    // Relative to a position in hundredths, so that rounding does not add up.
    const auto rounded = [](double x) { return static_cast<double>(std::llround(x * 100)) / 100; };
    Point2 pen{rounded(curve.points.front().x), rounded(curve.points.front().y)};
    appendNumber(d, pen.x);
    appendNumber(d, pen.y);
    d += 'c';
    for (std::size_t i = 1; i + 2 < curve.points.size(); i += 3) {
        for (std::size_t k = 0; k < 3; ++k) {
            appendNumber(d, curve.points[i + k].x - pen.x);
            appendNumber(d, curve.points[i + k].y - pen.y);
        }
        pen = {rounded(curve.points[i + 2].x), rounded(curve.points[i + 2].y)};
    }
    if (curve.closed) d += 'z';
    return d;
}

}  // namespace

std::string svgOf(const Drawing& drawing) {
    std::string svg = fmt::format(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{0}mm\" height=\"{1}mm\" viewBox=\"0 0 {0} {1}\" "
        "role=\"img\">\n<title>{2}</title>\n<rect width=\"{0}\" height=\"{1}\" fill=\"{3}\"/>\n"
        "<g fill=\"none\" font-family=\"DejaVu Sans, Verdana, Arial, sans-serif\">\n",
        number(drawing.widthMm), number(drawing.heightMm), escaped(drawing.title), hexColour(drawing.ground));
    int windows = 0;
    bool open = false;
    for (const DrawItem& item : drawing.items) {
        if (item.what == DrawItem::What::words) {
            const char* anchor = item.align == Align::left     ? ""
                                 : item.align == Align::middle ? " text-anchor=\"middle\""
                                                               : " text-anchor=\"end\"";
            svg +=
                fmt::format("<text x=\"{}\" y=\"{}\" font-size=\"{}\" fill=\"{}\"{}{}>{}</text>\n",
                            number(item.at.x), number(item.at.y), number(item.sizeMm), hexColour(item.colour),
                            anchor, item.bold ? " font-weight=\"bold\"" : "", escaped(item.words));
            continue;
        }
        if (item.what == DrawItem::What::window && open) svg += "</g>\n";
        if (item.what == DrawItem::What::window) open = item.curve.points.size() >= 4;
        if (item.what == DrawItem::What::window && item.curve.points.size() >= 4) {
            svg += fmt::format(
                "<clipPath id=\"w{0}\"><path d=\"{1}\"/></clipPath>\n<g clip-path=\"url(#w{0})\">\n",
                ++windows, pathData(item.curve));
            continue;
        }
        if (item.curve.points.size() < 4) continue;
        if (item.what == DrawItem::What::area) {
            svg +=
                fmt::format("<path d=\"{}\" fill=\"{}\"/>\n", pathData(item.curve), hexColour(item.colour));
            continue;
        }
        std::string dash;
        for (const double x : item.dash) dash += (dash.empty() ? "" : " ") + number(x);
        svg += fmt::format("<path d=\"{}\" stroke=\"{}\" stroke-width=\"{}\"{}{}/>\n", pathData(item.curve),
                           hexColour(item.colour), number(item.widthMm),
                           item.cap == Cap::round ? " stroke-linecap=\"round\"" : "",
                           dash.empty() ? "" : fmt::format(" stroke-dasharray=\"{}\"", dash));
    }
    if (open) svg += "</g>\n";
    svg += "</g>\n</svg>\n";
    return svg;
}

}  // namespace loopmend
