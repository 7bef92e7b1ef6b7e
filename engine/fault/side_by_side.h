// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <optional>
#include <utility>
#include <vector>

#include <tl/expected.hpp>

#include "fault/fault.h"
#include "fault/place.h"
#include "pattern/working.h"

namespace loopmend {

/// A row that did not come out. over: stitches left when the words of the row were done; below 0: stitches
/// that its words wanted and the needle did not have.
struct Misfit {
    int row = 0;
    int over = 0;
};

/// A fault at the step it is done at.
struct PlacedFault {
    const Fault* fault = nullptr;
    FaultPlace place;
    int step = 0;
};

/// How it takes the words, if it is one that misreads them.
inline Misreading misreadingOf(const Script& script, const PlacedFault& fault) {
    return {script, fault.place.row, fault.step, fault.place.rows};
}

/// Two knittings grow side by side, row by row: as it was meant, and as it was done.
///
/// After a mistake the hands go on in one of three ways.
/// *By count* (and until the end of the row for those who notice there) the steps of every row are worked
/// blindly. When the stitches run out, the rest of the row's steps are not worked; stitches left over are
/// worked plainly, knit or purl as the end of that row goes: a fudge, but hands that count do it.
/// *By reading* every stitch is kept above its own column: a step whose stitches are not there is not worked,
/// a decrease of which some are missing takes the others (one alone is worked plainly), and a stitch too many
/// is worked plainly as its row goes.
///
/// Of a row that was misread she works other words than those that were meant, and these blindly, however she
/// goes on after it: the mistake is the row. Stitches are then paired by their places on the needle, or, if
/// there are more or fewer, by the columns they stand on. Where both knittings come to be worked from
/// opposite ends (a row more or less, flat), every later row is such a row.
class SideBySide {
  public:
    /// Casts on. The script must outlive this.
    SideBySide(const Script& script, const Setup& setup, After after);
    /// The same once more, to go on with by the rows of a script that begins alike. Only before it was split,
    /// and between two rows.
    SideBySide(const SideBySide& before, const Script& script);

    const Knitting& meant() const { return meant_; }
    /// Until the first mistake both are one knitting.
    const Knitting& actual() const { return actual_ ? *actual_ : meant_; }
    /// Makes two of it. Not in the middle of a row.
    Knitting& split();
    /// Meant rows worked so far.
    int rows() const { return static_cast<int>(counts_.size()); }
    bool done() const { return counts_.size() == script_->rows.size(); }
    /// Rows that the hands have worked for them.
    int handsRows() const { return handsRows_; }
    /// Changes how she goes on.
    void setAfter(After after) { after_ = after; }
    After after() const { return after_; }
    /// Both knittings, meant first. Nothing more can be worked here.
    std::pair<Knitting, Knitting> take() &&;

    /// Works the next row on both, with the faults of that row (in the order of their steps). Refused: a
    /// fault that cannot stand where it is put, a script that cannot be worked; what was worked of the row
    /// stays.
    tl::expected<void, FaultProblem> workRow(const std::vector<PlacedFault>& faults = {});
    /// From the row that comes next, which is that of the place, she takes the words otherwise (or, before
    /// row 1, has begun otherwise).
    tl::expected<void, FaultProblem> misread(const PlacedFault& fault);
    /// What the cloth suffers after the rows worked so far.
    tl::expected<void, FaultProblem> suffer(const PlacedFault& fault);

    // ---- a row step by step
    // ------------------------------------------------------------------------------

    /// Works the row in hand (the next one, if none is begun) up to a step.
    tl::expected<void, FaultProblem> workTo(int step);
    /// Makes a mistake at the step that comes next.
    tl::expected<void, FaultProblem> makeMistake(const PlacedFault& fault);
    /// Works the rest of the row in hand and turns.
    tl::expected<void, FaultProblem> endRow();
    /// The hands alone work a row by count, and turn: nothing is paired any more, and the meant knitting
    /// stays where it is. Not in the middle of a row.
    void workAlone(const WorkedRow& row);
    /// The step that comes next in the row in hand; -1: none is begun.
    int step() const { return row_.step; }
    /// Every loop on one needle stands for that on the other, in their order: however she goes on, she works
    /// the same from here.
    bool inStep() const;
    /// By reading: works what is on the needle too many before the step that comes next.
    void workWhatIsExtra() {
        if (actual_ && row_.step >= 0 && after_ == After::byReading) workExtras(row_.step);
    }
    /// The row that comes next is worked otherwise as a whole: no mistake can be made at a step of it.
    bool nextRowIsMisread() const { return !done() && takenAs().has_value(); }

