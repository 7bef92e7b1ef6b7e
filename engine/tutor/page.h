// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "fabric/ids.h"

/// What a lesson shows and what it is told: the whole trade between a lesson and its window.
namespace loopmend {

/// How an answer stands. Nothing is scored.
enum class ChoiceState : std::uint8_t {
    open,      ///< not tried
    right,     ///< chosen, and it holds
    possible,  ///< chosen, and it can be done, though something else is easier
    notThis    ///< chosen, and something speaks against it
};

struct Choice {
    std::string text;
    ChoiceState state = ChoiceState::open;
};

/// One page: at most 60 words in `paragraphs` and `task` together.
struct Page {
    std::string heading;
    std::vector<std::string> paragraphs;
    std::string task;                   ///< the one thing asked; empty: read, and go on
    std::vector<Choice> choices;        ///< always in this order; answered with Session::choose
    std::vector<std::string> evidence;  ///< what she pointed at so far that counts
    std::string said;                   ///< what just happened, or what an answer means
    std::vector<std::string> hints;     ///< those given on this page, the first one first
    std::string caution;                ///< where work or hands can come to harm; else empty
    bool patternAway = false;           ///< the pattern would give the answer away: it lies face down
    bool hasHint = false;               ///< another one is to be had
    bool canGoOn = false;               ///< what the page asked is done; pages may always turn back
    bool canGoBack = false;
    int step = 1;  ///< this page, from 1
    int steps = 1;
};

/// One of four: where to look, what to notice, why, the very move.
struct Hint {
    int rung = 0;  ///< 1 to 4; 0: there is nothing to hint at
    std::string text;
};

/// What was pointed at on the cloth.
struct PointTarget {
    enum class Thing : std::uint8_t {
        nothing,  ///< the table
        loop,
        rung,    ///< a strand across the gap above an open loop
        strand,  ///< the bar between two stitches
        needle,
        tail,
        ball
    };
    enum class Spot : std::uint8_t { whole, head, rightLeg, leftLeg, foot };

    Thing thing = Thing::nothing;
    EntryId entry;            ///< loop: itself; rung: its pass; strand: the loop before it along the yarn
    Spot spot = Spot::whole;  ///< loop: which part, as it faces her

    friend bool operator==(const PointTarget& a, const PointTarget& b) {
        return a.thing == b.thing && a.entry == b.entry && a.spot == b.spot;
    }
};

/// Something to be lit on the cloth: never more than the page and the hints given so far tell.
enum class PageMarkKind : std::uint8_t {
    evidence,  ///< she pointed at it and it counts
    look,      ///< look about here
    notice,    ///< this is what to notice
    mustGo,    ///< must come undone
    keep,      ///< is right and would come free: pin it first
    next,      ///< the strand or loop that the next move takes
    through    ///< the loop or loops that it is drawn through
};

struct PageMark {
    PageMarkKind kind = PageMarkKind::look;
    std::vector<EntryId> loops;    ///< loops of the cloth
    std::vector<EntryId> rungs;    ///< passes: strands across a gap
    std::vector<EntryId> strands;  ///< the bare strand after each of these loops
};

}  // namespace loopmend
