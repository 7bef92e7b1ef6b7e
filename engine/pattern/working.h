// SPDX-License-Identifier: MIT
#pragma once

#include <memory>
#include <string>

#include <tl/expected.hpp>

#include "fabric/knitter.h"
#include "pattern/op.h"

/// Rows of operations worked by a Knitter: where instructions become fabric.
namespace loopmend {

enum class CastOn : std::uint8_t { longTail, backward, knitted };

/// What a piece is made with. An ordinary loop and strand of a medium yarn on a 4.5 mm needle come to 21 mm
/// together (a fifth of it the strand: craft figures, adjustable).
struct Setup {
    CastOn castOn = CastOn::longTail;
    Habit habit = Habit::western;
    bool mirrored = false;
    std::int32_t loopUm = 16800;
    std::int32_t strandUm = 4200;
};

/// A fabric and the knitter who works it.
struct Knitting {
    std::unique_ptr<Fabric> fabric;
    Knitter knitter;
};

/// A row that could not be worked, and where.
struct RowFault {
    int row = 0;   ///< WorkedRow::number
    int step = 0;  ///< index of the step that was refused; the row's length if stitches were left over
    int left = 0;  ///< stitches left on the left needle
    Refusal refusal{Why::rowNotWorked};
};
/// One sentence: which row, which stitch, why.
std::string sentence(const RowFault& fault);

/// Works one step. Bind-off leaves a loop on the right needle that counts as the first stitch of what
/// follows; see `RowWork`, which knows about it.
Result<void> work(Knitter& knitter, const Step& step);

/// Works the steps of one row one by one; remembers a loop left over by a bind-off. Knitted on before more is
/// bound off (a picot), stitches go through that loop, which then waits on the left needle as their last one.
class RowWork {
  public:
    explicit RowWork(Knitter& knitter) : knitter_(&knitter) {}
    Result<void> work(const Step& step);

  private:
    Result<void> other(const Step& step);
    Result<void> chain(const Step& step);

    Knitter* knitter_;
    bool loopLeft_ = false;
};

/// Casts on for a script: the knitter then faces its first row.
Knitting castOn(const Script& script, const Setup& setup = {});

/// The row's last step turns the work: `turn` or `wrapTurn`.
bool turnsEarly(const WorkedRow& row);
/// Works the steps of a row, from where the knitter stands. Stitches left over are a fault, unless the row
/// ends in a turn. Nothing else turns here.
tl::expected<void, RowFault> workRow(Knitter& knitter, const WorkedRow& row);
/// Turns the work, or begins the next round. A round worked back to its beginning is turned.
void endRow(Knitter& knitter);
/// The same after a row of a script, which may have turned the work already.
void endRow(Knitter& knitter, const WorkedRow& row);

/// Casts on and works every row of a script; the last row is ended too, so that the next row could begin.
tl::expected<Knitting, RowFault> knit(const Script& script, const Setup& setup = {});

}  // namespace loopmend
