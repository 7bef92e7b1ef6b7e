// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstdint>
#include <deque>
#include <functional>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <unordered_map>
#include <utility>
#include <vector>

#include "diagnosis/case_cloth.h"
#include "diagnosis/case_effects.h"
#include "fault/catalogue.h"
#include "reading/answer.h"

/// What could have happened to a piece, and what each look would then find.
namespace loopmend {

/// Something at that place that nobody has listed.
inline constexpr std::string_view kNotInList = "not-in-list";

/// One thing that could have happened.
struct CaseHypothesis {
    /// Number of the fault in the catalogue; from CaseTables::kinds() on: not in the list, with the count
    /// right, one lacking, one too many, odd all the way up its column (what runs, what comes in every
    /// row), or odd all along its row.
    std::uint8_t kind = 0;
    std::uint8_t after = 0;    ///< After
    std::uint16_t row = 0;     ///< where the hands did it
    std::uint16_t stitch = 0;  ///< as worked
    std::uint16_t column = 0;
    std::uint16_t seenRow = 0;  ///< where words misread first differ; else as `row`
};

/// How little a forecast is to be trusted.
enum class CaseDoubt : std::uint8_t { none, some, much };

/// What a look finds if a hypothesis is true.
struct CaseForecast {
    Sighting seen;
    bool any = false;    ///< any sign may be named: not in the list
    bool along = false;  ///< and at any stitch of that row
    /// Where tables only guess (far above the mistake, a whole row worked otherwise), or where nobody knows
    /// (not in the list), the look may as well find anything, or nothing.
    CaseDoubt doubt = CaseDoubt::none;
    bool knitted = false;  ///< told by a piece that was knitted as a whole, not by tables
    bool like = false;     ///< of something much like that piece, which is not in the list
    double share = 1;      ///< of those who find something: how many tell that place of several
    friend bool operator==(const CaseForecast& a, const CaseForecast& b) {
        return a.any == b.any && a.along == b.along && a.doubt == b.doubt && a.share == b.share &&
               a.seen == b.seen && a.seen.ease == b.seen.ease;
    }
};

/// Of hypotheses that differ in nothing but the column (a strip): the columns at which what is told of a look
/// has to be worked out one by one. To the right of them, between them and to the left of them it is the
/// same.
struct ApartColumns {
    static constexpr int kFar = 1 << 20;
    static constexpr int kMost = 4;
    static constexpr int kParts = kMost + 1;
    std::array<int, kMost> from = {kFar, kFar, kFar, kFar};  ///< ascending, both ends inclusive
    std::array<int, kMost> to = {kFar, kFar, kFar, kFar};
    /// The part that a column lies in, from 0 on; -1: it stands alone.
    int part(int column) const {
        for (std::size_t i = 0; i < from.size(); ++i) {
            if (column < from[i]) return static_cast<int>(i);
            if (column <= to[i]) return -1;
        }
        return kMost;
    }
    static ApartColumns all() {
        ApartColumns apart;
        apart.from[0] = -kFar;
        return apart;
    }
    void add(int low, int high);
    void add(const ApartColumns& other);
};

/// Tables of the meant rows, and all hypotheses over them as one flat array. What a mistake does about itself
/// is found in small windows (case_effects.h), when it is first asked for; what it does further away by
/// arithmetic: counts by the words of the rows, columns by following them.
class CaseTables {
  public:
    /// rows of the script are done. `effects` may be shared by cases, for speed.
    CaseTables(const Script& script, const Setup& setup, int rows,
               const std::map<std::string, double>& priors, std::shared_ptr<CaseEffects> effects);

    const Script& script() const { return script_; }
    const Setup& setup() const { return setup_; }
    const CaseCloth& cloth() const { return cloth_; }
    int rows() const { return cloth_.rows(); }

