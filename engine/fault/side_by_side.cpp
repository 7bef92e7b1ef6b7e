// SPDX-License-Identifier: MIT
#include "fault/side_by_side.h"

#include <algorithm>

#include <fmt/format.h>

#include "fault/needle.h"
#include "fault/steps.h"

namespace loopmend {

namespace {

std::size_t at(EntryId id) {
    return static_cast<std::size_t>(id.value);
}

LoopId lookUp(const std::vector<LoopId>& map, LoopId key) {
    return at(key) < map.size() ? map[at(key)] : LoopId{};
}

tl::unexpected<FaultProblem> cannotStand(const FaultPlace& place, std::string_view why) {
    return tl::unexpected<FaultProblem>(FaultProblem{
        FaultProblem::What::cannotStand,
        fmt::format("{} cannot happen at stitch {} of row {}: {}", place.id, place.stitch, place.row, why)});
}

}  // namespace

/// What is known while a row is worked.
struct SideBySide::RowInHand {
    const WorkedRow& row;
    RowWork meantWork;
    RowWork actualWork;
    std::vector<LoopId>& meantLoops;

    std::vector<LoopId> hosts = {};  ///< what the meant step takes
    std::vector<LoopId> made = {};   ///< what it put on the right needle
    int there = 0;                   ///< how many of its hosts the actual knitting has
    int over = 0;                    ///< of them, how many are of a cable's held arm
    std::vector<LoopId> ahead = {};  ///< what the actual step could take
    std::vector<LoopId> did = {};    ///< what it put on the right needle
    std::vector<LoopId> didAll = {};
    LoopId left = {};  ///< the meant loop that a bind-off has left
    bool ranOut = false;
    int wanted = 0;  ///< stitches that steps not worked would have taken
};

SideBySide::SideBySide(const Script& script, const Setup& setup, After after)
    : script_(&script), after_(after), meant_(castOn(script, setup)), actual_(castOn(script, setup)) {
    // The cast-on is the same knitting twice: equal ids.
    const auto entries = static_cast<std::size_t>(meant_.fabric->entryCount());
    for (std::size_t i = 0; i < entries; ++i) {
        actualOf_.emplace_back(static_cast<std::int32_t>(i));
        meantOf_.emplace_back(static_cast<std::int32_t>(i));
    }
}

LoopId SideBySide::actualOf(LoopId meant) const {
    return meant ? lookUp(actualOf_, meant) : LoopId{};
}

void SideBySide::tie(bool isMeant, LoopId key, LoopId value) {
    std::vector<LoopId>& map = isMeant ? actualOf_ : meantOf_;
    if (at(key) >= map.size()) map.resize(at(key) + 1);
    if (map[at(key)] == value) return;
    changes_.push_back({isMeant, key, map[at(key)]});
    map[at(key)] = value;
}

void SideBySide::pair(const std::vector<LoopId>& meant, const std::vector<LoopId>& actual) {
    for (std::size_t i = 0; i < std::min(meant.size(), actual.size()); ++i) {
        tie(true, meant[i], actual[i]);
        tie(false, actual[i], meant[i]);
    }
}

bool SideBySide::isExtra(LoopId actual) const {
    const LoopId meant = lookUp(meantOf_, actual);
    return !meant || !onNeedle(*meant_.fabric, meant);
}

// ---- one step
// ------------------------------------------------------------------------------------------------

tl::expected<void, FaultProblem> SideBySide::stepMeant(RowInHand& row, int step) {
    const Step& here = row.row.steps[static_cast<std::size_t>(step)];
    nextLoops(meant_.knitter, uses(here), row.hosts);
    const EntryId firstNew{meant_.fabric->entryCount()};
    const Result<void> done = row.meantWork.work(here);
    if (!done) {
        const RowFault fault{row.row.number, step, meant_.knitter.aheadCount(), done.error()};
        return tl::unexpected<FaultProblem>(
            FaultProblem{FaultProblem::What::patternStops,
                         fmt::format("the knitting as it is meant cannot be worked: {}", sentence(fault))});
    }
    lastLoops(meant_.knitter, firstNew, row.hosts, row.made);
    const auto stitches = static_cast<std::size_t>(stitchesOf(here));
    std::vector<LoopId>& loops = row.meantLoops;
    if (isBindOff(here)) {
        loops.resize(loops.size() + stitches);
        row.left = row.made.empty() ? LoopId{} : row.made.back();
    } else if (row.made.empty() && stitches == 1 && takesLoopLeft(row.row, step)) {
        loops.push_back(row.left);
    } else {
        const std::size_t have = std::min(stitches, row.made.size());
        loops.resize(loops.size() + stitches - have);
        loops.insert(loops.end(), row.made.end() - static_cast<std::ptrdiff_t>(have), row.made.end());
    }
    return {};
}

/// The step as it is worked on what is there: a bind-off that ends the row binds off whatever there is.
Step SideBySide::asMuchAs(const RowInHand& row, int step) const {
    Step here = row.row.steps[static_cast<std::size_t>(step)];
    const bool last = static_cast<std::size_t>(step) + 1 == row.row.steps.size();
    if (isBindOff(here) && last && !nextLoop(meant_.knitter))
        here.count = static_cast<std::int16_t>(actual_.knitter.aheadCount());
    return here;
}

bool SideBySide::workActual(RowInHand& row, const Step& step) {
    nextLoops(actual_.knitter, uses(step), row.ahead);
    const EntryId firstNew{actual_.fabric->entryCount()};
    const Result<void> done = row.actualWork.work(step);
    if (!done) {
        row.did.clear();
        if (done.error().why == Why::notEnoughStitches) row.ranOut = true;
        return false;
    }
    lastLoops(actual_.knitter, firstNew, row.ahead, row.did);
    return true;
}

void SideBySide::stepByCount(RowInHand& row, int step) {
    const Step here = asMuchAs(row, step);
    row.did.clear();
    if (!row.ranOut) workActual(row, here);
    if (row.ranOut) row.wanted += uses(here);
}

/// Before the meant step is worked: which of its stitches does the actual knitting have?
void SideBySide::findHosts(RowInHand& row, int step) {
    const Step& here = row.row.steps[static_cast<std::size_t>(step)];
    nextLoops(meant_.knitter, uses(here), row.hosts);
    row.there = 0;
    row.over = 0;
    for (std::size_t i = 0; i < row.hosts.size(); ++i) {
        const LoopId stands = lookUp(actualOf_, row.hosts[i]);
        if (!stands || !onNeedle(*actual_.fabric, stands)) continue;
        ++row.there;
        if (static_cast<int>(i) < here.over) ++row.over;
    }
}

void SideBySide::stepByReading(RowInHand& row, int step) {
    const Step here = asMuchAs(row, step);
    const int wanted = uses(row.row.steps[static_cast<std::size_t>(step)]);
    row.did.clear();
    if (wanted == 0 || row.there == wanted || takesLoopLeft(row.row, step)) {
        workActual(row, here);
        return;
    }
    if (row.there == 0) return;
    row.didAll.clear();
    for (const Step& fewer : withFewer(here, row.there, row.over, row.there - row.over)) {
        workActual(row, fewer);
        row.didAll.insert(row.didAll.end(), row.did.begin(), row.did.end());
    }
    row.did.swap(row.didAll);
}

void SideBySide::workExtras(RowInHand& row, int step) {
    for (LoopId next = nextLoop(actual_.knitter); next && isExtra(next); next = nextLoop(actual_.knitter)) {
        if (!actual_.knitter.work(1, plainIsPurl(row.row, step), Leg::leading)) return;
    }
}

tl::expected<int, FaultProblem> SideBySide::doWrong(RowInHand& row, int step, const PlacedFault& fault) {
    if (takesLoopLeft(row.row, step))
        return cannotStand(fault.place, "that stitch is the loop left by the stitches bound off before it");
    if (row.ranOut) return cannotStand(fault.place, "the row had run out of stitches before it");
    if (after_ == After::byReading) {
        workExtras(row, step);
        findHosts(row, step);
        if (row.there < uses(row.row.steps[static_cast<std::size_t>(step)]))
            return cannotStand(fault.place, "the stitch it stands on went missing before");
    }
    const Spot spot{row.row, step, actual_.knitter};
    if (!fault.fault->standsOn(spot))
        return cannotStand(fault.place, fmt::format("the pattern has \"{}\" there", name(spot.here().op)));
    nextLoops(actual_.knitter, uses(spot.here()) + 4, row.ahead);
    const EntryId firstNew{actual_.fabric->entryCount()};
    const Result<int> steps = fault.fault->work(actual_.knitter, spot);
    if (!steps) return cannotStand(fault.place, sentence(steps.error()));
    if (*steps == 0) return 0;
    lastLoops(actual_.knitter, firstNew, row.ahead, row.did);
    std::vector<LoopId> made;
    for (int i = 0; i < *steps; ++i) {
        const auto meant = stepMeant(row, step + i);
        if (!meant) return tl::unexpected<FaultProblem>(meant.error());
        made.insert(made.end(), row.made.begin(), row.made.end());
    }
    pair(made, row.did);
    return *steps;
}

// ---- rows
// ----------------------------------------------------------------------------------------------------

tl::expected<void, FaultProblem> SideBySide::workSteps(RowInHand& row, const std::vector<PlacedFault>& faults,
                                                       const std::function<bool(const Began&)>& goOn) {
    const bool reads = after_ == After::byReading;
    const int steps = static_cast<int>(row.row.steps.size());
    const Yarn& yarn = (*actual_.fabric)[actual_.knitter.yarn()];
    Began began;
    std::size_t next = 0;
    for (int i = 0; i < steps;) {
        if (next > 0 && goOn && !goOn(began))
            return cannotStand(faults.front().place, "it was not wanted any further");
        int done = 0;
        if (next == 0) began = {yarn.last, EntryId{actual_.fabric->entryCount()}};
        for (; done == 0 && next < faults.size() && faults[next].step == i; ++next) {
            const auto wrong = doWrong(row, i, faults[next]);
            if (!wrong) return tl::unexpected<FaultProblem>(wrong.error());
            done = *wrong;
        }
        i += done;
        if (next < faults.size() && faults[next].step < i)
            return cannotStand(faults[next].place, "another mistake stands there already");
        if (done > 0) continue;
        if (reads) {
            workExtras(row, i);
            findHosts(row, i);
        }
        const auto meant = stepMeant(row, i);
        if (!meant) return meant;
        if (reads) {
            stepByReading(row, i);
        } else {
            stepByCount(row, i);
        }
        pair(row.made, row.did);
        ++i;
    }
    return {};
}

void SideBySide::workLeftOver(RowInHand& row) {
    const int steps = static_cast<int>(row.row.steps.size());
    if (after_ == After::byReading) {
        workExtras(row, steps);
        return;
    }
    const int left = actual_.knitter.aheadCount();
    if (left != row.wanted) misfits_.push_back({row.row.number, left - row.wanted});
    for (int i = 0; i < left; ++i) {
        if (!actual_.knitter.work(1, plainIsPurl(row.row, steps), Leg::leading)) return;
    }
}

tl::expected<void, FaultProblem> SideBySide::workRow(const std::vector<PlacedFault>& faults,
                                                     const std::function<bool(const Began&)>& goOn) {
    const WorkedRow& words = script_->rows[counts_.size()];
    firstOfRow_.emplace_back(actual_.fabric->entryCount());
    meantLoops_.emplace_back();
    counts_.push_back({0, 0});
    RowInHand row{.row = words,
                  .meantWork = RowWork(meant_.knitter),
                  .actualWork = RowWork(actual_.knitter),
                  .meantLoops = meantLoops_.back()};
    const auto worked = workSteps(row, faults, goOn);
    if (!worked) return worked;
    if (const int left = meant_.knitter.aheadCount(); left > 0) {
        const RowFault fault{words.number, static_cast<int>(words.steps.size()), left,
                             Refusal{Why::rowNotWorked, left}};
        return tl::unexpected<FaultProblem>(
            FaultProblem{FaultProblem::What::patternStops,
                         fmt::format("the knitting as it is meant cannot be worked: {}", sentence(fault))});
    }
    workLeftOver(row);
    endRow(meant_.knitter);
    endRow(actual_.knitter);
    counts_.back() = {meant_.knitter.aheadCount(), actual_.knitter.aheadCount()};
    return {};
}

tl::expected<void, FaultProblem> SideBySide::suffer(const PlacedFault& fault) {
    std::vector<LoopId> loops = meantLoops_[static_cast<std::size_t>(fault.place.row) - 1];
    for (LoopId& loop : loops) loop = actualOf(loop);
    const Fall fall{loops, fault.place.stitch, firstOfRow(fault.place.row), script_->round};
    const LoopId lowest = fall.lowest();
    const Fabric& f = *actual_.fabric;
    if (!lowest || !f.has(lowest) || f.isNothing(lowest))
        return cannotStand(fault.place, "there is no such stitch in the cloth");
    if (fault.fault->runs && lowest < fall.firstOfRow)
        return cannotStand(fault.place, "that stitch was only slipped in that row");
    if (!fault.fault->fallsAt(f, fall)) {
        return cannotStand(fault.place, fault.fault->runs
                                            ? "the cloth is of another kind there, or nothing could run"
                                            : "no stitch of its own hangs on the needle there");
    }
    const Result<void> done = fault.fault->suffer(actual_.knitter, fall);
    if (!done) return cannotStand(fault.place, sentence(done.error()));
    return {};
}

SideBySide::Mark SideBySide::mark() {
    return {meant_.knitter.mark(), actual_.knitter.mark(), counts_.size(), misfits_.size(), changes_.size()};
}

void SideBySide::rollBack(const Mark& mark) {
    meant_.knitter.rollBack(mark.meant);
    actual_.knitter.rollBack(mark.actual);
    counts_.resize(mark.rows);
    meantLoops_.resize(mark.rows);
    firstOfRow_.resize(mark.rows);
    misfits_.resize(mark.misfits);
    while (changes_.size() > mark.changes) {
        const Change& last = changes_.back();
        (last.meant ? actualOf_ : meantOf_)[at(last.key)] = last.old;
        changes_.pop_back();
    }
}

}  // namespace loopmend
