// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <cstdint>
#include <memory>
#include <utility>
#include <vector>

#include "fabric/itinerary.h"
#include "pattern/working.h"
#include "repair/moves.h"
#include "repair/workplace.h"

namespace loopmend {

/// A ball at the knitter's hand, in the order in which the words of the pattern name the yarns.
struct BallAtHand {
    char color = 'A';
    int yarn = -1;  ///< counted as the first line names them; -1: nothing is worked of it yet

    friend bool operator==(const BallAtHand& a, const BallAtHand& b) {
        return a.color == b.color && a.yarn == b.yarn;
    }
};

/// How a knitter stands over a fabric that is read from its two lines: what those lines do not hold.
struct Stance {
    Side facing = Side::right;
    bool round = false;
    Habit habit = Habit::western;
    bool mirrored = false;
    int yarn = 0;  ///< the working yarn, counted from 0 as the first line names them
    Side floats = Side::wrong;
    std::vector<BallAtHand> balls = {};  ///< empty: the working yarn alone
};

/// Where a work began, as text: the same loops get the same ids wherever it is read.
struct WorkStart {
    Itinerary lines;
    Stance stance;
};

/// A list of moves that could not be done to its end: which one (from 0), and why.
struct ReplayFault {
    std::size_t move = 0;
    Refusal refusal{Why::noSuchThing};
};

/// Knitting in hand: a start, and the hand moves done on it since. Going back and doing again have no limit.
///
/// The start is taken through its text first, so that every loop has the id it gets when the same text is
/// read again: `start()` and `done()` are the whole work, on any machine. **Ids of the knitting that was
/// handed in are therefore void; ask `fabric()`.** Ids of loops that moves make are the same at each replay
/// and after undo and redo.
///
/// Whoever tries something out on `knitter()` (plans, offers, ghosts) must roll it back, or use `tryOut`.
class Work {
  public:
    explicit Work(Knitting start);
    /// From text; refused if the lines are no fabric, or the working yarn is not in it.
    static tl::expected<Work, TextFault> from(const WorkStart& start);

    Work(Work&&) noexcept = default;
    Work& operator=(Work&&) noexcept = default;
    Work(const Work&) = delete;
    Work& operator=(const Work&) = delete;
    ~Work() = default;

    const WorkStart& start() const { return start_; }
    const Fabric& fabric() const { return *hands_->fabric; }
    Knitter& knitter() { return hands_->knitter; }
    const Knitter& knitter() const { return hands_->knitter; }
    /// Loops on the hook, as it faced her front first (see the move `stack`).
    const std::vector<LoopId>& stacked() const { return hands_->workplace.stacked(); }

    /// Does a move; returns the loop it made (hook, lift-bar), else none. What had been taken back can then
    /// not be done again. A refusal changes nothing.
    Result<LoopId> perform(const Move& move);
    /// Takes the last move back exactly; false: none was done.
    bool undo();
    /// Does the move taken back last again; false: none was taken back.
    bool redo();
    bool canUndo() const { return !done_.empty(); }
    bool canRedo() const { return !undone_.empty(); }
    void undoAll();
    void redoAll();

    /// The moves done since the start, oldest first.
    const std::vector<Move>& done() const { return done_; }
    /// The moves taken back, the one that redo would do first.
    std::vector<Move> undone() const { return {undone_.rbegin(), undone_.rend()}; }
    /// The loop that each move of `done` made, or none.
    const std::vector<LoopId>& made() const { return made_; }
    /// Does `done`, then has `undone` ready for redo: a work as it was saved. At the first move refused it
    /// stops, with the moves before it done and nothing to redo. Only over a start without moves.
    tl::expected<void, ReplayFault> resume(const std::vector<Move>& done, const std::vector<Move>& undone);

    /// Another number after each change (perform, undo, redo) than at any time before.
    std::uint64_t version() const { return version_; }

    /// Does a move, calls look(fabric, loop made), and takes it back: for ghosts and offers. The list of
    /// moves and the version stay. look must change nothing.
    template <class Look>
    Result<void> tryOut(const Move& move, Look look);
    /// Only whether the move could be done.
    Result<void> tryOut(const Move& move) {
        return tryOut(move, [](const Fabric&, LoopId) {});
    }

  private:
    /// Behind a pointer: the knitter points at the fabric, the workplace at the knitter.
    struct Hands {
        Hands(Fabric cloth, const Stance& stance);
        std::unique_ptr<Fabric> fabric;
        Knitter knitter;
        Workplace workplace;
    };
    struct Before {
        Knitter::State state;
        std::vector<LoopId> stacked;
        std::vector<YarnId> atHand;
    };

    Work(WorkStart start, Fabric fabric);
    Before before() {
        return {hands_->knitter.mark(), hands_->workplace.stacked(), hands_->knitter.yarnsAtHand()};
    }
    void goBack(Before before);

    WorkStart start_;
    std::unique_ptr<Hands> hands_;
    std::vector<Move> done_;
    std::vector<LoopId> made_;
    std::vector<Before> befores_;  ///< one for each of done_
    std::vector<Move> undone_;     ///< the next to redo last
    std::uint64_t version_ = 1;
};

template <class Look>
Result<void> Work::tryOut(const Move& move, Look look) {
    Before was = before();
    const Result<LoopId> made = hands_->workplace.perform(move);
    if (made) look(fabric(), *made);
    goBack(std::move(was));
    if (!made) return tl::unexpected<Refusal>(made.error());
    return {};
}

}  // namespace loopmend
