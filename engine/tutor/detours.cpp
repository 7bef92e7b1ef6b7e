// SPDX-License-Identifier: MIT
#include "tutor/detours.h"

#include <algorithm>
#include <optional>

#include "fabric/itinerary.h"
#include "repair/builder.h"
#include "repair/workplace.h"

namespace loopmend {

namespace {

/// What is done before the plan.
struct Beginning {
    std::vector<PlannedMove> moves;
    double seconds = 0;
    std::optional<PlanFamily> family;  ///< that it gives to the whole; none: the plan's
};

bool contains(const std::vector<LoopId>& loops, LoopId l) {
    return std::find(loops.begin(), loops.end(), l) != loops.end();
}

const Plan& cheapest(const std::vector<Plan>& plans) {
    return *std::min_element(plans.begin(), plans.end(),
                             [](const Plan& a, const Plan& b) { return costOf(a) < costOf(b); });
}

class Beginnings {
  public:
    Beginnings(const Swatch& swatch, Work& work, const Pairing& pairing)
        : swatch_(swatch), work_(work), pairing_(pairing), last_(StitchPlaces(work.fabric()).lastRow()) {}

    std::vector<Beginning> all() {
        takeBack();
        finishRow();
        mendBelow();
        return std::move(found_);
    }

    /// Where no way is known: the pins out, and then as many rows back as it takes.
    std::vector<Beginning> backToSoundRows() {
        const Fabric& f = work_.fabric();
        Beginning unpinned;
        for (std::int32_t i = 0; i < f.entryCount(); ++i) {
            const LoopId l{i};
            if (!f.has(l) || !f.isLoop(l) || !pinOf(f, l)) continue;
            Move unpin;
            unpin.kind = MoveKind::unpin;
            unpin.loops = {l};
            unpinned.moves.push_back({std::move(unpin), last_, 0, 0, {}});
            unpinned.seconds += pace_.otherMoveSeconds;
        }
        std::vector<Beginning> ways;
        if (!unpinned.moves.empty()) ways.push_back(unpinned);
        for (int rows = 1; rows <= last_; ++rows) {
            rip(rows);
            Beginning& back = found_.back();
            back.moves.insert(back.moves.begin(), unpinned.moves.begin(), unpinned.moves.end());
            back.seconds += unpinned.seconds;
            ways.push_back(std::move(back));
            found_.pop_back();
        }
        return ways;
    }

  private:
    void add(Move move, double seconds) {
        Beginning beginning;
        beginning.moves.push_back({std::move(move), last_, 0, 0, {}});
        beginning.seconds = seconds;
        found_.push_back(std::move(beginning));
    }

    void tink(std::size_t count) {
        Move move;
        move.kind = MoveKind::tink;
        move.count = static_cast<int>(count);
        add(std::move(move), static_cast<double>(count) * pace_.tinkFactor * pace_.secondsPerStitch);
    }

    void rip(int rows) {
        const auto width = static_cast<double>(work_.knitter().aheadCount() +
                                               static_cast<int>(work_.knitter().behind().size()));
        Move move;
        move.kind = MoveKind::rip;
        move.count = rows;
        add(std::move(move),
            rows * width * pace_.ripSecondsPerStitch + width * pace_.seatFactor * pace_.secondsPerStitch);
    }

    /// What was worked on over a mistake, or is one.
    void takeBack() {
        const bool wrongThere = !pairing_.extra.empty() || !pairing_.changed.empty();
        const std::vector<LoopId> behind = work_.knitter().behind();
        if (work_.knitter().rowBegun() && wrongThere && !behind.empty()) {
            tink(behind.size());
            const auto wrong = std::find_if(behind.begin(), behind.end(), [&](LoopId l) {
                return contains(pairing_.changed, l) || contains(pairing_.extra, l);
            });
            if (wrong != behind.begin() && wrong != behind.end())
                tink(static_cast<std::size_t>(behind.end() - wrong));
        }
        constexpr int kMostRows = 3;
        const int over = last_ - swatch_.rows();
        for (int rows = 1; rows <= std::min(over, kMostRows); ++rows) rip(rows);
        if (over <= 0 && wrongThere) rip(1);
    }

