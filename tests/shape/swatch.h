// SPDX-License-Identifier: MIT
#pragma once

#include <catch2/catch.hpp>
#include <memory>
#include <vector>

#include "fabric/hands.h"
#include "fabric/knitter.h"

namespace loopmend {

/// A small piece on a needle, for tests: a long-tail cast-on, then whatever the test works.
struct Swatch {
    std::unique_ptr<Fabric> fabric = std::make_unique<Fabric>();
    Knitter k;

    explicit Swatch(int stitches, bool longTail = true)
        : k(*fabric, fabric->addYarn('A', 16800, 4200), Side::wrong) {
        REQUIRE((longTail ? k.castOnLongTail(stitches) : k.castOnBackward(stitches)).has_value());
        k.turn();
    }

    Fabric& f() { return *fabric; }
    /// Stitches that are knit on the right side.
    void plain(int stitches) {
        for (int i = 0; i < stitches; ++i)
            REQUIRE(k.work(1, k.facing() == Side::wrong, Leg::leading).has_value());
    }
    void rows(int n) {
        for (int i = 0; i < n; ++i) {
            plain(k.aheadCount());
            k.turn();
        }
    }
    void finishRow() {
        plain(k.aheadCount());
        k.turn();
    }
    LoopId next() const { return k.ahead().front(); }
    std::vector<LoopId> hosts(LoopId loop) const { return fabric->hostsRightToLeft(loop); }
};

/// What an operation made; the test fails if it was refused.
inline LoopId made(const Result<LoopId>& result) {
    REQUIRE(result.has_value());
    return *result;
}

}  // namespace loopmend
