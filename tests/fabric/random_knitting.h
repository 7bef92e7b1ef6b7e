// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "swatch.h"

namespace loopmend {

/// Throws that are the same for the same seed on every machine; or, given a list, that list first (so that a
/// failing property can be made smaller) and then nothing but ones.
class Dice {
  public:
    explicit Dice(std::uint64_t seed) : state_(seed * 0x9E3779B97F4A7C15ULL + 0x2545F4914F6CDD1DULL) {}
    explicit Dice(std::vector<std::uint16_t> throws) : throws_(std::move(throws)), listed_(true) {}

    /// 0 ... n-1
    int below(int n);
    bool chance(int percent) { return below(100) < percent; }
    template <class T>
    const T& pick(const std::vector<T>& from) {
        return from[static_cast<std::size_t>(below(static_cast<int>(from.size())))];
    }

  private:
    std::uint64_t state_ = 0;
    std::vector<std::uint16_t> throws_;
    std::size_t next_ = 0;
    bool listed_ = false;
};

/// Any habit, mirrored or not, any cast-on, flat or in the round, then rows of anything.
Swatch randomSwatch(Dice& dice, int rows, int stitches = 8);
/// Anything a knitter can do to the stitches of a row, to its end.
void randomRow(Swatch& swatch, Dice& dice);
/// k, p, their twisted forms and decreases: what comes back whole when it is taken back or hooked up again.
void randomPlainRow(Swatch& swatch, Dice& dice, bool decreases);
/// A drop, a tug, a rung hooked, a stitch taken back, a loop pinned: whether it could be done.
bool randomHandMove(Swatch& swatch, Dice& dice);
/// One legal primitive somewhere: whether it could be done.
bool randomPrimitive(Fabric& fabric, Dice& dice);

/// A further yarn for the swatch; rows of two colours, no operation but k and p.
void randomTwoColourRow(Swatch& swatch, YarnId other, Dice& dice);

}  // namespace loopmend
