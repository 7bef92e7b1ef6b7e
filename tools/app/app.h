// SPDX-License-Identifier: MIT
#pragma once

#include <algorithm>
#include <cstdint>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "app/cloth_pane.h"
#include "app/controls.h"
#include "app/files_pane.h"
#include "app/frame_buffer.h"
#include "app/input.h"
#include "app/keeping.h"
#include "app/learning.h"
#include "app/own_knitting.h"
#include "app/panes.h"
#include "app/settings.h"
#include "app/shelf_pane.h"
#include "app/showing.h"
#include "app/table_top.h"
#include "app/window.h"
#include "tutor/closer_look.h"

struct ImDrawList;

namespace loopmend::app {

/// What a program is started with.
struct Start {
    std::string folder;   ///< where settings and progress are kept; empty: nothing is kept
    std::string lessons;  ///< the folder of the course
    std::string open;     ///< a pattern, table or lesson file to begin with; empty: the lesson
    std::string lesson;   ///< the lesson or exercise to begin with; empty: the last one
    bool smooth = true;   ///< edges are drawn finer once the cloth lies still: four times the work
    std::function<void()> wake = [] {};  ///< called from any thread when a frame is wanted
    /// Seconds since 1970 (UTC): when steps were done, and what is due.
    std::function<std::int64_t()> now = [] { return std::int64_t{0}; };
};

/// The window's inside: the table with the cloth on it and the papers round it.
///
/// Driven from outside: `handle` every event, `frame` when `wantsFrame`. Reads no clock but the one handed
/// in. All GL calls are made in the constructor, `frame` and the destructor, with the window's context
/// current.
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
    /// units; none while other yarn or a paper covers it. which: 1 in the picture of the other side.
    std::optional<PixelPoint> drawnAt(EntryId entry, std::size_t which = 0) const;
    /// Likewise a part of a loop, or the bar to the next one.
    std::optional<PixelPoint> drawnAt(EntryId entry, PointTarget::Spot spot) const;
    std::optional<PixelPoint> barAt(EntryId before) const;
    TableTop& table() { return *table_; }
    const ClothPane& cloth() const { return cloth_; }
    const Settings& settings() const { return settings_; }
    const Learning& learning() const { return learning_; }
    const Showing* showing() const { return showing_.get(); }
    /// Her own knitting, while it is on the page.
    const OwnKnitting* own() const { return own_ && ownOpen_ ? &*own_ : nullptr; }
    const std::vector<Control>& controls() const { return controls_.shown(); }
    /// Likewise: the place on the cloth, the part of the window and the button that are lit for the keyboard.
    const std::optional<PointedAt>& pointedAt() const { return pointed_; }
    YarnPart pointedPart() const { return part_; }
    Area keyboardArea() const { return controls_.area(); }
    const std::string& keyboardOn() const { return controls_.focused(); }
    const std::string& notice() const { return notice_; }
    void ask(Ask what, int n = 0, std::string words = {});

  private:
    enum class Paper : std::uint8_t { work, files, keys, shelf, liking, practice, group, progress, showing };
    struct Sheets {
        Box page, tray, rows, cloth, looks;
    };
    /// The paper lies over the whole table.
    bool isWide() const { return paper_ >= Paper::shelf && paper_ != Paper::showing; }

    // app.cpp: events, frames
    void remakeLook();
    Sheets layoutNow() const;
    void takeKeys();
    void takeKey(const KeyPress& key);
    ClothPane::Piece shownPiece() const;

    // app_pointing.cpp
    bool walk(int code);
    void takePointer(const Sheets& layout);
    void point(const std::optional<Picked>& picked, Side side);
    void refreshOffers();
    void nextPart();
    PointTarget target() const;
    std::string pointedWords() const;
    std::string placeWords(LoopId loop) const;
    std::optional<PixelPoint> tipsAt() const;
    Side handSide() const;

    // app_draw.cpp, app_overlay.cpp
    std::optional<Move> ghostWanted() const;
    void drawPapers(const Sheets& layout);
    void drawWidePaper(const Desk& desk);
    void drawPage(const Desk& desk);
    void drawNotions(const Desk& desk);
    void fitTo(float& height, float below = 0);
    void drawLooks(const Desk& desk, const Box& box);
    void drawOverlay(const Sheets& layout);
    void drawBall(const ClothPane::YarnEnd& end, const Palette& colours, ImDrawList& draw) const;
    void drawHook(const Palette& colours, ImDrawList& draw) const;
    void drawParts(ImDrawList& draw) const;
    void drawPointedPart(ImDrawList& draw) const;
    void drawOrder(ImDrawList& draw) const;
    int woolInHand() const;
    std::vector<ClothMark> marksNow() const;
    Desk desk();

    // app_asks.cpp
    void perform(const Command& command);
    void performPage(const Command& command);
    void performLooking(const Command& command);
    void lookCloser();
    void performManners(const Command& command);
    void doOffer();
    void letGo();

