// SPDX-License-Identifier: MIT
// The uniform-cost search by itself, with no knitting in it.
#include <array>
#include <catch2/catch.hpp>
#include <functional>
#include <string>

#include "repair/search.h"

using namespace loopmend;

TEST_CASE("The cheapest way through a small net of roads is found") {
    // E. W. Dijkstra's problem: six towns, priced roads; checked by hand: 0-2-5-4 costs 20.
    const std::array<std::array<int, 6>, 6> roads = {{{0, 7, 9, 0, 0, 14},
                                                      {7, 0, 10, 15, 0, 0},
                                                      {9, 10, 0, 11, 0, 2},
                                                      {0, 15, 11, 0, 6, 0},
                                                      {0, 0, 0, 6, 0, 9},
                                                      {14, 0, 2, 0, 9, 0}}};
    const auto leave = [&](const std::vector<int>& path, auto emit) {
        const auto here = static_cast<std::size_t>(path.empty() ? 0 : path.back());
        for (int to = 0; to < 6; ++to) {
            const int price = roads[here][static_cast<std::size_t>(to)];
            if (price > 0) emit(to, to, price);
        }
    };
    const auto way = cheapestWay<int, int>(0, leave, [](int town) { return town == 4; });
    CHECK(way.found);
    CHECK(way.cost == 20);
    CHECK(way.steps == std::vector<int>{2, 5, 4});
    const auto dear = cheapestWay<int, int>(0, leave, [](int town) { return town == 4; }, {1000, 19.9});
    CHECK_FALSE(dear.found);
    CHECK(dear.complete);  // there is none within that cost
    const auto given = cheapestWay<int, int>(0, leave, [](int town) { return town == 4; }, {2, 1e9});
    CHECK_FALSE(given.found);
    CHECK_FALSE(given.complete);
    CHECK(cheapestWay<int, int>(3, leave, [](int town) { return town == 3; }).steps.empty());
}

TEST_CASE("Eight tiles in a frame are put in order in the fewest moves") {
    // A frame of 3 x 3; checked by breadth-first search: the reversed frame takes 28 moves at the least from
    // 87654321_, and a frame with two tiles swapped cannot be ordered at all: half of the 9! frames are out
    // of reach (W. Johnson and W. Story, Notes on the "15" puzzle, American Journal of Mathematics 2 (1879)
    // 397).
    const auto leave = [](const std::string& start) {
        return [start](const std::vector<char>& path, auto emit) {
            std::string frame = start;
            const auto slide = [&](char way) {
                const std::size_t gap = frame.find('_');
                const std::size_t to = way == 'l'   ? gap - 1
                                       : way == 'r' ? gap + 1
                                       : way == 'u' ? gap - 3
                                                    : gap + 3;
                std::swap(frame[gap], frame[to]);
            };
            for (const char way : path) slide(way);
            const std::size_t gap = frame.find('_');
            const std::string before = frame;
            for (const char way : {'l', 'r', 'u', 'd'}) {
                if ((way == 'l' && gap % 3 == 0) || (way == 'r' && gap % 3 == 2) || (way == 'u' && gap < 3) ||
                    (way == 'd' && gap > 5))
                    continue;
                frame = before;
                slide(way);
                emit(way, frame, 1.0);
            }
        };
    };
    const auto done = [](const std::string& frame) { return frame == "12345678_"; };
    const auto easy = cheapestWay<char, std::string>("1234567_8", leave("1234567_8"), done);
    CHECK(easy.cost == 1);
    const auto some = cheapestWay<char, std::string>("_12453786", leave("_12453786"), done, {5000, 12});
    CHECK(some.found);
    CHECK(some.cost == 4);
    const auto never = cheapestWay<char, std::string>("12345687_", leave("12345687_"), done, {100000, 12});
    CHECK_FALSE(never.found);
    CHECK(never.complete);
}
