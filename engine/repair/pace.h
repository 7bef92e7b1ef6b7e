// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include <tl/expected.hpp>

/// How fast hands are, and how much yarn a stitch may lack: every figure of the planner that is a rule of
/// thumb of the trade, adjustable, in two tables.
namespace loopmend {

/// How fast her hands are, and what a move costs. "Stitches" as a unit: the time one stitch takes to knit.
struct Pace {
    double secondsPerStitch = 4.0;  ///< a learner; steady 2, quick 1.5
    double tinkFactor = 3.5;        ///< taking back a stitch, in stitches
    double ripSecondsPerStitch = 0.2;
    double seatFactor = 1.5;          ///< putting a bare loop back on the needle, in stitches
    double seatThreadedFactor = 0.7;  ///< the same where a thread holds it
    double hookFactor = 2.5;          ///< one rung, in stitches
    double alternateFactor = 1.6;     ///< a rung that goes the other way than the one before
    double edgeLoopFactor = 2.0;      ///< a rung of an edge loop
    double shortRungFactor = 3.0;
    double sharedStrandFactor = 1.3;  ///< a rung in a strand that other columns hang in too
    double hookSetUpSeconds = 40.0;   ///< a column: taking up the hook, sorting its rungs
    double panelSetUpSeconds = 300.0;
    double panelFactor = 3.0;  ///< a stitch worked with two spare needles, in stitches
    double panelRowSeconds = 15.0;
    double pinSeconds = 10.0;
    double threadFactor = 2.0;   ///< a thread through a stitch, in stitches
    double slackSeconds = 10.0;  ///< slack drawn along to one stitch
    double sewFactor = 10.0;     ///< a stitch grafted, in stitches
    double sewOverSeconds = 30.0;
    double fastenSeconds = 180.0;
    double weaveSeconds = 120.0;
    double unchainFactor = 0.75;  ///< a bound-off stitch opened and put on the needle, in stitches
    double castOnFactor = 2.0;    ///< in stitches
    double snipSeconds = 60.0;
    double turnJoinSeconds = 120.0;  ///< a band turned once at its join
    double washSeconds = 1200.0;     ///< without the drying
    double changeToolSeconds = 0.0;  ///< a further tool taken up; they lie at hand
    double otherMoveSeconds = 5.0;

    /// A line `name number` for each figure, in the order above.
    std::string text() const;
    /// Reads such lines; names that are left out keep their usual value. The failure is one sentence.
    static tl::expected<Pace, std::string> from(std::string_view text);
    /// From what she did: a stitch takes as long as her attempts took, against what they were reckoned at.
    struct Attempted {
        double reckonedSeconds = 0;  ///< by this pace
        double tookSeconds = 0;
    };
    /// The middle ratio of the attempts, drawn toward this pace as long as they are few (the weight of three
    /// attempts). Attempts that took no time, or ten times as long (she went away), are not counted.
    Pace calibrated(const std::vector<Attempted>& attempts) const;
};

/// How much yarn a mended stitch may lack, and how much of it others can lend.
struct YarnTable {
    int neighborsEachSide = 6;
    double lends = 0.09;  ///< of its loop, each neighbor
    /// Where a column was off the needle row after row its neighbors have closed up: each rung above the
    /// first finds so much less.
    double closesPerRow = 0.17;
    // Millimeters that one loop lacks after easing, where a loop has 16.8 mm; in proportion for others.
    double exactMm = 1.5;
    double tightMm = 6.4;
    double visibleMm = 12.5;  ///< beyond it there is no yarn for the stitch
    double loopMm = 16.8;
    /// Of what lacks, neighbors can lend a yarn-over no more than this: its hole stays smaller.
    double lendsToHole = 0.85;
};

}  // namespace loopmend
