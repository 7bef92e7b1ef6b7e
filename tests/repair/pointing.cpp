// SPDX-License-Identifier: MIT
// What a tool would do where it points: the likely thing first, and never a thing that is not so.
#include <catch2/catch.hpp>

#include <rapidcheck.h>
#include <rapidcheck/catch.h>

#include <algorithm>
#include <set>

#include "fabric/hands.h"
#include "fabric/itinerary.h"
#include "fabric/rows.h"
#include "fault/grounds.h"
#include "moves_hands.h"
#include "repair/pointing.h"
#include "scenes.h"

using namespace loopmend;
using namespace loopmend::scenes;

namespace {

using What = PointedAt::What;

std::vector<Offer> at(Work& work, Notion notion, LoopId loop) {
    return offersAt(work, notion, {What::loop, loop});
}

std::vector<std::string> texts(const std::vector<Offer>& offers) {
    std::vector<std::string> lines;
    for (const Offer& o : offers) lines.push_back(textOf(o.move));
    return lines;
}

bool has(const std::vector<Offer>& offers, const std::string& line) {
    const std::vector<std::string> all = texts(offers);
    return std::find(all.begin(), all.end(), line) != all.end();
}

LoopId under(const Work& work, LoopId loop) {
    return work.fabric().hostsRightToLeft(loop).front();
}

/// Drops the stitch at a column and lets it run; the open loop at the foot.
LoopId ladder(Work& work, int column, int rows) {
    LoopId loop = onNeedle(work.fabric(), column);
    press(work, Notion::fingers, {What::loop, loop});
    for (int i = 0; i < rows; ++i) {
        const LoopId below = under(work, loop);
        press(work, Notion::fingers, {What::loop, loop});
        loop = below;
    }
    return loop;
}

/// Space and Space again with the hook, until the stitch is on the needle.
int hookToTheTop(Work& work, LoopId open) {
    int presses = 0;
    for (; !work.fabric().isHeld(open) || pinOf(work.fabric(), open); ++presses) {
        REQUIRE(presses < 50);
        const LoopId made = press(work, Notion::hook, {What::loop, open});
        if (made) open = made;
    }
    return presses;
}

}  // namespace

TEST_CASE("A ladder in a common ground: the hook's first offer puts it right, from either side",
          "[pointing]") {
    const std::vector<Script> grounds = {stockinette(9, 8), garter(9, 8), rib(9, 8), seed(9, 8),
                                         stockinette(9, 7), garter(9, 7), rib(9, 7), seed(9, 7)};
    for (std::size_t ground = 0; ground < grounds.size(); ++ground) {
        for (const int column : {1, 4, 5, 9}) {
            for (const bool turned : {false, true}) {
                INFO("ground " << ground << " column " << column << (turned ? " turned" : ""));
                Work work(worked(grounds[ground]));
                if (turned) {
                    Move turn;
                    REQUIRE(work.perform(turn));
                }
                const LoopId open = ladder(work, column, 3);
                CHECK(knotOf(work.fabric()) != work.start().lines.knot);
                CHECK(hookToTheTop(work, open) == 4);
                CHECK(knotOf(work.fabric()) == work.start().lines.knot);
            }
        }
    }
}

TEST_CASE("Words say how it is from the side that she sees", "[pointing]") {
    Work work(worked(stockinette(9, 8)));
    const LoopId open = ladder(work, 5, 2);
    const PointedAt where{What::loop, open};
    const auto front = offersAt(work, Notion::hook, where);
    CHECK(textOf(front[0].move) == "hook-k rung 1 loop " + id(open));
    CHECK(front[0].words == "Draw the lowest rung toward you through this stitch: a knit on this side.");
    CHECK(front[1].words == "Draw the lowest rung away from you through this stitch: a purl on this side.");
    CHECK(has(front, "hook-k rung 1 loop " + id(open) + " twist -1"));
    const auto back = offersAt(work, Notion::hook, where, Terms::us, Side::wrong);
    CHECK(textOf(back[0].move) == "hook-k rung 1 loop " + id(open));
    CHECK(back[0].words == "Draw the lowest rung away from you through this stitch: a purl on this side.");

    // The second rung leaves the first bare.
    const PassId second = rungs(work.fabric(), open)[1];
    const auto skipping = offersAt(work, Notion::hook, {What::rung, second});
    CHECK(textOf(skipping[0].move) == "hook-k rung 2 loop " + id(open));
    CHECK(skipping[0].words.find("leaving those under it bare") != std::string::npos);

    // Working on from the other side is refused; the cloth has to be turned back.
    const auto tips = offersAt(work, Notion::needle, {What::tips, {}}, Terms::us, Side::wrong);
    REQUIRE_FALSE(tips.empty());
    CHECK_FALSE(tips.front().possible);
    CHECK(tips.front().refusal.find("other side") != std::string::npos);
}

