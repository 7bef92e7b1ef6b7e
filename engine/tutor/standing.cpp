// SPDX-License-Identifier: MIT
#include "tutor/standing.h"

#include <algorithm>

#include "fabric/itinerary.h"
#include "fabric/joining.h"
#include "repair/builder.h"
#include "repair/uneven.h"
#include "tutor/detours.h"

namespace loopmend {

namespace {

/// The newest loop that hands made, if it still hangs free.
LoopId onTheHook(const Work& work) {
    const Fabric& f = work.fabric();
    for (std::size_t i = work.made().size(); i-- > 0;) {
        const LoopId made = work.made()[i];
        if (made) return f.has(made) && f.isLive(made) && f.isLoose(made) ? made : LoopId{};
    }
    return {};
}

/// What sits on the hook needs no pin.
void leaveOnHook(Plan& plan, LoopId loop) {
    const auto ofLoop = [&](const PlannedMove& m) {
        return (m.move.kind == MoveKind::pin || m.move.kind == MoveKind::unpin) &&
               m.move.loops.front() == loop;
    };
    const auto from = std::remove_if(plan.moves.begin(), plan.moves.end(), ofLoop);
    plan.moves.erase(from, plan.moves.end());
}

bool sameGoal(const Goal& a, const Goal& b) {
    return a.rows == b.rows && a.steps == b.steps;
}

std::size_t differences(const Pairing& p) {
    return p.missing.size() + p.extra.size() + p.changed.size() + p.missingPasses.size() +
           p.extraPasses.size();
}

void findWrong(const Fabric& meant, const Fabric& actual, Standing& standing) {
    const StitchPlaces places(actual);
    standing.wrong = standing.pairing.changed;
    standing.wrong.insert(standing.wrong.end(), standing.pairing.extra.begin(), standing.pairing.extra.end());
    // Arms that cross otherwise than meant, or do not.
    const auto add = [&](LoopId l) {
        if (l && std::find(standing.wrong.begin(), standing.wrong.end(), l) == standing.wrong.end())
            standing.wrong.push_back(l);
    };
    for (const CrossingId c : standing.pairing.extraCrossings) {
        add(actual[c].a);
        add(actual[c].b);
    }
    for (const CrossingId c : standing.pairing.missingCrossings) {
        add(standing.pairing.actual(meant[c].a));
        add(standing.pairing.actual(meant[c].b));
    }
    std::stable_sort(standing.wrong.begin(), standing.wrong.end(),
                     [&](LoopId a, LoopId b) { return places.of(a).row < places.of(b).row; });
    for (const LoopId m : standing.pairing.missing) {
        for (EntryId e = meant[m].prev; e; e = meant[e].prev) {
            if (!meant.isLoop(e)) continue;
            const LoopId before = standing.pairing.actual(e);
            if (!before) continue;
            if (std::find(standing.lacking.begin(), standing.lacking.end(), before) == standing.lacking.end())
                standing.lacking.push_back(before);
            break;
        }
    }
}

/// Nothing but sizes is wrong.
void findUneven(const Fabric& meant, const Fabric& actual, Standing& standing) {
    const Uneven uneven = unevenIn(meant, actual, standing.pairing);
    for (const LoopId l : uneven.loops) {
        (actual[l].um > meant[standing.pairing.meant(l)].um ? standing.larger : standing.smaller)
            .push_back(l);
        standing.wrong.push_back(l);
    }
    standing.unevenStrands = uneven.strands;
    standing.unevenFloats = uneven.floats;
}

/// The lowest row of a round that is twisted otherwise than meant.
std::vector<LoopId> woundEdge(const Fabric& meant, const Fabric& actual, const Pairing& pairing) {
    if (!otherTwist(meant, actual, pairing).last) return {};
    const StitchPlaces places(actual);
    for (const std::vector<LoopId>& row : places.rows())
        if (!row.empty()) return row;
    return {};
}

bool isFurtherEnd(const Swatch& swatch, const std::string& knot) {
    const std::vector<std::string>& ends = swatch.ends().knots;
    return std::find(ends.begin(), ends.end(), knot) != ends.end();
}

/// Loops that a step makes: a slip makes none.
int makesLoops(const Step& step) {
    switch (step.op) {
        case Op::slipPurlwiseBack:
        case Op::slipPurlwiseFront:
        case Op::slipKnitwiseBack:
        case Op::slipKnitwiseFront: return 0;
        default: return std::max(0, makes(step));
    }
}

/// What the cloth may be compared with.
std::vector<Goal> goalsFor(const Swatch& swatch, const Work& work, bool onlyWhereSheIs) {
    const Goal start{swatch.rows(), swatch.steps()};
    std::vector<Goal> goals = goalsWhereSheIs(swatch, work);
    // Rows taken back are still to be knitted.
    goals.erase(std::remove_if(goals.begin(), goals.end(),
                               [&](const Goal& g) {
                                   return g.rows < start.rows ||
                                          (g.rows == start.rows && g.steps < start.steps);
                               }),
                goals.end());
    const bool hasStart =
        std::any_of(goals.begin(), goals.end(), [&](const Goal& g) { return sameGoal(g, start); });
    if (!hasStart && (!onlyWhereSheIs || goals.empty())) goals.push_back(start);
    return goals;
}

}  // namespace

std::vector<LoopId> openLoops(const Fabric& f) {
    std::vector<LoopId> open;
    for (std::int32_t i = 0; i < f.entryCount(); ++i) {
        const LoopId l{i};
        if (f.has(l) && f.isLoop(l) && f.isLoose(l) && !f.isNothing(l) && f[l].flags.anchored == 0)
            open.push_back(l);
    }
    return open;
}

std::vector<Goal> goalsWhereSheIs(const Swatch& swatch, const Work& work) {
    const StitchPlaces places(work.fabric());
    const int last = places.lastRow();
    if (last > static_cast<int>(swatch.script().rows.size())) return {};
    if (last < 1) return {{0, 0}};
    const std::vector<Step>& steps = swatch.script().rows[static_cast<std::size_t>(last) - 1].steps;
    std::vector<Goal> goals;
    const auto after = [&](std::size_t done) {
        const Goal goal = done == steps.size() ? Goal{last, 0} : Goal{last - 1, static_cast<int>(done)};
        const bool known =
            std::any_of(goals.begin(), goals.end(), [&](const Goal& g) { return sameGoal(g, goal); });
        if (!known) goals.push_back(goal);
    };
    // In mid-row: after as many steps as leave the stitches that are left, or those and what fell off before
    // them.
    const int ahead = work.knitter().aheadCount();
    if (ahead == 0 || work.knitter().behind().empty()) {
        after(steps.size());
    } else {
        const int off = static_cast<int>(openLoops(work.fabric()).size());
        int left = swatch.script().castOn;
        for (int r = 0; r < last - 1; ++r) {
            for (const Step& step : swatch.script().rows[static_cast<std::size_t>(r)].steps)
                left += makes(step) - uses(step);
        }
        for (std::size_t i = 1; i <= steps.size(); ++i) {
            left -= uses(steps[i - 1]);
            if (left >= ahead && left <= ahead + std::min(off + 1, 2)) after(i);
        }
    }
    // Or, wherever the tips are, after as many as made the stitches that stand there.
    auto standing = static_cast<int>(places.rows()[static_cast<std::size_t>(last)].size());
    for (std::size_t i = 1; i <= steps.size() && standing > 0; ++i) {
        standing -= makesLoops(steps[i - 1]);
        if (standing == 0) after(i);
    }
    return goals;
}

std::vector<LoopId> drawnThrough(const Fabric& f, const std::vector<LoopId>& loops) {
    std::vector<LoopId> all;
    const auto add = [&](LoopId l) {
        if (std::find(all.begin(), all.end(), l) == all.end()) all.push_back(l);
    };
    for (const LoopId l : loops) add(l);
    for (std::size_t i = 0; i < all.size(); ++i) {
        for (LinkId k = f[all[i]].firstKid; k; k = f[k].nextInHost) add(f[k].loop);
    }
    return all;
}

std::optional<Goal> goalReached(const Swatch& swatch, const Work& work) {
    const std::string knot = knotOf(work.fabric());
    for (const Goal& goal : goalsFor(swatch, work, false)) {
        if (swatch.isAsMeant(work.fabric(), knot, goal.rows, goal.steps)) return goal;
    }
    if (isFurtherEnd(swatch, knot)) return Goal{swatch.rows(), swatch.steps()};
    // Turned in mid-row and back, a row may be counted as two: the cloth is held against each row.
    const int last =
        std::min(StitchPlaces(work.fabric()).lastRow(), static_cast<int>(swatch.script().rows.size()));
    for (int rows = swatch.rows() + (swatch.steps() > 0 ? 1 : 0); rows < last; ++rows) {
        if (swatch.isAsMeant(work.fabric(), knot, rows)) return Goal{rows, 0};
    }
    return std::nullopt;
}

Standing standingOf(const Swatch& swatch, Work& work, bool onlyWhereSheIs, bool ways) {
    const std::vector<Goal> goals = goalsFor(swatch, work, onlyWhereSheIs);
    Standing standing;
    if (const std::optional<Goal> reached = goalReached(swatch, work)) {
        standing.goal = *reached;
        standing.asMeant = true;
        standing.shows = isFurtherEnd(swatch, knotOf(work.fabric()));
        standing.pairing = pairUp(swatch.meantAt(reached->rows, reached->steps), work.fabric());
        return standing;
    }
    bool first = true;
    for (const Goal& goal : goals) {
        const Fabric& meant = swatch.meantAt(goal.rows, goal.steps);
        Pairing pairing = pairUp(meant, work.fabric());
        std::vector<Plan> plans;
        if (ways) {
            plans = waysHome(meant, swatch.scriptTo(goal.rows, goal.steps), work.knitter(), swatch.ends());
            // What was knitted on is taken back only to come to where the lesson began.
            if (!swatch.ends().sizes &&
                (goals.size() == 1 || sameGoal(goal, {swatch.rows(), swatch.steps()})))
                addDetours(swatch, work, goal, pairing, plans);
        }
        bool better = first;
        if (!first && plans.empty() == standing.plans.empty()) {
            better = plans.empty() ? differences(pairing) < differences(standing.pairing)
                                   : costOf(plans.front()) < costOf(standing.plans.front());
        } else if (!first) {
            better = !plans.empty();
        }
        if (better) {
            standing.goal = goal;
            standing.pairing = std::move(pairing);
            standing.plans = std::move(plans);
        }
        first = false;
    }
    standing.open = openLoops(work.fabric());
    standing.onHook = onTheHook(work);
    if (standing.onHook) {
        standing.open.erase(std::remove(standing.open.begin(), standing.open.end(), standing.onHook),
                            standing.open.end());
        for (Plan& plan : standing.plans) leaveOnHook(plan, standing.onHook);
    }
    const Fabric& meant = swatch.meantAt(standing.goal.rows, standing.goal.steps);
    if (swatch.ends().sizes && standing.pairing.agrees())
        findUneven(meant, work.fabric(), standing);
    else
        findWrong(meant, work.fabric(), standing);
    standing.wound = woundEdge(meant, work.fabric(), standing.pairing);
    return standing;
}

}  // namespace loopmend
