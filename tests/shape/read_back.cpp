// SPDX-License-Identifier: MIT
#include "shape/read_back.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <memory>
#include <set>
#include <tuple>
#include <utility>

#include <fmt/format.h>

#include "shape/cloth.h"
#include "shape/crossings.h"
#include "shape/relax_links.h"

namespace loopmend {

namespace {

struct Met {
    double mine = 0;    ///< place along this strand, in points
    double theirs = 0;  ///< along the other
    bool over = false;  ///< this strand lies over the other
    int sign = 0;       ///< of the crossing, both strands along their run
    double z = 0;       ///< of the other, mm toward the right side
    double slid = 0;    ///< so many points beyond the end of a stretch
};

/// A stretch of yarn that belongs to one loop.
struct Stretch {
    int strand = -1;
    double from = 0;
    double to = 0;
    double part(double at) const { return (at - from) / std::max(1.0, to - from); }
};

class Rebuilt {
  public:
    explicit Rebuilt(const Path& path) {
        for (std::size_t s = 0; s < path.strands.size(); ++s) {
            const auto& points = path.strands[s].points;
            for (std::size_t i = 0; i < points.size(); ++i) {
                const EntryId e = points[i].entry;
                if (!e) continue;
                Stretch& stretch = stretches_[e];
                if (stretch.strand < 0) stretch = {static_cast<int>(s), static_cast<double>(i), 0};
                stretch.to = static_cast<double>(i) + 1;
            }
        }
        const auto way = [&](const PlanarCrossing::Branch& b) {
            const auto& points = path.strands[static_cast<std::size_t>(b.strand)].points;
            const auto i = std::min(static_cast<std::size_t>(b.at), points.size() - 2);
            const Point3 d = points[i + 1].at - points[i].at;
            return Point2{d.x, d.y};
        };
        for (const PlanarCrossing& x : crossingsOf(path)) {
            const int sign = turnOf(way(x.over), way(x.under)) > 0 ? 1 : -1;
            for (const auto& [a, slidA] : near(path, x.over)) {
                for (const auto& [b, slidB] : near(path, x.under)) {
                    const double slid = std::max(slidA, slidB);
                    met_[{a, b}].push_back({x.over.at, x.under.at, true, sign, x.under.z, slid});
                    if (a != b) met_[{b, a}].push_back({x.under.at, x.over.at, false, sign, x.over.z, slid});
                }
            }
        }
    }

    struct Through {
        EntryId loop;
        EntryId host;
        int side = 0;  ///< +1: toward the right side
        bool operator<(const Through& o) const {
            return std::tie(loop.value, host.value, side) < std::tie(o.loop.value, o.host.value, o.side);
        }
    };

    /// Which of two stretches goes through the other, if one does. partly: fewer crossings are enough, where
    /// a foot lies in the opening; two alone do not tell the side, and are taken for `side`.
    bool through(EntryId a, EntryId b, bool partly, Through& found, int side = 1) const {
        for (const double slid : {0.0, 1.0, 2.5}) {
            if (reads(a, b, slid, false, side, found)) return true;
        }
        for (const double slid : {2.5, 1.0, 0.0}) {
            if (partly && reads(a, b, slid, true, side, found)) return true;
        }
        return false;
    }

    std::vector<std::pair<EntryId, EntryId>> pairs() const {
        std::vector<std::pair<EntryId, EntryId>> all;
        for (const auto& [who, list] : met_) {
            if (who.first != who.second) all.push_back(who);
        }
        return all;
    }

    static constexpr int kUntold = 99;

    /// Half turns of a loop: + where the branch that lies over reads `/`. curls: those of a few points too.
    /// above: only between the loop's crossings with that one, which it stands in: a long strand beside an
    /// edge turns back under its own loop and is no leg of it. kUntold: it is not seen to stand there.
    int twist(EntryId e, bool curls = false, EntryId above = {}) const {
        const auto found = met_.find({e, e});
        if (found == met_.end()) return 0;
        double from = -1e9;
        double to = 1e9;
        if (above) {
            const std::vector<Met> feet = between(e, above);
            if (feet.size() < 2) return kUntold;
            from = feet.front().mine;
            to = feet.back().mine;
        }
        int sum = 0;
        for (const Met& m : found->second) {
            if (m.slid > 0 || std::min(m.mine, m.theirs) < from || std::max(m.mine, m.theirs) > to) continue;
            // A curl of a few points is no twist: the head lies between the legs.
            const Stretch& all = stretches_.at(e);
            if (!curls && std::abs(m.mine - m.theirs) < 0.3 * (all.to - all.from)) continue;
            sum -= m.sign;
        }
        return sum;
    }

