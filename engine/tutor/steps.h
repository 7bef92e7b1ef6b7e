// SPDX-License-Identifier: MIT
#pragma once

#include "tutor/state.h"

namespace loopmend {

/// An answer on offer. The key stays the same while the cloth changes and the text may not.
struct Option {
    std::string key;
    std::string text;
};

/// What an answer is worth, and why, kindly.
struct Answer {
    ChoiceState state = ChoiceState::notThis;
    std::string words;
};

/// What one kind of page does. Each asks the cloth; none keeps an answer.
struct StepRules {
    /// Heading, sentences, task, caution.
    void (*show)(const SessionState&, Page&);
    /// What it asked is done.
    bool (*satisfied)(const SessionState&);
    /// Something was pointed at: what that means goes into `said`. None: nothing is asked for.
    void (*point)(SessionState&, const PointTarget&) = nullptr;
    std::vector<Option> (*options)(const SessionState&) = nullptr;
    Answer (*answer)(const SessionState&, const std::string& key) = nullptr;
    /// The text of a hint (1 to 4); empty: there is none.
    std::string (*hint)(const SessionState&, int rung) = nullptr;
    /// What is lit on the cloth after so many hints.
    void (*light)(const SessionState&, int hints, std::vector<PageMark>&) = nullptr;
};
const StepRules& rulesOf(StepKind kind);

/// Rules by family of pages.
StepRules makeSafeRules();
StepRules lookRules();
StepRules askRules();
StepRules findRules();
StepRules whatHappenedRules();
StepRules chooseRules();
StepRules putRightRules();
StepRules checkRules();
StepRules nextTimeRules();
StepRules inWoolRules();

// ---- shared by the pages

/// The cloth as it lies there.
Scene sceneNow(const SessionState& state);
/// The cloth that tells what went wrong: as it is now, or, once it is mended, as it was at the start.
Scene sceneOfFault(const SessionState& state);
/// `Oswin's scarf end`; `the swatch`.
std::string whose(const SessionState& state);
/// Where to look, what to notice, why, and the place itself: of the root.
std::string rootHint(const SessionState& state, int rung);
std::string rootHint(const SessionState& state, int rung, const std::vector<PointTarget>& place);
void lightRoot(const SessionState& state, int hints, std::vector<PageMark>& marks);
void lightPlace(const SessionState& state, int hints, const std::vector<PointTarget>& place,
                std::vector<PageMark>& marks);
/// The same for the next move.
std::string moveHint(const SessionState& state, int rung);
void lightMove(const SessionState& state, int hints, std::vector<PageMark>& marks);
/// The question of an `ask` page, for the cloth and the side that she sees; none: another page, or it cannot
/// be asked of the cloth as it is now.
const Question* askedHere(const SessionState& state);
/// Of the ways home the best that the author calls well chosen; none: there is none.
const Plan* wellChosenPlan(const LessonSwatch& wanted, const Standing& standing);
/// What the hands would best do next; none: nothing, or no way is known but taking back.
std::optional<Move> nextMove(const SessionState& state);
/// The next move is shown before she does it.
bool nextIsShown(const SessionState& state);
/// The rest of the row as it is meant, and the turn; see Session::knitRow.
std::vector<Move> restOfRow(const SessionState& state);
/// Rows that are to be knitted on in the end: fewer where the piece ends.
int rowsWanted(const SessionState& state);
/// Rows she has knitted on, as they are meant, beyond those of the start.
int rowsKnittedOn(const SessionState& state);

inline constexpr const char* kNothingWrong = "nothing-wrong";
inline constexpr const char* kCannotTell = "cannot-tell";
inline constexpr const char* kLeaveIt = "leave-it";

}  // namespace loopmend
