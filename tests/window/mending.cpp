// SPDX-License-Identifier: MIT
// Mended by hand at the window: with every tool of the tray, by the pointer on the side that faces her and by
// the keys on the other one.
#include <catch2/catch.hpp>

#include <algorithm>
#include <string>
#include <vector>

#include <SDL.h>

#include "fabric/hands.h"
#include "fabric/itinerary.h"
#include "fabric/rows.h"
#include "repair/move_words.h"
#include "store/scratch.h"
#include "store/table_file.h"
#include "window/pupil.h"

namespace loopmend::app {
namespace {

constexpr const char* kLace =
    "Cast on 9 sts.\nRow 1 (RS): k.\nRow 2: p.\nRow 3: k3, k2tog, yo, k4.\nRow 4: p.\nRow 5: k.\nRow 6: p.\n";
constexpr const char* kPlain = "Cast on 7 sts.\nRow 1 (RS): k.\nRow 2: p.\nRepeat rows 1-2 twice more.\n";
constexpr const char* kCable =
    "Cast on 6 sts.\nRow 1 (RS): p1, k4, p1.\nRow 2: k1, p4, k1.\nRow 3: p1, 2/2 RC, p1.\n"
    "Row 4: k1, p4, k1.\n";

/// A piece on the free table, and somebody with her hands on it.
class Bench {
  public:
    Bench(const char* pattern, std::vector<FaultPlace> faults, bool otherSide)
        : hands_("", table(pattern, std::move(faults)), 1000, 700, "", 8),
          pupil_(hands_, otherSide ? Pupil::By::keyboard : Pupil::By::mouse) {
        REQUIRE(hands_.app().table().piece() != nullptr);
        if (otherSide) pupil_.press("look.turn", SDLK_t);
        CHECK((hands_.app().table().seen() == hands_.app().table().facing()) == !otherSide);
    }

    Work& work() { return hands_.app().table().work(); }
    const Fabric& fabric() { return work().fabric(); }
    Hands& hands() { return hands_; }
    Pupil& pupil() { return pupil_; }

    LoopId doIt(const std::string& line) {
        const auto move = moveFrom(line);
        REQUIRE(move);
        const auto possible = work().tryOut(*move);
        INFO(line << (possible ? "" : ": " + refusalOf(work(), *move, possible.error())) << " "
                  << pupil_.stuck() << " / " << hands_.app().notice());
        REQUIRE(pupil_.move(*move));
        return work().made().back();
    }
    std::string toRightSide() { return work().knitter().facing() == Side::right ? "hook-k" : "hook-p"; }
    std::vector<LoopId> row(int n) {
        return loopsByRow(fabric(), rowsOf(fabric()))[static_cast<std::size_t>(n)];
    }
    /// Hooks a column up to its top and puts it on the needle.
    void hookUp(LoopId loop) {
        while (!fabric().passesOf(loop).empty() && fabric().isLive(loop))
            loop = doIt(toRightSide() + " rung 1 loop " + std::to_string(loop.value));
        doIt("seat " + std::to_string(loop.value));
    }
    /// Lets the column over a stitch down to it; the pins come first.
    void letDown(LoopId stitch, const std::vector<LoopId>& pins) {
        LoopId top = stitch;
        int rows = 1;
        for (; fabric()[top].firstKid; ++rows) top = fabric()[fabric()[top].firstKid].loop;
        for (const LoopId p : pins) doIt("pin " + std::to_string(p.value));
        doIt("drop " + std::to_string(top.value));
        for (int i = 0; i < rows; ++i) {
            LoopId open;
            for (const LoopId l : hangs()) {
                if (std::find(pins.begin(), pins.end(), l) == pins.end()) open = l;
            }
            REQUIRE(open);
            doIt("let-run " + std::to_string(open.value) + " 1");
        }
    }
    void unpin(const std::vector<LoopId>& pins) {
        for (const LoopId p : pins) {
            if (pinOf(fabric(), p)) doIt("unpin " + std::to_string(p.value));
        }
    }
    void isMended() { CHECK(knotOf(fabric()) == knotOf(hands_.app().table().piece()->meant())); }
    void isWrong() { CHECK(knotOf(fabric()) != knotOf(hands_.app().table().piece()->meant())); }

