// SPDX-License-Identifier: MIT
//
// Cut ends: picking a row out, sewing it back, sewing over, grafting, joining. Common practice.
#include <algorithm>
#include <catch2/catch.hpp>

#include "random_knitting.h"
#include "swatch.h"

namespace loopmend {

namespace {

/// What a loop is worked through, and what is worked through it, so that a needle and thread can copy it.
struct Path {
    Run run;
    std::int32_t um;
    std::vector<Fabric::Through> hosts;
    std::vector<Fabric::Under> unders;
};

Path pathOf(const Fabric& f, LoopId loop) {
    Path path{f.run(loop), f[loop].um, {}, {}};
    for (const LinkId l : f.linksOf(loop)) {
        std::int32_t slot = 0;
        for (LinkId k = f[l].prevInHost; k; k = f[k].prevInHost) ++slot;
        path.hosts.push_back({f[l].host, f[l].form, slot});
    }
    for (LinkId l = f[loop].firstKid; l; l = f[l].nextInHost) {
        std::int32_t at = 0;
        for (const LinkId k : f.linksOf(f[l].loop)) {
            if (k == l) break;
            ++at;
        }
        path.unders.push_back({f[l].loop, f[l].form, at});
    }
    return path;
}

LoopId sew(Fabric& f, YarnId yarn, const Path& path) {
    const Result<LoopId> loop = f.thread(yarn, path.run, path.um, path.hosts, path.unders);
    if (!loop) FAIL(sentence(loop.error()));
    return *loop;
}

/// The loops of one row, in the order in which they lie along the yarn.
std::vector<LoopId> rowOf(const Fabric& f, int row) {
    return loopsByRow(f, rowsOf(f)).at(static_cast<std::size_t>(row));
}

}  // namespace

TEST_CASE("one row snipped, picked out, sewn back and its ends joined was never cut") {
    for (const char* words :
         {"* | * | * | * | * | *", "k2 k2tog yo k2 | p3 ptbl p2 | k ssk yo k3 | p6 | k k p p k k | *"}) {
        for (const int row : {2, 3, 4}) {
            CAPTURE(words, row);
            Swatch s(6);
            s.work(words);
            s.work("|");
            Fabric& f = s.fabric();
            const Itinerary before = s.lines();
            const std::vector<LoopId> loops = rowOf(f, row);
            std::vector<Path> paths;
            for (const LoopId loop : loops) paths.push_back(pathOf(f, loop));

            // Snipped beside the row on both sides; nothing runs, because every loop has another through it.
            const YarnId piece = *f.cut(f[loops.front()].prev);
            const YarnId rest = *f.cut(loops.back());
            CHECK(letRun(f) == 0);
            for (const LoopId loop : loops) REQUIRE(f.unthread(loop));
            // Two pieces: live loops below, and above the loops that stood through the row, hanging down.
            CHECK(roundTrips(f));
            CHECK(looseLoops(f).size() >= 5);

            const YarnId thread = f.addYarn('A', kLoopUm, kStrandUm);
            f.setBall(thread, false);
            for (const Path& path : paths) sew(f, thread, path);
            REQUIRE(f.join(s.yarn(), thread, End::first));
            REQUIRE(f.join(s.yarn(), rest, End::first));
            CHECK(s.knot() == before.knot);
            CHECK(f[s.yarn()].flags.ball == 1);
            CHECK(roundTrips(f));
            (void)piece;
        }
    }
}

TEST_CASE("after a cut nothing runs until the end is drawn out sideways; then the lower loops are loose") {
    Swatch s = plainSwatch(6, 6);
    Fabric& f = s.fabric();
    const std::vector<LoopId> row = rowOf(f, 3);
    const std::vector<LoopId> lower = rowOf(f, 2);
    const YarnId piece = *f.cut(f[row.front()].prev);
    CHECK(letRun(f) == 0);
    CHECK(f[row.front()].yarn == piece);
    // Only from the end: the second loop lies inside the yarn.
    CHECK(f.unthread(row[1]).error().why == Why::notNeighbours);
    REQUIRE(f.unthread(row.front()));
    const auto freed = looseLoops(f);
    REQUIRE(freed.size() == 1);
    CHECK(std::find(lower.begin(), lower.end(), freed[0]) != lower.end());
    CHECK(f.isLoose(freed[0]));
    CHECK(letRun(f, 1) == 1);
    CHECK(roundTrips(f));
}

TEST_CASE("duplicate stitch sewn from the right or from the left is one knot, and comes out again") {
    std::vector<std::string> knots;
    for (const bool fromRight : {true, false}) {
        Swatch s = plainSwatch(8, 4);
        Fabric& f = s.fabric();
        const std::string before = text(f);
        std::vector<LoopId> over;  // three stitches of row 3, right to left
        for (const std::size_t i : {2U, 3U, 4U}) over.push_back(below(f, s.knitter().ahead()[i], 1));
        if (!fromRight) std::reverse(over.begin(), over.end());
        const YarnId colour = f.addYarn('B', kLoopUm, kStrandUm);
        f.setBall(colour, false);
        std::vector<LoopId> sewn;
        for (const LoopId loop : over) {
            // The thread follows the stitch: through what it goes through, and under what goes through it.
            Path path = pathOf(f, loop);
            path.run = fromRight ? Run::leftward : Run::rightward;
            for (Fabric::Through& t : path.hosts) t.slot = -1;
            sewn.push_back(sew(f, colour, path));
        }
        knots.push_back(s.knot());
        CHECK(roundTrips(f));
        CHECK(letRun(f) == 0);
        for (const LoopId loop : sewn) CHECK(f.kidCount(loop) == 1);
        while (!sewn.empty()) {
            REQUIRE(f.unthread(sewn.back()));
            sewn.pop_back();
        }
        CHECK(text(f) == before);
    }
    CHECK(knots[0] == knots[1]);
}

TEST_CASE("two edges grafted by a sewn row are one piece knitted without a break") {
    // The sewn row copies the path of a worked row through the live loops of one piece and under those of
    // another.
    Swatch whole = plainSwatch(6, 5);
    Swatch s = plainSwatch(6, 5);
    Fabric& f = s.fabric();
    const std::vector<LoopId> row = rowOf(f, 3);
    std::vector<Path> paths;
    for (const LoopId loop : row) paths.push_back(pathOf(f, loop));
    (void)*f.cut(f[row.front()].prev);
    const YarnId upper = *f.cut(row.back());
    for (const LoopId loop : row) REQUIRE(f.unthread(loop));
    const YarnId thread = f.addYarn('A', kLoopUm, kStrandUm);
    f.setBall(thread, false);
    // Sewn from the other end, in the other direction, with a thread of its own.
    for (auto it = paths.rbegin(); it != paths.rend(); ++it) {
        it->run = opposite(it->run);
        sew(f, thread, *it);
    }
    // Its ends are not yet joined to anything: three yarns.
    CHECK(s.knot() != whole.knot());
    // Joined at both ends it is the row that was there.
    REQUIRE(f.join(s.yarn(), thread, End::last));
    REQUIRE(f.join(s.yarn(), upper, End::first));
    CHECK(s.knot() == whole.knot());
}

TEST_CASE("cutting and joining keep all the yarn and give back both lines") {
    for (int seed = 0; seed < cases(150); ++seed) {
        CAPTURE(seed);
        Dice dice(static_cast<std::uint64_t>(seed));
        Swatch s = randomSwatch(dice, 3);
        Fabric& f = s.fabric();
        const std::string before = text(f);
        const std::int64_t yarn = f.totalUm();
        const LoopId at = dice.pick(loopsOf(f));
        if (f[f[at].yarn].last == at) continue;
        const YarnId first = f[at].yarn;
        const YarnId rest = *f.cut(at);
        REQUIRE(f.totalUm() == yarn);
        REQUIRE(roundTrips(f));
        // Turned round on the way: joined by its own last end to an empty yarn, and back.
        if (f[rest].flags.ball == 0 && dice.chance(50)) {
            const YarnId turned = f.addYarn(f[rest].flags.colour, f[rest].loopUm, f[rest].strandUm);
            f.setBall(turned, false);
            REQUIRE(f.join(turned, rest, End::last));
            REQUIRE(f.join(first, turned, End::last));
        } else {
            REQUIRE(f.join(first, rest, End::first));
        }
        REQUIRE(text(f) == before);
        REQUIRE(f.totalUm() == yarn);
    }
}

TEST_CASE("a dropped edge stitch tied off: its foot is knotted and nothing runs") {
    Swatch s = plainSwatch(6, 4);
    Fabric& f = s.fabric();
    REQUIRE(s.knitter().drop(s.knitter().ahead()[2]));
    REQUIRE(letRun(f, 2) == 2);
    const LoopId foot = hanging(f);
    f.setAnchored(foot, true);  // a stitch fastened where it lies, with a thread or a pin left in it
    CHECK(letRun(f) == 0);
    CHECK(looseLoops(f).empty());
    CHECK(roundTrips(f));
}

}  // namespace loopmend
