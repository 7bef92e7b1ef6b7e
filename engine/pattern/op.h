// SPDX-License-Identifier: MIT
#pragma once

#include "pattern/terms.h"

#include <cstdint>
#include <string_view>
#include <vector>

namespace loopmend {

/// One thing the hands do to the next stitches, in the knitter's words: knit and purl, left and right, front
/// and back are meant as the work faces her. `uses -> makes` = loops taken from the left needle -> loops put
/// on the right one.
enum class Op : std::uint8_t {
    // 1 -> 1
    knit,
    purl,
    knitTbl,  ///< through the back leg
    purlTbl,
    slipPurlwiseBack,  ///< yarn held behind the slipped stitch, as it faces you
    slipPurlwiseFront,
    slipKnitwiseBack,
    slipKnitwiseFront,
    // 0 -> count
    yarnOver,  ///< the usual way: sits right leg in front. count = wraps (2 = double yarn-over, makes 2)
    yarnOverReverse,  ///< back to front over the needle: sits left leg in front
    // 2 -> 1
    k2tog,
    ssk,
    skp,       ///< slip 1 knitwise, knit 1, pass the slipped stitch over
    k2togTbl,  ///< both through the back legs, not re-seated
    p2tog,
    p2togTbl,
    ssp,  ///< slip 2 knitwise one by one, return, purl both through the back legs
    spp,  ///< slip 1, purl 1, pass the slipped stitch over
    // 3 -> 1
    k3tog,
    k3togTbl,
    sssk,
    p3tog,
    p3togTbl,
    sk2p,  ///< slip 1, k2tog, pass the slipped stitch over
    sp2p,  ///< slip 1, p2tog, pass the slipped stitch over
    s2kp,  ///< centred double decrease, knit side: slip 2 together knitwise, knit 1, pass both over
    s2pp,  ///< the same centred double worked on the purl side
    // 3 -> 2 and 2 -> 0
    slip1k2Over,  ///< slip 1, knit 2, pass the slipped one over both
    k2togOver,    ///< k2tog, then the stitch before it on the right needle is passed over it (net 2 -> 0)
    // increases
    kfb,         ///< 1 -> 2, front leg then back leg
    kpk,         ///< 1 -> count: knit, purl, knit ... into one stitch; count 1 (not said) = 3
    kyok,        ///< 1 -> count: knit, yarn-over, knit ... into one stitch; count 1 (not said) = 3
    m1Left,      ///< 0 -> 1: bar lifted front to back, knitted through the back leg
    m1Right,     ///< 0 -> 1: bar lifted back to front, knitted through the front leg
    m1PurlLeft,  ///< the same two, purled
    m1PurlRight,
    m1Open,  ///< 0 -> 1: bar worked through its leading leg, leaves a small hole
    // edges, holders
    castOn,   ///< 0 -> count backward loops on the right needle in mid-row or at its end
    bindOff,  ///< count -> 0, chain. The loop left after the last one counts as the first stitch of what
              ///< follows
              ///< (so 13 stitches worked `bind off 3, k10` leave 10); at the end of a row it is fastened off
    bindOffPurl,  ///< as bindOff, purling
    passOver,     ///< 0 -> -1: the second loop on the right needle passes over the first
    knitBelow,    ///< 1 -> 1: into the stitch one row under, the top loop dropped into it
    purlBelow,
    cable,  ///< over + under -> the same
    hold,   ///< count -> 0: not worked, left on a holder
};

inline constexpr int kOpCount = static_cast<int>(Op::hold) + 1;

/// One operation once: five knits are five Steps. Only the operations that say so above look at `count`.
struct Step {
    Op op = Op::knit;
    std::int16_t count = 1;
    std::int16_t over = 0;   ///< cable: stitches put on the cable needle first and worked last
    std::int16_t under = 0;  ///< cable: stitches worked past them, first
    bool front = false;  ///< cable: the cable needle is held in front (leans left), else behind (leans right)
    bool purlOver = false;   ///< cable: the held stitches are purled (background), else knitted
    bool purlUnder = false;  ///< cable: the stitches worked first are purled, else knitted

    friend bool operator==(const Step& a, const Step& b) {
        return a.op == b.op && a.count == b.count && a.over == b.over && a.under == b.under &&
               a.front == b.front && a.purlOver == b.purlOver && a.purlUnder == b.purlUnder;
    }
    friend bool operator!=(const Step& a, const Step& b) { return !(a == b); }
};

/// Loops taken from the left needle. Never negative.
int uses(const Step& step);
/// Loops added to the right needle. Negative only for passOver, which takes one away again.
int makes(const Step& step);

/// As our language prints it: `k2tog`, `yo`, `sl1 wyif`. Numbers that a Step carries are not in it (see
/// print.h).
std::string_view name(Op op);
/// In full, for sentences: `knit two together`, `bind off` | `cast off`.
std::string_view longName(Op op, Terms terms);

/// Which face of the fabric looks at the knitter during a row.
enum class Facing : std::uint8_t { right, wrong };

/// A row of operations in working order: what a knitter works.
struct WorkedRow {
    int number = 0;  ///< 1 is the first row worked after the cast-on
    int printed =
        0;  ///< the number of the pattern's row it follows (a repeat works row 1 again as, say, row 9)
    Facing facing = Facing::right;
    bool round = false;
    std::vector<Step> steps;
};

/// A whole knitting: rows one after another over a cast-on.
struct Script {
    int castOn = 0;
    bool round = false;
    std::vector<WorkedRow> rows;
};

}  // namespace loopmend
