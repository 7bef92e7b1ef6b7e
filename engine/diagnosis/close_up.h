// SPDX-License-Identifier: MIT
#pragma once

#include <memory>
#include <optional>

#include "diagnosis/case.h"
#include "reading/answer.h"

namespace loopmend {

/// What an explanation says, to be held beside what she has in her hands: her own rows as they were meant and
/// as the explanation has them, and the stitch where the difference is plainest.
struct CloseUp {
    std::shared_ptr<const Fabric> meant;
    std::shared_ptr<const Fabric> actual;
    int row = 0;
    int column = 0;                ///< from the right edge as the right side shows it
    Side side = Side::right;       ///< from which it shows
    OddSign sign = OddSign::none;  ///< what shows there; none: nothing that has a name
};

/// Knitted up to a few rows above the place. None: it is not in the list, or it cannot be knitted.
std::optional<CloseUp> closeUpOf(const Case& its, const CaseExplanation& explanation);

}  // namespace loopmend
