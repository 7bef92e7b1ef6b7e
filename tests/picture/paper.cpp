// SPDX-License-Identifier: MIT
#include "picture/paper/paper.h"

#include <catch2/catch.hpp>
#include <cctype>
#include <vector>

#include "picture/chart.h"
#include "picture/paper/pixels.h"
#include "picture/scenes.h"

namespace loopmend {
namespace {

/// Whether a text is well-formed XML, as far as our files use it: tags in order, one root, quoted values, no
/// bare `&` or `<`.
bool wellFormed(const std::string& xml) {
    std::vector<std::string> open;
    bool root = false;
    std::size_t i = 0;
    while (i < xml.size()) {
        if (xml[i] != '<') {
            if (xml[i] == '&') {
                const std::size_t end = xml.find(';', i);
                if (end == std::string::npos || end - i > 6) return false;
            }
            if (open.empty() && std::isspace(static_cast<unsigned char>(xml[i])) == 0) return false;
            ++i;
            continue;
        }
        const std::size_t end = xml.find('>', i);
        if (end == std::string::npos) return false;
        std::string tag = xml.substr(i + 1, end - i - 1);
        i = end + 1;
        if (tag.find('<') != std::string::npos) return false;
        std::size_t quotes = 0;
        for (const char c : tag) quotes += c == '"' ? 1 : 0;
        if (quotes % 2 != 0) return false;
        if (tag[0] == '/') {
            if (open.empty() || open.back() != tag.substr(1)) return false;
            open.pop_back();
            continue;
        }
        const bool closed = tag.back() == '/';
        const std::string name = tag.substr(0, tag.find_first_of(" /"));
        if (open.empty() && root) return false;
        root = true;
        if (!closed) open.push_back(name);
    }
    return root && open.empty();
}

std::string onPaperOrFail(const Drawing& drawing, PaperFormat format, const PaperOptions& options = {}) {
    const auto bytes = onPaper(drawing, format, options);
    REQUIRE(bytes.has_value());
    return *bytes;
}

}  // namespace

TEST_CASE("the check of well-formed texts bites") {
    CHECK(wellFormed("<a b=\"1\"><c/>x &amp; y</a>\n"));
    for (const char* wrong :
         {"", "x", "<a>", "<a></b>", "<a/><b/>", "<a>&</a>", "<a b=\"1></a>", "<a><</a>"}) {
        INFO(wrong);
        CHECK_FALSE(wellFormed(wrong));
    }
}

TEST_CASE("drawings and charts become well-formed SVG, PDF and PNG of the size they say") {
    const Swatch s = scenes().front().knit();
    DrawingOptions options;
    options.title = "Knit & purl <1> \"a\"\x01";
    ChartOptions chartOptions;
    for (const Drawing& d :
         {drawingOf(*s.fabric, options), drawingOf(chartOf(*s.fabric, chartOptions), chartOptions)}) {
        const std::string svg = onPaperOrFail(d, PaperFormat::svg);
        CHECK(wellFormed(svg));
        CHECK(svg.find("<title>") != std::string::npos);
        CHECK(svg.find("nan") == std::string::npos);
        const std::string pdf = onPaperOrFail(d, PaperFormat::pdf);
        CHECK(pdf.substr(0, 5) == "%PDF-");
        CHECK(pdf.find("%%EOF") != std::string::npos);
        const auto pixels = pixelsOf(onPaperOrFail(d, PaperFormat::png, {4}));
        REQUIRE(pixels.has_value());
        CHECK(pixels->width == std::lround(d.widthMm * 4));
        CHECK(pixels->height == std::lround(d.heightMm * 4));
    }
}

TEST_CASE("the same drawing gives the same bytes") {
    const Swatch a = scenes()[5].knit();
    const Swatch b = scenes()[5].knit();
    for (const PaperFormat format : {PaperFormat::svg, PaperFormat::pdf, PaperFormat::png})
        CHECK(onPaperOrFail(drawingOf(*a.fabric), format) == onPaperOrFail(drawingOf(*b.fabric), format));
}

TEST_CASE("an SVG stays small") {
    const Swatch s = scenes().front().knit();
    const std::string svg = onPaperOrFail(drawingOf(*s.fabric), PaperFormat::svg);
    CHECK(svg.size() < 2500 * static_cast<std::size_t>(s.fabric->loopCount()));
}

TEST_CASE("a picture that would be too large is drawn smaller") {
    Drawing d;
    d.widthMm = 2000;
    d.heightMm = 100;
    d.area(circle({50, 50}, 20), safeColour(6));
    const auto pixels = pixelsOf(onPaperOrFail(d, PaperFormat::png, {100}));
    REQUIRE(pixels.has_value());
    CHECK(pixels->width == 10000);
    CHECK(pixels->height == 500);
}

TEST_CASE("a drawing without size is refused with a sentence") {
    const auto bytes = onPaper(Drawing{}, PaperFormat::png);
    REQUIRE_FALSE(bytes.has_value());
    CHECK(bytes.error() == "The picture could not be drawn: it has no size.");
}

TEST_CASE("what is drawn is on the paper") {
    Drawing d;
    d.widthMm = 20;
    d.heightMm = 10;
    d.area(polygon({{0, 0}, {10, 0}, {10, 10}, {0, 10}}), {1, 0, 0});
    d.stroke(straight({15, 0}, {15, 10}), 2, {0, 0, 1});
    const auto pixels = pixelsOf(onPaperOrFail(d, PaperFormat::png, {1}));
    REQUIRE(pixels.has_value());
    const auto at = [&](int x, int y) {
        const auto i = static_cast<std::size_t>(3 * (y * pixels->width + x));
        return std::vector<int>{pixels->rgb[i], pixels->rgb[i + 1], pixels->rgb[i + 2]};
    };
    CHECK(at(4, 4) == std::vector<int>{255, 0, 0});
    CHECK(at(14, 4) == std::vector<int>{0, 0, 255});
    CHECK(at(18, 4) == std::vector<int>{255, 255, 255});
}

TEST_CASE("a file name asks for a format by its ending") {
    CHECK(paperFormatOf("a.svg") == PaperFormat::svg);
    CHECK(paperFormatOf("a.b.PDF") == PaperFormat::pdf);
    CHECK(paperFormatOf("x/y.Png") == PaperFormat::png);
    CHECK_FALSE(paperFormatOf("png").has_value());
    CHECK_FALSE(paperFormatOf("a.jpg").has_value());
}

TEST_CASE("damaged pictures are not read") {
    const Swatch s = scenes().front().knit();
    const std::string png = onPaperOrFail(drawingOf(*s.fabric), PaperFormat::png, {1});
    CHECK(pixelsOf(png).has_value());
    CHECK_FALSE(pixelsOf(png.substr(0, png.size() / 2)).has_value());
    CHECK_FALSE(pixelsOf("").has_value());
    CHECK_FALSE(pixelsOf("not a picture").has_value());
}

}  // namespace loopmend
