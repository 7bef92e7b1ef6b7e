// SPDX-License-Identifier: MIT
#pragma once

#include "fabric/pairing.h"
#include "repair/builder.h"

namespace loopmend {

/// Pairs the fabrics place by place: stitch for stitch in every row that has as many of them. For cloth that
/// differs in so many places that the search along the yarn is given up, as where a whole motif was read from
/// the wrong row. From the first row on whose counts differ, nothing is paired (`complete` is then false).
Pairing pairByPlace(const Fabric& meant, const Fabric& actual, const StitchPlaces& meantSpots,
                    const StitchPlaces& actualSpots);

}  // namespace loopmend
