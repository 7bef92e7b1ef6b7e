// SPDX-License-Identifier: MIT
#include "shape/strand_ways.h"

#include <algorithm>
#include <cmath>

namespace loopmend {

namespace {

/// Neighbours stand at other heights if one is so much higher, in rows.
constexpr double kClimbs = 0.3;
/// So much farther in than the edge something else may stand beside it, in stitch widths.
constexpr double kInside = 0.7;

}  // namespace

std::vector<PathPoint> StrandWays::fromUnder(const StrandEnd& a, const StrandEnd& b) const {
    if (a.pass || b.pass || bindings_.isLifted(a.entry) == bindings_.isLifted(b.entry)) return {};
    const bool first = bindings_.isLifted(a.entry);
    const StrandEnd& under = first ? a : b;
    const StrandEnd& beside = first ? b : a;
    const LinkId link = f_[beside.entry].firstLink;
    if (!link) return {};
    std::vector<PathPoint> p;  // from the lifted loop to the other
    if (sharesHost(f_[link].host, under.entry)) {
        const double side = f_[link].form.side == Side::right ? 1 : -1;
        if (side * under.z < 0) return {};
        // The yarn goes from one face to the other above what both stand in, between their legs.
        const Frame& sibling = layout_[f_[link].host].frame;
        const double toward = dot(under.frame.at - sibling.at, sibling.right) > 0 ? 1 : -1;
        p = {{sibling.point(toward * 0.27 * m_.w, 0.12 * m_.w, side * 1.3 * m_.yarn), beside.entry},
             {sibling.point(toward * 0.31 * m_.w, 0.36 * m_.w, side * 1.1 * m_.yarn), beside.entry},
             {sibling.point(toward * 0.37 * m_.w, 0.46 * m_.w, -side * 1.1 * m_.yarn), beside.entry}};
    } else if (under.z * beside.z < 0) {
        // Only past the leg beside it.
        const double toward = dot(under.frame.at - beside.frame.at, beside.frame.right) > 0 ? 1 : -1;
        const Point3 past = beside.frame.point(toward * 0.5 * m_.w, -m_.yc - 0.9 * m_.ay, beside.z);
        const Point3 over = mix(past, under.frame.point(toward * -0.3 * m_.w, 0, under.z), 0.6);
        p = {{over, under.entry}, {past, beside.entry}};
    }
    if (!first) std::reverse(p.begin(), p.end());
    return p;
}

std::vector<PathPoint> StrandWays::overHead(const StrandEnd& a, const StrandEnd& b) const {
    if (a.pass || b.pass || layout_.row(a.entry) != layout_.row(b.entry)) return {};
    const LinkId one = f_[a.entry].firstLink;
    const LinkId other = f_[b.entry].firstLink;
    if (!one || !other || f_[one].host != f_[other].host || f_[one].form.side == f_[other].form.side)
        return {};
    if (f_[one].form.part != Part::opening || f_[other].form.part != Part::opening) return {};
    if (f_[one].form.twist != f_[other].form.twist) return {};
    const Frame middle{mix(a.frame.at, b.frame.at, 0.5), unit(a.frame.right + b.frame.right),
                       unit(a.frame.up + b.frame.up)};
    const double toward = dot(b.frame.at - a.frame.at, middle.right) > 0 ? 1 : -1;
    const double face = f_[other].form.side == Side::right ? -1 : 1;  // where b's feet lie
    const double low = -0.3 * m_.yc;
    const double over = m_.yc + 0.75 * m_.ay + 1.1 * m_.yarn;
    return {{middle.point(-toward * 0.07 * m_.w, low, -face * 1.2 * m_.yarn), a.entry},
            {middle.point(-toward * 0.05 * m_.w, over - 0.8 * m_.yarn, -face * 1.1 * m_.yarn), a.entry},
            {middle.point(toward * 0.05 * m_.w, over - 0.8 * m_.yarn, face * 1.1 * m_.yarn), b.entry},
            {middle.point(toward * 0.07 * m_.w, low, face * 1.2 * m_.yarn), b.entry}};
}

std::vector<PathPoint> StrandWays::upBehind(const StrandEnd& a, const StrandEnd& b) const {
    if (a.pass || b.pass || f_.yarnCount() < 2 || layout_.row(b.entry) - layout_.row(a.entry) < 2) return {};
    const double ahead = a.run == Run::leftward ? -1 : 1;
    const Point2 d = b.frame.at - a.frame.at;
    const bool above = dot(d, a.frame.up) > 1.2 * m_.h && std::abs(dot(d, a.frame.right)) < kInside * m_.w;
    if (!above) return {};
    // On the far side of what stands between the two, and over its head.
    const double behind = -2.2 * m_.yarn;
    const double low = -m_.yc - m_.ay;
    return {{a.frame.point(ahead * 0.5 * m_.w, low, a.z), a.entry},
            {a.frame.point(ahead * 0.8 * m_.w, 0.1 * m_.h, behind), a.entry},
            {b.frame.point(ahead * 0.7 * m_.w, 0, behind), a.entry},
            {b.frame.point(0, m_.yc + m_.ay + 0.6 * m_.yarn, behind), a.entry},
            {b.frame.point(-ahead * 0.5 * m_.w, 0, behind), a.entry},
            {b.frame.point(-ahead * 0.5 * m_.w, low, b.z), a.entry}};
}

bool StrandWays::dropsDown(const StrandEnd& a, const StrandEnd& b) const {
    if (a.pass || b.pass || dot(a.frame.at - b.frame.at, a.frame.up) < 1.2 * m_.h) return false;
    for (LinkId l = f_[b.entry].firstLink; l; l = f_[l].nextInLoop) {
        if (f_[l].host == a.entry) return true;
    }
    return false;
}

double StrandWays::siblingSide(LoopId loop) const {
    const LinkId mine = f_[loop].firstLink;
    double side = 1;
    bool passed = false;
    for (LinkId k = f_[f_[mine].host].firstKid; k; k = f_[k].nextInHost) {
        if (k == mine) passed = true;
        // Kids lie from right to left.
        if (k != mine && layout_.row(f_[k].loop) < layout_.row(loop)) side = passed ? -1 : 1;
    }
    return side;
}

bool StrandWays::sharesHost(LoopId one, LoopId other) const {
    for (LinkId l = f_[one].firstLink; l; l = f_[l].nextInLoop) {
        if (f_[l].host == f_[f_[other].firstLink].host) return true;
    }
    return false;
}

std::int32_t StrandWays::rowAlong(EntryId e, bool back) const {
    EntryId loop = e;
    while (loop && !f_.isLoop(loop) && f_.run(loop) == f_.run(e)) loop = back ? f_[loop].prev : f_[loop].next;
    return loop && f_.isLoop(loop) && f_.run(loop) == f_.run(e) ? layout_.row(loop) : layout_.row(e);
}

double StrandWays::rowUnder(EntryId e) const {
    if (!f_.isLoop(e) || !f_[e].firstLink) return m_.h;
    const Frame& host = layout_[f_[f_[e].firstLink].host].frame;
    return dot(layout_[e].frame.at - host.at, host.up);
}

bool StrandWays::holdsDepth(const StrandEnd& a, const StrandEnd& b) const {
    if (!f_.isLoop(a.entry) || !f_.isLoop(b.entry) || std::abs(a.z - b.z) < 0.8 * m_.yarn) return false;
    if (dot(a.frame.up, b.frame.up) < 0.75) return false;
    if (crosses(a.entry) || crosses(b.entry)) return true;
    const Point2 up = unit(a.frame.up + b.frame.up);
    return std::abs(dot(b.frame.at - a.frame.at, up)) > kClimbs * m_.h && isAlone(a.entry) &&
           isAlone(b.entry);
}

double StrandWays::underBoth(const StrandEnd& a, const StrandEnd& b) const {
    if (!holdsDepth(a, b) || !(crosses(a.entry) && crosses(b.entry))) return 0;
    const Side side = f_[f_[a.entry].firstLink].form.side;
    if (side != f_[f_[b.entry].firstLink].form.side) return 0;
    const Point2 up = unit(a.frame.up + b.frame.up);
    if (std::abs(dot(b.frame.at - a.frame.at, up)) < kClimbs * m_.h) return 0;
    return side == Side::right ? std::min(a.z, b.z) : std::max(a.z, b.z);
}

/// It stands on a loop that changes places with others.
bool StrandWays::crosses(LoopId loop) const {
    const LinkId link = f_[loop].firstLink;
    return link && bindings_.layer(f_[link].host) != 0;
}

/// One in one.
bool StrandWays::isAlone(LoopId loop) const {
    const LinkId link = f_[loop].firstLink;
    return link && f_.linkCount(loop) == 1 && f_.kidCount(f_[link].host) == 1;
}

Point2 StrandWays::endOfRow(const StrandEnd& to, Point2 out, double reach) const {
    if (f_.yarnCount() < 2 || to.pass || reach - dot(to.frame.at, out) < kInside * m_.w) return to.frame.at;
    EntryId outermost = to.entry;
    const bool rightward = dot(to.frame.right, out) > 0;
    for (EntryId e = outermost; e;) {
        e = rightward ? layout_[e].right : layout_[e].left;
        if (!e || !f_.isLoop(e) || layout_.row(e) != layout_.row(to.entry)) break;
        if (f_[e].yarn == f_[to.entry].yarn || dot(layout_[e].frame.at, out) > reach + kInside * m_.w) break;
        outermost = e;
    }
    return layout_[outermost].frame.at;
}

bool StrandWays::besideClimb(EntryId e) const {
    if (!f_.isLoop(e) || !f_[e].firstLink) return false;
    const LoopId host = f_[f_[e].firstLink].host;
    const EntryId next = f_[host].next;
    return next && f_.run(next) != f_.run(host) && layout_.row(next) > layout_.row(e);
}

bool StrandWays::leansOut(EntryId e, double way) const {
    const Frame& frame = layout_[e].frame;
    for (LinkId l = f_.isLoop(e) ? f_[e].firstLink : LinkId{}; l; l = f_[l].nextInLoop) {
        if (way * dot(layout_[f_[l].host].frame.at - frame.at, frame.right) > 0.8 * m_.w) return true;
    }
    return false;
}

bool StrandWays::isLongRung(PassId p) const {
    EntryId before = p;
    int marks = 0;
    while (before && !f_.isLoop(before)) {
        before = f_[before].prev;
        ++marks;
    }
    for (EntryId e = f_[p].next; e && !f_.isLoop(e); e = f_[e].next) ++marks;
    const std::int32_t strand = before ? f_[before].strandUm : f_[f_[p].yarn].leadUm;
    return strand > marks * (f_[f_[p].yarn].loopUm / 2);
}

}  // namespace loopmend
