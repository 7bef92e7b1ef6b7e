// SPDX-License-Identifier: MIT
#include "shape/relax_scenes.h"

#include <algorithm>
#include <stdexcept>

namespace loopmend {

namespace {

Step stepOf(char c, bool right) {
    Step step;
    switch (c) {
        case 'k': step.op = right ? Op::knit : Op::purl; break;
        case 'p': step.op = right ? Op::purl : Op::knit; break;
        case 't': step.op = right ? Op::knitTbl : Op::purlTbl; break;
        case 's': step.op = right ? Op::slipPurlwiseBack : Op::slipPurlwiseFront; break;
        case 'o': step.op = Op::yarnOver; break;
        case '/': step.op = Op::k2tog; break;
        default: throw std::invalid_argument("a letter no swatch knows");
    }
    return step;
}

}  // namespace

std::string Swatch::at(int row) const {
    const std::string& r = chart[static_cast<std::size_t>(row - 1) % chart.size()];
    return r.size() == 1 ? std::string(static_cast<std::size_t>(stitches), r[0]) : r;
}

Knitting knitted(const Swatch& swatch) {
    Script script;
    script.castOn = swatch.stitches;
    for (int r = 1; r <= swatch.rows; ++r) {
        WorkedRow row;
        row.number = row.printed = r;
        const bool right = r % 2 == 1;
        row.facing = right ? Facing::right : Facing::wrong;
        std::string seen = swatch.at(r);
        // Read along the row from left to right; a right-side row is worked from the right.
        if (right) std::reverse(seen.begin(), seen.end());
        for (const char c : seen) row.steps.push_back(stepOf(c, right));
        script.rows.push_back(std::move(row));
    }
    auto done = knit(script);
    if (!done) throw std::logic_error(sentence(done.error()));
    return std::move(*done);
}

Drawn drawn(const Fabric& fabric, int pointsPerStitch) {
    PathOptions options;
    options.step = 0.08;
    options.tail = 3;
    Drawn d;
    d.path = pathOf(fabric, layoutOf(fabric), options);
    RodOptions rods;
    rods.pointsPerStitch = pointsPerStitch;
    d.rods = rodsOfPath(d.path, fabric, rods);
    return d;
}

bool sameBytes(const Rods& a, const Rods& b) {
    if (a.rods.size() != b.rods.size() || a.periodX != b.periodX || a.periodY != b.periodY) return false;
    for (std::size_t r = 0; r < a.rods.size(); ++r) {
        const auto same = [](const Point3& p, const Point3& q) {
            return p.x == q.x && p.y == q.y && p.z == q.z;
        };
        if (!std::equal(a.rods[r].points.begin(), a.rods[r].points.end(), b.rods[r].points.begin(),
                        b.rods[r].points.end(), same))
            return false;
    }
    return true;
}

double mostMoved(const Rods& a, const Rods& b) {
    double most = 0;
    for (std::size_t r = 0; r < a.rods.size(); ++r) {
        for (std::size_t i = 0; i < a.rods[r].points.size(); ++i)
            most = std::max(most, length(a.rods[r].points[i] - b.rods[r].points[i]));
    }
    return most / a.unit;
}

}  // namespace loopmend
