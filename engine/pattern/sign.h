// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <optional>
#include <string>

#include "pattern/op.h"

/// Signs: how a stitch looks from the right side, one vocabulary for charts that are written and for charts
/// of what is there. Where JIS L 0201:1995 (letter symbols for knitting) has a sign, it is that one; the
/// standard says how a stitch looks, not how it is worked, and the purl form of a sign is the knit form with
/// a bar under it. The others are signs of ours: a legend is always given.
namespace loopmend {

enum class Sign : std::uint8_t {
    knit,
    purl,
    yarnOver,
    rightOver,     ///< two together, the right stitch on top (ssk, skp)
    leftOver,      ///< the left stitch on top (k2tog)
    centreOver,    ///< three, the middle one on top
    rightOver3,    ///< three, the right one on top
    leftOver3,     ///< three, the left one on top
    several,       ///< more than three together
    twistedLeft,   ///< its base's feet cross `\`
    twistedRight,  ///< `/`
    wound,         ///< a whole turn or more
    slipped,
    slippedInFront,
    below,  ///< drawn through the stitch of the row below
    wrapped,
    caught,  ///< worked together with the strand of another yarn that lay across it
    turned,  ///< both legs of a doubled stitch worked as one
    pickedUp,
    fromOne,  ///< one of several out of one stitch; in a written chart all of them
    made,
    madeLeft,
    madeRight,
    castOff,
    castOn,
    crossing,  ///< its column has changed places
    rung,      ///< no stitch: a strand across the gap above a fallen one
    loose,     ///< a loop that nothing holds
    // in written charts only: what hands do that no square of a finished piece says
    oneOverTwo,    ///< one stitch passed over two
    togetherOver,  ///< two together, and the stitch before them passed over
    passedOver,    ///< the stitch before the last one passed over the last one
    held,          ///< left on a holder
    longStitch,    ///< the yarn taken round the needle several times
    letFall,
    liftedLeft,  ///< one more out of an older stitch, standing left of it
    liftedRight,
    turnHere,
    wrapTurn,
    doubled,
};
inline constexpr int kSignCount = static_cast<int>(Sign::doubled) + 1;

/// One stitch of a written chart, as the right side shows it. Together with the side that faces the knitter
/// it says exactly which step is worked.
struct StitchSign {
    Sign sign = Sign::knit;
    bool bar = false;  ///< the purl form
    /// Several ways of working look alike (ssk and skp): which of them is meant, 0 for the usual one. The
    /// legend says which.
    std::uint8_t way = 0;
    std::int16_t count = 1;  ///< Step::count, for the operations that have one
    /// A crossing: the stitches that stood at the right (and go to the left), and those that stood at the
    /// left.
    std::int16_t right = 0;
    std::int16_t left = 0;
    bool rightInFront = false;  ///< the right ones pass in front: `\`; else the left ones do: `/`
    bool purlRight = false;     ///< as the right side shows it
    bool purlLeft = false;
    bool twistRight = false;
    bool twistLeft = false;
    std::uint8_t yarn = 0;  ///< Step::yarn
    bool link = false;      ///< Step::link

    friend bool operator==(const StitchSign& a, const StitchSign& b) {
        return a.sign == b.sign && a.bar == b.bar && a.way == b.way && a.count == b.count &&
               a.right == b.right && a.left == b.left && a.rightInFront == b.rightInFront &&
               a.purlRight == b.purlRight && a.purlLeft == b.purlLeft && a.twistRight == b.twistRight &&
               a.twistLeft == b.twistLeft && a.yarn == b.yarn && a.link == b.link;
    }
    friend bool operator!=(const StitchSign& a, const StitchSign& b) { return !(a == b); }
};

/// What a step looks like from the right side, worked with this side facing. Every step has a sign; two steps
/// that differ have signs that differ. (A number that its operation does not look at is not kept.)
StitchSign signOf(const Step& step, Facing facing);

/// The step that gives this sign, worked with this side facing; none if no operation known here does, as
/// `slip, purl, pass over` of the purl side, which has no like on the knit side.
std::optional<Step> stepOf(const StitchSign& sign, Facing facing);

/// The sign of the same thing in a piece knitted the other way round, by a left-handed knitter.
StitchSign mirrored(StitchSign sign);

/// Squares it takes up: the stitches it makes, or takes if it makes none; at least one.
int widthOf(const StitchSign& sign);

/// Whether `count` belongs to what is worked.
bool hasCount(Op op);

}  // namespace loopmend
