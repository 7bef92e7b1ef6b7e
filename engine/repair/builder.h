// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <vector>

#include "fabric/pairing.h"
#include "fabric/rows.h"
#include "repair/plan.h"
#include "repair/workplace.h"

namespace loopmend {

/// Where a loop stands, as a person would say it.
struct StitchPlace {
    int row = 0;
    int stitch = 0;
    int column = 0;
};

/// Rows, stitches and columns of every loop of a fabric.
class StitchPlaces {
  public:
    explicit StitchPlaces(const Fabric& fabric);
    StitchPlace of(LoopId loop) const;
    const std::vector<std::vector<LoopId>>& rows() const { return byRow_; }
    int lastRow() const { return static_cast<int>(byRow_.size()) - 1; }

  private:
    std::vector<std::vector<LoopId>> byRow_;
    std::vector<StitchPlace> spots_;  ///< by entry id
};

/// What the generators of plans need to know, worked out once.
struct Situation {
    const Fabric& meant;
    const Script& script;
    const Fabric& actual;
    const Pairing& pairing;
    const StitchPlaces& meantSpots;
    const StitchPlaces& actualSpots;
    const Pace& pace;
};

/// Carries moves out as they are added, so that each is possible when it is proposed; prices them; and is
/// rolled back by whoever made it.
class PlanBuilder {
  public:
    PlanBuilder(Knitter& knitter, PlanFamily family, const Pace& pace);

    /// False: the move was refused, and the plan is dead.
    bool add(Move move, StitchPlace spot, std::string words);
    /// The loop the last move made.
    LoopId made() const { return made_; }
    const Fabric& fabric() const { return workplace_.fabric(); }
    Knitter& knitter() { return workplace_.knitter(); }
    Workplace& workplace() { return workplace_; }
    /// Pins that are left when all is done are taken out.
    bool takeOutPins();
    /// A redone loop has `um` where the meant one had `wanted`.
    void account(std::int32_t um, std::int32_t wanted);
    void needs(LoopId loop) { plan_.needsOnTool.push_back(loop); }

    Plan take() { return std::move(plan_); }

  private:
    double secondsFor(const Move& move) const;
    double riskOf(const Move& move) const;

    Workplace workplace_;
    Pace pace_;
    Plan plan_;
    LoopId made_;
    bool hooked_ = false;
    bool lastKnit_ = true;
    double sound_ = 1.0;  ///< chance that nothing was spoiled so far
};

/// The generators. Each returns whether it found a way; the builder then holds the moves, carried out.
bool planColumns(const Situation& situation, PlanBuilder& builder);
bool planTink(const Situation& situation, PlanBuilder& builder);
bool planRip(const Situation& situation, PlanBuilder& builder);

}  // namespace loopmend
