// SPDX-License-Identifier: MIT
#pragma once

#include "pattern/terms.h"

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace loopmend {

/// One thing the hands do to the next stitches, in the knitter's words: knit and purl, left and right, front
/// and back are meant as the work faces her. `uses -> makes` = stitches taken from the left needle ->
/// stitches put on the right one. A stitch doubled at a turn counts as one, though it shows two legs more.
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
    kfb,   ///< 1 -> count: front leg, back leg, front leg ...; count 1 (not said) = 2
    kpk,   ///< 1 -> count: knit, purl, knit ... into one stitch; count 1 (not said) = 3
    kyok,  ///< 1 -> count: knit, yarn-over, knit ... into one stitch; count 1 (not said) = 3
    pfb,   ///< the same three, begun with a purl
    pkp,
    pyop,
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
    // Brioche has no operations of its own: `sl1yo` is slipPurlwiseFront and yarnOver, `brk` and `brp` are
    // k2tog and p2tog of a stitch and its yarn-over, which count as two loops.
    // wraps
    knitWraps,  ///< 1 -> count: knitted, the yarn going count times round the needle (count >= 2)
    purlWraps,
    letFall,  ///< 1 -> 0: the next loop falls off the needle: a wrap, a yarn-over, a bar
    // lifted increases: one more stitch out of an older one. The stitch beside it is a step of its own
    liftedRight,  ///< 0 -> 1: knitted into the stitch under the next one; the new column stands right of it
    liftedLeft,   ///< 0 -> 1: knitted into the stitch two under the last one worked; it stands left of it
    liftedRightPurl,
    liftedLeftPurl,
    // short rows
    turn,      ///< 0 -> 0, last of its row: the work is turned, what is left on the needle waits
    wrapTurn,  ///< 0 -> 0, last of its row: the yarn is led round the next stitch, then the work is turned.
    ///< Out in front and back behind after a knit, the other way about after a purl (after neither:
    ///< as after a knit on the right side, as after a purl on the wrong one)
    doubled,  ///< 1 -> 1, first of a row after a turn: slipped, the yarn pulled up over the needle, so that
              ///< the stitch shows both its legs
    knitDoubled,  ///< 1 -> 1: both strands of a doubled stitch knitted as one
    purlDoubled,
    knitWithWrap,  ///< 1 -> 1: the wrap lifted and knitted together with its stitch, which covers it; two
                   ///< wraps round one stitch are both lifted
    purlWithWrap,
    // edges
    pickUp,         ///< 0 -> count: drawn up toward the side that faces her along an edge, as `Step::edge`
                    ///< says, each under a whole stitch, spread evenly over it
    castOnRight,    ///< 0 -> count backward loops turned the other way (their feet cross `/`)
    castOnKnitted,  ///< -count -> 0: put on the left needle, each drawn through the loop before it, the first
                    ///< through the next stitch; after a bind-off through the loop it left, which then is the
                    ///< next stitch (so `cast on 2 knitted, bind off 4` again and again makes picots)
    bindOffTogether,  ///< count -> 0, chain: each stitch knitted together with one of the holder (Op::hold)
                      ///< or
                      ///< spare needle that was filled last, both pieces held face to face
    // two colors in a row
    knitWithFloat,  ///< 1 -> 1: the strand of the other yarn that lies across the stitch lifted onto the
                    ///< needle
                    ///< and knitted together with the stitch, which covers it: the float is caught
    purlWithFloat,
};

inline constexpr int kOpCount = static_cast<int>(Op::purlWithFloat) + 1;

/// Where stitches are picked up: along the rows' ends beside the stitch worked last (down to the row in which
/// that edge begins; if that stitch is at no edge, up along the one that leads to the stitch worked next or,
/// in the round, to the first of the round), or along the edge of the cast-on or of the newest bind-off.
enum class Edge : std::uint8_t { side, castOn, boundOff };

/// One operation once: five knits are five Steps. Only the operations that say so above look at `count`.
struct Step {
    Op op = Op::knit;
    std::int16_t count = 1;
    std::int16_t over = 0;   ///< cable: stitches put on the cable needle first and worked last
    std::int16_t under = 0;  ///< cable: stitches worked past them, first
    bool front = false;  ///< cable: the cable needle is held in front (leans left), else behind (leans right)
    bool purlOver = false;   ///< cable: the held stitches are purled (background), else knitted
    bool purlUnder = false;  ///< cable: the stitches worked first are purled, else knitted
    bool tblOver = false;    ///< cable: the held stitches are worked through the back leg
    bool tblUnder = false;   ///< cable: the stitches worked first are worked through the back leg
    Edge edge = Edge::side;  ///< pickUp
    std::uint8_t yarn = 0;   ///< which of Script::yarns it is worked with
    bool link = false;       ///< blocks of colour: this yarn is first led round the one worked before

    friend bool operator==(const Step& a, const Step& b) {
        return a.op == b.op && a.count == b.count && a.over == b.over && a.under == b.under &&
               a.front == b.front && a.purlOver == b.purlOver && a.purlUnder == b.purlUnder &&
               a.tblOver == b.tblOver && a.tblUnder == b.tblUnder && a.edge == b.edge && a.yarn == b.yarn &&
               a.link == b.link;
    }
    friend bool operator!=(const Step& a, const Step& b) { return !(a == b); }
};

/// Stitches taken from the left needle. Negative only for castOnKnitted, which puts some on it.
int uses(const Step& step);
/// Loops added to the right needle. Negative only for passOver, which takes one away again.
int makes(const Step& step);
/// Several loops out of one stitch, as many as Step::count says: kpk, kyok and their purled twins.
bool isSeveralFromOne(Op op);

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
    std::int8_t twist = 0;  ///< in the round: half turns of the band at the join
    std::string yarns =
        "A";  ///< the colour of each yarn; the first one casts on. Two yarns may be of one colour
    std::vector<WorkedRow> rows;
};

}  // namespace loopmend
