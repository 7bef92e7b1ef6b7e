// SPDX-License-Identifier: MIT
#include "tutor/words.h"

#include <algorithm>
#include <array>

#include <fmt/format.h>

#include "fabric/hands.h"
#include "repair/move_words.h"

namespace loopmend {

namespace {

std::string hookWords(const AsSeen& view, const Move& move) {
    const bool toHer = move.knit == (view.seen == view.facing);
    const std::string through =
        move.loops.size() <= 1
            ? std::string("the open loop")
            : fmt::format("the {} open loops together", numberWord(static_cast<int>(move.loops.size())));
    std::string which;
    if (move.rung == 0) {
        which = "the bare strand beside it";
    } else if (move.rung == 1) {
        which = "the lowest rung";
    } else {
        which = fmt::format("the {} rung from below", ordinalWord(move.rung));
    }
    std::string words;
    for (const std::int8_t twist : move.twists) {
        if (twist != 0) words = "Turn the loop half round first. ";
    }
    words +=
        toHer
            ? fmt::format("Hook into {} from the front. Catch {} behind it and draw it through, toward you.",
                          through, which)
            : fmt::format(
                  "Hook into {} from behind. Catch {} in front of it and push it through, away from you.",
                  through, which);
    return words;
}

std::string workWords(const Move& move) {
    constexpr std::size_t kMostSaid = 40;
    const std::vector<Step>& steps = move.steps;
    const bool alike =
        std::all_of(steps.begin(), steps.end(), [&](const Step& s) { return s == steps.front(); });
    if (!steps.empty() && alike && (steps.front().op == Op::knit || steps.front().op == Op::purl)) {
        const char* what = steps.front().op == Op::knit ? "Knit" : "Purl";
        return steps.size() > 1 ? fmt::format("{} {} stitches, one after the other.", what,
                                              numberWord(static_cast<int>(steps.size())))
                                : fmt::format("{} one stitch.", what);
    }
    const std::string text = textOf(move).substr(5);
    return text.size() <= kMostSaid ? fmt::format("Work on: {}.", text)
                                    : std::string("Work the row as it is written.");
}

}  // namespace

int rowsDown(const StitchPlaces& places, LoopId loop) {
    return places.lastRow() - places.of(loop).row;
}

std::string_view topWords(const Fabric& f) {
    for (HeldId h = f[f.needle()].first; h; h = f[h].next) {
        if (f[h].state.hanging == 0) return "needle";
    }
    return "bound-off edge";
}

std::string acrossWords(const AsSeen& view, const StitchPlaces& places, LoopId loop) {
    const StitchPlace spot = places.of(loop);
    if (spot.column == 0) return {};
    const int n = static_cast<int>(places.rows()[static_cast<std::size_t>(spot.row)].size());
    const int fromRight = view.seen == Side::right ? spot.column : n - spot.column + 1;
    const bool right = fromRight <= (n + 1) / 2;
    const int nth = right ? fromRight : n - fromRight + 1;
    const char* edge = right ? "right" : "left";
    return nth == 1 ? fmt::format("the one at the {} edge as it faces you", edge)
                    : fmt::format("the {} from the {} as it faces you", ordinalWord(nth), edge);
}

std::string downWords(const AsSeen& view, const StitchPlaces& places, LoopId loop) {
    const StitchPlace spot = places.of(loop);
    // How many rows a ladder ran is a thing to be counted, not told in passing.
    if (view.fabric.has(loop) && view.fabric.isLive(loop) && !view.fabric.passesOf(loop).empty())
        return "at the foot of the ladder";
    const HeldId held = view.fabric.has(loop) ? view.fabric.heldOn(loop, view.fabric.needle()) : HeldId{};
    if (held && view.fabric[held].state.hanging == 0) return "on the needle";
    if (spot.row <= 0) return "at the cast-on edge";
    const int down = rowsDown(places, loop);
    const std::string_view top = topWords(view.fabric);
    return down == 0 ? fmt::format("just below the {}", top)
                     : fmt::format("{} below the {}", many(down, "row", "rows"), top);
}

std::string placeWords(const AsSeen& view, const StitchPlaces& places, LoopId loop) {
    const std::string across = acrossWords(view, places, loop);
    const std::string down = downWords(view, places, loop);
    return across.empty() ? down : fmt::format("{}, {}", across, down);
}

std::string moveWords(const AsSeen& view, const StitchPlaces& places, const Move& move) {
    const LoopId loop = move.loops.empty() ? move.strand : move.loops.front();
    const auto at = [&] { return placeWords(view, places, loop); };
    // A left-handed knitter's needle comes from the other side, and so does the leg that goes in front.
    const bool rightLeg = (move.mount == Mount::western) != view.mirrored;
    switch (move.kind) {
        case MoveKind::pin: return fmt::format("Put a pin through the loop: {}.", at());
        case MoveKind::unpin:
            return view.fabric.has(loop) && !view.fabric.isLive(loop)
                       ? std::string("Take the pin out: another stitch holds that loop now.")
                       : std::string("Take the pin out: this loop has to come undone.");
        case MoveKind::drop:
            if (view.fabric.has(loop) && !view.fabric[loop].firstLink)
                return "Let the loose strand fall off the needle: no stitch stands under it.";
            return fmt::format("Let one stitch slide off the needle: {}.", at());
        case MoveKind::letRun:
            return move.count > 0
                       ? fmt::format("Tug the loose stitch and let it run down {}.",
                                     many(move.count, "row", "rows"))
                       : std::string("Tug the loose stitch and let it run down as far as the pin.");
        case MoveKind::stack: return "Take these loops on the hook, the front one first.";
        case MoveKind::hook: return hookWords(view, move);
        case MoveKind::liftBar: return "Lift the bare strand between the two stitches: it becomes a loop.";
        case MoveKind::seat:
            return fmt::format("Put the loop on the needle, {} leg in front.", rightLeg ? "right" : "left");
        case MoveKind::remount:
            return fmt::format("Turn the stitch on the needle, {} leg in front.",
                               rightLeg ? "right" : "left");
        case MoveKind::tink:
            return fmt::format("Take back {}, one by one.",
                               move.count == 1 ? std::string("the last stitch")
                                               : fmt::format("the last {} stitches", numberWord(move.count)));
        case MoveKind::rip:
            if (move.count == 0) break;
            return fmt::format("Take back {} and put the loops on the needle.",
                               many(move.count, "row", "rows"));
        case MoveKind::work: return workWords(move);
        case MoveKind::turn: return "Turn the work.";
        default: break;
    }
    const std::string where = view.fabric.has(loop) ? at() : std::string();
    return where.empty() ? briefly(move) + "." : fmt::format("{}: {}.", briefly(move), where);
}

}  // namespace loopmend
