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

int stitchesOn(const Knitter& knitter) {
    return knitter.aheadCount() + static_cast<int>(knitter.behind().size());
}

/// All loops on the needle, the one first at which `runs` begins.
std::vector<LoopId> needleOf(const Fabric& f, Run runs) {
    std::vector<LoopId> loops;
    for (HeldId h = f[f.needle()].first; h; h = f[h].next) {
        if (f[h].state.hanging == 0) loops.push_back(f[h].loop);
    }
    if (runs == Run::rightward) std::reverse(loops.begin(), loops.end());
    return loops;
}

/// The loop older than `firstNew` on which a loop stands; none: it stands on none.
LoopId columnOf(const Fabric& f, LoopId loop, EntryId firstNew) {
    while (!(loop < firstNew)) {
        if (!f[loop].firstLink) return {};
        loop = f[f[loop].firstLink].host;
    }
    return loop;
}

/// A knitting of its own that looks the same; nothing in it can be taken back.
Knitting copyOf(const Knitting& knitting, const Setup& setup) {
    auto fabric = std::make_unique<Fabric>(*knitting.fabric);
    fabric->forgetJournal();
    const Knitter& hands = knitting.knitter;
    Knitter knitter(*fabric, hands.yarn(), hands.facing(), hands.inTheRound(), setup.habit, setup.mirrored);
    knitter.layOut(hands.yarnsAtHand());
    return {std::move(fabric), std::move(knitter)};
}

}  // namespace

SideBySide::SideBySide(const Script& script, const Setup& setup, After after)
    : script_(&script),
      setup_(setup),
      after_(after),
      meant_(castOn(script, setup)),
      row_{.meantWork = RowWork(meant_.knitter), .actualWork = RowWork(meant_.knitter)} {}

SideBySide::SideBySide(const SideBySide& before, const Script& script)
    : script_(&script),
      setup_(before.setup_),
      after_(before.after_),
      meant_(copyOf(before.meant_, before.setup_)),
      row_{.meantWork = RowWork(meant_.knitter), .actualWork = RowWork(meant_.knitter)},
      misfits_(before.misfits_),
      counts_(before.counts_),
      meantLoops_(before.meantLoops_),
      firstOfRow_(before.firstOfRow_),
      handsRows_(before.handsRows_),
      misread_(before.misread_) {}

Knitting& SideBySide::split() {
    if (actual_) return *actual_;
    actual_.emplace(copyOf(meant_, setup_));
    row_.actualWork = RowWork(actual_->knitter);
    const auto entries = static_cast<std::size_t>(meant_.fabric->entryCount());
    actualOf_.resize(entries);
    for (std::size_t i = 0; i < entries; ++i) actualOf_[i] = LoopId{static_cast<std::int32_t>(i)};
    meantOf_ = actualOf_;
    changes_.clear();
    return *actual_;
}

bool SideBySide::inStep() const {
    if (!actual_) return true;
    const Fabric& f = *meant_.fabric;
    const Fabric& g = *actual_->fabric;
    if (!sameWay() || row_.ranOut) return false;
    HeldId h = f[f.needle()].first;
    HeldId k = g[g.needle()].first;
    const auto skipHanging = [](const Fabric& on, HeldId& place) {
        while (place && on[place].state.hanging != 0) place = on[place].next;
    };
    const HeldId tip = f[f.needle()].tip;
    const HeldId actualTip = g[g.needle()].tip;
    for (;; h = f[h].next, k = g[k].next) {
        if ((h == tip) != (k == actualTip)) return false;
        skipHanging(f, h);
        skipHanging(g, k);
        if (!h || !k) return !h && !k;
        if (actualOf(f[h].loop) != g[k].loop || lookUp(meantOf_, g[k].loop) != f[h].loop) return false;
    }
}

std::pair<Knitting, Knitting> SideBySide::take() && {
    split();
    return {std::move(meant_), std::move(*actual_)};
}

LoopId SideBySide::actualOf(LoopId meant) const {
    if (!actual_) return meant;
    return meant ? lookUp(actualOf_, meant) : LoopId{};
}

