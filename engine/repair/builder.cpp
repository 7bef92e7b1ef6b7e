// SPDX-License-Identifier: MIT
#include "repair/builder.h"

#include <algorithm>

#include "fabric/hands.h"

namespace loopmend {

StitchPlaces::StitchPlaces(const Fabric& f) {
    const Rows rows = rowsOf(f);
    byRow_ = loopsByRow(f, rows);
    spots_.resize(static_cast<std::size_t>(f.entryCount()));
    for (std::size_t r = 0; r < byRow_.size(); ++r) {
        const std::vector<LoopId>& row = byRow_[r];
        for (std::size_t i = 0; i < row.size(); ++i) {
            // Rows are listed as the yarn ran: leftward rows begin at the right edge.
            const std::size_t fromRight = f.run(row[i]) == Run::leftward ? i : row.size() - 1 - i;
            spots_[static_cast<std::size_t>(row[i].value)] = {static_cast<int>(r), static_cast<int>(i) + 1,
                                                              static_cast<int>(fromRight) + 1};
        }
    }
}

StitchPlace StitchPlaces::of(LoopId loop) const {
    return loop && static_cast<std::size_t>(loop.value) < spots_.size()
               ? spots_[static_cast<std::size_t>(loop.value)]
               : StitchPlace{};
}

PlanBuilder::PlanBuilder(Knitter& knitter, PlanFamily family, const Pace& pace)
    : workplace_(knitter), pace_(pace) {
    plan_.family = family;
}

bool PlanBuilder::add(Move move, StitchPlace spot, std::string words) {
    const double seconds = secondsFor(move);
    const double risk = riskOf(move);
    const Result<LoopId> done = workplace_.perform(move);
    if (!done) {
        plan_.reason = sentence(done.error());
        return false;
    }
    made_ = *done;
    if (move.kind == MoveKind::hook) {
        hooked_ = true;
        lastKnit_ = move.knit;
    }
    plan_.seconds += seconds;
    sound_ *= 1.0 - risk;
    plan_.risk = 1.0 - sound_;
    plan_.moves.push_back({std::move(move), spot.row, spot.stitch, spot.column, std::move(words)});
    return true;
}

bool PlanBuilder::takeOutPins() {
    for (std::int32_t i = 0; i < fabric().entryCount(); ++i) {
        const LoopId loop{i};
        if (!fabric().has(loop) || !fabric().isLoop(loop) || !pinOf(fabric(), loop)) continue;
        Move unpin;
        unpin.kind = MoveKind::unpin;
        unpin.loops = {loop};
        if (!add(std::move(unpin), {}, "Take the pin out: another stitch holds this one now.")) return false;
    }
    return true;
}

void PlanBuilder::account(std::int32_t um, std::int32_t wanted) {
    if (wanted <= 0) return;
    const Tightness limits;
    const double share = static_cast<double>(um) / static_cast<double>(wanted);
    if (share < 1.0) plan_.shortageMm += static_cast<double>(wanted - um) / 1000.0;
    if (share < limits.visible) {
        plan_.leaves = Leaves::visible;
    } else if (share < limits.tight && plan_.leaves == Leaves::exact) {
        plan_.leaves = Leaves::tight;
    }
}

double PlanBuilder::secondsFor(const Move& move) const {
    const double s = pace_.secondsPerStitch;
    switch (move.kind) {
        case MoveKind::pin: return pace_.pinSeconds;
        case MoveKind::hook: {
            double seconds =
                pace_.hookFactor * s * static_cast<double>(std::max<std::size_t>(move.loops.size(), 1));
            if (!hooked_) return seconds + pace_.hookSetUpSeconds;
            if (move.knit != lastKnit_) seconds *= pace_.alternateFactor;
            bool isShort = move.rung == 0;
            if (move.rung > 0 && !move.loops.empty()) {
                const std::vector<PassId> all = fabric().passesOf(move.loops.front());
                const auto i = static_cast<std::size_t>(move.rung - 1);
                isShort = i < all.size() && !isLongRung(fabric(), all[i]);
            }
            return isShort ? seconds * pace_.shortRungFactor : seconds;
        }
        case MoveKind::tink: return move.count * pace_.tinkFactor * s;
        case MoveKind::rip: {
            const auto width = static_cast<double>(workplace_.knitter().aheadCount() +
                                                   static_cast<int>(workplace_.knitter().behind().size()));
            return move.count * width * pace_.ripSecondsPerStitch + width * pace_.seatFactor * s;
        }
        case MoveKind::work: return static_cast<double>(move.steps.size()) * s;
        case MoveKind::seat: return pace_.seatFactor * s;
        case MoveKind::liftBar:
            return pace_.otherMoveSeconds + (move.liftTo == LiftTo::pin      ? pace_.pinSeconds
                                             : move.liftTo == LiftTo::needle ? pace_.seatFactor * s
                                                                             : 0.0);
        default: return pace_.otherMoveSeconds;
    }
}

double PlanBuilder::riskOf(const Move& move) const {
    // Rules of thumb, to rank plans by: how often a practised hand loses or spoils a loop at such a move.
    switch (move.kind) {
        case MoveKind::letRun: return 0.01;
        case MoveKind::hook: return move.loops.size() > 1 ? 0.02 : 0.01;
        case MoveKind::tink: return std::min(0.5, 0.002 * move.count);
        case MoveKind::rip: {
            const auto width = static_cast<double>(workplace_.knitter().aheadCount() +
                                                   static_cast<int>(workplace_.knitter().behind().size()));
            return std::min(0.5, 0.004 * width);
        }
        default: return 0.001;
    }
}

}  // namespace loopmend
