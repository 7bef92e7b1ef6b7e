// SPDX-License-Identifier: MIT
#include "picture/drawing.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "picture/strokes.h"
#include "picture/wool.h"

namespace loopmend {

namespace {

/// Rows are drawn a little lower than stitches are wide, as in relaxed plain knitting.
constexpr double kRowToStitch = 0.77;
/// A stitch is about four yarns wide.
constexpr double kStitchToYarn = 4.125;
/// Shares of the yarn's width that are filled, and filled and outlined: neighbours do not merge.
constexpr double kFill = 0.66;
constexpr double kOutlined = 0.90;
constexpr double kHeavy = 1.10;
/// Wool is loftier than the hard core that nothing enters.
constexpr double kLofty = 1.2;
/// Cloth pulled wide by x gets x^-0.71 as high (a plain cell widened 1.79 times is 0.66 times as high:
/// Singal et al., Nature Communications 15 (2024) 2622, published sample output).
constexpr double kHeightGivesWay = -0.71;
/// What lies farther from the middle of a loop's yarn leads away from it, in stitch widths.
constexpr double kFar = 2.2;

struct Box {
    double x0 = 1e300;
    double y0 = 1e300;
    double x1 = -1e300;
    double y1 = -1e300;

    void add(Point2 p) {
        x0 = std::min(x0, p.x);
        y0 = std::min(y0, p.y);
        x1 = std::max(x1, p.x);
        y1 = std::max(y1, p.y);
    }
    bool empty() const { return x1 < x0; }
    void grow(double left, double down, double right, double up) {
        x0 -= left;
        y0 -= down;
        x1 += right;
        y1 += up;
    }
};

class Draughtsman {
  public:
    /// path: none for that of the template.
    Draughtsman(const Fabric& fabric, const Path* path, const DrawingOptions& options)
        : f_(fabric), options_(options), side_(options.side == Side::right ? 1 : -1) {
        w_ = std::clamp(options.stitchMm, 0.5, 200.0);
        LayoutOptions layout;
        layout.gauge = {w_, kRowToStitch * w_, w_ / kStitchToYarn};
        layout.closeRidges = path != nullptr;
        layout_ = layoutOf(fabric, layout);
        if (path != nullptr) {
            take(*path);
        } else {
            PathOptions template_;
            template_.tools = options.tools;
            template_.step = 0.3;
            path_ = pathOf(fabric, layout_, template_);
        }
        pull(std::clamp(options.stretch, 0.5, 3.0));
        highlightAt_.assign(static_cast<std::size_t>(fabric.entryCount()), nullptr);
        for (const Highlight& h : options_.highlights) {
            if (fabric.has(h.entry)) highlightAt_[static_cast<std::size_t>(h.entry.value)] = &h;
        }
        ink_ = options.dark ? Colour{0.05, 0.05, 0.07} : Colour{0.16, 0.15, 0.18};
        text_ = options.dark ? Colour{0.92, 0.92, 0.90} : Colour{0.16, 0.15, 0.18};
    }

    Drawing run() {
        drawing_.ground = options_.dark ? Colour{0.12, 0.13, 0.15} : Colour{1, 1, 1};
        drawing_.title = options_.title.empty() ? fmt::format("Knitting, {}", sideName()) : options_.title;
        const Box window = windowBox();
        if (window.empty()) {
            emptySheet();
            return std::move(drawing_);
        }
        setPage(window);
        for (const StrokePiece& piece : piecesOf(path_, side_)) {
            if (inWindow(piece)) stroke(piece);
        }
        for (const PathStrand& s : path_.strands) {
            if (s.tool) needleEnds(s);
        }
        letters();
        if (windowed_) mat();
        if (options_.rowNumbers) rowNumbers();
        heading();
        return std::move(drawing_);
    }

  private:
    std::string sideName() const { return options_.side == Side::right ? "right side" : "wrong side"; }

