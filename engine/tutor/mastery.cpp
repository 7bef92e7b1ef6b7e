// SPDX-License-Identifier: MIT
#include "tutor/mastery.h"

#include <algorithm>

namespace loopmend {

KnowingRates ratesOf(SkillKind kind) {
    KnowingRates rates;
    if (kind == SkillKind::mending) {
        rates.slip = 0.15;
        rates.guess = 0.1;
    }
    return rates;
}

double chanceRight(double known, const KnowingRates& rates) {
    return known * (1 - rates.slip) + (1 - known) * rates.guess;
}

double knownAfter(double known, bool right, const KnowingRates& rates) {
    const double ifKnown = known * (right ? 1 - rates.slip : rates.slip);
    const double ifNot = (1 - known) * (right ? rates.guess : 1 - rates.guess);
    // Nobody answers like this by these rates: nothing is learned about what she knows.
    const double seen = ifKnown + ifNot > 0 ? ifKnown / (ifKnown + ifNot) : known;
    return std::clamp(seen + (1 - seen) * rates.learned, 0.0, 1.0);
}

}  // namespace loopmend
