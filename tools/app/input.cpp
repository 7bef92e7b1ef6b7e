// SPDX-License-Identifier: MIT
#include "app/input.h"

#include <algorithm>
#include <utility>

#include <SDL.h>
#include <imgui.h>

namespace loopmend::app {

namespace {

int buttonOf(int sdl) {
    switch (sdl) {
        case SDL_BUTTON_LEFT: return 0;
        case SDL_BUTTON_RIGHT: return 1;
        case SDL_BUTTON_MIDDLE: return 2;
        default: return -1;
    }
}

/// Keys that a field of text understands, and where Dear ImGui is told of them.
constexpr std::array<std::pair<ImGuiKey, int>, 15> kFieldKeys = {{{ImGuiKey_LeftArrow, SDLK_LEFT},
                                                                  {ImGuiKey_RightArrow, SDLK_RIGHT},
                                                                  {ImGuiKey_UpArrow, SDLK_UP},
                                                                  {ImGuiKey_DownArrow, SDLK_DOWN},
                                                                  {ImGuiKey_Home, SDLK_HOME},
                                                                  {ImGuiKey_End, SDLK_END},
                                                                  {ImGuiKey_Delete, SDLK_DELETE},
                                                                  {ImGuiKey_Backspace, SDLK_BACKSPACE},
                                                                  {ImGuiKey_Enter, SDLK_RETURN},
                                                                  {ImGuiKey_KeyPadEnter, SDLK_KP_ENTER},
                                                                  {ImGuiKey_Escape, SDLK_ESCAPE},
                                                                  {ImGuiKey_A, SDLK_a},
                                                                  {ImGuiKey_C, SDLK_c},
                                                                  {ImGuiKey_V, SDLK_v},
                                                                  {ImGuiKey_X, SDLK_x}}};

}  // namespace

bool Input::take(const SDL_Event& event) {
    switch (event.type) {
        case SDL_QUIT: quit = true; return true;
        case SDL_MOUSEMOTION:
            x = static_cast<float>(event.motion.x);
            y = static_cast<float>(event.motion.y);
            moved = true;
            return true;
        case SDL_MOUSEBUTTONDOWN:
        case SDL_MOUSEBUTTONUP: {
            const int button = buttonOf(event.button.button);
            if (button < 0) return false;
            x = static_cast<float>(event.button.x);
            y = static_cast<float>(event.button.y);
            const auto i = static_cast<std::size_t>(button);
            down[i] = event.type == SDL_MOUSEBUTTONDOWN;
            (down[i] ? pressed : released)[i] = true;
            return true;
        }
        case SDL_MOUSEWHEEL: wheel += event.wheel.preciseY; return true;
        case SDL_KEYDOWN: {
            const bool shiftHeld = (event.key.keysym.mod & KMOD_SHIFT) != 0;
            const bool controlHeld = (event.key.keysym.mod & KMOD_CTRL) != 0;
            keys.push_back({event.key.keysym.sym, shiftHeld, controlHeld});
            [[fallthrough]];
        }
        case SDL_KEYUP:
            shift = (event.key.keysym.mod & KMOD_SHIFT) != 0;
            control = (event.key.keysym.mod & KMOD_CTRL) != 0;
            return true;
        case SDL_TEXTINPUT: text += static_cast<const char*>(event.text.text); return true;
        case SDL_DROPFILE:
            dropped.emplace_back(event.drop.file);
            SDL_free(event.drop.file);
            return true;
        case SDL_WINDOWEVENT: return true;
        default: return false;
    }
}

void Input::endFrame() {
    moved = false;
    pressed = {};
    released = {};
    wheel = 0;
    keys.clear();
    text.clear();
    dropped.clear();
}

void Input::toWidgets(float width, float height, float seconds) const {
    ImGuiIO& io = ImGui::GetIO();
    io.DisplaySize = ImVec2(width, height);
    io.DeltaTime = seconds > 0 ? seconds : 1.0F / 60;
    io.MousePos = ImVec2(x, y);
    for (std::size_t i = 0; i < down.size(); ++i) io.MouseDown[i] = down[i];
    io.MouseWheel = wheel;
    io.KeyCtrl = control;
    io.KeyShift = shift;
    // A key is down for the one frame in which it was pressed: presses come singly.
    for (std::size_t i = 0; i < kFieldKeys.size(); ++i) {
        io.KeyMap[kFieldKeys[i].first] = static_cast<int>(i);
        io.KeysDown[i] = std::any_of(keys.begin(), keys.end(),
                                     [&](const KeyPress& key) { return key.code == kFieldKeys[i].second; });
    }
    if (!text.empty()) io.AddInputCharactersUTF8(text.c_str());
}

}  // namespace loopmend::app
