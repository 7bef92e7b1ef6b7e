// SPDX-License-Identifier: MIT
// A pattern worked in numbers only, row by row, at one stitch count.
#include "pattern/advise.h"
#include "pattern/counts.h"
#include "pattern/print.h"
#include "pattern/problem_at.h"

#include <algorithm>
#include <cstdlib>

#include <fmt/format.h>

namespace loopmend {

namespace {

/// Advice costs thousands of trials of a row; after so many rows one reads on anyway.
constexpr int kMostAdvised = 6;
constexpr std::size_t kMostUnread = 2;
constexpr std::ptrdiff_t kMostStumbles = 4;  ///< problems of reading that one misprint may give
constexpr std::size_t kMostRewordings = 5;
constexpr std::size_t kMostChanges = 10;  ///< suggested for one row

std::string stitches(std::int64_t n) {
    return n == 1 ? "1 stitch" : fmt::format("{} stitches", n);
}

std::string multipleWords(const Multiple& multiple) {
    if (multiple.of == 0) return stitches(multiple.plus);
    if (multiple.plus == 0) return fmt::format("a multiple of {}", multiple.of);
    return fmt::format("a multiple of {} plus {}", multiple.of, multiple.plus);
}

class Checker {
  public:
    Checker(const Pattern& pattern, std::optional<int> asked, Advice advice)
        : pattern_(pattern), asked_(asked), advice_(advice) {}

    CheckReport check() {
        counts_ = countAll(pattern_);
        report_.problems = pattern_.problems;
        report_.multiple = counts_.multiple;
        report_.closes = counts_.closes;
        own_ = ownCount();
        report_.castOn = asked_ ? *asked_ : own_;
        if (report_.castOn < 1) {
            add(pattern_.castOnPlace, 0, "At least one stitch is needed to begin.", {"Cast on 20 stitches"});
            report_.castOn = 1;
        }
        if (pattern_.rows.empty() && report_.problems.empty())
            add(Place{1, 1, 0, 0}, 0, "There is no row in this pattern.", {"Row 1: k to end"});
        contradictions();
        work();
        printedMultiple();
        closing();
        std::stable_sort(report_.problems.begin(), report_.problems.end(),
                         [](const Problem& a, const Problem& b) {
                             return a.line != b.line ? a.line < b.line : a.column < b.column;
                         });
        report_.ok = report_.problems.empty();
        return std::move(report_);
    }

  private:
    Problem& add(const Place& place, int row, std::string message,
                 std::vector<std::string> suggestions = {}) {
        report_.problems.push_back(
            problemAt(pattern_, place, row, std::move(message), std::move(suggestions)));
        return report_.problems.back();
    }

    std::string_view rowWord() const { return pattern_.round ? "Rnd" : "Row"; }

    /// The stitch count the pattern itself speaks of.
    std::int64_t ownCount() const {
        if (pattern_.castOn) return *pattern_.castOn;
        for (std::size_t i = 0; i < counts_.after.size(); ++i) {
            const std::optional<std::int64_t> printed = printedAfter(pattern_, counts_.order.rows[i]);
            if (!printed) continue;
            const Affine& after = counts_.after[i];
            const std::int64_t more = *printed - after.base;
            if (after.perRepeat == 0 || more < 0 || more % after.perRepeat != 0) continue;
            return counts_.partial.least + counts_.partial.of * (more / after.perRepeat);
        }
        if (pattern_.multiple && (multipleAgrees() || !plainMultiple())) {
            std::int64_t n = 2 * std::int64_t{pattern_.multiple->of} + pattern_.multiple->plus;
            // Two repeats may be too few for the words before and after the star.
            while (counts_.multiple && n < counts_.multiple->least) n += pattern_.multiple->of;
            return n;
        }
        return counts_.partial.least + counts_.partial.of;
    }

    /// Rows that contradict themselves at any stitch count, each once.
    void contradictions() {
        std::vector<bool> seen(pattern_.rows.size());
        for (std::size_t i = 0; i < counts_.rows.size(); ++i) {
            const OrderedRow& ordered = counts_.order.rows[i];
            const RowCounts& row = counts_.rows[i];
            if (!row.contradiction || seen[ordered.row] || !pattern_.rows[ordered.row].sound) continue;
            seen[ordered.row] = true;
            contradictory_.push_back(i);
        }
    }

