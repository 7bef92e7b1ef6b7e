// SPDX-License-Identifier: MIT
#pragma once

#include "pattern/working.h"
#include "shape/cloth.h"

/// Small pieces for tests of what is seen and pointed at.
namespace loopmend {

/// A fabric and its yarn, relaxed a little.
struct SeenCloth {
    Knitting knitting;
    Path path;

    const Fabric& fabric() const { return *knitting.fabric; }
};

/// Stockinette with a ladder, a crossing or a purl bump in it.
enum class Oddity { none, ladder, crossed, bump };
SeenCloth seenCloth(int stitches, int rows, Oddity oddity = Oddity::none, bool relaxed = true);

}  // namespace loopmend