    /// Whether a lies over b, both hosts of `through`: where they cross. A stretch may reach into the next;
    /// if they then cross to and fro, only what crosses within both counts: beside an edge the yarn of the
    /// one turns straight into the foot of the loop. If they do not meet: where they lie on the loop.
    bool over(EntryId a, EntryId b, EntryId through) const {
        for (const double slid : {2.5, 0.0}) {
            int sum = 0;
            for (const Met& m : between(a, b, slid)) sum += m.over ? 1 : -1;
            if (sum != 0) return sum > 0;
        }
        return height(through, a) > height(through, b);
    }

    std::string letters(EntryId a, EntryId b) const {
        std::string text;
        for (const Met& m : between(a, b)) text += m.over ? 'O' : 'U';
        return text;
    }

  private:
    bool reads(EntryId a, EntryId b, double slid, bool partly, int first, Through& found) const {
        const std::vector<Met> seen = between(a, b, slid);
        std::string letters;
        for (const Met& m : seen) letters += m.over ? 'O' : 'U';
        for (const int side : {first, -first}) {
            const std::string plan = side > 0 ? "UOOU" : "OUUO";
            const bool some = partly && (letters == plan.substr(1) || letters == plan.substr(0, 3) ||
                                         letters == plan.substr(1, 2) || letters == plan.substr(0, 2) ||
                                         letters == plan.substr(2));
            if (letters != plan && !some) continue;
            // A bight in a bight is the same from both: the one that is met near its top is the host.
            double mine = 0;
            double theirs = 0;
            for (const Met& m : seen) {
                mine += std::abs(stretches_.at(a).part(m.mine) - 0.5);
                theirs += std::abs(stretches_.at(b).part(m.theirs) - 0.5);
            }
            if (letters.size() > 2 && mine < theirs) continue;  // b goes through a
            found = {a, b, side};
            return true;
        }
        return false;
    }

    struct Less {
        bool operator()(EntryId a, EntryId b) const { return a.value < b.value; }
        bool operator()(const std::pair<EntryId, EntryId>& a, const std::pair<EntryId, EntryId>& b) const {
            return std::tie(a.first.value, a.second.value) < std::tie(b.first.value, b.second.value);
        }
    };

    /// Of a host's head where a loop goes through it.
    double height(EntryId loop, EntryId host) const {
        double sum = 0;
        int n = 0;
        for (const Met& m : between(loop, host)) {
            if (std::abs(stretches_.at(host).part(m.theirs) - 0.5) > 0.25) continue;
            sum += m.z;
            ++n;
        }
        return n > 0 ? sum / n : 0;
    }

    /// The loop here, and the one beside it where a stretch ends: yarn slides.
    static std::map<EntryId, double, Less> near(const Path& path, const PlanarCrossing::Branch& b) {
        const auto& points = path.strands[static_cast<std::size_t>(b.strand)].points;
        std::map<EntryId, double, Less> all;
        for (const double by : {0.0, -1.0, 1.0, -2.5, 2.5}) {
            const auto i = static_cast<std::int64_t>(b.at + by);
            if (i < 0 || i >= static_cast<std::int64_t>(points.size())) continue;
            const EntryId e = points[static_cast<std::size_t>(i)].entry;
            if (e) all.emplace(e, std::abs(by));
        }
        return all;
    }

    /// Crossings of two stretches along the first, without those that a strand makes by swerving: two that
    /// follow each other closely on both, one strand over the other both times.
    std::vector<Met> between(EntryId a, EntryId b, double slid = 2.5) const {
        const auto found = met_.find({a, b});
        if (found == met_.end()) return {};
        std::vector<Met> seen;
        for (const Met& m : found->second) {
            if (m.slid <= slid) seen.push_back(m);
        }
        std::sort(seen.begin(), seen.end(), [](const Met& x, const Met& y) { return x.mine < y.mine; });
        for (std::size_t i = 0; i + 1 < seen.size();) {
            const Met& x = seen[i];
            const Met& y = seen[i + 1];
            const bool swerve = x.over == y.over && x.sign != y.sign && y.mine - x.mine < 3.5 &&
                                std::abs(y.theirs - x.theirs) < 3.5;
            if (swerve) {
                seen.erase(seen.begin() + static_cast<std::ptrdiff_t>(i),
                           seen.begin() + static_cast<std::ptrdiff_t>(i) + 2);
                i = i > 0 ? i - 1 : 0;
            } else {
                ++i;
            }
        }
        return seen;
    }

