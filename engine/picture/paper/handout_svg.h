// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <unordered_map>
#include <vector>

#include "picture/canvas.h"

namespace loopmend {

/// The pictures of one web page as SVG, small. Strokes of one look are one path wherever none of another look
/// lies between them; what stands on the page already is named (`<use>`) and not drawn again; curves are
/// coarser than anybody sees at this size. Windows of a drawing are not cut.
class SharedSvg {
  public:
    struct Wanted {
        const Drawing* drawing = nullptr;
        double widthPx =
            900;  ///< as wide as it is shown at most: nothing is told finer than half a pixel of it
    };
    /// All drawings of the page, in its order; once.
    void take(const std::vector<Wanted>& drawings);
    /// The picture of the next drawing.
    const std::string& next() { return pictures_[next_++]; }
    /// What a style sheet has to say about them.
    const std::string& style() const { return style_; }

  private:
    /// Strokes of one look that follow each other.
    struct Run {
        Point2 origin;
        std::string path;  ///< as seen from the origin
    };
    struct Layer {
        std::string look;
        std::vector<Run> runs;
        std::string text;  ///< of words and areas
    };
    std::vector<Layer> layersOf(const Drawing& drawing);
    std::vector<Run> runsOf(const std::vector<const DrawItem*>& strokes) const;
    std::string wordsOf(const DrawItem& item);
    std::string lookOf(const DrawItem& item);
    std::string named(const std::string& declarations);
    /// The curve after its start.
    std::string shapeOf(const Curve& curve) const;
    long long units(double mm) const;

    double unit_ = 0.1;  ///< mm, of the drawing in hand
    std::vector<std::string> pictures_;
    std::size_t next_ = 0;
    std::string style_;
    std::unordered_map<std::string, std::string> looks_;
};

/// Yarn is drawn as an outline and a narrower fill that reaches a little farther. On one curve both are told
/// once, and stay in the middle of each other however coarse it is.
void giveOutlinesTheirFillsCurve(std::vector<DrawItem>& items);

/// In which layer each stroke can be drawn, so that every two that overlap are drawn in their order and no
/// layer has two looks: strokes join the first layer of their look that comes late enough. `looks`: one for
/// each stroke.
std::vector<int> layersFor(const std::vector<const DrawItem*>& strokes,
                           const std::vector<std::string>& looks);

/// The curve with neighboring pieces made one wherever it then runs no further than `loose` beside itself.
Curve coarser(const Curve& curve, double loose);

}  // namespace loopmend
