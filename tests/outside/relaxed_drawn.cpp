// SPDX-License-Identifier: MIT
//
// Mistakes on stock grounds as they are drawn, before anything is relaxed: each crossing as the links say
// (shape/weave.h). A few of them are a test; all of them, half a minute:
//   loopmend-test-outside "[.sweep]"
#include <catch2/catch.hpp>

#include <cstdio>
#include <string>
#include <string_view>
#include <vector>

#include "fault/catalogue.h"
#include "fault/draw.h"
#include "fault/grounds.h"
#include "fault/knit_with.h"
#include "pattern/working.h"
#include "shape/weave.h"

using namespace loopmend;

namespace {

struct Drawn {
    int pieces = 0;
    int wrong = 0;
    std::string told;
};

/// The same share of the mistakes whatever is added to the catalogue.
unsigned shareOf(std::string_view id) {
    unsigned sum = 0;
    for (const char c : id) sum += static_cast<unsigned char>(c);
    return sum % 4;
}

/// share: of four; all: every mistake.
void draw(StockGround ground, bool round, unsigned share, bool all, Drawn& drawn) {
    const Script script = stockGround(ground, 13, 8, round);
    for (const Fault* fault : catalogue()) {
        if (!all && shareOf(fault->id) != share) continue;
        const std::vector<FaultPlace> places = placesFor(*fault, script, {});
        if (places.empty()) continue;
        const FaultPlace& place = places[places.size() / 2];
        const std::string name =
            text(place) + " on " + std::string(loopmend::name(ground)) + (round ? ", round" : "");
        const auto knitting = knitWith(script, {}, {place}, After::byReading);
        if (!knitting) continue;
        ++drawn.pieces;
        const std::vector<std::string> wrong = Weave(*knitting->actual.fabric).wrongLinks();
        if (wrong.empty()) continue;
        ++drawn.wrong;
        drawn.told += name + ": " + wrong.front() + "\n";
    }
}

}  // namespace

TEST_CASE("mistakes are drawn with each crossing as the links say") {
    const StockGround grounds[] = {StockGround::stockinette, StockGround::seed,   StockGround::eyelets,
                                   StockGround::shaped,      StockGround::banded, StockGround::caught,
                                   StockGround::net};
    Drawn drawn;
    unsigned share = 0;
    for (const StockGround ground : grounds) draw(ground, false, share++ % 4, false, drawn);
    INFO(drawn.told);
    CHECK(drawn.pieces > 40);
    CHECK(drawn.wrong == 0);
}

TEST_CASE("floats caught row after row are drawn with each crossing as the links say") {
    for (const bool round : {false, true}) {
        const auto knitting = knit(stockGround(StockGround::caught, 13, 8, round));
        REQUIRE(knitting);
        const std::vector<std::string> wrong = Weave(*knitting->fabric).wrongLinks();
        INFO((wrong.empty() ? std::string() : wrong.front()));
        CHECK(wrong.empty());
    }
}

TEST_CASE("all mistakes on all grounds as they are drawn", "[.sweep]") {
    int wrong = 0;
    for (const bool round : {false, true}) {
        for (int g = 0; g < kAllStockGrounds; ++g) {
            const auto ground = static_cast<StockGround>(g);
            Drawn drawn;
            draw(ground, round, 0, true, drawn);
            std::printf("%s%s: %d pieces, %d with a crossing drawn otherwise\n%s",
                        std::string(name(ground)).c_str(), round ? ", round" : "", drawn.pieces, drawn.wrong,
                        drawn.told.c_str());
            CHECK(drawn.pieces > 0);
            wrong += drawn.wrong;
        }
    }
    CHECK(wrong == 0);
}
