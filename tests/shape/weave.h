// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <vector>

#include "fabric/fabric.h"
#include "shape/crossings.h"
#include "shape/path.h"

namespace loopmend {

/// A drawn fabric with its crossings by pairs of entries, for tests.
class Weave {
  public:
    /// turnedOver: every height is changed to its opposite, to see that the checks bite.
    explicit Weave(const Fabric& fabric, bool turnedOver = false);

    const Path& path() const { return path_; }
    const Layout& layout() const { return layout_; }
    const std::vector<PlanarCrossing>& crossings() const { return crossings_; }

    /// Crossings of two entries in the order in which they lie along `mover`: `O` where it lies over, `U`
    /// where it lies under, as the right side shows it. reach: so far into the strands on both sides of it,
    /// in stitch widths. Without two that undo each other.
    std::string along(EntryId mover, EntryId other, double reach = 0) const;
    /// Crossings of a picked-up loop with the piece whose edge it was picked up along, along the loop.
    std::string pickedUp(LoopId loop) const;
    /// Of a link under legs: the loop lies over them, and nowhere between its two sides goes behind; what
    /// leads from one picked-up loop to the next lies behind something, so that it cannot be drawn out.
    bool hooks(LinkId link) const;
    /// Crossings of an entry with itself: `/` or `\` by the branch that lies over.
    std::string itself(EntryId entry) const;
    /// Crossings of an entry with a tool, along the entry.
    std::string withTool(EntryId entry, ToolId tool) const;
    /// What `along` must give for a link: feet behind the host's legs, legs in front of its head, or the
    /// reverse.
    static std::string planned(Side side) { return side == Side::right ? "UOOU" : "OUUO"; }
    /// The side to which a loop is drawn as it shows: a piece that was folded over shows its other face.
    Side sideShown(LinkId link) const;
    /// The same where the loop stands beside another one drawn through the same host: the foot between them
    /// lies in the opening and meets no leg. Or where the strand leaves it for a foot at another height.
    bool asPlanned(LinkId link, const std::string& seen) const;
    /// Links whose crossings are not as planned, in words.
    std::vector<std::string> wrongLinks() const;

  private:
    struct Met {
        EntryId over;
        EntryId under;
        const PlanarCrossing* crossing;
    };
    /// A crossing along one strand.
    struct Seen {
        PlanarCrossing::Branch mine;
        PlanarCrossing::Branch theirs;
        char what = 0;
    };
    /// Where a strand begins and ends that hangs behind the work at its ends.
    void hangingEnds(std::size_t strand, double& from, double& to) const;
    bool undone(const Seen& a, const Seen& b) const;
    bool plainNeighbour(LoopId loop, EntryId beside) const;
    EntryId entryAt(const PlanarCrossing::Branch& branch) const;

    const Fabric& f_;
    Layout layout_;
    Path path_;
    std::vector<PlanarCrossing> crossings_;
    std::vector<Met> met_;
};

}  // namespace loopmend
