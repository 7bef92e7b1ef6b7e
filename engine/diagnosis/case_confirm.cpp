// SPDX-License-Identifier: MIT
// Before a kind of mistake is believed: what it rests on, and which look would shake it.
#include <algorithm>
#include <cmath>
#include <cstdlib>

#include "diagnosis/case_inner.h"
#include "fault/draw.h"

namespace loopmend {

namespace {

using What = Sighting::What;

/// Without any single answer it must still be half as likely as all else together.
constexpr double kWithoutOne = 1.0 / 3;
/// What weighs less is no rival, whatever one leaves out.
constexpr double kRival = 1e-6;
/// A rival of that weight which fits what she saw as well by so much.
constexpr double kAsGood = 0.7;
constexpr double kStillThere = 0.02;
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
        if (!note.told || note.kind == CaseNote::Kind::safe || note.seen.what == What::unclear) continue;
        std::vector<double> w = weights;
        for (std::size_t i = 0; i < list.size(); ++i) {
            const auto h = static_cast<std::size_t>(list[i]);
            if (muchLike.count(list[i]) > 0) continue;  // what speaks for it is that it fits but for a few
            const double p = note.kind == CaseNote::Kind::look
                                 ? heard(note, forecastOf(note.look, *tables, h, soFar), nullptr)
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

}  // namespace loopmend
