// SPDX-License-Identifier: MIT
#include "picture/chart_signs.h"

#include <algorithm>
#include <string>

namespace loopmend {

namespace {

class Signing {
  public:
    Signing(Drawing& drawing, const SignLook& look, Point2 at, const SignPen& pen)
        : drawing_(drawing), look_(look), at_(at), pen_(pen) {}

    /// x and y from 0 to 1, y upward.
    void draw() {
        const auto p = [&](double x, double y) {
            const double lifted = look_.bar ? 0.17 + 0.83 * y : y;
            return at_ + Point2{x * pen_.square, -lifted * pen_.square};
        };
        const auto stroke = [&](double x0, double y0, double x1, double y1) {
            drawing_.stroke(straight(p(x0, y0), p(x1, y1)), width(), pen_.ink, Cap::round);
        };
        const auto number = [&](const std::string& text, double x, double y, double size) {
            drawing_.words(text, p(x, y), size * pen_.square, pen_.ink, Align::middle, true);
        };
        switch (look_.sign) {
            case Sign::knit: stroke(0.5, 0.2, 0.5, 0.8); break;
            case Sign::purl: stroke(0.2, 0.5, 0.8, 0.5); break;
            case Sign::yarnOver:
                drawing_.stroke(circle(p(0.5, 0.5), 0.27 * pen_.square), width(), pen_.ink);
                break;
            case Sign::rightOver:
                stroke(0.22, 0.84, 0.8, 0.16);
                stroke(0.48, 0.53, 0.2, 0.16);
                break;
            case Sign::leftOver:
                stroke(0.78, 0.84, 0.2, 0.16);
                stroke(0.52, 0.53, 0.8, 0.16);
                break;
            case Sign::centreOver:
                stroke(0.5, 0.84, 0.5, 0.16);
                stroke(0.5, 0.6, 0.2, 0.16);
                stroke(0.5, 0.6, 0.8, 0.16);
                break;
            case Sign::rightOver3:
                stroke(0.22, 0.84, 0.84, 0.16);
                stroke(0.45, 0.58, 0.16, 0.16);
                stroke(0.52, 0.5, 0.5, 0.16);
                break;
            case Sign::leftOver3:
                stroke(0.78, 0.84, 0.16, 0.16);
                stroke(0.55, 0.58, 0.84, 0.16);
                stroke(0.48, 0.5, 0.5, 0.16);
                break;
            case Sign::several:
                stroke(0.5, 0.84, 0.2, 0.16);
                stroke(0.5, 0.84, 0.8, 0.16);
                number(std::to_string(look_.count), 0.5, 0.18, 0.36);
                break;
            case Sign::twistedLeft: twisted(p, true); break;
            case Sign::twistedRight: twisted(p, false); break;
            case Sign::wound:
                twisted(p, true);
                stroke(0.3, 0.36, 0.7, 0.36);
                break;
            case Sign::slipped:
            case Sign::slippedInFront:
                stroke(0.2, 0.82, 0.5, 0.2);
                stroke(0.5, 0.2, 0.8, 0.82);
                if (look_.sign == Sign::slippedInFront) stroke(0.15, 0.52, 0.85, 0.52);
                break;
            case Sign::below: {
                Curve arch;
                arch.start(p(0.22, 0.14));
                arch.line(p(0.22, 0.5));
                arch.bend(p(0.22, 0.95), p(0.78, 0.95), p(0.78, 0.5));
                arch.line(p(0.78, 0.14));
                drawing_.stroke(arch, width(), pen_.ink, Cap::round);
                break;
            }
            case Sign::wrapped:
                stroke(0.5, 0.2, 0.5, 0.84);
                drawing_.stroke(circle(p(0.5, 0.36), 0.16 * pen_.square), 0.8 * width(), pen_.ink);
                break;
            case Sign::caught:
                stroke(0.5, 0.16, 0.5, 0.84);
                stroke(0.14, 0.36, 0.86, 0.36);
                break;
            case Sign::turned:
                stroke(0.36, 0.18, 0.5, 0.84);
                stroke(0.64, 0.18, 0.5, 0.84);
                break;
            case Sign::pickedUp:
                stroke(0.5, 0.16, 0.5, 0.84);
                stroke(0.5, 0.84, 0.32, 0.6);
                stroke(0.5, 0.84, 0.68, 0.6);
                break;
            case Sign::fromOne:
                for (int k = 0; k < look_.count && k < 7; ++k) {
                    const double x = look_.count > 1 ? 0.2 + 0.6 * k / (std::min(look_.count, 7) - 1.0) : 0.5;
                    stroke(0.5, 0.36, x, 0.84);
                }
                number(std::to_string(look_.count), 0.5, 0.06, 0.28);
                break;
            case Sign::made:
            case Sign::madeLeft:
            case Sign::madeRight:
                number("M", 0.5, 0.42, 0.5);
                if (look_.sign == Sign::madeLeft) stroke(0.35, 0.32, 0.65, 0.12);
                if (look_.sign == Sign::madeRight) stroke(0.35, 0.12, 0.65, 0.32);
                if (look_.sign == Sign::made)
                    drawing_.stroke(circle(p(0.5, 0.22), 0.1 * pen_.square), 0.8 * width(), pen_.ink);
                break;
            case Sign::castOff: drawing_.area(circle(p(0.5, 0.5), 0.2 * pen_.square), pen_.ink); break;
            case Sign::castOn:
                drawing_.stroke(circle(p(0.46, 0.56), 0.2 * pen_.square), width(), pen_.ink);
                stroke(0.6, 0.42, 0.82, 0.2);
                break;
            case Sign::crossing: break;
            case Sign::rung:
                stroke(0.15, 0.42, 0.85, 0.42);
                stroke(0.15, 0.58, 0.85, 0.58);
                break;
            case Sign::loose: {
                Curve open;
                open.start(p(0.38, 0.14));
                open.bend(p(0.42, 0.4), p(0.18, 0.5), p(0.24, 0.68));
                open.bend(p(0.3, 0.92), p(0.7, 0.92), p(0.76, 0.68));
                open.bend(p(0.82, 0.5), p(0.58, 0.4), p(0.62, 0.14));
                drawing_.stroke(open, width(), pen_.ink, Cap::round);
                break;
            }
            case Sign::oneOverTwo:
                stroke(0.3, 0.16, 0.3, 0.66);
                stroke(0.7, 0.16, 0.7, 0.66);
                over(p, 0.14, 0.86);
                break;
            case Sign::togetherOver:
                stroke(0.4, 0.6, 0.2, 0.16);
                stroke(0.4, 0.6, 0.6, 0.16);
                over(p, 0.3, 0.86);
                break;
            case Sign::passedOver: over(p, 0.2, 0.8); break;
            case Sign::held:
                drawing_.stroke(polygon({p(0.14, 0.3), p(0.86, 0.3), p(0.86, 0.7), p(0.14, 0.7)}),
                                0.7 * width(), pen_.ink);
                number(std::to_string(look_.count), 0.5, 0.38, 0.34);
                break;
            case Sign::longStitch: {
                stroke(0.5, 0.16, 0.5, 0.84);
                Curve wrap;
                wrap.start(p(0.5, 0.34));
                wrap.bend(p(0.2, 0.36), p(0.2, 0.6), p(0.5, 0.58));
                wrap.bend(p(0.8, 0.56), p(0.8, 0.34), p(0.5, 0.34));
                drawing_.stroke(wrap, 0.7 * width(), pen_.ink);
                if (look_.count > 1) number(std::to_string(look_.count), 0.82, 0.66, 0.28);
                break;
            }
            case Sign::letFall:
                stroke(0.5, 0.84, 0.5, 0.2);
                stroke(0.5, 0.2, 0.34, 0.42);
                stroke(0.5, 0.2, 0.66, 0.42);
                stroke(0.25, 0.84, 0.75, 0.84);
                break;
            case Sign::liftedLeft:
            case Sign::liftedRight: {
                const bool left = look_.sign == Sign::liftedLeft;
                const auto m = [&](double x) { return left ? x : 1 - x; };
                stroke(m(0.7), 0.16, m(0.7), 0.84);
                stroke(m(0.7), 0.24, m(0.26), 0.84);
                break;
            }
            case Sign::turnHere:
            case Sign::wrapTurn: {
                Curve back;
                back.start(p(0.25, 0.7));
                back.line(p(0.5, 0.7));
                back.bend(p(0.85, 0.7), p(0.85, 0.3), p(0.5, 0.3));
                back.line(p(0.25, 0.3));
                drawing_.stroke(back, width(), pen_.ink, Cap::round);
                stroke(0.25, 0.3, 0.4, 0.44);
                stroke(0.25, 0.3, 0.4, 0.16);
                if (look_.sign == Sign::wrapTurn)
                    drawing_.stroke(circle(p(0.5, 0.5), 0.1 * pen_.square), 0.8 * width(), pen_.ink);
                break;
            }
            case Sign::doubled:
                stroke(0.36, 0.18, 0.36, 0.84);
                stroke(0.64, 0.18, 0.64, 0.84);
                stroke(0.36, 0.84, 0.64, 0.84);
                break;
        }
        if (look_.bar)
            drawing_.stroke(straight(at_ + Point2{0.22 * pen_.square, -0.14 * pen_.square},
                                     at_ + Point2{0.78 * pen_.square, -0.14 * pen_.square}),
                            width(), pen_.ink, Cap::round);
        for (int i = 0; i < look_.way && i < 3; ++i)
            drawing_.area(circle(at_ + Point2{(0.88 - 0.15 * i) * pen_.square, -0.88 * pen_.square},
                                 0.055 * pen_.square),
                          pen_.ink);
    }

