// SPDX-License-Identifier: MIT
// The course through the real window: lessons of different kinds from the shelf, practice, and a mending
// shown to a group; by mouse and by keyboard.
#include <catch2/catch.hpp>

#include <algorithm>
#include <filesystem>
#include <string>
#include <vector>

#include <SDL.h>

#include "fabric/itinerary.h"
#include "store/files.h"
#include "store/scratch.h"
#include "window/pupil.h"

namespace loopmend::app {
namespace {

/// From the shelf, by hands.
bool takeFromShelf(Hands& hands, Pupil::By by, const std::string& id) {
    hands.key(SDLK_F2);
    if (by == Pupil::By::mouse) return hands.press(id);
    for (int i = 0; i < 200 && hands.app().keyboardOn() != id; ++i) hands.key(SDLK_DOWN);
    if (hands.app().keyboardOn() != id) return false;
    hands.key(SDLK_RETURN);
    return true;
}

}  // namespace

TEST_CASE("lessons of different kinds from the shelf to their end", "[window]") {
    struct Journey {
        const char* id;
        Pupil::By by;
    };
    // Reading only; a ladder in a ground with purls; three pieces, one of them without a mistake.
    const Journey journey = GENERATE(
        Journey{"vs-and-bumps", Pupil::By::mouse}, Journey{"vs-and-bumps", Pupil::By::keyboard},
        Journey{"ladder-in-a-rib", Pupil::By::mouse}, Journey{"ladder-in-a-rib", Pupil::By::keyboard},
        Journey{"will-it-run", Pupil::By::mouse}, Journey{"will-it-run", Pupil::By::keyboard});
    const std::string id = journey.id;
    const Pupil::By by = journey.by;
    CAPTURE(id, by == Pupil::By::mouse);
    const Scratch scratch;
    Hands hands(scratch.folder());
    hands.app().ask(Ask::motion);  // none: the way there is other tests' business
    REQUIRE(takeFromShelf(hands, by, "shelf.lesson." + id));
    REQUIRE(hands.session().lesson().id == id);
    Pupil pupil(hands, by);
    const bool whole = pupil.lesson();
    INFO(pupil.stuck());
    REQUIRE(whole);
    CHECK(hands.app().learning().progress().finished.count(id) == 1);
    CHECK_FALSE(hands.app().learning().attempts().empty());
    for (const Attempt& attempt : hands.app().learning().attempts()) {
        CHECK(attempt.lesson == id);
        CHECK(attempt.at == hands.now);
        CHECK_FALSE(attempt.run.empty());
    }
    // On the shelf it lies finished, and can be taken again from the start.
    pupil.goOn();
    REQUIRE(hands.isShown("shelf.lesson." + id));
    REQUIRE(hands.press("shelf.lesson." + id));
    CHECK(hands.page().step == 1);
}

TEST_CASE("an author tries her own lesson from its file; what is wrong in it is told", "[window]") {
    const Scratch scratch;
    const auto text = readFile(std::string(LOOPMEND_SOURCE_DIR) + "/lessons/vs-and-bumps.json");
    REQUIRE(text);
    const std::string title = "\"title\": \"";
    std::string own = *text;
    own.insert(own.find(title) + title.size(), "My own: ");
    const std::string sound = scratch.path("sound.json");
    REQUIRE(writeFile(sound, own));
    std::string broken = own;
    const std::string step = "\"look\"";
    REQUIRE(broken.find(step) != std::string::npos);
    broken.replace(broken.find(step), step.size(), "\"lok\"");
    const std::string file = scratch.path("broken.json");
    REQUIRE(writeFile(file, broken));
    const std::string kept = scratch.path("kept");
    {
        Hands hands(kept, file);
        CHECK(hands.app().notice().find("broken.json") != std::string::npos);
        CHECK(hands.app().notice().find("steps") != std::string::npos);
        CHECK(hands.session().lesson().id == "a-stitch-that-ran");
    }
    Hands hands(kept, sound);
    REQUIRE(hands.session().lesson().id == "vs-and-bumps");
    CHECK(hands.session().lesson().title.find("My own: ") == 0);
    Pupil pupil(hands, Pupil::By::keyboard);
    const bool whole = pupil.lesson();
    INFO(pupil.stuck());
    REQUIRE(whole);
    // What she tried is not what she learned: the lesson of the course still waits.
    CHECK(hands.app().learning().progress().finished.count("vs-and-bumps") == 0);
}

}  // namespace loopmend::app
