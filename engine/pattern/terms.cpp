// SPDX-License-Identifier: MIT
#include "pattern/terms.h"

namespace loopmend {

std::string_view word(Word which, Terms terms) {
    const bool uk = terms == Terms::uk;
    switch (which) {
        case Word::bindOff: return uk ? "cast off" : "bind off";
        case Word::boundOff: return uk ? "cast off" : "bound off";
        case Word::gauge: return uk ? "tension" : "gauge";
        case Word::stockinette: return uk ? "stocking stitch" : "stockinette";
        case Word::reverseStockinette: return uk ? "reverse stocking stitch" : "reverse stockinette";
        case Word::seedStitch: return uk ? "moss stitch" : "seed stitch";
        case Word::doubleSeed: return uk ? "double moss stitch" : "moss stitch";
        case Word::duplicateStitch: return uk ? "Swiss darning" : "duplicate stitch";
        case Word::yarnOver: return "yarn over";
        case Word::skp: return uk ? "skpo" : "skp";
        case Word::seam: return uk ? "sewing up" : "seam";
    }
    return {};
}

}  // namespace loopmend
