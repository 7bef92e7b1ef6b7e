// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include <tl/expected.hpp>

#include "fabric/records.h"
#include "pattern/op.h"

/// Hand moves: what a person does to the cloth, each with a text form of one line. Undo, replay, plans and
/// demonstrations are lists of these lines over a fabric. Loops are named by their entry id, which is the
/// same on every machine for a fabric read from its text; a loop that a move makes gets the next free id.
///
///   pin 41                      a pin through loop 41
///   unpin 41                    take the pin out again
///   drop 41                     off the needle, left hanging in its place
///   let-run 41 3                three loops of that column come out, one after another
///   let-run 41                  as far as it goes
///   stack 41 42                 on the hook, 41 in front of 42 as it faces you
///   hook-k rung 1 loop 41       rung behind, drawn toward you through loop 41: a knit on this side
///   hook-p rung 1 loop 41       rung in front, drawn away from you: a purl
///   hook-k rung 1 loop 41 42    stacks and hooks at once; rungs count from the lowest
///   hook-k rung 1 stack         through the stacked loops as one stitch
///   hook-k bar 37 loop 41       the bare strand after loop 37, where no rung is left
///   ... twist -1                with a half turn of the (first) loop, one number for each loop
///   lift-bar 37                 the strand after loop 37 becomes a loop of its own, left hanging
///   lift-bar 37 pin             the same, and a pin through it
///   lift-bar 37 seat            the same, onto the needle, right leg in front; `seat left-leg`
///   seat 41                     on the needle, right leg in front; `seat 41 left-leg`
///   seat 41 beside 40           to the left of loop 40 as the right side shows it; `beside right-end`
///   remount 41 right-leg        turn the loop on the needle, its legs not wound; `left-leg`
///   tink 3                      take back three stitches
///   rip 2                       take back two rows (a row begun counts) and seat the loops below
///   work k2, yo                 work on
///   turn                        turn the work, or begin the next round
namespace loopmend {

enum class MoveKind : std::uint8_t {
    pin,
    unpin,
    drop,
    letRun,
    stack,
    hook,
    liftBar,
    seat,
    remount,
    tink,
    rip,
    work,
    turn
};

/// Where a lifted strand comes to lie.
enum class LiftTo : std::uint8_t { hanging, pin, needle };

struct Move {
    MoveKind kind = MoveKind::turn;
    std::vector<LoopId> loops;        ///< the loops meant; hook: first the one in front as it faces you
    int count = 0;                    ///< let-run (0: as far as it goes), tink, rip
    int rung = 0;                     ///< hook: 1 = lowest; 0: the bar after `strand`
    LoopId strand;                    ///< hook, lift-bar: the loop before a bare strand
    bool knit = true;                 ///< hook: toward you
    std::vector<std::int8_t> twists;  ///< hook: one for each loop, or none
    LiftTo liftTo = LiftTo::hanging;  ///< lift-bar
    Mount mount = Mount::western;     ///< seat, remount, lift-bar onto the needle
    LoopId beside;                    ///< seat: the loop to its right, as the right side shows it
    bool atRightEnd = false;          ///< seat: nothing to its right
    std::vector<Step> steps;          ///< work

    friend bool operator==(const Move& a, const Move& b) {
        return a.kind == b.kind && a.loops == b.loops && a.count == b.count && a.rung == b.rung &&
               a.strand == b.strand && a.knit == b.knit && a.twists == b.twists && a.liftTo == b.liftTo &&
               a.mount == b.mount && a.beside == b.beside && a.atRightEnd == b.atRightEnd &&
               a.steps == b.steps;
    }
};

std::string textOf(const Move& move);

/// What is wrong with a line, in one sentence.
struct MoveFault {
    std::string message;
};
tl::expected<Move, MoveFault> moveFrom(std::string_view line);

}  // namespace loopmend
