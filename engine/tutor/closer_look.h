// SPDX-License-Identifier: MIT
#pragma once

#include "picture/telling.h"
#include "tutor/lesson.h"

namespace loopmend {

/// How to look closer in a lesson: the way of looking that tells what went wrong there from what was meant,
/// at the size at which a lesson's cloth lies on the table. One way for all of a lesson's swatches, whatever
/// is pointed at: it tells how to look, not where, nor whether anything is wrong. A lesson without a mistake
/// is looked at from nearer.
WayOfLooking closerLook(const Lesson& lesson, bool mirrored = false);

/// Nothing is known of the piece.
inline WayOfLooking closerLookAtAnything() {
    WayOfLooking way;
    way.nearer = 1.8;
    return way;
}

}  // namespace loopmend
