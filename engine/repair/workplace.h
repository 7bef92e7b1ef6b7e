// SPDX-License-Identifier: MIT
#pragma once

#include <utility>
#include <vector>

#include "fabric/knitter.h"
#include "repair/moves.h"

namespace loopmend {

/// The pin through a loop, or none.
ToolId pinOf(const Fabric& fabric, LoopId loop);

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

    Knitter* knitter_;
    std::vector<LoopId> stacked_;  ///< on the hook, front first
};

}  // namespace loopmend
