// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <vector>

#include "pattern/pattern.h"

namespace loopmend {

/// What is wrong with the words at a place of a pattern. row: the printed number, 0: no row.
Problem problemAt(const Pattern& pattern, const Place& place, int row, std::string message,
                  std::vector<std::string> suggestions = {});

}  // namespace loopmend
