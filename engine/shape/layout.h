// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "fabric/fabric.h"
#include "shape/columns.h"
#include "shape/fold.h"
#include "shape/geometry.h"
#include "shape/squeeze.h"
#include "shape/winding.h"

/// The piece as points: where every loop stands on what it was drawn through.
namespace loopmend {

/// The loop before the last one of a bind-off lies round its legs so much higher than its foot, in rows.
constexpr double kChainRise = 0.9;
/// Every further half turn of a wound loop makes it so much taller, in rows.
constexpr double kWindRise = 0.45;

struct LayoutOptions {
    Gauge gauge;
    int sweeps = 300;  ///< of the spring net; fewer are taken for very large pieces
    /// Garter rows closed up as they lie at rest: where relaxing begins (see Squeeze). Else they stand apart,
    /// as they can be drawn without relaxing.
    bool closeRidges = true;
};

/// Foot points of loops, and places of the strands that go by loops, mm.
struct Layout {
    struct Node {
        bool placed = false;
        Frame frame;  ///< `at`: where the loop crosses the heads of its hosts, or would; of a pass: the level
                      ///< at which a loop would stand there
        EntryId right;  ///< who stands beside it when its row is done
        EntryId left;
        double toRight = 0;  ///< mm to that neighbour (the gauge's stitch where there is none)
        double toLeft = 0;
    };

    Gauge gauge;
    ColumnGrid columns;
    std::vector<Node> nodes;  ///< by entry id
    Squeeze squeeze;          ///< to be done to what is drawn upon the frames
    Fold fold;                ///< and after that
    Winding winding;          ///< and last

    const Node& operator[](EntryId e) const { return nodes[static_cast<std::size_t>(e.value)]; }
    std::int32_t row(EntryId e) const { return columns.row(e); }
};

/// Lays a piece out flat. Rest lengths follow from what a loop is tied to: how many hosts, how many strands
/// go by it, which columns it crosses. Deterministic; any fabric, also an unfinished or damaged one.
/// A round is laid out as if it were cut open between its last and its first stitch.
Layout layoutOf(const Fabric& fabric, const LayoutOptions& options = {});

/// After a change of a few entries: those and what the sweep now places otherwise are laid anew among the
/// others, which keep their frames to the last bit. Much cheaper than `layoutOf`; its result depends on what
/// the piece went through.
Layout layoutNear(const Fabric& fabric, const Layout& before, const std::vector<EntryId>& changed);

}  // namespace loopmend
