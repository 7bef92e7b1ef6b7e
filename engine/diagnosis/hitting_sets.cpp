// SPDX-License-Identifier: MIT
#include "diagnosis/hitting_sets.h"

#include <algorithm>
#include <set>

namespace loopmend {

namespace {

using Set = std::vector<int>;

bool meets(const Set& set, const Set& conflict) {
    return std::any_of(conflict.begin(), conflict.end(),
                       [&](int x) { return std::binary_search(set.begin(), set.end(), x); });
}

bool contains(const Set& large, const Set& small) {
    return std::includes(large.begin(), large.end(), small.begin(), small.end());
}

Set with(const Set& set, int x) {
    Set more = set;
    more.insert(std::lower_bound(more.begin(), more.end(), x), x);
    return more;
}

}  // namespace

std::vector<Set> hittingSets(const std::vector<Set>& conflicts, int most) {
    std::vector<Set> found;
    std::vector<Set> level = {{}};
    for (int size = 0; size <= most && !level.empty(); ++size) {
        std::set<Set> next;
        for (const Set& set : level) {
            const auto missed = std::find_if(conflicts.begin(), conflicts.end(),
                                             [&](const Set& conflict) { return !meets(set, conflict); });
            if (missed == conflicts.end()) {
                found.push_back(set);
                continue;
            }
            for (const int x : *missed) next.insert(with(set, x));
        }
        level.clear();
        for (const Set& set : next) {
            if (std::none_of(found.begin(), found.end(), [&](const Set& f) { return contains(set, f); }))
                level.push_back(set);
        }
    }
    return found;
}

std::vector<Set> minimalOf(std::vector<Set> sets) {
    for (Set& set : sets) {
        std::sort(set.begin(), set.end());
        set.erase(std::unique(set.begin(), set.end()), set.end());
    }
    std::vector<Set> kept;
    for (std::size_t i = 0; i < sets.size(); ++i) {
        bool minimal = true;
        for (std::size_t j = 0; j < sets.size() && minimal; ++j) {
            if (j == i || !contains(sets[i], sets[j])) continue;
            minimal = sets[i] == sets[j] && i < j;
        }
        if (minimal) kept.push_back(sets[i]);
    }
    return kept;
}

}  // namespace loopmend
