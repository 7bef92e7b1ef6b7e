// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "diagnosis/case.h"
#include "diagnosis/case_effects.h"
#include "fault/draw.h"

/// Cases made from a seed, and a knitter who answers: her piece is knitted with its mistake and hidden from
/// the engine; what she says is what a perfect eye would find (answer.h), spoilt as her eyes and hands spoil
/// it.
namespace loopmend::seeded {

enum class StartsWith { row, count, place, feeling };
inline constexpr const char* kStarts[] = {"row", "count", "place", "feeling"};

/// How a run of cases is bent.
struct Bending {
    double errors = 1;       ///< her errors, times
    double misnames = 0.03;  ///< close looks at which she takes the nearest name instead
    /// Something seen where nothing is, and overlooked in comparing, if not as often as usual.
    std::optional<double> falseAlarm;
    std::optional<double> compareOverlooks;
    bool anyPlace = false;     ///< of several places that are odd she tells any, not the plainest
    bool unlistedAll = false;  ///< every fault is taken out of the engine's list
    double settleAt = 0.9;
    int mostLooks = 20;
    double perLook = CaseManners{}.perLook;  ///< seconds that any look costs in the choice
};

struct SeededCase {
    std::uint64_t seed = 0;
    std::string pattern;  ///< id in patterns.tsv
    std::string category;
    Script script;
    int rows = 0;
    std::vector<FaultPlace> faults;
    After after = After::byReading;
    bool unlisted = false;
    StartsWith starts = StartsWith::feeling;
    std::unique_ptr<FaultyKnitting> piece;
    std::unique_ptr<LookedAt> looked;
    double scale = 1;  ///< of her errors
};

/// The nth case; none if its pattern does not go.
std::optional<SeededCase> seededCase(int n, const Bending& bending = {});

/// What came of it.
struct CaseResult {
    bool settled = false;
    bool right = false;  ///< kind (or one proved the same), row and stitch within one
    /// Within one of where her hands did it, or of where that shows most plainly; told of a whole row: its
    /// row.
    bool rightPlace = false;
    bool rightSite = false;  ///< within one of where her hands did it
    bool secondOrFirstUnlisted = false;
    int notReadAgain = 0;  ///< looks asked whose text does not read back as the same look
    int looks = 0;
    double seconds = 0;
    double cpu = 0;
    std::string said;
    std::string log;
};

CaseResult solve(const SeededCase& hidden, const Bending& bending, std::shared_ptr<CaseEffects> effects,
                 bool log = false);

/// Counting rows from the needle down, or halving, then comparing the row found with the pattern, ten
/// stitches at a time; who has a place, the rows about it. As in the trial, a close look shows her mistake
/// and not what only comes of it further on: she reads on until she has it, and no look costs time beside its
/// own; crossed feet and split yarn are overlooked in comparing every other time.
struct BaselineResult {
    bool settled = false;
    bool right = false;
    double seconds = 0;
    int looks = 0;
};
BaselineResult recount(const SeededCase& hidden, bool halving);

}  // namespace loopmend::seeded
