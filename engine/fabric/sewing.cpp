// SPDX-License-Identifier: MIT
#include "fabric/sewing.h"

namespace loopmend {

namespace {

/// All of it or nothing.
template <class Operation>
auto whole(Fabric& f, Operation operation) -> decltype(operation()) {
    const JournalMark before = f.mark();
    auto result = operation();
    if (!result) f.rollBack(before);
    return result;
}

std::int32_t slotOf(const Fabric& f, LinkId link) {
    std::int32_t slot = 0;
    for (LinkId l = f[link].prevInHost; l; l = f[l].prevInHost) ++slot;
    return slot;
}

std::int32_t placeInLoop(const Fabric& f, LinkId link) {
    std::int32_t at = 0;
    for (LinkId l = f[f[link].loop].firstLink; l != link; l = f[l].nextInLoop) ++at;
    return at;
}

Result<void> takeOff(Fabric& f, LoopId loop) {
    while (const HeldId held = f[loop].held) {
        if (f[held].state.hanging != 0) {
            f.forgetPlace(held);
            continue;
        }
        const Result<void> off = f.letGo(loop, f[held].tool, false);
        if (!off) return off;
    }
    return {};
}

Result<void> isLiveLoop(const Fabric& f, LoopId loop) {
    if (!f.has(loop)) return refuse(Why::noSuchThing);
    if (!f.isLoop(loop)) return refuse(Why::notALoop);
    if (!f.isLive(loop)) return refuse(Why::notLive);
    return {};
}

Side sideAt(const std::vector<Side>& sides, std::size_t i) {
    return sides.empty() ? Side::right : sides[i];
}

}  // namespace

Result<std::vector<LoopId>> duplicateStitches(Fabric& f, YarnId thread, const std::vector<LoopId>& stitches,
                                              Run run, Side covers) {
    return whole(f, [&]() -> Result<std::vector<LoopId>> {
        std::vector<LoopId> sewn;
        for (const LoopId stitch : stitches) {
            if (!f.has(stitch)) return refuse(Why::noSuchThing);
            if (!f.isLoop(stitch)) return refuse(Why::notALoop);
            if (!f[stitch].firstLink) return refuse(Why::noLinks);
            if (f.isLive(stitch)) return refuse(Why::nothingAbove);
            std::vector<Fabric::Through> hosts;
            for (const LinkId l : f.linksOf(stitch))
                hosts.push_back({f[l].host, f[l].form, slotOf(f, l) + (run == Run::leftward ? 1 : 0)});
            std::vector<Fabric::Under> unders;
            for (LinkId l = f[stitch].firstKid; l; l = f[l].nextInHost) {
                // The last of a bight lies on the side to which it was drawn: there the copy is on top if it
                // comes last.
                const bool onTop = f[l].form.side == covers;
                unders.push_back({f[l].loop, f[l].form, placeInLoop(f, l) + (onTop ? 1 : 0)});
            }
            const Result<LoopId> copy = f.thread(thread, run, f[stitch].um, hosts, unders);
            if (!copy) return tl::unexpected<Refusal>(copy.error());
            sewn.push_back(*copy);
        }
        return sewn;
    });
}

Result<std::vector<LoopId>> graft(Fabric& f, YarnId thread, const std::vector<LoopId>& below,
                                  const std::vector<LoopId>& above, Run run, const GraftSides& sides) {
    const auto n = static_cast<std::int32_t>(below.size());
    const auto fits = [&](std::size_t count) { return count == 0 || count == below.size(); };
    if (above.size() != below.size() || !fits(sides.sewn.size()) || !fits(sides.above.size()))
        return refuse(Why::edgesDiffer, n, static_cast<std::int32_t>(above.size()));
    return whole(f, [&]() -> Result<std::vector<LoopId>> {
        std::vector<LoopId> sewn;
        for (std::size_t i = 0; i < below.size(); ++i) {
            if (const Result<void> live = isLiveLoop(f, below[i]); !live)
                return tl::unexpected<Refusal>(live.error());
            // A loop that lost what it stood on hangs by its feet, whatever stands in it.
            const bool hangs = f.has(above[i]) && f.isLoop(above[i]) && !f[above[i]].firstLink;
            if (const Result<void> live = isLiveLoop(f, above[i]); !hangs && !live)
                return tl::unexpected<Refusal>(live.error());
            for (const LoopId loop : {below[i], above[i]}) {
                const bool stays = loop == above[i] && hangs;  // what holds its head may go on holding it
                if (const Result<void> off = stays ? Result<void>{} : takeOff(f, loop); !off)
                    return tl::unexpected<Refusal>(off.error());
            }
            LinkForm through;
            through.side = sideAt(sides.sewn, i);
            LinkForm over;
            over.side = sideAt(sides.above, i);
            const Result<LoopId> loop = f.thread(thread, run, f[thread].loopUm, {{below[i], through, -1}},
                                                 {{above[i], over, f.linkCount(above[i])}});
            if (!loop) return tl::unexpected<Refusal>(loop.error());
            if (!hangs) f.setAnchored(above[i], true);
            sewn.push_back(*loop);
        }
        return sewn;
    });
}

Result<void> unsew(Fabric& f, YarnId thread, LoopId until) {
    return whole(f, [&]() -> Result<void> {
        for (;;) {
            EntryId last = f[thread].last;
            while (last && !f.isLoop(last)) last = f[last].prev;
            if (!last || last == until) return {};
            std::vector<LoopId> above;
            for (LinkId l = f[last].firstKid; l; l = f[l].nextInHost) above.push_back(f[l].loop);
            const Result<void> out = f.unthread(last);
            if (!out) return out;
            for (const LoopId loop : above) {
                // Fastened by the seam alone, head to head.
                if (f.isLive(loop) && f[loop].flags.anchored != 0 && f[loop].firstLink)
                    f.setAnchored(loop, false);
            }
        }
    });
}

}  // namespace loopmend
