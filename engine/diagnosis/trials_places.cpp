// SPDX-License-Identifier: MIT
// Where mistakes are tried.
#include <algorithm>

#include "diagnosis/trials.h"

namespace loopmend {

namespace {

/// Where one looks if nothing is found near the parting.
constexpr int kFar = 25;

bool isBefore(const Trials::Place& a, const Trials::Place& b) {
    return a.row != b.row ? a.row < b.row : a.stitch < b.stitch;
}

}  // namespace

std::vector<Trials::Place> Trials::placesOf(LoopId loop) const {
    std::vector<Place> places;
    auto it = std::lower_bound(placeOf_.begin(), placeOf_.end(), loop,
                               [](const auto& entry, LoopId id) { return entry.first < id; });
    for (; it != placeOf_.end() && it->first == loop; ++it) places.push_back(it->second);
    return places;
}

Trials::Place Trials::partingPlace() const {
    std::optional<Place> first;
    const auto offer = [&](LoopId loop) {
        const std::vector<Place> places = placesOf(loop);
        if (places.empty()) return false;
        if (!first || isBefore(places.front(), *first)) first = places.front();
        return true;
    };
    const Fabric& f = cloth();
    for (std::size_t y = 0; y < parting_.at.size(); ++y) {
        const std::vector<EntryId>& entries = walk_.yarns[y].entries;
        if (parting_.at[y] < 0) continue;
        auto i = std::min(parting_.at[y], static_cast<std::int32_t>(entries.size()) - 1);
        for (; i >= 0; --i) {
            const EntryId e = entries[static_cast<std::size_t>(i)];
            if (offer(f.isLoop(e) ? e : f.passed(e))) break;
        }
        // In the cast-on.
        if (y == 0 && i < 0) first = Place{};
    }
    if (parting_.none()) {
        for (const LoopId loop : parting_.meant) {
            if (offer(loop)) break;
        }
    }
    if (!first && otherLength_) offer(otherLength_);
    return first.value_or(Place{});
}

void Trials::addPlace(int row, int stitch) {
    if (row < 1 || row > rows_) return;
    const WorkedRow& words = script_.rows[static_cast<std::size_t>(row) - 1];
    const std::optional<int> step = stepOfStitch(words, stitch);
    if (!step) return;
    places_.push_back({row, stitch});
    places_.push_back({row, stitchOfStep(words, *step)});
}

void Trials::addAround(LoopId loop, int spread) {
    for (const Place& p : placesOf(loop)) {
        for (int d = -spread; d <= spread; ++d) addPlace(p.row, p.stitch + d);
    }
}

void Trials::findPlaces() {
    const Fabric& f = cloth();
    const Fabric& g = target_.fabric;
    std::vector<LoopId> anchors = parting_.meant;
    const auto addEntry = [&](const WalkedYarn& yarn, std::int32_t i) {
        if (i < 0 || i >= static_cast<std::int32_t>(yarn.entries.size())) return;
        const EntryId e = yarn.entries[static_cast<std::size_t>(i)];
        anchors.push_back(f.isLoop(e) ? e : f.passed(e));
    };
    const auto bareAt = [](const Walk& walk, std::size_t yarn, std::int32_t at) {
        if (yarn >= walk.yarns.size()) return false;
        const std::vector<EntryId>& entries = walk.yarns[yarn].entries;
        if (at >= static_cast<std::int32_t>(entries.size())) return false;
        const EntryId e = entries[static_cast<std::size_t>(at)];
        return walk.fabric->isLoop(e) && !(*walk.fabric)[e].firstLink;
    };
    bool bare = false;
    for (std::size_t y = 0; y < parting_.at.size(); ++y) {
        const std::int32_t at = parting_.at[y];
        if (at < 0) continue;
        const WalkedYarn& yarn = walk_.yarns[y];
        for (std::int32_t i = at - 1; i <= at + 1; ++i) addEntry(yarn, i);
        addEntry(yarn, std::min(at, static_cast<std::int32_t>(yarn.entries.size()) - 1));
        // A strand that was lifted in another gap parts the two far below the stitch that moved it, and one
        // strand looks like another.
        bare = bare || bareAt(walk_, y, at) || bareAt(target_.walk, y, at);
    }
    // The strand after a loop is as long as the next stitch of that yarn makes it, however far off that is;
    // what was caught in between is none.
    constexpr int kStrands = 3;
    LoopId along = otherLength_;
    for (int i = 0; along && i <= kStrands; ++i) {
        anchors.push_back(along);
        EntryId e = f[along].next;
        while (e && !f.isLoop(e)) e = f[e].next;
        along = e;
    }
    for (std::size_t y = 0; y < std::min(walk_.yarns.size(), target_.walk.yarns.size()); ++y) {
        for (const LoopId loop : target_.walk.yarns[y].loops) {
            if (!g.isLoose(loop)) continue;
            // What fell hangs free: its place is the meant one's, as far as both agree.
            const std::int32_t place = target_.walk.placeOf(loop);
            if (parting_.at[y] < 0 || place < parting_.at[y]) addEntry(walk_.yarns[y], place);
        }
    }
    const bool far = thoroughly_ == Thoroughly::far;
    const int spread = far ? kFar : bare || lengths() ? 2 * kNearParting : kNearParting;
    for (const LoopId loop : anchors) {
        addAround(loop, spread);
        for (const LoopId host : f.hostsRightToLeft(loop)) addAround(host, far ? kFar : kNearParting);
        for (LinkId k = f[loop].firstKid; k; k = f[k].nextInHost) {
            addAround(f[k].loop, spread);
            // Through a lifted strand to the stitch that it became, and to the stitch on that.
            for (LinkId kk = f[f[k].loop].firstKid; kk; kk = f[kk].nextInHost) addAround(f[kk].loop, 1);
        }
    }
    const Place at = partingPlace();
    for (int row = at.row - 1; row <= at.row + 1; ++row) {
        if (row < 1 || row > rows_) continue;
        const int last = stitchesIn(script_.rows[static_cast<std::size_t>(row) - 1]);
        for (const int stitch : {1, 2, last - 1, last}) addPlace(row, stitch);
    }
    std::sort(places_.begin(), places_.end(), isBefore);
    places_.erase(
        std::unique(places_.begin(), places_.end(),
                    [](const Place& a, const Place& b) { return a.row == b.row && a.stitch == b.stitch; }),
        places_.end());
}

/// A row more or less shows at the latest when what it repeats has gone by.
std::vector<int> Trials::rowsToMisread() const {
    const int at = partingPlace().row;
    const int last = std::min(static_cast<int>(whole_.rows.size()), rows_ + 1);
    std::vector<int> rows;
    for (int row = std::max(1, at - kRowsBefore); row <= std::min(at + kNearParting, last); ++row)
        rows.push_back(row);
    return rows;
}

}  // namespace loopmend
