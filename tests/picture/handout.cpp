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
    // What is shared is shared within the page.
    CHECK(count(html, "href=") == count(html, "<use href=\"#p"));
    for (const char* word : {"src=", "<script", "url(", "@import", "<link"}) {
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
                // The title stands at the head of all sheets but the first.
                if (item.words == "Knits & purls <one>" && i > 0) continue;
                CHECK(item.at.y < size.heightMm - size.marginMm / 3);
                CHECK(item.at.y > size.marginMm);
                CHECK(item.words.find("*ladder") == std::string::npos);
                CHECK(item.words.find("ladder*") == std::string::npos);
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

TEST_CASE("Choices, rows of a pattern, several pictures in a row, and a sheet of its own", "[handout]") {
    Handout h = sample(1);
    h.foot = "Exercise: a-b-c";
    HandoutStep step;
    step.heading = "1. Which?";
    step.lines = {"Row 1: *k1, p1; rep from * to end."};
    step.choices = {"This & that", "I can't tell yet"};
    step.across = 3;
    for (int i = 0; i < 5; ++i)
        step.pictures.push_back({square(60, {0, 1, 0}), "A caption of several words"});
    h.steps.push_back(step);
    HandoutStep answers;
    answers.heading = "Answers";
    answers.newSheet = true;
    answers.sentences = {"1. This."};
    h.steps.push_back(answers);

    const std::string html = htmlOf(h);
    CHECK(html.find("<p class=\"row\">Row 1: *k1, p1; rep from * to end.</p>") != std::string::npos);
    CHECK(html.find("<li>This &amp; that</li>") != std::string::npos);
    CHECK(html.find("pictures across3") != std::string::npos);
    CHECK(html.find("sheet\">\n<h2>Answers") != std::string::npos);
    CHECK(html.find("Exercise: a-b-c") != std::string::npos);

    for (const char* paper : {"a4", "letter"}) {
        const std::optional<SheetSize> size = sheetSizeFrom(paper);
        REQUIRE(size);
        const std::vector<Drawing> sheets = sheetsOf(h, *size);
        REQUIRE(sheets.size() >= 2);
        const auto saysOn = [&](const Drawing& sheet, const std::string& words) {
            return std::any_of(sheet.items.begin(), sheet.items.end(), [&](const DrawItem& item) {
                return item.what == DrawItem::What::words && item.words == words;
            });
        };
        for (std::size_t i = 0; i < sheets.size(); ++i) {
            CHECK(saysOn(sheets[i], "Exercise: a-b-c"));
            CHECK(saysOn(sheets[i], "Answers") == (i + 1 == sheets.size()));
            CHECK(saysOn(sheets[i], h.title) == true);
        }
        // Nothing else is on the sheet of answers.
        CHECK_FALSE(saysOn(sheets.back(), "1. Which?"));
        CHECK(saysOn(sheets[sheets.size() - 2], "Row 1: *k1, p1; rep from * to end."));
        // Three of five stand side by side, none of them over another.
        std::vector<std::pair<double, double>> places;
        for (const DrawItem& item : sheets[sheets.size() - 2].items) {
            if (item.what != DrawItem::What::window || item.curve.points.empty()) continue;
            double left = 1e9;
            double top = 1e9;
            double right = 0;
            for (const Point2& p : item.curve.points) {
                left = std::min(left, p.x);
                right = std::max(right, p.x);
                top = std::min(top, p.y);
            }
            CHECK(right <= size->widthMm - size->marginMm + 0.01);
            places.emplace_back(top, left);
        }
        REQUIRE(places.size() >= 5);
        CHECK(places[places.size() - 5].first == Approx(places[places.size() - 3].first));
        CHECK(places[places.size() - 2].first > places[places.size() - 3].first);
    }
    CHECK_FALSE(sheetSizeFrom("A3"));
    CHECK(sheetSizeFrom("letter")->widthMm == Approx(215.9));
}
