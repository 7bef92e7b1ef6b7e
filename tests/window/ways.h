// SPDX-License-Identifier: MIT
#pragma once

#include <functional>

#include "window/hands.h"

namespace loopmend::app {

/// One way to use the window.
struct Way {
    std::function<void(int)> takeNotion;  ///< 0 point, 1 fingers, 2 needle, 3 hook, 4 pin
    std::function<void(EntryId)> doAt;    ///< what the notion in hand does there
    std::function<void()> turnOver, tug, knitRow, goOn;
    std::function<void(int)> choose;
};
Way mouse(Hands& hands);
Way keyboard(Hands& hands);

/// Answers the question on the page, one answer after another until the page goes on.
void answer(Hands& hands, const std::function<void(int)>& choose);

/// The first lesson, the ladder, from the page that lies open to its end.
void throughTheLesson(Hands& hands, const Way& way, const std::function<void()>& beforeMending = {});

}  // namespace loopmend::app
