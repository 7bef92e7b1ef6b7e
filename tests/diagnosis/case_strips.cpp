// SPDX-License-Identifier: MIT
//
// Hypotheses that differ in their column alone: wherever tables say that a look tells the same of them all
// along, it does.
#include <catch2/catch.hpp>

#include <algorithm>
#include <array>
#include <cstdlib>
#include <iterator>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "diagnosis/case_hearing.h"
#include "diagnosis/case_on.h"
#include "diagnosis/tables.h"
#include "diagnosis/told_place.h"
#include "fault/draw.h"
#include "fault/grounds.h"
#include "sampled.h"

using namespace loopmend;

namespace {

using What = Sighting::What;

constexpr LookWay kWays[] = {LookWay::armsLength,    LookWay::countSpan,   LookWay::rowFits,
                             LookWay::closeLook,     LookWay::searchPatch, LookWay::slantLight,
                             LookWay::stretchPatch,  LookWay::tug,         LookWay::bothEnds,
                             LookWay::compareRepeat, LookWay::turnOver};

Look lookOf(LookWay way, Seeded& dice, const CaseTables& t) {
    Look look;
    look.way = way;
    look.rowFrom = look.rowTo = 1 + dice.below(t.rows());
    look.side = dice.below(2) == 0 ? Side::right : Side::wrong;
    const int width = t.cloth().width(look.rowFrom);
    look.columnFrom = look.columnTo = 1 + dice.below(width);
    switch (way) {
        case LookWay::countSpan: look.columnTo = std::min(width, look.columnFrom + dice.below(width)); break;
        case LookWay::rowFits: look.rowFrom = look.rowTo = t.rows() + 1; break;
        case LookWay::searchPatch:
        case LookWay::slantLight:
        case LookWay::stretchPatch:
        case LookWay::compareRepeat:
            look.rowTo = std::min(t.rows(), look.rowFrom + dice.below(6));
            look.columnTo = std::min(width, look.columnFrom + dice.below(12));
            break;
        default: break;
    }
    return look;
}

/// The first of those that are told alike.
class Alike {
  public:
    explicit Alike(std::size_t strips) : apart_(strips), first_(strips * ApartColumns::kParts) {}
    /// h itself: there was none.
    template <class ApartOf>
    std::size_t firstOf(const CaseTables& t, std::size_t h, ApartOf apartOf) {
        const auto strip = static_cast<std::size_t>(t.stripOf(h));
        if (!apart_[strip]) apart_[strip] = apartOf(h);
        const int part = apart_[strip]->part(t.at(h).column);
        if (part < 0) return h;
        auto& first = first_[strip * ApartColumns::kParts + static_cast<std::size_t>(part)];
        if (!first) first = h;
        return *first;
    }

  private:
    std::vector<std::optional<ApartColumns>> apart_;
    std::vector<std::optional<std::size_t>> first_;
};

}  // namespace

