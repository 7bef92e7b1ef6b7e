// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "diagnosis/walk.h"
#include "fabric/itinerary.h"
#include "fault/catalogue.h"
#include "fault/side_by_side.h"

namespace loopmend {

/// A mistake that makes the very knot that is there.
struct Proved {
    const Fault* fault = nullptr;
    FaultPlace place;
    After after = After::byReading;
    bool yarnAgrees = false;
    bool allRows = true;           ///< all rows of the script were worked
    bool nothingFollowed = false;  ///< the actual cloth ends with the row of the mistake
};

/// Puts mistakes into a meant knitting near the place where the actual cloth parts from it, knits on beside
/// that cloth and keeps those that give its knot.
class Trials {
  public:
    /// rows: as many of the script's rows as the actual fabric has, if it has not more. What is left of the
    /// script is for rows that were left out.
    Trials(const Script& whole, int rows, const Setup& setup, const Fabric& actual);

    /// The script could be worked to its end.
    bool works() const { return works_; }
    const Script& script() const { return script_; }
    /// The faultless knitting.
    const Fabric& meant() const { return *full_->meant().fabric; }
    const Parting& parting() const { return parting_; }
    bool sameKnot() const { return same_; }

    struct Place {
        int row = 0;  ///< 0: the cast-on
        int stitch = 0;
    };
    /// Where the two part, in the meant knitting.
    Place partingPlace() const;

    /// Tries everything that could stand, or show, near the parting. Ordered as the catalogue and the rows
    /// are.
    std::vector<Proved> run();

  private:
    /// How far the trial's yarn has been walked beside the actual one.
    struct Beside {
        EntryId at;             ///< last entry walked
        std::int32_t next = 0;  ///< number of the actual entry that comes next
    };

    const Itinerary& targetLines();
    void findPlaces(bool far);
    void addAround(LoopId loop, int spread);
    void addPlace(int row, int stitch);
    std::vector<Place> placesOf(LoopId loop) const;
    void tryPlaces(bool far);
    void raiseBase(int row);
    void tryWorkedInRow(const std::vector<Place>& places);
    void tryWorked(const Place& place, int step);
    std::vector<int> rowsToMisread() const;
    void tryMisreadInRow(int row);
    void tryMisreadAt(const Fault& fault, const Place& place, int step);
    bool tryMisread(const PlacedFault& fault, After after);
    void tryFallen(const Place& place);
    void tryFallenEarlier(const Place& place);
    void tryOne(const PlacedFault& fault, After after);
    void goOnToEnd(const PlacedFault& fault, After after);
    bool goOnMisread(SideBySide& both, Beside beside, const PlacedFault& fault, After after);
    bool follow(const Fabric& fabric, Beside& beside, bool all);
    bool soFarRight(EntryId after);
    void forgetTrial();
    bool judge(SideBySide& both, Beside beside, const PlacedFault& fault, After after);
    void findFallen();

    Script script_;  ///< as many rows as were worked
    Script whole_;   ///< what the base is worked from
    Setup setup_;
    const Fabric& actual_;
    const std::vector<const Fault*> faults_;
    Walk target_;
    std::optional<Itinerary> targetLines_;  ///< written when first asked for
    bool works_ = false;
    bool same_ = false;
    std::optional<SideBySide> full_;  ///< all rows, no mistake
    std::optional<SideBySide> base_;  ///< the rows below all places that are tried
    std::vector<EntryId> lastOfRow_;  ///< of the faultless yarn, by row; 0: the cast-on
    Walk meantWalk_;
    Parting parting_;
    std::vector<std::pair<LoopId, Place>> placeOf_;  ///< sorted by loop
    std::vector<Place> places_;
    Walk trial_;                  ///< numbers of a trial's entries, as far as it is walked
    std::int32_t baseLast_ = -1;  ///< number of the base's last loop
    Beside baseBeside_;
    /// A stitch that hangs free in the actual cloth: rows that came out under it, rows worked past it since.
    struct Fallen {
        int ran;
        int left;
    };
    std::vector<Fallen> fallen_;
    std::vector<Proved> proved_;
};

}  // namespace loopmend
