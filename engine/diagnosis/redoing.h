// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "fault/side_by_side.h"

namespace loopmend {

/// A mistake that is taken to have been made, and how she went on after it.
struct KnownFault {
    PlacedFault fault;
    After after = After::byReading;
};

/// A knitting done again with the mistakes that are known so far, row by row beside the meant one.
class Redoing {
  public:
    /// `known` in any order. The script must outlive this. `rows`: as many of its rows as are worked in all;
    /// what fell when all was done falls after the last of them.
    Redoing(const Script& script, const Setup& setup, const std::vector<KnownFault>& known, int rows);
    /// As far as another one without any mistake is, from there by the rows of a script that begins alike.
    Redoing(const Redoing& before, const Script& script);

    SideBySide& both() { return both_; }
    const SideBySide& both() const { return both_; }
    const Fabric& fabric() const { return *both_.actual().fabric; }
    const Fabric& meant() const { return *both_.meant().fabric; }
    int rows() const { return both_.rows(); }
    /// All rows are worked, or as many as there are to be.
    bool done() const { return both_.done() || both_.rows() >= rows_; }
    bool any() const { return any_; }

    /// Works the next row, its mistakes with it, and what falls after it. False: it cannot be so.
    bool workRow();
    /// Works the row in hand up to a step, the mistakes before it with it.
    bool workTo(int step);
    /// Works the rest of the row in hand.
    bool endRow();
    /// What fell when all was done.
    bool fallAtLast();

    struct Mark {
        SideBySide::Mark both;
        std::size_t made;
        std::vector<bool> worn;
        After after;
    };
    Mark mark() { return {both_.mark(), made_, worn_, both_.after()}; }
    void rollBack(const Mark& mark);

  private:
    bool beginRow();
    bool suffer(const std::vector<KnownFault>& fallen);
    void wearThrough();

    SideBySide both_;
    int rows_;
    bool any_;
    std::vector<std::vector<KnownFault>> worked_;  ///< by row, in the order of their steps
    std::vector<std::vector<KnownFault>> read_;
    std::vector<std::vector<KnownFault>> fallen_;
    std::vector<KnownFault> atLast_;
    std::vector<bool> worn_;     ///< of these, what befell the cloth already
    std::vector<int> wornFrom_;  ///< and after how many rows it can
    std::size_t made_ = 0;       ///< of the mistakes in the row in hand
};

}  // namespace loopmend
