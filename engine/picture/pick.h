// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "fabric/fabric.h"
#include "picture/view.h"
#include "shape/path.h"

/// What lies under the pointer.
namespace loopmend {

/// What of a loop, or what else. Left and right as they face the viewer.
enum class YarnPart : std::uint8_t {
    head,
    leftLeg,
    rightLeg,
    foot,    ///< a loop's foot and the strand beside it
    strand,  ///< goes by a loop
    rung,    ///< of a ladder: goes by a loop that stands open
    tool
};

struct Picked {
    EntryId entry;  ///< none: a tool
    ToolId tool;
    YarnPart part = YarnPart::tool;
    /// Where along the entry's own yarn, 0 at its start to 1: at both ends a loop meets the bars to its
    /// neighbors.
    double along = 0;
    double distance = 0;  ///< pixels from the edge of the yarn, 0: on it
    double depth = 0;     ///< of its surface, mm toward the viewer
};

/// Where something is drawn.
struct DrawnPlace {
    PixelPoint at;         ///< of its yarn, where it can be seen and pointed at; else its middle
    bool visible = false;  ///< other yarn does not cover it wholly
    PixelPoint low;        ///< the box around its yarn
    PixelPoint high;
};

/// One picture of one path. Made anew when either changes; milliseconds for a swatch.
class Picker {
  public:
    Picker(const Path& path, const Fabric& fabric, const View& view);

    /// The yarn or tool at a pixel: the foremost of those that cover it; where nothing does, the nearest one
    /// not farther than `snapPixels`. tools: false looks through needles and pins.
    std::optional<Picked> at(PixelPoint pixel, double snapPixels = 8, bool tools = true) const;
    /// Where a loop or a strand that goes by is drawn; nothing if it is not.
    std::optional<DrawnPlace> whereIs(EntryId entry) const;
    /// The same for a needle, pin or thread: its middle.
    std::optional<DrawnPlace> whereIs(ToolId tool) const;

  private:
    struct Bit {
        PixelPoint a;
        PixelPoint b;
        float depthA = 0;
        float depthB = 0;
        float radius = 0;  ///< pixels
        float radiusMm = 0;
        float along = 0;   ///< mm from the start of the stretch, of a
        float length = 0;  ///< mm
        std::int32_t stretch = 0;
    };
    struct Stretch {
        EntryId entry;
        ToolId tool;
        std::int32_t first = 0;  ///< bits
        std::int32_t count = 0;
        double length = 0;
        double yarnMm = 0;
        bool firstLegIsLeft = true;
    };
    struct Nearest {
        double distance = 0;  ///< pixels from the middle line
        double t = 0;
    };

    static Nearest nearest(const Bit& bit, PixelPoint p);
    YarnPart partOf(const Stretch& stretch, double along) const;
    std::size_t cell(int i, int k) const;
    template <class Visit>
    void near(PixelPoint p, double reach, Visit visit) const;

    const View view_;
    std::vector<Bit> bits_;
    std::vector<Stretch> stretches_;
    std::vector<std::vector<std::int32_t>> ofEntry_;  ///< stretches by entry id
    std::vector<std::uint8_t> kind_;                  ///< by entry id: 0 loop, 1 strand, 2 rung
    double x0_ = 0;
    double y0_ = 0;
    int columns_ = 1;
    int rows_ = 1;
    std::vector<std::vector<std::int32_t>> cells_;
};

}  // namespace loopmend
