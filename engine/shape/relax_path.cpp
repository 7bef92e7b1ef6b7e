// SPDX-License-Identifier: MIT
#include "shape/relax_path.h"

#include <algorithm>
#include <cmath>

#include "shape/relax_drawn.h"

namespace loopmend {

namespace {

struct Stretch {
    EntryId entry;
    std::size_t from = 0;  ///< first point
    std::size_t to = 0;    ///< first point of the next stretch, or the last point
};

std::vector<Stretch> stretchesOf(const PathStrand& strand) {
    std::vector<Stretch> out;
    for (std::size_t i = 0; i < strand.points.size(); ++i) {
        if (out.empty() || out.back().entry != strand.points[i].entry) {
            if (!out.empty()) out.back().to = i;
            out.push_back({strand.points[i].entry, i, i});
        }
    }
    if (!out.empty()) out.back().to = strand.points.size() - 1;
    if (out.size() > 1 && out.back().from == out.back().to) out.pop_back();
    return out;
}

class Cutter {
  public:
    Cutter(const Fabric& fabric, const RodOptions& options, double stitchMm)
        : f_(fabric), options_(options), stitchMm_(stitchMm) {}

    /// Yarn of a stretch at rest, mm.
    double restOf(EntryId e) const {
        const Yarn& yarn = f_[f_[e].yarn];
        const double ordinary = yarn.strandUm;
        if (f_.isLoop(e)) {
            const double own = f_[e].um + half(e, f_[e].prev, ordinary) + half(e, f_[e].next, ordinary);
            // What a hitch has beyond that lies in its knot.
            const bool hitch = f_[e].flags.anchored != 0 && !f_[e].firstLink;
            const double held = !hitch ? 1 : turnsBeside(e) ? kFirstHitch : kHitch;
            return uneven(e) * own * held / 1000;
        }
        EntryId first = e;
        int passes = 1;
        while (f_[first].prev && !f_.isLoop(f_[first].prev)) {
            first = f_[first].prev;
            ++passes;
        }
        for (EntryId n = f_[e].next; n && !f_.isLoop(n); n = f_[n].next) ++passes;
        const LoopId before = f_[first].prev;
        const double all = before ? f_[before].strandUm : yarn.leadUm;
        const double share = (all - ordinary) / passes / 1000;
        const double most = options_.longestRung * (yarn.loopUm + yarn.strandUm) / 1000;
        return std::clamp(share, std::min(1.0 * stitchMm_, most), most);
    }

    /// Of all stretches. A loop that has less yarn than it takes to go round what it goes round (a lifted
    /// bar) draws some from its neighbours, as hands feel it; what they cannot spare is given.
    std::vector<double> restsOf(const PathStrand& strand, const std::vector<Stretch>& stretches) const {
        std::vector<double> rests;
        std::vector<double> ways;
        for (std::size_t k = 0; k < stretches.size(); ++k) {
            const bool end = k == 0 || k + 1 == stretches.size();
            ways.push_back(drawn(strand, stretches[k]));
            rests.push_back(strand.yarn && !end ? restOf(stretches[k].entry) : ways.back());
        }
        if (!strand.yarn) return rests;
        const std::vector<double> own = rests;
        for (std::size_t k = 1; k + 1 < stretches.size(); ++k) {
            const double lacks = kWay * ways[k] - own[k];
            if (lacks <= 0 || !f_.isLoop(stretches[k].entry)) continue;
            rests[k] += lacks;
            for (const std::size_t beside : {k - 1, k + 1}) {
                if (f_.isLoop(stretches[beside].entry) && own[beside] > kWay * ways[beside])
                    rests[beside] -=
                        std::min({0.5 * lacks, kSpare * own[beside], own[beside] - kWay * ways[beside]});
            }
        }
        return rests;
    }

    void cut(const PathStrand& strand, const Stretch& s, double rest, double piece, Rod& rod,
             std::vector<EntryId>& entries, std::vector<double>& places) const {
        const int n = std::max(3, static_cast<int>(std::lround(rest / piece)));
        std::vector<double> along(s.to - s.from + 1, 0);
        for (std::size_t i = s.from + 1; i <= s.to; ++i)
            along[i - s.from] = along[i - s.from - 1] + length(strand.points[i].at - strand.points[i - 1].at);
        std::size_t k = 0;
        for (int i = 0; i < n; ++i) {
            const double at = along.back() * i / n;
            while (k + 2 < along.size() && along[k + 1] <= at) ++k;
            const double span = along[k + 1] - along[k];
            const double t = span > 1e-12 ? (at - along[k]) / span : 0;
            rod.points.push_back(mix(strand.points[s.from + k].at, strand.points[s.from + k + 1].at, t));
            rod.rest.push_back(rest / n);
            entries.push_back(s.entry);
            places.push_back(static_cast<double>(s.from + k) + t);
        }
    }