    std::map<EntryId, Stretch, Less> stretches_;
    std::map<std::pair<EntryId, EntryId>, std::vector<Met>, Less> met_;
};

/// The cloth as it is seen when it is tilted a little: a stitch that lies on its side is not read from above.
class Views {
  public:
    explicit Views(const Path& path) : path_(path) {}

    static constexpr int kCount = 9;
    const Rebuilt& operator[](int i) const {
        auto& view = views_[static_cast<std::size_t>(i)];
        if (!view) view = std::make_unique<Rebuilt>(tilted(i));
        return *view;
    }

    bool someTwist(EntryId e, int twist, EntryId above) const {
        for (int i = 0; i < kCount; ++i) {
            if ((*this)[i].twist(e) == twist || (*this)[i].twist(e, false, above) == twist) return true;
        }
        return false;
    }
    /// Whether a head that lies curled round what stands in it is seen turned so: from a third of the sides
    /// at least, since a curl hides from the others, and the other way from none; not turned: from most.
    bool isTurned(EntryId e, int turns) const {
        int seen = 0;
        for (int i = 0; i < kCount; ++i) {
            const int twist = (*this)[i].twist(e, true);
            seen += twist == turns ? 1 : 0;
            if (twist * turns < 0) return false;
        }
        return 3 * seen >= (turns != 0 ? kCount : 2 * kCount);
    }
    /// In so many of them one loop is seen to go through another.
    int through(EntryId a, EntryId b) const {
        int n = 0;
        Rebuilt::Through found;
        for (int i = 0; i < kCount; ++i) n += (*this)[i].through(a, b, false, found) ? 1 : 0;
        return n;
    }

  private:
    Path tilted(int i) const {
        constexpr double kAngles[kCount][2] = {{0, 0},   {0.4, 0},  {-0.4, 0}, {0, 0.4}, {0, -0.4},
                                               {0.8, 0}, {-0.8, 0}, {0, 0.8},  {0, -0.8}};
        const double a = kAngles[i][0];
        const double b = kAngles[i][1];
        Path out = path_;
        for (PathStrand& s : out.strands) {
            for (PathPoint& p : s.points) {
                const Point3 at = p.at;
                p.at = {at.x * std::cos(a) + at.z * std::sin(a), at.y,
                        at.z * std::cos(a) - at.x * std::sin(a)};
                const Point3 q = p.at;
                p.at = {q.x, q.y * std::cos(b) + q.z * std::sin(b), q.z * std::cos(b) - q.y * std::sin(b)};
            }
        }
        return out;
    }

