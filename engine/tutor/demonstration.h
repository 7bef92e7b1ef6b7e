// SPDX-License-Identifier: MIT
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "picture/handout.h"
#include "repair/moves.h"
#include "tutor/lesson.h"
#include "tutor/page.h"

namespace loopmend {

/// A mending shown to a group: one move at a time, forward and back, with words for the side that is seen.
/// Nothing is asked.
class Demonstration {
  public:
    /// The mending of one swatch of a lesson, by the way that `family` names (`column`, `tink`, `rip`; empty:
    /// the best). std::invalid_argument if it cannot be knitted.
    explicit Demonstration(const Lesson& lesson, int swatch = 0, Terms terms = Terms::us,
                           bool mirrored = false, std::string family = {});
    Demonstration(Demonstration&&) noexcept;
    Demonstration& operator=(Demonstration&&) noexcept;
    ~Demonstration();

    int moves() const;  ///< 0: nothing to mend, or no way is known
    int at() const;     ///< moves done, 0 to moves()
    bool forward();
    bool back();
    void goTo(int move);

    const Fabric& fabric() const;
    std::uint64_t version() const;  ///< another number after each change of the cloth
    Side facing() const;
    Side seen() const;
    void turnOver();  ///< all words are then said for the other side

    /// Few and large: the move that comes next, for the side seen; after the last: what is right now.
    std::string heading() const;
    std::string words() const;
    std::string caution() const;
    bool warns() const;                ///< that caution is the plan's own, said before this one move
    std::optional<Move> next() const;  ///< to be shown as a ghost
    std::vector<PageMark> marks() const;
    /// Where it went wrong, as the cloth was at the start: where to look.
    const std::vector<EntryId>& places() const;

    /// A page to take home: what is done, and the moves from where she stopped.
    Handout pageToTakeHome() const;

  private:
    struct State;
    std::unique_ptr<State> state_;
};

}  // namespace loopmend
