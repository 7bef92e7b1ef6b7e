// SPDX-License-Identifier: MIT
//
// Circuits through the very core that the case of a knitter runs on: beliefs, bits about labels, hitting
// sets.
//
// Hitting sets and the full adder: R. Reiter, A theory of diagnosis from first principles, Artificial
// Intelligence 32 (1987) 57-95. The polybox: J. de Kleer and B. C. Williams, Diagnosing multiple faults,
// Artificial Intelligence 32 (1987) 97-130; its entropies follow from an explicit model (each part fails with
// probability 0.01, a failed output is uniform over 25 values), recomputed.
#include <catch2/catch.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <string>
#include <vector>

#include "diagnosis/belief.h"
#include "diagnosis/entropy.h"
#include "diagnosis/hitting_sets.h"

using namespace loopmend;

namespace {

using Sets = std::vector<std::vector<int>>;

/// Worlds: which parts fail, and with what value. The label is the set of failed parts.
struct Worlds {
    std::vector<double> weights;
    std::vector<std::int64_t> labels;
    std::vector<std::vector<int>> values;  ///< by place of measurement, then by world

    Belief belief;

    void see(int place, int value) {
        belief.update([&](std::int32_t w) {
            return values[static_cast<std::size_t>(place)][static_cast<std::size_t>(w)] == value ? 1.0 : 0.0;
        });
    }
    double entropy() const { return labelEntropy(belief.weights(), labels); }
    /// Expected entropy after a measurement.
    double after(int place) const {
        Emissions em;
        std::vector<double> alive;
        std::vector<std::int64_t> their;
        std::vector<int> seen;
        for (const std::int32_t w : belief.alive()) {
            alive.push_back(belief.weight(static_cast<std::size_t>(w)));
            their.push_back(labels[static_cast<std::size_t>(w)]);
            const int value = values[static_cast<std::size_t>(place)][static_cast<std::size_t>(w)];
            std::size_t c = 0;
            while (c < seen.size() && seen[c] != value) ++c;
            if (c == seen.size()) {
                seen.push_back(value);
                em.classes.push_back({{value, 1.0}});
            }
            em.classOf.push_back(static_cast<std::int32_t>(c));
        }
        return entropy() - expectedBits(alive, numbered(their), em);
    }
    /// Minimal sets of failed parts that are still possible.
    Sets diagnoses(int parts) const {
        std::vector<bool> possible(std::size_t{1} << static_cast<unsigned>(parts), false);
        for (const std::int32_t w : belief.alive())
            possible[static_cast<std::size_t>(labels[static_cast<std::size_t>(w)])] = true;
        Sets sets;
        for (std::size_t s = 0; s < possible.size(); ++s) {
            if (!possible[s]) continue;
            std::vector<int> set;
            for (int p = 0; p < parts; ++p) {
                if ((s >> static_cast<unsigned>(p) & 1U) != 0) set.push_back(p);
            }
            sets.push_back(set);
        }
        return minimalOf(sets);
    }
};

constexpr int kWorks = 25;  // no value: the part works

/// M1 X=A*C, M2 Y=B*D, M3 Z=C*E, A1 F=X+Y, A2 G=Y+Z; A3 B2 C2 D3 E3. Places: X, Y, Z, F, G.
Worlds polybox() {
    Worlds worlds;
    worlds.values.resize(5);
    // Only worlds that can show what is seen are kept: of five values most cannot.
    const auto value = [](int state, int good) { return state == kWorks ? good : state; };
    std::array<int, 5> s{};
    for (s[0] = 0; s[0] <= kWorks; ++s[0]) {
        for (s[1] = 0; s[1] <= kWorks; ++s[1]) {
            for (s[2] = 0; s[2] <= kWorks; ++s[2]) {
                const int x = value(s[0], 6);
                const int y = value(s[1], 6);
                const int z = value(s[2], 6);
                for (s[3] = 0; s[3] <= kWorks; ++s[3]) {
                    if (value(s[3], x + y) != 10) continue;
                    for (s[4] = 0; s[4] <= kWorks; ++s[4]) {
                        if (value(s[4], y + z) != 12) continue;
                        double weight = 1;
                        std::int64_t label = 0;
                        for (std::size_t p = 0; p < 5; ++p) {
                            weight *= s[p] == kWorks ? 0.99 : 0.01 / 25;
                            if (s[p] != kWorks) label |= std::int64_t{1} << p;
                        }
                        worlds.weights.push_back(weight);
                        worlds.labels.push_back(label);
                        const std::array<int, 5> seen = {x, y, z, 10, 12};
                        for (std::size_t i = 0; i < 5; ++i) worlds.values[i].push_back(seen[i]);
                    }
                }
            }
        }
    }
    worlds.belief = Belief(worlds.weights);
    return worlds;
}

}  // namespace

TEST_CASE("Reiter's conflicts have six minimal hitting sets") {
    const Sets conflicts = {{2, 4, 5}, {1, 2, 3}, {1, 3, 5}, {2, 4, 6}, {2, 4}, {2, 3, 5}, {1, 6}};
    const Sets expected = {{1, 2}, {1, 3, 4}, {1, 4, 5}, {2, 3, 6}, {2, 5, 6}, {3, 4, 6}};
    CHECK(hittingSets(conflicts) == expected);
    CHECK(hittingSets({}) == Sets{{}});
    CHECK(hittingSets({{1, 2}, {}}).empty());
    CHECK(hittingSets(conflicts, 2) == Sets{{1, 2}});
}

