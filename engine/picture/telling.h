// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "picture/view.h"
#include "shape/path.h"

/// Whether the eye can tell a place of the cloth from what it might be taken for, and the way of looking that
/// shows it best: nearer, the other side, pulled wide, light that slants.
namespace loopmend {

/// A small picture in shades of grey, as an eye a little out of focus sees it: rows from the top.
struct Glimpse {
    int width = 0;  ///< pixels
    int height = 0;
    std::vector<float> light;  ///< 0 black to 1 white, width * height

    float at(int x, int y) const {
        return light[static_cast<std::size_t>(y) * static_cast<std::size_t>(width) +
                     static_cast<std::size_t>(x)];
    }
};

/// The yarn around a point of the cloth, `stitches` widths of a stitch to each side, at the nearness and turn
/// of the view. lightDegrees: how high the light stands, from the upper left; low light throws shadows.
Glimpse glimpseOf(const Path& path, Point2 about, const View& view, double stitches, double lightDegrees);

/// How much of two glimpses differs to the eye, in pixels of their size: 0 where both look the same. A place
/// that lies only a little aside does not count.
double toldApart(const Glimpse& a, const Glimpse& b);

/// So many differing pixels are seen without being looked for. In a piece of 40 rows on 800 pixels a purl
/// among knits comes to some 490 and is seen at once; a twisted stitch to some 170 and is rarely noticed
/// (common practice). Ours, adjustable.
inline constexpr double kPlainlyTold = 300;

/// A way of looking, in the order in which hands would try it.
struct WayOfLooking {
    bool otherSide = false;
    double nearer = 1;  ///< times as near as it is held
    double pull = 1;    ///< times as wide
    bool slant = false;
    double told = 0;  ///< as `toldApart`

    bool asHeld() const { return !otherSide && nearer == 1 && pull == 1 && !slant; }
    bool plain() const { return told >= kPlainlyTold; }
};

/// A place of a piece as it is and as it would be otherwise: where each lies on its path.
struct Likeness {
    const Path* path = nullptr;
    Point2 at;  ///< mm
};

/// The ways there are, in their order; as held first.
std::vector<WayOfLooking> waysOfLooking();
/// How well one of them tells the two apart.
double toldApart(const Likeness& seen, const Likeness& other, const View& held, const WayOfLooking& way);
/// The first that shows it plainly; if none does, the one that shows most.
WayOfLooking betterView(const Likeness& seen, const Likeness& other, const View& held);

/// Pulled gently, cloth is so many times as wide.
inline constexpr double kGentlePull = 1.22;
/// How a low and an ordinary light stand, degrees above the cloth.
inline constexpr double kSlantingLight = 18;
inline constexpr double kOrdinaryLight = 50;

}  // namespace loopmend
