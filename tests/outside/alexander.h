// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <vector>

#include "shape/crossings.h"
#include "shape/path.h"

namespace loopmend::outside {

/// A number that follows from the knot of a piece alone: of its yarns and tools, each closed behind
/// everything else from its last end to its first. Pieces that can be moved into each other without yarn
/// passing through yarn have the same number (if nothing passes behind an end on the way: compare the pieces
/// turned over too). Where one crossing is changed it is another one, but for changes that make no other
/// knot, such as those of an open loop.
///
/// It is the Alexander polynomial of the link (J. W. Alexander, Topological invariants of knots and links,
/// Transactions of the American Mathematical Society 30 (1928) 275-306; in two variables, one for yarns and
/// one for tools: R. H. Fox, Free differential calculus II, Annals of Mathematics 59 (1954) 196-210), from
/// the crossings by Wirtinger's relations. It is known up to a factor +-x^i y^j, so it is taken at x, y with
/// x^7 = y^11 = 1 modulo the prime 2^61 - 1, and raised to the power 2 x 7 x 11.
struct KnotNumber {
    std::uint64_t value = 0;  ///< 0: tells nothing (something lies there unconnected)
    int crossings = 0;
};

/// aside: ends are led out at the side of the piece before they go back behind it.
/// flipped: the crossing of this number (by its place in the list of them) is taken the other way round;
/// -1: none.
/// tied: all yarns are one, each tied to the next behind everything.
KnotNumber knotNumberOf(const Path& path, bool aside = false, int flipped = -1, bool tied = false);

/// Of a single closed yarn whose Alexander polynomial has these coefficients.
std::uint64_t numberOfPolynomial(const std::vector<int>& coefficients);

enum class Knots { same, different, untold };
/// By their numbers. Where these differ something may have passed behind an end: then with all ends closed in
/// front, or aside. One that is equal is enough: a strand that went through another changes each of them.
Knots compareKnots(const Path& a, const Path& b);

}  // namespace loopmend::outside
