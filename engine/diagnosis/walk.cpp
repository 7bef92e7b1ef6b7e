// SPDX-License-Identifier: MIT
#include "diagnosis/walk.h"

#include <algorithm>

#include "fabric/itinerary.h"

namespace loopmend {

namespace {

/// A yarn without a ball has two ends; the one at which it is knotted more often is where it was cast on.
bool castOnLast(const Fabric& f, YarnId yarn, const Numbering& numbers) {
    std::int64_t knots = 0;
    std::int64_t places = 0;
    std::int64_t n = 0;
    for (EntryId e = f[yarn].first; e; e = f[e].next) {
        if (numbers[e].yarn == 0) continue;
        ++n;
        if (!f.isLoop(e) || f[e].flags.anchored == 0) continue;
        ++knots;
        places += n;
    }
    return 2 * places > knots * (n + 1);
}

int rankOfHost(const Fabric& f, LoopId loop, LinkId link) {
    int rank = 0;
    for (LinkId l = f[loop].firstLink; l; l = f[l].nextInLoop) {
        if (f[l].form.place < f[link].form.place) ++rank;
    }
    return rank;
}

int slotInHost(const Fabric& f, LinkId link) {
    int slot = 0;
    for (LinkId l = f[link].prevInHost; l; l = f[l].prevInHost) ++slot;
    return slot;
}

Alike alikeLinks(const Walk& a, LoopId x, const Walk& b, LoopId y) {
    const Fabric& f = *a.fabric;
    const Fabric& g = *b.fabric;
    bool twist = false;
    LinkId l = f[x].firstLink;
    LinkId m = g[y].firstLink;
    const bool several = l && f[l].nextInLoop;
    for (; l && m; l = f[l].nextInLoop, m = g[m].nextInLoop) {
        const LinkForm& p = f[l].form;
        const LinkForm& q = g[m].form;
        if (a[f[l].host] != b[g[m].host] || p.side != q.side || p.part != q.part || p.plies != q.plies)
            return Alike::no;
        if (several && rankOfHost(f, x, l) != rankOfHost(g, y, m)) return Alike::no;
        if (slotInHost(f, l) != slotInHost(g, m)) return Alike::no;
        twist = twist || p.twist != q.twist;
    }
    if (l || m) return Alike::no;
    return twist ? Alike::butForTwist : Alike::same;
}

std::vector<std::int32_t> onNeedle(const Walk& walk) {
    std::vector<std::int32_t> numbers;
    const Fabric& f = *walk.fabric;
    for (HeldId h = f[f.needle()].first; h; h = f[h].next) {
        if (f[h].state.hanging == 0) numbers.push_back(walk[f[h].loop]);
    }
    return numbers;
}

struct Crossed {
    std::int32_t a, b, sign;
    friend bool operator==(const Crossed& x, const Crossed& y) {
        return x.a == y.a && x.b == y.b && x.sign == y.sign;
    }
    friend bool operator<(const Crossed& x, const Crossed& y) {
        return x.a != y.a ? x.a < y.a : x.b != y.b ? x.b < y.b : x.sign < y.sign;
    }
};

std::vector<Crossed> crossingsOf(const Walk& walk) {
    std::vector<Crossed> all;
    const Fabric& f = *walk.fabric;
    for (std::int32_t i = 0; i < f.crossingCount(); ++i) {
        const Crossing& c = f[CrossingId{i}];
        if (c.sign != 0 && walk[c.a] >= 0 && walk[c.b] >= 0) all.push_back({walk[c.a], walk[c.b], c.sign});
    }
    std::sort(all.begin(), all.end());
    return all;
}

/// Something other than the needle holds it.
bool heldBesides(const Fabric& fabric, LoopId loop) {
    for (HeldId h = fabric[loop].held; h; h = fabric[h].alsoHeld) {
        if (fabric[h].tool != fabric.needle() && fabric[h].state.hanging == 0) return true;
    }
    return false;
}

}  // namespace

Walk walkOf(const Fabric& fabric) {
    Walk walk;
    walk.fabric = &fabric;
    walk.place.assign(static_cast<std::size_t>(fabric.entryCount()), -1);
    walk.number = walk.place;
    walk.backwards.assign(static_cast<std::size_t>(fabric.yarnCount()), false);
    const Numbering numbers = numbering(fabric);
    for (std::size_t i = 0; i < numbers.yarns.size(); ++i) {
        const YarnId yarn = numbers.yarns[i];
        const bool one = numbers.yarns.size() == 1 && fabric[yarn].flags.ball == 0;
        const bool back = one ? castOnLast(fabric, yarn, numbers) : numbers.reversed[i];
        walk.backwards[static_cast<std::size_t>(yarn.value)] = back;
        for (EntryId e = back ? fabric[yarn].last : fabric[yarn].first; e;
             e = back ? fabric[e].prev : fabric[e].next) {
            if (numbers[e].yarn == 0) continue;
            walk.place[static_cast<std::size_t>(e.value)] = static_cast<std::int32_t>(walk.entries.size());
            walk.entries.push_back(e);
            if (!fabric.isLoop(e)) continue;
            walk.number[static_cast<std::size_t>(e.value)] = static_cast<std::int32_t>(walk.loops.size());
            walk.loops.push_back(e);
        }
    }
    return walk;
}

Alike alike(const Walk& a, EntryId x, const Walk& b, EntryId y) {
    const Fabric& f = *a.fabric;
    const Fabric& g = *b.fabric;
    if (f.isLoop(x) != g.isLoop(y)) return Alike::no;
    const auto backwards = [](const Walk& walk, YarnId yarn) {
        const auto i = static_cast<std::size_t>(yarn.value);
        return i < walk.backwards.size() && walk.backwards[i];
    };
    if ((f.run(x) == g.run(y)) != (backwards(a, f[x].yarn) == backwards(b, g[y].yarn))) return Alike::no;
    if (!f.isLoop(x)) {
        return f.passSide(x) == g.passSide(y) && a[f.passed(x)] == b[g.passed(y)] ? Alike::same : Alike::no;
    }
    if (f[x].flags.anchored != g[y].flags.anchored) return Alike::no;
    return alikeLinks(a, x, b, y);
}

Parting parting(const Walk& meant, const Walk& actual) {
    Parting p;
    const std::size_t both = std::min(meant.entries.size(), actual.entries.size());
    for (std::size_t i = 0; i < both && p.at < 0; ++i) {
        const Alike how = alike(meant, meant.entries[i], actual, actual.entries[i]);
        if (how == Alike::same) continue;
        p.at = static_cast<std::int32_t>(i);
        p.onlyTwist = how == Alike::butForTwist;
    }
    if (p.at < 0 && meant.entries.size() != actual.entries.size()) p.at = static_cast<std::int32_t>(both);
    const auto agreed = [&](std::int32_t number) {
        return p.at < 0 || meant.placeOf(meant.loops[static_cast<std::size_t>(number)]) < p.at;
    };

    const std::vector<Crossed> x = crossingsOf(meant);
    const std::vector<Crossed> y = crossingsOf(actual);
    for (const Crossed& c : x) {
        if (std::binary_search(y.begin(), y.end(), c) || !agreed(c.a) || !agreed(c.b)) continue;
        p.meant.push_back(meant.loops[static_cast<std::size_t>(c.a)]);
        break;
    }
    if (p.at < 0) {
        const std::vector<std::int32_t> needle = onNeedle(meant);
        const std::vector<std::int32_t> now = onNeedle(actual);
        for (std::size_t i = 0; i < needle.size(); ++i) {
            if (i < now.size() && needle[i] == now[i]) continue;
            p.meant.push_back(meant.loops[static_cast<std::size_t>(needle[i])]);
            break;
        }
        // What else holds a loop: a ring that was worked in.
        const std::size_t loops = std::min(actual.loops.size(), meant.loops.size());
        for (std::size_t i = 0; i < loops && p.meant.empty(); ++i) {
            if (heldBesides(*actual.fabric, actual.loops[i]) != heldBesides(*meant.fabric, meant.loops[i]))
                p.meant.push_back(meant.loops[i]);
        }
    }
    return p;
}

}  // namespace loopmend
