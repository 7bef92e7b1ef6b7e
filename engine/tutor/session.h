// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include <tl/expected.hpp>

#include "repair/work.h"
#include "tutor/attempt.h"
#include "tutor/lesson.h"
#include "tutor/page.h"

namespace loopmend {

struct SessionWhole;

/// Ways of looking that are told to the lesson. (Turning over is `turnOver`.)
enum class LookKind : std::uint8_t { tug, near, slant };

/// One person working through one lesson.
///
/// Everything that she does comes in here, and `page()`, `marks()` and `fabric()` say what is to be shown
/// after it. Any hand move is open to her on every page; what the lesson makes of it is worked out from the
/// cloth as it then is. The cloth of a left-handed knitter is knitted left-handed: nothing has to be mirrored
/// when it is drawn, and all words are said as the cloth faces her.
class Session {
  public:
    /// The lesson must be one that can be knitted (`knits`); else std::invalid_argument.
    explicit Session(const Lesson& lesson, Terms terms = Terms::us, bool mirrored = false);
    /// From `text()`: the same page, cloth, evidence and hints. Refused with a sentence: another lesson, a
    /// line that means nothing.
    static tl::expected<Session, std::string> from(const Lesson& lesson, std::string_view text);
    Session(Session&&) noexcept;
    Session& operator=(Session&&) noexcept;
    ~Session();

    // ---- what is to be shown
    const Page& page() const;
    std::vector<PageMark> marks() const;
    StepKind step() const;
    const Lesson& lesson() const;
    /// Which swatch of the lesson lies there, from 0, and what it is.
    int swatch() const;
    const LessonSwatch& piece() const;
    Terms terms() const;
    bool mirrored() const;
    /// The move that is to be shown as a ghost before she does it: of a guided page, or when the very move
    /// was asked for. As the work faces the knitter (see `perform`).
    std::optional<Move> shownMove() const;

    // ---- the cloth
    const Fabric& fabric() const;
    /// For ghosts and offers (`Work::tryOut`) only; moves go through `perform`.
    Work& work();
    const Work& work() const;
    /// The side that faces her knitting: moves are said for it.
    Side facing() const;
    /// The side that she sees now: the other one while the cloth is turned over to be looked at.
    Side seen() const;
    /// Another number after each change of the cloth; another swatch is one.
    std::uint64_t version() const;
    /// The rows as they are meant, a few more than are knitted: what to knit on by.
    const Script& script() const;
    /// Rows that were knitted when the lesson began.
    int rowsAtStart() const;

    // ---- what she does
    void pointAt(const PointTarget& target);
    void choose(int index);
    Hint hint();
    /// Turns the cloth over to look at it, and back.
    void turnOver();
    /// `at`: the loop at or beside which she looks; may be none.
    void look(LookKind kind, LoopId at = {});
    /// Any hand move, as the work faces the knitter (`facing`, not `seen`). True: done, also when it spoils
    /// something; false: hands cannot do that. Either way `page().said` says what happened.
    bool perform(const Move& move);
    bool undo();
    bool redo();
    /// What working the rest of the row in hand as it is meant comes to, the turn after it included: for a
    /// button or key `knit the row`. Empty: the script has no more rows.
    std::vector<Move> knitRow() const;

    // ---- pages
    bool canGoOn() const;
    /// The next page, or the first one of the next swatch; nothing, if the page's task is still to be done.
    void next();
    void back();
    /// On the last page, with everything before it done.
    bool done() const;

    /// The same session in US or UK words.
    void setTerms(Terms terms);

    // ---- text
    /// The whole session as lines: head, then everything she did in order. Nothing else is needed to go on.
    std::string text() const;
    /// The lines of what she did, oldest first: `point loop 41`, `move pin 41`, `hint find 2`, `choose 1` ...
    const std::vector<std::string>& log() const;
    /// Hints given so far, on all pages.
    int hintsGiven() const;
    /// Steps done with since this was last asked, in order: those that exercise a skill, each once; none of a
    /// taster (a lesson that teaches no skill), nor of a mending that was shown from the first move to the
    /// last. Nothing that was done before `from`. `run`, `at` and `seconds` are left to the program.
    std::vector<Attempt> takeAttempts();

  private:
    std::unique_ptr<SessionWhole> whole_;
};

}  // namespace loopmend
