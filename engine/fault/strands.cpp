// SPDX-License-Identifier: MIT
// Strands added, missing or caught.
#include <algorithm>
#include <vector>

#include "fault/families.h"
#include "fault/needle.h"
#include "fault/steps.h"
#include "pattern/working.h"

namespace loopmend {

namespace {

bool isYarnOverHere(const Spot& spot) {
    return isYarnOver(spot.here());
}

/// Of several wraps one is missed.
Result<int> leaveOut(Knitter& k, const Spot& spot) {
    return k.whole([&]() -> Result<int> {
        for (int i = 1; i < spot.here().count; ++i) {
            const Result<LoopId> wrap = k.yarnOver(spot.here().op == Op::yarnOverReverse);
            if (!wrap) return did(wrap);
        }
        return 1;
    });
}

bool beforeAStitch(const Spot& spot) {
    return nextLoop(spot.knitter) && uses(spot.here()) > 0 && !isBindOff(spot.here());
}

/// Before a purl the yarn left behind comes over from back to front.
Result<int> yarnOverTooMany(Knitter& k, const Spot& spot) {
    return did(k.yarnOver(isPurl(spot.here())), 0);
}

/// Before the first stitch of a flat row lies the yarn in her hand, no strand between two stitches.
bool afterAStitch(const Spot& spot) {
    if (!beforeAStitch(spot) || (spot.step == 0 && !spot.knitter.inTheRound())) return false;
    // Nor before the first stitch of a new ball.
    const Fabric& f = spot.knitter.fabric();
    const LoopId next = nextLoop(spot.knitter);
    return f.run(next) != spot.knitter.run() || f.loopBefore(next);
}

Result<int> workTheBar(Knitter& k, const Spot& spot) {
    return k.whole([&]() -> Result<int> {
        const Result<LoopId> bar = k.liftBar(false);
        if (!bar) return did(bar);
        return did(k.work(1, isPurl(spot.here()), Leg::leading), 0);
    });
}

bool canGoBelow(const Spot& spot) {
    const LoopId next = nextLoop(spot.knitter);
    if (!next || !isPlain(spot.here())) return false;
    const Fabric& f = spot.knitter.fabric();
    if (f.linkCount(next) != 1) return false;
    const LoopId below = f[f[next].firstLink].host;
    return f.kidCount(below) == 1 && f[below].flags.anchored == 0;
}

Result<int> goBelow(Knitter& k, const Spot& spot) {
    return did(k.workBelow(isPurl(spot.here())));
}

bool isPlainStitch(const Spot& spot) {
    const LoopId next = nextLoop(spot.knitter);
    return next && isPlain(spot.here()) && !restsOnNothing(spot.knitter.fabric(), next);
}

/// The float lies where the name says as the right side shows it.
template <Side side>
Result<int> slipIt(Knitter& k, const Spot&) {
    return did(k.slip(SlipWay::purlwise, k.facing() == side));
}

bool isPlainYarnOver(const Spot& spot) {
    const LoopId next = nextLoop(spot.knitter);
    return next && isPlain(spot.here()) && restsOnNothing(spot.knitter.fabric(), next);
}

Result<int> closeIt(Knitter& k, const Spot& spot) {
    const Leg leg = sitsTurned(k, nextLoop(k)) ? Leg::front : Leg::back;
    return did(k.work(1, isPurl(spot.here()), leg));
}

/// The further turn lies on the needle like a stitch.
Result<int> wrapTwice(Knitter& k, const Spot& spot) {
    return did(k.wrapped(2, isPurl(spot.here())));
}

/// Marks the plies at which loops met their host.
Result<void> parted(Knitter& k, LoopId loop, Plies plies) {
    Fabric& f = k.fabric();
    const LinkForm form = f[f[loop].lastLink].form;
    std::int32_t slot = 0;
    const LinkId link = f[loop].lastLink;
    const LoopId host = f[link].host;
    for (LinkId l = f[host].firstKid; l && l != link; l = f[l].nextInHost) ++slot;
    const Result<LoopId> out = f.unpull(loop);
    if (!out) return tl::unexpected<Refusal>(out.error());
    LinkForm split = form;
    split.plies = plies;
    const Result<LinkId> in = f.pull(loop, host, split, slot);
    if (!in) return tl::unexpected<Refusal>(in.error());
    return {};
}

/// The tip went between the plies of the stitch.
Result<int> throughThePlies(Knitter& k, const Spot& spot) {
    return k.whole([&]() -> Result<int> {
        const Result<LoopId> worked = k.work(1, isPurl(spot.here()), Leg::leading);
        if (!worked) return did(worked);
        return did(parted(k, *worked, Plies::pierced));
    });
}

/// Both halves of a stitch whose plies lie apart are worked.
Result<int> eachHalf(Knitter& k, const Spot& spot) {
    return k.whole([&]() -> Result<int> {
        std::vector<LoopId> stitch;
        nextLoops(k, 1, stitch);
        const Knitter::Into way = isPurl(spot.here()) ? Knitter::Into::purl : Knitter::Into::knit;
        const EntryId firstNew{k.fabric().entryCount()};
        const Result<LoopId> worked = k.workInto({way, way});
        if (!worked) return did(worked);
        std::vector<LoopId> halves;
        lastLoops(k, firstNew, {}, halves);
        for (const LoopId half : halves) {
            const Result<void> apart = parted(k, half, Plies::pierced);
            if (!apart) return did(apart);
        }
        return 1;
    });
}

/// The strand before the stitch lies over the left needle and is worked with it.
Result<int> withTheStrand(Knitter& k, const Spot& spot) {
    return k.whole([&]() -> Result<int> {
        const Result<LoopId> bar = k.liftBar(false);
        if (!bar) return did(bar);
        return did(isPurl(spot.here()) ? k.p2tog() : k.k2tog());
    });
}

bool isPlainAfterAStitch(const Spot& spot) {
    return isPlainStitch(spot) && afterAStitch(spot);
}

/// A ring that was not slipped is shut in at the foot of the next stitch.
Result<int> ringWorkedIn(Knitter& k, const Spot& spot) {
    return k.whole([&]() -> Result<int> {
        const Result<LoopId> worked = k.work(1, isPurl(spot.here()), Leg::leading);
        if (!worked) return did(worked);
        Fabric& f = k.fabric();
        const Result<HeldId> shut = f.hold(*worked, f.addTool(ToolKind::pin), {}, Mount::western);
        return did(shut);
    });
}

// ---- the tail
// --------------------------------------------------------------------------------------------------------

/// What is left of the yarn before the cast-on, to be woven in: about a hand's breadth (craft figure,
/// adjustable).
constexpr std::int64_t kTailUm = 100'000;

bool isOfTheRowsYarn(const Step& step, const Step& first) {
    return step.yarn == first.yarn && !step.link &&
           (isPlain(step) || isDecrease(step) || isYarnOver(step) || isMakeOne(step));
}

YarnId rowsYarn(const Spot& spot) {
    const std::vector<YarnId>& atHand = spot.knitter.yarnsAtHand();
    const std::size_t number = spot.here().yarn;
    return number < atHand.size() ? atHand[number] : spot.knitter.yarn();
}

std::int64_t yarnIn(const Fabric& f, YarnId yarn) {
    std::int64_t um = 0;
    for (EntryId e = f[yarn].first; e; e = f[e].next) um += f.isLoop(e) ? f[e].um + f[e].strandUm : 0;
    return um;
}

/// Where the row begins the tail hangs too: the yarn's first loop is that through which the stitch beside the
/// working yarn goes, or (a round of loops cast on) the one that is worked next. Of a narrower piece the tail
/// would reach along the row.
bool tailHangsHere(const Spot& spot) {
    const LoopId next = nextLoop(spot.knitter);
    // A strand over the needle does not hold an end.
    if (spot.step != 0 || !next || isYarnOver(spot.here()) || !isOfTheRowsYarn(spot.here(), spot.here()))
        return false;
    const Fabric& f = spot.knitter.fabric();
    const YarnId yarn = rowsYarn(spot);
    const LoopId first = f[yarn].first;
    const LoopId last = f[yarn].last;
    if (!first || !f.isLoop(first) || f[first].flags.anchored == 0 || !last || !f.isLoop(last)) return false;
    const LinkId link = f[last].firstLink;
    if (next != first && (!link || f[link].host != first)) return false;
    const std::int64_t stitch = f[yarn].loopUm + f[yarn].strandUm;
    return spot.knitter.aheadCount() * stitch > kTailUm;
}

/// The tail is as good as a yarn of its own that ends in the air: it is worked with until it does not reach
/// round one more stitch. Then the working yarn, which hangs where the row began, comes across.
Result<int> withTheTail(Knitter& k, const Spot& spot) {
    return k.whole([&]() -> Result<int> {
        Fabric& f = k.fabric();
        const YarnId working = rowsYarn(spot);
        const EntryId before = f[working].last;
        const Side floats = k.floats();
        const std::vector<YarnId> atHand = k.yarnsAtHand();
        const Yarn same = f[working];
        const YarnId tail = f.addYarn(same.flags.colour, same.loopUm, same.strandUm);
        f.setBall(tail, true);
        k.layOut({});
        k.takeYarn(tail, floats);
        RowWork row(k);
        int done = 0;
        Knitter::State reached = k.mark();  // up to where a stitch holds the end
        for (auto i = static_cast<std::size_t>(spot.step); i < spot.row.steps.size(); ++i) {
            Step step = spot.row.steps[i];
            if (!isOfTheRowsYarn(step, spot.here())) break;
            step.yarn = 0;
            const Result<void> worked = row.work(step);
            if (!worked || yarnIn(f, tail) > kTailUm) break;
            if (isYarnOver(step)) continue;
            done = static_cast<int>(i) - spot.step + 1;
            reached = k.mark();
        }
        k.rollBack(reached);
        if (done == 0) return refuse(Why::tooLittleYarn);
        f.setBall(tail, false);
        k.layOut(atHand);
        k.takeYarn(working, floats);
        // On the side where she held it for the stitch before.
        const Step& last = spot.row.steps[static_cast<std::size_t>(spot.step + done) - 1];
        const Side side = isPurl(last) ? k.facing() : opposite(k.facing());
        EntryId after = before;
        LoopId passed;
        for (EntryId e = f[tail].first; e; e = f[e].next) {
            if (!f.isLoop(e)) continue;
            std::vector<LoopId> hosts = f.hostsRightToLeft(e);
            if (k.run() == Run::rightward) std::reverse(hosts.begin(), hosts.end());
            for (const LoopId host : hosts) {
                if (host == passed) continue;
                const Result<PassId> by = f.lay(working, after, host, side, k.run());
                if (!by) return tl::unexpected<Refusal>(by.error());
                after = *by;
                passed = host;
            }
        }
        return done;
    });
}

constexpr Fault kStrands[] = {
    {.id = "missed_yo",
     .name = "missed yarn over",
     .family = Family::strands,
     .standsOn = isYarnOverHere,
     .work = leaveOut,
     .cause = "The yarn was not brought over the needle before the next stitch.",
     .prevention = "Say the yarn over aloud, and count the stitches of each repeat as you leave it."},
    {.id = "accidental_yo",
     .name = "yarn over that should not be there",
     .family = Family::strands,
     .standsOn = beforeAStitch,
     .work = yarnOverTooMany,
     .cause = "The yarn went over the needle on its way from front to back, or was left on the wrong side.",
     .prevention = "Take the yarn between the tips, never over them, when you change from knit to purl."},
    {.id = "worked_the_bar",
     .name = "strand between two stitches worked as a stitch",
     .family = Family::strands,
     .standsOn = afterAStitch,
     .work = workTheBar,
     .cause = "The tip went under the strand between two stitches and it was worked like one.",
     .prevention = "See two legs before the needle goes in."},
    {.id = "knit_below",
     .name = "needle went into the stitch below",
     .family = Family::strands,
     .standsOn = canGoBelow,
     .work = goBelow,
     .cause = "The needle went into the stitch a row further down, and the top loop fell into it.",
     .prevention = "Aim close under the needle, and rest your eyes when the cloth is loose or dark."},
    {.id = "slip_float_back",
     .name = "stitch slipped, strand behind",
     .family = Family::strands,
     .standsOn = isPlainStitch,
     .work = slipIt<Side::wrong>,
     .cause = "The stitch went over to the right needle without being worked.",
     .prevention = "Watch the new loop come through each stitch before the old one leaves the needle."},
    {.id = "slip_float_front",
     .name = "stitch slipped, strand in front",
     .family = Family::strands,
     .standsOn = isPlainStitch,
     .work = slipIt<Side::right>,
     .cause = "The stitch went over to the right needle without being worked, the yarn before it.",
     .prevention = "Watch the new loop come through each stitch before the old one leaves the needle."},
    {.id = "yo_closed",
     .name = "yarn over closed",
     .family = Family::strands,
     .standsOn = isPlainYarnOver,
     .work = closeIt,
     .cause = "The yarn over was worked through the leg that does not lead, which twists it shut.",
     .prevention = "Look which leg of the strand lies nearer to the tip, and go through that one."},
    {.id = "double_wrap",
     .name = "yarn wrapped twice",
     .family = Family::strands,
     .standsOn = isPlainStitch,
     .work = wrapTwice,
     .cause = "The yarn went twice round the needle for one stitch, and the further turn was worked too.",
     .prevention = "Watch the yarn go round once, and draw the loop through before your hand moves on.",
     .sign = "Two strands come out of one stitch, the second no more than a turn round the needle.",
     .onPurpose = "wrap the yarn twice, and work both turns on the way back"},
    {.id = "split_yarn",
     .name = "needle went through the yarn",
     .family = Family::strands,
     .standsOn = isPlainStitch,
     .work = throughThePlies,
     .cause = "The tip went between the plies of the stitch instead of under all of them.",
     .prevention = "Take a blunter tip for loose yarn, and see the whole strand lie over the needle.",
     .sign = "One leg is thin, and plies stand out beside it.",
     .onPurpose = "put the tip between the plies of the stitch"},
    {.id = "split_in_two",
     .name = "two stitches worked out of one split strand",
     .family = Family::strands,
     .standsOn = isPlainStitch,
     .work = eachHalf,
     .cause = "The plies of a stitch lay apart over the needle, and each half was worked like a stitch.",
     .prevention = "See the whole strand lie over the needle; two thin loops beside each other are one.",
     .sign = "Two thin stitches come out of one foot, each of half the yarn.",
     .onPurpose = "part the plies of the stitch, and work each half"},
    {.id = "caught_strand",
     .name = "strand caught in a stitch",
     .family = Family::strands,
     .standsOn = isPlainAfterAStitch,
     .work = withTheStrand,
     .cause = "A strand lay over the needle and was worked together with the stitch beside it.",
     .prevention = "Keep ends and strands away from the tips, and see one strand in every stitch.",
     .sign = "A second strand lies in the stitch, and it will not draw out.",
     .onPurpose = "lift the strand before the stitch and work both together"},
    {.id = "marker_knitted",
     .name = "marker worked in",
     .family = Family::strands,
     .standsOn = isPlainStitch,
     .work = ringWorkedIn,
     .cause = "The ring was not slipped, and the new loop went through it.",
     .prevention = "Stop at each marker, and let it slide over before the next stitch.",
     .sign = "Pull gently at the ring: it hangs at the foot of a stitch and cannot come off.",
     .onPurpose = "clip a ring round the new loop before you go on",
     .inLessons = false},
    {.id = "tail_used",
     .name = "begun with the tail",
     .family = Family::strands,
     .standsOn = tailHangsHere,
     .work = withTheTail,
     .ownYarn = true,
     .cause = "The end left from the cast-on was taken up in place of the yarn that runs to the ball.",
     .prevention = "Pull at the yarn before the first stitch and see the ball move; wind a long tail up.",
     .sign = "After a few stitches the yarn ends in the air, and another strand lies behind them.",
     .onPurpose = "take up the short end, and work with it as far as it reaches",
     .inLessons = false},
};

}  // namespace

FaultList strandFaults() {
    return listOf(kStrands);
}

}  // namespace loopmend
