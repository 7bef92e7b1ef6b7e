// SPDX-License-Identifier: MIT
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "diagnosis/redoing.h"
#include "diagnosis/target.h"
#include "fault/catalogue.h"

namespace loopmend {

/// A mistake that, with those known before it, makes the very knot that is there.
struct Proved {
    KnownFault fault;
    bool yarnAgrees = false;
    bool allRows = true;           ///< all rows of the script were worked
    bool nothingFollowed = false;  ///< the actual cloth ends with the row of the mistake
};

/// A mistake after which the two agree further than without it.
struct Partial {
    KnownFault fault;
    int loops = 0;  ///< loops of the actual cloth that agree, from the cast-on
};

/// How thoroughly is tried.
enum class Thoroughly : std::uint8_t {
    near,     ///< where the two part
    far,      ///< wider round it
    partial,  ///< where they part, and mistakes are kept that explain only what comes next
    lengths,  ///< mistakes that leave the knot alone: the yarn lies in other lengths
};

/// Puts mistakes into a knitting near the place where the actual cloth parts from it, knits on beside that
/// cloth and keeps those that give its knot. The knitting may have mistakes in it already.
class Trials {
  public:
    /// rows: as many of the script's rows as the actual fabric has, if it has not more. What is left of the
    /// script is for rows that were left out. Both must outlive this.
    /// keep: a row about in which the two will part, if that is known already. So far the rows need not be
    /// worked again then.
    Trials(const Target& target, const Script& whole, int rows, const Setup& setup,
           std::vector<KnownFault> known = {}, int keep = 0);

    /// The script could be worked to its end, with what is known.
    bool works() const { return works_; }
    const std::vector<KnownFault>& known() const { return known_; }
    const Script& script() const { return script_; }
    /// Rows of the script that were worked.
    int rows() const { return rows_; }
    /// The knitting with what is known.
    const Fabric& cloth() const { return full_->fabric(); }
    const Walk& walk() const { return walk_; }
    const Parting& parting() const { return parting_; }
    bool sameKnot() const { return same_; }
    /// The same knot, and its yarn lies in the same lengths.
    bool sameLengths() const { return same_ && !otherLength_; }
    /// Loops of the actual cloth that agree, from the cast-on.
    int loopsAgreed() const;

    struct Place {
        int row = 0;  ///< 0: the cast-on
        int stitch = 0;
    };
    /// Where the two part, in the meant knitting.
    Place partingPlace() const;

    /// Tries everything that could stand, or show, near the parting. Ordered as the catalogue and the rows
    /// are.
    std::vector<Proved> run(Thoroughly thoroughly);
    /// What the last run found that goes further than `loopsAgreed`, the furthest first; and what was done at
    /// the very place where the two part, and leaves the next stitch wrong as well.
    std::vector<Partial> partials() const;

  private:
    // trials_places.cpp
    void findPlaces();
    void addAround(LoopId loop, int spread);
    void addPlace(int row, int stitch);
    std::vector<Place> placesOf(LoopId loop) const;
    std::vector<int> rowsToMisread() const;
    // trials_beside.cpp
    void rememberPlaces();
    void raiseBase(int row);
    bool follow(const Redoing& trial, Beside& beside, bool all);
    bool followYarn(const Redoing& trial, std::size_t yarn, Beside& beside, bool all, bool& waits);
    bool keepsNumbers(int row) const;
    bool couldHaveSaved(std::int32_t firstNew) const;
    bool partsBefore(std::int32_t place) const;
    bool soFarRight(std::int32_t firstNew);
    bool soFarRightAlong(YarnId yarn, std::int32_t firstNew);
    bool couldBe(EntryId x, EntryId y) const;
    void forgetTrial();
    bool judge(Redoing& trial, Beside beside, const KnownFault& fault);
    void judgeWhole(const Redoing& trial, const KnownFault& fault);
    bool prove(const Redoing& trial, const KnownFault& fault);
    int agreedWith(const Redoing& trial, Beside beside);
    void keepPartial(const Redoing& trial, const Beside& beside, const KnownFault& fault);

