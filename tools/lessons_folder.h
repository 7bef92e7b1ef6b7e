// SPDX-License-Identifier: MIT
#pragma once

#include <string>

namespace loopmend {

/// Where the lessons that come with the program lie: `../share/loopmend/lessons` beside the program that
/// runs, where it is installed; else the lessons of the tree that it was built from.
std::string lessonsFolder();

}  // namespace loopmend
