// SPDX-License-Identifier: MIT
// What stays: settings and progress between two runs, tables through a kill, and a plain word where there is
// no window to be had.
#include <catch2/catch.hpp>

#include <sys/wait.h>
#include <unistd.h>

#include <csignal>
#include <cstdlib>
#include <filesystem>
#include <string>

#include <SDL.h>

#include "fabric/itinerary.h"
#include "store/files.h"
#include "store/scratch.h"
#include "store/settings_file.h"
#include "store/table_file.h"
#include "window/hands.h"

namespace loopmend::app {
namespace {

Work scarf() {
    Script script;
    script.castOn = 12;
    for (int number = 1; number <= 8; ++number) {
        WorkedRow row;
        row.number = row.printed = number;
        row.facing = number % 2 == 1 ? Facing::right : Facing::wrong;
        Step step;
        step.op = number % 2 == 1 ? Op::knit : Op::purl;
        row.steps.assign(12, step);
        script.rows.push_back(row);
    }
    auto knitting = knit(script);
    REQUIRE(knitting);
    return Work(std::move(*knitting));
}

}  // namespace

TEST_CASE("settings and progress are there again in the next run", "[window]") {
    const Scratch scratch;
    std::string cloth;
    int step = 0;
    {
        Hands hands(scratch.folder());
        hands.key(SDLK_5);
        const LoopId open = openStitch(hands.fabric());
        REQUIRE(hands.click(open));
        hands.key(SDLK_RETURN);
        cloth = knotOf(hands.fabric());
        step = hands.page().step;
        CHECK(step == 2);
        hands.key(SDLK_F2);
        REQUIRE(hands.press("shelf.liking"));
        REQUIRE(hands.press("shelf.ground"));
        REQUIRE(hands.press("shelf.words"));
        REQUIRE(hands.press("shelf.motion"));
        REQUIRE(hands.press("shelf.larger"));
        CHECK(hands.app().settings().dark);
    }
    {
        Hands hands(scratch.folder());
        CHECK(hands.app().settings().dark);
        CHECK(hands.app().settings().ukWords);
        CHECK(hands.app().settings().reducedMotion);
        CHECK(hands.app().settings().textSize > 1.05F);
        CHECK(hands.page().step == step);
        CHECK(knotOf(hands.fabric()) == cloth);
    }
    // A damaged file is put aside, said so, and the program begins all the same.
    const std::string settings = scratch.path("settings.loopmend");
    REQUIRE(writeFile(settings, "loopmend settings 1\nground da"));
    Hands hands(scratch.folder());
    CHECK_FALSE(hands.app().settings().dark);
    CHECK(std::filesystem::exists(settings + ".kept"));
    // How far the lesson has come lies in a file of its own.
    CHECK(hands.page().step == step);
    CHECK(knotOf(hands.fabric()) == cloth);
}

TEST_CASE("what an earlier version kept in its settings is found again", "[window]") {
    const Scratch scratch;
    const std::string settings = scratch.path("settings.loopmend");
    KeptSettings old;
    old.dark = true;
    old.lesson = "a-stitch-that-ran";
    old.unknown = {{"of-a-newer-one", "kept"}};
    std::string cloth;
    {
        Hands hands;
        hands.key(SDLK_5);
        REQUIRE(hands.click(openStitch(hands.fabric())));
        hands.key(SDLK_RETURN);
        old.lessonText = hands.session().text();
        cloth = knotOf(hands.fabric());
    }
    MachineDisk disk;
    REQUIRE(writeSettings(disk, settings, old));
    for (int start = 0; start < 2; ++start) {
        Hands hands(scratch.folder());
        CHECK(hands.app().settings().dark);
        CHECK(hands.page().step == 2);
        CHECK(knotOf(hands.fabric()) == cloth);
    }
    const SettingsRead now = readSettings(disk, settings);
    CHECK(now.settings.lessonText.empty());
    CHECK(now.settings.unknown == old.unknown);
}

TEST_CASE("a damaged file of progress is put aside, and the others are not touched", "[window]") {
    KeptLesson kept;
    kept.id = "hook-it-up";
    kept.run = "17-3";
    kept.text = "one\ntwo\\three\r";
    kept.ended = true;
    kept.at = 1'790'000'000;
    const std::string text = progressText(kept);
    const auto again = progressFromText(text);
    REQUIRE(again);
    CHECK(*again == kept);
    for (std::size_t n = 0; n < text.size(); ++n) CHECK_FALSE(progressFromText(text.substr(0, n)));
    for (std::size_t n = 0; n < text.size(); ++n) {
        std::string spoiled = text;
        spoiled[n] = static_cast<char>(spoiled[n] ^ 1);
        CHECK_FALSE(progressFromText(spoiled));
    }
    const Scratch scratch;
    std::filesystem::create_directories(scratch.path("lessons"));
    const std::string file = scratch.path("lessons/hook-it-up.progress");
    const std::string bad = scratch.path("lessons/will-it-run.progress");
    REQUIRE(writeFile(file, text));
    REQUIRE(writeFile(bad, text.substr(0, 40)));
    Keeping keeping(scratch.folder());
    const Keeping::Kept read = keeping.read();
    CHECK(read.trouble.find("will-it-run") != std::string::npos);
    REQUIRE(keeping.lesson("hook-it-up") != nullptr);
    CHECK(*keeping.lesson("hook-it-up") == kept);
    CHECK(std::filesystem::exists(bad + ".kept"));
    CHECK_FALSE(std::filesystem::exists(bad));
}

TEST_CASE("a program killed while it saves loses neither table nor settings", "[window]") {
    const Scratch scratch;
    const std::string table = scratch.path("scarf.table");
    const std::string settings = scratch.path("settings");
    MachineDisk disk;
    Work work = scarf();
    REQUIRE(writeTable(disk, table, work, {}));
    REQUIRE(writeSettings(disk, settings, {}));
    const int rounds = 12;
    for (int round = 0; round < rounds; ++round) {
        const pid_t child = ::fork();
        REQUIRE(child >= 0);
        if (child == 0) {
            // Saves, moves, saves, till it is killed.
            MachineDisk own;
            Move turn;
            for (std::size_t i = 0;; ++i) {
                if (work.done().size() > 40) work.undoAll();
                (void)work.perform(turn);
                KeptSettings kept;
                kept.lessonText = std::string(200 * (i % 30), 'x');
                (void)writeTable(own, table, work, {});
                (void)writeSettings(own, settings, kept);
            }
        }
        ::usleep(static_cast<useconds_t>(4000 + 3700 * round));
        REQUIRE(::kill(child, SIGKILL) == 0);
        int status = 0;
        REQUIRE(::waitpid(child, &status, 0) == child);
        CHECK(WIFSIGNALED(status));
        const auto read = readTable(disk, table);
        REQUIRE(read);
        CHECK(knotOf(read->work.fabric()) == work.start().lines.knot);
        CHECK(readSettings(disk, settings).trouble.empty());
    }
}

TEST_CASE("without a display the program says one sentence and ends", "[window]") {
    // The one driver has no OpenGL, the other one has, but shows its windows to nobody.
    const std::string driver = GENERATE("dummy", "offscreen");
    const Scratch scratch;
    const std::string said = scratch.path("said");
    const std::string line = "SDL_VIDEODRIVER=" + driver + " '" LOOPMEND_WINDOW "' --data '" +
                             scratch.folder() + "' >'" + said + "' 2>&1";
    const int status = std::system(line.c_str());
    REQUIRE(WIFEXITED(status));
    CHECK(WEXITSTATUS(status) == 2);
    const auto words = readFile(said);
    REQUIRE(words);
    CHECK(words->rfind("loopmend: ", 0) == 0);
    CHECK(words->find("loopmend-cli") != std::string::npos);
    CHECK(words->find('\n') == words->size() - 1);
}

}  // namespace loopmend::app
