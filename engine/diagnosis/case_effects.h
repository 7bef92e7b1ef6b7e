// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstdint>
#include <deque>
#include <memory>
#include <string>
#include <unordered_map>
#include <vector>

#include "diagnosis/case_cloth.h"
#include "fault/fault.h"
#include "fault/place.h"
#include "reading/answer.h"

/// What a mistake does to the cloth about it: found by making it in a small window of the very rows that were
/// meant, never written down. Windows that read the same are knitted once.
namespace loopmend {

/// One odd place. Rows against the row of the mistake, columns against the column of the mistake as it goes
/// up and down (CaseCloth::follow).
struct EffectOdd {
    std::int8_t row = 0;
    std::int8_t above = 0;  ///< its column is told in a row so many above (feet are seen under their stitch)
    std::int16_t column = 0;
    OddSign sign = OddSign::other;  ///< as the right side shows it
    bool onRight = true;
    bool onWrong = true;
};

struct CaseEffect {
    bool can = false;              ///< it can happen there
    bool whole = false;            ///< the window reached up to the needle
    bool goesOn = false;           ///< still odd in the topmost rows of the window
    std::int8_t rows = 0;          ///< rows of the window above that of the mistake
    std::int8_t moreRows = 0;      ///< rows of the cloth against those that were meant
    std::int8_t bothEnds = 0;      ///< rows up the right edge against the left one
    std::vector<EffectOdd> odds;   ///< by row, then by column
    std::vector<EffectOdd> free;   ///< stitches that stand free
    std::vector<EffectOdd> slack;  ///< long bars
    std::vector<std::int8_t> off;  ///< stitches too many (below 0: lacking) after each row, from its own on
    std::vector<std::int8_t> counted;  ///< the same as one counts them: what came out is missing
    std::int8_t countedBelow = 0;      ///< in the row under it (a yarn-over lost on the way back)
    std::int8_t fits = 0;  ///< stitches too many for the next row, if the window reaches the needle
    /// Where the count is off: right after the mistake, stitches too many (below 0: lacking) of what is still
    /// to be worked, and of what is worked; and the stitch that lacks: so many on from it, as worked.
    bool counts = false;  ///< these are known
    std::int8_t left = 0;
    std::int8_t made = 0;
    std::int8_t lacking = 0;
    std::int16_t reach = 0;  ///< columns to either side, at most
    /// It goes along its row to the end: columns from that of the mistake on for which the window speaks (as
    /// the row is worked; `aside`: to either side); 0: it does not.
    std::int16_t along = 0;
    /// What was worked by count after it stands over other stitches: to either side, as each row was worked.
    bool aside = false;
    bool across = false;                              ///< the window was as wide as the cloth
    std::array<std::int32_t, 2> plainest = {-1, -1};  ///< of `odds`, the one seen first from either side
    std::int8_t topmost = 0;                          ///< row of the last of them
    bool inRows = true;                               ///< all three lists go up row by row
    /// Of `CaseEffects::Part::above`: by row, where its odd places begin; one more at the end.
    std::vector<std::int32_t> oddFrom;
    std::uint64_t looks = 0;  ///< the same for mistakes that no look tells apart here
};

class CaseEffects {
  public:
    /// What of a mistake is looked for.
    enum class Part : std::uint8_t {
        all,    ///< what it does about itself, and up from there
        near,   ///< the same, where it is known to do nothing further away
        row,    ///< of a row begun twice: the rows that she then had more, ...
        above,  ///< ... and, all along, the rows above those: columns of `odds` are the cloth's own
        end,    ///< what comes of it at the end of the row: told from that edge
    };
    /// Effect number of a fault done at a stitch of a step (from 0), with that way of going on.
    int find(const CaseCloth& cloth, const Setup& setup, const Fault& fault, int faultNumber, After after,
             int row, int step, int stitch, Part part = Part::all);
    const CaseEffect& at(int number) const { return effects_[static_cast<std::size_t>(number)]; }
    /// Windows knitted so far.
    int count() const { return static_cast<int>(effects_.size()); }

    /// How far a window for that fault goes.
    static CaseCloth::Size sizeFor(const CaseCloth& cloth, const Fault& fault, After after, int row,
                                   Part part);
    static constexpr int kEnd = 20;           ///< stitches to the end of the row, where that is made, ...
    static constexpr int kEndRows = 4;        ///< ... and rows above
    static constexpr int kRowsBelow = 26;     ///< that a window goes down at most
    static constexpr int kMore = 2;           ///< rows that she has more if a row is begun twice
    static constexpr int kWidestTried = 216;  ///< stitches aside, of what can be done in no narrower window
    static constexpr int kDeepest = 12;       ///< runs are made this deep at most

  private:
    /// A window as it was meant, for all the mistakes that are made in it one after another.
    struct Meant;
    static constexpr std::size_t kKept = 16;  ///< windows kept so
    const Meant& meantOf(const CaseCloth::Window& window, const Setup& setup, const Knitting& meant,
                         int rows);
    CaseEffect make(const CaseCloth::Window& window, const Setup& setup, const Fault& fault, After after,
                    int stitch, Part part);

    std::unordered_map<std::uint64_t, int> known_;
    std::deque<CaseEffect> effects_;  ///< what was handed out stays where it is
    std::deque<std::shared_ptr<const Meant>> meant_;
};

}  // namespace loopmend
