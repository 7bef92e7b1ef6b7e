// SPDX-License-Identifier: MIT
#pragma once

#include "pattern/order.h"
#include "pattern/pattern.h"

#include <cstddef>
#include <cstdint>
#include <unordered_map>
#include <vector>

namespace loopmend {

/// How well a row goes with the others of its pattern. Stitch counts alone cannot say which of a dozen words
/// lost a stitch; but patterns repeat themselves: a row comes again, a little shifted, mirrored, or seen from
/// the other side of the work; from row to row numbers grow by the same step; stitches continue those below
/// them. What fits in has most likely been meant.
class Likeness {
  public:
    Likeness(const Pattern& pattern, const RowOrder& order);

    /// How much a row departs from what the other rows let one expect, in the units of misprint_price; 0 =
    /// exactly so. `row` is the index into Pattern::rows of the one that it stands for.
    int departs(std::size_t row, const Row& words) const;

    /// A run of the same stitch, or a mark where the star begins or ends.
    struct Run {
        std::int32_t sign = 0;
        std::int32_t times = 0;
        friend bool operator==(const Run& a, const Run& b) { return a.sign == b.sign && a.times == b.times; }
    };
    using Runs = std::vector<Run>;
    /// The row as runs, with groups written out; two rows that are worked alike have the same.
    static Runs runsOf(const Row& row);

  private:
    /// Which run follows which in the rows around one, as they are and as they look from the other side.
    class Habit {
      public:
        void learn(const Runs& runs, int weight);
        /// The surprise of a row, in the units of misprint_price.
        int surprise(const Runs& runs) const;

      private:
        static std::uint64_t key(const Run& a, const Run& b, std::uint64_t kind);
        double share(std::uint64_t pair, std::uint64_t one) const;
        std::unordered_map<std::uint64_t, int> seen_;
        int all_ = 0;
    };
    struct Expected {
        bool known = false;
        std::vector<Runs> rows;
        Habit habit;
    };
    /// Rows that `row` may be like: the ones around it, as they are, mirrored, and seen from the other side.
    Expected expected(std::size_t row) const;

    const Pattern& pattern_;
    const RowOrder& order_;
    mutable std::vector<Runs> runs_;          ///< of each row of the pattern, once asked for
    mutable std::vector<Expected> expected_;  ///< of each, once asked for
};

}  // namespace loopmend
