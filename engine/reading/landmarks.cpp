// SPDX-License-Identifier: MIT
#include "reading/landmarks.h"

#include <algorithm>
#include <array>

#include <fmt/format.h>

#include "reading/landmark_lines.h"

namespace loopmend {

std::string_view name(LandmarkKind kind) {
    constexpr std::array<std::string_view, kLandmarkKinds> kNames = {
        "double-decrease", "yarn-overs", "rib",   "cable", "right-leaning", "left-leaning",
        "eyelet-row",      "cable-edge", "ridge", "edge",  "colors",        "turn"};
    return kNames[static_cast<std::size_t>(kind)];
}

std::vector<Landmark> landmarks(const Fabric& fabric, const Reading& reading) {
    const Columns columns(fabric, reading);
    std::vector<Landmark> out;
    lines::findSpines(columns, out);
    lines::findEyelets(columns, out);
    lines::findRibs(columns, out);
    lines::findCables(columns, out);
    lines::findDecreases(columns, out);
    lines::findEyeletRows(columns, out);
    lines::findRidges(columns, reading, out);
    lines::findEdges(reading, out);
    lines::findColours(columns, reading, out);
    lines::findTurns(reading, out);
    std::stable_sort(out.begin(), out.end(), [](const Landmark& a, const Landmark& b) {
        if (a.kind != b.kind) return a.kind < b.kind;
        if (a.column != b.column) return a.column < b.column;
        return a.rowFrom < b.rowFrom;
    });
    return out;
}

namespace {

std::string edgeWords(const Landmark& mark, Terms terms) {
    switch (mark.selvedge) {
        case Selvedge::castOn: return fmt::format("the cast-on edge, {} stitches", mark.columnTo);
        case Selvedge::boundOff:
            return fmt::format("the {} edge in row {}", word(Word::boundOff, terms), mark.rowFrom);
        default: break;
    }
    constexpr std::array<std::string_view, 4> kHow = {"", "plain", "garter", "slipped"};
    return fmt::format("the {} edge, {}, from row {} to row {}", mark.left ? "left" : "right",
                       kHow[static_cast<std::size_t>(mark.selvedge) % kHow.size()], mark.rowFrom, mark.rowTo);
}

std::string lineWords(const Landmark& mark, Terms terms) {
    std::string_view what = "a line";
    switch (mark.kind) {
        case LandmarkKind::spine: what = "a line of double decreases"; break;
        case LandmarkKind::eyelets: what = "a line of yarn-overs"; break;
        case LandmarkKind::rib: what = "a rib"; break;
        case LandmarkKind::cable: what = "a cable"; break;
        case LandmarkKind::rightLeaning: what = "a line of decreases that lean right"; break;
        case LandmarkKind::leftLeaning: what = "a line of decreases that lean left"; break;
        case LandmarkKind::cableEdge:
            what = mark.left ? "the left edge of a cable" : "the right edge of a cable";
            break;
        case LandmarkKind::eyeletRow: return fmt::format("a row of holes in row {}", mark.rowFrom);
        case LandmarkKind::ridge: return fmt::format("a ridge in row {}", mark.rowFrom);
        case LandmarkKind::edge: return edgeWords(mark, terms);
        case LandmarkKind::colours:
            if (mark.rowFrom == mark.rowTo) return fmt::format("another color from row {} on", mark.rowFrom);
            what = "two colors meeting";
            break;
        case LandmarkKind::turn:
            return fmt::format("a turn: row {} begins at column {} from the right", mark.rowFrom,
                               mark.column);
    }
    return fmt::format("{} from row {} to row {}, column {} from the right", what, mark.rowFrom, mark.rowTo,
                       mark.column);
}

}  // namespace

std::string words(const Landmark& mark, Terms terms) {
    std::string text = lineWords(mark, terms);
    const bool across = mark.rowFrom == mark.rowTo;
    if (across) {
        for (std::size_t i = 0; i < mark.breaks.size(); ++i)
            text += fmt::format("{}column {}", i == 0 ? "; it breaks at " : " and ", mark.breaks[i].column);
        return text;
    }
    for (std::size_t i = 0; i < mark.breaksAt.size(); ++i)
        text += fmt::format("{}row {}", i == 0 ? "; it breaks in " : " and ", mark.breaksAt[i]);
    return text;
}

}  // namespace loopmend
