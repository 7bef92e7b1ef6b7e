// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstdint>
#include <functional>
#include <string>

#include "app/learning.h"
#include "app/panes.h"

namespace loopmend::app {

/// How a lesson's swatch lies on the shelf, for every pane that lists lessons.
using ShowsOf = std::function<SwatchShows(const Lesson&)>;
/// `Not begun`, `Begun`, ...
const char* wordsOf(SwatchShows shows);

/// Home: what to do when something has gone wrong, and the course along one strand of yarn.
struct ShelfState {
    ShowsOf shows;
    std::int64_t now = 0;
    float pages = 0;  ///< to be scrolled by
    std::string notice;
    std::string bring;  ///< a lesson to be scrolled to
    std::string own;    ///< what of her own knitting is being looked into; empty: nothing
};
void drawShelf(const Desk& desk, const Learning& learning, const ShelfState& state);

/// Fresh exercises.
struct PracticeState {
    std::int64_t now = 0;
    int level = 0;  ///< 0: as hard as suits her
    std::array<char, 96> word{};
    std::string lastWord;  ///< of the exercise made last; empty: none
    float pages = 0;
    std::string notice;
};
void drawPractice(const Desk& desk, Learning& learning, PracticeState& state);

/// What is kept, where, and how to take it away.
struct ProgressState {
    ShowsOf shows;
    std::int64_t now = 0;
    bool asked = false;  ///< whether everything shall be forgotten
    float pages = 0;
    std::string notice;
};
void drawProgress(const Desk& desk, const Learning& learning, const ProgressState& state);

/// What can be shown to a group.
struct GroupState {
    std::string onTable;  ///< what lies there, if it can be shown; else empty
    float pages = 0;
    std::string notice;
};
void drawGroup(const Desk& desk, const Learning& learning, const GroupState& state);

}  // namespace loopmend::app
