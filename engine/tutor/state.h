// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "reading/read.h"
#include "repair/cost.h"
#include "tutor/page.h"
#include "tutor/question.h"
#include "tutor/session.h"
#include "tutor/signs.h"
#include "tutor/standing.h"
#include "tutor/words.h"

namespace loopmend {

/// What she did on one page.
struct StepMemory {
    std::vector<Evidence> evidence;
    std::vector<std::string> chosen;  ///< answers tried, by key
    bool pointed = false;             ///< the right place was found
    bool answered = false;            ///< an answer that holds, or can be done, was given
    bool turned = false;
    bool tugged = false;
    int hints = 0;
    std::uint64_t hintsFor = 0;      ///< the version of the cloth that they belong to
    std::vector<std::size_t> found;  ///< of a question answered by pointing: which of its targets
    // What an attempt tells:
    int misses = 0;  ///< answers and places that were not it
    int hintsInAll = 0;
    int strayMoves = 0;
    double reckonedSeconds = 0;  ///< of the moves done, at the usual pace
    bool wasShown = false;       ///< some of the moves were shown to her
    std::string first;           ///< what she took first
    bool kept = false;           ///< told already
};

/// The steps of a swatch, without those that make no sense on its cloth: nothing can run, nothing is wrong.
std::vector<StepPlan> stepsThatMakeSense(const LessonSwatch& swatch, bool canRun, bool asMeant);

/// Everything a session knows. The pages work on it; `Session` guards it.
struct SessionState {
    SessionState(const Lesson& what, std::size_t swatchIndex, Terms words, bool leftHanded);
    SessionState(const SessionState&) = delete;
    SessionState& operator=(const SessionState&) = delete;

    Lesson lesson;
    LessonSwatch wanted;  ///< the swatch of the lesson that lies here
    Terms terms;
    bool mirrored;
    Swatch swatch;
    mutable Work work;  ///< plans are tried on it and rolled back
    Fabric start;       ///< the cloth as the lesson found it
    Standing startStanding;
    StitchPlaces startPlaces;
    Reading startReadings[2];  ///< by Side
    bool turnedOver = false;

    std::vector<StepPlan> steps;
    std::size_t at = 0;       ///< the page shown
    std::size_t reached = 0;  ///< the farthest page
    std::vector<StepMemory> memory;
    std::string said;
    std::string way;      ///< the family of plans that she chose; empty: none yet
    bool mended = false;  ///< was as meant once, with at least the rows of the start
    /// What is left of the plan whose moves she does one after another. It was proved as a whole and is kept
    /// to until she does something else; only then is it planned afresh.
    std::optional<Plan> inHand;
    MoveCost cost{Pace{}};  ///< what her moves take at the usual pace

    StepMemory& here() { return memory[at]; }
    const StepMemory& here() const { return memory[at]; }
    StepKind kind() const { return steps[at].kind; }
    /// She saw this cloth from both sides.
    bool sawBothFaces() const;
    const Fabric& fabric() const { return work.fabric(); }
    Side facing() const { return work.knitter().facing(); }
    Side seen() const { return turnedOver ? opposite(facing()) : facing(); }
    AsSeen view() const { return {work.fabric(), seen(), facing(), mirrored, terms}; }
    Knits hands() const { return mirrored ? Knits::leftHanded : Knits::rightHanded; }

    /// Worked out once for each state of the cloth.
    const Standing& standing() const;
    /// The way that she chose, as long as it is one, else the easiest; none: no way is known, or none needed.
    const Plan* plan() const;
    const StitchPlaces& places() const;
    const Reading& reading(Side side) const;
    /// Forget what was worked out.
    void clothChanged();

    /// What the page shows that is kept between changes.
    mutable std::optional<Page> page;
    /// The question of an `ask` page, and where it belongs to.
    struct AskedNow {
        std::size_t step = 0;
        tl::expected<Question, std::string> asked;
    };
    mutable std::optional<AskedNow> question;

  private:
    mutable std::optional<Standing> standing_;
    mutable std::optional<StitchPlaces> places_;
    mutable std::optional<Reading> readings_[2];
};

}  // namespace loopmend