    /// Yarn from outside, as large as the sheet wants it; the layout's feet go to where they lie in it.
    void take(const Path& path) {
        const double scale = w_ / std::max(1e-6, path.gauge.stitchMm);
        struct Ends {
            Point3 first;
            Point3 last;
            bool any = false;
        };
        std::vector<Ends> ends(static_cast<std::size_t>(f_.entryCount()));
        path_.gauge = layout_.gauge;
        for (const PathStrand& from : path.strands) {
            if (from.tool && (!options_.tools || from.tool.value >= f_.toolCount())) continue;
            PathStrand s = from;
            s.mm *= scale;
            for (PathPoint& p : s.points) {
                p.at = p.at * scale;
                if (!p.entry || p.entry.value >= f_.entryCount() || s.tool) continue;
                Ends& e = ends[static_cast<std::size_t>(p.entry.value)];
                if (!e.any) e.first = p.at;
                e.last = p.at;
                e.any = true;
            }
            path_.strands.push_back(std::move(s));
        }
        for (std::size_t e = 0; e < ends.size() && e < layout_.nodes.size(); ++e) {
            if (!ends[e].any) continue;
            // Strands lie a little lower than feet.
            const Point3 foot = mix(ends[e].first, ends[e].last, 0.5);
            layout_.nodes[e].frame.at = {foot.x, foot.y + 0.33 * w_};
        }
    }

    void pull(double x) {
        const double y = std::pow(x, kHeightGivesWay);
        for (PathStrand& s : path_.strands) {
            for (PathPoint& p : s.points) {
                p.at.x *= x;
                p.at.y *= y;
            }
        }
        for (Layout::Node& n : layout_.nodes) {
            n.frame.at.x *= x;
            n.frame.at.y *= y;
        }
    }

    // ---- what is shown

    bool bounded() const {
        return options_.firstRow > 0 || options_.lastRow >= 0 || options_.firstStitch > 0 ||
               options_.lastStitch > 0;
    }

    Box windowBox() {
        Box all;
        for (const PathStrand& s : path_.strands) {
            for (const PathPoint& p : s.points) all.add({p.at.x, p.at.y});
        }
        windowed_ = bounded();
        if (Box box = boxAbout(); !box.empty()) {
            windowed_ = true;
            const double x = std::clamp(options_.stretch, 0.5, 3.0);
            const double across = options_.stitchesAbout * w_ * x;
            const double along = options_.rowsAbout * kRowToStitch * w_ * std::pow(x, kHeightGivesWay);
            box.grow(across, along, across, along);
            return within(box, all);
        }
        if (!windowed_ || all.empty()) {
            all.grow(0.3 * w_, 0.3 * w_, 0.3 * w_, 0.3 * w_);
            return all;
        }
        Box box;
        for (const SweptRow& row : layout_.columns.rows) {
            if (row.row < options_.firstRow || (options_.lastRow >= 0 && row.row > options_.lastRow))
                continue;
            std::vector<Point2> feet;
            for (const EntryId e : row.entries) {
                if (f_.isLoop(e) && layout_[e].placed) feet.push_back(layout_[e].frame.at);
            }
            std::stable_sort(feet.begin(), feet.end(), [](Point2 a, Point2 b) { return a.x > b.x; });
            for (std::size_t i = 0; i < feet.size(); ++i) {
                const auto stitch = static_cast<int>(i) + 1;
                if (stitch < options_.firstStitch ||
                    (options_.lastStitch > 0 && stitch > options_.lastStitch))
                    continue;
                box.add(feet[i]);
            }
        }
        if (box.empty()) return box;
        const double x = std::clamp(options_.stretch, 0.5, 3.0);
        box.grow(0.85 * w_ * x, 0.55 * w_, 0.85 * w_ * x, 1.35 * w_);
        return within(box, all);
    }

    /// No more than there is, and a little air.
    Box within(Box box, const Box& all) const {
        box.x0 = std::max(box.x0, all.x0 - 0.3 * w_);
        box.x1 = std::min(box.x1, all.x1 + 0.3 * w_);
        box.y0 = std::max(box.y0, all.y0 - 0.3 * w_);
        box.y1 = std::min(box.y1, all.y1 + 0.3 * w_);
        return box;
    }

    /// The yarn of what the picture is about, without ends and strands that lead far away from it.
    Box boxAbout() const {
        Box box;
        for (const EntryId about : options_.about) {
            const Point2 middle = flat(middleOf(path_, {about}));
            for (const PathStrand& s : path_.strands) {
                for (const PathPoint& p : s.points) {
                    const Point2 at = flat(p.at);
                    if (p.entry == about && length(at - middle) < kFar * w_) box.add(at);
                }
            }
        }
        return box;
    }