TEST_CASE("what is told alike of a strip is alike column by column") {
    std::size_t together = 0;
    std::size_t all = 0;
    const std::vector<StockGround> grounds = {StockGround::stockinette, StockGround::eyelets,
                                              StockGround::net,         StockGround::spines,
                                              StockGround::cables,      StockGround::shaped};
    for (std::size_t g = 0; g < grounds.size(); ++g) {
        if (!isSampled(static_cast<int>(g))) continue;
        const CaseTables t(stockGround(grounds[g], 60, 26), {}, 24, {}, nullptr);
        Seeded dice(g + 3);
        const auto compare = [&](std::size_t from, std::size_t step, const auto& apartOf, const auto& same,
                                 const std::string& told) {
            Alike alike(t.strips());
            for (std::size_t h = from; h < t.size(); h += step) {
                if (t.stripOf(h) < 0) continue;
                ++all;
                const std::size_t other = alike.firstOf(t, h, apartOf);
                if (other == h) continue;
                ++together;
                if (same(h, other)) continue;
                FAIL_CHECK(fmt::format("{}, {}: {} {} row {}, columns {} and {}", name(grounds[g]), told,
                                       t.id(t.at(h).kind), name(static_cast<After>(t.at(h).after)),
                                       t.at(h).row, t.at(h).column, t.at(other).column));
            }
        };
        for (std::size_t i = 0; i < std::size(kWays); ++i) {
            const Look look = lookOf(kWays[i], dice, t);
            compare(
                i % 5, 5, [&](std::size_t h) { return t.apart(look, h); },
                [&](std::size_t a, std::size_t b) {
                    return t.forecast(look, a) == t.forecast(look, b) && t.can(a) == t.can(b);
                },
                text(look));
        }
        compare(
            g % 5, 5, [&](std::size_t h) { return t.apartInCount(h, t.rows()); },
            [&](std::size_t a, std::size_t b) { return t.offAfter(a, t.rows()) == t.offAfter(b, t.rows()); },
            "stitches too many");
        // She tells a place; she points, or not; she says whether the row came out.
        std::vector<CaseNote> notes(6);
        for (std::size_t i = 0; i < notes.size(); ++i) {
            CaseNote& note = notes[i];
            note.row = 15;
            note.column = 30;
            note.picture = CasePicture::hole;
            switch (i) {
                case 0: note.row = 0; [[fallthrough]];
                case 1: note.kind = CaseNote::Kind::picture; break;
                case 2:
                    note.kind = CaseNote::Kind::cameOut;
                    note.seen.by = -1;
                    break;
                default:
                    constexpr LookWay kPatches[] = {LookWay::searchPatch, LookWay::slantLight,
                                                    LookWay::stretchPatch};
                    note.kind = CaseNote::Kind::look;
                    note.look = lookOf(kPatches[i - 3], dice, t);
                    note.seen.what = Sighting::What::place;
                    note.seen.oddity = OddSign::bump;
                    note.seen.row = (note.look.rowFrom + note.look.rowTo) / 2;
                    note.seen.column = (note.look.columnFrom + note.look.columnTo) / 2;
            }
            compare(
                i % 5, 5, [&](std::size_t h) { return apartOf(note, t, h); },
                [&](std::size_t a, std::size_t b) {
                    return note.kind == CaseNote::Kind::look
                               ? forecastOfTold(note.look, note.seen, t, a, {}) ==
                                     forecastOfTold(note.look, note.seen, t, b, {})
                               : likelihoodOf(note, t, a, {}) == likelihoodOf(note, t, b, {});
                },
                words(note));
        }
    }
    CHECK(together * 2 > all);  // else it would save little
}

TEST_CASE("what hardly weighs anything is told by its like, for which few windows are knitted") {
    constexpr int kEdge = 26;  // columns from which a window reaches an edge
    CaseTables t(stockGround(StockGround::cables, 100, 26), {}, 24, {}, nullptr);
    const std::vector<double> light(t.size(), 0);
    const auto tell = [&](const std::vector<double>* weights) {
        t.tellLightByLike(weights);
        const int before = t.effects().count();
        std::vector<Sighting> told;
        for (std::size_t h = 0; h < t.size(); h += 4) {
            const CaseHypothesis& it = t.at(h);
            if (!t.isListed(it) || t.fault(it.kind)->misread() || it.row < 14 || it.column < kEdge ||
                it.column + kEdge > t.cloth().width(it.row) || static_cast<After>(it.after) != After::byCount)
                continue;
            Look look;
            look.way = LookWay::searchPatch;
            look.rowFrom = it.row - 1;
            look.rowTo = it.row;
            look.columnFrom = 1;
            look.columnTo = 100;
            told.push_back(t.forecast(look, h).seen);
            look.way = LookWay::closeLook;
            look.rowFrom = look.rowTo = it.row;
            look.columnFrom = look.columnTo = it.column;
            told.push_back(t.forecast(look, h).seen);
        }
        return std::pair{told, t.effects().count() - before};
    };
    const auto [byLike, few] = tell(&light);
    const auto [own, many] = tell(nullptr);
    int same = 0;
    for (std::size_t i = 0; i < own.size(); ++i) same += own[i] == byLike[i] ? 1 : 0;
    INFO(fmt::format("{} of {} told the same, {} windows and {} more", same, own.size(), few, many));
    CHECK(few * 2 < many);
    CHECK(same * 20 > static_cast<int>(own.size()) * 19);
}

