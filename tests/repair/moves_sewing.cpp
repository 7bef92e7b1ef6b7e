// SPDX-License-Identifier: MIT
// Scissors, needle and thread: a row snipped, picked out and sewn again; stitches covered, loops fastened,
// ends woven in. The caution before scissors is part of the offer.
#include <catch2/catch.hpp>

#include "fabric/itinerary.h"
#include "moves_hands.h"
#include "pattern/counts.h"
#include "pattern/parse.h"
#include "repair/move_words.h"
#include "repair/plan.h"
#include "scenes.h"

using namespace loopmend;
using namespace loopmend::scenes;

namespace {

using What = PointedAt::What;

std::string knot(const Work& work) {
    return knotOf(work.fabric());
}

const Offer& first(const std::vector<Offer>& offers) {
    REQUIRE_FALSE(offers.empty());
    return offers.front();
}

}  // namespace

TEST_CASE("A row snipped, picked out and sewn again is the row that was there, on every plain ground",
          "[moves][sewing]") {
    for (const Script& script : {stockinette(9, 8), garter(8, 8), rib(9, 8), seed(8, 9)}) {
        for (const bool otherSide : {false, true}) {
            Work work(worked(script));
            const std::string meant = knot(work);
            if (otherSide) doIt(work, "turn");
            const std::string turned = knot(work);
            const std::vector<LoopId> bad = row(work, 4);
            const std::vector<LoopId> lowers = row(work, 3);
            const LoopId below = lowers.front();
            const LoopId above = row(work, 5).front();
            doIt(work, "thread row " + id(below));
            doIt(work, "thread row " + id(above));
            doIt(work, "snip " + id(bad[3]));
            CHECK(knot(work) != turned);
            doIt(work, "pick-out " + id(bad[3]));
            doIt(work, "pick-out " + id(bad[4]));
            for (const LoopId l : bad) CHECK_FALSE(work.fabric().has(l));
            for (const LoopId l : lowers) CHECK(work.fabric().isLive(l));
            doIt(work, "tug");
            const Move sewing = offersAt(work, Notion::bluntNeedle, {What::loop, below}).front().move;
            REQUIRE(sewing.kind == MoveKind::graft);
            INFO(textOf(sewing));
            const auto last = work.perform(sewing);
            REQUIRE(last);
            // Joined again it is the very knot: the threads out, the ends made one.
            CHECK_FALSE(threadOf(work.fabric(), below));  // each stitch came off as it was sewn
            doIt(work, "unthread " + id(above));
            const Fabric& f = work.fabric();
            const YarnId sewn = f[*last].yarn;
            LoopId before;
            LoopId after;
            for (int y = 0; y < f.yarnCount(); ++y) {
                if (YarnId{y} == sewn || !f[YarnId{y}].first) continue;
                if (f[YarnId{y}].flags.ball != 0) {
                    after = f[YarnId{y}].first;
                } else {
                    before = f[YarnId{y}].last;
                }
            }
            CHECK(
                isOffered(work, Notion::bluntNeedle, before, "join " + id(before) + " " + id(f[sewn].first)));
            doIt(work, "join " + id(before) + " " + id(f[sewn].first));
            doIt(work, "join " + id(*last) + " " + id(after));
            CHECK(knot(work) == turned);
            if (!otherSide) CHECK(knot(work) == meant);
            replays(work);
        }
    }
}

TEST_CASE("After a cut below it the knitter works on from her ball", "[moves][sewing]") {
    Work work(worked(stockinette(8, 6)));
    const std::vector<LoopId> bad = row(work, 3);
    doIt(work, "snip " + id(bad[4]));
    if (work.knitter().ahead().empty()) doIt(work, "turn");
    doIt(work, "work k8");
    CHECK(rowsOf(work.fabric()).last == 7);
    // Cut at the last stitch, there is the ball to go on with too: an end hangs where the old one was.
    const LoopId last = work.knitter().behind().back();
    doIt(work, "snip " + id(last));
    doIt(work, "weave " + id(last));
    doIt(work, "turn");
    doIt(work, "work p8");
    CHECK(rowsOf(work.fabric()).last == 8);
    CHECK(work.fabric()[work.fabric()[last].yarn].flags.ball == 0);
    replays(work);
}

