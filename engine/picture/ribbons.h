// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <vector>

#include "fabric/fabric.h"
#include "picture/view.h"
#include "shape/path.h"

/// Yarn curves as a mesh for the screen: flat ribbons that a vertex shader turns toward the viewer. Every
/// point of a curve stands in the mesh twice, for its two edges, so turning or coming nearer needs no new
/// mesh (much nearer wants a finer one). A fragment shader makes the ribbon look round.
namespace loopmend {

enum class Material : std::uint8_t { yarn, wood, metal, thread };

/// One edge of a ribbon at one point. Laid out as the graphics card takes it.
struct RibbonVertex {
    float at[3] = {0, 0, 0};     ///< middle of the yarn, mm
    float along[3] = {1, 0, 0};  ///< the way it runs, length 1
    float radius = 0;            ///< mm
    float arc = 0;               ///< mm from the start of the strand
    std::int32_t entry = -1;     ///< EntryId; -1 on a tool
    std::uint8_t colour = 0;     ///< which yarn: 0, 1, ...
    Material material = Material::yarn;
    std::uint8_t lightRight = 255;  ///< how open it lies to the light on the right side, 255: wholly
    std::uint8_t lightWrong = 255;  ///< and on the wrong side
    std::int8_t edge = 1;           ///< -1 or +1
    std::int8_t end = 0;            ///< of a knuckle: -1 or +1
    std::int8_t unused[2] = {0, 0};
};
static_assert(sizeof(RibbonVertex) == 44);

/// Triangles, counter-clockwise or not. The indices of a stretch of one entry lie together.
struct RibbonMesh {
    struct Stretch {
        EntryId entry;
        std::uint32_t firstIndex = 0;
        std::uint32_t indexCount = 0;
    };
    std::vector<RibbonVertex> vertices;
    std::vector<std::uint32_t> indices;
    std::vector<Stretch> stretches;  ///< along the yarns; an entry may have several
    /// Where yarn bends back sharply, or runs toward the viewer, a ribbon seen along its way would end as if
    /// it were cut. Squares there, to be drawn as balls in those views alone; their vertices stand after all
    /// others.
    std::vector<std::uint32_t> knuckles;
    ClothBounds bounds;

    std::size_t triangles() const { return indices.size() / 3; }
};

struct RibbonOptions {
    double pixelsPerMm = 5;  ///< at which it is to look smooth
    double finest = 0.6;     ///< the mesh leaves the curve by at most so many pixels
    bool openness = true;    ///< lightRight and lightWrong are worked out
};

/// The curves dressed as the fabric says: yarns in their colours, tools in wood, metal or thread. The path
/// may be older than the fabric; what it does not know is drawn plainly.
RibbonMesh ribbonsOf(const Path& path, const Fabric& fabric, const RibbonOptions& options = {});

/// The nearness for which a mesh is made: from 1 doubling step to the next one mesh serves.
double ribbonDetail(double pixelsPerMm);

}  // namespace loopmend
