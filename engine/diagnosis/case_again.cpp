// SPDX-License-Identifier: MIT
// Explanations knitted again as a whole, and what she saw held against the cloth itself.
#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <map>
#include <set>
#include <utility>

#include "diagnosis/case_inner.h"
#include "diagnosis/told_place.h"

namespace loopmend {

namespace {

using What = Sighting::What;

/// What weighs less is not worth its yarn, unless it is a rival.
constexpr double kWorthKnitting = 0.004;
/// Larger pieces are knitted again only when they are told, ...
constexpr int kMostLoops = 40'000;
/// ... and of larger ones than these few at each answer.
constexpr int kManyLoops = 24'000;
/// Loops that are knitted at once: of the likeliest, of the rivals.
constexpr int kLikeliest = 60'000;
constexpr int kRivals = 160'000;

std::size_t atMost(int loops, int budget, int least, int most) {
    return static_cast<std::size_t>(std::clamp(budget / std::max(1, loops), least, most));
}

Sighting plainestOf(const LookedAt& piece) {
    Look all;
    all.way = LookWay::searchPatch;
    all.rowTo = piece.rows() + 3;
    all.columnFrom = 1;
    all.columnTo = 1'000'000;
    const Sighting right = answer(all, piece);
    if (right.what != What::nothing) return right;
    all.side = Side::wrong;
    return answer(all, piece);
}

double likelihoodOfPointingAt(const LookedAt& piece, const Sighting& plainest, const CaseNote& note,
                              const CaseTables& tables, const LookErrors& errors) {
    if (note.row > 0 && plainest.what != Sighting::What::nothing && !pointsNear(note, plainest)) {
        for (const Side side : {Side::right, Side::wrong}) {
            const PointedAt there = pointedAt(patchAbout(note, side), piece, errors);
            if (there.at.what != Sighting::What::nothing)
                return likelihoodOfPointing(note, tables, there.at, false, there.share);
        }
    }
    return likelihoodOfPointing(note, tables, plainest, false);
}

}  // namespace

int Case::Inner::loopsIn() const {
    int loops = 0;
    for (int r = 0; r <= tables->rows(); ++r) loops += tables->cloth().width(r);
    return loops;
}

bool Case::Inner::isTooLarge() const {
    return loopsIn() > kMostLoops;
}

bool Case::Inner::takesLong() const {
    return loopsIn() > kManyLoops;
}

void Case::Inner::weigh(std::int32_t number, Again& it, const CaseNote& note) const {
    if (!it.looked || !note.told || note.kind == CaseNote::Kind::safe) return;
    double p = 1;
    double much = 1;
    if (note.kind == CaseNote::Kind::look) {
        const CaseForecast f = forecastOfTold(note.look, note.seen, *it.looked, errors);
        p = heard(note, f, &it.vain[static_cast<std::size_t>(note.look.way)]);
        // What is overlooked again is so whatever its name. Of something unknown nobody can say that it lies
        // at several places.
        const double unknown =
            likelihoodOfMuchLike(note.look, forecastOf(note.look, *it.looked), note.seen, errors);
        much = unknown * std::max(1.0, p / likelihoodOf(note.look, f, note.seen, errors));
    } else {
        p = note.kind == CaseNote::Kind::picture
                ? likelihoodOfPointingAt(*it.looked, it.plainest, note, *tables, errors)
                : likelihoodOf(note, *tables, static_cast<std::size_t>(number), errors);
        much = p;
    }
    it.exact += std::log(std::max(asSure(note, p), 1e-12));
    it.much += std::log(std::max(asSure(note, std::min(1.0, much)), 1e-12));
}

std::vector<std::int32_t> Case::Inner::likeliest() const {
    const int loops = loopsIn();
    if (isTooLarge()) return {};
    std::vector<std::int32_t> heavy;
    double sum = 0;
    for (const std::int32_t h : now().alive()) {
        if (now().weight(static_cast<std::size_t>(h)) > kWorthKnitting) heavy.push_back(h);
    }
    const auto heavier = [&](std::int32_t a, std::int32_t b) {
        const double wa = now().weight(static_cast<std::size_t>(a));
        const double wb = now().weight(static_cast<std::size_t>(b));
        return wa != wb ? wa > wb : a < b;
    };
    std::sort(heavy.begin(), heavy.end(), heavier);
    // While it may be anywhere a few of the many tell nothing.
    constexpr std::size_t kFew = 16;
    constexpr double kMuch = 0.5;
    for (std::size_t i = 0; i < std::min(kFew, heavy.size()); ++i)
        sum += now().weight(static_cast<std::size_t>(heavy[i]));
    if (sum < kMuch) return {};
    heavy.erase(std::remove_if(heavy.begin(), heavy.end(),
                               [&](std::int32_t h) {
                                   return !tables->isListed(tables->at(static_cast<std::size_t>(h))) ||
                                          again.count(h) > 0;
                               }),
                heavy.end());
    heavy.resize(std::min(heavy.size(), atMost(loops, kLikeliest, takesLong() ? 3 : 8, 16)));
    return heavy;
}

std::vector<std::int32_t> Case::Inner::rivalsOf(std::int32_t best) const {
    const int loops = loopsIn();
    if (isTooLarge()) return {};
    const auto b = static_cast<std::size_t>(best);
    const CaseHypothesis& top = tables->at(b);
    const auto isWhole = [&](const CaseHypothesis& h) { return tables->isWholeRow(h); };
    // Of each kind and way of going on the two that are likeliest there, however little the tables leave
    // them: tables may be wrong about just these. Of whole rows, other rows too; of its own kind, all of the
    // row.
    struct Rival {
        double weight = 0;
        int off = 0;
        std::int32_t h = -1;
    };
    const auto before = [](const Rival& x, const Rival& y) {
        return x.weight != y.weight ? x.weight > y.weight : x.off != y.off ? x.off < y.off : x.h < y.h;
    };
    // What lies beside another of its kind need not be knitted too.
    const auto near = [&](std::int32_t h) {
        const CaseHypothesis& it = tables->at(static_cast<std::size_t>(h));
        return std::array<int, 4>{it.kind, it.after, it.row, it.column / 3};
    };
    constexpr int kRows = 2;
    constexpr int kColumns = 2;
    constexpr std::size_t kOfEach = 2;
    // What she found may lie aside of the mistake (an edge that a cross moved, a run seen at its top).
    std::vector<std::pair<int, int>> found;
    for (const CaseNote& note : notes) {
        if (note.kind != CaseNote::Kind::look || !isPositive(note)) continue;
        if (note.seen.what == What::place && note.seen.column > 0)
            found.emplace_back(note.seen.row, note.seen.column);
        if (note.seen.what == What::sign || note.seen.what == What::unnamed)
            found.emplace_back(note.look.rowFrom, note.look.columnFrom);
    }
    // Number of the first of these that it lies at, from 1; 0: none.
    constexpr int kRunsAside = 8;  // what runs leans with its column
    const auto foundAt = [&](const CaseHypothesis& it) {
        const int aside = tables->fault(it.kind)->runs ? kRunsAside : 1;
        const auto at = std::find_if(found.begin(), found.end(), [&](const auto& place) {
            return std::min(std::abs(it.row - place.first), std::abs(it.seenRow - place.first)) <= 1 &&
                   std::abs(it.column - place.second) <= aside;
        });
        return at == found.end() ? 0 : static_cast<int>(at - found.begin()) + 1;
    };
    std::map<std::array<int, 3>, std::vector<Rival>> byKind;  // kind, way of going on, where
    std::vector<Rival> rows;
    for (std::size_t h = 0; h < tables->size(); ++h) {
        const CaseHypothesis& it = tables->at(h);
        if (!tables->isListed(it) || tables->priors()[h] <= 0) continue;
        const bool whole = isWhole(it);
        const int rowOff = std::min(std::abs(it.seenRow - top.seenRow), std::abs(it.row - top.row));
        const int columnOff = whole || isWhole(top) ? 0 : std::abs(it.column - top.column);
        const Rival rival{now().weight(h), rowOff + columnOff, static_cast<std::int32_t>(h)};
        const bool here = rowOff <= kRows && columnOff <= kColumns;
        const int place = here || whole ? 0 : foundAt(it);
        if (here || place > 0) {
            std::vector<Rival>& list = byKind[{it.kind, it.after, place}];
            list.push_back(rival);
            std::sort(list.begin(), list.end(), before);
            if (list.size() > kOfEach && it.kind != top.kind) list.pop_back();
        } else if ((whole && isWhole(top)) || (it.kind == top.kind && rowOff <= 1)) {
            rows.push_back(rival);
        }
    }
    std::vector<Rival> all;
    for (const auto& [kind, list] : byKind) {
        for (const Rival& rival : list) {
            if (again.count(rival.h) == 0) all.push_back(rival);
        }
    }
    std::sort(all.begin(), all.end(), before);
    std::sort(rows.begin(), rows.end(), before);
    for (const Rival& rival : rows) {
        if (again.count(rival.h) == 0) all.push_back(rival);
    }
    all.resize(std::min(all.size(), atMost(loops, kRivals, 8, 80)));
    std::vector<std::int32_t> numbers;
    numbers.reserve(all.size());
    for (const Rival& rival : all) numbers.push_back(rival.h);
    // And anywhere, what would be likely if tables were to be trusted but little.
    constexpr double kTrust = 0.3;
    std::vector<Rival> little;
    for (const std::int32_t h : now().alive()) {
        const auto i = static_cast<std::size_t>(h);
        if (!tables->isListed(tables->at(i)) || again.count(h) > 0) continue;
        const double prior = tables->priors()[i];
        little.push_back({prior * std::pow(now().weight(i) / prior, kTrust), 0, h});
    }
    const std::size_t most = std::min(little.size(), std::size_t{1000});
    std::partial_sort(little.begin(), little.begin() + static_cast<std::ptrdiff_t>(most), little.end(),
                      before);
    std::set<std::array<int, 4>> known;
    for (const auto& [h, it] : again) known.insert(near(h));
    const std::size_t more = numbers.size() + atMost(loops, kRivals / 3, 4, 40);
    for (std::size_t i = 0; i < most && numbers.size() < more; ++i) {
        if (known.insert(near(little[i].h)).second) numbers.push_back(little[i].h);
    }
    return numbers;
}

bool Case::Inner::knitAgain(const std::vector<std::int32_t>& which) {
    bool some = false;
    if (!which.empty() && unlistedAt.empty()) {
        for (std::size_t h = 0; h < tables->size(); ++h) {
            const CaseHypothesis& it = tables->at(h);
            if (it.kind == tables->kinds())
                unlistedAt.emplace(std::pair<int, int>{it.row, it.column}, static_cast<std::int32_t>(h));
            if (it.kind == tables->kinds() + CaseTables::kRow)
                unlistedAt.emplace(std::pair<int, int>{it.row, 0}, static_cast<std::int32_t>(h));
        }
    }
    Script done = meant.script;
    done.rows.resize(static_cast<std::size_t>(meant.rowsDone));
    for (const std::int32_t h : which) {
        if (again.count(h) > 0) continue;
        const CaseHypothesis& it = tables->at(static_cast<std::size_t>(h));
        Again& made = again[h];
        some = true;
        auto piece = knitWith(done, start.setup, {tables->placeOf(it)}, static_cast<After>(it.after));
        if (!piece) continue;
        made.looked = std::make_unique<LookedAt>(*piece->actual.fabric, *piece->meant.fabric, &meant.script);
        made.plainest = plainestOf(*made.looked);
        soFar.knitted[h] = made.looked.get();
        made.twin = h;
        for (const auto& [other, its] : again) {
            if (other == h || !its.looked || its.twin != other) continue;
            if (sameInAllLooks(*its.looked, *made.looked)) {
                made.twin = other;
                break;
            }
        }
        for (const CaseNote& note : notes) weigh(h, made, note);
    }
    if (some) setRight();
    if (some) dropContradicted();
    return some;
}

/// What she saw speaks against a piece for good: it need not be kept.
void Case::Inner::dropContradicted() {
    constexpr double kHardly = 1e-9;
    bool some = false;
    for (auto& [h, it] : again) {
        if (!it.looked || now().weight(static_cast<std::size_t>(h)) > kHardly) continue;
        it.looked.reset();
        soFar.knitted.erase(h);
        some = true;
    }
    if (some) setRight();
}

void Case::Inner::setRight() {
    checked.reset();
    soFar.like.clear();
    if (again.empty()) return;
    // What cannot be knitted did not happen. What fits but for an answer or two may be something much like it
    // that is not in the list.
    constexpr double kMuchLike = 0.03;
    const auto weightOf = [&](double prior, double likely) {
        return prior > 0 ? std::exp(std::min(300.0, std::log(prior) + likely - logTold)) : 0.0;
    };
    std::vector<std::pair<std::int32_t, double>> instead;
    std::map<std::int32_t, double>& more = muchLike;
    std::map<std::int32_t, std::pair<double, const LookedAt*>> nearest;
    more.clear();
    for (const auto& [h, it] : again) {
        const auto i = static_cast<std::size_t>(h);
        const double prior = it.looked ? tables->priors()[i] : 0;
        instead.emplace_back(h, weightOf(prior, it.exact));
        if (!it.looked) continue;
        const CaseHypothesis& its = tables->at(i);
        const auto at =
            unlistedAt.find({its.seenRow, tables->isWholeRow(its) ? 0 : static_cast<int>(its.column)});
        if (at == unlistedAt.end()) continue;
        const double weight = weightOf(prior * kMuchLike, it.much);
        more[at->second] += weight;
        std::pair<double, const LookedAt*>& most = nearest[at->second];
        if (most.second == nullptr || weight > most.first) most = {weight, it.looked.get()};
    }
    for (const auto& [h, weight] : more) {
        const double unlike = belief.weight(static_cast<std::size_t>(h));
        instead.emplace_back(h, unlike + weight);
        if (weight > unlike) soFar.like[h] = nearest[h].second;
    }
    checked.emplace(belief.with(instead));
}

}  // namespace loopmend