    std::size_t size() const { return hypotheses_.size(); }
    const CaseHypothesis& at(std::size_t h) const { return hypotheses_[h]; }
    const std::vector<double>& priors() const { return priors_; }
    /// Faults of the catalogue; kinds from here on are not in the list.
    int kinds() const { return static_cast<int>(faults_.size()); }
    static constexpr int kUnlisted = 5;
    static constexpr int kColumn = 3;  ///< of these, the one that is odd all the way up
    static constexpr int kRow = 4;     ///< the one that is odd all along its row
    /// It has no place in its row: what is done to the row as a whole.
    bool isWholeRow(const CaseHypothesis& h) const {
        return isListed(h) ? fault(h.kind)->wholeRow : h.kind == kinds() + kRow;
    }
    bool isListed(const CaseHypothesis& h) const { return h.kind < kinds(); }
    const Fault* fault(int kind) const {
        return kind < kinds() ? faults_[static_cast<std::size_t>(kind)] : nullptr;
    }
    std::string_view id(int kind) const { return kind < kinds() ? fault(kind)->id : kNotInList; }
    FaultPlace placeOf(const CaseHypothesis& h) const;

    /// It can happen there at all.
    bool can(std::size_t h) const;
    /// What a perfect eye finds.
    CaseForecast forecast(const Look& look, std::size_t h) const;
    /// Stitches too many (below 0: lacking) after a row.
    int offAfter(std::size_t h, int row) const;
    /// The same as one counts the row now: what came out later is missing.
    int countedIn(std::size_t h, int row) const;
    /// The picture of the five that it is, as far as it is seen from `side` (0 to 4; 4: nothing), and where.
    Sighting plainestOf(std::size_t h, Side side) const;
    /// At how many places of a patch that is searched, pulled or lit from the side it shows.
    int placesIn(const Look& patch, std::size_t h) const;
    /// Places at which it shows, as far as it was tried in little: see(row, column).
    void eachOdd(std::size_t h, const std::function<void(int, int)>& see) const;
    /// Hypotheses with the same label at the same place cannot be told apart by looks.
    std::int64_t label(std::size_t h) const;
    /// What looks can show of it; the same for kinds that no look tells apart at one place.
    std::uint64_t looksOf(std::size_t h) const { return effect(h).looks; }

    /// Hypotheses of one kind, way of going on and row, in the same words: they differ in their column alone.
    /// -1: that one is by itself.
    std::int32_t stripOf(std::size_t h) const { return stripOf_[h]; }
    std::size_t strips() const { return endOfStrip_.size(); }
    /// Of the strip of a hypothesis: where forecasts of a look are not the same all along.
    ApartColumns apart(const Look& look, std::size_t h) const;
    /// The same of what is counted in a row, ...
    ApartColumns apartInCount(std::size_t h, int row) const;
    /// ... and of what it is seen by first: what it is, and whether it lies in these columns (0: none asked).
    ApartColumns apartSeen(std::size_t h, int columnFrom, int columnTo) const;

    /// Of a large piece, while it may be anywhere, windows would be knitted by the hundred for what hardly
    /// weighs anything. What weighs less than kLight of these is told by its like: the same mistake at such a
    /// step of such a row (the same in 98 close looks of 100; but of what was worked on by count right under
    /// the needle another place may show). nullptr: all are told by their own. Returns what it was before.
    const std::vector<double>* tellLightByLike(const std::vector<double>* weights) {
        return std::exchange(weights_, weights);
    }
    static constexpr double kLight = 2e-4;
    bool isLarge() const { return hypotheses_.size() >= kLarge; }
    /// The strip with which it shares what is told of a look (apart()); -1: it is told by itself, as of a
    /// large piece whatever is not light.
    std::int32_t sharedStripOf(std::size_t h) const {
        return weights_ == nullptr || (*weights_)[h] < kLight ? stripOf_[h] : -1;
    }
    static constexpr std::size_t kLarge = 800'000;  ///< hypotheses

    const CaseEffects& effects() const { return *effects_; }

