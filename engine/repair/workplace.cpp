// SPDX-License-Identifier: MIT
#include "repair/workplace.h"

#include <algorithm>

#include "fabric/hands.h"
#include "fabric/joining.h"
#include "fabric/rows.h"
#include "pattern/working.h"

namespace loopmend {

namespace {

/// Whether `x` comes before `y` along their yarn; both ways at once, for they lie near each other.
bool isEarlier(const Fabric& f, EntryId x, EntryId y) {
    EntryId after = f[x].next;
    EntryId before = f[x].prev;
    while (after || before) {
        if (after == y) return true;
        if (before == y) return false;
        if (after) after = f[after].next;
        if (before) before = f[before].prev;
    }
    return false;
}

/// Whether a stretch of a tool's places, up to `end`, holds a loop.
bool holdsAny(const Fabric& f, HeldId from, HeldId end) {
    for (HeldId h = from; h && h != end; h = f[h].next) {
        if (f[h].state.hanging == 0) return true;
    }
    return false;
}

/// How many loops a move must at least name.
std::size_t loopsNeeded(MoveKind kind) {
    switch (kind) {
        case MoveKind::pin:
        case MoveKind::unpin:
        case MoveKind::drop:
        case MoveKind::letRun:
        case MoveKind::seat:
        case MoveKind::remount:
        case MoveKind::mark:
        case MoveKind::slipTo:
        case MoveKind::sort:
        case MoveKind::unthread:
        case MoveKind::passOver:
        case MoveKind::snip:
        case MoveKind::pickOut:
        case MoveKind::cross:
        case MoveKind::graft:
        case MoveKind::sewOver:
        case MoveKind::weave:
        case MoveKind::join:
        case MoveKind::turnJoin: return 1;
        case MoveKind::stack:
        case MoveKind::count: return 2;
        default: return 0;
    }
}

}  // namespace

ToolId pinOf(const Fabric& f, LoopId loop) {
    for (HeldId h = f[loop].held; h; h = f[h].alsoHeld) {
        if (f[h].state.hanging == 0 && f[f[h].tool].kind == ToolKind::pin) return f[h].tool;
    }
    return {};
}

bool hangsOpen(const Fabric& f) {
    for (std::int32_t i = 0; i < f.entryCount(); ++i) {
        const LoopId l{i};
        if (f.has(l) && f.isLoop(l) && f.isLoose(l) && !f.isNothing(l) && f[l].flags.anchored == 0)
            return true;
    }
    return false;
}

LoopId loopBeside(const Fabric& f, EntryId e, bool back) {
    do {
        e = back ? f[e].prev : f[e].next;
    } while (e && !f.isLoop(e));
    return e;
}

Result<LoopId> Workplace::perform(const Move& move) {
    const std::vector<LoopId> stacked = stacked_;
    Result<LoopId> done =
        knitter_->whole([&]() -> Result<LoopId> { return perform(move, knitter_->fabric()); });
    if (!done) stacked_ = stacked;
    return done;
}

Result<LoopId> Workplace::perform(const Move& move, Fabric& f) {
    const auto nothing = [](const Result<void>& result) -> Result<LoopId> {
        if (!result) return tl::unexpected<Refusal>(result.error());
        return LoopId{};
    };
    for (const auto* list : {&move.loops, &move.others}) {
        for (const LoopId l : *list) {
            if (!f.has(l)) return refuse(Why::noSuchThing);
            if (!f.isLoop(l)) return refuse(Why::notALoop);
        }
    }
    if (move.loops.size() < loopsNeeded(move.kind)) return refuse(Why::noSuchThing);
    switch (move.kind) {
        case MoveKind::pin: return nothing(pin(move.loops.front()));
        case MoveKind::unpin: return nothing(unpin(move.loops.front()));
        case MoveKind::drop:
            // On a thread it goes on standing: the needle has no place to keep for it.
            if (threadOf(f, move.loops.front()))
                return nothing(f.letGo(move.loops.front(), f.needle(), false));
            return nothing(knitter_->drop(move.loops.front()));
        case MoveKind::letRun: {
            const LoopId loop = move.loops.front();
            if (!f.isLive(loop)) return refuse(Why::notLive);
            if (f.isHeld(loop)) return refuse(Why::inUse);
            if (f[loop].flags.anchored != 0) return refuse(Why::anchored);
            const int undone = move.count > 0 ? letRunFrom(f, loop, move.count) : letRunFrom(f, loop);
            if (undone == 0 || undone < move.count) return refuse(Why::noLinks);
            return LoopId{};
        }
        case MoveKind::stack: {
            for (const LoopId l : move.loops) {
                if (!f.isLive(l)) return refuse(Why::notOpen);
            }
            stacked_ = move.loops;
            return LoopId{};
        }
        case MoveKind::hook: return hookRung(move);
        case MoveKind::liftBar: return liftBar(move);
        case MoveKind::seat: return nothing(seat(move));
        case MoveKind::remount: return nothing(knitter_->remount(move.loops.front(), move.mount));
        case MoveKind::tink: return nothing(tink(move.count));
        case MoveKind::rip: return nothing(move.count > 0 ? rip(move.count) : ripToThread());
        case MoveKind::work: {
            RowWork work(*knitter_);
            for (const Step& step : move.steps) {
                const Result<void> worked = work.work(step);
                if (!worked) return nothing(worked);
            }
            return LoopId{};
        }
        case MoveKind::turn:
            if (knitter_->inTheRound()) return nothing(knitter_->endRound());
            knitter_->turn();
            return LoopId{};
        case MoveKind::inspect:
        case MoveKind::tug:
        case MoveKind::count:
        case MoveKind::mark:
        case MoveKind::sort: return look(move);
        case MoveKind::slipTo: return nothing(slipTo(move.loops.front()));
        case MoveKind::thread: return nothing(thread(move));
        case MoveKind::unthread: return nothing(unthread(move));
        case MoveKind::cross: return nothing(cross(move));
        case MoveKind::passOver:
            if (move.others.empty()) return refuse(Why::noSuchThing);
            return nothing(passOver(move.loops.front(), move.others.front()));
        case MoveKind::castOn: return nothing(castOnAnew(move));
        case MoveKind::turnJoin: return nothing(turnAtJoin(f, move.loops.front(), move.count));
        case MoveKind::drawSlack:
        case MoveKind::snip:
        case MoveKind::pickOut:
        case MoveKind::graft:
        case MoveKind::sewOver:
        case MoveKind::fasten:
        case MoveKind::weave:
        case MoveKind::join: return withYarn(move);
    }
    return refuse(Why::noSuchThing);
}

Result<void> Workplace::pin(LoopId loop) {
    Fabric& f = knitter_->fabric();
    if (pinOf(f, loop)) return refuse(Why::alreadyHeld);
    const Result<HeldId> held = f.hold(loop, f.addTool(ToolKind::pin), HeldId{}, Mount::western);
    if (!held) return tl::unexpected<Refusal>(held.error());
    return {};
}

Result<void> Workplace::unpin(LoopId loop) {
    Fabric& f = knitter_->fabric();
    const ToolId pin = pinOf(f, loop);
    if (!pin) return refuse(Why::notHeld);
    return f.letGo(loop, pin, false);
}

namespace {

/// Where a loop belongs whose two neighbours of the yarn sit side by side on the needle: the place left of
/// the right one. What was let go may have been gone past by many rows, and its own place with it.
HeldId betweenNeighbours(const Fabric& f, LoopId loop) {
    EntryId next = f[loop].next;
    while (next && !f.isLoop(next)) next = f[next].next;
    const LoopId before = f.loopBefore(loop);
    if (!before || !next) return {};
    const bool leftward = f.run(loop) == Run::leftward;
    const HeldId right = f.heldOn(leftward ? before : next, f.needle());
    const HeldId left = f.heldOn(leftward ? LoopId(next) : before, f.needle());
    if (!right || !left || f[right].state.hanging != 0 || f[left].state.hanging != 0) return {};
    HeldId after = f[right].next;
    while (after && after != left && f[after].state.hanging != 0) after = f[after].next;
    return after == left ? left : HeldId{};
}

}  // namespace

Result<void> Workplace::seat(const Move& move) {
    Fabric& f = knitter_->fabric();
    const LoopId loop = move.loops.front();
    if (!f.isLive(loop)) return refuse(Why::notLive);
    const HeldId own = f.heldOn(loop, f.needle());
    if (own && f[own].state.hanging == 0) return refuse(Why::alreadyHeld);
    HeldId before = own ? f[own].next : HeldId{};
    const HeldId between = own ? betweenNeighbours(f, loop) : HeldId{};
    if (between) before = between;
    if (move.atRightEnd) before = f[f.needle()].first;
    if (move.beside) {
        if (!f.has(move.beside)) return refuse(Why::noSuchThing);
        const HeldId right = f.heldOn(move.beside, f.needle());
        if (!right) return refuse(Why::notHeld);
        before = f[right].next;
    }
    if (!own && !move.atRightEnd && !move.beside) return refuse(Why::notHeld);
    const HeldId tip = f[f.needle()].tip;
    const bool nothingRight = !holdsAny(f, f[f.needle()].first, tip);
    const bool nothingLeft = !holdsAny(f, tip, HeldId{});
    for (HeldId h = f[loop].held; h;) {
        const HeldId next = f[h].alsoHeld;
        if (f[h].state.hanging == 0) (void)f.letGo(loop, f[h].tool, false);
        h = next;
    }
    const Mount mount = knitter_->mirrored() ? opposite(move.mount) : move.mount;
    const Result<HeldId> held = f.hold(loop, f.needle(), before, mount);
    if (!held) return tl::unexpected<Refusal>(held.error());
    // Seating brings no loop to a tip that was empty: what waits on the left needle goes on waiting there.
    const bool toLeft = nothingRight && (!nothingLeft || knitter_->run() == Run::leftward);
    if (toLeft) {
        f.setTip(f[f.needle()].first);
    } else if (nothingLeft) {
        f.setTip(HeldId{});
    } else if (own && tip == own) {
        f.setTip(*held);
    }
    return {};
}

Result<LoopId> Workplace::liftBar(const Move& move) {
    Fabric& f = knitter_->fabric();
    if (!f.has(move.strand)) return refuse(Why::noSuchThing);
    const LoopId before = f.isLoop(move.strand) ? move.strand : f.loopBefore(move.strand);
    LoopId next = f[move.strand].next;
    while (next && !f.isLoop(next)) next = f[next].next;
    const Result<LoopId> bar = hookBar(f, f[move.strand].yarn, move.strand, {}, Side::right);
    if (!bar || move.liftTo == LiftTo::hanging) return bar;
    if (move.liftTo == LiftTo::pin) {
        const Result<void> pinned = pin(*bar);
        if (!pinned) return tl::unexpected<Refusal>(pinned.error());
        return bar;
    }
    // On the needle it lies between its neighbours there.
    const LoopId right = f.run(*bar) == Run::leftward ? before : next;
    const LoopId left = f.run(*bar) == Run::leftward ? next : before;
    const auto placeOf = [&](LoopId loop) { return loop ? f.heldOn(loop, f.needle()) : HeldId{}; };
    const HeldId leftPlace = placeOf(left);
    const bool fits =
        right ? static_cast<bool>(placeOf(right)) : leftPlace && leftPlace == f[f.needle()].first;
    if (!fits || (left && !leftPlace)) return refuse(Why::notNeighbours);
    const bool atTip = knitter_->run() == Run::leftward && leftPlace && leftPlace == f[f.needle()].tip;
    Move onto;
    onto.loops = {*bar};
    onto.mount = move.mount;
    onto.beside = right;
    onto.atRightEnd = !right;
    const Result<void> seated = seat(onto);
    if (!seated) return tl::unexpected<Refusal>(seated.error());
    if (atTip) f.setTip(f.heldOn(*bar, f.needle()));  // it waits to be worked
    return bar;
}

std::vector<LoopId> Workplace::rightToLeft(std::vector<LoopId> loops) const {
    const Fabric& f = knitter_->fabric();
    std::vector<LoopId> order;
    for (HeldId h = f[f.needle()].first; h; h = f[h].next) {
        if (std::find(loops.begin(), loops.end(), f[h].loop) != loops.end()) order.push_back(f[h].loop);
    }
    if (order.size() == loops.size()) return order;
    // Loops of one row: in the order in which the yarn made them.
    std::stable_sort(loops.begin(), loops.end(), [&](LoopId x, LoopId y) {
        if (f[x].yarn != f[y].yarn || f.run(x) != f.run(y)) return false;
        const bool earlier = isEarlier(f, x, y);
        return f.run(x) == Run::leftward ? earlier : !earlier && x != y;
    });
    return loops;
}

namespace {

/// Of the strands that go by an open loop, the lowest that lies in a row above the bar after `before`: with
/// the bar hooked, it goes by the new loop.
PassId lowestAbove(const Fabric& f, LoopId open, LoopId before) {
    if (!f.isLive(open)) return {};
    const std::vector<PassId> passes = f.passesOf(open);
    if (passes.empty()) return {};
    const Rows rows = rowsOf(f);
    for (const PassId p : passes) {
        // A bare strand has no row of its own: it is of the row of the stitch before it, or of the next one.
        const LoopId from = f.loopBefore(p);
        if (from && rows[from] + (f.run(p) == f.run(from) ? 0 : 1) > rows[before]) return p;
    }
    return {};
}

}  // namespace

Result<LoopId> Workplace::hookRung(const Move& move) {
    Fabric& f = knitter_->fabric();
    const std::vector<LoopId>& loops = move.loops.empty() ? stacked_ : move.loops;
    if (loops.empty()) return refuse(Why::noSuchThing);
    if (!move.twists.empty() && move.twists.size() != loops.size()) return refuse(Why::noSuchThing);
    const Side toward = move.knit ? knitter_->facing() : opposite(knitter_->facing());
    const std::vector<LoopId> order = rightToLeft(loops);
    // The bight comes from behind: of the loops it goes through, the last lies on the side to which it is
    // drawn.
    std::vector<HookThrough> through;
    for (std::size_t i = 0; i < loops.size(); ++i) {
        HookThrough t;
        t.host = loops[i];
        if (!move.twists.empty()) t.twist = move.twists[i];
        if (i == 0) t.plies = move.plies;
        t.place = static_cast<std::int8_t>(std::find(order.begin(), order.end(), loops[i]) - order.begin());
        through.push_back(t);
    }
    if (move.knit) std::reverse(through.begin(), through.end());
    Result<LoopId> loop = refuse(Why::noRung);
    if (move.pass) {
        if (!f.has(move.pass) || f.isLoop(move.pass)) return refuse(Why::noRung);
        Hooking hooking;
        hooking.rung = move.pass;
        hooking.through = through;
        hooking.toward = toward;
        loop = hook(f, hooking);
    } else if (move.rung == 0) {
        if (!f.has(move.strand)) return refuse(Why::noSuchThing);
        const PassId above = lowestAbove(f, loops.front(), move.strand);
        loop = hookBar(f, f[move.strand].yarn, move.strand, through, toward);
        if (loop && above && *loop != loops.front()) f.handStrandsOnFrom(loops.front(), above, *loop);
    } else {
        const std::vector<PassId> strands = rungs(f, loops.front());
        std::vector<PassId> held;  // a pin or needle through the loop does not hide its rungs from the hook
        const std::vector<PassId>& all = strands.empty() ? (held = f.passesOf(loops.front())) : strands;
        if (move.rung > static_cast<int>(all.size())) return refuse(Why::noRung);
        Hooking hooking;
        hooking.rung = all[static_cast<std::size_t>(move.rung - 1)];
        hooking.through = through;
        hooking.toward = toward;
        loop = hook(f, hooking);
    }
    if (loop) stacked_.clear();
    return loop;
}

Result<void> Workplace::tink(int count) {
    for (int i = 0; i < count; ++i) {
        if (!knitter_->rowBegun()) {
            const Result<void> back = knitter_->backOneRow();
            if (!back) return back;
        }
        const Result<void> tinked = knitter_->tink();
        if (!tinked) return tinked;
    }
    (void)knitter_->uncross();
    return {};
}

Result<void> Workplace::rip(int rows) {
    for (int i = 0; i < rows; ++i) {
        if (!knitter_->rowBegun()) {
            const Result<void> back = knitter_->backOneRow();
            if (!back) return back;
        }
        while (knitter_->rowBegun()) {
            const Result<void> tinked = knitter_->tink();
            if (!tinked) return tinked;
        }
        (void)knitter_->uncross();
    }
    return {};
}

}  // namespace loopmend
