// SPDX-License-Identifier: MIT
#pragma once

#include "pattern/op.h"

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

namespace loopmend {

/// Where words take stitches up again that waited on a holder: `Return to held sts, with RS facing rejoin
/// yarn, k2tog, k to end`. What follows is knitted on them and read as a piece of its own.
struct TakenUp {
    std::size_t body = 0;          ///< where the words behind it begin
    long long stitches = 0;        ///< as printed; 0: that is not said
    long long pickedUp = 0;        ///< beside them, along an edge
    std::optional<Facing> facing;  ///< in the first row, if that is said
    bool row = false;              ///< the words behind it are those of the first row, which has no head
};

/// Such words at `at`, where a sentence begins; none: it says something else.
std::optional<TakenUp> takenUpAt(std::string_view text, std::size_t at);

/// `30 sts of left sleeve, 60 held sts`: all of them together.
long long stitchesIn(std::string_view text);

}  // namespace loopmend
