// SPDX-License-Identifier: MIT
// Misprints put into the book patterns of patterns.tsv one at a time: is each noticed, and is what the book
// really says among the suggestions for the first row that does not come out?
#include "patterns_tsv.h"

#include "pattern/counts.h"
#include "pattern/print.h"

#include <catch2/catch.hpp>

#include <fmt/format.h>

#include <algorithm>
#include <string>
#include <vector>

using namespace loopmend;
using namespace loopmend::outside;

namespace {

struct Misprint {
    Pattern pattern;
    std::string cure;  ///< words that the right suggestion holds
};

/// All misprints of one kind each in the items: a digit or a number of times one off, a decrease of three for
/// two, a yarn-over left out.
void misprint(Pattern& pattern, std::vector<Item>& items, std::vector<Misprint>& out) {
    for (std::size_t i = 0; i < items.size(); ++i) {
        const Item old = items[i];
        const auto emit = [&](std::string cure) { out.push_back({pattern, std::move(cure)}); };
        const auto digit = [&](int least) {
            for (const int delta : {-1, 1}) {
                if (old.times + delta < least) continue;
                items[i].times = old.times + delta;
                emit(fmt::format("“{}” instead of “{}”", printItem(old), printItem(items[i])));
                items[i] = old;
            }
        };
        const bool stitch = old.kind == ItemKind::stitch;
        if (stitch && (old.step.op == Op::knit || old.step.op == Op::purl)) digit(1);
        if (old.kind == ItemKind::group) digit(2);
        if (stitch && old.step.op == Op::k2tog) {
            items[i].step.op = Op::k3tog;
            emit("“k2tog” instead of “k3tog”");
            items[i] = old;
        }
        if (stitch && old.step.op == Op::yarnOver && old.step.count == 1 && items.size() > 1) {
            items.erase(items.begin() + static_cast<std::ptrdiff_t>(i));
            emit("yo");
            items.insert(items.begin() + static_cast<std::ptrdiff_t>(i), old);
        }
        if (!old.items.empty()) misprint(pattern, items[i].items, out);
    }
}

/// `Row 3`, `Rnds 1-4`: what suggestions for a row begin with.
std::string headOf(const Row& row) {
    const std::string text = printRow(row);
    return text.substr(0, text.find(':') + 1);
}

}  // namespace

TEST_CASE("misprints are noticed, and what the book says is suggested for nine in ten", "[outside]") {
    int all = 0;
    int unnoticed = 0;
    int cured = 0;
    int rightRow = 0;
    for (const BookPattern& book : bookPatterns()) {
        for (std::size_t row = 0; row < book.pattern.rows.size(); ++row) {
            Pattern pattern = book.pattern;
            std::vector<Misprint> misprints;
            misprint(pattern, pattern.rows[row].items, misprints);
            for (const Misprint& wrong : misprints) {
                ++all;
                const CheckReport report = check(wrong.pattern, book.castOn(3));
                if (report.ok) {
                    ++unnoticed;  // in the last row of a pattern that is not repeated, or it still comes out
                    continue;
                }
                const std::vector<std::string>& suggestions = report.problems[0].suggestions;
                REQUIRE_FALSE(suggestions.empty());
                const std::string head = headOf(book.pattern.rows[row]);
                const auto ofRow = [&](const std::string& words) {
                    return words.compare(0, head.size(), head) == 0;
                };
                const auto cures = [&](const std::string& words) {
                    const bool yarnOver = wrong.cure == "yo" && words.find("yarn-over") != std::string::npos;
                    return ofRow(words) && (yarnOver || words.find(wrong.cure) != std::string::npos);
                };
                rightRow += std::any_of(suggestions.begin(), suggestions.end(), ofRow) ? 1 : 0;
                cured += std::any_of(suggestions.begin(), suggestions.end(), cures) ? 1 : 0;
            }
        }
    }
    const int noticed = all - unnoticed;
    INFO(all << " misprints, " << unnoticed << " unnoticed, right row " << rightRow << ", cured " << cured);
    CHECK(all > 3000);
    CHECK(unnoticed * 100 <= all * 2);
    CHECK(rightRow * 100 >= noticed * 95);
    CHECK(cured * 100 >= noticed * 90);
}
