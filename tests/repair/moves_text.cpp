// SPDX-License-Identifier: MIT
// Every hand move is a line of text, and is the same move when that line is read again.
#include <catch2/catch.hpp>

#include "repair/move_words.h"
#include "repair/notion.h"
#include "repair/work.h"
#include "scenes.h"

using namespace loopmend;
using namespace loopmend::scenes;

namespace {

const std::vector<std::string>& everyLine() {
    static const std::vector<std::string> lines{"pin 41",
                                                "unpin 41",
                                                "drop 41",
                                                "let-run 41 3",
                                                "let-run 41",
                                                "stack 41 42",
                                                "hook-k rung 1 loop 41",
                                                "hook-p rung 2 loop 41 42 twist -1 0",
                                                "hook-k rung 1 stack",
                                                "hook-k bar 37 loop 41",
                                                "hook-k pass 77 loop 41",
                                                "hook-k rung 1 loop 41 pierced",
                                                "hook-p rung 1 loop 41 twist 1 split",
                                                "lift-bar 37",
                                                "lift-bar 37 pin",
                                                "lift-bar 37 seat left-leg",
                                                "seat 41",
                                                "seat 41 left-leg beside 40",
                                                "seat 41 beside right-end",
                                                "remount 41 left-leg",
                                                "tink 3",
                                                "rip 2",
                                                "rip to-thread",
                                                "work k2, yo",
                                                "turn",
                                                "inspect right",
                                                "inspect wrong",
                                                "tug",
                                                "count 41 47",
                                                "mark 41",
                                                "slip-to 41",
                                                "sort 41",
                                                "thread row 41",
                                                "thread needle",
                                                "thread 41 42 43",
                                                "thread row 41 spare",
                                                "thread needle spare",
                                                "unthread 41",
                                                "unthread 41 spare",
                                                "cross 41 42 in-front 43 44",
                                                "cross 41 behind 43",
                                                "pass-over 41 42",
                                                "draw-slack 41",
                                                "draw-slack bar 40",
                                                "draw-slack 40 41 800",
                                                "draw-slack bar 40 41 800",
                                                "snip 41",
                                                "pick-out 41",
                                                "pick-out 41 5",
                                                "graft 41 42 to 51 52",
                                                "graft 41 42 to 51 52 rightward sewn kp over pp",
                                                "sew-over 41 42 B",
                                                "sew-over 41 A rightward",
                                                "fasten 41",
                                                "fasten strand 77",
                                                "weave 41",
                                                "weave 41 first",
                                                "join 40 44"};
    return lines;
}

}  // namespace

TEST_CASE("Every move has a line of text that gives the same move again", "[moves]") {
    for (const std::string& line : everyLine()) {
        INFO(line);
        const auto move = moveFrom(line);
        if (!move) FAIL(move.error().message);
        CHECK(textOf(*move) == line);
        const auto again = moveFrom(textOf(*move));
        REQUIRE(again);
        CHECK(*again == *move);
    }
}

TEST_CASE("No two lines are the same move", "[moves]") {
    std::vector<Move> moves;
    for (const std::string& line : everyLine()) moves.push_back(*moveFrom(line));
    for (std::size_t i = 0; i < moves.size(); ++i) {
        for (std::size_t k = 0; k < i; ++k) {
            INFO(everyLine()[i] << " / " << everyLine()[k]);
            CHECK_FALSE(moves[i] == moves[k]);
        }
    }
}

TEST_CASE("Lines that lack something say what", "[moves]") {
    for (const auto& [line, says] :
         std::vector<std::pair<std::string, std::string>>{{"thread", "row"},
                                                          {"cross 41 42", "in-front"},
                                                          {"cross 41 in-front", "both sides"},
                                                          {"draw-slack", "loop"},
                                                          {"draw-slack 40 41", "how much"},
                                                          {"graft 41", "to"},
                                                          {"graft 41 to 51 sewn kx", "k and p"},
                                                          {"sew-over 41", "color"},
                                                          {"inspect", "side"},
                                                          {"pick-out 41 0", "one or more"},
                                                          {"count 41", "last"},
                                                          {"pass-over 41", "two loops"},
                                                          {"hook-k pass loop 41", "number"},
                                                          {"fasten", "loop"},
                                                          {"tug hard", "not understood"},
                                                          {"knot 41", "join"}}) {
        const auto move = moveFrom(line);
        INFO(line << ": " << (move ? "read" : move.error().message));
        REQUIRE_FALSE(move);
        CHECK(move.error().message.find(says) != std::string::npos);
    }
}

TEST_CASE("Every move has words in both kinds of English, a refusal that is a sentence, and a notion",
          "[moves]") {
    Work work(worked(stockinette(6, 4)));
    for (const std::string& line : everyLine()) {
        INFO(line);
        Move move = *moveFrom(line);
        for (auto* list : {&move.loops, &move.others}) {
            for (LoopId& l : *list) l = LoopId{l.value % 20};
        }
        for (const Terms terms : {Terms::us, Terms::uk}) {
            for (const Side side : {Side::right, Side::wrong}) {
                const std::string words = wordsOf(work, move, terms, side);
                CHECK(words.size() > 8);
                CHECK(words.back() == '.');
            }
        }
        CHECK_FALSE(briefly(move).empty());
        CHECK(static_cast<std::size_t>(notionFor(move)) < kNotions);
        if (const auto tried = work.tryOut(move); !tried) {
            const std::string why = refusalOf(work, move, tried.error());
            CHECK(why.size() > 8);
            CHECK(why.back() == '.');
        }
    }
}
