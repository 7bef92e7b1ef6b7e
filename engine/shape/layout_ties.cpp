// SPDX-License-Identifier: MIT
#include "shape/layout_ties.h"

#include <cstdlib>

namespace loopmend {

bool LayoutTies::chained(LoopId loop, LoopId host) const {
    return columns_.row(loop) == columns_.row(host) || has(columns_.besideHost, loop);
}

bool LayoutTies::endsChain(LoopId loop) const {
    if (has(columns_.besideHost, loop)) return false;
    for (LinkId l = f_[loop].firstLink; l; l = f_[l].nextInLoop) {
        if (chained(loop, f_[l].host)) return true;
    }
    return false;
}

bool LayoutTies::standsAbove(LinkId link) const {
    const LoopId loop = f_[link].loop;
    return f_[link].form.part == Part::opening && !has(columns_.besideHost, loop) &&
           !columns_.copies[static_cast<std::size_t>(loop.value)];
}

int LayoutTies::kidsAbove(LoopId host) const {
    int kids = 0;
    for (LinkId k = f_[host].firstKid; k; k = f_[k].nextInHost) kids += standsAbove(k) ? 1 : 0;
    return kids;
}

bool LayoutTies::beginsCastOn(LoopId loop) const {
    if (!f_[loop].firstLink || has(columns_.besideHost, loop)) return false;
    for (LinkId k = f_[loop].firstKid; k; k = f_[k].nextInHost) {
        if (has(columns_.besideHost, f_[k].loop)) return true;
    }
    return false;
}

bool LayoutTies::goesThrough(EntryId loop, EntryId host) const {
    if (!f_.isLoop(loop) || !f_.isLoop(host)) return false;
    for (LinkId l = f_[loop].firstLink; l; l = f_[l].nextInLoop) {
        if (f_[l].host == host) return true;
    }
    return false;
}

bool LayoutTies::standsByCastOn(EntryId e) const {
    for (LinkId l = f_.isLoop(e) ? f_[e].firstLink : LinkId{}; l; l = f_[l].nextInLoop) {
        if (!chained(e, f_[l].host) && beginsCastOn(f_[l].host)) return true;
    }
    return false;
}

bool LayoutTies::castOnBeside(EntryId a, EntryId b) const {
    return (has(columns_.besideHost, a) && goesThrough(a, b)) ||
           (has(columns_.besideHost, b) && goesThrough(b, a));
}

bool LayoutTies::boundOffTogether(EntryId a, EntryId b) const {
    return columns_.row(a) == columns_.row(b) && !castOnBeside(a, b) &&
           (goesThrough(a, b) || goesThrough(b, a));
}

bool LayoutTies::sameLevel(EntryId a, EntryId b) const {
    return std::abs(columns_.row(a) - columns_.row(b)) <= 1;
}

/// Of what stands on a loop, one of the lowest row.
LoopId LayoutTies::standingOn(EntryId e) const {
    LoopId lowest;
    for (LinkId k = f_.isLoop(e) ? f_[e].firstKid : LinkId{}; k; k = f_[k].nextInHost) {
        const LoopId kid = f_[k].loop;
        if (!chained(kid, e) && (!lowest || columns_.row(kid) < columns_.row(lowest))) lowest = kid;
    }
    return lowest;
}

LoopId LayoutTies::standingOnWhat(EntryId e) const {
    LoopId highest;
    for (LinkId l = f_.isLoop(e) ? f_[e].firstLink : LinkId{}; l; l = f_[l].nextInLoop) {
        const LoopId host = f_[l].host;
        if (!chained(e, host) && (!highest || columns_.row(host) > columns_.row(highest))) highest = host;
    }
    return highest;
}

bool LayoutTies::goOnTogether(EntryId a, EntryId b) const {
    const auto together = [&](LoopId one, LoopId other) { return !one || !other || sameLevel(one, other); };
    return together(standingOn(a), standingOn(b)) && together(standingOnWhat(a), standingOnWhat(b));
}

}  // namespace loopmend