    void finishRow() {
        const Knitter& knitter = work_.knitter();
        if (!knitter.rowBegun() || knitter.aheadCount() == 0) return;
        for (const Goal& goal : goalsWhereSheIs(swatch_, work_)) {
            if (goal.steps == 0 || goal.rows >= static_cast<int>(swatch_.script().rows.size())) continue;
            const std::vector<Step>& steps = swatch_.script().rows[static_cast<std::size_t>(goal.rows)].steps;
            Move move;
            move.kind = MoveKind::work;
            int left = knitter.aheadCount();
            for (auto i = static_cast<std::size_t>(goal.steps); i < steps.size(); ++i) {
                if (uses(steps[i]) > left) break;
                left -= uses(steps[i]);
                move.steps.push_back(steps[i]);
            }
            const auto count = static_cast<double>(move.steps.size());
            if (left == 0 && !move.steps.empty()) add(std::move(move), count * pace_.secondsPerStitch);
        }
    }

    void mendBelow() {
        for (const Goal& goal : goalsWhereSheIs(swatch_, work_)) {
            if (goal.rows >= swatch_.rows()) continue;
            const std::vector<Plan> plans =
                plansFor(swatch_.meantAt(goal.rows, goal.steps), swatch_.scriptTo(goal.rows, goal.steps),
                         work_.knitter());
            if (plans.empty()) continue;
            const Plan& best = cheapest(plans);
            found_.push_back({best.moves, costOf(best), best.family});
        }
    }

    const Swatch& swatch_;
    Work& work_;
    const Pairing& pairing_;
    Pace pace_;
    int last_;
    std::vector<Beginning> found_;
};

}  // namespace

double costOf(const Plan& plan) {
    constexpr double kTight = 120;
    constexpr double kVisible = 600;
    switch (plan.leaves) {
        case Leaves::exact: return plan.seconds;
        case Leaves::tight: return plan.seconds + kTight;
        case Leaves::visible: return plan.seconds + kVisible;
        case Leaves::countOnly:
        case Leaves::nothingDone: break;
    }
    return plan.seconds + 2 * kVisible;
}

void addDetours(const Swatch& swatch, Work& work, const Goal& goal, const Pairing& pairing,
                std::vector<Plan>& plans) {
    const Fabric& meant = swatch.meantAt(goal.rows, goal.steps);
    Knitter& knitter = work.knitter();
    Beginnings beginnings(swatch, work, pairing);
    const auto tryOut = [&](const Beginning& beginning) {
        if (!plans.empty() && costOf(cheapest(plans)) <= beginning.seconds) return;
        const Knitter::State state = knitter.mark();
        Workplace hands(knitter);
        bool done = true;
        for (const PlannedMove& move : beginning.moves) done = done && hands.perform(move.move).has_value();
        Plan plan;
        plan.family = PlanFamily::tink;
        plan.proved = done && knotOf(knitter.fabric()) == swatch.knotAt(goal.rows, goal.steps);
        if (done && !plan.proved) {
            const std::vector<Plan> then = plansFor(meant, swatch.scriptTo(goal.rows, goal.steps), knitter);
            if (!then.empty()) plan = cheapest(then);
        }
        knitter.rollBack(state);
        if (!plan.proved) return;
        plan.seconds += beginning.seconds;
        if (beginning.family) plan.family = *beginning.family;
        if (!plans.empty() && costOf(plan) >= costOf(cheapest(plans))) return;
        plan.moves.insert(plan.moves.begin(), beginning.moves.begin(), beginning.moves.end());
        // One of a kind is enough: the cheapest.
        plans.erase(std::remove_if(plans.begin(), plans.end(),
                                   [&](const Plan& p) { return p.family == plan.family; }),
                    plans.end());
        plans.insert(plans.begin(), std::move(plan));
    };
    for (const Beginning& beginning : beginnings.all()) tryOut(beginning);
    if (!plans.empty()) return;
    for (const Beginning& beginning : beginnings.backToSoundRows()) {
        tryOut(beginning);
        if (!plans.empty()) return;
    }
}

}  // namespace loopmend
