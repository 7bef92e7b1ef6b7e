// SPDX-License-Identifier: MIT
#include "repair/cost.h"

#include <algorithm>
#include <cstdlib>

#include "fabric/hands.h"
#include "fabric/rows.h"

namespace loopmend {

namespace {

/// With those that hang: they come back onto the needle as the others do. Of a piece bound off: the stitches
/// of its last row.
double widthOf(const Workplace& place) {
    const Fabric& f = place.fabric();
    int width = 0;
    for (HeldId h = f[f.needle()].first; h; h = f[h].next) ++width;
    if (width > 0) return static_cast<double>(width);
    const Rows rows = rowsOf(f);
    int last = 0;
    for (std::int32_t i = 0; i < f.entryCount(); ++i)
        last += f.has(LoopId{i}) && f.isLoop(LoopId{i}) && rows[LoopId{i}] == rows.last ? 1 : 0;
    return static_cast<double>(last);
}

/// Loops that come to lie on the needle when so many rows are taken back: what stands in the row below them,
/// and in older ones, with nothing of those rows through it.
double comesOnto(const Fabric& f, int rowsBack) {
    const Rows rows = rowsOf(f);
    const int newest = rows.last - rowsBack;
    int loops = 0;
    for (std::int32_t i = 0; i < f.entryCount(); ++i) {
        const LoopId l{i};
        if (!f.has(l) || !f.isLoop(l) || f.isNothing(l)) continue;
        if (f.isLoose(l) && !f.heldOn(l, f.needle())) continue;  // it stays where it fell
        if (rows[l] == Rows::kNotPlaced || rows[l] > newest) continue;
        bool free = true;
        for (LinkId k = f[l].firstKid; k && free; k = f[k].nextInHost)
            free = rows[f[k].loop] != Rows::kNotPlaced && rows[f[k].loop] > newest;
        loops += free ? 1 : 0;
    }
    return static_cast<double>(loops);
}

/// Stitches that are worked: a step may name several.
double stitchesIn(const std::vector<Step>& steps) {
    double stitches = 0;
    for (const Step& step : steps) {
        const bool counted = step.op == Op::bindOff || step.op == Op::bindOffPurl ||
                             step.op == Op::bindOffTogether || step.op == Op::castOn ||
                             step.op == Op::castOnRight || step.op == Op::castOnKnitted ||
                             step.op == Op::pickUp;
        stitches += counted ? std::max<double>(1, step.count) : 1;
    }
    return stitches;
}

bool onSpareNeedle(const Fabric& f, LoopId loop) {
    for (HeldId h = f[loop].held; h; h = f[h].alsoHeld) {
        if (f[h].state.hanging == 0 && f[f[h].tool].kind == ToolKind::spareNeedle) return true;
    }
    return false;
}

/// The rung that a hook move means, or none.
PassId rungOf(const Fabric& f, const Move& move) {
    if (move.rung < 1 || move.loops.empty() || !f.has(move.loops.front())) return {};
    const std::vector<PassId> all = f.passesOf(move.loops.front());
    const auto i = static_cast<std::size_t>(move.rung - 1);
    return i < all.size() ? all[i] : PassId{};
}

/// Other columns hang in the rung's strand as well.
bool isShared(const Fabric& f, PassId rung, const std::vector<LoopId>& hosts) {
    for (const bool back : {true, false}) {
        const EntryId e = back ? f[rung].prev : f[rung].next;
        if (e && !f.isLoop(e) && f.isFree(e) &&
            std::find(hosts.begin(), hosts.end(), f.passed(e)) == hosts.end())
            return true;
    }
    return false;
}

/// The strand turns back at an edge and goes by the same column twice.
bool isEdgeLoop(const Fabric& f, PassId rung) {
    for (const bool back : {true, false}) {
        const EntryId e = back ? f[rung].prev : f[rung].next;
        if (e && !f.isLoop(e) && f.run(e) != f.run(rung) && f.passed(e) == f.passed(rung)) return true;
    }
    return false;
}

}  // namespace

int MoveCost::levelOf(const Fabric& f, const Move& move) const {
    int level = 0;
    for (const LoopId l : move.loops) {
        const auto at = panel_.find(l.value);
        if (at != panel_.end()) {
            level = std::max(level, at->second + 1);
        } else if (f.has(l) && onSpareNeedle(f, l)) {
            level = std::max(level, 1);
        }
    }
    return level;
}

double MoveCost::hookSeconds(const Workplace& place, const Move& move) const {
    const Fabric& f = place.fabric();
    const double each =
        pace_.secondsPerStitch * static_cast<double>(std::max<std::size_t>(move.loops.size(), 1));
    const PassId rung = rungOf(f, move);
    const bool isShort = !rung || !isLongRung(f, rung);
    if (const int level = levelOf(f, move); level > 0) {
        return pace_.panelFactor * each * (isShort ? pace_.shortRungFactor : 1.0) +
               (level > level_ ? pace_.panelRowSeconds : 0.0) + (level_ == 0 ? pace_.panelSetUpSeconds : 0.0);
    }
    double seconds = pace_.hookFactor * each;
    const bool goesOn = at_ && std::find(move.loops.begin(), move.loops.end(), at_) != move.loops.end();
    if (goesOn && move.knit != lastKnit_) seconds *= pace_.alternateFactor;
    if (isShort) seconds *= pace_.shortRungFactor;
    if (rung && isEdgeLoop(f, rung)) {
        seconds *= pace_.edgeLoopFactor;
    } else if (rung && isShared(f, rung, move.loops)) {
        seconds *= pace_.sharedStrandFactor;
    }
    return goesOn ? seconds : seconds + pace_.hookSetUpSeconds;
}

double MoveCost::threadSeconds(const Fabric& f, const Move& move) const {
    std::size_t stitches = move.loops.size();
    if (move.through == ThreadThrough::row && !move.loops.empty()) {
        stitches = rowWith(f, move.loops.front()).size();
    } else if (move.through == ThreadThrough::needle) {
        stitches = 0;
        for (HeldId h = f[f.needle()].first; h; h = f[h].next) stitches += f[h].state.hanging == 0 ? 1 : 0;
    }
    return static_cast<double>(stitches) * (move.spare ? pace_.seatFactor : pace_.threadFactor) *
           pace_.secondsPerStitch;
}

/// All that lies above the thread comes out; what the thread holds is set on the needle along it.
double MoveCost::ripToThreadSeconds(const Workplace& place) const {
    const Fabric& f = place.fabric();
    std::int32_t thread = Rows::kNotPlaced;
    const Rows rows = rowsOf(f);
    int held = 0;
    for (std::int32_t t = 0; t < f.toolCount(); ++t) {
        const Tool& tool = f[ToolId{t}];
        if (tool.kind != ToolKind::lifeline && tool.kind != ToolKind::spareNeedle) continue;
        for (HeldId h = tool.first; h; h = f[h].next) {
            if (f[h].state.hanging != 0) continue;
            thread = std::max(thread, rows[f[h].loop]);
            ++held;
        }
    }
    int above = 0;
    for (std::int32_t i = 0; i < f.entryCount(); ++i) {
        const LoopId l{i};
        if (f.has(l) && f.isLoop(l) && rows[l] > thread) ++above;
    }
    return above * pace_.ripSecondsPerStitch + held * pace_.seatThreadedFactor * pace_.secondsPerStitch;
}

MovePrice MoveCost::of(const Workplace& place, const Move& move) const {
    const double s = pace_.secondsPerStitch;
    const double change = began_ && notionFor(move) != inHand_ ? pace_.changeToolSeconds : 0.0;
    // Risks are rules of thumb, to rank plans by: how often a practiced hand loses or spoils a loop.
    switch (move.kind) {
        case MoveKind::pin: return {pace_.pinSeconds + change, 0.001};
        case MoveKind::hook: {
            const int level = levelOf(place.fabric(), move);
            const double risk = level > 0 ? 0.003 : move.loops.size() > 1 ? 0.02 : 0.01;
            return {hookSeconds(place, move) + change, risk, level};
        }
        case MoveKind::letRun: return {pace_.otherMoveSeconds + change, 0.01};
        case MoveKind::tink:
            return {move.count * pace_.tinkFactor * s + change, std::min(0.5, 0.002 * move.count)};
        case MoveKind::rip: {
            const double width = widthOf(place);
            if (!place.fabric()[place.fabric().needle()].first && move.count > 0) {
                // Bound off. Unchained stitch by stitch, each freed loop onto the needle.
                return {width * pace_.unchainFactor * s +
                            (move.count - 1) * width * pace_.ripSecondsPerStitch + change,
                        std::min(0.5, 0.004 * width)};
            }
            if (move.count == 0) return {ripToThreadSeconds(place) + change, 0.01};
            return {move.count * width * pace_.ripSecondsPerStitch +
                        comesOnto(place.fabric(), move.count) * pace_.seatFactor * s + change,
                    std::min(0.5, 0.004 * width)};
        }
        case MoveKind::work: return {stitchesIn(move.steps) * s + change, 0.001};
        case MoveKind::castOn: {
            double out = 0;
            const Fabric& f = place.fabric();
            for (std::int32_t i = 0; i < f.entryCount(); ++i) out += f.has(LoopId{i}) && f.isLoop(LoopId{i});
            return {out * pace_.ripSecondsPerStitch + move.count * pace_.castOnFactor * s + change, 0.001};
        }
        case MoveKind::turnJoin: return {pace_.turnJoinSeconds * std::abs(move.count) + change, 0.02};
        case MoveKind::join: return {pace_.weaveSeconds + change, 0.01};
        case MoveKind::seat: return {pace_.seatFactor * s + change, 0.001};
        case MoveKind::liftBar:
            return {pace_.otherMoveSeconds + change +
                        (move.liftTo == LiftTo::pin      ? pace_.pinSeconds
                         : move.liftTo == LiftTo::needle ? pace_.seatFactor * s
                                                         : 0.0),
                    0.001};
        case MoveKind::thread: return {threadSeconds(place.fabric(), move) + change, 0.02};
        case MoveKind::mark: return {pace_.pinSeconds + change, 0.001};
        case MoveKind::cross:
            return {pace_.otherMoveSeconds + change +
                        pace_.seatFactor * s * static_cast<double>(move.loops.size() + move.others.size()),
                    0.02};
        case MoveKind::drawSlack: return {pace_.slackSeconds + change, 0.002};
        case MoveKind::snip: return {pace_.snipSeconds + change, 0.1};
        case MoveKind::pickOut: {
            const std::size_t stitches = move.count > 0 ? static_cast<std::size_t>(move.count)
                                                        : rowWith(place.fabric(), move.loops.front()).size();
            return {static_cast<double>(stitches) * pace_.tinkFactor * s + change, 0.05};
        }
        case MoveKind::graft:
            return {static_cast<double>(move.loops.size()) * pace_.sewFactor * s + change, 0.1};
        case MoveKind::sewOver:
            return {static_cast<double>(move.loops.size()) * pace_.sewOverSeconds + change, 0.01};
        case MoveKind::fasten: return {pace_.fastenSeconds + change, 0.02};
        case MoveKind::weave: return {pace_.weaveSeconds + change, 0.01};
        default: return {pace_.otherMoveSeconds + change, 0.001};
    }
}

void MoveCost::done(const Move& move, LoopId made, const MovePrice& price) {
    began_ = true;
    inHand_ = notionFor(move);
    if (move.kind != MoveKind::hook) return;
    if (price.panelRow > 0) {
        panel_[made.value] = price.panelRow;
        level_ = std::max(level_, price.panelRow);
    }
    at_ = made;
    lastKnit_ = move.knit;
}

}  // namespace loopmend