LoopId SideBySide::meantOf(LoopId actual) const {
    return actual_ ? lookUp(meantOf_, actual) : actual;
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
Step SideBySide::asMuchAs(const WorkedRow& row, int step) const {
    Step here = row.steps[static_cast<std::size_t>(step)];
    const bool last = static_cast<std::size_t>(step) + 1 == row.steps.size();
    if (isBindOff(here) && last) here.count = static_cast<std::int16_t>(actual_->knitter.aheadCount());
    return here;
}

/// Hands that find no float across the stitch work the stitch alone.
Result<void> SideBySide::workThere(const Step& step) {
    const Result<void> done = row_.actualWork.work(step);
    if (done || done.error().why != Why::noFloat) return done;
    Step alone = step;
    alone.op = step.op == Op::purlWithFloat ? Op::purl : Op::knit;
    return row_.actualWork.work(alone);
}

bool SideBySide::workActual(const Step& step) {
    nextLoops(actual_->knitter, uses(step), ahead_);
    const EntryId firstNew{actual_->fabric->entryCount()};
    const Result<void> done = workThere(step);
    if (!done) {
        did_.clear();
        if (done.error().why == Why::notEnoughStitches) row_.ranOut = true;
        return false;
    }
    lastLoops(actual_->knitter, firstNew, ahead_, did_);
    return true;
}

void SideBySide::stepByCount(const WorkedRow& row, int step) {
    const Step here = asMuchAs(row, step);
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
    waits_.clear();
    for (std::size_t i = 0; i < hosts_.size(); ++i) {
        const LoopId stands = lookUp(actualOf_, hosts_[i]);
        if (!stands || !onNeedle(*actual_->fabric, stands)) continue;
        if (std::find(row_.waiting.begin(), row_.waiting.end(), stands) != row_.waiting.end()) {
            waits_.push_back(stands);
            continue;
        }
        ++there_;
        if (static_cast<int>(i) < here.over) ++over_;
    }
}

void SideBySide::stepByReading(int step) {
    const Step here = asMuchAs(words(), step);
    const int wanted = uses(stepAt(step));
    did_.clear();
    if (wanted == 0 || there_ == wanted || takesLoopLeft(words(), step)) {
        workActual(here);
        return;
    }
    if (there_ == 0) {
        did_ = waits_;
        return;
    }
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
    auto meant = stepMeant(step);
    if (!meant) return meant;
    ++row_.step;
    if (!actual_) return {};
    if (reads) {
        stepByReading(step);
    } else {
        stepByCount(words(), step);
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
    if (actual_) row_.waiting = actual_->knitter.behind();
    firstOfRow_.emplace_back(actual().fabric->entryCount());
    meantLoops_.emplace_back();
}

tl::expected<void, FaultProblem> SideBySide::workTo(int step) {
    if (row_.step < 0) beginRow();
    while (row_.step < step) {
        auto worked = workStep();
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
    const Spot spot{words(), step, hands, fault.place.stitch - stitchOfStep(words(), step)};
    if (!fault.fault->standsOn(spot))
        return cannotStand(fault.place, fmt::format("the pattern has \"{}\" there", name(spot.here().op)));
    // As many as one mistake may take.
    constexpr int kSteps = 8;
    nextLoops(hands, uses(spot.here()) + kSteps, ahead_);
    // The mistake is made with the yarn that the row says.
    if (!fault.fault->ownYarn) {
        if (const Result<void> taken = hands.takeUp(spot.here().yarn, spot.here().link); !taken)
            return cannotStand(fault.place, sentence(taken.error()));
    }
    const EntryId firstNew{actual_->fabric->entryCount()};
    const Result<int> steps = fault.fault->work(hands, spot);
    if (!steps) return cannotStand(fault.place, sentence(steps.error()));
    if (*steps == 0) return {};
    lastLoops(hands, firstNew, ahead_, did_);
    std::vector<LoopId> made;
    for (int i = 0; i < *steps; ++i) {
        auto meant = stepMeant(row_.step);
        if (!meant) return meant;
        ++row_.step;
        made.insert(made.end(), made_.begin(), made_.end());
    }
    pair(made, did_);
    return {};
}

/// What is left of a row worked by count.
void SideBySide::workLeftOver(const WorkedRow& row) {
    const int steps = static_cast<int>(row.steps.size());
    Knitter& hands = actual_->knitter;
    const int left = hands.aheadCount();
    if (left != row_.wanted) misfits_.push_back({words().number, left - row_.wanted});
    for (int i = 0; i < left; ++i) {
        if (!hands.work(1, plainIsPurl(row, steps), Leg::leading)) return;
    }
}

tl::expected<void, FaultProblem> SideBySide::endRow() {
    const int steps = static_cast<int>(words().steps.size());
    auto worked = workTo(steps);
    if (!worked) return worked;
    if (!turnsEarly(words())) {
        if (const int left = meant_.knitter.aheadCount(); left > 0)
            return cannotBeWorked({words().number, steps, left, Refusal{Why::rowNotWorked, left}});
        if (actual_ && after_ == After::byReading) {
            workExtras(steps);
        } else if (actual_) {
            workLeftOver(words());
        }
    }
    if (actual_) loopmend::endRow(actual_->knitter, words());
    ++handsRows_;
    rowIsDone();
    return {};
}

void SideBySide::rowIsDone() {
    loopmend::endRow(meant_.knitter, words());
    row_.step = -1;
    counts_.push_back({stitchesOn(meant_.knitter), stitchesOn(actual().knitter)});
}

tl::expected<void, FaultProblem> SideBySide::workRow(const std::vector<PlacedFault>& faults) {
    for (const PlacedFault& fault : faults) {
        if (!fault.fault->misread()) continue;
        auto taken = misread(fault);
        if (!taken) return taken;
    }
    const bool worked =
        std::any_of(faults.begin(), faults.end(), [](const PlacedFault& f) { return !f.fault->misread(); });
    if (const auto rows = takenAs()) {
        if (worked) return cannotStand(faults.back().place, "that row is worked otherwise as a whole");
        return workMisread(*rows);
    }
    if (worked) split();
    if (row_.step < 0) beginRow();
    for (const PlacedFault& fault : faults) {
        if (fault.fault->misread()) continue;
        if (fault.step < row_.step) return cannotStand(fault.place, "another mistake stands there already");
        auto before = workTo(fault.step);
        if (!before) return before;
        auto made = makeMistake(fault);
        if (!made) return made;
    }
    return endRow();
}

// ---- other words
// ----------------------------------------------------------------------------------------------

tl::expected<void, FaultProblem> SideBySide::misread(const PlacedFault& fault) {
    const Misreading read = misreadingOf(*script_, fault);
    if (!fault.fault->canRead(read)) return cannotStand(fault.place, "the words cannot be taken so there");
    if (fault.fault->castsOn == nullptr) {
        misread_.push_back(fault);
        return {};
    }
    if (actual_) return cannotStand(fault.place, "another mistake was made before it");
    const PieceStart start = fault.fault->castsOn(read);
    Script begun;
    begun.castOn = start.castOn;
    begun.round = script_->round;
    begun.twist = start.twist;
    begun.yarns = script_->yarns;
    begun.rows = {script_->rows.front()};
    split();
    actual_.emplace(castOn(begun, setup_));
    row_.actualWork = RowWork(actual_->knitter);
    actualOf_.clear();
    meantOf_.clear();
    pairNeedles({}, {});
    return {};
}

/// What she works for the row that comes next, if that is not what was meant.
std::optional<std::vector<WorkedRow>> SideBySide::takenAs() const {
    for (const PlacedFault& fault : misread_) {
        std::vector<WorkedRow> taken = fault.fault->rowsFor(misreadingOf(*script_, fault), rows() + 1);
        if (taken.size() != 1 || taken.front().steps != words().steps) return taken;
    }
    if (!sameWay()) return std::vector<WorkedRow>{words()};
    return std::nullopt;
}

/// Words that the meant knitting does not follow.
void SideBySide::workBlindly(const WorkedRow& row) {
    row_.actualWork = RowWork(actual_->knitter);
    row_.ranOut = false;
    row_.wanted = 0;
    for (int step = 0; step < static_cast<int>(row.steps.size()); ++step) {
        const Step here = asMuchAs(row, step);
        if (!row_.ranOut) {
            const Result<void> done = workThere(here);
            row_.ranOut = !done && done.error().why == Why::notEnoughStitches;
        }
        if (row_.ranOut) row_.wanted += uses(here);
    }
    if (!turnsEarly(row)) workLeftOver(row);
    ++handsRows_;
}

void SideBySide::workAlone(const WorkedRow& row) {
    split();
    workBlindly(row);
    loopmend::endRow(actual_->knitter, row);
}

tl::expected<void, FaultProblem> SideBySide::workMisread(const std::vector<WorkedRow>& rows) {
    split();
    beginRow();
    const EntryId meantNew{meant_.fabric->entryCount()};
    const EntryId actualNew{actual_->fabric->entryCount()};
    const int steps = static_cast<int>(words().steps.size());
    for (; row_.step < steps; ++row_.step) {
        auto worked = stepMeant(row_.step);
        if (!worked) return worked;
    }
    if (const int left = turnsEarly(words()) ? 0 : meant_.knitter.aheadCount(); left > 0)
        return cannotBeWorked({words().number, steps, left, Refusal{Why::rowNotWorked, left}});
    for (const WorkedRow& row : rows) {
        workBlindly(row);
        loopmend::endRow(actual_->knitter, row);
    }
    pairNeedles(meantNew, actualNew);
    rowIsDone();
    return {};
}

/// Pairs what is on both needles now, after loops from meantNew and actualNew on were made.
void SideBySide::pairNeedles(EntryId meantNew, EntryId actualNew) {
    const Run run = meant_.knitter.run();
    const std::vector<LoopId> meant = needleOf(*meant_.fabric, run);
    const std::vector<LoopId> now = needleOf(*actual_->fabric, run);
    if (meant.size() == now.size() || !meantNew) {
        pair(meant, now);
        return;
    }
    std::vector<LoopId> roots;
    for (const LoopId loop : now) {
        const LoopId root = columnOf(*actual_->fabric, loop, actualNew);
        roots.push_back(root ? lookUp(meantOf_, root) : LoopId{});
    }
    // Neither needle changes the order of its columns much, so that each is found near the one before it.
    std::size_t from = 0;
    for (const LoopId loop : meant) {
        const LoopId root = columnOf(*meant_.fabric, loop, meantNew);
        const auto found = std::find(roots.begin() + static_cast<std::ptrdiff_t>(from), roots.end(), root);
        if (!root || found == roots.end()) {
            if (!(loop < meantNew)) tie(true, loop, {});
            continue;
        }
        from = static_cast<std::size_t>(found - roots.begin());
        pair({loop}, {now[from]});
        *found = {};
    }
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
              .misread = misread_.size(),
              .handsRows = handsRows_,
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
    misread_.resize(mark.misread);
    handsRows_ = mark.handsRows;
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
