// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <string>
#include <utility>
#include <vector>

namespace loopmend::app {

/// Everything a person can ask of the window; buttons and keys both come to one of these.
enum class Ask : std::uint8_t {
    // the page
    hint,
    goOn,
    goBack,
    choose,  ///< n: which answer, from 0
    // looking
    turnOver,
    bothSides,
    nearer,
    farther,
    tiltUp,
    tiltDown,
    turnLeft,
    turnRight,
    asYouHoldIt,
    pull,  ///< gently sideways, and let go again
    tug,
    slant,  ///< the light
    lightRow,
    lightColumn,
    lightParts,
    traceYarn,
    otherLook,  ///< wool, drawing
    // hands
    takeNotion,  ///< n: which
    doIt,        ///< what the tool would do where it points
    otherWay,    ///< the next thing it could do there
    letGo,
    undo,
    redo,
    knitRow,
    turnWork,
    // the table
    shelf,
    lesson,
    lessonAnew,
    freeTable,
    showFiles,  ///< n: 0 to open, 1 to save under a name, 2 to export a picture
    openFile,   ///< words: path
    saveFile,   ///< words: path; empty: where it was saved last
    exportPicture,
    fewerRows,
    moreRows,
    showFaults,  ///< that can be put in at the stitch pointed at
    putIn,       ///< n: which of those shown
    takeOutFaults,
    goOnAs,  ///< n: 0 reading her knitting, 1 counting, 2 she stopped at the end of the row
    showPlans,
    // manners
    textSize,  ///< n: +1, -1
    ground,
    motion,
    hand,
    words,
    rowsAsChart,
    keys,
    close
};

struct Command {
    Ask ask = Ask::hint;
    int n = 0;
    std::string words;
};

/// What was asked since the last frame, in order.
class Commands {
  public:
    void push(Ask ask, int n = 0, std::string words = {}) { list_.push_back({ask, n, std::move(words)}); }
    std::vector<Command> take() { return std::exchange(list_, {}); }
    bool empty() const { return list_.empty(); }

  private:
    std::vector<Command> list_;
};

}  // namespace loopmend::app
