// SPDX-License-Identifier: MIT
#pragma once

#include <memory>
#include <string>

#include <tl/expected.hpp>

struct SDL_Window;

namespace loopmend::app {

/// The one window of the program, with an OpenGL 3.3 core context that is current while it lives.
class Window {
  public:
    /// Width and height in screen units. The failure is one sentence: there is no display, or no OpenGL 3.3.
    /// coarse: pixels of the screen to one that is drawn, each way; above 1 for runs that nobody looks at, in
    /// which software draws.
    static tl::expected<Window, std::string> open(const std::string& title, int width, int height,
                                                  int coarse = 1);

    Window(Window&&) noexcept;
    Window& operator=(Window&&) noexcept;
    ~Window();

    struct Size {
        int width = 0;
        int height = 0;
    };
    Size size() const;        ///< in the units of mouse positions
    Size pixels() const;      ///< that are drawn
    bool hasDisplay() const;  ///< false with a driver that shows nothing (offscreen)
    void present();
    void setTitle(const std::string& title);
    SDL_Window* handle() const;

  private:
    struct State;
    explicit Window(std::unique_ptr<State> state);
    std::unique_ptr<State> state_;
};

}  // namespace loopmend::app
