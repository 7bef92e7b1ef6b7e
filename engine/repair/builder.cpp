// SPDX-License-Identifier: MIT
#include "repair/builder.h"

#include <algorithm>

#include "reading/courses.h"

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

Situation::Situation(const Fabric& meantFabric, const Script& meantScript, const Fabric& actualFabric,
                     const Pairing& pairs, const StitchPlaces& meantPlaces, const StitchPlaces& actualPlaces,
                     const PlanAsk& asked)
    : meant(meantFabric),
      script(meantScript),
      actual(actualFabric),
      pairing(pairs),
      meantSpots(meantPlaces),
      actualSpots(actualPlaces),
      ask(asked) {}

const std::vector<LoopId>& Situation::bars() const {
    if (bars_) return *bars_;
    bars_.emplace();
    std::vector<LoopId> bare;
    for (std::int32_t i = 0; i < actual.entryCount(); ++i) {
        const LoopId l{i};
        if (actual.has(l) && actual.isLoop(l) && !actual[l].firstLink && actual[l].flags.anchored == 0)
            bare.push_back(l);
    }
    if (bare.empty()) return *bars_;
    const Courses courses = coursesOf(actual);
    for (const LoopId l : bare) {
        if (courses.isBar(l)) bars_->push_back(l);
    }
    return *bars_;
}

PlanBuilder::PlanBuilder(Knitter& knitter, PlanFamily family, const Pace& pace)
    : workplace_(knitter), cost_(pace) {
    plan_.family = family;
}

bool PlanBuilder::add(Move move, StitchPlace spot, std::string words) {
    const MovePrice price = cost_.of(workplace_, move);
    const Result<LoopId> done = workplace_.perform(move);
    if (!done) return refuse(sentence(done.error()));
    made_ = *done;
    cost_.done(move, made_, price);
    plan_.seconds += price.seconds;
    sound_ *= 1.0 - price.risk;
    plan_.risk = 1.0 - sound_;
    plan_.moves.push_back({std::move(move), spot.row, spot.stitch, spot.column, std::move(words)});
    return true;
}

bool PlanBuilder::refuse(std::string why) {
    plan_.reason = std::move(why);
    return false;
}

void PlanBuilder::leaves(Leaves leaves, double shortageMm) {
    plan_.leaves = std::max(plan_.leaves, leaves);
    plan_.shortageMm += shortageMm;
}

void PlanBuilder::takes(double seconds, double risk) {
    plan_.seconds += seconds;
    sound_ *= 1.0 - risk;
    plan_.risk = 1.0 - sound_;
}

void PlanBuilder::caution(std::string words) {
    plan_.cautions.push_back({plan_.moves.size(), std::move(words)});
}

bool PlanBuilder::takeOutPins() {
    for (std::int32_t i = 0; i < fabric().toolCount(); ++i) {
        const Tool& tool = fabric()[ToolId{i}];
        if (tool.kind != ToolKind::pin || !tool.first) continue;
        if (fabric()[tool.first].state.hanging != 0) continue;
        Move unpin;
        unpin.kind = MoveKind::unpin;
        unpin.loops = {fabric()[tool.first].loop};
        if (!add(std::move(unpin), {}, "Take the pin out: another stitch holds this one now.")) return false;
    }
    return true;
}

}  // namespace loopmend
