// SPDX-License-Identifier: MIT
#include "reading/script.h"

#include <fmt/format.h>

#include "reading/script_reader.h"

namespace loopmend {

ScriptReading readScript(const Fabric& fabric, Knits hands) {
    const Courses courses = coursesOf(fabric);
    ScriptReading out;
    out.mirrored = hands == Knits::leftHanded || (hands == Knits::asItShows && showsLeftHanded(courses));
    ScriptReader(fabric, courses, out).run();
    return out;
}

tl::expected<Script, ScriptReading> scriptOf(const Fabric& fabric, Knits hands) {
    ScriptReading reading = readScript(fabric, hands);
    if (!reading.unnamed.empty()) return tl::make_unexpected(std::move(reading));
    return std::move(reading.script);
}

Script asRead(const Script& script) {
    Script out = script;
    for (WorkedRow& row : out.rows) {
        std::vector<Step> steps;
        for (Step step : row.steps) {
            if (step.op == Op::skp) step.op = Op::ssk;
            if (step.op == Op::spp) step.op = Op::p2tog;
            if (step.op == Op::sp2p) step.op = Op::p3tog;
            if (step.op == Op::slipKnitwiseBack) step.op = Op::slipPurlwiseBack;
            if (step.op == Op::slipKnitwiseFront) step.op = Op::slipPurlwiseFront;
            if (step.op == Op::yarnOverReverse) step.op = Op::yarnOver;
            if ((step.op == Op::kpk || step.op == Op::kyok) && step.count == 3) step.count = 1;
            Step* last = steps.empty() ? nullptr : &steps.back();
            if (last != nullptr && last->op == step.op &&
                (step.op == Op::yarnOver || step.op == Op::castOn)) {
                last->count = static_cast<std::int16_t>(last->count + step.count);
                continue;
            }
            if (last != nullptr && uses(step) == 1 && makes(step) == 1) {
                if (last->op == Op::bindOff) step.op = Op::knit;
                if (last->op == Op::bindOffPurl) step.op = Op::purl;
            }
            steps.push_back(step);
        }
        row.steps = steps;
    }
    return out;
}

std::string sentence(const std::vector<Unnamed>& unnamed) {
    if (unnamed.empty()) return "every stitch can be named";
    const Unnamed& first = unnamed.front();
    const std::string place = first.stitch > 0 ? fmt::format("row {}, stitch {}", first.row, first.stitch)
                                               : fmt::format("row {}", first.row);
    return unnamed.size() == 1 ? fmt::format("{} is no stitch I know: {}", place, first.words)
                               : fmt::format("{} places are no stitches I know; the first is {}: {}",
                                             unnamed.size(), place, first.words);
}

}  // namespace loopmend