  private:
    struct Odd {
        int row;
        int column;
        OddSign sign;
        bool onRight;
        bool onWrong;
    };
    struct Box {
        int rowFrom, rowTo, columnFrom, columnTo;
    };
    /// How far from a mistake its odd places lie, over all of its lists.
    struct Spread {
        int low = 0;  ///< rows
        int high = 0;
        int reach = 0;        ///< columns
        bool copies = false;  ///< some come again along the row
        /// Columns aside from which on they come again as the words do, up to either edge; -1: they do not,
        /// or nobody asked (of a piece that is not large).
        int steady = -1;
    };
    const Spread& spreadOf(const CaseHypothesis& h, const CaseEffect& e) const;
    int steadyFrom(const CaseHypothesis& h, const CaseEffect& e) const;
    int driftAbout(const CaseHypothesis& h, int low, int high) const;
    ApartColumns apartAbout(std::size_t h, const Box& about, const Box& looked, bool inside = false) const;
    ApartColumns apartInThirds(std::size_t h, const Look& look) const;
    void addNearEnd(const CaseHypothesis& h, ApartColumns& apart) const;
    ApartColumns apartInSpan(std::size_t h, int row, int from, int to) const;
    void addFoundAt(std::size_t h, int row, int column, ApartColumns& apart) const;
    bool isTakenIn(int row, int until) const;
    bool isPlainestAlike(const CaseHypothesis& h, const CaseEffect& e) const;
    void makeStrips();
    const CaseEffect& effect(std::size_t h) const { return isLight(h) ? likeInRow(h) : ownEffect(h); }
    /// The same for a look at a box.
    const CaseEffect& effect(std::size_t h, const Box& box) const;
    static bool isAway(const CaseHypothesis& h, const Box& box);
    const CaseEffect& ownEffect(std::size_t h) const;
    bool isLight(std::size_t h) const {
        return weights_ != nullptr && likeOf_[h] >= 0 && (*weights_)[h] < kLight;
    }
    std::int32_t findEffect(std::size_t h) const;
    std::int32_t findEffectAt(std::size_t h, int row, int column, CaseEffects::Part part) const;
    /// Words that come late from a stitch on, in a row that no window holds: one window serves for all its
    /// repeats.
    bool driftsFar(const CaseHypothesis& h) const;
    int likeFurtherBack(int row, int step) const;
    CaseDoubt doubtOf(std::size_t h, const CaseEffect& e, const Look& look, const Box& box) const;
    CaseForecast seenBy(const Look& look, std::size_t h, const Box& box) const;
    /// The same mistake at a step of the same kind elsewhere: good for counts and for arm's length.
    const CaseEffect& likeIt(std::size_t h) const;
    /// The same mistake at such a step in a row of the same words: also good for where what was worked by
    /// count shows, rows above.
    const CaseEffect& likeInRow(std::size_t h) const;
    const CaseEffect& alike(std::size_t h) const;
    const CaseEffect* endOf(std::size_t h) const;
    /// What a row begun twice does to all rows above; none: it is another mistake, or nobody knows.
    const CaseEffect* aboveOf(const CaseHypothesis& h) const;
    int periodAbove(const CaseEffect& e) const;
    template <class See>
    void aboveIn(const CaseHypothesis& h, const CaseEffect& e, const Box& box, See see) const;
    int anchorRow(const CaseHypothesis& h) const;
    static constexpr int kLowOfRun = 3;  ///< rows of a run that are its lower end, however deep it is
    /// see(Odd) for each that lies in the box. skip(EffectOdd, row): it need not be seen, wherever it lies.
    /// done(): nor need any of the rows above.
    template <class See, class Skip, class Done>
    void oddIn(const CaseHypothesis& h, const CaseEffect& e, const std::vector<EffectOdd>& list,
               const Box& box, See see, Skip skip, Done done) const;
    template <class See, class Skip>
    void oddIn(const CaseHypothesis& h, const CaseEffect& e, const std::vector<EffectOdd>& list,
               const Box& box, See see, Skip skip) const {
        oddIn(h, e, list, box, see, skip, [] { return false; });
    }
    template <class See>
    void oddIn(const CaseHypothesis& h, const CaseEffect& e, const std::vector<EffectOdd>& list,
               const Box& box, See see) const {
        oddIn(h, e, list, box, see, [](const EffectOdd&, int) { return false; });
    }
    template <class Counts>
    bool plainest(const CaseHypothesis& h, const CaseEffect& e, const CaseEffect* end, const Box& box,
                  Side side, Counts counts, Odd& best) const;
    template <class See>
    void endIn(const CaseHypothesis& h, const CaseEffect& e, const Box& box, See see) const;
    int columnAt(const CaseHypothesis& h, int row) const;
    int chain(int row, int off, int to) const;
    int healed(int off, int from, int column, int row) const;
    std::optional<int> otherwiseIn(std::size_t h, int row, bool onNeedle, bool& there) const;
    Sighting fits(std::size_t h, int row) const;
    bool standsByCount(const CaseHypothesis& h) const;
    /// Columns of rows worked by count, followed up to one row.
    struct Rising {
        static constexpr int kMost = 2;  ///< stitches too many or too few
        static constexpr int kOffs = 2 * kMost + 1;
        static std::size_t index(int row, int off) {
            return static_cast<std::size_t>(row * kOffs + off + kMost);
        }
        int to = 0;
        /// Rows that every column goes straight up to, at any count, share theirs.
        std::vector<std::shared_ptr<const std::vector<std::int16_t>>> columns;
    };
    /// A column of a row as it was meant, followed down.
    struct Sinking {
        int row = -1;
        int column = 0;
        std::vector<std::int16_t> down;  ///< by row
    };
    const Rising& risingTo(int row) const;
    const Sinking& sinkingFrom(int row, int column) const;
    int foundAt(std::size_t h, int row, const Sinking& sinking) const;
    /// What stands on a stitch in the row above it: its column, and which of those it takes in that one is,
    /// from the right.
    struct Upward {
        int column = 0;  ///< 0: nothing
        int taken = 0;
    };
    Upward upMeant(int row, int column) const;
    /// The same of the cloth, if it was worked by count.
    Upward upByCount(std::size_t h, int row, int column) const;
    int lineBreak(const Look& look, std::size_t h, int bottom, int top) const;
    int findEnd(const CaseHypothesis& h) const;
    bool reaches(std::size_t h, const Box& box) const;
    void enumerate(const std::map<std::string, double>& priors);

