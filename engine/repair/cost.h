// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <unordered_map>

#include "repair/moves.h"
#include "repair/notion.h"
#include "repair/pace.h"
#include "repair/workplace.h"

namespace loopmend {

/// What a move takes, and the chance that it spoils something.
struct MovePrice {
    double seconds = 0;
    double risk = 0;   ///< 0 to 1
    int panelRow = 0;  ///< worked on spare needles: in which row of the panel
};

/// The one cost function: prices any list of hand moves, one after another, with what is in hand and where.
/// Plans and any search over moves ask it alike.
class MoveCost {
  public:
    explicit MoveCost(const Pace& pace) : pace_(pace) {}

    /// Of a move about to be done.
    MovePrice of(const Workplace& place, const Move& move) const;
    /// It was done at that price, and made a loop (or none).
    void done(const Move& move, LoopId made, const MovePrice& price);

    const Pace& pace() const { return pace_; }
    /// What the price of the next move depends on besides the fabric: tool, place, and the way of the hook.
    Notion inHand() const { return inHand_; }
    LoopId at() const { return at_; }
    bool lastKnit() const { return lastKnit_; }

  private:
    double hookSeconds(const Workplace& place, const Move& move) const;
    double threadSeconds(const Fabric& fabric, const Move& move) const;
    double ripToThreadSeconds(const Workplace& place) const;
    int levelOf(const Fabric& fabric, const Move& move) const;

    Pace pace_;
    bool began_ = false;  ///< what she takes up first is not counted: a plan made again midway is not dearer
    Notion inHand_ = Notion::fingers;
    LoopId at_;  ///< the loop hooked last: who goes on there needs no new start
    bool lastKnit_ = true;
    int level_ = 0;  ///< the row of a panel that is being worked
    std::unordered_map<std::int32_t, int>
        panel_;  ///< loops made on the spare needles, and in which row of it
};

}  // namespace loopmend
