// SPDX-License-Identifier: MIT
// The small SVG of handouts is read back into strokes, drawn, and compared with the drawing it was made of.
#include <catch2/catch.hpp>

#include <cmath>
#include <cstdlib>
#include <map>
#include <string>

#include "pattern/counts.h"
#include "pattern/parse.h"
#include "pattern/working.h"
#include "picture/drawing.h"
#include "picture/paper/handout_svg.h"
#include "picture/paper/markup.h"
#include "picture/paper/paper.h"
#include "picture/paper/pixels.h"
#include "picture/paper/svg.h"

using namespace loopmend;

namespace {

/// Reads what SharedSvg writes, and nothing else.
class SvgReader {
  public:
    SvgReader(const std::string& style, double mmOfUnit) : style_(style), unit_(mmOfUnit) {}

    Drawing read(const std::string& svg) {
        Drawing d;
        std::string look;
        bool defining = false;
        for (std::size_t at = svg.find('<'); at != std::string::npos; at = svg.find('<', at + 1)) {
            const std::size_t end = svg.find('>', at);
            const std::string tag = svg.substr(at + 1, end - at - 1);
            if (tag.rfind("svg ", 0) == 0) {
                const std::string box = attribute(tag, "viewBox");
                char* rest = nullptr;
                (void)std::strtod(box.c_str(), &rest);
                (void)std::strtod(rest, &rest);
                d.widthMm = std::strtod(rest, &rest) * unit_;
                d.heightMm = std::strtod(rest, &rest) * unit_;
            }
            if (tag == "defs") defining = true;
            if (tag == "/defs") defining = false;
            if (tag.rfind("g ", 0) == 0) look = attribute(tag, "class");
            if (tag == "/g") look.clear();
            if (tag.rfind("path ", 0) == 0) {
                const std::string own = attribute(tag, "class");
                if (own.empty() && defining) {
                    defined_[attribute(tag, "id")] = attribute(tag, "d");
                } else {
                    draw(d, own.empty() ? look : own, attribute(tag, "d"), moved(tag));
                }
            }
            if (tag.rfind("use ", 0) == 0) {
                const std::string id = attribute(tag, "href").substr(1);
                REQUIRE(defined_.count(id) == 1);
                draw(d, look, defined_[id],
                     Point2{std::atof(attribute(tag, "x").c_str()), std::atof(attribute(tag, "y").c_str())});
            }
            if (tag.rfind("text ", 0) == 0) {
                const std::string words = svg.substr(end + 1, svg.find('<', end) - end - 1);
                const std::string how = declarations(attribute(tag, "class"));
                const Align align = how.find("anchor:middle") != std::string::npos ? Align::middle
                                    : how.find("anchor:end") != std::string::npos  ? Align::right
                                                                                   : Align::left;
                d.words(
                    words,
                    Point2{std::atof(attribute(tag, "x").c_str()), std::atof(attribute(tag, "y").c_str())} *
                        unit_,
                    number(how, "font-size:") * unit_, colour(how, "fill:"), align,
                    how.find("bold") != std::string::npos);
            }
        }
        return d;
    }

  private:
    static std::string attribute(const std::string& tag, const std::string& name) {
        const std::size_t at = tag.find(" " + name + "=\"");
        if (at == std::string::npos) return {};
        const std::size_t from = at + name.size() + 3;
        return tag.substr(from, tag.find('"', from) - from);
    }
    static Point2 moved(const std::string& tag) {
        const std::string t = attribute(tag, "transform");
        if (t.empty()) return {};
        char* rest = nullptr;
        const double x = std::strtod(t.c_str() + std::string("translate(").size(), &rest);
        return {x, std::strtod(rest, &rest)};
    }
    std::string declarations(const std::string& look) const {
        const std::size_t at = style_.find("." + look + "{");
        REQUIRE(at != std::string::npos);
        return style_.substr(at, style_.find('}', at) - at) + ";";
    }
    static double number(const std::string& how, const std::string& name) {
        const std::size_t at = how.find(name);
        return at == std::string::npos ? 0 : std::atof(how.c_str() + at + name.size());
    }
    static Colour colour(const std::string& how, const std::string& name) {
        const std::size_t at = how.find(name + "#");
        REQUIRE(at != std::string::npos);
        const auto rgb = std::strtol(how.c_str() + at + name.size() + 1, nullptr, 16);
        return {static_cast<double>(rgb >> 16) / 255, static_cast<double>((rgb >> 8) & 255) / 255,
                static_cast<double>(rgb & 255) / 255};
    }

