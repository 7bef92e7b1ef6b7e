// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include <tl/expected.hpp>

#include "fabric/records.h"
#include "pattern/op.h"
#include "pattern/working.h"

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
///
/// Looking and holding:
///
///   inspect right               look at that side of the cloth (right, wrong), turning it over if need be
///   tug                         pull gently: whatever hangs loose runs as far as it goes
///   count 41 47                 count the stitches of one tool from 41 to 47
///   mark 41                     a marker hung in stitch 41: its column and its row are found again
///   slip-to 41                  stitches pass over purlwise, on or back, until 41 is next on the left needle
///   sort 41                     the rungs above 41 laid in order, the lowest nearest the stitch
///   thread row 41               a smooth thread through every stitch of the row of 41: a lifeline
///   thread needle               ... through every stitch on the needle
///   thread 41 42 43             ... through these, whichever they are
///   thread row 41 spare         the spare needle instead of a thread; likewise the two others
///                               (an open stitch loses its hanging place under the needle by this)
///   unthread 41                 that thread or spare needle is drawn out, all of it
///   rip to-thread               yarn is drawn out down to the thread; what was open there goes onto the
///                               needle. A stitch of that row that the thread missed falls off
///
/// Order and lengths:
///
///   cross 41 42 in-front 43 44  41 42 change places with 43 44, in front of them as it faces you; or
///   `behind`.
///                               One of the groups has to be open or held; what is crossed the other way is
///                               uncrossed by this. To the other face of an arm that stands: two such moves
///   turn-join 41 -1             the band of a round is turned once the other way round the needle at its
///   join,
///                               between 41, the last stitch cast on, and the first; only before the second
///                               round. Turns are counted as the twist of `cast-on` is, but whole ones
///   pass-over 41 42             41 is lifted over 42, its neighbor on the needle, and off
///   draw-slack 41               stitch 41 made as big as its neighbors, six on each side: their slack is
///                               drawn into it, or its slack into them. Lengths change, links do not
///   draw-slack bar 40           the slack of the strand after 40, likewise
///   draw-slack 40 41 800        800 micrometers out of stitch 40 into stitch 41 of the same yarn
///   draw-slack bar 40 41 800    ... out of the strand after 40 into stitch 41
///
/// Cutting and sewing (each sewing takes a new length of yarn):
///
///   snip 41                     the strand after 41 is cut. Nothing runs until it is picked out or tugged
///   pick-out 41 5               from a cut end: 41 and four more are drawn out of their row, away from the
///                               cut; without a number as far as the row goes
///   graft 41 42 to 51 52        sewn row: through the open stitches 41 42 and under 51 52, in this order.
///                               `rightward` after them: the thread runs that way (as the right side shows
///                               it). `sewn kkp` and `over kkk`: how the sewn stitches, and those over
///                               them, face you (left out: all knit as the right side shows it)
///   sew-over 41 42 B            duplicate stitch over these in color B, on the side that faces you; or
///                               `rightward`
///   fasten 41                   a bit of yarn through the open stitch 41, sewn down on the other side
///   fasten 41 42 43             ... under the heads of these, which all stand, and drawn until a gap between
///                               them just closes; on the side away from the knitter
///   fasten strand 77            the float whose pass is 77, caught down in the middle
///   weave 41                    the end of yarn after 41 is woven in and trimmed; `weave 41 first`: before
///   it join 40 44                  the end after 40 and the end at 44 are made one yarn
///
/// Beginning again:
///
///   cast-on 13                  everything is drawn out and wound up, and 13 are cast on anew, before a row
///                               that shows the right side; `long-tail` after the number is how, if nothing
///                               is said, else `backward` or `knitted`; `wrong` where the first row shows
///                               that side; `twist 1`: half turns of the band where a round is joined
///
/// Further forms of hooking:
///
///   hook-k pass 77 loop 41      the strand whose pass is 77, wherever it lies: a rung that was left out
///   ... pierced                 the hook went through the plies of the stitch instead of its opening
///   ... split                   it caught only some plies of the strand
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
    turn,
    inspect,
    tug,
    count,
    mark,
    slipTo,
    sort,
    thread,
    unthread,
    cross,
    passOver,
    drawSlack,
    snip,
    pickOut,
    graft,
    sewOver,
    fasten,
    weave,
    join,
    castOn,
    turnJoin
};

/// Which stitches a thread or a spare needle goes through.
enum class ThreadThrough : std::uint8_t { named, row, needle };

/// Where a lifted strand comes to lie.
enum class LiftTo : std::uint8_t { hanging, pin, needle };

struct Move {
    MoveKind kind = MoveKind::turn;
    std::vector<LoopId> loops;   ///< the loops meant; hook: first the one in front as it faces you
    std::vector<LoopId> others;  ///< cross: those passed by; graft: those above; pass-over, join: the other
    int count = 0;     ///< let-run (0: as far as it goes), tink, cast-on, pick-out (0: the row), rip (0:
                       ///< to the thread); turn-join: whole turns
    int rung = 0;      ///< hook: 1 = lowest; 0: the bar after `strand`
    LoopId strand;     ///< hook, lift-bar, draw-slack: the loop before a bare strand
    PassId pass;       ///< hook, fasten: the strand that goes by somewhere
    bool knit = true;  ///< hook: toward you
    std::vector<std::int8_t> twists;   ///< hook: one for each loop, or none
    Plies plies = Plies::whole;        ///< hook: how the first loop's plies were met
    LiftTo liftTo = LiftTo::hanging;   ///< lift-bar
    Mount mount = Mount::western;      ///< seat, remount, lift-bar onto the needle
    LoopId beside;                     ///< seat: the loop to its right, as the right side shows it
    bool atRightEnd = false;           ///< seat: nothing to its right
    std::vector<Step> steps;           ///< work
    Side side = Side::right;           ///< inspect: which is looked at; cast-on: shown by the first row
    CastOn castOn = CastOn::longTail;  ///< cast-on
    ThreadThrough through = ThreadThrough::named;  ///< thread
    bool spare = false;                            ///< thread: the spare needle
    bool inFront = true;                           ///< cross: as it faces her
    std::int32_t um = 0;                           ///< draw-slack; 0: as much as makes it even
    Run run = Run::leftward;                       ///< graft, sew-over: the way the thread runs
    std::vector<bool> sewnKnit;  ///< graft: the sewn stitches; empty: as the right side shows V
    std::vector<bool> overKnit;  ///< graft: those over them
    char color = 'A';            ///< sew-over
    bool atFirst = false;        ///< weave: the end before the loop

    friend bool operator==(const Move& a, const Move& b);
};

/// A move of that kind at one loop.
Move moveOn(MoveKind kind, LoopId loop, int count = 0);

std::string textOf(const Move& move);

/// What is wrong with a line, in one sentence.
struct MoveFault {
    std::string message;
};
tl::expected<Move, MoveFault> moveFrom(std::string_view line);

}  // namespace loopmend
