// SPDX-License-Identifier: MIT
#include "repair/move_words.h"

#include <algorithm>
#include <array>

#include <fmt/format.h>

#include "fault/needle.h"
#include "pattern/print.h"
#include "repair/usual_lengths.h"

namespace loopmend {

namespace {

std::string numberWord(int n) {
    static const std::array<const char*, 13> kWords = {"no",   "one",    "two",   "three", "four",
                                                       "five", "six",    "seven", "eight", "nine",
                                                       "ten",  "eleven", "twelve"};
    return n >= 0 && n < static_cast<int>(kWords.size()) ? kWords[static_cast<std::size_t>(n)]
                                                         : std::to_string(n);
}

std::string stitches(int n) {
    return fmt::format("{} stitch{}", numberWord(n), n == 1 ? "" : "es");
}

class Words {
  public:
    Words(const Work& work, Terms terms, std::optional<Side> seen)
        : work_(work), f_(work.fabric()), terms_(terms), seen_(seen.value_or(work.knitter().facing())) {}

    std::string of(const Move& move) const {
        switch (move.kind) {
            case MoveKind::pin:
                if (known(move) && f_.isLive(move.loops.front())) {
                    return onNeedle(f_, move.loops.front())
                               ? "Put a pin through this stitch."
                               : "Put a pin through this open stitch, so that it "
                                 "cannot run.";
                }
                return "Put a pin through this stitch, as a mark.";
            case MoveKind::unpin:
                return known(move) && f_.isLive(move.loops.front()) && !onNeedle(f_, move.loops.front())
                           ? "Take the pin out: nothing holds this stitch then."
                           : "Take the pin out.";
            case MoveKind::drop: return "Let this stitch slide off the needle.";
            case MoveKind::letRun:
                return move.count == 0 ? "Let this stitch run down as far as it goes."
                       : move.count == 1
                           ? "Let this stitch run down one row."
                           : fmt::format("Let this stitch run down {} rows.", numberWord(move.count));
            case MoveKind::stack:
                return "Take these stitches on the hook together, " + frontOne(move.loops) + ".";
            case MoveKind::hook: return hook(move);
            case MoveKind::liftBar: return liftBar(move);
            case MoveKind::seat:
                return "Put this stitch on the needle, " + frontLeg(move.mount) + " leg in front.";
            case MoveKind::remount:
                return "Turn this stitch on the needle, so that its " + frontLeg(move.mount) +
                       " leg lies in front.";
            case MoveKind::tink:
                return move.count == 1
                           ? "Take back the last stitch."
                           : fmt::format("Take back the last {}, one by one.", stitches(move.count));
            case MoveKind::rip: return rip(move);
            case MoveKind::work: return workOn(move);
            case MoveKind::turn:
                return work_.knitter().inTheRound() ? "Begin the next round." : "Turn the work.";
            default: return further(move);
        }
        return "";
    }

  private:
    bool known(const Move& move) const {
        return !move.loops.empty() && f_.has(move.loops.front()) && f_.isLoop(move.loops.front());
    }
    /// The leg that lies in front, as a left-handed knitter sees it too.
    std::string frontLeg(Mount mount) const {
        return (mount == Mount::western) != work_.knitter().mirrored() ? "right" : "left";
    }
    /// Which of several stitches lies in front, as she looks at them.
    std::string frontOne(const std::vector<LoopId>& loops) const {
        if (loops.size() == 2) {
            const std::vector<LoopId> rightToLeft = order(loops);
            const LoopId right = seen_ == Side::right ? rightToLeft.front() : rightToLeft.back();
            const LoopId front = seen_ == work_.knitter().facing() ? loops.front() : loops.back();
            return front == right ? "the right one in front" : "the left one in front";
        }
        return "in this order";
    }
    std::vector<LoopId> order(std::vector<LoopId> loops) const {
        Knitter knitter = work_.knitter();
        return Workplace(knitter).rightToLeft(std::move(loops));
    }