    // app_table.cpp, app_files.cpp
    void performTable(const Command& command);
    void openLesson(const std::string& id, bool anew);
    /// An author's own file, to be tried as a learner would.
    void openLessonFile(const std::string& name, const std::string& bytes);
    void openFreeTable();
    void lay(TableTop table);
    void layShown();
    void openPath(const std::string& path);
    void openTable(const std::string& path, const std::string& bytes);
    void savePath(const std::string& path);
    void showFiles(int what);
    void changePiece(const std::function<void(Recipe&)>& change);
    void pieceAgain(Recipe recipe);
    int rowInHand() const;
    /// Beside large letters the rows lie only when they are asked for.
    bool roomForRows() const { return settings_.textSize < 1.45F; }
    const Fabric* meantForChart();

    // app_learning.cpp
    void performLearning(const Command& command);
    void performShowing(const Command& command);
    void practise(const std::string& skill);
    void show(Lesson lesson, int swatch);
    std::optional<Lesson> lessonOfPiece() const;
    void keepProgress();
    void takeAttempts();
    SwatchShows showsOf(const Lesson& lesson) const;

    // app_own.cpp
    void performOwn(const Command& command);
    void openOwn(bool justWentWrong);
    void layOwn();
    void pointOwn();
    void turnToLook();
    void keepOwn();
    void takeUpOwn();
    /// Under a name of its own; empty: that could not be done.
    std::string layOwnAside();
    void layOtherAside();
    /// A case from a file of hers: it goes on there.
    void openCase(const std::string& path);
    std::string ownPath() const;
    std::string ownWaits() const;
    bool ownIsAsking() const { return own_ && ownOpen_ && own_->stage() == OwnKnitting::Stage::asking; }
    void lightOwn(std::vector<ClothMark>& marks) const;
    void drawOwnPlace(ImDrawList& draw) const;

    // app_ways.cpp
    void performWays(const Command& command);
    void lightWay(std::vector<ClothMark>& marks) const;

    void openPaper(Paper paper);
    void notice(std::string words) { notice_ = std::move(words); }
    Terms terms() const { return settings_.ukWords ? Terms::uk : Terms::us; }

    Window& window_;
    Start start_;
    Settings settings_;
    Keeping keeping_;
    Learning learning_;
    Input input_;
    Controls controls_;
    Commands commands_;
    Fonts fonts_;
    ClothPane cloth_;
    FrameBuffer buffer_;
    FilesPane files_;
    std::optional<std::string> unfit_;

    std::unique_ptr<TableTop> table_;
    std::string tableName_;
    std::string tablePath_;
    std::uint64_t savedVersion_ = 0;

    /// The lesson or exercise worked at last; what lies on the table if a session does.
    KeptLesson kept_;
    int swatchLaid_ = 0;
    std::pair<int, int> pageOpen_{-1, -1};  ///< swatch and page
    std::int64_t pageSince_ = 0;
    std::unique_ptr<Showing> showing_;
    Paper showingFrom_ = Paper::group;
    PracticeState practice_;
    bool forgetAsked_ = false;
    bool anewAsked_ = false;
    std::uint64_t drawn_ = 0;     ///< exercises in this run
    std::string bringIntoSight_;  ///< the lesson on the shelf that she comes from, once

    Paper paper_ = Paper::work;
    RowsState rows_;
    std::uint64_t meantOf_ = 0;
    std::optional<Knitting> meant_;
    SignPictures signs_;
    std::optional<OwnKnitting> own_;
    bool ownOpen_ = false;  ///< her own knitting is on the page, its model on the table
    std::string ownFile_;   ///< the file it was opened from; empty: it lies with what she has learned
    bool ownAll_ = false;
    int ownKept_ = 0;                    ///< as it was written last
    std::optional<int> rowsBelowTable_;  ///< of her own piece, if only a part of it lies there
    int turnedFor_ = -1;                 ///< the version of her answers for which the model was turned
    int ownShown_ = -1;                  ///< the version that the page shows
    FreePageState free_;
    int inHand_ = 0;
    std::optional<PointedAt> pointed_;
    std::optional<Side> pointedSide_;  ///< of the picture pointed at; none: the side seen
    YarnPart part_ = YarnPart::head;
    std::optional<WayOfLooking> closer_;  ///< she looks closer; how she does
    std::string closerOf_;                ///< the lesson for which `closerWay_` was found
    WayOfLooking closerWay_;
    bool wholePart_ = true;  ///< no part was asked for
    std::vector<Offer> offers_;
    std::size_t offer_ = 0;
    std::uint64_t offersOf_ = 0;
    std::string notice_;  ///< a sentence shown over the cloth until the next thing is done

    float trayNeeds_ = 120;  ///< heights of what they held last
    float looksNeed_ = 62;
    float showNeeds_ = 200;
    int dirty_ = 2;
    bool moving_ = false;
    bool closing_ = false;
    bool dragging_ = false;
    bool styleStale_ = true;
};

}  // namespace loopmend::app
