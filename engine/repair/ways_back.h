// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "repair/craft_repairs.h"
#include "repair/plan.h"

/// The ways back as a person chooses among them: three plans out of all, why, and why not the others.
namespace loopmend {

/// What no fabric tells about her and her work.
struct Circumstances {
    /// The piece is done and off the needle, or she does not want to take any of it back: sewing, cutting and
    /// leaving come first. A fabric without stitches on the needle counts as finished by itself.
    bool finished = false;
    /// Worth a professional: an heirloom, or someone else's.
    bool precious = false;
};

/// One way back with what is said about it.
struct WayBack {
    Plan plan;
    std::string name;                  ///< "Let the column down and hook it up again"
    std::string time;                  ///< "a few minutes", "an evening"
    std::string after;                 ///< what is left to see, in words
    std::string why;                   ///< what speaks for it
    std::string whyNot;                ///< what speaks against it, or why another was chosen
    std::vector<CraftRepair> repairs;  ///< of the craft, that it is made of
    double cost = 0;  ///< seconds, and the time that risk and looks are worth: what `best` goes by
};

struct WaysBack {
    std::vector<WayBack> all;  ///< those that reach what was meant first, cheapest first; then the others
    /// Places in `all`; none: there is no way at all. They may be the same one.
    std::optional<std::size_t> gentlest;  ///< least risk
    std::optional<std::size_t> fastest;
    std::optional<std::size_t> best;  ///< the best result for its cost
    /// Families that were not possible, each with one sentence why.
    struct Refused {
        PlanFamily family;
        std::string why;
    };
    std::vector<Refused> refused;

    /// The first move of the best way, for a hint; none: nothing is to be done.
    const PlannedMove* hint() const;
};

/// All ways from here, from whatever state she has made meanwhile. As plansFor, but with the families that
/// leave something (fudge, sew over, fasten, leave ...), and for fabrics that differ in lengths alone.
WaysBack waysBack(const Fabric& meant, const Script& script, Knitter& knitter, const PlanAsk& ask = {},
                  const Circumstances& circumstances = {});

/// "less than a minute", "a few minutes", "half an hour", "an evening", "several evenings".
std::string timeInWords(double seconds);

/// Does the first `moves` moves of a plan (all, if there are fewer), calls look(fabric), and takes them back:
/// for a preview, at any step, forward and back. look must change nothing. Refused: the fabric is not the one
/// that the plan was made for.
template <class Look>
Result<void> previewOf(Knitter& knitter, const Plan& plan, std::size_t moves, Look look);
/// The same as a fabric of its own, to be drawn elsewhere.
Result<Fabric> fabricAfter(Knitter& knitter, const Plan& plan, std::size_t moves);

}  // namespace loopmend

#include "repair/workplace.h"

namespace loopmend {

template <class Look>
Result<void> previewOf(Knitter& knitter, const Plan& plan, std::size_t moves, Look look) {
    const Knitter::State before = knitter.mark();
    const std::vector<YarnId> atHand = knitter.yarnsAtHand();
    Workplace workplace(knitter);
    Result<void> done;
    for (std::size_t i = 0; i < plan.moves.size() && i < moves && done; ++i) {
        const Result<LoopId> made = workplace.perform(plan.moves[i].move);
        if (!made) done = tl::unexpected<Refusal>(made.error());
    }
    if (done) look(static_cast<const Fabric&>(knitter.fabric()));
    knitter.rollBack(before);
    knitter.layOut(atHand);
    return done;
}

}  // namespace loopmend
