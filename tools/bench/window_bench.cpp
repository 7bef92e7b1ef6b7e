// SPDX-License-Identifier: MIT
//
// The window, without a display: how long until it shows something, and how fast it draws. Needs software or
// other OpenGL; without it these are skipped.
#include <benchmark/benchmark.h>

#include <filesystem>
#include <fstream>
#include <optional>
#include <string>

#include <SDL.h>

#include "app/app.h"
#include "app/play.h"

namespace {

using namespace loopmend;
using namespace loopmend::app;

std::optional<Window> offscreen(benchmark::State& state) {
    SDL_SetHint(SDL_HINT_VIDEODRIVER, "offscreen");
    auto window = Window::open("bench", 1280, 800);
    if (!window) {
        state.SkipWithError(window.error().c_str());
        return std::nullopt;
    }
    return std::move(*window);
}

/// As the program does it: the cloth's thread wakes the window.
Start waking() {
    static const Uint32 kind = SDL_RegisterEvents(1);
    Start start;
    start.wake = [] {
        SDL_Event event;
        SDL_zero(event);
        event.type = kind;
        SDL_PushEvent(&event);
    };
    return start;
}

/// 30 stitches, 40 rows of plain knitting, as a pattern file.
std::string plainFile() {
    const std::string path = (std::filesystem::temp_directory_path() / "loopmend-bench-plain.txt").string();
    std::ofstream(path)
        << "Cast on 30 sts.\nRow 1 (RS): k to end.\nRow 2: p to end.\nRepeat rows 1-2 20 times.\n";
    return path;
}

void windowToFirstFrame(benchmark::State& state) {
    for (auto _ : state) {
        auto window = offscreen(state);
        if (!window) return;
        App app(*window, {});
        do {
            app.frame(0.03F);
            SDL_Delay(1);
        } while (app.cloth().shown().empty());
    }
}
BENCHMARK(windowToFirstFrame)->Unit(benchmark::kMillisecond)->UseRealTime();

/// A frame of the whole swatch while it is turned about.
void windowFrameWhileTurning(benchmark::State& state) {
    auto window = offscreen(state);
    if (!window) return;
    Start start = waking();
    start.open = plainFile();
    App app(*window, start);
    settle(app, 60);
    bool left = false;
    int n = 0;
    for (auto _ : state) {
        app.ask(left ? Ask::turnLeft : Ask::turnRight);
        if (++n % 8 == 0) left = !left;
        app.frame(0.03F);
    }
}
BENCHMARK(windowFrameWhileTurning)->Unit(benchmark::kMillisecond)->UseRealTime();

/// A hand move until the window shows its first result, and until the cloth lies still again.
void windowHandMove(benchmark::State& state) {
    auto window = offscreen(state);
    if (!window) return;
    App app(*window, waking());
    settle(app, 60);
    for (auto _ : state) {
        Session& session = *app.table().session();
        if (const auto move = session.shownMove()) {
            app.table().perform(*move);
        } else {
            app.table().undo();
        }
        settle(app, 60);
    }
}
BENCHMARK(windowHandMove)->Unit(benchmark::kMillisecond)->UseRealTime();

}  // namespace