    void work() {
        OnNeedle n{report_.castOn, 0};
        bool known = true;         // n is what the words so far come to
        std::size_t believed = 0;  // rows before this position were confirmed by a printed count
        int advised = 0;
        std::vector<bool> told(pattern_.rows.size());
        std::vector<bool> toldUnread(pattern_.rows.size());
        before_.clear();
        for (std::size_t i = 0; i < counts_.rows.size(); ++i) {
            const OrderedRow& ordered = counts_.order.rows[i];
            const RowCounts& row = counts_.rows[i];
            const Row& words = pattern_.rows[ordered.row];
            const Row& head = pattern_.rows[ordered.head];
            CheckedRow checked;
            checked.row = static_cast<int>(i) + 1;
            checked.printed = ordered.printed;
            checked.usesBy = row.uses;
            checked.makesBy = row.makes;
            checked.text = printBody(head);
            if (!words.sound) {
                before_.push_back(n);
                const bool wasKnown = known;
                if (head.printedCount) n = {*head.printedCount, 0};
                known = head.printedCount.has_value();
                if (wasKnown && !toldUnread[ordered.row]) unread_.push_back({i, 0, 0, believed});
                toldUnread[ordered.row] = true;
                checked.fits = false;
                checked.stitchesAfter = n.all();
                report_.rows.push_back(std::move(checked));
                continue;
            }
            before_.push_back(n);
            const std::int64_t repeats = nearestRepeats(row, n.ahead);
            const std::int64_t misses = missesAt(row, n.ahead, repeats);
            checked.repeats = repeats;
            checked.uses = row.uses.at(repeats);
            checked.makes = row.makes.at(repeats);
            checked.fits = (misses == 0 || !known) && !row.contradiction;
            if (misses != 0 && known && !row.contradiction && !told[ordered.row]) {
                told[ordered.row] = true;
                pending_.push_back({i, n.ahead, misses, believed});
            }
            OnNeedle left = needleAfter(row, n, repeats);
            left.ahead = std::max<std::int64_t>(left.ahead, 0);
            const std::optional<std::int64_t> printed = promised(i);
            checked.stitchesAfter = left.all();
            if (misses != 0 && known) {
                n = printed ? OnNeedle{std::max<std::int64_t>(*printed - left.behind, 0), left.behind}
                            : likelyAfter(i, n, left, checked.makes - checked.uses);
                checked.stitchesAfter = n.all();
            } else if (printed && *printed != left.all()) {
                wrongCounts_.push_back({i, left.all(), 0, believed});
                // Whose word do the rows after it bear out?
                const OnNeedle said{std::max<std::int64_t>(*printed - left.behind, 0), left.behind};
                n = rowsThatFit(i + 1, said) > rowsThatFit(i + 1, left) ? said : left;
            } else {
                n = left;
                if (printed) believed = i + 1;
            }
            known = true;
            report_.rows.push_back(std::move(checked));
        }
        before_.push_back(n);
        // More rows than a misprint or two would spoil are written in words that are not known here.
        if (unread_.size() <= kMostUnread)
            for (const Missing& missing : unread_) reword(missing);
        for (const std::size_t i : contradictory_) {
            const OrderedRow& ordered = counts_.order.rows[i];
            const RowCounts& row = counts_.rows[i];
            Problem& problem = add(row.contradictionPlace, ordered.printed, row.contradictionWords);
            problem.misses = static_cast<int>(*row.contradiction);
            if (advised++ < kMostAdvised) problem.suggestions = changes(i, i, comparesCounts());
            if (problem.suggestions.empty()) problem.suggestions = otherExtent(pattern_.rows[ordered.row]);
        }
        for (const Missing& missing : pending_) misfit(missing, advised++ < kMostAdvised);
        for (const Missing& missing : wrongCounts_) wrongCount(missing, advised++ < kMostAdvised);
    }

    /// Where no stitch count is known to judge by: the star stops before the words that really follow it.
    static std::vector<std::string> otherExtent(const Row& row) {
        std::int64_t behind = 0;
        for (std::size_t i = row.items.size(); i-- > 0;) {
            Item item = row.items[i];
            if (item.kind != ItemKind::star && item.kind != ItemKind::run && item.kind != ItemKind::follow) {
                behind += loopmend::usesOf(item);
                continue;
            }
            const std::string from = printItem(item);
            item.until = behind > 0 ? Until::last : Until::end;
            item.last = static_cast<int>(std::min<std::int64_t>(behind, kLargestNumber));
            return {fmt::format("“{}” instead of “{}”", printItem(item), from)};
        }
        return {};
    }

