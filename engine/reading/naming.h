// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <string_view>
#include <vector>

#include "fabric/fabric.h"
#include "pattern/op.h"
#include "reading/courses.h"

/// Which operation made a loop, from its links: the tables behind scripts.
namespace loopmend {

/// How the knitter stood in a row.
struct RowStance {
    Side facing = Side::right;
    Run run = Run::leftward;
    bool mirrored = false;
};

/// A host of a loop, as the knitter met it.
struct Met {
    LoopId host;
    int ahead = 0;  ///< its place in working order among the loop's hosts, nearest to the tip = 0
    int turns = 0;  ///< half turns as her hand makes them: 0 open, -1 through the back leg
    bool purl = false;
};

/// The links of a loop in the order of its bight, without the stitch passed over it.
struct Links {
    static constexpr int kMost = 3;
    Met met[kMost];
    int count = 0;      ///< all of them, even if more than kMost
    bool purl = false;  ///< all drawn away from her; `mixed` if not all one way
    bool mixed = false;
    bool passedOver = false;  ///< its own neighbour was passed over it
    bool underLeg = false;    ///< a picked-up stitch
    bool split = false;
};
Links linksOf(const Fabric& fabric, const Courses& courses, LoopId loop, const RowStance& stance);

/// What is known of one loop through one to three hosts.
struct Named {
    Op op = Op::knit;
    bool exact = true;  ///< false: the nearest operation
    /// Hosts (by their place in `Links::met`) that must have sat left leg in front for this to come out.
    bool eastern[Links::kMost] = {false, false, false};
    /// Whole turns (in half turns, even) that a host had been wound.
    int wound[Links::kMost] = {0, 0, 0};
};
Named nameOf(const Courses& courses, const Links& links);

}  // namespace loopmend
