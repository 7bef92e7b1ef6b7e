// SPDX-License-Identifier: MIT
#pragma once

#include <functional>
#include <memory>
#include <optional>
#include <string>

#include "app/app.h"
#include "app/play.h"
#include "app/window.h"

/// Hands at the real window: nothing reaches it but SDL's events with pixel positions and keys. Of the
/// program they only ask where a stitch or a button is *drawn*, and what the page says.
namespace loopmend::app {

class Hands {
  public:
    /// `keep`: the folder in which settings and progress are kept; `open`: a file to begin with. Every
    /// `coarse`-th pixel is drawn, since nobody looks and software draws.
    explicit Hands(const std::string& keep = "", const std::string& open = "", int width = 1280,
                   int height = 800, const std::string& lesson = "", int coarse = 16);
    /// The day on which the program believes to be; seconds since 1970.
    std::int64_t now = 1'790'000'000;

    App& app() { return *app_; }
    Session& session() { return *app_->table().session(); }
    const Page& page() { return session().page(); }
    const Fabric& fabric() { return app_->table().fabric(); }

    /// Moves the pointer there; presses and lets go.
    void pointTo(PixelPoint at);
    void click(PixelPoint at, int button = 1);
    /// Clicks where a stitch or strand is drawn; false: it is nowhere to be seen.
    bool click(EntryId entry, int button = 1);
    /// Clicks a button by its name; false: it is not drawn, or cannot be pressed.
    bool press(const std::string& id);
    bool isShown(const std::string& id) const;

    void key(int code, int mod = 0);
    /// Walks to a place with the arrow keys, greedily, from wherever the keyboard stands.
    bool walkTo(EntryId entry);

    void type(const std::string& text);
    /// Until nothing moves any more; while a button is held, for a moment.
    void settle() { app::settle(*app_, holding_ ? 0.2 : 30); }
    /// The middle button goes down at one place and up at another, the cloth with it.
    void drag(PixelPoint from, PixelPoint to);

  private:
    void push(SDL_Event event);

    bool holding_ = false;
    std::optional<Window> window_;
    std::unique_ptr<App> app_;
};

/// The open stitch of the lesson: live, and on no tool but perhaps a pin.
LoopId openStitch(const Fabric& fabric);

}  // namespace loopmend::app
