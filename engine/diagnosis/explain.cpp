// SPDX-License-Identifier: MIT
#include "diagnosis/explain.h"

#include <algorithm>
#include <cstdlib>
#include <memory>

#include "diagnosis/priors.h"
#include "diagnosis/several.h"
#include "diagnosis/words.h"
#include "fabric/rows.h"
#include "fault/catalogue.h"
#include "reading/read.h"
#include "reading/script.h"

namespace loopmend {

namespace {

/// Mistakes that explain all, the last of them with every way of going on that gives the fabric.
struct Found {
    std::vector<FoundFault> faults;  ///< of several, in the order in which they were decoded
    double weight = 0;
    bool yarnAgrees = false;
    bool nothingFollowed = false;

    FoundFault& last() { return faults.back(); }
    const FoundFault& last() const { return faults.back(); }
};

FoundFault foundFrom(const KnownFault& made, bool onlyTwist) {
    const FaultPlace& place = made.fault.place;
    const Fault& fault = *made.fault.fault;
    FoundFault found;
    found.id = place.id;
    found.row = place.row;
    found.rowTo = place.row;
    found.stitch = place.stitch;
    found.stitchTo = place.stitch;
    found.rows = place.rows;
    // What was done to the legs of a stitch shows in the stitch itself, a row below.
    const bool below = onlyTwist && !fault.suffered() && !fault.misread();
    found.seenRow = below ? place.row - 1 : place.row;
    found.after = made.after;
    return found;
}

bool samePlace(const FoundFault& a, const FoundFault& b) {
    return a.id == b.id && a.row == b.row && a.stitch == b.stitch && a.rows == b.rows;
}

/// All but the last are the same.
bool sameBefore(const Found& a, const Found& b) {
    return a.faults.size() == b.faults.size() &&
           std::equal(a.faults.begin(), a.faults.end() - 1, b.faults.begin(), samePlace);
}

std::vector<Found> gather(const std::vector<Proved>& proved, const std::vector<FoundFault>& before,
                          const Trials& trials, bool cut) {
    std::vector<Found> all;
    for (const Proved& p : proved) {
        const Fault& fault = *p.fault.fault.fault;
        const double weight = priorOf(fault.id) * priorAt(trials.script(), p.fault.fault.place) *
                              (p.yarnAgrees ? 1 : kOtherYarn) * (p.allRows ? 1 : kNotAllRows) *
                              priorOf(p.fault.after);
        const FoundFault last = foundFrom(p.fault, trials.parting().onlyTwist);
        const auto same =
            std::find_if(all.begin(), all.end(), [&](const Found& f) { return samePlace(f.last(), last); });
        if (same != all.end()) {
            FoundFault& there = same->last();
            if (there.after == last.after && same->yarnAgrees) continue;
            there.afterOpen = there.afterOpen || there.after != last.after;
            if (p.yarnAgrees && !same->yarnAgrees) there.after = last.after;
            same->yarnAgrees = same->yarnAgrees || p.yarnAgrees;
            same->weight += weight;
            continue;
        }
        Found found;
        found.faults = before;
        found.faults.push_back(last);
        found.yarnAgrees = p.yarnAgrees;
        found.nothingFollowed = fault.misread() && p.nothingFollowed;
        found.weight = weight;
        for (const FoundFault& f : before) found.weight *= priorOf(f.id);
        all.push_back(std::move(found));
    }
    for (Found& f : all) {
        // In the last row nothing followed yet: if she stopped short there, she noticed.
        if (f.last().row != trials.rows() && !f.nothingFollowed) continue;
        f.last().afterOpen = true;
        if (cut) f.last().after = After::rowEnd;
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
        const FoundFault& last = f.last();
        const auto beside = std::find_if(spans.begin(), spans.end(), [&](const Found& s) {
            return sameBefore(s, f) && s.last().id == last.id && s.last().row == last.row &&
                   s.last().rows == last.rows && s.last().after == last.after &&
                   s.yarnAgrees == f.yarnAgrees && s.last().stitchTo + 1 == last.stitch;
        });
        const auto below = std::find_if(spans.begin(), spans.end(), [&](const Found& s) {
            return sameBefore(s, f) && isOfWholeRow(s.last().id) && s.last().id == last.id &&
                   s.last().rows == last.rows && s.yarnAgrees == f.yarnAgrees &&
                   s.last().rowTo + 1 == last.row;
        });
        if (below != spans.end()) {
            below->last().rowTo = last.row;
            below->last().afterOpen = below->last().afterOpen || last.afterOpen;
        } else if (beside == spans.end()) {
            spans.push_back(std::move(f));
        } else {
            beside->last().stitchTo = last.stitch;
        }
    }
    return spans;
}

void inOrder(std::vector<FoundFault>& faults) {
    const auto fell = [](const FoundFault& f) {
        const Fault* const fault = findFault(f.id);
        return fault != nullptr && fault->suffered();
    };
    std::stable_sort(faults.begin(), faults.end(), [&](const FoundFault& a, const FoundFault& b) {
        if (a.row != b.row) return a.row < b.row;
        // What fell when a row was worked fell as it was found; of two at one stitch the one that was made
        // first comes first.
        if (fell(a) || fell(b)) return !fell(a) && fell(b);
        return a.stitch < b.stitch;
    });
}

/// Several found in another order are found once.
std::vector<Found> each(std::vector<Found> all) {
    std::vector<Found> once;
    for (Found& f : all) {
        inOrder(f.faults);
        const auto same = std::find_if(once.begin(), once.end(), [&](const Found& o) {
            return o.faults.size() == f.faults.size() &&
                   std::equal(o.faults.begin(), o.faults.end(), f.faults.begin(), samePlace);
        });
        if (same == once.end()) once.push_back(std::move(f));
    }
    return once;
}

void tell(std::vector<Found> all, const Script& script, Terms terms, Explanations& result) {
    std::stable_sort(all.begin(), all.end(),
                     [](const Found& a, const Found& b) { return a.weight > b.weight; });
    double total = 0;
    for (const Found& f : all) total += f.weight;
    for (const Found& f : all) {
        Explanation e;
        e.faults = f.faults;
        e.probability = f.weight / total;
        e.yarnAgrees = f.yarnAgrees;
        for (const FoundFault& one : f.faults)
            e.words += (e.words.empty() ? "" : " ") + wordsOf(one, script, terms);
        // The same said of the same place is told once, by whatever amount it was found.
        const auto said = std::find_if(result.explanations.begin(), result.explanations.end(),
                                       [&](const Explanation& other) { return other.words == e.words; });
        if (said != result.explanations.end()) {
            said->probability += e.probability;
            said->yarnAgrees = said->yarnAgrees || e.yarnAgrees;
            continue;
        }
        const auto isMine = [&](const FoundFault& o) {
            return std::any_of(f.faults.begin(), f.faults.end(),
                               [&](const FoundFault& m) { return m.id == o.id; });
        };
        for (const Found& other : all) {
            for (const FoundFault& o : other.faults) {
                if (isMine(o) || std::count(e.sameFabricAs.begin(), e.sameFabricAs.end(), o.id) > 0) continue;
                e.sameFabricAs.push_back(o.id);
            }
        }
        result.explanations.push_back(std::move(e));
    }
}

Explanations conclude(const std::shared_ptr<Trials>& trials, const Target& target, const Script& script,
                      const Setup& setup, bool cut, Terms terms) {
    Explanations result;
    result.rows = trials->rows();
    result.nothingWrong = trials->sameKnot();
    std::vector<Found> all;
    if (trials->sameKnot()) {
        if (!trials->sameLengths()) {
            all = joined(gather(trials->run(Thoroughly::lengths), {}, *trials, cut));
            result.nothingWrong = all.empty();
        }
    } else {
        std::vector<Proved> proved = trials->run(Thoroughly::near);
        if (proved.empty()) proved = trials->run(Thoroughly::far);
        all = joined(gather(proved, {}, *trials, cut));
        if (proved.empty()) {
            for (const Decoded& d : decodeSeveral(trials, target, script, trials->rows(), setup)) {
                std::vector<FoundFault> before;
                for (const KnownFault& k : d.before->known())
                    before.push_back(foundFrom(k, before.empty() && trials->parting().onlyTwist));
                std::vector<Found> these = joined(gather(d.proved, before, *d.before, cut));
                std::move(these.begin(), these.end(), std::back_inserter(all));
            }
            all = each(std::move(all));
        }
        if (all.empty()) {
            const Trials::Place at = trials->partingPlace();
            result.unknown.push_back({at.row, at.stitch});
        }
    }
    Script worked = script;
    worked.rows.resize(std::min(worked.rows.size(), static_cast<std::size_t>(trials->rows())));
    tell(std::move(all), worked, terms, result);
    result.words = wordsOf(result, terms);
    return result;
}

/// How many of the script's rows the actual fabric has.
int rowsThere(const Script& script, const Target& target) {
    return std::min(target.rows, static_cast<int>(script.rows.size()));
}

/// Where stitches are picked up along an edge, rows of the cloth are not those of the script: then by the
/// count of its stitches.
int rowsByCount(const Script& script, const Setup& setup, const Target& target) {
    const int all = static_cast<int>(script.rows.size());
    const auto picksUp = [](const WorkedRow& row) {
        return std::any_of(row.steps.begin(), row.steps.end(),
                           [](const Step& step) { return step.op == Op::pickUp; });
    };
    if (std::none_of(script.rows.begin(), script.rows.end(), picksUp)) return std::min(target.rows, all);
    Knitting knitting = castOn(script, setup);
    const auto there = static_cast<std::int64_t>(target.walk.loopCount());
    std::int64_t least = -1;
    int best = std::min(target.rows, all);
    for (int row = 1; row <= all; ++row) {
        const WorkedRow& words = script.rows[static_cast<std::size_t>(row) - 1];
        if (!workRow(knitting.knitter, words)) break;
        endRow(knitting.knitter, words);
        const std::int64_t off = std::abs(knitting.fabric->loopCount() - there);
        if (least >= 0 && off >= least) continue;
        least = off;
        best = row;
    }
    return best;
}

bool sameEntries(const Walk& a, const Walk& b) {
    const Parting p = parting(a, b);
    return p.none() && p.meant.empty();
}

/// The row about in which two fabrics part, by how many loops lie before that place of one yarn; 0: nobody
/// can tell so quickly.
int partingRow(const Script& script, const Walk& meant, const Walk& actual) {
    if (meant.yarns.size() != 1 || actual.yarns.size() != 1) return 0;
    const std::int32_t at = parting(meant, actual).at.front();
    const WalkedYarn& yarn = meant.yarns.front();
    if (at < 0) return 0;
    const auto before = static_cast<int>(
        std::lower_bound(yarn.loops.begin(), yarn.loops.end(), at,
                         [&](LoopId loop, std::int32_t until) { return meant.placeOf(loop) < until; }) -
        yarn.loops.begin());
    int loops = static_cast<int>(yarn.loops.size());  // from the needle down: how it was begun is not asked
    for (int row = static_cast<int>(script.rows.size()); row > 0; --row) {
        for (const Step& step : script.rows[static_cast<std::size_t>(row) - 1].steps) loops -= makes(step);
        if (loops <= before) return row;
    }
    return 0;
}

/// Where nothing explains it the rows may be counted otherwise: by stitches, or one fewer, if what is wrong
/// in the newest row looks like the beginning of another.
Explanations orOfOtherRows(Explanations told, const Target& target, const Script& script, const Setup& setup,
                           Terms terms) {
    const int all = static_cast<int>(script.rows.size());
    for (const int rows : {rowsByCount(script, setup, target), told.rows - 1}) {
        if (told.unknown.empty()) break;
        const bool newest = told.unknown.front().row == 0 || told.unknown.front().row >= told.rows - 2;
        if (rows == told.rows || rows < 1 || (rows < told.rows && !newest)) continue;
        const auto others = std::make_shared<Trials>(target, script, rows, setup);
        if (!others->works()) continue;
        Explanations again = conclude(others, target, script, setup, rows < all, terms);
        if (again.unknown.empty() && !again.nothingWrong) return again;
    }
    return told;
}

/// Nothing can be tried: only where the two part is said.
Explanations onlyWhere(const Fabric& meant, const Target& target, Terms terms) {
    Explanations result;
    const Walk walk = walkOf(meant);
    const Parting p = parting(walk, target.walk);
    const Reading reading = readFrom(meant, Side::right);
    UnknownPlace at;
    const auto offer = [&](LoopId loop) {
        const Cell* const cell = loop ? cellOf(reading, loop) : nullptr;
        if (cell == nullptr) return;
        if (at.row == 0 || cell->row < at.row || (cell->row == at.row && cell->stitch < at.stitch))
            at = {cell->row, cell->stitch};
    };
    for (std::size_t y = 0; y < p.at.size(); ++y) {
        const std::vector<EntryId>& entries = walk.yarns[y].entries;
        if (p.at[y] < 0) continue;
        auto i = std::min(p.at[y], static_cast<std::int32_t>(entries.size()) - 1);
        while (i >= 0 && !meant.isLoop(entries[static_cast<std::size_t>(i)])) --i;
        if (i >= 0) offer(entries[static_cast<std::size_t>(i)]);
    }
    if (at.row == 0 && !p.meant.empty()) offer(p.meant.front());
    result.unknown.push_back(at);
    result.words = wordsOf(result, terms);
    return result;
}

}  // namespace

Explanations explain(const Script& meant, const Setup& setup, const Fabric& actual, Terms terms) {
    const Target target(actual);
    const int rows = rowsThere(meant, target);
    const auto trials = std::make_shared<Trials>(target, meant, rows, setup);
    if (trials->works()) {
        const int all = static_cast<int>(meant.rows.size());
        return orOfOtherRows(conclude(trials, target, meant, setup, rows < all, terms), target, meant, setup,
                             terms);
    }
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
    const Target target(actual);
    const int rows = rowsThere(read.script, target);
    const bool shorter = rows < static_cast<int>(read.script.rows.size());
    const Walk walk = walkOf(meant);
    const auto trials = std::make_shared<Trials>(target, read.script, rows, setup, std::vector<KnownFault>{},
                                                 partingRow(read.script, walk, target.walk));
    bool same = trials->works() && read.unnamed.empty();
    if (same) {
        if (shorter) {
            const auto again = knit(read.script, setup);
            same = again && sameEntries(walk, walkOf(*again->fabric));
        } else {
            same = sameEntries(walk, trials->walk());
        }
    }
    if (same)
        return orOfOtherRows(conclude(trials, target, read.script, setup, shorter, terms), target,
                             read.script, setup, terms);
    if (!sameKnot(walk, target.walk)) return onlyWhere(meant, target, terms);
    Explanations result;
    result.nothingWrong = true;
    result.rows = std::max(0, rowsOf(meant).last);
    result.words = wordsOf(result, terms);
    return result;
}

}  // namespace loopmend
