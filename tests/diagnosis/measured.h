// SPDX-License-Identifier: MIT
#pragma once

#include <algorithm>
#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "diagnosis/explain.h"
#include "diagnosis/redoing.h"
#include "fabric/itinerary.h"
#include "fault/catalogue.h"
#include "fault/draw.h"
#include "fault/grounds.h"
#include "fault/knit_with.h"

/// How well mistakes that were put in are found again: cases from a seed, and what was told of them. The test
/// looks at some of them, `[.all]` and tools/bench at all.
namespace loopmend {

/// A piece with mistakes in it.
struct MeasuredCase {
    StockGround ground = StockGround::stockinette;
    bool round = false;
    After after = After::byReading;
    std::vector<FaultPlace> faults;

    std::string words() const {
        std::string all = fmt::format("{}{} {}", name(ground), round ? " round" : "", name(after));
        for (const FaultPlace& f : faults) all += " " + text(f);
        return all;
    }
};

struct Measured {
    int cases = 0;
    int truth = 0;     ///< what was made is told, at its place
    int equal = 0;     ///< that not, but another that makes the very same cloth
    int first = 0;     ///< the first one told is what was made
    int three = 0;     ///< it is among the first three
    int tied = 0;      ///< told after another that makes the very same cloth, in yarn of the same lengths
    int told = 0;      ///< explanations in all
    int unproved = 0;  ///< told, and worked again they do not give the cloth
    /// What was told first in place of what was made, and how often.
    std::map<std::pair<std::string, std::string>, int> confusions;
    std::vector<std::string> missed;

