// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <string>
#include <vector>

union SDL_Event;

namespace loopmend::app {

/// A key as it was pressed: SDL's key code and what was held with it.
struct KeyPress {
    int code = 0;
    bool shift = false;
    bool control = false;
};

/// What hands did since the last frame, taken from SDL events alone (so that a test which pushes events
/// drives the program exactly as hands do, with or without a display). Positions in window units from the top
/// left corner.
struct Input {
    float x = -1e6F;  ///< of the pointer; far outside until it has moved
    float y = -1e6F;
    bool moved = false;             ///< the pointer moved since the last frame
    std::array<bool, 3> down{};     ///< left, right, middle
    std::array<bool, 3> pressed{};  ///< went down since the last frame, even if it is up again
    std::array<bool, 3> released{};
    float wheel = 0;  ///< notches away from her
    bool shift = false;
    bool control = false;
    std::vector<KeyPress> keys;        ///< pressed (or repeated) since the last frame
    std::string text;                  ///< typed, UTF-8
    std::vector<std::string> dropped;  ///< files dropped on the window
    bool quit = false;

    /// True if the event is of interest.
    bool take(const SDL_Event& event);
    /// After a frame: forgets presses, keeps what is held.
    void endFrame();
    /// Hands pointer and buttons to Dear ImGui, whose frame is about to begin, and what was typed.
    void toWidgets(float width, float height, float seconds) const;
};

}  // namespace loopmend::app
