// SPDX-License-Identifier: MIT
#include "diagnosis/case_hearing.h"

#include <algorithm>

#include "diagnosis/told_place.h"

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

ApartColumns apartOf(const CaseNote& note, const CaseTables& tables, std::size_t h) {
    switch (note.kind) {
        case CaseNote::Kind::look: return apartOfTold(note.look, note.seen, tables, h);
        case CaseNote::Kind::cameOut: return tables.apartInCount(h, tables.rows());
        case CaseNote::Kind::picture: {
            if (note.row == 0) return tables.apartSeen(h, 0, 0);
            const Look patch = patchAbout(note, Side::right);
            ApartColumns apart = tables.apartSeen(h, patch.columnFrom, patch.columnTo);
            for (const Side side : {Side::right, Side::wrong})
                apart.add(tables.apart(patchAbout(note, side), h));
            return apart;
        }
        default: return ApartColumns::all();
    }
}

}  // namespace loopmend
