// SPDX-License-Identifier: MIT
#include "pattern/pattern.h"

#include <algorithm>

namespace loopmend {

namespace {

constexpr std::int64_t kCap = 1'000'000'000;

std::int64_t capped(std::int64_t n) {
    return std::clamp(n, -kCap, kCap);
}

/// Stitches an item takes or gives, by the measure of a Step (uses or makes).
template <class Measure>
std::int64_t total(const std::vector<Item>& items, Measure measure);

template <class Measure>
std::int64_t total(const Item& item, Measure measure) {
    switch (item.kind) {
        case ItemKind::stitch: return capped(std::int64_t{measure(item.step)} * item.times);
        case ItemKind::group: return capped(total(item.items, measure) * item.times);
        case ItemKind::star: return total(item.items, measure);
        case ItemKind::run: return measure(item.step);
        case ItemKind::follow: return 1;
        case ItemKind::marker: return 0;
    }
    return 0;
}

template <class Measure>
std::int64_t total(const std::vector<Item>& items, Measure measure) {
    std::int64_t sum = 0;
    for (const Item& item : items) sum = capped(sum + total(item, measure));
    return sum;
}

int usesOfStep(const Step& step) {
    return uses(step);
}
int makesOfStep(const Step& step) {
    return makes(step);
}

bool sameItem(const Item& a, const Item& b) {
    if (a.kind != b.kind) return false;
    const bool extent = a.until == b.until && (a.until == Until::end || a.last == b.last);
    switch (a.kind) {
        case ItemKind::stitch: return a.step == b.step && a.times == b.times && a.yarnSaid == b.yarnSaid;
        case ItemKind::group: return a.times == b.times && sameItems(a.items, b.items);
        case ItemKind::star: return extent && sameItems(a.items, b.items);
        case ItemKind::run: return extent && a.step == b.step && a.yarnSaid == b.yarnSaid;
        case ItemKind::follow: return extent && a.opposite == b.opposite && a.step == b.step;
        case ItemKind::marker: return a.slipped == b.slipped && a.removed == b.removed;
    }
    return false;
}

bool sameSpan(const RowSpan& a, const RowSpan& b) {
    return a.first == b.first && a.last == b.last;
}

}  // namespace

std::int64_t usesOf(const Item& item) {
    return total(item, usesOfStep);
}
std::int64_t makesOf(const Item& item) {
    return total(item, makesOfStep);
}
std::int64_t usesOf(const std::vector<Item>& items) {
    return total(items, usesOfStep);
}
std::int64_t makesOf(const std::vector<Item>& items) {
    return total(items, makesOfStep);
}

bool sameItems(const std::vector<Item>& a, const std::vector<Item>& b) {
    return std::equal(a.begin(), a.end(), b.begin(), b.end(), sameItem);
}

bool sameRow(const Row& a, const Row& b) {
    if (a.sameAs.has_value() != b.sameAs.has_value()) return false;
    if (a.sameAs && !sameSpan(*a.sameAs, *b.sameAs)) return false;
    return a.round == b.round && a.every == b.every && a.facing == b.facing &&
           a.printedCount == b.printedCount &&
           std::equal(a.spans.begin(), a.spans.end(), b.spans.begin(), b.spans.end(), sameSpan) &&
           sameItems(a.items, b.items);
}

bool sameRows(const Pattern& a, const Pattern& b) {
    const auto sameRepeat = [](const RepeatRows& x, const RepeatRows& y) {
        return sameSpan(x.rows, y.rows) && x.times == y.times && x.more == y.more && x.after == y.after;
    };
    if (a.multiple.has_value() != b.multiple.has_value()) return false;
    if (a.multiple && (a.multiple->of != b.multiple->of || a.multiple->plus != b.multiple->plus))
        return false;
    return a.castOn == b.castOn && a.round == b.round && a.yarns == b.yarns &&
           a.bindOffAtEnd == b.bindOffAtEnd &&
           std::equal(a.rows.begin(), a.rows.end(), b.rows.begin(), b.rows.end(), sameRow) &&
           std::equal(a.repeats.begin(), a.repeats.end(), b.repeats.begin(), b.repeats.end(), sameRepeat);
}

bool turnsWork(const Item& item) {
    return item.kind == ItemKind::stitch && (item.step.op == Op::turn || item.step.op == Op::wrapTurn);
}

bool printedWithNumber(Op op) {
    switch (op) {
        case Op::knit:
        case Op::purl:
        case Op::knitTbl:
        case Op::purlTbl:
        case Op::knitBelow:
        case Op::purlBelow:
        case Op::knitWraps:
        case Op::purlWraps:
        case Op::letFall:
        case Op::slipPurlwiseBack:
        case Op::slipPurlwiseFront:
        case Op::slipKnitwiseBack:
        case Op::slipKnitwiseFront: return true;
        default: return false;
    }
}

std::string wordsAt(const Pattern& pattern, const Place& place) {
    std::string words;
    if (place.end > pattern.text.size() || place.begin >= place.end) return words;
    for (std::size_t i = place.begin; i < place.end; ++i) {
        const char c = pattern.text[i];
        const bool blank = c == ' ' || c == '\n' || c == '\t' || c == '\r';
        if (!blank) {
            words += c;
        } else if (!words.empty() && words.back() != ' ') {
            words += ' ';
        }
    }
    while (!words.empty() && words.back() == ' ') words.pop_back();
    return words;
}

}  // namespace loopmend
