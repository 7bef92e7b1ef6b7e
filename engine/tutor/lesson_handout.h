// SPDX-License-Identifier: MIT
#pragma once

#include "picture/handout.h"
#include "tutor/lesson.h"

namespace loopmend {

/// A lesson on paper, to take home or to hand round: both faces of each piece and the questions of the
/// lesson; the mending in drawings; how to knit the piece in wool with its mistake, and a twin without; and,
/// on a sheet of their own, the answers. The lesson is played for it from the first page to the last, so
/// nothing in it is written by hand. Takes as long as relaxing its pieces does: half a second each. The
/// lesson must be one that can be knitted (`knits`).
Handout handoutOf(const Lesson& lesson, Terms terms = Terms::us, bool mirrored = false);

}  // namespace loopmend
