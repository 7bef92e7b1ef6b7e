// SPDX-License-Identifier: MIT
// What the cloth suffers as a whole, or in wear.
#include <algorithm>
#include <vector>

#include "fabric/hands.h"
#include "fault/families.h"
#include "fault/needle.h"

namespace loopmend {

namespace {

/// Fewer are stitches that fell off one by one.
constexpr int kSeveral = 3;

// ---- the needle
// ------------------------------------------------------------------------------------------------------

/// From the stitch to the end of the row: what the needle slides out of.
std::vector<LoopId> endOfRow(const Fabric& f, const Fall& fall) {
    std::vector<LoopId> loops;
    for (std::size_t i = static_cast<std::size_t>(fall.stitch) - 1; i < fall.row.size(); ++i) {
        if (fall.row[i] && onNeedle(f, fall.row[i])) loops.push_back(fall.row[i]);
    }
    return loops;
}

bool severalHang(const Fabric& f, const Fall& fall) {
    if (!onNeedle(f, fall.lowest()) || restsOnNothing(f, fall.lowest())) return false;
    const std::vector<LoopId> loops = endOfRow(f, fall);
    return std::count_if(loops.begin(), loops.end(), [&](LoopId l) { return !restsOnNothing(f, l); }) >=
           kSeveral;
}

/// Stitches stand open; a yarn over is slack.
Result<void> needleOut(Knitter& k, const Fall& fall) {
    return k.whole([&]() -> Result<void> {
        Fabric& f = k.fabric();
        for (const LoopId loop : endOfRow(f, fall)) {
            const bool strand = restsOnNothing(f, loop);
            const Result<void> off = k.drop(loop);
            if (!off) return off;
            if (!strand) continue;
            const Result<std::vector<LoopId>> slack = undo(f, loop);
            if (!slack) return tl::unexpected<Refusal>(slack.error());
        }
        return {};
    });
}

// ---- the yarn
// --------------------------------------------------------------------------------------------------------

/// A stitch that stands on another and carries one, its yarn running on to both sides.
bool isInside(const Fabric& f, const Fall& fall) {
    const LoopId loop = fall.lowest();
    return f[loop].firstLink && f[loop].firstKid && f[loop].next && f.loopBefore(loop) &&
           f[loop].flags.anchored == 0;
}

/// The yarn wears through beside the stitch, and the stitch slips out sideways.
Result<void> wornThrough(Knitter& k, const Fall& fall) {
    return k.whole([&]() -> Result<void> {
        Fabric& f = k.fabric();
        const LoopId loop = fall.lowest();
        const YarnId yarn = f[loop].yarn;
        const Result<YarnId> rest = f.cut(f[loop].prev);
        if (!rest) return tl::unexpected<Refusal>(rest.error());
        // The ball is on the far side of the break.
        std::vector<YarnId> atHand = k.yarnsAtHand();
        std::replace(atHand.begin(), atHand.end(), yarn, *rest);
        k.layOut(std::move(atHand));
        if (k.yarn() == yarn) k.takeYarn(*rest, k.floats());
        return f.unthread(loop);
    });
}

constexpr Fault kHarm[] = {
    {.id = "needle_pulled_out",
     .name = "needle slid out of several stitches",
     .family = Family::harm,
     .fallsAt = severalHang,
     .suffer = needleOut,
     .cause = "The work was lifted by the wrong end, and the needle slid out.",
     .prevention = "Put point protectors on before you lay the work down, and lift it by the cloth.",
     .sign = "A line of open loops stands level, and the working yarn still leaves the last stitch."},
    {.id = "broken_yarn",
     .name = "broken yarn",
     .family = Family::harm,
     .fallsAt = isInside,
     .suffer = wornThrough,
     .inCloth = true,
     .cause = "The yarn wore through, or was cut or eaten, and the stitch beside it slipped out.",
     .prevention = "Look the cloth over before it is washed, and catch loose loops with a pin at once.",
     .sign = "Two ends lie in the hole, and loops stand free below and above it.",
     .onPurpose = "cut the strand beside it, once, and let that one stitch slip out",
     .inLessons = false},
};

}  // namespace

FaultList harmFaults() {
    return listOf(kHarm);
}

}  // namespace loopmend