    /// A small loop with crossed feet; the foot on top is whole.
    template <class Place>
    void twisted(Place p, bool left) {
        const auto m = [&](double x, double y) { return p(left ? x : 1 - x, y); };
        const auto foot = [&](double x0, double x1) {
            Curve c;
            c.start(m(x0, 0.16));
            c.bend(m(x0, 0.3), m(x1, 0.38), m(x1, 0.6));
            return c;
        };
        drawing_.stroke(foot(0.3, 0.72), width(), pen_.ink, Cap::round);
        drawing_.stroke(foot(0.7, 0.28), 0.3 * pen_.square * 0.8, pen_.ground);
        drawing_.stroke(foot(0.7, 0.28), width(), pen_.ink, Cap::round);
        Curve head;
        head.start(m(0.28, 0.6));
        head.bend(m(0.28, 0.92), m(0.72, 0.92), m(0.72, 0.6));
        drawing_.stroke(head, width(), pen_.ink, Cap::round);
    }

    /// One stitch led over others: an arch with its point at the left.
    template <class Place>
    void over(Place p, double from, double to) {
        Curve arch;
        arch.start(p(to, 0.5));
        arch.bend(p(to, 0.98), p(from, 0.98), p(from, 0.5));
        drawing_.stroke(arch, width(), pen_.ink, Cap::round);
        drawing_.stroke(straight(p(from, 0.5), p(from + 0.16, 0.62)), width(), pen_.ink, Cap::round);
    }

