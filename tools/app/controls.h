// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "app/input.h"
#include "app/style.h"

namespace loopmend::app {

/// The parts of the window that the Tab key walks through.
enum class Area : std::uint8_t { cloth, page, notions, rows, shelf };

/// A control as it was drawn in the last frame, in window units.
struct Control {
    std::string id;
    Area area = Area::page;
    float left = 0, top = 0, right = 0, bottom = 0;
    bool enabled = true;
    bool inSight = true;  ///< not scrolled away
};

/// Buttons that hands reach with the pointer and with the keyboard alone. Every frame lists its controls
/// anew; keys act on the list of the frame before. Tab goes from area to area, the arrow keys from control to
/// control, Enter or Space does what the button says.
class Controls {
  public:
    /// cloth: the cloth is there to be walked to.
    void beginFrame(const Palette& palette, float textSize, bool cloth = true);
    void endFrame();

    enum class Kind : std::uint8_t {
        button,
        main,    ///< the one thing to do next
        choice,  ///< an answer; wide, left-aligned
        tool,    ///< a notion: upright, with a name under its picture
        link     ///< text that can be pressed
    };
    struct Extra {
        bool enabled = true;
        bool chosen = false;
        std::string_view mark = {};  ///< a sign before an answer that has been given
        std::string_view key = {};   ///< the key that does the same, shown in small
        float width = 0;             ///< 0: as wide as its words, below 0: as wide as there is room
        unsigned picture = 0;        ///< a texture shown before the words, in its own size; 0: none
        float pictureWidth = 0;
        float pictureHeight = 0;
    };
    /// True once when pressed. `id` is our own stable name.
    bool button(Area area, const std::string& id, const std::string& label, Kind kind, const Extra& extra);
    bool button(Area area, const std::string& id, const std::string& label, Kind kind = Kind::button) {
        return button(area, id, label, kind, Extra{});
    }

    /// A button that tells more: a title, a sentence, and in words how it stands. As wide as there is room.
    struct Card {
        std::string_view title;
        std::string_view about;
        std::string_view state;  ///< may be empty
        float indent = 0;        ///< left free for a picture
        float least = 0;         ///< height
    };
    bool card(Area area, const std::string& id, const Card& card, const Fonts& fonts);

    /// A line of text to be typed in. True once when it is entered with the Enter key. Opened with the
    /// pointer, or with Enter or Space; Tab and Esc leave it.
    bool field(Area area, const std::string& id, char* text, std::size_t size, float width);
    /// A field has the keyboard: letters are letters.
    bool typing() const { return typing_; }
    void leaveField();

    /// The next button goes beside the last one if it has room there, else on a new line. `width`: its own
    /// width, or what `widthOf` says.
    void flow(float width) const;
    float widthOf(const std::string& label, Kind kind, const Extra& extra) const;

    Area area() const { return area_; }
    const std::string& focused() const { return focused_; }
    void goTo(Area area);
    void nextArea(bool backward);
    /// Arrow keys, Enter and Space in the area the keyboard is in; false: the key means nothing here.
    bool key(const KeyPress& press);

    const std::vector<Control>& shown() const { return shown_; }

  private:
    std::vector<const Control*> reachable() const;
    void list(Area area, const std::string& id, bool enabled);
    void ring(Area area, const std::string& id);

    Palette palette_;
    float scale_ = 1;
    Area area_ = Area::cloth;
    std::string focused_;
    std::string activated_;
    bool keyboardUsed_ = false;
    bool cloth_ = true;
    bool typing_ = false;
    bool typingNow_ = false;  ///< as this frame finds it
    bool scrollTo_ = false;   ///< what the keyboard is at is to come into sight
    std::vector<Control> shown_;
    std::vector<Control> listing_;
};

}  // namespace loopmend::app
