// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <vector>

#include "fabric/rows.h"
#include "repair/pointing.h"
#include "repair/work.h"

/// Doing moves by their lines and by pointing, for the tests of hand moves.
namespace loopmend::scenes {

std::string id(LoopId loop);
std::string ids(const std::vector<LoopId>& loops);
/// Does the move of a line; fails the test with its refusal if hands cannot.
LoopId doIt(Work& work, const std::string& line);
/// Why hands cannot; fails the test if they can, or if anything changed.
Why refusedFor(Work& work, const std::string& line);
/// The work read again from its text and its lines is the same, and taken back it is its start.
void replays(Work& work);
/// The loops of a row as the yarn made them.
std::vector<LoopId> row(const Work& work, int n);
/// What Space does there.
LoopId press(Work& work, Notion notion, const PointedAt& where);
bool isOffered(Work& work, Notion notion, LoopId loop, const std::string& line);

}  // namespace loopmend::scenes
