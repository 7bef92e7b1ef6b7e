// SPDX-License-Identifier: MIT
#pragma once

#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "pattern/op.h"
#include "pattern/working.h"

/// One small piece for each operation of hand knitting, in its usual company: the piece that tests knit, that
/// pictures show and that a teacher would knit to explain it.
namespace loopmend {

struct Sampler {
    std::string id;         ///< `k2tog`, `k2tog-ws` (worked with the wrong side facing), `short-row-wrapped`
    std::string name;       ///< as a person says it, US words
    std::vector<Op> shows;  ///< what it is there for; the first one is the one meant
    Script script;
    Setup setup;
    int row = 0;     ///< where to look: the row as worked, 1 = the first after the cast-on
    int stitch = 0;  ///< in the order worked, from 1; 0: the whole row, or an edge
    /// What is sewn on afterwards (a graft, a duplicate stitch); none: nothing is.
    std::function<Result<void>(Knitting&)> sew;
};

/// All of them, always in the same order. Each can be knitted (see `knitSampler`).
std::vector<Sampler> samplers();
/// The one with this id; none if there is none.
const Sampler* samplerOf(const std::vector<Sampler>& all, std::string_view id);

/// Knits its script and sews what is to be sewn.
tl::expected<Knitting, RowFault> knitSampler(const Sampler& sampler);

/// A sampler from written instructions; its script stays empty if they cannot be read or worked.
Sampler writtenSampler(std::string id, std::string words, std::vector<Op> shows, std::string_view pattern,
                       int stitches, int rows, int row, int stitch);

/// Families of them, for `samplers`.
std::vector<Sampler> stitchSamplers();  ///< stitches, yarn-overs, decreases, increases, cables, tucks, wraps
std::vector<Sampler> edgeSamplers();    ///< starts, ends, edges, turns, picked-up stitches, rounds
std::vector<Sampler> colourSamplers();  ///< several yarns, sewing

}  // namespace loopmend
