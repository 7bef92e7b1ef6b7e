// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <vector>

#include "repair/pointing.h"

namespace loopmend {

class SeenColumns;

/// A move that suggests itself where a tool points.
struct ToolMove {
    Move move;
    bool always = true;  ///< said even if hands cannot do it, with the reason
    std::string barred;  ///< hands could, but must not: why
};

/// What a spare needle, a cable needle, a thread, scissors or a blunt needle suggest at a place; empty for
/// the other notions. `seen`: the side she looks at.
std::vector<ToolMove> toolMoves(const Work& work, const SeenColumns& columns, Notion notion,
                                const PointedAt& at, Side seen);

/// The open stitches of a picked-out row's two edges, sewn together as the row that was there: the graft that
/// this open stitch of the lower edge suggests; no loops: none. Both edges hang on threads or needles.
Move graftAt(const Work& work, LoopId below);

/// The rows right above and right below a loop's are held, each stitch of them, so that the loop's own row
/// may be cut.
bool rowsBesideAreHeld(const Fabric& fabric, LoopId loop);

}  // namespace loopmend
