// SPDX-License-Identifier: MIT
#include "diagnosis/trials.h"

#include <algorithm>
#include <cstdlib>
#include <limits>

#include "fault/knit_with.h"
#include "fault/needle.h"
#include "fault/steps.h"

namespace loopmend {

namespace {

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

/// Steps after a mistake that are looked at before its row is worked to the end.
constexpr int kGlance = 4;

std::vector<const Fault*> faultsFor(Thoroughly thoroughly) {
    const bool lengths = thoroughly == Thoroughly::lengths;
    std::vector<const Fault*> faults = catalogue();
    faults.erase(std::remove_if(faults.begin(), faults.end(),
                                [&](const Fault* f) { return (f->family == Family::lengths) != lengths; }),
                 faults.end());
    return faults;
}

}  // namespace

/// It is among those that are known already.
bool Trials::isKnown(const PlacedFault& fault) const {
    return std::any_of(known_.begin(), known_.end(), [&](const KnownFault& k) {
        return k.fault.fault == fault.fault && k.fault.place.row == fault.place.row &&
               k.fault.place.stitch == fault.place.stitch;
    });
}

// ---- made while she worked
// --------------------------------------------------------------------------------------

/// Every row above is of one plain stitch, and so is the rest of this one: whoever counts and whoever reads
/// work the same, however many stitches there are.
bool Trials::allAlikeFrom(int row, int step) const {
    if (!known_.empty() || row < allAlikeAbove_) return false;
    return row > rows_ || isOfOneStitch(whole_.rows[static_cast<std::size_t>(row) - 1].steps, step);
}

/// Knits on to the last row, as long as what cannot change any more is as it is in the actual cloth. Where
/// every stitch stands for a meant one, or the next steps do not hang on what stands where, only the trial
/// itself is worked.
void Trials::goOnToEnd(const KnownFault& fault) {
    Beside beside = baseBeside_;
    SideBySide& both = base_->both();
    const bool alone = known_.empty() &&
                       (both.inStep() || both.after() == After::byCount || base_->rows() >= allAlikeAbove_);
    int rows = base_->rows();
    std::optional<std::size_t> remembered;
    // Gone on with by reading, without the meant knitting; where that does not do, from there again.
    std::optional<std::vector<Stands>> standing;
    std::optional<std::pair<Redoing::Mark, Beside>> before;
    while (follow(*base_, beside, false)) {
        const bool enough = readOtherwise_ && both.handsRows() >= target_.rows;
        if (rows >= rows_ || enough) {
            if (judge(*base_, beside, fault) && remembered) goneOn_[*remembered].proved = proved_.back();
            return;
        }
        if (!remembered && isWorthRemembering(rows)) {
            if (wasGoneOnWith(fault, alone)) return;
            remembered = goneOn_.size() - 1;
            if (!alone && rows >= simpleAbove_) standing = standingNow();
            if (standing) before.emplace(base_->mark(), beside);
        }
        const WorkedRow& row = whole_.rows[static_cast<std::size_t>(rows)];
        if (alone) {
            both.workAlone(row);
        } else if (standing) {
            if (!readAlone(both.split().knitter, row, *standing)) {
                standing.reset();
                base_->rollBack(before->first);
                trial_.number.resize(static_cast<std::size_t>(base_->fabric().entryCount()));
                beside = before->second;
                rows = base_->rows();
                continue;
            }
        } else if (!base_->workRow()) {
            return;
        }
        ++rows;
    }
    keepPartial(*base_, beside, fault);
}

/// How far numbers may be off while she works on: by strands lifted or lost later.
constexpr std::int32_t kShift = 2;

constexpr std::int32_t kNowhere = std::numeric_limits<std::int32_t>::max();

/// Where numbers move first, if the mistake itself took a loop away or put one in between older ones: the
/// place of that loop, or of the one before it, in the walk of what was there before.
std::int32_t movesNumbersFrom(const Walk& walk, const Fabric& f, const std::vector<LoopId>& ahead,
                              std::int32_t firstNew) {
    std::int32_t first = kNowhere;
    const auto isFrom = [&](EntryId e) { first = std::min(first, e ? walk.placeOf(e) : -1); };
    for (const LoopId loop : ahead) {
        if (!f.has(loop) || f.isNothing(loop)) isFrom(loop);
    }
    for (std::int32_t i = firstNew; i < f.entryCount(); ++i) {
        const EntryId e{i};
        if (!f.has(e) || !f.isLoop(e) || !f[e].next || f[e].next.value >= firstNew) continue;
        EntryId older = f[e].prev;
        while (older && older.value >= firstNew) older = f[older].prev;
        isFrom(older);
    }
    return first;
}

/// The base stands before the step. Whether she could have gone on otherwise after it.
bool Trials::tryOne(const KnownFault& fault) {
    if (isKnown(fault.fault)) return false;
    forgetTrial();
    const Redoing::Mark before = base_->mark();
    SideBySide& both = base_->both();
    both.setAfter(fault.after);
    const std::int32_t firstNew = base_->fabric().entryCount();
    const std::int32_t tools = base_->fabric().toolCount();
    const std::int32_t yarns = base_->fabric().yarnCount();
    const auto right = [&] { return partial() || lengths() || soFarRight(firstNew); };
    const int steps = static_cast<int>(script_.rows[static_cast<std::size_t>(both.rows())].steps.size());
    std::vector<LoopId> ahead;
    nextLoops(both.actual().knitter, kGlance, ahead);
    bool possible = both.makeMistake(fault.fault).has_value();
    // A yarn of its own is numbered as that of the finished cloth is.
    if (possible && base_->fabric().yarnCount() > yarns) {
        const bool otherwise = !known_.empty() || !both.inStep();
        base_->rollBack(before);
        if (parting_.otherYarns) tryWhole(fault);
        return otherwise;
    }
    const std::int32_t moved = movesNumbersFrom(walk_, base_->fabric(), ahead, firstNew);
    shift_ = keepsNumbers_ && moved == kNowhere ? 0 : kShift;
    // What is older than the mistake, and parts before anything that it moved, it does not mend.
    if (keepsNumbers_ && moved != kNowhere && !partial() && !lengths() && partsBefore(moved))
        possible = false;
    // If what follows does not hang on how she goes on, both ways are one trial.
    const bool otherwise =
        !lengths() &&
        (!known_.empty() || (possible && !both.inStep() && !allAlikeFrom(base_->rows() + 1, both.step())));
    // Nothing in the cloth is held that was not to be held.
    if (!movesTools_ && base_->fabric().toolCount() > tools) possible = false;
    possible = possible && right();
    for (int i = 0; possible && !partial() && i < kGlance && both.step() < steps; ++i)
        possible = base_->workTo(both.step() + 1) && right();
    const std::size_t proved = proved_.size();
    if (possible && base_->endRow()) goOnToEnd(fault);
    if (!otherwise && !lengths() && proved_.size() > proved) {
        proved_.push_back(proved_.back());
        proved_.back().fault.after = After::byCount;
    }
    base_->rollBack(before);
    return otherwise;
}

void Trials::tryWorked(const Place& at, int step) {
    WorkedRow& row = whole_.rows[static_cast<std::size_t>(at.row) - 1];
    const auto tryIt = [&](const Fault* fault) {
        if (fault->standsOn == nullptr) return;
        const Spot spot{row, step, base_->both().actual().knitter, at.stitch - stitchOfStep(row, step)};
        if (!fault->standsOn(spot)) return;
        const PlacedFault placed{fault, {std::string(fault->id), at.row, at.stitch, 0}, step};
        if (fault->everyRow) {
            tryAgainAndAgain({placed, After::byReading});
            return;
        }
        if (tryOne({placed, After::byReading})) tryOne({placed, After::byCount});
    };
    for (const Fault* fault : faults_) tryIt(fault);
    Op& op = row.steps[static_cast<std::size_t>(step)].op;
    const std::optional<Op> twin = twinOf(op);
    if (!twin) return;
    const Op read = op;
    op = *twin;
    for (const Fault* fault : faults_) {
        if (dependsOnTheWay(*fault)) tryIt(fault);
    }
    op = read;
}

/// All rows once more.
std::optional<Redoing> Trials::workedWith(const KnownFault& fault) const {
    std::vector<KnownFault> all = known_;
    all.push_back(fault);
    std::optional<Redoing> trial(std::in_place, whole_, setup_, all, rows_);
    while (!trial->done()) {
        if (!trial->workRow()) return std::nullopt;
    }
    return trial;
}

/// The cloths are compared when all is worked.
void Trials::tryWhole(const KnownFault& fault) {
    std::optional<Redoing> trial = workedWith(fault);
    if (trial && trial->fallAtLast()) judgeWhole(*trial, fault);
}

/// It comes again in later rows.
void Trials::tryAgainAndAgain(const KnownFault& fault) {
    std::optional<Redoing> trial = workedWith(fault);
    if (!trial) return;
    trial_.number.assign(trial_.number.size(), -1);
    judge(*trial, {}, fault);
    trial_.number = walk_.number;
}

/// The base goes through the row once; at every place the mistakes are made and taken back.
void Trials::tryWorkedInRow(const std::vector<Place>& places) {
    if (base_->both().nextRowIsMisread()) return;
    forgetTrial();
    const Redoing::Mark before = base_->mark();
    const WorkedRow& row = whole_.rows[static_cast<std::size_t>(base_->rows())];
    if (known_.empty()) base_->both().setAfter(After::byCount);
    for (const Place& at : places) {
        const std::optional<int> step = stepOfStitch(row, at.stitch);
        if (!step || takesLoopLeft(row, *step)) continue;
        if (!base_->workTo(*step)) {
            // A mistake that is known stands there.
            if (base_->both().step() > *step) continue;
            break;
        }
        // Where she has more stitches than were meant, those are worked first.
        base_->both().workWhatIsExtra();
        if (at.stitch == stitchOfStep(row, *step)) {
            tryWorked(at, *step);
        } else {
            tryInside(at, *step);
        }
    }
    base_->rollBack(before);
}

/// At a stitch of a step that works several.
void Trials::tryInside(const Place& at, int step) {
    const WorkedRow& row = whole_.rows[static_cast<std::size_t>(at.row) - 1];
    for (const Fault* fault : faults_) {
        if (!fault->anyStitch || fault->standsOn == nullptr) continue;
        const Spot spot{row, step, base_->both().actual().knitter, at.stitch - stitchOfStep(row, step)};
        if (!fault->standsOn(spot)) continue;
        const PlacedFault placed{fault, {std::string(fault->id), at.row, at.stitch, 0}, step};
        if (tryOne({placed, After::byReading})) tryOne({placed, After::byCount});
    }
}

// ---- rows taken otherwise
// -----------------------------------------------------------------------------------------------

/// The base stands before the row.
void Trials::tryMisreadInRow(int row) {
    constexpr int kStitchesBefore = 12;
    const WorkedRow& words = whole_.rows[static_cast<std::size_t>(row) - 1];
    const int inRow = stitchesIn(words);
    const Place at = partingPlace();
    const auto isNear = [&](int stitch) {
        const int off = at.stitch - stitch;
        return at.stitch == 0 || (off >= -kNearParting && off <= kStitchesBefore);
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
    const Place parts = partingPlace();
    // Where words are of their own row a later row is not taken otherwise.
    if (!fault.wholeRow && keepsNumbers_ && at.row > parts.row) return;
    constexpr int kBeyond = 8;
    const int farthest = parts.row + kNearParting;
    const std::size_t before = proved_.size();
    for (const int by : {0, 1, -2, 2}) {
        const PlacedFault placed{&fault, {std::string(fault.id), at.row, at.stitch, by}, step};
        if (proved_.size() > before || isKnown(placed)) continue;
        Misreading read = misreadingOf(whole_, placed);
        // Of a whole row it shows here, or not here: what is far above need not be looked through.
        if (fault.wholeRow && farthest < rows_) {
            read.until = farthest + kBeyond;
            if (!fault.canRead(read)) continue;
            read.until = misreadingOf(whole_, placed).until;
        }
        if (!fault.canRead(read)) continue;
        if (fault.rowsFor != nullptr) {
            const Differs differs = firstDifference(whole_, placed, farthest < rows_ ? farthest : rows_ + 2);
            // A strand lifted otherwise parts the two in the row that it lies in, below the stitch.
            const int off = std::min(differs.inRow, rows_) - parts.row;
            if (off < -1 || off > kNearParting) continue;
            // In a row of its own the cloth parts where the words do.
            if (!fault.wholeRow && keepsNumbers_ && differs.inRow <= rows_) {
                if (off != 0) continue;
                const WorkedRow& words = whole_.rows[static_cast<std::size_t>(differs.inRow) - 1];
                if (std::abs(stitchOfStep(words, differs.step) - parts.stitch) > 2 * kNearParting) continue;
            }
        }
        if (tryMisread({placed, After::byReading})) tryMisread({placed, After::byCount});
    }
}

/// Whether she could have gone on otherwise: some row did not have its stitches.
bool Trials::tryMisread(const KnownFault& fault) {
    if (fault.fault.fault->castsOn != nullptr) return tryBegun(fault);
    forgetTrial();
    const Redoing::Mark before = base_->mark();
    base_->both().setAfter(fault.after);
    bool counts = true;
    if (base_->both().misread(fault.fault)) counts = goOnMisread(*base_, baseBeside_, fault);
    base_->rollBack(before);
    return !counts;
}

/// Nothing is known to agree.
bool Trials::tryBegun(const KnownFault& fault) {
    std::vector<KnownFault> all = known_;
    all.push_back(fault);
    Redoing trial(whole_, setup_, all, static_cast<int>(whole_.rows.size()));
    trial_.number.clear();
    goOnMisread(trial, {}, fault);
    trial_.number = walk_.number;
    return true;
}

/// Which of its rows the actual cloth ends with is not known beforehand. Whether all counts were right.
bool Trials::goOnMisread(Redoing& trial, Beside beside, const KnownFault& fault) {
    const int first = rowOf(whole_, fault.fault);
    bool counts = true;
    while (follow(trial, beside, false)) {
        if (trial.rows() >= first && trial.both().handsRows() >= target_.rows - 2 &&
            judge(trial, beside, fault)) {
            // Then blindly, too.
            if (counts) {
                proved_.push_back(proved_.back());
                proved_.back().fault.after = After::byCount;
            }
            return counts;
        }
        if (trial.both().done() || !trial.workRow()) return counts;
        // Also of those that were left waiting.
        counts = counts && trial.both().counts().back().meant == trial.both().counts().back().actual &&
                 trial.both().actual().knitter.behind().empty();
    }
    keepPartial(trial, beside, fault);
    return counts;
}

// ---- fallen
// --------------------------------------------------------------------------------------------------

/// The column on that stitch, let run from the needle down to it, would take about as many stitches as are
/// gone.
bool Trials::couldHaveRun(const Place& place) const {
    if (partial() || lengths() || !known_.empty()) return true;
    std::size_t about = 0;  // a yarn over below it goes too, if nothing else holds it
    const Fabric& f = full_->fabric();
    const std::size_t gone = walk_.loopCount() - std::min(walk_.loopCount(), target_.walk.loopCount());
    LoopId lowest = full_->both().meantLoops()[static_cast<std::size_t>(place.row) - 1]
                                              [static_cast<std::size_t>(place.stitch) - 1];
    lowest = lowest ? full_->both().actualOf(lowest) : lowest;
    if (!lowest || !f.has(lowest)) return true;
    const EntryId firstOfRow = full_->both().firstOfRow(place.row);
    LoopId top = lowest;
    while (f[top].lastKid) top = f[f[top].lastKid].loop;
    std::vector<LoopId> taken{top};
    std::vector<LoopId> emptied;  // hosts, once for each stitch that came out of them
    for (std::size_t i = 0; i < taken.size(); ++i) {
        if (taken.size() > gone + about) return false;
        for (LinkId l = f[taken[i]].firstLink; l; l = f[l].nextInLoop) {
            const LoopId host = f[l].host;
            emptied.push_back(host);
            std::ptrdiff_t kids = 0;
            for (LinkId k = f[host].firstKid; k; k = f[k].nextInHost) ++kids;
            if (kids > 1 && std::count(emptied.begin(), emptied.end(), host) < kids) continue;
            if (host < firstOfRow) {
                about += f[host].firstLink ? 0 : 1;
            } else {
                taken.push_back(host);
            }
        }
    }
    return taken.size() + about >= gone;
}

/// What fell when all rows were done.
void Trials::tryFallen(const Place& at) {
    const auto tryIt = [&](const Fault* fault) {
        // What befalls the cloth itself cuts a yarn, or else leaves the knot alone.
        if (!fault->suffered() || (fault->inCloth && !lengths() && !parting_.otherYarns)) return false;
        if (!fault->runs && !fault->inCloth && at.row != rows_) return false;
        const KnownFault made{{fault, {std::string(fault->id), at.row, at.stitch, 0}, 0}, After::byReading};
        if (isKnown(made.fault)) return false;
        full_->both().split();
        const Redoing::Mark before = full_->mark();
        const bool fell = full_->both().suffer(made.fault).has_value();
        if (fell) {
            forgetTrial();
            judgeWhole(*full_, made);
        }
        full_->rollBack(before);
        return fell;
    };
    // One run has one name, most often that of the run beside it.
    const Fault* const likely = ranLast_;
    bool ran = !couldHaveRun(at) || (likely != nullptr && tryIt(likely));
    for (const Fault* fault : faults_) {
        if (fault->runs && (ran || fault == likely)) continue;
        if (!tryIt(fault) || !fault->runs) continue;
        ran = true;
        ranLast_ = fault;
    }
}

/// More stitches of that row hang free than do in the actual cloth, where they would hang still.
bool Trials::hangTooMany(int row) const {
    const Fabric& f = base_->fabric();
    const std::vector<LoopId>& loops = base_->both().meantLoops()[static_cast<std::size_t>(row) - 1];
    return std::count_if(loops.begin(), loops.end(), [&](LoopId meant) {
               const LoopId loop = meant ? base_->both().actualOf(meant) : LoopId{};
               return loop && f.has(loop) && f.isLoose(loop);
           }) > target_.loose;
}

/// What fell, and ran, before she knitted on: each row since has left a short rung (a row more or less where
/// the edge is near).
void Trials::tryFallenEarlier(const Place& at) {
    for (const Fallen& fallen : target_.fallen) {
        if (fallen.left == 0) continue;
        for (const Fault* fault : faults_) {
            if (!fault->suffered() || fault->inCloth || fault->runs != (fallen.ran > 0)) continue;
            const int row = at.row + std::max(fallen.ran, 1) - 1;
            if (row >= rows_ || std::abs(rows_ - row - fallen.left) > 1) continue;
            const PlacedFault placed{
                fault, {std::string(fault->id), at.row, at.stitch, fault->runs ? fallen.ran : 0}, 0};
            if (isKnown(placed)) continue;
            const bool otherwise = !allAlikeFrom(row + 1, 0);
            for (const After after : {After::byReading, After::byCount}) {
                const std::size_t proved = proved_.size();
                forgetTrial();
                const Redoing::Mark before = base_->mark();
                bool possible = true;
                while (possible && base_->rows() < row) possible = base_->workRow();
                base_->both().setAfter(after);
                possible = possible && base_->both().suffer(placed) && !hangTooMany(row);
                if (possible) goOnToEnd({placed, after});
                base_->rollBack(before);
                if (otherwise) continue;
                if (proved_.size() > proved) {
                    proved_.push_back(proved_.back());
                    proved_.back().fault.after = After::byCount;
                }
                break;
            }
        }
    }
}

// ---- all of it
// ------------------------------------------------------------------------------------------------

void Trials::tryPlaces() {
    constexpr int kRowsAbove = 4;
    againAt_ = partingPlace().row + kRowsAbove;
    simpleAbove_ = simpleAbove();
    goneOn_.clear();
    places_.clear();
    base_.reset();
    findPlaces();
    // A run down to a yarn-over leaves nothing loose, but loops are gone.
    const bool lost = lengths() || !target_.fallen.empty() || target_.walk.loopCount() < walk_.loopCount();
    const std::vector<int> misread = thoroughly_ == Thoroughly::far ? std::vector<int>{} : rowsToMisread();
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
        if (base_->rows() != row - 1) return;
        keepsNumbers_ = keepsNumbers(row);
        tryWorkedInRow(places);
        for (const Place& at : places) {
            tryFallenEarlier(at);
            if (lost) tryFallen(at);
        }
        if (std::binary_search(misread.begin(), misread.end(), row)) tryMisreadInRow(row);
    }
}

std::vector<Proved> Trials::run(Thoroughly thoroughly) {
    thoroughly_ = thoroughly;
    faults_ = faultsFor(thoroughly);
    proved_.clear();
    partials_.clear();
    tryPlaces();
    return proved_;
}

}  // namespace loopmend
