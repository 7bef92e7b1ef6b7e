// SPDX-License-Identifier: MIT
// How a loop must have sat on the needle for the twist above it, and which step below turned it.
#include "reading/script_reader.h"

namespace loopmend {

std::vector<ScriptReader::HeldTurns> ScriptReader::heldTurns() {
    std::vector<HeldTurns> held;
    for (std::int32_t t = 0; t < f_.toolCount(); ++t) {
        for (HeldId h = f_[ToolId{t}].first; h; h = f_[h].next) {
            const LoopId loop = f_[h].loop;
            int turns = out_.mirrored ? -f_[h].state.turns : f_[h].state.turns;
            if (f_[loop].flags.anchored != 0 && !f_[loop].firstLink) {
                turns += c_.rows[loop] == 0 ? (out_.castOn == CastOn::knitted ? 0 : 1) : turns < 0 ? 1 : -1;
            }
            if (turns > 0 && f_[h].state.hanging == 0) held.push_back({loop, turns});
        }
    }
    return held;
}

bool ScriptReader::sitsTurned(LoopId loop, int wound) {
    int needed = 1 + wound / 2;
    const bool backward = !f_[loop].firstLink && f_[loop].flags.anchored != 0;
    if (stepOf_[at(loop)].row >= 0) {  // a yarn-over
        raw(stepOf_[at(loop)]).step.op = Op::yarnOverReverse;
        --needed;
    }
    std::vector<StepPlace> slips;
    if (f_[loop].strands) {
        for (PassId p = f_[f_[loop].strands].first; p; p = f_[p].passNext) {
            if (stepOf_[at(p)].row >= 0) slips.push_back(stepOf_[at(p)]);
        }
    }
    for (auto it = slips.rbegin(); it != slips.rend() && needed > 0; ++it, --needed) {
        Op& op = raw(*it).step.op;
        if (op == Op::slipPurlwiseBack) op = Op::slipKnitwiseBack;
        if (op == Op::slipPurlwiseFront) op = Op::slipKnitwiseFront;
    }
    return needed <= 0 || (backward && wound == 2 && slips.empty());
}
ScriptRaw& ScriptReader::raw(StepPlace place) {
    return rows_[static_cast<std::size_t>(place.row)][static_cast<std::size_t>(place.index)];
}

}  // namespace loopmend
