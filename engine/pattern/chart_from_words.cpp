// SPDX-License-Identifier: MIT
// Words -> chart. The rows are expanded for several numbers of repeats, and the box of each row is what comes
// in once more from one number to the next: so stars, runs and rows that follow other rows are one case.
#include <algorithm>
#include <cstdlib>
#include <utility>

#include <fmt/format.h>

#include "pattern/chart.h"
#include "pattern/chart_layout.h"
#include "pattern/counts.h"
#include "pattern/order.h"

namespace loopmend {

namespace {

constexpr std::int64_t kMostToTry = 20'000;
constexpr int kTried = 4;

using Steps = std::vector<Step>;

bool isOver(Op op) {
    return op == Op::yarnOver || op == Op::yarnOverReverse;
}

/// Every wrap of a yarn-over is a square of its own.
Steps single(const Steps& steps) {
    Steps out;
    out.reserve(steps.size());
    for (Step step : steps) {
        const int n = isOver(step.op) ? step.count : 1;
        if (isOver(step.op)) step.count = 1;
        for (int i = 0; i < n; ++i) {
            out.push_back(step);
            step.link = false;
        }
    }
    return out;
}

/// Steps in words that have no open end; none if there is one in them.
std::optional<std::size_t> stepsIn(const std::vector<Item>& items) {
    std::size_t sum = 0;
    for (const Item& item : items) {
        if (item.kind == ItemKind::stitch) {
            sum += static_cast<std::size_t>(item.times * (isOver(item.step.op) ? item.step.count : 1));
        } else if (item.kind == ItemKind::group) {
            const auto inner = stepsIn(item.items);
            if (!inner) return std::nullopt;
            sum += *inner * static_cast<std::size_t>(item.times);
        } else if (item.kind != ItemKind::marker) {
            return std::nullopt;
        }
        if (sum > static_cast<std::size_t>(kMostToTry)) return std::nullopt;
    }
    return sum;
}

/// Where the star of a row begins, in steps, if it is the only open end of the row.
std::optional<std::size_t> starStart(const Row& row) {
    const auto star = std::find_if(row.items.begin(), row.items.end(),
                                   [](const Item& item) { return item.kind == ItemKind::star; });
    if (star == row.items.end() || !stepsIn({star + 1, row.items.end()})) return std::nullopt;
    return stepsIn({row.items.begin(), star});
}

/// Whether `more` is `less` with `box` further steps from `at` on.
bool widened(const Steps& less, const Steps& more, std::size_t box, std::size_t at) {
    const auto a = static_cast<std::ptrdiff_t>(at);
    const auto b = static_cast<std::ptrdiff_t>(box);
    return std::equal(less.begin(), less.begin() + a, more.begin()) &&
           std::equal(less.begin() + a, less.end(), more.begin() + a + b, more.end());
}

/// A row cut up: what is worked once, the box, what is worked once.
struct CutRow {
    Steps steps;                      ///< with the box once
    std::size_t box = 0;              ///< steps in it; 0: no box
    std::vector<std::size_t> starts;  ///< where the box can begin: all of them say the same
    std::optional<std::size_t> written;
    std::size_t start = 0;
    bool settled = false;
    Facing facing = Facing::right;
};

int widthOf(const Steps& steps, std::size_t from, std::size_t to) {
    int sum = 0;
    for (std::size_t i = from; i < to; ++i) sum += widthOf(signOf(steps[i], Facing::right));
    return sum;
}

class FromWords {
  public:
    FromWords(const Pattern& pattern, std::optional<int> stitches)
        : pattern_(pattern), stitches_(stitches), order_(rowOrder(pattern)) {}

    tl::expected<WrittenChart, Problem> run() {
        if (!pattern_.problems.empty()) return tl::make_unexpected(pattern_.problems.front());
        if (!order_.problems.empty()) return tl::make_unexpected(order_.problems.front());
        if (order_.rows.empty()) return tl::make_unexpected(told("There is no row to draw."));
        chart_.title = pattern_.title;
        chart_.round = pattern_.round;
        chart_.yarns = pattern_.yarns;
        chart_.bindOffAtEnd = pattern_.bindOffAtEnd;
        const PatternCounts counts = countAll(pattern_);
        multiple_ = counts.multiple.value_or(counts.partial);
        closes_ = counts.closes;
        usePrintedMultiple();
        if (stitches_) {
            // What does not fit is told as knitting would tell it.
            const auto fits = expand(pattern_, *stitches_, once());
            if (!fits) return tl::make_unexpected(fits.error());
        }
        if (auto problem = arrange()) return tl::make_unexpected(*problem);
        if (multiple_.of > 0) {
            for (const bool one : {true, false}) {
                if (!boxes(one)) continue;
                finish(one ? multiple_.least : multiple_.least + multiple_.of);
                return std::move(chart_);
            }
        }
        if (auto problem = resolve()) return tl::make_unexpected(*problem);
        return std::move(chart_);
    }

