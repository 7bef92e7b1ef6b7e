// SPDX-License-Identifier: MIT
#include "pattern/edits.h"

#include "pattern/edit_distance.h"
#include "pattern/print.h"

#include <algorithm>
#include <cstdlib>
#include <string>
#include <string_view>
#include <utility>

namespace loopmend {

namespace {

using namespace misprint_price;

constexpr int kLikeLetters = 4;  ///< letters of a word that is still taken for a plain one
constexpr int kMostPlain = 24;   ///< stitches of a plain word that was lost

bool plain(const Item& item) {
    return item.kind == ItemKind::stitch && (item.step.op == Op::knit || item.step.op == Op::purl);
}

bool openEnded(const Item& item) {
    return item.kind == ItemKind::star || item.kind == ItemKind::run || item.kind == ItemKind::follow;
}

std::size_t lettersOf(std::string_view word) {
    return static_cast<std::size_t>(
        std::count_if(word.begin(), word.end(), [](char c) { return c >= 'a' && c <= 'z'; }));
}

/// Numbers that may have been meant where `n` is printed, with the price of the slip.
std::vector<std::pair<int, int>> numbersLike(int n) {
    std::vector<std::pair<int, int>> list;
    const auto add = [&](int to, int price) {
        if (to < 1 || to > kLargestNumber || to == n) return;
        for (auto& [known, least] : list) {
            if (known != to) continue;
            least = std::min(least, price);
            return;
        }
        list.emplace_back(to, price);
    };
    add(n - 1, kByOne);
    add(n + 1, kByOne);
    for (int place = 1; place <= n; place *= 10) {
        const int digit = n / place % 10;
        for (int other = 0; other <= 9; ++other)
            if (other != 0 || place * 10 <= n) add(n + (other - digit) * place, kDigit);
        add(n / (place * 10) * place + n % place, kDigitsMore);                // lost
        add(n / place * place * 10 + digit * place + n % place, kDigitsMore);  // set twice
    }
    add(n + 2, kDigitsMore);
    add(n - 2, kDigitsMore);
    if (n < 10) add(n + 10, kDigitsMore);
    return list;
}

bool carriesNumber(Op op) {
    switch (op) {
        case Op::castOn:
        case Op::castOnRight:
        case Op::castOnKnitted:
        case Op::bindOff:
        case Op::bindOffPurl:
        case Op::bindOffTogether:
        case Op::hold:
        case Op::pickUp: return true;
        default: return false;
    }
}

class Editing {
  public:
    Editing(Row& row, std::int64_t ahead, const MisprintWords& words, const std::function<Tried(int)>& tried)
        : row_(row), words_(words), tried_(tried) {
        bool open = false;
        std::int64_t takes = 0;
        for (const Item& item : row.items) {
            open = open || openEnded(item);
            takes += usesOf(item);
        }
        spare_ = open ? 0 : std::clamp<std::int64_t>(ahead - takes, -kLargestNumber, kLargestNumber);
    }

    void all() { list(row_.items, true); }

  private:
    bool trying(int price) {
        if (enough_) return false;
        const Tried tried = tried_(price);
        enough_ = tried == Tried::enough;
        return tried == Tried::fits;
    }

    void list(std::vector<Item>& items, bool top) {
        for (std::size_t i = 0; i < items.size() && !enough_; ++i) {
            numbers(items[i]);
            otherWord(items[i], top && i + 1 == items.size());
            if (!items[i].items.empty()) list(items[i].items, false);
            brackets(items, i);
            swap(items, i);
            leaveOut(items, i, top);
        }
        putIn(items);
    }

    template <class Number>
    void number(Number& value, int least) {
        const Number old = value;
        for (const auto& [to, price] : numbersLike(old)) {
            if (to < least) continue;
            value = static_cast<Number>(to);
            trying(price);
        }
        value = old;
    }

