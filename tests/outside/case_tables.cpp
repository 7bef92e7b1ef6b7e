// SPDX-License-Identifier: MIT
//
// What the tables of a case foretell, held to the cloth: random mistakes on book patterns (patterns.tsv) are
// really knitted, and random looks at them answered as a perfect eye would.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cstdlib>
#include <map>
#include <string>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "diagnosis/tables.h"
#include "outside/case_knitter.h"
#include "sampled.h"

using namespace loopmend;
using namespace loopmend::seeded;

namespace {

constexpr int kPatterns = 21;  // the first so many seeded cases have one each
constexpr int kLooks = 10;     // at each piece

Look anyLook(Seeded& dice, const CaseTables& t) {
    constexpr LookWay kWays[] = {LookWay::armsLength,   LookWay::countSpan,   LookWay::rowFits,
                                 LookWay::closeLook,    LookWay::searchPatch, LookWay::slantLight,
                                 LookWay::stretchPatch, LookWay::tug,         LookWay::bothEnds};
    Look look;
    look.way = kWays[dice.below(9)];
    look.rowFrom = look.rowTo = 1 + dice.below(t.rows());
    look.side = dice.below(2) == 0 ? Side::right : Side::wrong;
    const int width = t.cloth().width(look.rowFrom);
    look.columnFrom = look.columnTo = 1 + dice.below(width);
    switch (look.way) {
        case LookWay::countSpan:
            // The whole row, or from its edge on.
            if (dice.below(2) == 0) look.columnTo = width;
            look.columnFrom = 1;
            break;
        case LookWay::rowFits: look.rowFrom = look.rowTo = t.rows() + 1; break;
        case LookWay::searchPatch:
        case LookWay::slantLight:
        case LookWay::stretchPatch:
            look.rowTo = std::min(t.rows(), look.rowFrom + 5);
            look.columnTo = std::min(width, look.columnFrom + 12);
            break;
        default: break;
    }
    return look;
}

struct Agreement {
    int all = 0;
    int same = 0;
    std::map<std::string, std::pair<int, int>> by;  ///< kind, look, ground: otherwise, of so many

    void add(const std::string& key, bool agrees) {
        std::pair<int, int>& count = by[key];
        count.first += agrees ? 0 : 1;
        ++count.second;
    }
    /// Where they differ, the most first.
    std::string table() const {
        std::vector<std::pair<int, std::string>> lines;
        for (const auto& [key, count] : by) {
            if (count.first > 0)
                lines.emplace_back(-count.first,
                                   fmt::format("{}: {} of {}\n", key, count.first, count.second));
        }
        std::sort(lines.begin(), lines.end());
        std::string text;
        for (const auto& [n, line] : lines) text += line;
        return text;
    }
};

/// So many pairs of a mistake and a look on the pattern of the nth seeded case.
void agree(int n, int pairs, Agreement& agreement) {
    const auto c = seededCase(n);
    REQUIRE(c);
    const CaseTables t(c->script, {}, c->rows, {}, nullptr);
    Script done = c->script;
    done.rows.resize(static_cast<std::size_t>(c->rows));
    Seeded dice(7);
    for (int i = 0; i < pairs;) {
        const auto h = static_cast<std::size_t>(dice.below(static_cast<int>(t.size())));
        if (!t.isListed(t.at(h)) || !t.can(h)) continue;
        const auto after = static_cast<After>(t.at(h).after);
        const auto piece = knitWith(done, {}, {t.placeOf(t.at(h))}, after);
        if (!piece) continue;
        const LookedAt looked(*piece->actual.fabric, *piece->meant.fabric, &c->script);
        for (int k = 0; k < kLooks; ++k, ++i) {
            const Look look = anyLook(dice, t);
            const bool agrees = t.forecast(look, h).seen == answer(look, looked);
            ++agreement.all;
            agreement.same += agrees ? 1 : 0;
            agreement.add(fmt::format("{} {}", t.id(t.at(h).kind), name(after)), agrees);
            agreement.add(fmt::format("look {}", name(look.way)), agrees);
            agreement.add(fmt::format("ground {}", c->pattern), agrees);
        }
    }
}

}  // namespace

TEST_CASE("tables agree with the cloth itself") {
    Agreement agreement;
    for (int n = 0; n < kPatterns; n += kSanitized ? 9 : 3) agree(n, kSanitized ? 100 : 300, agreement);
    INFO(agreement.table());
    CHECK(agreement.all >= 300);
    CHECK(agreement.same * 100 >= agreement.all * 99);
}

TEST_CASE("tables agree with the cloth itself in twenty thousand pairs", "[.all]") {
    Agreement agreement;
    for (int n = 0; n < kPatterns; ++n) agree(n, 1000, agreement);
    WARN(agreement.table() << agreement.same << " of " << agreement.all);
    CHECK(agreement.all >= 20000);
    CHECK(agreement.same * 100 >= agreement.all * 99);
}

TEST_CASE("how many stitches a span has that was worked on by count is foretold column by column") {
    // Lace in every row, and in every other: each feature is found again where it stands now, each plain
    // stitch above the one that it stands on; some are hidden in a decrease.
    int all = 0;
    int same = 0;
    int moved = 0;
    int gone = 0;
    for (const int n : {3, 7}) {
        const auto c = seededCase(n);
        REQUIRE(c);
        const CaseTables t(c->script, {}, c->rows, {}, nullptr);
        Script done = c->script;
        done.rows.resize(static_cast<std::size_t>(c->rows));
        int pieces = 0;
        for (std::size_t h = 5; h < t.size() && pieces < sampled(8); h += 37) {
            const CaseHypothesis& it = t.at(h);
            if (!t.isListed(it) || it.after != static_cast<int>(After::byCount) || !t.can(h) ||
                t.fault(it.kind)->misread() || it.row + 4 > c->rows || std::abs(t.offAfter(h, it.row)) != 1)
                continue;
            const auto piece = knitWith(done, {}, {t.placeOf(it)}, After::byCount);
            REQUIRE(piece);
            ++pieces;
            const LookedAt looked(*piece->actual.fabric, *piece->meant.fabric, &c->script);
            for (int row = it.row; row <= it.row + 4; ++row) {
                Look look;
                look.way = LookWay::countSpan;
                look.rowFrom = look.rowTo = row;
                look.columnFrom = 1;
                for (look.columnTo = 2; look.columnTo < t.cloth().width(row); ++look.columnTo) {
                    const Sighting truth = answer(look, looked);
                    ++all;
                    same += t.forecast(look, h).seen == truth ? 1 : 0;
                    moved += truth.what == Sighting::What::number && truth.by != 0 ? 1 : 0;
                    gone += truth.what == Sighting::What::unclear ? 1 : 0;
                }
            }
        }
        CHECK(pieces > 0);
    }
    INFO(same << " of " << all << ", " << moved << " moved, " << gone << " gone");
    CHECK(moved > 0);
    CHECK(gone > 0);
    CHECK(same * 100 >= all * 98);
}
