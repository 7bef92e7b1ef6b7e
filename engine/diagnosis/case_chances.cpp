// SPDX-License-Identifier: MIT
#include "diagnosis/case_chances.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>

#include "diagnosis/told_place.h"

namespace loopmend {

namespace {

using What = Sighting::What;

/// What something that nobody has listed is called when it must be called something.
constexpr std::array<OddSign, 12> kUsual = {OddSign::bump,       OddSign::v,          OddSign::hole,
                                            OddSign::noHole,     OddSign::leansRight, OddSign::tall,
                                            OddSign::ladder,     OddSign::freeLoop,   OddSign::crossedFeet,
                                            OddSign::twoFromOne, OddSign::gathered,   OddSign::noJoin};
constexpr double kUnnamed = 0.5;      // of what is not in the list, close by: none of these
constexpr double kUnnamedFar = 0.15;  // the same in a patch that is searched
constexpr double kNames = 14;         // names that it may be given, as good as alike
constexpr double kBeside = 0.25;      // where it shows need not be where it was made
constexpr double kSameAgain = 0.9;    // whoever gave it one gives it again
constexpr double kOtherSign = 0.04;   // a table that names the sign beside the right one
constexpr double kWrongTable = 0.01;
constexpr double kNotSo = 0.1;  // what is much like another looks otherwise at one place of ten
// What was to be looked at is not there: told where it is so, where it should be there, and where nobody
// knows.
constexpr double kSaysGone = 0.9;
constexpr double kGone = 0.05;
constexpr double kGoneInDoubt = 0.2;

bool spreads(LookWay way) {
    switch (way) {
        case LookWay::armsLength:
        case LookWay::follow:
        case LookWay::compareRepeat:
        case LookWay::oddRepeat:
        case LookWay::searchPatch:
        case LookWay::stretchPatch:
        case LookWay::slantLight: return true;
        default: return false;
    }
}

bool tellsPlaceAndSign(LookWay way) {
    return way == LookWay::searchPatch || way == LookWay::slantLight;
}

/// Of a forecast that is doubted: how often it may be anything.
double shareOf(CaseDoubt doubt) {
    return doubt == CaseDoubt::none ? 0 : doubt == CaseDoubt::some ? 0.3 : 0.6;
}

/// All that can be said of a look which finds something.
double answersTo(const Look& look) {
    const double rows = std::abs(look.rowTo - look.rowFrom) + 1;
    const double columns = std::abs(look.columnTo - look.columnFrom) + 1;
    switch (look.way) {
        case LookWay::armsLength: return 9;
        case LookWay::follow: return rows;
        case LookWay::compareRepeat: return columns;
        case LookWay::oddRepeat: return std::max(1.0, columns / std::max(1, look.width));
        case LookWay::searchPatch: return rows * columns * 9;
        case LookWay::slantLight: return rows * columns * 3;
        case LookWay::stretchPatch: return rows * columns;
        case LookWay::closeLook:
        case LookWay::turnOver: return 12;
        default: return 5;
    }
}

}  // namespace

bool Namings::any() const {
    return std::any_of(times.begin(), times.end(), [](std::uint8_t t) { return t > 0; });
}

double Namings::chanceOf(OddSign name) const {
    // Its name is one of kNames, nobody knows which; each naming is that one, or now and then another.
    constexpr double kOther = (1 - kSameAgain) / (kNames - 1);
    int all = 0;
    for (const std::uint8_t t : times) all += t;
    const auto given = [&](int same) { return std::pow(kSameAgain, same) * std::pow(kOther, all - same); };
    double sum = 0;
    double with = 0;
    double left = kNames;
    for (std::size_t s = 0; s < times.size(); ++s) {
        if (times[s] == 0 && s != static_cast<std::size_t>(name)) continue;
        const double p = given(times[s]);
        sum += p;
        with += p * (s == static_cast<std::size_t>(name) ? kSameAgain : kOther);
        left -= 1;
    }
    sum += std::max(0.0, left) * given(0);
    with += std::max(0.0, left) * given(0) * kOther;
    return with / sum;
}

std::uint64_t Namings::hash() const {
    std::uint64_t h = 0;
    for (const std::uint8_t t : times) h = h * 1099511628211ULL + t;
    return h;
}

OddSign calledFrom(Side side, OddSign sign) {
    switch (sign) {
        case OddSign::v: return side == Side::right ? OddSign::v : OddSign::bump;
        case OddSign::bump: return side == Side::right ? OddSign::bump : OddSign::v;
        case OddSign::leansLeft:
        case OddSign::upright:
        case OddSign::gathered: return OddSign::leansRight;
        case OddSign::acrossStrand: return OddSign::tall;
        default: return sign;
    }
}

bool isNaming(const Look& look, const Sighting& seen) {
    if (look.way == LookWay::closeLook || look.way == LookWay::turnOver) return seen.what == What::sign;
    return look.way == LookWay::searchPatch && seen.what == What::place && seen.oddity != OddSign::other;
}

double InVain::together() const {
    if (looks <= 0) return 1;
    double harmonic = 0;
    for (int i = 1; i <= looks; ++i) harmonic += 1.0 / i;
    return std::exp(logMissed / looks * harmonic);
}

double InVain::also(double missed) {
    const double was = together();
    ++looks;
    logMissed += std::log(std::max(missed, 1e-3));
    return together() / was;
}

bool isSearch(LookWay way) {
    return way == LookWay::armsLength || way == LookWay::searchPatch || way == LookWay::slantLight ||
           way == LookWay::stretchPatch || way == LookWay::compareRepeat || way == LookWay::oddRepeat ||
           way == LookWay::closeLook || way == LookWay::turnOver;
}

std::int64_t outcomeId(const Sighting& s) {
    return (static_cast<std::int64_t>(s.what) << 56) | (static_cast<std::int64_t>(s.oddity) << 48) |
           (static_cast<std::int64_t>(s.by + 64) << 40) | (static_cast<std::int64_t>(s.row) << 20) |
           static_cast<std::int64_t>(s.column);
}

double missed(const Look& look, const CaseForecast& forecast, const LookErrors& errors) {
    for (const Chance& c : confusion(look, forecast.seen, errors)) {
        if (c.seen.what == What::nothing) return std::clamp(c.probability, 0.001, 0.99);
    }
    return 0.001;
}

namespace {

std::vector<LookOutcome> trusted(const Look& look, const CaseForecast& forecast, const LookErrors& errors,
                                 const Namings* before) {
    std::vector<LookOutcome> all;
    Sighting nothing;
    if (forecast.seen.what == What::unclear) {
        all.push_back({outcomeId(forecast.seen), kSaysGone});
        all.push_back({kElsewhere, 1 - kSaysGone});
        return all;
    }
    if (forecast.seen.what == What::nothing && spreads(look.way)) {
        const double alarm = std::clamp(errors.falseAlarm, 0.0, 0.95);
        all.push_back({outcomeId(nothing), 1 - alarm});
        all.push_back({kElsewhere, alarm});
        return all;
    }
    if (forecast.along && forecast.seen.what == What::place) {
        const double missing = missed(look, forecast, errors);
        all.push_back({outcomeId(nothing), missing});
        all.push_back({kElsewhere, 1 - missing});
        return all;
    }
    const Namings none;
    const Namings& called = before != nullptr ? *before : none;
    if (forecast.any && (look.way == LookWay::closeLook || look.way == LookWay::turnOver) &&
        forecast.seen.what != What::nothing) {
        const double missing = std::clamp(errors.closeOverlooks, 0.0, 0.9);
        Sighting s;
        s.what = What::unnamed;
        all.push_back({outcomeId(nothing), missing});
        all.push_back({outcomeId(s), (1 - missing) * kUnnamed});
        s.what = What::sign;
        double named = 0;
        for (const OddSign sign : kUsual) {
            s.oddity = sign;
            const double p = called.chanceOf(calledFrom(look.side, sign));
            named += p;
            all.push_back({outcomeId(s), (1 - missing) * (1 - kUnnamed) * p});
        }
        all.push_back({kElsewhere, (1 - missing) * (1 - kUnnamed) * std::max(0.0, 1 - named)});
        return all;
    }
    if (forecast.like && (look.way == LookWay::closeLook || look.way == LookWay::turnOver) &&
        forecast.seen.what == What::sign) {
        double left = 1;  // every other time it has no name
        for (const Chance& c : confusion(look, forecast.seen, errors)) {
            if (c.seen.what == What::unnamed) continue;
            const double p = c.probability * (c.seen.what == What::sign ? 1 - kUnnamed : 1);
            all.push_back({outcomeId(c.seen), p});
            left -= p;
        }
        Sighting s;
        s.what = What::unnamed;
        all.push_back({outcomeId(s), std::max(0.0, left)});
        return all;
    }
    for (const Chance& c : confusion(look, forecast.seen, errors)) {
        if (!forecast.any || !tellsPlaceAndSign(look.way) || c.seen.what != What::place) {
            all.push_back({outcomeId(c.seen), c.probability});
            continue;
        }
        Sighting s = c.seen;
        s.oddity = OddSign::other;
        all.push_back({outcomeId(s), c.probability * kUnnamedFar});
        double named = 0;
        for (const OddSign sign : kUsual) {
            s.oddity = sign;
            const double p = called.chanceOf(calledFrom(look.side, sign));
            named += p;
            all.push_back({outcomeId(s), c.probability * (1 - kUnnamedFar) * p});
        }
        all.push_back({kElsewhere, c.probability * (1 - kUnnamedFar) * std::max(0.0, 1 - named)});
    }
    return all;
}

/// How likely an answer is of something that nobody can foretell.
double anythingAt(const Look& look, const Sighting& seen) {
    if (seen.what == What::nothing || (seen.what == What::number && seen.by == 0)) return 0.5;
    return 0.5 / answersTo(look);
}

/// That any place of its row is told.
double alongLikelihood(const Look& look, const CaseForecast& forecast, const Sighting& seen,
                       const LookErrors& errors) {
    if (seen.what != What::place) return 0;
    const double found = 1 - missed(look, forecast, errors);
    const double columns = std::abs(look.columnTo - look.columnFrom) + 1;
    const int off = std::abs(seen.row - forecast.seen.row);
    return found / columns * (off == 0 ? 1 - kBeside : off == 1 ? kBeside / 2 : 0);
}

/// That she sees just that where nothing of the kind is, beside what is there.
double falseAlarmAt(const Look& look, const LookErrors& errors) {
    return 0.5 * std::max(0.001, errors.falseAlarm) / answersTo(look);
}

double trustedLikelihood(const Look& look, const CaseForecast& forecast, const Sighting& seen,
                         const LookErrors& errors, const Namings* before) {
    const double floor = 2 * falseAlarmAt(look, errors);
    if (forecast.seen.what == What::nothing && spreads(look.way)) {
        const double alarm = std::clamp(errors.falseAlarm, 0.0, 0.95);
        return seen.what == What::nothing ? 1 - alarm : floor;
    }
    const Namings none;
    const Namings& called = before != nullptr ? *before : none;
    if (forecast.any && forecast.seen.what != What::nothing && isNaming(look, seen)) {
        const double name = called.chanceOf(calledFrom(look.side, seen.oddity));
        if (seen.what == What::sign) {
            const double missing = std::clamp(errors.closeOverlooks, 0.0, 0.9);
            return (1 - missing) * (1 - kUnnamed) * name + floor * 0.5;
        }
        if (forecast.along)
            return alongLikelihood(look, forecast, seen, errors) * (1 - kUnnamedFar) * name + floor * 0.5;
        double at = 0;
        for (const Chance& c : confusion(look, forecast.seen, errors)) {
            if (c.seen.what == What::place && c.seen.row == seen.row && c.seen.column == seen.column)
                at += c.probability;
        }
        const bool near =
            std::abs(seen.row - forecast.seen.row) <= 1 && std::abs(seen.column - forecast.seen.column) <= 2;
        return (at * (1 - kBeside) + (near ? kBeside / 15 : 0)) * (1 - kUnnamedFar) * name + floor * 0.5;
    }
    if (forecast.along && forecast.seen.what == What::place && seen.what != What::nothing)
        return alongLikelihood(look, forecast, seen, errors) * kUnnamedFar + floor * 0.5;
    double p = 0;
    const std::int64_t id = outcomeId(seen);
    for (const LookOutcome& o : trusted(look, forecast, errors, before)) {
        if (o.id == id) p += o.probability;
    }
    // Tables may be a stitch off besides what she is; a piece that was knitted is not.
    const int rowsOff = std::abs(seen.row - forecast.seen.row);
    const int columnsOff = std::abs(seen.column - forecast.seen.column);
    const bool nearPlace = seen.what == What::place && forecast.seen.what == What::place &&
                           (forecast.knitted ? rowsOff + columnsOff <= 1 : rowsOff <= 1 && columnsOff <= 2);
    if (nearPlace) p += kOtherSign / 15;
    if (seen.what == What::sign && forecast.seen.what == What::sign) p += kOtherSign / 10;
    if (seen.what == What::unnamed && forecast.seen.what == What::sign) p += kOtherSign / 2;
    // She may well call what is listed as nothing in particular by a name.
    if (seen.what == What::sign && forecast.seen.what == What::unnamed) p += kOtherSign;
    if (forecast.knitted) return p + floor * 0.5;
    return p + floor * 0.5 + (seen.what == What::nothing || seen.what == What::number ? kWrongTable : 0);
}

}  // namespace

std::vector<LookOutcome> outcomesOf(const Look& look, const CaseForecast& forecast, const LookErrors& errors,
                                    int vain, const Namings* before) {
    std::vector<LookOutcome> all = trusted(look, forecast, errors, before);
    const Sighting nothing;
    if (vain > 0 && isSearch(look.way)) {
        for (const LookOutcome& o : all) {
            if (o.id != outcomeId(nothing) || o.probability <= 0 || o.probability >= 1) continue;
            const double again = std::pow(o.probability, 1.0 / (1 + vain));
            const double share = (1 - again) / (1 - o.probability);
            for (LookOutcome& other : all) other.probability *= share;
            for (LookOutcome& other : all) {
                if (other.id == outcomeId(nothing)) other.probability = again;
            }
            break;
        }
    }
    const double share = shareOf(forecast.doubt);
    if (share > 0) {
        for (LookOutcome& o : all) o.probability *= 1 - share;
        Sighting right = nothing;
        if (forecast.seen.what == What::number || forecast.seen.what == What::beyond)
            right.what = What::number;
        all.push_back({outcomeId(right), share / 2});
        all.push_back({kElsewhere, share / 2});
    }
    return all;
}

double likelihoodOf(const Look& look, const CaseForecast& forecast, const Sighting& seen,
                    const LookErrors& errors, const Namings* before) {
    if (seen.what == What::unclear) {
        return forecast.seen.what == What::unclear ? kSaysGone
               : forecast.doubt == CaseDoubt::none ? kGone
                                                   : kGoneInDoubt;
    }
    if (forecast.seen.what == What::unclear) return (1 - kSaysGone) / answersTo(look);
    double p = trustedLikelihood(look, forecast, seen, errors, before);
    if (forecast.share < 1 && seen.what == What::place)
        p = forecast.share * p + (1 - forecast.share) * falseAlarmAt(look, errors);
    const double share = shareOf(forecast.doubt);
    return share > 0 ? (1 - share) * p + share * anythingAt(look, seen) : p;
}

double likelihoodOfMuchLike(const Look& look, const CaseForecast& forecast, const Sighting& seen,
                            const LookErrors& errors) {
    const double p = likelihoodOf(look, forecast, seen, errors);
    const double like = seen.what == What::unclear || forecast.seen.what == What::unclear
                            ? p
                            : (1 - kNotSo) * p + kNotSo * anythingAt(look, seen);
    const bool close = look.way == LookWay::closeLook || look.way == LookWay::turnOver;
    if (!close || forecast.seen.what != What::sign) return like;
    if (seen.what == What::sign) return like * (1 - kUnnamed);
    if (seen.what != What::unnamed) return like;
    return (1 - std::clamp(errors.closeOverlooks, 0.0, 0.9)) * kUnnamed;
}

CasePicture pictureOf(OddSign sign) {
    switch (sign) {
        case OddSign::none: return CasePicture::nothing;
        case OddSign::freeLoop:
        case OddSign::ladder: return CasePicture::looseLoop;
        case OddSign::hole:
        case OddSign::onBar:
        case OddSign::longBar: return CasePicture::hole;
        case OddSign::v:
        case OddSign::bump: return CasePicture::bump;
        default: return CasePicture::oddStitch;
    }
}

namespace {

/// How far beside a mistake she may point, and how often she points there at all.
struct Reach {
    int rows;
    int columns;
    int places() const { return (2 * rows + 1) * (2 * columns + 1); }
};
Reach reachOf(const CaseNote& note) {
    return note.picture == CasePicture::something ? Reach{4, 8} : Reach{2, 4};
}
constexpr double kPointsThere = 0.83;
constexpr double kPointsElsewhere = 0.17;

}  // namespace

bool pointsNear(const CaseNote& note, const Sighting& at) {
    const Reach reach = reachOf(note);
    return std::abs(at.row - note.row) <= reach.rows &&
           (at.column == 0 || std::abs(at.column - note.column) <= reach.columns);
}

Look patchAbout(const CaseNote& note, Side side) {
    const Reach reach = reachOf(note);
    Look patch;
    patch.way = LookWay::searchPatch;
    patch.side = side;
    patch.rowFrom = std::max(0, note.row - reach.rows);
    patch.rowTo = note.row + reach.rows;
    patch.columnFrom = std::max(1, note.column - reach.columns);
    patch.columnTo = note.column + reach.columns;
    return patch;
}

double likelihoodOfPointing(const CaseNote& note, const CaseTables& tables, const Sighting& at, bool any,
                            double share) {
    constexpr std::array<double, 4> kSeen = {0.9, 0.75, 0.8, 0.45};
    const CasePicture shows = pictureOf(at.oddity);
    const double sees = at.what == What::nothing ? 0.02
                        : any                    ? 0.5
                        : at.ease == Ease::hard  ? 0.25
                                                 : kSeen[static_cast<std::size_t>(shows)];
    if (note.picture == CasePicture::nothing) return 1 - sees;
    const double rows = std::max(1, tables.rows());
    const double wide = std::max(1, tables.cloth().width(std::clamp(note.row, 0, tables.rows())));
    double where = 1;
    if (note.row > 0 && at.what != What::nothing) {
        const Reach reach = reachOf(note);
        const bool along = at.column == 0;
        const double places = along ? (2 * reach.rows + 1) * wide : reach.places();
        where =
            (pointsNear(note, at) ? share * kPointsThere / places : 0.0) + kPointsElsewhere / (rows * wide);
    } else if (note.row > 0) {
        where = 1 / (rows * wide);
    }
    if (note.picture == CasePicture::something) return where * std::max(0.1, sees);
    const double which = any ? 0.25 : shows == note.picture ? 0.85 : 0.05;
    return where * sees * which;
}

namespace {

/// She points: at a place that she has on the side that faces her, or turned over. `anyAlike`: whichever of
/// several, it counts as the only one.
double pointing(const CaseNote& note, const CaseTables& tables, std::size_t h, const LookErrors& errors,
                bool anyAlike) {
    Side side = Side::right;
    Sighting at = tables.plainestOf(h, side);
    if (at.what == What::nothing) {
        side = Side::wrong;
        at = tables.plainestOf(h, side);
    }
    const CaseHypothesis& it = tables.at(h);
    if (!tables.isListed(it) && tables.isWholeRow(it)) at.column = 0;
    double share = 1;
    if (note.row > 0 && at.what != What::nothing && !pointsNear(note, at)) {
        const PointedAt there = pointedAt(patchAbout(note, side), tables, h, errors);
        if (there.at.what != What::nothing) {
            at = there.at;
            if (!anyAlike) share = there.share;
        }
    }
    return likelihoodOfPointing(note, tables, at, !tables.isListed(it), share);
}

}  // namespace

double likelihoodOf(const CaseNote& note, const CaseTables& tables, std::size_t h, const LookErrors& errors) {
    switch (note.kind) {
        case CaseNote::Kind::safe: return 1;
        case CaseNote::Kind::look:
            return likelihoodOf(note.look, forecastOfTold(note.look, note.seen, tables, h, errors), note.seen,
                                errors);
        case CaseNote::Kind::cameOut: {
            const int off = tables.countedIn(h, tables.rows());
            const int sign = off < 0 ? -1 : off > 0 ? 1 : 0;
            return sign == note.seen.by ? 0.94 : 0.03;
        }
        case CaseNote::Kind::fine: {
            Look look;
            look.way = LookWay::searchPatch;
            look.rowFrom = note.look.rowFrom;
            look.rowTo = note.look.rowTo;
            look.columnFrom = 1;
            look.columnTo = 1'000'000;
            const CaseForecast f = tables.forecast(look, h);
            if (f.seen.what == What::nothing) return 1;
            return f.seen.ease == Ease::hard ? 0.7 : f.seen.ease == Ease::slides ? 0.3 : 0.4;
        }
        case CaseNote::Kind::picture: break;
    }
    return pointing(note, tables, h, errors, false);
}

double goesWith(const CaseNote& note, const CaseTables& tables, std::size_t h, const LookErrors& errors) {
    if (note.kind == CaseNote::Kind::picture && note.row > 0)
        return pointing(note, tables, h, errors, true) * reachOf(note).places() / kPointsThere;
    if (note.kind != CaseNote::Kind::look) return likelihoodOf(note, tables, h, errors);
    CaseForecast f = forecastOfTold(note.look, note.seen, tables, h, errors);
    f.share = 1;
    const double p = likelihoodOf(note.look, f, note.seen, errors);
    const bool along = f.along && note.seen.what == What::place;
    return along ? p * (std::abs(note.look.columnTo - note.look.columnFrom) + 1) : p;
}

}  // namespace loopmend
