// SPDX-License-Identifier: MIT
// A mending shown to a group, practice, and what is kept: through the real window.
#include <catch2/catch.hpp>

#include <algorithm>
#include <filesystem>
#include <string>
#include <vector>

#include <SDL.h>

#include "fabric/itinerary.h"
#include "store/files.h"
#include "store/scratch.h"
#include "tutor/practice.h"
#include "window/pupil.h"

namespace loopmend::app {
namespace {

/// The folder that a file pane without another one opens; put back at the end.
class At {
  public:
    explicit At(const std::string& folder) : before_(std::filesystem::current_path()) {
        std::filesystem::current_path(folder);
    }
    At(const At&) = delete;
    At& operator=(const At&) = delete;
    ~At() { std::filesystem::current_path(before_); }

  private:
    std::filesystem::path before_;
};

/// A button of the shelf's papers, with the pointer or with keys alone.
bool take(Hands& hands, bool mouse, const std::string& id) {
    if (mouse) return hands.press(id);
    for (int i = 0; i < 6 && hands.app().keyboardOn() != id; ++i) hands.key(SDLK_TAB);
    for (int i = 0; i < 200 && hands.app().keyboardOn() != id; ++i) hands.key(SDLK_DOWN);
    if (hands.app().keyboardOn() != id) return false;
    hands.key(SDLK_SPACE);
    return true;
}

}  // namespace

TEST_CASE("a mending shown to a group: two keys suffice", "[window]") {
    const bool mouse = GENERATE(true, false);
    CAPTURE(mouse);
    const Scratch scratch;
    const At at(scratch.folder());
    Hands hands;
    const std::string mine = knotOf(hands.fabric());
    if (mouse) hands.app().ask(Ask::motion);  // none; with keys everything moves
    hands.key(SDLK_F2);
    REQUIRE(take(hands, mouse, "shelf.group"));
    REQUIRE(take(hands, mouse, "group.slack-or-straight.0"));
    REQUIRE(hands.app().showing() != nullptr);
    const Demonstration& shown = hands.app().showing()->now();
    REQUIRE(shown.moves() > 3);
    CHECK(hands.app().cloth().pictures() == 2);
    const auto forward = [&] { mouse ? (void)hands.press("show.on") : hands.key(SDLK_PAGEDOWN); };
    const auto back = [&] { mouse ? (void)hands.press("show.back") : hands.key(SDLK_PAGEUP); };
    std::vector<std::string> cloths = {knotOf(shown.fabric())};
    while (shown.at() < shown.moves()) {
        const int before = shown.at();
        forward();
        REQUIRE(shown.at() == before + 1);
        cloths.push_back(knotOf(shown.fabric()));
    }
    forward();  // nothing more
    CHECK(shown.at() == shown.moves());
    for (int i = shown.moves(); i > 2; --i) back();
    CHECK(shown.at() == 2);
    CHECK(knotOf(shown.fabric()) == cloths[2]);
    // Turned, the words are for the other side; the cloth stays as it is.
    const std::string words = shown.words();
    mouse ? (void)hands.press("show.turn") : hands.key(SDLK_t);
    CHECK(shown.words() != words);
    CHECK(knotOf(shown.fabric()) == cloths[2]);
    mouse ? (void)hands.press("show.turn") : hands.key(SDLK_t);
    CHECK(shown.words() == words);
    // By left hands, at the same move.
    mouse ? (void)hands.press("show.mirrored") : hands.key(SDLK_m);
    CHECK(hands.app().showing()->mirrored());
    CHECK(hands.app().showing()->now().at() == 2);
    mouse ? (void)hands.press("show.mirrored") : hands.key(SDLK_m);
    // Frozen, nothing moves; slowly, it comes to rest all the same.
    mouse ? (void)hands.press("show.freeze") : hands.key(SDLK_f);
    CHECK(hands.app().showing()->frozen);
    forward();
    mouse ? (void)hands.press("show.freeze") : hands.key(SDLK_f);
    mouse ? (void)hands.press("show.slow") : hands.key(SDLK_s);
    forward();
    CHECK(hands.app().showing()->now().at() == 4);
    CHECK(hands.app().settled());
    // The page to take home.
    REQUIRE(take(hands, mouse, "show.page"));
    REQUIRE(take(hands, mouse, "files.do"));
    const auto page = readFile(scratch.path("page.html"));
    REQUIRE(page);
    CHECK(page->find("<svg") != std::string::npos);
    // Away with it: her own work lies there as she left it.
    hands.key(SDLK_ESCAPE);
    hands.key(SDLK_ESCAPE);
    hands.key(SDLK_F2);
    CHECK(knotOf(hands.fabric()) == mine);
    CHECK(hands.app().cloth().pictures() == 1);
}

TEST_CASE("a piece of the free table is shown to a group", "[window]") {
    Hands hands;
    hands.key(SDLK_F2);
    REQUIRE(hands.press("shelf.free"));
    REQUIRE(hands.app().table().piece() != nullptr);
    HeldId h = hands.fabric()[hands.fabric().needle()].first;
    for (int i = 0; i < 7; ++i) h = hands.fabric()[h].next;
    LoopId stitch = hands.fabric()[h].loop;
    for (int i = 0; i < 3; ++i) stitch = hands.fabric().hostsRightToLeft(stitch).front();
    REQUIRE(hands.click(stitch));
    REQUIRE(hands.press("free.faults"));
    REQUIRE(hands.press("free.fault.0"));
    hands.key(SDLK_F2);
    REQUIRE(hands.press("shelf.group"));
    REQUIRE(hands.press("group.table"));
    REQUIRE(hands.app().showing() != nullptr);
    CHECK(hands.app().showing()->now().moves() > 0);
}

TEST_CASE("an exercise is practiced to its end, and its word gives it again", "[window]") {
    const bool mouse = GENERATE(true, false);
    CAPTURE(mouse);
    const Scratch scratch;
    std::string word;
    std::string cloth;
    {
        Hands hands(scratch.folder());
        hands.app().ask(Ask::motion);
        hands.key(SDLK_F2);
        REQUIRE(take(hands, mouse, "shelf.practice"));
        REQUIRE(take(hands, mouse, "practice.skill.knit-or-purl"));
        word = hands.session().lesson().id;
        REQUIRE(exerciseFrom(word));
        cloth = knotOf(hands.fabric());
        Pupil pupil(hands, mouse ? Pupil::By::mouse : Pupil::By::keyboard);
        const bool whole = pupil.lesson();
        INFO(pupil.stuck());
        REQUIRE(whole);
        CHECK(hands.app().learning().progress().find("knit-or-purl")->met());
    }
    Hands hands;
    hands.key(SDLK_F2);
    REQUIRE(hands.press("shelf.practice"));
    REQUIRE(hands.press("practice.word"));
    hands.type(word + "x");
    hands.key(SDLK_RETURN);
    CHECK(hands.session().lesson().id == "a-stitch-that-ran");  // no such word; said so
    CHECK_FALSE(hands.app().notice().empty());
    REQUIRE(hands.press("practice.word"));
    hands.key(SDLK_BACKSPACE);
    hands.key(SDLK_RETURN);
    CHECK(hands.session().lesson().id == word);
    CHECK(knotOf(hands.fabric()) == cloth);
}

TEST_CASE("what was done is copied, taken in and forgotten", "[window]") {
    const Scratch scratch;
    const Scratch other;
    const At at(scratch.folder());
    const std::string copy = scratch.path("my-steps.attempts");
    std::size_t steps = 0;
    {
        Hands hands(scratch.path("mine"), "", 1280, 800, "vs-and-bumps");
        Pupil pupil(hands, Pupil::By::mouse);
        for (int page = 0; page < 3; ++page) {
            REQUIRE(pupil.page());
            pupil.goOn();
        }
        steps = hands.app().learning().attempts().size();
        REQUIRE(steps > 0);
        hands.key(SDLK_F2);
        REQUIRE(hands.press("shelf.progress"));
        REQUIRE(hands.press("progress.export"));
        REQUIRE(hands.press("files.do"));
        REQUIRE(std::filesystem::exists(copy));
    }
    {
        Hands hands(scratch.path("hers"));
        CHECK(hands.app().learning().attempts().empty());
        hands.key(SDLK_F2);
        REQUIRE(hands.press("shelf.progress"));
        REQUIRE(hands.press("progress.import"));
        REQUIRE(hands.press("files.do"));
        CHECK(hands.app().learning().attempts().size() == steps);
        // Asked twice; the first answer that comes to hand leaves everything as it is.
        REQUIRE(hands.press("progress.forget"));
        REQUIRE(hands.press("progress.keep"));
        CHECK(hands.app().learning().attempts().size() == steps);
        REQUIRE(hands.press("progress.forget"));
        REQUIRE(hands.press("progress.forget.really"));
        CHECK(hands.app().learning().attempts().empty());
        CHECK_FALSE(std::filesystem::exists(scratch.path("hers/attempts.loopmend")));
        CHECK(hands.page().step == 1);
    }
    // Somebody else's is not touched, and goes on where it was left.
    Hands mine(scratch.path("mine"));
    CHECK(mine.page().step > 1);
    CHECK(mine.app().learning().attempts().size() == steps);
}

}  // namespace loopmend::app
