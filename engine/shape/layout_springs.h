// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <vector>

#include "fabric/fabric.h"
#include "shape/layout.h"

namespace loopmend {

/// The springs between the loops of a layout, and how they come to rest. Sweeps in a fixed order:
/// deterministic.
class LayoutSprings {
  public:
    /// `kept` and `crossed` (by entry id): keeps its frame; changes places above. All three are looked at
    /// when it relaxes.
    LayoutSprings(const Fabric& fabric, Layout& layout, const std::vector<bool>& kept,
                  const std::vector<bool>& crossed)
        : f_(fabric), out_(layout), kept_(kept), crossed_(crossed) {}

    void tie(EntryId a, EntryId b, double rest, double pull) {
        springs_.push_back({a.value, b.value, rest, pull});
    }
    /// `a` is drawn to its distance from `b`, which does not give way.
    void follow(EntryId a, EntryId b, double rest, double pull) {
        springs_.push_back({a.value, b.value, rest, pull, true});
    }
    /// Neighbours of one row: they give way least.
    void beside(EntryId right, EntryId left, double rest) {
        rowSprings_.push_back({right.value, left.value, rest, 0.9});
    }
    /// Three in a row that a needle keeps straight.
    void stiff(EntryId a, EntryId middle, EntryId c) { bends_.push_back({a.value, middle.value, c.value}); }

    void relax(int sweeps);
    /// Only what is not kept moves.
    void relaxNear(int sweeps);

  private:
    struct Spring {
        std::int32_t a;
        std::int32_t b;
        double rest;
        double pull;
        bool oneWay = false;
    };
    struct Bend {
        std::int32_t a;
        std::int32_t b;
        std::int32_t c;
    };

    bool isPlaced(EntryId e) const { return out_[e].placed; }
    bool kept(EntryId e) const { return kept_[static_cast<std::size_t>(e.value)]; }
    void run(int sweeps, bool mayBeSteep);
    void sweep(std::vector<Point2>& p, int sweeps, bool steep);
    bool isSteep(const std::vector<Point2>& p) const;
    bool isFolded(const std::vector<Point2>& p) const;
    std::vector<double> lengths(const std::vector<Point2>& p) const;
    void bow(std::vector<Point2>& p) const;
    void noteColumns();
    void keepOrder(std::vector<Point2>& p) const;

    const Fabric& f_;
    Layout& out_;
    const std::vector<bool>& kept_;
    const std::vector<bool>& crossed_;
    std::vector<Spring> springs_;
    std::vector<Spring> rowSprings_;
    std::vector<Bend> bends_;
    std::vector<Bend> columnBends_;
    std::vector<Bend> standing_;  ///< a stands on b
};

}  // namespace loopmend
