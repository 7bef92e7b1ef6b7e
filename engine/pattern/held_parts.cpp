// SPDX-License-Identifier: MIT
#include "pattern/held_parts.h"

#include "pattern/heading_words.h"

#include <algorithm>
#include <cctype>
#include <initializer_list>
#include <vector>

namespace loopmend {

namespace {

using Words = std::vector<std::string>;

bool any(const Words& words, std::initializer_list<std::string_view> of) {
    return std::any_of(words.begin(), words.end(), [&](const std::string& word) {
        return std::find(of.begin(), of.end(), word) != of.end();
    });
}

/// What a clause says before the stitches of the first row.
enum class Says { nothing, side, yarn, stitches, picks };

/// The stitches are named as those that waited, or as what remains once the yarn is joined to them.
Says saidBy(const Words& words) {
    if (words.empty()) return Says::nothing;
    const std::string& first = words.front();
    const bool waiting = any(words, {"held", "holder", "holders", "waiting"});
    const bool rest = any(words, {"rem", "remaining"});
    if (first == "with" && any(words, {"facing", "side"})) {
        // "With RS facing rejoin yarn to rem sts", without a comma
        const auto facing = std::find(words.begin(), words.end(), "facing");
        if (facing == words.end() || facing + 1 == words.end())
            return words.size() <= 6 ? Says::side : Says::nothing;
        return saidBy(Words(facing + 1, words.end()));
    }
    if (first == "return" || first == "returning") return waiting || rest ? Says::stitches : Says::nothing;
    const bool joins = any({first}, {"rejoin", "join", "reattach", "attach"});
    if (joins && !any(words, {"round", "rnd", "rounds"}))
        return waiting || rest ? Says::stitches : Says::yarn;
    if (joins) return Says::side;  // in the round
    if (first == "pick" && words.size() > 1 && words[1] == "up") return Says::picks;
    const bool moves = any({first}, {"slip", "sl", "place", "put", "replace", "transfer"});
    if (moves && waiting && any(words, {"needle", "needles"})) return Says::stitches;
    return Says::nothing;
}

}  // namespace

long long stitchesIn(std::string_view text) {
    long long sum = 0;
    for (std::size_t i = 0; i < text.size();) {
        if (std::isdigit(static_cast<unsigned char>(text[i])) == 0) {
            ++i;
            continue;
        }
        long long n = 0;
        for (; i < text.size() && std::isdigit(static_cast<unsigned char>(text[i])) != 0; ++i)
            n = std::min<long long>(n * 10 + (text[i] - '0'), 100'000);
        std::size_t word = i;
        while (word < text.size() && text[word] == ' ') ++word;
        for (const std::string_view kind : {"held ", "remaining ", "rem ", "waiting "}) {
            if (text.compare(word, kind.size(), kind) == 0) word += kind.size();
        }
        if (text.substr(word, 2) == "st" || text.substr(word, 2) == "St") sum += n;
    }
    return sum;
}

std::optional<TakenUp> takenUpAt(std::string_view text, std::size_t at) {
    TakenUp taken;
    bool stitches = false;
    std::size_t from = at;
    while (from < text.size() && text[from] != '\n') {
        // One clause: to a stop, a comma or an `and`.
        std::size_t end = std::min(text.find_first_of(",.;:\n", from), text.size());
        const std::string_view rest = text.substr(from, end - from);
        const bool picks = rest.rfind("pick up and", 0) == 0;  // ... knit 2 sts
        const std::size_t joint = rest.find(" and ", picks ? 11 : 0);
        if (joint != std::string_view::npos) end = from + joint;
        const std::string_view clause = text.substr(from, end - from);
        const Words words = headingWords(clause);
        const Says says = saidBy(words);
        const bool blank = clause.find_first_not_of(" \t\r") == std::string_view::npos;
        if (says == Says::nothing && !blank) break;
        if (any(words, {"facing"}))
            taken.facing = any(words, {"ws", "wrong"}) ? Facing::wrong : Facing::right;
        if (says == Says::picks) {
            const long long picked = stitchesIn(clause);
            if (picked == 0) break;
            taken.pickedUp += picked;
        }
        if (says == Says::stitches) {
            stitches = true;
            if (taken.stitches == 0) taken.stitches = stitchesIn(clause);
        }
        from = end;
        if (from == text.size() || text[from] == '\n') break;
        from += joint != std::string_view::npos ? 5 : 1;
        while (from < text.size() && (text[from] == ' ' || text[from] == '\t')) ++from;
        if (text.compare(from, 4, "and ") == 0) from += 4;
    }
    if (!stitches) return std::nullopt;
    taken.body = std::min(from, text.size());
    const std::size_t end = std::min(text.find('\n', taken.body), text.size());
    const Words next = headingWords(text.substr(taken.body, end - taken.body));
    taken.row = !next.empty() && !any(next, {"row", "rows", "round", "rounds", "rnd", "rnds"}) &&
                !any({next.front()}, {"st", "sts", "stitches", "work", "complete", "shape", "repeat", "rep"});
    return taken;
}

}  // namespace loopmend
