// SPDX-License-Identifier: MIT
#include "app/window.h"

#include <cstring>
#include <utility>

#include <SDL.h>
#include <fmt/format.h>

namespace loopmend::app {

struct Window::State {
    SDL_Window* window = nullptr;
    SDL_GLContext context = nullptr;
    bool video = false;
    int coarse = 1;

    State() = default;
    State(const State&) = delete;
    State& operator=(const State&) = delete;
    ~State() {
        if (context != nullptr) SDL_GL_DeleteContext(context);
        if (window != nullptr) SDL_DestroyWindow(window);
        if (video) SDL_QuitSubSystem(SDL_INIT_VIDEO | SDL_INIT_EVENTS);
    }
};

Window::Window(std::unique_ptr<State> state) : state_(std::move(state)) {}
Window::Window(Window&&) noexcept = default;
Window& Window::operator=(Window&&) noexcept = default;
Window::~Window() = default;

tl::expected<Window, std::string> Window::open(const std::string& title, int width, int height, int coarse) {
    auto state = std::make_unique<State>();
    state->coarse = coarse;
    if (SDL_InitSubSystem(SDL_INIT_VIDEO | SDL_INIT_EVENTS) != 0) {
        return tl::make_unexpected(fmt::format("no display could be opened ({})", SDL_GetError()));
    }
    state->video = true;
    SDL_GL_SetAttribute(SDL_GL_CONTEXT_PROFILE_MASK, SDL_GL_CONTEXT_PROFILE_CORE);
    SDL_GL_SetAttribute(SDL_GL_CONTEXT_MAJOR_VERSION, 3);
    SDL_GL_SetAttribute(SDL_GL_CONTEXT_MINOR_VERSION, 3);
    SDL_GL_SetAttribute(SDL_GL_DOUBLEBUFFER, 1);
    SDL_GL_SetAttribute(SDL_GL_DEPTH_SIZE, 0);  // the cloth is drawn into a framebuffer of its own
    state->window =
        SDL_CreateWindow(title.c_str(), SDL_WINDOWPOS_CENTERED, SDL_WINDOWPOS_CENTERED, width, height,
                         SDL_WINDOW_OPENGL | SDL_WINDOW_RESIZABLE | SDL_WINDOW_ALLOW_HIGHDPI);
    if (state->window == nullptr) {
        return tl::make_unexpected(fmt::format("no window with OpenGL could be opened ({})", SDL_GetError()));
    }
    SDL_SetWindowMinimumSize(state->window, 800, 560);
    state->context = SDL_GL_CreateContext(state->window);
    if (state->context == nullptr) {
        return tl::make_unexpected(fmt::format(
            "this machine offers no OpenGL 3.3, which the cloth is drawn with ({})", SDL_GetError()));
    }
    SDL_GL_MakeCurrent(state->window, state->context);
    SDL_GL_SetSwapInterval(1);
    SDL_StartTextInput();
    return Window(std::move(state));
}

Window::Size Window::size() const {
    Size size;
    SDL_GetWindowSize(state_->window, &size.width, &size.height);
    return size;
}

Window::Size Window::pixels() const {
    Size size;
    SDL_GL_GetDrawableSize(state_->window, &size.width, &size.height);
    return {size.width / state_->coarse, size.height / state_->coarse};
}

bool Window::hasDisplay() const {
    const char* driver = SDL_GetCurrentVideoDriver();
    return driver != nullptr && std::strcmp(driver, "offscreen") != 0 && std::strcmp(driver, "dummy") != 0;
}

void Window::present() {
    SDL_GL_SwapWindow(state_->window);
}

void Window::setTitle(const std::string& title) {
    SDL_SetWindowTitle(state_->window, title.c_str());
}

SDL_Window* Window::handle() const {
    return state_->window;
}

}  // namespace loopmend::app