    Script script_;
    Setup setup_;
    CaseCloth cloth_;
    std::vector<const Fault*> faults_;
    std::shared_ptr<CaseEffects> effects_;
    std::vector<CaseHypothesis> hypotheses_;
    std::vector<double> priors_;
    const std::vector<double>* weights_ = nullptr;  ///< tellLightByLike(); none: all are told by their own
    mutable std::vector<std::int32_t> effectOf_;    ///< -1: not asked for yet
    /// What becomes of the end of the row, by strip; -1: not asked for yet, -2: nothing.
    mutable std::vector<std::int32_t> endOfStrip_;
    mutable std::map<std::size_t, std::int32_t> endOfWhole_;  ///< of whole rows, by hypothesis
    mutable std::vector<std::int32_t> stripOf_;
    /// Rows of one number lie among the same rows.
    std::vector<std::int32_t> amongRows_;
    mutable std::map<std::array<int, 5>, std::vector<std::int32_t>> effectsAmong_;  ///< by column
    void nameRows();
    std::int32_t& amongSame(const CaseHypothesis& h, CaseEffects::Part part, int row, int column) const;
    /// By row: stitches after which its words, and those of all rows above, come again; 0: they do not.
    std::vector<int> again_;
    mutable std::vector<std::unordered_map<const CaseEffect*, Spread>> spreads_;  ///< by number of the row
    std::vector<int> takenFrom_;                 ///< by row: the lowest row that takes one of its columns in
    std::vector<std::int32_t> likeOf_;           ///< -1: none
    mutable std::vector<std::int32_t> alikeOf_;  ///< the hypothesis that alike() tries; empty: none yet
    /// How many places there are in all of the piece, as far as that is the same for many.
    struct AllPlaces {
        Look look;
        /// Above a row begun twice, wherever in it that was, by row.
        std::map<std::pair<const CaseEffect*, int>, int> above;
        std::vector<std::int32_t> ofStrip;  ///< of what is light; -1: nobody asked
    };
    mutable std::array<AllPlaces, 2> allPlaces_;  ///< by side
    AllPlaces& allPlacesFor(const Look& patch) const;
    int countPlaces(const Look& patch, std::size_t h) const;
    mutable std::map<std::array<int, 3>, std::int32_t>
        aboveOf_;  ///< by kind, row and stitches more; -1: none
    /// By row and column: the row of the first stitch at or below it that is more than plain; 0: the cast-on.
    std::vector<std::vector<std::uint16_t>> featureRow_;
    mutable std::deque<Rising> rising_;
    mutable std::array<Sinking, 2> sinking_;
    mutable std::size_t nextSinking_ = 0;
    std::vector<bool> turnsBack_;  ///< by kind: the row is begun, worked back, and begun again
    mutable std::map<int, std::vector<std::int8_t>> chains_;
    std::array<CaseEffect, kUnlisted> unlisted_;
};

}  // namespace loopmend
