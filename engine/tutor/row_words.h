// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "pattern/chart_text.h"
#include "pattern/pattern.h"
#include "pattern/terms.h"

/// A row of a script as patterns say it: in words, and in squares.
namespace loopmend {

/// Stitches that steps take, and that they leave.
int usesOf(const std::vector<Step>& steps);
int makesOf(const std::vector<Step>& steps);
/// The shortest way of saying these steps, with a star where that is shorter.
std::vector<Item> shortestItems(const std::vector<Step>& steps);
/// The same in words: `*k1, k2tog, yo, k1; rep from * to last 3 sts, k3`.
std::string rowWords(const std::vector<Step>& steps, Terms terms);
/// All rows as one chart, written out. No-stitch squares keep columns above each other where the count
/// changes.
WrittenChart writtenOut(const Script& script);
/// The same with boxes round what repeats; none where that cannot be said.
std::optional<WrittenChart> boxed(const Script& script);
/// One line of a chart as text (pattern/chart_text.h), signs as the right side shows them, with the number
/// where the row begins: `| o / | 5`. row: from 1.
std::string chartLine(const WrittenChart& chart, int row, bool mirrored, Terms terms);

}  // namespace loopmend
