// SPDX-License-Identifier: MIT
// A page to take home, as a web page that stands alone and as sheets of paper.
#include <catch2/catch.hpp>

#include <algorithm>
#include <string>

#include "picture/drawing.h"
#include "picture/handout.h"
#include "picture/paper/handout_paper.h"
#include "picture/paper/paper.h"
#include "picture/paper/pixels.h"
#include "picture/paper/svg.h"

using namespace loopmend;

namespace {

Drawing square(double size, Colour colour) {
    Drawing d;
    d.widthMm = d.heightMm = size;
    d.title = "a <square>";
    // Juts out on all sides: only what is inside the frame may be seen.
    d.area(polygon({{-size, -size}, {2 * size, -size}, {2 * size, 2 * size}, {-size, 2 * size}}), colour);
    return d;
}

Handout sample(int steps) {
    Handout h;
    h.title = "Knits & purls <one>";
    h.from = "Harbour Lane evening knitting circle";
    for (int i = 0; i < steps; ++i) {
        HandoutStep step;
        step.heading = "Step \"" + std::to_string(i + 1) + "\"";
        step.sentences = {"The column of bare strands is a *ladder*; 2 * 3 < 7 & it's so.", "Look at it."};
        if (i == 0) step.caution = "Don't pull.";
        step.pictures = {{square(60, {1, 0, 0}), "Right side"}, {square(60, {0, 0, 1}), "Wrong side"}};
        step.part = i % 2 == 1;
        h.steps.push_back(step);
    }
    return h;
}

std::size_t count(const std::string& text, const std::string& what) {
    std::size_t n = 0;
    for (std::size_t at = text.find(what); at != std::string::npos; at = text.find(what, at + what.size()))
        ++n;
    return n;
}

/// Share of a color in a picture.
double share(const Pixels& p, int r, int g, int b) {
    std::size_t n = 0;
    for (std::size_t i = 0; i + 2 < p.rgb.size(); i += 3) {
        if (p.rgb[i] == r && p.rgb[i + 1] == g && p.rgb[i + 2] == b) ++n;
    }
    return 3.0 * static_cast<double>(n) / static_cast<double>(p.rgb.size());
}

}  // namespace

TEST_CASE("A handout as a web page: escaped, whole, and nothing fetched", "[handout]") {
    const std::string html = htmlOf(sample(3));
    CHECK(html.rfind("<!DOCTYPE html>", 0) == 0);
    CHECK(html.find("<title>Knits &amp; purls &lt;one&gt;</title>") != std::string::npos);
    CHECK(html.find("a <em>ladder</em>; 2 * 3 &lt; 7 &amp; it&#39;s so.") != std::string::npos);
    CHECK(html.find("Step &quot;1&quot;") != std::string::npos);
    CHECK(count(html, "<svg ") == 6);
    CHECK(count(html, "<title>a &lt;square&gt;</title>") == 6);
    CHECK(count(html, "<figcaption>") == 6);
    CHECK(count(html, "<h2>") == 2);
    CHECK(count(html, "<h3>") == 1);
    CHECK(html.find("Take care") != std::string::npos);
    // No network, no script; the one address is the name of the SVG language.
    CHECK(count(html, "http") == count(html, "http://www.w3.org/2000/svg"));
    for (const char* word : {"src=", "href", "<script", "url(", "@import", "<link"}) {
        CHECK(html.find(word) == std::string::npos);
    }
}

TEST_CASE("Words are broken into lines that fit", "[handout]") {
    CHECK(brokenLines("", 100, 4).empty());
    CHECK(brokenLines("one", 1, 4) == std::vector<std::string>{"one"});
    const std::vector<std::string> lines = brokenLines("the column of bare strands is a ladder", 40, 4);
    CHECK(lines.size() > 2);
    std::string again;
    for (const std::string& line : lines) again += (again.empty() ? "" : " ") + line;
    CHECK(again == "the column of bare strands is a ladder");
    CHECK(brokenLines("the column of bare strands is a ladder", 1000, 4).size() == 1);
    // Wider letters give no fewer lines.
    CHECK(brokenLines("the column of bare strands is a ladder", 40, 4, true).size() >= lines.size());
}

TEST_CASE("Sheets: numbered, everything inside the margins, pictures framed", "[handout]") {
    const SheetSize size;
    const std::vector<Drawing> sheets = sheetsOf(sample(7), size);
    REQUIRE(sheets.size() >= 3);
    std::size_t pictures = 0;
    for (std::size_t i = 0; i < sheets.size(); ++i) {
        CHECK(sheets[i].widthMm == size.widthMm);
        const std::string number = std::to_string(i + 1) + " of " + std::to_string(sheets.size());
        CHECK(std::any_of(sheets[i].items.begin(), sheets[i].items.end(), [&](const DrawItem& item) {
            return item.what == DrawItem::What::words && item.words == number;
        }));
        for (const DrawItem& item : sheets[i].items) {
            if (item.what == DrawItem::What::words) {
                CHECK(item.at.y < size.heightMm - size.marginMm / 3);
                CHECK(item.at.y > size.marginMm);
                CHECK(item.words.find('*') == std::string::npos);
            }
            if (item.what != DrawItem::What::window || item.curve.points.empty()) continue;
            ++pictures;
            for (const Point2& p : item.curve.points) {
                CHECK(p.x >= size.marginMm - 0.01);
                CHECK(p.x <= size.widthMm - size.marginMm + 0.01);
                CHECK(p.y <= size.heightMm - size.marginMm);
            }
        }
    }
    CHECK(pictures == 14);

    // What juts out of a picture's frame stays hidden, on paper and in SVG.
    const auto png = onPaper(sheets[0], PaperFormat::png, {2});
    REQUIRE(png);
    const auto pixels = pixelsOf(*png);
    REQUIRE(pixels);
    const double red = share(*pixels, 255, 0, 0);
    const double blue = share(*pixels, 0, 0, 255);
    CHECK(red > 0.02);
    CHECK(red < 0.25);
    CHECK(red == Approx(blue).epsilon(0.1));
    const std::string svg = svgOf(sheets[0]);
    CHECK(count(svg, "<g") == count(svg, "</g>"));
    CHECK(count(svg, "<clipPath") == count(svg, "clip-path=\"url("));
}

TEST_CASE("A handout as one PDF, the same bytes each time", "[handout]") {
    const Handout handout = sample(5);
    const auto pdf = pdfOf(handout);
    REQUIRE(pdf);
    CHECK(pdf->rfind("%PDF", 0) == 0);
    CHECK(*pdf == *pdfOf(handout));
    CHECK(pdf->find("/Count " + std::to_string(sheetsOf(handout).size())) != std::string::npos);
    CHECK_FALSE(onSheets({}, "nothing"));
    CHECK_FALSE(onSheets({Drawing{}}, "no size"));
}