    std::string hook(const Move& move) const {
        const bool towardHer = move.knit == (seen_ == work_.knitter().facing());
        const std::vector<LoopId>& loops = move.loops.empty() ? work_.stacked() : move.loops;
        std::string rung = "the lowest rung";
        if (move.rung == 0) rung = "the bare strand";
        if (move.pass) rung = "the strand that was left out";
        if (move.rung > 1) rung = fmt::format("rung {} from below, leaving those under it bare,", move.rung);
        std::string through = "this stitch";
        if (loops.size() > 1)
            through = numberWord(static_cast<int>(loops.size())) + " stitches together, " + frontOne(loops);
        std::string words =
            fmt::format("Draw {} {} you through {}: a {} on this side.", rung,
                        towardHer ? "toward" : "away from", through, towardHer ? "knit" : "purl");
        if (move.plies == Plies::pierced)
            words += " The hook goes through the yarn of the stitch, between its plies.";
        if (move.plies == Plies::some) words += " Only some plies of the strand are caught.";
        const auto turned =
            std::find_if(move.twists.begin(), move.twists.end(), [](int t) { return t != 0; });
        if (turned != move.twists.end()) {
            words = fmt::format("Give {} a half turn to the {} first. ",
                                loops.size() > 1 ? "the stitches" : "the stitch",
                                *turned < 0 ? "left" : "right") +
                    words;
        }
        return words;
    }

    std::string liftBar(const Move& move) const {
        const std::string lift = "Lift the strand between the two stitches";
        switch (move.liftTo) {
            case LiftTo::hanging: return lift + ": it becomes a stitch of its own.";
            case LiftTo::pin: return lift + " and put a pin through it: it becomes a stitch of its own.";
            case LiftTo::needle: break;
        }
        return lift + " onto the needle, " + frontLeg(move.mount) + " leg in front.";
    }

    std::string rip(const Move& move) const {
        if (move.count == 0)
            return "Pull the needle out and draw the yarn out down to the thread; then slide the stitches it "
                   "holds "
                   "onto the needle.";
        const char* row = work_.knitter().inTheRound() ? "round" : "row";
        if (move.count == 1) {
            return work_.knitter().rowBegun()
                       ? fmt::format("Take back what is worked of this {}.", row)
                       : fmt::format("Take the last {} out, and put the stitches under it on the needle.",
                                     row);
        }
        return fmt::format("Take the last {} {}s out, and put the stitches under them on the needle.",
                           numberWord(move.count), row);
    }

    std::string workOn(const Move& move) const {
        if (move.steps.size() == 1) {
            switch (move.steps.front().op) {
                case Op::knit: return "Knit the next stitch.";
                case Op::purl: return "Purl the next stitch.";
                case Op::slipPurlwiseBack: return "Slip the next stitch, the yarn behind it.";
                case Op::slipPurlwiseFront: return "Slip the next stitch, the yarn in front of it.";
                case Op::yarnOver: return "Lead the yarn over the needle: a new stitch with a hole under it.";
                case Op::m1Left:
                    return "Lift the strand before the next stitch and knit it, twisted to the left.";
                case Op::m1Right:
                    return "Lift the strand before the next stitch and knit it, twisted to the right.";
                default: break;
            }
            std::string name(longName(move.steps.front().op, terms_));
            if (!name.empty() && name[0] >= 'a' && name[0] <= 'z')
                name[0] = static_cast<char>(name[0] - 'a' + 'A');
            return name + ".";
        }
        int taken = 0;
        for (const Step& step : move.steps) taken += uses(step);
        const std::string written = printSteps(move.steps, terms_);
        const char* row = work_.knitter().inTheRound() ? "round" : "row";
        if (taken == work_.knitter().aheadCount())
            return fmt::format("Work to the end of the {}: {}.", row, written);
        return fmt::format("Work the next {}: {}.", stitches(taken), written);
    }

    // ---- looking, threads, order, yarn

