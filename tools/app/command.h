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
    closer,  ///< the way that shows best what this piece has to show, and back
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
    nextPart,    ///< of the stitch pointed at: its head, a leg, ...
    doIt,        ///< what the tool would do where it points
    otherWay,    ///< the next thing it could do there
    letGo,
    undo,
    redo,
    knitRow,
    turnWork,
    // papers
    shelf,
    wentWrong,
    practice,
    group,
    progress,
    liking,
    keys,
    // the table
    lesson,      ///< words: id; empty: what lay there last
    lessonAnew,  ///< words: id; empty: what lies there
    freeTable,
    showFiles,  ///< n: FilesPane::For
    openFile,   ///< words: path
    saveFile,   ///< words: path; empty: where it was saved last
    exportPicture,
    fewerRows,
    moreRows,
    otherPiece,    ///< n: which of those that the pattern tells
    showReadings,  ///< how words were read that can be read in more than one way
    showFaults,    ///< that can be put in at the stitch pointed at
    putIn,         ///< n: which of those shown
    takeOutFaults,
    goOnAs,  ///< n: 0 reading her knitting, 1 counting, 2 she stopped at the end of the row
    showPlans,
    chooseWay,  ///< n: which of the ways back; -1: none, the choice again
    moreWays,
    wayForward,
    wayBack,
    wayByHand,
    // practice and progress
    practiseSkill,  ///< words: its id
    level,          ///< n: +1, -1
    practiseWord,   ///< words: an exercise's word
    copyWord,
    exportLog,  ///< words: path
    importLog,  ///< words: path
    forgetAll,  ///< n: 0 it is asked about, 1 do it, 2 leave it
    // somebody's own knitting
    ownKnitting,
    ownGround,   ///< n: CaseGround; -1 the pattern on the free table
    ownPattern,  ///< words: path
    ownSize,     ///< n: +1, -1 a stitch; +2, -2 a row
    ownAll,      ///< every answer is shown
    ownNowhere,
    ownCannotTell,
    ownShow,   ///< n: which explanation, on the model
    ownAgain,  ///< back to the questions
    ownAnew,
    // showing to a group
    showMending,  ///< words: lesson's id, empty: what lies on the table; n: which swatch
    showForward,
    showBack,
    showMirrored,
    showFrozen,
    showSlowly,
    showPage,  ///< words: path, of the page to take home
    // manners
    textSize,  ///< n: +1, -1
    ground,
    motion,
    hand,
    words,
    rowsAsChart,
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
