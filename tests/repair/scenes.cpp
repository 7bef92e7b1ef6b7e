// SPDX-License-Identifier: MIT
#include "scenes.h"

#include <stdexcept>

namespace loopmend::scenes {

Script ground(int stitches, int rows, const Steps& rightSide, const Steps& wrongSide) {
    Script script;
    script.castOn = stitches;
    for (int r = 1; r <= rows; ++r) {
        WorkedRow row;
        row.number = r;
        row.facing = r % 2 == 1 ? Facing::right : Facing::wrong;
        const Steps& unit = r % 2 == 1 ? rightSide : wrongSide;
        int used = 0;
        for (std::size_t i = 0; used < stitches; i = (i + 1) % unit.size()) {
            row.steps.push_back(unit[i]);
            used += uses(unit[i]);
        }
        while (row.steps.size() % unit.size() != 0 && uses(unit[row.steps.size() % unit.size()]) == 0) {
            row.steps.push_back(unit[row.steps.size() % unit.size()]);
        }
        script.rows.push_back(row);
    }
    return script;
}

Script stockinette(int stitches, int rows) {
    return ground(stitches, rows, {{Op::knit}}, {{Op::purl}});
}
Script garter(int stitches, int rows) {
    return ground(stitches, rows, {{Op::knit}}, {{Op::knit}});
}
Script rib(int stitches, int rows) {
    return ground(stitches, rows, {{Op::knit}, {Op::purl}}, {{Op::knit}, {Op::purl}});
}
Script seed(int stitches, int rows) {
    return ground(stitches, rows, {{Op::knit}, {Op::purl}}, {{Op::purl}, {Op::knit}});
}
Script lace(int stitches, int rows) {
    return ground(stitches, rows, {{Op::knit}, {Op::k2tog}, {Op::yarnOver}, {Op::knit}}, {{Op::purl}});
}

Knitting worked(const Script& script) {
    auto knitting = knit(script);
    if (!knitting) throw std::runtime_error(sentence(knitting.error()));
    return std::move(*knitting);
}

LoopId onNeedle(const Fabric& f, int column) {
    HeldId h = f[f.needle()].first;
    for (int i = 1; i < column; ++i) h = f[h].next;
    return f[h].loop;
}

}  // namespace loopmend::scenes
