// SPDX-License-Identifier: MIT
#include "pattern/working_yarns.h"

#include <algorithm>
#include <vector>

namespace loopmend {

void layOutYarns(Knitter& knitter, std::string_view colours) {
    Fabric& fabric = knitter.fabric();
    std::vector<YarnId> yarns;
    for (const char colour : colours) {
        YarnId found;
        for (std::int32_t y = 0; y < fabric.yarnCount() && !found; ++y) {
            const YarnFlags flags = fabric[YarnId{y}].flags;
            const bool taken = std::find(yarns.begin(), yarns.end(), YarnId{y}) != yarns.end();
            if (!taken && flags.gone == 0 && flags.ball != 0 && flags.colour == colour) found = YarnId{y};
        }
        if (!found) {
            const Yarn like = fabric[knitter.yarn()];
            found = fabric.addYarn(colour, like.loopUm, like.strandUm);
        }
        yarns.push_back(found);
    }
    knitter.layOut(std::move(yarns));
}

bool changesYarn(const Knitter& knitter, const Step& step) {
    const std::vector<YarnId>& yarns = knitter.yarnsAtHand();
    if (yarns.empty()) return step.yarn != 0;
    return step.yarn >= yarns.size() || yarns[step.yarn] != knitter.yarn();
}

}  // namespace loopmend
