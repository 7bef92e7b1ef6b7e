// SPDX-License-Identifier: MIT
#pragma once

#include <string_view>

namespace loopmend::testing {

/// As in tries.h, which has the others: these two need the pattern's floor only.
///
/// Written instructions: parsed, counted, expanded, printed and parsed again.
void tryWords(std::string_view bytes);
/// The text of a chart: parsed, printed, made into words.
void tryChart(std::string_view bytes);

}  // namespace loopmend::testing
