// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "diagnosis/belief.h"
#include "diagnosis/case.h"
#include "diagnosis/case_chances.h"
#include "diagnosis/next_look.h"
#include "diagnosis/tables.h"

/// What a `Case` keeps. Only its own files include this.
namespace loopmend {

/// A kind at a place, a row and a stitch up or down.
struct CaseCluster {
    std::int32_t best = -1;  ///< its heaviest hypothesis
    double weight = 0;
    double place = 0;  ///< all that lies there, whatever the kind
};

struct Case::Inner {
    CaseStart start;
    CaseMeant meant;
    CaseManners manners;
    LookErrors errors;
    LookPace pace;
    std::optional<Knitting> knitting;  ///< the meant piece
    std::unique_ptr<LookedAt> looked;
    std::unique_ptr<CaseTables> tables;

    std::vector<CaseNote> notes;
    std::vector<bool> wasAsked;  ///< by note: it answered a question
    Belief belief;
    LookedSoFar soFar;
    std::array<std::vector<InVain>, kLookWays> vain;  ///< by way, by hypothesis; empty: none yet
    std::optional<CaseQuestion> question;

    /// The likeliest, knitted as a whole: what they really answer, against what tables said.
    struct Again {
        std::unique_ptr<FaultyKnitting> piece;  ///< none: it cannot be knitted
        std::unique_ptr<LookedAt> looked;
        double exact = 0;        ///< logarithms of how likely all she saw is, ...
        double table = 0;        ///< ... and as the tables have it
        std::int32_t twin = -1;  ///< the first of them that no look can tell from it
    };
    std::map<std::int32_t, Again> again;
    std::optional<Belief> checked;  ///< belief, with what was knitted again set right
    const Belief& now() const { return checked ? *checked : belief; }
    void weigh(std::int32_t h, Again& it, const CaseNote& note) const;
    void setRight();
    /// Knits the heaviest that were not yet, some eight; true: there were such.
    bool knitAgain();

    void beginAgain();
    void take(const CaseNote& note);
    /// How likely a name is for what is not in the list; remembers it.
    double named(std::int32_t h, const CaseNote& note, const CaseForecast& f);
    void ask();
    void look(const Look& at, double bits);
    void likeliestFirst(CaseQuestion& q) const;
    std::optional<CaseQuestion> firstQuestion() const;
    std::optional<Look> secondSign(const CaseCluster& best) const;
    std::optional<Look> signElsewhere(std::size_t h) const;
    int looks() const;
    bool sameKind(std::size_t a, std::size_t b) const;
    bool samePlace(std::size_t a, std::size_t b) const;
    /// The heaviest clusters, none the same as another.
    std::vector<CaseCluster> clusters(std::size_t most) const;
    /// Different things she saw that speak for a hypothesis.
    int signsFor(std::size_t h) const;
    bool isSettled(const std::vector<CaseCluster>& best) const;
    /// No look can tell more: then the likeliest kind at a certain place has to do.
    bool nothingLeft = false;
    tl::expected<void, std::string> check(const CaseNote& note) const;
};

CaseQuestion questionFor(const Look& look, const LookedAt& piece, const CaseTables& tables,
                         const LookPace& pace);
CaseQuestion safeQuestion();
CaseQuestion pictureQuestion();
CaseQuestion cameOutQuestion(int row);

/// No look can tell the two pieces apart: everything that answers are made of is equal.
bool sameInAllLooks(const LookedAt& a, const LookedAt& b);

/// Something was found by that look, that many, that sign.
bool isPositive(const CaseNote& note);

}  // namespace loopmend
