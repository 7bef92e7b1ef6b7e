// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "fault/fault.h"
#include "fault/place.h"
#include "pattern/terms.h"
#include "reading/notice.h"

namespace loopmend {

/// What a mistake does and how it looks: nothing of this is written down anywhere. It is put into the middle
/// of a small piece of the first ground on which it can happen, by a knitter who keeps every later stitch
/// above its own column, and the piece is compared with a faultless one.
struct FaultSheet {
    std::string ground;      ///< the ground it was tried on; empty: it stands on none of them
    FaultPlace place;        ///< where in it
    int countEffect = 0;     ///< stitches more (or fewer, below 0) on the needle after its row
    std::string looksRight;  ///< what is seen from the right side, and from the wrong one
    std::string looksWrong;
    std::optional<Notice> notice;      ///< when she could see it
    std::vector<std::string> repairs;  ///< plan families that mend it, cheapest first
};
FaultSheet sheetOf(const Fault& fault, Terms terms);

}  // namespace loopmend
