// SPDX-License-Identifier: MIT
#include "fault/confusions.h"

#include <algorithm>
#include <cstdlib>
#include <optional>

#include "fault/catalogue.h"
#include "fault/draw.h"

namespace loopmend {

namespace {

constexpr int kRowsMore = 2;

/// The script with its first rows only.
Script firstRows(const Script& script, int rows) {
    Script some = script;
    some.rows.resize(static_cast<std::size_t>(std::min<int>(rows, static_cast<int>(script.rows.size()))));
    return some;
}

/// Where she looks: the place as the right side shows it.
struct Spotted {
    int row = 0;
    int column = 0;
    int width = 0;
};

Spotted spotted(const Script& script, const FaultPlace& place) {
    const WorkedRow& row = script.rows[static_cast<std::size_t>(place.row) - 1];
    const int width = stitchesIn(row);
    const bool fromRight = row.round || row.facing == Facing::right;
    return {place.row, fromRight ? place.stitch : width + 1 - place.stitch, width};
}

std::vector<Look> looksAt(const Spotted& at, int rows) {
    std::vector<Look> looks;
    const auto add = [&](LookWay way, int rowFrom, int rowTo, int columnFrom, int columnTo, Side side) {
        Look look;
        look.way = way;
        look.rowFrom = rowFrom;
        look.rowTo = rowTo;
        look.columnFrom = columnFrom;
        look.columnTo = columnTo;
        look.side = side;
        looks.push_back(look);
    };
    const int left = std::max(1, at.column - 2);
    const int right = std::min(at.width, at.column + 2);
    const int low = std::max(1, at.row - 1);
    const int high = std::min(rows, at.row + 1);
    add(LookWay::countSpan, rows, rows, 1, at.width, Side::right);
    add(LookWay::rowFits, rows + 1, rows + 1, 0, 0, Side::right);
    for (const Side side : {Side::right, Side::wrong}) {
        add(LookWay::closeLook, at.row, at.row, at.column, at.column, side);
        add(LookWay::slantLight, low, high, left, right, side);
    }
    add(LookWay::stretchPatch, low, high, left, right, Side::right);
    add(LookWay::tug, at.row, at.row, at.column, at.column, Side::right);
    add(LookWay::bothEnds, 1, rows, 0, 0, Side::right);
    return looks;
}

using Seen = std::vector<Sighting>;

struct Compared {
    std::vector<LookWay> same, apart;
};

void add(std::vector<LookWay>& to, LookWay way) {
    if (std::find(to.begin(), to.end(), way) == to.end()) to.push_back(way);
}

void compare(const std::vector<Look>& looks, const Seen& faultless, const Seen& one, const Seen& other,
             Compared& into) {
    for (std::size_t i = 0; i < looks.size(); ++i) {
        if (one[i] == faultless[i] && other[i] == faultless[i]) continue;
        // Places are told to a stitch or so: what is seen counts, not where.
        const bool alike = one[i].what == other[i].what && one[i].oddity == other[i].oddity &&
                           (one[i].what == Sighting::What::place || one[i].by == other[i].by);
        add(alike ? into.same : into.apart, looks[i].way);
    }
}

/// When she looks: what is worked, the looks, and what they find with the mistake and without.
struct Moment {
    Script worked;
    LookedAt meant;
    std::vector<Look> looks;
    Seen faultless;
    Seen actual;
};

/// What the looks find when a mistake was made there; none if it cannot be.
std::optional<Seen> seenWith(const Script& script, const Moment& moment, const FaultPlace& place) {
    auto piece = knitWith(moment.worked, {}, {place}, After::byReading);
    if (!piece) return std::nullopt;
    const LookedAt looked(*piece->actual.fabric, moment.meant, &script);
    Seen seen;
    for (const Look& look : moment.looks) seen.push_back(answer(look, looked));
    return seen;
}

std::optional<Moment> momentOf(const Script& script, const FaultPlace& place, int rows) {
    Script worked = firstRows(script, rows);
    const auto meant = knit(worked, {});
    if (!meant) return std::nullopt;
    Moment moment{std::move(worked),
                  LookedAt(*meant->fabric, *meant->fabric, &script),
                  looksAt(spotted(script, place), rows),
                  {},
                  {}};
    auto seen = seenWith(script, moment, place);
    if (!seen) return std::nullopt;
    moment.actual = std::move(*seen);
    for (const Look& look : moment.looks) moment.faultless.push_back(answer(look, moment.meant));
    return moment;
}

/// Where the other one would be taken for it: at most a stitch and a row beside.
std::vector<FaultPlace> placesBeside(const Fault& other, const Script& script, const FaultPlace& at) {
    Wanted near;
    near.rowFrom = std::max(1, at.row - 1);
    near.rowTo = at.row + 1;
    std::vector<FaultPlace> beside;
    for (const FaultPlace& place : placesFor(other, script, {}, near)) {
        const bool again = !beside.empty() && beside.back().row == place.row;
        if (other.wholeRow ? !again : std::abs(place.stitch - at.stitch) <= 1) beside.push_back(place);
    }
    return beside;
}

Likeness likenessOf(const Fault& other, const Compared& compared) {
    // A way of looking that tells them apart once does so.
    Likeness likeness{std::string(other.id), {}, compared.apart};
    for (const LookWay way : compared.same) {
        if (std::find(compared.apart.begin(), compared.apart.end(), way) == compared.apart.end())
            likeness.same.push_back(way);
    }
    return likeness;
}

/// Ways of looking that show the mistake at some time: with no other can another one look the same.
std::vector<LookWay> waysThatShow(const std::vector<Moment>& moments) {
    std::vector<LookWay> ways;
    for (const Moment& m : moments) {
        for (std::size_t i = 0; i < m.looks.size(); ++i) {
            if (!(m.actual[i] == m.faultless[i])) add(ways, m.looks[i].way);
        }
    }
    return ways;
}

double shareOf(std::size_t same, std::size_t apart) {
    return same == 0 ? 0 : static_cast<double>(same) / static_cast<double>(same + apart);
}

/// The most that can come of what was compared so far.
double mostShare(const Compared& compared, const std::vector<LookWay>& showing) {
    const auto same = std::count_if(showing.begin(), showing.end(), [&](LookWay way) {
        return std::find(compared.apart.begin(), compared.apart.end(), way) == compared.apart.end();
    });
    return shareOf(static_cast<std::size_t>(same), compared.apart.size());
}

}  // namespace

double Likeness::share() const {
    return shareOf(same.size(), apart.size());
}

std::vector<Likeness> likenesses(const FaultExample& example) {
    const Script& script = example.script;
    std::vector<Moment> moments;
    const int happened = rowOf(script, example.place);
    for (const int rows : {happened, happened + kRowsMore}) {
        if (rows > static_cast<int>(script.rows.size())) continue;
        if (auto moment = momentOf(script, example.place, rows)) moments.push_back(std::move(*moment));
    }
    std::vector<Likeness> found;
    if (moments.empty()) return found;
    const Script worked = firstRows(script, happened + kRowsMore);
    const std::vector<LookWay> showing = waysThatShow(moments);
    for (const Fault* other : catalogue()) {
        if (other->id == example.place.id) continue;
        Likeness best;
        for (const FaultPlace& place : placesBeside(*other, worked, example.place)) {
            Compared compared;
            for (const Moment& moment : moments) {
                // What is already told apart is not worked again.
                if (mostShare(compared, showing) <= best.share()) break;
                if (place.row > static_cast<int>(moment.worked.rows.size())) {
                    // Not made yet.
                    compare(moment.looks, moment.faultless, moment.actual, moment.faultless, compared);
                } else if (const auto seen = seenWith(script, moment, place)) {
                    compare(moment.looks, moment.faultless, moment.actual, *seen, compared);
                }
            }
            if (mostShare(compared, showing) <= best.share()) continue;
            Likeness one = likenessOf(*other, compared);
            if (one.share() > best.share()) best = std::move(one);
        }
        if (!best.same.empty()) found.push_back(std::move(best));
    }
    std::stable_sort(found.begin(), found.end(),
                     [](const Likeness& a, const Likeness& b) { return a.share() > b.share(); });
    return found;
}

std::vector<std::string> easilyTakenFor(const std::vector<Likeness>& likenesses, std::size_t most) {
    std::vector<std::string> ids;
    for (const Likeness& likeness : likenesses) {
        if (ids.size() == most || (!ids.empty() && likeness.share() < 0.5)) break;
        ids.push_back(likeness.id);
    }
    return ids;
}

}  // namespace loopmend
