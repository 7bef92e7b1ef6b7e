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

tl::unexpected<FaultProblem> cannotBeWorked(const RowFault& fault) {
    return tl::unexpected<FaultProblem>(
        FaultProblem{FaultProblem::What::patternStops,
                     fmt::format("the knitting as it is meant cannot be worked: {}", sentence(fault))});
}

}  // namespace

SideBySide::SideBySide(const Script& script, const Setup& setup, After after)
    : script_(&script),
      setup_(setup),
      after_(after),
      meant_(castOn(script, setup)),
      row_{.meantWork = RowWork(meant_.knitter), .actualWork = RowWork(meant_.knitter)} {}

Knitting& SideBySide::split() {
    if (actual_) return *actual_;
    auto fabric = std::make_unique<Fabric>(*meant_.fabric);
    fabric->forgetJournal();
    const Knitter& hands = meant_.knitter;
    Knitter knitter(*fabric, hands.yarn(), hands.facing(), hands.inTheRound(), setup_.habit, setup_.mirrored);
    knitter.layOut(hands.yarnsAtHand());
    actual_.emplace(Knitting{std::move(fabric), std::move(knitter)});
    row_.actualWork = RowWork(actual_->knitter);
    const auto entries = static_cast<std::size_t>(meant_.fabric->entryCount());
    actualOf_.resize(entries);
    for (std::size_t i = 0; i < entries; ++i) actualOf_[i] = LoopId{static_cast<std::int32_t>(i)};
    meantOf_ = actualOf_;
    changes_.clear();
    return *actual_;
}

std::pair<Knitting, Knitting> SideBySide::take() && {
    split();
    return {std::move(meant_), std::move(*actual_)};
}

