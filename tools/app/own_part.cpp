// SPDX-License-Identifier: MIT
#include "app/own_part.h"

#include <algorithm>
#include <utility>

#include <fmt/format.h>

#include "diagnosis/tables.h"
#include "fault/catalogue.h"
#include "fault/place.h"
#include "pattern/print.h"

namespace loopmend::app {

namespace {

/// Rows above and below what is asked about, and stitches to its sides.
constexpr int kMoreRows = 4;
constexpr int kMoreStitches = 4;
/// And at most so far from its middle.
constexpr int kMostRows = 20;
constexpr int kMostStitches = 24;

std::string wordsOf(const Script& script) {
    std::string words =
        fmt::format("Cast on {} sts{}.\n", script.castOn, script.round ? ", join in the round" : "");
    for (const WorkedRow& row : script.rows) {
        const char* const side = row.facing == Facing::right ? "RS" : "WS";
        words +=
            row.round ? fmt::format("Rnd {}: ", row.number) : fmt::format("Row {} ({}): ", row.number, side);
        words += printSteps(row.steps, Terms::us, script.yarns) + ".\n";
    }
    return words;
}

}  // namespace

Recipe recipeOf(const Script& script, int rows, bool mirrored) {
    Recipe recipe;
    recipe.pattern = wordsOf(script);
    recipe.stitches = script.castOn;
    recipe.rows = rows;
    recipe.mirrored = mirrored;
    return recipe;
}

std::optional<OwnPart> OwnPart::about(const Case& asked, int rowFrom, int rowTo, int columnFrom,
                                      int columnTo) {
    const CaseCloth& cloth = asked.tables().cloth();
    const int row = std::clamp((rowFrom + rowTo) / 2, 1, cloth.rows());
    const int column = std::clamp((columnFrom + columnTo) / 2, 1, std::max(1, cloth.width(row)));
    CaseCloth::Size size;
    size.below = std::clamp(row - rowFrom + kMoreRows, kMoreRows, kMostRows);
    size.above = std::clamp(rowTo - row + kMoreRows, kMoreRows, kMostRows);
    size.aside = std::clamp((columnTo - columnFrom) / 2 + kMoreStitches, kMoreStitches, kMostStitches);
    if (!cloth.isRegular(row)) return std::nullopt;
    const CaseCloth::Window window = cloth.window(row, cloth.stepOf(row, column), size);
    return cut(asked, window, row);
}

std::optional<OwnPart> OwnPart::with(const Case& asked, const CaseExplanation& explanation, int mostLoops) {
    if (!explanation.fault) return std::nullopt;
    const Fault* const fault = findFault(explanation.id);
    const CaseCloth& cloth = asked.tables().cloth();
    const int row = explanation.row;
    if (fault == nullptr || row < 1 || row > cloth.rows() || !cloth.isRegular(row)) return std::nullopt;
    CaseCloth::Size size;
    size.below = kMoreRows;
    size.above = cloth.rows() - row;
    size.aside = kMostStitches;
    if ((size.above + size.below) * (2 * size.aside + 1) > mostLoops) return std::nullopt;
    const int step = cloth.stepOf(row, explanation.column);
    const CaseCloth::Window window = cloth.window(row, step, size);
    if (window.rows.size() < 2 || !window.whole) return std::nullopt;
    auto part = cut(asked, window, row);
    if (!part) return std::nullopt;
    FaultPlace place;
    place.id = explanation.id;
    place.row = window.row;
    const WorkedRow& words = window.script.rows[static_cast<std::size_t>(window.row) - 1];
    const int inStep = explanation.stitch - 1 - cloth.madeBefore(row, step);
    place.stitch = fault->wholeRow ? 1 : stitchOfStep(words, window.step) + std::max(0, inStep);
    part->recipe_.faults = {place};
    part->recipe_.after = explanation.after;
    return part;
}

std::optional<OwnPart> OwnPart::cut(const Case& asked, const CaseCloth::Window& window, int row) {
    if (window.rows.size() < 2) return std::nullopt;
    OwnPart part;
    part.recipe_ =
        recipeOf(window.script, static_cast<int>(window.script.rows.size()), asked.start().setup.mirrored);
    part.rowFrom_ = window.rowFrom;
    part.width_ = asked.tables().cloth().width(row);
    part.rows_ = window.rows;
    return part;
}

std::optional<StitchPlace> OwnPart::inPiece(const StitchPlace& at) const {
    if (at.row < 0 || at.row >= static_cast<int>(rows_.size())) return std::nullopt;
    const CaseCloth::Window::Row& row = rows_[static_cast<std::size_t>(at.row)];
    if (at.column < row.first || at.column >= row.first + row.count) return std::nullopt;
    StitchPlace there;
    there.row = rowFrom_ + at.row - 1;
    there.column = row.column + at.column - row.first;
    return there;
}

std::string OwnPart::words(Side facing) const {
    int from = rows_.back().column;
    int to = from;
    for (const CaseCloth::Window::Row& row : rows_) {
        from = std::min(from, row.column);
        to = std::max(to, row.column + row.count - 1);
    }
    if (facing == Side::wrong) {
        from = std::max(1, width_ + 1 - from);
        to = std::max(1, width_ + 1 - to);
        std::swap(from, to);
    }
    return fmt::format("rows {} to {}, stitches {} to {} from the right", rowFrom_,
                       rowFrom_ + static_cast<int>(rows_.size()) - 2, from, to);
}

}  // namespace loopmend::app
