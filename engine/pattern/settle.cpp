// SPDX-License-Identifier: MIT
#include "pattern/settle.h"

#include "pattern/counts.h"

#include <algorithm>
#include <utility>

namespace loopmend {

namespace {

constexpr std::size_t kRowsAhead = 12;
constexpr std::size_t kMostDoubts = 16;  ///< in one row

enum class Doubt : std::uint8_t { inAll, twice, forward, toEnd };

/// Where in a row: which item of which item ...
using Path = std::vector<std::size_t>;

struct Doubtful {
    Doubt doubt = Doubt::inAll;
    Path path;
};

void collect(const std::vector<Item>& items, Path& path, std::vector<Doubtful>& out) {
    for (std::size_t i = 0; i < items.size(); ++i) {
        const Item& item = items[i];
        path.push_back(i);
        if (item.kind == ItemKind::group && item.inAllUnsaid && item.times > 1)
            out.push_back({Doubt::inAll, path});
        if (item.kind == ItemKind::group && item.bareTimes && i > 0 &&
            items[i - 1].kind == ItemKind::stitch && items[i - 1].step.op == Op::yarnOver)
            out.push_back({Doubt::twice, path});
        if (item.bareToEnd && item.items.size() > 1) out.push_back({Doubt::toEnd, path});
        if (item.yarnForward) out.push_back({Doubt::forward, path});
        if (!item.items.empty() && out.size() < kMostDoubts) collect(item.items, path, out);
        path.pop_back();
    }
}

/// The list in which the item at a path stands.
std::vector<Item>& listAt(std::vector<Item>& items, const Path& path) {
    std::vector<Item>* list = &items;
    for (std::size_t i = 0; i + 1 < path.size(); ++i) list = &(*list)[path[i]].items;
    return *list;
}

/// The row with the other reading.
Row otherwise(const Row& row, const Doubtful& doubtful) {
    Row other = row;
    std::vector<Item>& list = listAt(other.items, doubtful.path);
    const std::size_t i = doubtful.path.back();
    Item& item = list[i];
    switch (doubtful.doubt) {
        case Doubt::inAll: item.times = std::min(item.times + 1, kLargestNumber); break;
        case Doubt::twice:
            item.items.insert(item.items.begin(), list[i - 1]);
            item.bareTimes = false;
            item.place.begin = list[i - 1].place.begin;
            item.place.line = list[i - 1].place.line;
            item.place.column = list[i - 1].place.column;
            list.erase(list.begin() + static_cast<std::ptrdiff_t>(i) - 1);
            break;
        case Doubt::toEnd: {
            std::vector<Item> once(item.items.begin(), item.items.end() - 1);
            item.items.erase(item.items.begin(), item.items.end() - 1);
            item.bareToEnd = false;
            item.place.begin = item.items.front().place.begin;
            item.place.line = item.items.front().place.line;
            item.place.column = item.items.front().place.column;
            list.insert(list.begin() + static_cast<std::ptrdiff_t>(i), once.begin(), once.end());
            break;
        }
        case Doubt::forward: {
            item.yarnForward = false;
            if (item.step.op == Op::slipPurlwiseFront) item.step.op = Op::slipPurlwiseBack;
            if (item.step.op == Op::slipKnitwiseFront) item.step.op = Op::slipKnitwiseBack;
            Item over;
            over.step.op = Op::yarnOver;
            over.step.yarn = item.step.yarn;
            over.place = item.place;
            list.insert(list.begin() + static_cast<std::ptrdiff_t>(i), over);
            break;
        }
    }
    return other;
}

class Settler {
  public:
    explicit Settler(Pattern& pattern) : pattern_(pattern) {}

    void work() {
        std::vector<bool> doubtful(pattern_.rows.size());
        bool any = false;
        for (std::size_t i = 0; i < pattern_.rows.size(); ++i) {
            if (!pattern_.rows[i].sound) continue;
            std::vector<Doubtful> found;
            Path path;
            collect(pattern_.rows[i].items, path, found);
            doubtful[i] = !found.empty();
            any = any || doubtful[i];
        }
        if (!any) return;
        order_ = rowOrder(pattern_);
        counts_.resize(pattern_.rows.size());
        for (std::size_t i = 0; i < pattern_.rows.size(); ++i) counts_[i] = countsOf(pattern_.rows[i]);
        begin();
        for (std::size_t position = 0; position < order_.rows.size(); ++position) {
            const std::size_t row = order_.rows[position].row;
            if (doubtful[row]) {
                doubtful[row] = false;
                settleRow(position);
            }
            forward(position);
        }
    }

  private:
    /// The stitches before the first row.
    void begin() {
        if (pattern_.castOn) {
            needle_ = {*pattern_.castOn, 0};
            known_ = true;
        } else if (pattern_.multiple) {
            needle_ = {4 * std::int64_t{pattern_.multiple->of} + pattern_.multiple->plus, 0};
            known_ = true;
        }
    }