LoopId SideBySide::actualOf(LoopId meant) const {
    if (!actual_) return meant;
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

tl::expected<void, FaultProblem> SideBySide::stepMeant(int step) {
    const Step& here = stepAt(step);
    nextLoops(meant_.knitter, uses(here), hosts_);
    const EntryId firstNew{meant_.fabric->entryCount()};
    const Result<void> done = row_.meantWork.work(here);
    if (!done) return cannotBeWorked({words().number, step, meant_.knitter.aheadCount(), done.error()});
    lastLoops(meant_.knitter, firstNew, hosts_, made_);
    const auto stitches = static_cast<std::size_t>(stitchesOf(here));
    std::vector<LoopId>& loops = meantLoops_.back();
    if (isBindOff(here)) {
        loops.resize(loops.size() + stitches);
        row_.left = made_.empty() ? LoopId{} : made_.back();
    } else if (made_.empty() && stitches == 1 && takesLoopLeft(words(), step)) {
        loops.push_back(row_.left);
    } else {
        const std::size_t have = std::min(stitches, made_.size());
        loops.resize(loops.size() + stitches - have);
        loops.insert(loops.end(), made_.end() - static_cast<std::ptrdiff_t>(have), made_.end());
    }
    return {};
}

/// The step as it is worked on what is there: a bind-off that ends the row binds off whatever there is.
Step SideBySide::asMuchAs(int step) const {
    Step here = stepAt(step);
    const bool last = static_cast<std::size_t>(step) + 1 == words().steps.size();
    if (isBindOff(here) && last && !nextLoop(meant_.knitter))
        here.count = static_cast<std::int16_t>(actual_->knitter.aheadCount());
    return here;
}

bool SideBySide::workActual(const Step& step) {
    nextLoops(actual_->knitter, uses(step), ahead_);
    const EntryId firstNew{actual_->fabric->entryCount()};
    const Result<void> done = row_.actualWork.work(step);
    if (!done) {
        did_.clear();
        if (done.error().why == Why::notEnoughStitches) row_.ranOut = true;
        return false;
    }
    lastLoops(actual_->knitter, firstNew, ahead_, did_);
    return true;
}

void SideBySide::stepByCount(int step) {
    const Step here = asMuchAs(step);
    did_.clear();
    if (!row_.ranOut) workActual(here);
    if (row_.ranOut) row_.wanted += uses(here);
}

/// Before the meant step is worked: which of its stitches does the actual knitting have?
void SideBySide::findHosts(int step) {
    const Step& here = stepAt(step);
    nextLoops(meant_.knitter, uses(here), hosts_);
    there_ = 0;
    over_ = 0;
    for (std::size_t i = 0; i < hosts_.size(); ++i) {
        const LoopId stands = lookUp(actualOf_, hosts_[i]);
        if (!stands || !onNeedle(*actual_->fabric, stands)) continue;
        ++there_;
        if (static_cast<int>(i) < here.over) ++over_;
    }
}

void SideBySide::stepByReading(int step) {
    const Step here = asMuchAs(step);
    const int wanted = uses(stepAt(step));
    did_.clear();
    if (wanted == 0 || there_ == wanted || takesLoopLeft(words(), step)) {
        workActual(here);
        return;
    }
    if (there_ == 0) return;
    std::vector<LoopId> all;
    for (const Step& fewer : withFewer(here, there_, over_, there_ - over_)) {
        workActual(fewer);
        all.insert(all.end(), did_.begin(), did_.end());
    }
    did_.swap(all);
}

void SideBySide::workExtras(int step) {
    Knitter& hands = actual_->knitter;
    for (LoopId next = nextLoop(hands); next && isExtra(next); next = nextLoop(hands)) {
        if (!hands.work(1, plainIsPurl(words(), step), Leg::leading)) return;
    }
}

tl::expected<void, FaultProblem> SideBySide::workStep() {
    const int step = row_.step;
    const bool reads = actual_ && after_ == After::byReading;
    if (reads) {
        workExtras(step);
        findHosts(step);
    }
    const auto meant = stepMeant(step);
    if (!meant) return meant;
    ++row_.step;
    if (!actual_) return {};
    if (reads) {
        stepByReading(step);
    } else {
        stepByCount(step);
    }
    pair(made_, did_);
    return {};
}

// ---- rows
// ----------------------------------------------------------------------------------------------------

void SideBySide::beginRow() {
    row_ = {.step = 0,
            .meantWork = RowWork(meant_.knitter),
            .actualWork = RowWork(actual_ ? actual_->knitter : meant_.knitter)};
    firstOfRow_.emplace_back(actual().fabric->entryCount());
    meantLoops_.emplace_back();
}

tl::expected<void, FaultProblem> SideBySide::workTo(int step) {
    if (row_.step < 0) beginRow();
    while (row_.step < step) {
        const auto worked = workStep();
        if (!worked) return worked;
    }
    return {};
}

tl::expected<void, FaultProblem> SideBySide::makeMistake(const PlacedFault& fault) {
    const int step = row_.step;
    if (takesLoopLeft(words(), step))
        return cannotStand(fault.place, "that stitch is the loop left by the stitches bound off before it");
    if (row_.ranOut) return cannotStand(fault.place, "the row had run out of stitches before it");
    Knitter& hands = actual_->knitter;
    if (after_ == After::byReading) {
        workExtras(step);
        findHosts(step);
        if (there_ < uses(stepAt(step)))
            return cannotStand(fault.place, "the stitch it stands on went missing before");
    }
    const Spot spot{words(), step, hands};
    if (!fault.fault->standsOn(spot))
        return cannotStand(fault.place, fmt::format("the pattern has \"{}\" there", name(spot.here().op)));
    nextLoops(hands, uses(spot.here()) + 4, ahead_);
    // The mistake is made with the yarn that the row says.
    if (const Result<void> taken = hands.takeUp(spot.here().yarn, spot.here().link); !taken)
        return cannotStand(fault.place, sentence(taken.error()));
    const EntryId firstNew{actual_->fabric->entryCount()};
    const Result<int> steps = fault.fault->work(hands, spot);
    if (!steps) return cannotStand(fault.place, sentence(steps.error()));
    if (*steps == 0) return {};
    lastLoops(hands, firstNew, ahead_, did_);
    std::vector<LoopId> made;
    for (int i = 0; i < *steps; ++i) {
        const auto meant = stepMeant(row_.step);
        if (!meant) return meant;
        ++row_.step;
        made.insert(made.end(), made_.begin(), made_.end());
    }
    pair(made, did_);
    return {};
}

void SideBySide::workLeftOver() {
    const int steps = static_cast<int>(words().steps.size());
    if (after_ == After::byReading) {
        workExtras(steps);
        return;
    }
    Knitter& hands = actual_->knitter;
    const int left = hands.aheadCount();
    if (left != row_.wanted) misfits_.push_back({words().number, left - row_.wanted});
    for (int i = 0; i < left; ++i) {
        if (!hands.work(1, plainIsPurl(words(), steps), Leg::leading)) return;
    }
}

tl::expected<void, FaultProblem> SideBySide::endRow() {
    const int steps = static_cast<int>(words().steps.size());
    const auto worked = workTo(steps);
    if (!worked) return worked;
    if (!turnsEarly(words())) {
        if (const int left = meant_.knitter.aheadCount(); left > 0)
            return cannotBeWorked({words().number, steps, left, Refusal{Why::rowNotWorked, left}});
        if (actual_) workLeftOver();
    }
    loopmend::endRow(meant_.knitter, words());
    if (actual_) loopmend::endRow(actual_->knitter, words());
    row_.step = -1;
    counts_.push_back({meant_.knitter.aheadCount(), actual().knitter.aheadCount()});
    return {};
}

tl::expected<void, FaultProblem> SideBySide::workRow(const std::vector<PlacedFault>& faults) {
    if (!faults.empty()) split();
    if (row_.step < 0) beginRow();
    for (const PlacedFault& fault : faults) {
        if (fault.step < row_.step) return cannotStand(fault.place, "another mistake stands there already");
        const auto before = workTo(fault.step);
        if (!before) return before;
        const auto made = makeMistake(fault);
        if (!made) return made;
    }
    return endRow();
}

tl::expected<void, FaultProblem> SideBySide::suffer(const PlacedFault& fault) {
    Knitting& actual = split();
    std::vector<LoopId> loops = meantLoops_[static_cast<std::size_t>(fault.place.row) - 1];
    for (LoopId& loop : loops) loop = actualOf(loop);
    const Fall fall{loops, fault.place.stitch, firstOfRow(fault.place.row), script_->round};
    const LoopId lowest = fall.lowest();
    const Fabric& f = *actual.fabric;
    if (!lowest || !f.has(lowest) || f.isNothing(lowest))
        return cannotStand(fault.place, "there is no such stitch in the cloth");
    if (fault.fault->runs && lowest < fall.firstOfRow)
        return cannotStand(fault.place, "that stitch was only slipped in that row");
    if (!fault.fault->fallsAt(f, fall)) {
        return cannotStand(fault.place, fault.fault->runs
                                            ? "the cloth is of another kind there, or nothing could run"
                                            : "no stitch of its own hangs on the needle there");
    }
    const Result<void> done = fault.fault->suffer(actual.knitter, fall);
    if (!done) return cannotStand(fault.place, sentence(done.error()));
    return {};
}

SideBySide::Mark SideBySide::mark() {
    Mark mark{.meant = meant_.knitter.mark(),
              .actual = std::nullopt,
              .rows = counts_.size(),
              .begun = meantLoops_.size(),
              .loops = meantLoops_.empty() ? 0 : meantLoops_.back().size(),
              .misfits = misfits_.size(),
              .changes = changes_.size(),
              .row = row_};
    if (actual_) mark.actual = actual_->knitter.mark();
    return mark;
}

void SideBySide::rollBack(const Mark& mark) {
    meant_.knitter.rollBack(mark.meant);
    counts_.resize(mark.rows);
    meantLoops_.resize(mark.begun);
    if (mark.begun > 0) meantLoops_.back().resize(mark.loops);
    firstOfRow_.resize(mark.begun);
    misfits_.resize(mark.misfits);
    row_ = mark.row;
    if (!mark.actual) {
        actual_.reset();
        return;
    }
    actual_->knitter.rollBack(*mark.actual);
    while (changes_.size() > mark.changes) {
        const Change& last = changes_.back();
        (last.meant ? actualOf_ : meantOf_)[at(last.key)] = last.old;
        changes_.pop_back();
    }
}

}  // namespace loopmend
