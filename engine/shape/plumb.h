// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstdint>
#include <vector>

namespace loopmend {

/// How far each loop moves along its row so that rows keep their width and columns stand upright: where a row
/// has more or fewer stitches than the next, the lean spreads over many rows instead of showing in one.
/// A least-squares problem, solved by conjugate gradients in a fixed order.
class PlumbNet {
  public:
    explicit PlumbNet(std::size_t count) : count_(count) {}

    /// `right` and `left` are neighbours; `off` is how much nearer (positive) than wanted they stand.
    void addRow(std::int32_t right, std::int32_t left, double off) { rows_.push_back({right, left, off}); }
    /// `loop` stands above the middle of `hosts`, `off` too far to the right.
    void addColumn(std::int32_t loop, const std::vector<std::int32_t>& hosts, double off);

    /// `loop` stands on nothing, and stays where it is as firmly as others stay above their hosts.
    void addStay(std::int32_t loop) { columns_.push_back({loop, {}, 0, 0}); }

    /// Moves to the right, by index.
    std::vector<double> solve(int steps) const;

  private:
    struct Row {
        std::int32_t right;
        std::int32_t left;
        double off;
    };
    struct Column {
        std::int32_t loop;
        std::array<std::int32_t, 3> hosts;
        int count;
        double off;
    };

    std::vector<double> pushed(const std::vector<double>& u, bool withOffsets) const;

    std::size_t count_;
    std::vector<Row> rows_;
    std::vector<Column> columns_;
};

}  // namespace loopmend
