// SPDX-License-Identifier: MIT
#include "app/play.h"

#include <algorithm>
#include <chrono>
#include <filesystem>
#include <utility>

#include <SDL.h>
#include <fmt/format.h>

#include "app/app.h"
#include "tutor/solver.h"

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

/// Pictures made a third as large and laid in rows of four.
class Strip {
  public:
    void add(const Pixels& picture) {
        Pixels small;
        small.width = picture.width / kShrink;
        small.height = picture.height / kShrink;
        for (int y = 0; y < small.height; ++y) {
            for (int x = 0; x < small.width; ++x) {
                for (int channel = 0; channel < 4; ++channel) {
                    int sum = 0;
                    for (int k = 0; k < kShrink * kShrink; ++k) {
                        sum += picture.rgba[at(picture, x * kShrink + k % kShrink, y * kShrink + k / kShrink,
                                               channel)];
                    }
                    small.rgba.push_back(static_cast<std::uint8_t>(sum / (kShrink * kShrink)));
                }
            }
        }
        pictures_.push_back(std::move(small));
    }

    Pixels sheet() const {
        Pixels sheet;
        if (pictures_.empty()) return sheet;
        const int w = pictures_.front().width + kGap;
        const int h = pictures_.front().height + kGap;
        const int rows = (static_cast<int>(pictures_.size()) + kColumns - 1) / kColumns;
        sheet.width = kColumns * w + kGap;
        sheet.height = rows * h + kGap;
        sheet.rgba.assign(static_cast<std::size_t>(sheet.width) * static_cast<std::size_t>(sheet.height) * 4,
                          255);
        for (std::size_t i = 0; i < pictures_.size(); ++i) {
            const Pixels& picture = pictures_[i];
            const int left = static_cast<int>(i) % kColumns * w + kGap;
            const int top = static_cast<int>(i) / kColumns * h + kGap;
            for (int y = 0; y < picture.height; ++y) {
                const auto from = picture.rgba.begin() + static_cast<std::ptrdiff_t>(at(picture, 0, y, 0));
                std::copy(from, from + static_cast<std::ptrdiff_t>(picture.width) * 4,
                          sheet.rgba.begin() + static_cast<std::ptrdiff_t>(at(sheet, left, top + y, 0)));
            }
        }
        return sheet;
    }

  private:
    static std::size_t at(const Pixels& picture, int x, int y, int channel) {
        return (static_cast<std::size_t>(y) * static_cast<std::size_t>(picture.width) +
                static_cast<std::size_t>(x)) *
                   4 +
               static_cast<std::size_t>(channel);
    }

    static constexpr int kShrink = 3;
    static constexpr int kColumns = 4;
    static constexpr int kGap = 6;
    std::vector<Pixels> pictures_;
};

class Player {
  public:
    Player(App& app, std::string folder) : app_(app), folder_(std::move(folder)) {}

    tl::expected<std::vector<PlayedPage>, std::string> run() {
        std::vector<PlayedPage> pages;
        for (;;) {
            pictures_.clear();
            show();
            if (!doPage()) {
                return tl::make_unexpected(
                    fmt::format("the page \"{}\" could not be played", session().page().heading));
            }
            show();
            if (!trouble_.empty()) return tl::make_unexpected(trouble_);
            pages.push_back({session().page(), pictures_});
            if (session().done()) break;
            ask(Ask::goOn);
        }
        if (const auto written = writePng(strip_.sheet(), folder_ + "/strip.png"); !written) {
            return tl::make_unexpected(written.error());
        }
        return pages;
    }

  private:
    Session& session() { return *app_.table().session(); }

    void ask(Ask what, int n = 0) {
        app_.ask(what, n);
        settle(app_);
    }

    void show() {
        settle(app_);
        const std::string name = fmt::format("{:02}.png", ++count_);
        const Pixels picture = app_.picture();
        strip_.add(picture);
        if (const auto written = writePng(picture, folder_ + "/" + name)) {
            pictures_.push_back(name);
        } else {
            trouble_ = written.error();
        }
    }

    /// Each move is shown before it is done.
    bool followMoves() {
        for (int n = 0; n < kMost && !session().canGoOn(); ++n) {
            while (!session().shownMove() && session().page().hasHint) ask(Ask::hint);
            const auto move = session().shownMove();
            if (!move) return solvePage(session());
            show();
            if (!app_.table().perform(*move)) return false;
        }
        return session().canGoOn();
    }

    bool doPage() {
        if (session().canGoOn()) return true;
        switch (session().step()) {
            case StepKind::makeSafe:
            case StepKind::putRight:
                if (!followMoves()) return false;
                break;
            case StepKind::look:
                ask(Ask::turnOver);
                show();
                ask(Ask::turnOver);
                [[fallthrough]];
            default: (void)solvePage(session()); break;
        }
        const bool last = session().page().step == session().page().steps;
        return session().canGoOn() || last;
    }

    static constexpr int kMost = 200;

    App& app_;
    std::string folder_;
    std::vector<std::string> pictures_;
    std::string trouble_;
    int count_ = 0;
    Strip strip_;
};

}  // namespace

tl::expected<std::vector<PlayedPage>, std::string> play(App& app, const std::string& folder) {
    std::error_code error;
    std::filesystem::create_directories(folder, error);
    if (error)
        return tl::make_unexpected(fmt::format("the folder {} cannot be made ({})", folder, error.message()));
    if (app.table().session() == nullptr)
        return tl::make_unexpected(std::string("there is no lesson on the table"));
    return Player(app, folder).run();
}

}  // namespace loopmend::app
