// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "diagnosis/walk.h"

namespace loopmend {

/// A stitch that hangs free: rows that came out under it, rows worked past it since.
struct Fallen {
    int ran = 0;
    int left = 0;
};

/// The cloth that is there, as it is asked again and again.
struct Target {
    explicit Target(const Fabric& cloth);

    const Fabric& fabric;
    Walk walk;
    int rows = 0;  ///< that it has
    std::vector<Fallen> fallen;
    int loose = 0;  ///< stitches that hang free
};

/// How far the yarns of a trial have been walked beside those of the cloth that is there.
struct Beside {
    struct Yarn {
        EntryId at;             ///< last entry walked
        std::int32_t next = 0;  ///< the loop of the actual yarn that comes next
    };
    std::vector<Yarn> yarns;  ///< in the order of the walk

    int loops() const;
};

}  // namespace loopmend