TEST_CASE("A left-handed knitter's leading leg is her left one", "[pointing]") {
    Setup setup;
    setup.mirrored = true;
    auto knitting = knit(stockinette(6, 4), setup);
    REQUIRE(knitting);
    Work work(std::move(*knitting));
    const LoopId stitch = onNeedle(work.fabric(), 3);
    press(work, Notion::fingers, {What::loop, stitch});
    const auto offers = at(work, Notion::needle, stitch);
    CHECK(offers.front().words == "Put this stitch on the needle, left leg in front.");
    REQUIRE(work.perform(offers.front().move));
    CHECK(itinerary(work.fabric()).measure == work.start().lines.measure);
}

TEST_CASE("Fingers, pins and needle say what they can do, and why not", "[pointing]") {
    Work work(worked(stockinette(7, 6)));
    const LoopId stitch = onNeedle(work.fabric(), 4);
    const LoopId below = under(work, stitch);
    const LoopId deep = under(work, below);

    // A stitch that stands: what holds it is said; its column can be let down from the top.
    const auto standing = at(work, Notion::fingers, deep);
    CHECK_FALSE(standing.front().possible);
    CHECK(standing.front().refusal ==
          "Another stitch stands in this one and holds it: only an open stitch can run.");
    CHECK(has(standing, "drop " + id(stitch)));
    CHECK(has(standing, "rip 2"));
    const auto hooked = at(work, Notion::hook, deep);
    CHECK_FALSE(hooked.front().possible);
    CHECK(hooked.front().refusal ==
          "Another stitch stands in this one already: the hook needs an open stitch.");

    // Off the needle: it could run, be pinned, be put back.
    press(work, Notion::fingers, {What::loop, stitch});
    CHECK(texts(at(work, Notion::fingers, stitch)) ==
          std::vector<std::string>{"let-run " + id(stitch) + " 1", "let-run " + id(stitch)});
    CHECK(texts(at(work, Notion::pin, stitch)) == std::vector<std::string>{"pin " + id(stitch)});
    CHECK(texts(at(work, Notion::needle, stitch)) ==
          std::vector<std::string>{"seat " + id(stitch), "seat " + id(stitch) + " left-leg"});
    CHECK(textOf(at(work, Notion::hook, stitch).front().move) == "seat " + id(stitch));

    // The pin holds it.
    press(work, Notion::pin, {What::loop, stitch});
    const auto pinned = at(work, Notion::fingers, stitch);
    CHECK(textOf(pinned[0].move) == "unpin " + id(stitch));
    CHECK_FALSE(pinned[1].possible);
    CHECK(pinned[1].refusal == "The pin holds this stitch: take it out first.");
    const auto none = at(work, Notion::hook, stitch);
    CHECK_FALSE(none[0].possible);
    CHECK(none[0].refusal == "There is no rung above this stitch.");
    CHECK(none[1].possible);

    // Out again, down to the pinned loop and no further.
    press(work, Notion::pin, {What::loop, stitch});
    press(work, Notion::pin, {What::loop, deep});
    const auto run = at(work, Notion::fingers, stitch);
    REQUIRE(textOf(run[1].move) == "let-run " + id(stitch));
    REQUIRE(work.perform(run[1].move));
    CHECK(rungs(work.fabric(), deep).size() == 2);
}

TEST_CASE("The needle at the cast-on edge begins anew, with as many stitches or one more or fewer",
          "[pointing]") {
    for (const bool round : {false, true}) {
        CAPTURE(round);
        Work work(worked(stockGround(StockGround::stockinette, 12, 4, round)));
        const std::string before = knotOf(work.fabric());
        const LoopId edge = loopsByRow(work.fabric(), rowsOf(work.fabric())).front().at(3);
        const std::vector<Offer> offers = at(work, Notion::needle, edge);
        REQUIRE(has(offers, "cast-on 12"));
        CHECK(has(offers, "cast-on 13"));
        CHECK(has(offers, "cast-on 11"));
        CHECK(texts(offers).front().rfind("cast-on", 0) != 0);  // never the first: all would be gone
        const auto anew = std::find_if(offers.begin(), offers.end(),
                                       [](const Offer& o) { return textOf(o.move) == "cast-on 12"; });
        REQUIRE(work.perform(anew->move));
        CHECK(knotOf(work.fabric()) ==
              knotOf(*worked(stockGround(StockGround::stockinette, 12, 0, round)).fabric));
        work.undo();
        CHECK(knotOf(work.fabric()) == before);
        // Nowhere else.
        CHECK_FALSE(has(at(work, Notion::needle, loopsByRow(work.fabric(), rowsOf(work.fabric()))[2].at(3)),
                        "cast-on 12"));
    }
}

