// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "fabric/fabric.h"

/// What a needle and thread do: loops sewn in along a path that knitting could have made. The thread is a
/// yarn without a ball (a length cut for it, see Fabric::setBall); each call goes on at its last end. Either
/// all of a call is done, or nothing and a Refusal says why.
namespace loopmend {

/// Duplicate stitch: follows the path of a stitch, through what it goes through and under what goes through
/// it, so that it covers that stitch on one side (`covers`: the side on which it lies on top). Stitches are
/// covered in the order given; the thread runs from one to the next as `run` says. Refused: a stitch that
/// goes through nothing (it has no path), one through which nothing goes (it is still on the needle), a
/// thread with a ball.
Result<std::vector<LoopId>> duplicateStitches(Fabric& fabric, YarnId thread,
                                              const std::vector<LoopId>& stitches, Run run = Run::leftward,
                                              Side covers = Side::right);

/// The sides to which a grafted row is drawn, stitch by stitch in the order sewn; empty: all to the right
/// side, as in stockinette. A garter row has `sewn` on the wrong side and `above` on the right, or the other
/// way about; a rib has what its columns have.
struct GraftSides {
    std::vector<Side> sewn;   ///< the sewn loop, through the loop below it
    std::vector<Side> above;  ///< the loop above, through the sewn one
};

/// Joins two edges by a sewn row that copies a worked one: for each pair a loop through the live loop of the
/// one edge, and under the loop of the other. Both lists stand in the order in which the thread comes to them
/// (`run`); what tools hold of live ones is taken off. The loops of `above` hang by their feet if what they
/// went through is gone (a cast-on taken out, a row picked out): the seam is then the row that was there. If
/// they are live and stand on stitches of their own, the edges meet head to head: they are fastened by the
/// seam, since nothing else holds them (Entry::flags.anchored). Refused: edges of different lengths, a loop
/// through which another goes, a thread with a ball, sides that are not one for each stitch.
Result<std::vector<LoopId>> graft(Fabric& fabric, YarnId thread, const std::vector<LoopId>& below,
                                  const std::vector<LoopId>& above, Run run = Run::leftward,
                                  const GraftSides& sides = {});

/// Draws sewn loops out again from the thread's end, the last one first: all of the thread, or what was sewn
/// after `until` (which stays). Loops that the seam had fastened are live again.
Result<void> unsew(Fabric& fabric, YarnId thread, LoopId until = {});

}  // namespace loopmend
