// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

namespace loopmend {

/// Minimal hitting sets: the smallest sets that have something in common with every one of `conflicts` (no
/// smaller part of them does). Parts are numbers; what they stand for is the caller's affair: components of a
/// circuit, mistakes in a piece of knitting.
///
/// Breadth first, so that small sets come first, sets of one size in the order of their numbers (R. Reiter, A
/// theory of diagnosis from first principles, Artificial Intelligence 32, 1987). Sets of more than `most`
/// members are not looked for. An empty conflict cannot be hit: then there is none.
std::vector<std::vector<int>> hittingSets(const std::vector<std::vector<int>>& conflicts, int most = 16);

/// Of sets, those that contain no other one; in the same order, each once and sorted by number.
std::vector<std::vector<int>> minimalOf(std::vector<std::vector<int>> sets);

}  // namespace loopmend
