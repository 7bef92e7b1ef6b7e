// SPDX-License-Identifier: MIT
#include "window/hands.h"

#include <cstdlib>
#include <stdexcept>

#include <SDL.h>

#include "fabric/hands.h"

namespace loopmend::app {

Hands::Hands(const std::string& keep, const std::string& open, int width, int height,
             const std::string& lesson, int coarse) {
    ::setenv("LIBGL_ALWAYS_SOFTWARE", "1", 0);
    SDL_SetHint(SDL_HINT_VIDEODRIVER, "offscreen");
    SDL_SetMainReady();
    auto window = Window::open("test", width, height, coarse);
    if (!window) throw std::runtime_error(window.error());
    window_.emplace(std::move(*window));
    Start start;
    start.folder = keep;
    start.open = open;
    start.lesson = lesson;
    start.smooth = false;
    start.now = [this] { return now; };
    static const Uint32 kWake = SDL_RegisterEvents(1);
    start.wake = [] {
        SDL_Event event;
        SDL_zero(event);
        event.type = kWake;
        SDL_PushEvent(&event);
    };
    app_ = std::make_unique<App>(*window_, start);
    if (app_->unfit()) throw std::runtime_error(*app_->unfit());
    settle();
}

void Hands::push(SDL_Event event) {
    SDL_PushEvent(&event);
    settle();
}

void Hands::pointTo(PixelPoint at) {
    SDL_Event event;
    SDL_zero(event);
    event.type = SDL_MOUSEMOTION;
    event.motion.x = static_cast<int>(at.x);
    event.motion.y = static_cast<int>(at.y);
    push(event);
}

void Hands::click(PixelPoint at, int button) {
    pointTo(at);
    SDL_Event event;
    SDL_zero(event);
    event.button.button = static_cast<Uint8>(button);
    event.button.clicks = 1;
    event.button.x = static_cast<int>(at.x);
    event.button.y = static_cast<int>(at.y);
    event.type = SDL_MOUSEBUTTONDOWN;
    event.button.state = SDL_PRESSED;
    push(event);
    event.type = SDL_MOUSEBUTTONUP;
    event.button.state = SDL_RELEASED;
    push(event);
}

void Hands::drag(PixelPoint from, PixelPoint to) {
    pointTo(from);
    SDL_Event event;
    SDL_zero(event);
    event.button.button = SDL_BUTTON_MIDDLE;
    event.type = SDL_MOUSEBUTTONDOWN;
    event.button.x = static_cast<int>(from.x);
    event.button.y = static_cast<int>(from.y);
    holding_ = true;
    push(event);
    constexpr int kSteps = 6;
    for (int i = 1; i <= kSteps; ++i) {
        const double share = static_cast<double>(i) / kSteps;
        pointTo({from.x + share * (to.x - from.x), from.y + share * (to.y - from.y)});
    }
    holding_ = false;
    event.type = SDL_MOUSEBUTTONUP;
    event.button.x = static_cast<int>(to.x);
    event.button.y = static_cast<int>(to.y);
    push(event);
}

bool Hands::click(EntryId entry, int button) {
    const auto at = app_->drawnAt(entry);
    if (!at) return false;
    click(*at, button);
    return true;
}

bool Hands::isShown(const std::string& id) const {
    for (const Control& control : app_->controls()) {
        if (control.id == id) return true;
    }
    return false;
}

bool Hands::press(const std::string& id) {
    // Turned to with the wheel, as far as it takes.
    for (int turns = 0; turns < 60; ++turns) {
        const Control* found = nullptr;
        for (const Control& control : app_->controls()) {
            if (control.id == id && control.enabled) found = &control;
        }
        if (found == nullptr) return false;
        const PixelPoint middle{static_cast<double>(found->left + found->right) / 2,
                                static_cast<double>(found->top + found->bottom) / 2};
        if (found->inSight) {
            click(middle);
            return true;
        }
        const double height = window_->size().height;
        pointTo({middle.x, height / 2});
        SDL_Event event;
        SDL_zero(event);
        event.type = SDL_MOUSEWHEEL;
        event.wheel.y = middle.y > height / 2 ? -1 : 1;
        event.wheel.preciseY = static_cast<float>(event.wheel.y);
        push(event);
    }
    return false;
}

void Hands::key(int code, int mod) {
    SDL_Event event;
    SDL_zero(event);
    event.type = SDL_KEYDOWN;
    event.key.state = SDL_PRESSED;
    event.key.keysym.sym = code;
    event.key.keysym.mod = static_cast<Uint16>(mod);
    push(event);
    event.type = SDL_KEYUP;
    event.key.state = SDL_RELEASED;
    push(event);
}

void Hands::type(const std::string& text) {
    for (const char c : text) {
        SDL_Event event;
        SDL_zero(event);
        event.type = SDL_TEXTINPUT;
        event.text.text[0] = c;
        push(event);
    }
}

LoopId openStitch(const Fabric& f) {
    for (std::int32_t i = 0; i < f.entryCount(); ++i) {
        const LoopId loop{i};
        if (f.has(loop) && f.isLoop(loop) && f.isLive(loop) && f.isOpen(loop) && !f.isNothing(loop) &&
            f[loop].flags.anchored == 0) {
            return loop;
        }
    }
    return {};
}

}  // namespace loopmend::app
