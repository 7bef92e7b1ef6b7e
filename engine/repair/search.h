// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <cstdint>
#include <limits>
#include <queue>
#include <unordered_map>
#include <utility>
#include <vector>

/// Uniform-cost search (E. W. Dijkstra, A note on two problems in connexion with graphs, Numerische
/// Mathematik 1 (1959) 269-271), with no knitting in it: whatever can be named by a key and left by priced
/// steps.
namespace loopmend {

struct SearchLimits {
    std::size_t states = std::numeric_limits<std::size_t>::max();  ///< to be left, at most
    double cost = std::numeric_limits<double>::infinity();         ///< nothing dearer is looked at
};

template <class Step>
struct SearchResult {
    bool found = false;
    /// Nothing cheaper exists: not found and complete means that there is no way within the cost.
    bool complete = true;
    double cost = 0;
    std::vector<Step> steps;
    std::size_t states = 0;  ///< left
};

/// The cheapest way from a start to a goal.
/// Key: hashable by std::hash, equal exactly if the same can be done from there at the same prices.
/// leave(path, emit): does whatever can be done after the steps of `path`: emit(step, key, price), price >=
/// 0. isGoal(key): asked when a state is left, so that the first one found is the cheapest.
template <class Step, class Key, class Leave, class IsGoal>
SearchResult<Step> cheapestWay(Key start, Leave leave, IsGoal isGoal, SearchLimits limits = {}) {
    struct Node {
        std::int32_t parent;
        Step step;
        Key key;
        double cost;
    };
    struct Open {
        double cost;
        std::int32_t node;
        bool operator<(
            const Open& o) const {  // for a queue that gives the cheapest first, the oldest of them
            return cost != o.cost ? cost > o.cost : node > o.node;
        }
    };
    std::vector<Node> nodes;
    std::priority_queue<Open> open;
    std::unordered_map<Key, double> best;
    best.emplace(start, 0.0);
    nodes.push_back({-1, Step{}, std::move(start), 0.0});
    open.push({0.0, 0});

    SearchResult<Step> result;
    std::vector<Step> path;
    while (!open.empty()) {
        const Open now = open.top();
        open.pop();
        const Key key = nodes[static_cast<std::size_t>(now.node)].key;
        if (best.at(key) < now.cost) continue;
        path.clear();
        for (std::int32_t n = now.node; nodes[static_cast<std::size_t>(n)].parent >= 0;
             n = nodes[static_cast<std::size_t>(n)].parent)
            path.insert(path.begin(), nodes[static_cast<std::size_t>(n)].step);
        if (isGoal(key)) {
            result.found = true;
            result.cost = now.cost;
            result.steps = std::move(path);
            return result;
        }
        if (result.states >= limits.states) {
            result.complete = false;
            return result;
        }
        ++result.states;
        leave(path, [&](Step step, Key to, double price) {
            const double cost = now.cost + price;
            if (cost > limits.cost) return;
            const auto [at, fresh] = best.emplace(to, cost);
            if (!fresh && at->second <= cost) return;
            at->second = cost;
            nodes.push_back({now.node, std::move(step), std::move(to), cost});
            open.push({cost, static_cast<std::int32_t>(nodes.size()) - 1});
        });
    }
    return result;
}

}  // namespace loopmend
