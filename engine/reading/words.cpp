// SPDX-License-Identifier: MIT
// What is seen, said to a knitter.
#include "reading/read.h"
#include "reading/symbol.h"

#include <fmt/format.h>

#include <algorithm>
#include <string_view>
#include <vector>

namespace loopmend {

namespace {

std::string_view handWord(Lean lean) {
    switch (lean) {
        case Lean::left: return "to the left";
        case Lean::right: return "to the right";
        case Lean::wound: return "right round";
        case Lean::upright:
        case Lean::none: break;
    }
    return "";
}

std::string_view shape(const Symbol& s) {
    return s.face == Face::v ? "V" : "bump";
}

std::string_view number(int n) {
    constexpr std::string_view kNumbers[] = {"no",  "one",   "two",   "three", "four", "five",
                                             "six", "seven", "eight", "nine",  "ten"};
    return n >= 0 && n <= 10 ? kNumbers[n] : "many";
}

std::string together(const Symbol& s) {
    const std::string many(number(s.bases));
    const bool two = s.bases == 2;
    if (s.face == Face::bump) {
        return fmt::format("{} heads gathered under one bump", many);
    }
    switch (s.lean) {
        case Lean::left:
            return fmt::format("{} stitches meet, the {} one on top: leans left", many,
                               two ? "right" : "right-most");
        case Lean::right:
            return fmt::format("{} stitches meet, the {} one on top: leans right", many,
                               two ? "left" : "left-most");
        case Lean::upright: return fmt::format("{} stitches meet, a middle one on top: stands upright", many);
        case Lean::wound:
        case Lean::none: break;
    }
    return fmt::format("{} stitches meet in one", many);
}

std::string stitch(const Symbol& s) {
    if (s.bases == 0) return "the stitch before it lies over a strand";
    if (s.twist == 0) return fmt::format("a {}", shape(s));
    return s.twistHand() == Lean::wound
               ? fmt::format("a {} on a base wound right round", shape(s))
               : fmt::format("a {} on crossed feet, crossed {}", shape(s), handWord(s.twistHand()));
}

std::string base(const Symbol& s) {
    switch (s.sight) {
        case Sight::stitch: return stitch(s);
        case Sight::together: return together(s) + (s.twist != 0 ? ", its feet crossed" : "");
        case Sight::made:
            return s.twist == 0
                       ? fmt::format("a {} on the bar, with a small hole", shape(s))
                       : fmt::format("a {} on the bar, crossed {}", shape(s), handWord(s.twistHand()));
        case Sight::hole: return "a hole, a strand over it";
        case Sight::castOn: return "the cast-on edge";
        case Sight::slipped:
            return s.strand == Strand::behind ? "a tall stitch from below, a strand behind it"
                                              : "a tall stitch from below, a strand across it";
        case Sight::tuck:
            return s.bases == 0 ? "a strand lying on the stitch below"
                                : fmt::format("a {} through the stitch below and the strand on it", shape(s));
        case Sight::wrapped:
            return fmt::format("a {} through a stitch and the strand round its foot", shape(s));
        case Sight::turned: return fmt::format("a {} through both legs of a turned stitch", shape(s));
        case Sight::caught: return fmt::format("a {} through a stitch and the strand across it", shape(s));
        case Sight::pickedUp:
            return s.oneLeg ? "picked up under one leg of the edge" : "picked up under the whole edge stitch";
        case Sight::rung:
            return s.rung == Rung::edgeLoop    ? "a big loop at the edge"
                   : s.rung == Rung::shortRung ? "a short strand across the gap"
                                               : "a long strand across the gap";
    }
    return "";
}

}  // namespace

std::string words(const Symbol& s, Terms terms) {
    std::string text = base(s);
    if (s.sisters > 1) {
        text += s.sistersOfOtherRow ? ", its base entered again in another row"
                                    : fmt::format(", number {} from the right of {} out of one stitch",
                                                  s.sister, number(s.sisters));
    }
    if (s.tall > 0 && s.sight != Sight::slipped) {
        text += fmt::format(", tall over {} more row{}", number(s.tall), s.tall == 1 ? "" : "s");
    }
    if (s.crossing != Lean::none) {
        text += fmt::format(", its column crossing {} {}", handWord(s.crossing),
                            s.crossesInFront ? "in front" : "behind");
    }
    if (s.boundOff) text += fmt::format(", {}", word(Word::boundOff, terms));
    if (s.split) text += ", a ply of it apart";
    if (s.loose) {
        text += ", standing free";
        const int rungs = s.longRungs + s.shortRungs;
        if (rungs > 0) text += fmt::format(" under {} rung{}", number(rungs), rungs == 1 ? "" : "s");
        if (s.edgeLoops > 0)
            text += fmt::format(" beside {} big loop{}", number(s.edgeLoops), s.edgeLoops == 1 ? "" : "s");
    }
    return text;
}

std::string rowWords(const Reading& reading, int row, Terms terms) {
    if (row < 0 || row >= static_cast<int>(reading.rows.size())) return {};
    std::vector<std::string> said;
    for (const Cell& cell : reading.rows[static_cast<std::size_t>(row)].cells)
        said.push_back(words(cell.symbol, terms));
    if (reading.side == Side::wrong) std::reverse(said.begin(), said.end());
    std::string text;
    for (std::size_t i = 0; i < said.size();) {
        std::size_t n = 1;
        while (i + n < said.size() && said[i + n] == said[i]) ++n;
        if (!text.empty()) text += "; ";
        const std::string many = n <= 10 ? std::string(number(static_cast<int>(n))) : fmt::format("{}", n);
        const bool bare = said[i] == "a V" || said[i] == "a bump";
        text += n == 1 ? said[i]
                : bare ? fmt::format("{} {}", many, said[i] == "a V" ? "V's" : "bumps")
                       : fmt::format("{} times {}", many, said[i]);
        i += n;
    }
    return text;
}

}  // namespace loopmend
