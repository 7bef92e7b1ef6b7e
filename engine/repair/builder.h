// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "fabric/pairing.h"
#include "fabric/rows.h"
#include "repair/cost.h"
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

/// What the generators of plans need to know, worked out once. `actual` is the fabric that the journal runs
/// on: it is as it was only until a generator's first move. What is asked of it later stands in the fields
/// after it.
class Situation {
  public:
    Situation(const Fabric& meantFabric, const Script& meantScript, const Fabric& actualFabric,
              const Pairing& pairs, const StitchPlaces& meantPlaces, const StitchPlaces& actualPlaces,
              const PlanAsk& asked);

    const Fabric& meant;
    const Script& script;
    const Fabric& actual;
    const Pairing& pairing;
    const StitchPlaces& meantSpots;
    const StitchPlaces& actualSpots;
    const PlanAsk& ask;

    std::int32_t entries = 0;   ///< of the actual fabric before any move
    bool hasCrossings = false;  ///< likewise
    bool offNeedle = false;     ///< likewise: no stitch is on the needle
    /// The first row in which something is wrong, in either fabric; 0: none.
    int firstWrongRow() const { return wrongRows.empty() ? 0 : wrongRows.front(); }
    std::vector<int> wrongRows;  ///< rows in which something is wrong, lowest first, each once
    /// About what taking back to the first wrong row and working on would take, seconds.
    double ripSeconds = 0;

    /// Strands that were lifted and worked: no stitches of their row. Asked before a generator's first move.
    const std::vector<LoopId>& bars() const;

  private:
    mutable std::optional<std::vector<LoopId>> bars_;
};

/// Carries moves out as they are added, so that each is possible when it is proposed; prices them; and is
/// rolled back by whoever made it.
class PlanBuilder {
  public:
    PlanBuilder(Knitter& knitter, PlanFamily family, const Pace& pace);

    /// False: the move was refused, and the plan is dead.
    bool add(Move move, StitchPlace spot, std::string words);
    /// The plan is dead for this reason; returns false.
    bool refuse(std::string why);
    /// The loop the last move made.
    LoopId made() const { return made_; }
    const Fabric& fabric() const { return workplace_.fabric(); }
    Knitter& knitter() { return workplace_.knitter(); }
    Workplace& workplace() { return workplace_; }
    /// Pins that are left when all is done are taken out.
    bool takeOutPins();
    void needs(LoopId loop) { plan_.needsOnTool.push_back(loop); }
    void leaves(Leaves leaves, double shortageMm);
    /// Time that goes by without a move of the hands, and what may go wrong meanwhile.
    void takes(double seconds, double risk);
    /// Said before the next move that is added.
    void caution(std::string words);
    void ripsTo(int row) { plan_.ripsTo = row; }

    const Plan& plan() const { return plan_; }
    Plan take() { return std::move(plan_); }

  private:
    Workplace workplace_;
    MoveCost cost_;
    Plan plan_;
    LoopId made_;
    double sound_ = 1.0;  ///< chance that nothing was spoiled so far
};

/// How columns are mended.
enum class Arm : std::uint8_t;
struct ColumnWay {
    int below = 0;       ///< meant rows lower than this alone are mended; 0: all
    bool panel = false;  ///< all of them together, row by row on spare needles
    Arm arm{};           ///< which of crossed arms is let down
};

/// The generators. Each returns whether it found a way; the builder then holds the moves, carried out.
///
/// Columns: what is wrong and everything drawn through it is let down; the right loops that this would set
/// free are held first, so that the run stops there by itself; then the meant loops are hooked up again,
/// hosts before loops, each from the strand in which it should lie.
bool mendColumns(const Situation& situation, PlanBuilder& builder, const ColumnWay& way);
/// Whether there is yarn in the strands for it, before anything is done; a refusal says that there is not.
bool columnsHaveYarn(const Situation& situation, PlanBuilder& builder, const ColumnWay& way);
/// Within the newest row, stitch by stitch.
bool planTink(const Situation& situation, PlanBuilder& builder);
/// The same, but what fell goes back on the needle first: cheaper where it is the stitch at the row's end.
bool planSeatAndTink(const Situation& situation, PlanBuilder& builder);
/// The same, but loops that nobody meant, and that leave nothing open, are let fall first.
bool planDropAndTink(const Situation& situation, PlanBuilder& builder);
/// Rows are taken back down to the first that is wrong.
bool planRip(const Situation& situation, PlanBuilder& builder);
/// Rows are taken back down to this one, whatever is right in them. rowsBack: as hands count them; 0: as many
/// as the cloth shows.
bool planRipTo(const Situation& situation, PlanBuilder& builder, int row, int rowsBack = 0);
/// The same, but columns that nobody meant, and that leave nothing open, are let run first.
bool planDropAndRipTo(const Situation& situation, PlanBuilder& builder, int row);
/// The two halves of it, for what is done in between.
bool takeBackTo(const Situation& situation, PlanBuilder& builder, int row, int rowsBack = 0);
bool workAgainFrom(const Situation& situation, PlanBuilder& builder, int row);
/// As planRip, after a thread was drawn through the row below.
bool planLifelineFirst(const Situation& situation, PlanBuilder& builder);
/// Rows from `row` on are taken back, what is wrong below is mended by columns, and the rows worked again.
bool planRipAndColumns(const Situation& situation, PlanBuilder& builder, int row);
/// The rows above `row` are taken back whole, that one stitch by stitch and only as far as it went wrong (the
/// last row always so: common practice); what is wrong below it is mended by columns.
bool planBackInto(const Situation& situation, PlanBuilder& builder, int row);

}  // namespace loopmend
