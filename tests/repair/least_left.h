// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <vector>

#include "fabric/fabric.h"
#include "pattern/op.h"
#include "repair/pace.h"

/// The least that hands still have to do from one cloth to another, whatever they do. It looks at the two
/// cloths and at the prices of single moves, never at a plan.
namespace loopmend {

/// Holds the cloth that is meant against any cloth.
///
/// A loop that stays goes through the hosts that it goes through now. So it is one of the meant ones only if
/// its hosts are, up from the cast-on, which nobody can make anew: which loops can stay is known, and the
/// others have to be made. New loops come by working on, at the yarn's end and after all that stay, or by
/// hooking, through what stands there. Every hook that does not go on from the loop hooked last is a new
/// start. What waits on the needle in the end, or to be worked into, and is not on it, has to be put there.
/// Loops that are too much and lie before one that stays cannot be taken back from the yarn's end: each that
/// nothing goes through has to be let run, off its needle or pin first, and what is right below is held
/// first. Those that stay lie along the yarn in the order in which they are meant. Where a strand goes by
/// other loops than it should, or columns lie crossed otherwise, one of the loops there has to be made anew.
class LeastLeft {
  public:
    /// next: the way the yarn runs in the row that comes next, when all is as it should be.
    LeastLeft(const Fabric& meant, const Script& script, const Pace& pace, Run next);

    /// Seconds, at least. at: the loop hooked last, none if there is none. mayHang: by entry id, the loops
    /// that may be left hanging open; newer ones may. 0 where a cloth is of several yarns.
    double seconds(const Fabric& fabric, LoopId at, const std::vector<bool>& mayHang) const;

  private:
    struct Through {
        std::int32_t host;  ///< its place along the yarn
        Side side;
        std::int8_t twist;
        Plies plies;

        friend bool operator==(const Through& a, const Through& b) {
            return a.host == b.host && a.side == b.side && a.twist == b.twist && a.plies == b.plies;
        }
    };
    struct GoesBy {
        std::int32_t loop;
        Side side;

        friend bool operator==(const GoesBy& a, const GoesBy& b) {
            return a.loop == b.loop && a.side == b.side;
        }
    };
    struct Crossed {
        std::int32_t a;
        std::int32_t b;
        std::int32_t sign;

        friend bool operator==(const Crossed& x, const Crossed& y) {
            return x.a == y.a && x.b == y.b && x.sign == y.sign;
        }
    };
    struct Loop {
        std::vector<Through> through;  ///< in the order of its bight
        bool anchored = false;
        bool waits = false;  ///< on the needle
        Run run = Run::leftward;
        double workSeconds = 0;
        std::int32_t firstKid = -1;
        std::int32_t lastKid = -1;   ///< places of the first and the last loop through it along the yarn
        std::vector<GoesBy> strand;  ///< what the strand after it goes by
    };
    /// Which of the meant loops a cloth has.
    struct Kept {
        enum class Stays : std::uint8_t { no, yes, maybe };
        std::vector<Stays> stays;
        std::vector<LoopId> as;        ///< which one it is
        std::vector<std::int32_t> is;  ///< by entry id: its place among those meant, -1
        bool known = false;
    };
    Kept keptIn(const Fabric& fabric, const std::vector<LoopId>& order) const;
    std::vector<std::vector<std::int32_t>> atOdds(const Fabric& fabric, const std::vector<LoopId>& order,
                                                  const Kept& kept) const;
    bool isShort(const Fabric& fabric, const Kept& kept, std::size_t i) const;
    double hookingOf(const Kept& kept, std::size_t i) const;
    /// By cut: what it takes to let what is too much run, and to make anew what does not stand in its order.
    struct Removing {
        std::vector<double> runs;
        std::vector<int> outOfOrder;
    };
    Removing removing(const Fabric& fabric, const std::vector<LoopId>& order, const Kept& kept,
                      const std::vector<bool>& mayHang) const;
    bool waits(std::size_t i, std::size_t cut) const;
    int heightBelow(std::int32_t loop, std::size_t cut) const;

    std::vector<Loop> meant_;  ///< along the yarn; empty: of several yarns
    std::vector<Crossed> crossed_;
    double ripSeconds_;  ///< a loop that is taken out
    double turnSeconds_;
    bool turnsLast_ = false;  ///< the work is turned after the last row
    double hookSeconds_;
    double startSeconds_;  ///< a hook that does not go on
    double barSeconds_;
    double seatSeconds_;   ///< a loop that comes onto the needle
    double otherSeconds_;  ///< letting go, letting run, taking a pin out
    double pinSeconds_;
    double alternateSeconds_;  ///< more, for a hook that goes the other way than the one below it
};

}  // namespace loopmend
