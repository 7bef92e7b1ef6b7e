// SPDX-License-Identifier: MIT
//
// Basic stitches, slips, yarn-overs and increases, one test a line of the craft: what each does to the
// fabric. Common practice.
#include <algorithm>
#include <catch2/catch.hpp>

#include "swatch.h"

namespace loopmend {

namespace {

/// A word worked third in a row of eight, on the right side or on the wrong side.
struct Done {
    Swatch s;
    LoopId loop;                 ///< the last loop made
    std::vector<LoopId> before;  ///< the stitches of the left needle before it, nearest first
    int made;                    ///< loops added to the right needle

    explicit Done(const std::string& word, bool wrongSide = false, int rows = -1)
        : s(plainSwatch(8, rows >= 0   ? rows
                           : wrongSide ? 3
                                       : 2)) {
        s.work(wrongSide ? "p2" : "k2");
        before = s.knitter().ahead();
        loop = s.work(word);
        made = static_cast<int>(s.knitter().behind().size()) - 2;
    }
    const Fabric& f() const { return s.fabric(); }
    std::string formOf(LoopId of) const { return form(s.fabric(), of); }
    int used() const { return 6 - s.knitter().aheadCount(); }
    Mount mount(LoopId of) const { return f()[f().heldOn(of, f().needle())].state.mount; }
    int twist(LoopId of) const { return f()[f().linksOf(of).front()].form.twist; }
};

}  // namespace

// ---- basic stitches and slips

TEST_CASE("knit: a V on the right side, open") {
    const Done d("k");
    CHECK(d.formOf(d.loop) == "k");
    CHECK(hostOf(d.f(), d.loop) == d.before[0]);
    CHECK(d.mount(d.loop) == Mount::western);
    CHECK(d.used() == 1);
    CHECK(d.made == 1);
    CHECK(d.f()[d.loop].um == kLoopUm);
}

TEST_CASE("purl: a bump on the right side, open") {
    const Done d("p");
    CHECK(d.formOf(d.loop) == "p");
    CHECK(d.mount(d.loop) == Mount::western);
}

TEST_CASE("knit and purl on the wrong side change places") {
    CHECK(Done("k", true).formOf(Done("k", true).loop) == "p");
    const Done p("p", true);
    CHECK(p.formOf(p.loop) == "k");
    // What is a purl belongs to the link: a loop on the needle is neither yet.
    CHECK(p.f().isLive(p.loop));
}

TEST_CASE("knit through the back leg: crossed at the base, to the left") {
    const Done d("ktbl");
    CHECK(d.formOf(d.loop) == "k-1");
}

TEST_CASE("purl through the back leg on the wrong side pairs with it") {
    const Done d("ptbl", true);
    CHECK(d.formOf(d.loop) == "k-1");
}

TEST_CASE("slip purlwise, yarn behind: a tall stitch, its strand on the wrong side") {
    Done d("sl");
    CHECK(d.loop == d.before[0]);
    CHECK(d.mount(d.loop) == Mount::western);
    REQUIRE(d.f().passesOf(d.loop).size() == 1);
    CHECK(d.f().passSide(d.f().passesOf(d.loop)[0]) == Side::wrong);
    d.s.work("* |");
    d.s.rows(1);
    // It stands through two rows: the loop above it is two rows up.
    const Rows rows = rowsOf(d.f());
    const LoopId above = d.f()[d.f()[d.loop].firstKid].loop;
    CHECK(rows[above] == rows[d.loop] + 2);
}

TEST_CASE("slip purlwise, yarn in front: a bar across the stitch") {
    const Done d("slf");
    CHECK(d.f().passSide(d.f().passesOf(d.loop)[0]) == Side::right);
    // On the wrong side front and behind are the other way round on the fabric.
    const Done w("slf", true);
    CHECK(w.f().passSide(w.f().passesOf(w.loop)[0]) == Side::wrong);
}

TEST_CASE("slip knitwise turns the mount; worked through the front leg it is twisted to the right") {
    Done d("slk");
    CHECK(d.mount(d.loop) == Mount::eastern);
    d.s.work("* |");
    d.s.rows(0);
    Done open("slk");
    open.s.work("* | p5 ptbl");
    CHECK(open.twist(open.s.knitter().behind().back()) == 0);
    Done twisted("slk");
    twisted.s.work("* | p5 pfront");
    CHECK(twisted.twist(twisted.s.knitter().behind().back()) == 1);
}

TEST_CASE("knit one below: through the stitch one row under, the strand of the top loop held behind") {
    Done d("kbelow");
    const LoopId top = d.before[0];
    CHECK(d.used() == 1);
    CHECK(d.made == 1);
    const std::vector<LoopId> hosts = d.f().hostsRightToLeft(d.loop);
    REQUIRE(hosts.size() == 2);
    CHECK(std::find(hosts.begin(), hosts.end(), top) != hosts.end());
    CHECK(d.f().linkCount(top) == 0);  // dropped out of the lower stitch, held with it
    for (const LinkId l : d.f().linksOf(d.loop)) CHECK(d.f()[l].form.twist == 0);
    d.s.work("* |");
    CHECK(roundTrips(d.f()));
    // Not where no single stitch stands below.
    Swatch yo = plainSwatch(6, 2);
    yo.work("k yo * | p5");
    CHECK(workWord(yo.knitter(), "kbelow").error().why == Why::noStitchBelow);
}

TEST_CASE("a double wrap: one wrap more is pure slack once it is let fall") {
    Swatch s = plainSwatch(6, 2);
    s.work("k2 yo k * |");
    const LoopId wrap = s.knitter().ahead()[4];
    REQUIRE(s.fabric().linkCount(wrap) == 0);
    REQUIRE(s.knitter().drop(wrap));
    s.work("* |");
    Swatch plain = plainSwatch(6, 4);
    CHECK(s.knot() == plain.knot());
    CHECK(s.fabric().totalUm() > plain.fabric().totalUm());
}

// ---- yarn-overs

TEST_CASE("a yarn-over is a loop that goes through nothing, right leg in front") {
    const Done d("yo");
    CHECK(d.formOf(d.loop) == "o");
    CHECK(d.mount(d.loop) == Mount::western);
    CHECK(d.used() == 0);
    CHECK(d.made == 1);
    CHECK(d.f()[d.loop].um < kLoopUm);
    CHECK(Done("ryo").mount(Done("ryo").loop) == Mount::eastern);
}

TEST_CASE("a yarn-over worked through its leading leg is an eyelet, through the other a closed increase") {
    for (const auto& [made, worked, twist] :
         std::vector<std::tuple<std::string, std::string, int>>{{"yo", "p", 0},
                                                                {"yo", "ptbl", -1},
                                                                {"yo", "pfront", 0},
                                                                {"ryo", "p", 0},
                                                                {"ryo", "ptbl", 0},
                                                                {"ryo", "pfront", 1}}) {
        CAPTURE(made, worked);
        Swatch s = plainSwatch(6, 2);
        s.work("k3 " + made + " k3 | p3 " + worked);
        const LoopId loop = s.knitter().behind().back();
        CHECK(s.fabric()[s.fabric().linksOf(loop).front()].form.twist == twist);
        CHECK(s.fabric().linkCount(hostOf(s.fabric(), loop)) == 0);
    }
}

TEST_CASE("a double yarn-over: two loops, one knitted and one purled in the next row") {
    Swatch s = plainSwatch(6, 2);
    s.work("k3 yo yo k3 | p3 p k p3");
    const std::vector<LoopId> loops = s.knitter().behind();
    CHECK(form(s.fabric(), loops[3]) == "k");
    CHECK(form(s.fabric(), loops[4]) == "p");
    CHECK(hostOf(s.fabric(), loops[3]) != hostOf(s.fabric(), loops[4]));
    CHECK(roundTrips(s.fabric()));
}

TEST_CASE("a yarn-over at the edge is an edge loop") {
    Swatch s = plainSwatch(6, 2);
    const LoopId yarnOver = s.work("yo");
    s.work("* | * |");
    CHECK(s.fabric().loopBefore(yarnOver));
    CHECK(s.fabric().run(yarnOver) == Run::leftward);
    CHECK(roundTrips(s.fabric()));
}

TEST_CASE("below a yarn-over the running thread is unbroken; dropped, it is slack") {
    Done d("yo");
    const LoopId a = below(d.f(), d.s.knitter().behind()[1], 1);
    const LoopId b = d.before[0];
    CHECK(d.f()[b].next == a);  // neighbours along the row below, nothing between
    CHECK(d.f().kidCount(d.loop) == 0);
    const std::int64_t yarn = d.f().totalUm();
    REQUIRE(d.s.knitter().drop(d.loop));
    CHECK(d.f().isNothing(d.loop));
    CHECK(d.f().totalUm() == yarn);
}

// ---- increases

TEST_CASE("knit front and back: two loops through one, the second twisted and to its left") {
    const Done d("kfb");
    CHECK(d.used() == 1);
    CHECK(d.made == 2);
    const LoopId first = d.s.knitter().behind()[2];
    CHECK(hostOf(d.f(), first) == d.before[0]);
    CHECK(hostOf(d.f(), d.loop) == d.before[0]);
    CHECK(d.twist(first) == 0);
    CHECK(d.twist(d.loop) == -1);
    // From right to left among the links of the one they share.
    CHECK(d.f()[d.f()[d.before[0]].firstKid].loop == first);
    CHECK(d.f()[d.f()[d.before[0]].lastKid].loop == d.loop);
}

TEST_CASE("knit, yarn over, knit into one: the middle one goes through nothing") {
    const Done d("kyok");
    CHECK(d.used() == 1);
    CHECK(d.made == 3);
    const std::vector<LoopId> right = d.s.knitter().behind();
    CHECK(d.formOf(right[2]) == "k");
    CHECK(d.formOf(right[3]) == "o");
    CHECK(d.formOf(right[4]) == "k");
    CHECK(d.f().kidCount(d.before[0]) == 2);
}

TEST_CASE("knit, purl, knit into one: the middle one is drawn the other way") {
    const Done d("kpk");
    const std::vector<LoopId> right = d.s.knitter().behind();
    CHECK(d.formOf(right[2]) == "k");
    CHECK(d.formOf(right[3]) == "p");
    CHECK(d.formOf(right[4]) == "k");
    CHECK(d.f().kidCount(d.before[0]) == 3);
}

TEST_CASE("purl into front and back: each loop is purled, the second through the other leg") {
    const Done d("pfb");
    CHECK(d.used() == 1);
    CHECK(d.made == 2);
    const LoopId first = d.s.knitter().behind()[2];
    CHECK(d.formOf(first) == "p");
    CHECK(d.twist(first) == 0);
    CHECK(d.formOf(d.loop) == "p-1");
    CHECK(hostOf(d.f(), d.loop) == d.before[0]);
}

TEST_CASE("make one left and right: the bar lifted, closed, crossed to the hand that names it") {
    for (const auto& [word, form] : std::vector<std::pair<std::string, std::string>>{
             {"m1l", "k-1"}, {"m1r", "k+1"}, {"m1lp", "p-1"}, {"m1rp", "p+1"}, {"m1o", "k"}}) {
        CAPTURE(word);
        const Done d(word);
        CHECK(d.used() == 0);
        CHECK(d.made == 1);
        CHECK(d.formOf(d.loop) == form);
        const LoopId bar = hostOf(d.f(), d.loop);
        CHECK(d.formOf(bar) == "o");
        // It lies in the strand of the row below, between the stitches on both sides of the gap.
        const LoopId right = below(d.f(), d.s.knitter().behind()[1], 1);
        const LoopId left = d.before[0];
        CHECK(d.f()[left].next == bar);
        CHECK(d.f()[bar].next == right);
        CHECK(d.f()[bar].um > 0);
        CHECK(d.f()[bar].um <= kStrandUm);  // all it has is the running thread
    }
}

TEST_CASE("purled make-ones on the wrong side read as the same hand on the right side") {
    const Done left("m1lp", true);
    CHECK(left.formOf(left.loop) == "k-1");
    const Done right("m1rp", true);
    CHECK(right.formOf(right.loop) == "k+1");
}

TEST_CASE("no bar, no make-one") {
    Swatch s = plainSwatch(4, 2);
    s.work("k4");
    CHECK(s.knitter().makeOne(Hand::left).error().why == Why::noBar);
}

TEST_CASE(
    "a right lifted increase: the stitch under the next one, then that one; the column grows to the right") {
    const Done d("rli", false, 4);
    CHECK(d.used() == 1);
    CHECK(d.made == 2);
    const LoopId lifted = d.s.knitter().behind()[2];
    const LoopId shared = hostOf(d.f(), d.before[0]);
    CHECK(hostOf(d.f(), lifted) == shared);
    CHECK(hostOf(d.f(), d.loop) == d.before[0]);
    CHECK(d.f()[d.f()[shared].firstKid].loop == lifted);
    CHECK(d.f()[d.f()[shared].lastKid].loop == d.before[0]);
}

TEST_CASE("a left lifted increase: the stitch two under the last one worked; the column grows to the left") {
    const Done d("lli", false, 4);
    CHECK(d.used() == 0);
    CHECK(d.made == 1);
    const LoopId worked = d.s.knitter().behind()[1];
    const LoopId shared = below(d.f(), worked, 2);
    CHECK(hostOf(d.f(), d.loop) == shared);
    CHECK(d.f()[d.f()[shared].lastKid].loop == d.loop);
}

TEST_CASE("a backward loop in mid-row: a half-hitch of either hand") {
    for (const Hand hand : {Hand::left, Hand::right}) {
        Swatch s = plainSwatch(6, 2);
        s.work("k2");
        REQUIRE(s.knitter().castOnBackward(1, hand));
        s.work("* | p4");
        const LoopId loop = s.work("p");
        CHECK(s.fabric()[s.fabric().linksOf(loop).front()].form.twist == (hand == Hand::left ? -1 : 1));
        CHECK(s.fabric()[hostOf(s.fabric(), loop)].flags.anchored == 1);
    }
}

TEST_CASE("increase at one edge, decrease at the other every second row: the count stays") {
    Swatch s = plainSwatch(9, 2);
    for (int i = 0; i < 4; ++i) {
        s.work("k m1l k5 k2tog k |");
        CHECK(s.knitter().aheadCount() == 9);
        s.work("* |");
    }
    // The columns lean: what stands over the first stitch has moved a stitch for each of the four rows.
    const LoopId foot = loopsOf(s.fabric())[5];
    const std::vector<LoopId> now = s.knitter().ahead();
    const auto at = std::find(now.begin(), now.end(), topOf(s.knitter(), foot));
    CHECK(at - now.begin() == 3 + 4);  // cast on from left to right, the sixth stands fourth from the right
}

}  // namespace loopmend
