// SPDX-License-Identifier: MIT
#include "diagnosis/told_place.h"

#include <algorithm>
#include <cstdlib>

#include "reading/answer_piece.h"

namespace loopmend {

namespace {

using What = Sighting::What;

/// All places but the plainest have at most so much together.
constexpr double kMostAway = 0.5;
/// A place is told a row or a stitch off now and then.
constexpr int kBeside = 1;

double away(int others, const LookErrors& errors) {
    return std::min(kMostAway, errors.another * others);
}

bool asksForPlace(LookWay way) {
    return way == LookWay::searchPatch || way == LookWay::slantLight || way == LookWay::stretchPatch;
}

bool isBeside(const Sighting& a, const Sighting& b) {
    return std::abs(a.row - b.row) <= kBeside && std::abs(a.column - b.column) <= kBeside;
}

template <class Place>
bool isIn(const Look& patch, const Place& at) {
    return at.row >= patch.rowFrom && at.row <= patch.rowTo && at.column >= patch.columnFrom &&
           at.column <= patch.columnTo;
}

/// The part of a patch about a place in it, so many rows and stitches to each side.
Look about(const Look& patch, int row, int column, int off) {
    Look part = patch;
    part.rowFrom = std::max(patch.rowFrom, row - off);
    part.rowTo = std::min(patch.rowTo, row + off);
    part.columnFrom = std::max(patch.columnFrom, column - off);
    part.columnTo = std::min(patch.columnTo, column + off);
    return part;
}

Look wholePiece(LookWay way, Side side, int rows) {
    constexpr int kFar = 1'000'000;
    Look all;
    all.way = way;
    all.side = side;
    all.rowTo = rows + 3;
    all.columnFrom = 1;
    all.columnTo = kFar;
    return all;
}

int placesIn(const Look& patch, const LookedAt& piece) {
    const LookedAt::Inner& in = piece.inner();
    const auto& list = patch.way == LookWay::stretchPatch ? in.free : in.odd;
    return static_cast<int>(std::count_if(list.begin(), list.end(), [&](const OddPlace& p) {
        return isIn(patch, p) && (patch.way == LookWay::stretchPatch || p.shows(patch.side)) &&
               (patch.way != LookWay::slantLight || slanted(p.sign) != OddSign::none);
    }));
}

/// seen(look): what is found there; places(look): how many there are.
template <class Seen, class Places>
CaseForecast toldOf(const Look& look, const Sighting& told, const CaseForecast& plainest,
                    const LookErrors& errors, Seen seen, Places places) {
    if (errors.another <= 0 || !asksForPlace(look.way) || told.what != What::place ||
        plainest.seen.what != What::place || plainest.any || !isIn(look, told))
        return plainest;
    const auto another = [&](CaseForecast f) {
        const int others = std::max(1, places(look) - 1);
        f.share = away(others, errors) / others;
        return f;
    };
    const bool same = told.row == plainest.seen.row && told.column == plainest.seen.column;
    if (!same) {
        const CaseForecast there = seen(about(look, told.row, told.column, 0));
        if (there.seen.what == What::place) return another(there);
        const CaseForecast near =
            isBeside(told, plainest.seen) ? plainest : seen(about(look, told.row, told.column, kBeside));
        if (near.seen.what != What::place) return plainest;
        if (!isBeside(told, plainest.seen)) return another(near);
    }
    return plainest;
}

template <class Seen, class Places>
PointedAt pointedOf(const Look& patch, int rows, const LookErrors& errors, Seen seen, Places places) {
    PointedAt p;
    if (errors.another <= 0) return p;
    p.at = seen(patch).seen;
    if (p.at.what != What::place) return p;
    const int here = places(patch);
    const int all = places(wholePiece(patch.way, patch.side, rows));
    p.share = away(all - 1, errors) * std::min(1.0, static_cast<double>(here) / std::max(1, all));
    return p;
}

}  // namespace

CaseForecast forecastOf(const Look& look, const LookedAt& piece) {
    CaseForecast f;
    f.seen = answer(look, piece);
    f.knitted = true;
    return f;
}

CaseForecast forecastOfTold(const Look& look, const Sighting& told, const CaseTables& tables, std::size_t h,
                            const LookErrors& errors) {
    return toldOf(
        look, told, tables.forecast(look, h), errors,
        [&](const Look& part) { return tables.forecast(part, h); },
        [&](const Look& patch) { return tables.placesIn(patch, h); });
}

CaseForecast forecastOfTold(const Look& look, const Sighting& told, const LookedAt& piece,
                            const LookErrors& errors) {
    const auto seen = [&](const Look& part) { return forecastOf(part, piece); };
    return toldOf(look, told, seen(look), errors, seen,
                  [&](const Look& patch) { return placesIn(patch, piece); });
}

ApartColumns apartOfTold(const Look& look, const Sighting& told, const CaseTables& tables, std::size_t h) {
    ApartColumns apart = tables.apart(look, h);
    if (!asksForPlace(look.way) || told.what != What::place || !isIn(look, told)) return apart;
    for (const int off : {kBeside, 0}) apart.add(tables.apart(about(look, told.row, told.column, off), h));
    return apart;
}

PointedAt pointedAt(const Look& patch, const CaseTables& tables, std::size_t h, const LookErrors& errors) {
    return pointedOf(
        patch, tables.rows(), errors, [&](const Look& part) { return tables.forecast(part, h); },
        [&](const Look& part) { return tables.placesIn(part, h); });
}

PointedAt pointedAt(const Look& patch, const LookedAt& piece, const LookErrors& errors) {
    return pointedOf(
        patch, piece.rows(), errors, [&](const Look& part) { return forecastOf(part, piece); },
        [&](const Look& part) { return placesIn(part, piece); });
}

}  // namespace loopmend
