// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "picture/handout.h"
#include "tutor/session.h"

namespace loopmend {

/// A question as it stands on paper, and its answer.
struct QuizQuestion {
    std::string words;
    std::vector<std::string> choices;       ///< empty: a place is to be marked, or a word written
    std::optional<HandoutPicture> picture;  ///< where something is lit while it is asked
    std::vector<std::string> answer;        ///< what holds and why, in sentences
    std::vector<EntryId> places;            ///< what was to be pointed at, loops of the cloth at the start
};

/// What one swatch of a lesson comes to on paper.
struct PlayedSwatch {
    LessonSwatch wanted;
    Fabric start;
    Side facing = Side::right;
    std::vector<QuizQuestion> questions;
    std::vector<std::string> nextTime;
    std::vector<std::string> inWool;
    std::string caution;  ///< of the last pages: hands, light
    bool mends = false;   ///< it is put right by hand
};

/// Works a lesson from its first page to its last, as its hints lead, and writes down what each page asks. A
/// page that cannot be done ends it; what was asked before that is kept.
std::vector<PlayedSwatch> played(const Lesson& lesson, Terms terms, bool mirrored);

}  // namespace loopmend
