// SPDX-License-Identifier: MIT
// Taking back: stitch by stitch within the newest row, or whole rows, and working the meant rows again.
#include <algorithm>
#include <optional>
#include <string>
#include <string_view>

#include <fmt/format.h>

#include "pattern/op_kinds.h"
#include "pattern/working.h"
#include "repair/arms.h"
#include "repair/builder.h"

namespace loopmend {

namespace {

/// The stitch that was worked to the right of a loop in its row, if the needle holds it. Where arms were
/// crossed and uncrossed above a fallen loop, the place in which it hung says nothing any more.
LoopId rightNeighbor(const Fabric& f, LoopId loop) {
    const auto next = [&](EntryId e) { return f.run(loop) == Run::leftward ? f[e].prev : f[e].next; };
    EntryId e = next(loop);
    while (e && !f.isLoop(e)) e = next(e);
    return e && f.run(e) == f.run(loop) && f.isHeld(e) && f.heldOn(e, f.needle()) ? e : LoopId{};
}

/// Nothing was worked to the right of it in its row.
bool standsFirst(const Fabric& f, LoopId loop) {
    EntryId e = f.run(loop) == Run::leftward ? f[loop].prev : f[loop].next;
    while (e && f.run(e) == f.run(loop) && !f.isLoop(e))
        e = f.run(loop) == Run::leftward ? f[e].prev : f[e].next;
    return !e || f.run(e) != f.run(loop);
}

/// Seats loops that hang free or on a pin and that the meant fabric holds once the rows above are gone.
bool seatLoose(const Situation& s, PlanBuilder& b) {
    const Fabric& f = b.fabric();
    for (std::int32_t i = 0; i < s.entries; ++i) {
        const LoopId a{i};
        if (!f.has(a) || !f.isLoop(a) || !f.isLive(a) || f.isNothing(a)) continue;
        if (!f.isLoose(a) && !pinOf(f, a)) continue;
        const HeldId own = f.heldOn(a, f.needle());
        if (own && f[own].state.hanging == 0) {
            Move unpin;
            unpin.kind = MoveKind::unpin;
            unpin.loops = {a};
            if (!b.add(std::move(unpin), s.actualSpots.of(a), "Take the pin out: the needle holds this one."))
                return false;
            continue;
        }
        Move seat;
        seat.kind = MoveKind::seat;
        seat.loops = {a};
        const bool placeKnown = own && !s.offNeedle;  // it hangs where it fell
        if (s.hasCrossings || !placeKnown) seat.beside = rightNeighbor(f, a);
        if (!placeKnown && !seat.beside && standsFirst(f, a)) seat.atRightEnd = true;
        if (!b.add(std::move(seat), s.actualSpots.of(a),
                   "Put the loop that hangs here on the needle, right leg in front.")) {
            return false;
        }
    }
    return true;
}

/// A make-one taken back leaves its bar on the needle: it is let fall before the row is worked again.
bool dropBars(const Situation& s, PlanBuilder& b) {
    const Fabric& f = b.fabric();
    for (const LoopId a : s.bars()) {
        if (!f.has(a) || !f.isLoop(a) || !f.isLive(a) || !f.isHeld(a)) continue;
        Move drop;
        drop.kind = MoveKind::drop;
        drop.loops = {a};
        if (!b.add(std::move(drop), s.actualSpots.of(a),
                   "Let the lifted bar fall off the needle: it is only the strand between two stitches.")) {
            return false;
        }
    }
    return true;
}

bool workOn(PlanBuilder& b, const WorkedRow& row, std::size_t fromStep) {
    Move work;
    work.kind = MoveKind::work;
    work.steps.assign(row.steps.begin() + static_cast<std::ptrdiff_t>(fromStep), row.steps.end());
    if (work.steps.empty()) return true;
    StitchPlace spot;
    spot.row = row.number;
    return b.add(std::move(work), spot,
                 fromStep == 0 ? fmt::format("Work row {} again.", row.number)
                               : fmt::format("Work the rest of row {} again.", row.number));
}

bool turnAfter(PlanBuilder& b, int row) {
    Move turn;
    turn.kind = MoveKind::turn;
    return b.add(std::move(turn), {row, 0, 0},
                 b.knitter().inTheRound() ? "Begin the next round." : "Turn the work.");
}

/// A short end with which she had worked has come out again, and lies beside the yarn that runs to the ball.
void sayWhichYarn(const Situation& s, PlanBuilder& b) {
    constexpr std::string_view kWords =
        "Two ends hang here: let the short one be, and work with the yarn that runs to the ball.";
    const Fabric& f = b.fabric();
    const std::vector<Caution>& said = b.plan().cautions;
    if (f.yarnCount() < 2 ||
        std::any_of(said.begin(), said.end(), [&](const Caution& c) { return c.words == kWords; }))
        return;
    const auto isOut = [&](YarnId yarn) {
        EntryId e = f[yarn].first;
        while (e && (!f.isLoop(e) || f.isNothing(e))) e = f[e].next;
        return f[yarn].flags.ball == 0 && f[yarn].flags.gone == 0 && !e;
    };
    for (std::int32_t i = 0; i < s.entries; ++i) {
        const EntryId e{i};
        if (f.has(e) || !f.isLoop(e) || !isOut(f[e].yarn)) continue;
        b.caution(std::string(kWords));
        return;
    }
}

std::size_t stitchesIn(const StitchPlaces& spots, int row) {
    const auto r = static_cast<std::size_t>(row);
    return r < spots.rows().size() ? spots.rows()[r].size() : 0;
}

/// Where in its row the work goes wrong: the first step that is not as it was meant, and how many loops the
/// steps before it left on the right needle.
struct GoesWrong {
    std::size_t step = 0;
    int onRight = 0;
};
GoesWrong goesWrongIn(const Situation& s, int row) {
    const WorkedRow& words = s.script.rows[static_cast<std::size_t>(row - 1)];
    const std::vector<LoopId>& meantLoops = s.meantSpots.rows()[static_cast<std::size_t>(row)];
    const std::vector<LoopId>& actualLoops = s.actualSpots.rows()[static_cast<std::size_t>(row)];
    std::vector<LoopId> changed = s.pairing.changed;
    std::sort(changed.begin(), changed.end());
    GoesWrong at;
    std::size_t loop = 0;
    for (; at.step < words.steps.size(); ++at.step) {
        const Step& now = words.steps[at.step];
        const int made = slips(now.op) ? 0 : std::max(makes(now), 0);
        bool right = true;
        for (int i = 0; i < made && right; ++i) {
            const std::size_t k = loop + static_cast<std::size_t>(i);
            right = k < meantLoops.size() && k < actualLoops.size() &&
                    s.pairing.actual(meantLoops[k]) == actualLoops[k] &&
                    !std::binary_search(changed.begin(), changed.end(), actualLoops[k]);
        }
        if (!right) break;
        loop += static_cast<std::size_t>(made);
        at.onRight += makes(now);
    }
    return at;
}

/// A column that nobody meant: how many of its loops, from the top one down, come out of something. 0: it is
/// none, or would leave open what is right.
int spareColumn(const Situation& s, const Fabric& f, LoopId top) {
    int loops = 0;
    for (LoopId l = top;; ++loops) {
        if (s.pairing.meant(l) || f[l].flags.anchored != 0) return 0;
        if (!f[l].firstLink) return std::max(loops, 1);  // a strand over the needle is nothing then
        if (f.linkCount(l) != 1) return 0;
        const LoopId host = f[f[l].firstLink].host;
        if (f.kidCount(host) > 1) return loops + 1;
        l = host;
    }
}

/// Columns that nobody meant, beside others out of the same stitch or out of nothing: let fall, they leave
/// nothing open. That is sooner done than to take them back. False: there is none.
bool dropSpare(const Situation& s, PlanBuilder& b) {
    const Fabric& f = b.fabric();
    bool any = false;
    for (const LoopId l : s.actualSpots.rows().back()) {
        if (!f.has(l) || !f.isLive(l) || !f.isHeld(l)) continue;
        const int loops = spareColumn(s, f, l);
        if (loops == 0) continue;
        Move move;
        move.kind = MoveKind::drop;
        move.loops = {l};
        if (!b.add(move, s.actualSpots.of(l), "Let the loop that is too many slide off the needle."))
            return false;
        any = true;
        if (!f.has(l) || !f[l].firstLink) continue;
        move.kind = MoveKind::letRun;
        move.count = loops;
        if (!b.add(std::move(move), s.actualSpots.of(l),
                   loops == 1 ? "Draw it out of its stitch."
                              : fmt::format("Let it run down {} rows, to where its column began.", loops)))
            return false;
    }
    return any;
}

/// Takes back the row that was worked last as far as it went wrong.
bool tinkTo(const Situation& s, PlanBuilder& b, int row, GoesWrong& at, bool turned) {
    const WorkedRow& words = s.script.rows[static_cast<std::size_t>(row - 1)];
    const int worked = turned ? b.knitter().aheadCount() : static_cast<int>(b.knitter().behind().size());
    int back = worked - at.onRight;
    if (turned && back == 0 && at.step > 0 && makes(words.steps[at.step - 1]) == 1) {
        // Turned too early: one comes back, so that the row is in hand again.
        --at.step;
        --at.onRight;
        back = 1;
    }
    if (back <= 0) return false;
    Move tink;
    tink.kind = MoveKind::tink;
    tink.count = back;
    StitchPlace spot;
    spot.row = row;
    spot.stitch = at.onRight + 1;
    if (!b.add(std::move(tink), spot,
               fmt::format("Take back {} stitch{} of row {}, one by one.", back, back == 1 ? "" : "es", row)))
        return false;
    sayWhichYarn(s, b);
    return true;
}

enum class BeforeTink { nothing, seat, dropSpare };

bool tinkBack(const Situation& s, PlanBuilder& b, BeforeTink first) {
    (void)s.bars();
    const int row = s.firstWrongRow();
    const int lastRow = s.actualSpots.lastRow();
    if (row == 0 || row != lastRow || row > static_cast<int>(s.script.rows.size())) return false;
    if (s.meantSpots.lastRow() != row) return false;
    const WorkedRow& words = s.script.rows[static_cast<std::size_t>(row - 1)];
    GoesWrong at = goesWrongIn(s, row);
    if (first == BeforeTink::seat && !seatLoose(s, b)) return false;
    if (first == BeforeTink::dropSpare && !dropSpare(s, b)) return false;
    const bool turned = !b.knitter().rowBegun();  // even if a stitch was left behind
    if (!tinkTo(s, b, row, at, turned)) return false;
    if (!dropBars(s, b) || !seatLoose(s, b) || !workOn(b, words, at.step)) return false;
    return (!turned || turnAfter(b, row)) && b.takeOutPins();
}

}  // namespace

bool planTink(const Situation& s, PlanBuilder& b) {
    return tinkBack(s, b, BeforeTink::nothing);
}

bool planSeatAndTink(const Situation& s, PlanBuilder& b) {
    return tinkBack(s, b, BeforeTink::seat);
}

bool planDropAndTink(const Situation& s, PlanBuilder& b) {
    return tinkBack(s, b, BeforeTink::dropSpare);
}

namespace {

/// All that stands is right, and what is missing is what the yarn would have made next: she is on her way.
bool onlyTheEndIsMissing(const Situation& s) {
    const Pairing& p = s.pairing;
    if (!p.complete || !p.extra.empty() || !p.changed.empty() || !p.extraPasses.empty() ||
        !p.extraCrossings.empty())
        return false;
    // Along its yarn each of them is followed by others that are missing, or by nothing.
    for (const LoopId m : p.missing) {
        EntryId next = s.meant[m].next;
        while (next && (!s.meant.isLoop(next) || s.meant.isNothing(next))) next = s.meant[next].next;
        if (next && p.actual(next)) return false;
    }
    return !p.missing.empty();
}

/// Steps of a row that are worked, where so many stitches lie on the right needle; none: it does not come
/// out.
std::optional<std::size_t> stepsDone(const WorkedRow& row, int onRight) {
    std::size_t step = 0;
    for (; step < row.steps.size() && onRight > 0; ++step) onRight -= makes(row.steps[step]);
    if (onRight != 0) return std::nullopt;
    return step;
}

/// From where she stands to the last of the meant rows.
bool goOn(const Situation& s, PlanBuilder& b) {
    if (!dropBars(s, b) || !seatLoose(s, b)) return false;
    const int rows = std::min(s.meantSpots.lastRow(), static_cast<int>(s.script.rows.size()));
    int row = s.actualSpots.lastRow() + 1;
    std::size_t step = 0;
    if (b.knitter().rowBegun()) {
        if (b.knitter().aheadCount() == 0) {
            if (!turnAfter(b, row - 1)) return false;
        } else {
            row -= 1;
            if (row < 1 || row > rows) return false;
            const std::optional<std::size_t> done =
                stepsDone(s.script.rows[static_cast<std::size_t>(row - 1)],
                          static_cast<int>(b.knitter().behind().size()));
            if (!done) return false;
            step = *done;
        }
    }
    for (int r = row; r <= rows; ++r, step = 0) {
        if (!workOn(b, s.script.rows[static_cast<std::size_t>(r - 1)], step)) return false;
        if (b.knitter().aheadCount() == 0 && !turnAfter(b, r)) return false;
    }
    return b.takeOutPins();
}

/// Rows that hands take back to come to `row`. A chain along an edge and stitches picked up may count as a
/// row of the cloth of their own, and no turn lies before them.
int rowsBackTo(const Situation& s, int row) {
    const int more = s.actualSpots.lastRow() - s.meantSpots.lastRow();
    return std::min(s.meantSpots.lastRow(), static_cast<int>(s.script.rows.size())) + more - row + 1;
}

bool takeOut(PlanBuilder& b, int row, int rows) {
    b.ripsTo(row);
    if (rows <= 0) return true;
    Move rip;
    rip.kind = MoveKind::rip;
    rip.count = rows;
    return b.add(std::move(rip), {row, 0, 0},
                 fmt::format("Take back {} row{}, down to row {}, and set the loops on the needle.", rows,
                             rows == 1 ? "" : "s", row - 1));
}

}  // namespace

bool takeBackTo(const Situation& s, PlanBuilder& b, int row, int rowsBack) {
    (void)s.bars();
    return takeOut(b, row, rowsBack > 0 ? rowsBack : rowsBackTo(s, row)) && dropBars(s, b) && seatLoose(s, b);
}

bool workAgainFrom(const Situation& s, PlanBuilder& b, int row) {
    sayWhichYarn(s, b);
    const int rows = std::min(s.meantSpots.lastRow(), static_cast<int>(s.script.rows.size()));
    for (int r = row; r <= rows; ++r) {
        const WorkedRow& again = s.script.rows[static_cast<std::size_t>(r - 1)];
        if (!workOn(b, again, 0)) return false;
        if (!turnsEarly(again) && !turnAfter(b, r)) return false;
    }
    return b.takeOutPins();
}

bool planRip(const Situation& s, PlanBuilder& b) {
    (void)s.bars();
    if (onlyTheEndIsMissing(s)) return goOn(s, b);
    int row = s.firstWrongRow();
    // What was turned early below it is no whole row to work on from.
    while (row > 1 && stitchesIn(s.actualSpots, row - 1) < stitchesIn(s.meantSpots, row - 1)) --row;
    if (row == 0) return b.refuse("the cast-on itself is not as it was meant");
    if (row > static_cast<int>(s.script.rows.size())) return false;
    return planRipTo(s, b, row);
}

bool planRipTo(const Situation& s, PlanBuilder& b, int row, int rowsBack) {
    return takeBackTo(s, b, row, rowsBack) && workAgainFrom(s, b, row);
}

bool planDropAndRipTo(const Situation& s, PlanBuilder& b, int row) {
    (void)s.bars();
    return row <= static_cast<int>(s.script.rows.size()) && dropSpare(s, b) && planRipTo(s, b, row);
}

bool planLifelineFirst(const Situation& s, PlanBuilder& b) {
    (void)s.bars();
    if (onlyTheEndIsMissing(s)) return false;
    const int row = s.firstWrongRow();
    if (row < 2 || row > static_cast<int>(s.script.rows.size()))
        return b.refuse("no row that is right lies below it");
    const auto below = static_cast<std::size_t>(row - 1);
    if (stitchesIn(s.actualSpots, row - 1) != stitchesIn(s.meantSpots, row - 1)) return false;
    if (s.actualSpots.lastRow() < row) return false;
    std::size_t above = 0;
    for (std::size_t r = below + 1; r < s.actualSpots.rows().size(); ++r)
        above += s.actualSpots.rows()[r].size();
    constexpr std::size_t kMost = 20000;
    if (above > kMost) return b.refuse("so much would come out that another piece is sooner begun");
    const LoopId first = s.actualSpots.rows()[below].front();
    Move thread;
    thread.kind = MoveKind::thread;
    thread.loops = {first};
    thread.through = ThreadThrough::row;
    b.needs(first);
    b.caution("Keep to one row: count the stitches on the thread before you take anything out.");
    if (!b.add(
            std::move(thread), {row - 1, 0, 0},
            fmt::format("Draw a smooth thread through the right leg of every stitch of row {}, with a blunt "
                        "needle. Count them.",
                        row - 1)))
        return false;
    Move rip;
    rip.kind = MoveKind::rip;
    b.ripsTo(row);
    if (!b.add(
            std::move(rip), {row, 0, 0},
            "Take the needle out and draw the yarn out down to the thread; then put the stitches back on the "
            "needle along it."))
        return false;
    if (!dropBars(s, b) || !seatLoose(s, b) || !workAgainFrom(s, b, row)) return false;
    Move out;
    out.kind = MoveKind::unthread;
    out.loops = {first};
    return b.add(std::move(out), {row - 1, 0, 0}, "Draw the thread out.");
}

bool planRipAndColumns(const Situation& s, PlanBuilder& b, int row) {
    if (row < 2 || row > static_cast<int>(s.script.rows.size())) return false;
    (void)s.bars();
    if (!columnsHaveYarn(s, b, {row, false, Arm::both})) return false;
    return takeOut(b, row, rowsBackTo(s, row)) && dropBars(s, b) &&
           mendColumns(s, b, {row, false, Arm::both}) && seatLoose(s, b) && workAgainFrom(s, b, row);
}

bool planBackInto(const Situation& s, PlanBuilder& b, int row) {
    const int rows = std::min(s.meantSpots.lastRow(), static_cast<int>(s.script.rows.size()));
    const int first = s.firstWrongRow();
    if (first < 1 || row < first || row > rows || row > s.actualSpots.lastRow()) return false;
    const WorkedRow& words = s.script.rows[static_cast<std::size_t>(row - 1)];
    if (turnsEarly(words)) return false;
    (void)s.bars();
    const ColumnWay below{row, false, Arm::both};
    if (row > first && !columnsHaveYarn(s, b, below)) return false;
    GoesWrong at = goesWrongIn(s, row);
    const int out = rowsBackTo(s, row) - 1;
    if (out > 0 && !takeOut(b, row + 1, out)) return false;
    if (b.knitter().rowBegun() && b.knitter().aheadCount() > 0) return false;
    if (!dropBars(s, b) || !tinkTo(s, b, row, at, !b.knitter().rowBegun()) || !dropBars(s, b)) return false;
    if (row > first && !mendColumns(s, b, below)) return false;
    if (!seatLoose(s, b) || !workOn(b, words, at.step) || !turnAfter(b, row)) return false;
    b.ripsTo(row);
    return workAgainFrom(s, b, row + 1);
}

}  // namespace loopmend
