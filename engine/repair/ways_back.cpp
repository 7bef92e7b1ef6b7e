// SPDX-License-Identifier: MIT
#include "repair/ways_back.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "fabric/itinerary.h"
#include "repair/anew.h"
#include "repair/count_fixes.h"
#include "repair/craft_plans.h"
#include "repair/planner.h"
#include "repair/sewn.h"
#include "repair/uneven.h"

namespace loopmend {

namespace {

bool isLive(const Plan& plan) {
    return plan.leaves == Leaves::exact || plan.leaves == Leaves::tight || plan.leaves == Leaves::visible;
}

std::string nameWords(const Plan& plan) {
    switch (plan.family) {
        case PlanFamily::column: return "Let the columns down and hook them up again";
        case PlanFamily::tink: return "Take the last stitches back one by one";
        case PlanFamily::rip:
            return std::any_of(plan.moves.begin(), plan.moves.end(),
                               [](const PlannedMove& m) { return m.move.kind == MoveKind::hook; })
                       ? "Take back some rows, and mend the rest by columns"
                       : "Take back whole rows and work them again";
        case PlanFamily::block: return "Work the panel up again on two spare needles";
        case PlanFamily::lifelineFirst: return "Thread a row that is right, then take back down to it";
        case PlanFamily::fudge: return "Leave it, and put the count right";
        case PlanFamily::duplicateOver: return "Sew the right stitch over it";
        case PlanFamily::snipAndGraft: return "Cut one row out and sew it anew";
        case PlanFamily::fasten: return "Sew the open stitch down";
        case PlanFamily::ease: return "Ease the slack along the row";
        case PlanFamily::wash: return "Wash it, and judge again";
        case PlanFamily::untwist: return "Turn the round at its join, so that it lies flat";
        case PlanFamily::sewIn: return "Sew the stitch in that slipped out, and join the yarn";
        case PlanFamily::startAgain: return "Start again";
        case PlanFamily::leave: return "Leave it as it is";
    }
    return {};
}

std::string afterWords(const Plan& plan, int tooMany) {
    if (!plan.proved && plan.leaves <= Leaves::tight)
        return fmt::format("It does not come out as meant: {}.", plan.reason);
    if (plan.family == PlanFamily::wash)
        return "What is only a little uneven finds its place in water; ease by hand what then still shows.";
    switch (plan.leaves) {
        case Leaves::exact: return "Nothing shows afterwards.";
        case Leaves::tight:
            return fmt::format("A little tight at first ({:.0f} mm of yarn short); washing evens it out.",
                               std::max(1.0, plan.shortageMm));
        case Leaves::visible: return "It will show a little to whoever looks for it.";
        case Leaves::countOnly: return "The count is right again; the place itself stays as it is.";
        case Leaves::nothingDone: break;
    }
    if (tooMany > 0) return fmt::format("It stays as it is, and every row has {} too many.", tooMany);
    if (tooMany < 0) return fmt::format("It stays as it is, and every row has {} too few.", -tooMany);
    return "It stays as it is: the count is right, the look not.";
}

void addCautions(Plan& plan, const Circumstances& circumstances, bool hangsOpen) {
    constexpr double kLong = 30 * 60;
    std::vector<Caution> first;
    if (hangsOpen || !plan.needsOnTool.empty())
        first.push_back({0, "Do not pull the work sideways while a stitch hangs open: it would run."});
    if (plan.family == PlanFamily::rip && plan.ripsTo > 0) {
        int rows = 0;
        for (const PlannedMove& m : plan.moves) rows += m.move.kind == MoveKind::rip ? m.move.count : 0;
        if (rows > 3)
            first.push_back(
                {0, "Before so many rows come out, thread a row below them first: then no stitch is lost."});
    }
    if (plan.seconds > kLong)
        first.push_back({0,
                         "It is long work: rest your hands every half hour, and stop if they tingle or hurt. "
                         "In daylight it goes better than at night."});
    if (circumstances.precious)
        first.push_back({0, "What cannot be made again is work for someone who mends for a living."});
    plan.cautions.insert(plan.cautions.begin(), first.begin(), first.end());
}

/// Nothing is better than exact, and a thing that shows costs as much as half of making it anew.
double costOf(const Plan& plan, double ripSeconds) {
    const double recover = plan.seconds + ripSeconds;
    const double looks = plan.leaves == Leaves::tight ? 0.05 : plan.leaves == Leaves::exact ? 0.0 : 0.5;
    return plan.seconds + plan.risk * recover + looks * ripSeconds;
}

std::string percent(double risk) {
    const long n = std::lround(risk * 100);
    return n < 1 ? "hardly anything can go wrong"
                 : fmt::format("in {} of a hundred times a stitch is lost", n);
}

void explain(WaysBack& ways) {
    const auto is = [](const std::optional<std::size_t>& chosen, std::size_t i) {
        return chosen && *chosen == i;
    };
    for (std::size_t i = 0; i < ways.all.size(); ++i) {
        WayBack& way = ways.all[i];
        const Plan& plan = way.plan;
        std::vector<std::string> reasons;
        if (is(ways.best, i))
            reasons.push_back(plan.leaves == Leaves::exact ? "nothing shows afterwards"
                                                           : "of all ways it leaves the least to see");
        if (is(ways.gentlest, i)) reasons.push_back("the least can go wrong: " + percent(plan.risk));
        if (is(ways.fastest, i)) reasons.push_back("it is the quickest: " + way.time);
        if (reasons.empty()) {
            if (plan.family == PlanFamily::leave)
                reasons.emplace_back("nothing can get worse by it");
            else if (plan.leaves == Leaves::exact)
                reasons.emplace_back("nothing shows afterwards");
            else
                reasons.push_back("it takes " + way.time);
        }
        std::string sentence;
        for (const std::string& r : reasons) sentence += (sentence.empty() ? "" : "; ") + r;
        sentence[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(sentence[0])));
        way.why = sentence + ".";
        if (is(ways.best, i) || !ways.best) continue;
        const Plan& best = ways.all[*ways.best].plan;
        if (plan.family == PlanFamily::wash) {
            way.whyNot = "It may show still when it is dry.";
        } else if (plan.leaves > best.leaves) {
            way.whyNot = plan.leaves == Leaves::tight       ? "It leaves a tight place."
                         : plan.leaves == Leaves::visible   ? "It can be seen afterwards."
                         : plan.leaves == Leaves::countOnly ? "The place itself stays wrong."
                                                            : "It does not go away by itself.";
        } else if (plan.seconds > 1.5 * best.seconds) {
            way.whyNot = fmt::format("It takes {:.0f} times as long",
                                     std::max(2.0, std::round(plan.seconds / std::max(1.0, best.seconds))));
            if (!plan.comesUndone.empty())
                way.whyNot += fmt::format(": {} stitches come undone", plan.comesUndone.size());
            way.whyNot += ".";
        } else if (plan.risk > best.risk) {
            way.whyNot = "More can go wrong: " + percent(plan.risk) + ".";
        } else {
            way.whyNot = "It takes a little longer.";
        }
    }
}

template <class Better>
std::optional<std::size_t> pick(const std::vector<WayBack>& all, bool onlyProved, Better better) {
    std::optional<std::size_t> chosen;
    for (std::size_t i = 0; i < all.size(); ++i) {
        if (all[i].plan.proved != onlyProved || all[i].plan.family == PlanFamily::leave) continue;
        if (!chosen || better(all[i], all[*chosen])) chosen = i;
    }
    return chosen;
}

void choose(WaysBack& ways) {
    const bool proved =
        std::any_of(ways.all.begin(), ways.all.end(), [](const WayBack& w) { return w.plan.proved; });
    ways.gentlest = pick(ways.all, proved, [](const WayBack& x, const WayBack& y) {
        return x.plan.risk != y.plan.risk ? x.plan.risk < y.plan.risk : x.plan.seconds < y.plan.seconds;
    });
    ways.fastest = pick(ways.all, proved,
                        [](const WayBack& x, const WayBack& y) { return x.plan.seconds < y.plan.seconds; });
    ways.best = pick(ways.all, proved, [](const WayBack& x, const WayBack& y) {
        return x.plan.leaves != y.plan.leaves ? x.plan.leaves < y.plan.leaves : x.cost < y.cost;
    });
    if (!ways.best && !ways.all.empty()) ways.best = 0;  // to leave it is all there is
}

}  // namespace

