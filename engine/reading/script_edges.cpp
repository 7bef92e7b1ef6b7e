// SPDX-License-Identifier: MIT
// Edges: what was cast on, and what was picked up.
#include "reading/script_reader.h"

#include <algorithm>

namespace loopmend {

void ScriptReader::readCastOn(const Course& course) {
    course_ = &course;
    for (const CourseItem& item : course.items) {
        if (item.what != CourseItem::What::loop) continue;
        ++out_.script.castOn;
        yarnIndex(f_[item.loop].yarn);
        if (!f_[item.loop].firstLink) {
            if (out_.castOn == CastOn::longTail) out_.castOn = CastOn::backward;
        } else if (c_.isKnittedOn(item.loop)) {
            out_.castOn = CastOn::knitted;
        }
    }
}

std::size_t ScriptReader::readCastOnLoop(LoopId loop) {
    if (f_[loop].firstLink) {
        add(Op::castOnKnitted, loop);
        return 1;
    }
    // Which way it was turned: it still sits so, or what stands on it does. A loop passed over its neighbour
    // does not tell.
    int turns = out_.mirrored ? 1 : -1;
    if (!f_[loop].firstKid && f_[loop].held) turns = f_[f_[loop].held].state.turns;
    for (LinkId k = f_[loop].firstKid; k; k = f_[k].nextInHost) {
        if (f_[k].form.part != Part::opening || isChainLink(f_, f_[k])) continue;
        turns = f_[k].form.twist;
        break;
    }
    if (out_.mirrored) turns = -turns;
    add(turns < 0 ? Op::castOn : Op::castOnRight, loop);
    return 1;
}

// ---- picked up
// --------------------------------------------------------------------------------------------------------

std::size_t ScriptReader::readPickedUp(std::size_t i) {
    std::vector<LoopId> hosts;
    std::size_t n = 0;
    for (; i + n < items_.size() && items_[i + n].what == CourseItem::What::loop; ++n) {
        const LoopId loop = items_[i + n].loop;
        const LinkId link = f_[loop].firstLink;
        // More than there are stitches in the edge: the second one in a stitch is under one leg of it.
        const bool again = link && !hosts.empty() && f_[link].host == hosts.back();
        const Part part = link ? f_[link].form.part : Part::opening;
        const bool fits =
            link && !f_[link].nextInLoop &&
            (again ? part == Part::leftLeg || part == Part::rightLeg : part == Part::bothLegs) &&
            f_[link].form.plies == Plies::whole && f_[link].form.twist == 0 &&
            f_[link].form.side == stance_.facing && f_[loop].yarn == f_[items_[i].loop].yarn;
        if (!fits) break;
        hosts.push_back(f_[link].host);
    }
    if (n == 0) return 0;
    Step step;
    step.op = Op::pickUp;
    const auto chained = [&](LoopId loop) {
        for (LinkId k = f_[loop].firstKid; k; k = f_[k].nextInHost) {
            if (isChainLink(f_, f_[k])) return !c_.isKnittedOn(f_[k].loop);
        }
        return f_[loop].flags.anchored != 0 && f_[loop].firstLink;
    };
    // Two edges may follow one another: the most that is spread evenly over one of them.
    std::size_t best = 0;
    for (std::size_t m = n; m > 0 && best == 0; --m) {
        for (const Edge edge : {Edge::boundOff, Edge::castOn, Edge::side}) {
            std::vector<LoopId> along;
            if (edge == Edge::boundOff) {
                if (!chained(hosts.front())) continue;
                along = boundOffEdge(hosts.front());
            } else if (edge == Edge::castOn) {
                if (c_.rows[hosts.front()] > 0) continue;
                along = castOnEdge();
            } else {
                along = sideEdge(i, i + m);
            }
            bool even = !along.empty();
            for (std::size_t k = 0; k < m && even; ++k)
                even = along[(2 * k + 1) * along.size() / (2 * m)] == hosts[k];
            if (!even) continue;
            step.edge = edge;
            best = m;
            break;
        }
    }
    if (best == 0) return 0;
    step.count = static_cast<std::int16_t>(best);
    add(step, items_[i].loop, false);
    stitch_ += static_cast<int>(best) - 1;
    return best;
}

std::vector<LoopId> ScriptReader::castOnEdge() const {
    std::vector<LoopId> edge;
    for (EntryId e = f_[YarnId{0}].first; e; e = f_[e].next) {
        if (!f_.isLoop(e)) continue;
        const bool knotted = f_[e].flags.anchored != 0 && !f_[e].firstLink;
        if (!knotted && !c_.isKnittedOn(e)) break;
        edge.push_back(e);
    }
    if (!edge.empty() && f_.run(edge.front()) == stance_.run) std::reverse(edge.begin(), edge.end());
    return edge;
}

std::vector<LoopId> ScriptReader::boundOffEdge(LoopId loop) const {
    const auto chains = [&](EntryId e) {
        if (!e || !f_.isLoop(e)) return false;
        for (LinkId l = f_[e].firstLink; l; l = f_[l].nextInLoop) {
            if (isChainLink(f_, f_[l]) && !c_.isKnittedOn(e)) return true;
        }
        return false;
    };
    EntryId last = loop;
    while (chains(f_[last].next)) last = f_[last].next;
    std::vector<LoopId> edge;
    for (EntryId e = last; e; e = f_[e].prev) {
        if (!f_.isLoop(e)) continue;
        // The loop that the chain left on the needle is no part of it.
        if (e != last || f_[e].flags.anchored != 0) edge.push_back(e);
        if (!chains(e)) break;
    }
    if (!edge.empty() && f_.run(edge.front()) == stance_.run) std::reverse(edge.begin(), edge.end());
    return edge;
}

bool ScriptReader::endsAtEdge(LoopId loop, bool near) const {
    const Run toward = near ? opposite(stance_.run) : stance_.run;
    EntryId other = loop;
    do other = f_.run(loop) == toward ? f_[other].next : f_[other].prev;
    while (other && !f_.isLoop(other));
    return !other || f_.run(other) != f_.run(loop);
}

std::vector<LoopId> ScriptReader::edgeBelow(LoopId top, bool near) const {
    const Run toward = near ? opposite(stance_.run) : stance_.run;
    const auto host = [&](LoopId loop) {
        LinkId outermost;
        for (LinkId l = f_[loop].firstLink; l; l = f_[l].nextInLoop) {
            if (isChainLink(f_, f_[l])) continue;
            const int place = f_[l].form.place;
            if (!outermost || (toward == Run::leftward ? place > f_[outermost].form.place
                                                       : place < f_[outermost].form.place))
                outermost = l;
        }
        return outermost ? f_[outermost].host : LoopId{};
    };
    std::vector<LoopId> edge;
    for (LoopId loop = host(top); loop && f_[loop].firstLink && endsAtEdge(loop, near); loop = host(loop))
        edge.push_back(loop);
    return edge;
}

std::vector<LoopId> ScriptReader::sideEdge(std::size_t from, std::size_t to) const {
    const LoopId last = from > 0 ? items_[from - 1].loop : lastMade_;
    const auto pickedUp = [&](LoopId loop) {
        const LinkId link = f_[loop].firstLink;
        return link && f_[link].form.part != Part::opening;
    };
    if (last && !pickedUp(last)) {
        std::vector<LoopId> edge = edgeBelow(last, false);
        if (!edge.empty()) return edge;
    }
    LoopId next;  // what the next stitch of the row stands on
    for (std::size_t j = to; j < items_.size() && !next; ++j) {
        if (items_[j].what == CourseItem::What::slip) next = items_[j].loop;
        if (items_[j].what != CourseItem::What::loop) continue;
        const Links links = linksOf(f_, c_, items_[j].loop, stance_);
        for (int k = 0; k < std::min(links.count, Links::kMost); ++k) {
            if (links.met[k].ahead == 0 && !links.underLeg) next = links.met[k].host;
        }
    }
    if (!next) next = firstOfRound_;
    if (!next || next == last) return {};
    std::vector<LoopId> edge = edgeBelow(next, true);
    std::reverse(edge.begin(), edge.end());
    return edge;
}

// ---- two pieces bound off together
// --------------------------------------------------------------------------------

std::size_t ScriptReader::readTogetherWithSpare(LoopId loop, const Links& links) {
    const bool exact = links.met[0].purl && !links.met[1].purl && links.met[0].ahead == 1 &&
                       links.met[0].turns == 0 && links.met[1].turns == 0 && !links.split &&
                       !links.underLeg && !sharedOrCrossed(links.met[0].host) &&
                       !sharedOrCrossed(links.met[1].host);
    if (!exact) unnamedStitch(loop);
    add(Op::bindOffTogether, loop, 1, links.passedOver);
    return 1;
}

}  // namespace loopmend
