// SPDX-License-Identifier: MIT
#pragma once

#include "picture/handout.h"
#include "tutor/lesson.h"

namespace loopmend {

/// A lesson as a page to take home: what every page of it says and asks, each with its answer, every move of
/// the mending, and pictures of the cloth from both faces. The lesson is played for it from the first page to
/// the last, so nothing in it is written by hand; what cannot be played is left out. The lesson must be one
/// that can be knitted (`knits`).
Handout handoutOf(const Lesson& lesson, Terms terms = Terms::us, bool mirrored = false);

}  // namespace loopmend
