// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "fault/fault.h"
#include "fault/place.h"
#include "pattern/working.h"

namespace loopmend {

/// Throws of dice that are the same for the same seed on every machine and in every build: splitmix64 (G. L.
/// Steele, D. Lea, C. H. Flood, Fast splittable pseudorandom number generators, OOPSLA 2014), and numbers
/// below n drawn from it without favour.
class Seeded {
  public:
    explicit Seeded(std::uint64_t seed) : state_(seed) {}
    std::uint64_t next();
    /// 0 ... n-1; n at least 1.
    int below(int n);

  private:
    std::uint64_t state_;
};

/// What is asked of a place.
struct Wanted {
    int rowFrom = 1;
    int rowTo = 0;         ///< 0: the last row
    int clearOfEdges = 0;  ///< so many stitches at both ends of the row are left alone
    bool atEdge = false;   ///< only the first or the last stitch of a row
};

/// Every place of the script where the fault can stand, in the order worked; one a step, named by the step's
/// first stitch. Linear for what is worked in; for a run every column is let down once and taken back.
std::vector<FaultPlace> placesFor(const Fault& fault, const Script& script, const Setup& setup,
                                  const Wanted& wanted = {});

/// One of them, drawn from a seed; none if there is none.
std::optional<FaultPlace> drawPlace(std::uint64_t seed, const Fault& fault, const Script& script,
                                    const Setup& setup, const Wanted& wanted = {});

}  // namespace loopmend
