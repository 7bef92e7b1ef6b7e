// SPDX-License-Identifier: MIT
#include "repair/columns_seen.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

namespace loopmend {

namespace {
constexpr double kUnknown = std::numeric_limits<double>::quiet_NaN();
}

SeenColumns::SeenColumns(const Fabric& fabric) : f_(fabric), rows_(rowsOf(fabric)) {
    columns_.assign(static_cast<std::size_t>(f_.entryCount()), kUnknown);
    int place = 0;
    for (HeldId h = f_[f_.needle()].first; h; h = f_[h].next) {
        columns_[static_cast<std::size_t>(f_[h].loop.value)] = place++;
    }
    // Upward from each loop to the needle; one loop after another, so that no column is climbed twice.
    std::vector<LoopId> climb;
    for (std::int32_t i = 0; i < f_.entryCount(); ++i) {
        LoopId loop{i};
        if (!f_.has(loop) || !f_.isLoop(loop)) continue;
        climb.clear();
        while (std::isnan(of(loop)) && f_[loop].firstKid && climb.size() < columns_.size()) {
            climb.push_back(loop);
            loop = f_[f_[loop].firstKid].loop;
        }
        for (; !climb.empty(); climb.pop_back()) {
            double sum = 0;
            int known = 0;
            for (LinkId l = f_[climb.back()].firstKid; l; l = f_[l].nextInHost) {
                const double kid = of(f_[l].loop);
                if (std::isnan(kid)) continue;
                sum += kid;
                ++known;
            }
            if (known > 0) columns_[static_cast<std::size_t>(climb.back().value)] = sum / known;
        }
    }
    // What hangs under no place of the needle lies between its neighbors along the yarn; and so does what
    // stands under that.
    std::vector<LoopId> rest;
    for (std::int32_t i = 0; i < f_.entryCount(); ++i) {
        const LoopId loop{i};
        if (f_.has(loop) && f_.isLoop(loop) && f_.isLive(loop) && std::isnan(of(loop))) rest.push_back(loop);
    }
    for (const LoopId loop : rest) {
        const double column = fromNeighbors(loop);
        std::vector<LoopId> below{loop};
        while (!below.empty()) {
            const LoopId at = below.back();
            below.pop_back();
            if (!std::isnan(of(at))) continue;
            columns_[static_cast<std::size_t>(at.value)] = column;
            for (const LoopId host : f_.hostsRightToLeft(at)) below.push_back(host);
        }
    }
    for (double& column : columns_) {
        if (std::isnan(column)) column = 0;
    }
}

double SeenColumns::fromNeighbors(LoopId loop) const {
    std::array<double, 2> found{kUnknown, kUnknown};
    for (const bool back : {true, false}) {
        for (EntryId e = back ? f_[loop].prev : f_[loop].next; e; e = back ? f_[e].prev : f_[e].next) {
            if (f_.run(e) != f_.run(loop)) break;
            if (!f_.isLoop(e) || std::isnan(of(e))) continue;
            found[back ? 0 : 1] = of(e);
            break;
        }
    }
    // The yarn runs on to the left: what comes after lies at a higher place.
    const double step = f_.run(loop) == Run::leftward ? 0.5 : -0.5;
    if (!std::isnan(found[0]) && !std::isnan(found[1])) return (found[0] + found[1]) / 2;
    if (!std::isnan(found[0])) return found[0] + step;
    if (!std::isnan(found[1])) return found[1] - step;
    return 0;
}

double SeenColumns::tip() const {
    const HeldId tip = f_[f_.needle()].tip;
    if (tip) return of(f_[tip].loop) - 0.5;
    const HeldId last = f_[f_.needle()].last;
    return last ? of(f_[last].loop) + 0.5 : 0;
}

LoopId SeenColumns::rightOnNeedle(LoopId loop) const {
    LoopId right;
    for (HeldId h = f_[f_.needle()].first; h; h = f_[h].next) {
        if (of(f_[h].loop) < of(loop)) right = f_[h].loop;
    }
    return right;
}

LoopId SeenColumns::bareStrandAfter(LoopId before) const {
    EntryId e = f_[before].next;
    for (; e && !f_.isLoop(e); e = f_[e].next) {
        if (f_.isFree(e)) return {};
    }
    return e && f_.run(e) == f_.run(before) ? e : LoopId{};
}

LoopId SeenColumns::strandAbove(LoopId loop) const {
    const std::int32_t row = rows_[loop];
    if (row == Rows::kNotPlaced) return {};
    for (std::int32_t i = 0; i < f_.entryCount(); ++i) {
        const LoopId before{i};
        if (!f_.has(before) || !f_.isLoop(before) || rows_[before] != row + 1) continue;
        const LoopId after = bareStrandAfter(before);
        if (!after) continue;
        if (std::min(of(before), of(after)) < of(loop) && of(loop) < std::max(of(before), of(after)))
            return before;
    }
    return {};
}

std::vector<LoopId> SeenColumns::openUnder(LoopId before) const {
    std::vector<LoopId> open;
    const LoopId after = bareStrandAfter(before);
    if (!after) return open;
    for (std::int32_t i = 0; i < f_.entryCount(); ++i) {
        const LoopId loop{i};
        if (!f_.has(loop) || !f_.isLoop(loop) || !f_.isOpen(loop) || f_.isNothing(loop)) continue;
        if (f_[loop].flags.anchored != 0 && !f_.isHeld(loop)) continue;
        if (f_.passesOf(loop).empty() && strandAbove(loop) == before) open.push_back(loop);
    }
    return open;
}

Side SeenColumns::nextSide(LoopId loop) const {
    // In every common ground a row is like the one two below it.
    if (!f_[loop].firstLink) return Side::right;
    const Link& link = f_[f_[loop].firstLink];
    const LinkId below = f_[link.host].firstLink;
    return below ? f_[below].form.side : link.form.side;
}

}  // namespace loopmend