    /// After a row that did not fit: was it meant to be worked with the nearest number of repeats, to keep
    /// the count, or to change it as much as its words do? What the following rows can use for longest.
    OnNeedle likelyAfter(std::size_t position, const OnNeedle& before, const OnNeedle& nearest,
                         std::int64_t change) const {
        OnNeedle best = nearest;
        std::size_t bestRows = rowsThatFit(position + 1, nearest);
        for (const std::int64_t all : {before.all() + change, before.all()}) {
            const OnNeedle candidate{all - nearest.behind, nearest.behind};
            if (candidate.ahead < 0) continue;
            const std::size_t rows = rowsThatFit(position + 1, candidate);
            if (rows <= bestRows) continue;
            best = candidate;
            bestRows = rows;
        }
        return best;
    }

    /// Rows from `position` on that can be worked, and come to the printed counts, beginning with n stitches.
    std::size_t rowsThatFit(std::size_t position, OnNeedle n) const {
        constexpr std::size_t kFar = 200;
        std::size_t rows = 0;
        while (rows < kFar && position + rows < counts_.rows.size()) {
            const RowCounts& row = counts_.rows[position + rows];
            const std::int64_t repeats = nearestRepeats(row, n.ahead);
            if (missesAt(row, n.ahead, repeats) != 0) break;
            n = needleAfter(row, n, repeats);
            const std::optional<std::int64_t> printed = promised(position + rows);
            if (printed && *printed != n.all()) break;
            ++rows;
        }
        return rows;
    }

    bool comparesCounts() const { return !asked_ || *asked_ == own_; }

    /// The count printed behind a row, where it is for this cast-on and for this row alone.
    std::optional<std::int64_t> promised(std::size_t position) const {
        if (!comparesCounts()) return std::nullopt;
        return printedAfter(pattern_, counts_.order.rows[position]);
    }

    struct Missing {
        std::size_t position = 0;
        std::int64_t stitches = 0;
        std::int64_t misses = 0;
        std::size_t believed = 0;
    };

    std::string canUse(const RowCounts& row, std::int64_t n) const {
        if (row.uses.perRepeat <= 0) return stitches(row.uses.base);
        const std::int64_t spare = n - row.uses.base - row.leaves;
        const std::int64_t below = spare < 0 ? -1 : spare / row.uses.perRepeat;
        const std::int64_t above = std::max(below + 1, row.leastRepeats);
        if (below < row.leastRepeats)
            return fmt::format("{} or more", stitches(row.uses.at(above) + row.leaves));
        return fmt::format("{} or {}", row.uses.at(below) + row.leaves,
                           stitches(row.uses.at(above) + row.leaves));
    }

    /// The words at which a row breaks: where its stitches run out, its star, or its last item.
    Place breaksAt(std::size_t position, std::int64_t n) const {
        const OrderedRow& ordered = counts_.order.rows[position];
        const Row& words = pattern_.rows[ordered.row];
        if (ordered.head != ordered.row) return pattern_.rows[ordered.head].place;  // `as row 2`
        if (!counts_.rows[position].open) {
            for (const Item& item : words.items) {
                n -= loopmend::usesOf(item);
                if (n < 0) return item.place;
            }
        }
        return counts_.rows[position].where.line > 0 ? counts_.rows[position].where : words.place;
    }

    void misfit(const Missing& missing, bool advise) {
        const OrderedRow& ordered = counts_.order.rows[missing.position];
        const RowCounts& row = counts_.rows[missing.position];
        const std::string again =
            ordered.again ? fmt::format(", worked again as row {},", missing.position + 1) : std::string();
        const std::int64_t by = std::abs(missing.misses);
        Problem& problem = add(
            breaksAt(missing.position, missing.stitches), ordered.printed,
            fmt::format("{} {}{} cannot be worked: there are {}{} and it uses {}; {} {}.", rowWord(),
                        ordered.printed, again, stitches(missing.stitches),
                        before_[missing.position].behind > 0 ? " ahead" : "", canUse(row, missing.stitches),
                        stitches(by), missing.misses > 0 ? "left over" : "short"));
        problem.misses =
            static_cast<int>(std::clamp<std::int64_t>(missing.misses, -kMostStitches, kMostStitches));
        std::vector<std::string> castOns = otherCastOns();
        std::vector<std::string> words;
        if (advise) words = changes(missing.position, missing.believed, comparesCounts());
        // A pattern that comes out over some plain multiple was probably begun on the wrong number of
        // stitches; not so if that number is what is printed above.
        const bool stated = statedCastOn();
        if (plainMultiple() && !stated) {
            words.insert(words.begin(), castOns.begin(), castOns.end());
        } else if (words.empty()) {
            words = std::move(castOns);
        }
        problem.suggestions = std::move(words);
    }

