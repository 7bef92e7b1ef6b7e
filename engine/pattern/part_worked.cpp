// SPDX-License-Identifier: MIT
// `K10, cast on 4, work in pattern to end`: a row that works a part of the pattern's next row, stitch over
// stitch.
#include "pattern/reader.h"

#include "pattern/part_of_row.h"

#include <algorithm>
#include <utility>

namespace loopmend {

/// So many stitches of the pattern's next row, or those up to the last ones of the row. Words with a number
/// go by what was worked before them in the row, the others by what is left.
bool Reader::patternPart(std::size_t start, std::optional<int> n, int last, std::vector<Item>& out) {
    if (depth_ > 0 || established_.kind != Established::Kind::rows) return false;
    Standing now = standing();
    if (headSide_ && !now.round) now.side = *headSide_;
    if (!now.stitches || *now.stitches > kLargestNumber || usesOf(out) < 0) return false;
    if (!beginShapedPattern(now, start)) return false;
    const auto row = establishedRow(now, established_.stitches);
    if (!row) return false;
    const bool rightFirst = now.round || now.side == Facing::right;
    const int gone = rightFirst ? established_.goneRight : established_.goneLeft;
    const int goneAtEnd = rightFirst ? established_.goneLeft : established_.goneRight;
    const int before = static_cast<int>(std::min<std::int64_t>(usesOf(out), kLargestNumber));
    const int to = n ? gone + before + *n : established_.stitches - goneAtEnd - last;
    const int from = n ? gone + before : to - (static_cast<int>(*now.stitches) - before - last);
    if (from > to) return false;
    const auto part = partOfRow(*row, from, to);
    if (!part) return false;
    for (Item& item : itemsOf(*part)) {
        item.place = placeFrom(start);
        out.push_back(std::move(item));
    }
    if (!partAt_) partAt_ = std::pair(out.size(), rightFirst);
    understood(start, "part of pattern",
               "what is worked in pattern keeps its place in it, stitch over stitch, from the rows before");
    return true;
}

/// The row is whole: what it took away or added before and behind that part is gone from the pattern's edges.
void Reader::partWorked(const Row& row) {
    const auto part = std::exchange(partAt_, std::nullopt);
    if (!part) return;
    const auto change = [](auto begin, auto end) {
        const std::vector<Item> items(begin, end);
        return static_cast<int>(
            std::clamp<std::int64_t>(usesOf(items) - makesOf(items), -kLargestNumber, kLargestNumber));
    };
    const auto middle =
        row.items.begin() + static_cast<std::ptrdiff_t>(std::min(part->first, row.items.size()));
    const int begun = change(row.items.begin(), middle);
    const int ended = change(middle, row.items.end());
    (part->second ? established_.goneRight : established_.goneLeft) += begun;
    (part->second ? established_.goneLeft : established_.goneRight) += ended;
    ++established_.worked;
    established_.since = out_.rows.size() + 1;
}

}  // namespace loopmend
