// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <vector>

#include "picture/drawing.h"
#include "picture/handout.h"
#include "shape/path.h"
#include "tutor/lesson.h"
#include "tutor/page.h"

/// Pictures for pages to take home. Nothing in them is told by color alone: what is lit is heavier, and a
/// line along the yarn or a letter says what it is.
namespace loopmend {

/// The part of a cloth that small pictures show: bounds as in DrawingOptions; all of it by itself.
struct HandoutView {
    int firstRow = 0;
    int lastRow = -1;
    int firstStitch = 0;
    int lastStitch = -1;
};

/// The stitches and rows about these loops (and strands after them), up to the needle if they are near it.
/// None of them in the cloth: its newest rows.
HandoutView viewAbout(const Fabric& fabric, const std::vector<EntryId>& places);

/// What is lit, as a drawing shows it.
std::vector<Highlight> highlightsOf(const std::vector<PageMark>& marks);

/// What the lines along the yarn mean, for those of these marks: `Dashes: the strand to take. Dots: ...`;
/// empty: nothing is lit.
std::string keyOf(const std::vector<PageMark>& marks);

/// One face, small, drawn by the template; without a caption.
HandoutPicture faceOf(const HandoutView& view, const Fabric& fabric, Side side,
                      const std::vector<PageMark>& marks, double stitchMm = 5);
/// Both faces, the one seen first. `first`: which that is.
std::vector<HandoutPicture> bothFaces(const HandoutView& view, const Fabric& fabric, Side first,
                                      const std::vector<PageMark>& marks);

/// A piece as it lies at rest, to be drawn several times: relaxing takes its time and is done once.
class PieceAtRest {
  public:
    explicit PieceAtRest(const Fabric& fabric);
    /// Both faces of the whole piece, large; letters stand where `highlights` say.
    std::vector<HandoutPicture> bothFaces(Side first, const std::vector<Highlight>& highlights = {}) const;
    HandoutPicture face(Side side, Side first, const std::vector<Highlight>& highlights) const;
    const Fabric& fabric() const { return fabric_; }

  private:
    Fabric fabric_;
    Path path_;
};

/// `Harbour Lane evening knitting circle: Oswin's scarf end`; empty: nobody's.
std::string handoutFrom(const LessonSwatch& swatch);

}  // namespace loopmend