  private:
    static Problem told(std::string message) {
        Problem problem;
        problem.message = std::move(message);
        return problem;
    }
    int once() const { return static_cast<int>(order_.rows.size()); }
    std::string_view rowWord() const { return pattern_.round ? "round" : "row"; }

    /// The author's repeat, if it is one of those that come out: a plain row may be repeated by one stitch,
    /// but is drawn beside others.
    void usePrintedMultiple() {
        if (!pattern_.multiple || multiple_.of == 0) return;
        const std::int64_t of = pattern_.multiple->of;
        if (of <= 0 || of % multiple_.of != 0) return;
        std::int64_t first = pattern_.multiple->plus;
        if ((first - multiple_.plus) % multiple_.of != 0) return;
        while (first < multiple_.least || first < 1) first += of;
        multiple_.of = of;
        multiple_.least = first;
    }

    std::int64_t someCount() const {
        if (stitches_) return *stitches_;
        if (pattern_.castOn) return *pattern_.castOn;
        return multiple_.of == 0 ? multiple_.plus : std::max<std::int64_t>(multiple_.least, 1);
    }

    tl::expected<Script, Problem> worked(std::int64_t stitches, std::size_t rows) const {
        if (stitches > kMostToTry)
            return tl::make_unexpected(
                told(fmt::format("This is worked over {} stitches: too many for a chart.", stitches)));
        return expand(pattern_, static_cast<int>(stitches), static_cast<int>(rows));
    }

    /// Which rows are drawn and under which number, and which of them repeat.
    std::optional<Problem> arrange() {
        const std::size_t all = order_.rows.size();
        const auto script = worked(someCount(), all);
        if (!script) return script.error();
        std::vector<std::size_t> firstOf;
        std::vector<int> numbers;
        bool same = true;
        for (std::size_t i = 0; i < all; ++i) {
            const OrderedRow& row = order_.rows[i];
            if (!row.again) {
                positions_.push_back(i);
                numbers_.push_back(row.printed);
                continue;
            }
            const auto found = std::find(numbers_.begin(), numbers_.end(), row.printed);
            const WorkedRow& before =
                script->rows[positions_[static_cast<std::size_t>(found - numbers_.begin())]];
            same = same && found != numbers_.end() && before.facing == script->rows[i].facing &&
                   before.steps == script->rows[i].steps;
        }
        const std::size_t loop = order_.loopEnd - order_.loopFirst;
        const bool turns = !pattern_.round && order_.loopPrinted && closes_ && loop > 0;
        // Where the loop begins again, the other side may face.
        const bool otherSide = turns && (all - order_.loopFirst) % 2 == 1;
        const bool odd = turns && loop % 2 == 1;
        if (same && !otherSide && !odd) {
            for (const RepeatRows& repeat : pattern_.repeats) chart_.repeats.push_back(placed(repeat));
            if (sameOrder()) return std::nullopt;
            chart_.repeats.clear();
        }
        unroll(all, loop, otherSide, odd, same);
        return std::nullopt;
    }

    /// `after` counts the rows of the chart.
    RepeatRows placed(RepeatRows repeat) const {
        int last = 0;
        for (std::size_t i = 0; i < std::min(repeat.after, pattern_.rows.size()); ++i)
            for (const RowSpan& span : pattern_.rows[i].spans) last = std::max(last, span.last);
        last = std::max(last, repeat.rows.last);
        repeat.after = static_cast<std::size_t>(
            std::count_if(numbers_.begin(), numbers_.end(), [&](int n) { return n <= last; }));
        repeat.place = {};
        return repeat;
    }

    /// Whether the rows as numbered so far, with these repeats, are worked as the words say.
    bool sameOrder() const {
        Pattern plain;
        plain.round = pattern_.round;
        for (const int number : numbers_) {
            Row row;
            row.round = pattern_.round;
            row.spans = {{number, number}};
            plain.rows.push_back(row);
        }
        plain.repeats = chart_.repeats;
        const RowOrder order = rowOrder(plain);
        return order.problems.empty() && order.loopPrinted == order_.loopPrinted &&
               order.loopFirst == order_.loopFirst && order.loopEnd == order_.loopEnd &&
               std::equal(order.rows.begin(), order.rows.end(), order_.rows.begin(), order_.rows.end(),
                          [](const OrderedRow& a, const OrderedRow& b) { return a.printed == b.printed; });
    }

