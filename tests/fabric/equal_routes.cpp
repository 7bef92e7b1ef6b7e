// SPDX-License-Identifier: MIT
//
// One knot by different ways of the hands has one first line.
#include <catch2/catch.hpp>
#include <functional>

#include "swatch.h"

namespace loopmend {

namespace {

using Way = std::function<void(Swatch&)>;

/// The knot of a plain piece in which one row, and what a way does after it, was worked; two plain rows on
/// top.
std::string after(const Way& way, int stitches = 8, int rows = 2) {
    Swatch s = plainSwatch(stitches, rows);
    way(s);
    s.work("* |");
    s.rows(2);
    REQUIRE(roundTrips(s.fabric()));
    return s.knot();
}
std::string after(const std::string& words) {
    return after([&](Swatch& s) { s.work(words); });
}

/// Slips a stitch with the yarn lying over it.
void slipWithYarnOver(Swatch& s) {
    Fabric& f = s.fabric();
    const HeldId next = f.heldOn(s.knitter().ahead().front(), f.needle());
    const bool leftward = s.knitter().run() == Run::leftward;
    f.setTip(leftward ? f[next].next : next);
    s.work("yo");
}

/// Takes the last stitch out and hooks it through the same loops in the other order.
void leanTheOtherWay(Swatch& s) {
    Fabric& f = s.fabric();
    const LoopId decrease = s.knitter().behind().back();
    Hooking hooking;
    for (const LinkId l : f.linksOf(decrease))
        hooking.through.insert(hooking.through.begin(), {f[l].host, f[l].form.twist, f[l].form.place});
    hooking.toward = f[f.linksOf(decrease).front()].form.side;
    REQUIRE(s.knitter().drop(decrease));
    REQUIRE(undo(f, decrease));
    hooking.rung = rungs(f, hooking.through.front().host).front();
    const Result<LoopId> hooked = hook(f, hooking);
    REQUIRE(hooked);
    seat(f, *hooked);
}

}  // namespace

TEST_CASE("slip, knit, pass over is slip, slip, knit together") {
    CHECK(after("k2 skp") == after("k2 ssk"));
    CHECK(after("k2 slk k psso") == after("k2 ssk"));
}

TEST_CASE("slip, purl, pass over is purl two together") {
    // Passing over leans the other way on the purl side: sl1 p1 psso is the match of p2tog, not of ssp.
    CHECK(after("k2 spp") == after("k2 p2tog"));
    CHECK(after("* | p2 spp") == after("* | p2 p2tog"));
}

TEST_CASE("slip, knit two together, pass over: at once or step by step") {
    CHECK(after("k2 sk2p") == after("k2 slk k2tog psso"));
    CHECK(after("k2 sp2p") == after("k2 slf p2tog psso"));
    CHECK(after("k2 sp2p") == after("k2 p3tog"));
}

TEST_CASE("a centred double decrease: stitches passed over one by one, or drawn through at once") {
    const std::string atOnce = after([](Swatch& s) {
        s.work("k2");
        Fabric& f = s.fabric();
        const std::vector<LoopId> next = s.knitter().ahead();
        for (int i = 0; i < 3; ++i) {
            const HeldId place = f.heldOn(next[static_cast<std::size_t>(i)], f.needle());
            f.setTip(f[place].next);
            REQUIRE(f.letGo(next[static_cast<std::size_t>(i)], f.needle(), false));
        }
        const LoopId loop = *f.liftFromBall(s.yarn(), Run::leftward, kLoopUm, kStrandUm);
        // The centre comes to lie on top: right one, then left one, then the centre, from back to front.
        for (const int i : {2, 0, 1}) {
            LinkForm form;
            form.place = static_cast<std::int8_t>(i);
            REQUIRE(f.pull(loop, next[static_cast<std::size_t>(i)], form));
        }
        REQUIRE(f.hold(loop, f.needle(), f[f.needle()].tip, Mount::western));
    });
    CHECK(after("k2 s2kp") == atOnce);
}

TEST_CASE("western, eastern and combination knitting of one pattern are one fabric, on the needle too") {
    const auto knitted = [](Habit habit, const std::string& words) {
        Swatch s(10, {Begin::longTail, false, habit});
        s.work(words);
        REQUIRE(roundTrips(s.fabric()));
        return s.knot();
    };
    for (const std::string words :
         {"k10 | p10 | k10 | p10", "k3 ssk yo k2tog k3 | * | k2 skp yo k2 sk2p",
          "k p k p k p k p k p | * | k5", "k2 s2kp yo k5 | p3 p2tog p2 yo p2", "k3 kfb k2 kpk | * | *",
          "sl k3 2/2f k2 | sl p9 | ssp p8", "k5 m1o k5 | p11 | k2 k3tog k6",
          "sl2 k8 | k2 p2 k2 p2 k2 | p4 spp p4", "k4 sssk k3 | p2 s2pp p3"}) {
        CAPTURE(words);
        const std::string western = knitted(Habit::western, words);
        CHECK(knitted(Habit::eastern, words) == western);
        CHECK(knitted(Habit::combination, words) == western);
    }
}

TEST_CASE("a make-one made at once, or forgotten and hooked in two rows later") {
    const std::string made = after("k3 m1l * | * |");
    const std::string forgotten = after([](Swatch& s) {
        s.work("* | * |");
        Fabric& f = s.fabric();
        const LoopId a = s.knitter().ahead()[2];  // the gap lies between these two
        const LoopId b = s.knitter().ahead()[3];
        const LoopId bar = *hookBar(f, s.yarn(), below(f, b, 2), {}, Side::right);
        const LoopId x = *hookBar(f, s.yarn(), below(f, a, 1), {{bar, -1, 0}}, Side::right);
        const LoopId y = *hookBar(f, s.yarn(), b, {{x, 0, 0}}, Side::right);
        REQUIRE(f.hold(y, f.needle(), f.heldOn(b, f.needle()), Mount::western));
    });
    CHECK(forgotten == made);
}

TEST_CASE("a yarn-over put back from the bar is a yarn-over, only tighter") {
    Swatch made = plainSwatch(8, 2);
    made.work("k3 yo * | ");
    Swatch restored = plainSwatch(8, 2);
    restored.work("* | p5 bar p * |");
    made.work("* |");
    CHECK(restored.knot() == made.knot());
    CHECK(restored.lines().measure != made.lines().measure);
    // Common practice: restored from the bar it is tighter than one that was made.
    const auto linkless = [](const Swatch& s) {
        for (const LoopId loop : loopsOf(s.fabric())) {
            if (!s.fabric()[loop].firstLink && s.fabric()[loop].flags.anchored == 0)
                return s.fabric()[loop].um;
        }
        return 0;
    };
    CHECK(linkless(restored) < linkless(made));
    CHECK(linkless(restored) > 0);
}

TEST_CASE("an open make-one is the bar lifted and knitted as it sits") {
    CHECK(after("k3 m1o") == after("k3 bar k"));
    CHECK(after("k3 m1l") == after("k3 bar ktbl"));
}

TEST_CASE("a yarn-over dropped is a yarn-over missed") {
    CHECK(after([](Swatch& s) {
              s.work("k3");
              const LoopId yarnOver = s.work("yo");
              s.work("k");
              REQUIRE(s.fabric().letGo(yarnOver, s.fabric().needle(), false));
          }) == after("k4"));
}

TEST_CASE("a cable is its permutation, however the neighbours were brought past one another") {
    for (const bool front : {true, false}) {
        for (const auto& [n, m] : std::vector<std::pair<int, int>>{{1, 1}, {2, 2}, {1, 2}, {2, 1}, {3, 3}}) {
            CAPTURE(front, n, m);
            const auto swaps = [&, over = n, under = m](Swatch& s, bool byColumns) {
                s.work("k");
                Fabric& f = s.fabric();
                std::vector<LoopId> order = s.knitter().ahead();
                const auto swap = [&](int i) {
                    LoopId& right = order[static_cast<std::size_t>(i)];
                    LoopId& left = order[static_cast<std::size_t>(i + 1)];
                    REQUIRE(f.cross(right, left, front ? right : left));
                    std::swap(right, left);
                };
                if (byColumns) {
                    for (int j = 0; j < under; ++j)
                        for (int i = over - 1 + j; i >= j; --i) swap(i);
                } else {
                    for (int i = over - 1; i >= 0; --i)
                        for (int j = 0; j < under; ++j) swap(i + j);
                }
                for (int i = 0; i < over + under; ++i) s.work("k");
            };
            const std::string asSaid =
                "k " + std::to_string(n) + "/" + std::to_string(m) + (front ? "f" : "b");
            CHECK(after([&](Swatch& s) { swaps(s, true); }) == after(asSaid));
            CHECK(after([&](Swatch& s) { swaps(s, false); }) == after(asSaid));
        }
    }
}

TEST_CASE("crossed and crossed back is never crossed") {
    CHECK(after("k2 1/1fx 1/1bx") == after("k2"));
    CHECK(after("k2 1/1bx 1/1fx") == after("k2"));
    CHECK(after("k 2/2fx 2/2bx") == after("k"));
}

TEST_CASE("a released arm crossed again the right way is the cable worked right") {
    // Crossed in front where behind was meant: one arm is let down to the cross and hooked up on the other
    // side.
    Swatch meant = plainSwatch(8, 2);
    meant.work("k2 2/2b * |");
    meant.rows(3);
    for (const bool rightArm : {true, false}) {
        CAPTURE(rightArm);
        Swatch s = plainSwatch(8, 2);
        const std::vector<LoopId> feet = s.knitter().ahead();
        s.work("k2 2/2f * |");
        s.rows(3);
        Fabric& f = s.fabric();
        const std::vector<LoopId> arm =
            rightArm ? std::vector<LoopId>{feet[2], feet[3]} : std::vector<LoopId>{feet[4], feet[5]};
        const std::vector<LoopId> other =
            rightArm ? std::vector<LoopId>{feet[4], feet[5]} : std::vector<LoopId>{feet[2], feet[3]};
        for (const LoopId foot : arm) {
            const LoopId top = topOf(s.knitter(), foot);
            REQUIRE(s.knitter().drop(top));
            REQUIRE(letRunFrom(f, top, 4) == 4);
            REQUIRE(f.isLoose(foot));
        }
        // Back out of the wrong cross and into the right one, foot against standing stitch.
        const auto pairs = [&](const auto& cross) {
            for (const LoopId foot : arm)
                for (const LoopId standing : other) cross(foot, standing);
        };
        pairs([&](LoopId foot, LoopId standing) {
            // Now the left pair stands right. The right pair lay in front and goes back the same way.
            const LoopId right = rightArm ? standing : foot;
            const LoopId left = rightArm ? foot : standing;
            REQUIRE(f.cross(right, left, left));
        });
        pairs([&](LoopId foot, LoopId standing) {
            const LoopId right = rightArm ? foot : standing;
            const LoopId left = rightArm ? standing : foot;
            REQUIRE(f.cross(right, left, left));
        });
        for (const LoopId foot : arm) hookAll(f, foot);
        CHECK(s.knot() == meant.knot());
    }
}

TEST_CASE("a decrease leaned over twice is as it was; once, it is its mirror") {
    CHECK(after([](Swatch& s) {
              s.work("k2 k2tog");
              leanTheOtherWay(s);
              leanTheOtherWay(s);
          }) == after("k2 k2tog"));
    CHECK(after([](Swatch& s) {
              s.work("k2 k2tog");
              leanTheOtherWay(s);
          }) == after("k2 ssk"));
    CHECK(after([](Swatch& s) {
              s.work("k2 k3tog");
              leanTheOtherWay(s);
          }) == after("k2 sssk"));
}

TEST_CASE("a cast-on of two yarns whose first ends are joined is a long-tail cast-on") {
    Fabric f;
    const YarnId a = f.addYarn('A', kLoopUm, kStrandUm);
    const YarnId thumb = f.addYarn('A', kLoopUm, kStrandUm);
    Knitter k(f, a, Side::wrong);
    for (int i = 0; i < 6; ++i) {
        const LoopId hitch = *f.liftFromBall(thumb, k.run(), kLoopUm, i == 0 ? 0 : kStrandUm);
        f.setAnchored(hitch, true);
        const LoopId loop = *f.liftFromBall(a, k.run(), kLoopUm, kStrandUm);
        LinkForm form;
        form.side = k.facing();
        REQUIRE(f.pull(loop, hitch, form));
        f.setTip(*f.hold(loop, f.needle(), f[f.needle()].tip, Mount::western));
    }
    // The thumb's yarn turned round, so that its first end meets the other's.
    f.setBall(thumb, false);
    const YarnId turned = f.addYarn('A', kLoopUm, kStrandUm);
    f.setBall(turned, false);
    REQUIRE(f.join(turned, thumb, End::last));
    REQUIRE(f.join(turned, a, End::first));
    k.takeYarn(turned);
    CHECK(f[turned].flags.ball == 1);
    CHECK(roundTrips(f));

    Swatch s(6, {Begin::longTail});
    CHECK(knotOf(f) == s.knot());
}

TEST_CASE("a stitch slipped with its yarn-over and worked with it is knitted in the row below") {
    CHECK(after([](Swatch& s) {
              s.work("k3");
              slipWithYarnOver(s);
              s.work("* | p4");
              REQUIRE(s.knitter().work(2, true, Leg::front));
              s.work("* |");
          }) == after("k8 | p4 pbelow * |"));
}

TEST_CASE("brioche is fisherman's rib") {
    const std::string brioche = after([](Swatch& s) {
        for (int i = 0; i < 4; ++i) {
            s.work("k");
            slipWithYarnOver(s);
        }
        s.work("|");
        for (int i = 0; i < 4; ++i) {
            REQUIRE(s.knitter().work(2, true, Leg::front));
            slipWithYarnOver(s);
        }
        s.work("|");
        for (int i = 0; i < 4; ++i) {
            REQUIRE(s.knitter().work(2, false, Leg::front));
            s.work("k");
        }
        s.work("|");
    });
    const std::string fisherman =
        after("k8 | pbelow p pbelow p pbelow p pbelow p | kbelow k kbelow k kbelow k kbelow k |");
    CHECK(brioche == fisherman);
}

TEST_CASE("a snag moves yarn, not the knot") {
    Swatch s = plainSwatch(7, 3);
    Fabric& f = s.fabric();
    const Itinerary before = s.lines();
    const LoopId pulled = below(f, s.knitter().ahead()[3], 1);
    REQUIRE(f.ease(f[pulled].next, pulled, 3000));
    REQUIRE(f.ease(f[pulled].prev, pulled, 3000));
    CHECK(s.knot() == before.knot);
    CHECK(s.lines().measure != before.measure);
    CHECK(f[pulled].um == kLoopUm + 6000);
}

TEST_CASE("a stitch slipped on and back, or worked and taken back, was never touched") {
    CHECK(after("k2 sl back k") == after("k3"));
    CHECK(after("k2 slf sl back back k") == after("k3"));
    CHECK(after("k2 k tink k") == after("k3"));
    CHECK(after("k2 k2tog tink k2") == after("k4"));
}

TEST_CASE("one into one, one by one or as a count, is the same") {
    CHECK(after("k8 | p8 |") == after("k k k5 k | p4 p p3 |"));
    Swatch a(5, {Begin::backward});
    Fabric f;
    const YarnId yarn = f.addYarn('A', kLoopUm, kStrandUm);
    Knitter k(f, yarn, Side::wrong);
    for (int i = 0; i < 5; ++i) REQUIRE(k.castOnBackward(1));
    k.turn();
    CHECK(text(f) == text(a.fabric()));
}

}  // namespace loopmend
