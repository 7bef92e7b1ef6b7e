// SPDX-License-Identifier: MIT
#include "pattern/markers.h"

#include "pattern/counts.h"
#include "pattern/op_kinds.h"
#include "pattern/problem_at.h"

#include <algorithm>
#include <optional>
#include <utility>

#include <fmt/format.h>

namespace loopmend {

namespace {

constexpr std::int64_t kWidest = 4000;
constexpr int kMostSteps = 3'000'000;
constexpr std::size_t kMostWrittenOut = 2000;

using Marks = std::vector<std::int64_t>;  ///< stitches before each marker, in order

/// One row with its markers said in stitches, in both ways that there are.
struct Said {
    std::vector<Item> counted;  ///< `k8`
    std::vector<Item> fromEnd;  ///< `k to last 6 sts`
};

/// A place where the work was turned and stitches were left.
struct Gap {
    std::int64_t at = 0;   ///< stitches before it
    bool wrapped = false;  ///< the stitch behind it
};
using Gaps = std::vector<Gap>;

/// What stopped the walk.
struct Lost {
    std::size_t position = 0;
    Place place;
    std::string message;
};

Marks turned(const Marks& marks, std::int64_t all) {
    Marks other;
    for (auto it = marks.rbegin(); it != marks.rend(); ++it) other.push_back(all - *it);
    return other;
}

Gaps turned(const Gaps& gaps, std::int64_t all) {
    Gaps other;
    for (auto it = gaps.rbegin(); it != gaps.rend(); ++it) other.push_back({all - it->at, it->wrapped});
    return other;
}

bool asks(const Item& item) {
    return item.until == Until::marker || item.until == Until::gap || item.until == Until::wrapped;
}

/// The first item, or one in it, that goes on to a mark.
const Item* firstAsking(const std::vector<Item>& items) {
    for (const Item& item : items) {
        if (asks(item)) return &item;
        if (const Item* inner = firstAsking(item.items)) return inner;
    }
    return nullptr;
}

bool asksForMarker(const std::vector<Item>& items) {
    return firstAsking(items) != nullptr;
}

/// Works a pattern in numbers and keeps the marks.
class Walk {
  public:
    Walk(const Pattern& pattern, const RowOrder& order, std::int64_t stitches)
        : pattern_(pattern), order_(order), ahead_(stitches) {}

    /// For each position of the order, as far as it goes.
    std::vector<Said> rows;
    std::optional<Lost> lost;

    void work() {
        for (std::size_t i = 0; i < order_.rows.size(); ++i) {
            position_ = i;
            const Row& row = pattern_.rows[order_.rows[i].row];
            if (!row.sound) {
                lose(row.place, "");
                return;
            }
            used_ = 0;
            Said said;
            if (!walk(row.items, said)) return;
            const bool turns = !row.items.empty() && turnsWork(row.items.back());
            wraps_ = turns && row.items.back().step.op == Op::wrapTurn;
            if (used_ != ahead_ && !turns) {
                lose(row.place, "");
                return;
            }
            while (!left_.empty() && left_.front() <= used_) pass();
            // A row that goes on to one turn is said from its end: the stitches behind it stay.
            const Item* const asking = firstAsking(row.items);
            if (asking && asking->until != Until::marker &&
                std::count_if(row.items.begin(), row.items.end(), asks) == 1)
                said.counted = said.fromEnd;
            rows.push_back(std::move(said));
            endRow(turns);
            if (behind_ + ahead_ > kWidest || steps_ > kMostSteps) {
                lose(row.place, "");
                return;
            }
        }
    }

    int wrapsAhead() const {
        return lost ? 0
                    : static_cast<int>(std::count_if(gapsLeft_.begin(), gapsLeft_.end(),
                                                     [](const Gap& gap) { return gap.wrapped; }));
    }

    /// No turn is left that nothing was worked over.
    bool closed() const { return !lost && gapsLeft_.empty() && gapsRight_.empty(); }

