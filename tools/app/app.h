// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "app/cloth_pane.h"
#include "app/controls.h"
#include "app/files_pane.h"
#include "app/frame_buffer.h"
#include "app/input.h"
#include "app/keeping.h"
#include "app/panes.h"
#include "app/settings.h"
#include "app/table_top.h"
#include "app/window.h"

struct ImDrawList;

namespace loopmend::app {

/// What a program is started with.
struct Start {
    std::string folder;                  ///< where settings and progress are kept; empty: nothing is kept
    std::string open;                    ///< a pattern or table to begin with; empty: the lesson
    std::function<void()> wake = [] {};  ///< called from any thread when a frame is wanted
};

/// The window's inside: the table with the cloth on it and the papers round it.
///
/// Driven from outside: `handle` every event, `frame` when `wantsFrame`. Reads no clock. All GL calls are
/// made in the constructor, `frame` and the destructor, with the window's context current.
class App {
  public:
    App(Window& window, Start start);
    ~App();
    App(const App&) = delete;
    App& operator=(const App&) = delete;

    /// One sentence if the cloth cannot be drawn on this machine.
    const std::optional<std::string>& unfit() const { return unfit_; }

    void handle(const SDL_Event& event);
    /// Draws and shows the window, and does what was asked. `seconds` since the last frame.
    void frame(float seconds);
    /// Something changed or moves.
    bool wantsFrame() const { return dirty_ > 0 || moving_; }
    void wantFrame() { dirty_ = std::max(dirty_, 1); }
    bool wantsToClose() const { return closing_; }

    /// The window as it was shown last.
    Pixels picture() const { return buffer_.read(); }
    /// The yarn lies at rest, everything is drawn and nothing is still to be done.
    bool settled() const;

    /// For tests, and for showing where things are: the middle of a loop or strand as it is drawn, in window
    /// units; none while other yarn or a paper covers it.
    std::optional<PixelPoint> drawnAt(EntryId entry) const;
    TableTop& table() { return *table_; }
    const ClothPane& cloth() const { return cloth_; }
    const Settings& settings() const { return settings_; }
    const std::vector<Control>& controls() const { return controls_.shown(); }
    /// Likewise: the place on the cloth, the part of the window and the button that are lit for the keyboard.
    const std::optional<PointedAt>& pointedAt() const { return pointed_; }
    Area keyboardArea() const { return controls_.area(); }
    const std::string& keyboardOn() const { return controls_.focused(); }
    void ask(Ask what, int n = 0, std::string words = {});

  private:
    enum class Paper : std::uint8_t { work, shelf, files, keys };
    struct Sheets {
        Box page, tray, rows, cloth, looks;
    };

    void remakeLook();
    Sheets layoutNow() const;
    void takeKeys();
    bool walk(int code);
    void takePointer(const Sheets& layout);
    void point(const std::optional<Picked>& picked);
    void refreshOffers();
    std::optional<Move> ghostWanted() const;
    void drawPapers(const Sheets& layout);
    void fitTo(float& height);
    void drawLooks(const Desk& desk, const Box& box);
    void drawOverlay(const Sheets& layout);
    void drawBall(const ClothPane::YarnEnd& end, const Palette& colours, ImDrawList& draw) const;
    void drawParts(ImDrawList& draw) const;
    int woolInHand() const;
    std::vector<ClothMark> marksNow() const;
    Desk desk();

    void perform(const Command& command);
    void performLooking(const Command& command);
    void performTable(const Command& command);
    void performManners(const Command& command);
    void doOffer();
    void beginLesson(bool anew);
    void lay(TableTop table);
    void openPath(const std::string& path);
    void openTable(const std::string& path, const std::string& bytes);
    void savePath(const std::string& path);
    void changePiece(const std::function<void(Recipe&)>& change);
    void pieceAgain(Recipe recipe);
    void keepProgress();
    void notice(std::string words) { notice_ = std::move(words); }
    Terms terms() const { return settings_.ukWords ? Terms::uk : Terms::us; }
    std::string placeWords(LoopId loop) const;
    int rowInHand() const;
    std::optional<PixelPoint> tipsAt() const;
    Pixels clothPicture() const;

    Window& window_;
    Start start_;
    Settings settings_;
    Keeping keeping_;
    Input input_;
    Controls controls_;
    Commands commands_;
    Fonts fonts_;
    ClothPane cloth_;
    FrameBuffer buffer_;
    FilesPane files_;
    std::optional<std::string> unfit_;

    std::unique_ptr<TableTop> table_;
    std::string tableName_ = "Oswin's scarf end";
    std::string tablePath_;
    std::uint64_t savedVersion_ = 0;
    bool lessonDone_ = false;
    std::string lessonText_;  ///< the lesson begun, while something else lies on the table

    Paper paper_ = Paper::work;
    RowsState rows_;
    FreePageState free_;
    int inHand_ = 0;
    std::optional<PointedAt> pointed_;
    YarnPart part_ = YarnPart::head;
    std::vector<Offer> offers_;
    std::size_t offer_ = 0;
    std::uint64_t offersOf_ = 0;
    std::string notice_;  ///< a sentence shown over the cloth until the next thing is done

    float trayNeeds_ = 120;  ///< heights of what they held last
    float looksNeed_ = 62;
    int dirty_ = 2;
    bool moving_ = false;
    bool closing_ = false;
    bool dragging_ = false;
    bool styleStale_ = true;
};

}  // namespace loopmend::app
