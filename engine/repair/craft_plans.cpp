// SPDX-License-Identifier: MIT
#include "repair/craft_plans.h"

#include <algorithm>
#include <cstdlib>

#include <fmt/format.h>

#include "fault/needle.h"
#include "repair/columns_seen.h"
#include "repair/count_fixes.h"
#include "repair/craft_sheet.h"
#include "repair/uneven.h"

namespace loopmend {

namespace {

bool wash(PlanBuilder& b, const Pace& pace, double lackMm) {
    if (hangsOpen(b.fabric())) return b.refuse("a stitch hangs open: hold it first");
    constexpr double kFelts = 0.01;  // what an ordinary wool does in cool water, by rule of thumb
    b.takes(pace.washSeconds, kFelts);
    b.caution(
        "Count, measure, and note what looks wrong and where. Soak it, press it out in a towel, pat it into "
        "shape and let it dry flat; then look at the same place again, by slanted light.");
    b.leaves(Leaves::tight, lackMm);
    return true;
}

/// Yarn in the loops and strands of each row; by rows.
std::vector<std::int64_t> yarnByRow(const Fabric& f, const StitchPlaces& spots) {
    std::vector<std::int64_t> um;
    for (const std::vector<LoopId>& row : spots.rows()) {
        um.push_back(0);
        for (const LoopId l : row) um.back() += f[l].um + f[l].strandUm;
    }
    return um;
}

/// The stitches before it as they show, then the yarn-over through its back leg.
bool closeIt(PlanBuilder& b, LoopId over, StitchPlace spot) {
    const Fabric& f = b.fabric();
    if (!f.has(over) || !f.isLoop(over) || f[over].firstLink || f[over].flags.anchored != 0 ||
        !onNeedle(f, over))
        return b.refuse("a yarn-over can be worked shut only while it is on the needle");
    if (b.knitter().aheadCount() == 0) {
        if (!b.add(Move{}, {}, b.knitter().inTheRound() ? "Begin the next round." : "Turn the work."))
            return false;
    }
    const std::vector<LoopId> ahead = b.knitter().ahead();
    const auto at = std::find(ahead.begin(), ahead.end(), over);
    if (at == ahead.end()) return b.refuse("it is worked shut in the next row: finish this one first");
    const Mount leading = b.knitter().mirrored() ? Mount::eastern : Mount::western;
    if (f[f.heldOn(over, f.needle())].state.mount != leading)
        return b.refuse("it sits the other way round: put its right leg in front first");
    const SeenColumns columns(f);
    Move work;
    work.kind = MoveKind::work;
    for (auto l = ahead.begin(); l != at; ++l)
        work.steps.push_back({columns.nextSide(*l) == b.knitter().facing() ? Op::knit : Op::purl});
    const bool knit = b.knitter().facing() == Side::right;
    work.steps.push_back({knit ? Op::knitTbl : Op::purlTbl});
    return b.add(std::move(work), spot,
                 "Work to the yarn-over that should not be there, and work it through its back leg: so it "
                 "twists shut, and is no hole.");
}

bool make(CraftRepair repair, const CraftPlace& at, const StitchPlaces& spots, PlanBuilder& b) {
    const Fabric& f = b.fabric();
    const bool there = at.loop && f.has(at.loop) && f.isLoop(at.loop);
    const StitchPlace spot = there ? spots.of(at.loop) : StitchPlace{};
    if (const CraftSheet sheet = sheetFor(repair); !sheet.caution.empty())
        b.caution(std::string(sheet.caution));
    const auto open = [&] { return f.isLive(at.loop) && !onNeedle(f, at.loop); };
    switch (repair) {
        case CraftRepair::secure:
            if (!there || !f.isLoose(at.loop)) return b.refuse("no stitch hangs open there");
            return b.add(moveOn(MoveKind::pin, at.loop), spot,
                         "Put a pin through the loop, not through the yarn of it, so that it cannot run.");
        case CraftRepair::lifeline: {
            if (!there) return b.refuse("there is no row there");
            Move thread = moveOn(MoveKind::thread, at.loop);
            thread.through = ThreadThrough::row;
            return b.add(std::move(thread), {spot.row, 0, 0},
                         fmt::format("Draw a smooth thread through the right leg of every stitch of row {}, "
                                     "not through markers, and leave both ends long.",
                                     spot.row));
        }
        case CraftRepair::reseat:
            if (!there || !f.isLive(at.loop)) return b.refuse("another stitch stands in it");
            if (onNeedle(f, at.loop)) {
                return b.add(moveOn(MoveKind::remount, at.loop), spot,
                             "Turn the stitch on the needle, so that its right leg lies in front.");
            }
            return b.add(moveOn(MoveKind::seat, at.loop), spot,
                         "Put the stitch on the needle, right leg in front.");
        case CraftRepair::closeYarnOver:
            if (!there) return b.refuse("there is no yarn-over there");
            b.leaves(Leaves::countOnly, 0);
            return closeIt(b, at.loop, spot);
        case CraftRepair::easeSnag:
        case CraftRepair::evenTension:
            if (!there) return b.refuse("there is no stitch there");
            return b.add(moveOn(MoveKind::drawSlack, at.loop), spot,
                         "With a blunt needle draw the slack along the row, one leg at a time, until the "
                         "stitch is as large as those beside it.");
        case CraftRepair::fasten:
            if (!there || !open()) return b.refuse("the stitch is not open: another holds it");
            b.leaves(Leaves::visible, 0);
            return b.add(moveOn(MoveKind::fasten, at.loop), spot,
                         "Draw a short length of the same yarn through the open stitch to the other side, "
                         "and sew it to the stitch beside it.");
        case CraftRepair::openBindOff: {
            for (HeldId h = f[f.needle()].first; h; h = f[h].next) {
                if (f[h].state.hanging == 0)
                    return b.refuse("it is not bound off: stitches are on the needle");
            }
            Move rip;
            rip.kind = MoveKind::rip;
            rip.count = 1;
            return b.add(std::move(rip), {},
                         "Draw the end of the yarn out of the last loop, and open the chain stitch by "
                         "stitch; each freed stitch goes onto the needle.");
        }
        case CraftRepair::sewGapShut: {
            if (at.round.size() < 2) return b.refuse("two stitches beside the gap are needed at least");
            if (hangsOpen(f)) return b.refuse("a stitch hangs open there: sew it down first");
            Move sew;
            sew.kind = MoveKind::fasten;
            sew.loops = at.round;
            b.leaves(Leaves::visible, 0);
            return b.add(std::move(sew), spots.of(at.round.front()),
                         "On the wrong side lead matching yarn under the heads round the gap, never through "
                         "to the right side, and draw until it just closes.");
        }
        case CraftRepair::weaveEnd: {
            if (!there) return b.refuse("no end hangs there");
            const EntryId next = f[at.loop].next;
            Move weave = moveOn(MoveKind::weave, at.loop);
            weave.atFirst = next && f.loopBefore(at.loop) == LoopId{};
            return b.add(std::move(weave), spot,
                         "Pull the end until its stitch matches those beside it, weave it in along the row's "
                         "own path for six to eight stitches and a few back, stretch the cloth once, and "
                         "trim it.");
        }
        case CraftRepair::catchFloat: {
            if (!at.pass || !f.has(at.pass) || f.isLoop(at.pass)) return b.refuse("no strand goes by there");
            Move fasten;
            fasten.kind = MoveKind::fasten;
            fasten.pass = at.pass;
            return b.add(std::move(fasten), spots.of(f.passed(at.pass)),
                         "On the wrong side lead fine yarn under a head in mid-span and over the strand, "
                         "never through to the right side.");
        }
        default: return b.refuse("it is made by comparing with what was meant");
    }
}

}  // namespace

bool isByPlace(CraftRepair repair) {
    switch (repair) {
        case CraftRepair::secure:
        case CraftRepair::lifeline:
        case CraftRepair::reseat:
        case CraftRepair::closeYarnOver:
        case CraftRepair::easeSnag:
        case CraftRepair::evenTension:
        case CraftRepair::fasten:
        case CraftRepair::openBindOff:
        case CraftRepair::sewGapShut:
        case CraftRepair::weaveEnd:
        case CraftRepair::catchFloat:
        case CraftRepair::wash: return true;
        default: return false;
    }
}

tl::expected<Plan, std::string> craftPlan(CraftRepair repair, Knitter& knitter, const CraftPlace& at,
                                          const Pace& pace) {
    const PlanFamily family = repair == CraftRepair::wash            ? PlanFamily::wash
                              : repair == CraftRepair::closeYarnOver ? PlanFamily::fudge
                              : repair == CraftRepair::openBindOff   ? PlanFamily::rip
                              : repair == CraftRepair::easeSnag || repair == CraftRepair::evenTension
                                  ? PlanFamily::ease
                                  : PlanFamily::fasten;
    const StitchPlaces spots(knitter.fabric());
    const Knitter::State state = knitter.mark();
    const std::vector<YarnId> atHand = knitter.yarnsAtHand();
    PlanBuilder builder(knitter, family, pace);
    const bool made = repair == CraftRepair::wash ? wash(builder, pace, 0) : make(repair, at, spots, builder);
    knitter.rollBack(state);
    knitter.layOut(atHand);
    Plan plan = builder.take();
    if (!made) return tl::make_unexpected(std::move(plan.reason));
    return plan;
}

bool planWash(const Situation& s, PlanBuilder& b) {
    const Fabric& f = b.fabric();
    const Uneven uneven = unevenIn(s.meant, f, s.pairing);
    if (uneven.loops.empty()) return b.refuse("no stitch is much larger or smaller than it should be");
    if (!uneven.floats.empty() || !uneven.strands.empty())
        return b.refuse("strands as long or as short as these stay so in water");
    double lackMm = 0;
    for (const LoopId a : uneven.loops) {
        const std::int32_t meant = s.meant[s.pairing.meant(a)].um;
        if (std::abs(f[a].um - meant) * 2 > meant)
            return b.refuse("a stitch so far off its size does not find it in water");
        lackMm += std::max(0, meant - f[a].um) / 1000.0;
    }
    // Yarn moves along its row only.
    const std::vector<std::int64_t> meant = yarnByRow(s.meant, s.meantSpots);
    const std::vector<std::int64_t> there = yarnByRow(f, s.actualSpots);
    for (std::size_t r = 0; r < meant.size() && r < there.size(); ++r) {
        if (std::abs(there[r] - meant[r]) * 12 > meant[r])
            return b.refuse("whole rows hold too much yarn, or too little, and water gives and takes none");
    }
    return wash(b, s.ask.pace, lackMm);
}

bool planCloseYarnOver(const Situation& s, PlanBuilder& b) {
    if (s.pairing.extra.size() != 1 || !s.pairing.missing.empty() || !s.pairing.changed.empty()) return false;
    const LoopId over = s.pairing.extra.front();
    if (!closeIt(b, over, s.actualSpots.of(over))) return false;
    return planFudge(s, b);
}

}  // namespace loopmend
