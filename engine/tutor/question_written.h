// SPDX-License-Identifier: MIT
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "tutor/question_cloth.h"

/// What questions about a written row share: rows in words (question_written.cpp) and lines of a chart
/// (question_chart.cpp).
namespace loopmend {

using Steps = std::vector<Step>;

/// Every knit a purl and every purl a knit: how plain rows look from the other side.
Steps fromBehind(Steps steps);
/// The same stitches, begun one later.
Steps oneLate(Steps steps);
/// Rows that are knitted whole and say something: not all their stitches are one.
std::vector<int> rowsThatSay(const Script& script, int knitted);
const WorkedRow& rowOf(const Script& script, int row);
/// The loops of a row on the cloth that is asked.
std::vector<LoopId> loopsOf(const AskedCloth& cloth, int row);
/// The row that the author names, else one drawn of those that say something and fit; 0: there is none.
int rowFor(AskedCloth& cloth, const std::function<bool(const WorkedRow&)>& fits);
/// A question about a lit row.
Asked askedOfRow(AskedCloth& cloth, Question q, const std::vector<LoopId>& row, Answers answers,
                 std::vector<std::string> hints);
/// Lines of a chart: `squares`, `squares-behind`, `no-stitch`, `box`.
Asked askChart(AskedCloth& cloth);

}  // namespace loopmend
