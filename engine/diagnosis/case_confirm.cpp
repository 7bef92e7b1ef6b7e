// SPDX-License-Identifier: MIT
// Before a kind of mistake is believed: what it rests on, and which look would shake it.
#include <algorithm>
#include <cmath>
#include <cstdlib>

#include "diagnosis/case_inner.h"
#include "diagnosis/close_by.h"
#include "fault/draw.h"
#include "reading/answer_piece.h"

namespace loopmend {

namespace {

using What = Sighting::What;

/// Without any single answer it must still be a ninth as likely as all else together.
constexpr double kWithoutOne = 0.1;
/// What weighs less is no rival, whatever one leaves out.
constexpr double kRival = 1e-6;
/// A rival of that weight which fits what she saw as well by so much.
constexpr double kAsGood = 0.7;
constexpr double kStillThere = 0.02;
/// An answer goes with what she would see: she may be wrong, but that is what it would be.
constexpr double kGoesWith = 0.3;
/// Places at which a second sign is looked for.
constexpr int kPlaces = 6;
/// Of the doubt with which one may settle, what is left of one that is nearly sure.
constexpr double kNearlySure = 0.2;
/// A look that tells less is not worth asking for.
constexpr double kTells = 0.05;

}  // namespace

std::optional<NextLook> Case::Inner::confirming(const CaseCluster& best) const {
    const auto top = static_cast<std::size_t>(best.best);
    std::vector<std::int32_t> list;
    std::vector<double> weights;
    std::vector<bool> same;
    for (const std::int32_t h : now().alive()) {
        const auto i = static_cast<std::size_t>(h);
        if (now().weight(i) < kRival) continue;
        list.push_back(h);
        weights.push_back(now().weight(i));
        same.push_back(areTwins(top, i) || (samePlace(top, i) && sameKind(top, i)));
    }
    const auto holds = [&](const std::vector<double>& w) {
        double all = 0;
        double its = 0;
        for (std::size_t i = 0; i < w.size(); ++i) {
            all += w[i];
            its += same[i] ? w[i] : 0;
        }
        return all > 0 ? its / all : 1;
    };
    // Each answer left out in turn.
    std::optional<std::vector<double>> shaken;
    double least = kWithoutOne;
    const auto consider = [&](std::vector<double> w) {
        const double h = holds(w);
        if (h >= least) return;
        least = h;
        shaken = std::move(w);
    };
    for (const CaseNote& note : notes) {
        if (!note.told || note.kind == CaseNote::Kind::safe) continue;
        std::vector<double> w = weights;
        for (std::size_t i = 0; i < list.size(); ++i) {
            const auto h = static_cast<std::size_t>(list[i]);
            if (muchLike.count(list[i]) > 0) continue;  // what speaks for it is that it fits but for a few
            const double p =
                note.kind == CaseNote::Kind::look
                    ? heard(note, forecastOfTold(note.look, note.seen, *tables, h, soFar, errors), nullptr)
                    : likelihoodOf(note, *tables, h, errors);
            w[i] /= std::max(1e-6, asSure(note, p));
        }
        consider(std::move(w));
    }
    // Another kind there that fits as well, and is only made less often.
    const auto fits = [&](std::size_t h) { return now().weight(h) / std::max(1e-12, tables->priors()[h]); };
    std::vector<double> w(list.size(), 0);
    bool rival = false;
    for (std::size_t i = 0; i < list.size(); ++i) {
        const auto h = static_cast<std::size_t>(list[i]);
        if (!samePlace(top, h)) continue;
        w[i] = fits(h);
        rival = rival || (!same[i] && tables->isListed(tables->at(h)) && now().weight(h) > kStillThere &&
                          fits(h) > kAsGood * fits(top));
    }
    if (rival && !shaken) shaken = std::move(w);
    if (!shaken) return std::nullopt;
    // The look that tells most, if that is all there is.
    std::vector<double> all(tables->size(), 0);
    for (std::size_t i = 0; i < list.size(); ++i) all[static_cast<std::size_t>(list[i])] = (*shaken)[i];
    Seeded dice(start.seed * 1000003ULL + notes.size());
    const double offset = static_cast<double>(dice.next() >> 11U) / 9007199254740992.0;
    const CaseSample sample = sampleOf(*tables, Belief(std::move(all)), manners.sample, offset);
    NextLookManners next;
    next.errors = errors;
    next.pace = pace;
    next.perLook = manners.perLook;
    next.leastBits = std::max(manners.leastBits, kTells);
    const NextLook found = nextLook(*tables, sample, soFar, next);
    if (!found.any) return std::nullopt;
    return found;
}

std::optional<Look> Case::Inner::owedFor(const CaseCluster& best) const {
    const auto h = static_cast<std::size_t>(best.best);
    // A second sign where it lies says most against a false alarm, too.
    if (auto second = secondSign(h)) return second;
    const bool nearlySure = best.weight >= 1 - (1 - manners.settleAt) * kNearlySure;
    if (!nearlySure) {
        if (auto there = atItsPlace(h)) return there;
    }
    // However sure: what was found at one place of a row is not all along it.
    if (!nearlySure || tables->isWholeRow(tables->at(h))) {
        if (auto elsewhere = signElsewhere(h)) return elsewhere;
    }
    return belowIt(h, nearlySure);
}

Case::Inner::Signs Case::Inner::signsFor(std::size_t h) const {
    Signs signs;
    std::vector<std::string> looks;
    for (const CaseNote& note : notes) {
        if (!isPositive(note)) continue;
        if (note.kind == CaseNote::Kind::cameOut) {
            signs.counted += likelihoodOf(note, *tables, h, errors) > kGoesWith ? 1 : 0;
            continue;
        }
        if (note.kind != CaseNote::Kind::look) continue;
        // Of several places only the plainest is a sign: of the others much else may come.
        const CaseForecast f = forecastOf(note.look, *tables, h, soFar);
        if (f.seen.what == What::nothing || f.seen.oddity == OddSign::other || f.seen.what == What::unnamed)
            continue;
        // A place is told a row or a stitch off now and then.
        const bool beside = note.seen.what == What::place && f.seen.what == What::place &&
                            note.seen.oddity == f.seen.oddity && std::abs(note.seen.row - f.seen.row) <= 1 &&
                            std::abs(note.seen.column - f.seen.column) <= 1;
        if (!beside && likelihoodOf(note.look, f, note.seen, errors) < kGoesWith) continue;
        switch (note.look.way) {
            case LookWay::closeLook:
            case LookWay::turnOver: {
                const std::string words = text(note.look);
                if (note.seen.what != What::sign ||
                    std::find(looks.begin(), looks.end(), words) != looks.end())
                    break;
                looks.push_back(words);
                ++signs.named;
                break;
            }
            case LookWay::countSpan:
            case LookWay::rowFits:
            case LookWay::bothEnds:
            case LookWay::stretchPatch:
            case LookWay::tug: ++signs.counted; break;
            case LookWay::searchPatch:
            case LookWay::slantLight:
                if (note.seen.oddity == f.seen.oddity) ++signs.found;
                break;
            default: break;
        }
    }
    return signs;
}

std::optional<Look> Case::Inner::belowIt(std::size_t h, bool nearlySure) const {
    constexpr int kTall = 2;    // rows above its lowest one in which it shows
    constexpr int kBelow = 4;   // rows that are looked at, ...
    constexpr int kEnough = 3;  // ... of which so many are enough
    constexpr int kAside = 1;   // stitches to either side, ...
    constexpr int kAlong = 7;   // ... and of a whole row
    int low = tables->rows() + 1;
    int high = 0;
    int column = 0;
    const auto see = [&](int row, int at) {
        high = std::max(high, row);
        if (row >= low) return;
        low = row;
        column = std::max(1, at);
    };
    bool rung = false;  // one rung looks like another: it may run on further down
    const CaseHypothesis& it = tables->at(h);
    const auto knitted = soFar.knitted.find(static_cast<std::int32_t>(h));
    if (!tables->isListed(it)) {
        see(it.row, it.column);
        rung = true;  // nobody knows how far it goes
    } else if (knitted != soFar.knitted.end()) {
        for (const OddPlace& odd : knitted->second->inner().odd) {
            see(odd.row, odd.column);
            rung = rung || odd.sign == OddSign::ladder;
        }
    } else {
        tables->eachOdd(h, see);
    }
    if ((high - low < kTall && !rung) || low <= 1 || low > tables->rows()) return std::nullopt;
    if (!rung && nearlySure) return std::nullopt;
    const bool whole = tables->isWholeRow(it);
    for (const CaseNote& note : notes) {
        if (!isPositive(note) || note.kind != CaseNote::Kind::look || !whole) continue;
        if (note.seen.what == What::place) column = std::max(1, note.seen.column);
        if (note.seen.what == What::sign) column = note.look.columnFrom;
    }
    Look look;
    look.way = LookWay::searchPatch;
    look.rowTo = low - 1;
    look.rowFrom = std::max(1, low - kBelow);
    const int width = std::max(1, tables->cloth().width(low - 1));
    const int aside = whole ? kAlong : kAside;
    look.columnFrom = std::clamp(column - aside, 1, width);
    look.columnTo = std::clamp(column + aside, look.columnFrom, width);
    // Rungs run on without a gap, and close by fewer are overlooked.
    const bool close = rung && tables->isListed(it) && low > kCloseRows + 1;
    if (close) look = closeLookAt(low - kCloseRows - 1, std::clamp(column, 1, width));
    // Who overlooked what shows above has not seen that there is nothing below; nor, where nobody knows what
    // it is, who saw one row of it.
    const int enough = tables->isListed(it) ? low - 1 : std::max(1, low - kEnough);
    const auto saw = [&](const CaseNote& note) {
        const Look& at = note.look;
        if (note.kind != CaseNote::Kind::look || !note.told) return false;
        if (close && at.way == LookWay::closeLook)
            return note.seen.what == What::nothing && std::abs(at.rowFrom - look.rowFrom) <= 1 &&
                   std::abs(at.columnFrom - column) <= 1;
        const bool lowest = note.seen.what == What::place && note.seen.row >= low;
        return (at.rowTo < low || lowest) &&
               (at.way == LookWay::searchPatch || at.way == LookWay::stretchPatch) && at.rowFrom <= enough &&
               at.rowTo >= low - 1 && at.columnFrom <= column && at.columnTo >= column;
    };
    if (soFar.asked.count(text(look)) > 0 || std::any_of(notes.begin(), notes.end(), saw))
        return std::nullopt;
    return look;
}

std::optional<Look> Case::Inner::atItsPlace(std::size_t h) const {
    constexpr int kSites = 2;  // rows and stitches from where hands did it to where it shows there
    constexpr std::size_t kTwice = 2;
    const CaseHypothesis& it = tables->at(h);
    if (!tables->isListed(it) || tables->isWholeRow(it)) return std::nullopt;
    int row = 0;
    int column = 0;
    int off = 2 * kSites + 1;
    const auto see = [&](int r, int c) {
        const int rowOff = std::min(std::abs(r - it.row), std::abs(r - it.seenRow));
        const int columnOff = std::abs(c - it.column);
        if (rowOff > kSites || columnOff > kSites || rowOff + columnOff >= off) return;
        off = rowOff + columnOff;
        row = r;
        column = c;
    };
    eachOdd(h, see);
    if (row < 1 || row > tables->rows() || column < 1 || column > tables->cloth().width(row))
        return std::nullopt;
    std::size_t seen = 0;
    for (const CaseNote& note : notes) {
        if (note.kind != CaseNote::Kind::look || !isPositive(note)) continue;
        const bool place = note.seen.what == What::place;
        if (!place && note.seen.what != What::sign && note.seen.what != What::unnamed) continue;
        const int r = place ? note.seen.row : note.look.rowFrom;
        const int c = place ? note.seen.column : note.look.columnFrom;
        if (std::abs(r - row) <= kSites && std::abs(c - column) <= kSites) ++seen;
    }
    if (seen >= kTwice) return std::nullopt;
    for (const Side side : {Side::right, Side::wrong}) {
        const Look look = closeLookAt(row, column, side);
        if (soFar.asked.count(text(look)) > 0) continue;
        if (forecastOf(look, *tables, h, soFar).seen.what == What::sign) return look;
    }
    return std::nullopt;
}

std::optional<Look> Case::Inner::secondSign(std::size_t h) const {
    if (!tables->isListed(tables->at(h))) return std::nullopt;
    const Signs signs = signsFor(h);
    if (signs.enough()) return std::nullopt;
    Sighting at = tables->plainestOf(h, Side::right);
    if (at.what == What::nothing) at = tables->plainestOf(h, Side::wrong);
    std::vector<Look> list;
    const auto add = [&](LookWay way, Side side, int row, int column, int columns) {
        Look look;
        look.way = way;
        look.side = side;
        look.rowFrom = look.rowTo = std::clamp(row, 1, std::max(1, tables->rows()));
        const int width = std::max(1, tables->cloth().width(look.rowFrom));
        look.columnFrom = std::clamp(column - columns, 1, width);
        look.columnTo = std::clamp(column + columns, look.columnFrom, width);
        if (soFar.asked.count(text(look)) > 0) return;
        const CaseForecast f = forecastOf(look, *tables, h, soFar);
        if (f.seen.what == What::nothing || f.seen.what == What::unnamed || f.seen.what == What::unclear ||
            (f.seen.what == What::number && f.seen.by == 0))
            return;
        list.push_back(look);
    };
    if (at.what == What::place) {
        for (const Side side : {Side::right, Side::wrong})
            add(LookWay::closeLook, side, at.row, std::max(1, at.column), 0);
        if (signs.found > 1) add(LookWay::searchPatch, Side::right, at.row, std::max(1, at.column), 1);
    }
    int places = 0;
    tables->eachOdd(h, [&](int row, int column) {
        if (++places <= kPlaces) add(LookWay::closeLook, Side::right, row, std::max(1, column), 0);
    });
    if (signs.named > 0 && at.what == What::place) {
        add(LookWay::tug, Side::right, at.row, std::max(1, at.column), 0);
        add(LookWay::countSpan, Side::right, tables->rows(), tables->at(h).column, 5);
        add(LookWay::countSpan, Side::right, at.row, std::max(1, at.column), 5);
    }
    if (list.empty()) return std::nullopt;
    // The one that tells it best from what else is there.
    std::vector<double> weights(tables->size(), 0);
    for (const std::int32_t other : now().alive()) {
        const auto o = static_cast<std::size_t>(other);
        if (now().weight(o) > kRival && samePlace(h, o))
            weights[o] = now().weight(o) / std::max(1e-12, tables->priors()[o]);
    }
    const CaseSample sample = sampleOf(*tables, Belief(std::move(weights)), manners.sample, 0.5);
    const Look* best = nullptr;
    double most = -1;
    for (const Look& look : list) {
        const double bits = bitsOf(look, *tables, sample, soFar, errors);
        const double score = bits / (seconds(look, pace) + manners.perLook);
        if (score <= most * (1 + 1e-9)) continue;
        most = score;
        best = &look;
    }
    return best != nullptr ? std::optional<Look>(*best) : std::nullopt;
}

}  // namespace loopmend
