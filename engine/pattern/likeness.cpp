// SPDX-License-Identifier: MIT
#include "pattern/likeness.h"

#include "pattern/edit_distance.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>

namespace loopmend {

namespace {

constexpr std::int32_t kStarBegins = -1;
constexpr std::int32_t kStarEnds = -2;
constexpr double kBitPrice = 3;  ///< what a bit of surprise costs
constexpr double kWordBits = 5;  ///< bits that any word is worth: a longer row is not a stranger one
constexpr std::size_t kMostRuns = 200;
constexpr int kStranger = 60;               ///< no further away is looked for
constexpr std::size_t kMostWritten = 2000;  ///< words, brackets in brackets written out
constexpr std::size_t kMostExpected = 24;

std::int32_t signOf(const Step& step) {
    std::int32_t sign = static_cast<std::int32_t>(step.op);
    if (step.op == Op::cable) sign |= (step.over << 8) | (step.under << 14) | (step.front ? 1 << 20 : 0);
    return sign;
}

void append(Likeness::Runs& runs, std::int32_t sign, std::int32_t times) {
    if (times == 0) return;
    if (!runs.empty() && sign >= 0 && runs.back().sign == sign) {
        runs.back().times += times;
    } else {
        runs.push_back({sign, times});
    }
}

void write(Likeness::Runs& runs, const std::vector<Item>& items, std::size_t& left) {
    for (const Item& item : items) {
        if (runs.size() > kMostRuns || left == 0) return;
        --left;
        switch (item.kind) {
            case ItemKind::stitch: append(runs, signOf(item.step), item.times * item.step.count); break;
            case ItemKind::group:
                for (int i = 0; i < std::min(item.times, 40); ++i) write(runs, item.items, left);
                break;
            case ItemKind::star:
                append(runs, kStarBegins, 1);
                write(runs, item.items, left);
                append(runs, kStarEnds, 1);
                break;
            case ItemKind::run:
                append(runs, kStarBegins, 1);
                append(runs, signOf(item.step), 1);
                append(runs, kStarEnds, 1);
                break;
            case ItemKind::follow: append(runs, 1 << 24, 1); break;
            case ItemKind::marker: break;
        }
    }
}

/// The same stitch leaning the other way.
Op mirrored(Op op) {
    switch (op) {
        case Op::k2tog: return Op::skp;
        case Op::skp:
        case Op::ssk: return Op::k2tog;
        case Op::p2tog: return Op::ssp;
        case Op::ssp:
        case Op::spp: return Op::p2tog;
        default: return op;
    }
}

/// What looks the same from the other side of the work.
Op turned(Op op) {
    switch (op) {
        case Op::knit: return Op::purl;
        case Op::purl: return Op::knit;
        case Op::knitTbl: return Op::purlTbl;
        case Op::purlTbl: return Op::knitTbl;
        case Op::k2tog: return Op::p2tog;
        case Op::p2tog: return Op::k2tog;
        case Op::k3tog: return Op::p3tog;
        case Op::p3tog: return Op::k3tog;
        default: return op;
    }
}

template <class Change>
Likeness::Runs changed(const Likeness::Runs& runs, bool backward, Change change) {
    Likeness::Runs out;
    const std::size_t n = runs.size();
    for (std::size_t i = 0; i < n; ++i) {
        Likeness::Run run = runs[backward ? n - 1 - i : i];
        if (run.sign >= 0) {
            run.sign =
                (run.sign & ~0xFF) | static_cast<std::int32_t>(change(static_cast<Op>(run.sign & 0xFF)));
        } else if (backward) {
            run.sign = run.sign == kStarBegins ? kStarEnds : kStarBegins;
        }
        append(out, run.sign, run.times);
    }
    return out;
}

bool isPlain(std::int32_t sign) {
    return sign == static_cast<std::int32_t>(Op::knit) || sign == static_cast<std::int32_t>(Op::purl);
}

/// One run in place of another of the same stitch: a step further each stitch costs more.
int otherTimes(int a, int b) {
    const int d = std::min(std::abs(a - b), 8);
    return 3 * d + d * (d - 1) / 2;
}

constexpr int kLone = 8;  ///< a run without a partner, at least

int lone(const Likeness::Run& run) {
    if (run.sign < 0) return kLone;
    return kLone - 3 + 3 * std::min(run.times, 8);
}

int exchanged(const Likeness::Run& a, const Likeness::Run& b) {
    if (a.sign == b.sign) return otherTimes(a.times, b.times);
    if (a.sign < 0 || b.sign < 0) return 30;
    return (isPlain(a.sign) == isPlain(b.sign) ? 6 : 10) + otherTimes(a.times, b.times);
}

/// What making one row the other costs, run by run.
struct RunCosts {
    static constexpr int leastAlone = kLone;
    static int alone(const Likeness::Run& run) { return lone(run); }
    static int exchanged(const Likeness::Run& a, const Likeness::Run& b) { return loopmend::exchanged(a, b); }
    static int swapped() { return kNoEditLimit; }
};

}  // namespace

Likeness::Runs Likeness::runsOf(const Row& row) {
    Runs runs;
    std::size_t left = kMostWritten;
    write(runs, row.items, left);
    return runs;
}

Likeness::Likeness(const Pattern& pattern, const RowOrder& order)
    : pattern_(pattern), order_(order), runs_(pattern.rows.size()), expected_(pattern.rows.size()) {}

std::uint64_t Likeness::Habit::key(const Run& a, const Run& b, std::uint64_t kind) {
    const auto bits = [](const Run& run) {
        return ((static_cast<std::uint64_t>(run.sign + 4) & 0x3FFFFFFU) << 6U) ^
               static_cast<std::uint64_t>(std::min(run.times, 63));
    };
    return ((bits(a) * 0x9E3779B97F4A7C15ULL) ^ bits(b)) * 0xBF58476D1CE4E5B9ULL + kind;
}

namespace {

/// Before the first run and behind the last.
constexpr Likeness::Run kOutside{-3, 1};

/// The stitch alone, whatever its number.
Likeness::Run stitchOf(const Likeness::Run& run) {
    return {run.sign, 0};
}

}  // namespace

void Likeness::Habit::learn(const Runs& runs, int weight) {
    const auto add = [&](const Run& a, const Run& b, std::uint64_t kind) {
        seen_[key(a, b, kind)] += weight;
    };
    Run before = kOutside;
    for (std::size_t i = 0; i <= runs.size(); ++i) {
        const Run& run = i < runs.size() ? runs[i] : kOutside;
        add(before, run, 0);
        add(before, kOutside, 1);
        add(stitchOf(before), stitchOf(run), 2);
        add(stitchOf(before), kOutside, 3);
        add(kOutside, run, 4);
        add(kOutside, stitchOf(run), 5);
        all_ += weight;
        before = run;
    }
}

double Likeness::Habit::share(std::uint64_t pair, std::uint64_t one) const {
    const auto a = seen_.find(pair);
    if (a == seen_.end()) return 0;
    const auto b = seen_.find(one);
    return b == seen_.end() ? 0 : static_cast<double>(a->second) / (b->second + 1.0);
}

int Likeness::Habit::surprise(const Runs& runs) const {
    if (all_ == 0) return 0;
    double bits = 0;
    Run before = kOutside;
    for (std::size_t i = 0; i <= runs.size(); ++i) {
        const Run& run = i < runs.size() ? runs[i] : kOutside;
        const double whole = share(key(before, run, 0), key(before, kOutside, 1));
        const double stitches =
            share(key(stitchOf(before), stitchOf(run), 2), key(stitchOf(before), kOutside, 3));
        const auto alone = [&](const Run& a, std::uint64_t kind) {
            const auto found = seen_.find(key(kOutside, a, kind));
            return found == seen_.end() ? 0.0 : static_cast<double>(found->second) / (all_ + 1.0);
        };
        const double p = 0.45 * whole + 0.3 * stitches * 0.4 + 0.15 * alone(run, 4) +
                         0.05 * alone(stitchOf(run), 5) + 0.005 + 0.5 / (all_ + 16.0);
        const double surprise = -std::log2(p);
        bits += run.sign == kStarBegins || run.sign == kStarEnds ? std::min(surprise - kWordBits, 0.0)
                                                                 : surprise - kWordBits;
        before = run;
    }
    return static_cast<int>(std::lround(kBitPrice * bits));
}

Likeness::Expected Likeness::expected(std::size_t row) const {
    Expected expected;
    expected.known = true;
    std::vector<Runs>& list = expected.rows;
    const auto add = [&](Runs runs) {
        if (!runs.empty() && list.size() < kMostExpected &&
            std::find(list.begin(), list.end(), runs) == list.end())
            list.push_back(std::move(runs));
    };
    std::size_t here = 0;
    while (here < order_.rows.size() && order_.rows[here].row != row) ++here;
    const auto at = [&](std::ptrdiff_t away) -> const Runs* {
        const std::ptrdiff_t i = static_cast<std::ptrdiff_t>(here) + away;
        if (i < 0 || i >= static_cast<std::ptrdiff_t>(order_.rows.size())) return nullptr;
        const std::size_t other = order_.rows[static_cast<std::size_t>(i)].row;
        if (other == row || !pattern_.rows[other].sound) return nullptr;
        if (runs_[other].empty()) runs_[other] = runsOf(pattern_.rows[other]);
        return &runs_[other];
    };
    // Numbers that grow by the same step: 2 b - a for every run.
    const auto progress = [&](const Runs* a, const Runs* b, bool between) {
        if (!a || !b || a->size() != b->size()) return;
        Runs runs;
        for (std::size_t i = 0; i < a->size(); ++i) {
            if ((*a)[i].sign != (*b)[i].sign) return;
            const int x = (*a)[i].times;
            const int y = (*b)[i].times;
            append(runs, (*a)[i].sign, std::max(between ? (x + y) / 2 : 2 * y - x, 0));
        }
        expected.habit.learn(runs, 4);
        add(std::move(runs));
    };
    for (const std::ptrdiff_t step : {1, 2, 4}) {
        progress(at(-step), at(step), true);
        progress(at(-2 * step), at(-step), false);
        progress(at(2 * step), at(step), false);
    }
    const auto same = [](Op op) { return op; };
    std::vector<const Runs*> learnt;
    for (std::ptrdiff_t away = 1; away <= 24; ++away) {
        for (const std::ptrdiff_t i : {-away, away}) {
            const Runs* runs = at(i);
            if (!runs || std::find(learnt.begin(), learnt.end(), runs) != learnt.end()) continue;
            learnt.push_back(runs);
            expected.habit.learn(*runs, 4);
            expected.habit.learn(changed(*runs, true, mirrored), 2);
            expected.habit.learn(changed(*runs, true, turned), 2);
            add(*runs);
            add(changed(*runs, true, mirrored));
            add(changed(*runs, true, turned));
            add(changed(*runs, false, turned));
            add(changed(*runs, true, same));
        }
    }
    return expected;
}

int Likeness::departs(std::size_t row, const Row& words) const {
    Expected& expected = expected_[row];
    if (!expected.known) expected = this->expected(row);
    const Runs runs = runsOf(words);
    int best = kStranger;
    int second = kStranger;
    if (runs.size() <= kMostRuns)
        for (const Runs& other : expected.rows) {
            const int d = editDistance(runs, other, RunCosts{}, second);
            if (d < best) {
                second = best;
                best = d;
            } else {
                second = std::min(second, d);
            }
        }
    return best + second / 2 + expected.habit.surprise(runs);
}

}  // namespace loopmend
