// SPDX-License-Identifier: MIT
#include "pattern/order.h"

#include "pattern/problem_at.h"

#include <algorithm>
#include <string>

#include <fmt/format.h>

namespace loopmend {

namespace {

constexpr int kNone = -1;

/// `4`, `4-6`, `4-6 and 9` for a sorted list.
std::string listed(const std::vector<int>& numbers) {
    std::vector<std::string> runs;
    for (std::size_t i = 0; i < numbers.size();) {
        std::size_t j = i;
        while (j + 1 < numbers.size() && numbers[j + 1] == numbers[j] + 1) ++j;
        runs.push_back(i == j ? std::to_string(numbers[i]) : fmt::format("{}-{}", numbers[i], numbers[j]));
        i = j + 1;
    }
    std::string text;
    for (std::size_t i = 0; i < runs.size(); ++i) {
        if (i > 0) text += i + 1 == runs.size() ? " and " : ", ";
        text += runs[i];
    }
    return text;
}

class Ordering {
  public:
    explicit Ordering(const Pattern& pattern) : pattern_(pattern) {}

    RowOrder work() {
        number();
        fillEvery();
        arrange();
        sides();
        return std::move(order_);
    }

    std::optional<std::size_t> workedAs(int n) {
        number();
        fillEvery();
        const Row* broken = nullptr;
        const int row = words(n, broken);
        return row == kNone ? std::nullopt : std::optional<std::size_t>(row);
    }

  private:
    Problem at(const Place& place, int row, std::string message,
               std::vector<std::string> suggestions = {}) const {
        Problem problem = problemAt(pattern_, place, row, std::move(message), std::move(suggestions));
        if (problem.words.size() > 60) {
            std::size_t cut = 57;
            while (cut > 0 && (static_cast<unsigned char>(problem.words[cut]) & 0xC0U) == 0x80U) --cut;
            problem.words.resize(cut);
            problem.words += "...";
        }
        return problem;
    }

    std::string_view rowWord() const { return pattern_.round ? "Rnd" : "Row"; }

    struct Named {
        int head = kNone;  ///< index into Pattern::rows
        int nth = 0;       ///< among the rows of that head, for `rows 5-8: as rows 1-4`
        bool byRule = false;
    };

    /// The first number that no head claims.
    int freeNumber() const {
        std::vector<bool> claimed(static_cast<std::size_t>(largest_) + 2);
        for (const Row& row : pattern_.rows)
            for (const RowSpan& span : row.spans)
                for (int n = std::max(span.first, 0); n <= std::min(span.last, largest_); ++n)
                    claimed[static_cast<std::size_t>(n)] = true;
        for (int n = 1; n <= largest_; ++n)
            if (!claimed[static_cast<std::size_t>(n)]) return n;
        return largest_ + 1;
    }

    /// Numbers that are printed as such.
    void number() {
        int largest = 0;
        for (const Row& row : pattern_.rows)
            for (const RowSpan& span : row.spans)
                largest = std::max(largest, std::min(span.last, kLargestNumber));
        named_.assign(static_cast<std::size_t>(largest) + 2, Named{});
        largest_ = largest;
        for (std::size_t i = 0; i < pattern_.rows.size(); ++i) {
            const Row& row = pattern_.rows[i];
            int nth = 0;
            bool told = false;
            for (const RowSpan& span : row.spans) {
                for (int n = std::max(span.first, 0); n <= std::min(span.last, largest); ++n, ++nth) {
                    Named& named = named_[static_cast<std::size_t>(n)];
                    if (named.head != kNone) {
                        if (told) continue;
                        told = true;
                        const Row& first = pattern_.rows[static_cast<std::size_t>(named.head)];
                        order_.problems.push_back(
                            at(row.place, n,
                               fmt::format("{} {} stands twice; it was given in line {} already.", rowWord(),
                                           n, first.place.line),
                               {fmt::format("{} {}:", rowWord(), freeNumber())}));
                        continue;
                    }
                    named = {static_cast<int>(i), nth, false};
                }
            }
        }
    }

