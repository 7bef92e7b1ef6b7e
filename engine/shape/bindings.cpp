// SPDX-License-Identifier: MIT
#include "shape/bindings.h"

#include <algorithm>
#include <cmath>

namespace loopmend {

namespace {

/// In stitch widths: hosts that lie together are drawn a little apart, so that each can be seen.
constexpr double kSpread = 0.09;
/// And the one behind is drawn so much wider than the one in front of it.
constexpr double kNested = 0.12;
/// A further loop through a head that something went through a row earlier stands beside it.
constexpr double kBeside = 0.48;
/// What covers a stitch comes out so much lower.
constexpr double kCovers = 0.1;

}  // namespace

Bindings::Bindings(const Fabric& fabric, const Layout& layout) : f_(fabric), layout_(layout) {
    const auto n = static_cast<std::size_t>(fabric.entryCount());
    layers_.assign(n, 0);
    std::vector<int> over(n, 0);  // how many lie one under the other behind the loop
    std::vector<int> under(n, 0);
    for (bool moved = true; moved;) {
        moved = false;
        for (std::int32_t i = 0; i < fabric.crossingCount(); ++i) {
            const Crossing& x = fabric[CrossingId{i}];
            if (x.sign == 0) continue;
            const auto front = static_cast<std::size_t>((x.sign > 0 ? x.b : x.a).value);
            const auto back = static_cast<std::size_t>((x.sign > 0 ? x.a : x.b).value);
            if (over[front] > fabric.crossingCount() || under[back] > fabric.crossingCount()) continue;
            if (over[front] <= over[back]) {
                over[front] = over[back] + 1;
                moved = true;
            }
            if (under[back] <= under[front]) {
                under[back] = under[front] + 1;
                moved = true;
            }
        }
    }
    for (std::size_t i = 0; i < n; ++i) layers_[i] = over[i] - under[i];
}

bool Bindings::isChain(LinkId link) const {
    const LoopId loop = f_[link].loop;
    return besideItsHost(loop) || layout_.row(loop) == layout_.row(f_[link].host);
}

/// Something went through the host in an earlier row.
bool Bindings::isLater(LinkId link) const {
    const LoopId host = f_[link].host;
    if (f_[host].firstKid == f_[host].lastKid) return false;
    const std::int32_t row = layout_.row(f_[link].loop);
    for (LinkId k = f_[host].firstKid; k; k = f_[k].nextInHost) {
        if (!isChain(k) && layout_.row(f_[k].loop) < row) return true;
    }
    return false;
}

bool Bindings::besideItsHost(LoopId loop) const {
    return f_[loop].firstLink && layout_.columns.besideHost[static_cast<std::size_t>(loop.value)];
}

bool Bindings::endsChain(LoopId loop) const {
    if (besideItsHost(loop)) return false;
    bool chained = false;
    for (LinkId l = f_[loop].firstLink; l; l = f_[l].nextInLoop) chained = chained || isChain(l);
    if (!chained || f_[loop].flags.anchored != 0) return false;
    for (LinkId k = f_[loop].firstKid; k; k = f_[k].nextInHost) {
        if (isChain(k) && !besideItsHost(f_[k].loop)) return false;
    }
    return true;
}

bool Bindings::isLifted(LoopId loop) const {
    const LinkId link = f_[loop].firstLink;
    if (!link || f_[link].form.part != Part::opening) return false;
    const LoopId host = f_[link].host;
    if (layout_.row(loop) - layout_.row(host) < 2) return false;
    for (LinkId k = f_[host].firstKid; k; k = f_[k].nextInHost) {
        if (!isChain(k) && layout_.row(f_[k].loop) < layout_.row(loop)) return true;
    }
    return false;
}

bool Bindings::isUnderLegs(LoopId loop) const {
    const LinkId link = f_[loop].firstLink;
    return link && f_[link].form.part != Part::opening;
}

bool Bindings::growsAside(LoopId loop) const {
    return isUnderLegs(loop) &&
           std::abs(dot(layout_[loop].frame.up, layout_[f_[f_[loop].firstLink].host].frame.right)) > 0.7;
}

double Bindings::betweenSiblings(LoopId loop) const {
    if (f_[loop].firstLink || f_[loop].flags.anchored != 0) return 0;
    const EntryId before = f_[loop].prev;
    const EntryId after = f_[loop].next;
    if (!before || !after || !f_.isLoop(before) || !f_.isLoop(after)) return 0;
    for (LinkId l = f_[before].firstLink; l; l = f_[l].nextInLoop) {
        for (LinkId k = f_[after].firstLink; k; k = f_[k].nextInLoop) {
            if (f_[k].host == f_[l].host) return f_[l].form.side == Side::right ? 1 : -1;
        }
    }
    return 0;
}

Frame Bindings::frameOf(LinkId link) const {
    const double w = layout_.gauge.stitchMm;
    const double h = layout_.gauge.rowMm;
    const LoopId loop = f_[link].loop;
    const LoopId host = f_[link].host;
    const LoopId covered = layout_.columns.copies[static_cast<std::size_t>(loop.value)];
    Frame frame = layout_[covered ? covered : loop].frame;
    if (isChain(link) && endsChain(loop)) {
        frame.at = frame.at + frame.up * (kChainRise * h);
        return frame;
    }
    if (isChain(link)) {
        const Point2 ahead = f_.run(loop) == Run::leftward ? frame.right * -1 : frame.right;
        const Point2 up = ahead;
        return {frame.at + frame.up * (1.2 * h) + ahead * (0.12 * w), rightOf(up), up};
    }
    if (f_[link].form.part != Part::opening || !isLater(link)) return frame;
    LinkId first;
    std::int32_t lowest = 0;
    bool mineIsRight = true;
    bool passed = false;
    for (LinkId k = f_[host].firstKid; k; k = f_[k].nextInHost) {
        if (k == link) {
            passed = true;
            continue;
        }
        const std::int32_t row = layout_.row(f_[k].loop);
        if (isChain(k) || (first && row >= lowest)) continue;
        first = k;
        lowest = row;
        mineIsRight = passed;
    }
    if (!first) return frame;
    frame = layout_[f_[first].loop].frame;
    frame.at = frame.at + frame.right * ((mineIsRight ? kBeside : -kBeside) * w);
    return frame;
}

Frame Bindings::underEdge(LinkId link) const {
    const double w = layout_.gauge.stitchMm;
    const double h = layout_.gauge.rowMm;
    const LoopId host = f_[link].host;
    const Frame& at = layout_[host].frame;
    Frame frame = layout_[f_[link].loop].frame;
    const double aside = dot(frame.up, at.right);
    if (std::abs(aside) < 0.7) return frame;
    // The gap beside the inner leg, between the strands of two rows; under the outer leg alone: the opening.
    const Part outer = aside > 0 ? Part::rightLeg : Part::leftLeg;
    const bool opening = f_[link].form.part == outer;
    const double in = opening ? 0.0 : 0.5;
    const double below = opening ? 0.05 : 0.33;
    double rise = h;
    if (layout_.columns.slips[static_cast<std::size_t>(host.value)] > 0) {
        rise = 0.85 * h;
    } else if (f_[host].firstKid) {
        const LinkId kid = f_[host].firstKid;
        if (f_[kid].form.part == Part::opening)
            rise = std::clamp(dot(layout_[f_[kid].loop].frame.at - at.at, at.up), 0.5 * h, 1.3 * h);
    }
    const Point2 gap = at.point((aside > 0 ? -in : in) * w, 0.5 * rise - below * w);
    frame.at = gap + frame.up * (0.25 * w);
    return frame;
}

Frame Bindings::foot(LoopId loop) const {
    if (isCopy(loop)) {
        Frame frame = foot(layout_.columns.copies[static_cast<std::size_t>(loop.value)]);
        frame.at = frame.at - frame.up * (kCovers * layout_.gauge.stitchMm);
        return frame;
    }
    if (const LinkId link = f_[loop].firstLink; link && f_[link].form.part != Part::opening)
        return underEdge(link);
    // Where an ordinary host is, there it stands; a chain lies higher on its legs.
    LinkId any;
    for (LinkId l = f_[loop].firstLink; l; l = f_[l].nextInLoop) {
        if (isChain(l) || layout_.columns.behind[static_cast<std::size_t>(loop.value)] == f_[l].host)
            continue;
        if (!isLater(l)) return frameOf(l);
        any = l;
    }
    return any ? frameOf(any) : layout_[loop].frame;
}

Binding Bindings::of(LinkId link) const {
    Binding b;
    const Link& l = f_[link];
    b.link = link;
    b.frame = frameOf(link);
    b.side = l.form.side == Side::right ? 1 : -1;
    b.twist = l.form.twist;
    b.chain = isChain(link);
    const double yarn = layout_.gauge.yarnMm;
    b.stack = yarn * layer(l.host);
    const LoopId behind = layout_.columns.behind[static_cast<std::size_t>(l.loop.value)];
    if (behind == l.host && !layout_.fold.empty()) {
        b.frame = layout_.fold.mirrored(b.frame);
        b.behind = true;
    }
    if (f_[l.loop].firstLink == f_[l.loop].lastLink || b.chain || b.behind) return b;
    int count = 0;
    int order = 0;
    int place = 0;
    const bool later = isLater(link);
    for (LinkId k = f_[l.loop].firstLink; k; k = f_[k].nextInLoop) {
        if (k == link) order = count;
        if (isChain(k) || isLater(k) != later || (f_[k].host == behind && !layout_.fold.empty())) continue;
        if (f_[k].form.place < l.form.place) ++place;
        ++count;
    }
    const double middle = 0.5 * (count - 1);
    b.stack += yarn * b.side * (order - middle);
    b.wide = 1 - kNested * (order - middle);
    b.shift = kSpread * layout_.gauge.stitchMm * (middle - place);
    return b;
}

std::vector<Binding> Bindings::through(LoopId host) const {
    std::vector<Binding> all;
    for (LinkId k = f_[host].firstKid; k; k = f_[k].nextInHost) {
        const LoopId loop = f_[k].loop;
        // The head goes round what is covered and its cover alike.
        if (f_[k].form.part != Part::opening || besideItsHost(loop) || isCopy(loop)) continue;
        all.push_back(of(k));
    }
    return all;
}

}  // namespace loopmend
