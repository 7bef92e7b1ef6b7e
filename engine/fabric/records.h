// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <type_traits>

#include "fabric/ids.h"

/// The records of the fabric model. Everything is said as seen from the right side of the fabric.
/// No record says how a loop came to be: links, passes, tools and `anchored` are all there is.
/// Every field is one 32-bit word, so that the journal can keep any change as (place, old word).
namespace loopmend {

/// A face of the fabric, and the side of a host toward which a loop was drawn.
enum class Side : std::uint8_t { right, wrong };

constexpr Side opposite(Side s) {
    return s == Side::right ? Side::wrong : Side::right;
}

/// Which way the yarn runs at an entry, as seen from the right side.
enum class Run : std::uint8_t { leftward, rightward };

constexpr Run opposite(Run r) {
    return r == Run::leftward ? Run::rightward : Run::leftward;
}

/// What of the host the loop goes through: its opening, or under both legs or one (picked-up edges).
enum class Part : std::uint8_t { opening, bothLegs, rightLeg, leftLeg };

/// How the host's plies were met: drawn past whole, pierced, or only some of this loop's plies drawn.
enum class Plies : std::uint8_t { whole, pierced, some };

/// How a loop sits on its tool: western = right leg in front as the needle faces you; eastern = left leg.
enum class Mount : std::uint8_t { western, eastern };

constexpr Mount opposite(Mount m) {
    return m == Mount::western ? Mount::eastern : Mount::western;
}

/// What a link is like, apart from the two loops it ties.
struct LinkForm {
    std::int8_t twist = 0;    ///< signed half turns of the host at this link: 0 open, -1 `\`, +1 `/`
    Side side = Side::right;  ///< drawn toward this side of the host
    Part part : 4 = Part::opening;
    Plies plies : 4 = Plies::whole;
    std::int8_t place = 0;  ///< the host's place from right to left among this loop's hosts (any
                            ///< order-keeping numbers)

    friend bool operator==(const LinkForm& a, const LinkForm& b) {
        return a.twist == b.twist && a.side == b.side && a.part == b.part && a.plies == b.plies &&
               a.place == b.place;
    }
};

/// One loop going through one host.
struct Link {
    LoopId loop;
    LoopId host;
    LinkId nextInLoop;  ///< the loop's links in the order its bight goes through them
    LinkId nextInHost;  ///< the host's links from right to left
    LinkId prevInHost;
    LinkForm form;
};

struct EntryFlags {
    std::uint32_t pass : 1;      ///< a pass, not a loop
    std::uint32_t run : 1;       ///< Run
    std::uint32_t anchored : 1;  ///< the loop's foot is knotted
    std::uint32_t rowEnds : 1;   ///< note: a row or round was ended after this entry
    std::uint32_t gone : 1;      ///< no longer in the fabric
    std::uint32_t passSide : 1;  ///< of a pass: Side on which the strand goes by
    std::uint32_t unused : 26;
};

/// A loop or a pass, in the order in which it lies along its yarn.
struct Entry {
    EntryId prev;
    EntryId next;
    YarnId yarn;
    std::int32_t um = 0;        ///< a loop's own yarn, µm (a pass owns none)
    std::int32_t strandUm = 0;  ///< the strand from this loop to the next loop or to the yarn's end, µm
    union {
        LinkId firstLink;  ///< loop: in the order of its bight
        EntryId passPrev;  ///< pass: the one below it in the same list
    };
    union {
        LinkId lastLink;
        EntryId passNext;
    };
    union {
        LinkId firstKid;    ///< loop: links of the loops that go through it, from right to left
        StrandsId goingBy;  ///< pass: the list it stands in, which knows the loop passed
    };
    LinkId lastKid;
    StrandsId strands;    ///< loop: the passes that name it
    HeldId held;          ///< loop: first of the tools that hold it (or keep its place)
    CrossingId crossing;  ///< loop: first crossing it takes part in
    EntryFlags flags;

    Entry() : firstLink(), lastLink(), firstKid(), flags{} {}
};

/// The strands that go by one loop, from bottom to top. A list of its own, so that a column of n rungs is
/// handed from loop to loop in one step.
struct Strands {
    LoopId loop;
    PassId first;
    PassId last;
};

struct HeldState {
    Mount mount = Mount::western;
    std::uint8_t hanging = 0;  ///< the loop was let go; the tool only keeps its place
    std::int8_t turns = 0;     ///< extra half turns of the loop, which are the knot's while it is held
    std::uint8_t unused = 0;
};

/// A loop on a tool, in the tool's order from right to left as seen from the right side.
struct Held {
    LoopId loop;
    ToolId tool;
    HeldId prev;
    HeldId next;
    HeldId alsoHeld;  ///< the same loop on a further tool
    HeldState state;
};

enum class ToolKind : std::int32_t { needle, spareNeedle, holder, pin, hook, lifeline };

struct Tool {
    ToolKind kind = ToolKind::needle;
    HeldId first;
    HeldId last;
    HeldId tip;  ///< needle: the first place to the left of the gap between the two tips (none: the gap is at
                 ///< the left end)
};

struct YarnFlags {
    std::uint8_t ball = 1;  ///< the last end runs to the ball
    std::uint8_t gone = 0;  ///< joined into another yarn
    char colour = 'A';
    std::uint8_t unused = 0;
};

struct Yarn {
    EntryId first;
    EntryId last;
    std::int32_t leadUm = 0;    ///< strand before the first loop, µm
    std::int32_t loopUm = 0;    ///< an ordinary loop of this yarn on its needle, µm
    std::int32_t strandUm = 0;  ///< an ordinary strand between two loops, µm
    YarnFlags flags;
};

/// Two columns that changed places between two rows. sign +1: the left one in front (`/`), -1: the right one
/// (`\`).
struct Crossing {
    LoopId a;
    LoopId b;
    CrossingId nextOfA;
    CrossingId nextOfB;
    std::int32_t sign = 0;  ///< 0: undone
};

/// A round was joined after this loop; the twist of the band in half turns.
struct Join {
    LoopId loop;
    std::int32_t twist = 0;
};

static_assert(sizeof(LinkForm) == 4 && sizeof(EntryFlags) == 4 && sizeof(HeldState) == 4 &&
              sizeof(YarnFlags) == 4);
static_assert(sizeof(Link) == 24 && sizeof(Entry) == 52 && sizeof(Held) == 24);
static_assert(std::is_trivially_copyable_v<Entry> && std::is_trivially_copyable_v<Link>);

}  // namespace loopmend
