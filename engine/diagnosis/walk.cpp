// SPDX-License-Identifier: MIT
#include "diagnosis/walk.h"

#include <algorithm>
#include <utility>

#include "fabric/itinerary.h"
#include "fabric/rows.h"

namespace loopmend {

namespace {

/// A yarn without a ball has two ends: what was worked stands on what was worked before it. `otherwise`:
/// where nothing of it stands on its own loops.
bool workedFromLast(const Fabric& f, YarnId yarn, bool otherwise) {
    std::vector<std::int32_t> place(static_cast<std::size_t>(f.entryCount()), -1);
    int later = 0;
    int before = 0;
    std::int32_t n = 0;
    for (EntryId e = f[yarn].first; e; e = f[e].next) {
        if (!f.isLoop(e)) continue;
        place[static_cast<std::size_t>(e.value)] = n++;
        for (LinkId l = f[e].firstLink; l; l = f[l].nextInLoop) {
            if (f[f[l].host].yarn == yarn)
                (place[static_cast<std::size_t>(f[l].host.value)] >= 0 ? before : later)++;
        }
    }
    return later != before ? later > before : otherwise;
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

/// What a tool holds, right to left: number and extra half turns.
using Holding = std::vector<std::pair<std::int32_t, int>>;

Holding heldBy(const Walk& walk, ToolId tool) {
    Holding all;
    const Fabric& f = *walk.fabric;
    for (HeldId h = f[tool].first; h; h = f[h].next) {
        if (f[h].state.hanging == 0 && walk[f[h].loop] >= 0)
            all.emplace_back(walk[f[h].loop], f[h].state.turns);
    }
    return all;
}

/// Something other than the needle holds it.
bool heldBesides(const Fabric& fabric, LoopId loop) {
    for (HeldId h = fabric[loop].held; h; h = fabric[h].alsoHeld) {
        if (fabric[h].tool != fabric.needle() && fabric[h].state.hanging == 0) return true;
    }
    return false;
}

std::vector<std::pair<std::int32_t, int>> joinsOf(const Walk& walk) {
    std::vector<std::pair<std::int32_t, int>> joins;
    const Fabric& f = *walk.fabric;
    for (std::int32_t i = 0; i < f.joinCount(); ++i) {
        LoopId after = f[JoinId{i}].loop;
        while (after && walk[after] < 0) after = f.loopBefore(after);
        if (after) joins.emplace_back(walk[after], f[JoinId{i}].twist);
    }
    std::sort(joins.begin(), joins.end());
    return joins;
}

std::vector<std::pair<ToolKind, Holding>> toolsOf(const Walk& walk) {
    std::vector<std::pair<ToolKind, Holding>> tools;
    for (std::int32_t t = 0; t < walk.fabric->toolCount(); ++t) {
        Holding held = heldBy(walk, ToolId{t});
        if (!held.empty()) tools.emplace_back((*walk.fabric)[ToolId{t}].kind, std::move(held));
    }
    std::sort(tools.begin(), tools.end());
    return tools;
}

/// The order of all yarns, and which way each is walked.
std::vector<WalkedYarn> yarnsOf(const Fabric& f) {
    std::vector<YarnId> there;
    for (std::int32_t y = 0; y < f.yarnCount(); ++y) {
        if (f[YarnId{y}].flags.gone == 0 && f[YarnId{y}].first) there.push_back(YarnId{y});
    }
    std::vector<WalkedYarn> yarns;
    if (there.size() == 1) {
        const bool ball = f[there.front()].flags.ball != 0;
        yarns.push_back({there.front(), !ball && workedFromLast(f, there.front(), false), {}, {}});
        return yarns;
    }
    const Numbering numbers = numbering(f);
    for (std::size_t i = 0; i < numbers.yarns.size(); ++i) {
        const YarnId yarn = numbers.yarns[i];
        const bool ball = f[yarn].flags.ball != 0;
        const bool back = !ball && workedFromLast(f, yarn, numbers.reversed[i]);
        yarns.push_back({yarn, back, {}, {}});
    }
    // Those that begin lower come first: what is left of a yarn beyond a break moves no other one.
    const Rows rows = rowsOf(f);
    const auto beginsIn = [&](const WalkedYarn& yarn) {
        EntryId e = yarn.backwards ? f[yarn.yarn].last : f[yarn.yarn].first;
        while (e && !f.isLoop(e)) e = yarn.backwards ? f[e].prev : f[e].next;
        return e ? rows[e] : rows.last + 1;
    };
    std::stable_sort(yarns.begin(), yarns.end(),
                     [&](const WalkedYarn& a, const WalkedYarn& b) { return beginsIn(a) < beginsIn(b); });
    return yarns;
}

}  // namespace

std::size_t Walk::loopCount() const {
    std::size_t n = 0;
    for (const WalkedYarn& yarn : yarns) n += yarn.loops.size();
    return n;
}

Walk walkOf(const Fabric& f) {
    Walk walk;
    walk.fabric = &f;
    walk.place.assign(static_cast<std::size_t>(f.entryCount()), -1);
    walk.number = walk.place;
    walk.rank.assign(static_cast<std::size_t>(f.yarnCount()), -1);
    walk.yarns = yarnsOf(f);
    for (std::size_t i = 0; i < walk.yarns.size(); ++i) {
        WalkedYarn& w = walk.yarns[i];
        walk.rank[static_cast<std::size_t>(w.yarn.value)] = static_cast<std::int32_t>(i);
        const std::int32_t first = static_cast<std::int32_t>(i) * Walk::kOfYarn;
        for (EntryId e = w.backwards ? f[w.yarn].last : f[w.yarn].first; e;
             e = w.backwards ? f[e].prev : f[e].next) {
            if (!isInKnot(f, e)) continue;
            walk.place[static_cast<std::size_t>(e.value)] = static_cast<std::int32_t>(w.entries.size());
            w.entries.push_back(e);
            if (!f.isLoop(e)) continue;
            walk.number[static_cast<std::size_t>(e.value)] =
                first + static_cast<std::int32_t>(w.loops.size());
            w.loops.push_back(e);
        }
    }
    return walk;
}

Alike alike(const Walk& a, EntryId x, const Walk& b, EntryId y) {
    const Fabric& f = *a.fabric;
    const Fabric& g = *b.fabric;
    if (f.isLoop(x) != g.isLoop(y)) return Alike::no;
    const auto backwards = [](const Walk& walk, YarnId yarn) {
        const std::int32_t rank = walk.rankOf(yarn);
        return rank >= 0 && walk.yarns[static_cast<std::size_t>(rank)].backwards;
    };
    if ((f.run(x) == g.run(y)) != (backwards(a, f[x].yarn) == backwards(b, g[y].yarn))) return Alike::no;
    if (!f.isLoop(x)) {
        return f.passSide(x) == g.passSide(y) && a[f.passed(x)] == b[g.passed(y)] ? Alike::same : Alike::no;
    }
    if (f[x].flags.anchored != g[y].flags.anchored) return Alike::no;
    return alikeLinks(a, x, b, y);
}

bool Parting::none() const {
    return !otherYarns && std::all_of(at.begin(), at.end(), [](std::int32_t i) { return i < 0; });
}

bool Parting::agreesAt(const Walk& walk, LoopId loop) const {
    const std::int32_t number = walk[loop];
    if (number < 0) return false;
    const std::int32_t until = at[static_cast<std::size_t>(number / Walk::kOfYarn)];
    return until < 0 || walk.placeOf(loop) < until;
}

Parting parting(const Walk& meant, const Walk& actual) {
    Parting p;
    p.otherYarns = actual.yarns.size() > meant.yarns.size();
    bool otherThanTwist = false;
    for (std::size_t y = 0; y < meant.yarns.size(); ++y) {
        p.at.push_back(-1);
        if (y >= actual.yarns.size()) {
            p.at.back() = 0;
            otherThanTwist = true;
            continue;
        }
        const std::vector<EntryId>& mine = meant.yarns[y].entries;
        const std::vector<EntryId>& there = actual.yarns[y].entries;
        const std::size_t both = std::min(mine.size(), there.size());
        for (std::size_t i = 0; i < both; ++i) {
            const Alike how = alike(meant, mine[i], actual, there[i]);
            if (how == Alike::same) continue;
            p.at.back() = static_cast<std::int32_t>(i);
            otherThanTwist = otherThanTwist || how != Alike::butForTwist;
            break;
        }
        if (p.at.back() < 0 && mine.size() != there.size()) {
            p.at.back() = static_cast<std::int32_t>(both);
            otherThanTwist = true;
        }
    }
    p.onlyTwist = !p.none() && !p.otherYarns && !otherThanTwist;

    const std::vector<Crossed> x = crossingsOf(meant);
    const std::vector<Crossed> y = crossingsOf(actual);
    for (const Crossed& c : x) {
        if (std::binary_search(y.begin(), y.end(), c) || !p.agreesAt(meant, meant.loop(c.a)) ||
            !p.agreesAt(meant, meant.loop(c.b)))
            continue;
        p.meant.push_back(meant.loop(c.a));
        break;
    }
    if (!p.none()) return p;
    // One that was made where none was meant.
    for (const Crossed& c : y) {
        if (!p.meant.empty()) break;
        if (!std::binary_search(x.begin(), x.end(), c)) p.meant.push_back(meant.loop(c.a));
    }
    const Holding needle = heldBy(meant, meant.fabric->needle());
    const Holding now = heldBy(actual, actual.fabric->needle());
    for (std::size_t i = 0; i < needle.size(); ++i) {
        if (i < now.size() && needle[i] == now[i]) continue;
        p.meant.push_back(meant.loop(needle[i].first));
        break;
    }
    // What else holds a loop: a ring that was worked in.
    for (std::size_t w = 0; w < meant.yarns.size() && p.meant.empty(); ++w) {
        const std::vector<LoopId>& loops = meant.yarns[w].loops;
        for (std::size_t i = 0; i < loops.size(); ++i) {
            if (heldBesides(*actual.fabric, actual.yarns[w].loops[i]) == heldBesides(*meant.fabric, loops[i]))
                continue;
            p.meant.push_back(loops[i]);
            break;
        }
    }
    return p;
}

bool sameBesides(const Walk& a, const Walk& b) {
    const Fabric& f = *a.fabric;
    const Fabric& g = *b.fabric;
    if (a.yarns.size() != b.yarns.size()) return false;
    for (std::size_t i = 0; i < a.yarns.size(); ++i) {
        const YarnFlags& x = f[a.yarns[i].yarn].flags;
        const YarnFlags& y = g[b.yarns[i].yarn].flags;
        if (x.ball != y.ball || x.colour != y.colour) return false;
    }
    return joinsOf(a) == joinsOf(b) && crossingsOf(a) == crossingsOf(b) && toolsOf(a) == toolsOf(b);
}

bool sameStrands(const Walk& a, LoopId x, const Walk& b, LoopId y) {
    const Fabric& f = *a.fabric;
    const Fabric& g = *b.fabric;
    const auto placed = [](const Walk& walk, PassId pass) {
        return std::make_pair(walk.rankOf((*walk.fabric)[pass].yarn), walk.placeOf(pass));
    };
    const auto real = [](const Walk& walk, PassId pass) {
        while (pass && walk.placeOf(pass) < 0) pass = (*walk.fabric)[pass].passNext;
        return pass;
    };
    const StrandsId mine = f[x].strands;
    const StrandsId there = g[y].strands;
    PassId p = real(a, mine ? f[mine].first : PassId{});
    PassId q = real(b, there ? g[there].first : PassId{});
    for (; p && q; p = real(a, f[p].passNext), q = real(b, g[q].passNext)) {
        if (placed(a, p) != placed(b, q)) return false;
    }
    return !p && !q;
}

bool sameKnot(const Walk& a, const Walk& b) {
    const Parting p = parting(a, b);
    if (!p.none() || !p.meant.empty() || !sameBesides(a, b)) return false;
    for (std::size_t y = 0; y < a.yarns.size(); ++y) {
        for (std::size_t i = 0; i < a.yarns[y].loops.size(); ++i) {
            if (!sameStrands(a, a.yarns[y].loops[i], b, b.yarns[y].loops[i])) return false;
        }
    }
    return true;
}

LoopId firstOtherLength(const Walk& a, const Walk& b) {
    for (std::size_t y = 0; y < a.yarns.size(); ++y) {
        for (std::size_t i = 0; i < a.yarns[y].loops.size(); ++i) {
            const LoopId loop = a.yarns[y].loops[i];
            if (!sameLength(*a.fabric, loop, *b.fabric, b.yarns[y].loops[i])) return loop;
        }
    }
    return {};
}

}  // namespace loopmend
