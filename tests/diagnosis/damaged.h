// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "fabric/hands.h"
#include "fault/draw.h"
#include "fault/grounds.h"
#include "fault/side_by_side.h"

/// Cloth that was harmed by moves no mistake of the catalogue makes: hooked up again with a whole turn,
/// snipped, turned on the needle, its strands led elsewhere. (A rung skipped when a stitch is hooked up is
/// the very cloth of a slipped stitch.)
namespace loopmend {

struct Damaged {
    std::string words;
    Script script;
    Knitting actual;
    /// Meant places (row, stitch) of the first stitch that differs; more than one where two are equally
    /// first.
    std::vector<std::pair<int, int>> places;
};

namespace damaged {

/// Lets a stitch on the needle run down k rows; what came out of the column is told by its sides, lowest
/// first.
inline bool runDown(Fabric& f, LoopId live, int k, std::vector<std::pair<LoopId, Side>>& out) {
    std::vector<std::pair<LoopId, Side>> column;
    LoopId at = live;
    for (int i = 0; i < k; ++i) {
        const LinkId l = f[at].firstLink;
        if (!l || f[l].nextInLoop || f[f[l].host].firstKid != f[f[l].host].lastKid || f[l].form.twist != 0)
            return false;
        column.emplace_back(at, f[l].form.side);
        at = f[l].host;
    }
    if (!f[at].firstLink || f[at].flags.anchored != 0) return false;
    const HeldId held = f.heldOn(live, f.needle());
    if (!held || !f.letGo(live, f.needle(), true)) return false;
    if (letRunFrom(f, live, k) != k || !f.isLoose(at)) return false;
    out.assign(column.rbegin(), column.rend());
    return true;
}

inline LoopId looseOne(const Fabric& f) {
    LoopId found;
    for (std::int32_t i = 0; i < f.entryCount(); ++i) {
        const EntryId e{i};
        if (f.has(e) && f.isLoop(e) && f.isLoose(e)) found = e;
    }
    return found;
}

/// Hooks a column up again, rung by rung; the first one with so many half turns.
inline bool hookUp(Fabric& f, const std::vector<std::pair<LoopId, Side>>& column, std::int8_t twist) {
    for (std::size_t i = 0; i < column.size(); ++i) {
        const LoopId loose = looseOne(f);
        if (!loose) return false;
        const std::vector<PassId> ladder = rungs(f, loose);
        if (ladder.empty()) return false;
        Hooking hooking;
        hooking.rung = ladder.front();
        hooking.through = {{loose, i == 0 ? twist : std::int8_t{0}, 0}};
        hooking.toward = column[i].second;
        if (!hook(f, hooking)) return false;
    }
    const LoopId top = looseOne(f);
    const HeldId hangs = top ? f.heldOn(top, f.needle()) : HeldId{};
    return hangs && f.hold(top, f.needle(), f[hangs].next, Mount::western).has_value();
}

}  // namespace damaged

/// The n-th piece; none: what was drawn cannot be done there.
inline std::optional<Damaged> damagedPiece(std::uint64_t seed) {
    Seeded dice(seed * 977 + 5);
    const auto ground = static_cast<StockGround>(dice.below(kStockGrounds));
    const bool round = dice.below(2) == 0;
    Script script = stockGround(ground, 11, 9, round);
    SideBySide both(script, {}, After::byReading);
    while (!both.done()) {
        if (!both.workRow()) return std::nullopt;
    }
    const auto rows = both.meantLoops();
    Knitting actual = std::move(std::move(both).take().second);
    Fabric& f = *actual.fabric;
    const int kind = dice.below(4);
    std::vector<LoopId> first;
    static constexpr const char* kWords[] = {"whole turn", "snipped", "strand led past",
                                             "turned on the needle"};
    const std::vector<LoopId> live = actual.knitter.ahead();
    const LoopId picked = live[static_cast<std::size_t>(dice.below(static_cast<int>(live.size())))];
    const auto loopIn = [&](int row) {
        const std::vector<LoopId>& loops = rows[static_cast<std::size_t>(row) - 1];
        return loops[static_cast<std::size_t>(dice.below(static_cast<int>(loops.size())))];
    };
    switch (kind) {
        case 0: {
            std::vector<std::pair<LoopId, Side>> column;
            if (!damaged::runDown(f, picked, 1 + dice.below(3), column)) return std::nullopt;
            const auto twist = static_cast<std::int8_t>(dice.below(2) == 0 ? 2 : -2);
            if (!damaged::hookUp(f, column, twist)) return std::nullopt;
            first = {column.front().first};
            break;
        }
        case 1: {
            const LoopId loop = loopIn(2 + dice.below(6));
            if (!loop || !f[loop].next || !f.isLoop(f[loop].next)) return std::nullopt;
            first = {f[loop].next};
            if (!f.cut(loop)) return std::nullopt;
            break;
        }
        case 2: {
            const int row = 3 + dice.below(5);
            const LoopId loop = loopIn(row);
            const LoopId past = loopIn(row - 2);
            if (!loop || !past || !f[past].firstKid || !f[loop].next || !f.isLoop(f[loop].next) ||
                f.run(f[loop].next) != f.run(loop))
                return std::nullopt;
            first = {f[loop].next, loop};
            const Side side = dice.below(2) == 0 ? Side::right : Side::wrong;
            if (!f.lay(f[loop].yarn, loop, past, side, f.run(loop))) return std::nullopt;
            break;
        }
        default: {
            const HeldId held = f.heldOn(picked, f.needle());
            first = {picked};
            f.setMount(held, f[held].state.mount, static_cast<std::int8_t>(dice.below(2) == 0 ? 2 : -2));
            break;
        }
    }
    std::vector<std::pair<int, int>> places;
    for (std::size_t r = 0; r < rows.size(); ++r) {
        for (std::size_t s = 0; s < rows[r].size(); ++s) {
            for (const LoopId loop : first) {
                if (rows[r][s] == loop) places.emplace_back(static_cast<int>(r) + 1, static_cast<int>(s) + 1);
            }
        }
    }
    std::string words = std::string(name(ground)) + (round ? " round " : " ") + kWords[kind] + " seed " +
                        std::to_string(seed);
    return Damaged{std::move(words), std::move(script), std::move(actual), std::move(places)};
}

}  // namespace loopmend