    /// Where the fabric's millimetres come to lie on the sheet.
    void setPage(const Box& window) {
        const double numbers = options_.rowNumbers ? 1.5 * w_ : 0;
        const double above = options_.title.empty() ? 0 : 1.2 * textSize() + 2;
        const double below = options_.caption ? 1.9 * textSize() : 0;
        margin_ = 0.15 * w_;
        left_ = margin_ + numbers;
        top_ = margin_ + above;
        window_ = window;
        drawing_.widthMm = window.x1 - window.x0 + 2 * left_;
        drawing_.heightMm = window.y1 - window.y0 + top_ + margin_ + below;
    }

    double textSize() const { return std::clamp(0.4 * w_, 2.2, 6.0); }

    Point2 onPage(Point2 p) const {
        const double x = side_ > 0 ? p.x - window_.x0 : window_.x1 - p.x;
        return {left_ + x, top_ + window_.y1 - p.y};
    }

    bool inWindow(const StrokePiece& piece) const {
        if (!windowed_) return true;
        Box box;
        const PathStrand& s = path_.strands[static_cast<std::size_t>(piece.strand)];
        for (auto i = static_cast<std::size_t>(piece.from);
             i <= static_cast<std::size_t>(std::ceil(piece.to)); ++i)
            box.add({s.points[i].at.x, s.points[i].at.y});
        const double m = s.mm;
        return box.x1 > window_.x0 - m && box.x0 < window_.x1 + m && box.y1 > window_.y0 - m &&
               box.y0 < window_.y1 + m;
    }

    // ---- yarn

    const Highlight* highlightOf(EntryId e) const {
        const auto i = static_cast<std::size_t>(e.value);
        return e && i < highlightAt_.size() ? highlightAt_[i] : nullptr;
    }

    Colour yarnColour(const PathStrand& s) const {
        if (s.tool) {
            const ToolKind kind = f_[s.tool].kind;
            if (kind == ToolKind::needle || kind == ToolKind::spareNeedle) return {0.90, 0.80, 0.58};
            if (kind == ToolKind::lifeline) return blend(safeColour(6), {1, 1, 1}, 0.2);
            return {0.72, 0.74, 0.78};
        }
        const int index = s.yarn.value < f_.yarnCount() ? f_[s.yarn].flags.colour - 'A' : 0;
        if (index <= 0 && options_.firstYarn) return *options_.firstYarn;
        if (index <= 0) return wool() ? Colour{0.78, 0.42, 0.36} : Colour{0.97, 0.93, 0.86};
        return blend(safeColour(index % 7 == 1 ? 5 : index + 1), {1, 1, 1}, 0.25);
    }

    void stroke(const StrokePiece& piece) {
        const PathStrand& s = path_.strands[static_cast<std::size_t>(piece.strand)];
        const auto place = [&](Point2 p) { return onPage(p); };
        std::vector<Stretch> stretches;
        const auto lookAt = [&](int i) {
            const auto k = static_cast<std::size_t>(std::clamp(i, 0, static_cast<int>(s.points.size()) - 1));
            return highlightOf(s.points[k].entry);
        };
        double from = piece.from;
        const Highlight* look = lookAt(static_cast<int>(piece.from));
        for (int i = static_cast<int>(piece.from) + 1; i < piece.to; ++i) {
            const Highlight* here = lookAt(i);
            if (here == look) continue;
            stretches.push_back({from, static_cast<double>(i), look});
            from = i;
            look = here;
        }
        stretches.push_back({from, piece.to, look});
        if (wool()) {
            for (const Stretch& x : stretches) {
                WoolStroke stroke;
                stroke.from = x.from;
                stroke.to = x.to;
                stroke.widthMm = s.mm * (x.highlight != nullptr ? kHeavy : 1) * (s.tool ? 1 : kLofty);
                stroke.colour = x.highlight != nullptr
                                    ? blend(safeColour(x.highlight->colour), {1, 1, 1}, 0.15)
                                    : yarnColour(s);
                stroke.under = !piece.over && !s.tool;
                stroke.plies = !s.tool;
                drawWool(drawing_, s, stroke, place);
            }
        } else {
            outlined(s, stretches, place);
        }
        lines(s, stretches, place);
    }

