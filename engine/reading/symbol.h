// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstdint>
#include <string>

#include "fabric/records.h"
#include "pattern/terms.h"

/// What the eye sees at one place of the fabric, from one side.
///
/// A stitch is named by the row in which its loop was drawn through: "a purl in row 7" is a loop of row 7
/// drawn through its base to the back, whose base's head then lies across its foot as a bump. What was done
/// to the base's legs there (a twist, a crossing of columns) shows one row below the row in which it was
/// worked.
namespace loopmend {

/// What kind of sight it is. Sights are kinds of what is seen, not of what was done: ssk and skp are one.
enum class Sight : std::uint8_t {
    stitch,    ///< one loop through one base
    together,  ///< one loop through several bases: columns end here
    made,      ///< one loop through the strand between two stitches
    hole,      ///< a strand over nothing, with (later) a stitch standing on it: a yarn-over
    castOn,    ///< a loop of the edge, knotted at its foot or drawn through a hitch
    slipped,   ///< the loop of an older row passing this row, one strand going by
    tuck,      ///< one loop through the stitch below and the strand of the one above it
    wrapped,   ///< one loop through a stitch and the strand that was led round it at a turn
    turned,    ///< one loop through both legs of a stitch pulled up at a turn
    caught,    ///< one loop through a stitch and the strand of another yarn that lay across it
    pickedUp,  ///< one loop under a part of a loop at an edge
    rung,      ///< no stitch: a strand crosses the gap above a loose loop
};

/// V or bump, as this side shows it.
enum class Face : std::uint8_t { v, bump };

/// The hand of a crossing. It is the same from both sides: left `\`, right `/`. Wound: a whole turn or more.
enum class Lean : std::uint8_t { none, left, right, upright, wound };

/// Where the strand lies that goes by a slipped stitch, as this side shows it.
enum class Strand : std::uint8_t { behind, inFront };

/// What is bare in a rung: the yarn of a whole stitch, the bar alone, or the big loop at an edge (two rows).
enum class Rung : std::uint8_t { none, longRung, shortRung, edgeLoop };

/// Signed half turns as a hand: 0 none, -1 `\`, +1 `/`, anything more wound.
constexpr Lean handOf(int halfTurns) {
    return halfTurns == 0    ? Lean::none
           : halfTurns == -1 ? Lean::left
           : halfTurns == 1  ? Lean::right
                             : Lean::wound;
}

/// The most hosts of one loop whose order is told (more are counted, not ordered).
inline constexpr int kMostInStack = 5;

/// What is seen at one place. Right and left are as the asked side shows them.
struct Symbol {
    Sight sight = Sight::stitch;
    Face face = Face::v;  ///< of what was drawn through here; for a hole, a rung: of no meaning, v

    /// How the base sits at this link, in half turns: its feet cross, one row below this stitch. Of several
    /// bases, the strongest; `twists` has all of them, front to back. A backward loop of the edge always sits
    /// with half a turn: read plain it is 0 here.
    std::int8_t twist = 0;
    /// The feet of this very loop as the eye sees them, in half turns: what was done in the row above.
    std::int8_t feet = 0;

    /// Bases it goes through. stack: their places 1... from right to left, the one on top first.
    std::int8_t bases = 1;
    std::array<std::int8_t, kMostInStack> stack{};
    std::array<std::int8_t, kMostInStack> twists{};
    /// together: the hand of the decrease as its knit side shows it (purl sides hide it): right = the left
    /// stitch lies on top.
    Lean lean = Lean::none;

    /// Loops that share its base: this is number `sister` from right to left of `sisters` (1 of 1: alone).
    std::int8_t sisters = 1;
    std::int8_t sister = 1;
    bool sistersOfOtherRow = false;  ///< the base was entered again in a later row

    /// Rows beyond its own that this loop reaches over (slipped), and the strands that go by it there.
    std::int16_t tall = 0;
    std::int8_t strandsBehind = 0;
    std::int8_t strandsInFront = 0;
    Strand strand = Strand::behind;  ///< slipped: the strand of this very row

    /// Its column crosses others below this stitch: the hand, and whether it passes in front on this side.
    Lean crossing = Lean::none;
    bool crossesInFront = false;
    std::int8_t crossesOver = 0;  ///< how many columns it crosses

    Rung rung = Rung::none;  ///< rung: which
    /// A loose loop: the rungs above it.
    std::int16_t longRungs = 0;
    std::int16_t shortRungs = 0;
    std::int16_t edgeLoops = 0;

    bool chained : 1;   ///< goes through its own neighbour too: the chain of a bind-off, a stitch passed over
    bool boundOff : 1;  ///< its neighbour goes through it: it is closed in the row in which it was made
    bool anchored : 1;  ///< knotted
    bool live : 1;      ///< nothing goes through it yet
    bool loose : 1;     ///< live, and no tool holds it
    bool split : 1;     ///< a ply of it, or of its base, lies apart
    bool oneLeg : 1;    ///< picked up under one leg of the edge loop only
    bool slack : 1;     ///< clearly more yarn than an ordinary loop
    bool tight : 1;     ///< clearly less yarn than an ordinary loop
    char colour = 'A';

    Symbol()
        : chained(false),
          boundOff(false),
          anchored(false),
          live(false),
          loose(false),
          split(false),
          oneLeg(false),
          slack(false),
          tight(false) {}

    Lean twistHand() const { return handOf(twist); }
    Lean feetHand() const { return handOf(feet); }
    bool isIncrease() const { return sisters > 1; }
};

/// Whether two places look the same to a knitter: everything but how much yarn lies there and what is still
/// open.
bool looksAlike(const Symbol& a, const Symbol& b);

/// A short code, as this side shows it:
///   k p            V, bump
///   k\ p/ k@       its base twisted to the left, to the right, wound
///   k2/ p2\ k3|213 several together: number, lean (as the knit side shows it); of three and more the stack,
///                  from right to left, the one on top first; t\ behind it: feet crossed
///   k^ k^\ k^/     made from the bar: open, twisted
///   k.1of2         first (from the right) of two from one base; `,` for `.`: the base entered again later
///   o              hole (yarn-over)
///   co             edge of the cast-on
///   s s-           slipped: strand behind, strand in front
///   kt kw kg ku    tuck (its strand: t); worked with its wrap; with both legs of a turn; picked up
///   kf             worked with the strand of another yarn that lay across it
///   >f <b          columns cross below it to the right `/`, to the left `\`; f it passes in front, b behind
///   + x            goes through its neighbour; closed by its neighbour (bound off)
///   =  -  (        rung: long, short, edge loop
///   !              loose
std::string code(const Symbol& symbol);

/// What it is, in a knitter's words: `a V, its feet crossed to the left`.
std::string words(const Symbol& symbol, Terms terms = Terms::us);

}  // namespace loopmend
