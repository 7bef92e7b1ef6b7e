// SPDX-License-Identifier: MIT
#include "pattern/advise.h"

#include "pattern/print.h"

#include <algorithm>
#include <cstdlib>
#include <optional>
#include <tuple>
#include <utility>

#include <fmt/format.h>

namespace loopmend {

namespace {

constexpr std::size_t kRowsBack = 6;
constexpr std::size_t kRowsAhead = 400;
constexpr std::size_t kMostEffort = 2'000'000;  ///< items and rows looked at for one piece of advice
constexpr int kMostDearer = 20;  ///< changes that cost so much more than the smallest are not worth a line

/// The same decrease over one stitch more (or less, read the other way).
constexpr std::pair<Op, Op> kWider[] = {
    {Op::k2tog, Op::k3tog},       {Op::ssk, Op::sssk}, {Op::skp, Op::sk2p},          {Op::p2tog, Op::p3tog},
    {Op::k2togTbl, Op::k3togTbl}, {Op::spp, Op::sp2p}, {Op::p2togTbl, Op::p3togTbl},
};

bool decrease(Op op) {
    Step step;
    step.op = op;
    return uses(step) - makes(step) > 0 && op != Op::bindOff && op != Op::bindOffPurl && op != Op::hold &&
           op != Op::passOver;
}

bool isYarnOver(const Item& item) {
    return item.kind == ItemKind::stitch &&
           (item.step.op == Op::yarnOver || item.step.op == Op::yarnOverReverse);
}

struct Change {
    int wrongUpToHere =
        0;  ///< rows that do not come out, or not to their printed count, up to the one in question
    std::size_t firstWrong = 0;  ///< behind it, the first such row; the longer all comes out the better
    int wrongRows = 0;
    int cost = 0;  ///< in tenths of a digit
    int rowsAway = 0;
    std::string words;
};

class Adviser {
  public:
    Adviser(const Pattern& pattern, const PatternCounts& counts, const std::vector<OnNeedle>& before,
            std::size_t position, bool comparesCounts)
        : pattern_(pattern),
          counts_(counts),
          before_(before),
          position_(position),
          comparesCounts_(comparesCounts) {}

    std::vector<std::string> advise(std::size_t believedUpTo, std::size_t most) {
        std::vector<std::size_t> tried;
        for (std::size_t back = 0; back <= kRowsBack && back <= position_; ++back) {
            const std::size_t at = position_ - back;
            if (back > 0 && at < believedUpTo) break;
            rowIndex_ = counts_.order.rows[at].row;
            if (!pattern_.rows[rowIndex_].sound) break;
            if (std::find(tried.begin(), tried.end(), rowIndex_) != tried.end()) continue;
            tried.push_back(rowIndex_);
            away_ = static_cast<int>(back);
            rowName_ = nameOf(pattern_.rows[rowIndex_]);
            first_ = 0;
            while (counts_.order.rows[first_].row != rowIndex_) ++first_;
            row_ = pattern_.rows[rowIndex_];
            walk(row_.items);
            lastToEnd();
            lostYarnOver();
        }
        std::stable_sort(changes_.begin(), changes_.end(), [](const Change& a, const Change& b) {
            return std::tie(a.wrongUpToHere, b.firstWrong, a.wrongRows, a.cost, a.rowsAway) <
                   std::tie(b.wrongUpToHere, a.firstWrong, b.wrongRows, b.cost, b.rowsAway);
        });
        std::vector<std::string> words;
        for (const Change& change : changes_) {
            const Change& best = changes_.front();
            const bool asGood =
                change.wrongUpToHere == best.wrongUpToHere && change.firstWrong == best.firstWrong;
            if (words.size() == most || !asGood || change.cost > best.cost + kMostDearer) break;
            if (std::find(words.begin(), words.end(), change.words) == words.end())
                words.push_back(change.words);
        }
        return words;
    }

