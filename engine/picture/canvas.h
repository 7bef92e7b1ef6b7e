// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <vector>

#include "shape/geometry.h"

/// A drawing as a list of strokes, areas and words, in the order in which they are put on paper. Any format
/// can be made of it: nothing here knows files or a drawing library. Lengths are mm, x to the right, y
/// downward from the top left corner.
namespace loopmend {

struct Colour {
    double r = 0;
    double g = 0;
    double b = 0;

    friend bool operator==(const Colour& x, const Colour& y) {
        return x.r == y.r && x.g == y.g && x.b == y.b;
    }
};

/// A curve of cubic pieces: a start, then two handles and an end for each piece.
struct Curve {
    std::vector<Point2> points;
    bool closed = false;

    void start(Point2 p) { points.push_back(p); }
    void line(Point2 p) {
        const Point2 from = points.back();
        points.push_back(mix(from, p, 1.0 / 3));
        points.push_back(mix(from, p, 2.0 / 3));
        points.push_back(p);
    }
    void bend(Point2 handle1, Point2 handle2, Point2 p) {
        points.push_back(handle1);
        points.push_back(handle2);
        points.push_back(p);
    }
};
Curve straight(Point2 a, Point2 b);
Curve polygon(const std::vector<Point2>& corners);
Curve circle(Point2 centre, double radius);

enum class Cap { butt, round };
enum class Align { left, middle, right };

struct DrawItem {
    /// window: what follows shows only inside of the curve, until the next window; no curve: everywhere.
    enum class What { stroke, area, words, window };
    What what = What::stroke;
    Colour colour;
    Curve curve;               ///< stroke, area, window
    double widthMm = 0;        ///< stroke
    Cap cap = Cap::butt;       ///< stroke
    std::vector<double> dash;  ///< stroke: on, off, ... mm; empty: whole
    std::string words;
    double sizeMm = 0;  ///< words: height of the letters' body
    Point2 at;          ///< words: on the base line
    Align align = Align::left;
    bool bold = false;
};

/// A finished picture.
struct Drawing {
    double widthMm = 0;
    double heightMm = 0;
    Colour ground{1, 1, 1};
    std::string title;  ///< one line for those who cannot see it
    std::vector<DrawItem> items;

    void stroke(Curve curve, double widthMm, Colour colour, Cap cap = Cap::butt,
                std::vector<double> dash = {});
    void area(Curve curve, Colour colour);
    void window(Curve curve);
    void words(std::string text, Point2 at, double sizeMm, Colour colour, Align align = Align::left,
               bool bold = false);
};

/// Colours that people with any colour vision can tell apart (M. Okabe and K. Ito, Color Universal Design,
/// Tokyo 2008), 0 to 7: black, orange, sky blue, bluish green, yellow, blue, vermilion, reddish purple.
Colour safeColour(int index);
/// The colour mixed with another one.
Colour blend(Colour a, Colour b, double share);

}  // namespace loopmend