    double width() const { return 0.085 * pen_.square; }

    Drawing& drawing_;
    const SignLook& look_;
    Point2 at_;
    const SignPen& pen_;
};

}  // namespace

void drawSign(Drawing& drawing, const SignLook& look, Point2 at, const SignPen& pen) {
    Signing(drawing, look, at, pen).draw();
}

void drawCrossing(Drawing& drawing, const StitchSign& sign, Point2 at, const SignPen& pen) {
    const double q = pen.square;
    const double line = 0.085 * q;
    const int all = sign.left + sign.right;
    // Squares count from the left; the left stitches end up at the right.
    const auto one = [&](int from, int to, bool whole, bool purled, bool twisted) {
        const Point2 a = at + Point2{(from + 0.5) * q, -0.08 * q};
        const Point2 b = at + Point2{(to + 0.5) * q, -0.92 * q};
        if (whole) drawing.stroke(straight(a, b), 0.3 * q, pen.ground);
        drawing.stroke(straight(a, b), line, pen.ink, Cap::round);
        if (purled)
            drawing.stroke(straight(b + Point2{-0.22 * q, 0.06 * q}, b + Point2{0.22 * q, 0.06 * q}), line,
                           pen.ink, Cap::round);
        if (twisted) drawing.stroke(circle(mix(a, b, 0.2), 0.11 * q), 0.8 * line, pen.ink);
    };
    const auto lefts = [&](bool whole) {
        for (int i = 0; i < sign.left; ++i) one(i, i + sign.right, whole, sign.purlLeft, sign.twistLeft);
    };
    const auto rights = [&](bool whole) {
        for (int i = sign.left; i < all; ++i) one(i, i - sign.left, whole, sign.purlRight, sign.twistRight);
    };
    if (sign.rightInFront) {
        lefts(false);
        rights(true);
    } else {
        rights(false);
        lefts(true);
    }
}

void drawNoStitch(Drawing& drawing, Point2 at, const SignPen& pen) {
    const double q = pen.square;
    drawing.area(polygon({at, at + Point2{q, 0}, at + Point2{q, -q}, at + Point2{0, -q}}),
                 blend(pen.ground, pen.ink, 0.2));
    const Colour fine = blend(pen.ground, pen.ink, 0.5);
    drawing.stroke(straight(at, at + Point2{q, -q}), 0.03 * q, fine);
    drawing.stroke(straight(at + Point2{q, 0}, at + Point2{0, -q}), 0.03 * q, fine);
}

void drawWaiting(Drawing& drawing, Point2 at, const SignPen& pen) {
    drawing.area(circle(at + Point2{0.5 * pen.square, -0.5 * pen.square}, 0.07 * pen.square),
                 blend(pen.ground, pen.ink, 0.5));
}

}  // namespace loopmend