  private:
    bool lose(const Place& place, std::string message) {
        if (!lost) lost = Lost{position_, place, std::move(message)};
        return false;
    }

    /// The next marker goes to the right needle.
    void pass() {
        right_.push_back(behind_);
        left_.erase(left_.begin());
    }

    void endRow(bool turns) {
        const std::int64_t rest = ahead_ - used_;
        Marks waiting;
        for (const std::int64_t mark : left_) waiting.push_back(mark - used_);
        Gaps still;
        for (const Gap& gap : gapsLeft_) still.push_back({gap.at - used_, gap.wrapped});
        const bool round = pattern_.round && !backAgain_ && !turns;
        if (round) {
            left_ = right_;
            right_.clear();
            gapsLeft_ = gapsRight_;
            gapsRight_.clear();
            ahead_ = behind_;
            behind_ = 0;
            return;
        }
        const Marks made = turned(right_, behind_);
        right_ = turned(waiting, rest);
        left_ = made;
        const Gaps met = turned(gapsRight_, behind_);
        gapsRight_ = turned(still, rest);
        if (turns && rest > 0) gapsRight_.push_back({rest, wraps_});
        gapsLeft_ = met;
        ahead_ = behind_;
        behind_ = rest;
        if (pattern_.round) backAgain_ = !backAgain_;
    }

    bool step(const Step& step, const Place& place) {
        if (++steps_ > kMostSteps) return lose(place, "");
        const int takes = uses(step);
        if (takes < 0) {
            for (std::int64_t& mark : left_) mark -= takes;
            for (Gap& gap : gapsLeft_) gap.at -= takes;
            ahead_ -= takes;
        } else if (takes > 0) {
            // Markers right before it go along; one between the stitches that it takes comes to stand behind
            // them.
            while (!left_.empty() && left_.front() <= used_) pass();
            used_ += takes;
            if (used_ > ahead_) return lose(place, "");
            while (!gapsLeft_.empty() && gapsLeft_.front().at < used_) {
                // A wrap lies round its stitch till that is worked.
                const Gap gap = gapsLeft_.front();
                if (gap.wrapped && slips(step.op)) gapsRight_.push_back({behind_, true});
                gapsLeft_.erase(gapsLeft_.begin());
            }
        }
        behind_ += makes(step);
        if (takes > 0)
            while (!left_.empty() && left_.front() < used_) pass();
        return behind_ >= 0 ? true : lose(place, "");
    }

    static void keep(const Item& item, Said& said) {
        said.counted.push_back(item);
        said.fromEnd.push_back(item);
    }

    bool walk(const std::vector<Item>& items, Said& said) {
        for (const Item& item : items)
            if (!walk(item, said)) return false;
        return true;
    }

    bool walk(const Item& item, Said& said) {
        if (++steps_ > kMostSteps) return lose(item.place, "");
        switch (item.kind) {
            case ItemKind::stitch:
                for (int i = 0; i < item.times; ++i)
                    if (!step(item.step, item.place)) return false;
                keep(item, said);
                return true;
            case ItemKind::marker: return marker(item, said);
            case ItemKind::group: return again(item, item.times, said);
            case ItemKind::star:
            case ItemKind::run:
            case ItemKind::follow: return open(item, said);
        }
        return false;
    }

    bool marker(const Item& item, Said& said) {
        if (!item.slipped && !item.removed) {
            right_.push_back(behind_);
            keep(item, said);
            return true;
        }
        if (left_.empty() || left_.front() > used_) {
            // `k2tog` over it has taken it along already.
            if (!right_.empty() && right_.back() == behind_) {
                if (item.removed) right_.pop_back();
                keep(item, said);
                return true;
            }
            const std::string where =
                left_.empty() ? std::string("there is none before her")
                              : fmt::format("the next one stands {} stitches on", left_.front() - used_);
            return lose(item.place, fmt::format("No marker stands here; {}.", where));
        }
        pass();
        if (item.removed) right_.pop_back();
        keep(item, said);
        return true;
    }

