// SPDX-License-Identifier: MIT
// What was gone on with once need not be gone on with again.
#include <array>

#include "diagnosis/trials.h"

namespace loopmend {

namespace {

/// Fewer rows are as soon knitted.
constexpr int kWorthwhile = 20;

/// How loops sit on the needle, and where its gap is.
std::vector<std::array<std::int32_t, 4>> sittingOn(const Walk& walk) {
    const Fabric& f = *walk.fabric;
    std::vector<std::array<std::int32_t, 4>> all;
    const Tool& needle = f[f.needle()];
    for (HeldId h = needle.first; h; h = f[h].next) {
        const HeldState& s = f[h].state;
        all.push_back({walk[f[h].loop], static_cast<std::int32_t>(s.mount) * 2 + (s.hanging != 0 ? 1 : 0),
                       s.turns, h == needle.tip ? 1 : 0});
    }
    return all;
}

}  // namespace

/// What every loop on either needle stands for, by what it is called there.
std::vector<std::int32_t> Trials::pairedNow(const Walk& walk) const {
    const SideBySide& both = base_->both();
    const Fabric& f = *walk.fabric;
    const Fabric& meant = base_->meant();
    std::vector<std::int32_t> all;
    for (HeldId h = f[f.needle()].first; h; h = f[h].next) all.push_back(both.meantOf(f[h].loop).value);
    for (HeldId h = meant[meant.needle()].first; h; h = meant[h].next) {
        const LoopId loop = both.actualOf(meant[h].loop);
        all.push_back(loop ? walk[loop] : -1);
    }
    return all;
}

/// The base stands at that row, some rows above the places that are tried.
bool Trials::isWorthRemembering(int row) const {
    return row == againAt_ && rows_ - row >= kWorthwhile && known_.empty() && !partial() && !lengths() &&
           walk_.yarns.size() == 1 && base_->fabric().yarnCount() == 1;
}

/// The same piece with the same loops standing for the same was gone on with before, and what came of it is
/// what comes of this one: true, and it is among what is proved if that was. Else the piece is remembered.
bool Trials::wasGoneOnWith(const KnownFault& fault, bool alone) {
    const Knitter& hands = base_->both().actual().knitter;
    const Walk walk = walkOf(base_->fabric());
    const std::vector<std::int32_t> paired = alone ? std::vector<std::int32_t>{} : pairedNow(walk);
    for (const GoneOn& was : goneOn_) {
        if (was.alone != alone || was.facing != hands.facing() || was.run != hands.run() ||
            was.paired != paired || sittingOn(was.walk) != sittingOn(walk) ||
            !loopmend::sameKnot(walk, was.walk))
            continue;
        const LoopId other = firstOtherLength(walk, was.walk);
        if (!other) {
            if (was.proved) proved_.push_back({fault, was.proved->yarnAgrees, was.proved->allRows, false});
            return true;
        }
        // Yarn that lies otherwise far enough below the needle stays so: it is not what is there.
        if (!was.proved || !was.proved->yarnAgrees || !isBelowNeedle(walk, other)) continue;
        proved_.push_back({fault, false, was.proved->allRows, false});
        return true;
    }
    GoneOn now{alone, hands.facing(), hands.run(), paired, std::make_unique<Fabric>(base_->fabric()), walk,
               {}};
    now.walk.fabric = now.fabric.get();
    goneOn_.push_back(std::move(now));
    return false;
}

/// Neither the loop nor the next one is on the needle, nor any worked before it.
bool Trials::isBelowNeedle(const Walk& walk, LoopId loop) {
    const Fabric& f = *walk.fabric;
    for (HeldId h = f[f.needle()].first; h; h = f[h].next) {
        const std::int32_t held = walk[f[h].loop];
        if (held >= 0 && held <= walk[loop] + 1) return false;
    }
    return true;
}

}  // namespace loopmend
