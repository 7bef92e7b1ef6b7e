// SPDX-License-Identifier: MIT
#include <catch2/catch.hpp>

#include "relaxed_knots.h"

using namespace loopmend;
using namespace loopmend::outside;

TEST_CASE("every piece of several yarns relaxes as the knot that was drawn") {
    requireSameKnots(colourSamplers());
}
