// SPDX-License-Identifier: MIT
#include "repair/rejoin.h"

#include <fmt/format.h>

namespace loopmend {

namespace {

int yarnsIn(const Fabric& f) {
    int yarns = 0;
    for (std::int32_t y = 0; y < f.yarnCount(); ++y) yarns += f[YarnId{y}].first ? 1 : 0;
    return yarns;
}

LoopId firstLoop(const Fabric& f, YarnId yarn) {
    EntryId e = f[yarn].first;
    while (e && !f.isLoop(e)) e = f[e].next;
    return e;
}

LoopId lastLoop(const Fabric& f, YarnId yarn) {
    EntryId e = f[yarn].last;
    while (e && !f.isLoop(e)) e = f[e].prev;
    return e;
}

bool join(LoopId last, LoopId first, StitchPlace spot, std::string words, PlanBuilder& b) {
    Move move;
    move.kind = MoveKind::join;
    move.loops = {last};
    move.others = {first};
    return b.add(std::move(move), spot, std::move(words));
}

}  // namespace

std::vector<BrokenEnds> brokenEnds(const Fabric& meant, const Fabric& actual) {
    std::vector<BrokenEnds> found;
    if (yarnsIn(actual) <= yarnsIn(meant)) return found;
    for (std::int32_t y = 0; y < actual.yarnCount(); ++y) {
        const YarnId yarn{y};
        if (actual[yarn].flags.ball != 0 || !actual[yarn].first) continue;
        for (std::int32_t z = 0; z < actual.yarnCount(); ++z) {
            const YarnId other{z};
            if (y == z || !actual[other].first || actual[yarn].flags.colour != actual[other].flags.colour)
                continue;
            const LoopId last = lastLoop(actual, yarn);
            const LoopId first = firstLoop(actual, other);
            if (last && first && actual[first].flags.anchored == 0) found.push_back({last, first});
        }
    }
    return found;
}

bool joinEnds(const BrokenEnds& ends, const StitchPlaces& spots, PlanBuilder& b) {
    b.caution("Pull at neither end: the stitches beside the break hold by nothing else.");
    b.leaves(Leaves::visible, 0);
    return join(ends.last, ends.first, spots.of(ends.last),
                "Join the two broken ends, with a bit of the same yarn between them if they do not reach.",
                b);
}

std::optional<SlippedOut> slippedOut(const Situation& joined) {
    const Pairing& p = joined.pairing;
    const Fabric& m = joined.meant;
    if (p.missing.size() != 1 || !p.extra.empty() || p.crossingsDiffer()) return std::nullopt;
    const LoopId gone = p.missing.front();
    if (m.linkCount(gone) != 1 || m.kidCount(gone) != 1) return std::nullopt;
    const Link& link = m[m[gone].firstLink];
    const Link& kid = m[m[gone].firstKid];
    if (m.linkCount(kid.loop) != 1 || link.form.twist != 0 || kid.form.twist != 0) return std::nullopt;
    SlippedOut stitch;
    stitch.below = p.actual(link.host);
    stitch.above = p.actual(kid.loop);
    stitch.run = m.run(gone);
    stitch.side = link.form.side;
    stitch.aboveSide = kid.form.side;
    if (!stitch.below || !stitch.above || !joined.actual.isLive(stitch.below)) return std::nullopt;
    return stitch;
}

bool planSewIn(const BrokenEnds& ends, const SlippedOut& stitch, const StitchPlaces& spots, PlanBuilder& b) {
    const Fabric& f = b.fabric();
    const Side facing = b.knitter().facing();
    b.caution("Pull at neither end: the stitches beside the break hold by nothing else.");
    b.needs(stitch.below);
    b.needs(stitch.above);
    Move graft;
    graft.kind = MoveKind::graft;
    graft.loops = {stitch.below};
    graft.others = {stitch.above};
    graft.run = stitch.run;
    graft.sewnKnit = {stitch.side == facing};
    graft.overKnit = {stitch.aboveSide == facing};
    const StitchPlace spot = spots.of(stitch.above);
    const int row = spots.of(stitch.below).row + 1;
    if (!b.add(std::move(graft), {row, 0, spot.column},
               fmt::format("With a length of the same yarn sew the stitch of row {} that slipped out: up "
                           "through the open loop below, round the legs of the one above, and down again.",
                           row)))
        return false;
    const LoopId sewn = b.made();
    const LoopId from = firstLoop(f, f[sewn].yarn);
    b.leaves(Leaves::visible, 0);
    return join(ends.last, from, {row, 0, 0},
                "Join its one end to the broken end beside it, each led across the gap.", b) &&
           join(lastLoop(f, f[sewn].yarn), ends.first, {row, 0, 0},
                "Join its other end to the other broken one in the same way, and draw both snug.", b);
}

}  // namespace loopmend
