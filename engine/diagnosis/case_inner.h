// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <functional>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "diagnosis/belief.h"
#include "diagnosis/case.h"
#include "diagnosis/case_chances.h"
#include "diagnosis/case_hearing.h"
#include "diagnosis/next_look.h"
#include "diagnosis/tables.h"

/// What a `Case` keeps. Only its own files include this.
namespace loopmend {

/// A kind at a place, a row and a stitch up or down.
struct CaseCluster {
    std::int32_t best = -1;  ///< its heaviest hypothesis; if none is half of it, the one in its middle
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
    std::array<VainLooks, kLookWays> vain;  ///< by way
    std::optional<CaseQuestion> question;

    double logTold = 0;  ///< logarithm of how likely all she told was

    /// Knitted as a whole: what they really answer.
    struct Again {
        std::unique_ptr<LookedAt> looked;  ///< none: it cannot be knitted, or what she saw is against it
        Sighting plainest;                 ///< of the whole piece
        double exact = 0;                  ///< logarithm of how likely all she saw is, ...
        double much = 0;  ///< ... and if it is something much like it that is not in the list
        std::array<InVain, kLookWays> vain;
        std::int32_t twin = -1;  ///< the first of them that no look can tell from it
    };
    std::map<std::int32_t, Again> again;
    std::optional<Belief> checked;  ///< belief, with what was knitted again set right
    const Belief& now() const { return checked ? *checked : belief; }
    void weigh(std::int32_t h, Again& it, const CaseNote& note) const;
    void setRight();
    void dropContradicted();
    /// By row and column (0: all along the row): what is not in the list and lies there.
    std::map<std::pair<int, int>, std::int32_t> unlistedAt;
    std::map<std::int32_t, double> muchLike;  ///< of these: what being much like a listed one adds
    /// Knits those that were not yet; true: there were such.
    bool knitAgain(const std::vector<std::int32_t>& which);
    /// Of those not knitted yet the heaviest, as many as are worth their yarn.
    std::vector<std::int32_t> likeliest() const;
    /// Every kind of mistake that could have happened where that one did, and not knitted yet.
    std::vector<std::int32_t> rivalsOf(std::int32_t h) const;
    int loopsIn() const;
    /// So many loops that it is knitted again only when it is told.
    bool isTooLarge() const;
    /// So many that few are knitted again while she waits.
    bool takesLong() const;
    std::int32_t explains(const std::vector<std::size_t>& which) const;
    /// While it lasts, what is light of a large piece is told by its like (CaseTables::tellLightByLike).
    class Lightly {
      public:
        Lightly(const Inner& in, const Belief& by)
            : tables_(*in.tables),
              before_(tables_.tellLightByLike(in.tables->isLarge() ? &by.weights() : nullptr)) {}
        ~Lightly() { tables_.tellLightByLike(before_); }
        Lightly(const Lightly&) = delete;
        Lightly& operator=(const Lightly&) = delete;

      private:
        CaseTables& tables_;
        const std::vector<double>* before_;
    };

    /// How likely an answer is, if a look would find that; `vain` keeps what was looked at in vain.
    double heard(const CaseNote& note, const CaseForecast& f, InVain* vain) const;
    /// The same for somebody who may not be sure.
    double asSure(const CaseNote& note, double p) const;

    void beginAgain();
    void take(const CaseNote& note);
    /// How likely a name is for what is not in the list; remembers it.
    double named(std::int32_t h, const CaseNote& note, const CaseForecast& f);
    void ask();
    void chooseNext();
    void look(const Look& at, double bits);
    void labelByCluster(CaseSample& sample, const std::vector<CaseCluster>& best) const;
    void likeliestFirst(CaseQuestion& q) const;
    std::optional<CaseQuestion> firstQuestion() const;
    /// No kind is settled on a single naming. A look at which it would be named once more, or counted; none:
    /// it was, or there is nothing of it that has a name.
    std::optional<Look> secondSign(std::size_t h) const;
    std::optional<Look> signElsewhere(std::size_t h) const;
    /// Row and column of all that is odd there. What was tried in little ends with its window; a piece
    /// knitted as a whole shows further.
    void eachOdd(std::size_t h, const std::function<void(int, int)>& see) const;
    /// What shows where the hands did it must have been seen there twice: one look may be a false alarm. A
    /// close look there; none: it was, or nothing shows.
    std::optional<Look> atItsPlace(std::size_t h) const;
    /// What shows in row above row may have begun further down: a look at the rows just below the lowest of
    /// them, of rungs a close one. Of what is nearly sure only where one rung looks like the next; none: she
    /// has looked there.
    std::optional<Look> belowIt(std::size_t h, bool nearlySure = false) const;
    /// The look that has to come before that is settled on: for a second sign, unless it is nearly sure at
    /// its place and elsewhere, and below it; none: nothing is left of them.
    std::optional<Look> owedFor(const CaseCluster& best) const;
    /// What is still to be looked at before that is believed: all that it rests on is one answer, or
    /// how common it is; none: nothing, or no look would tell.
    std::optional<NextLook> confirming(const CaseCluster& best) const;
    /// What speaks against a place though it is likely: it was never seen at its very cell, something odd
    /// lies just beside that it does not explain, counts are otherwise, nobody has looked where it ends.
    struct Stand {
        bool firm = true;          ///< nothing does, as far as she has looked
        std::optional<Look> look;  ///< which would tell; none: she has looked
    };
    Stand standOf(const CaseCluster& best) const;
    /// Of what is not in the list and lies at one place or beside it: that at whose very cell she found most.
    std::int32_t whereFound(std::int32_t best, const std::vector<std::int32_t>& all) const;
    int looks() const;
    bool sameKind(std::size_t a, std::size_t b) const;
    bool samePlace(std::size_t a, std::size_t b) const;
    /// Both were knitted, and no look tells the one piece from the other.
    bool areTwins(std::size_t a, std::size_t b) const;
    /// The heaviest clusters, none the same as another.
    std::vector<CaseCluster> clusters(std::size_t most) const;
    /// How often she, close by, gave it the name that it has there, each place and side once; how often she
    /// called it that when she found it; and how often she counted, or felt, what it makes.
    struct Signs {
        int named = 0;
        int found = 0;
        int counted = 0;
        /// Far off a name says less than close by.
        bool enough() const {
            const int all = named + found + counted;
            return (named >= 1 && all >= 2) || (found >= 1 && all >= 3);
        }
    };
    Signs signsFor(std::size_t h) const;
    bool isSettled(const std::vector<CaseCluster>& best) const;
    bool isSeenAlong(int row) const;
    bool unconfirmed = false;  ///< what is asked is what `confirming` wants
    /// No look can tell more: then the likeliest kind at a certain place has to do.
    bool nothingLeft = false;
    /// Or hardly more: then what is not in the list need be no surer than what is.
    bool littleLeft = false;
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
