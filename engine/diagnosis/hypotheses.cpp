// SPDX-License-Identifier: MIT
// Every fault of the catalogue wherever it can stand, and what is not in the list.
#include <algorithm>
#include <cmath>
#include <optional>
#include <unordered_map>

#include "diagnosis/priors.h"
#include "diagnosis/tables.h"
#include "fault/knit_with.h"
#include "fault/needle.h"
#include "fault/steps.h"

namespace loopmend {

namespace {

/// Weight of everything that nobody has listed, against 1 for all that is.
constexpr double kUnlistedShare = 0.10;

/// She looks up soon after it happened, or any time: half and half (from a trial).
double placeWeight(int lag, int rows) {
    return 0.5 * std::exp(-lag / 8.0) / 8 + 0.5 / std::max(1, rows);
}

/// A step whose stitch one finds again.
bool isFound(const Step& step) {
    switch (step.op) {
        case Op::knit:
        case Op::purl:
        case Op::knitTbl:
        case Op::purlTbl:
        case Op::slipPurlwiseBack:
        case Op::slipPurlwiseFront:
        case Op::slipKnitwiseBack:
        case Op::slipKnitwiseFront: return false;
        default: return true;
    }
}

struct Group {
    double weight = 0;  ///< of the whole group
    double sum = 0;
};

}  // namespace

CaseTables::CaseTables(const Script& script, const Setup& setup, int rows,
                       const std::map<std::string, double>& priors, std::shared_ptr<CaseEffects> effects)
    : script_(script),
      setup_(setup),
      cloth_(script_, setup_, rows),
      faults_(catalogue()),
      effects_(effects ? std::move(effects) : std::make_shared<CaseEffects>()) {
    for (std::size_t i = 0; i < unlisted_.size(); ++i) {
        CaseEffect& e = unlisted_[i];
        e.can = true;
        e.odds.push_back({0, 0, 0, OddSign::other, true, true});
        e.off.push_back(i == 1 ? std::int8_t{-1} : i == 2 ? std::int8_t{1} : std::int8_t{0});
    }
    featureRow_.resize(static_cast<std::size_t>(cloth_.rows()) + 1);
    for (int r = 0; r <= cloth_.rows(); ++r) {
        const auto width = static_cast<std::size_t>(std::max(0, cloth_.width(r)));
        std::vector<std::uint16_t>& found = featureRow_[static_cast<std::size_t>(r)];
        found.assign(width + 1, static_cast<std::uint16_t>(r));
        if (r == 0 || !cloth_.isRegular(r)) continue;
        const std::vector<Step>& steps = script_.rows[static_cast<std::size_t>(r) - 1].steps;
        const std::vector<std::uint16_t>& under = featureRow_[static_cast<std::size_t>(r) - 1];
        for (std::size_t c = 1; c <= width; ++c) {
            const int column = static_cast<int>(c);
            if (isFound(steps[static_cast<std::size_t>(cloth_.stepOf(r, column))])) continue;
            const auto below = static_cast<std::size_t>(std::max(0, cloth_.follow(r, column, r - 1)));
            found[c] = under.size() > 1 ? under[std::min(below, under.size() - 1)] : std::uint16_t{0};
        }
    }
    turnsBack_.assign(static_cast<std::size_t>(kinds()), false);
    nameRows();
    enumerate(priors);
}

void CaseTables::enumerate(const std::map<std::string, double>& priors) {
    const int n = cloth_.rows();
    std::vector<double> weightOfRow(static_cast<std::size_t>(n) + 1);
    for (int row = 0; row <= n; ++row) weightOfRow[static_cast<std::size_t>(row)] = placeWeight(n - row, n);
    std::vector<Group> groups(static_cast<std::size_t>(kinds() + kUnlisted) * 4);  // kind and after
    const auto groupOf = [](int kind, After after) {
        return static_cast<std::size_t>(kind) * 4 + static_cast<std::size_t>(after);
    };
    const auto add = [&](int kind, After after, int row, int stitch, int seen, int like = -1) {
        CaseHypothesis h;
        h.kind = static_cast<std::uint8_t>(kind);
        h.after = static_cast<std::uint8_t>(after);
        h.row = static_cast<std::uint16_t>(row);
        h.stitch = static_cast<std::uint16_t>(stitch);
        h.column = static_cast<std::uint16_t>(cloth_.columnOf(row, stitch));
        h.seenRow = static_cast<std::uint16_t>(seen);
        const double w = after == After::rowEnd ? 1 : weightOfRow[static_cast<std::size_t>(row)];
        hypotheses_.push_back(h);
        likeOf_.push_back(like);
        priors_.push_back(w);
        groups[groupOf(kind, after)].sum += w;
    };

    // A step, those beside it, and the way the row runs.
    const auto stepsAbout = [&](int kind, int row, int step) {
        const WorkedRow& words = script_.rows[static_cast<std::size_t>(row) - 1];
        const auto code = [&](int i) {
            if (i < 0 || i >= static_cast<int>(words.steps.size())) return std::uint64_t{0};
            const Step& s = words.steps[static_cast<std::size_t>(i)];
            return (static_cast<std::uint64_t>(s.op) + 1) * 64U + static_cast<std::uint64_t>(s.count) +
                   static_cast<std::uint64_t>(s.front ? 4096U : 0U);
        };
        return (((code(step) * 10007U + code(step + 1)) * 10007U + code(step - 1)) * 256U +
                static_cast<std::uint64_t>(kind)) *
                   2U +
               (cloth_.runsLeft(row) ? 1U : 0U);
    };

    // Whether a mistake changes the count decides whether it matters how she goes on: tried once for each
    // kind of place. By reading and by count they are tried apart.
    struct Like {
        int reading = -1;
        int count = -1;
        bool changes = false;
    };
    std::unordered_map<std::uint64_t, Like> tried;
    const auto likeAt = [&](int kind, int row, int step, int stitch) -> const Like& {
        const std::uint64_t key = stepsAbout(kind, row, step) * 8U + static_cast<std::uint64_t>(stitch);
        Like& like = tried[key];
        if (like.reading < 0) {
            // Only a place where it can be done tells anything.
            const int e =
                effects_->find(cloth_, setup_, *fault(kind), kind, After::byReading, row, step, stitch);
            const CaseEffect& effect = effects_->at(e);
            if (!effect.can) return like;
            like.reading = e;
            like.changes =
                std::any_of(effect.off.begin(), effect.off.end(), [](std::int8_t o) { return o != 0; });
            like.count = like.changes ? effects_->find(cloth_, setup_, *fault(kind), kind, After::byCount,
                                                       row, step, stitch)
                                      : e;
        }
        return like;
    };

    // What is worked in: one walk over the rows, every fault asked at every step.
    Knitting knitting = castOn(script_, setup_);
    std::vector<std::vector<LoopId>> loops(static_cast<std::size_t>(n) + 1);
    bool works = true;
    std::vector<LoopId> were;
    std::vector<LoopId> made;
    for (int r = 1; r <= n && works; ++r) {
        const WorkedRow& words = script_.rows[static_cast<std::size_t>(r) - 1];
        const bool regular = cloth_.isRegular(r);
        RowWork work(knitting.knitter);
        int stitch = 1;
        for (int i = 0; i < static_cast<int>(words.steps.size()) && works; ++i) {
            const Step& step = words.steps[static_cast<std::size_t>(i)];
            const int width = stitchesOf(step);
            for (int kind = 0; regular && kind < kinds() && width > 0; ++kind) {
                const Fault& f = *fault(kind);
                if (f.suffered() || f.misread() || takesLoopLeft(words, i)) continue;
                const int each = f.anyStitch ? 1 : width;
                for (int k = 0; k < width; k += each) {
                    const Spot spot{words, i, knitting.knitter, k};
                    if (!f.standsOn(spot)) continue;
                    const Like& like = likeAt(kind, r, i, k);
                    if (r == n) add(kind, After::rowEnd, r, stitch + k, r, like.count);
                    add(kind, After::byReading, r, stitch + k, r, like.reading);
                    if (r < n && like.changes) add(kind, After::byCount, r, stitch + k, r, like.count);
                }
            }
            if (regular && width > 0) {
                // With a stitch more or less she goes on by count; how else, no look would tell.
                for (int u = 0; u < kUnlisted; ++u) {
                    if (u == kRow && stitch > 1) continue;
                    add(kinds() + u,
                        u == 0 || u >= kColumn ? After::byReading
                        : r < n                ? After::byCount
                                               : After::rowEnd,
                        r, stitch, r);
                }
            }
            were.clear();
            nextLoops(knitting.knitter, std::max(0, uses(step)), were);
            const EntryId firstNew{knitting.fabric->entryCount()};
            if (!work.work(step)) works = false;
            lastLoops(knitting.knitter, firstNew, were, made);
            const auto have = std::min(made.size(), static_cast<std::size_t>(std::max(0, width)));
            std::vector<LoopId>& list = loops[static_cast<std::size_t>(r)];
            list.resize(list.size() + static_cast<std::size_t>(std::max(0, width)) - have);
            list.insert(list.end(), made.end() - static_cast<std::ptrdiff_t>(have), made.end());
            stitch += width;
        }
        if (works) endRow(knitting.knitter, words);
    }

    // What is read otherwise. Rows with the same words below the same words are taken alike.
    std::unordered_map<std::uint64_t, bool> differ;
    const auto readsOn = [&](int kind, int row, int step) {
        const auto [it, isNew] = differ.try_emplace(stepsAbout(kind, row, step), false);
        if (isNew) {
            const auto looks = [&](After after) {
                return effects_->at(effects_->find(cloth_, setup_, *fault(kind), kind, after, row, step, 0))
                    .looks;
            };
            it->second = looks(After::byCount) != looks(After::byReading);
        }
        return it->second;
    };
    struct Misread {
        int step = 0;
        int stitch = 0;
        int after = 0;  ///< rows on
        int inRow = 0;  ///< rows on
    };
    const int period = cloth_.period();
    constexpr int kFirst = 4;  // what comes before a row is asked for no further down
    const auto isLike = [&](int row, int other) {
        if (period == 0 || row <= kFirst || other + period > n) return false;
        for (int k = -kFirst; k <= period; ++k) {
            if (cloth_.wordsOf(row + k) != cloth_.wordsOf(other + k)) return false;
        }
        return true;
    };
    std::vector<std::vector<Misread>> readings(static_cast<std::size_t>(n) + 1);
    for (int kind = 0; kind < kinds(); ++kind) {
        const Fault& f = *fault(kind);
        if (!f.misread()) continue;
        bool known = false;  // whether it turns back in mid-row
        for (int r = n; r >= 1; --r) {
            std::vector<Misread>& found = readings[static_cast<std::size_t>(r)];
            found.clear();
            if (!cloth_.isRegular(r)) continue;
            if (isLike(r, r + period)) {
                found = readings[static_cast<std::size_t>(r + period)];
                continue;
            }
            const WorkedRow& words = script_.rows[static_cast<std::size_t>(r) - 1];
            // Rows that come again need not be read twice.
            const int until = r < kFirst + 1 && isLike(kFirst + 1, kFirst + 1 + period)
                                  ? kFirst + 3 * period
                                  : static_cast<int>(script_.rows.size());
            int stitch = 1;
            for (int i = 0; i < static_cast<int>(words.steps.size()); ++i) {
                const int width = stitchesOf(words.steps[static_cast<std::size_t>(i)]);
                if (width > 0 && f.canRead({script_, r, i, 0, until})) {
                    if (!known && !f.wholeRow && f.rowsFor != nullptr) {
                        const auto taken = f.rowsFor({script_, r, i, 0}, r);
                        turnsBack_[static_cast<std::size_t>(kind)] = taken.size() == 3;
                    }
                    known = true;
                    const Differs d =
                        firstDifference(script_, {&f, {std::string(f.id), r, stitch, 0}, i}, n + 1);
                    found.push_back({i, stitch, d.after - r, d.inRow - r});
                }
                stitch += width;
                if (f.wholeRow && width > 0) break;
            }
        }
        for (int r = 1; r <= n; ++r) {
            for (const Misread& m : readings[static_cast<std::size_t>(r)]) {
                if (r + m.after > n || r + m.inRow > n + 1) continue;
                const bool last = r + m.after == n;
                const int seen = std::min(r + m.inRow, n);
                add(kind, last || r == n ? After::rowEnd : After::byCount, r, m.stitch, seen);
                // If the stitches are then not as many as were meant, it matters how she goes on.
                if (!last && r < n && (f.wholeRow || readsOn(kind, r, m.step)))
                    add(kind, After::byReading, r, m.stitch, seen);
            }
        }
    }

    // What came out later. Deep runs are taken for what they are in the rows that windows hold.
    for (int kind = 0; kind < kinds() && works; ++kind) {
        const Fault& f = *fault(kind);
        if (!f.suffered() || (f.runs && !cloth_.isRegular(n))) continue;
        const int deepest = std::max(1, n - CaseEffects::kDeepest);
        std::vector<bool> runsThere;
        for (int r = n; r >= (f.runs || f.inCloth ? 1 : n); --r) {
            if (!cloth_.isRegular(r)) continue;
            const std::vector<LoopId>& list = loops[static_cast<std::size_t>(r)];
            const bool deep = f.runs && r < deepest;
            if (r == deepest) runsThere.assign(static_cast<std::size_t>(cloth_.width(r)) + 1, false);
            for (int s = 1; s <= static_cast<int>(list.size()); ++s) {
                const LoopId loop = list[static_cast<std::size_t>(s) - 1];
                if (!loop || !knitting.fabric->has(loop)) continue;
                const int column = cloth_.columnOf(r, s);
                // At either edge it is another cloth than beside it, and a column may leave the edge.
                const int there = deep ? cloth_.follow(r, column, deepest) : 0;
                const bool inside = s > 1 && s < static_cast<int>(list.size()) && there > 1 &&
                                    there < cloth_.width(deepest) &&
                                    there < static_cast<int>(runsThere.size());
                bool falls = false;
                if (deep && inside) {
                    falls = runsThere[static_cast<std::size_t>(there)];
                } else {
                    const Fall fall{list, s, EntryId{}, script_.round};
                    falls = f.fallsAt(*knitting.fabric, fall);
                    if (r == deepest && column < static_cast<int>(runsThere.size()))
                        runsThere[static_cast<std::size_t>(column)] = falls;
                }
                if (falls) add(kind, After::byReading, r, s, r);
            }
        }
    }

    // Kinds share what is believed by how often they are made, places by how long ago.
    double listed = 0;
    std::vector<double> kindWeight(static_cast<std::size_t>(kinds()), 0);
    for (int kind = 0; kind < kinds(); ++kind) {
        const std::string_view word = id(kind);
        const auto given = priors.find(std::string(word));
        kindWeight[static_cast<std::size_t>(kind)] = given != priors.end() ? given->second : priorOf(word);
        double ways = 0;
        for (const After after : {After::byCount, After::byReading, After::rowEnd}) {
            const Group& g = groups[groupOf(kind, after)];
            if (g.sum > 0) ways += priorOf(after);
        }
        if (ways <= 0) continue;
        for (const After after : {After::byCount, After::byReading, After::rowEnd}) {
            Group& g = groups[groupOf(kind, after)];
            if (g.sum <= 0) continue;
            g.weight = kindWeight[static_cast<std::size_t>(kind)] * priorOf(after) / ways;
            listed += g.weight;
        }
    }
    const auto given = priors.find(std::string(kNotInList));
    const double unlisted = given != priors.end() ? given->second : kUnlistedShare * std::max(listed, 1e-9);
    double ways = 0;
    for (int u = 0; u < kUnlisted; ++u) {
        for (const After after : {After::byCount, After::byReading, After::rowEnd})
            ways += groups[groupOf(kinds() + u, after)].sum > 0 ? 1 : 0;
    }
    for (int u = 0; u < kUnlisted; ++u) {
        for (const After after : {After::byCount, After::byReading, After::rowEnd}) {
            Group& g = groups[groupOf(kinds() + u, after)];
            if (g.sum > 0) g.weight = unlisted / ways;
        }
    }
    for (std::size_t h = 0; h < hypotheses_.size(); ++h) {
        const CaseHypothesis& it = hypotheses_[h];
        const Group& g = groups[groupOf(it.kind, static_cast<After>(it.after))];
        priors_[h] *= g.sum > 0 ? g.weight / g.sum : 0;
    }
    effectOf_.assign(hypotheses_.size(), -1);
    makeStrips();
}

}  // namespace loopmend
