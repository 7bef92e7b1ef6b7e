// SPDX-License-Identifier: MIT
#include "diagnosis/case_hearing.h"

#include <algorithm>

namespace loopmend {

void VainLooks::clear() {
    states_.clear();
    next_.clear();
    of_.clear();
}

void VainLooks::begin(std::size_t hypotheses) {
    states_.assign(1, InVain{});
    next_.assign(1, {});
    of_.assign(hypotheses, 0);
}

double VainLooks::also(std::size_t hypothesis, double missed) {
    std::uint32_t& state = of_[hypothesis];
    const std::vector<Next>& from = next_[state];
    const auto known =
        std::find_if(from.begin(), from.end(), [&](const Next& n) { return n.missed == missed; });
    if (known != from.end()) {
        state = known->to;
        return known->chance;
    }
    InVain then = states_[state];
    Next next;
    next.missed = missed;
    next.chance = then.also(missed);
    next.to = static_cast<std::uint32_t>(states_.size());
    next_[state].push_back(next);
    states_.push_back(then);
    next_.emplace_back();
    state = next.to;
    return next.chance;
}

}  // namespace loopmend