    /// The cast-on is what a printed multiple asks for.
    bool statedCastOn() const {
        if (!pattern_.multiple || pattern_.multiple->of <= 0) return false;
        const std::int64_t over = report_.castOn - pattern_.multiple->plus;
        return over >= 0 && over % pattern_.multiple->of == 0;
    }

    std::vector<std::string> changes(std::size_t position, std::size_t believed, bool comparesCounts) {
        Misfit misfit;
        misfit.position = position;
        misfit.believedUpTo = believed;
        misfit.comparesCounts = comparesCounts;
        misfit.most = kMostChanges;
        return changes(misfit, before_);
    }

    /// A row that is not understood: changes after which it is, before what the reader had to say.
    void reword(const Missing& missing) {
        if (advice_ == Advice::none) return;
        const Row& row = pattern_.rows[counts_.order.rows[missing.position].row];
        const auto place =
            std::find_if(report_.problems.begin(), report_.problems.end(), [&](const Problem& problem) {
                return problem.row == counts_.order.rows[missing.position].printed &&
                       problem.line >= row.place.line;
            });
        const auto those = std::count_if(place, report_.problems.end(), [&](const Problem& problem) {
            return problem.row == counts_.order.rows[missing.position].printed;
        });
        if (those == 0 || those > kMostStumbles) return;
        Misfit misfit;
        misfit.position = missing.position;
        misfit.believedUpTo = missing.believed;
        misfit.comparesCounts = comparesCounts();
        misfit.most = kMostRewordings;
        std::vector<std::string> words;
        for (Repair& repair : rewordingsFor(pattern_, counts_, before_, misfit)) {
            words.push_back(repair.words);
            report_.repairs.push_back(std::move(repair));
        }
        place->suggestions.insert(place->suggestions.begin(), words.begin(), words.end());
    }

    std::vector<std::string> changes(const Misfit& misfit, const std::vector<OnNeedle>& before) {
        std::vector<std::string> words;
        if (advice_ == Advice::none) return words;
        for (Repair& repair : repairsFor(pattern_, counts_, before, misfit)) {
            words.push_back(repair.words);
            report_.repairs.push_back(std::move(repair));
        }
        return words;
    }

    /// Whether the rows agree on a multiple that one of them has for its own repeat.
    bool plainMultiple() const {
        if (!counts_.multiple || counts_.multiple->of == 0) return false;
        return std::any_of(counts_.rows.begin(), counts_.rows.end(),
                           [&](const RowCounts& row) { return row.uses.perRepeat == counts_.multiple->of; });
    }

    std::vector<std::string> otherCastOns() const {
        std::vector<std::string> words;
        if (!counts_.multiple) return words;
        const Multiple& multiple = *counts_.multiple;
        const std::int64_t n = report_.castOn;
        const auto castOn = [&](std::int64_t count) {
            words.push_back(fmt::format("cast on {}", stitches(count)));
        };
        if (multiple.of == 0 || n < multiple.least) {
            if (n != multiple.least) castOn(multiple.least);
            return words;
        }
        const std::int64_t below = multiple.least + (n - multiple.least) / multiple.of * multiple.of;
        if (below == n) return words;
        castOn(below);
        castOn(below + multiple.of);
        return words;
    }

    void wrongCount(const Missing& missing, bool advise) {
        const OrderedRow& ordered = counts_.order.rows[missing.position];
        const Row& head = pattern_.rows[ordered.head];
        Problem& problem = add(head.countPlace.line > 0 ? head.countPlace : head.place, ordered.printed,
                               fmt::format("{} {} leaves {}, but {} {} printed.", rowWord(), ordered.printed,
                                           stitches(missing.stitches), *head.printedCount,
                                           *head.printedCount == 1 ? "is" : "are"));
        problem.suggestions.push_back(fmt::format("({} sts)", missing.stitches));
        if (!advise) return;
        for (std::string& change : changes(missing.position, missing.believed, true))
            problem.suggestions.push_back(std::move(change));
    }

