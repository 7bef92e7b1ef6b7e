// SPDX-License-Identifier: MIT
// The free table through the real window: a pattern from a file, a mistake put in by pointing, mended by
// hand, saved, opened again, exported as a picture.
#include <catch2/catch.hpp>

#include <filesystem>
#include <string>
#include <vector>

#include <SDL.h>

#include "fabric/hands.h"
#include "fabric/itinerary.h"
#include "picture/paper/pixels.h"
#include "store/files.h"
#include "store/scratch.h"
#include "store/table_file.h"
#include "window/hands.h"
#include "window/pupil.h"

namespace loopmend::app {
namespace {

/// The folder that a file pane without another one opens; put back at the end.
class Standing {
  public:
    explicit Standing(const std::string& folder) : before_(std::filesystem::current_path()) {
        std::filesystem::current_path(folder);
    }
    Standing(const Standing&) = delete;
    Standing& operator=(const Standing&) = delete;
    ~Standing() { std::filesystem::current_path(before_); }

  private:
    std::filesystem::path before_;
};

/// Each stitch of the piece that can be seen, till a click on one offers the mistake.
int faultButton(Hands& hands, const std::string& id) {
    const FreePiece& piece = *hands.app().table().piece();
    const auto at = hands.app().pointedAt();
    if (!at) return -1;
    const std::vector<FaultOffer> offers = piece.faultsAt(at->entry, Terms::us);
    for (std::size_t i = 0; i < offers.size(); ++i) {
        if (offers[i].place.id == id) return static_cast<int>(i);
    }
    return -1;
}

}  // namespace

TEST_CASE("the free table: open, spoil, mend, save, open again, export", "[window]") {
    const Scratch scratch;
    const Standing standing(scratch.folder());
    const std::string pattern = scratch.path("plain.txt");
    REQUIRE(
        writeFile(pattern, "Cast on 12 sts.\nRow 1 (RS): k.\nRow 2: p.\nRepeat rows 1-2 3 more times.\n"));
    std::string knot;
    std::size_t moves = 0;
    {
        Hands hands("", pattern, 1280, 800, "", 1);  // a picture of it is written
        REQUIRE(hands.app().table().piece() != nullptr);
        const std::string meant = knotOf(hands.app().table().piece()->meant());
        CHECK(knotOf(hands.fabric()) == meant);

        // A stitch in the middle of a row some way down: the run goes from the needle to it.
        LoopId stitch = hands.fabric()[hands.fabric()[hands.fabric().needle()].first].loop;
        HeldId h = hands.fabric()[hands.fabric().needle()].first;
        for (int i = 0; i < 5; ++i) h = hands.fabric()[h].next;
        stitch = hands.fabric()[h].loop;
        for (int i = 0; i < 3; ++i) stitch = hands.fabric().hostsRightToLeft(stitch).front();
        hands.key(SDLK_1);
        REQUIRE(hands.click(stitch));
        const int which = faultButton(hands, "ladder_stockinette");
        REQUIRE(which >= 0);
        REQUIRE(hands.press("free.faults"));
        REQUIRE(hands.press("free.fault." + std::to_string(which)));
        CHECK(knotOf(hands.fabric()) != meant);
        const LoopId open = openStitch(hands.fabric());
        REQUIRE(open);
        CHECK_FALSE(rungs(hands.fabric(), open).empty());

        // By hand: pin, half of the rungs, save, the rest.
        REQUIRE(hands.press("tool.4"));
        REQUIRE(hands.click(open));
        REQUIRE(hands.press("tool.3"));
        REQUIRE(hands.click(openStitch(hands.fabric())));
        hands.key(SDLK_s, KMOD_CTRL);
        REQUIRE(hands.press("files.do"));
        REQUIRE(std::filesystem::exists(scratch.path("my-swatch.table")));
        for (int i = 0; i < 10 && knotOf(hands.fabric()) != meant; ++i) {
            REQUIRE(hands.click(openStitch(hands.fabric())));
        }
        CHECK(knotOf(hands.fabric()) == meant);
        hands.key(SDLK_z);
        knot = knotOf(hands.fabric());
        moves = hands.app().table().work().done().size();
        hands.key(SDLK_s, KMOD_CTRL);

        hands.key(SDLK_e, KMOD_CTRL);
        REQUIRE(hands.press("files.do"));
    }
    Hands hands("", scratch.path("my-swatch.table"));
    REQUIRE(hands.app().table().piece() != nullptr);
    CHECK(knotOf(hands.fabric()) == knot);
    CHECK(hands.app().table().work().done().size() == moves);
    // What was taken back can still be done again, and everything before be taken back.
    hands.key(SDLK_y);
    CHECK(knotOf(hands.fabric()) == knotOf(hands.app().table().piece()->meant()));

    const auto bytes = readFile(scratch.path("cloth.png"));
    REQUIRE(bytes);
    const auto pixels = pixelsOf(*bytes);
    REQUIRE(pixels);
    CHECK(pixels->width > 300);
}

TEST_CASE("of a pattern of several pieces another one is taken, and how its words were read is told",
          "[window]") {
    const Scratch scratch;
    const std::string pattern = scratch.path("vest.txt");
    REQUIRE(writeFile(
        pattern,
        "Back\nCast on 12 sts.\nRow 1: k2, p2 to end.\nRow 2: as row 1.\nRow 3: k4, place rem sts on a "
        "holder.\nRow 4: p4.\nReturn to held sts, rejoin yarn, k2tog, k to end.\n\n"
        "Pocket\nCast on 5 sts.\nRow 1: k.\n"));
    const std::string table = scratch.path("pocket.table");
    {
        Hands hands("", pattern);
        REQUIRE(hands.app().table().piece() != nullptr);
        CHECK(hands.app().table().piece()->parts() ==
              std::vector<std::string>{"back", "held stitches", "pocket"});
        CHECK_FALSE(hands.app().table().piece()->readings().empty());
        REQUIRE(hands.press("free.readings"));
        CHECK(hands.press("free.readings"));
        CHECK_FALSE(hands.press("free.piece.0"));
        REQUIRE(hands.press("free.piece.1"));
        CHECK(hands.app().table().script().castOn == 8);
        REQUIRE(hands.press("free.piece.2"));
        CHECK(hands.app().table().script().castOn == 5);
        const FreePiece& piece = *hands.app().table().piece();
        TableNotes notes;
        notes.pattern = instructionsOf(piece.recipe());
        notes.stitches = piece.recipe().stitches;
        notes.rows = piece.recipe().rows;
        MachineDisk disk;
        REQUIRE(writeTable(disk, table, piece.work(), notes));
    }
    // What is kept is that piece.
    Hands hands("", table);
    REQUIRE(hands.app().table().piece() != nullptr);
    CHECK(hands.app().table().piece()->parts().empty());
    CHECK(hands.app().table().script().castOn == 5);
}

TEST_CASE("a way back is gone through on the cloth, forward and back, then done by hand", "[window]") {
    Recipe recipe;
    recipe.pattern = "Cast on 12 sts.\nRow 1 (RS): k.\nRow 2: p.\nRepeat rows 1-2 3 more times.\n";
    recipe.faults = {{"ladder_stockinette", 5, 6, 0}};
    const Scratch scratch;
    const std::string table = scratch.path("spoiled.table");
    {
        auto piece = FreePiece::from(recipe);
        REQUIRE(piece);
        TableNotes notes;
        notes.pattern = recipe.pattern;
        notes.stitches = piece->recipe().stitches;
        notes.rows = piece->recipe().rows;
        notes.faults = recipe.faults;
        MachineDisk disk;
        REQUIRE(writeTable(disk, table, piece->work(), notes));
    }
    Hands hands("", table);
    FreePiece& piece = *hands.app().table().piece();
    const std::string meant = knotOf(piece.meant());
    const std::string spoiled = knotOf(hands.fabric());
    REQUIRE(spoiled != meant);
    hands.key(SDLK_QUESTION);
    const WaysBack ways = piece.ways();
    REQUIRE(ways.best);
    const Plan& plan = ways.all[*ways.best].plan;
    REQUIRE(hands.press("ways.way." + std::to_string(*ways.best)));
    // Forward by key and by button to the end, and back by both.
    for (std::size_t i = 0; i < plan.moves.size(); ++i) {
        CHECK(knotOf(hands.fabric()) != meant);
        if (i % 2 == 0) {
            REQUIRE(hands.press("ways.forward"));
        } else {
            hands.key(SDLK_PERIOD);
        }
    }
    CHECK(knotOf(hands.fabric()) == meant);
    CHECK_FALSE(hands.press("ways.forward"));
    hands.key(SDLK_COMMA);
    CHECK(knotOf(hands.fabric()) != meant);
    REQUIRE(hands.press("ways.hand"));
    CHECK(knotOf(hands.fabric()) == spoiled);
    CHECK(piece.work().done().empty());
    // The next move is told, and stays so while hands do it.
    Pupil pupil(hands, Pupil::By::mouse);
    for (int i = 0; i < 20 && knotOf(hands.fabric()) != meant; ++i) {
        REQUIRE(piece.ways().hint() != nullptr);
        REQUIRE(pupil.move(piece.ways().hint()->move));
    }
    CHECK(knotOf(hands.fabric()) == meant);
}

TEST_CASE("ways back are reckoned by her own pace", "[window]") {
    Recipe recipe;
    recipe.pattern = "Cast on 12 sts.\nRow 1 (RS): k.\nRow 2: p.\nRepeat rows 1-2 3 more times.\n";
    recipe.faults = {{"wrong_kp", 5, 6, 0}};
    auto piece = FreePiece::from(recipe);
    REQUIRE(piece);
    const WaysBack usual = piece->ways();
    REQUIRE(usual.fastest);
    Pace quick;
    quick.secondsPerStitch /= 2;
    piece->setPace(quick);
    const WaysBack hers = piece->ways();
    REQUIRE(hers.fastest);
    CHECK(hers.all[*hers.fastest].plan.seconds < usual.all[*usual.fastest].plan.seconds);
    piece->setPace({});
    CHECK(piece->ways().all[*usual.fastest].plan.seconds == usual.all[*usual.fastest].plan.seconds);
}

TEST_CASE("the mistakes that can be put in are leafed through with Page Down and Page Up", "[window]") {
    const Scratch scratch;
    const std::string pattern = scratch.path("plain.txt");
    REQUIRE(
        writeFile(pattern, "Cast on 12 sts.\nRow 1 (RS): k.\nRow 2: p.\nRepeat rows 1-2 3 more times.\n"));
    Hands hands("", pattern);
    const Fabric& f = hands.fabric();
    LoopId stitch = f[f[f[f[f.needle()].first].next].next].loop;
    stitch = f.hostsRightToLeft(stitch).front();
    hands.key(SDLK_1);
    REQUIRE(hands.click(stitch));
    hands.key(SDLK_f);
    const auto inSight = [&](const std::string& id) {
        for (const Control& control : hands.app().controls()) {
            if (control.id == id) return control.inSight;
        }
        return false;
    };
    CHECK(inSight("free.fault.0"));
    CHECK_FALSE(inSight("free.fault.20"));
    for (int i = 0; i < 6; ++i) hands.key(SDLK_PAGEDOWN);
    CHECK_FALSE(inSight("free.fault.0"));
    CHECK(inSight("free.picture"));
    for (int i = 0; i < 6; ++i) hands.key(SDLK_PAGEUP);
    CHECK(inSight("free.fault.0"));
    // What befalls a whole row is offered at any of its stitches.
    CHECK(faultButton(hands, "wrong_row") >= 0);
}

}  // namespace loopmend::app