    const Path& path_;
    mutable std::array<std::unique_ptr<Rebuilt>, kCount> views_;
};

/// The yarn turns beside it.
bool isEdge(const Fabric& f, LoopId loop) {
    return !f[loop].prev || !f[loop].next || f.run(f[loop].prev) != f.run(loop) ||
           f.run(f[loop].next) != f.run(loop);
}

bool goesThrough(const Fabric& f, EntryId e, LoopId host) {
    if (!e || !f.isLoop(e)) return false;
    for (LinkId l = f[e].firstLink; l; l = f[l].nextInLoop) {
        if (f[l].host == host && f[l].form.part == Part::opening) return true;
    }
    return false;
}

/// A loop without hosts whose neighbours both go through `host`.
bool betweenSiblings(const Fabric& f, LoopId loop, LoopId host) {
    return !f[loop].firstLink && goesThrough(f, f[loop].prev, host) && goesThrough(f, f[loop].next, host);
}

EntryId standsIn(const Fabric& f, LoopId loop) {
    return f[loop].firstLink ? f[f[loop].firstLink].host : EntryId{};
}

/// The loop beside it along the yarn stands in the same host, or a yarn-over and then one that does.
bool standsBesideAnother(const Fabric& f, LoopId loop, LoopId host) {
    for (EntryId e : {f[loop].prev, f[loop].next}) {
        if (!e || !f.isLoop(e) || f.run(e) != f.run(loop)) continue;
        if (goesThrough(f, e, host) || betweenSiblings(f, e, host)) return true;
    }
    return false;
}

/// Half turns of a host: one stretch of its head after another, wherever what stands in it turns it
/// otherwise.
int turnsOf(const Fabric& f, LoopId host) {
    int sum = 0;
    LinkId before;
    for (LinkId k = f[host].firstKid; k; k = f[k].nextInHost) {
        if (f[k].form.part != Part::opening) continue;
        if (!before || f[before].form.twist != f[k].form.twist) sum += f[k].form.twist;
        before = k;
    }
    return sum;
}

/// A foot between two loops of one host meets no leg, and the last one of a row comes in from outside.
bool isPartly(const Fabric& f, LoopId loop, LoopId host) {
    return f.kidCount(host) > 1 || f.linkCount(loop) > 1 || isEdge(f, loop);
}

/// The same read without any direction of looking: a loop goes up through a surface that fills its host, and
/// comes back down through it.
class InSpace {
  public:
    InSpace(const Fabric& fabric, const Path& path) : f_(fabric) {
        for (const PathStrand& strand : path.strands) {
            Rod rod;
            std::vector<EntryId> entries;
            for (const PathPoint& p : strand.points) {
                rod.points.push_back(p.at);
                entries.push_back(p.entry);
            }
            rods_.rods.rods.push_back(std::move(rod));
            rods_.entries.push_back(std::move(entries));
        }
    }

    /// Toward the right side +1, toward the wrong side -1; 0: it goes through no whole way.
    int side(LoopId loop, LoopId host) const {
        const WaysThrough ways = waysThrough(rods_, loop, host);
        if (ways.up * ways.down != -1) return 0;
        return f_.run(host) == Run::leftward ? -ways.up : ways.up;
    }

    /// Whether the yarn goes up and down through a host as it should where this loop stands in it, all loops
    /// that stand beside each other in that host taken together: each up by the one face and down by the
    /// other, in their order, and by the opposite faces where the host is turned half over.
    bool asMeant(const Fabric& meant, LoopId loop, LoopId host) const {
        LoopId first = loop;
        LoopId last = loop;
        while (standsWith(meant, meant[first].prev, loop, host)) first = meant[first].prev;
        while (standsWith(meant, meant[last].next, loop, host)) last = meant[last].next;
        std::vector<int> plan;
        for (LoopId e = first;; e = meant[e].next) {
            for (LinkId l = meant[e].firstLink; l; l = meant[l].nextInLoop) {
                if (meant[l].host != host) continue;
                int face = meant[l].form.side == Side::right ? 1 : -1;
                if (meant.run(host) == Run::leftward) face = -face;
                if (meant[l].form.twist % 2 != 0) face = -face;
                plan.push_back(face);
                plan.push_back(-face);
            }
            if (e == last) break;
        }
        for (const int further : {0, 2, 4}) {
            if (facesMet(rods_, first, last, host, further) == plan) return true;
        }
        return false;
    }

  private:
    /// It stands in the host too, or between two that do, in the same row.
    static bool standsWith(const Fabric& f, EntryId e, LoopId loop, LoopId host) {
        if (!e || !f.isLoop(e) || f.run(e) != f.run(loop)) return false;
        return goesThrough(f, e, host) || betweenSiblings(f, e, host);
    }

