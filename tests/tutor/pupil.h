// SPDX-License-Identifier: MIT
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "tutor/session.h"

/// Someone who works through a lesson without knowing the answers: she tries what is on offer, and does what
/// the last hint says.
namespace loopmend::pupil {

/// All that a page shows, as text, to compare.
std::string text(const Page& page);
/// Words of the sentences and the task.
int words(const Page& page);

/// Called after everything she does.
using Watch = std::function<void(const Session&)>;

/// Asks for hints until there are no more.
void askAll(Session& session);
/// Every loop, rung and strand of the cloth.
std::vector<PointTarget> targets(const Fabric& fabric);
/// Works on the page shown until it lets her go on; false: it never does.
bool doPage(Session& session, const Watch& watch);
/// From the page shown to the last one; returns the kinds of pages seen, in order.
std::vector<StepKind> doAll(Session& session, const Watch& watch);
/// Does the very move, again and again; how many moves it took; -1: it did not end mended.
int mend(Session& session, const Watch& watch);

/// The lesson's first open loop; none: nothing can run.
LoopId openLoop(const Session& session);
bool moved(Session& session, std::string_view line);

}  // namespace loopmend::pupil
