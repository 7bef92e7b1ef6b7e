// SPDX-License-Identifier: MIT
#include "fabric/hands.h"

#include <algorithm>

namespace loopmend {

namespace {

bool contains(const std::vector<LoopId>& loops, LoopId loop) {
    return std::find(loops.begin(), loops.end(), loop) != loops.end();
}

/// Hosts that are the loop's own neighbours along the yarn in the same direction: the loop was drawn through
/// what the same yarn had just made, and its strand crosses no column there.
std::vector<LoopId> chainHosts(const Fabric& f, LoopId loop) {
    std::vector<LoopId> same;
    const std::vector<LoopId> hosts = f.hostsRightToLeft(loop);
    for (EntryId e = f[loop].prev; e; e = f[e].prev) {
        if (!f.isLoop(e)) {
            if (f.isFree(e)) break;
            continue;
        }
        if (f.run(e) != f.run(loop) || !contains(hosts, e)) break;
        same.push_back(e);
    }
    return same;
}

std::vector<LoopId> inRun(std::vector<LoopId> rightToLeft, Run run) {
    if (run == Run::rightward) std::reverse(rightToLeft.begin(), rightToLeft.end());
    return rightToLeft;
}

/// The passes that lie side by side in one strand, and where a rung is among them. Only marks share the
/// strand's yarn, and the rung itself: what is fixed (a float, a slipped stitch's strand) crosses at its
/// natural length.
struct StrandPasses {
    LoopId before;       ///< the loop whose strand it is (none: the yarn's lead)
    int count = 0;       ///< that share
    int first = 0;       ///< of those, how many lie before the rung
    int fixed = 0;       ///< that do not
    int fixedAfter = 0;  ///< of those, how many lie after the rung
    bool endsYarn = false;
};

StrandPasses passesOfStrand(const Fabric& f, PassId rung) {
    StrandPasses s;
    EntryId e = rung;
    while (f[e].prev && !f.isLoop(f[e].prev)) e = f[e].prev;
    s.before = f[e].prev;
    bool after = false;
    for (; e && !f.isLoop(e); e = f[e].next) {
        after = after || e == rung;
        if (e == rung || f.isFree(e)) {
            ++s.count;
            s.first += after ? 0 : 1;
        } else {
            ++s.fixed;
            s.fixedAfter += after ? 1 : 0;
        }
    }
    s.endsYarn = !e;
    return s;
}

std::int32_t strandUmOf(const Fabric& f, PassId pass, LoopId before) {
    return before ? f[before].strandUm : f[f[pass].yarn].leadUm;
}

/// What `count` marks from this rung on take of their strand.
Share shareOfRung(const Fabric& f, PassId rung, int count) {
    const StrandPasses s = passesOfStrand(f, rung);
    const std::int32_t strand = strandUmOf(f, rung, s.before);
    const std::int32_t natural = f[f[rung].yarn].strandUm;
    const std::int32_t shared = std::max(0, strand - s.fixed * natural);
    Share share = shareOf(shared, natural, s.count, s.first, count, s.endsYarn);
    share.after = std::min(share.after + s.fixedAfter * natural, strand - share.loop);
    return share;
}

/// Strands that went by several feet go by one loop now. Marks side by side in one strand, once of different
/// feet, are one rung again; a mark of a later foot alone keeps its height among those that are.
void mergeTwins(Fabric& f, const std::vector<std::vector<PassId>>& byFoot) {
    if (byFoot.empty()) return;
    std::vector<PassId> standing = byFoot.front();
    const auto isStanding = [&](EntryId e) {
        return std::find(standing.begin(), standing.end(), e) != standing.end();
    };
    // A foot that is still to come may lie between two that are one already; the same foot twice is two
    // rungs.
    const auto joins = [&](EntryId e, PassId p, const std::vector<PassId>& sameFoot) {
        return e && !f.isLoop(e) && f.run(e) == f.run(p) && f.passed(e) == f.passed(p) &&
               std::find(sameFoot.begin(), sameFoot.end(), e) == sameFoot.end();
    };
    for (std::size_t foot = 1; foot < byFoot.size(); ++foot) {
        PassId anchor;
        std::vector<PassId> own;
        for (const PassId p : byFoot[foot]) {
            PassId twin;
            for (const bool back : {true, false}) {
                EntryId e = back ? f[p].prev : f[p].next;
                for (std::size_t i = 1; i < byFoot.size() && !twin && joins(e, p, byFoot[foot]); ++i) {
                    if (isStanding(e)) twin = e;
                    e = back ? f[e].prev : f[e].next;
                }
            }
            if (twin) {
                (void)f.unlay(p);
                anchor = twin;
                continue;
            }
            const PassId above = anchor ? f[anchor].passNext : standing.empty() ? PassId{} : standing.front();
            if (above == p) {
                anchor = p;
            } else {
                const EntryId before = f[p].prev;
                const YarnId yarn = f[p].yarn;
                const LoopId loop = f.passed(p);
                const Side side = f.passSide(p);
                const Run run = f.run(p);
                (void)f.unlay(p);
                anchor = *f.lay(yarn, before, loop, side, run, above);
            }
            own.push_back(anchor);
        }
        standing.insert(standing.end(), own.begin(), own.end());
    }
}

struct Place {
    ToolId tool;
    HeldId before;
    bool atTip = false;  ///< the gap between the two tips lay to the right of it
};

void giveUp(Fabric& f, HeldId hanging, Place& place) {
    place.tool = f[hanging].tool;
    place.before = f[hanging].next;
    place.atTip = place.atTip || f[place.tool].tip == hanging;
    f.forgetPlace(hanging);
}

/// Several come to hang from right to left.
void hangAt(Fabric& f, LoopId loop, Place& place) {
    if (!place.tool) return;
    const HeldId hung = f.hang(loop, place.tool, place.before);
    if (place.atTip) f.setTip(hung);
    place.atTip = false;
}

/// Takes loops off what holds them; where they hung is the place that is returned.
Place takePlace(Fabric& f, const std::vector<LoopId>& loops) {
    Place place;
    std::vector<HeldId> hanging;
    for (const LoopId loop : loops) {
        for (HeldId held = f[loop].held; held;) {
            const HeldId next = f[held].alsoHeld;
            if (f[held].state.hanging != 0) {
                hanging.push_back(held);
            } else {
                (void)f.letGo(loop, f[held].tool, f[held].tool == f.needle());
                if (f.heldOn(loop, f.needle()) == held) hanging.push_back(held);
            }
            held = next;
        }
    }
    for (const HeldId held : hanging) giveUp(f, held, place);
    return place;
}

/// A rung seen from several feet: neighbouring marks that name different hosts of the new loop and run the
/// same way.
std::vector<PassId> rungGroup(const Fabric& f, PassId rung, const std::vector<LoopId>& hosts) {
    std::vector<PassId> group{rung};
    std::vector<LoopId> named{f.passed(rung)};
    const auto joins = [&](EntryId e) {
        return e && !f.isLoop(e) && f.isFree(e) && f.run(e) == f.run(rung) && contains(hosts, f.passed(e)) &&
               !contains(named, f.passed(e));
    };
    for (EntryId e = f[rung].prev; joins(e); e = f[e].prev) {
        named.push_back(f.passed(e));
        group.insert(group.begin(), e);
    }
    for (EntryId e = f[rung].next; joins(e); e = f[e].next) {
        named.push_back(f.passed(e));
        group.push_back(e);
    }
    return group;
}

}  // namespace

Result<std::vector<LoopId>> undo(Fabric& f, LoopId loop) {
    if (!f.has(loop)) return refuse(Why::noSuchThing);
    if (!f.isLoop(loop)) return refuse(Why::notALoop);
    if (!f.isLive(loop)) return refuse(Why::notLive);
    if (f[loop].flags.anchored != 0) return refuse(Why::anchored);

    Place place;  // where the loop hung, the freed hosts will
    for (HeldId h = f[loop].held; h;) {
        const HeldId next = f[h].alsoHeld;
        const ToolId tool = f[h].tool;
        if (f[h].state.hanging != 0) {
            giveUp(f, h, place);
        } else {
            (void)f.letGo(loop, tool, false);
        }
        h = next;
    }

    const std::vector<LoopId> same = chainHosts(f, loop);
    const std::vector<LoopId> hosts = f.hostsRightToLeft(loop);
    const Side from = f[loop].firstLink ? opposite(f[f[loop].firstLink].form.side) : Side::wrong;
    const Run run = f.run(loop);
    const YarnId yarn = f[loop].yarn;
    while (f[loop].firstLink) {
        const Result<LoopId> out = f.unpull(loop);
        if (!out) return tl::unexpected<Refusal>(out.error());
    }
    std::vector<LoopId> feet;
    std::vector<LoopId> freed;
    for (const LoopId h : hosts) {
        if (!f.isLive(h)) continue;
        if (!contains(same, h)) feet.push_back(h);
        if (!f.isHeld(h)) freed.push_back(h);
    }

    EntryId at = loop;
    if (feet.size() == 1) {
        // The loop's own strand lies below those it hands on; a foot with no strands takes the whole list at
        // once.
        const LoopId foot = feet.front();
        const StrandsId had = f[foot].strands;
        if (!had || !f[had].first) {
            f.handStrandsOn(loop, foot);
            const StrandsId list = f[foot].strands;
            at = *f.lay(yarn, at, foot, from, run, list ? f[list].first : PassId{});
        } else {
            at = *f.lay(yarn, at, foot, from, run);
            f.handStrandsOn(loop, foot);
        }
    } else {
        for (const LoopId foot : inRun(feet, run)) at = *f.lay(yarn, at, foot, from, run);
        for (const PassId p : f.passesOf(loop)) {
            EntryId after = p;
            for (const LoopId foot : inRun(feet, f.run(p))) {
                after = *f.lay(f[p].yarn, after, foot, f.passSide(p), f.run(p));
            }
            if (f[p].flags.rowEnds != 0 && after != p) {  // the row ends after the last of them
                f.setRowEnds(p, false);
                f.setRowEnds(after, true);
            }
            (void)f.unlay(p);
        }
    }
    if (f[loop].flags.rowEnds != 0 && at != loop) {  // the row ends after its mark now
        f.setRowEnds(loop, false);
        f.setRowEnds(at, true);
    }
    const Result<void> sunk = f.sink(loop);
    if (!sunk) return tl::unexpected<Refusal>(sunk.error());
    for (const LoopId h : hosts) {  // a pinned host keeps its place under the needle too
        if (place.tool && f.isOpen(h) && !f.heldOn(h, place.tool)) hangAt(f, h, place);
    }
    return freed;
}

namespace {

bool canRun(const Fabric& f, LoopId loop) {
    if (!f.has(loop) || !f.isLoose(loop)) return false;
    const StrandsId list = f[loop].strands;
    return static_cast<bool>(f[loop].firstLink) || (list && f[list].first);
}

int runAll(Fabric& f, std::vector<LoopId> loose, int tug) {
    int undone = 0;
    // The highest of the loose loops first would be as good: the knot that results is the same.
    for (std::size_t i = 0; i < loose.size() && undone < tug; ++i) {
        if (!canRun(f, loose[i])) continue;
        const Result<std::vector<LoopId>> freed = undo(f, loose[i]);
        if (!freed) continue;
        ++undone;
        loose.insert(loose.end(), freed->begin(), freed->end());
    }
    return undone;
}

}  // namespace

int letRun(Fabric& f, int tug) {
    std::vector<LoopId> loose;
    for (std::int32_t i = 0; i < f.entryCount(); ++i) {
        if (f.has(EntryId{i}) && f.isLoop(EntryId{i}) && canRun(f, EntryId{i})) loose.push_back(EntryId{i});
    }
    return runAll(f, std::move(loose), tug);
}

int letRunFrom(Fabric& f, LoopId loop, int tug) {
    return runAll(f, {loop}, tug);
}

std::vector<PassId> rungs(const Fabric& f, LoopId loop) {
    return f.isOpen(loop) ? f.passesOf(loop) : std::vector<PassId>{};
}

Share shareOf(std::int32_t strandUm, std::int32_t naturalUm, int passes, int first, int count,
              bool endsYarn) {
    const int gaps = endsYarn ? passes : passes + 1;
    const std::int32_t natural = strandUm >= gaps * naturalUm ? naturalUm : 0;
    const std::int32_t each = (strandUm - gaps * natural) / passes;
    const std::int32_t loop = count * each + (count - 1) * natural;
    const int behind = passes - first - count;
    std::int32_t after = behind * (each + natural) + (endsYarn ? 0 : natural);
    if (after + loop > strandUm) after = strandUm - loop;
    return {loop, after};
}

std::int32_t rungUm(const Fabric& f, PassId rung) {
    return shareOfRung(f, rung, 1).loop;
}

bool isLongRung(const Fabric& f, PassId rung) {
    return rungUm(f, rung) * 2 > f[f[rung].yarn].loopUm;
}

Result<LoopId> hook(Fabric& f, const Hooking& hooking) {
    if (!f.has(hooking.rung) || f.isLoop(hooking.rung)) return refuse(Why::noRung);
    if (hooking.through.empty()) return refuse(Why::noSuchThing);
    std::vector<LoopId> hosts;
    for (const HookThrough& t : hooking.through) {
        if (!f.has(t.host)) return refuse(Why::noSuchThing);
        if (!f.isLoop(t.host)) return refuse(Why::notALoop);
        if (!f.isLive(t.host)) return refuse(Why::notOpen);
        if (!contains(hosts, t.host)) hosts.push_back(t.host);
    }

    const bool skippedBefore = !f.isFree(hooking.rung);
    const std::vector<PassId> group =
        skippedBefore ? std::vector<PassId>{hooking.rung} : rungGroup(f, hooking.rung, hosts);

    Place place = takePlace(f, hosts);  // the new loop hangs where they did

    // Which strands lie above the rung: they will go by the new loop. Those below are skipped.
    std::vector<std::pair<LoopId, PassId>> lowestAbove;
    std::vector<PassId> below;
    for (const LoopId h : hosts) {
        PassId own;
        for (const PassId p : group) {
            if (f.passed(p) == h) own = p;
        }
        const StrandsId list = f[h].strands;
        const PassId lowest = own ? f[own].passNext : list ? f[list].first : PassId{};
        if (lowest) lowestAbove.emplace_back(h, lowest);
        for (PassId p = own ? f[own].passPrev : PassId{}; p; p = f[p].passPrev) below.push_back(p);
    }

    const YarnId yarn = f[hooking.rung].yarn;
    const Run run = f.run(hooking.rung);
    const Share share = shareOfRung(f, group.front(), static_cast<int>(group.size()));
    EntryId after = f[group.front()].prev;
    bool endsRow = false;
    for (const PassId p : group) endsRow = endsRow || f[p].flags.rowEnds != 0;
    const bool endedBefore = after && f[after].flags.rowEnds != 0;
    for (const PassId p : group) (void)f.unlay(p);
    const Result<LoopId> lifted = f.liftInStrand(yarn, after, run, share.loop, share.after);
    if (!lifted) return lifted;
    const LoopId loop = *lifted;
    if (endsRow) {
        if (after && !endedBefore) f.setRowEnds(after, false);
        f.setRowEnds(loop, true);
    }

    std::vector<std::vector<PassId>> above;  // foot by foot
    for (const auto& [host, lowest] : lowestAbove) {
        if (hosts.size() > 1) {
            above.emplace_back();
            for (PassId p = lowest; p; p = f[p].passNext) above.back().push_back(p);
        }
        f.handStrandsOnFrom(host, lowest, loop);
    }
    if (hosts.size() > 1) mergeTwins(f, above);
    if (hooking.skipped) {
        for (const PassId p : below) f.setPassSide(p, *hooking.skipped);
    }
    for (const HookThrough& t : hooking.through) {
        LinkForm form;
        form.twist = t.twist;
        form.side = hooking.toward;
        form.place = t.place;
        form.plies = t.plies;
        const Result<LinkId> link = f.pull(loop, t.host, form);
        if (!link) return tl::unexpected<Refusal>(link.error());
    }
    hangAt(f, loop, place);
    return loop;
}

Result<LoopId> hookBar(Fabric& f, YarnId yarn, EntryId after, const std::vector<HookThrough>& through,
                       Side toward) {
    std::vector<LoopId> hosts;
    for (const HookThrough& t : through) {
        if (!f.has(t.host)) return refuse(Why::noSuchThing);
        if (!f.isLoop(t.host)) return refuse(Why::notALoop);
        if (!f.isLive(t.host)) return refuse(Why::notOpen);
        hosts.push_back(t.host);
    }
    const EntryId next = after ? f[after].next : f[yarn].first;
    if (!after && !next) return refuse(Why::noBar);
    const Run run = f.run(after ? after : next);
    const LoopId owner = !after || f.isLoop(after) ? after : f.loopBefore(after);
    const std::int32_t strand = owner ? f[owner].strandUm : f[yarn].leadUm;
    const Result<LoopId> loop = f.liftInStrand(yarn, after, run, strand / 2);
    if (!loop) return loop;
    Place place = takePlace(f, hosts);
    for (const HookThrough& t : through) {
        LinkForm form;
        form.twist = t.twist;
        form.side = toward;
        form.place = t.place;
        form.plies = t.plies;
        const Result<LinkId> link = f.pull(*loop, t.host, form);
        if (!link) return tl::unexpected<Refusal>(link.error());
    }
    hangAt(f, *loop, place);
    return loop;
}

}  // namespace loopmend
