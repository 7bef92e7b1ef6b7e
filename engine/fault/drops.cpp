// SPDX-License-Identifier: MIT
// Stitches that come off the needle, are left behind, run down, or escape from a decrease.
#include "fabric/hands.h"
#include "fault/families.h"
#include "fault/needle.h"
#include "fault/steps.h"

namespace loopmend {

namespace {

/// The stitch on top of a loop's column.
LoopId topOf(const Fabric& f, LoopId loop) {
    while (f[loop].lastKid) loop = f[f[loop].lastKid].loop;
    return loop;
}

// ---- off the needle
// ------------------------------------------------------------------------------------------

bool hangsThere(const Fabric& f, const Fall& fall) {
    return onNeedle(f, fall.lowest()) && !restsOnNothing(f, fall.lowest());
}

Result<void> fallOff(Knitter& k, const Fall& fall) {
    return k.drop(fall.lowest());
}

bool isOneStitch(const Spot& spot) {
    const LoopId next = nextLoop(spot.knitter);
    return next && uses(spot.here()) == 1 && makes(spot.here()) == 1 &&
           !restsOnNothing(spot.knitter.fabric(), next);
}

Result<int> leaveBehind(Knitter& k, const Spot&) {
    return did(k.drop(nextLoop(k)), 0);
}

bool entersYarnOver(const Spot& spot) {
    const LoopId next = nextLoop(spot.knitter);
    return next && uses(spot.here()) > 0 && restsOnNothing(spot.knitter.fabric(), next);
}

Result<int> letStrandGo(Knitter& k, const Spot&) {
    return k.whole([&]() -> Result<int> {
        const LoopId strand = nextLoop(k);
        const Result<void> off = k.drop(strand);
        if (!off) return did(off);
        return did(undo(k.fabric(), strand), 0);
    });
}

// ---- out of a decrease
// ---------------------------------------------------------------------------------------

bool canEscape(const Spot& spot) {
    switch (spot.here().op) {
        case Op::skp:
        case Op::spp:
        case Op::sk2p:
        case Op::k2tog:
        case Op::ssk:
        case Op::p2tog:
        case Op::ssp:
        case Op::k3tog:
        case Op::p3tog:
            return nextLoop(spot.knitter) && !restsOnNothing(spot.knitter.fabric(), nextLoop(spot.knitter));
        default: return false;
    }
}

/// Slipped and not passed over; or the needle takes all loops but the first, which falls.
Result<int> escape(Knitter& k, const Spot& spot) {
    return k.whole([&]() -> Result<int> {
        switch (spot.here().op) {
            case Op::skp: {
                const Result<LoopId> slipped = k.slip(SlipWay::knitwise, false);
                return slipped ? did(k.knit()) : did(slipped);
            }
            case Op::spp: {
                const Result<LoopId> slipped = k.slip(SlipWay::purlwise, true);
                return slipped ? did(k.purl()) : did(slipped);
            }
            case Op::sk2p: {
                const Result<LoopId> slipped = k.slip(SlipWay::knitwise, false);
                return slipped ? did(k.k2tog()) : did(slipped);
            }
            default: break;
        }
        const Result<void> off = k.drop(nextLoop(k));
        if (!off) return did(off);
        const int left = uses(spot.here()) - 1;
        const bool purl = isPurl(spot.here());
        if (left == 1) return did(k.work(1, purl, Leg::leading));
        return did(purl ? k.p2tog() : k.k2tog());
    });
}

// ---- runs
// ----------------------------------------------------------------------------------------------------

/// Lets the stitch on top of the column fall and run, no farther down than the row named.
Result<void> runDown(Knitter& k, const Fall& fall) {
    return k.whole([&]() -> Result<void> {
        Fabric& f = k.fabric();
        const LoopId top = topOf(f, fall.lowest());
        if (!onNeedle(f, top)) return refuse(Why::notHeld);
        const Result<void> off = k.drop(top);
        if (!off) return off;
        std::vector<LoopId> loose{top};
        for (std::size_t i = 0; i < loose.size(); ++i) {
            if (loose[i] < fall.firstOfRow || !f.has(loose[i]) || !f.isLoose(loose[i])) continue;
            const Result<std::vector<LoopId>> freed = undo(f, loose[i]);
            if (!freed) return tl::unexpected<Refusal>(freed.error());
            loose.insert(loose.end(), freed->begin(), freed->end());
        }
        if (f.has(fall.lowest())) return refuse(Why::notOpen);
        return {};
    });
}

enum class Ground { plain, ridged, ribbed, lace, edge, cable };

/// The face of the cloth that a stitch shows: the side toward which its loop was drawn.
Side faceOf(const Fabric& f, LoopId loop) {
    return f[f[loop].firstLink].form.side;
}

bool crosses(const Fabric& f, LoopId loop) {
    for (CrossingId c = f[loop].crossing; c; c = f[c].a == loop ? f[c].nextOfA : f[c].nextOfB) {
        if (f[c].sign != 0) return true;
    }
    return false;
}

/// What a run is called after: the column that comes out, and its neighbours in the same rows.
Ground groundOf(const Fabric& f, const Fall& fall) {
    const auto inRow = static_cast<int>(fall.row.size());
    if (!fall.round && (fall.stitch == 1 || fall.stitch == inRow)) return Ground::edge;
    std::vector<LoopId> column{fall.lowest()};
    while (f[column.back()].lastKid) column.push_back(f[f[column.back()].lastKid].loop);
    for (const LoopId loop : column) {
        if (f.linkCount(loop) != 1 || f.kidCount(loop) > 1) return Ground::lace;
    }
    for (const LoopId loop : column) {
        if (crosses(f, loop)) return Ground::cable;
    }
    bool alternates = false;
    bool alone = false;
    const auto differs = [&](LoopId loop, LoopId neighbour) {
        return neighbour && f[neighbour].firstLink && faceOf(f, neighbour) != faceOf(f, loop);
    };
    const auto after = [&](LoopId loop) {
        EntryId e = f[loop].next;
        while (e && !f.isLoop(e)) e = f[e].next;
        return e;
    };
    for (std::size_t i = 0; i < column.size(); ++i) {
        const LoopId base = f[f[column[i]].firstLink].host;
        // The loops of a cast-on are of no ground yet.
        const bool castOn = !f[base].firstLink || f[f[f[base].firstLink].host].flags.anchored != 0;
        alternates = alternates || (!castOn && faceOf(f, base) != faceOf(f, column[i]));
        alone = alone || differs(column[i], f.loopBefore(column[i])) || differs(column[i], after(column[i]));
    }
    return alone ? Ground::ribbed : alternates ? Ground::ridged : Ground::plain;
}

template <Ground ground>
bool runsIn(const Fabric& f, const Fall& fall) {
    return groundOf(f, fall) == ground;
}

constexpr std::string_view kRunCause =
    "A stitch slipped off the needle unseen, and a tug or the weight of the work let it run down.";
constexpr std::string_view kRunPrevention =
    "Glance along the needle at the end of each row, and put a pin through a fallen stitch before anything "
    "else.";

constexpr Fault kDrops[] = {
    {.id = "drop_live",
     .name = "stitch off the needle",
     .family = Family::drops,
     .fallsAt = hangsThere,
     .suffer = fallOff,
     .cause = "The needle was pulled, or the work was put down in the middle of a row.",
     .prevention =
         "Push the stitches back from the tips before you put the work down; use point protectors."},
    {.id = "drop_left_behind",
     .name = "stitch left behind",
     .family = Family::drops,
     .standsOn = isOneStitch,
     .work = leaveBehind,
     .cause = "The stitch slid off the left needle before it was worked, and the knitting went on without "
              "it.",
     .prevention = "Look at each stitch as it leaves the needle; count at the end of the row."},
    {.id = "ladder_stockinette",
     .name = "ladder in stockinette",
     .ukName = "ladder in stocking stitch",
     .family = Family::drops,
     .fallsAt = runsIn<Ground::plain>,
     .suffer = runDown,
     .runs = true,
     .cause = kRunCause,
     .prevention = kRunPrevention},
    {.id = "ladder_garter",
     .name = "ladder in garter stitch",
     .family = Family::drops,
     .fallsAt = runsIn<Ground::ridged>,
     .suffer = runDown,
     .runs = true,
     .cause = kRunCause,
     .prevention = kRunPrevention},
    {.id = "ladder_rib",
     .name = "ladder in rib or seed stitch",
     .ukName = "ladder in rib or moss stitch",
     .family = Family::drops,
     .fallsAt = runsIn<Ground::ribbed>,
     .suffer = runDown,
     .runs = true,
     .cause = kRunCause,
     .prevention = kRunPrevention},
    {.id = "ladder_lace",
     .name = "ladder through lace",
     .family = Family::drops,
     .fallsAt = runsIn<Ground::lace>,
     .suffer = runDown,
     .runs = true,
     .cause = kRunCause,
     .prevention = "Put a lifeline through a plain row of every repeat, and stop a fallen stitch with a pin "
                   "at once."},
    {.id = "ladder_edge",
     .name = "edge stitch run down",
     .family = Family::drops,
     .fallsAt = runsIn<Ground::edge>,
     .suffer = runDown,
     .runs = true,
     .cause = "The first or the last stitch slipped off when the work was turned.",
     .prevention = "Hold the last stitch with a finger while you turn."},
    {.id = "ladder_cable",
     .name = "ladder through a cable",
     .family = Family::drops,
     .fallsAt = runsIn<Ground::cable>,
     .suffer = runDown,
     .runs = true,
     .cause = "A stitch slipped off the cable needle or the tip, and ran down through the crossing.",
     .prevention = "Use a cable needle with a bend or a notch, and look at the crossed stitches one by one."},
    {.id = "lost_yo",
     .name = "yarn over dropped on the next row",
     .family = Family::drops,
     .standsOn = entersYarnOver,
     .work = letStrandGo,
     .cause = "The yarn over slid off the tip, or was taken for a mistake and let go.",
     .prevention = "Count after each row with yarn overs, and work the strand when you come to it."},
    {.id = "decrease_escaped",
     .name = "loop escaped from a decrease",
     .family = Family::drops,
     .standsOn = canEscape,
     .work = escape,
     .cause = "The slipped stitch was not passed over, or the needle caught only some of the loops.",
     .prevention = "Look at each decrease before the next stitch: every loop must be held by the new one."},
};

}  // namespace

FaultList dropFaults() {
    return listOf(kDrops);
}

}  // namespace loopmend
