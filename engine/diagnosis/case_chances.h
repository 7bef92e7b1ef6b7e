// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "diagnosis/case.h"
#include "diagnosis/entropy.h"
#include "diagnosis/tables.h"

/// From what a perfect eye would find to what a knitter says: how likely each answer is.
namespace loopmend {

/// How often one who overlooks something overlooks it again: the nth look in vain at the same thing counts as
/// the nth root of a look.
struct InVain {
    int looks = 0;         ///< of that way, which should have shown it, and did not
    double logMissed = 0;  ///< sum of the logarithms of how likely that was
    /// How likely all of them together are.
    double together() const;
    /// One more, which had that chance by itself: what it has after the others.
    double also(double missed);
};

/// What something that is not in the list was called so far. Nobody knows its name, but whoever called it
/// something will mostly call it the same again: the second time says little.
struct Namings {
    std::array<std::uint8_t, kOddSigns> times{};
    bool any() const;
    /// How likely the next name is this one.
    double chanceOf(OddSign name) const;
    std::uint64_t hash() const;
};
/// The name that counts: the same whichever side it was seen from.
OddSign calledFrom(Side side, OddSign sign);
/// Whether an answer gives something a name (or says that it has none of those offered).
bool isNaming(const Look& look, const Sighting& seen);

/// Ways in which something is overlooked, and then overlooked again.
bool isSearch(LookWay way);
/// How likely it is to see nothing where something is to be seen.
double missed(const Look& look, const CaseForecast& forecast, const LookErrors& errors);

/// What may come of a look. False alarms are one outcome together, `kElsewhere`. `vain`: looks of that way
/// that were in vain before.
std::vector<LookOutcome> outcomesOf(const Look& look, const CaseForecast& forecast, const LookErrors& errors,
                                    int vain = 0, const Namings* before = nullptr);
inline constexpr std::int64_t kElsewhere = -1;
std::int64_t outcomeId(const Sighting& seen);

/// How likely an answer is, given what is there. Never 0: tables are not the cloth.
double likelihoodOf(const Look& look, const CaseForecast& forecast, const Sighting& seen,
                    const LookErrors& errors, const Namings* before = nullptr);

/// The same if there is something much like that which is not in the list: mostly it looks so, and as often
/// as not it has no name.
double likelihoodOfMuchLike(const Look& look, const CaseForecast& forecast, const Sighting& seen,
                            const LookErrors& errors);

/// How likely any other note is if a hypothesis is true.
double likelihoodOf(const CaseNote& note, const CaseTables& tables, std::size_t hypothesis,
                    const LookErrors& errors);

/// How likely she points there and says that, if it is plainest at `at` (nothing: it does not show; column 0:
/// anywhere in that row). `any`: any sign may be named. `share`: of those who point at it, at this of several
/// places.
double likelihoodOfPointing(const CaseNote& note, const CaseTables& tables, const Sighting& at, bool any,
                            double share = 1);
/// It lies as near to where she points as hands mean it.
bool pointsNear(const CaseNote& note, const Sighting& at);
/// All that does.
Look patchAbout(const CaseNote& note, Side side);
/// How well a note goes with a hypothesis, 0 to about 1: as likelihoodOf, but where one place of many was
/// told any of them is as good as another.
double goesWith(const CaseNote& note, const CaseTables& tables, std::size_t hypothesis,
                const LookErrors& errors);

/// The picture of the five that a sign comes to.
CasePicture pictureOf(OddSign sign);

}  // namespace loopmend
