// SPDX-License-Identifier: MIT
#include "picture/paper/handout_svg.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>

#include <fmt/format.h>

#include "picture/paper/markup.h"

namespace loopmend {

namespace {

constexpr std::size_t kMostJoined = 4;  ///< pieces of a curve made one
/// One item in so many ends a run that may stand elsewhere too.
constexpr std::uint32_t kRunEnds = 12;
constexpr std::size_t kMostInRun = 60;
/// What naming a run costs: shorter ones are drawn.
constexpr std::size_t kShortest = 48;

/// So far may a curve run beside the drawing's, in units.
constexpr double kLoose = 1.2;
/// Half a pixel.
double unitOf(const SharedSvg::Wanted& wanted) {
    return std::max(0.01, 0.5 * wanted.drawing->widthMm / std::max(1.0, wanted.widthPx));
}

Point2 onCubic(Point2 a, Point2 b, Point2 c, Point2 d, double t) {
    const Point2 ab = mix(a, b, t);
    const Point2 bc = mix(b, c, t);
    const Point2 cd = mix(c, d, t);
    return mix(mix(ab, bc, t), mix(bc, cd, t), t);
}

void append(std::string& path, long long n) {
    const char last = path.back();
    if (n >= 0 && last >= '0' && last <= '9') path += ' ';
    path += std::to_string(n);
}

/// Not std::hash: the page is the same on every machine.
std::uint32_t sumOf(const std::string& text) {
    std::uint32_t sum = 2166136261U;
    for (const char c : text) sum = (sum ^ static_cast<unsigned char>(c)) * 16777619U;
    return sum;
}

}  // namespace

std::vector<int> layersFor(const std::vector<const DrawItem*>& strokes,
                           const std::vector<std::string>& looks) {
    // Points along each stroke in a grid as wide as the widest stroke: what overlaps lies in squares beside
    // each other.
    struct Spot {
        Point2 at;
        std::size_t stroke;
    };
    double widest = 0.01;
    for (const DrawItem* item : strokes) widest = std::max(widest, item->widthMm);
    std::unordered_map<std::int64_t, std::vector<Spot>> grid;
    const auto squareOf = [&](double x, double y) {
        return static_cast<std::int64_t>(std::floor(x / widest)) * 1'000'003 +
               static_cast<std::int64_t>(std::floor(y / widest));
    };
    std::vector<int> layers;
    std::vector<std::string> lookOf;
    for (std::size_t i = 0; i < strokes.size(); ++i) {
        int after = -1;
        const std::vector<Point2>& p = strokes[i]->curve.points;
        std::vector<Point2> along{p.front()};
        for (std::size_t k = 0; k + 3 < p.size(); k += 3) {
            const double step = 0.4 * widest;
            const int parts = 1 + static_cast<int>(length(p[k + 3] - p[k]) / step);
            for (int n = 1; n <= parts; ++n)
                along.push_back(onCubic(p[k], p[k + 1], p[k + 2], p[k + 3], static_cast<double>(n) / parts));
        }
        for (const Point2 at : along) {
            for (int square = 0; square < 9; ++square) {
                const int column = square % 3 - 1;
                const int row = square / 3 - 1;
                const auto found = grid.find(squareOf(at.x + widest * column, at.y + widest * row));
                if (found == grid.end()) continue;
                for (const Spot& other : found->second) {
                    if (layers[other.stroke] <= after) continue;
                    const double near = 0.5 * (strokes[i]->widthMm + strokes[other.stroke]->widthMm);
                    if (length(other.at - at) < near) after = layers[other.stroke];
                }
            }
        }
        // In a layer of the same look the order does not matter.
        int layer = std::max(after, 0);
        while (layer < static_cast<int>(lookOf.size()) && lookOf[static_cast<std::size_t>(layer)] != looks[i])
            ++layer;
        if (layer == static_cast<int>(lookOf.size())) lookOf.push_back(looks[i]);
        layers.push_back(layer);
        for (const Point2 at : along) grid[squareOf(at.x, at.y)].push_back({at, i});
    }
    return layers;
}

Curve coarser(const Curve& curve, double loose) {
    const std::vector<Point2>& p = curve.points;
    if (p.size() < 7) return curve;
    const std::size_t pieces = (p.size() - 1) / 3;
    Curve out;
    out.closed = curve.closed;
    out.start(p[0]);
    for (std::size_t i = 0; i < pieces;) {
        std::size_t joined = 1;
        Point2 handle1 = p[3 * i + 1];
        Point2 handle2 = p[3 * i + 2];
        for (std::size_t n = 2; n <= kMostJoined && i + n <= pieces; ++n) {
            double whole = 0;
            for (std::size_t k = i; k < i + n; ++k) whole += length(p[3 * k + 3] - p[3 * k]);
            const double first = length(p[3 * i + 3] - p[3 * i]);
            const double last = length(p[3 * (i + n)] - p[3 * (i + n) - 3]);
            if (first < 1e-9 || last < 1e-9) break;
            const Point2 a = p[3 * i];
            const Point2 d = p[3 * (i + n)];
            const Point2 b = a + (p[3 * i + 1] - a) * (whole / first);
            const Point2 c = d - (d - p[3 * (i + n) - 1]) * (whole / last);
            double run = 0;
            bool near = true;
            for (std::size_t k = i; k < i + n && near; ++k) {
                const double part = length(p[3 * k + 3] - p[3 * k]);
                const Point2 middle = onCubic(p[3 * k], p[3 * k + 1], p[3 * k + 2], p[3 * k + 3], 0.5);
                near = length(onCubic(a, b, c, d, (run + 0.5 * part) / whole) - middle) <= loose;
                run += part;
                near = near && length(onCubic(a, b, c, d, run / whole) - p[3 * k + 3]) <= loose;
            }
            if (!near) break;
            joined = n;
            handle1 = b;
            handle2 = c;
        }
        out.bend(handle1, handle2, p[3 * (i + joined)]);
        i += joined;
    }
    return out;
}

long long SharedSvg::units(double mm) const {
    return std::llround(mm / unit_);
}

std::string SharedSvg::shapeOf(const Curve& whole) const {
    const Curve c = coarser(whole, kLoose * unit_);
    const Point2 start = c.points.front();
    std::string d = " ";
    long long x = 0;
    long long y = 0;
    // The handle of the piece before, mirrored: where it is the next one, it need not be told.
    long long mirroredX = 0;
    long long mirroredY = 0;
    char command = ' ';
    for (std::size_t i = 1; i + 2 < c.points.size(); i += 3) {
        std::array<long long, 6> n{};
        for (std::size_t k = 0; k < 3; ++k) {
            n[2 * k] = units(c.points[i + k].x - start.x) - x;
            n[2 * k + 1] = units(c.points[i + k].y - start.y) - y;
        }
        const bool straight = n[0] * n[5] == n[1] * n[4] && n[2] * n[5] == n[3] * n[4];
        const bool smooth =
            i > 1 && !straight && std::llabs(n[0] - mirroredX) <= 1 && std::llabs(n[1] - mirroredY) <= 1;
        const char now = straight ? 'l' : smooth ? 's' : 'c';
        if (now != command) d += now;
        command = now;
        for (std::size_t k = straight ? 4 : smooth ? 2 : 0; k < n.size(); ++k) append(d, n[k]);
        mirroredX = straight ? 0 : n[4] - n[2];
        mirroredY = straight ? 0 : n[5] - n[3];
        x += n[4];
        y += n[5];
    }
    if (c.closed) d += 'z';
    return d.substr(1);
}

std::string SharedSvg::named(const std::string& declarations) {
    const auto known = looks_.find(declarations);
    if (known != looks_.end()) return known->second;
    std::string name = fmt::format("l{}", looks_.size());
    looks_[declarations] = name;
    style_ += fmt::format(".{}{{{}}}\n", name, declarations);
    return name;
}

std::string SharedSvg::lookOf(const DrawItem& item) {
    if (item.what == DrawItem::What::area) return named(fmt::format("fill:{}", hexColour(item.colour)));
    std::string look =
        fmt::format("stroke:{};stroke-width:{:.1f}", hexColour(item.colour), item.widthMm / unit_);
    if (item.cap == Cap::round) look += ";stroke-linecap:round";
    for (std::size_t i = 0; i < item.dash.size(); ++i)
        look += fmt::format("{}{:.1f}", i == 0 ? ";stroke-dasharray:" : ",", item.dash[i] / unit_);
    return named(look);
}

std::string SharedSvg::wordsOf(const DrawItem& item) {
    std::string look = fmt::format("font-size:{}px;fill:{}", units(item.sizeMm), hexColour(item.colour));
    if (item.align != Align::left)
        look += item.align == Align::middle ? ";text-anchor:middle" : ";text-anchor:end";
    if (item.bold) look += ";font-weight:bold";
    return fmt::format("<text class=\"{}\" x=\"{}\" y=\"{}\">{}</text>", named(look), units(item.at.x),
                       units(item.at.y), escaped(item.words));
}

std::vector<SharedSvg::Run> SharedSvg::runsOf(const std::vector<const DrawItem*>& strokes) const {
    // Runs end after strokes that their own shape chooses: wherever the same strokes follow each other, they
    // make the same runs.
    std::vector<Run> runs;
    std::size_t count = 0;
    for (const DrawItem* item : strokes) {
        const Point2 at = item->curve.points.front();
        if (count == 0) runs.push_back({at, {}});
        Run& run = runs.back();
        const std::string shape = shapeOf(item->curve);
        run.path += 'M';
        append(run.path, units(at.x - run.origin.x));
        append(run.path, units(at.y - run.origin.y));
        run.path += shape;
        const bool ends = (sumOf(shape) >> 8U) % kRunEnds == 0 || count + 1 >= kMostInRun;
        count = ends ? 0 : count + 1;
    }
    return runs;
}

void giveOutlinesTheirFillsCurve(std::vector<DrawItem>& items) {
    constexpr std::size_t kBack = 12;  // outlines of several stretches come before their fills
    constexpr double kNear = 0.3;      // of the outline's width
    for (std::size_t i = 1; i < items.size(); ++i) {
        const DrawItem& fill = items[i];
        if (fill.what != DrawItem::What::stroke || fill.curve.points.size() < 4) continue;
        for (std::size_t k = i - 1; k + kBack >= i; --k) {
            DrawItem& outline = items[k];
            const double near = kNear * outline.widthMm;
            if (outline.what == DrawItem::What::stroke && outline.curve.points.size() >= 4 &&
                outline.widthMm > fill.widthMm && outline.dash.empty() && fill.dash.empty() &&
                length(outline.curve.points.front() - fill.curve.points.front()) < near &&
                length(outline.curve.points.back() - fill.curve.points.back()) < near) {
                outline.curve = fill.curve;
                break;
            }
            if (k == 0) break;
        }
    }
}

std::vector<SharedSvg::Layer> SharedSvg::layersOf(const Drawing& original) {
    Drawing drawing = original;
    giveOutlinesTheirFillsCurve(drawing.items);
    std::vector<Layer> layers;
    std::vector<const DrawItem*> strokes;
    const auto lay = [&] {
        std::vector<std::string> looks;
        looks.reserve(strokes.size());
        for (const DrawItem* item : strokes) looks.push_back(lookOf(*item));
        const std::vector<int> in = layersFor(strokes, looks);
        const int count = in.empty() ? 0 : *std::max_element(in.begin(), in.end()) + 1;
        for (int layer = 0; layer < count; ++layer) {
            std::vector<const DrawItem*> these;
            std::string look;
            for (std::size_t i = 0; i < strokes.size(); ++i) {
                if (in[i] != layer) continue;
                these.push_back(strokes[i]);
                look = looks[i];
            }
            layers.push_back({look, runsOf(these), {}});
        }
        strokes.clear();
    };
    for (const DrawItem& item : drawing.items) {
        const bool drawn = item.curve.points.size() >= 4;
        if (item.what == DrawItem::What::stroke && drawn) strokes.push_back(&item);
        if (item.what == DrawItem::What::area && drawn) {
            lay();
            const Point2 at = item.curve.points.front();
            layers.push_back({lookOf(item), {}, {}});
            layers.back().text =
                fmt::format("<path d=\"M{} {}{}\"/>", units(at.x), units(at.y), shapeOf(item.curve));
        }
        if (item.what == DrawItem::What::words) {
            lay();
            layers.push_back({{}, {}, wordsOf(item)});
        }
    }
    lay();
    return layers;
}

void SharedSvg::take(const std::vector<Wanted>& drawings) {
    struct Known {
        int times = 0;
        int id = -1;  ///< once it is drawn
    };
    std::unordered_map<std::string, Known> known;
    std::vector<std::vector<Layer>> of;
    for (const Wanted& wanted : drawings) {
        unit_ = unitOf(wanted);
        of.push_back(layersOf(*wanted.drawing));
        for (const Layer& layer : of.back()) {
            for (const Run& run : layer.runs) ++known[run.path].times;
        }
    }
    int ids = 0;
    for (std::size_t i = 0; i < drawings.size(); ++i) {
        const Drawing& drawing = *drawings[i].drawing;
        unit_ = unitOf(drawings[i]);
        std::string defined;
        std::string drawn;
        for (const Layer& layer : of[i]) {
            if (!layer.look.empty()) drawn += fmt::format("<g class=\"{}\">", layer.look);
            drawn += layer.text;
            for (const Run& run : layer.runs) {
                Known& again = known[run.path];
                const long long x = units(run.origin.x);
                const long long y = units(run.origin.y);
                if (again.times < 2 || run.path.size() < kShortest) {
                    drawn += fmt::format("<path transform=\"translate({} {})\" d=\"{}\"/>", x, y, run.path);
                    continue;
                }
                if (again.id < 0) {
                    again.id = ids++;
                    defined += fmt::format("<path id=\"p{}\" d=\"{}\"/>", again.id, run.path);
                }
                drawn += fmt::format("<use href=\"#p{}\" x=\"{}\" y=\"{}\"/>", again.id, x, y);
            }
            if (!layer.look.empty()) drawn += "</g>";
        }
        if (!defined.empty()) defined = fmt::format("<defs>{}</defs>", defined);
        pictures_.push_back(
            fmt::format("<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {0} {1}\" role=\"img\">"
                        "<title>{2}</title><path class=\"{3}\" d=\"M0 0h{0}v{1}H0z\"/>{4}{5}</svg>\n",
                        units(drawing.widthMm), units(drawing.heightMm), escaped(drawing.title),
                        named(fmt::format("fill:{}", hexColour(drawing.ground))), defined, drawn));
    }
}

}  // namespace loopmend
