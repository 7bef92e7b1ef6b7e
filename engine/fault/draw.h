// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include <tl/expected.hpp>

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

/// What is asked of a place. Rows and stitches as FaultPlace counts them.
struct Wanted {
    int rowFrom = 1;
    int rowTo = 0;         ///< 0: the last row
    int clearOfEdges = 0;  ///< so many stitches at both ends of the row are left alone
    bool atEdge = false;   ///< only the first or the last stitch of a row
    int stitchFrom = 1;    ///< with stitchTo: a repeat of the row, say
    int stitchTo = 0;      ///< 0: the last stitch
    int near = 0;          ///< within kNear of this stitch (before which a marker hangs, say); 0: anywhere
    int below = -1;  ///< so many rows below the needle when all is worked (0: the row just worked); -1: any
    std::string on = {};  ///< only this stitch, in US words: `k2tog`, `yo`; empty: any
    /// Only where the mistake shows from that side when all is worked (every stitch kept above its own
    /// column); none: wherever it shows. Asked by drawPlace alone.
    std::optional<Side> seenFrom = {};
};
inline constexpr int kNear = 2;

/// Reads `rows=3-6,stitches=4-9,clear=2,edge,near=8,below=3,on=k2tog,seen=ws`, in any order; single numbers
/// for `rows` and `stitches` too. The failure is one sentence that says what may stand there.
tl::expected<Wanted, std::string> wantedFrom(std::string_view words);

/// Every place of the script where the fault can stand, in the order worked; one a step, named by the step's
/// first stitch. Linear for what is worked in; for a run every column is let down once and taken back.
std::vector<FaultPlace> placesFor(const Fault& fault, const Script& script, const Setup& setup,
                                  const Wanted& wanted = {});

/// One of them, drawn from a seed; none if there is none. If it is asked to be seen from a side, places are
/// tried in the order the dice give: each costs the working of the script.
std::optional<FaultPlace> drawPlace(std::uint64_t seed, const Fault& fault, const Script& script,
                                    const Setup& setup, const Wanted& wanted = {});

}  // namespace loopmend
