// SPDX-License-Identifier: MIT
#include "diagnosis/explain.h"

#include <algorithm>

#include "diagnosis/priors.h"
#include "diagnosis/trials.h"
#include "diagnosis/words.h"
#include "fabric/itinerary.h"
#include "fabric/rows.h"
#include "fault/catalogue.h"
#include "reading/read.h"
#include "reading/script.h"

namespace loopmend {

namespace {

/// A fault at one place, with every way of going on that gives the fabric.
struct Found {
    FoundFault fault;
    double weight = 0;
    bool yarnAgrees = false;
    bool nothingFollowed = false;
};

std::vector<Found> gather(const std::vector<Proved>& proved, const Trials& trials, bool cut) {
    const int last = static_cast<int>(trials.script().rows.size());
    std::vector<Found> all;
    for (const Proved& p : proved) {
        const double weight =
            priorOf(p.fault->id) * (p.yarnAgrees ? 1 : kOtherYarn) * (p.allRows ? 1 : kNotAllRows);
        const auto same = std::find_if(all.begin(), all.end(), [&](const Found& f) {
            return f.fault.id == p.place.id && f.fault.row == p.place.row &&
                   f.fault.stitch == p.place.stitch && f.fault.rows == p.place.rows;
        });
        if (same != all.end()) {
            if (same->fault.after == p.after && same->yarnAgrees) continue;
            same->fault.afterOpen = same->fault.afterOpen || same->fault.after != p.after;
            if (p.yarnAgrees && !same->yarnAgrees) same->fault.after = p.after;
            same->yarnAgrees = same->yarnAgrees || p.yarnAgrees;
            same->weight += weight * priorOf(p.after);
            continue;
        }
        Found found;
        found.fault.id = p.place.id;
        found.fault.row = p.place.row;
        found.fault.rowTo = p.place.row;
        found.fault.stitch = p.place.stitch;
        found.fault.stitchTo = p.place.stitch;
        found.fault.rows = p.place.rows;
        // What was done to the legs of a stitch shows in the stitch itself, a row below.
        const bool below = trials.parting().onlyTwist && !p.fault->suffered() && !p.fault->misread();
        found.fault.seenRow = below ? p.place.row - 1 : p.place.row;
        found.fault.after = p.after;
        found.yarnAgrees = p.yarnAgrees;
        found.nothingFollowed = p.fault->misread() && p.nothingFollowed;
        found.weight = weight * priorOf(p.after);
        all.push_back(std::move(found));
    }
    for (Found& f : all) {
        // In the last row nothing followed yet: if she stopped short there, she noticed.
        if (f.fault.row != last && !f.nothingFollowed) continue;
        f.fault.afterOpen = true;
        if (cut) f.fault.after = After::rowEnd;
    }
    return all;
}

bool isOfWholeRow(std::string_view id) {
    const Fault* const fault = findFault(id);
    return fault != nullptr && fault->wholeRow;
}

/// Neighbouring places that give the same fabric are one place that nobody can tell: a span.
std::vector<Found> joined(std::vector<Found> all) {
    std::vector<Found> spans;
    for (Found& f : all) {
        const auto beside = std::find_if(spans.begin(), spans.end(), [&](const Found& s) {
            return s.fault.id == f.fault.id && s.fault.row == f.fault.row && s.fault.rows == f.fault.rows &&
                   s.fault.after == f.fault.after && s.yarnAgrees == f.yarnAgrees &&
                   s.fault.stitchTo + 1 == f.fault.stitch;
        });
        const auto below = std::find_if(spans.begin(), spans.end(), [&](const Found& s) {
            return isOfWholeRow(s.fault.id) && s.fault.id == f.fault.id && s.fault.rows == f.fault.rows &&
                   s.yarnAgrees == f.yarnAgrees && s.fault.rowTo + 1 == f.fault.row;
        });
        if (below != spans.end()) {
            below->fault.rowTo = f.fault.row;
            below->fault.afterOpen = below->fault.afterOpen || f.fault.afterOpen;
        } else if (beside == spans.end()) {
            spans.push_back(std::move(f));
        } else {
            beside->fault.stitchTo = f.fault.stitch;
        }
    }
    return spans;
}

Explanations conclude(Trials& trials, bool cut, Terms terms) {
    Explanations result;
    result.rows = static_cast<int>(trials.script().rows.size());
    result.nothingWrong = trials.sameKnot();
    if (!result.nothingWrong) {
        std::vector<Found> all = joined(gather(trials.run(), trials, cut));
        std::stable_sort(all.begin(), all.end(),
                         [](const Found& a, const Found& b) { return a.weight > b.weight; });
        double total = 0;
        for (const Found& f : all) total += f.weight;
        for (const Found& f : all) {
            Explanation e;
            e.faults = {f.fault};
            e.probability = f.weight / total;
            e.yarnAgrees = f.yarnAgrees;
            e.words = wordsOf(f.fault, trials.script(), terms);
            for (const Found& other : all) {
                if (other.fault.id == f.fault.id || std::find(e.sameFabricAs.begin(), e.sameFabricAs.end(),
                                                              other.fault.id) != e.sameFabricAs.end())
                    continue;
                e.sameFabricAs.push_back(other.fault.id);
            }
            result.explanations.push_back(std::move(e));
        }
        if (all.empty()) {
            const Trials::Place at = trials.partingPlace();
            result.unknown.push_back({at.row, at.stitch});
        }
    }
    result.words = wordsOf(result, terms);
    return result;
}

/// How many of the script's rows the actual fabric has.
int rowsThere(const Script& script, const Fabric& actual) {
    return std::min(std::max(0, rowsOf(actual).last), static_cast<int>(script.rows.size()));
}

bool agree(const Walk& a, const Walk& b) {
    const Parting p = parting(a, b);
    return p.at < 0 && p.meant.empty();
}

/// Nothing can be tried: only where the two part is said.
Explanations onlyWhere(const Fabric& meant, const Fabric& actual, Terms terms) {
    Explanations result;
    const Walk walk = walkOf(meant);
    const Parting p = parting(walk, walkOf(actual));
    LoopId loop = p.meant.empty() ? LoopId{} : p.meant.front();
    for (std::int32_t i = std::min(p.at, static_cast<std::int32_t>(walk.entries.size()) - 1); i >= 0; --i) {
        const EntryId e = walk.entries[static_cast<std::size_t>(i)];
        if (!meant.isLoop(e)) continue;
        loop = e;
        break;
    }
    UnknownPlace at;
    const Reading reading = readFrom(meant, Side::right);
    if (const Cell* cell = loop ? cellOf(reading, loop) : nullptr) at = {cell->row, cell->stitch};
    result.unknown.push_back(at);
    result.words = wordsOf(result, terms);
    return result;
}

}  // namespace

Explanations explain(const Script& meant, const Setup& setup, const Fabric& actual, Terms terms) {
    const int rows = rowsThere(meant, actual);
    Trials trials(meant, rows, setup, actual);
    if (trials.works()) return conclude(trials, rows < static_cast<int>(meant.rows.size()), terms);
    Explanations result;
    result.unknown.push_back({});
    result.words = "The rows as they are meant cannot be worked.";
    return result;
}

Explanations explain(const Fabric& meant, const Fabric& actual, Terms terms) {
    const ScriptReading read = readScript(meant);
    Setup setup;
    setup.castOn = read.castOn;
    setup.mirrored = read.mirrored;
    for (std::int32_t y = 0; y < meant.yarnCount(); ++y) {
        if (meant[YarnId{y}].flags.gone != 0) continue;
        setup.loopUm = meant[YarnId{y}].loopUm;
        setup.strandUm = meant[YarnId{y}].strandUm;
        break;
    }
    // Only what gives the meant fabric again may stand for it.
    const int rows = rowsThere(read.script, actual);
    const bool shorter = rows < static_cast<int>(read.script.rows.size());
    Trials trials(read.script, rows, setup, actual);
    const Walk walk = walkOf(meant);
    bool same = trials.works() && read.unnamed.empty();
    if (same && !shorter) same = agree(walk, walkOf(trials.meant()));
    if (same && shorter) {
        const auto again = knit(read.script, setup);
        same = again && agree(walk, walkOf(*again->fabric));
    }
    if (same) return conclude(trials, shorter, terms);
    if (knotOf(meant) != knotOf(actual)) return onlyWhere(meant, actual, terms);
    Explanations result;
    result.nothingWrong = true;
    result.rows = std::max(0, rowsOf(meant).last);
    result.words = wordsOf(result, terms);
    return result;
}

}  // namespace loopmend
