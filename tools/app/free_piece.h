// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string>
#include <vector>

#include <tl/expected.hpp>

#include "fault/knit_with.h"
#include "pattern/pattern.h"
#include "repair/ways_back.h"
#include "repair/work.h"

namespace loopmend::app {

/// How a free piece came about; with the moves done it is all there is to save.
struct Recipe {
    std::string pattern;   ///< the written instructions
    std::size_t part = 0;  ///< which of the pieces that they tell, if they tell several
    int stitches = 0;      ///< cast on
    int rows = 0;          ///< worked
    bool mirrored = false;
    std::vector<FaultPlace> faults;  ///< in the order in which they were put in
    After after = After::byReading;
};

/// The instructions of that piece alone, as files keep them: as they stand, if they tell no other.
std::string instructionsOf(const Recipe& recipe);

/// A mistake that can be put in at some place, as a menu shows it.
struct FaultOffer {
    FaultPlace place;
    std::string name;
    Family family = Family::drops;
};

/// A piece on the free table: a pattern knitted to some row, perhaps with mistakes, and the hand moves done
/// since.
class FreePiece {
  public:
    /// Reads and knits a pattern. rows 0: as many as are printed. The failure is one sentence.
    static tl::expected<FreePiece, std::string> knitted(std::string pattern, int rows = 0,
                                                        bool mirrored = false);
    /// Everything anew from its recipe; moves follow with `work().resume`.
    static tl::expected<FreePiece, std::string> from(Recipe recipe);

    /// The recipe's meant cloth, and a work that was saved with its moves.
    static tl::expected<FreePiece, std::string> with(Recipe recipe, Work work);

    const Recipe& recipe() const { return recipe_; }
    const Script& script() const { return script_; }
    /// The rows of the pattern as often as she may want them.
    int mostRows() const { return 200; }
    Work& work() { return work_; }
    const Work& work() const { return work_; }
    const Fabric& meant() const { return *meant_.fabric; }

    /// The pieces that the instructions tell, by their headings; fewer than two: they tell one.
    const std::vector<std::string>& parts() const { return parts_; }
    /// Words of theirs that could be read in more than one way, and how they were.
    const std::vector<Understood>& readings() const { return readings_; }

    /// The moves that work the rest of the row in hand as the pattern says, the turn after it included. Empty
    /// where the stitches on the needles do not answer to the pattern.
    std::vector<Move> restOfRow() const;

    /// Which mistakes can happen at a stitch of the piece as it was knitted, before any hand move.
    std::vector<FaultOffer> faultsAt(LoopId loop, Terms terms) const;

    /// What her ways back are reckoned by from now on.
    void setPace(const Pace& pace);
    /// Ways back to what was meant; none when nothing is wrong. Found once for each state.
    const WaysBack& ways();
    bool isMended();

  private:
    struct Read;
    static tl::expected<Read, std::string> read(Recipe& recipe);
    FreePiece(Recipe recipe, Read read, Knitting meant, Work work);

    Recipe recipe_;
    std::vector<std::string> parts_;
    std::vector<Understood> readings_;
    Script script_;
    Knitting meant_;
    Work work_;
    Pace pace_;
    WaysBack ways_;
    bool mended_ = false;
    std::uint64_t waysOf_ = 0;
};

}  // namespace loopmend::app
