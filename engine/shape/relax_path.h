// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <vector>

#include "fabric/fabric.h"
#include "shape/path.h"
#include "shape/relax.h"

/// From the drawn path of a fabric to rods, and back.
namespace loopmend {

struct RodOptions {
    int pointsPerStitch = 14;    ///< on an ordinary stretch of loop and strand; 24 and more for measuring
    double lengthsPerCore = 17;  ///< ordinary loop and strand over the diameter of the hard core
    bool holdEnds = true;        ///< the very ends of yarns lie still where no other thing does,
                                 ///< or a tight piece would swallow them
    double longestRung =
        0.55;                ///< of an ordinary stitch: what a rung shows of its slack; all of it would snag
    std::uint64_t seed = 0;  ///< loops differ in length as hands make them; 0: none does
    double unevenness = 0.03;  ///< share by which a loop is longer or shorter at most
};

/// Rods of a path, mm, strand by strand, and whose yarn each point is.
struct PathRods {
    Rods rods;
    std::vector<std::vector<EntryId>> entries;  ///< by rod, by point; none along a tool
    struct Through {
        LoopId loop;
        LoopId host;
        bool loose = false;  ///< the loop could be drawn out of the host: neither is anything that is held or
                             ///< anchored drawn through it, however indirectly, or one of them is at an end
                             ///< of yarn that may move
    };
    std::vector<Through> links;  ///< that lead through the opening of a host
};

/// Every loop's stretch (from the middle of the strand before it to the middle of the one after) is cut into
/// equal pieces; together they are as long at rest as the loop's own yarn and its halves of the strands, µm
/// of the fabric. Passes share what a strand has beyond an ordinary one. Ends of yarn, and the stretches
/// they hang on, are as long as drawn. Tools are stiff and stay where they are. Draw the path finely
/// (PathOptions::step about 0.08): rods are cut from its polyline.
PathRods rodsOfPath(const Path& path, const Fabric& fabric, const RodOptions& options = {});

/// The path as its rods lie now.
Path pathOfRods(const PathRods& rods, const Path& like);

}  // namespace loopmend
