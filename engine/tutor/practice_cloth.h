// SPDX-License-Identifier: MIT
#pragma once

#include <string_view>
#include <vector>

#include "fault/draw.h"
#include "pattern/op.h"
#include "tutor/lesson.h"

/// What exercises are knitted with: grounds and small patterns, whose work it is, and in which yarn.
namespace loopmend {

/// A pattern to draw from.
struct PracticeCloth {
    std::string_view name;  ///< for tests and remarks: `welts`
    std::string_view text;  ///< instructions; empty: `ground`
    StockGround ground = StockGround::stockinette;
    int of = 1;    ///< stitches: a multiple of this
    int plus = 0;  ///< and so many
    int most = 0;  ///< rows that can be worked at most; 0: any number
    bool round = false;
};

const std::vector<PracticeCloth>& practiceCloths();

/// A member of the circle lends a piece in this cloth, so wide and so long as dice say; nothing is wrong with
/// it.
LessonSwatch lentSwatch(Seeded& dice, const PracticeCloth& cloth);

/// The rows of it that are knitted. Empty: it cannot be knitted.
Script knittedRows(const LessonSwatch& swatch);

}  // namespace loopmend