    void unroll(std::size_t all, std::size_t loop, bool otherSide, bool odd, bool same) {
        std::size_t total = all;
        std::size_t loopFrom = order_.loopFirst;
        std::size_t loopTo = order_.loopEnd;
        if (order_.loopPrinted && closes_ && (otherSide || odd || loopTo < all)) {
            const bool goesOn = loopTo == all && odd;  // once through already, once more from the other side
            if (!goesOn) loopFrom = all;
            total = all + loop * (odd && !goesOn ? 2 : 1);
            loopTo = total;
        }
        positions_.clear();
        numbers_.clear();
        for (std::size_t i = 0; i < total; ++i) {
            positions_.push_back(i);
            numbers_.push_back(static_cast<int>(i) + 1);
        }
        if (order_.loopPrinted) {
            RepeatRows repeat;
            repeat.rows = {static_cast<int>(loopFrom) + 1, static_cast<int>(loopTo)};
            repeat.after = loopTo;
            chart_.repeats.push_back(repeat);
        }
        if (odd || otherSide)
            chart_.notes.push_back(
                "The rows come round with the other side facing, where they look different: so they are "
                "drawn "
                "twice.");
        else if (!same || total > all || all > 0)
            chart_.notes.push_back(fmt::format("Every {} is drawn as often as it is worked.", rowWord()));
    }

    /// Tries to find a box in every row. one: the first number of stitches has one repeat in it, else none.
    bool boxes(bool one) {
        const std::size_t need = positions_.back() + 1;
        std::vector<Script> scripts;
        for (int n = 0; n < kTried; ++n) {
            auto script = worked(multiple_.least + n * multiple_.of, need);
            if (!script) return false;
            scripts.push_back(std::move(*script));
        }
        cuts_.clear();
        for (const std::size_t position : positions_) {
            std::vector<Steps> by;
            by.reserve(scripts.size());
            for (const Script& script : scripts) by.push_back(single(script.rows[position].steps));
            CutRow cut;
            cut.facing = scripts.front().rows[position].facing;
            if (by[1].size() < by[0].size()) return false;
            cut.box = by[1].size() - by[0].size();
            cut.steps = one ? by[0] : by[1];
            for (int n = 2; n < kTried; ++n)
                if (by[static_cast<std::size_t>(n)].size() !=
                    by[0].size() + static_cast<std::size_t>(n) * cut.box)
                    return false;
            if (cut.box == 0) {
                if (by[1] != by[0] || by[2] != by[0] || by[3] != by[0]) return false;
                cut.settled = true;
            } else {
                for (std::size_t at = 0; at <= by[0].size(); ++at)
                    if (repeatsAt(by, cut.box, at, one)) cut.starts.push_back(at);
                if (cut.starts.empty()) return false;
                const OrderedRow& ordered = orderedAt(position);
                cut.written = starStart(pattern_.rows[ordered.row]);
                settle(cut);
            }
            cuts_.push_back(std::move(cut));
        }
        alignBoxes();
        return true;
    }

    const OrderedRow& orderedAt(std::size_t position) const {
        const std::size_t all = order_.rows.size();
        if (position < all) return order_.rows[position];
        const std::size_t loop = order_.loopEnd - order_.loopFirst;
        return order_.rows[order_.loopFirst + (position - all) % loop];
    }

    static bool repeatsAt(const std::vector<Steps>& by, std::size_t box, std::size_t at, bool one) {
        for (std::size_t n = 0; n + 1 < by.size(); ++n)
            if (!widened(by[n], by[n + 1], box, at)) return false;
        const auto a = static_cast<std::ptrdiff_t>(at);
        const auto b = static_cast<std::ptrdiff_t>(box);
        const auto same = [&](const Steps& steps, std::ptrdiff_t from) {
            return std::equal(by[1].begin() + a, by[1].begin() + a + b, steps.begin() + from);
        };
        if (!same(by[2], a + b) || !same(by[3], a + 2 * b)) return false;
        return !one || (at + box <= by[0].size() && same(by[0], a));
    }

    /// The star stands in the box where the words have it.
    static void settle(CutRow& cut) {
        if (!cut.written) return;
        if (std::find(cut.starts.begin(), cut.starts.end(), *cut.written) == cut.starts.end()) return;
        cut.start = *cut.written;
        cut.settled = true;
    }

