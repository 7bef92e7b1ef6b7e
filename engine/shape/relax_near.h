// SPDX-License-Identifier: MIT
#pragma once

#include <memory>
#include <optional>
#include <vector>

#include "shape/relax_path.h"

/// A change of a few stitches in a piece that lies at rest.
namespace loopmend {

struct NearOptions {
    NearOptions();

    double fresh = 1.7;   ///< stitch widths: loops so near to a changed one are drawn anew
    double active = 3.2;  ///< so near: they move
    double border = 5.5;  ///< so near: they lie still and are touched
    RelaxOptions relax;   ///< fewer steps than from cold
};

/// The newly drawn rods laid into the piece as it lay: what is far from every changed loop keeps its place,
/// what is near is moved as its surroundings were. A start for `relax`.
/// lay: relaxed before the change. drawn: of the changed fabric's path. Entries that are only in one of them
/// count as changed.
PathRods warmStart(const PathRods& lay, const PathRods& drawn, const std::vector<EntryId>& changed,
                   double freshMm);

/// A relaxation of the neighbourhood in steps, for a window that shows it on the way: what `relaxNear` does.
/// Not for two threads at once.
class RelaxingNear {
  public:
    /// Fails where the newly drawn loops do not fit into the old surroundings, however much is drawn anew.
    /// A fault then means: relax the piece from cold.
    static tl::expected<RelaxingNear, RelaxFault> begin(const PathRods& lay, PathRods drawn,
                                                        const std::vector<EntryId>& changed, double stitchMm,
                                                        const NearOptions& options = {});
    RelaxingNear(RelaxingNear&&) noexcept;
    RelaxingNear& operator=(RelaxingNear&&) noexcept;
    ~RelaxingNear();

    /// False: it is done. Where a crossing turns out to have changed, it begins again with more drawn anew.
    bool advance(int steps);
    /// The whole piece as it lies now; every crossing as drawn once `advance` is done without a fault.
    const PathRods& rods() const;
    const std::optional<RelaxFault>& fault() const;
    RelaxFigures figures() const;

  private:
    struct State;
    explicit RelaxingNear(std::unique_ptr<State> state);
    std::unique_ptr<State> state_;
};

/// warmStart and a relaxation of the neighbourhood alone, inside a border that does not move. Crossings of
/// the result are compared with those drawn; where the new loops do not fit into the old surroundings more is
/// drawn anew, in the end everything that may move. A fault then means: relax the piece from cold.
tl::expected<PathRods, RelaxFault> relaxNear(const PathRods& lay, const PathRods& drawn,
                                             const std::vector<EntryId>& changed, double stitchMm,
                                             const NearOptions& options = {},
                                             RelaxFigures* figures = nullptr);

}  // namespace loopmend
