// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "fabric/fabric.h"
#include "pattern/terms.h"
#include "reading/columns.h"
#include "reading/read.h"

namespace loopmend {

/// Lines that the eye follows up a piece.
enum class LandmarkKind : std::uint8_t {
    spine,    ///< centred double decreases, each taking the one below as its middle stitch
    eyelets,  ///< yarn-overs one above another, or stepping aside by one
    rib,      ///< a column of V's beside bumps
    cable,    ///< crossings of the same columns
};
/// As the command line says it: `double-decrease`, `yarn-overs`, `rib`, `cable`.
std::string_view name(LandmarkKind kind);

struct Landmark {
    LandmarkKind kind = LandmarkKind::spine;
    int rowFrom = 0;
    int rowTo = 0;
    int column = 0;  ///< of its lowest place, from the right edge as the right side shows it
    /// Rows in which it should have gone on and did not, though it goes on above, there or one step aside.
    std::vector<int> breaksAt;

    friend bool operator==(const Landmark& a, const Landmark& b) {
        return a.kind == b.kind && a.rowFrom == b.rowFrom && a.rowTo == b.rowTo && a.column == b.column &&
               a.breaksAt == b.breaksAt;
    }
};

/// All landmarks, by kind, then from right to left, then from below. A line needs two places (a rib four
/// rows). Nothing but the cloth is asked: a line that simply ends is not broken. Linear.
std::vector<Landmark> landmarks(const Fabric& fabric, const Reading& reading);

/// `a line of double decreases from row 3 to row 23; it breaks in row 13`.
std::string words(const Landmark& landmark, Terms terms = Terms::us);

}  // namespace loopmend
