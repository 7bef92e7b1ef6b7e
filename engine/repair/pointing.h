// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "pattern/terms.h"
#include "repair/notion.h"
#include "repair/work.h"

/// What a tool of the notions would do where it points. Nothing here changes the work: every offer is done
/// and taken back, so that what is said to be possible is.
namespace loopmend {

/// Where it points.
struct PointedAt {
    enum class What : std::uint8_t {
        loop,    ///< `entry` is the loop
        rung,    ///< `entry` is the pass: a strand across the gap above an open loop
        strand,  ///< the bar between two stitches; `entry` is the loop before it along the yarn
        tips     ///< the needle's tips, where the next stitch is worked; no entry
    };
    What what = What::loop;
    EntryId entry;

    friend bool operator==(const PointedAt& a, const PointedAt& b) {
        return a.what == b.what && a.entry == b.entry;
    }
};

/// Something the tool could do there.
struct Offer {
    Move move;
    std::string words;  ///< what it means, for the side that she sees: `Knit the next stitch.`
    bool possible = true;
    std::string refusal;  ///< not possible: why, in one sentence; else empty
    std::string caution;  ///< what to mind first, where cloth or hands can come to harm
};

/// What a tool could do where it points, best first: the first is what Space or a click does, even if hands
/// cannot (then it says why); the others are for the second button or the next key. Empty: the tool has no
/// business there.
///
/// `seen`: the side that she looks at (none: the one that faces her knitting). Hooking is said and done for
/// the side seen; to work on, the side of her knitting has to face her.
std::vector<Offer> offersAt(Work& work, Notion notion, const PointedAt& at, Terms terms = Terms::us,
                            std::optional<Side> seen = std::nullopt);

/// The places at which a tool has something to do, for walking them with the arrow keys: column by column
/// from right to left as she sees it, within a column from below upward.
std::vector<PointedAt> stops(const Work& work, Notion notion, std::optional<Side> seen = std::nullopt);

}  // namespace loopmend
