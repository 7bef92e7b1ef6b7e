// SPDX-License-Identifier: MIT
// What is printed parses to the same rows.
#include "support.h"

#include <catch2/catch.hpp>

#include <rapidcheck.h>
#include <rapidcheck/catch.h>

using namespace loopmend;
using loopmend::testing::told;

namespace {

constexpr Op kNumbered[] = {Op::knit,
                            Op::purl,
                            Op::knitTbl,
                            Op::purlTbl,
                            Op::knitBelow,
                            Op::purlBelow,
                            Op::letFall,
                            Op::slipPurlwiseBack,
                            Op::slipPurlwiseFront,
                            Op::slipKnitwiseBack,
                            Op::slipKnitwiseFront};
constexpr Op kPlain[] = {Op::k2tog,         Op::ssk,
                         Op::skp,           Op::k2togTbl,
                         Op::p2tog,         Op::p2togTbl,
                         Op::ssp,           Op::spp,
                         Op::k3tog,         Op::k3togTbl,
                         Op::sssk,          Op::p3tog,
                         Op::p3togTbl,      Op::sk2p,
                         Op::sp2p,          Op::s2kp,
                         Op::s2pp,          Op::slip1k2Over,
                         Op::k2togOver,     Op::kfb,
                         Op::kpk,           Op::kyok,
                         Op::pfb,           Op::pkp,
                         Op::pyop,          Op::m1Left,
                         Op::m1Right,       Op::m1PurlLeft,
                         Op::m1PurlRight,   Op::m1Open,
                         Op::passOver,      Op::liftedRight,
                         Op::liftedLeft,    Op::liftedRightPurl,
                         Op::liftedLeftPurl};

Op pick(const Op* begin, const Op* end) {
    return *(begin + *rc::gen::inRange<std::ptrdiff_t>(0, end - begin));
}

bool chance(int oneIn) {
    return *rc::gen::inRange(0, oneIn) == 0;
}

Item anyStitch() {
    Item item;
    switch (*rc::gen::inRange(0, 8)) {
        case 0:
        case 1:
        case 2:
            item.step.op = pick(std::begin(kNumbered), std::end(kNumbered));
            item.times = *rc::gen::inRange(1, 30);
            if (item.step.op == Op::slipPurlwiseBack || item.step.op == Op::slipKnitwiseBack)
                item.yarnSaid = chance(2);
            if (chance(6)) {
                item.step.op = chance(2) ? Op::knitWraps : Op::purlWraps;
                item.step.count = static_cast<std::int16_t>(*rc::gen::inRange(2, 5));
                item.yarnSaid = true;
            }
            break;
        case 3:
        case 4: item.step.op = pick(std::begin(kPlain), std::end(kPlain)); break;
        case 5:
            item.step.op = chance(4) ? Op::yarnOverReverse : Op::yarnOver;
            item.step.count = static_cast<std::int16_t>(*rc::gen::inRange(1, 5));
            break;
        case 6:
            item.step.op = Op::cable;
            item.step.over = static_cast<std::int16_t>(*rc::gen::inRange(1, 5));
            item.step.under = static_cast<std::int16_t>(*rc::gen::inRange(1, 5));
            item.step.front = chance(2);
            item.step.purlOver = chance(4);
            item.step.purlUnder = chance(4);
            item.step.tblOver = chance(4);
            item.step.tblUnder = chance(4);
            break;
        default:
            switch (*rc::gen::inRange(0, 6)) {
                case 0: item.step.op = Op::castOn; break;
                case 1: item.step.op = Op::bindOff; break;
                case 2: item.step.op = Op::bindOffPurl; break;
                case 3: item.step.op = Op::hold; break;
                case 4:
                    if (chance(3)) {
                        item.step.op = chance(2) ? Op::kfb : Op::pfb;
                        item.step.count = *rc::gen::element<std::int16_t>(3, 4, 9);
                        return item;
                    }
                    item.step.op = chance(2) ? Op::kpk : Op::pkp;
                    item.step.count = *rc::gen::element<std::int16_t>(1, 2, 4, 5, 7);
                    return item;
                default:
                    item.step.op = chance(2) ? Op::kyok : Op::pyop;
                    item.step.count = *rc::gen::element<std::int16_t>(1, 5, 7);
                    return item;
            }
            item.step.count = static_cast<std::int16_t>(*rc::gen::inRange(1, 40));
            break;
    }
    return item;
}

std::vector<Item> someStitches(int depth);

Item anyInner(int depth) {
    if (depth > 0 && chance(4)) {
        Item group;
        group.kind = ItemKind::group;
        group.times = *rc::gen::inRange(2, 6);
        group.items = someStitches(depth - 1);
        const bool loneYarnOver = group.items.size() == 1 && (group.items[0].step.op == Op::yarnOver ||
                                                              group.items[0].step.op == Op::yarnOverReverse);
        if (loneYarnOver) group.items.push_back(Item{});
        return group;
    }
    if (chance(12)) {
        Item marker;
        marker.kind = ItemKind::marker;
        marker.slipped = chance(2);
        return marker;
    }
    return anyStitch();
}

std::vector<Item> someStitches(int depth) {
    std::vector<Item> items;
    const int n = *rc::gen::inRange(1, 5);
    for (int i = 0; i < n; ++i) items.push_back(anyInner(depth));
    return items;
}

Item anyOpen() {
    Item item;
    const int kind = *rc::gen::inRange(0, 5);
    if (kind < 3) {
        item.kind = ItemKind::star;
        item.items = someStitches(2);
        if (usesOf(item.items) <= 0) item.items.push_back(Item{});
    } else if (kind == 3) {
        item.kind = ItemKind::run;
        item.step.op = chance(2) ? pick(std::begin(kNumbered), std::end(kNumbered))
                                 : pick(std::begin(kPlain), std::end(kPlain));
        if (uses(item.step) == 0) item.step.op = Op::knit;
        if (item.step.op == Op::slipPurlwiseBack || item.step.op == Op::slipKnitwiseBack)
            item.yarnSaid = chance(2);
    } else {
        item.kind = ItemKind::follow;
        item.opposite = chance(2);
    }
    if (chance(2)) {
        item.until = Until::last;
        item.last = *rc::gen::inRange(1, 20);
    }
    return item;
}

Pattern anyPattern() {
    Pattern pattern;
    if (chance(2)) pattern.castOn = *rc::gen::inRange(1, 400);
    if (chance(2)) {
        PrintedMultiple multiple;
        multiple.of = *rc::gen::inRange(1, 40);
        multiple.plus = *rc::gen::inRange(0, 20);
        pattern.multiple = multiple;
    }
    pattern.round = chance(3);
    int number = chance(6) ? 0 : 1;
    const int rows = *rc::gen::inRange(1, 8);
    for (int i = 0; i < rows; ++i) {
        Row row;
        row.round = pattern.round;
        if (number == 0) {
            row.spans = {{0, 0}};
            number = 1;
        } else {
            const int length = *rc::gen::inRange(1, 4);
            row.spans = {{number, number + length - 1}};
            number += length;
            if (chance(4)) {
                row.spans.push_back({number, number});
                ++number;
            }
        }
        // Sides are marked as they fall, so that they alternate.
        if (!pattern.round && chance(2) && row.spans[0].first > 0 && pattern.rows.empty())
            row.facing = chance(2) ? Facing::right : Facing::wrong;
        if (i > 0 && chance(6) && row.spans[0].first > 1) {
            row.sameAs = RowSpan{1, *rc::gen::inRange(1, 2)};
        } else {
            row.items = someStitches(2);
            if (chance(2)) {
                row.items.push_back(anyOpen());
                if (chance(2)) {
                    std::vector<Item> tail = someStitches(1);
                    row.items.insert(row.items.end(), tail.begin(), tail.end());
                }
            }
        }
        if (chance(3)) row.printedCount = *rc::gen::inRange(1, 300);
        pattern.rows.push_back(std::move(row));
        if (chance(5) && pattern.rows.back().spans[0].first > 0) {
            RepeatRows repeat;
            repeat.rows = {1, number - 1};
            repeat.times = *rc::gen::inRange(0, 5);
            repeat.more = repeat.times > 0 && chance(2);
            repeat.after = pattern.rows.size();
            pattern.repeats.push_back(repeat);
        }
    }
    if (chance(3)) pattern.bindOffAtEnd = true;
    return pattern;
}

}  // namespace