    /// A tie proved equal is right: nobody can tell the one from the other.
    int right() const { return truth + equal; }
};

namespace measured {

inline std::string idsOf(std::vector<std::string> ids) {
    std::sort(ids.begin(), ids.end());
    std::string all;
    for (const std::string& id : ids) all += (all.empty() ? "" : "+") + id;
    return all;
}

inline std::string idsOf(const std::vector<FaultPlace>& faults) {
    std::vector<std::string> ids;
    for (const FaultPlace& f : faults) ids.push_back(f.id);
    return idsOf(std::move(ids));
}

inline std::string idsOf(const std::vector<FoundFault>& faults) {
    std::vector<std::string> ids;
    for (const FoundFault& f : faults) ids.push_back(f.id);
    return idsOf(std::move(ids));
}

inline bool isAt(const FoundFault& f, const FaultPlace& truth) {
    return f.id == truth.id && f.row <= truth.row && truth.row <= std::max(f.row, f.rowTo) &&
           f.stitch <= truth.stitch && truth.stitch <= std::max(f.stitch, f.stitchTo);
}

/// What was made, at its place.
inline bool isTruth(const Explanation& e, const std::vector<FaultPlace>& truth) {
    if (e.faults.size() != truth.size()) return false;
    return std::all_of(truth.begin(), truth.end(), [&](const FaultPlace& t) {
        return std::any_of(e.faults.begin(), e.faults.end(), [&](const FoundFault& f) { return isAt(f, t); });
    });
}

}  // namespace measured

/// Worked again, what is told gives the very line of text of the cloth.
inline bool isProved(const Script& script, int rows, const Explanation& e, const std::string& knot) {
    const int last = static_cast<int>(script.rows.size());
    for (const std::optional<After> all : {std::optional<After>(), std::optional<After>(After::byReading),
                                           std::optional<After>(After::byCount)}) {
        std::vector<KnownFault> known;
        for (const FoundFault& f : e.faults) {
            const auto placed = place(script, {f.id, f.row, f.stitch, f.rows});
            if (!placed) return false;
            known.push_back({*placed, all.value_or(f.after)});
        }
        // With rows left out more of the words are worked.
        for (int n = std::max(rows - 4, 1); n <= std::min(rows + 2, last); ++n) {
            Redoing again(script, {}, known, n);
            bool worked = true;
            while (worked && !again.done()) worked = again.workRow();
            if (worked && again.fallAtLast() && knotOf(again.fabric()) == knot) return true;
        }
    }
    return false;
}

inline void judgeCase(const MeasuredCase& c, const Script& script, const Fabric& actual,
                      const Explanations& told, Measured& score) {
    ++score.cases;
    const std::vector<Explanation>& all = told.explanations;
    const auto at = std::find_if(all.begin(), all.end(),
                                 [&](const Explanation& e) { return measured::isTruth(e, c.faults); });
    const std::string knot = knotOf(actual);
    const bool listed = at != all.end();
    if (listed) {
        ++score.truth;
        score.first += at == all.begin() ? 1 : 0;
        score.three += at - all.begin() < 3 ? 1 : 0;
        score.tied += at != all.begin() && at->yarnAgrees && all.front().yarnAgrees ? 1 : 0;
    } else if (!all.empty()) {
        ++score.equal;
    } else {
        score.missed.push_back(c.words() + ": " + told.words);
    }
    // Spans are told by their first place.
    for (std::size_t i = 0; i < std::min<std::size_t>(all.size(), 3); ++i) {
        ++score.told;
        if (isProved(script, told.rows, all[i], knot)) continue;
        ++score.unproved;
        score.missed.push_back("not proved: " + c.words() + ": " + all[i].words);
    }
    const std::string said = all.empty() ? "unknown" : measured::idsOf(all.front().faults);
    if (said != measured::idsOf(c.faults)) ++score.confusions[{measured::idsOf(c.faults), said}];
}

/// One mistake: every one on every ground, at so many places, with every way of going on. every: each n-th of
/// them alone.
inline std::vector<MeasuredCase> singleCases(int places, int every, std::uint64_t seed = 1) {
    std::vector<MeasuredCase> cases;
    int drawn = 0;
    for (int g = 0; g < kAllStockGrounds; ++g) {
        for (const bool round : {false, true}) {
            const auto ground = static_cast<StockGround>(g);
            if (round && !goesRound(ground)) continue;
            const Script script = stockGround(ground, 11, 9, round);
            for (const Fault* fault : catalogue()) {
                const std::vector<FaultPlace> all = placesFor(*fault, script, {});
                if (all.empty()) continue;
                Seeded dice(seed * 7919 + static_cast<std::uint64_t>(g));
                for (int i = 0; i < places; ++i) {
                    const FaultPlace place =
                        all[static_cast<std::size_t>(dice.below(static_cast<int>(all.size())))];
                    for (const After after : {After::byReading, After::byCount, After::rowEnd}) {
                        if (drawn++ % every == 0) cases.push_back({ground, round, after, {place}});
                    }
                }
            }
        }
    }
    return cases;
}

/// Two mistakes in one piece, drawn from a seed.
inline std::vector<MeasuredCase> pairCases(int n, std::uint64_t seed = 1) {
    std::vector<MeasuredCase> cases;
    const std::vector<const Fault*> faults = catalogue();
    for (std::uint64_t i = 0; static_cast<int>(cases.size()) < n; ++i) {
        Seeded dice(seed * 104'729 + i);
        MeasuredCase c;
        c.ground = static_cast<StockGround>(dice.below(kAllStockGrounds));
        c.round = dice.below(3) == 0 && goesRound(c.ground);
        c.after = dice.below(2) == 0 ? After::byReading : After::byCount;
        const Script script = stockGround(c.ground, 13, 11, c.round);
        for (int k = 0; k < 2; ++k) {
            const Fault* const fault =
                faults[static_cast<std::size_t>(dice.below(static_cast<int>(faults.size())))];
            if (fault->family == Family::lengths) break;
            const auto place = drawPlace(dice.next(), *fault, script, {});
            if (!place) break;
            c.faults.push_back(*place);
        }
        if (c.faults.size() == 2 && knitWith(script, {}, c.faults, c.after)) cases.push_back(std::move(c));
    }
    return cases;
}

inline Script scriptOf(const MeasuredCase& c) {
    const bool two = c.faults.size() > 1;
    return stockGround(c.ground, two ? 13 : 11, two ? 11 : 9, c.round);
}

}  // namespace loopmend
