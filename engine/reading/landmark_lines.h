// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <vector>

#include "reading/columns.h"
#include "reading/landmarks.h"

/// How places are joined into lines, and when a line counts as broken. Only the finding of landmarks includes
/// this.
namespace loopmend::lines {

using Place = Columns::Place;
inline constexpr Place kNone = Columns::kNone;
inline constexpr int kFarthest = 24;  ///< rows between two places of one line

/// A stretch of a line without a gap: places from below up.
struct Line {
    std::vector<Place> places;
    int rowFrom = 0;
    int rowTo = 0;
    int period = 0;  ///< rows from the last place but one to the last; 0 if there is one place
    std::vector<LineBreak> breaks;
    bool gone = false;  ///< part of the line below it
};

/// Joins each place to the one below it (`prev`, kNone: none) into lines, in the order of their lowest
/// places.
std::vector<Line> linesOf(const Columns& c, const std::vector<Place>& nodes, const std::vector<Place>& prev);

/// Sisters: lines that began in the same row and have gone the same way since, as repeats of one pattern do.
/// What most of them do is the pattern; what one of them does alone is a break.
class Sisters {
  public:
    Sisters(const Columns& c, const std::vector<Line>& lines);

    struct Next {
        int lines = 0;  ///< that came the same way, the asked one included
        int goOn = 0;   ///< of them within `gap` rows
        /// Two are no majority.
        bool most() const { return lines > 2 && goOn * 2 > lines; }
    };
    Next next(std::size_t line, std::size_t place, int gap) const;

  private:
    struct Step {
        std::uint64_t way;
        int gap;
    };
    std::vector<std::vector<std::uint64_t>> ways_;
    std::vector<Step> all_;
};

/// The column in which a place's stitch stands some rows up, as far as it can be followed.
int columnAt(const Columns& c, Place p, int row);
/// The same with its stitch.
LineBreak breakAt(const Columns& c, Place from, int row);

/// A line that passes over a row in which most of its sisters go on.
void markGaps(const Columns& c, std::vector<Line>& lines, const Sisters& sisters);

/// A line that ends, and one that begins a step aside where it should have gone on: one broken line. jumps:
/// it may also do so together with its sisters, in the very next row of the pattern.
void joinBroken(const Columns& c, std::vector<Line>& lines, const Sisters& sisters, bool jumps);

/// Lines of at least so many places, and broken ones.
void emit(const Columns& c, LandmarkKind kind, const std::vector<Line>& lines, std::size_t least,
          std::vector<Landmark>& out);
/// Fills in `breaksAt`, in order, each row once.
void setBreaks(Landmark& mark, std::vector<LineBreak> breaks);

// The kinds, each family in a file of its own.
void findSpines(const Columns& c, std::vector<Landmark>& out);
void findEyelets(const Columns& c, std::vector<Landmark>& out);
void findDecreases(const Columns& c, std::vector<Landmark>& out);
void findEyeletRows(const Columns& c, std::vector<Landmark>& out);
void findRibs(const Columns& c, std::vector<Landmark>& out);
void findCables(const Columns& c, std::vector<Landmark>& out);
void findRidges(const Columns& c, const Reading& reading, std::vector<Landmark>& out);
void findEdges(const Reading& reading, std::vector<Landmark>& out);
void findColours(const Columns& c, const Reading& reading, std::vector<Landmark>& out);
void findTurns(const Reading& reading, std::vector<Landmark>& out);

}  // namespace loopmend::lines
