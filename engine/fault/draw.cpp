// SPDX-License-Identifier: MIT
#include "fault/draw.h"

#include <algorithm>

#include "fault/side_by_side.h"
#include "fault/steps.h"

namespace loopmend {

std::uint64_t Seeded::next() {
    state_ += 0x9E3779B97F4A7C15ULL;
    std::uint64_t z = state_;
    z = (z ^ (z >> 30U)) * 0xBF58476D1CE4E5B9ULL;
    z = (z ^ (z >> 27U)) * 0x94D049BB133111EBULL;
    return z ^ (z >> 31U);
}

int Seeded::below(int n) {
    const auto range = static_cast<std::uint64_t>(std::max(n, 1));
    // The first numbers that would make the small remainders more frequent are thrown again.
    const std::uint64_t reject = (0 - range) % range;
    std::uint64_t thrown = next();
    while (thrown < reject) thrown = next();
    return static_cast<int>(thrown % range);
}

namespace {

bool isWantedRow(const Wanted& wanted, int rows, int row) {
    return row >= wanted.rowFrom && row <= (wanted.rowTo > 0 ? wanted.rowTo : rows);
}

bool isWanted(const Wanted& wanted, int rows, int inRow, int row, int stitch, int width) {
    if (!isWantedRow(wanted, rows, row)) return false;
    const int last = stitch + width - 1;
    if (wanted.atEdge && stitch != 1 && last != inRow) return false;
    return stitch > wanted.clearOfEdges && last <= inRow - wanted.clearOfEdges;
}

}  // namespace

std::vector<FaultPlace> placesFor(const Fault& fault, const Script& script, const Setup& setup,
                                  const Wanted& wanted) {
    std::vector<FaultPlace> places;
    const int rows = static_cast<int>(script.rows.size());
    if (fault.misread()) {
        for (int row = 1; row <= rows; ++row) {
            const WorkedRow& words = script.rows[static_cast<std::size_t>(row) - 1];
            const int inRow = stitchesIn(words);
            int stitch = 1;
            for (int i = 0; i < static_cast<int>(words.steps.size()); ++i) {
                const int width = stitchesOf(words.steps[static_cast<std::size_t>(i)]);
                if (width > 0 && fault.canRead({script, row, i, 0}) &&
                    (fault.wholeRow ? isWantedRow(wanted, rows, row)
                                    : isWanted(wanted, rows, inRow, row, stitch, width)))
                    places.push_back({std::string(fault.id), row, stitch, 0});
                stitch += width;
            }
        }
        return places;
    }
    if (fault.suffered()) {
        SideBySide both(script, setup, After::byReading);
        while (!both.done()) {
            if (!both.workRow()) return places;
        }
        both.split();
        for (int row = 1; row <= rows; ++row) {
            const WorkedRow& words = script.rows[static_cast<std::size_t>(row) - 1];
            const int inRow = stitchesIn(words);
            if (!fault.runs && !fault.inCloth && row != rows) continue;
            for (int stitch = 1; stitch <= inRow; ++stitch) {
                if (!isWanted(wanted, rows, inRow, row, stitch, 1)) continue;
                const FaultPlace place{std::string(fault.id), row, stitch, 0};
                const SideBySide::Mark before = both.mark();
                if (both.suffer({&fault, place, 0})) places.push_back(place);
                both.rollBack(before);
            }
        }
        return places;
    }
    Knitting knitting = castOn(script, setup);
    for (int r = 1; r <= rows; ++r) {
        const WorkedRow& row = script.rows[static_cast<std::size_t>(r) - 1];
        const int inRow = stitchesIn(row);
        RowWork work(knitting.knitter);
        int stitch = 1;
        for (int i = 0; i < static_cast<int>(row.steps.size()); ++i) {
            const Step& step = row.steps[static_cast<std::size_t>(i)];
            const int width = stitchesOf(step);
            const int each = fault.anyStitch ? 1 : std::max(width, 1);
            for (int k = 0; k < width && !takesLoopLeft(row, i); k += each) {
                const Spot spot{row, i, knitting.knitter, k};
                if (isWanted(wanted, rows, inRow, r, stitch + k, each) && fault.standsOn(spot))
                    places.push_back({std::string(fault.id), r, stitch + k, 0});
            }
            stitch += width;
            if (!work.work(step)) return places;
        }
        endRow(knitting.knitter, row);
    }
    return places;
}

std::optional<FaultPlace> drawPlace(std::uint64_t seed, const Fault& fault, const Script& script,
                                    const Setup& setup, const Wanted& wanted) {
    const std::vector<FaultPlace> places = placesFor(fault, script, setup, wanted);
    if (places.empty()) return std::nullopt;
    Seeded dice(seed);
    return places[static_cast<std::size_t>(dice.below(static_cast<int>(places.size())))];
}

}  // namespace loopmend