    /// Stretches of one look.
    struct Stretch {
        double from;
        double to;
        const Highlight* highlight;
    };

    bool wool() const { return options_.style == YarnStyle::wool; }

    /// The outlines first, so that a heavier one does not cut into its neighbor.
    template <class Place>
    void outlined(const PathStrand& s, const std::vector<Stretch>& stretches, Place place) {
        const double last = static_cast<double>(s.points.size()) - 1;
        for (const Stretch& x : stretches) {
            const double wide = s.mm * (x.highlight != nullptr ? kHeavy : kOutlined);
            // Outlines overlap a little too: two edges that only touch let the ground shine through.
            drawing_.stroke(curveAlong(s, std::max(0.0, x.from - 0.07), std::min(last, x.to + 0.07), place),
                            wide, ink_);
        }
        for (const Stretch& x : stretches) {
            // The fill reaches a little beyond its outline, so that no line shows where pieces meet.
            const double reach = 0.2;
            const double a = std::max(0.0, x.from - reach);
            const double b = std::min(last, x.to + reach);
            const Colour fill = x.highlight != nullptr
                                    ? blend(safeColour(x.highlight->colour), {1, 1, 1}, 0.3)
                                    : yarnColour(s);
            drawing_.stroke(curveAlong(s, a, b, place), s.mm * kFill, fill);
        }
    }

    template <class Place>
    void lines(const PathStrand& s, const std::vector<Stretch>& stretches, Place place) {
        for (const Stretch& x : stretches) {
            if (x.highlight == nullptr || x.highlight->line == Highlight::Line::none) continue;
            const bool dots = x.highlight->line == Highlight::Line::dots;
            const double t = 0.16 * s.mm;
            drawing_.stroke(curveAlong(s, x.from, x.to, place), t, ink_, dots ? Cap::round : Cap::butt,
                            dots ? std::vector<double>{0.01, 3 * t} : std::vector<double>{3 * t, 2 * t});
        }
    }

    void needleEnds(const PathStrand& s) {
        if (s.points.size() < 2) return;
        const ToolKind kind = f_[s.tool].kind;
        if (kind != ToolKind::needle && kind != ToolKind::spareNeedle) return;
        for (const bool start : {true, false}) {
            const auto n = s.points.size();
            const Point3& tip = s.points[start ? 0 : n - 1].at;
            const Point3& before = s.points[start ? 1 : n - 2].at;
            const Point2 end = onPage({tip.x, tip.y});
            const Point2 way = unit(end - onPage({before.x, before.y}), {1, 0});
            const Point2 across = leftOf(way);
            const double r = 0.5 * s.mm;
            if (start ? s.pointedStart : s.pointedEnd) {
                const Point2 sharp = end + way * (0.55 * w_);
                drawing_.area(polygon({end + across * (r * kOutlined), sharp + way * (0.1 * w_),
                                       end - across * (r * kOutlined)}),
                              ink_);
                drawing_.area(
                    polygon({end + across * (r * kFill) - way * (0.1 * w_), end + across * (r * kFill),
                             sharp - way * (0.02 * w_), end - across * (r * kFill),
                             end - across * (r * kFill) - way * (0.1 * w_)}),
                    yarnColour(s));
            } else {
                drawing_.area(circle(end, 1.5 * r + 0.12 * s.mm), ink_);
                drawing_.area(circle(end, 1.5 * r), yarnColour(s));
            }
        }
    }

    // ---- words

    void letters() {
        for (const Highlight& h : options_.highlights) {
            if (h.letter.empty()) continue;
            Point2 sum;
            int n = 0;
            for (const PathStrand& s : path_.strands) {
                for (const PathPoint& p : s.points) {
                    if (p.entry != h.entry) continue;
                    sum = sum + Point2{p.at.x, p.at.y};
                    ++n;
                }
            }
            if (n == 0) continue;
            const Point2 at = onPage(sum * (1.0 / n));
            const double r = 0.27 * w_;
            drawing_.area(circle(at, r), ink_);
            drawing_.area(circle(at, 0.86 * r), drawing_.ground);
            drawing_.words(h.letter, at + Point2{0, 0.5 * r}, 1.35 * r, text_, Align::middle, true);
        }
    }

