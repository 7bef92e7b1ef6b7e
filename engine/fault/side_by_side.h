// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <functional>
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

/// Two knittings grow side by side, row by row: as it was meant, and as it was done.
///
/// After a mistake the hands go on in one of three ways.
/// *By count* (and until the end of the row for those who notice there) the steps of every row are worked
/// blindly. When the stitches run out, the rest of the row's steps are not worked; stitches left over are
/// worked plainly, knit or purl as the end of that row goes: a fudge, but hands that count do it.
/// *By reading* every stitch is kept above its own column: a step whose stitches are not there is not worked,
/// a decrease of which some are missing takes the others (one alone is worked plainly), and a stitch too many
/// is worked plainly as its row goes.
class SideBySide {
  public:
    /// Casts on twice. The script must outlive this.
    SideBySide(const Script& script, const Setup& setup, After after);

    const Knitting& meant() const { return meant_; }
    const Knitting& actual() const { return actual_; }
    Knitting& actual() { return actual_; }
    /// Rows worked so far.
    int rows() const { return static_cast<int>(counts_.size()); }
    bool done() const { return counts_.size() == script_->rows.size(); }
    /// Changes how she goes on.
    void setAfter(After after) { after_ = after; }
    /// Both knittings, meant first. Nothing more can be worked here.
    std::pair<Knitting, Knitting> take() && { return {std::move(meant_), std::move(actual_)}; }

    /// Where the actual yarn was when the first fault of a row began.
    struct Began {
        EntryId after;     ///< the last entry then; none: it had no entry
        EntryId firstNew;  ///< entries with this number or a higher one have been made since
    };
    /// Works the next row on both, with the faults of that row (in the order of their steps). Refused: a
    /// fault that cannot stand where it is put, a script that cannot be worked; what was worked of the row
    /// stays. goOn is asked after each step from the first fault of the row on, and told after which entry of
    /// the yarn that fault began (none: it had no entry); if it says no, the row is left as it is and
    /// refused.
    tl::expected<void, FaultProblem> workRow(const std::vector<PlacedFault>& faults = {},
                                             const std::function<bool(const Began&)>& goOn = {});
    /// What the cloth suffers after the rows worked so far.
    tl::expected<void, FaultProblem> suffer(const PlacedFault& fault);

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
    /// The first entry of the actual fabric that is of that row (from 1) or newer.
    EntryId firstOfRow(int row) const { return firstOfRow_[static_cast<std::size_t>(row) - 1]; }

    /// Where both knittings stood, between two rows.
    struct Mark {
        Knitter::State meant, actual;
        std::size_t rows, misfits, changes;
    };
    Mark mark();
    void rollBack(const Mark& mark);

  private:
    struct RowInHand;

    tl::expected<void, FaultProblem> workSteps(RowInHand& row, const std::vector<PlacedFault>& faults,
                                               const std::function<bool(const Began&)>& goOn);
    tl::expected<int, FaultProblem> doWrong(RowInHand& row, int step, const PlacedFault& fault);
    tl::expected<void, FaultProblem> stepMeant(RowInHand& row, int step);
    void stepByCount(RowInHand& row, int step);
    void stepByReading(RowInHand& row, int step);
    bool workActual(RowInHand& row, const Step& step);
    Step asMuchAs(const RowInHand& row, int step) const;
    void workExtras(RowInHand& row, int step);
    void workLeftOver(RowInHand& row);
    void findHosts(RowInHand& row, int step);
    bool isExtra(LoopId actual) const;
    void pair(const std::vector<LoopId>& meant, const std::vector<LoopId>& actual);
    void tie(bool isMeant, LoopId key, LoopId value);

    const Script* script_;
    After after_;
    Knitting meant_;
    Knitting actual_;
    std::vector<Misfit> misfits_;
    std::vector<Counts> counts_;
    std::vector<std::vector<LoopId>> meantLoops_;
    std::vector<EntryId> firstOfRow_;
    std::vector<LoopId> actualOf_;  ///< by meant entry id
    std::vector<LoopId> meantOf_;   ///< by actual entry id
    struct Change {
        bool meant;
        LoopId key;
        LoopId old;
    };
    std::vector<Change> changes_;
};

}  // namespace loopmend