    void draw(Drawing& d, const std::string& look, const std::string& path, Point2 origin) const {
        const std::string how = declarations(look);
        const auto put = [&](Curve curve) {
            if (curve.points.size() < 4) return;
            if (how.find("stroke:") == std::string::npos) {
                d.area(std::move(curve), colour(how, "fill:"));
                return;
            }
            std::vector<double> dash;
            const std::size_t at = how.find("dasharray:");
            if (at != std::string::npos) {
                const char* rest = how.c_str() + at + 10;
                for (char* next = nullptr; *rest != ';'; rest = *next == ',' ? next + 1 : next)
                    dash.push_back(std::strtod(rest, &next) * unit_);
            }
            d.stroke(std::move(curve), number(how, "stroke-width:") * unit_, colour(how, "stroke:"),
                     how.find("linecap:round") != std::string::npos ? Cap::round : Cap::butt, dash);
        };
        Curve curve;
        Point2 pen = origin;
        Point2 handle = pen;
        char command = ' ';
        const char* p = path.c_str();
        const auto next = [&] {
            char* rest = nullptr;
            const double x = std::strtod(p, &rest);
            REQUIRE(rest != p);
            p = rest;
            return x;
        };
        const auto mm = [&](Point2 q) { return q * unit_; };
        while (*p != 0) {
            if (std::isalpha(static_cast<unsigned char>(*p)) != 0) command = *p++;
            if (command == 'z') {
                curve.closed = true;
                continue;
            }
            if (command == 'M') {
                put(std::move(curve));
                curve = {};
                const double x = next();
                pen = origin + Point2{x, next()};
                curve.start(mm(pen));
                handle = pen;
                continue;
            }
            const Point2 from = pen;
            if (command == 'h' || command == 'v' || command == 'H') {
                const double x = next();
                pen = command == 'h'   ? pen + Point2{x, 0}
                      : command == 'v' ? pen + Point2{0, x}
                                       : Point2{x, pen.y};
                curve.line(mm(pen));
                continue;
            }
            const auto point = [&] {
                const double x = next();
                return from + Point2{x, next()};
            };
            REQUIRE((command == 'c' || command == 's' || command == 'l'));
            if (command == 'l') {
                pen = point();
                curve.line(mm(pen));
                handle = pen;
                continue;
            }
            const Point2 one = command == 's' ? from + (from - handle) : point();
            const Point2 two = point();
            pen = point();
            curve.bend(mm(one), mm(two), mm(pen));
            handle = two;
        }
        put(std::move(curve));
    }

    const std::string& style_;
    double unit_;
    std::map<std::string, std::string> defined_;
};

Pixels pixelsOf(const Drawing& drawing, double perMm) {
    PaperOptions options;
    options.pixelsPerMm = perMm;
    const auto png = onPaper(drawing, PaperFormat::png, options);
    REQUIRE(png);
    auto pixels = loopmend::pixelsOf(*png);
    REQUIRE(pixels);
    return std::move(*pixels);
}

constexpr const char* kPlain = "Row 1: k to end.\nRow 2: p to end.\n";
constexpr const char* kCable =
    "Row 1: k4, 2/2 LC, k4.\nRow 2: p to end.\nRow 3: k to end.\nRow 4: p to end.\n";
constexpr const char* kLace = "Row 1: k2, *yo, k2tog; rep from * to last 2 sts, k2.\nRow 2: p to end.\n";

Drawing clothOf(const char* pattern, Side side, bool highlighted) {
    const auto script = expand(parse(pattern), 12, 8);
    REQUIRE(script);
    const auto knitted = knit(*script);
    REQUIRE(knitted);
    DrawingOptions options;
    options.side = side;
    if (highlighted) {
        for (const int i : {40, 41, 55}) {
            Highlight h;
            h.entry = LoopId{i};
            h.line = i == 55 ? Highlight::Line::dots : Highlight::Line::dashes;
            if (i == 40) h.letter = "7";
            options.highlights.push_back(h);
        }
    }
    return drawingOf(*knitted->fabric, options);
}

}  // namespace

