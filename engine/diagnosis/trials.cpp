// SPDX-License-Identifier: MIT
#include "diagnosis/trials.h"

#include <algorithm>

#include "fabric/hands.h"
#include "fabric/itinerary.h"
#include "fault/steps.h"

namespace loopmend {

namespace {

bool isReal(const Fabric& f, EntryId e) {
    return f.isLoop(e) ? !f.isNothing(e) : !f.isFree(e) && !f.isNothing(f.passed(e));
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
    return fault.id == "decrease_escaped" || fault.id == "dec_twisted";
}

/// A walk made while a row is worked: a strand lifted or lost later in the row above shifts numbers by one or
/// two. So many entries without links may be skipped before a trial is given up.
constexpr int kShift = 2;
/// Entries after a fault that are looked at before its row is worked to the end.
constexpr int kGlance = 6;
/// A stitch that is slipped or worked below is finished one row later.
constexpr int kUnsettledRows = 1;

}  // namespace

Trials::Trials(Script script, const Setup& setup, const Fabric& actual)
    : script_(std::move(script)),
      setup_(setup),
      actual_(actual),
      faults_(catalogue()),
      target_(walkOf(actual)) {
    Itinerary lines = itinerary(actual);
    targetKnot_ = std::move(lines.knot);
    targetMeasure_ = std::move(lines.measure);
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
    same_ = parting_.at < 0 && parting_.meant.empty() && knotOf(meant()) == targetKnot_;
    const auto& rows = full_->meantLoops();
    for (std::size_t r = 0; r < rows.size(); ++r) {
        for (std::size_t s = 0; s < rows[r].size(); ++s) {
            if (rows[r][s])
                placeOf_.push_back({rows[r][s], {static_cast<int>(r) + 1, static_cast<int>(s) + 1}});
        }
    }
    std::stable_sort(placeOf_.begin(), placeOf_.end(),
                     [](const auto& a, const auto& b) { return a.first < b.first; });
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

void Trials::findPlaces() {
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
    for (const EntryId e : target_.entries) {
        // What fell hangs free: its number is the meant one's, as far as both agree.
        if (actual_.isLoop(e) && actual_.isLoose(e) && (parting_.at < 0 || target_[e] < parting_.at))
            addEntry(target_[e]);
    }
    for (const LoopId loop : anchors) {
        addAround(loop, 2);
        for (const LoopId host : f.hostsRightToLeft(loop)) addAround(host, 2);
        for (LinkId k = f[loop].firstKid; k; k = f[k].nextInHost) {
            addAround(f[k].loop, 2);
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

bool Trials::follow(const Fabric& f, Beside& beside, EntryId until) {
    if (until && beside.at == until) return true;
    if (trial_.number.size() < static_cast<std::size_t>(f.entryCount()))
        trial_.number.resize(static_cast<std::size_t>(f.entryCount()), -1);
    trial_.fabric = &f;
    const YarnId yarn{0};
    for (EntryId e = nextAlong(f, yarn, beside.at); e; e = f[e].next) {
        beside.at = e;
        if (isReal(f, e)) {
            if (beside.next >= static_cast<std::int32_t>(target_.entries.size())) return false;
            trial_.number[static_cast<std::size_t>(e.value)] = beside.next;
            if (alike(trial_, e, target_, target_.entries[static_cast<std::size_t>(beside.next)]) !=
                Alike::same)
                return false;
            ++beside.next;
        } else {
            trial_.number[static_cast<std::size_t>(e.value)] = -1;
        }
        if (e == until) return true;
    }
    return true;
}

/// What an earlier trial has numbered is worth nothing: entries that it may have walked have the faultless
/// numbers again.
void Trials::forgetTrial() {
    const auto from = static_cast<std::ptrdiff_t>(forgetFrom_);
    trial_.number.resize(std::max(trial_.number.size(), meantWalk_.number.size()));
    std::copy(meantWalk_.number.begin() + from, meantWalk_.number.end(), trial_.number.begin() + from);
    std::fill(trial_.number.begin() + static_cast<std::ptrdiff_t>(meantWalk_.number.size()),
              trial_.number.end(), -1);
}

/// The first stitches after a mistake, before the row is worked to its end: could it be this one? Where the
/// cloth parts before the mistake itself, numbers are not known and nothing is said.
bool Trials::soFarRight(const SideBySide::Began& began) {
    const Fabric& f = *base_->actual().fabric;
    EntryId at = began.after;
    while (at && !isReal(f, at)) at = f[at].prev;
    const std::int32_t before = at ? meantWalk_[at] : -1;
    if (before < 0 || (parting_.at >= 0 && before >= parting_.at)) return true;
    if (trial_.number.size() < static_cast<std::size_t>(f.entryCount()))
        trial_.number.resize(static_cast<std::size_t>(f.entryCount()), -1);
    trial_.fabric = &f;
    std::int32_t next = before + 1;
    std::vector<EntryId> numbered;
    const auto unknown = [&](EntryId e) {
        return !(e < began.firstNew) && std::find(numbered.begin(), numbered.end(), e) == numbered.end();
    };
    for (EntryId e = f[at].next; e && static_cast<int>(numbered.size()) < kGlance; e = f[e].next) {
        if (!isReal(f, e)) continue;
        // Through a strand lifted since, whose number is not known: nothing can be said from here on.
        for (LinkId l = f.isLoop(e) ? f[e].firstLink : LinkId{}; l; l = f[l].nextInLoop) {
            if (unknown(f[l].host)) return true;
        }
        numbered.push_back(e);
        for (int skipped = 0;; ++skipped) {
            if (next >= static_cast<std::int32_t>(target_.entries.size())) return true;
            const EntryId there = target_.entries[static_cast<std::size_t>(next)];
            trial_.number[static_cast<std::size_t>(e.value)] = next;
            if (alike(trial_, e, target_, there) == Alike::same) break;
            const bool bare = actual_.isLoop(there) && !actual_[there].firstLink;
            if (!bare || skipped == kShift) return false;
            ++next;
        }
        ++next;
    }
    return true;
}

/// Brings the base up to the row below the next places.
void Trials::raiseBase(int row) {
    if (!base_) {
        base_.emplace(script_, setup_, After::byReading);
        // Entries of the faultless knitting have the same ids in the base: it was worked by the same hands.
        trial_.number = meantWalk_.number;
        trial_.backwards = meantWalk_.backwards;
    }
    forgetTrial();
    base_->setAfter(After::byReading);
    while (base_->rows() < row) (void)base_->workRow();
    int settled = row - kUnsettledRows;
    const auto known = [&](int r) {
        const EntryId e = lastOfRow_[static_cast<std::size_t>(r)];
        return meantWalk_[e] >= 0 && (parting_.at < 0 || meantWalk_[e] < parting_.at);
    };
    while (settled > 0 && !known(settled)) --settled;
    baseBeside_ = {};
    forgetFrom_ = 0;
    if (settled > 0) {
        forgetFrom_ = static_cast<std::size_t>(base_->firstOfRow(settled + 1).value);
        baseBeside_.at = lastOfRow_[static_cast<std::size_t>(settled)];
        baseBeside_.next = meantWalk_[baseBeside_.at] + 1;
    }
}

/// Which faults can stand at the places of the next row: it is worked once, and taken back.
std::vector<std::vector<const Fault*>> Trials::standing(const std::vector<Place>& places) {
    std::vector<std::vector<const Fault*>> stand(places.size());
    forgetTrial();
    const SideBySide::Mark before = base_->mark();
    WorkedRow& row = script_.rows[static_cast<std::size_t>(base_->rows())];
    Knitter& hands = base_->actual().knitter;
    RowWork work(hands);
    int stitch = 1;
    std::size_t next = 0;
    for (int i = 0; i < static_cast<int>(row.steps.size()) && next < places.size(); ++i) {
        Step& step = row.steps[static_cast<std::size_t>(i)];
        for (; next < places.size() && places[next].stitch < stitch + stitchesOf(step); ++next) {
            if (places[next].stitch != stitch || takesLoopLeft(row, i)) continue;
            for (const Fault* fault : faults_) {
                if (!fault->suffered() && fault->standsOn({row, i, hands})) stand[next].push_back(fault);
            }
        }
        stitch += stitchesOf(step);
        if (!work.work(step)) break;
    }
    base_->rollBack(before);
    return stand;
}

// ---- trials
// --------------------------------------------------------------------------------------------------

void Trials::judge(SideBySide& both, Beside beside, const PlacedFault& fault, After after) {
    const Fabric& f = *both.actual().fabric;
    if (!follow(f, beside, EntryId{})) return;
    if (beside.next != static_cast<std::int32_t>(target_.entries.size())) return;
    const Itinerary lines = itinerary(f);
    if (lines.knot != targetKnot_) return;
    proved_.push_back({fault.fault, fault.place, after, lines.measure == targetMeasure_});
}

void Trials::goOnToEnd(const PlacedFault& fault, After after, Beside beside, EntryId settled, int worked) {
    const Fabric& f = *base_->actual().fabric;
    while (true) {
        if (settled && f.has(settled) && !follow(f, beside, settled)) return;
        if (base_->done()) break;
        settled = worked >= kUnsettledRows ? f[YarnId{0}].last : EntryId{};
        ++worked;
        if (!base_->workRow()) return;
    }
    judge(*base_, beside, fault, after);
}

void Trials::tryOne(const PlacedFault& fault, After after) {
    forgetTrial();
    const SideBySide::Mark before = base_->mark();
    base_->setAfter(after);
    Beside beside = baseBeside_;
    const Fabric& f = *base_->actual().fabric;
    bool possible = true;
    while (possible && base_->rows() + 1 < fault.place.row) possible = base_->workRow().has_value();
    const EntryId settled = f[YarnId{0}].last;
    if (possible)
        possible = base_->workRow({fault}, [&](const SideBySide::Began& began) { return soFarRight(began); })
                       .has_value();
    if (possible) goOnToEnd(fault, after, beside, settled, kUnsettledRows);
    base_->rollBack(before);
}

void Trials::tryWorked(const Place& at, const std::vector<const Fault*>& stand) {
    WorkedRow& row = script_.rows[static_cast<std::size_t>(at.row) - 1];
    const std::optional<int> step = stepOfStitch(row, at.stitch);
    if (!step) return;
    for (const Fault* fault : stand) {
        const PlacedFault placed{fault, {std::string(fault->id), at.row, at.stitch, 0}, *step};
        for (const After after : {After::byReading, After::byCount}) {
            tryOne(placed, after);
            Op& op = row.steps[static_cast<std::size_t>(*step)].op;
            const std::optional<Op> twin = dependsOnTheWay(*fault) ? twinOf(op) : std::nullopt;
            if (!twin) continue;
            const Op read = op;
            op = *twin;
            tryOne(placed, after);
            op = read;
        }
    }
}

/// What fell when all rows were done.
void Trials::tryFallen(const Place& at) {
    const bool last = at.row == static_cast<int>(script_.rows.size());
    for (const Fault* fault : faults_) {
        if (!fault->suffered() || (!fault->runs && !last)) continue;
        const PlacedFault placed{fault, {std::string(fault->id), at.row, at.stitch, 0}, 0};
        forgetTrial();
        const SideBySide::Mark before = full_->mark();
        if (full_->suffer(placed)) judge(*full_, baseBeside_, placed, After::byReading);
        full_->rollBack(before);
    }
}

/// How many rows came out under the stitch that hangs free: its long rungs.
int Trials::longRungsBelow() const {
    int most = 0;
    for (const EntryId e : target_.entries) {
        if (!actual_.isLoop(e) || !actual_.isLoose(e)) continue;
        int n = 0;
        for (const PassId rung : rungs(actual_, e)) n += isLongRung(actual_, rung) ? 1 : 0;
        most = std::max(most, n);
    }
    return most;
}

/// What fell, and ran, before she knitted on.
void Trials::tryFallenEarlier(const Place& at) {
    const int rows = static_cast<int>(script_.rows.size());
    const int ran = longRungsBelow();
    for (const Fault* fault : faults_) {
        if (!fault->suffered()) continue;
        const int through = fault->runs ? ran : 1;
        const int row = at.row + through - 1;
        if (through < 1 || row >= rows) continue;
        const PlacedFault placed{
            fault, {std::string(fault->id), at.row, at.stitch, fault->runs ? through : 0}, 0};
        for (const After after : {After::byReading, After::byCount}) {
            forgetTrial();
            const SideBySide::Mark before = base_->mark();
            base_->setAfter(after);
            bool possible = true;
            while (possible && base_->rows() < row) possible = base_->workRow().has_value();
            if (possible && base_->suffer(placed)) goOnToEnd(placed, after, baseBeside_, EntryId{}, 0);
            base_->rollBack(before);
        }
    }
}

std::vector<Proved> Trials::run() {
    findPlaces();
    bool fell = false;
    for (const EntryId e : target_.entries) fell = fell || (actual_.isLoop(e) && actual_.isLoose(e));
    // A run down to a yarn-over leaves nothing loose, but loops are gone.
    const bool lost = fell || actual_.loopCount() < meant().loopCount();
    for (std::size_t i = 0; i < places_.size();) {
        std::size_t end = i;
        while (end < places_.size() && places_[end].row == places_[i].row) ++end;
        raiseBase(places_[i].row - 1);
        const std::vector<Place> inRow(places_.begin() + static_cast<std::ptrdiff_t>(i),
                                       places_.begin() + static_cast<std::ptrdiff_t>(end));
        const auto stand = standing(inRow);
        for (std::size_t k = 0; k < inRow.size(); ++k) {
            tryWorked(inRow[k], stand[k]);
            if (fell) tryFallenEarlier(inRow[k]);
            if (lost) tryFallen(inRow[k]);
        }
        i = end;
    }
    return proved_;
}

}  // namespace loopmend
