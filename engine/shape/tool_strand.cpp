// SPDX-License-Identifier: MIT
#include "shape/tool_strand.h"

#include <algorithm>

#include "shape/spline.h"

namespace loopmend {

namespace {

/// A needle is stiff: it lies through the middle of its loops.
void smooth(std::vector<PathPoint>& at) {
    for (int k = 0; k < 4 && at.size() > 2; ++k) {
        const std::vector<PathPoint> old = at;
        for (std::size_t i = 1; i + 1 < at.size(); ++i)
            at[i].at.y = 0.25 * old[i - 1].at.y + 0.5 * old[i].at.y + 0.25 * old[i + 1].at.y;
    }
}

}  // namespace

PathStrand toolStrand(ToolId tool, std::vector<PathPoint> at, const Measure& measure, double step,
                      const ToolEnds& ends) {
    const double out = (ends.needle ? 1.3 : 0.8) * measure.w;
    const double gap = 0.3 * measure.w;
    Point3 along{-1, 0, 0};
    if (at.size() > 1) {
        along = at.back().at - at.front().at;
        along = along * (1 / std::max(length(along), 1e-9));
    }
    smooth(at);
    at.insert(at.begin(),
              {at.front().at - along * (ends.tipRight && ends.inner ? gap : out), at.front().entry});
    at.push_back({at.back().at + along * (ends.tipLeft && ends.inner ? gap : out), at.back().entry});
    PathStrand strand;
    strand.tool = tool;
    strand.mm = ends.needle ? measure.needle : 0.7 * measure.yarn;
    strand.pointedStart = ends.tipRight;
    strand.pointedEnd = ends.tipLeft;
    strand.points = resampled(at, step * measure.w);
    for (PathPoint& p : strand.points) p.entry = EntryId{};
    return strand;
}

}  // namespace loopmend