TEST_CASE("the polybox is diagnosed by the core that diagnoses knitting") {
    Worlds box = polybox();
    CHECK(box.entropy() == Approx(1.061278).margin(1e-6));
    CHECK(box.after(0) == Approx(0.025810).margin(1e-6));
    CHECK(box.after(1) == Approx(1.056064).margin(1e-6));
    CHECK(box.after(2) == Approx(1.058387).margin(1e-6));
    // Parts: 0 M1, 1 M2, 2 M3, 3 A1, 4 A2.
    const Sets before = {{0}, {3}, {1, 2}, {1, 4}};
    Sets found = box.diagnoses(5);
    std::sort(found.begin(), found.end(), [](const auto& a, const auto& b) {
        return a.size() != b.size() ? a.size() < b.size() : a < b;
    });
    CHECK(found == before);
    Worlds six = box;
    six.see(0, 6);
    Sets after = six.diagnoses(5);
    std::sort(after.begin(), after.end(), [](const auto& a, const auto& b) {
        return a.size() != b.size() ? a.size() < b.size() : a < b;
    });
    CHECK(after == Sets{{3}, {1, 2}, {1, 4}});
    Worlds four = box;
    four.see(0, 4);
    CHECK(four.diagnoses(5) == Sets{{0}});
}

TEST_CASE("Reiter's full adder has three diagnoses") {
    // X1 = a xor b, X2 = X1 xor c (sum); A1 = c and X1, A2 = a and b, O1 = A1 or A2 (carry). Seen with 1 0 1:
    // sum 1, carry 0. A failed gate gives either value.
    Worlds adder;
    for (int state = 0; state < 243; ++state) {  // each gate works, or gives 0, or gives 1
        std::array<int, 5> gate{};
        for (int i = 0, rest = state; i < 5; ++i, rest /= 3) gate[static_cast<std::size_t>(i)] = rest % 3;
        const auto out = [&](std::size_t g, int good) { return gate[g] == 0 ? good : gate[g] - 1; };
        const int x1 = out(0, 1);
        const int sum = out(1, x1 ^ 1);
        const int a1 = out(2, 1 & x1);
        const int a2 = out(3, 0);
        const int carry = out(4, a1 | a2);
        if (sum != 1 || carry != 0) continue;
        double weight = 1;
        std::int64_t label = 0;
        for (std::size_t g = 0; g < 5; ++g) {
            weight *= gate[g] == 0 ? 0.99 : 0.005;
            if (gate[g] != 0) label |= std::int64_t{1} << g;
        }
        adder.weights.push_back(weight);
        adder.labels.push_back(label);
    }
    adder.belief = Belief(adder.weights);
    // Gates: 0 X1, 1 X2, 2 A1, 3 A2, 4 O1. Reiter: {X1}, {X2, O1}, {X2, A1} (his A2 is the gate after X1).
    Sets found = adder.diagnoses(5);
    std::sort(found.begin(), found.end(), [](const auto& a, const auto& b) {
        return a.size() != b.size() ? a.size() < b.size() : a < b;
    });
    CHECK(found == Sets{{0}, {1, 2}, {1, 4}});
}

TEST_CASE("bits are about labels, not about worlds") {
    // Two worlds of one label: telling them apart is worth nothing.
    Emissions look;
    look.classes = {{{0, 1.0}}, {{1, 1.0}}};
    look.classOf = {0, 1};
    CHECK(expectedBits({0.5, 0.5}, {7, 7}, look) == Approx(0).margin(1e-12));
    CHECK(expectedBits({0.5, 0.5}, {0, 1}, look) == Approx(1));
    // A look that is right in nine of ten.
    Emissions noisy;
    noisy.classes = {{{0, 0.9}, {1, 0.1}}, {{0, 0.1}, {1, 0.9}}};
    noisy.classOf = {0, 1};
    const double h = -0.9 * std::log2(0.9) - 0.1 * std::log2(0.1);
    CHECK(expectedBits({0.5, 0.5}, {0, 1}, noisy) == Approx(1 - h));
    CHECK(entropyOf({1, 1, 1, 1}) == Approx(2));
    CHECK(entropyOf({}) == 0);
}

TEST_CASE("systematic resampling draws each as often as it weighs") {
    std::vector<double> weights = {0.5, 0, 0.25, 0.25};
    for (const double offset : {0.0, 0.3, 0.999}) {
        std::array<int, 4> times{};
        const Belief belief(weights);
        const auto drawn = belief.drawn(100, offset);
        REQUIRE(drawn.size() == 100);
        for (const std::int32_t i : drawn)
            ++times[static_cast<std::size_t>(belief.alive()[static_cast<std::size_t>(i)])];
        CHECK(times[0] == 50);
        CHECK(times[1] == 0);
        CHECK(times[2] == 25);
        CHECK(times[3] == 25);
    }
    CHECK(Belief({0, 0}).drawn(10, 0.5).empty());
    // Of many, too: as often as its weight has it, but for less than one.
    weights.clear();
    for (int i = 0; i < 3000; ++i) weights.push_back(i % 97 == 0 ? 40 : i % 7);
    Belief many(weights);
    for (int i = 0; i < 2; ++i) {
        const auto drawn = many.drawn(700, 0.37);
        REQUIRE(drawn.size() == 700);
        CHECK(std::is_sorted(drawn.begin(), drawn.end()));
        std::vector<int> times(many.size(), 0);
        for (const std::int32_t k : drawn)
            ++times[static_cast<std::size_t>(many.alive()[static_cast<std::size_t>(k)])];
        for (std::size_t h = 0; h < many.size(); ++h)
            CHECK(std::abs(times[h] - 700 * many.weight(h)) < 1 + 1e-9);
        many.update([](std::int32_t h) { return h < 1500 ? 0.0 : 1.0; });
    }
}
