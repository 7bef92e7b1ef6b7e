// SPDX-License-Identifier: MIT
#include "pattern/samplers.h"

#include <algorithm>
#include <iterator>

namespace loopmend {

std::vector<Sampler> samplers() {
    std::vector<Sampler> all = stitchSamplers();
    for (std::vector<Sampler> family : {edgeSamplers(), colourSamplers()}) {
        std::move(family.begin(), family.end(), std::back_inserter(all));
    }
    return all;
}

const Sampler* samplerOf(const std::vector<Sampler>& all, std::string_view id) {
    const auto found = std::find_if(all.begin(), all.end(), [&](const Sampler& s) { return s.id == id; });
    return found == all.end() ? nullptr : &*found;
}

tl::expected<Knitting, RowFault> knitSampler(const Sampler& sampler) {
    auto knitting = knit(sampler.script, sampler.setup);
    if (!knitting || !sampler.sew) return knitting;
    const Result<void> sewn = sampler.sew(*knitting);
    if (!sewn) {
        return tl::make_unexpected(
            RowFault{static_cast<int>(sampler.script.rows.size()), 0, 0, sewn.error()});
    }
    return knitting;
}

}  // namespace loopmend
