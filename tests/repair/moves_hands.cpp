// SPDX-License-Identifier: MIT
#include "moves_hands.h"

#include <catch2/catch.hpp>

#include "fabric/itinerary.h"
#include "repair/move_words.h"

namespace loopmend::scenes {

std::string id(LoopId loop) {
    return std::to_string(loop.value);
}

std::string ids(const std::vector<LoopId>& loops) {
    std::string text;
    for (const LoopId l : loops) text += (text.empty() ? "" : " ") + id(l);
    return text;
}

LoopId doIt(Work& work, const std::string& line) {
    const auto move = moveFrom(line);
    if (!move) FAIL(line << ": " << move.error().message);
    const auto made = work.perform(*move);
    if (!made) FAIL(line << ": " << refusalOf(work, *move, made.error()));
    return *made;
}

Why refusedFor(Work& work, const std::string& line) {
    const std::string before = itinerary(work.fabric()).knot;
    const auto made = work.perform(*moveFrom(line));
    INFO(line);
    REQUIRE_FALSE(made);
    CHECK(itinerary(work.fabric()).knot == before);
    return made.error().why;
}

void replays(Work& work) {
    std::vector<Move> lines;
    for (const Move& m : work.done()) {
        const auto again = moveFrom(textOf(m));
        REQUIRE(again);
        lines.push_back(*again);
    }
    auto other = Work::from(work.start());
    REQUIRE(other);
    REQUIRE(other->resume(lines, {}));
    const Itinerary now = itinerary(work.fabric());
    CHECK(itinerary(other->fabric()).knot == now.knot);
    CHECK(itinerary(other->fabric()).measure == now.measure);
    work.undoAll();
    CHECK(itinerary(work.fabric()).knot == work.start().lines.knot);
    CHECK(itinerary(work.fabric()).measure == work.start().lines.measure);
    work.redoAll();
    CHECK(itinerary(work.fabric()).measure == now.measure);
}

std::vector<LoopId> row(const Work& work, int n) {
    const Fabric& f = work.fabric();
    return loopsByRow(f, rowsOf(f))[static_cast<std::size_t>(n)];
}

LoopId press(Work& work, Notion notion, const PointedAt& where) {
    const std::vector<Offer> offers = offersAt(work, notion, where);
    REQUIRE_FALSE(offers.empty());
    INFO(offers.front().words << " " << offers.front().refusal);
    REQUIRE(offers.front().possible);
    const auto made = work.perform(offers.front().move);
    REQUIRE(made);
    return *made;
}

bool isOffered(Work& work, Notion notion, LoopId loop, const std::string& line) {
    for (const Offer& o : offersAt(work, notion, {PointedAt::What::loop, loop})) {
        if (o.possible && textOf(o.move) == line) return true;
    }
    return false;
}

}  // namespace loopmend::scenes
