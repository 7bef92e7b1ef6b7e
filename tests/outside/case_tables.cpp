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

#include "diagnosis/case.h"
#include "diagnosis/tables.h"
#include "outside/case_knitter.h"
#include "outside/patterns_tsv.h"
#include "pattern/counts.h"
#include "reading/answer_piece.h"
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

namespace {

/// A line of the meant piece followed down from its top, and what was found.
struct Followed {
    const Landmark& line;
    Sighting seen;
    Sighting foretold;
};

/// Mistakes that change the count, made in rows 3 to 5, gone on from in that way: see(mistake, what was
/// found of each line that has a place in every `step`th row, up to the needle).
template <class See>
int followLines(const Script& script, int rows, After after, int step, See see) {
    const CaseTables t(script, {}, rows, {}, nullptr);
    Script done = script;
    done.rows.resize(static_cast<std::size_t>(rows));
    int pieces = 0;
    for (std::size_t h = 0; h < t.size() && pieces < sampled(24); h += 13) {
        const CaseHypothesis& it = t.at(h);
        if (!t.isListed(it) || it.after != static_cast<int>(after) || !t.can(h) || it.row < 3 || it.row > 5 ||
            t.fault(it.kind)->misread() || std::abs(t.offAfter(h, it.row)) != 1)
            continue;
        const auto piece = knitWith(done, {}, {t.placeOf(it)}, after);
        REQUIRE(piece);
        const LookedAt looked(*piece->actual.fabric, *piece->meant.fabric, &script);
        REQUIRE(looked.rows() == rows);
        ++pieces;
        std::vector<Followed> all;
        for (const Landmark& line : looked.inner().was->lines) {
            const auto places = static_cast<int>(line.places.size());
            if (places < 3 || line.rowTo + step <= rows || places != (line.rowTo - line.rowFrom) / step + 1)
                continue;
            Look look;
            look.way = LookWay::follow;
            look.landmark = line.kind;
            look.rowFrom = line.rowTo;
            look.rowTo = line.rowFrom;
            look.columnFrom = look.columnTo = line.column;
            all.push_back({line, answer(look, looked), t.forecast(look, h).seen});
        }
        REQUIRE_FALSE(all.empty());
        INFO(t.id(it.kind) << ", row " << it.row << ", column " << it.column);
        see(it, all);
    }
    return pieces;
}

bool breaksIn(const Sighting& seen, int row) {
    return seen.what == Sighting::What::place && seen.row == row;
}

}  // namespace

TEST_CASE("every-row lace breaks every landmark up to the needle") {
    // "Purse in fine silk", Miss Lambert, My Knitting Book (London, 1843), worked to and fro: patterns.tsv,
    // L28. Worked on by count each row begins at the other edge, so that it stands a stitch aside of the one
    // below, all along: whoever follows a line down finds it broken in the row on the needle, wherever the
    // mistake lies. Tables foretell that.
    constexpr int kRows = 14;
    const std::vector<outside::BookPattern> books = outside::bookPatterns();
    const auto book =
        std::find_if(books.begin(), books.end(), [](const outside::BookPattern& b) { return b.id == "L28"; });
    REQUIRE(book != books.end());
    const auto lace = expand(book->pattern, book->castOn(12), kRows + 2);
    REQUIRE(lace);
    int lines = 0;
    int same = 0;
    const int pieces = followLines(*lace, kRows, After::byCount, 1,
                                   [&](const CaseHypothesis&, const std::vector<Followed>& all) {
                                       for (const Followed& f : all) {
                                           CHECK(breaksIn(f.seen, kRows));
                                           ++lines;
                                           same += f.seen == f.foretold ? 1 : 0;
                                       }
                                   });
    CHECK(pieces >= sampled(16));
    CHECK(lines >= 10 * pieces);
    CHECK(same * 100 >= lines * 99);
    // Worked on by reading, each stitch above its own, only what stands beside the mistake breaks.
    followLines(*lace, kRows, After::byReading, 1,
                [&](const CaseHypothesis& it, const std::vector<Followed>& all) {
                    for (const Followed& f : all) {
                        if (std::abs(f.line.column - it.column) <= 6) continue;
                        CHECK(f.seen.what == Sighting::What::nothing);
                        CHECK(f.foretold.what == Sighting::What::nothing);
                    }
                });
    // With plain rows between all rows with a pattern begin at one edge: lines that stand behind the mistake
    // step aside once, in its row or the next one with a pattern, and go on straight from there.
    CaseStart start;
    start.pattern =
        "Cast on 36 sts.\nRow 1 (RS): *yo, k2tog, k1; rep from * to end.\nRow 2: purl.\n"
        "Rep rows 1 and 2 for pattern.\n";
    start.rowsDone = kRows;
    const auto plain = meantBy(start);
    REQUIRE(plain);
    followLines(plain->script, kRows, After::byCount, 2,
                [&](const CaseHypothesis& it, const std::vector<Followed>& all) {
                    for (const Followed& f : all) {
                        if (std::abs(f.line.column - it.column) <= 6) continue;
                        const bool behind = f.line.column > it.column;
                        CHECK((f.seen.what == Sighting::What::place) == behind);
                        CHECK(f.seen.row <= it.row + 2);
                        CHECK(f.foretold == f.seen);
                    }
                });
}