    std::string further(const Move& move) const {
        switch (move.kind) {
            case MoveKind::inspect:
                return move.side == seen_ ? "Look at this side, with the light from aside."
                                          : "Turn it over and look at the other side.";
            case MoveKind::tug: return "Pull gently sideways: what hangs loose shows itself, and runs.";
            case MoveKind::count: return count(move);
            case MoveKind::mark: return "Hang a marker in this stitch, to find its column and its row again.";
            case MoveKind::slipTo:
                return "Slip the stitches over, as they are, until this one is next on the left needle.";
            case MoveKind::sort:
                return "Lay the rungs in order, the lowest nearest the stitch, none crossed.";
            case MoveKind::thread: return thread(move);
            case MoveKind::unthread:
                return isSpare(move) ? "Draw the spare needle out of its stitches."
                                     : "Draw the thread out of its stitches.";
            case MoveKind::cross: return cross(move);
            case MoveKind::passOver: return "Lift this stitch over its neighbor and off the needle.";
            case MoveKind::drawSlack: return slack(move);
            case MoveKind::snip: return snip(move);
            case MoveKind::pickOut: return pickOut(move);
            case MoveKind::graft:
                return fmt::format(
                    "Sew {} with needle and yarn, as the row that was there: through the open "
                    "stitches below and under those above.",
                    stitches(static_cast<int>(move.loops.size())));
            case MoveKind::sewOver:
                return fmt::format("Sew over {} with yarn {}, along the same path.",
                                   move.loops.size() == 1 ? "this stitch" : "these stitches", move.color);
            case MoveKind::fasten:
                return move.pass
                           ? "Catch this strand down in the middle with fine yarn, without showing on the "
                             "right side."
                       : move.loops.size() > 1
                           ? "Lead a bit of yarn under the heads round this gap, on the wrong side only, and "
                             "draw "
                             "until it just closes."
                           : "Draw a bit of yarn through this open stitch and sew it down on the other "
                             "side, so that it cannot run.";
            case MoveKind::weave: return "Weave this end in along its row and trim it, not too close.";
            case MoveKind::join: return "Join the two ends, so that they are one yarn again.";
            case MoveKind::castOn:
                return fmt::format(
                    "Draw everything out, wind the yarn up loosely, and cast on {} anew. Count "
                    "them twice.",
                    move.count);
            case MoveKind::turnJoin:
                return "Turn the cast-on once round the needle, at the gap between its last stitch and its "
                       "first.";
            default: return "";
        }
    }
    bool isSpare(const Move& move) const {
        return move.spare || (known(move) && !threadOf(f_, move.loops.front(), false) &&
                              threadOf(f_, move.loops.front(), true));
    }
    std::string count(const Move& move) const {
        if (move.loops.size() < 2) return "Count the stitches.";
        const int n = countBetween(f_, move.loops[0], move.loops[1]);
        return fmt::format("Count from one to the other: {}.", stitches(n));
    }
    std::string thread(const Move& move) const {
        const char* what = move.spare ? "the thin spare needle" : "a smooth thread";
        if (move.through == ThreadThrough::needle)
            return fmt::format("Lead {} through every stitch on the needle.", what);
        if (move.through == ThreadThrough::row) {
            const int n = known(move) ? static_cast<int>(rowWith(f_, move.loops.front()).size()) : 0;
            return fmt::format("Lead {} under the right leg of every stitch of this row: {}.", what,
                               stitches(n));
        }
        return move.loops.size() == 1 ? fmt::format("Put {} through this stitch.", what)
                                      : fmt::format("Put {} through these {}.", what,
                                                    stitches(static_cast<int>(move.loops.size())));
    }
    std::string cross(const Move& move) const {
        const bool front = move.inFront == (seen_ == work_.knitter().facing());
        const auto amount = [&](const std::vector<LoopId>& loops) {
            return numberWord(static_cast<int>(loops.size()));
        };
        return fmt::format(
            "Lead {} across {}, {} as it faces you.",
            move.loops.size() == 1 ? "this stitch" : "these " + stitches(static_cast<int>(move.loops.size())),
            move.others.size() == 1 ? "the next one" : "the next " + amount(move.others),
            front ? "in front" : "behind");
    }
    std::string slack(const Move& move) const {
        if (move.um > 0) {
            return fmt::format(
                "Ease {:.1f} mm of yarn along the row into this stitch, with the tip of the blunt "
                "needle.",
                static_cast<double>(move.um) / 1000.0);
        }
        if (move.strand && move.loops.empty()) {
            const bool isShort = f_.has(move.strand) && f_.isLoop(move.strand) &&
                                 f_[move.strand].strandUm < usualStrandUm(f_, move.strand);
            return isShort ? "Draw slack into this strand from the stitches on both sides, one leg at a time."
                           : "Ease the slack of this strand into the stitches beside it, one leg at a time.";
        }
        const bool large = known(move) && f_[move.loops.front()].um > f_[f_[move.loops.front()].yarn].loopUm;
        return large ? "Ease the slack of this stitch into those beside it, one leg at a time."
                     : "Draw slack into this stitch from those beside it, one leg at a time.";
    }
    std::string snip(const Move& move) const {
        if (!known(move)) return "Cut the yarn.";
        LoopId after = f_[move.loops.front()].next;
        while (after && !f_.isLoop(after)) after = f_[after].next;
        return after ? "Cut the strand beside this stitch, once." : "Cut the yarn here, a hand long.";
    }
    std::string pickOut(const Move& move) const {
        if (move.count == 1) return "Draw this one stitch out of its row, from the cut end.";
        if (move.count > 1)
            return fmt::format("Draw {} out of their row, from the cut end.", stitches(move.count));
        return "Draw the cut yarn out of its row, stitch by stitch, away from the cut.";
    }

