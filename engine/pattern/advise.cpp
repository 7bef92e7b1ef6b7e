// SPDX-License-Identifier: MIT
#include "pattern/advise.h"

#include "pattern/edits.h"
#include "pattern/likeness.h"
#include "pattern/print.h"
#include "pattern/reword.h"

#include <algorithm>
#include <optional>
#include <string>
#include <string_view>
#include <tuple>
#include <utility>

#include <fmt/format.h>

namespace loopmend {

namespace {

constexpr std::size_t kRowsAhead = 400;
constexpr std::size_t kMostEffort = 2'000'000;  ///< items and rows looked at for one piece of advice
constexpr std::size_t kMostWords = 300;         ///< in a row that is searched
constexpr std::size_t kMostWeighed = 600;       ///< changes whose likeness is looked at
constexpr int kGrows = 4;      ///< price of a piece that ends with other stitches than it began with
constexpr int kSamePlace = 4;  ///< price of each change shown already for the same word
constexpr int kRowAway = 1;    ///< price of a row between the misprint and where it shows

/// What comes of a change.
struct Outcome {
    bool works = false;          ///< the row in question comes out
    int wrongUpToHere = 0;       ///< rows that do not come out, or not to their printed count, up to that row
    std::size_t firstWrong = 0;  ///< behind it, the first such row; the longer all comes out the better
    int wrongRows = 0;
    bool grows = false;        ///< ends with other stitches than it began with
    bool oneSizeOnly = false;  ///< at one more repeat of the stated multiple it would not come out

    auto rank() const { return std::tuple(wrongUpToHere, ~firstWrong, wrongRows, oneSizeOnly); }
};

struct Found {
    Outcome outcome;
    std::size_t row = 0;
    Row words;
    int price = 0;
    int away = 0;
    int departs = 0;
    std::string said;  ///< the change, if not to be found by comparing the rows
};

class Search {
  public:
    Search(const Pattern& pattern, const PatternCounts& counts, const std::vector<OnNeedle>& before,
           const Misfit& misfit)
        : pattern_(pattern),
          counts_(counts),
          before_(before),
          misfit_(misfit),
          words_(pattern),
          likeness_(pattern, counts.order) {
        end_ = std::min(counts_.rows.size(), misfit_.position + kRowsAhead);
        otherSize();
    }

    std::vector<Repair> work() {
        std::vector<bool> tried(pattern_.rows.size());
        for (std::size_t back = 0; back <= misfit_.position; ++back) {
            const std::size_t at = misfit_.position - back;
            if (back > 0 && at < misfit_.believedUpTo) break;
            rowIndex_ = counts_.order.rows[at].row;
            if (!pattern_.rows[rowIndex_].sound) break;
            if (tried[rowIndex_]) continue;
            tried[rowIndex_] = true;
            tryRow(static_cast<int>(back));
            if (effort_ > kMostEffort) break;
        }
        return best();
    }

    std::vector<Repair> reword() {
        rowIndex_ = counts_.order.rows[misfit_.position].row;
        first_ = misfit_.position;
        eachRewording(pattern_, rowIndex_, words_, [&](const Row& row, int price, const std::string& said) {
            const Outcome& outcome = outcomeOf(countsOf(row));
            if (!outcome.works) return Tried::no;
            found_.push_back({outcome, rowIndex_, row, price, 0, 0, said});
            return Tried::fits;
        });
        return best();
    }

  private:
    /// The needle before each row at one more repeat of the stated multiple, as far as the rows come out.
    void otherSize() {
        if (!pattern_.multiple || before_.empty()) return;
        const std::int64_t of = pattern_.multiple->of;
        const std::int64_t n = before_.front().ahead;
        if (of <= 0 || n < pattern_.multiple->plus || (n - pattern_.multiple->plus) % of != 0) return;
        OnNeedle needle{n + of, 0};
        for (const RowCounts& row : counts_.rows) {
            larger_.push_back(needle);
            const std::int64_t repeats = nearestRepeats(row, needle.ahead);
            if (row.contradiction || missesAt(row, needle.ahead, repeats) != 0) return;
            needle = needleAfter(row, needle, repeats);
        }
    }

    void tryRow(int away) {
        first_ = 0;
        while (counts_.order.rows[first_].row != rowIndex_) ++first_;
        known_.clear();
        Row row = pattern_.rows[rowIndex_];
        const std::size_t size = sizeOf(row.items);
        if (size > kMostWords) return;
        eachEdit(row, before_[first_].ahead, words_, [&](int price) {
            effort_ += size;
            if (effort_ > kMostEffort) return Tried::enough;
            const Outcome& outcome = outcomeOf(countsOf(row));
            if (!outcome.works) return Tried::no;
            if (!found_.empty() && outcome.wrongUpToHere > leastWrong_) return Tried::fits;
            effort_ += 4 * size;
            leastWrong_ =
                found_.empty() ? outcome.wrongUpToHere : std::min(leastWrong_, outcome.wrongUpToHere);
            found_.push_back({outcome, rowIndex_, row, price, away, 0, {}});
            return Tried::fits;
        });
    }

