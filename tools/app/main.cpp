// SPDX-License-Identifier: MIT
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <exception>
#include <filesystem>
#include <string>
#include <utility>

#include <SDL.h>
#include <fmt/format.h>
#include <CLI/CLI.hpp>

#include "app/app.h"
#include "app/play.h"
#include "picture/paper/handout_paper.h"
#include "store/files.h"
#include "tutor/lesson_handout.h"

namespace {

using loopmend::app::App;
using loopmend::app::Start;
using loopmend::app::Window;

/// Where a person's settings and progress are kept, as the XDG base directory specification has it.
std::string dataFolder() {
    const auto variable = [](const char* name) {
        const char* value = std::getenv(name);
        return std::string(value == nullptr ? "" : value);
    };
    if (const std::string data = variable("XDG_DATA_HOME"); !data.empty()) return data + "/loopmend";
    if (const std::string home = variable("HOME"); !home.empty()) return home + "/.local/share/loopmend";
    return {};
}

/// Sleeps until something happens; draws only when something changed.
void run(App& app) {
    using Clock = std::chrono::steady_clock;
    Clock::time_point last = Clock::now();
    while (!app.wantsToClose()) {
        SDL_Event event;
        const bool came = app.wantsFrame() ? SDL_PollEvent(&event) != 0 : SDL_WaitEvent(&event) != 0;
        if (came) {
            app.handle(event);
            while (SDL_PollEvent(&event) != 0) app.handle(event);
        }
        const Clock::time_point now = Clock::now();
        // After a sleep the first frame goes on from where things were.
        const float seconds = std::min(0.05F, std::chrono::duration<float>(now - last).count());
        last = now;
        if (app.wantsFrame()) app.frame(seconds);
    }
}

tl::expected<void, std::string> playInto(App& app, const std::string& folder) {
    const auto played = loopmend::app::play(app, folder);
    if (!played) return tl::unexpected<std::string>(played.error());
    const loopmend::Session& session = *app.table().session();
    const loopmend::Handout handout =
        loopmend::handoutOf(session.lesson(), session.terms(), session.mirrored());
    const auto pdf = loopmend::pdfOf(handout);
    if (!pdf) return tl::unexpected<std::string>(pdf.error());
    for (const auto& [name, bytes] :
         {std::pair("/handout.html", htmlOf(handout)), std::pair("/handout.pdf", *pdf)}) {
        if (const auto written = loopmend::writeFile(folder + name, bytes); !written) {
            return tl::unexpected<std::string>(written.error().message);
        }
    }
    fmt::print("Played {} pages: {}/strip.png shows them, {}/handout.html is the page to take home.\n",
               played->size(), folder, folder);
    return {};
}

int cannot(const std::string& why) {
    fmt::print(stderr, "loopmend: {}\n", why);
    return 2;
}

int program(int argc, char** argv) {
    CLI::App options{
        "Loopmend: learn to read your knitting, find the mistake, and put it right.\n"
        "Example: loopmend my-pattern.txt"};
    Start start;
    std::string folder;
    int width = 1280;
    int height = 800;
    start.folder = dataFolder();
    start.now = [] { return static_cast<std::int64_t>(std::time(nullptr)); };
    options.add_option("FILE", start.open, "A written pattern, a saved table or a lesson to begin with");
    options.add_option("--lesson", start.lesson,
                       "The lesson to begin with, by its id, or an exercise by its word");
    options.add_option("--lessons", start.lessons,
                       "The folder of the course, if not the one that comes with it");
    options.add_option("--play", folder, "Plays the lesson by itself into pictures and a page in FOLDER");
    options.add_option("--data", start.folder, "Where settings and progress are kept");
    options.add_option("--width", width, "Of the window")->check(CLI::Range(800, 8000));
    options.add_option("--height", height, "Of the window")->check(CLI::Range(560, 8000));
    options.set_version_flag("--version", LOOPMEND_VERSION);
    CLI11_PARSE(options, argc, argv);

    if (!folder.empty()) {
        SDL_SetHint(SDL_HINT_VIDEODRIVER, "offscreen");
        start.folder.clear();
    }
    SDL_SetMainReady();
    auto window = Window::open("Loopmend", width, height);
    if (!window) {
        return cannot(window.error() +
                      "; the command line, loopmend-cli, works without a window (try loopmend-cli --help)");
    }
    // Without a display SDL may fall back on a driver that shows nothing: nobody would ever see the window.
    if (folder.empty() && !window->hasDisplay()) {
        return cannot(
            "there is no display to open a window on; --play FOLDER plays the lesson without one, and the "
            "command line, loopmend-cli, needs none (try loopmend-cli --help)");
    }
    const Uint32 wake = SDL_RegisterEvents(1);
    start.wake = [wake] {
        SDL_Event event;
        SDL_zero(event);
        event.type = wake;
        SDL_PushEvent(&event);
    };
    App app(*window, start);
    if (app.unfit()) {
        return cannot(*app.unfit() +
                      "; the command line, loopmend-cli, works without it (try loopmend-cli --help)");
    }
    if (!start.lesson.empty() &&
        (app.table().session() == nullptr || app.table().session()->lesson().id != start.lesson))
        return cannot("there is no lesson or exercise called " + start.lesson +
                      " (loopmend-cli lesson list shows them)");
    if (!folder.empty()) {
        if (const auto played = playInto(app, folder); !played) return cannot(played.error());
        return 0;
    }
    run(app);
    return 0;
}

}  // namespace

int main(int argc, char** argv) {
    try {
        return program(argc, argv);
    } catch (const std::exception& broken) {
        std::fputs("loopmend: this should not have happened: ", stderr);
        std::fputs(broken.what(), stderr);
        std::fputs("\n", stderr);
        return 2;
    }
}