    struct Margins {
        int right = 0;
        int left = 0;
    };
    static Margins margins(const CutRow& cut, std::size_t start) {
        const int before = widthOf(cut.steps, 0, start);
        const int after = widthOf(cut.steps, start + cut.box, cut.steps.size());
        return cut.facing == Facing::right ? Margins{before, after} : Margins{after, before};
    }

    /// Rows that leave it open where the box begins have it above the box of a row beside them.
    void alignBoxes() {
        const auto place = [&](CutRow& cut, const CutRow& beside) {
            const Margins wanted = margins(beside, beside.start);
            int best = 0;
            bool any = false;
            for (const std::size_t start : cut.starts) {
                const Margins m = margins(cut, start);
                const int away = std::abs(m.right - wanted.right) + std::abs(m.left - wanted.left);
                if (any && away >= best) continue;
                best = away;
                cut.start = start;
                any = true;
            }
            cut.settled = true;
        };
        const CutRow* beside = nullptr;
        for (CutRow& cut : cuts_) {
            if (cut.box == 0) continue;
            if (!cut.settled && beside) place(cut, *beside);
            if (cut.settled) beside = &cut;
        }
        beside = nullptr;
        for (std::size_t i = cuts_.size(); i-- > 0;) {
            CutRow& cut = cuts_[i];
            if (cut.box == 0) continue;
            if (!cut.settled && beside) place(cut, *beside);
            if (cut.settled) beside = &cut;
        }
        for (CutRow& cut : cuts_) {
            if (cut.settled) continue;
            if (beside) {
                place(cut, *beside);
            } else {
                cut.start = cut.starts.front();
                cut.settled = true;
            }
            beside = &cut;
        }
    }

    /// Rows for one number of stitches, without boxes.
    std::optional<Problem> resolve() {
        const std::int64_t stitches = someCount();
        auto script = worked(stitches, positions_.back() + 1);
        if (!script) return script.error();
        cuts_.clear();
        for (const std::size_t position : positions_) {
            CutRow cut;
            cut.facing = script->rows[position].facing;
            cut.steps = single(script->rows[position].steps);
            cuts_.push_back(std::move(cut));
        }
        if (multiple_.of > 0)
            chart_.notes.push_back(fmt::format(
                "Drawn for {} stitches: its {}s do not all repeat in one place.", stitches, rowWord()));
        chart_.castOn = static_cast<int>(stitches);
        finish(stitches);
        return std::nullopt;
    }

    void finish(std::int64_t castOn) {
        for (std::size_t i = 0; i < cuts_.size(); ++i) {
            const CutRow& cut = cuts_[i];
            WrittenRow row;
            row.number = numbers_[i];
            row.facing = cut.facing;
            for (const Step& step : cut.steps) {
                ChartCell cell;
                cell.sign = signOf(step, cut.facing);
                row.cells.push_back(cell);
            }
            if (cut.box > 0) {
                row.boxFirst = cut.start;
                row.boxEnd = cut.start + cut.box;
            }
            if (cut.facing == Facing::wrong) {
                std::reverse(row.cells.begin(), row.cells.end());
                if (row.boxed()) {
                    const std::size_t first = row.cells.size() - row.boxEnd;
                    row.boxEnd = row.cells.size() - row.boxFirst;
                    row.boxFirst = first;
                }
            }
            chart_.rows.push_back(std::move(row));
        }
        const bool boxed = std::any_of(chart_.rows.begin(), chart_.rows.end(),
                                       [](const WrittenRow& row) { return row.boxed(); });
        if (boxed) {
            PrintedMultiple printed;
            printed.of = static_cast<int>(multiple_.of);
            printed.plus = static_cast<int>(multiple_.least % multiple_.of);
            chart_.multiple = printed;
            if (!chart_.castOn) {
                chart_.castOn = stitches_ ? stitches_ : pattern_.castOn;
            }
        } else {
            chart_.castOn = static_cast<int>(castOn);
        }
        layOut(chart_, static_cast<int>(castOn));
    }

    const Pattern& pattern_;
    std::optional<int> stitches_;
    RowOrder order_;
    Multiple multiple_;
    bool closes_ = false;
    WrittenChart chart_;
    std::vector<std::size_t> positions_;  ///< of the drawn rows in working order, the loop going on behind
    std::vector<int> numbers_;
    std::vector<CutRow> cuts_;
};

}  // namespace

tl::expected<WrittenChart, Problem> chartOf(const Pattern& pattern, std::optional<int> stitches) {
    return FromWords(pattern, stitches).run();
}

}  // namespace loopmend
