// SPDX-License-Identifier: MIT
// Chart -> words.
#include "pattern/chart.h"

#include "pattern/problem_at.h"

#include <algorithm>

#include <fmt/format.h>

namespace loopmend {

namespace {

/// A number that the words of a stitch can carry: `k5`.
bool joins(const Item& item, const Step& step) {
    if (item.kind != ItemKind::stitch) return false;
    Step first = item.step;
    if (step.op == Op::yarnOver || step.op == Op::yarnOverReverse) {
        first.link = false;
        first.count = 1;
        return first == step && item.step.count < kLargestNumber;
    }
    if (!printedWithNumber(step.op) || item.times >= kLargestNumber) return false;
    first.link = false;
    return first == step;
}

std::vector<Item> itemsOf(const std::vector<Step>& steps) {
    std::vector<Item> items;
    for (const Step& step : steps) {
        if (!items.empty() && joins(items.back(), step)) {
            const bool over = step.op == Op::yarnOver || step.op == Op::yarnOverReverse;
            if (over)
                ++items.back().step.count;
            else
                ++items.back().times;
            continue;
        }
        Item item;
        item.step = step;
        items.push_back(item);
    }
    return items;
}

/// `k to end`: the same plain stitch all along a box can be left out altogether.
bool isRun(const std::vector<Item>& items) {
    return items.size() == 1 && printedWithNumber(items.front().step.op) && !items.front().step.link;
}

class ToWords {
  public:
    explicit ToWords(const WrittenChart& chart) : chart_(chart) {}

    Pattern run() {
        pattern_.title = chart_.title;
        pattern_.castOn = chart_.castOn;
        pattern_.multiple = chart_.multiple;
        pattern_.round = chart_.round;
        pattern_.yarns = chart_.yarns;
        pattern_.bindOffAtEnd = chart_.bindOffAtEnd;
        pattern_.repeats = chart_.repeats;
        pattern_.problems = chart_.problems;
        pattern_.text = chart_.text;
        for (const WrittenRow& row : chart_.rows) pattern_.rows.push_back(wordsOf(row));
        std::stable_sort(pattern_.problems.begin(), pattern_.problems.end(),
                         [](const Problem& a, const Problem& b) {
                             return a.line != b.line ? a.line < b.line : a.column < b.column;
                         });
        return std::move(pattern_);
    }

  private:
    Row wordsOf(const WrittenRow& row) {
        Row words;
        words.round = chart_.round;
        words.spans = {{row.number, row.number}};
        if (!chart_.round) words.facing = row.facing;
        words.place = row.place;
        words.sound = row.sound;
        std::vector<Step> before;
        std::vector<Step> box;
        std::vector<Step> after;
        for (std::size_t i = 0; i < row.cells.size(); ++i) {
            const ChartCell& cell = row.cells[i];
            if (cell.kind != ChartCell::Kind::stitch) continue;
            const auto step = stepOf(cell.sign, row.facing);
            if (!step) {
                refuse(row, cell);
                words.sound = false;
                continue;
            }
            (!row.boxed() || i < row.boxFirst ? before : i < row.boxEnd ? box : after).push_back(*step);
        }
        if (row.facing == Facing::wrong) {
            std::reverse(before.begin(), before.end());
            std::reverse(box.begin(), box.end());
            std::reverse(after.begin(), after.end());
            if (row.boxed()) before.swap(after);
        }
        words.items = itemsOf(before);
        if (!box.empty()) {
            Item star;
            star.items = itemsOf(box);
            if (isRun(star.items)) {
                star.step = star.items.front().step;
                star.items.clear();
                star.kind = ItemKind::run;
            } else {
                star.kind = ItemKind::star;
            }
            std::vector<Item> tail = itemsOf(after);
            star.last = static_cast<int>(usesOf(tail));
            star.until = star.last > 0 ? Until::last : Until::end;
            star.place = row.place;
            words.items.push_back(std::move(star));
            std::move(tail.begin(), tail.end(), std::back_inserter(words.items));
        }
        for (Item& item : words.items) item.place = row.place;
        return words;
    }

    /// A sign that no operation gives with this side facing.
    void refuse(const WrittenRow& row, const ChartCell& cell) {
        const bool right = row.facing == Facing::right;
        Problem problem = problemAt(
            pattern_, cell.place, row.number,
            fmt::format("Nothing worked on the {} side looks like this.", right ? "right" : "wrong"));
        StitchSign usual = cell.sign;
        usual.way = 0;
        if (stepOf(usual, row.facing)) problem.suggestions.push_back("the same sign without its mark '");
        pattern_.problems.push_back(std::move(problem));
    }

    const WrittenChart& chart_;
    Pattern pattern_;
};

bool sameRepeat(const RepeatRows& x, const RepeatRows& y) {
    return x.rows.first == y.rows.first && x.rows.last == y.rows.last && x.times == y.times &&
           x.more == y.more && x.after == y.after;
}

}  // namespace

int WrittenRow::width() const {
    int sum = 0;
    for (const ChartCell& cell : cells) sum += cell.width();
    return sum;
}

int WrittenChart::width() const {
    int widest = 0;
    for (const WrittenRow& row : rows) widest = std::max(widest, row.width());
    return widest;
}

bool sameChart(const WrittenChart& a, const WrittenChart& b) {
    if (a.multiple.has_value() != b.multiple.has_value()) return false;
    if (a.multiple && (a.multiple->of != b.multiple->of || a.multiple->plus != b.multiple->plus))
        return false;
    return a.title == b.title && a.castOn == b.castOn && a.round == b.round && a.leftHanded == b.leftHanded &&
           a.yarns == b.yarns && a.rows == b.rows && a.bindOffAtEnd == b.bindOffAtEnd && a.notes == b.notes &&
           std::equal(a.repeats.begin(), a.repeats.end(), b.repeats.begin(), b.repeats.end(), sameRepeat);
}

Pattern patternOf(const WrittenChart& chart) {
    return ToWords(chart).run();
}

}  // namespace loopmend