TEST_CASE("a printed pattern parses to the same rows, in US and UK words") {
    rc::prop("print, then parse", [] {
        const Pattern pattern = anyPattern();
        const Terms terms = chance(2) ? Terms::us : Terms::uk;
        const std::string text = print(pattern, terms);
        const Pattern again = parse(text);
        if (!again.problems.empty() || !sameRows(pattern, again))
            RC_LOG() << text << "\n---\n" << print(again, terms) << told(again.problems);
        RC_ASSERT(again.problems.empty());
        RC_ASSERT(sameRows(pattern, again));
        RC_ASSERT(print(again, terms) == text);
    });
}

TEST_CASE("printing is a fixed point for what people write") {
    for (const char* text : {"Row 1: K1, *k1, yo, SSK, k3, K2 tog, yo; rep from * to last 2 sts, k2.\nRow 2 "
                             "and all even rows: purl.",
                             "1st row: sl 1, knit to last 2 sts, p 2 tog.\n2nd row: (k1, p1, k1) in next st, "
                             "purl to end. - 20 sts",
                             "Rnd 1: *c6f, p2; rep from * around.\nRepeat rnd 1 five more times."}) {
        const Pattern once = parse(text);
        INFO(print(once) << told(once.problems));
        const Pattern twice = parse(print(once));
        CHECK(sameRows(once, twice));
        CHECK(print(twice) == print(once));
    }
}

TEST_CASE("words of the other side of the sea") {
    const Pattern pattern = parse("Row 1: bind off 3, skp, k to end.\nBind off.");
    CHECK(print(pattern, Terms::us) == "Row 1: bind off 3, skp, k to end.\nBind off.\n");
    CHECK(print(pattern, Terms::uk) == "Row 1: cast off 3, skpo, k to end.\nCast off.\n");
}