    void numbers(Item& item) {
        switch (item.kind) {
            case ItemKind::stitch:
                if (item.step.op == Op::yarnOver || item.step.op == Op::yarnOverReverse) {
                    wraps(item);
                } else if (carriesNumber(item.step.op)) {
                    number(item.step.count, 1);
                } else if (printedWithNumber(item.step.op) || item.times > 1) {
                    number(item.times, 1);
                }
                break;
            case ItemKind::group:
                if (item.inAllUnsaid) {
                    for (const int delta : {1, -1}) {
                        item.times += delta;
                        if (item.times > 0) trying(kOtherReading);
                        item.times -= delta;
                    }
                }
                number(item.times, 1);
                break;
            case ItemKind::star:
            case ItemKind::run:
                if (item.until == Until::last) number(item.last, 1);
                break;
            default: break;
        }
    }

    /// `yo`, `yo twice`: the number is a word of its own.
    void wraps(Item& item) {
        const std::int16_t old = item.step.count;
        for (std::int16_t count = 1; count <= 4; ++count) {
            item.step.count = count;
            if (count != old) trying(count > old ? kLost : kWord);
        }
        item.step.count = old;
    }

    void otherWord(Item& item, bool last) {
        if (item.kind != ItemKind::stitch) return;
        const Item old = item;
        const std::string printed = printItem(old);
        for (std::size_t i = 0; i < words_.stitches.size(); ++i) {
            item.step.op = words_.stitches[i].step.op;
            item.step = words_.stitches[i].step;
            item.step.yarn = old.step.yarn;
            item.times = 1;
            item.yarnSaid = words_.stitches[i].yarnSaid;
            if (item.step == old.step && old.times == 1) continue;
            const int letters = lettersApart(printed, printItem(item), {}, kLikeLetters + 1);
            const int price = letters <= 1 ? kLetter : letters <= kLikeLetters + 1 ? kWord : kUnlikeWord;
            trying(price + (i < words_.own ? 0 : kNewWord));
        }
        item = old;
        if (!plain(old)) {
            for (const Op op : {Op::knit, Op::purl}) {
                item.step = Step{};
                item.step.op = op;
                item.step.yarn = old.step.yarn;
                plainNumbers(spare_ + usesOf(old), [&](int n) {
                    item.times = n;
                    trying(lettersOf(printed) > kLikeLetters ? kUnlikeWord : kWord);
                });
            }
            item = old;
            return;
        }
        if (old.times == 1 && last && !row_.items.empty() && &item == &row_.items.back()) {
            item.kind = ItemKind::run;
            trying(kToEnd);
            item = old;
        }
    }

    /// A bracket or a star one word earlier or later; a bracket that is not there.
    void brackets(std::vector<Item>& items, std::size_t i) {
        if (items[i].kind != ItemKind::group && items[i].kind != ItemKind::star) return;
        const std::vector<Item> old = items;
        const auto single = [](const Item& item) {
            return item.kind == ItemKind::stitch || item.kind == ItemKind::group;
        };
        const bool reading = items[i].kind == ItemKind::group && old[i].items.size() == 1;
        if (i > 0 && single(items[i - 1])) {
            items[i].items.insert(items[i].items.begin(), items[i - 1]);
            items.erase(items.begin() + static_cast<std::ptrdiff_t>(i) - 1);
            trying(reading ? kOtherReading : kBracket);
            items = old;
        }
        if (i + 1 < items.size() && single(items[i + 1])) {
            items[i].items.push_back(items[i + 1]);
            items.erase(items.begin() + static_cast<std::ptrdiff_t>(i) + 1);
            trying(kBracket);
            items = old;
        }
        if (items[i].items.size() > 1) {
            Item first = items[i].items.front();
            items[i].items.erase(items[i].items.begin());
            items.insert(items.begin() + static_cast<std::ptrdiff_t>(i), std::move(first));
            trying(kBracket);
            items = old;
            Item last = items[i].items.back();
            items[i].items.pop_back();
            items.insert(items.begin() + static_cast<std::ptrdiff_t>(i) + 1, std::move(last));
            trying(kBracket);
            items = old;
        }
        if (items[i].kind == ItemKind::group) {
            const std::vector<Item> inner = items[i].items;
            items.erase(items.begin() + static_cast<std::ptrdiff_t>(i));
            items.insert(items.begin() + static_cast<std::ptrdiff_t>(i), inner.begin(), inner.end());
            trying(kBracketLost);
            items = old;
        }
    }

