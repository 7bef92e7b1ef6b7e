// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <string_view>

namespace loopmend {

/// Which side of the Atlantic the words come from. Only words change: never what is worked.
enum class Terms : std::uint8_t { us, uk };

/// Words that differ between the two (common practice). `gauge` is here for pages only: the UK word for it,
/// tension, also names how tight a hand knits, so rows and hands are called tight or slack, never that.
enum class Word : std::uint8_t {
    bindOff,      ///< bind off | cast off
    boundOff,     ///< bound off | cast off
    gauge,        ///< gauge | tension
    stockinette,  ///< stockinette | stocking stitch
    reverseStockinette,
    seedStitch,       ///< seed stitch | moss stitch
    doubleSeed,       ///< moss stitch | double moss stitch (each bump two rows high)
    duplicateStitch,  ///< duplicate stitch | Swiss darning (a trade term)
    yarnOver,         ///< yarn over | yarn over, also where older UK books print yfwd, yrn, yon
    skp,              ///< skp | skpo
    seam,             ///< seam | sewing up
};

/// The word itself, lower case but for proper names.
std::string_view word(Word which, Terms terms);

}  // namespace loopmend
