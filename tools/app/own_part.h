// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "app/free_piece.h"
#include "diagnosis/case.h"
#include "diagnosis/case_cloth.h"
#include "repair/builder.h"

namespace loopmend::app {

/// These rows as a piece of the free table is kept: row by row, in words.
Recipe recipeOf(const Script& script, int rows, bool mirrored);

/// A part of a piece that is too large to be drawn whole: some rows and stitches about a place. At its sides
/// it may have a stitch that is none of the piece, so that it holds together.
class OwnPart {
  public:
    /// Rows and columns of the piece, both inclusive; of many those in the middle. None: the piece cannot be
    /// cut there (a row that does not go from edge to edge).
    static std::optional<OwnPart> about(const Case& asked, int rowFrom, int rowTo, int columnFrom,
                                        int columnTo);

    /// From below a mistake up to the needle, with the mistake. None: it lies too deep for that many loops,
    /// or cannot be made in a part.
    static std::optional<OwnPart> with(const Case& asked, const CaseExplanation& explanation, int mostLoops);

    const Recipe& recipe() const { return recipe_; }
    /// Of the piece, below its first one.
    int rowsBelow() const { return rowFrom_ - 1; }
    /// Where a stitch of it lies in the piece; none: it is none of the piece.
    std::optional<StitchPlace> inPiece(const StitchPlace& at) const;
    /// `rows 285 to 298, stitches 28 to 52 from the right`, with that side facing her.
    std::string words(Side facing) const;

  private:
    static std::optional<OwnPart> cut(const Case& asked, const CaseCloth::Window& window, int row);

    Recipe recipe_;
    int rowFrom_ = 1;                           ///< of the piece: the part's row 1
    int width_ = 0;                             ///< of the piece there, in stitches
    std::vector<CaseCloth::Window::Row> rows_;  ///< from its cast-on on
};

}  // namespace loopmend::app