    void tryPlaces();
    void tryWorkedInRow(const std::vector<Place>& places);
    void tryWorked(const Place& place, int step);
    void tryMisreadInRow(int row);
    void tryMisreadAt(const Fault& fault, const Place& place, int step);
    bool tryMisread(const KnownFault& fault);
    bool tryBegun(const KnownFault& fault);
    void tryFallen(const Place& place);
    void tryFallenEarlier(const Place& place);
    void tryInside(const Place& place, int step);
    std::optional<Redoing> workedWith(const KnownFault& fault) const;
    void tryWhole(const KnownFault& fault);
    void tryAgainAndAgain(const KnownFault& fault);
    bool tryOne(const KnownFault& fault);
    void goOnToEnd(const KnownFault& fault);
    // trials_again.cpp
    std::vector<std::int32_t> pairedNow(const Walk& walk) const;
    bool isWorthRemembering(int row) const;
    bool wasGoneOnWith(const KnownFault& fault, bool alone);
    static bool isBelowNeedle(const Walk& walk, LoopId loop);
    // trials_alone.cpp
    enum class Stands : std::uint8_t {
        there,
        missing,  ///< meant, and its stitch is not there
        extra,    ///< there, and stands for nothing that was meant
    };
    int simpleAbove() const;
    std::optional<std::vector<Stands>> standingNow() const;
    static bool readAlone(Knitter& hands, const WorkedRow& row, std::vector<Stands>& standing);
    bool goOnMisread(Redoing& trial, Beside beside, const KnownFault& fault);
    bool isKnown(const PlacedFault& fault) const;
    bool allAlikeFrom(int row, int step) const;
    bool hangTooMany(int row) const;
    bool couldHaveRun(const Place& place) const;
    bool partial() const { return thoroughly_ == Thoroughly::partial; }
    bool lengths() const { return thoroughly_ == Thoroughly::lengths; }

    const Target& target_;
    const Script& script_;  ///< all its rows
    Script whole_;          ///< what the base is worked from
    int rows_;
    Setup setup_;
    std::vector<KnownFault> known_;
    std::vector<const Fault*> faults_;
    Thoroughly thoroughly_ = Thoroughly::near;
    bool works_ = false;
    bool same_ = false;
    bool readOtherwise_ = false;  ///< a known mistake has other rows
    bool movesTools_ = false;     ///< the actual cloth has stitches on other tools than the needle
    LoopId otherLength_;
    std::optional<Redoing> full_;                  ///< all rows, with what is known
    std::optional<Redoing> kept_;                  ///< rows of it, from which a base may go on
    std::optional<Redoing> base_;                  ///< the rows below all places that are tried
    std::vector<std::vector<EntryId>> lastOfRow_;  ///< by row, then by the walk's yarns; row 0: the cast-on
    Walk walk_;
    Parting parting_;
    std::vector<std::pair<LoopId, Place>> placeOf_;  ///< sorted by loop
    std::vector<LoopId> fallsLater_;                 ///< meant loops whose stitch falls when all is done
    std::vector<Place> places_;
    const Fault* ranLast_ = nullptr;  ///< what the last run that was tried is called
    Walk trial_;                      ///< numbers of a trial's entries, as far as it is walked
    int allAlikeAbove_ = 0;           ///< each row above this one is of one plain stitch
    Beside baseBeside_;
    std::vector<std::int32_t> baseEnds_;  ///< by yarn: loops of the walk that the base has
    std::int32_t baseEntries_ = 0;
    bool keepsNumbers_ = false;
    std::int32_t shift_ = 0;  ///< how far numbers of a trial may be off while she works its row
    /// A piece some rows above the places that are tried, and what came of it.
    struct GoneOn {
        bool alone;
        Side facing;
        Run run;
        std::vector<std::int32_t> paired;
        std::unique_ptr<Fabric> fabric;
        Walk walk;
        std::optional<Proved> proved;
    };
    std::vector<GoneOn> goneOn_;
    int simpleAbove_ = 0;  ///< see simpleAbove
    int againAt_ = 0;      ///< the row after which pieces are remembered
    std::vector<Proved> proved_;
    std::vector<Partial> partials_;
};

/// How many stitches beside the parting the hands may have been.
inline constexpr int kNearParting = 2;
/// How many rows below the parting rows may have been taken otherwise.
inline constexpr int kRowsBefore = 6;

}  // namespace loopmend
