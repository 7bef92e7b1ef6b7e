// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

namespace loopmend {

/// Rows moved closer to each other after they were drawn: heights are mapped to heights, in order, so that no
/// crossing of the drawing can change.
class Squeeze {
  public:
    /// What lies between the two heights is squeezed to this share. Pieces are given from below, and do not
    /// overlap.
    void add(double from, double to, double share);
    bool empty() const { return pieces_.empty(); }
    double height(double y) const;

  private:
    struct Piece {
        double from;
        double to;
        double share;
        double taken;  ///< by the pieces up to its end
    };
    std::vector<Piece> pieces_;
};

}  // namespace loopmend