TEST_CASE("The sewing needle at a bar draws the stitches round a gap together", "[pointing]") {
    Work work(worked(stockGround(StockGround::stockinette, 10, 6)));
    const LoopId loop = loopsByRow(work.fabric(), rowsOf(work.fabric()))[3].at(4);
    const std::vector<Offer> offers = offersAt(work, Notion::bluntNeedle, {What::strand, loop});
    const auto sew = std::find_if(offers.begin(), offers.end(), [](const Offer& o) {
        return o.move.kind == MoveKind::fasten && o.move.loops.size() == 4;
    });
    REQUIRE(sew != offers.end());
    CHECK(sew->possible);
    CHECK(sew->words.find("until it just closes") != std::string::npos);
    REQUIRE(work.perform(sew->move));
    CHECK(work.fabric().yarnCount() == 2);
}

TEST_CASE("The tips knit on, take back, turn", "[pointing]") {
    Work work(worked(rib(6, 5)));
    const PointedAt tips{What::tips, {}};
    // After an odd row the wrong side faces her; the first stitch there is column 6, a purl seen from here
    // as a knit.
    const auto first = offersAt(work, Notion::needle, tips);
    CHECK(textOf(first[0].move) == "work k1");
    CHECK(first[0].words == "Knit the next stitch.");
    CHECK(has(first, "work p1"));
    CHECK(has(first, "work k1, p1, k1, p1, k1, p1"));
    CHECK(has(first, "tink 1"));
    press(work, Notion::needle, tips);
    CHECK(textOf(offersAt(work, Notion::needle, tips)[0].move) == "work p1");
    // A stitch farther on: work up to it. One on the right needle: back to it.
    const auto third = at(work, Notion::needle, work.knitter().ahead()[2]);
    CHECK(textOf(third[0].move) == "work p1, k1");
    CHECK(third[0].words == "Work the next two stitches: p1, k1.");
    const auto back = at(work, Notion::needle, work.knitter().behind().back());
    CHECK(textOf(back[0].move) == "tink 1");
    CHECK(back[0].words == "Take back the last stitch.");
    press(work, Notion::needle, {What::loop, work.knitter().behind().back()});
    CHECK(itinerary(work.fabric()).knot == work.start().lines.knot);

    for (int row = 0; row < 2; ++row) {
        const auto all = offersAt(work, Notion::needle, tips);
        const auto whole =
            std::find_if(all.begin(), all.end(), [](const Offer& o) { return o.move.steps.size() == 6; });
        REQUIRE(whole != all.end());
        CHECK(whole->words == "Work to the end of the row: k1, p1, k1, p1, k1, p1.");
        REQUIRE(work.perform(whole->move));
        CHECK(textOf(offersAt(work, Notion::needle, tips)[0].move) == "turn");
        press(work, Notion::needle, tips);
    }
    CHECK(knotOf(work.fabric()) == knotOf(*worked(rib(6, 7)).fabric));
}

TEST_CASE("A stitch that sits the wrong way round is turned first", "[pointing]") {
    Work work(worked(stockinette(6, 4)));
    const LoopId stitch = work.knitter().ahead().front();
    const auto before = at(work, Notion::needle, stitch);
    CHECK(before.front().move.kind == MoveKind::work);
    CHECK(textOf(before.back().move) == "remount " + id(stitch) + " left-leg");
    REQUIRE(work.perform(before.back().move));
    CHECK(textOf(at(work, Notion::needle, stitch).front().move) == "remount " + id(stitch) + " right-leg");
    CHECK(at(work, Notion::needle, stitch).front().words ==
          "Turn this stitch on the needle, so that its right leg lies in front.");
}

