// SPDX-License-Identifier: MIT
#pragma once

#include "fabric/records.h"
#include "shape/geometry.h"
#include "shape/path.h"

/// How somebody looks at the cloth: which side faces her, how it is turned, how near it is. Without
/// perspective. Cloth is in mm (shape/geometry.h); the picture is in pixels, x to the right and y downward
/// from its top left corner.
namespace loopmend {

/// A place of the picture, pixels.
struct PixelPoint {
    double x = 0;
    double y = 0;
};

/// A point of the cloth as it is seen.
struct SeenPoint {
    PixelPoint at;
    double depth = 0;  ///< mm toward the viewer
};

/// A box of the cloth, mm. Empty as made.
struct ClothBounds {
    Point3 low{1e300, 1e300, 1e300};
    Point3 high{-1e300, -1e300, -1e300};

    bool empty() const { return high.x < low.x; }
    void add(Point3 p, double around = 0);
    Point3 middle() const { return mix(low, high, 0.5); }
};
/// Everything drawn, with the thickness of the yarn; or the stitches alone, without tools, the tails of yarns
/// and the yarn to the ball.
ClothBounds boundsOf(const Path& path, bool toolsAndTails = true);

/// A linear map of the cloth's space to the viewer's: x to the right, y up, z toward her; mm.
struct ViewAxes {
    Point3 right{1, 0, 0};
    Point3 up{0, 1, 0};
    Point3 toward{0, 0, 1};
    /// +1, or -1 in a mirrored picture: what turns to the left on the cloth turns to the right in it.
    double hand = 1;

    Point3 seen(Point3 way) const { return {dot(right, way), dot(up, way), dot(toward, way)}; }
};

struct View {
    Side side = Side::right;  ///< faces the viewer
    double tiltDegrees =
        0;  ///< about the line from left to right; positive: the top edge leans away from her
    double turnDegrees = 0;  ///< about the upright line; positive: her right edge leans away from her
    double pixelsPerMm = 4;  ///< how near
    Point2 centre;           ///< the point of the cloth (z = 0) in the middle of the picture, mm
    double pull = 1;         ///< pulled so much wider, 0.5 to 3; the height gives way as cloth does
    bool mirrored = false;   ///< for left-handed knitters: the picture in a looking-glass
    int width = 1280;        ///< pixels
    int height = 800;

    ViewAxes axes() const;
    SeenPoint seen(Point3 mm) const;
    PixelPoint pixel(Point3 mm) const { return seen(mm).at; }
    /// Back from a pixel to the plane of the cloth, z = 0. (Nothing to be found edge on: the middle.)
    Point2 onCloth(PixelPoint pixel) const;

    /// Turned over about the upright line through the middle of the picture: right and left change places.
    View turnedOver() const;
    /// Nearer (factor above 1) or farther; what is under the pixel stays there.
    View nearer(double factor, PixelPoint about) const;
    /// Moved so that what was under `from` is under `to`.
    View moved(PixelPoint from, PixelPoint to) const;
    /// Of another size of picture; the middle and the nearness stay.
    View sized(int w, int h) const;

    /// The whole box in the middle, upright, with so many pixels free around it.
    static View fitting(const ClothBounds& bounds, int width, int height, double marginPixels = 24,
                        Side side = Side::right);
};

}  // namespace loopmend