    Facing firstFacing() const {
        for (const Row& row : pattern_.rows)
            if (row.facing && !row.spans.empty())
                return row.spans.front().first % 2 == 1 ? *row.facing : opposite(*row.facing);
        return Facing::right;
    }

    /// `every even row`: the numbers no row claims for itself. Even rows go on to close a last odd one.
    void fillEvery() {
        const Facing first = firstFacing();
        for (std::size_t i = 0; i < pattern_.rows.size(); ++i) {
            const Row& row = pattern_.rows[i];
            if (row.every == Every::none) continue;
            int parity = row.every == Every::odd ? 1 : 0;
            if (row.every == Every::right) parity = first == Facing::right ? 1 : 0;
            if (row.every == Every::wrong) parity = first == Facing::wrong ? 1 : 0;
            const int from = row.spans.empty() ? (parity == 1 ? 1 : 2) : row.spans.front().first;
            int to = largest_;
            if (parity == 0 && largest_ % 2 == 1) to = largest_ + 1;
            if (largest_ == 0) to = parity == 1 ? 1 : 2;
            if (static_cast<std::size_t>(to) >= named_.size())
                named_.resize(static_cast<std::size_t>(to) + 1);
            int nth = 1;
            for (int n = from; n <= to; ++n) {
                Named& named = named_[static_cast<std::size_t>(n)];
                if (n % 2 != parity % 2) continue;
                if (named.head == kNone) named = {static_cast<int>(i), nth, true};
                ++nth;
                extended_ = std::max(extended_, n);
            }
        }
        extended_ = std::max(extended_, largest_);
    }

    const Named* find(int n) const {
        if (n < 0 || static_cast<std::size_t>(n) >= named_.size()) return nullptr;
        const Named& named = named_[static_cast<std::size_t>(n)];
        return named.head == kNone ? nullptr : &named;
    }

    /// The row whose words are worked for number n, through `as row 2`; kNone if it leads nowhere.
    int words(int n, const Row*& broken) const {
        for (int depth = 0; depth < 20; ++depth) {
            const Named* named = find(n);
            if (!named) return kNone;
            const Row& row = pattern_.rows[static_cast<std::size_t>(named->head)];
            if (!row.sameAs) return named->head;
            broken = &row;
            const int length = row.sameAs->last - row.sameAs->first + 1;
            n = row.sameAs->first + named->nth % std::max(length, 1);
        }
        return kNone;
    }

    void append(int n, bool again) {
        if (order_.rows.size() >= kMostRows) return;
        const Named* named = find(n);
        if (!named) {
            if (!again) missing_.push_back(n);
            return;
        }
        const Row* broken = nullptr;
        const int row = words(n, broken);
        const Row& head = pattern_.rows[static_cast<std::size_t>(named->head)];
        if (!missing_.empty()) {
            order_.problems.push_back(
                at(head.place, missing_.front(),
                   missing_.size() == 1
                       ? fmt::format("{} {} is missing before this one.", rowWord(), listed(missing_))
                       : fmt::format("{}s {} are missing before this one.", rowWord(), listed(missing_)),
                   {fmt::format("{} {}:", rowWord(), missing_.front())}));
            missing_.clear();
        }
        if (row == kNone) {
            if (!again && broken) {
                order_.problems.push_back(
                    at(head.place, n,
                       fmt::format("{} {} says to work as a row that is not there.", rowWord(), n),
                       {fmt::format("{} {}: as row 1", rowWord(), n)}));
            }
            return;
        }
        order_.rows.push_back(
            {static_cast<std::size_t>(row), static_cast<std::size_t>(named->head), n, again});
    }