TEST_CASE("A decrease that ran: its two stitches are taken together first", "[pointing]") {
    Work work(worked(lace(8, 8)));
    // Column 2 of lace is the k2tog of row 7 under the purl of row 8.
    LoopId top;
    for (int column = 1; column <= 8 && !top; ++column) {
        const LoopId l = onNeedle(work.fabric(), column);
        if (work.fabric().linkCount(under(work, l)) == 2) top = l;
    }
    REQUIRE(top);
    press(work, Notion::fingers, {What::loop, top});
    const LoopId decrease = under(work, top);
    press(work, Notion::fingers, {What::loop, top});
    const LoopId foot = under(work, decrease);
    press(work, Notion::fingers, {What::loop, decrease});
    const auto offers = at(work, Notion::hook, foot);
    REQUIRE(offers.size() >= 6);
    CHECK(offers[0].move.loops.size() == 2);
    CHECK(offers[0].words ==
          "Draw the lowest rung toward you through two stitches together, the left one in front: a knit on "
          "this side.");
    CHECK(offers[1].words ==
          "Draw the lowest rung toward you through two stitches together, the right one in front: a knit on "
          "this side.");
    for (const Offer& o : offers) CHECK(o.possible);
    const LoopId again = press(work, Notion::hook, {What::loop, foot});
    CHECK(hookToTheTop(work, again) == 2);
    CHECK(knotOf(work.fabric()) == work.start().lines.knot);
}

TEST_CASE("A yarn-over left out three rows ago is lifted, pinned, hooked up and seated", "[pointing]") {
    Script meant = lace(12, 8);
    Script actual = meant;
    // Row 5 without its second yarn-over; the purls and the rows above have a stitch less there.
    auto& row5 = actual.rows[4].steps;
    const auto yo =
        std::find_if(row5.begin() + 4, row5.end(), [](const Step& s) { return s.op == Op::yarnOver; });
    REQUIRE(yo != row5.end());
    row5.erase(yo);
    actual.rows.resize(6);
    meant.rows.resize(6);
    actual.rows[5].steps.pop_back();
    Work work(worked(actual));
    const std::string meantKnot = knotOf(*worked(meant).fabric);

    // The strand after the second k2tog of row 5.
    LoopId before;
    int seen = 0;
    for (std::int32_t i = 0; i < work.fabric().entryCount(); ++i) {
        const LoopId l{i};
        const Rows rows = rowsOf(work.fabric());
        if (work.fabric().isLoop(l) && rows[l] == 5 && work.fabric().linkCount(l) == 2 && ++seen == 2)
            before = l;
    }
    REQUIRE(before);
    const auto strand = offersAt(work, Notion::hook, {What::strand, before});
    CHECK(textOf(strand.front().move) == "lift-bar " + id(before) + " pin");
    LoopId bar = press(work, Notion::hook, {What::strand, before});
    CHECK(work.fabric().isHeld(bar));
    const auto up = at(work, Notion::hook, bar);
    CHECK(up.front().move.kind == MoveKind::hook);
    CHECK(up.front().move.rung == 0);
    const auto places = stops(work, Notion::hook);
    CHECK(std::find(places.begin(), places.end(), PointedAt{What::strand, up.front().move.strand}) !=
          places.end());
    // A yarn-over has nothing below it to go by: she says which.
    const auto purl = std::find_if(up.begin(), up.end(), [&](const Offer& o) {
        return o.move.knit == (work.knitter().facing() == Side::right);
    });
    REQUIRE(purl != up.end());
    const auto made = work.perform(purl->move);
    REQUIRE(made);
    press(work, Notion::needle, {What::loop, *made});
    CHECK(knotOf(work.fabric()) == meantKnot);
}

TEST_CASE("A strand lifted onto the needle waits to be worked there", "[pointing]") {
    for (const int rows : {4, 5}) {
        Work work(worked(stockinette(6, rows)));
        const auto places = stops(work, Notion::needle);
        const auto strand = std::find_if(places.begin(), places.end(),
                                         [](const PointedAt& p) { return p.what == What::strand; });
        REQUIRE(strand != places.end());
        CHECK(textOf(offersAt(work, Notion::needle, *strand).front().move) ==
              "lift-bar " + id(strand->entry) + " seat");
        press(work, Notion::needle, *strand);
        CHECK(work.knitter().ahead().size() == 7);
        CHECK(work.fabric().isHeld(work.made().back()));
        // Between two tips it comes to lie on the left one.
        while (work.undo()) {
        }
        press(work, Notion::needle, {What::tips, {}});
        press(work, Notion::needle, {What::tips, {}});
    }
}

