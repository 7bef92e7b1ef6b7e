// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "shape/relax.h"

/// The inside of a relaxation: all rods in one row of points. Unit of length: the contact radius of the yarn.
namespace loopmend {

/// Four floats that are worked on at once.
using Quad = float __attribute__((vector_size(16)));

inline Quad quadOf(float x, float y, float z, float w) {
    return Quad{x, y, z, w};
}
inline float dot3(Quad a, Quad b) {
    const Quad p = a * b;
    return p[0] + p[1] + p[2];
}

/// Points, and the pieces after them. A rod that goes around has two more points at its end, images of its
/// first two one period to the right.
struct RodBed {
    struct Image {
        int point;
        int of;
    };
    struct Span {
        int first;
        int end;     ///< behind its last point, images included
        int around;  ///< points of a rod that goes around, else 0
    };

    int n = 0;                ///< points; behind them lie four idle ones
    std::vector<Quad> x;      ///< x, y, z, radius of the core
    std::vector<float> rest;  ///< of the piece after a point; 0: there is none
    std::vector<float> bend;  ///< stiffness of the corner at a point; 0: not bent there
    std::vector<float> set;   ///< length of the second difference that the corner has taken on
    std::vector<float> free;  ///< 1, or 0 for a point that does not move
    std::vector<float> grip;  ///< see Rod::grip; empty: no rod has any
    std::vector<Span> spans;
    std::vector<int> spanOf;  ///< by point
    std::vector<Image> images;
    double period[2] = {0, 0};
    float longest = 0;  ///< rest length of a piece
    float shortest = 0;
    bool periodic = false;

    void placeImages();
};

/// Sizes must fit (see relax.h). setShare: see RelaxOptions::set.
tl::expected<RodBed, RelaxFault> bedOf(const Rods& rods, double setShare);
/// The points of a bed put back into rods.
Rods rodsOf(const RodBed& bed, const Rods& like);

}  // namespace loopmend