TEST_CASE("Scissors stay shut until the row above and the row below are threaded",
          "[moves][sewing][pointing]") {
    Work work(worked(stockinette(9, 8)));
    const LoopId bad = row(work, 4)[4];
    const PointedAt at{What::loop, bad};
    const LoopId lower = row(work, 3)[2];
    const LoopId upper = row(work, 5)[2];
    {
        const Offer offer = first(offersAt(work, Notion::scissors, at));
        CHECK_FALSE(offer.possible);
        CHECK(offer.refusal == "Thread the row above and the row below first, every stitch of them.");
        CHECK(offer.caution.find("Two rows threaded first") == 0);
    }
    press(work, Notion::thread, {What::loop, upper});
    CHECK_FALSE(first(offersAt(work, Notion::scissors, at)).possible);
    press(work, Notion::thread, {What::loop, lower});
    CHECK(first(offersAt(work, Notion::scissors, at)).possible);
    press(work, Notion::scissors, at);
    // Once is enough.
    const Offer again = first(offersAt(work, Notion::scissors, {What::loop, row(work, 4)[2]}));
    CHECK_FALSE(again.possible);
    CHECK(again.refusal.find("cut already") != std::string::npos);
    // From the cut outward, both ways, with the blunt needle, and the row is sewn.
    const std::vector<LoopId> cutRow = row(work, 4);
    CHECK(isOffered(work, Notion::bluntNeedle, cutRow[4], "pick-out " + id(cutRow[4])));
    CHECK(isOffered(work, Notion::bluntNeedle, cutRow[5], "pick-out " + id(cutRow[5]) + " 1"));
    press(work, Notion::bluntNeedle, {What::loop, cutRow[4]});
    press(work, Notion::bluntNeedle, {What::loop, cutRow[5]});
    CHECK(first(offersAt(work, Notion::bluntNeedle, {What::loop, lower})).words ==
          "Sew nine stitches with needle and yarn, as the row that was there: through the open stitches "
          "below and "
          "under those above.");
    press(work, Notion::bluntNeedle, {What::loop, lower});
    CHECK_FALSE(threadOf(work.fabric(), lower));
    press(work, Notion::thread, {What::loop, upper});
    CHECK_FALSE(threadOf(work.fabric(), upper));
    replays(work);
}

TEST_CASE("A snag is never cut, and a strand of a ladder is the yarn of a stitch",
          "[moves][sewing][pointing]") {
    Work work(worked(stockinette(9, 8)));
    const std::vector<LoopId> loops = row(work, 4);
    press(work, Notion::thread, {What::loop, row(work, 3)[2]});
    press(work, Notion::thread, {What::loop, row(work, 5)[2]});
    for (const int beside : {2, 3, 5, 6})
        doIt(work,
             "draw-slack " + id(loops[static_cast<std::size_t>(beside)]) + " " + id(loops[4]) + " 2500");
    const Offer snag = first(offersAt(work, Notion::scissors, {What::loop, loops[4]}));
    CHECK_FALSE(snag.possible);
    CHECK(snag.refusal == "This is a snag: ease it back with the blunt needle, never cut it.");
    CHECK(isOffered(work, Notion::bluntNeedle, loops[4], "draw-slack " + id(loops[4])));
    const LoopId top = onNeedle(work.fabric(), 4);
    doIt(work, "drop " + id(top));
    const LoopId host = work.fabric().hostsRightToLeft(top).front();
    doIt(work, "let-run " + id(top) + " 1");
    const PassId rung = work.fabric().passesOf(host).front();
    const Offer strand = first(offersAt(work, Notion::scissors, {What::rung, rung}));
    CHECK_FALSE(strand.possible);
    CHECK(strand.refusal.find("never cut it") != std::string::npos);
    // The working yarn may be cut at any time.
    CHECK(first(offersAt(work, Notion::scissors, {What::tips, {}})).possible);
}

TEST_CASE("Cut without threads the row below is open, and runs when tugged", "[moves][sewing][wrong]") {
    Work work(worked(stockinette(8, 8)));
    const std::vector<LoopId> bad = row(work, 4);
    const std::vector<LoopId> below = row(work, 3);
    doIt(work, "snip " + id(bad[3]));
    doIt(work, "pick-out " + id(bad[3]));
    CHECK(work.fabric().isLoose(below[5]));
    doIt(work, "tug");
    CHECK_FALSE(work.fabric().has(below[5]));
    replays(work);
    CHECK(refusedFor(work, "pick-out " + id(bad[6])) == Why::noEnd);
}

TEST_CASE("A stitch is sewn over in another color along its own path", "[moves][sewing]") {
    Work work(worked(stockinette(9, 7)));
    const std::string before = knot(work);
    const LoopId stitch = row(work, 4)[4];
    const LoopId copy = doIt(work, "sew-over " + id(stitch) + " B");
    const Fabric& f = work.fabric();
    CHECK(f[f[copy].yarn].flags.colour == 'B');
    CHECK(f.hostsRightToLeft(copy) == f.hostsRightToLeft(stitch));
    CHECK(f[f[copy].firstKid].loop == f[f[stitch].firstKid].loop);
    CHECK(knot(work) != before);
    const LoopId top = onNeedle(f, 4);
    CHECK(refusedFor(work, "sew-over " + id(top) + " B") == Why::nothingAbove);
    CHECK(refusedFor(work, "sew-over " + id(LoopId{0}) + " B") == Why::noLinks);
    CHECK(isOffered(work, Notion::bluntNeedle, row(work, 3)[4], "sew-over " + id(row(work, 3)[4]) + " B"));
    replays(work);
}

