// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "pattern/op.h"

/// What mistakes ask of a step.
namespace loopmend {

/// Knitted or purled, as the work faces her.
bool isPurl(const Step& step);
/// One stitch into one, knitted or purled through the leg that leads.
bool isPlain(const Step& step);
/// From that step on the row is of one plain stitch, with one yarn.
bool isOfOneStitch(const std::vector<Step>& steps, int from);
/// Two or more stitches into one.
bool isDecrease(const Step& step);
bool isYarnOver(const Step& step);
/// One new stitch from the strand before the next stitch.
bool isMakeOne(const Step& step);
bool isBindOff(const Step& step);
/// The first stitch it takes is the loop that a bind-off has left on the right needle.
bool takesLoopLeft(const WorkedRow& row, int step);
/// Whether a plain stitch at this step would be a purl: as the nearest plain step of the row goes, those
/// still to come first.
bool plainIsPurl(const WorkedRow& row, int step);
/// A step of which some stitches are missing, worked with those that are there. `over`, `under`: how many are
/// there of a cable's two arms.
std::vector<Step> withFewer(const Step& step, int there, int over, int under);

}  // namespace loopmend
