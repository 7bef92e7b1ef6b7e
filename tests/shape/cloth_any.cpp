// SPDX-License-Identifier: MIT
//
// Cloth of whatever hands can make, followed from one state to the next.
#include <catch2/catch.hpp>

#include <cmath>
#include <cstdlib>

#include "shape/cloth.h"
#include "shape/swatch.h"

namespace loopmend {

namespace {

void requireFinite(const Cloth& cloth) {
    for (const PathStrand& s : cloth.path().strands) {
        for (const PathPoint& p : s.points) {
            REQUIRE(std::isfinite(p.at.x));
            REQUIRE(std::isfinite(p.at.y));
            REQUIRE(std::isfinite(p.at.z));
        }
    }
}

/// Draws 0 ... n-1, the same on every machine.
class Draws {
  public:
    explicit Draws(std::uint64_t seed) : state_(seed * 0x9e3779b97f4a7c15U + 1) {}
    int operator()(int n) {
        state_ = state_ * 6364136223846793005U + 1442695040888963407U;
        return static_cast<int>((state_ >> 33U) % static_cast<std::uint64_t>(n));
    }

  private:
    std::uint64_t state_;
};

void move(Swatch& s, Draws& draw) {
    switch (draw(26)) {
        case 0: (void)s.k.purl(); break;
        case 1: (void)s.k.yarnOver(); break;
        case 2: (void)s.k.k2tog(); break;
        case 3: (void)s.k.ssk(); break;
        case 4: (void)s.k.knitTbl(); break;
        case 5: (void)s.k.slip(SlipWay::purlwise, draw(2) == 0); break;
        case 6: (void)s.k.makeOne(draw(2) == 0 ? Hand::left : Hand::right); break;
        case 7: (void)s.k.cross(1 + draw(3), 1 + draw(2), draw(2) == 0); break;
        case 8: (void)s.k.s2kp(); break;
        case 9: (void)s.k.kfb(); break;
        case 10: (void)s.k.kyok(); break;
        case 11: (void)s.k.workBelow(draw(2) == 0); break;
        case 12: (void)s.k.bindOff(1 + draw(2)); break;
        case 13: (void)s.k.castOnBackward(1 + draw(3)); break;
        case 14: (void)s.k.wrapAndTurn(); break;
        case 15: (void)s.k.leaveOnHolder(1); break;
        case 16:
            if (s.k.aheadCount() > 0) (void)s.k.drop(s.next());
            (void)letRun(s.f(), draw(4));
            break;
        case 17: (void)s.k.slip(SlipWay::knitwise, false); break;
        case 18: s.k.turn(); break;
        default: (void)s.k.knit();
    }
}

}  // namespace

TEST_CASE("cloth follows whatever hands do, and always shows something whole") {
    const char* more = std::getenv("LOOPMEND_CASES");
    const int cases = more != nullptr ? std::max(1, std::atoi(more)) : 6;
    int faults = 0;
    int shown = 0;
    for (int seed = 1; seed <= cases; ++seed) {
        INFO("seed " << seed);
        Draws draw(static_cast<std::uint64_t>(seed));
        Swatch s(7 + draw(4));
        s.rows(3);
        ClothOptions options;
        options.mostSteps = 500;
        Cloth cloth = Cloth::drawn(s.f(), options);
        cloth.advance(40);
        for (int i = 0; i < 30; ++i) {
            const JournalMark mark = s.f().mark();
            move(s, draw);
            cloth.follow(s.f());
            requireFinite(cloth);
            cloth.advance(draw(60));
            if (draw(8) == 0) {
                s.f().rollBack(mark);
                cloth.follow(s.f());
            }
            requireFinite(cloth);
            ++shown;
            // Every loop that the layout placed is in the picture.
            std::vector<bool> drawn(static_cast<std::size_t>(s.f().entryCount()), false);
            for (const PathStrand& strand : cloth.path().strands) {
                for (const PathPoint& p : strand.points) {
                    if (p.entry) drawn[static_cast<std::size_t>(p.entry.value)] = true;
                }
            }
            for (std::int32_t e = 0; e < s.f().entryCount(); ++e) {
                const EntryId id{e};
                if (!s.f().has(id) || !s.f().isLoop(id) || s.f().isNothing(id)) continue;
                if (s.f()[s.f()[id].yarn].flags.gone != 0 || !cloth.layout()[id].placed) continue;
                INFO("entry " << e << " after move " << i);
                REQUIRE(drawn[static_cast<std::size_t>(e)]);
            }
        }
        cloth.settle();
        requireFinite(cloth);
        faults += cloth.fault() ? 1 : 0;
    }
    CHECK(shown == 30 * cases);
    CHECK(faults <= cases / 3);
}

}  // namespace loopmend