TEST_CASE("An open stitch that is fastened does not run", "[moves][sewing]") {
    Work work(worked(stockinette(9, 7)));
    const LoopId top = onNeedle(work.fabric(), 5);
    doIt(work, "drop " + id(top));
    const LoopId host = work.fabric().hostsRightToLeft(top).front();
    doIt(work, "let-run " + id(top) + " 1");
    CHECK(isOffered(work, Notion::bluntNeedle, host, "fasten " + id(host)));
    doIt(work, "pin " + id(host));
    const LoopId bit = doIt(work, "fasten " + id(host));
    CHECK_FALSE(work.fabric().isHeld(host));
    const std::string before = knot(work);
    doIt(work, "tug");
    CHECK(knot(work) == before);
    CHECK(work.fabric().hostsRightToLeft(bit).front() == host);
    CHECK(refusedFor(work, "fasten " + id(host)) == Why::notLive);
    replays(work);
}

TEST_CASE("A long float is caught down in the middle", "[moves][sewing]") {
    const Pattern pattern = parse(
        "Yarns: A, B.\nRows 1, 3, 7, 9, 11 (RS): with A, knit.\nRows 2, 4, 6, 8, 10, 12: with A, purl.\n"
        "Row 5: with A k2, with B k1, with A k6, with B k1, with A k2.\n");
    Work work(worked(*expand(pattern, 12, 8)));
    const Fabric& f = work.fabric();
    std::vector<PassId> floats;
    for (int i = 0; i < f.entryCount(); ++i) {
        const PassId p{i};
        if (f.has(p) && !f.isLoop(p) && !f.isFree(p) && f[f[p].yarn].flags.colour == 'B') floats.push_back(p);
    }
    REQUIRE(floats.size() >= 5);
    const LoopId before = f.loopBefore(floats[0]);
    const auto offers = offersAt(work, Notion::bluntNeedle, {What::strand, before});
    const auto caught = std::find_if(offers.begin(), offers.end(),
                                     [](const Offer& o) { return o.move.kind == MoveKind::fasten; });
    REQUIRE(caught != offers.end());
    CHECK(caught->possible);
    const std::int64_t yarn = f.totalUm();
    const LoopId bit = *work.perform(caught->move);
    const LoopId bight = f.hostsRightToLeft(bit).front();
    CHECK(f[f[bight].yarn].flags.colour == 'B');
    CHECK_FALSE(f[bight].firstLink);
    CHECK(f.totalUm() > yarn);  // by the bit of sewing yarn
    replays(work);
}

TEST_CASE("An end is woven in once", "[moves][sewing]") {
    Work work(worked(stockinette(8, 6)));
    const std::vector<LoopId> bad = row(work, 3);
    doIt(work, "snip " + id(bad[4]));
    CHECK(refusedFor(work, "weave " + id(bad[2])) == Why::noEnd);
    const std::string before = knot(work);
    doIt(work, "weave " + id(bad[4]));
    doIt(work, "weave " + id(bad[5]) + " first");
    CHECK(knot(work) == before);
    CHECK(refusedFor(work, "weave " + id(bad[4])) == Why::noEnd);
    CHECK(refusedFor(work, "weave " + id(work.knitter().ahead().empty() ? work.knitter().behind().back()
                                                                        : row(work, 6).back())) ==
          Why::noEnd);
    replays(work);
}

TEST_CASE("Edges that do not match are not sewn", "[moves][sewing]") {
    Work work(worked(stockinette(8, 8)));
    const std::vector<LoopId> below = row(work, 3);
    const std::vector<LoopId> above = row(work, 5);
    const LoopId cut = row(work, 4)[3];
    const LoopId beside = row(work, 4)[4];
    doIt(work, "thread row " + id(below[0]));
    doIt(work, "thread row " + id(above[0]));
    doIt(work, "snip " + id(cut));
    doIt(work, "pick-out " + id(cut));
    doIt(work, "pick-out " + id(beside));
    CHECK(refusedFor(work, "graft " + ids({below[0], below[1]}) + " to " + id(above[0])) == Why::edgesDiffer);
    CHECK(refusedFor(work, "graft " + id(row(work, 2)[0]) + " to " + id(above[0])) == Why::notLive);
}
