// SPDX-License-Identifier: MIT
// The likeliest explanations knitted again as a whole, and what she saw held against the cloth itself.
#include <algorithm>
#include <cmath>
#include <utility>

#include "diagnosis/case_inner.h"

namespace loopmend {

namespace {

using What = Sighting::What;

constexpr std::size_t kMostAgain = 8;
/// What weighs less is not worth its yarn.
constexpr double kWorthKnitting = 0.004;
/// Larger pieces are knitted again only when they are told.
constexpr int kMostLoops = 40'000;

}  // namespace

void Case::Inner::weigh(std::int32_t number, Again& it, const CaseNote& note) const {
    if (!it.looked || note.kind != CaseNote::Kind::look || !note.told || note.seen.what == What::unclear)
        return;
    const auto h = static_cast<std::size_t>(number);
    CaseForecast f;
    f.seen = answer(note.look, *it.looked);
    if (f.seen.what == What::unclear) return;
    it.exact += std::log(likelihoodOf(note.look, f, note.seen, errors));
    it.table += std::log(likelihoodOf(note.look, tables->forecast(note.look, h), note.seen, errors));
}

bool Case::Inner::knitAgain() {
    int loops = 0;
    for (int r = 0; r <= tables->rows(); ++r) loops += tables->cloth().width(r);
    if (loops > kMostLoops) return false;
    std::vector<std::int32_t> heavy;
    for (const std::int32_t h : now().alive()) {
        if (now().weight(static_cast<std::size_t>(h)) > kWorthKnitting &&
            tables->isListed(tables->at(static_cast<std::size_t>(h))))
            heavy.push_back(h);
    }
    const std::size_t most = std::min(heavy.size(), kMostAgain);
    const auto heavier = [&](std::int32_t a, std::int32_t b) {
        const double wa = now().weight(static_cast<std::size_t>(a));
        const double wb = now().weight(static_cast<std::size_t>(b));
        return wa != wb ? wa > wb : a < b;
    };
    std::partial_sort(heavy.begin(), heavy.begin() + static_cast<std::ptrdiff_t>(most), heavy.end(), heavier);
    heavy.resize(most);
    // Of whole rows tables know least: more of those, however little they seem to weigh.
    const auto isWhole = [&](std::int32_t h) {
        const Fault* const f = tables->fault(tables->at(static_cast<std::size_t>(h)).kind);
        return f != nullptr && f->wholeRow;
    };
    if (std::any_of(heavy.begin(), heavy.end(), isWhole)) {
        std::vector<std::int32_t> rows;
        for (const std::int32_t h : now().alive()) {
            if (isWhole(h) && again.count(h) == 0) rows.push_back(h);
        }
        const std::size_t more = std::min(rows.size(), kMostAgain);
        std::partial_sort(rows.begin(), rows.begin() + static_cast<std::ptrdiff_t>(more), rows.end(),
                          heavier);
        heavy.insert(heavy.end(), rows.begin(), rows.begin() + static_cast<std::ptrdiff_t>(more));
    }
    bool some = false;
    Script done = meant.script;
    done.rows.resize(static_cast<std::size_t>(meant.rowsDone));
    for (const std::int32_t h : heavy) {
        if (again.count(h) > 0) continue;
        const CaseHypothesis& it = tables->at(static_cast<std::size_t>(h));
        Again& made = again[h];
        auto piece = knitWith(done, start.setup, {tables->placeOf(it)}, static_cast<After>(it.after));
        if (!piece) continue;
        made.piece = std::make_unique<FaultyKnitting>(std::move(*piece));
        made.looked =
            std::make_unique<LookedAt>(*made.piece->actual.fabric, *made.piece->meant.fabric, &meant.script);
        made.twin = h;
        for (const auto& [other, its] : again) {
            if (other == h || !its.looked || its.twin != other) continue;
            if (sameInAllLooks(*its.looked, *made.looked)) {
                made.twin = other;
                break;
            }
        }
        for (const CaseNote& note : notes) weigh(h, made, note);
        some = true;
    }
    if (some) setRight();
    return some;
}

void Case::Inner::setRight() {
    checked.reset();
    const bool any = std::any_of(again.begin(), again.end(), [](const auto& a) {
        return a.second.looked && std::abs(a.second.exact - a.second.table) > 1e-9;
    });
    if (!any) return;
    std::vector<double> weights = belief.weights();
    for (const auto& [h, it] : again)
        weights[static_cast<std::size_t>(h)] *= std::exp(std::clamp(it.exact - it.table, -30.0, 9.0));
    checked.emplace(std::move(weights));
}

}  // namespace loopmend