    /// Works the row at a position.
    void forward(std::size_t position) {
        const OrderedRow& ordered = order_.rows[position];
        const RowCounts& row = counts_[ordered.row];
        const std::optional<std::int64_t> printed = printedAt(position);
        if (!pattern_.rows[ordered.row].sound) {
            known_ = printed.has_value();
        } else if (known_) {
            needle_ = needleAfter(row, needle_, nearestRepeats(row, needle_.ahead));
            needle_.ahead = std::max<std::int64_t>(needle_.ahead, 0);
        } else if (!row.open && !row.turns) {
            needle_ = {row.makes.base, 0};
            known_ = true;
        }
        if (printed) {
            needle_ = {std::max<std::int64_t>(*printed - needle_.behind, 0), needle_.behind};
            known_ = true;
        }
    }

    std::optional<std::int64_t> printedAt(std::size_t position) const {
        return printedAfter(pattern_, order_.rows[position]);
    }

    /// Rows from a position on that come out with its row read as these counts say.
    std::size_t fits(std::size_t position, const RowCounts& changed) const {
        if (changed.contradiction) return 0;
        OnNeedle n = needle_;
        if (!known_) {
            if (changed.open || changed.turns) return 0;
            n = {changed.uses.base, 0};
        }
        const std::size_t mine = order_.rows[position].row;
        std::size_t rows = 0;
        for (std::size_t i = position; i < order_.rows.size() && rows < kRowsAhead; ++i) {
            const std::size_t index = order_.rows[i].row;
            if (!pattern_.rows[index].sound) break;
            const RowCounts& row = index == mine ? changed : counts_[index];
            const std::int64_t repeats = nearestRepeats(row, n.ahead);
            if (missesAt(row, n.ahead, repeats) != 0) break;
            n = needleAfter(row, n, repeats);
            const std::optional<std::int64_t> printed = printedAt(i);
            if (printed && *printed != n.all()) break;
            ++rows;
        }
        return rows;
    }

    void settleRow(std::size_t position) {
        Row& row = pattern_.rows[order_.rows[position].row];
        RowCounts& counts = counts_[order_.rows[position].row];
        for (const Doubt doubt : {Doubt::inAll, Doubt::twice, Doubt::forward, Doubt::toEnd}) {
            std::vector<Doubtful> found;
            Path path;
            collect(row.items, path, found);
            found.erase(std::remove_if(found.begin(), found.end(),
                                       [&](const Doubtful& one) { return one.doubt != doubt; }),
                        found.end());
            if (found.empty()) continue;
            const Place place = listAt(row.items, found.front().path)[found.front().path.back()].place;
            const std::size_t usual = fits(position, counts);
            // One of them, or all of them: words of one row mean the same thing each time.
            std::vector<Row> readings;
            Row all = row;
            for (std::size_t i = found.size(); i-- > 0;) {
                readings.push_back(otherwise(row, found[i]));
                all = otherwise(all, found[i]);
            }
            if (found.size() > 1) readings.insert(readings.begin(), all);
            std::size_t best = usual;
            std::size_t which = readings.size();
            for (std::size_t i = 0; i < readings.size(); ++i) {
                const std::size_t rows = fits(position, countsOf(readings[i]));
                if (rows > best) {
                    best = rows;
                    which = i;
                }
            }
            const bool other = which < readings.size();
            tell(doubt, position, place, other, usual);
            if (!other) continue;
            row.items = std::move(readings[which].items);
            counts = countsOf(row);
        }
    }

    void tell(Doubt doubt, std::size_t position, const Place& place, bool other, std::size_t usual) {
        const auto kind = static_cast<std::size_t>(doubt) * 2 + (other ? 1 : 0);
        if (told_[kind]) return;
        told_[kind] = true;
        std::string message;
        switch (doubt) {
            case Doubt::inAll:
                message = other ? "so many times more, one more in all, since so the rows come out"
                                : "so many times in all, as most books mean it";
                break;
            case Doubt::twice:
                message = other ? "the yarn-over is worked each time too, since so the rows come out"
                                : "the yarn-over is made once; only what stands right before the number is "
                                  "worked again";
                break;
            case Doubt::toEnd:
                message = other
                              ? "only what stands right before it is repeated to the end, since so the rows "
                                "come out"
                              : "all of it is repeated to the end";
                break;
            case Doubt::forward:
                message = other ? "a yarn-over, since so the rows come out"
                                : "before a purl or a slip the yarn is only moved";
                break;
        }
        if (!other) message += usual > 0 ? "; so the rows come out" : "; in some books it is the other way";
        pattern_.understood.push_back({order_.rows[position].printed, place.line, place.column,
                                       wordsAt(pattern_, place), std::move(message)});
    }

    Pattern& pattern_;
    RowOrder order_;
    std::vector<RowCounts> counts_;  ///< by row
    OnNeedle needle_;
    bool known_ = false;
    bool told_[8] = {};
};

}  // namespace

void settle(Pattern& pattern) {
    Settler(pattern).work();
}

}  // namespace loopmend