    static double drawn(const PathStrand& strand, const Stretch& s) {
        double l = 0;
        for (std::size_t i = s.from + 1; i <= s.to; ++i)
            l += length(strand.points[i].at - strand.points[i - 1].at);
        return l;
    }

  private:
    static constexpr double kWay = 0.75;    ///< of the drawn way a loop needs at least
    static constexpr double kSpare = 0.06;  ///< of its yarn a loop gives to one beside it
    static constexpr double kHitch = 0.75;
    static constexpr double kFirstHitch = 0.6;  ///< the slip knot
    /// An edge is pulled tight: of an ordinary strand a turn needs so much.
    static constexpr double kTurn = 0.7;
    static constexpr double kCastOnTurn = 0.1;

    bool turnsBeside(EntryId e) const {
        return (f_[e].prev && f_.run(f_[e].prev) != f_.run(e)) ||
               (f_[e].next && f_.run(f_[e].next) != f_.run(e));
    }

    /// Half of the strand between neighbours along the yarn, as far as it is drawn with the loop, µm.
    double half(LoopId loop, EntryId beside, double ordinary) const {
        const bool after = f_[loop].next == beside;
        const LoopId owner = after ? loop : f_.loopBefore(loop);
        const double strand = owner ? f_[owner].strandUm : f_[f_[loop].yarn].leadUm;
        double most = ordinary;
        if (beside && f_.run(beside) != f_.run(loop)) {
            const bool hitch = f_.isLoop(beside) && f_[beside].flags.anchored != 0;
            most *= hitch || f_[loop].flags.anchored != 0 ? kCastOnTurn : kTurn;
        }
        return 0.5 * std::min(most, strand);
    }

    /// Follows from seed and loop alone, so that a loop keeps its length when others change.
    double uneven(LoopId loop) const {
        if (options_.seed == 0) return 1;
        std::uint64_t z = options_.seed + 0x9e3779b97f4a7c15U * (static_cast<std::uint64_t>(loop.value) + 1);
        z = (z ^ (z >> 30U)) * 0xbf58476d1ce4e5b9U;
        z = (z ^ (z >> 27U)) * 0x94d049bb133111ebU;
        z ^= z >> 31U;
        const double part = static_cast<double>(z >> 11U) / 9007199254740992.0;  // 0 to 1
        return 1 + options_.unevenness * (2 * part - 1);
    }