    const std::vector<Misfit>& misfits() const { return misfits_; }
    struct Counts {
        int meant;
        int actual;
    };
    /// Stitches on the needle after each row.
    const std::vector<Counts>& counts() const { return counts_; }
    /// Loops of the meant knitting by row and stitch (none: bound off in the chain).
    const std::vector<std::vector<LoopId>>& meantLoops() const { return meantLoops_; }
    /// The loop that stands for a meant loop in the actual knitting; none if there is none.
    LoopId actualOf(LoopId meant) const;
    /// The meant loop that it stands for; none if it stands for none.
    LoopId meantOf(LoopId actual) const;
    /// The first entry of the actual fabric that is of that row (from 1) or newer.
    EntryId firstOfRow(int row) const { return firstOfRow_[static_cast<std::size_t>(row) - 1]; }

  private:
    /// What is known of the row in hand.
    struct RowInHand {
        int step = -1;
        RowWork meantWork;
        RowWork actualWork;
        LoopId left = {};                  ///< the meant loop that a bind-off has left
        std::vector<LoopId> waiting = {};  ///< left behind when the actual work was turned early
        bool ranOut = false;
        int wanted = 0;  ///< stitches that steps not worked would have taken
    };

  public:
    /// Where both knittings stood.
    struct Mark {
        Knitter::State meant;
        std::optional<Knitter::State> actual;
        std::size_t rows, begun, loops, misfits, changes, misread;
        int handsRows;
        RowInHand row;
    };
    Mark mark();
    void rollBack(const Mark& mark);

  private:
    const WorkedRow& words() const { return script_->rows[counts_.size()]; }
    const Step& stepAt(int step) const { return words().steps[static_cast<std::size_t>(step)]; }
    void beginRow();
    void rowIsDone();
    tl::expected<void, FaultProblem> workStep();
    tl::expected<void, FaultProblem> stepMeant(int step);
    void stepByCount(const WorkedRow& row, int step);
    void stepByReading(int step);
    Result<void> workThere(const Step& step);
    bool workActual(const Step& step);
    Step asMuchAs(const WorkedRow& row, int step) const;
    void workExtras(int step);
    void workLeftOver(const WorkedRow& row);
    void findHosts(int step);
    bool sameWay() const { return !actual_ || meant_.knitter.run() == actual_->knitter.run(); }
    std::optional<std::vector<WorkedRow>> takenAs() const;
    tl::expected<void, FaultProblem> workMisread(const std::vector<WorkedRow>& rows);
    void workBlindly(const WorkedRow& row);
    void pairNeedles(EntryId meantNew, EntryId actualNew);
    bool isExtra(LoopId actual) const;
    void pair(const std::vector<LoopId>& meant, const std::vector<LoopId>& actual);
    void tie(bool isMeant, LoopId key, LoopId value);

    const Script* script_;
    Setup setup_;
    After after_;
    Knitting meant_;
    std::optional<Knitting> actual_;
    RowInHand row_;
    std::vector<Misfit> misfits_;
    std::vector<Counts> counts_;
    std::vector<std::vector<LoopId>> meantLoops_;
    std::vector<EntryId> firstOfRow_;
    int handsRows_ = 0;
    std::vector<PlacedFault> misread_;  ///< the first one that takes a row otherwise decides
    std::vector<LoopId> actualOf_;      ///< by meant entry id
    std::vector<LoopId> meantOf_;       ///< by actual entry id
    struct Change {
        bool meant;
        LoopId key;
        LoopId old;
    };
    std::vector<Change> changes_;

    // Of the step in hand, kept only so that nothing is allocated at every stitch.
    std::vector<LoopId> hosts_;  ///< what the meant step takes
    std::vector<LoopId> made_;   ///< what it put on the right needle
    int there_ = 0;              ///< how many of its hosts the actual knitting has
    int over_ = 0;               ///< of them, how many are of a cable's held arm
    std::vector<LoopId> waits_;  ///< stands for its hosts, but was left waiting when the work was turned
    std::vector<LoopId> ahead_;  ///< what the actual step could take
    std::vector<LoopId> did_;    ///< what it put on the right needle
};

}  // namespace loopmend
