// SPDX-License-Identifier: MIT
// A trial walked beside the actual cloth.
#include <algorithm>
#include <cstdlib>
#include <functional>
#include <iterator>

#include "diagnosis/trials.h"
#include "fabric/hands.h"
#include "fabric/itinerary.h"
#include "fabric/rows.h"
#include "fault/knit_with.h"
#include "fault/steps.h"

namespace loopmend {

namespace {

/// Stitches after a mistake that are looked at before its row is worked to the end.
constexpr std::size_t kGlance = 4;

/// A loop of the normal form. (Strands that go by are left to the comparison of the whole.)
bool isSomething(const Fabric& f, EntryId e) {
    return f.isLoop(e) && !f.isNothing(e);
}

/// What stands in the cloth, or hangs free for good, stays as it is while she knits on. What is on a needle
/// may still be pulled, dropped, entered below, or get a lifted strand beside it.
bool isSettled(const Fabric& f, LoopId loop) {
    return !f.isLive(loop) || f.isLoose(loop);
}

/// Loops before the places where two walks part.
int loopsBefore(const Walk& walk, const Parting& parting) {
    int n = 0;
    for (std::size_t y = 0; y < walk.yarns.size(); ++y) {
        const std::vector<LoopId>& loops = walk.yarns[y].loops;
        const std::int32_t at = parting.at[y];
        const auto before = [&](LoopId loop, std::int32_t until) { return walk.placeOf(loop) < until; };
        n += at < 0
                 ? static_cast<int>(loops.size())
                 : static_cast<int>(std::lower_bound(loops.begin(), loops.end(), at, before) - loops.begin());
    }
    return n;
}

}  // namespace

int Beside::loops() const {
    int n = 0;
    for (const Yarn& yarn : yarns) n += yarn.next;
    return n;
}

Target::Target(const Fabric& cloth)
    : fabric(cloth), walk(walkOf(cloth)), rows(std::max(0, rowsOf(cloth).last)) {
    for (const WalkedYarn& yarn : walk.yarns) {
        for (const LoopId e : yarn.loops) {
            if (!cloth.isLoose(e)) continue;
            ++loose;
            Fallen here;
            for (const PassId rung : rungs(cloth, e)) (isLongRung(cloth, rung) ? here.ran : here.left)++;
            const auto same = [&](const Fallen& f) { return f.ran == here.ran && f.left == here.left; };
            if (std::none_of(fallen.begin(), fallen.end(), same)) fallen.push_back(here);
        }
    }
}

Trials::Trials(const Target& target, const Script& whole, int rows, const Setup& setup,
               std::vector<KnownFault> known, int keep)
    : target_(target), script_(whole), whole_(whole), rows_(rows), setup_(setup), known_(std::move(known)) {
    for (const KnownFault& k : known_) readOtherwise_ = readOtherwise_ || k.fault.fault->misread();
    if (readOtherwise_) rows_ = static_cast<int>(whole_.rows.size());
    full_.emplace(script_, setup_, known_, rows_);
    const int kept = known_.empty() ? keep - kRowsBefore - 1 : 0;
    std::vector<YarnId> yarns;
    for (int row = 0;; ++row) {
        // Yarns in the order of their ids; sorted as the walk is when that is known.
        lastOfRow_.emplace_back();
        const Fabric& f = full_->fabric();
        for (std::int32_t y = 0; y < f.yarnCount(); ++y) lastOfRow_.back().push_back(f[YarnId{y}].last);
        const bool enough = readOtherwise_ && full_->both().handsRows() >= target_.rows;
        if (full_->done() || enough) break;
        if (row == kept && kept > 0) kept_.emplace(*full_, whole_);
        if (!full_->workRow()) return;
    }
    rows_ = full_->rows();
    allAlikeAbove_ = rows_;
    while (allAlikeAbove_ > 0 &&
           isOfOneStitch(whole_.rows[static_cast<std::size_t>(allAlikeAbove_) - 1].steps, 0))
        --allAlikeAbove_;
    std::vector<LoopId> stood;
    for (const auto& row : full_->both().meantLoops()) stood.insert(stood.end(), row.begin(), row.end());
    const auto isThere = [&](LoopId meant) {
        const LoopId loop = meant ? full_->both().actualOf(meant) : LoopId{};
        return loop && full_->fabric().has(loop) && !full_->fabric().isNothing(loop);
    };
    const bool falls = std::any_of(known_.begin(), known_.end(),
                                   [](const KnownFault& k) { return k.fault.fault->suffered(); });
    if (falls) stood.erase(std::remove_if(stood.begin(), stood.end(), std::not_fn(isThere)), stood.end());
    if (!full_->fallAtLast()) return;
    works_ = true;
    if (falls)
        std::copy_if(stood.begin(), stood.end(), std::back_inserter(fallsLater_), std::not_fn(isThere));
    walk_ = walkOf(cloth());
    parting_ = loopmend::parting(walk_, target_.walk);
    same_ = parting_.none() && loopmend::sameKnot(walk_, target_.walk);
    for (std::int32_t t = 0; t < target_.fabric.toolCount(); ++t) {
        const ToolId tool{t};
        movesTools_ = movesTools_ || (tool != target_.fabric.needle() && target_.fabric[tool].first);
    }
    if (same_) otherLength_ = firstOtherLength(walk_, target_.walk);
    if (!sameLengths()) rememberPlaces();
}

void Trials::rememberPlaces() {
    const auto& loops = full_->both().meantLoops();
    placeOf_.reserve(walk_.loopCount());
    for (std::size_t r = 0; r < loops.size(); ++r) {
        for (std::size_t s = 0; s < loops[r].size(); ++s) {
            const LoopId loop = full_->both().actualOf(loops[r][s]);
            if (loop) placeOf_.push_back({loop, {static_cast<int>(r) + 1, static_cast<int>(s) + 1}});
        }
    }
    const auto byLoop = [](const auto& a, const auto& b) { return a.first < b.first; };
    if (!std::is_sorted(placeOf_.begin(), placeOf_.end(), byLoop))
        std::stable_sort(placeOf_.begin(), placeOf_.end(), byLoop);
}

int Trials::loopsAgreed() const {
    return loopsBefore(walk_, parting_);
}

// ---- how far both agree
// --------------------------------------------------------------------------------------

/// Walks on, as far as nothing can change any more while she knits on (`all`: to the ends of the yarns).
/// False where the two disagree.
bool Trials::follow(const Redoing& trial, Beside& beside, bool all) {
    const Fabric& f = trial.fabric();
    if (trial_.number.size() < static_cast<std::size_t>(f.entryCount()))
        trial_.number.resize(static_cast<std::size_t>(f.entryCount()), -1);
    trial_.fabric = &f;
    beside.yarns.resize(trial_.yarns.size());
    for (bool moved = true; moved;) {
        moved = false;
        bool waits = false;
        for (std::size_t y = 0; y < trial_.yarns.size(); ++y) {
            const std::int32_t before = beside.yarns[y].next;
            if (!followYarn(trial, y, beside, all, waits)) return false;
            moved = moved || beside.yarns[y].next != before;
        }
        if (!waits) return true;
        if (!moved) return !all;
    }
    return true;
}

/// A stitch that goes through one of another yarn waits until that is walked.
bool Trials::followYarn(const Redoing& trial, std::size_t y, Beside& beside, bool all, bool& waits) {
    const Fabric& f = *trial_.fabric;
    const YarnId yarn = trial_.yarns[y].yarn;
    Beside::Yarn& at = beside.yarns[y];
    if (yarn.value >= f.yarnCount()) return true;
    const std::int32_t first = static_cast<std::int32_t>(y) * Walk::kOfYarn;
    const std::vector<LoopId>* there = y < target_.walk.yarns.size() ? &target_.walk.yarns[y].loops : nullptr;
    const bool falls = !fallsLater_.empty() && !all;
    const auto fallsOff = [&](LoopId loop) {
        return std::any_of(fallsLater_.begin(), fallsLater_.end(),
                           [&](LoopId meant) { return trial.both().actualOf(meant) == loop; });
    };
    const bool several = trial_.yarns.size() > 1;
    for (EntryId e = at.at ? f[at.at].next : f[yarn].first; e; e = f[e].next) {
        if (!f.isLoop(e)) continue;
        if (!all && !isSettled(f, e)) return true;
        std::int32_t& number = trial_.number[static_cast<std::size_t>(e.value)];
        if (f.isNothing(e) || (falls && fallsOff(e))) {
            at.at = e;
            number = -1;
            continue;
        }
        if (several) {
            for (LinkId l = f[e].firstLink; l; l = f[l].nextInLoop) {
                const LoopId host = f[l].host;
                if (f[host].yarn == yarn || trial_[host] >= 0 || f.isNothing(host)) continue;
                waits = true;
                return true;
            }
        }
        if (there == nullptr || at.next >= static_cast<std::int32_t>(there->size())) return false;
        const std::int32_t before = number;
        number = first + at.next;
        const LoopId loop = (*there)[static_cast<std::size_t>(at.next)];
        if (alike(trial_, e, target_.walk, loop) != Alike::same ||
            (lengths() && !all && !sameLength(f, e, target_.fabric, loop))) {
            number = before;
            return false;
        }
        at.at = e;
        ++at.next;
    }
    return true;
}

/// What an earlier trial has numbered is worth nothing: loops of the base that it may have walked have their
/// own numbers again, newer ones none.
void Trials::forgetTrial() {
    const auto base = static_cast<std::size_t>(baseEntries_);
    trial_.number.resize(base, -1);
    for (std::size_t y = 0; y < walk_.yarns.size(); ++y) {
        const std::int32_t first = static_cast<std::int32_t>(y) * Walk::kOfYarn;
        for (std::int32_t i = baseBeside_.yarns[y].next; i < baseEnds_[y]; ++i) {
            const auto id = static_cast<std::size_t>(walk_.yarns[y].loops[static_cast<std::size_t>(i)].value);
            if (id < base) trial_.number[id] = first + i;
        }
    }
}

/// Roughly the same, numbers apart by a little.
bool Trials::couldBe(EntryId x, EntryId y) const {
    const Fabric& f = *trial_.fabric;
    const Fabric& g = target_.fabric;
    const auto near = [&](std::int32_t a, std::int32_t b) {
        return a < 0 || b < 0 || std::abs(a - b) <= shift_;
    };
    LinkId l = f[x].firstLink;
    LinkId m = g[y].firstLink;
    for (; l && m; l = f[l].nextInLoop, m = g[m].nextInLoop) {
        if (f[l].form.side != g[m].form.side || f[l].form.twist != g[m].form.twist) return false;
        if (!near(trial_[f[l].host], target_.walk[g[m].host])) return false;
    }
    return !l && !m;
}

/// No strand is lifted, and no wrap lost, in the rows about that one: what is numbered keeps its number while
/// she knits on.
bool Trials::keepsNumbers(int row) const {
    if (!known_.empty() || walk_.yarns.size() != 1) return false;
    for (int r = std::max(1, row - 1); r <= std::min(row + 2, static_cast<int>(whole_.rows.size())); ++r) {
        for (const Step& step : whole_.rows[static_cast<std::size_t>(r) - 1].steps) {
            if (step.op > Op::pyop && step.op != Op::cable) return false;
        }
    }
    return true;
}

/// The first entry that differs is older than the mistake: has that changed it? It will not be changed by
/// what she knits on.
bool Trials::couldHaveSaved(std::int32_t firstNew) const {
    if (shift_ != 0 || parting_.at.front() < 0) return true;
    const auto at = static_cast<std::size_t>(parting_.at.front());
    const std::vector<EntryId>& mine = walk_.yarns.front().entries;
    const std::vector<EntryId>& there = target_.walk.yarns.front().entries;
    if (at >= mine.size() || at >= there.size()) return true;
    const EntryId e = mine[at];
    const Fabric& f = *trial_.fabric;
    if (e.value >= firstNew || !f.has(e) || !f.isLoop(e) || f.isNothing(e)) return true;
    return alike(trial_, e, target_.walk, there[at]) == Alike::same;
}

/// The first entry that differs is there already, more than a stitch before that place of the walk.
bool Trials::partsBefore(std::int32_t place) const {
    const std::int32_t parts = parting_.at.front();
    if (parts < 0 || place < 0) return false;
    const std::vector<EntryId>& mine = walk_.yarns.front().entries;
    return parts + 1 < place && parts < static_cast<std::int32_t>(mine.size()) &&
           mine[static_cast<std::size_t>(parts)].value < baseEntries_;
}

/// The first stitches after a mistake, before the row is worked to its end: could it be this one? Only loops
/// with links are looked at, and numbers roughly: a strand lifted near by later on moves them. Where the
/// cloth parts before the mistake itself nothing is said.
bool Trials::soFarRight(std::int32_t firstNew) {
    const Fabric& f = base_->fabric();
    trial_.fabric = &f;
    if (!couldHaveSaved(firstNew)) return false;
    for (const WalkedYarn& yarn : walk_.yarns) {
        if (yarn.yarn.value < f.yarnCount() && !soFarRightAlong(yarn.yarn, firstNew)) return false;
    }
    return true;
}

bool Trials::soFarRightAlong(YarnId yarn, std::int32_t firstNew) {
    const Fabric& f = *trial_.fabric;
    LoopId at = f[yarn].last;
    if (!at || at.value < firstNew) return true;
    while (at && (at.value >= firstNew || !isSomething(f, at))) at = f[at].prev;
    const std::int32_t before = at ? walk_[at] : -1;
    if (before < 0 || !parting_.agreesAt(walk_, at)) return true;
    const auto rank = static_cast<std::size_t>(before / Walk::kOfYarn);
    if (rank >= target_.walk.yarns.size()) return true;
    const std::vector<LoopId>& actual = target_.walk.yarns[rank].loops;
    std::vector<LoopId> mine;
    for (EntryId e = f[at].next; e && mine.size() < kGlance; e = f[e].next) {
        if (f.isLoop(e) && f[e].firstLink) mine.push_back(e);
    }
    std::vector<LoopId> there;
    const std::int32_t after = before % Walk::kOfYarn + 1;
    const auto shift = static_cast<std::size_t>(shift_);
    for (auto i = static_cast<std::size_t>(std::max(0, shift_ > 0 ? after - shift_ - 1 : after));
         i < actual.size() && there.size() < mine.size() + 3 * shift; ++i) {
        if (target_.fabric[actual[i]].firstLink) there.push_back(actual[i]);
    }
    for (std::size_t from = 0; from + mine.size() <= there.size(); ++from) {
        std::size_t i = 0;
        while (i < mine.size() && couldBe(mine[i], there[from + i])) ++i;
        if (i == mine.size()) return true;
    }
    return false;
}

/// Brings the base up to the row below the next places.
void Trials::raiseBase(int row) {
    if (!base_ && kept_ && kept_->rows() <= row) base_.swap(kept_);
    if (!base_) base_.emplace(whole_, setup_, known_, static_cast<int>(whole_.rows.size()));
    // Entries of the knitting with what is known have the same ids in the base: it was worked by the same
    // hands.
    trial_.number = walk_.number;
    trial_.yarns.clear();
    for (const WalkedYarn& yarn : walk_.yarns) trial_.yarns.push_back({yarn.yarn, yarn.backwards, {}, {}});
    trial_.rank = walk_.rank;
    if (known_.empty()) base_->both().setAfter(After::byReading);
    while (base_->rows() < row) {
        if (!base_->workRow()) break;
    }
    base_->both().split();
    // Its yarn is known to agree as far as both walks do, and nothing happens any more before the first loop
    // that is on a needle still.
    const Fabric& f = base_->fabric();
    baseEntries_ = f.entryCount();
    baseBeside_.yarns.assign(walk_.yarns.size(), {});
    baseEnds_.assign(walk_.yarns.size(), 0);
    std::vector<std::int32_t> settled(walk_.yarns.size(), 0);
    for (std::size_t y = 0; y < walk_.yarns.size(); ++y) {
        const auto yarn = static_cast<std::size_t>(walk_.yarns[y].yarn.value);
        const std::vector<EntryId>& lasts = lastOfRow_[static_cast<std::size_t>(base_->rows())];
        EntryId e = yarn < lasts.size() ? lasts[yarn] : EntryId{};
        // Where a yarn was cut its further loops are another one's in the walk.
        const auto isOfYarn = [&](EntryId at) {
            return walk_[at] >= 0 && walk_[at] / Walk::kOfYarn == static_cast<std::int32_t>(y);
        };
        while (e && !isOfYarn(e)) e = f[e].prev;
        baseEnds_[y] = e ? walk_[e] % Walk::kOfYarn + 1 : 0;
        settled[y] = baseEnds_[y];
    }
    for (std::int32_t t = 0; t < f.toolCount(); ++t) {
        for (HeldId h = f[ToolId{t}].first; h; h = f[h].next) {
            const std::int32_t number = walk_[f[h].loop];
            if (number < 0) continue;
            std::int32_t& most = settled[static_cast<std::size_t>(number / Walk::kOfYarn)];
            most = std::min(most, number % Walk::kOfYarn);
        }
    }
    for (std::size_t y = 0; y < walk_.yarns.size(); ++y) {
        const std::vector<LoopId>& loops = walk_.yarns[y].loops;
        const auto agrees = [&](std::int32_t i) {
            const LoopId loop = loops[static_cast<std::size_t>(i)];
            return loop.value < f.entryCount() && f.has(loop) && parting_.agreesAt(walk_, loop);
        };
        std::int32_t& n = settled[y];
        while (n > 0 && !agrees(n - 1)) --n;
        if (n > 0) baseBeside_.yarns[y] = {loops[static_cast<std::size_t>(n) - 1], n};
    }
}

// ---- proof
// ---------------------------------------------------------------------------------------------------

bool Trials::prove(const Redoing& trial, const KnownFault& fault) {
    const Walk walk = walkOf(trial.fabric());
    if (!loopmend::sameKnot(walk, target_.walk)) return false;
    const bool yarn = !firstOtherLength(walk, target_.walk);
    if (lengths() && !yarn) return false;
    const PlacedFault& made = fault.fault;
    const int last = made.fault->misread() ? rowOf(whole_, made) : made.place.row;
    proved_.push_back({fault, yarn, !made.fault->misread() || trial.both().done(), last == trial.rows()});
    return true;
}

bool Trials::judge(Redoing& trial, Beside beside, const KnownFault& fault) {
    if (known_.empty()) {
        const bool same = follow(trial, beside, true) && prove(trial, fault);
        if (!same) keepPartial(trial, beside, fault);
        return same;
    }
    const Redoing::Mark before = trial.mark();
    const bool same = trial.fallAtLast() && follow(trial, beside, true) && prove(trial, fault);
    if (!same) keepPartial(trial, beside, fault);
    trial.rollBack(before);
    return same;
}

/// What fell when all was done may lie anywhere, and in a yarn that was cut even the numbers are others.
void Trials::judgeWhole(const Redoing& trial, const KnownFault& fault) {
    const bool cut = trial.fabric().yarnCount() != cloth().yarnCount() || fault.fault.fault->inCloth;
    Beside beside = baseBeside_;
    if (!cut && !partial() && !follow(trial, beside, true)) return;
    if (prove(trial, fault) || !partial()) return;
    const Walk walk = walkOf(trial.fabric());
    partials_.push_back({fault, loopsBefore(walk, loopmend::parting(walk, target_.walk))});
}

/// How far both agree when a trial could not be followed: of small pieces with all that goes by, else by
/// loops alone.
int Trials::agreedWith(const Redoing& trial, Beside beside) {
    constexpr std::size_t kSmall = 4'000;
    if (fallsLater_.empty() && walk_.loopCount() < kSmall) {
        const Walk walk = walkOf(trial.fabric());
        return loopsBefore(walk, loopmend::parting(walk, target_.walk));
    }
    trial_.number.resize(
        std::max(trial_.number.size(), static_cast<std::size_t>(trial.fabric().entryCount())), -1);
    for (bool moved = true; moved;) {
        const int before = beside.loops();
        bool waits = false;
        for (std::size_t y = 0; y < trial_.yarns.size(); ++y)
            (void)followYarn(trial, y, beside, false, waits);
        moved = beside.loops() != before;
    }
    return beside.loops();
}

void Trials::keepPartial(const Redoing& trial, const Beside& beside, const KnownFault& fault) {
    if (partial()) partials_.push_back({fault, agreedWith(trial, beside)});
}

std::vector<Partial> Trials::partials() const {
    std::vector<Partial> further;
    const int agreed = loopsAgreed();
    const Place parts = partingPlace();
    const auto isThere = [&](const FaultPlace& place) {
        return place.row == parts.row && std::abs(place.stitch - parts.stitch) <= 1;
    };
    for (const Partial& p : partials_) {
        if (p.loops < agreed || (p.loops == agreed && !isThere(p.fault.fault.place))) continue;
        const auto same = std::find_if(further.begin(), further.end(), [&](const Partial& f) {
            return f.fault.fault.fault == p.fault.fault.fault && f.fault.fault.place == p.fault.fault.place &&
                   f.fault.after == p.fault.after;
        });
        if (same == further.end()) {
            further.push_back(p);
        } else if (p.loops > same->loops) {
            *same = p;
        }
    }
    std::stable_sort(further.begin(), further.end(),
                     [](const Partial& a, const Partial& b) { return a.loops > b.loops; });
    return further;
}

}  // namespace loopmend
