// SPDX-License-Identifier: MIT
// Edges, and stitches drawn up along them.
#include <algorithm>

#include "fabric/knitter.h"

namespace loopmend {

namespace {

/// Drawn through the stitch that the same yarn made just before, going the same way: a chain, as in a
/// bind-off or a knitted cast-on.
bool isChainLink(const Fabric& f, LinkId link) {
    const LoopId loop = f[link].loop;
    return f.loopBefore(loop) == f[link].host && f.run(f[link].host) == f.run(loop);
}

bool hasChainLink(const Fabric& f, LoopId loop) {
    for (LinkId l = f[loop].firstLink; l; l = f[l].nextInLoop) {
        if (isChainLink(f, l)) return true;
    }
    return false;
}

LoopId loopAfter(const Fabric& f, LoopId loop) {
    EntryId e = f[loop].next;
    while (e && !f.isLoop(e)) e = f[e].next;
    return e;
}

bool pickedUp(const Fabric& f, LoopId loop) {
    const LinkId link = f[loop].firstLink;
    return link && f[link].form.part != Part::opening;
}

}  // namespace

Result<LoopId> Knitter::pickUp(LoopId edge, Part part, Side toward) {
    if (!fabric_->has(edge)) return refuse(Why::noSuchThing);
    if (!fabric_->isLoop(edge)) return refuse(Why::notALoop);
    if ((*fabric_)[yarn_].flags.ball == 0) return refuse(Why::noBall);
    const LoopId loop = *newLoop(ordinaryUm());
    LinkForm form;
    form.side = toward;
    form.part = part;
    const std::int32_t slot = part == Part::rightLeg ? 0 : part == Part::leftLeg ? -1 : forwardSlot();
    (void)fabric_->pull(loop, edge, form, slot);
    putOnRight(loop, mountOf(Mount::western));
    return loop;
}

Result<void> Knitter::pickUpAlong(const std::vector<LoopId>& edge, int n) {
    if (edge.empty()) return refuse(Why::noEdge);
    // At the side of the piece the leg that lies outside, elsewhere the one further on.
    const auto outerLeg = [&](LoopId loop) {
        const bool near = endsAtEdge(loop, true) && !endsAtEdge(loop, false);
        const Run toward = near ? opposite(run_) : run_;
        return toward == Run::leftward ? Part::leftLeg : Part::rightLeg;
    };
    return whole([&]() -> Result<void> {
        const auto size = static_cast<std::int64_t>(edge.size());
        std::size_t before = 0;
        for (std::int64_t i = 0; i < n; ++i) {
            const auto at = static_cast<std::size_t>((2 * i + 1) * size / (2 * std::int64_t{n}));
            // Twice into one gap would hold nothing: what lies between the two could be drawn out.
            const bool again = i > 0 && at == before;
            const Result<LoopId> picked =
                pickUp(edge[at], again ? outerLeg(edge[at]) : Part::bothLegs, facing_);
            before = at;
            if (!picked) return tl::unexpected<Refusal>(picked.error());
        }
        return {};
    });
}

bool Knitter::endsAtEdge(LoopId loop, bool near) const {
    // There the yarn turned, or it has begun or ended there.
    const Run toward = near ? opposite(run_) : run_;
    const LoopId other = fabric_->run(loop) == toward ? loopAfter(*fabric_, loop) : fabric_->loopBefore(loop);
    return !other || fabric_->run(other) != fabric_->run(loop);
}

std::vector<LoopId> Knitter::edgeBelow(LoopId top, bool near) const {
    const Run toward = near ? opposite(run_) : run_;
    const auto host = [&](LoopId loop) {
        LinkId outermost;
        for (LinkId l = (*fabric_)[loop].firstLink; l; l = (*fabric_)[l].nextInLoop) {
            if (isChainLink(*fabric_, l)) continue;
            const auto place = (*fabric_)[l].form.place;
            if (!outermost || (toward == Run::leftward ? place > (*fabric_)[outermost].form.place
                                                       : place < (*fabric_)[outermost].form.place))
                outermost = l;
        }
        return outermost ? (*fabric_)[outermost].host : LoopId{};
    };
    std::vector<LoopId> edge;
    for (LoopId loop = host(top); loop && (*fabric_)[loop].firstLink && endsAtEdge(loop, near);
         loop = host(loop))
        edge.push_back(loop);
    return edge;
}

std::vector<LoopId> Knitter::sideEdge() const {
    const std::vector<LoopId> right = behind();
    const LoopId last = right.empty() ? LoopId{} : right.back();
    if (last && !pickedUp(*fabric_, last)) {
        std::vector<LoopId> edge = edgeBelow(last, false);
        if (!edge.empty()) return edge;
    }
    const std::vector<LoopId> left = ahead();
    const LoopId next = !left.empty() ? left.front() : round_ && !right.empty() ? right.front() : LoopId{};
    if (!next || next == last) return {};
    std::vector<LoopId> edge = edgeBelow(next, true);
    std::reverse(edge.begin(), edge.end());
    return edge;
}

std::vector<LoopId> Knitter::castOnEdge() const {
    std::vector<LoopId> edge;
    for (EntryId e = (*fabric_)[YarnId{0}].first; e; e = (*fabric_)[e].next) {
        if (!fabric_->isLoop(e)) continue;
        const bool knotted = (*fabric_)[e].flags.anchored != 0 && !(*fabric_)[e].firstLink;
        const bool chain = !edge.empty() && fabric_->linkCount(e) == 1 && hasChainLink(*fabric_, e);
        if (!knotted && !chain) break;
        edge.push_back(e);
    }
    // Upside down, what lay to the left comes first.
    if (!edge.empty() && fabric_->run(edge.front()) == run_) std::reverse(edge.begin(), edge.end());
    return edge;
}

std::vector<LoopId> Knitter::boundOffEdge() const {
    std::vector<LoopId> edge;
    for (std::int32_t y = fabric_->yarnCount(); y-- > 0 && edge.empty();) {
        for (EntryId e = (*fabric_)[YarnId{y}].last; e; e = (*fabric_)[e].prev) {
            if (!fabric_->isLoop(e)) continue;
            const bool chain = fabric_->linkCount(e) > 1 && hasChainLink(*fabric_, e);
            if (chain || !edge.empty()) {
                if (!fabric_->heldOn(e, fabric_->needle())) edge.push_back(e);
                if (!chain) break;
            }
        }
    }
    if (!edge.empty() && fabric_->run(edge.front()) == run_) std::reverse(edge.begin(), edge.end());
    return edge;
}

}  // namespace loopmend