TEST_CASE("The pictures of a page, made small, are the pictures", "[handout]") {
    std::vector<Drawing> drawings;
    for (const char* pattern : {kPlain, kCable, kLace}) {
        for (const Side side : {Side::right, Side::wrong}) {
            for (const bool highlighted : {false, true})
                drawings.push_back(clothOf(pattern, side, highlighted));
        }
    }
    constexpr double kWidthPx = 800;
    SharedSvg shared;
    std::vector<SharedSvg::Wanted> wanted;
    for (const Drawing& d : drawings) wanted.push_back({&d, kWidthPx});
    shared.take(wanted);
    std::map<std::string, std::string> defined;
    std::string all;
    std::size_t plain = 0;
    SvgReader reader(shared.style(), 1);
    for (std::size_t i = 0; i < drawings.size(); ++i) {
        const std::string svg = shared.next();
        all += svg;
        plain += svgOf(drawings[i]).size();
        // Units differ from picture to picture: read in units, and shown as large as the drawing.
        const Drawing again = reader.read(svg);
        CHECK(again.widthMm == Approx(2 * kWidthPx).margin(2));
        const Pixels was = pixelsOf(drawings[i], kWidthPx / drawings[i].widthMm);
        Pixels is = pixelsOf(again, 0.5);
        REQUIRE(std::abs(was.width - is.width) <= 1);
        if (was.width != is.width || was.height != is.height) continue;
        const PixelDifference d = difference(was, is);
        INFO("picture " << i << ": mean " << d.mean << ", patch " << d.patch);
        CHECK(d.mean < 0.045);
        CHECK(d.patch < 0.35);
    }
    // The twin with three stitches lit shares the rest.
    CHECK(all.find("<use ") != std::string::npos);
    CHECK(6 * all.size() < plain);
}

TEST_CASE("Strokes are put into layers without changing what lies over what", "[handout]") {
    const auto line = [](Point2 a, Point2 b, double width) {
        DrawItem item;
        item.curve = straight(a, b);
        item.widthMm = width;
        return item;
    };
    // Two pairs of outline and fill far from each other; a third pair across the first.
    const std::vector<DrawItem> items = {line({0, 0}, {10, 0}, 2),   line({0, 0}, {10, 0}, 1),
                                         line({0, 50}, {10, 50}, 2), line({0, 50}, {10, 50}, 1),
                                         line({5, -5}, {5, 5}, 2),   line({5, -5}, {5, 5}, 1)};
    const std::vector<std::string> looks = {"a", "b", "a", "b", "a", "b"};
    std::vector<const DrawItem*> strokes;
    for (const DrawItem& item : items) strokes.push_back(&item);
    CHECK(layersFor(strokes, looks) == std::vector<int>{0, 1, 0, 1, 2, 3});
    CHECK(layersFor({}, {}).empty());
}

TEST_CASE("An outline takes its fill's curve, and no other's", "[handout]") {
    const auto stroke = [](Point2 a, Point2 b, double width) {
        DrawItem item;
        item.curve = straight(a, b);
        item.widthMm = width;
        return item;
    };
    std::vector<DrawItem> items = {stroke({0.1, 0}, {9.9, 0}, 2), stroke({0.1, 5}, {9.9, 5}, 2),
                                   stroke({0, 0}, {10, 0}, 1.4), stroke({0, 5}, {10, 5}, 1.4),
                                   stroke({0, 9}, {10, 9}, 1.4)};
    giveOutlinesTheirFillsCurve(items);
    CHECK(items[0].curve.points.front().x == 0);
    CHECK(items[1].curve.points.front().x == 0);
    CHECK(items[1].curve.points.front().y == 5);
    CHECK(items[4].curve.points.front().y == 9);
}

TEST_CASE("Curves are made coarser no further than they may", "[handout]") {
    Curve wave;
    wave.start({0, 0});
    for (int i = 0; i < 24; ++i) {
        const double x = i;
        const double slope = std::cos(0.3 * x) * 0.3 / 3;
        const double slopeAfter = std::cos(0.3 * (x + 1)) * 0.3 / 3;
        wave.bend({x + 1.0 / 3, std::sin(0.3 * x) + slope},
                  {x + 2.0 / 3, std::sin(0.3 * (x + 1)) - slopeAfter}, {x + 1, std::sin(0.3 * (x + 1))});
    }
    const Curve loose = coarser(wave, 0.05);
    CHECK(loose.points.size() < wave.points.size() / 2);
    CHECK(coarser(wave, 0).points.size() == wave.points.size());
    CHECK(loose.points.front().x == 0);
    CHECK(loose.points.back().x == 24);
    for (std::size_t i = 0; i < loose.points.size(); i += 3) {
        CHECK(std::abs(loose.points[i].y - std::sin(0.3 * loose.points[i].x)) < 1e-9);
    }
}

TEST_CASE("Text is escaped in one place for XML and HTML", "[handout]") {
    CHECK(escaped("a<b> & \"c\" 'd'\x01\n") == "a&lt;b&gt; &amp; &quot;c&quot; &#39;d&#39;\n");
    Drawing d;
    d.widthMm = d.heightMm = 10;
    d.title = "a < 'b'";
    CHECK(svgOf(d).find("a &lt; &#39;b&#39;") != std::string::npos);
    CHECK(hexColour({1, 0.5, 0}) == "#ff8000");
}