  private:
    std::string table(const char* pattern, std::vector<FaultPlace> faults) {
        Recipe recipe;
        recipe.pattern = pattern;
        recipe.faults = std::move(faults);
        auto piece = FreePiece::from(std::move(recipe));
        if (!piece) FAIL(piece.error());
        TableNotes notes;
        notes.pattern = piece->recipe().pattern;
        notes.stitches = piece->recipe().stitches;
        notes.rows = piece->recipe().rows;
        notes.faults = piece->recipe().faults;
        MachineDisk disk;
        const std::string path = scratch_.path("piece.table");
        REQUIRE(writeTable(disk, path, piece->work(), notes));
        return path;
    }
    std::vector<LoopId> hangs() {
        std::vector<LoopId> open;
        for (std::int32_t i = 0; i < fabric().entryCount(); ++i) {
            const LoopId l{i};
            if (fabric().has(l) && fabric().isLoop(l) && fabric().isLoose(l) && fabric()[l].firstLink)
                open.push_back(l);
        }
        return open;
    }

    Scratch scratch_;
    Hands hands_;
    Pupil pupil_;
};

std::string id(LoopId loop) {
    return std::to_string(loop.value);
}

}  // namespace

TEST_CASE("by hand: a yarn-over missed two rows down", "[window][mending]") {
    for (const bool otherSide : {false, true}) {
        Bench bench(kLace, {{"missed_yo", 3, 5, 0}}, otherSide);
        bench.isWrong();
        // Where it was left out the bar of each row since is bare: the lowest becomes the yarn-over.
        const std::vector<LoopId> bars = bench.row(3);
        LoopId decrease;
        for (const LoopId l : bars) {
            if (bench.fabric().linkCount(l) == 2) decrease = l;
        }
        REQUIRE(decrease);
        LoopId loop = bench.doIt("lift-bar " + id(decrease) + " pin");
        const LoopId foot = loop;
        const auto placeInRow = [&](int row) {
            // The stitch before the bare strand, as the yarn ran in that row.
            LoopId over = decrease;
            for (int r = 3; r < row; ++r) over = bench.fabric()[bench.fabric()[over].firstKid].loop;
            if (bench.fabric().run(over) == bench.fabric().run(decrease)) return over;
            EntryId e = bench.fabric()[over].prev;
            while (!bench.fabric().isLoop(e)) e = bench.fabric()[e].prev;
            return e;
        };
        for (int row = 4; row <= 6; ++row)
            loop = bench.doIt(bench.toRightSide() + " bar " + id(placeInRow(row)) + " loop " + id(loop));
        bench.unpin({foot});
        const Fabric& f = bench.fabric();
        LoopId right = placeInRow(6);
        if (f.run(right) == Run::rightward) {
            right = f[loop].next;
            while (!f.isLoop(right)) right = f[right].next;
        }
        const bool hangs = static_cast<bool>(f.heldOn(loop, f.needle()));
        bench.doIt("seat " + id(loop) + (hangs ? "" : " beside " + id(right)));
        bench.isMended();
    }
}

TEST_CASE("by hand: a decrease that leans the wrong way", "[window][mending]") {
    for (const bool otherSide : {false, true}) {
        Bench bench(kLace, {{"wrong_lean", 3, 4, 0}}, otherSide);
        bench.isWrong();
        LoopId decrease;
        for (const LoopId l : bench.row(3)) {
            if (bench.fabric().linkCount(l) == 2) decrease = l;
        }
        REQUIRE(decrease);
        const std::vector<LoopId> pair = bench.fabric().hostsRightToLeft(decrease);
        bench.letDown(decrease, pair);
        // Knitted together, the left one lies in front on the right side.
        const bool rightSide = bench.work().knitter().facing() == Side::right;
        const LoopId front = rightSide ? pair[1] : pair[0];
        const LoopId behind = rightSide ? pair[0] : pair[1];
        const LoopId again = bench.doIt(bench.toRightSide() + " rung 1 loop " + id(front) + " " + id(behind));
        bench.hookUp(again);
        bench.unpin(pair);
        bench.isMended();
    }
}

TEST_CASE("by hand: a cable crossed the wrong way, by one arm", "[window][mending]") {
    for (const bool otherSide : {false, true}) {
        Bench bench(kCable, {{"miscrossed", 3, 2, 0}}, otherSide);
        bench.isWrong();
        const Fabric& f = bench.fabric();
        std::vector<LoopId> arm;
        std::vector<LoopId> stands;
        for (int c = 0; c < f.crossingCount(); ++c) {
            const Crossing& x = f[CrossingId{c}];
            if (x.sign == 0) continue;
            for (auto [list, loop] : {std::pair{&arm, x.a}, std::pair{&stands, x.b}}) {
                if (std::find(list->begin(), list->end(), loop) == list->end()) list->push_back(loop);
            }
        }
        REQUIRE(arm.size() == 2);
        for (const LoopId foot : arm) bench.letDown(f[f[foot].firstKid].loop, {foot});
        const auto both = [&](const char* word) {
            return "cross " + id(arm[0]) + " " + id(arm[1]) + " " + word + " " + id(stands[0]) + " " +
                   id(stands[1]);
        };
        // Back the way it lies, and over to the other face.
        const bool lies = bench.work().tryOut(*moveFrom(both("in-front"))).has_value();
        bench.doIt(both(lies ? "in-front" : "behind"));
        bench.doIt(both(lies ? "behind" : "in-front"));
        for (const LoopId foot : arm) bench.hookUp(foot);
        bench.unpin(arm);
        bench.isMended();
    }
}

TEST_CASE("by hand: threaded first, then the rows above are drawn out", "[window][mending]") {
    for (const bool otherSide : {false, true}) {
        Bench bench(kLace, {{"wrong_lean", 3, 4, 0}}, otherSide);
        bench.isWrong();
        const LoopId plain = bench.row(2)[4];
        bench.doIt("thread row " + id(plain));
        CHECK(rowWith(bench.fabric(), plain).size() == 9);
        if (otherSide) bench.pupil().press("look.turn", SDLK_t);  // to draw out, her own side faces her
        bench.doIt("rip to-thread");
        CHECK(rowsOf(bench.fabric()).last == 2);
        CHECK(bench.work().knitter().aheadCount() == 9);
        bench.doIt("unthread " + id(plain));
        for (int row = 3; row <= 6; ++row) bench.pupil().press("tray.row", SDLK_k);
        bench.isMended();
    }
}

TEST_CASE("by hand: a row snipped between two threads, picked out and sewn", "[window][mending]") {
    for (const bool otherSide : {false, true}) {
        Bench bench(kPlain, {{"wrong_kp", 3, 4, 0}}, otherSide);
        bench.isWrong();
        const LoopId below = bench.row(2)[3];
        const LoopId bad = bench.row(3)[3];
        const LoopId beside = bench.row(3)[4];
        const LoopId above = bench.row(4)[3];
        // The scissors are shut until both rows are on a thread, and say so.
        bench.pupil().takeNotion(8);
        REQUIRE(bench.pupil().pointAt({PointedAt::What::loop, bad}));
        bench.hands().key(SDLK_SPACE);
        CHECK(bench.work().done().empty());
        CHECK(bench.hands().app().notice() ==
              "Thread the row above and the row below first, every stitch of them.");
        bench.doIt("thread row " + id(below));
        bench.doIt("thread row " + id(above));
        bench.doIt("snip " + id(bad));
        bench.doIt("pick-out " + id(bad));
        bench.doIt("pick-out " + id(beside));
        const auto offers = offersAt(bench.work(), Notion::bluntNeedle, {PointedAt::What::loop, below});
        REQUIRE_FALSE(offers.empty());
        REQUIRE(offers.front().move.kind == MoveKind::graft);
        CHECK_FALSE(offers.front().caution.empty());
        const LoopId last = bench.doIt(textOf(offers.front().move));
        bench.doIt("unthread " + id(above));
        // As it was meant, but for the ends of three yarns: made one, it is the meant knot.
        const Fabric& f = bench.fabric();
        const YarnId sewn = f[last].yarn;
        LoopId lower;
        LoopId upper;
        for (int y = 0; y < f.yarnCount(); ++y) {
            if (YarnId{y} == sewn || !f[YarnId{y}].first) continue;
            (f[YarnId{y}].flags.ball != 0 ? upper : lower) =
                f[YarnId{y}].flags.ball != 0 ? f[YarnId{y}].first : f[YarnId{y}].last;
        }
        REQUIRE(bench.work().perform(*moveFrom("join " + id(lower) + " " + id(f[sewn].first))));
        REQUIRE(bench.work().perform(*moveFrom("join " + id(last) + " " + id(upper))));
        bench.isMended();
    }
}

TEST_CASE("A round that was joined with a twist is turned at its join before the second round") {
    for (const bool otherSide : {false, true}) {
        INFO(otherSide);
        Bench b("Cast on 10 sts. Join in the round.\nRnd 1: k.\n", {{"joined_round_twisted", 1, 1, 0}},
                otherSide);
        b.isWrong();
        std::string line;
        for (std::int32_t j = 0; j < b.fabric().joinCount(); ++j) {
            const Join& join = b.fabric()[JoinId{j}];
            if (join.loop)
                line = "turn-join " + std::to_string(join.loop.value) + " " + std::to_string(-join.twist / 2);
        }
        REQUIRE_FALSE(line.empty());
        b.doIt(line);
        b.isMended();
    }
}

}  // namespace loopmend::app