    static std::size_t sizeOf(const std::vector<Item>& items) {
        std::size_t n = items.size();
        for (const Item& item : items) n += sizeOf(item.items);
        return n;
    }

    /// What the rows do after a row that uses and makes so much; followed once for each such difference.
    const Outcome& outcomeOf(const RowCounts& changed) {
        const auto same = [&](const RowCounts& a) {
            return a.uses == changed.uses && a.makes == changed.makes && a.turns == changed.turns &&
                   a.leaves == changed.leaves && a.leastRepeats == changed.leastRepeats &&
                   a.open == changed.open;
        };
        static constexpr Outcome kNone;
        if (changed.contradiction) return kNone;
        for (const auto& [row, outcome] : known_)
            if (same(row)) return outcome;
        Outcome outcome = follow(changed, before_[first_], end_, misfit_.comparesCounts);
        if (outcome.works && first_ < larger_.size()) {
            const Outcome larger = follow(changed, larger_[first_], counts_.rows.size(), false);
            outcome.oneSizeOnly = !larger.works || larger.wrongRows > outcome.wrongRows;
        }
        known_.emplace_back(changed, outcome);
        return known_.back().second;
    }

    Outcome follow(const RowCounts& changed, OnNeedle n, std::size_t end, bool comparesCounts) {
        Outcome outcome;
        outcome.firstWrong = end + 1;
        OnNeedle atLoop = n;
        const auto wrong = [&](std::size_t position) {
            ++outcome.wrongRows;
            if (position <= misfit_.position) {
                ++outcome.wrongUpToHere;
            } else {
                outcome.firstWrong = std::min(outcome.firstWrong, position);
            }
        };
        for (std::size_t i = first_; i < end; ++i) {
            const bool mine = counts_.order.rows[i].row == rowIndex_;
            const RowCounts& row = mine ? changed : counts_.rows[i];
            if (i == counts_.order.loopFirst) atLoop = n;
            if (!mine && !pattern_.rows[counts_.order.rows[i].row].sound) {
                n = i + 1 < before_.size() ? before_[i + 1] : n;
                continue;
            }
            ++effort_;
            std::int64_t repeats = 0;
            if (row.open)
                repeats =
                    std::max((n.ahead - row.uses.base - row.leaves) / row.uses.perRepeat, row.leastRepeats);
            if (row.contradiction || missesAt(row, n.ahead, repeats) != 0) {
                if (i == misfit_.position || i == first_) return outcome;
                wrong(i);
            }
            n = needleAfter(row, n, repeats);
            const std::optional<std::int64_t> printed = printedAfter(pattern_, counts_.order.rows[i]);
            if (comparesCounts && printed && *printed != n.all()) {
                if (i == misfit_.position) return outcome;
                wrong(i);
            }
        }
        outcome.works = true;
        const bool once = counts_.order.loopEnd == end && end == counts_.rows.size();
        if (once && counts_.order.loopFirst >= first_ && !(n == atLoop)) {
            // Rows that are to be repeated had better end with the stitches they began with; others may.
            if (counts_.order.loopPrinted) wrong(end);
            outcome.grows = true;
        }
        return outcome;
    }

    std::vector<Repair> best() {
        // The longest that comes out first; of those, the cheapest misprints are looked at more closely.
        std::stable_sort(found_.begin(), found_.end(), [](const Found& a, const Found& b) {
            return std::tuple(a.outcome.rank(), a.price + kRowAway * a.away) <
                   std::tuple(b.outcome.rank(), b.price + kRowAway * b.away);
        });
        if (found_.size() > kMostWeighed) found_.resize(kMostWeighed);
        while (!found_.empty() && found_.back().outcome.rank() != found_.front().outcome.rank())
            found_.pop_back();
        for (Found& found : found_)
            found.departs = likeness_.departs(found.row, found.words) -
                            likeness_.departs(found.row, pattern_.rows[found.row]);
        std::vector<Repair> repairs;
        for (const auto& [price, found] : distinct()) {
            if (repairs.size() == misfit_.most) break;
            const Row& old = pattern_.rows[found->row];
            std::string words = found->said.empty() ? changeWords(old, found->words)
                                                    : fmt::format("{}: {}", nameOf(old), found->said);
            repairs.push_back({found->row, std::move(found->words), price, std::move(words)});
        }
        return repairs;
    }

    static int total(const Found& found) {
        return found.price + kRowAway * found.away + found.departs + (found.outcome.grows ? kGrows : 0);
    }

