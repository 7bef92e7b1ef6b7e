// SPDX-License-Identifier: MIT
#pragma once

#include "diagnosis/tables.h"
#include "reading/answer.h"

/// Something may be odd at several places of a patch: the rungs of a ladder, a row purled all along. A
/// perfect eye finds the plainest, of several the lowest (answer.h); a hand may as well point at any other
/// (LookErrors::another).
namespace loopmend {

/// What a look finds on a piece that was knitted as a whole.
CaseForecast forecastOf(const Look& look, const LookedAt& piece);

/// What a look finds if a hypothesis is true, held against what she told of it: if that is another place that
/// is odd there, then this one, and how many tell it (CaseForecast::share).
CaseForecast forecastOfTold(const Look& look, const Sighting& told, const CaseTables& tables, std::size_t h,
                            const LookErrors& errors);
CaseForecast forecastOfTold(const Look& look, const Sighting& told, const LookedAt& piece,
                            const LookErrors& errors);
/// Of the strip of a hypothesis (CaseTables::stripOf): where that is not the same all along.
ApartColumns apartOfTold(const Look& look, const Sighting& told, const CaseTables& tables, std::size_t h);

/// Somewhere about there she points. What of a mistake is odd in that patch.
struct PointedAt {
    Sighting at;       ///< the plainest; nothing: it does not show there
    double share = 0;  ///< of those who point at it at all, so many point there
};
PointedAt pointedAt(const Look& patch, const CaseTables& tables, std::size_t h, const LookErrors& errors);
PointedAt pointedAt(const Look& patch, const LookedAt& piece, const LookErrors& errors);

}  // namespace loopmend
