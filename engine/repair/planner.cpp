// SPDX-License-Identifier: MIT
#include "repair/planner.h"

#include <algorithm>

#include "fabric/itinerary.h"
#include "repair/anew.h"
#include "repair/arms.h"
#include "repair/depths.h"
#include "repair/pair_by_place.h"
#include "repair/rejoin.h"
#include "repair/untwist.h"

namespace loopmend {

namespace {

/// Rows in which something is wrong, lowest first, each once.
std::vector<int> wrongRowsOf(const Fabric& meant, const Fabric& actual, const Pairing& p,
                             const StitchPlaces& meantSpots, const StitchPlaces& actualSpots) {
    std::vector<int> rows;
    const auto meet = [&](const StitchPlaces& spots, LoopId loop, int above) {
        const int row = spots.of(loop).row + above;
        if (row > 0) rows.push_back(row);
    };
    for (const LoopId m : p.missing) meet(meantSpots, m, 0);
    for (const LoopId a : p.extra) meet(actualSpots, a, 0);
    for (const LoopId a : p.changed) meet(actualSpots, a, 0);
    // A strand goes by in the row above the loop it passes; a crossing is worked there too.
    for (const PassId x : p.missingPasses) meet(meantSpots, meant.passed(x), 1);
    for (const PassId x : p.extraPasses) meet(actualSpots, actual.passed(x), 1);
    for (const CrossingId c : p.missingCrossings) meet(meantSpots, meant[c].a, 1);
    for (const CrossingId c : p.extraCrossings) meet(actualSpots, actual[c].a, 1);
    std::sort(rows.begin(), rows.end());
    rows.erase(std::unique(rows.begin(), rows.end()), rows.end());
    return rows;
}

double ripSecondsOf(const Situation& s) {
    const Pace& pace = s.ask.pace;
    double seconds = 0;
    const auto first = static_cast<std::size_t>(std::max(1, s.firstWrongRow()));
    const auto& rows = s.actualSpots.rows();
    for (std::size_t r = first; r < rows.size(); ++r)
        seconds += static_cast<double>(rows[r].size()) * pace.ripSecondsPerStitch;
    if (!rows.empty())
        seconds += static_cast<double>(rows.back().size()) * pace.seatFactor * pace.secondsPerStitch;
    for (std::size_t r = first - 1; r < s.script.rows.size(); ++r)
        seconds += static_cast<double>(s.script.rows[r].steps.size()) * pace.secondsPerStitch;
    return seconds;
}

/// Loops that were there and are gone.
std::vector<LoopId> goneOf(const Fabric& now, const std::vector<bool>& before) {
    std::vector<LoopId> gone;
    for (std::size_t i = 0; i < before.size(); ++i) {
        const LoopId l{static_cast<std::int32_t>(i)};
        if (before[i] && !now.has(l)) gone.push_back(l);
    }
    return gone;
}

std::vector<bool> loopsThere(const Fabric& f) {
    std::vector<bool> there(static_cast<std::size_t>(f.entryCount()));
    for (std::int32_t i = 0; i < f.entryCount(); ++i) {
        const LoopId l{i};
        there[static_cast<std::size_t>(i)] = f.has(l) && f.isLoop(l) && !f.isNothing(l);
    }
    return there;
}

}  // namespace

Planner::Planner(const Fabric& meant, const Script& script, Knitter& knitter, const PlanAsk& ask)
    : knitter_(knitter), ask_(ask) {
    pairing_ = pairUp(meant, knitter.fabric());
    meantSpots_ = std::make_unique<StitchPlaces>(meant);
    actualSpots_ = std::make_unique<StitchPlaces>(knitter.fabric());
    // Along the yarn the stitches above an arm that was not crossed answer to those of the other arm.
    if (!pairing_.complete || pairing_.crossingsDiffer()) {
        Pairing byPlace = pairByPlace(meant, knitter.fabric(), *meantSpots_, *actualSpots_);
        if (byPlace.complete) pairing_ = std::move(byPlace);
    }
    const Fabric& f = knitter.fabric();
    situation_ =
        std::make_unique<Situation>(Situation(meant, script, f, pairing_, *meantSpots_, *actualSpots_, ask_));
    Situation& s = *situation_;
    s.entries = f.entryCount();
    s.hasCrossings = f.crossingCount() > 0;
    s.offNeedle = true;
    for (HeldId h = f[f.needle()].first; h; h = f[h].next)
        s.offNeedle = s.offNeedle && f[h].state.hanging != 0;
    sameKnot_ = pairing_.agrees() && knotOf(f) == meantKnot();
    s.wrongRows = wrongRowsOf(meant, f, pairing_, *meantSpots_, *actualSpots_);
    s.ripSeconds = ripSecondsOf(s);
    there_ = loopsThere(f);
}

const std::string& Planner::meantKnot() {
    if (meantKnot_.empty()) meantKnot_ = knotOf(situation_->meant);
    return meantKnot_;
}

Planner::Tried Planner::tryOut(PlanFamily family, const Generator& make) {
    const Knitter::State state = knitter_.mark();
    const std::vector<YarnId> atHand = knitter_.yarnsAtHand();
    PlanBuilder builder(knitter_, family, ask_.pace);
    Tried tried;
    tried.made = make(*situation_, builder);
    // What leaves the stitches as they are need not be looked at: the differences are those there were.
    const bool asIs = builder.plan().leaves >= Leaves::countOnly;
    const bool reached = tried.made && !asIs && knotOf(knitter_.fabric()) == meantKnot();
    std::vector<std::string> left;
    if (tried.made && !asIs && !reached && ask_.all)
        left = differencesOf(situation_->meant, knitter_.fabric());
    std::vector<LoopId> gone;
    if (tried.made) gone = goneOf(knitter_.fabric(), there_);
    knitter_.rollBack(state);
    knitter_.layOut(atHand);  // cut and joined yarns have other numbers
    if (tried.made && asIs && !sameKnot_)
        left = differencesOf(situation_->meant, knitter_.fabric(), pairing_, *meantSpots_, *actualSpots_);
    tried.plan = builder.take();
    tried.plan.proved = reached;
    tried.plan.carriedOut = tried.made;
    tried.plan.comesUndone = std::move(gone);
    if (!left.empty()) tried.plan.reason = left.front();
    return tried;
}

void Planner::add(PlanFamily family, const Generator& make) {
    keep(family, tryOut(family, make));
}

void Planner::keep(PlanFamily family, Tried tried) {
    if (!tried.plan.proved) refused_.push_back({family, tried.plan.reason});
    if (tried.plan.proved || (ask_.all && (tried.made || !tried.plan.reason.empty())))
        plans_.push_back(std::move(tried.plan));
}

/// A crossing can be mended from either arm, or both: the cheapest that comes out right.
void Planner::addColumns(PlanFamily family) {
    const bool panel = family == PlanFamily::block;
    if (panel && !ask_.panels) return;
    std::vector<Arm> arms{Arm::both};
    if (pairing_.crossingsDiffer()) arms = {Arm::right, Arm::left, Arm::both};
    Tried best;
    for (const Arm arm : arms) {
        if (arm == Arm::both && best.plan.proved) break;  // more comes undone, and nothing is won
        Tried tried = tryOut(family, [&](const Situation& s, PlanBuilder& b) {
            return mendColumns(s, b, {0, panel, arm});
        });
        const bool better = arm == arms.front() || (tried.plan.proved && !best.plan.proved) ||
                            (tried.plan.proved == best.plan.proved && tried.plan.seconds < best.plan.seconds);
        if (better) best = std::move(tried);
    }
    keep(family, std::move(best));
}

void Planner::addTink() {
    Tried tried = tryOut(PlanFamily::tink, planTink);
    if (tried.plan.proved &&
        std::any_of(tried.plan.moves.begin(), tried.plan.moves.end(),
                    [](const PlannedMove& m) { return m.move.kind == MoveKind::seat; })) {
        Tried seated = tryOut(PlanFamily::tink, planSeatAndTink);
        if (seated.plan.proved && seated.plan.seconds < tried.plan.seconds) tried = std::move(seated);
    }
    if (tried.plan.proved) {
        Tried dropped = tryOut(PlanFamily::tink, planDropAndTink);
        if (dropped.plan.proved && dropped.plan.seconds < tried.plan.seconds) tried = std::move(dropped);
    }
    keep(PlanFamily::tink, std::move(tried));
}

/// Where the first wrong row is not deep enough (what it stands on hangs otherwise than it was), a row more.
/// Along a chain with a hole in it the rows do not count themselves: then as hands count them, too.
void Planner::addRip() {
    Tried tried = tryOut(PlanFamily::rip, planRip);
    const int first = situation_->firstWrongRow();
    const int worked = static_cast<int>(situation_->script.rows.size());
    const bool miscounted = actualSpots_->lastRow() != meantSpots_->lastRow();
    constexpr std::size_t kMost = 40000;  // stitches, all tries together
    std::size_t spent = 0;
    for (int row = std::min(first, worked); row >= 1 && !tried.plan.proved && spent < kMost; --row) {
        for (const bool byHands : {true, false}) {
            if ((byHands && !miscounted) || (!byHands && row == first) || tried.plan.proved) continue;
            spent += 2 * stitchesFrom(row);
            Tried deeper = tryOut(PlanFamily::rip, [&](const Situation& s, PlanBuilder& b) {
                return planRipTo(s, b, row, byHands ? worked - row + 1 : 0);
            });
            if (deeper.plan.proved) tried = std::move(deeper);
        }
    }
    keep(PlanFamily::rip, std::move(tried));
}

/// For each row where the wrong set changes: rip that far, and mend the rest by columns. Kept only if it is
/// quicker than all else.
void Planner::addDepths() {
    std::vector<int> rows = situation_->wrongRows;
    constexpr std::size_t kMost = 6;  // as many are all tried; of more, the one that is reckoned cheapest
    if (rows.size() < 2) return;
    if (rows.size() > kMost) {
        const std::optional<int> row = depthToRip(*situation_);
        if (!row) return;
        rows = {rows.front(), *row};
    }
    const std::size_t above = stitchesFrom(rows.front());
    constexpr std::size_t kMany = 20000;  // to take so many back for each of them would take long
    for (std::size_t i = rows.size() - 1; i > 0; --i) {
        Tried tried = tryOut(PlanFamily::rip, [&](const Situation& s, PlanBuilder& b) {
            return planRipAndColumns(s, b, rows[i]);
        });
        const bool made = tried.made;
        if (isQuickest(tried.plan)) plans_.push_back(std::move(tried.plan));
        if (made && above > kMany) break;
    }
}

bool Planner::isQuickest(const Plan& plan) const {
    return plan.proved && std::all_of(plans_.begin(), plans_.end(),
                                      [&](const Plan& p) { return !p.proved || p.seconds > plan.seconds; });
}

std::size_t Planner::stitchesFrom(int row) const {
    std::size_t stitches = 0;
    for (auto r = static_cast<std::size_t>(row); r < actualSpots_->rows().size(); ++r)
        stitches += actualSpots_->rows()[r].size();
    return stitches;
}

/// The lowest row that is taken back comes stitch by stitch, only as far as it went wrong; or columns that
/// are too much are let run first. Kept only if it is quicker than all else.
void Planner::addBackInto() {
    std::vector<int> rows = situation_->wrongRows;
    constexpr std::size_t kMost = 6;
    constexpr std::size_t kMany = 2000;
    if (rows.empty() || rows.front() < 1 || stitchesFrom(rows.front()) > kMany) return;
    if (rows.size() > kMost) rows.resize(kMost);
    using Plans = bool (*)(const Situation&, PlanBuilder&, int);
    for (const int row : rows) {
        for (const Plans plan : {Plans{planBackInto}, Plans{planDropAndRipTo}}) {
            Tried tried =
                tryOut(PlanFamily::rip, [&](const Situation& s, PlanBuilder& b) { return plan(s, b, row); });
            if (isQuickest(tried.plan)) plans_.push_back(std::move(tried.plan));
        }
    }
}

/// Yarn that broke inside the cloth: its ends are joined first, and then it is mended like any other; or the
/// stitch between them is sewn in.
void Planner::addRejoined() {
    for (const BrokenEnds& ends : brokenEnds(situation_->meant, situation_->actual)) {
        std::vector<Plan> further;
        std::optional<SlippedOut> stitch;
        const Knitter::State state = knitter_.mark();
        const std::vector<YarnId> atHand = knitter_.yarnsAtHand();
        PlanBuilder first(knitter_, PlanFamily::column, ask_.pace);
        if (joinEnds(ends, *actualSpots_, first)) {
            PlanAsk inner = ask_;
            inner.all = false;
            inner.anew = false;
            Planner joined(situation_->meant, situation_->script, knitter_, inner);
            stitch = slippedOut(joined.situation());
            further = joined.provable();
        }
        knitter_.rollBack(state);
        knitter_.layOut(atHand);
        if (stitch) {
            add(PlanFamily::sewIn,
                [&](const Situation&, PlanBuilder& b) { return planSewIn(ends, *stitch, *actualSpots_, b); });
        }
        for (const Plan& plan : further) {
            add(plan.family, [&](const Situation&, PlanBuilder& b) {
                if (!joinEnds(ends, *actualSpots_, b)) return false;
                b.ripsTo(plan.ripsTo);
                for (const LoopId loop : plan.needsOnTool) b.needs(loop);
                b.leaves(plan.leaves, plan.shortageMm);
                std::size_t at = 0;
                for (std::size_t i = 0; i < plan.moves.size(); ++i) {
                    for (; at < plan.cautions.size() && plan.cautions[at].beforeMove == i; ++at)
                        b.caution(plan.cautions[at].words);
                    const PlannedMove& m = plan.moves[i];
                    if (!b.add(m.move, {m.row, m.stitch, m.column}, m.words)) return false;
                }
                return true;
            });
        }
    }
}

void Planner::addStartAgain() {
    // A join that is turned only after many rounds came back is not sooner done than a new beginning.
    const bool mended = std::any_of(plans_.begin(), plans_.end(), [](const Plan& p) {
        return p.proved && (p.family != PlanFamily::untwist || p.ripsTo == 0);
    });
    if (!mended) add(PlanFamily::startAgain, planStartAgain);
}

std::vector<Plan> Planner::provable() {
    if (sameKnot_) return {};
    addColumns(PlanFamily::column);
    addColumns(PlanFamily::block);
    addTink();
    addRip();
    addDepths();
    addBackInto();
    if (situation_->pairing.agrees()) add(PlanFamily::untwist, planUntwist);
    if (ask_.threads) add(PlanFamily::lifelineFirst, planLifelineFirst);
    if (ask_.anew) {
        addRejoined();
        addStartAgain();
    }
    std::stable_sort(plans_.begin(), plans_.end(), [](const Plan& x, const Plan& y) {
        if (x.proved != y.proved) return x.proved;
        return x.seconds < y.seconds;
    });
    return std::move(plans_);
}

}  // namespace loopmend