    const Work& work_;
    const Fabric& f_;
    Terms terms_;
    Side seen_;
};

/// What says no, if nothing nearer is known.
std::string inGeneral(const Refusal& refusal) {
    switch (refusal.why) {
        case Why::noSuchThing:
        case Why::notALoop: return "There is no stitch here.";
        case Why::notLive:
        case Why::notOpen: return "Another stitch stands in this one and holds it.";
        case Why::ownHost: return "A stitch cannot be drawn through itself.";
        case Why::anchored: return "This stitch is knotted at its foot and cannot be drawn out.";
        case Why::inUse: return "Something still holds this stitch.";
        case Why::noLinks: return "This stitch stands on nothing that could come undone.";
        case Why::notHeld: return "This stitch is not on the needle.";
        case Why::alreadyHeld: return "This stitch is on the needle already.";
        case Why::noBall: return "The yarn has been cut here: there is no ball to work from.";
        case Why::noBar: return "There is no bare strand here to take hold of.";
        case Why::noRung: return "There is no such rung above this stitch.";
        case Why::tooLittleYarn: return "There is not enough yarn here.";
        case Why::nothingToUndo: return "Nothing has been worked that could be taken back.";
        case Why::nothingBefore: return "There is no stitch on the right needle yet.";
        case Why::noStitchBelow: return "No single stitch stands below this one.";
        case Why::noThread: return "No thread and no spare needle lies in a row below.";
        case Why::noEnd: return "No end of yarn hangs here.";
        case Why::notNeighbours: return "These do not lie side by side.";
        case Why::hasBall: return "This yarn runs to the ball: cut it first.";
        case Why::edgesDiffer:
            return fmt::format("{} below and {} above: count them again, they have to be as many.", refusal.a,
                               refusal.b);
        default: break;
    }
    std::string words = sentence(refusal);
    if (!words.empty() && words[0] >= 'a' && words[0] <= 'z')
        words[0] = static_cast<char>(words[0] - 'a' + 'A');
    return words + ".";
}

}  // namespace

std::string wordsOf(const Work& work, const Move& move, Terms terms, std::optional<Side> seen) {
    return Words(work, terms, seen).of(move);
}

std::string refusalOf(const Work& work, const Move& move, const Refusal& refusal, Terms) {
    const Fabric& f = work.fabric();
    const Why why = refusal.why;
    const LoopId loop = move.loops.empty() ? LoopId{} : move.loops.front();
    const bool known = loop && f.has(loop) && f.isLoop(loop);
    switch (move.kind) {
        case MoveKind::pin:
            if (why == Why::alreadyHeld) return "A pin holds this stitch already.";
            break;
        case MoveKind::unpin:
            if (why == Why::notHeld) return "There is no pin in this stitch.";
            break;
        case MoveKind::drop:
            if (why == Why::notHeld) return "This stitch is not on the needle, so it cannot slide off it.";
            break;
        case MoveKind::letRun:
            if (why == Why::notLive)
                return "Another stitch stands in this one and holds it: only an open stitch can run.";
            if (why == Why::inUse) {
                return known && pinOf(f, loop) ? "The pin holds this stitch: take it out first."
                                               : "The needle holds this stitch: let it slide off first.";
            }
            if (why == Why::anchored) return "This stitch is knotted at its foot, so it cannot run.";
            if (why == Why::noLinks) {
                return move.count > 1 ? "It cannot run that far: something holds it lower down."
                                      : "It has run as far as it can: nothing more can come undone here.";
            }
            break;
        case MoveKind::stack:
        case MoveKind::hook:
            if (why == Why::notOpen || why == Why::notLive || (known && !f.isLive(loop)))
                return "Another stitch stands in this one already: the hook needs an open stitch.";
            if (why == Why::noSuchThing && move.loops.empty()) return "There is no stitch on the hook yet.";
            if (why == Why::noRung && move.rung > 1) return "There are not so many rungs above this stitch.";
            if (why == Why::noRung) return "There is no rung above this stitch.";
            break;
        case MoveKind::liftBar:
            if (why == Why::notNeighbours)
                return "This strand lies too far down: the stitches beside it are not on the needle.";
            break;
        case MoveKind::seat:
            if (why == Why::notLive)
                return "Another stitch stands in this one: only an open stitch belongs on the needle.";
            if (why == Why::notHeld) return "It does not show where on the needle this stitch belongs.";
            break;
        case MoveKind::remount:
            if (why == Why::notHeld) return "This stitch is not on the needle, so it cannot be turned there.";
            break;
        case MoveKind::tink:
        case MoveKind::rip:
            if (why == Why::nothingToUndo && move.kind == MoveKind::rip && move.count == 0)
                return "The thread lies in the row under the needle: there is nothing above it to draw out.";
            if (why == Why::anchored) return "The cast-on is knotted: it is not taken back stitch by stitch.";
            if (why == Why::nothingToUndo && !work.knitter().behind().empty())
                return "There is nothing left to take back: this is the cast-on.";
            if (why == Why::notLive || why == Why::notOpen) {
                return "Another stitch has been drawn through this row's yarn: it has to come out first.";
            }
            if (why == Why::rowNotWorked)
                return "The row in hand is in the way: take its stitches back first.";
            break;
        case MoveKind::work:
            if (why == Why::notEnoughStitches && refusal.b == 0)
                return "No stitch is left on the left needle: turn the work first.";
            if (why == Why::notEnoughStitches) {
                return fmt::format("This needs {} on the left needle, and only {} {} there.",
                                   stitches(refusal.a), numberWord(refusal.b), refusal.b == 1 ? "is" : "are");
            }
            break;
        case MoveKind::turn:
            if (why == Why::rowNotWorked) {
                return fmt::format("{} still on the left needle: a round is worked to its end.",
                                   refusal.a == 1 ? "A stitch is" : "Stitches are");
            }
            break;
        case MoveKind::mark:
            if (why == Why::alreadyHeld) return "A marker hangs in this stitch already.";
            break;
        case MoveKind::count:
            if (why == Why::notHeld)
                return "Both ends of what is counted have to be on one needle or thread.";
            break;
        case MoveKind::sort:
            if (why == Why::noRung) return "There are no rungs above this stitch to lay in order.";
            break;
        case MoveKind::thread:
            if (why == Why::alreadyHeld)
                return move.spare ? "The spare needle goes through a stitch of these already."
                                  : "A thread goes through a stitch of these already.";
            break;
        case MoveKind::unthread:
            if (why == Why::notHeld) return "No thread and no spare needle goes through this stitch.";
            break;
        case MoveKind::cross:
            if (why == Why::notLive)
                return "Both arms are held by the rows above: let the stitches of one arm run down first.";
            break;
        case MoveKind::drawSlack:
            if (why == Why::tooLittleYarn) return "There is no slack here to draw.";
            if (why == Why::sameYarn)
                return "These two are not of one yarn: no slack goes from one to the other.";
            break;
        case MoveKind::pickOut:
            if (why == Why::noEnd || why == Why::hasBall)
                return "No cut end of yarn is in this stitch: a row is picked out from the cut.";
            if (why == Why::notEnoughStitches)
                return fmt::format("Only {} can be drawn out here.", stitches(refusal.b));
            break;
        case MoveKind::graft:
            if (why == Why::notLive) return "A stitch of the lower edge is not open.";
            break;
        case MoveKind::sewOver:
            if (why == Why::noLinks) return "This stitch goes through no other: there is no path to follow.";
            if (why == Why::nothingAbove) return "This stitch is still open: knit a row over it first.";
            break;
        case MoveKind::fasten:
            if (why == Why::notLive || why == Why::notOpen)
                return move.pass ? "This strand is a rung: hook it through its open stitch."
                                 : "Another stitch stands in this one: only an open stitch is fastened.";
            break;
        case MoveKind::turnJoin:
            if (why == Why::noSuchThing) return "No round is joined after this stitch.";
            if (why == Why::notLive)
                return "The second round holds the gap already: take it back first, then the band can be "
                       "turned.";
            break;
        case MoveKind::weave:
            if (why == Why::hasBall) return "This yarn runs to the ball: cut it first.";
            break;
        default: break;
    }
    return inGeneral(refusal);
}

std::string briefly(const Move& move) {
    switch (move.kind) {
        case MoveKind::pin: return "Pin it";
        case MoveKind::unpin: return "Take the pin out";
        case MoveKind::drop: return "Let it slide off";
        case MoveKind::letRun: return "Let it run";
        case MoveKind::stack: return "On the hook together";
        case MoveKind::hook: return move.rung == 0 && !move.pass ? "Hook the strand" : "Hook the rung";
        case MoveKind::liftBar: return "Lift the strand";
        case MoveKind::seat: return "Back on the needle";
        case MoveKind::remount: return "Turn the stitch";
        case MoveKind::tink: return "Stitch by stitch back";
        case MoveKind::rip: return move.count == 0 ? "Draw out down to the thread" : "Take rows out";
        case MoveKind::work: return "Work on";
        case MoveKind::turn: return "Turn the work";
        case MoveKind::inspect: return "Look at both sides";
        case MoveKind::tug: return "Pull gently";
        case MoveKind::count: return "Count";
        case MoveKind::mark: return "Hang a marker";
        case MoveKind::slipTo: return "Slip to the place";
        case MoveKind::sort: return "Lay the rungs in order";
        case MoveKind::thread:
            return move.through == ThreadThrough::named ? "Hold the stitches"
                   : move.spare                         ? "A spare needle in the row"
                                                        : "Thread the row";
        case MoveKind::unthread: return move.spare ? "Draw the needle out" : "Draw the thread out";
        case MoveKind::cross: return move.inFront ? "Cross in front" : "Cross behind";
        case MoveKind::passOver: return "Lift it over";
        case MoveKind::drawSlack: return "Even the yarn";
        case MoveKind::snip: return "Cut once";
        case MoveKind::pickOut: return "Pick the row out";
        case MoveKind::graft: return "Sew the row";
        case MoveKind::sewOver: return "Sew over it";
        case MoveKind::fasten: return "Fasten it";
        case MoveKind::weave: return "Weave the end in";
        case MoveKind::join: return "Join the ends";
        case MoveKind::castOn: return "Cast on anew";
        case MoveKind::turnJoin: return "Turn the band";
    }
    return {};
}

std::string cautionOf(const Work& work, const Move& move) {
    const Fabric& f = work.fabric();
    switch (move.kind) {
        case MoveKind::snip: {
            if (move.loops.empty() || !f.has(move.loops.front())) return {};
            const LoopId loop = move.loops.front();
            LoopId after = f[loop].next;
            while (after && !f.isLoop(after)) after = f[after].next;
            if (!after) return "Leave an end long enough to weave in.";
            if (f[loop].um * 2 > f[f[loop].yarn].loopUm * 3)
                return "This is a snag: ease it back, never cut it.";
            return "Two rows threaded first, the one above and the one below; say both aloud. Then cut once, "
                   "away "
                   "from the threads.";
        }
        case MoveKind::rip:
            return move.count == 0 || move.count > 1 ? "Count the stitches when they are back on the needle."
                                                     : "";
        case MoveKind::pickOut: return "Both rows beside it must be on a thread or a needle.";
        case MoveKind::graft:
            return "Rest your hands before a long row, and sew it loosely: it is evened afterward.";
        case MoveKind::thread: return "One row only, and between the plies of no stitch.";
        default: return {};
    }
}

}  // namespace loopmend
