// SPDX-License-Identifier: MIT
#pragma once

#include <set>
#include <string>
#include <unordered_map>
#include <vector>

#include "diagnosis/belief.h"
#include "diagnosis/case_chances.h"
#include "diagnosis/tables.h"

/// What is worth looking at next: the most bits about what happened and where, for the seconds it takes.
namespace loopmend {

/// What has been answered so far, as far as the next look depends on it.
struct LookedSoFar {
    std::set<std::string> asked;  ///< text(look) of every look asked: none comes twice
    std::vector<Look> vain;       ///< looks that found nothing
    std::unordered_map<std::int32_t, Namings>
        named;  ///< what a hypothesis that is not in the list was called
    /// Hypotheses that were knitted as a whole: these pieces answer for themselves.
    std::unordered_map<std::int32_t, const LookedAt*> knitted;
    /// Of what is not in the list: that which is believed for being much like one of these pieces.
    std::unordered_map<std::int32_t, const LookedAt*> like;
};

/// What a look finds if a hypothesis is true: of a piece that was knitted, what it answers; else by the
/// tables.
CaseForecast forecastOf(const Look& look, const CaseTables& tables, std::size_t hypothesis,
                        const LookedSoFar& soFar);

/// The same, held against the place that she told (told_place.h).
CaseForecast forecastOfTold(const Look& look, const Sighting& told, const CaseTables& tables,
                            std::size_t hypothesis, const LookedSoFar& soFar, const LookErrors& errors);

struct NextLookManners {
    LookErrors errors;
    LookPace pace;
    int sample = 700;
    static constexpr int kCloser = 4;  ///< a larger sample has so many times as many
    double perLook = 5;
    double leastBits = 0.01;
};

struct NextLook {
    Look look;
    double bits = 0;
    double seconds = 0;
    double score = 0;  ///< bits a second, with what any look costs
    bool any = false;
};

/// Hypotheses drawn for it, each once, with what they weigh in the sample.
struct CaseSample {
    std::vector<std::int32_t> hypotheses;
    std::vector<double> weights;
    std::vector<std::int32_t> labels;
};
CaseSample sampleOf(const CaseTables& tables, const Belief& belief, int count, double offset);
/// All that are alive.
CaseSample wholeOf(const CaseTables& tables, const Belief& belief);

/// Looks that could be worth something to that sample: some 170.
std::vector<Look> candidateLooks(const CaseTables& tables, const CaseSample& sample);
/// Places at which the likeliest of the pieces that were knitted differ.
void addWhereTheyDiffer(std::vector<Look>& looks, const CaseSample& sample, const LookedSoFar& soFar);

/// Expected bits about the label.
double bitsOf(const Look& look, const CaseTables& tables, const CaseSample& sample, const LookedSoFar& soFar,
              const LookErrors& errors);

/// The best of the candidates that were not asked yet; ties go to the earlier one. The few that are best by
/// the sample are held against a larger one, `closer`, if there is one.
NextLook nextLook(const CaseTables& tables, const CaseSample& sample, const LookedSoFar& soFar,
                  const NextLookManners& manners, const CaseSample* closer = nullptr);

}  // namespace loopmend
