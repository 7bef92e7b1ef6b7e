// SPDX-License-Identifier: MIT
// Looking, threads and spare needles, and the order of stitches on the needle.
#include <algorithm>
#include <map>
#include <utility>

#include "fabric/hands.h"
#include "fabric/rows.h"
#include "fault/needle.h"
#include "repair/workplace.h"

namespace loopmend {

namespace {

bool isThread(const Fabric& f, ToolId tool, std::optional<bool> spare) {
    const ToolKind kind = f[tool].kind;
    if (kind == ToolKind::lifeline) return !spare.value_or(false);
    return kind == ToolKind::spareNeedle && spare.value_or(true);
}

/// The next place on the same tool that holds something.
HeldId nextStitch(const Fabric& f, HeldId h) {
    do {
        h = f[h].next;
    } while (h && f[h].state.hanging != 0);
    return h;
}

/// Whether these are all the loops of one stretch of a yarn.
bool isOneStretch(const Fabric& f, const std::vector<LoopId>& loops) {
    const auto among = [&](EntryId e) { return std::find(loops.begin(), loops.end(), e) != loops.end(); };
    EntryId first = loops.front();
    for (EntryId e = f[first].prev; e; e = f[e].prev) {
        if (!f.isLoop(e)) continue;
        if (!among(e)) break;
        first = e;
    }
    std::size_t met = 0;
    for (EntryId e = first; e && met < loops.size(); e = f[e].next) {
        if (!f.isLoop(e) || f.isNothing(e)) continue;
        if (!among(e)) return false;
        ++met;
    }
    return met == loops.size();
}

/// Loops of a row from right to left as they stand: as the yarn made them, but for those that have crossed.
std::vector<LoopId> asTheyStand(const Fabric& f, std::vector<LoopId> row) {
    if (!row.empty() && f.run(row.front()) == Run::rightward) std::reverse(row.begin(), row.end());
    std::vector<std::pair<int, LoopId>> places;
    for (std::size_t i = 0; i < row.size(); ++i) {
        int place = static_cast<int>(i);
        for (CrossingId c = f[row[i]].crossing; c; c = f[c].a == row[i] ? f[c].nextOfA : f[c].nextOfB) {
            if (f[c].sign != 0) place += f[c].a == row[i] ? 1 : -1;  // a stood on the right
        }
        places.emplace_back(place, row[i]);
    }
    std::stable_sort(places.begin(), places.end(),
                     [](const auto& x, const auto& y) { return x.first < y.first; });
    for (std::size_t i = 0; i < row.size(); ++i) row[i] = places[i].second;
    return row;
}

}  // namespace

ToolId threadOf(const Fabric& f, LoopId loop, std::optional<bool> spare) {
    for (HeldId h = f[loop].held; h; h = f[h].alsoHeld) {
        if (f[h].state.hanging == 0 && isThread(f, f[h].tool, spare)) return f[h].tool;
    }
    return {};
}

int countBetween(const Fabric& f, LoopId from, LoopId to) {
    for (HeldId h = f[from].held; h; h = f[h].alsoHeld) {
        if (f[h].state.hanging != 0) continue;
        int n = 0;
        bool inside = false;
        for (HeldId at = f[f[h].tool].first; at; at = f[at].next) {
            const bool end = f[at].loop == from || f[at].loop == to;
            const bool opens = end && !inside;
            inside = inside || end;
            n += inside && f[at].state.hanging == 0 ? 1 : 0;
            if (end && (!opens || from == to)) return n;
        }
    }
    return 0;
}

std::vector<LoopId> rowWith(const Fabric& f, LoopId loop) {
    const Rows rows = rowsOf(f);
    const std::int32_t row = rows[loop];
    std::vector<LoopId> all;
    if (row < 0) return all;  // above none, or in no row
    const auto byRow = loopsByRow(f, rows);
    for (const LoopId l : byRow[static_cast<std::size_t>(row)]) {
        if (!f.isNothing(l)) all.push_back(l);
    }
    return all;
}

Result<LoopId> Workplace::look(const Move& move) {
    Fabric& f = knitter_->fabric();
    switch (move.kind) {
        case MoveKind::tug: (void)letRun(f); break;
        case MoveKind::count:
            if (countBetween(f, move.loops[0], move.loops[1]) == 0) return refuse(Why::notHeld);
            break;
        case MoveKind::mark: {
            const Result<void> hung = pin(move.loops.front());
            if (!hung) return tl::unexpected<Refusal>(hung.error());
            break;
        }
        case MoveKind::sort:
            if (!f.isLive(move.loops.front())) return refuse(Why::notOpen);
            if (f.passesOf(move.loops.front()).empty()) return refuse(Why::noRung);
            break;
        default: break;
    }
    return LoopId{};
}

Result<void> Workplace::thread(const Move& move) {
    Fabric& f = knitter_->fabric();
    std::vector<LoopId> loops = move.loops;
    if (move.through == ThreadThrough::row) {
        if (loops.empty()) return refuse(Why::noSuchThing);
        loops = asTheyStand(f, rowWith(f, loops.front()));
    } else if (move.through == ThreadThrough::needle) {
        loops.clear();
        for (HeldId h = f[f.needle()].first; h; h = f[h].next) {
            if (f[h].state.hanging == 0) loops.push_back(f[h].loop);
        }
    }
    if (loops.empty()) return refuse(Why::noSuchThing);
    for (const LoopId loop : loops) {
        if (threadOf(f, loop, move.spare)) return refuse(Why::alreadyHeld);
    }
    const ToolId tool = f.addTool(move.spare ? ToolKind::spareNeedle : ToolKind::lifeline);
    for (const LoopId loop : loops) {
        const Result<HeldId> held = f.hold(loop, tool, HeldId{}, Mount::western);
        if (!held) return tl::unexpected<Refusal>(held.error());
    }
    return {};
}

Result<void> Workplace::unthread(const Move& move) {
    Fabric& f = knitter_->fabric();
    ToolId tool = threadOf(f, move.loops.front(), move.spare);
    if (!tool) return refuse(Why::notHeld);
    while (const HeldId h = f[tool].first) {
        const LoopId loop = f[h].loop;
        if (f[h].state.hanging != 0) {
            f.forgetPlace(h);
            continue;
        }
        const Result<void> out = f.letGo(loop, tool, false);
        if (!out) return out;
    }
    return {};
}

/// Yarn is drawn out until the thread holds the stitch that would come next.
Result<void> Workplace::ripToThread() {
    Fabric& f = knitter_->fabric();
    bool anyThread = false;
    for (std::int32_t t = 0; t < f.toolCount(); ++t) {
        anyThread = anyThread || (f[ToolId{t}].first && isThread(f, ToolId{t}, std::nullopt));
    }
    if (!anyThread) return refuse(Why::noThread);
    const auto stops = [&] {
        const std::vector<LoopId> behind = knitter_->behind();
        return !behind.empty() && static_cast<bool>(threadOf(f, behind.back()));
    };
    bool drawn = false;
    for (;;) {
        if (!knitter_->rowBegun()) {
            const Knitter::State before = knitter_->mark();
            const Result<void> back = knitter_->backOneRow();
            if (!back) return refuse(Why::noThread);  // it lies in no row under the needle
            if (stops()) {
                knitter_->rollBack(before);
                break;
            }
        }
        if (stops()) break;
        const std::vector<LoopId> behind = knitter_->behind();
        std::vector<LoopId> hosts =
            behind.empty() ? std::vector<LoopId>{} : f.hostsRightToLeft(behind.back());
        if (knitter_->run() == Run::rightward) std::reverse(hosts.begin(), hosts.end());
        const Result<void> tinked = knitter_->tink();
        if (!tinked) return refuse(Why::noThread);
        drawn = true;
        for (auto host = hosts.rbegin(); host != hosts.rend(); ++host) {
            if (!f.isLive(*host) || !threadOf(f, *host) || f.heldOn(*host, f.needle())) continue;
            const Mount mount = knitter_->mirrored() ? Mount::eastern : Mount::western;
            const Result<HeldId> held = f.hold(*host, f.needle(), f[f.needle()].tip, mount);
            if (held && knitter_->run() == Run::leftward) f.setTip(*held);
        }
        if (!knitter_->rowBegun()) (void)knitter_->uncross();
    }
    if (!drawn) return refuse(Why::nothingToUndo);
    // No needle held the bare row while the yarn was drawn out: what the thread missed has fallen.
    std::vector<LoopId> missed;
    const bool inRow = knitter_->rowBegun();
    for (HeldId h = f[f.needle()].first; h; h = f[h].next) {
        if (f[h].state.hanging == 0 && !threadOf(f, f[h].loop)) missed.push_back(f[h].loop);
    }
    for (const LoopId loop : missed) {
        if (inRow && knitter_->inThisRow(loop)) continue;
        (void)knitter_->drop(loop);
    }
    return {};
}

Result<void> Workplace::slipTo(LoopId loop) {
    const std::vector<LoopId> ahead = knitter_->ahead();
    if (std::find(ahead.begin(), ahead.end(), loop) != ahead.end()) {
        while (knitter_->ahead().front() != loop) {
            const Result<LoopId> slipped = knitter_->slip(SlipWay::purlwise, false);
            if (!slipped) return tl::unexpected<Refusal>(slipped.error());
        }
        return {};
    }
    const std::vector<LoopId> behind = knitter_->behind();
    if (std::find(behind.begin(), behind.end(), loop) == behind.end()) return refuse(Why::notHeld);
    for (;;) {
        const Result<void> back = knitter_->slipBack();
        if (!back) return back;
        const std::vector<LoopId> now = knitter_->ahead();
        if (!now.empty() && now.front() == loop) return {};
    }
}

namespace {

/// The strands that hang above open columns lie bare behind them: they come by the columns as these stand
/// now, from right to left.
void orderRungs(Fabric& f, const std::vector<LoopId>& columns) {
    struct Rung {
        PassId pass;
        std::size_t column;
    };
    std::map<std::pair<std::int32_t, Run>, std::vector<Rung>> strands;  // by the loop before, and the way
    for (std::size_t i = 0; i < columns.size(); ++i) {
        if (!f.isLive(columns[i]) || onNeedle(f, columns[i])) continue;
        for (const PassId p : f.passesOf(columns[i])) {
            const LoopId before = f.loopBefore(p);
            strands[{before ? before.value : -1 - f[p].yarn.value, f.run(p)}].push_back({p, i});
        }
    }
    for (auto& [strand, rungs] : strands) {
        const bool leftward = strand.second == Run::leftward;
        const std::int32_t first = strand.first;
        const auto isRung = [&rungs = rungs](EntryId e) {
            return std::any_of(rungs.begin(), rungs.end(), [&](const Rung& r) { return r.pass == e; });
        };
        std::vector<PassId> places;
        EntryId e = first >= 0 ? f[LoopId{first}].next : f[YarnId{-1 - first}].first;
        for (; e && !f.isLoop(e); e = f[e].next) {
            if (isRung(e)) places.push_back(e);
        }
        std::stable_sort(rungs.begin(), rungs.end(), [&](const Rung& x, const Rung& y) {
            return leftward ? x.column < y.column : x.column > y.column;
        });
        bool ordered = true;
        for (std::size_t i = 0; i < rungs.size(); ++i) ordered = ordered && rungs[i].pass == places[i];
        if (ordered) continue;
        for (std::size_t i = 0; i < rungs.size(); ++i) {
            const PassId old = rungs[i].pass;
            (void)f.lay(f[old].yarn, places[i], columns[rungs[i].column], f.passSide(old), f.run(old), old);
        }
        for (const PassId old : places) (void)f.unlay(old);
    }
}

}  // namespace

Result<void> Workplace::cross(const Move& move) {
    Fabric& f = knitter_->fabric();
    if (move.others.empty()) return refuse(Why::noSuchThing);
    const auto areLive = [&](const std::vector<LoopId>& loops) {
        return std::all_of(loops.begin(), loops.end(), [&](LoopId l) { return f.isLive(l); });
    };
    if (!areLive(move.loops) && !areLive(move.others)) return refuse(Why::notLive);
    std::vector<LoopId> all = move.loops;
    all.insert(all.end(), move.others.begin(), move.others.end());
    if (std::all_of(all.begin(), all.end(), [&](LoopId l) { return onNeedle(f, l); })) {
        HeldId h = f[f.needle()].first;
        const auto among = [&](LoopId l) { return std::find(all.begin(), all.end(), l) != all.end(); };
        while (h && !(among(f[h].loop) && f[h].state.hanging == 0)) h = f[h].next;
        for (std::size_t i = 0; i < all.size(); ++i, h = nextStitch(f, h)) {
            if (!h || !among(f[h].loop)) return refuse(Why::notNeighbours);
        }
    } else if (!isOneStretch(f, all)) {
        const Rows rows = rowsOf(f);  // of several yarns
        for (const LoopId l : all) {
            if (rows[l] != rows[all.front()]) return refuse(Why::notNeighbours);
        }
    }
    // Where each stands now: as the yarn made them, but for the pairs that have crossed.
    const auto crossed = [&](LoopId a, LoopId b) {
        for (CrossingId c = f[a].crossing; c; c = f[c].a == a ? f[c].nextOfA : f[c].nextOfB) {
            if (f[c].sign != 0 && ((f[c].a == a && f[c].b == b) || (f[c].a == b && f[c].b == a))) return true;
        }
        return false;
    };
    const auto madeRightOf = [&](LoopId a, LoopId b) {
        for (EntryId e = f[a].next; e && f.run(e) == f.run(a); e = f[e].next) {
            if (e == b) return f.run(a) == Run::leftward;
        }
        return f.run(a) == Run::rightward;
    };
    const auto standsRightOf = [&](LoopId a, LoopId b) { return madeRightOf(a, b) != crossed(a, b); };
    std::vector<LoopId> ours = move.loops;
    std::vector<LoopId> theirs = move.others;
    std::sort(ours.begin(), ours.end(), [&](LoopId a, LoopId b) { return a != b && standsRightOf(a, b); });
    std::sort(theirs.begin(), theirs.end(),
              [&](LoopId a, LoopId b) { return a != b && standsRightOf(a, b); });
    const bool fromRight = standsRightOf(ours.front(), theirs.front());
    for (const LoopId a : ours) {
        for (const LoopId b : theirs) {
            if (standsRightOf(a, b) != fromRight) return refuse(Why::notNeighbours);
        }
    }
    const bool oursInFront = move.inFront == (knitter_->facing() == Side::right);
    // The one nearest the others goes first, past the nearest of them first.
    if (fromRight) std::reverse(ours.begin(), ours.end());
    if (!fromRight) std::reverse(theirs.begin(), theirs.end());
    for (const LoopId a : ours) {
        for (const LoopId b : theirs) {
            const Result<void> one = f.cross(fromRight ? a : b, fromRight ? b : a, oursInFront ? a : b);
            if (!one) return one;
        }
    }
    const std::vector<LoopId>& right = fromRight ? move.others : move.loops;
    const std::vector<LoopId>& left = fromRight ? move.loops : move.others;
    std::vector<LoopId> now = right;
    std::sort(now.begin(), now.end(), [&](LoopId a, LoopId b) { return a != b && standsRightOf(a, b); });
    std::vector<LoopId> then = left;
    std::sort(then.begin(), then.end(), [&](LoopId a, LoopId b) { return a != b && standsRightOf(a, b); });
    now.insert(now.end(), then.begin(), then.end());
    orderRungs(f, now);
    return {};
}

Result<void> Workplace::passOver(LoopId over, LoopId under) {
    Fabric& f = knitter_->fabric();
    if (!f.isLive(over) || !f.isLive(under)) return refuse(Why::notLive);
    const HeldId x = f.heldOn(over, f.needle());
    const HeldId y = f.heldOn(under, f.needle());
    if (!x || !y || f[x].state.hanging != 0 || f[y].state.hanging != 0) return refuse(Why::notHeld);
    const std::vector<LoopId> behind = knitter_->behind();
    if (behind.size() > 1 && behind.back() == under && behind[behind.size() - 2] == over) {
        const Result<LoopId> passed = knitter_->passOver(1);
        if (!passed) return tl::unexpected<Refusal>(passed.error());
        return {};
    }
    const bool fromRight = nextStitch(f, x) == y;
    if (!fromRight && nextStitch(f, y) != x) return refuse(Why::notNeighbours);
    // On the left needle the far one is lifted over the near one, the mirror image of passing over on the
    // right needle: there a stitch with its right leg in front is left open.
    const bool mirrored = knitter_->mirrored();
    const LinkId first = f[under].firstLink;
    const bool purl = first && f[first].form.side != knitter_->facing();
    const bool turned = (f[x].state.mount == Mount::eastern) != mirrored;
    int twist = (turned ? 1 : 0) - (purl ? 1 : 0);
    if (mirrored) twist = -twist;
    LinkForm form;
    form.side = purl ? opposite(knitter_->facing()) : knitter_->facing();
    form.twist = static_cast<std::int8_t>(twist + f[x].state.turns);
    int place = 0;
    for (LinkId l = first; l; l = f[l].nextInLoop) {
        place = fromRight ? std::min<int>(place, f[l].form.place) : std::max<int>(place, f[l].form.place);
    }
    form.place = static_cast<std::int8_t>(fromRight ? place - 1 : place + 1);
    const Result<void> off = f.letGo(over, f.needle(), false);
    if (!off) return off;
    const Result<LinkId> link = f.pull(under, over, form, fromRight ? -1 : 0);
    if (!link) return tl::unexpected<Refusal>(link.error());
    return {};
}

}  // namespace loopmend