    /// Passes that all say the same are said once, as `item` has it, others one after another.
    void keepPasses(Item item, const std::vector<Said>& each, Said& said) {
        const bool alike = !each.empty() && std::all_of(each.begin(), each.end(), [&](const Said& one) {
            return sameItems(one.counted, each.front().counted);
        });
        if (alike) {
            item.items = each.front().counted;
            keep(item, said);
            return;
        }
        for (const Said& one : each) {
            said.counted.insert(said.counted.end(), one.counted.begin(), one.counted.end());
            said.fromEnd.insert(said.fromEnd.end(), one.fromEnd.begin(), one.fromEnd.end());
        }
    }

    /// A group so many times. Where a marker is met after other numbers each time, each time is said by
    /// itself.
    bool again(const Item& item, std::int64_t times, Said& said) {
        if (!asksForMarker(item.items)) {
            Said unused;
            for (std::int64_t i = 0; i < times; ++i) {
                unused = {};
                if (!walk(item.items, unused)) return false;
            }
            keep(item, said);
            return true;
        }
        std::vector<Said> each;
        for (std::int64_t i = 0; i < times; ++i) {
            each.emplace_back();
            if (!walk(item.items, each.back())) return false;
        }
        keepPasses(item, each, said);
        return true;
    }

    /// A star in which markers are met: as often as it fits.
    bool starToMarkers(const Item& item, std::int64_t target, Said& said) {
        std::vector<Said> each;
        while (used_ < target) {
            const std::int64_t before = used_;
            each.emplace_back();
            if (!walk(item.items, each.back())) return false;
            if (used_ <= before || used_ > target) return lose(item.place, "");
        }
        if (each.empty()) return lose(item.place, "");
        Item group = item;
        if (group.until == Until::marker) {
            group.kind = ItemKind::group;
            group.until = Until::end;
            group.last = 0;
            group.times = static_cast<int>(each.size());
        }
        keepPasses(std::move(group), each, said);
        return true;
    }

    bool open(const Item& item, Said& said) {
        const std::int64_t each = usesOf(item);
        std::int64_t target = ahead_ - (item.until == Until::last ? item.last : 0);
        const bool toMarker = asks(item);
        if (item.until == Until::gap || item.until == Until::wrapped) {
            const bool wrapped = item.until == Until::wrapped;
            const auto gap = std::find_if(gapsLeft_.begin(), gapsLeft_.end(), [&](const Gap& g) {
                return g.at >= used_ && (g.wrapped || !wrapped);
            });
            if (gap == gapsLeft_.end())
                return lose(item.place, wrapped ? "No wrapped stitch lies ahead here."
                                                : "No place where the work was turned lies ahead here.");
            target = gap->at - item.last;
        } else if (toMarker) {
            auto mark = std::find_if(left_.begin(), left_.end(), [&](std::int64_t m) { return m > used_; });
            if (mark == left_.end() && !left_.empty()) mark = left_.end() - 1;
            if (mark == left_.end())
                return lose(item.place, "No marker stands ahead here: put one in the row before, with pm.");
            target = *mark - item.last;
        }
        if (item.kind == ItemKind::star && asksForMarker(item.items))
            return starToMarkers(item, target, said);
        const std::int64_t there = target - used_;
        const bool least = item.kind != ItemKind::star || toMarker;
        if (each <= 0 || there % std::max<std::int64_t>(each, 1) != 0 || there < (least ? 0 : each)) {
            return lose(item.place, !toMarker
                                        ? std::string()
                                        : fmt::format("There are {} stitches up to {}, and these words {}.",
                                                      there + item.last, landmark(item),
                                                      item.last > 0 && there < 0
                                                          ? fmt::format("leave {} before it", item.last)
                                                          : fmt::format("take {} at a time", each)));
        }
        const std::int64_t times = there / each;
        if (!toMarker) {
            if (item.kind == ItemKind::star) return again(item, times, said);
            for (std::int64_t i = 0; i < there / each; ++i)
                if (!step(item.kind == ItemKind::follow ? Step{} : item.step, item.place)) return false;
            keep(item, said);
            return true;
        }
        // `k to marker` as `k8`, and as `k to last 6 sts`
        Item from = item;
        from.until = ahead_ > target ? Until::last : Until::end;
        from.last = static_cast<int>(ahead_ - target);
        Item counted = item;
        counted.until = Until::end;
        counted.last = 0;
        if (item.kind == ItemKind::star) {
            for (std::int64_t i = 0; i < times; ++i) {
                Said unused;
                if (!walk(item.items, unused)) return false;
            }
            counted.kind = ItemKind::group;
            counted.times = static_cast<int>(times);
        } else {
            for (std::int64_t i = 0; i < times; ++i)
                if (!step(item.kind == ItemKind::follow ? Step{} : item.step, item.place)) return false;
            if (item.kind == ItemKind::follow) {
                counted = from;
            } else if (printedWithNumber(item.step.op)) {
                counted.kind = ItemKind::stitch;
                counted.times = static_cast<int>(times);
            } else {
                Item one = counted;
                one.kind = ItemKind::stitch;
                one.times = 1;
                counted = Item{};
                counted.kind = ItemKind::group;
                counted.times = static_cast<int>(times);
                counted.place = item.place;
                counted.items = {one};
            }
        }
        said.fromEnd.push_back(from);
        if (times == 1 && counted.kind == ItemKind::group) {
            said.counted.insert(said.counted.end(), counted.items.begin(), counted.items.end());
        } else if (times > 0 || item.kind == ItemKind::follow) {
            said.counted.push_back(counted);
        }
        return true;
    }