TEST_CASE("of a large piece what is told of a strip is so of each that is light") {
    // Looks that find nothing or something, and a finger on a place.
    std::vector<CaseNote> notes = {
        note("glance", What::ninth, 0, 0, OddSign::none, 8),
        note("search:row=90-93,column=100-149", What::nothing),
        note("slant:row=60-91,column=20-27", What::nothing),
        note("stretch:row=101-102,column=1-100", What::nothing),
        note("close:row=95,column=3", What::nothing),
        note("close:row=117,column=122", What::nothing),
        note("search:row=100-107,column=161-185", What::place, 102, 170, OddSign::bump),
        CaseNote{}};
    notes.back().kind = CaseNote::Kind::picture;
    notes.back().picture = CasePicture::something;
    notes.back().row = 94;
    notes.back().column = 144;
    const auto isNear = [](const CaseNote& note, const CaseHypothesis& h) {
        const bool points = note.kind == CaseNote::Kind::picture;
        const int row = points ? note.row : note.look.rowTo;
        const int from = points ? note.column : note.look.columnFrom;
        const int to = points ? note.column : note.look.columnTo;
        const int edge = h.column < (from + to) / 2 ? from : to;
        return row > 0 && h.row <= row + 1 && h.row > row - 12 && std::abs(h.column - edge) < 12;
    };
    for (const StockGround ground : {StockGround::cables, StockGround::eyelets}) {
        if (kSanitized && ground != StockGround::cables) continue;
        CaseTables t(stockGround(ground, 280, 122), {}, 120, {}, nullptr);
        REQUIRE(t.isLarge());
        const std::vector<double> light(t.size(), 0);
        for (const CaseNote& note : notes) {
            t.tellLightByLike(&light);
            Alike alike(t.strips());
            std::array<int, 2> told{};  // anywhere, and near what was looked at
            std::array<int, 2> same{};
            int alone = 0;
            int looked = 0;  // close by, each by its like ...
            int asOwn = 0;   // ... and by its own window
            for (std::size_t h = 0; h < t.size(); ++h) {
                if (t.sharedStripOf(h) < 0 || !t.can(h)) continue;
                const std::size_t first =
                    alike.firstOf(t, h, [&](std::size_t of) { return apartOf(note, t, of); });
                alone += first == h ? 1 : 0;
                const std::size_t near = isNear(note, t.at(h)) ? 1 : 0;
                if (h % (near == 1 ? 7 : 199) != 0) continue;
                const double byLike = likelihoodOf(note, t, h, {});
                ++told[near];
                same[near] += byLike == likelihoodOf(note, t, first, {}) ? 1 : 0;
                if (near == 0 || note.look.way != LookWay::closeLook) continue;
                const Sighting like = t.forecast(note.look, h).seen;
                t.tellLightByLike(nullptr);
                const Sighting own = t.forecast(note.look, h).seen;
                const bool can = t.can(h);
                t.tellLightByLike(&light);
                if (!can) continue;
                ++looked;
                asOwn += own == like ? 1 : 0;
            }
            INFO(fmt::format("{}, {}: {} of {} told the same, near {} of {}; {} of {} alone", name(ground),
                             words(note), same[0], told[0], same[1], told[1], alone, t.size()));
            CHECK(same == told);
            INFO(fmt::format("{} of {} by their like as by their own", asOwn, looked));
            CHECK(asOwn * 100 >= looked * 95);
            CHECK(static_cast<std::size_t>(alone) * 3 < t.size());
        }
    }
}