    /// Changes that are not worked alike, best first. A short list had better name several places than one
    /// place with every word that might stand there, so each further one there comes a little later.
    std::vector<std::pair<int, Found*>> distinct() {
        std::stable_sort(found_.begin(), found_.end(),
                         [](const Found& a, const Found& b) { return total(a) < total(b); });
        std::vector<std::pair<std::size_t, Likeness::Runs>> seen;
        std::vector<std::tuple<std::size_t, std::size_t, bool, bool>> places;
        std::vector<std::pair<int, Found*>> list;
        for (Found& found : found_) {
            std::pair<std::size_t, Likeness::Runs> worked{found.row, Likeness::runsOf(found.words)};
            if (std::find(seen.begin(), seen.end(), worked) != seen.end()) continue;
            const Likeness::Runs old = Likeness::runsOf(pattern_.rows[found.row]);
            const Likeness::Runs& now = worked.second;
            const auto change = std::mismatch(old.begin(), old.end(), now.begin(), now.end()).first;
            const std::tuple place(found.row, static_cast<std::size_t>(change - old.begin()),
                                   now.size() > old.size(), now.size() < old.size());
            const auto before = static_cast<int>(std::count(places.begin(), places.end(), place));
            places.push_back(place);
            seen.push_back(std::move(worked));
            list.emplace_back(total(found) + kSamePlace * before, &found);
        }
        std::stable_sort(list.begin(), list.end(),
                         [](const auto& a, const auto& b) { return a.first < b.first; });
        return list;
    }

    static std::string nameOf(const Row& row) {
        Row bare = row;
        bare.facing.reset();
        bare.items.clear();
        const std::string text = printRow(bare);
        return text.substr(0, text.find(':'));
    }

    static std::string joined(const std::vector<Item>& items, std::size_t begin, std::size_t end) {
        std::string text;
        for (std::size_t i = begin; i < end; ++i) {
            if (!text.empty()) text += ", ";
            text += printItem(items[i]);
        }
        return text;
    }

    /// How often some words stand in others, as words.
    static int times(const std::string& text, const std::string& words) {
        const auto inside = [](char c) { return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9'); };
        int n = 0;
        for (std::size_t at = text.find(words); at != std::string::npos; at = text.find(words, at + 1)) {
            const std::size_t end = at + words.size();
            if ((at == 0 || !inside(text[at - 1])) && (end == text.size() || !inside(text[end]))) ++n;
        }
        return n;
    }

    /// `Row 3: “k2, yo” instead of “k2”`: the least words around the change that stand once in the row.
    static std::string changeWords(const Row& old, const Row& now) {
        const std::vector<Item>* from = &old.items;
        const std::vector<Item>* to = &now.items;
        const std::string whole = printBody(old);
        for (;;) {
            std::size_t begin = 0;
            while (begin < from->size() && begin < to->size() && sameItems({(*from)[begin]}, {(*to)[begin]}))
                ++begin;
            std::size_t tail = 0;
            while (begin + tail < from->size() && begin + tail < to->size() &&
                   sameItems({(*from)[from->size() - 1 - tail]}, {(*to)[to->size() - 1 - tail]}))
                ++tail;
            const bool one = from->size() == to->size() && begin + tail + 1 == from->size();
            if (one) {
                const Item& a = (*from)[begin];
                const Item& b = (*to)[begin];
                const bool inside = a.kind == b.kind &&
                                    (a.kind == ItemKind::group || a.kind == ItemKind::star) &&
                                    a.times == b.times && a.until == b.until && a.last == b.last;
                if (inside) {
                    from = &a.items;
                    to = &b.items;
                    continue;
                }
            }
            std::size_t end = from->size() - tail;
            std::size_t toEnd = to->size() - tail;
            const bool lost = toEnd == begin;
            // Of two that are alike it is said so.
            if (lost && begin > 0 && end > begin && sameItems({(*from)[begin - 1]}, {(*from)[begin]}))
                --begin;
            // A word put in has to have a neighbour, and what stands more than once has to have more of them.
            while ((begin == end || times(whole, joined(*from, begin, end)) > 1) &&
                   (begin > 0 || end < from->size())) {
                if (end < from->size()) {
                    ++end;
                    ++toEnd;
                } else {
                    --begin;
                }
            }
            const std::string was = joined(*from, begin, end);
            if (lost && toEnd == begin) return fmt::format("{}: leave out “{}”", nameOf(old), was);
            return fmt::format("{}: “{}” instead of “{}”", nameOf(old), joined(*to, begin, toEnd), was);
        }
    }

    const Pattern& pattern_;
    const PatternCounts& counts_;
    const std::vector<OnNeedle>& before_;
    const Misfit& misfit_;
    MisprintWords words_;
    Likeness likeness_;
    std::vector<OnNeedle> larger_;
    std::size_t end_ = 0;
    std::size_t rowIndex_ = 0;
    std::size_t first_ = 0;  ///< where the row tried is first worked
    std::size_t effort_ = 0;
    std::vector<std::pair<RowCounts, Outcome>> known_;
    std::vector<Found> found_;
    int leastWrong_ = 0;
};

}  // namespace

std::vector<Repair> repairsFor(const Pattern& pattern, const PatternCounts& counts,
                               const std::vector<OnNeedle>& before, const Misfit& misfit) {
    return Search(pattern, counts, before, misfit).work();
}

std::vector<Repair> rewordingsFor(const Pattern& pattern, const PatternCounts& counts,
                                  const std::vector<OnNeedle>& before, const Misfit& misfit) {
    return Search(pattern, counts, before, misfit).reword();
}

}  // namespace loopmend