std::string timeInWords(double seconds) {
    const double minutes = seconds / 60;
    if (minutes < 1) return "less than a minute";
    if (minutes < 2) return "a minute or two";
    if (minutes < 8) return "a few minutes";
    if (minutes < 20) return "a quarter of an hour";
    if (minutes < 45) return "half an hour";
    if (minutes < 90) return "an hour";
    if (minutes < 240) return "an evening";
    if (minutes < 600) return "two or three evenings";
    return "many evenings";
}

const PlannedMove* WaysBack::hint() const {
    if (!best || all[*best].plan.moves.empty()) return nullptr;
    return &all[*best].plan.moves.front();
}

WaysBack waysBack(const Fabric& meant, const Script& script, Knitter& knitter, const PlanAsk& ask,
                  const Circumstances& circumstances) {
    WaysBack ways;
    Planner planner(meant, script, knitter, ask);
    std::vector<Plan> plans = planner.provable();
    plans.erase(std::remove_if(plans.begin(), plans.end(), [](const Plan& p) { return !p.carriedOut; }),
                plans.end());
    for (const Planner::Refused& r : planner.refused()) {
        if (!r.why.empty()) ways.refused.push_back({r.family, r.why});
    }
    std::vector<Plan> others;
    const auto add = [&](PlanFamily family, const Planner::Generator& make) {
        Planner::Tried tried = planner.tryOut(family, make);
        // Eased, the knot is what it was and was meant to be: that is its proof.
        if (tried.made && planner.sameKnot() && family != PlanFamily::leave) tried.plan.proved = true;
        if (tried.made) {
            (tried.plan.proved ? plans : others).push_back(std::move(tried.plan));
        } else if (!tried.plan.reason.empty()) {
            ways.refused.push_back({family, std::move(tried.plan.reason)});
        }
    };
    const bool uneven =
        planner.sameKnot() && !unevenIn(meant, knitter.fabric(), planner.situation().pairing).none();
    if (!planner.sameKnot()) {
        add(PlanFamily::fudge, planFudge);
        add(PlanFamily::fudge, planCloseYarnOver);
        add(PlanFamily::fasten, planFasten);
        add(PlanFamily::duplicateOver, planDuplicateOver);
        add(PlanFamily::snipAndGraft, planSnipAndGraft);
    } else if (uneven) {
        add(PlanFamily::ease, planEase);
        add(PlanFamily::rip, planRework);
        add(PlanFamily::wash, planWash);
    }
    if (!planner.sameKnot() || uneven) add(PlanFamily::leave, planLeave);
    const auto sort = [](std::vector<Plan>& list) {
        std::stable_sort(list.begin(), list.end(), [](const Plan& x, const Plan& y) {
            if (isLive(x) != isLive(y)) return isLive(x);
            if (!isLive(x) && x.leaves != y.leaves) return x.leaves < y.leaves;
            return x.seconds < y.seconds;
        });
    };
    sort(plans);
    sort(others);
    const bool open = hangsOpen(knitter.fabric());
    const int tooMany = stitchesTooMany(planner.situation(), knitter);
    for (std::vector<Plan>* list : {&plans, &others}) {
        for (Plan& plan : *list) {
            addCautions(plan, circumstances, open);
            WayBack way;
            way.name = nameWords(plan);
            way.time = timeInWords(plan.seconds);
            way.after = afterWords(plan, tooMany);
            way.repairs = repairsIn(plan, meant, knitter.fabric(), planner.situation().pairing);
            way.cost = costOf(plan, planner.situation().ripSeconds);
            way.plan = std::move(plan);
            ways.all.push_back(std::move(way));
        }
    }
    choose(ways);
    explain(ways);
    return ways;
}

Result<Fabric> fabricAfter(Knitter& knitter, const Plan& plan, std::size_t moves) {
    std::optional<Fabric> copy;
    const Result<void> done = previewOf(knitter, plan, moves, [&](const Fabric& f) { copy = f; });
    if (!done) return tl::unexpected<Refusal>(done.error());
    return std::move(*copy);
}

}  // namespace loopmend