    void swap(std::vector<Item>& items, std::size_t i) {
        if (i + 1 >= items.size()) return;
        // The stitches stay the same unless a star or a run is one of them.
        if (!openEnded(items[i]) && !openEnded(items[i + 1])) return;
        std::swap(items[i], items[i + 1]);
        trying(kSwapped);
        std::swap(items[i], items[i + 1]);
    }

    void leaveOut(std::vector<Item>& items, std::size_t i, bool top) {
        if (items[i].kind != ItemKind::stitch || (items.size() < 2 && !top)) return;
        const auto same = [&](std::size_t other) { return sameItems({items[i]}, {items[other]}); };
        const bool before = i > 0 && same(i - 1);
        const bool after = i + 1 < items.size() && same(i + 1);
        if (before) return;  // the one before was left out already
        Item old = items[i];
        const auto here = items.begin() + static_cast<std::ptrdiff_t>(i);
        items.erase(here);
        trying(after ? kDoubled : kPutIn);
        items.insert(items.begin() + static_cast<std::ptrdiff_t>(i), std::move(old));
    }

    void putIn(std::vector<Item>& items) {
        // Before the star a word counts once, behind it against the stitches that the star leaves.
        std::size_t open = 0;
        while (open < items.size() && !openEnded(items[open])) ++open;
        const auto at = [&](std::size_t i, const Item& item, int price) {
            items.insert(items.begin() + static_cast<std::ptrdiff_t>(i), item);
            const bool fits = trying(price);
            items.erase(items.begin() + static_cast<std::ptrdiff_t>(i));
            return fits;
        };
        const auto everywhere = [&](const Item& item, int price) {
            if (at(0, item, price))
                for (std::size_t i = 1; i <= open; ++i) at(i, item, price);
            if (open == items.size()) return;
            if (at(items.size(), item, price))
                for (std::size_t i = open + 1; i < items.size(); ++i) at(i, item, price);
        };
        if (enough_) return;
        for (std::size_t i = 0; i < words_.stitches.size(); ++i)
            everywhere(words_.stitches[i], kLost + (i < words_.own ? 0 : kNewWord));
        for (const Op op : {Op::knit, Op::purl}) {
            Item item;
            item.step.op = op;
            plainNumbers(spare_, [&](int n) {
                item.times = n;
                everywhere(item, kLost);
            });
        }
    }

    /// Numbers that a lost plain word may have had: small ones, and what is left over.
    template <class Try>
    void plainNumbers(std::int64_t missing, Try tryOne) const {
        for (int n = 1; n <= kMostPlain; ++n) tryOne(n);
        if (missing > kMostPlain) tryOne(static_cast<int>(missing));
    }

    Row& row_;
    bool enough_ = false;
    std::int64_t spare_ = 0;  ///< stitches that a row of fixed length leaves
    const MisprintWords& words_;
    const std::function<Tried(int)>& tried_;
};

void gather(const std::vector<Item>& items, std::vector<Item>& words) {
    for (const Item& item : items) {
        if (!item.items.empty()) gather(item.items, words);
        if (item.kind != ItemKind::stitch || plain(item) || turnsWork(item)) continue;
        const bool known = std::any_of(words.begin(), words.end(), [&](const Item& word) {
            return word.step == item.step && word.times == item.times && word.yarnSaid == item.yarnSaid;
        });
        if (!known) words.push_back(item);
    }
}

}  // namespace

MisprintWords::MisprintWords(const Pattern& pattern) {
    for (const Row& row : pattern.rows) gather(row.items, stitches);
    own = stitches.size();
    for (const Op op : {Op::yarnOver, Op::k2tog, Op::ssk, Op::skp, Op::p2tog, Op::sk2p, Op::k3tog, Op::p3tog,
                        Op::kfb, Op::m1Left}) {
        Item item;
        item.step.op = op;
        const bool known = std::any_of(stitches.begin(), stitches.end(), [&](const Item& word) {
            return word.step.op == op && word.step.count == 1;
        });
        if (!known) stitches.push_back(item);
    }
}

void eachEdit(Row& row, std::int64_t ahead, const MisprintWords& words,
              const std::function<Tried(int price)>& tried) {
    Editing(row, ahead, words, tried).all();
}

}  // namespace loopmend
