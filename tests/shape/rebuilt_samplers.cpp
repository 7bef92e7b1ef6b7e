// SPDX-License-Identifier: MIT
#include "shape/rebuilt_samplers.h"

#include <algorithm>

#include "not_yet_drawn.h"
#include "sampled.h"

namespace loopmend {

std::string ReadSamplers::told() const {
    std::string text = refused;
    for (const std::string& w : tally.wrong) text += w + "\n";
    return text;
}

ReadSamplers readSamplers(const std::vector<Sampler>& all,
                          const std::function<bool(const Sampler&)>& wanted) {
    ReadSamplers read;
    int i = 0;
    for (const Sampler& sampler : all) {
        if (wanted && !wanted(sampler)) continue;
        if (isOnlyToldAsAKnot(sampler.id)) continue;
        if (!isSampled(i++)) continue;
        const auto knitting = knitSampler(sampler);
        if (!knitting) {
            read.refused += sampler.id + ": " + sentence(knitting.error()) + "\n";
            continue;
        }
        ++read.pieces;
        readBack(sampler.id, *knitting->fabric, *knitting->fabric, read.tally);
    }
    return read;
}

bool crosses(const Sampler& sampler) {
    return !sampler.shows.empty() && sampler.shows.front() == Op::cable;
}

bool takesMany(const Sampler& sampler) {
    if (sampler.row < 1) return false;
    const std::vector<Step>& steps = sampler.script.rows[static_cast<std::size_t>(sampler.row) - 1].steps;
    return std::any_of(steps.begin(), steps.end(), [](const Step& s) { return uses(s) > 1; });
}

}  // namespace loopmend
