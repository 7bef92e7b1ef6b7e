// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <vector>

#include "repair/builder.h"

namespace loopmend {

/// Which columns are let down where stitches are crossed otherwise than meant: those of the one arm, of the
/// other, or both. The less comes undone the better, but an arm may be the only one that is free.
enum class Arm : std::uint8_t { right, left, both };

/// Crossings between what stands and what was meant: what has to come undone for them, which are taken back,
/// and which are made.
class Arms {
  public:
    /// f: the fabric as it is now. below: only crossings above meant rows lower than this minus one; 0: all.
    Arms(const Situation& situation, const Fabric& f, int below, Arm arm);

    /// Loops of the fabric through which nothing may go while the arms change.
    const std::vector<LoopId>& feet() const { return feet_; }

    /// After everything is let down: what is crossed and was not meant is taken back. now: the standing loop
    /// of each meant one.
    bool uncross(PlanBuilder& b, const std::vector<LoopId>& now);
    /// What can be crossed by now is crossed.
    bool crossWhatStands(PlanBuilder& b, const std::vector<LoopId>& now);
    /// A meant crossing above this meant loop is still to be made.
    bool waitsAbove(LoopId meant) const;
    bool done() const { return wanted_.empty(); }

  private:
    struct Pair {
        LoopId right;
        LoopId left;
        int sign;
    };
    /// Pairs that hang together, and lie alike.
    struct Group {
        std::vector<LoopId> right;
        std::vector<LoopId> left;
        int sign = 0;
    };
    static std::vector<Group> grouped(const std::vector<Pair>& pairs);
    static bool stands(const Fabric& f, LoopId right, LoopId left, int sign);
    bool move(PlanBuilder& b, const Group& group, bool back);

    const Situation& s_;
    int below_;
    std::vector<LoopId> feet_;
    std::vector<Pair> all_;      ///< crossings of the meant fabric here
    std::vector<Group> wanted_;  ///< of those, still to be made; meant loops
};

}  // namespace loopmend
