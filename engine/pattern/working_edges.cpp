// SPDX-License-Identifier: MIT
#include "pattern/working_edges.h"

namespace loopmend {

std::vector<LoopId> edgeOf(const Knitter& knitter, Edge edge) {
    switch (edge) {
        case Edge::side: return knitter.sideEdge();
        case Edge::castOn: return knitter.castOnEdge();
        case Edge::boundOff: return knitter.boundOffEdge();
    }
    return {};
}

}  // namespace loopmend