    const Fabric& f_;
    RodOptions options_;
    double stitchMm_;
};

/// Ordinary loop and strand of the first yarn that has them, mm.
double stitchYarn(const Path& path, const Fabric& fabric) {
    for (const PathStrand& s : path.strands) {
        if (!s.yarn) continue;
        const double l = (fabric[s.yarn].loopUm + fabric[s.yarn].strandUm) / 1000.0;
        if (l > 0) return l;
    }
    return 4.2 * path.gauge.stitchMm;
}

/// Whether nothing that lies still is drawn where a strand ends: two that both do could not make room.
bool hasRoom(const Rods& rods, std::size_t rod, std::size_t end) {
    const Point3 at = rods.rods[rod].points[end];
    for (std::size_t r = 0; r < rods.rods.size(); ++r) {
        const double room = 1.5 * (rods.rods[r].radius + rods.rods[rod].radius);
        for (std::size_t i = 0; i < rods.rods[r].points.size(); ++i) {
            if (rods.rods[r].fixed[i] == 0 || (r == rod && i == end)) continue;
            if (length(rods.rods[r].points[i] - at) < room) return false;
        }
    }
    return true;
}

/// By entry id: loops that cannot be drawn out of what they go through. A tool or a knot holds them, or what
/// goes through them is such a loop.
std::vector<bool> staying(const Fabric& fabric) {
    std::vector<bool> stays(static_cast<std::size_t>(fabric.entryCount()), false);
    std::vector<LoopId> next;
    const auto add = [&](LoopId loop) {
        if (stays[static_cast<std::size_t>(loop.value)]) return;
        stays[static_cast<std::size_t>(loop.value)] = true;
        next.push_back(loop);
    };
    for (std::int32_t i = 0; i < fabric.entryCount(); ++i) {
        const EntryId e{i};
        if (!fabric.has(e) || !fabric.isLoop(e)) continue;
        bool held = fabric[e].flags.anchored != 0;
        for (HeldId h = fabric[e].held; h; h = fabric[h].alsoHeld)
            held = held || fabric[h].state.hanging == 0;
        if (held) add(e);
    }
    while (!next.empty()) {
        const LoopId loop = next.back();
        next.pop_back();
        for (LinkId l = fabric[loop].firstLink; l; l = fabric[l].nextInLoop) add(fabric[l].host);
    }
    return stays;
}

/// By entry id: what lies first or last on a rod whose end is not held.
std::vector<bool> atFreeEnds(const PathRods& rods, const Fabric& fabric) {
    std::vector<bool> at(static_cast<std::size_t>(fabric.entryCount()), false);
    for (std::size_t r = 0; r < rods.entries.size(); ++r) {
        const std::vector<EntryId>& entries = rods.entries[r];
        const std::vector<std::uint8_t>& fixed = rods.rods.rods[r].fixed;
        if (entries.empty() || !entries.front()) continue;
        if (fixed.front() == 0) at[static_cast<std::size_t>(entries.front().value)] = true;
        if (fixed.back() == 0) at[static_cast<std::size_t>(entries.back().value)] = true;
    }
    return at;
}

void holdEnds(Rods& rods, const Path& path) {
    for (std::size_t r = 0; r < rods.rods.size(); ++r) {
        Rod& rod = rods.rods[r];
        if (!path.strands[r].yarn || rod.points.size() < 2) continue;
        if (hasRoom(rods, r, 0)) rod.fixed.front() = 1;
        if (hasRoom(rods, r, rod.points.size() - 1)) rod.fixed.back() = 1;
    }
}

}  // namespace

PathRods rodsOfPath(const Path& path, const Fabric& fabric, const RodOptions& options) {
    PathRods out;
    const double stitch = stitchYarn(path, fabric);
    const double core = stitch / options.lengthsPerCore;
    out.rods.unit = 0.5 * core;
    const Cutter cutter(fabric, options, path.gauge.stitchMm);
    std::vector<std::vector<double>> allPlaces;
    for (const PathStrand& strand : path.strands) {
        Rod rod;
        std::vector<EntryId> entries;
        std::vector<double> places;
        rod.radius = 0.5 * strand.mm * core / path.gauge.yarnMm;
        const bool yarn = static_cast<bool>(strand.yarn);
        const std::vector<Stretch> stretches = stretchesOf(strand);
        const std::vector<double> rests = cutter.restsOf(strand, stretches);
        for (std::size_t k = 0; k < stretches.size(); ++k) {
            cutter.cut(strand, stretches[k], std::max(rests[k], 1e-3 * stitch),
                       stitch / options.pointsPerStitch, rod, entries, places);
        }
        if (!strand.points.empty()) {
            rod.points.push_back(strand.points.back().at);
            entries.push_back(strand.points.back().entry);
            places.push_back(static_cast<double>(strand.points.size() - 1));
        }
        rod.bent = curvatureOf(rod);
        rod.fixed.assign(rod.points.size(), yarn ? 0 : 1);
        out.rods.rods.push_back(std::move(rod));
        out.entries.push_back(std::move(entries));
        allPlaces.push_back(std::move(places));
    }
    (void)bringBackToDrawn(out.rods, path, allPlaces);
    if (options.holdEnds) holdEnds(out.rods, path);
    const std::vector<bool> stays = staying(fabric);
    const std::vector<bool> atEnd = atFreeEnds(out, fabric);
    const auto is = [](const std::vector<bool>& which, EntryId e) {
        return which[static_cast<std::size_t>(e.value)];
    };
    for (std::int32_t i = 0; i < fabric.entryCount(); ++i) {
        const EntryId e{i};
        if (!fabric.has(e) || !fabric.isLoop(e)) continue;
        for (LinkId l = fabric[e].firstLink; l; l = fabric[l].nextInLoop) {
            if (fabric[l].form.part != Part::opening) continue;
            const LoopId host = fabric[l].host;
            out.links.push_back({e, host, !is(stays, e) || is(atEnd, e) || is(atEnd, host)});
        }
    }
    return out;
}

Path pathOfRods(const PathRods& rods, const Path& like) {
    Path out;
    out.gauge = like.gauge;
    for (std::size_t r = 0; r < rods.rods.rods.size(); ++r) {
        PathStrand strand = like.strands[r];
        strand.points.clear();
        for (std::size_t i = 0; i < rods.rods.rods[r].points.size(); ++i)
            strand.points.push_back({rods.rods.rods[r].points[i], rods.entries[r][i]});
        out.strands.push_back(std::move(strand));
    }
    return out;
}

}  // namespace loopmend
