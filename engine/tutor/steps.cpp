// SPDX-License-Identifier: MIT
#include "tutor/steps.h"

#include <algorithm>
#include <array>

#include <fmt/format.h>

#include "fabric/hands.h"

namespace loopmend {

namespace {

using Thing = PointTarget::Thing;

PageMark markOf(PageMarkKind kind, const PointTarget& target) {
    PageMark mark;
    mark.kind = kind;
    (target.thing == Thing::rung     ? mark.rungs
     : target.thing == Thing::strand ? mark.strands
                                     : mark.loops)
        .push_back(target.entry);
    return mark;
}

/// Loops of the cloth round a place: so many columns and rows to each side.
PageMark around(const SessionState& s, LoopId loop, int reach) {
    PageMark mark;
    mark.kind = PageMarkKind::look;
    const StitchPlace at = s.places().of(loop);
    for (int row = std::max(0, at.row - reach); row <= std::min(s.places().lastRow(), at.row + reach);
         ++row) {
        for (const LoopId l : s.places().rows()[static_cast<std::size_t>(row)]) {
            if (std::abs(s.places().of(l).column - at.column) <= reach) mark.loops.push_back(l);
        }
    }
    return mark;
}

/// `in the left part, well below the needle`: where to look, not yet what to count.
std::string roughly(const AsSeen& view, const StitchPlaces& places, LoopId loop) {
    constexpr int kClose = 2;
    constexpr int kFar = 8;
    const StitchPlace spot = places.of(loop);
    if (spot.column == 0) return "in the cloth";
    const int n = static_cast<int>(places.rows()[static_cast<std::size_t>(spot.row)].size());
    const int fromRight = view.seen == Side::right ? spot.column : n - spot.column + 1;
    const char* part = 3 * fromRight <= n ? "right part" : 3 * fromRight <= 2 * n ? "middle" : "left part";
    const int down = rowsDown(places, loop);
    const std::string_view top = topWords(view.fabric);
    const std::string depth = down <= kClose
                                  ? fmt::format("close to the {}", top)
                                  : fmt::format("{} below the {}", down < kFar ? "well" : "far", top);
    return fmt::format("in the {}, {}", part, depth);
}

std::string whereHint(const AsSeen& view, const StitchPlaces& places, LoopId loop) {
    return fmt::format("Look {}.", roughly(view, places, loop));
}

LoopId placeOf(const SessionState& s, const Move& move) {
    if (!move.loops.empty()) return move.loops.front();
    if (move.strand) return move.strand;
    return s.work.stacked().empty() ? LoopId{} : s.work.stacked().front();
}

std::string whatToNotice(const SessionState& s, const Move& move) {
    switch (move.kind) {
        case MoveKind::pin: return "A loop with nothing drawn through it stands open.";
        case MoveKind::hook: {
            const bool toHer = move.knit == (s.seen() == s.facing());
            return move.rung == 0
                       ? std::string("The strand it needs is the bare one right beside it.")
                       : fmt::format("The lowest rung, nearest to the open loop, comes first. It lies {} it.",
                                     toHer ? "behind" : "in front of");
        }
        case MoveKind::unpin: return "A pin still sits in the cloth.";
        case MoveKind::drop: return "The top of this column is a stitch on the needle.";
        case MoveKind::letRun: return "A stitch hangs loose, off the needle.";
        case MoveKind::seat: return "A loop hangs with no rung left above it.";
        case MoveKind::remount: return "One stitch sits the other way round on the needle.";
        case MoveKind::tink:
        case MoveKind::rip: return "What is wrong lies in the newest rows.";
        case MoveKind::work: return "All stitches wait on one needle: a row can be knitted.";
        case MoveKind::turn: return "The row is done: no stitch is left on the left needle.";
        case MoveKind::stack:
        case MoveKind::liftBar: return "The bare strand between two stitches is longer than its neighbors.";
        case MoveKind::thread: return "What stands in a row below is whole, and can be kept as it is.";
        case MoveKind::unthread: return "A thread still lies in the cloth.";
        case MoveKind::cross: return "Two arms lie the other way round than they should.";
        case MoveKind::drawSlack: return "One stitch is larger or smaller than those beside it.";
        case MoveKind::snip: return "Both rows beside the wrong one are held by threads, stitch for stitch.";
        case MoveKind::pickOut: return "A cut end hangs in the wrong row.";
        case MoveKind::graft: return "Two rows of open stitches lie face to face.";
        case MoveKind::fasten: return "A loop stands open, and the piece is off the needle.";
        case MoveKind::sewOver: return "One stitch has the wrong color.";
        case MoveKind::join: return "Two ends hang where one strand should run.";
        case MoveKind::castOn: return "What is wrong lies in the first row of all.";
        case MoveKind::turnJoin:
            return "The band winds once round the needle between its first stitch and its last.";
        default: return "Look closely at this place.";
    }
    return {};
}

std::string whyThis(const SessionState& s, const Move& move) {
    switch (move.kind) {
        case MoveKind::pin: return "What has nothing through it can run. A pin holds it while you work.";
        case MoveKind::hook: {
            const bool toHer = move.knit == (s.seen() == s.facing());
            return fmt::format("A {} is meant here on the side you see, so the yarn comes through {} you.{}",
                               toHer ? "V" : "bump", toHer ? "toward" : "away from",
                               toHer ? "" : " Seen from the other face it comes toward you.");
        }
        case MoveKind::unpin: return "Another stitch holds that loop by now, or it has to come undone.";
        case MoveKind::drop:
            return "What stands above the wrong stitch has to come out before it can be reached.";
        case MoveKind::letRun: return "Only when the rows above are out does the wrong stitch lie open.";
        case MoveKind::seat: return "A stitch that is whole again belongs on the needle.";
        case MoveKind::remount: return "Knitted as it sits now, its feet would cross.";
        case MoveKind::tink:
        case MoveKind::rip: return "Taking those back brings you to the last row that is right.";
        case MoveKind::work:
            return "Rows taken back are knitted again; a mended place shows in the rows above it.";
        case MoveKind::turn: return "The next row goes back the other way.";
        case MoveKind::stack:
        case MoveKind::liftBar: return "Its yarn is the stitch that is missing.";
        case MoveKind::thread: return "What is on a thread cannot run, whatever comes out above it.";
        case MoveKind::unthread: return "Its work is done: the stitches are held by others now.";
        case MoveKind::cross: return "The arm that was meant to lie in front has to be led across in front.";
        case MoveKind::drawSlack: return "The yarn is all there: it only lies in the wrong stitches.";
        case MoveKind::snip:
            return "One cut frees the whole row, and nothing can run: the rows on both sides are threaded.";
        case MoveKind::pickOut: return "The wrong row leaves outward from the cut, and its neighbors stay.";
        case MoveKind::graft: return "The needle with the yarn goes the way that the row would have gone.";
        case MoveKind::fasten: return "Sewn down it is held as if a stitch were drawn through it.";
        case MoveKind::sewOver: return "What lies on top is what is seen.";
        case MoveKind::join: return "Joined, the yarn holds what stands on both sides of the gap.";
        case MoveKind::castOn: return "What is begun anew can be begun right.";
        case MoveKind::turnJoin:
            return "Before the second round the twist still lies in one strand, and can be turned out of it.";
        default: return "It brings the cloth nearer to what was meant.";
    }
    return {};
}

}  // namespace

const StepRules& rulesOf(StepKind kind) {
    static const std::array<StepRules, 10> kRules = {
        makeSafeRules(), lookRules(),     askRules(),   findRules(),     whatHappenedRules(),
        chooseRules(),   putRightRules(), checkRules(), nextTimeRules(), inWoolRules()};
    return kRules[static_cast<std::size_t>(kind)];
}

Scene sceneNow(const SessionState& s) {
    return {s.view(), s.standing(), s.places(), s.reading(s.seen())};
}

Scene sceneOfFault(const SessionState& s) {
    const Scene now = sceneNow(s);
    if (!roots(now).empty()) return now;
    AsSeen view = s.view();
    return {{s.start, view.seen, view.facing, view.mirrored, view.terms},
            s.startStanding,
            s.startPlaces,
            s.startReadings[static_cast<std::size_t>(s.seen())]};
}

std::string whose(const SessionState& s) {
    const std::string thing = s.wanted.thing.empty() ? "swatch" : s.wanted.thing;
    return s.wanted.member.empty() ? "the " + thing : fmt::format("{}'s {}", s.wanted.member, thing);
}

std::string rootHint(const SessionState& s, int rung) {
    return rootHint(s, rung, roots(sceneNow(s)));
}

std::string rootHint(const SessionState& s, int rung, const std::vector<PointTarget>& all) {
    const Scene scene = sceneNow(s);
    if (all.empty()) {
        return rung == 1   ? "Look row by row, from the needle down."
               : rung == 2 ? "All stitches look like their neighbors."
               : rung == 3 ? "Nothing stands open, and the count is right."
                           : "Nothing here is wrong.";
    }
    const PointTarget& root = all.front();
    const bool open = root.thing == Thing::loop && wasOpen(scene, root.entry);
    switch (rung) {
        case 1: return whereHint(scene.view, scene.places, root.entry);
        case 2:
            if (open && s.fabric().passesOf(root.entry).empty())
                return "One loop hangs free, beside the needle: nothing is drawn through it.";
            if (open)
                return "Bare strands lie one above the other. Under the lowest stands a loop with nothing "
                       "through it.";
            if (root.thing == Thing::strand && !s.standing().unevenStrands.empty())
                return "One bar between two stitches is wider than its neighbors.";
            if (root.thing == Thing::strand && !s.standing().unevenFloats.empty())
                return "One strand is longer or shorter than the stitches that it passes.";
            if (root.thing == Thing::strand)
                return "Between two stitches the strand is bare where a stitch should stand.";
            if (isWound(scene))
                return "The edge of the cast-on lies under the needle, and farther on it does not: it winds.";
            return fmt::format("One place shows {}: its neighbors do not.", lookWords(scene, root.entry));
        case 3:
            if (isWound(scene))
                return "A band that was joined with a twist never lies flat, however long it grows.";
            return open ? "A loop with nothing through it can run. Every other loop is held by the stitch "
                          "above it."
                        : "A mistake is seen where a stitch differs from the ones beside and below it.";
        default:
            return root.thing == Thing::strand
                       ? fmt::format("Point at the strand beside this stitch: {}.",
                                     placeWords(scene.view, scene.places, root.entry))
                       : fmt::format("Point at {}.", placeWords(scene.view, scene.places, root.entry));
    }
}

void lightRoot(const SessionState& s, int hints, std::vector<PageMark>& marks) {
    lightPlace(s, hints, roots(sceneNow(s)), marks);
}

void lightPlace(const SessionState& s, int hints, const std::vector<PointTarget>& all,
                std::vector<PageMark>& marks) {
    if (all.empty() || hints < 1) return;
    const PointTarget& root = all.front();
    if (hints < 4) marks.push_back(around(s, root.entry, 3));
    if (hints >= 2) {
        PageMark notice;
        notice.kind = PageMarkKind::notice;
        notice.rungs = s.fabric().passesOf(root.entry);
        if (!notice.rungs.empty()) marks.push_back(std::move(notice));
    }
    if (hints >= 4) {
        for (const PointTarget& r : all) marks.push_back(markOf(PageMarkKind::next, r));
    }
}

namespace {

/// The row is whole and nothing of the next one is worked, but the tips stand elsewhere: what brings them
/// where the next row begins. Stitches are only slipped by it.
std::vector<Move> tipsInPlace(const SessionState& s, const WorkedRow& next) {
    const Knitter& knitter = s.work.knitter();
    const std::vector<LoopId> behind = knitter.behind();
    Move turn;
    turn.kind = MoveKind::turn;
    Move slipBack;
    slipBack.kind = MoveKind::tink;
    const bool faces = (next.facing == Facing::right) == (knitter.facing() == Side::right);
    if (knitter.inTheRound()) {
        if (knitter.aheadCount() == 0) return {turn};
        if (behind.empty() || knitter.inThisRow(behind.back())) return {};
        slipBack.count = static_cast<int>(behind.size());
        return {slipBack};
    }
    if (faces) {
        if (behind.empty()) return {};
        slipBack.count = static_cast<int>(behind.size());
        return {slipBack};
    }
    if (knitter.aheadCount() == 0) return {turn};
    slipBack.count = knitter.aheadCount();
    return {turn, slipBack};
}

}  // namespace

std::vector<Move> restOfRow(const SessionState& s) {
    const Knitter& knitter = s.work.knitter();
    const std::vector<WorkedRow>& rows = s.swatch.script().rows;
    std::vector<Move> moves;
    Move turn;
    turn.kind = MoveKind::turn;
    int row = s.places().lastRow();  // rows whole, if nothing of a row is begun
    std::size_t step = 0;
    int left = knitter.aheadCount();
    if (s.standing().asMeant && s.standing().goal.steps == 0) {
        row = s.standing().goal.rows;
        if (row < static_cast<int>(rows.size())) {
            moves = tipsInPlace(s, rows[static_cast<std::size_t>(row)]);
        } else if (knitter.rowBegun() && knitter.aheadCount() == 0) {
            moves.push_back(turn);
        }
        left += static_cast<int>(knitter.behind().size());
    } else if (knitter.rowBegun()) {
        const std::vector<Goal> here = goalsWhereSheIs(s.swatch, s.work);
        if (knitter.aheadCount() == 0 || here.empty()) {
            moves.push_back(turn);
            left = static_cast<int>(knitter.behind().size());
        } else {
            row = here.front().rows;
            step = static_cast<std::size_t>(here.front().steps);
        }
    }
    if (row < 0 || row >= static_cast<int>(rows.size())) return moves;
    // As many as the needle has: where stitches are missing she comes to the end sooner.
    Move work;
    work.kind = MoveKind::work;
    const std::vector<Step>& steps = rows[static_cast<std::size_t>(row)].steps;
    for (; step < steps.size() && uses(steps[step]) <= left; ++step) {
        left -= uses(steps[step]);
        work.steps.push_back(steps[step]);
    }
    if (!work.steps.empty()) moves.push_back(std::move(work));
    moves.push_back(std::move(turn));
    return moves;
}

int rowsWanted(const SessionState& s) {
    const Knitter& knitter = s.work.knitter();
    const bool finished = knitter.aheadCount() == 0 && knitter.behind().empty();
    if (s.standing().shows || finished) return 0;
    return std::min(s.wanted.rowsOn, static_cast<int>(s.swatch.script().rows.size()) - s.swatch.rows());
}

int rowsKnittedOn(const SessionState& s) {
    return s.standing().asMeant ? std::max(0, s.standing().goal.rows - s.swatch.rows()) : 0;
}

std::optional<Move> nextMove(const SessionState& s) {
    if (s.kind() == StepKind::makeSafe) {
        if (s.standing().open.empty()) return std::nullopt;
        Move pin;
        pin.kind = MoveKind::pin;
        pin.loops = {s.standing().open.front()};
        return pin;
    }
    if (const Plan* plan = s.plan())
        return plan->moves.empty() ? std::nullopt : std::optional(plan->moves.front().move);
    if (!s.standing().asMeant || s.kind() != StepKind::check) return std::nullopt;
    if (rowsKnittedOn(s) >= rowsWanted(s) && s.standing().goal.steps == 0) return std::nullopt;
    const std::vector<Move> row = restOfRow(s);
    return row.empty() ? std::nullopt : std::optional(row.front());
}

bool nextIsShown(const SessionState& s) {
    if (s.kind() != StepKind::putRight || s.standing().asMeant) return false;
    const int hers = s.wanted.guidance.lastAreHers;
    const Plan* plan = s.plan();
    return hers >= 0 && plan != nullptr && static_cast<int>(plan->moves.size()) > hers;
}

std::string moveHint(const SessionState& s, int rung) {
    const std::optional<Move> move = nextMove(s);
    if (!move) {
        if (s.standing().asMeant) return {};
        return rung < 4 ? "From here no short way is known." : "Take your last move back, and then the next.";
    }
    const LoopId place = placeOf(s, *move);
    switch (rung) {
        case 1:
            return place ? whereHint(s.view(), s.places(), place)
                         : std::string("Look at the needle and the newest row.");
        case 2: return whatToNotice(s, *move);
        case 3: return whyThis(s, *move);
        default: return moveWords(s.view(), s.places(), *move);
    }
}

void lightMove(const SessionState& s, int hints, std::vector<PageMark>& marks) {
    const std::optional<Move> move = nextMove(s);
    const bool shown = nextIsShown(s) || hints >= 4;
    if (!move || (hints < 1 && !shown)) return;
    const LoopId place = placeOf(s, *move);
    if (!shown && place) marks.push_back(around(s, place, 3));
    if ((hints >= 2 || shown) && s.plan() != nullptr) {
        bool undoes = false;
        for (const PlannedMove& m : s.plan()->moves)
            undoes = undoes || m.move.kind == MoveKind::drop || m.move.kind == MoveKind::letRun;
        if (undoes) {
            PageMark go;
            go.kind = PageMarkKind::mustGo;
            go.loops = drawnThrough(s.fabric(), s.standing().wrong);
            marks.push_back(std::move(go));
            PageMark keep;
            keep.kind = PageMarkKind::keep;
            keep.loops = s.plan()->needsOnTool;
            if (!keep.loops.empty()) marks.push_back(std::move(keep));
        }
    }
    if (!shown) return;
    PageMark next;
    next.kind = PageMarkKind::next;
    PageMark through;
    through.kind = PageMarkKind::through;
    if (move->kind == MoveKind::hook) {
        through.loops = move->loops.empty() ? s.work.stacked() : move->loops;
        if (move->rung == 0) {
            next.strands.push_back(move->strand);
        } else if (!through.loops.empty()) {
            const std::vector<PassId> all = s.fabric().passesOf(through.loops.front());
            const auto i = static_cast<std::size_t>(move->rung - 1);
            if (i < all.size()) next.rungs.push_back(all[i]);
        }
    } else if (move->kind == MoveKind::liftBar) {
        next.strands.push_back(move->strand);
    } else {
        next.loops = move->loops;
    }
    for (PageMark* mark : {&next, &through}) {
        if (!mark->loops.empty() || !mark->rungs.empty() || !mark->strands.empty())
            marks.push_back(std::move(*mark));
    }
}

}  // namespace loopmend
