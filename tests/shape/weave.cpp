// SPDX-License-Identifier: MIT
#include "shape/weave.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include <fmt/format.h>

namespace loopmend {

namespace {

/// Fine points: which entry a crossing belongs to must not depend on where the points happen to lie.
PathOptions fine() {
    PathOptions options;
    options.step = 0.05;
    return options;
}

}  // namespace

Weave::Weave(const Fabric& fabric, bool turnedOver)
    : f_(fabric), layout_(layoutOf(fabric)), path_(pathOf(fabric, layout_, fine())) {
    for (PathStrand& strand : path_.strands) {
        for (PathPoint& p : strand.points) {
            p.at = layout_.winding.flat(p.at);
            p.at.z *= turnedOver ? -1 : 1;
        }
    }
    crossings_ = crossingsOf(path_);
    for (const PlanarCrossing& x : crossings_) met_.push_back({entryAt(x.over), entryAt(x.under), &x});
}

EntryId Weave::entryAt(const PlanarCrossing::Branch& branch) const {
    const auto& points = path_.strands[static_cast<std::size_t>(branch.strand)].points;
    return points[static_cast<std::size_t>(std::lround(branch.at))].entry;
}

std::string Weave::along(EntryId mover, EntryId other, double reach) const {
    // Where the mover lies along its strand.
    int strand = -1;
    double from = 0;
    double to = -1;
    for (std::size_t s = 0; s < path_.strands.size() && strand < 0; ++s) {
        const auto& points = path_.strands[s].points;
        for (std::size_t i = 0; i < points.size(); ++i) {
            if (points[i].entry != mover) continue;
            if (strand < 0) from = static_cast<double>(i);
            strand = static_cast<int>(s);
            to = static_cast<double>(i);
        }
    }
    if (strand >= 0) hangingEnds(static_cast<std::size_t>(strand), from, to);
    const double slack = reach / fine().step;
    std::vector<Seen> list;
    for (const Met& m : met_) {
        const auto within = [&](const PlanarCrossing::Branch& b, EntryId e) {
            return (e == mover && b.at >= from && b.at <= to) ||
                   (b.strand == strand && e != other && b.at >= from - slack && b.at <= to + slack);
        };
        const auto hangs = [&](const PlanarCrossing::Branch& b) {
            double first = 0;
            double last = 1e9;
            hangingEnds(static_cast<std::size_t>(b.strand), first, last);
            return b.at < first || b.at > last;
        };
        if (m.under == other && within(m.crossing->over, m.over) && !hangs(m.crossing->under))
            list.push_back({m.crossing->over, m.crossing->under, 'O'});
        if (m.over == other && within(m.crossing->under, m.under) && !hangs(m.crossing->over))
            list.push_back({m.crossing->under, m.crossing->over, 'U'});
    }
    std::sort(list.begin(), list.end(), [](const Seen& a, const Seen& b) { return a.mine.at < b.mine.at; });
    for (std::size_t i = 0; i + 1 < list.size();) {
        if (undone(list[i], list[i + 1])) {
            list.erase(list.begin() + static_cast<std::ptrdiff_t>(i),
                       list.begin() + static_cast<std::ptrdiff_t>(i) + 2);
            i = i > 0 ? i - 1 : 0;
        } else {
            ++i;
        }
    }
    std::string text;
    for (const Seen& seen : list) text += seen.what;
    return text;
}

/// A yarn's end that hangs far behind the work crosses what hangs there, and is no part of its stitch.
void Weave::hangingEnds(std::size_t strand, double& from, double& to) const {
    const auto& points = path_.strands[strand].points;
    const double behind = -2.2 * layout_.gauge.yarnMm;
    std::size_t first = 0;
    while (first + 1 < points.size() && points[first].at.z < behind) ++first;
    std::size_t last = points.size();
    while (last > 1 && points[last - 1].at.z < behind) --last;
    from = std::max(from, static_cast<double>(first));
    to = std::min(to, static_cast<double>(last));
}

/// Two crossings that follow each other on both strands, the one strand over the other both times, there and
/// back: where the one between them lies over whatever it meets, or the other under it, it can be drawn aside
/// (the second of Reidemeister's moves, after some of the third).
bool Weave::undone(const Seen& a, const Seen& b) const {
    const double near = 0.9 / fine().step;
    if (a.what != b.what || std::abs(a.mine.at - b.mine.at) > near) return false;
    if (a.theirs.strand != b.theirs.strand || std::abs(a.theirs.at - b.theirs.at) > near) return false;
    const auto way = [&](const PlanarCrossing::Branch& branch) {
        const auto& points = path_.strands[static_cast<std::size_t>(branch.strand)].points;
        const auto i = std::min(static_cast<std::size_t>(branch.at), points.size() - 2);
        const Point3 d = points[i + 1].at - points[i].at;
        return Point2{d.x, d.y};
    };
    if (turnOf(way(a.mine), way(a.theirs)) * turnOf(way(b.mine), way(b.theirs)) > 0) return false;
    // All that is met between the two, on the one strand: under it, or over it.
    const auto lies = [&](const PlanarCrossing::Branch& p, const PlanarCrossing::Branch& q, bool over) {
        const double low = std::min(p.at, q.at);
        const double high = std::max(p.at, q.at);
        const auto within = [&](const PlanarCrossing::Branch& at) {
            return at.strand == p.strand && at.at > low && at.at < high;
        };
        return std::none_of(crossings_.begin(), crossings_.end(),
                            [&](const PlanarCrossing& x) { return within(over ? x.under : x.over); });
    };
    const bool over = a.what == 'O';
    return lies(a.mine, b.mine, over) || lies(a.theirs, b.theirs, !over);
}

std::string Weave::pickedUp(LoopId loop) const {
    std::vector<std::pair<double, char>> list;
    const auto older = [&](EntryId e) {
        if (!e || e == loop || layout_.row(e) >= layout_.row(loop)) return false;
        return !f_.isLoop(e) || !f_[e].firstLink || f_[f_[e].firstLink].form.part == Part::opening;
    };
    for (const Met& m : met_) {
        if (m.over == loop && older(m.under)) list.emplace_back(m.crossing->over.at, 'O');
        if (m.under == loop && older(m.over)) list.emplace_back(m.crossing->under.at, 'U');
    }
    std::sort(list.begin(), list.end());
    std::string text;
    for (const auto& [at, what] : list) text += what;
    return text;
}

bool Weave::hooks(LinkId link) const {
    const LoopId loop = f_[link].loop;
    const char front = f_[link].form.side == Side::right ? 'O' : 'U';
    const char back = front == 'O' ? 'U' : 'O';
    const std::string seen = pickedUp(loop);
    const auto first = seen.find(front);
    const auto last = seen.rfind(front);
    if (first == std::string::npos || last == first) return false;
    if (seen.substr(first, last - first + 1).find(back) != std::string::npos) return false;
    // Something lies before the strand to each neighbour; at the ends of the row it comes from elsewhere.
    const auto picked = [&](EntryId e) {
        return e && f_.isLoop(e) && f_[e].firstLink && f_[f_[e].firstLink].form.part != Part::opening;
    };
    const auto meets = [&](const std::string& text, bool atStart) {
        return !text.empty() && (atStart ? text.front() : text.back()) == back;
    };
    const EntryId prev = f_[loop].prev;
    const EntryId next = f_[loop].next;
    const bool before = !picked(prev) || meets(seen, true) || meets(pickedUp(prev), false);
    const bool after = !picked(next) || meets(seen, false) || meets(pickedUp(next), true);
    const std::string legs = along(loop, f_[link].host);
    return before && after && std::count(legs.begin(), legs.end(), front) >= 2;
}

std::string Weave::itself(EntryId entry) const {
    std::string text;
    for (const Met& m : met_) {
        if (m.over != entry || m.under != entry) continue;
        const auto& points = path_.strands[static_cast<std::size_t>(m.crossing->over.strand)].points;
        const auto i = static_cast<std::size_t>(m.crossing->over.at);
        const Point3 way = points[i + 1].at - points[i].at;
        text += way.x * way.y > 0 ? '/' : '\\';
    }
    return text;
}

std::string Weave::withTool(EntryId entry, ToolId tool) const {
    std::vector<std::pair<double, char>> list;
    for (const Met& m : met_) {
        const bool toolUnder = path_.strands[static_cast<std::size_t>(m.crossing->under.strand)].tool == tool;
        const bool toolOver = path_.strands[static_cast<std::size_t>(m.crossing->over.strand)].tool == tool;
        if (m.over == entry && toolUnder) list.emplace_back(m.crossing->over.at, 'O');
        if (m.under == entry && toolOver) list.emplace_back(m.crossing->under.at, 'U');
    }
    std::sort(list.begin(), list.end());
    std::string text;
    for (const auto& [at, what] : list) text += what;
    return text;
}

bool Weave::plainNeighbour(LoopId loop, EntryId beside) const {
    if (!beside) return true;
    if (!f_.isLoop(beside)) {
        // From a strand far below, as at the turn of a short row, the foot comes up behind its host.
        const double rise = layout_[loop].frame.at.y - layout_[beside].frame.at.y;
        return std::abs(rise) < 0.7 * layout_.gauge.rowMm;
    }
    for (LinkId l = f_[loop].firstLink; l; l = f_[l].nextInLoop) {
        for (LinkId k = f_[f_[l].host].firstKid; k; k = f_[k].nextInHost) {
            // The strand to one that is drawn to the other face goes over the head they share.
            if (f_[k].loop == beside) return f_[k].form.side != f_[l].form.side;
        }
    }
    return true;
}

bool Weave::asPlanned(LinkId link, const std::string& seen) const {
    const LoopId loop = f_[link].loop;
    const std::string plan = planned(sideShown(link));
    if (seen == plan) return true;
    const bool first = plainNeighbour(loop, f_[loop].prev);
    const bool last = plainNeighbour(loop, f_[loop].next);
    if (!first && seen == plan.substr(1)) return true;
    if (!last && seen == plan.substr(0, 3)) return true;
    return !first && !last && seen == plan.substr(1, 2);
}

Side Weave::sideShown(LinkId link) const {
    const Side side = f_[link].form.side;
    const bool turned = !layout_.fold.empty() && layout_.fold.turns(layout_[f_[link].host].frame.at);
    return turned ? opposite(side) : side;
}

std::vector<std::string> Weave::wrongLinks() const {
    std::vector<std::string> wrong;
    for (std::int32_t i = 0; i < f_.entryCount(); ++i) {
        const EntryId loop{i};
        if (!f_.has(loop) || !f_.isLoop(loop) || !layout_[loop].placed) continue;
        for (LinkId l = f_[loop].firstLink; l; l = f_[l].nextInLoop) {
            if (f_[l].form.part != Part::opening) {
                if (!hooks(l))
                    wrong.push_back(
                        fmt::format("loop {} (row {}) does not hook under {} (row {}): {}, of it {}", i,
                                    layout_.row(loop), f_[l].host.value, layout_.row(f_[l].host),
                                    pickedUp(loop), along(loop, f_[l].host)));
                continue;
            }
            // A foot that comes from another height crosses the legs on its way.
            std::string seen;
            bool right = false;
            for (const double reach : {0.0, 0.5, 0.8}) {
                seen = along(loop, f_[l].host, reach);
                right = right || asPlanned(l, seen);
            }
            if (right) continue;
            wrong.push_back(fmt::format("loop {} (row {}) through {} (row {}): {} instead of {}", i,
                                        layout_.row(loop), f_[l].host.value, layout_.row(f_[l].host), seen,
                                        planned(sideShown(l))));
        }
    }
    return wrong;
}

}  // namespace loopmend