    /// Every count of the printed multiple can be worked. It may be coarser than the rows need.
    bool multipleAgrees() const {
        if (!pattern_.multiple || !counts_.multiple || counts_.multiple->of == 0) return false;
        const Multiple& found = *counts_.multiple;
        return pattern_.multiple->of % found.of == 0 &&
               (pattern_.multiple->plus - found.plus) % found.of == 0;
    }

    void printedMultiple() {
        if (!pattern_.multiple || !counts_.multiple || multipleAgrees()) return;
        // Rows that only come out over some odd great number are wrong themselves, and were named already.
        if (!pending_.empty() && !plainMultiple()) return;
        const PrintedMultiple& printed = *pattern_.multiple;
        const Multiple& found = *counts_.multiple;
        Problem& problem =
            add(printed.place, 0,
                fmt::format("A multiple of {}{} is printed, but the rows come out over {}.", printed.of,
                            printed.plus > 0 ? fmt::format(" plus {}", printed.plus) : std::string(),
                            multipleWords(found)));
        std::string other = found.of == 0     ? fmt::format("Cast on {}", stitches(found.plus))
                            : found.plus == 0 ? fmt::format("Multiple of {}", found.of)
                                              : fmt::format("Multiple of {} plus {}", found.of, found.plus);
        if (statedCastOn()) problem.suggestions = changesForMultiple();
        problem.suggestions.push_back(std::move(other));
    }

    /// The rows come out at this stitch count by chance: which change lets them come out at the next one that
    /// is printed?
    std::vector<std::string> changesForMultiple() {
        constexpr int kSizes = 3;
        for (int more = 1; more <= kSizes; ++more) {
            OnNeedle n{report_.castOn + std::int64_t{more} * pattern_.multiple->of, 0};
            std::vector<OnNeedle> before;
            std::optional<std::size_t> stuck;
            for (std::size_t i = 0; i < counts_.rows.size(); ++i) {
                before.push_back(n);
                const RowCounts& row = counts_.rows[i];
                const std::int64_t repeats = nearestRepeats(row, n.ahead);
                if (!stuck && missesAt(row, n.ahead, repeats) != 0) stuck = i;
                n = needleAfter(row, n, repeats);
            }
            if (!stuck) continue;
            before.push_back(n);
            Misfit misfit;
            misfit.position = *stuck;
            misfit.most = kMostChanges;
            return changes(misfit, before);
        }
        return {};
    }

    /// Rows that are to be repeated must be workable on what they leave: they are worked once more.
    void closing() {
        const std::size_t once = counts_.rows.size();
        if (!counts_.order.loopPrinted || counts_.closes || counts_.order.loopEnd != once) return;
        if (!pending_.empty() || !contradictory_.empty() || !pattern_.problems.empty()) return;
        for (std::size_t i = counts_.order.loopFirst; i < once; ++i) {
            OrderedRow ordered = counts_.order.rows[i];
            ordered.again = true;
            counts_.order.rows.push_back(ordered);
            counts_.rows.push_back(counts_.rows[i]);
            const RowCounts& row = counts_.rows.back();
            const OnNeedle needle = before_.back();
            const std::int64_t n = needle.ahead;
            const std::int64_t repeats = nearestRepeats(row, n);
            const std::int64_t misses = missesAt(row, n, repeats);
            before_.push_back(needleAfter(row, needle, repeats));
            if (misses == 0) continue;
            Problem& problem = add(
                pattern_.repeats.back().place, ordered.printed,
                fmt::format("{} {} cannot be worked a second time: then there are {} and it uses {}; {} {}.",
                            rowWord(), ordered.printed, stitches(n), canUse(row, n),
                            stitches(std::abs(misses)), misses > 0 ? "left over" : "short"));
            problem.misses =
                static_cast<int>(std::clamp<std::int64_t>(misses, -kMostStitches, kMostStitches));
            problem.suggestions = changes(counts_.rows.size() - 1, 0, comparesCounts());
            return;
        }
    }

    const Pattern& pattern_;
    std::optional<int> asked_;
    Advice advice_;
    PatternCounts counts_;
    CheckReport report_;
    std::int64_t own_ = 0;
    std::vector<OnNeedle> before_;  ///< the needle before each row, and after the last
    std::vector<std::size_t> contradictory_;
    std::vector<Missing> unread_;
    std::vector<Missing> pending_;
    std::vector<Missing> wrongCounts_;
};

}  // namespace

CheckReport check(const Pattern& pattern, std::optional<int> stitches, Advice advice) {
    return Checker(pattern, stitches, advice).check();
}

}  // namespace loopmend
