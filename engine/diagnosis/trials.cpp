// SPDX-License-Identifier: MIT
#include "diagnosis/trials.h"

#include <algorithm>

#include "fabric/hands.h"
#include "fabric/itinerary.h"
#include "fault/knit_with.h"
#include "fault/steps.h"

namespace loopmend {

namespace {

/// A loop of the normal form. (Strands that go by are left to the comparison of the whole.)
bool isSomething(const Fabric& f, EntryId e) {
    return f.isLoop(e) && !f.isNothing(e);
}

EntryId nextAlong(const Fabric& f, YarnId yarn, EntryId at) {
    return at ? f[at].next : f[yarn].first;
}

/// The same stitch worked another way, which reading cannot tell.
std::optional<Op> twinOf(Op op) {
    switch (op) {
        case Op::ssk: return Op::skp;
        case Op::p2tog: return Op::spp;
        default: return std::nullopt;
    }
}

bool dependsOnTheWay(const Fault& fault) {
    return fault.id == "decrease_escaped" || fault.id == "dec_twisted" || fault.id == "dec_3_for_2";
}

/// How many stitches beside the parting the hands may have been, and where one looks if nothing is found
/// there.
constexpr int kNear = 2;
constexpr int kFar = 25;
/// How far numbers may be shifted by strands lifted or lost later on.
constexpr int kShift = 2;
/// Stitches after a fault that are looked at before its row is worked to the end.
constexpr int kGlance = 4;

/// What stands in the cloth, or hangs free for good, stays as it is while she knits on. What is on a needle
/// may still be pulled, dropped, entered below, or get a lifted strand beside it.
bool isSettled(const Fabric& f, LoopId loop) {
    return !f.isLive(loop) || f.isLoose(loop);
}

bool couldBe(const Walk& trial, EntryId x, const Walk& target, EntryId y) {
    const Fabric& f = *trial.fabric;
    const Fabric& g = *target.fabric;
    const auto near = [](std::int32_t a, std::int32_t b) {
        return a < 0 || b < 0 || std::abs(a - b) <= kShift;
    };
    if (f.isLoop(x) != g.isLoop(y)) return false;
    if (!f.isLoop(x)) return near(trial[f.passed(x)], target[g.passed(y)]);
    LinkId l = f[x].firstLink;
    LinkId m = g[y].firstLink;
    for (; l && m; l = f[l].nextInLoop, m = g[m].nextInLoop) {
        if (f[l].form.side != g[m].form.side || f[l].form.twist != g[m].form.twist) return false;
        if (!near(trial[f[l].host], target[g[m].host])) return false;
    }
    return !l && !m;
}

}  // namespace

namespace {

/// Where only the yarn lies otherwise, knots do not tell.
std::vector<const Fault*> changingTheKnot() {
    std::vector<const Fault*> faults = catalogue();
    faults.erase(std::remove_if(faults.begin(), faults.end(),
                                [](const Fault* f) { return f->family == Family::lengths; }),
                 faults.end());
    return faults;
}

}  // namespace

Trials::Trials(const Script& whole, int rows, const Setup& setup, const Fabric& actual)
    : script_(whole),
      whole_(whole),
      setup_(setup),
      actual_(actual),
      faults_(changingTheKnot()),
      target_(walkOf(actual)) {
    script_.rows.resize(static_cast<std::size_t>(rows));
    full_.emplace(script_, setup_, After::byReading);
    const auto lastEntry = [&] {
        const Knitting& k = full_->actual();
        return (*k.fabric)[k.knitter.yarn()].last;
    };
    lastOfRow_.push_back(lastEntry());
    while (!full_->done()) {
        if (!full_->workRow()) return;
        lastOfRow_.push_back(lastEntry());
    }
    works_ = true;
    meantWalk_ = walkOf(meant());
    parting_ = loopmend::parting(meantWalk_, target_);
    same_ = parting_.at < 0 && parting_.meant.empty() && knotOf(meant()) == targetLines().knot;
    const auto& loops = full_->meantLoops();
    for (std::size_t r = 0; r < loops.size(); ++r) {
        for (std::size_t s = 0; s < loops[r].size(); ++s) {
            if (loops[r][s])
                placeOf_.push_back({loops[r][s], {static_cast<int>(r) + 1, static_cast<int>(s) + 1}});
        }
    }
    std::stable_sort(placeOf_.begin(), placeOf_.end(),
                     [](const auto& a, const auto& b) { return a.first < b.first; });
}

const Itinerary& Trials::targetLines() {
    if (!targetLines_) targetLines_ = itinerary(actual_);
    return *targetLines_;
}

std::vector<Trials::Place> Trials::placesOf(LoopId loop) const {
    std::vector<Place> places;
    auto it = std::lower_bound(placeOf_.begin(), placeOf_.end(), loop,
                               [](const auto& entry, LoopId id) { return entry.first < id; });
    for (; it != placeOf_.end() && it->first == loop; ++it) places.push_back(it->second);
    return places;
}

Trials::Place Trials::partingPlace() const {
    std::vector<LoopId> near = parting_.meant;
    if (parting_.at >= 0) {
        near.clear();
        const auto n = static_cast<std::int32_t>(meantWalk_.entries.size());
        for (std::int32_t i = std::min(parting_.at, n - 1); i >= 0; --i) {
            const EntryId e = meantWalk_.entries[static_cast<std::size_t>(i)];
            near.push_back(meant().isLoop(e) ? e : meant().passed(e));
            if (!placesOf(near.back()).empty()) break;
        }
    }
    for (const LoopId loop : near) {
        const std::vector<Place> places = placesOf(loop);
        if (!places.empty()) return places.front();
    }
    return {};
}

// ---- where to try
// --------------------------------------------------------------------------------------------

void Trials::addPlace(int row, int stitch) {
    if (row < 1 || row > static_cast<int>(script_.rows.size())) return;
    const WorkedRow& words = script_.rows[static_cast<std::size_t>(row) - 1];
    const std::optional<int> step = stepOfStitch(words, stitch);
    if (!step) return;
    places_.push_back({row, stitch});
    places_.push_back({row, stitchOfStep(words, *step)});
}

void Trials::addAround(LoopId loop, int spread) {
    for (const Place& p : placesOf(loop)) {
        for (int d = -spread; d <= spread; ++d) addPlace(p.row, p.stitch + d);
    }
}

void Trials::findPlaces(bool far) {
    const Fabric& f = meant();
    std::vector<LoopId> anchors = parting_.meant;
    const auto n = static_cast<std::int32_t>(meantWalk_.entries.size());
    const auto addEntry = [&](std::int32_t i) {
        if (i < 0 || i >= n) return;
        const EntryId e = meantWalk_.entries[static_cast<std::size_t>(i)];
        anchors.push_back(f.isLoop(e) ? e : f.passed(e));
    };
    if (parting_.at >= 0) {
        for (std::int32_t i = parting_.at - 1; i <= parting_.at + 1; ++i) addEntry(i);
        addEntry(std::min(parting_.at, n - 1));
    }
    for (const LoopId loop : target_.loops) {
        // What fell hangs free: its place is the meant one's, as far as both agree.
        const std::int32_t place = target_.placeOf(loop);
        if (actual_.isLoose(loop) && (parting_.at < 0 || place < parting_.at)) addEntry(place);
    }
    // A strand that was lifted in another gap parts the two far below the stitch that moved it, and one
    // strand looks like another.
    const auto bare = [&](const Fabric& g, const Walk& walk) {
        if (parting_.at < 0 || parting_.at >= static_cast<std::int32_t>(walk.entries.size())) return false;
        const EntryId e = walk.entries[static_cast<std::size_t>(parting_.at)];
        return g.isLoop(e) && !g[e].firstLink;
    };
    const int spread = far ? kFar : bare(f, meantWalk_) || bare(actual_, target_) ? 2 * kNear : kNear;
    for (const LoopId loop : anchors) {
        addAround(loop, spread);
        for (const LoopId host : f.hostsRightToLeft(loop)) addAround(host, far ? kFar : kNear);
        for (LinkId k = f[loop].firstKid; k; k = f[k].nextInHost) {
            addAround(f[k].loop, spread);
            // Through a lifted strand to the stitch that it became, and to the stitch on that.
            for (LinkId kk = f[f[k].loop].firstKid; kk; kk = f[kk].nextInHost) addAround(f[kk].loop, 1);
        }
    }
    const Place at = partingPlace();
    for (int row = at.row - 1; row <= at.row + 1; ++row) {
        if (row < 1 || row > static_cast<int>(script_.rows.size())) continue;
        const int last = stitchesIn(script_.rows[static_cast<std::size_t>(row) - 1]);
        for (const int stitch : {1, 2, last - 1, last}) addPlace(row, stitch);
    }
    std::sort(places_.begin(), places_.end(), [](const Place& a, const Place& b) {
        return a.row != b.row ? a.row < b.row : a.stitch < b.stitch;
    });
    places_.erase(
        std::unique(places_.begin(), places_.end(),
                    [](const Place& a, const Place& b) { return a.row == b.row && a.stitch == b.stitch; }),
        places_.end());
}

// ---- walking beside the actual cloth
// -------------------------------------------------------------------------

/// Walks on, as far as nothing can change any more while she knits on (`all`: to the end of the yarn). False
/// where the two disagree.
bool Trials::follow(const Fabric& f, Beside& beside, bool all) {
    if (trial_.number.size() < static_cast<std::size_t>(f.entryCount()))
        trial_.number.resize(static_cast<std::size_t>(f.entryCount()), -1);
    trial_.fabric = &f;
    for (EntryId e = nextAlong(f, YarnId{0}, beside.at); e; e = f[e].next) {
        if (!f.isLoop(e)) continue;
        if (!all && !isSettled(f, e)) return true;
        beside.at = e;
        std::int32_t& number = trial_.number[static_cast<std::size_t>(e.value)];
        number = -1;
        if (f.isNothing(e)) continue;
        if (beside.next >= static_cast<std::int32_t>(target_.loops.size())) return false;
        number = beside.next;
        const LoopId there = target_.loops[static_cast<std::size_t>(beside.next)];
        if (alike(trial_, e, target_, there) != Alike::same) return false;
        ++beside.next;
    }
    return true;
}

/// What an earlier trial has numbered is worth nothing: loops of the base that it may have walked have the
/// faultless numbers again, newer ones none.
void Trials::forgetTrial() {
    const auto base = static_cast<std::size_t>(base_->actual().fabric->entryCount());
    trial_.number.resize(std::max(trial_.number.size(), base));
    for (std::int32_t i = baseBeside_.next; i <= baseLast_; ++i) {
        const auto id = static_cast<std::size_t>(meantWalk_.loops[static_cast<std::size_t>(i)].value);
        if (id < base) trial_.number[id] = i;
    }
    std::fill(trial_.number.begin() + static_cast<std::ptrdiff_t>(base), trial_.number.end(), -1);
}

/// The first stitches after a mistake, before the row is worked to its end: could it be this one? Only loops
/// with links are looked at, and numbers roughly: a strand lifted near by later on moves them. Where the
/// cloth parts before the mistake itself nothing is said.
bool Trials::soFarRight(EntryId after) {
    const Fabric& f = *base_->actual().fabric;
    LoopId at = after;
    while (at && !isSomething(f, at)) at = f[at].prev;
    const std::int32_t before = at ? meantWalk_[at] : -1;
    if (before < 0 || (parting_.at >= 0 && meantWalk_.placeOf(at) >= parting_.at)) return true;
    trial_.fabric = &f;
    std::vector<LoopId> mine;
    for (EntryId e = f[at].next; e && static_cast<int>(mine.size()) < kGlance; e = f[e].next) {
        if (f.isLoop(e) && f[e].firstLink) mine.push_back(e);
    }
    std::vector<LoopId> there;
    for (auto i = static_cast<std::size_t>(std::max(0, before - kShift));
         i < target_.loops.size() && there.size() < mine.size() + 3U * kShift; ++i) {
        if (actual_[target_.loops[i]].firstLink) there.push_back(target_.loops[i]);
    }
    for (std::size_t shift = 0; shift + mine.size() <= there.size(); ++shift) {
        std::size_t i = 0;
        while (i < mine.size() && couldBe(trial_, mine[i], target_, there[shift + i])) ++i;
        if (i == mine.size()) return true;
    }
    return false;
}

/// Brings the base up to the row below the next places.
void Trials::raiseBase(int row) {
    if (!base_) {
        base_.emplace(whole_, setup_, After::byReading);
        trial_.backwards = meantWalk_.backwards;
    }
    // Entries of the faultless knitting have the same ids in the base: it was worked by the same hands.
    trial_.number = meantWalk_.number;
    base_->setAfter(After::byReading);
    while (base_->rows() < row) (void)base_->workRow();
    base_->split();
    // The faultless yarn is known to agree as far as both walks do, and nothing happens any more before the
    // first loop that is on a needle still.
    const Fabric& f = *base_->actual().fabric;
    const auto numberBefore = [&](EntryId e) {
        while (e && meantWalk_[e] < 0) e = f[e].prev;
        return e ? meantWalk_[e] : -1;
    };
    baseLast_ = numberBefore(lastOfRow_[static_cast<std::size_t>(row)]);
    std::int32_t settled = baseLast_ + 1;
    for (std::int32_t t = 0; t < f.toolCount(); ++t) {
        for (HeldId h = f[ToolId{t}].first; h; h = f[h].next) {
            if (meantWalk_[f[h].loop] >= 0) settled = std::min(settled, meantWalk_[f[h].loop]);
        }
    }
    const auto isKnown = [&](std::int32_t number) {
        const LoopId loop = meantWalk_.loops[static_cast<std::size_t>(number)];
        return f.has(loop) && loop.value < f.entryCount() &&
               (parting_.at < 0 || meantWalk_.placeOf(loop) < parting_.at);
    };
    while (settled > 0 && !isKnown(settled - 1)) --settled;
    baseBeside_ = {};
    if (settled > 0) baseBeside_ = {meantWalk_.loops[static_cast<std::size_t>(settled) - 1], settled};
}

// ---- trials
// --------------------------------------------------------------------------------------------------

bool Trials::judge(SideBySide& both, Beside beside, const PlacedFault& fault, After after) {
    const Fabric& f = *both.actual().fabric;
    if (!follow(f, beside, true)) return false;
    if (beside.next != static_cast<std::int32_t>(target_.loops.size())) return false;
    const Itinerary lines = itinerary(f);
    if (lines.knot != targetLines().knot) return false;
    const int last = fault.fault->misread() ? rowOf(whole_, fault) : fault.place.row;
    proved_.push_back({fault.fault, fault.place, after, lines.measure == targetLines().measure,
                       !fault.fault->misread() || both.done(), last == both.rows()});
    return true;
}

/// Knits on to the last row, as long as what cannot change any more is as it is in the actual cloth.
void Trials::goOnToEnd(const PlacedFault& fault, After after) {
    const Fabric& f = *base_->actual().fabric;
    Beside beside = baseBeside_;
    while (follow(f, beside, false)) {
        if (base_->rows() == static_cast<int>(script_.rows.size())) {
            judge(*base_, beside, fault, after);
            return;
        }
        if (!base_->workRow()) return;
    }
}

/// The base stands before the step.
void Trials::tryOne(const PlacedFault& fault, After after) {
    forgetTrial();
    const SideBySide::Mark before = base_->mark();
    base_->setAfter(after);
    const Fabric& f = *base_->actual().fabric;
    const EntryId began = f[YarnId{0}].last;
    const int steps = static_cast<int>(script_.rows[static_cast<std::size_t>(base_->rows())].steps.size());
    bool possible = base_->makeMistake(fault).has_value() && soFarRight(began);
    for (int i = 0; possible && i < kGlance && base_->step() < steps; ++i)
        possible = base_->workTo(base_->step() + 1).has_value() && soFarRight(began);
    if (possible && base_->endRow()) goOnToEnd(fault, after);
    base_->rollBack(before);
}

void Trials::tryWorked(const Place& at, int step) {
    WorkedRow& row = whole_.rows[static_cast<std::size_t>(at.row) - 1];
    for (const Fault* fault : faults_) {
        if (fault->standsOn == nullptr) continue;
        const Spot spot{row, step, base_->actual().knitter, at.stitch - stitchOfStep(row, step)};
        if (!fault->standsOn(spot)) continue;
        const PlacedFault placed{fault, {std::string(fault->id), at.row, at.stitch, 0}, step};
        for (const After after : {After::byReading, After::byCount}) tryOne(placed, after);
    }
    Op& op = row.steps[static_cast<std::size_t>(step)].op;
    const std::optional<Op> twin = twinOf(op);
    if (!twin) return;
    const Op read = op;
    op = *twin;
    for (const Fault* fault : faults_) {
        if (!dependsOnTheWay(*fault) || !fault->standsOn({row, step, base_->actual().knitter})) continue;
        const PlacedFault placed{fault, {std::string(fault->id), at.row, at.stitch, 0}, step};
        for (const After after : {After::byReading, After::byCount}) tryOne(placed, after);
    }
    op = read;
}

// ---- rows taken otherwise
// -----------------------------------------------------------------------------------------------

/// How many rows below a stitch the strand may lie that was lifted for it.
constexpr int kBelow = 2;

/// A row more or less shows at the latest when what it repeats has gone by.
std::vector<int> Trials::rowsToMisread() const {
    constexpr int kRowsBefore = 6;
    const int at = partingPlace().row;
    const int last =
        std::min(static_cast<int>(whole_.rows.size()), static_cast<int>(script_.rows.size()) + 1);
    std::vector<int> rows;
    for (int row = std::max(1, at - kRowsBefore); row <= std::min(at + kBelow, last); ++row)
        rows.push_back(row);
    return rows;
}

/// The base stands before the row.
void Trials::tryMisreadInRow(int row) {
    constexpr int kStitchesBefore = 12;
    const WorkedRow& words = whole_.rows[static_cast<std::size_t>(row) - 1];
    const int inRow = stitchesIn(words);
    const Place at = partingPlace();
    const auto isNear = [&](int stitch) {
        const int off = at.stitch - stitch;
        return at.stitch == 0 || (off >= -kNear && off <= kStitchesBefore);
    };
    for (const Fault* fault : faults_) {
        if (!fault->misread() || (fault->castsOn != nullptr && (row > 1 || at.row > 1))) continue;
        int stitch = 1;
        for (int step = 0; step < static_cast<int>(words.steps.size()); ++step) {
            const int width = stitchesOf(words.steps[static_cast<std::size_t>(step)]);
            // Other rows may be worked from the other end.
            const bool near =
                fault->wholeRow || isNear(stitch) || (row != at.row && isNear(inRow + 1 - stitch));
            if (width > 0 && near) tryMisreadAt(*fault, {row, stitch}, step);
            stitch += width;
            if (fault->wholeRow && stitch > 1) break;
        }
    }
}

/// By the usual amount, else by others.
void Trials::tryMisreadAt(const Fault& fault, const Place& at, int step) {
    const std::size_t before = proved_.size();
    for (const int by : {0, 1, -2, 2}) {
        const PlacedFault placed{&fault, {std::string(fault.id), at.row, at.stitch, by}, step};
        if (proved_.size() > before || !fault.canRead(misreadingOf(whole_, placed))) continue;
        if (fault.rowsFor != nullptr) {
            const int differs =
                std::min(firstDifference(whole_, placed).inRow, static_cast<int>(script_.rows.size()));
            // A strand lifted otherwise parts the two in the row that it lies in, below the stitch.
            const int off = differs - partingPlace().row;
            if (off < -1 || off > kBelow) continue;
        }
        if (tryMisread(placed, After::byReading)) tryMisread(placed, After::byCount);
    }
}

/// Whether she could have gone on otherwise: some row did not have its stitches.
bool Trials::tryMisread(const PlacedFault& fault, After after) {
    if (fault.fault->castsOn != nullptr) {
        // Nothing is known to agree.
        SideBySide both(whole_, setup_, after);
        if (!both.misread(fault)) return false;
        trial_.number.clear();
        goOnMisread(both, {}, fault, after);
        trial_.number = meantWalk_.number;
        return true;
    }
    forgetTrial();
    const SideBySide::Mark before = base_->mark();
    base_->setAfter(after);
    bool counts = true;
    if (base_->misread(fault)) counts = goOnMisread(*base_, baseBeside_, fault, after);
    base_->rollBack(before);
    return !counts;
}

/// Which of its rows the actual cloth ends with is not known beforehand. Whether all counts were right.
bool Trials::goOnMisread(SideBySide& both, Beside beside, const PlacedFault& fault, After after) {
    const int first = rowOf(whole_, fault);
    bool counts = true;
    while (follow(*both.actual().fabric, beside, false)) {
        if (both.rows() >= first && judge(both, beside, fault, after)) {
            // Then blindly, too.
            if (counts) {
                proved_.push_back(proved_.back());
                proved_.back().after = After::byCount;
            }
            return counts;
        }
        if (both.done() || !both.workRow()) return counts;
        // Also of those that were left waiting.
        counts = counts && both.counts().back().meant == both.counts().back().actual &&
                 both.actual().knitter.behind().empty();
    }
    return counts;
}

/// The base goes through the row once; at every place the mistakes are made and taken back.
void Trials::tryWorkedInRow(const std::vector<Place>& places) {
    forgetTrial();
    const SideBySide::Mark before = base_->mark();
    const WorkedRow& row = whole_.rows[static_cast<std::size_t>(base_->rows())];
    base_->setAfter(After::byCount);
    for (const Place& at : places) {
        const std::optional<int> step = stepOfStitch(row, at.stitch);
        if (!step || at.stitch != stitchOfStep(row, *step) || takesLoopLeft(row, *step)) continue;
        if (!base_->workTo(*step)) break;
        tryWorked(at, *step);
    }
    base_->rollBack(before);
}

/// What fell when all rows were done.
void Trials::tryFallen(const Place& at) {
    const bool last = at.row == static_cast<int>(script_.rows.size());
    for (const Fault* fault : faults_) {
        if (!fault->suffered() || (!fault->runs && !fault->inCloth && !last)) continue;
        const PlacedFault placed{fault, {std::string(fault->id), at.row, at.stitch, 0}, 0};
        forgetTrial();
        full_->split();
        const SideBySide::Mark before = full_->mark();
        if (full_->suffer(placed)) judge(*full_, baseBeside_, placed, After::byReading);
        full_->rollBack(before);
    }
}

/// Stitches that hang free, by the rungs above them.
void Trials::findFallen() {
    for (const LoopId e : target_.loops) {
        if (!actual_.isLoose(e)) continue;
        Fallen fallen{0, 0};
        for (const PassId rung : rungs(actual_, e)) (isLongRung(actual_, rung) ? fallen.ran : fallen.left)++;
        const auto same = [&](const Fallen& f) { return f.ran == fallen.ran && f.left == fallen.left; };
        if (std::none_of(fallen_.begin(), fallen_.end(), same)) fallen_.push_back(fallen);
    }
}

/// What fell, and ran, before she knitted on: each row since has left a short rung (a row more or less where
/// the edge is near).
void Trials::tryFallenEarlier(const Place& at) {
    const int rows = static_cast<int>(script_.rows.size());
    for (const Fallen& fallen : fallen_) {
        if (fallen.left == 0) continue;
        for (const Fault* fault : faults_) {
            if (!fault->suffered() || fault->inCloth || fault->runs != (fallen.ran > 0)) continue;
            const int row = at.row + std::max(fallen.ran, 1) - 1;
            if (row >= rows || std::abs(rows - row - fallen.left) > 1) continue;
            const PlacedFault placed{
                fault, {std::string(fault->id), at.row, at.stitch, fault->runs ? fallen.ran : 0}, 0};
            for (const After after : {After::byReading, After::byCount}) {
                forgetTrial();
                const SideBySide::Mark before = base_->mark();
                base_->setAfter(after);
                bool possible = true;
                while (possible && base_->rows() < row) possible = base_->workRow().has_value();
                if (possible && base_->suffer(placed)) goOnToEnd(placed, after);
                base_->rollBack(before);
            }
        }
    }
}

void Trials::tryPlaces(bool far) {
    places_.clear();
    base_.reset();
    findPlaces(far);
    // A run down to a yarn-over leaves nothing loose, but loops are gone.
    const bool lost = !fallen_.empty() || actual_.loopCount() < meant().loopCount();
    const std::vector<int> misread = far ? std::vector<int>{} : rowsToMisread();
    std::vector<int> rows = misread;
    for (const Place& at : places_) rows.push_back(at.row);
    std::sort(rows.begin(), rows.end());
    rows.erase(std::unique(rows.begin(), rows.end()), rows.end());
    for (const int row : rows) {
        std::vector<Place> places;
        for (const Place& at : places_) {
            if (at.row == row) places.push_back(at);
        }
        raiseBase(row - 1);
        tryWorkedInRow(places);
        for (const Place& at : places) {
            tryFallenEarlier(at);
            if (lost) tryFallen(at);
        }
        if (std::binary_search(misread.begin(), misread.end(), row)) tryMisreadInRow(row);
    }
}

std::vector<Proved> Trials::run() {
    findFallen();
    tryPlaces(false);
    if (proved_.empty()) tryPlaces(true);
    return proved_;
}

}  // namespace loopmend
