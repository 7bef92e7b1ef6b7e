// SPDX-License-Identifier: MIT
#pragma once

#include "tutor/session.h"

namespace loopmend {

/// Does what the page in hand asks, the way hints lead: asks for hints, points where they light, follows the
/// shown moves, chooses answers until one holds. For checking lessons, handouts and pictures of a lesson
/// that is played by itself. False: the page could not be done.
bool solvePage(Session& session);

/// Pages from here to the last one. `onPage` is called with each page when it opens and when it is done; may
/// be null. False: a page could not be done.
bool solveLesson(Session& session, void (*onPage)(const Session&, bool done, void* with) = nullptr,
                 void* with = nullptr);

}  // namespace loopmend
