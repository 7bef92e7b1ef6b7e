// SPDX-License-Identifier: MIT
#include "app/play.h"

#include <chrono>
#include <filesystem>

#include <SDL.h>
#include <fmt/format.h>

#include "app/app.h"

namespace loopmend::app {

void settle(App& app, double mostSeconds) {
    using Clock = std::chrono::steady_clock;
    const Clock::time_point begun = Clock::now();
    app.wantFrame();
    do {
        SDL_Event event;
        while (SDL_PollEvent(&event) != 0) app.handle(event);
        if (app.wantsFrame()) {
            app.frame(1.0F / 30);
        } else {
            SDL_Delay(2);
        }
    } while (!app.settled() && std::chrono::duration<double>(Clock::now() - begun).count() < mostSeconds);
}

namespace {

/// Does for one page what it asks: shown moves, else answers in turn, else points at what the hints light.
bool doPage(App& app) {
    Session& session = *app.table().session();
    for (int guard = 0; guard < 200 && !session.canGoOn(); ++guard) {
        if (const auto move = session.shownMove()) {
            if (!app.table().perform(*move)) return false;
            settle(app);
            continue;
        }
        const Page& page = session.page();
        bool answered = false;
        for (std::size_t i = 0; i < page.choices.size() && !answered; ++i) {
            if (page.choices[i].state == ChoiceState::open) {
                app.ask(Ask::choose, static_cast<int>(i));
                settle(app);
                answered = true;
            }
        }
        if (answered) continue;
        if (page.hasHint) {
            app.ask(Ask::hint);
            settle(app);
            continue;
        }
        return false;
    }
    return session.canGoOn();
}

}  // namespace

tl::expected<std::string, std::string> play(App& app, const std::string& folder) {
    std::error_code error;
    std::filesystem::create_directories(folder, error);
    if (error) return tl::make_unexpected(fmt::format("the folder {} cannot be made ({})", folder, error.message()));
    Session* session = app.table().session();
    if (session == nullptr) return tl::make_unexpected(std::string("there is no lesson on the table"));
    int shot = 0;
    const auto keep = [&]() { return writePng(app.picture(), fmt::format("{}/{:02}.png", folder, ++shot)); };
    for (;;) {
        settle(app);
        if (const auto kept = keep(); !kept) return tl::make_unexpected(kept.error());
        if (!doPage(app)) return tl::make_unexpected("the page \"" + session->page().heading + "\" could not be played");
        settle(app);
        if (const auto kept = keep(); !kept) return tl::make_unexpected(kept.error());
        if (session->page().step == session->page().steps) break;
        app.ask(Ask::goOn);
    }
    return fmt::format("Played; {} pictures lie in {}", shot, folder);
}

}  // namespace loopmend::app
