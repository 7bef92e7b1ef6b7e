// SPDX-License-Identifier: MIT
#include "alexander.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <utility>

namespace loopmend::outside {

namespace {

constexpr std::uint64_t kPrime = (std::uint64_t{1} << 61U) - 1;

std::uint64_t times(std::uint64_t a, std::uint64_t b) {
    __extension__ using Wide = unsigned __int128;
    const Wide p = static_cast<Wide>(a) * b;
    std::uint64_t r = static_cast<std::uint64_t>(p & kPrime) + static_cast<std::uint64_t>(p >> 61U);
    return r >= kPrime ? r - kPrime : r;
}
std::uint64_t plus(std::uint64_t a, std::uint64_t b) {
    const std::uint64_t r = a + b;
    return r >= kPrime ? r - kPrime : r;
}
std::uint64_t negative(std::uint64_t a) {
    return a == 0 ? 0 : kPrime - a;
}
std::uint64_t power(std::uint64_t a, std::uint64_t n) {
    std::uint64_t r = 1;
    for (; n > 0; n /= 2, a = times(a, a)) {
        if (n % 2 == 1) r = times(r, a);
    }
    return r;
}
/// A number other than 1 whose power n is 1; n divides 2^61 - 2.
std::uint64_t rootOf(std::uint64_t n) {
    for (std::uint64_t g = 2;; ++g) {
        const std::uint64_t root = power(g, (kPrime - 1) / n);
        if (root != 1) return root;
    }
}

/// Yarns and tools closed: from an end back behind everything, across there, and up at the next beginning.
/// The strands of a yarn (a round is drawn cut open) follow each other.
class Closing {
  public:
    Closing(const Path& path, bool aside, bool tied) : aside_(aside) {
        out_.gauge = path.gauge;
        for (const PathStrand& s : path.strands) {
            for (const PathPoint& p : s.points) {
                left_ = std::min(left_, p.at.x);
                right_ = std::max(right_, p.at.x);
            }
        }
        for (const PathStrand& s : path.strands) {
            if (s.points.size() < 2) continue;
            const bool goesOn = !out_.strands.empty() && s.yarn && out_.strands.back().yarn &&
                                (tied || out_.strands.back().yarn == s.yarn);
            if (goesOn) {
                PathStrand& whole = out_.strands.back();
                join(whole, s.points.front().at);
                whole.points.insert(whole.points.end(), s.points.begin(), s.points.end());
            } else {
                close();
                out_.strands.push_back(s);
            }
        }
        close();
    }

    Path path() { return std::move(out_); }

  private:
    void close() {
        if (out_.strands.empty()) return;
        PathStrand& s = out_.strands.back();
        const PathPoint first = s.points.front();
        join(s, first.at);
        s.points.push_back(first);
    }

    /// Where the way back begins: behind the end itself, or out at the nearer side of the piece.
    Point3 out(Point3 at) const {
        if (aside_) at.x = at.x - left_ < right_ - at.x ? left_ - kBeyond : right_ + kBeyond;
        return at;
    }

    void line(PathStrand& s, const Point3& from, const Point3& to) const {
        const int pieces = 1 + static_cast<int>(length(to - from) / out_.gauge.stitchMm);
        for (int i = 0; i <= pieces; ++i) s.points.push_back({mix(from, to, i / (1.0 * pieces)), EntryId{}});
    }

    void join(PathStrand& s, const Point3& next) {
        deep_ -= 1e3;  // each behind the one before
        const Point3 last = s.points.back().at;
        const Point3 from = out(last);
        const Point3 to = out(next);
        if (aside_) line(s, last, from);
        line(s, {from.x, from.y, deep_}, {to.x, to.y, deep_});
        if (aside_) line(s, to, next);
    }

