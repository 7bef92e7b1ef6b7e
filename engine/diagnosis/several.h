// SPDX-License-Identifier: MIT
#pragma once

#include <memory>
#include <vector>

#include "diagnosis/trials.h"

namespace loopmend {

/// Mistakes found: those known before the last, and every last one that makes the very knot.
struct Decoded {
    std::shared_ptr<const Trials> before;
    std::vector<Proved> proved;
};

/// Several mistakes in one piece, decoded one after another along the yarn: what explains the next
/// disagreement is taken as known, and what is left is looked at again. Best first: what counts against a
/// state is how seldom its mistakes are made, and the edits that are left over. The best few are kept; the
/// fewest mistakes that explain all end the search. `first`: nothing is known there, and no single mistake
/// explains it.
std::vector<Decoded> decodeSeveral(const std::shared_ptr<Trials>& first, const Target& target,
                                   const Script& script, int rows, const Setup& setup);

}  // namespace loopmend