  private:
    /// What comes out with the row as it now is, from the first time it is worked; nothing if the row in
    /// question still does not. The words are not filled in.
    std::optional<Change> outcome() {
        if (tired()) return std::nullopt;
        const std::size_t end = std::min(counts_.rows.size(), position_ + kRowsAhead);
        effort_ += row_.items.size() + end - first_;
        const RowCounts changed = countsOf(row_);
        if (changed.contradiction) return std::nullopt;
        Change change;
        change.rowsAway = away_;
        change.firstWrong = end + 1;
        OnNeedle n = before_[first_];
        const auto wrong = [&](std::size_t position) {
            ++change.wrongRows;
            if (position <= position_) {
                ++change.wrongUpToHere;
            } else {
                change.firstWrong = std::min(change.firstWrong, position);
            }
        };
        for (std::size_t i = first_; i < end; ++i) {
            const bool mine = counts_.order.rows[i].row == rowIndex_;
            const RowCounts& row = mine ? changed : counts_.rows[i];
            if (!pattern_.rows[counts_.order.rows[i].row].sound) {
                n = i + 1 < before_.size() ? before_[i + 1] : n;
                continue;
            }
            std::int64_t repeats = 0;
            if (row.open)
                repeats =
                    std::max((n.ahead - row.uses.base - row.leaves) / row.uses.perRepeat, row.leastRepeats);
            if (missesAt(row, n.ahead, repeats) != 0 || row.contradiction) {
                if (i == position_) return std::nullopt;
                wrong(i);
            }
            n = needleAfter(row, n, repeats);
            const std::optional<std::int64_t> printed = printedAfter(pattern_, counts_.order.rows[i]);
            if (comparesCounts_ && printed && *printed != n.all()) wrong(i);
        }
        const bool once = counts_.order.loopEnd == counts_.rows.size() && end == counts_.rows.size();
        if (once && counts_.order.loopFirst >= first_ && !(n == before_[counts_.order.loopFirst]))
            wrong(end);  // the pattern had better close
        return change;
    }

    static std::string nameOf(const Row& row) {
        Row bare = row;
        bare.facing.reset();
        bare.items.clear();
        const std::string text = printRow(bare);
        return text.substr(0, text.find(':'));
    }

    bool tired() const { return effort_ > kMostEffort; }

    void consider(int cost, const std::string& from, const std::string& to) {
        if (from == to) return;
        std::optional<Change> change = outcome();
        if (!change) return;
        change->cost = cost;
        change->words = to.empty() ? fmt::format("{}: leave out “{}”", rowName_, from)
                                   : fmt::format("{}: “{}” instead of “{}”", rowName_, to, from);
        changes_.push_back(std::move(*change));
    }

    template <class Number>
    void otherNumbers(const Item& item, Number& number, int least, int extraCost) {
        const Number old = number;
        const std::string from = printItem(item);
        for (int delta = -6; delta <= 6; ++delta) {
            if (delta == 0 || old + delta < least || old + delta > kLargestNumber) continue;
            number = static_cast<Number>(old + delta);
            consider(10 * std::abs(delta) + extraCost, from, printItem(item));
        }
        number = old;
    }

    void walk(std::vector<Item>& items) {
        for (std::size_t i = 0; i < items.size() && !tired(); ++i) {
            numbers(items[i]);
            swaps(items[i]);
            if (!items[i].items.empty()) walk(items[i].items);
            pairReading(items, i);
        }
        insertions(items);
        leaveOut(items);
    }

    void numbers(Item& item) {
        switch (item.kind) {
            case ItemKind::stitch:
                if (item.step.op == Op::yarnOver || item.step.op == Op::castOn ||
                    item.step.op == Op::bindOff || item.step.op == Op::bindOffPurl ||
                    item.step.op == Op::hold) {
                    otherNumbers(item, item.step.count, 1, item.step.op == Op::yarnOver ? 8 : 0);
                } else if (item.step.op == Op::knit || item.step.op == Op::purl || item.times > 1) {
                    otherNumbers(item, item.times, 1, 0);
                }
                break;
            case ItemKind::group: otherNumbers(item, item.times, 1, item.inAllUnsaid ? -5 : 0); break;
            case ItemKind::star:
            case ItemKind::run:
                if (item.until == Until::last) otherNumbers(item, item.last, 1, 0);
                break;
            default: break;
        }
    }

    void swaps(Item& item) {
        if (item.kind != ItemKind::stitch) return;
        const Op old = item.step.op;
        const std::string from = printItem(item);
        for (const auto& [narrow, wide] : kWider) {
            if (old != narrow && old != wide) continue;
            item.step.op = old == narrow ? wide : narrow;
            consider(12, from, printItem(item));
            item.step.op = old;
        }
    }