    void arrange() {
        int next = find(0) ? 0 : 1;
        int lastGiven = 0;
        std::size_t row = 0;
        for (const RepeatRows& repeat : pattern_.repeats) {
            for (; row < std::min(repeat.after, pattern_.rows.size()); ++row)
                for (const RowSpan& span : pattern_.rows[row].spans)
                    lastGiven = std::max(lastGiven, span.last);
            int until = std::min(lastGiven, largest_);
            while (until < repeat.rows.last && find(until + 1) && find(until + 1)->byRule) ++until;
            for (int n = next; n <= until; ++n) append(n, false);
            next = std::max(next, until + 1);

            if (!find(repeat.rows.first) || !find(repeat.rows.last)) {
                const int lost = find(repeat.rows.first) ? repeat.rows.last : repeat.rows.first;
                order_.problems.push_back(at(
                    repeat.place, lost, fmt::format("These words repeat row {}, which is not there.", lost)));
                continue;
            }
            if (repeat.times == 0) {
                endless_ = repeat.rows;
                continue;
            }
            endless_.reset();
            const bool justWorked = repeat.rows.last == until;
            const int extra = repeat.more || !justWorked ? repeat.times : repeat.times - 1;
            for (int i = 0; i < extra && order_.rows.size() < kMostRows; ++i)
                for (int n = repeat.rows.first; n <= repeat.rows.last; ++n) append(n, true);
            // Books number what follows from the rows printed, or from the rows worked.
            const int worked = until + extra * (repeat.rows.last - repeat.rows.first + 1) + 1;
            if (!find(next) && worked < kLargestNumber && find(worked)) next = worked;
        }
        for (int n = next; n <= extended_; ++n) append(n, false);
        order_.loopFirst = 0;
        order_.loopEnd = order_.rows.size();
        if (order_.rows.size() > 1 && order_.rows.front().printed == 0) order_.loopFirst = 1;
        if (endless_) {
            for (std::size_t i = order_.rows.size(); i-- > 0;) {
                if (order_.rows[i].printed != endless_->first) continue;
                std::size_t end = i;
                while (end < order_.rows.size() && order_.rows[end].printed != endless_->last) ++end;
                if (end == order_.rows.size()) continue;
                order_.loopFirst = i;
                order_.loopEnd = end + 1;
                order_.loopPrinted = true;
                break;
            }
        }
    }

    /// RS and WS must alternate where rows are worked to and fro.
    void sides() {
        if (pattern_.round) return;
        bool known = false;
        for (std::size_t i = 0; i < order_.rows.size(); ++i) {
            const OrderedRow& ordered = order_.rows[i];
            const Row& head = pattern_.rows[ordered.head];
            // `Rows 1-4 (RS)` can only mean that the first of them is one.
            const bool marked = head.facing && !ordered.again && !head.spans.empty() &&
                                head.spans.front().first == ordered.printed;
            if (!marked) continue;
            if (!known) {
                known = true;
                order_.first = i % 2 == 0 ? *head.facing : opposite(*head.facing);
            }
            if (*head.facing == facingOf(pattern_, order_, i)) continue;
            const std::string_view mark = *head.facing == Facing::right ? "RS" : "WS";
            const std::string_view wanted = *head.facing == Facing::right ? "WS" : "RS";
            order_.problems.push_back(
                at(head.place, ordered.printed,
                   fmt::format(
                       "Row {} is marked {}, but the work is turned after every row, and this is a {} row.",
                       ordered.printed, mark, wanted),
                   {fmt::format("Row {} ({}):", ordered.printed, wanted),
                    "work in the round: Rnd instead of Row"}));
            return;  // one slip puts every later mark wrong
        }
    }

    const Pattern& pattern_;
    RowOrder order_;
    std::vector<Named> named_;
    std::vector<int> missing_;
    std::optional<RowSpan> endless_;
    int largest_ = 0;
    int extended_ = 0;
};

}  // namespace

RowOrder rowOrder(const Pattern& pattern) {
    return Ordering(pattern).work();
}

std::optional<std::size_t> rowWorkedAs(const Pattern& pattern, int number) {
    return Ordering(pattern).workedAs(number);
}

std::vector<Problem> orderProblems(const Pattern& pattern) {
    return rowOrder(pattern).problems;
}

Facing facingOf(const Pattern& pattern, const RowOrder& order, std::size_t position) {
    if (pattern.round) return Facing::right;
    return position % 2 == 0 ? order.first : opposite(order.first);
}

}  // namespace loopmend
