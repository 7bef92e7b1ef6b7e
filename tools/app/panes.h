// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "app/command.h"
#include "app/controls.h"
#include "app/style.h"
#include "app/table_top.h"
#include "repair/pointing.h"
#include "repair/ways_back.h"

/// The papers round the cloth, and those that lie over it. Each draws into the Dear ImGui window it is called
/// in and pushes what was asked.
namespace loopmend::app {

struct Settings;

/// What every paper needs.
struct Desk {
    Controls& controls;
    Commands& commands;
    const Fonts& fonts;
    const Palette& palette;
    float textSize = 1;
    Terms terms = Terms::us;
};

/// Text in the heading's letters, wrapped.
void heading(const Desk& desk, const std::string& words);
void paragraph(const Desk& desk, const std::string& words, Ink ink);
/// A sentence set off by a bar at its left: what was said, a hint, a caution. `label` says which in words.
void aside(const Desk& desk, const std::string& label, const std::string& words);
/// Free room between two things.
void gap(const Desk& desk, float height);

/// A lesson's page.
struct LessonPageState {
    std::string title;        ///< of the lesson
    std::string swatch;       ///< whose it is, and which of several; may be empty
    std::string word;         ///< an exercise's, to be sent to others; empty: a lesson of the course
    bool begunAgain = false;  ///< from the start has been asked once
    float pages = 0;          ///< to be scrolled by
};
void drawLessonPage(const Desk& desk, const Page& page, const LessonPageState& state);

/// A way back that is gone through move by move, on the cloth itself.
struct ChosenWay {
    WayBack way;
    std::size_t shown = 0;   ///< moves of it that are done
    std::size_t before = 0;  ///< moves that were done on the piece before
};

/// What the free table's page shows besides the piece.
struct FreePageState {
    std::string name;  ///< of the file, or of the pattern
    bool unsaved = false;
    bool ofOwn = false;              ///< the piece is a model of somebody's own knitting
    std::string placeWords;          ///< the stitch pointed at, in words; empty: none
    std::vector<FaultOffer> faults;  ///< that can be put in there, once asked for
    bool showFaults = false;
    bool showReadings = false;
    bool showPlans = false;
    std::optional<ChosenWay> chosen;
    bool byHand = false;    ///< a way was chosen to be done by hand: the next move is told
    bool moreWays = false;  ///< not only the three that are shown first
    int paced = 0;          ///< mendings of hers that the ways' times are reckoned by
    float pages = 0;        ///< to be scrolled by
};
/// The ways back, as a part of that page.
void drawWays(const Desk& desk, FreePiece& piece, const FreePageState& state);
void drawFreePage(const Desk& desk, FreePiece& piece, const std::string& said, const FreePageState& state);

/// How she likes it, and all keys.
void drawLiking(const Desk& desk, const Settings& settings);
void drawKeys(const Desk& desk);

/// A notion and how it is shown.
struct ToolShown {
    Ask ask = Ask::takeNotion;
    int n = 0;
    const char* name = "";
    const char* key = "";
};
/// In the tray: what is in hand, and what it would do.
struct TrayState {
    int inHand = 0;  ///< 0 a pointing finger, then Notion + 1
    std::vector<Offer> offers;
    std::size_t offer = 0;
    std::string pointed;    ///< what lies under the pointer, in words
    bool hasParts = false;  ///< and it is a stitch, whose parts can be pointed at
    bool canUndo = false;
    bool canRedo = false;
    bool canKnitRow = false;
};
void drawTray(const Desk& desk, const TrayState& state);

/// The rows, as words or as a chart; `current` is the row in hand.
struct RowsState {
    bool shown = true;
    bool asChart = false;
    bool away = false;  ///< it would tell what is asked: it lies face down
    int current = 0;
    std::optional<int> below;       ///< of a part of a piece: rows that lie below it
    const Fabric* meant = nullptr;  ///< what the chart shows
};
void drawRows(const Desk& desk, const Script& script, const RowsState& state);

}  // namespace loopmend::app
