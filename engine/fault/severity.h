// SPDX-License-Identifier: MIT
#pragma once

#include <string_view>

#include "fault/facts.h"

namespace loopmend {

/// What a mistake costs if it is left, the worst first (common practice: what unravels before what no longer
/// comes out, that before what does not fit, and that before what is only seen).
enum class Severity : std::uint8_t {
    run,    ///< a stitch hangs free: it unravels further
    count,  ///< the stitches no longer come out
    size,   ///< the piece does not come out as large, or does not lie as it was meant to
    look,   ///< it is seen, or could be
    none    ///< nothing is different yet
};
/// `run`, `count` ...: the word of documents.
std::string_view name(Severity severity);
/// A whole sentence: `It unravels further.`
std::string_view severityWords(Severity severity);

/// The worst of what the example shows, worked on by reading or by count.
Severity severityOf(const FaultExample& example, const FaultFacts& facts);

/// Another number of rows, a round joined with another twist, a row nearly all of whose stitches have another
/// size, a strand behind that draws the cloth in.
bool changesSize(const Fabric& meant, const Fabric& actual);

}  // namespace loopmend