    static std::string_view landmark(const Item& item) {
        return item.until == Until::gap       ? "the turn"
               : item.until == Until::wrapped ? "the wrapped stitch"
                                              : "the marker";
    }

    const Pattern& pattern_;
    const RowOrder& order_;
    Gaps gapsLeft_;   ///< as left_
    Gaps gapsRight_;  ///< as right_
    bool wraps_ = false;
    Marks left_;   ///< in stitches of the row from its beginning
    Marks right_;  ///< in stitches on the right needle
    std::int64_t ahead_ = 0;
    std::int64_t behind_ = 0;
    std::int64_t used_ = 0;
    std::size_t position_ = 0;
    int steps_ = 0;
    bool backAgain_ = false;
};

/// Takes out what is left of markers where they cannot be followed.
void clear(std::vector<Item>& items) {
    for (Item& item : items) {
        if (asks(item)) {
            item.until = Until::end;
            item.last = 0;
        }
        clear(item.items);
    }
}

/// How often rows are repeated that are worked till all turns are closed; none: that never comes, or not for
/// every number of stitches.
void settleRepeats(Pattern& pattern, const std::vector<std::int64_t>& counts) {
    constexpr int kMostTimes = 200;
    for (std::size_t i = 0; i < pattern.repeats.size(); ++i) {
        if (!pattern.repeats[i].untilWorked) continue;
        Pattern so = pattern;
        so.repeats.resize(i + 1);
        so.rows.resize(std::min(so.repeats.back().after, so.rows.size()));
        const auto closedAfter = [&](int times) {
            RepeatRows& repeat = so.repeats.back();
            repeat.times = times;
            repeat.more = true;
            if (times == 0) so.repeats.pop_back();
            const RowOrder order = rowOrder(so);
            const bool all =
                !counts.empty() && std::all_of(counts.begin(), counts.end(), [&](std::int64_t n) {
                    Walk walk(so, order, std::clamp<std::int64_t>(n, 1, kWidest));
                    walk.work();
                    return walk.closed();
                });
            if (times == 0) so.repeats.push_back(pattern.repeats[i]);
            return all;
        };
        int times = 0;
        while (times <= kMostTimes && !closedAfter(times)) ++times;
        RepeatRows& repeat = pattern.repeats[i];
        repeat.untilWorked = false;
        if (times <= kMostTimes) {
            repeat.times = times;
            repeat.more = true;
            if (times == 0) pattern.repeats.erase(pattern.repeats.begin() + static_cast<std::ptrdiff_t>(i--));
            continue;
        }
        pattern.problems.push_back(
            problemAt(pattern, repeat.place, 0,
                      "How often cannot be told: repeating these rows never leaves all stitches worked.",
                      {"5 more times"}));
        repeat.times = 1;
    }
}

}  // namespace

int wrapsAhead(const Pattern& pattern) {
    if (!pattern.castOn) return 0;
    Pattern so = pattern;
    settleRepeats(so, {*pattern.castOn});
    const RowOrder order = rowOrder(so);
    Walk walk(so, order, std::clamp<std::int64_t>(*pattern.castOn, 1, kWidest));
    walk.work();
    return walk.wrapsAhead();
}

bool asksForMarks(const Pattern& pattern) {
    return std::any_of(pattern.rows.begin(), pattern.rows.end(),
                       [](const Row& row) { return asksForMarker(row.items); }) ||
           std::any_of(pattern.repeats.begin(), pattern.repeats.end(),
                       [](const RepeatRows& repeat) { return repeat.untilWorked; });
}

void followMarks(Pattern& pattern) {
    if (!asksForMarks(pattern)) return;
    std::vector<std::int64_t> counts;
    if (pattern.castOn) {
        counts = {*pattern.castOn};
    } else if (pattern.multiple) {
        for (const std::int64_t n : {4, 5})
            counts.push_back(n * std::int64_t{pattern.multiple->of} + pattern.multiple->plus);
    }
    settleRepeats(pattern, counts);
    const RowOrder order = rowOrder(pattern);
    const auto complain = [&](std::size_t rowIndex, int number, const Place& place, std::string message) {
        Row& row = pattern.rows[rowIndex];
        if (!row.sound && message.empty()) return;
        if (message.empty())
            message =
                "Where that place lies cannot be told here, because the rows before do not come out or do "
                "not say their stitches.";
        pattern.problems.push_back(
            problemAt(pattern, place, number, std::move(message), {"say it in stitches"}));
        row.sound = false;
    };
    std::vector<Walk> walks;
    std::size_t reached = counts.empty() ? 0 : order.rows.size();
    for (const std::int64_t n : counts) {
        walks.emplace_back(pattern, order, std::clamp<std::int64_t>(n, 1, kWidest));
        walks.back().work();
        reached = std::min(reached, walks.back().rows.size());
    }
    // What each row comes to, every time it is worked.
    std::vector<std::vector<Item>> worked(reached);
    std::vector<std::size_t> unlike;
    for (std::size_t i = 0; i < reached; ++i) {
        const Said& said = walks.front().rows[i];
        const Said& other = walks.back().rows[i];
        if (sameItems(said.counted, other.counted)) {
            worked[i] = said.counted;
        } else if (sameItems(said.fromEnd, other.fromEnd)) {
            worked[i] = said.fromEnd;
        } else {
            // Some markers stand so far from the right edge, some from the left: each in the way that holds.
            bool matched = said.counted.size() == other.counted.size() &&
                           said.fromEnd.size() == other.fromEnd.size() &&
                           said.counted.size() == said.fromEnd.size();
            for (std::size_t j = 0; matched && j < said.counted.size(); ++j) {
                const auto same = [&](const std::vector<Item>& a, const std::vector<Item>& b) {
                    return sameItems({a[j]}, {b[j]});
                };
                if (same(said.counted, other.counted)) {
                    worked[i].push_back(said.counted[j]);
                } else if (same(said.fromEnd, other.fromEnd)) {
                    worked[i].push_back(said.fromEnd[j]);
                } else {
                    matched = false;
                }
            }
            if (!matched) {
                unlike.push_back(i);
                worked[i].clear();
            }
        }
    }
    std::vector<std::optional<std::vector<Item>>> byRow(pattern.rows.size());
    bool several = false;
    for (std::size_t i = 0; i < reached; ++i) {
        auto& first = byRow[order.rows[i].row];
        if (!first) {
            first = worked[i];
        } else if (!sameItems(*first, worked[i])) {
            several = true;
        }
    }
    const bool whole = reached == order.rows.size() && unlike.empty();
    if (whole && several && reached <= kMostWrittenOut) {
        std::vector<Row> rows;
        for (std::size_t i = 0; i < reached; ++i) {
            const OrderedRow& ordered = order.rows[i];
            Row row = pattern.rows[ordered.row];
            const Row& head = pattern.rows[ordered.head];
            const std::optional<std::int64_t> printed = printedAfter(pattern, ordered);
            row.items = worked[i];
            row.every = Every::none;
            row.sameAs.reset();
            row.facing = ordered.again || head.spans.empty() || head.spans.front().first != ordered.printed
                             ? std::nullopt
                             : head.facing;
            row.printedCount.reset();
            if (printed) row.printedCount = static_cast<int>(*printed);
            row.countPlace = head.countPlace;
            const int n = static_cast<int>(i) + 1;
            row.spans = {{n, n}};
            rows.push_back(std::move(row));
        }
        std::vector<RepeatRows> repeats;
        if (order.loopPrinted) {
            RepeatRows repeat;
            repeat.rows = {static_cast<int>(order.loopFirst) + 1, static_cast<int>(order.loopEnd)};
            repeat.after = rows.size();
            if (!pattern.repeats.empty()) repeat.place = pattern.repeats.back().place;
            repeats.push_back(repeat);
        }
        pattern.rows = std::move(rows);
        pattern.repeats = std::move(repeats);
        // Numbers twice or missing cannot be seen any more in what is written out.
        const std::vector<Problem> still = orderProblems(pattern);
        for (const Problem& problem : order.problems) {
            if (std::none_of(still.begin(), still.end(), [&](const Problem& other) {
                    return other.line == problem.line && other.column == problem.column;
                }))
                pattern.problems.push_back(problem);
        }
        pattern.understood.push_back({0, 1, 1, "",
                                      "marks stand elsewhere each time these rows are worked, so they "
                                      "are written out one by one"});
        return;
    }
    std::vector<bool> told(pattern.rows.size());
    for (std::size_t i = 0; i < order.rows.size(); ++i) {
        const OrderedRow& ordered = order.rows[i];
        Row& row = pattern.rows[ordered.row];
        if (told[ordered.row]) continue;
        if (i < reached && std::find(unlike.begin(), unlike.end(), i) == unlike.end()) {
            told[ordered.row] = true;
            const Item* const asking = firstAsking(row.items);
            if (!asking) continue;
            row.items = *byRow[ordered.row];
            continue;
        }
        const std::optional<Lost>& lost = walks.empty() ? std::optional<Lost>() : walks.front().lost;
        const bool here = lost && lost->position == i && !lost->message.empty();
        const Item* const asking = firstAsking(row.items);
        if (!here && !asking) continue;
        told[ordered.row] = true;
        complain(ordered.row, ordered.printed, here ? lost->place : asking->place,
                 here ? lost->message : std::string());
    }
    if (several && !whole) {
        // Rows that would have to be written out cannot be.
        for (std::size_t i = 0; i < reached; ++i)
            if (byRow[order.rows[i].row] && !sameItems(*byRow[order.rows[i].row], worked[i]) &&
                pattern.rows[order.rows[i].row].sound)
                complain(order.rows[i].row, order.rows[i].printed, pattern.rows[order.rows[i].row].place,
                         "The marks stand elsewhere each time this row is worked, and not all of them can "
                         "be followed.");
    }
    for (Row& row : pattern.rows) clear(row.items);
}

}  // namespace loopmend
