// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <utility>
#include <vector>

#include "fabric/knitter.h"
#include "repair/moves.h"

namespace loopmend {

/// The pin through a loop, or none.
ToolId pinOf(const Fabric& fabric, LoopId loop);
/// The lifeline or spare needle through a loop, or none; `spare`: only of that kind.
ToolId threadOf(const Fabric& fabric, LoopId loop, std::optional<bool> spare = std::nullopt);
/// Some stitch hangs open, through which nothing goes and which nothing holds.
bool hangsOpen(const Fabric& fabric);
/// The next loop along the yarn, or the one before; passes between them do not count. None: an end.
LoopId loopBeside(const Fabric& fabric, EntryId entry, bool back);
/// How many stitches of one tool lie between two of them, both counted; 0: no tool holds both.
int countBetween(const Fabric& fabric, LoopId from, LoopId to);
/// The loops of the row in which a loop stands, as they lie along the yarn.
std::vector<LoopId> rowWith(const Fabric& fabric, LoopId loop);

/// A fabric in a knitter's hands: does hand moves, as the work faces her. A wrong move gives the true wrong
/// fabric; a move that hands cannot do is refused and changes nothing.
class Workplace {
  public:
    explicit Workplace(Knitter& knitter) : knitter_(&knitter) {}

    const Fabric& fabric() const { return knitter_->fabric(); }
    Knitter& knitter() { return *knitter_; }
    const Knitter& knitter() const { return *knitter_; }

    /// The loop a move made (hook, lift-bar), else none.
    Result<LoopId> perform(const Move& move);

    /// The loops on the hook, the one in front as it faced her first. Whoever rolls the fabric back puts
    /// these back too.
    const std::vector<LoopId>& stacked() const { return stacked_; }
    void setStacked(std::vector<LoopId> loops) { stacked_ = std::move(loops); }

    /// Hosts of a hooking from front to back as it faces her; their places from right to left are read off
    /// the cloth.
    std::vector<LoopId> rightToLeft(std::vector<LoopId> loops) const;

  private:
    Result<LoopId> perform(const Move& move, Fabric& fabric);
    Result<void> pin(LoopId loop);
    Result<void> unpin(LoopId loop);
    Result<void> seat(const Move& move);
    Result<LoopId> liftBar(const Move& move);
    Result<LoopId> hookRung(const Move& move);
    Result<void> tink(int count);
    Result<void> rip(int rows);
    // workplace_threads.cpp: looking, threads, order on the needle
    Result<LoopId> look(const Move& move);
    Result<void> thread(const Move& move);
    Result<void> unthread(const Move& move);
    Result<void> ripToThread();
    Result<void> slipTo(LoopId loop);
    Result<void> cross(const Move& move);
    Result<void> passOver(LoopId over, LoopId under);
    // workplace_yarn.cpp: slack, cutting, sewing
    Result<LoopId> withYarn(const Move& move);
    Result<void> drawSlack(const Move& move);
    Result<void> even(const std::vector<LoopId>& beside, LoopId loop, LoopId strand);
    Result<void> snip(LoopId after);
    Result<void> pickOut(LoopId first, int count);
    Result<LoopId> graft(const Move& move);
    Result<LoopId> sewOver(const Move& move);
    Result<LoopId> fasten(const Move& move);
    Result<LoopId> drawTogether(const std::vector<LoopId>& round);
    Result<void> weave(const Move& move);
    Result<void> join(LoopId last, LoopId other);
    YarnId lengthLike(YarnId yarn, char color);
    void ballIsNow(YarnId yarn, YarnId instead);
    Result<void> castOnAnew(const Move& move);  ///< workplace_begin.cpp

    Knitter* knitter_;
    std::vector<LoopId> stacked_;  ///< on the hook, front first
};

}  // namespace loopmend