    /// Covers what juts out of the window.
    void mat() {
        const double r = left_ + window_.x1 - window_.x0;
        const double b = top_ + window_.y1 - window_.y0;
        const double far = 3 * w_;
        const double x1 = drawing_.widthMm + far;
        const double y1 = drawing_.heightMm + far;
        const auto cover = [&](double ax, double ay, double bx, double by) {
            drawing_.area(polygon({{ax, ay}, {bx, ay}, {bx, by}, {ax, by}}), drawing_.ground);
        };
        cover(-far, -far, x1, top_);
        cover(-far, b, x1, y1);
        cover(-far, -far, left_, y1);
        cover(r, -far, x1, y1);
    }

    void rowNumbers() {
        const double size = 0.8 * textSize();
        for (const SweptRow& row : layout_.columns.rows) {
            if (row.row < std::max(1, options_.firstRow)) continue;
            if (options_.lastRow >= 0 && row.row > options_.lastRow) continue;
            EntryId outermost;
            bool fromRight = true;
            for (const EntryId e : row.entries) {
                if (!f_.isLoop(e) || !layout_[e].placed) continue;
                if (!outermost) fromRight = f_.run(e) == Run::leftward;
                const double further = outermost ? layout_[e].frame.at.x - layout_[outermost].frame.at.x : 0;
                if (!outermost || (fromRight ? further > 0 : further < 0)) outermost = e;
            }
            // A short row begins inside the piece.
            if (!outermost || (fromRight ? layout_[outermost].right : layout_[outermost].left)) continue;
            const Point2 edge = layout_[outermost].frame.at;
            // Rows of a part that was picked up run another way.
            if (layout_[outermost].frame.up.y < 0.8) continue;
            const double y = edge.y + 0.3 * w_;
            if (y < window_.y0 || y > window_.y1 + 0.2 * w_) continue;
            const bool onRight = fromRight == (side_ > 0);
            const double stretched = 1.4 * w_ * std::max(1.0, options_.stretch);
            double x = edge.x + (fromRight ? stretched : -stretched);
            if (windowed_)
                x = fromRight ? std::min(x, window_.x1 + 0.2 * w_) : std::max(x, window_.x0 - 0.2 * w_);
            // The yarn to the ball may run out right there.
            double free = y;
            const double outward = (fromRight ? 0.5 : -0.5) * size;
            for (const double step : {0.0, 0.35, -0.35, 0.7}) {
                free = y + step * w_;
                if (isFree({x + outward, free}, size)) break;
            }
            drawing_.words(fmt::format("{}", row.row), onPage({x, free}) + Point2{0, 0.35 * size}, size,
                           text_, onRight ? Align::left : Align::right);
        }
    }

    /// Nothing is drawn within a letter's size.
    bool isFree(Point2 at, double size) const {
        for (const PathStrand& s : path_.strands) {
            for (const PathPoint& p : s.points) {
                if (length(Point2{p.at.x, p.at.y} - at) < 0.8 * size + 0.5 * s.mm) return false;
            }
        }
        return true;
    }

    void heading() {
        const double size = textSize();
        if (!options_.title.empty())
            drawing_.words(options_.title, {0.5 * drawing_.widthMm, margin_ + size}, size, text_,
                           Align::middle, true);
        if (options_.caption)
            drawing_.words(sideName(), {0.5 * drawing_.widthMm, drawing_.heightMm - 0.6 * size}, size, text_,
                           Align::middle);
    }

    void emptySheet() {
        drawing_.widthMm = 60;
        drawing_.heightMm = 20;
        drawing_.words("no stitches here", {30, 11}, 4, text_, Align::middle);
    }

    const Fabric& f_;
    DrawingOptions options_;
    double side_;
    Layout layout_;
    Path path_;
    Drawing drawing_;
    std::vector<const Highlight*> highlightAt_;  ///< by entry id
    Box window_;
    bool windowed_ = false;
    double w_ = 8;
    double margin_ = 0;
    double left_ = 0;
    double top_ = 0;
    Colour ink_;
    Colour text_;
};

}  // namespace

Drawing drawingOf(const Fabric& fabric, const DrawingOptions& options) {
    return Draughtsman(fabric, nullptr, options).run();
}

Drawing drawingOf(const Fabric& fabric, const Path& path, const DrawingOptions& options) {
    return Draughtsman(fabric, &path, options).run();
}

}  // namespace loopmend
