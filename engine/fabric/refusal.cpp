// SPDX-License-Identifier: MIT
#include "fabric/refusal.h"

#include <fmt/format.h>

namespace loopmend {

std::string sentence(const Refusal& refusal) {
    switch (refusal.why) {
        case Why::noSuchThing: return "there is no such loop in this fabric";
        case Why::notALoop: return "a strand lies there, not a loop";
        case Why::notLive: return "another stitch stands in this loop: free that one first";
        case Why::ownHost: return "a loop cannot be drawn through itself";
        case Why::anchored: return "this loop is knotted at its foot and cannot be drawn out";
        case Why::inUse: return "this loop is still held, or still goes through another";
        case Why::noLinks: return "this loop goes through no other, so there is nothing to draw out";
        case Why::notHeld: return "the loop is not on that tool";
        case Why::alreadyHeld: return "the loop is on that tool already";
        case Why::noBall: return "this end of the yarn has been cut: there is no ball to work from";
        case Why::hasBall: return "this end of the yarn runs to the ball: cut it first";
        case Why::sameYarn: return "these are the two ends of one yarn";
        case Why::tooLittleYarn: return "there is not that much yarn to take";
        case Why::notNeighbours: return "these two do not lie side by side";
        case Why::crossedTwice: return "these stitches have crossed in this row already: work a row first";
        case Why::crossedInARing:
            return "three stitches cannot each lie over the next in one row: work a row first";
        case Why::notEnoughStitches:
            return fmt::format("this needs {} stitch{} on the left needle and there {} {}", refusal.a,
                               refusal.a == 1 ? "" : "es", refusal.b == 1 ? "is" : "are", refusal.b);
        case Why::nothingBefore: return "there is no stitch on the right needle to work with";
        case Why::noBar: return "no running thread lies between the needles here";
        case Why::noStitchBelow: return "no single stitch stands below this one";
        case Why::noRung: return "the loop has no such rung above it";
        case Why::notOpen: return "the loop is not open: another stitch stands in it";
        case Why::nothingToUndo: return "nothing has been worked that could be taken back";
        case Why::rowNotWorked:
            return fmt::format("{} stitch{} still waiting on the left needle", refusal.a,
                               refusal.a == 1 ? " is" : "es are");
        case Why::notInTheRound: return "this work is flat: only a round can be ended so";
        case Why::yarnElsewhere: return "the working yarn does not hang here";
        case Why::nothingAbove: return "nothing stands in this stitch yet: work a row over it first";
        case Why::edgesDiffer:
            return fmt::format("an edge of {} and one of {} cannot be joined stitch for stitch", refusal.a,
                               refusal.b);
        case Why::notAtATurn:
            return "only the first stitch after a turn, where the yarn hangs, can be doubled";
        case Why::notDoubled: return "the next stitch does not show two legs";
        case Why::noWrap: return "no strand was led round the next stitch";
        case Why::noFloat: return "no strand of another yarn lies across the next stitch";
        case Why::noEdge: return "no such edge lies beside the stitch in hand";
        case Why::noThread: return "no thread lies in a row below";
        case Why::noEnd: return "no end of yarn hangs here";
        case Why::noSpareStitches:
            return fmt::format("this needs {} stitch{} on a holder or a spare needle and there {} {}",
                               refusal.a, refusal.a == 1 ? "" : "es", refusal.b == 1 ? "is" : "are",
                               refusal.b);
    }
    return "this cannot be done";
}

}  // namespace loopmend