    /// `yo, k2tog twice`: the pair twice, or only the decrease?
    void pairReading(std::vector<Item>& items, std::size_t i) {
        if (i == 0 || items[i].kind != ItemKind::group || items[i].items.size() != 1 ||
            !isYarnOver(items[i - 1]))
            return;
        const std::vector<Item> old = items;
        const std::string from = printItem(items[i - 1]) + ", " + printItem(items[i]);
        items[i].items.insert(items[i].items.begin(), items[i - 1]);
        items.erase(items.begin() + static_cast<std::ptrdiff_t>(i) - 1);
        consider(5, from, printItem(items[i - 1]));
        items = old;
    }

    /// A yarn-over lost beside a decrease: the commonest misprint in lace.
    void insertions(std::vector<Item>& items) {
        for (std::size_t i = 0; i < items.size() && !tired(); ++i) {
            if (items[i].kind != ItemKind::stitch || !decrease(items[i].step.op)) continue;
            const bool yoBefore = i > 0 && isYarnOver(items[i - 1]);
            const bool yoAfter = i + 1 < items.size() && isYarnOver(items[i + 1]);
            const std::string from = printItem(items[i]);
            Item yo;
            yo.step.op = Op::yarnOver;
            if (!yoBefore) insert(items, i, yo, yoAfter ? 25 : 15, from, "yo, " + from);
            if (!yoAfter) insert(items, i + 1, yo, yoBefore ? 25 : 15, from, from + ", yo");
        }
    }

    /// `sl1, purl.`: one purl stitch, or all of them?
    void lastToEnd() {
        if (row_.items.empty() || countsOf(row_).open) return;
        Item& last = row_.items.back();
        const bool one = last.kind == ItemKind::stitch && last.times == 1 &&
                         (last.step.op == Op::knit || last.step.op == Op::purl);
        if (!one) return;
        const std::string from = printItem(last);
        last.kind = ItemKind::run;
        consider(11, from, printItem(last));
        last.kind = ItemKind::stitch;
    }

    /// One that was lost anywhere else: the words cannot say where, only whether it stood in the repeat.
    void lostYarnOver() {
        Item yo;
        yo.step.op = Op::yarnOver;
        const auto tryIn = [&](std::vector<Item>& items, std::string_view where) {
            items.push_back(yo);
            std::optional<Change> change = outcome();
            items.pop_back();
            if (!change) return;
            change->cost = 20;
            change->words = fmt::format("{}: one yarn-over more{}", rowName_, where);
            changes_.push_back(std::move(*change));
        };
        const auto star = std::find_if(row_.items.begin(), row_.items.end(),
                                       [](const Item& item) { return item.kind == ItemKind::star; });
        if (star != row_.items.end()) tryIn(star->items, " in the repeat");
        tryIn(row_.items, star != row_.items.end() ? " outside the repeat" : "");
    }

    void insert(std::vector<Item>& items, std::size_t at, const Item& item, int cost, const std::string& from,
                const std::string& to) {
        items.insert(items.begin() + static_cast<std::ptrdiff_t>(at), item);
        consider(cost, from, to);
        items.erase(items.begin() + static_cast<std::ptrdiff_t>(at));
    }

    void leaveOut(std::vector<Item>& items) {
        if (items.size() < 2) return;
        for (std::size_t i = 0; i < items.size() && !tired(); ++i) {
            if (items[i].kind != ItemKind::stitch) continue;
            Item old = items[i];
            items.erase(items.begin() + static_cast<std::ptrdiff_t>(i));
            const auto here = items.begin() + static_cast<std::ptrdiff_t>(i);
            consider(isYarnOver(old) ? 18 : 22, printItem(old), "");
            items.insert(here, std::move(old));
        }
    }

    const Pattern& pattern_;
    const PatternCounts& counts_;
    const std::vector<OnNeedle>& before_;
    std::size_t position_;
    bool comparesCounts_;
    std::size_t rowIndex_ = 0;
    std::size_t first_ = 0;  ///< where the row tried is first worked
    std::size_t effort_ = 0;
    int away_ = 0;
    std::string rowName_;
    Row row_;
    std::vector<Change> changes_;
};

}  // namespace

std::vector<std::string> smallestChanges(const Pattern& pattern, const PatternCounts& counts,
                                         const std::vector<OnNeedle>& before, std::size_t believedUpTo,
                                         std::size_t position, bool comparesCounts, std::size_t most) {
    return Adviser(pattern, counts, before, position, comparesCounts).advise(believedUpTo, most);
}

}  // namespace loopmend