TEST_CASE("Stops go from right to left as she sees it and up each column", "[pointing]") {
    Work work(worked(stockinette(7, 6)));
    const LoopId open = ladder(work, 3, 3);
    const auto right = stops(work, Notion::hook);
    const auto foot = std::find(right.begin(), right.end(), PointedAt{What::loop, open});
    REQUIRE(foot != right.end());
    const std::vector<PassId> strands = rungs(work.fabric(), open);
    REQUIRE(strands.size() == 3);
    for (std::size_t i = 0; i < 3; ++i) {
        CHECK(*(foot + 1 + static_cast<std::ptrdiff_t>(i)) == PointedAt{What::rung, strands[i]});
    }
    // Hooked to its top the stitch waits for the needle: no strand beside it is in the way of the hook.
    Work mended(worked(stockinette(7, 6)));
    LoopId top = ladder(mended, 3, 2);
    for (int i = 0; i < 2; ++i) top = press(mended, Notion::hook, {What::loop, top});
    for (const PointedAt& p : stops(mended, Notion::hook)) {
        if (p.what == What::strand) CHECK(p.entry != top);
    }
    const auto loopsOf = [](const std::vector<PointedAt>& places) {
        std::vector<LoopId> loops;
        for (const PointedAt& p : places) {
            if (p.what == What::loop) loops.push_back(p.entry);
        }
        return loops;
    };
    std::vector<LoopId> seenRight = loopsOf(stops(work, Notion::needle));
    std::vector<LoopId> seenWrong = loopsOf(stops(work, Notion::needle, Side::wrong));
    CHECK(seenRight.size() == 7);
    CHECK(seenRight[2] == open);
    std::reverse(seenWrong.begin(), seenWrong.end());
    CHECK(seenRight == seenWrong);
}

TEST_CASE("Offers change nothing, and what they say is so", "[pointing][random]") {
    rc::prop("random moves by pointing", [] {
        Work work(*rc::gen::arbitrary<bool>() ? worked(lace(12, 6)) : worked(rib(9, 7)));
        const int presses = *rc::gen::inRange(0, 12);
        for (int i = 0; i < presses; ++i) {
            const auto notion = static_cast<Notion>(*rc::gen::inRange(0, static_cast<int>(kNotions)));
            const std::vector<PointedAt> places = stops(work, notion);
            RC_ASSERT(!places.empty() || notion == Notion::hook || notion == Notion::cableNeedle);
            if (places.empty()) continue;
            const PointedAt where = places[*rc::gen::inRange<std::size_t>(0, places.size())];
            const Itinerary was = itinerary(work.fabric());
            const auto seen = *rc::gen::arbitrary<bool>() ? Side::right : Side::wrong;
            const std::vector<Offer> offers = offersAt(work, notion, where, Terms::us, seen);
            const Itinerary is = itinerary(work.fabric());
            RC_ASSERT(was.knot == is.knot);
            RC_ASSERT(was.measure == is.measure);
            const bool sometimes = notion == Notion::cableNeedle || notion == Notion::bluntNeedle;
            RC_ASSERT(!offers.empty() || sometimes);
            if (offers.empty()) continue;
            for (const Offer& o : offers) {
                RC_ASSERT(!o.words.empty());
                RC_ASSERT(o.possible == o.refusal.empty());
                RC_ASSERT(o.words.back() == '.');
                RC_ASSERT(o.words.find("loop") == std::string::npos);
                RC_ASSERT(o.refusal.find("loop") == std::string::npos);
                const auto again = moveFrom(textOf(o.move));
                if (!again) RC_LOG() << textOf(o.move) << ": " << again.error().message;
                RC_ASSERT(again.has_value());
                RC_ASSERT(*again == o.move);
            }
            const Offer& chosen = offers[*rc::gen::inRange<std::size_t>(0, offers.size())];
            const bool otherSide = chosen.refusal.find("other side") != std::string::npos;
            const auto done = work.perform(chosen.move);
            // Scissors could do more than they should.
            const bool barred = notion == Notion::scissors || notion == Notion::bluntNeedle;
            if (!otherSide && !(barred && !chosen.possible)) RC_ASSERT(done.has_value() == chosen.possible);
            const Itinerary left = itinerary(work.fabric());
            const auto again = fabricFrom(left);
            RC_ASSERT(again.has_value());
            RC_ASSERT(knotOf(*again) == left.knot);
            RC_ASSERT(itinerary(*again).measure == left.measure);
        }
    });
}
