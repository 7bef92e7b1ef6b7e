// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <vector>

#include "window/hands.h"

/// Somebody who works through any lesson at the window as its hints lead, with the pointer or with keys
/// alone. She looks at the page, at what is lit and at where it is drawn; everything she does is an event.
namespace loopmend::app {

class Pupil {
  public:
    enum class By { mouse, keyboard };
    Pupil(Hands& hands, By by) : hands_(hands), by_(by) {}

    /// From the page that lies open to the end of the lesson. False: a page could not be done; `stuck` says
    /// which.
    bool lesson();
    /// The page that lies open; false: it could not be done.
    bool page();
    void goOn();
    const std::string& stuck() const { return stuck_; }
    /// The kinds of pages met.
    const std::vector<StepKind>& met() const { return met_; }

    void press(const std::string& id, int key, int mod = 0);
    void takeNotion(int n);
    /// Points at a place; false: it cannot be seen or walked to.
    bool pointAt(const PointedAt& at);
    void choose(int index);
    /// Does this move, or one that comes to the same, with the tool and at the place where it is offered;
    /// false: there is none.
    bool move(const Move& move);

  private:
    bool followMoves();
    bool pointByKeys(const PointedAt& at);
    bool pointWhereLit();
    bool pointAtTarget(const PointTarget& target);
    bool walkTo(const PointedAt& at);
    void chooseUntilRight();
    void askHints();
    void doIt();

    Hands& hands_;
    By by_;
    std::string stuck_;
    std::vector<StepKind> met_;
};

}  // namespace loopmend::app