    const Fabric& f_;
    PathRods rods_;
};

}  // namespace

void readBack(const std::string& name, const Fabric& laid, const Fabric& f, ReadBack& tally) {
    Cloth cloth = Cloth::drawn(laid);
    cloth.settle();
    if (cloth.fault()) {
        tally.wrong.push_back(name + ": " + sentence(*cloth.fault()));
        return;
    }
    // A round joined with a twist: what winds about the needle is turned back (winding.h).
    Path path = cloth.path();
    for (PathStrand& strand : path.strands) {
        for (PathPoint& p : strand.points) p.at = cloth.layout().winding.flat(p.at);
    }
    const Views views(path);
    const Rebuilt& rebuilt = views[0];
    const InSpace space(laid, path);
    // A piece that was folded over shows its other face.
    const Fold& fold = cloth.layout().fold;
    const auto turned = [&](LoopId host) {
        return !fold.empty() && fold.turns(cloth.layout()[host].frame.at);
    };
    std::set<Rebuilt::Through> meant;
    for (std::int32_t i = 0; i < f.entryCount(); ++i) {
        const LoopId loop{i};
        if (!f.has(loop) || !f.isLoop(loop) || f.isNothing(loop)) continue;
        for (LinkId l = f[loop].firstLink; l; l = f[l].nextInLoop) {
            const LoopId host = f[l].host;
            const int side = (f[l].form.side == Side::right ? 1 : -1) * (turned(host) ? -1 : 1);
            meant.insert({loop, host, side});
            // Drawn up under legs: nothing that is read as a loop in a loop (planned_samplers.cpp).
            if (f[l].form.part != Part::opening) continue;
            // A hitch is a curl round the legs of what goes through it: four crossings and its own, in an
            // order that changes when the curl tips over. Its knot is told as a whole (outside/alexander.h).
            if (f[host].flags.anchored != 0) continue;
            ++tally.links;
            const bool twist = f.kidCount(host) == 1;
            tally.twists += twist ? 1 : 0;
            // Of several out of one each foot but the outer ones meets no leg: they are read together.
            const bool several = standsBesideAnother(f, loop, host);
            tally.several += several ? 1 : 0;
            bool right = several && space.asMeant(f, loop, host) && views.isTurned(host, turnsOf(f, host));
            for (int v = 0; v < Views::kCount && !right && !several; ++v) {
                Rebuilt::Through found;
                right = views[v].through(loop, host, isPartly(f, loop, host), found, side) &&
                        found.loop == loop && found.side == side &&
                        (!twist || views[v].twist(host) == f[l].form.twist);
                if (!right && v + 1 == Views::kCount) {
                    // A loop that lies folded is seen from nowhere as a loop in a loop.
                    right = space.asMeant(f, loop, host) &&
                            (!twist || views.someTwist(host, f[l].form.twist, standsIn(f, host)));
                }
                // The legs of an edge stitch may lie crossed: nothing holds them beside each other.
                (isEdge(f, host) ? tally.tiltedEdges : tally.tilted) += right && v > 0 ? 1 : 0;
            }
            if (!right)
                tally.wrong.push_back(fmt::format("{}: loop {} through {} reads {} and {} half turns", name,
                                                  i, host.value, rebuilt.letters(loop, host),
                                                  rebuilt.twist(host)));
            for (LinkId n = f[l].nextInLoop; n; n = f[n].nextInLoop) {
                const auto row = [&](LoopId of) { return cloth.layout().row(of); };
                // What was passed over lies higher round the loop's legs, in no stack with what it stands in.
                if (row(host) == row(loop) || row(f[n].host) == row(loop)) continue;
                // A stitch and the one under it need not touch: then neither lies on the other.
                if (row(f[n].host) != row(host) && rebuilt.letters(f[n].host, host).empty()) {
                    ++tally.apart;
                    continue;
                }
                ++tally.stacks;
                if (rebuilt.over(f[n].host, host, loop) != (side > 0))
                    tally.wrong.push_back(fmt::format("{}: loop {} does not lie on top of {} (reads {})",
                                                      name, f[n].host.value, host.value,
                                                      rebuilt.letters(f[n].host, host)));
            }
        }
    }
    for (const auto& [a, b] : rebuilt.pairs()) {
        if (!f.isLoop(a) || !f.isLoop(b)) continue;
        Rebuilt::Through found;
        if (meant.count({a, b, 1}) + meant.count({a, b, -1}) + meant.count({b, a, 1}) +
                meant.count({b, a, -1}) >
            0)
            continue;  // seen to above
        // The yarn of a yarn-over between two loops of one stitch comes up out of that stitch with theirs.
        if (betweenSiblings(f, a, b) || betweenSiblings(f, b, a)) continue;
        // What goes through is seen so from most sides, or does so in space.
        if (rebuilt.through(a, b, false, found) &&
            (2 * views.through(a, b) > Views::kCount || space.side(a, b) != 0 || space.side(b, a) != 0))
            tally.wrong.push_back(
                fmt::format("{}: loop {} is seen to go through {}", name, a.value, b.value));
    }
}

}  // namespace loopmend