    static constexpr double kBeyond = 10;
    bool aside_;
    Path out_;
    double deep_ = 0;
    double left_ = 1e9;
    double right_ = -1e9;
};

using Row = std::map<int, std::uint64_t>;

/// Gauss's elimination. Of the shortest rows the entry that fills in least: diagrams are planar, so that is
/// little.
std::uint64_t determinant(std::vector<Row> rows) {
    const std::size_t n = rows.size();
    std::vector<std::set<int>> column(n);
    std::set<std::pair<std::size_t, int>> bySize;
    for (std::size_t r = 0; r < n; ++r) {
        for (const auto& [c, v] : rows[r]) column[static_cast<std::size_t>(c)].insert(static_cast<int>(r));
        bySize.emplace(rows[r].size(), static_cast<int>(r));
    }
    std::uint64_t det = 1;
    while (!bySize.empty()) {
        int best = -1;
        int bestColumn = -1;
        std::size_t cost = ~std::size_t{0};
        int looked = 0;
        for (const auto& [size, r] : bySize) {
            if (size == 0) return 0;
            for (const auto& [c, v] : rows[static_cast<std::size_t>(r)]) {
                const std::size_t fill = (size - 1) * (column[static_cast<std::size_t>(c)].size() - 1);
                if (fill >= cost) continue;
                cost = fill;
                best = r;
                bestColumn = c;
            }
            if (++looked >= 8 || cost == 0) break;
        }
        const Row pivot = rows[static_cast<std::size_t>(best)];
        const std::uint64_t value = pivot.at(bestColumn);
        det = times(det, value);
        const std::uint64_t inverse = power(value, kPrime - 2);
        bySize.erase({pivot.size(), best});
        for (const auto& [c, v] : pivot) column[static_cast<std::size_t>(c)].erase(best);
        const std::set<int> others = column[static_cast<std::size_t>(bestColumn)];
        for (const int r : others) {
            Row& row = rows[static_cast<std::size_t>(r)];
            bySize.erase({row.size(), r});
            const std::uint64_t by = negative(times(row.at(bestColumn), inverse));
            for (const auto& [c, v] : pivot) {
                std::uint64_t& entry = row[c];
                const bool was = entry != 0;
                entry = plus(entry, times(by, v));
                if (entry == 0) {
                    row.erase(c);
                    if (was) column[static_cast<std::size_t>(c)].erase(r);
                } else if (!was) {
                    column[static_cast<std::size_t>(c)].insert(r);
                }
            }
            bySize.emplace(row.size(), r);
        }
    }
    return det;
}

}  // namespace

KnotNumber knotNumberOf(const Path& path, bool aside, int flipped, bool tied) {
    const Path whole = Closing(path, aside, tied).path();
    std::vector<PlanarCrossing> crossings = crossingsOf(whole);
    if (flipped >= 0) {
        PlanarCrossing& x = crossings[static_cast<std::size_t>(flipped)];
        std::swap(x.over, x.under);
    }
    KnotNumber number;
    number.crossings = static_cast<int>(crossings.size());

    // Arcs: from one place where the strand goes under to the next.
    const std::size_t strands = whole.strands.size();
    std::vector<std::vector<double>> under(strands);
    for (const PlanarCrossing& x : crossings)
        under[static_cast<std::size_t>(x.under.strand)].push_back(x.under.at);
    std::vector<int> firstArc(strands);
    int arcs = 0;
    for (std::size_t s = 0; s < strands; ++s) {
        std::sort(under[s].begin(), under[s].end());
        firstArc[s] = arcs;
        arcs += static_cast<int>(under[s].size());
        if (under[s].empty()) return number;  // nothing lies before it
    }
    const auto arcAt = [&](int strand, double at, bool after) {
        const std::vector<double>& u = under[static_cast<std::size_t>(strand)];
        const auto found =
            after ? std::upper_bound(u.begin(), u.end(), at) : std::lower_bound(u.begin(), u.end(), at);
        const auto k = static_cast<int>(found - u.begin()) % static_cast<int>(u.size());
        return firstArc[static_cast<std::size_t>(strand)] + k;
    };
    const auto way = [&](const PlanarCrossing::Branch& b) {
        const auto& points = whole.strands[static_cast<std::size_t>(b.strand)].points;
        const auto i = std::min(static_cast<std::size_t>(b.at), points.size() - 2);
        const Point3 d = points[i + 1].at - points[i].at;
        return Point2{d.x, d.y};
    };
    const std::uint64_t ofYarn = rootOf(7);
    const std::uint64_t ofTool = rootOf(11);
    const auto variable = [&](int strand) {
        return whole.strands[static_cast<std::size_t>(strand)].tool ? ofTool : ofYarn;
    };
    // Of the relations any one follows from the others, and one arc may be left out.
    std::vector<Row> rows;
    for (std::size_t i = 0; i + 1 < crossings.size(); ++i) {
        const PlanarCrossing& x = crossings[i];
        const bool right = turnOf(way(x.over), way(x.under)) > 0;
        const int over = arcAt(x.over.strand, x.over.at, false);
        int from = arcAt(x.under.strand, x.under.at, false);
        int to = arcAt(x.under.strand, x.under.at, true);
        if (!right) std::swap(from, to);
        Row row;
        const auto put = [&](int arc, std::uint64_t v) {
            if (arc == 0) return;
            std::uint64_t& entry = row[arc - 1];
            entry = plus(entry, v);
            if (entry == 0) row.erase(arc - 1);
        };
        put(over, plus(1, negative(variable(x.under.strand))));
        put(from, variable(x.over.strand));
        put(to, negative(1));
        rows.push_back(std::move(row));
    }
    number.value = power(determinant(std::move(rows)), 2 * 7 * 11);
    return number;
}

std::uint64_t numberOfPolynomial(const std::vector<int>& coefficients) {
    std::uint64_t sum = 0;
    std::uint64_t x = 1;
    for (const int c : coefficients) {
        const std::uint64_t size = times(x, static_cast<std::uint64_t>(std::abs(c)));
        sum = plus(sum, c < 0 ? negative(size) : size);
        x = times(x, rootOf(7));
    }
    return power(sum, 2 * 7 * 11);
}

Knots compareKnots(const Path& a, const Path& b) {
    const auto over = [](Path path) {
        for (PathStrand& s : path.strands) {
            for (PathPoint& p : s.points) p.at.z = -p.at.z;
        }
        return path;
    };
    const Path aOver = over(a);
    const Path bOver = over(b);
    // Yarns that come apart when each is closed by itself tell nothing; tied to one they do.
    for (const bool tied : {false, true}) {
        bool told = false;
        for (const bool aside : {false, true}) {
            for (const auto& [p, q] : {std::pair{&a, &b}, std::pair{&aOver, &bOver}}) {
                const std::uint64_t one = knotNumberOf(*p, aside, -1, tied).value;
                const std::uint64_t two = knotNumberOf(*q, aside, -1, tied).value;
                if (one != 0 && one == two) return Knots::same;
                told = told || one != 0 || two != 0;
            }
        }
        if (told) return Knots::different;
    }
    return Knots::untold;
}

}  // namespace loopmend::outside
