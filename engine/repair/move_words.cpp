// SPDX-License-Identifier: MIT
#include "repair/move_words.h"

#include <algorithm>
#include <array>

#include <fmt/format.h>

#include "pattern/print.h"

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
                    return onNeedle(move.loops.front()) ? "Put a pin through this stitch."
                                                        : "Put a pin through this open stitch, so that it "
                                                          "cannot run.";
                }
                return "Put a pin through this stitch, as a mark.";
            case MoveKind::unpin:
                return known(move) && f_.isLive(move.loops.front()) && !onNeedle(move.loops.front())
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
        }
        return "";
    }

  private:
    bool known(const Move& move) const {
        return !move.loops.empty() && f_.has(move.loops.front()) && f_.isLoop(move.loops.front());
    }
    bool onNeedle(LoopId loop) const {
        const HeldId h = f_.heldOn(loop, f_.needle());
        return h && f_[h].state.hanging == 0;
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
        if (move.rung > 1) rung = fmt::format("rung {} from below, leaving those under it bare,", move.rung);
        std::string through = "this stitch";
        if (loops.size() > 1)
            through = numberWord(static_cast<int>(loops.size())) + " stitches together, " + frontOne(loops);
        std::string words =
            fmt::format("Draw {} {} you through {}: a {} on this side.", rung,
                        towardHer ? "toward" : "away from", through, towardHer ? "knit" : "purl");
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
    }
    return inGeneral(refusal);
}

}  // namespace loopmend
