// SPDX-License-Identifier: MIT
#include "reading/symbol.h"

#include <fmt/format.h>

namespace loopmend {

namespace {

const char* hand(Lean lean) {
    switch (lean) {
        case Lean::left: return "\\";
        case Lean::right: return "/";
        case Lean::upright: return "|";
        case Lean::wound: return "@";
        case Lean::none: break;
    }
    return "";
}

std::string base(const Symbol& s) {
    const char* face = s.face == Face::v ? "k" : "p";
    switch (s.sight) {
        case Sight::stitch: return fmt::format("{}{}", s.bases == 0 ? "o" : face, hand(s.twistHand()));
        case Sight::together: {
            std::string text = fmt::format("{}{}{}", face, s.bases, hand(s.lean));
            if (s.bases > 2 && s.bases <= kMostInStack) {
                for (int i = 0; i < s.bases; ++i)
                    text += fmt::format("{}", s.stack[static_cast<std::size_t>(i)]);
            }
            if (s.twist != 0) text += fmt::format("t{}", hand(s.twistHand()));
            return text;
        }
        case Sight::made: return fmt::format("{}^{}", face, hand(s.twistHand()));
        case Sight::hole: return "o";
        case Sight::castOn: return "co";
        case Sight::slipped: return s.strand == Strand::behind ? "s" : "s-";
        case Sight::tuck: return s.bases == 0 ? "t" : fmt::format("{}t", face);
        case Sight::wrapped: return fmt::format("{}w", face);
        case Sight::turned: return fmt::format("{}g", face);
        case Sight::caught: return fmt::format("{}f", face);
        case Sight::pickedUp: return fmt::format("{}u{}", face, s.oneLeg ? "1" : "");
        case Sight::rung: return s.rung == Rung::edgeLoop ? "(" : s.rung == Rung::shortRung ? "-" : "=";
    }
    return "";
}

}  // namespace

bool looksAlike(const Symbol& a, const Symbol& b) {
    return a.sight == b.sight && a.face == b.face && a.twist == b.twist && a.bases == b.bases &&
           a.stack == b.stack && a.twists == b.twists && a.lean == b.lean && a.sisters == b.sisters &&
           a.sister == b.sister && a.tall == b.tall && a.strandsBehind == b.strandsBehind &&
           a.strandsInFront == b.strandsInFront && a.strand == b.strand && a.crossing == b.crossing &&
           a.crossesInFront == b.crossesInFront && a.crossesOver == b.crossesOver && a.rung == b.rung &&
           a.chained == b.chained && a.boundOff == b.boundOff && a.split == b.split && a.oneLeg == b.oneLeg &&
           a.colour == b.colour;
}

std::string code(const Symbol& s) {
    std::string text = base(s);
    if (s.sisters > 1) text += fmt::format("{}{}of{}", s.sistersOfOtherRow ? ',' : '.', s.sister, s.sisters);
    if (s.crossing != Lean::none)
        text += fmt::format("{}{}", s.crossing == Lean::right ? '>' : '<', s.crossesInFront ? 'f' : 'b');
    if (s.chained) text += '+';
    if (s.boundOff) text += 'x';
    if (s.loose) text += '!';
    return text;
}

}  // namespace loopmend
