// SPDX-License-Identifier: MIT
#include "diagnosis/case.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <map>
#include <numeric>
#include <utility>

#include <fmt/format.h>

#include "diagnosis/case_inner.h"
#include "diagnosis/close_by.h"
#include "diagnosis/priors.h"
#include "diagnosis/told_place.h"
#include "fault/draw.h"
#include "reading/answer_piece.h"

namespace loopmend {

namespace {

using What = Sighting::What;

/// Lace and color are busy: an odd place is more easily overlooked there.
bool isBusy(const Script& script) {
    for (const WorkedRow& row : script.rows) {
        for (const Step& step : row.steps) {
            if (step.yarn != 0 || step.op == Op::yarnOver || step.op == Op::yarnOverReverse || uses(step) > 1)
                return true;
        }
    }
    return false;
}

}  // namespace

bool isPositive(const CaseNote& note) {
    if (!note.told) return false;
    switch (note.kind) {
        case CaseNote::Kind::look:
            return note.seen.what != What::nothing && note.seen.what != What::unclear &&
                   !(note.seen.what == What::number && note.seen.by == 0);
        case CaseNote::Kind::picture: return note.picture != CasePicture::nothing;
        case CaseNote::Kind::cameOut: return note.seen.by != 0;
        case CaseNote::Kind::fine:
        case CaseNote::Kind::safe: break;
    }
    return false;
}

// ---- belief ----------------------------------------------------------------------------------------------

void Case::Inner::beginAgain() {
    belief = Belief(tables->priors());
    logTold = std::log(std::accumulate(tables->priors().begin(), tables->priors().end(), 0.0));
    soFar = {};
    for (auto& way : vain) way.clear();
    for (auto it = again.begin(); it != again.end();) {
        if (!it->second.looked) {
            it = again.erase(it);
            continue;
        }
        it->second.exact = 0;
        it->second.much = 0;
        it->second.vain = {};
        soFar.knitted[it->first] = it->second.looked.get();
        ++it;
    }
    checked.reset();
    for (const CaseNote& note : notes) take(note);
    ask();
}

void Case::Inner::take(const CaseNote& note) {
    if (note.kind == CaseNote::Kind::look) {
        soFar.asked.insert(text(note.look));
        Look other = note.look;
        if (note.look.way == LookWay::bothEnds || note.look.way == LookWay::rowFits ||
            note.look.way == LookWay::countSpan) {
            other.side = Side::right;
            soFar.asked.insert(text(other));
        }
    }
    if (!note.told || note.kind == CaseNote::Kind::safe) return;
    const CaseTables& t = *tables;
    const Lightly lightly(*this, belief);
    const bool inVain =
        note.kind == CaseNote::Kind::look && isSearch(note.look.way) && note.seen.what == What::nothing;
    VainLooks& before = vain[static_cast<std::size_t>(note.look.way)];
    if (inVain) {
        soFar.vain.push_back(note.look);
        if (before.empty()) before.begin(t.size());
    }
    // Forecasts are few; what they make of the answer is worked out once for each.
    std::vector<std::pair<std::int64_t, double>> known;
    // What one answer says, without the looks in vain before it; none: it is a name given.
    const auto alone = [&](std::size_t h, bool& shows) -> std::optional<double> {
        const CaseForecast f = forecastOfTold(note.look, note.seen, t, h, errors);
        shows = f.seen.what != What::nothing;
        if (f.any && shows && isNaming(note.look, note.seen)) return std::nullopt;
        const std::int64_t key = outcomeId(f.seen) ^ (static_cast<std::int64_t>(f.seen.ease) << 60) ^
                                 (static_cast<std::int64_t>(f.doubt) << 53) ^
                                 (f.any ? std::int64_t{1} << 62 : 0) ^ (f.along ? std::int64_t{1} << 61 : 0) ^
                                 static_cast<std::int64_t>(std::hash<double>{}(f.share));
        const auto it =
            std::find_if(known.begin(), known.end(), [&](const auto& k) { return k.first == key; });
        if (it != known.end()) return it->second;
        const double p = likelihoodOf(note.look, f, note.seen, errors);
        if (known.size() < 64) known.emplace_back(key, p);
        return p;
    };
    Heard strips(t.strips());
    const double likely = belief.update([&](std::int32_t number) {
        const auto h = static_cast<std::size_t>(number);
        Heard::Part* const part =
            strips.part(t.sharedStripOf(h), t.at(h).column, [&] { return apartOf(note, t, h); });
        if (part != nullptr && part->known)
            return part->vain ? asSure(note, before.also(h, part->chance)) : part->chance;
        double p = 0;
        bool shows = false;
        if (t.can(h)) {
            if (note.kind != CaseNote::Kind::look) {
                p = asSure(note, likelihoodOf(note, t, h, errors));
            } else if (const auto one = alone(h, shows)) {
                p = inVain && shows ? *one : asSure(note, *one);
            } else {
                return asSure(note, named(number, note, forecastOfTold(note.look, note.seen, t, h, errors)));
            }
        }
        const bool overlooked = inVain && shows;
        if (part != nullptr) *part = {true, overlooked, p};
        return overlooked ? asSure(note, before.also(h, p)) : p;
    });
    logTold += std::log(std::max(likely, 1e-300));
    for (auto& [h, it] : again) weigh(h, it, note);
    setRight();
}

double Case::Inner::asSure(const CaseNote& note, double p) const {
    const double sure = std::clamp(note.sure, 0.0, 1.0);
    if (sure >= 1) return p;
    // If she is not sure, it may as well be anything.
    const double stitches = std::max(1, tables->rows() * tables->cloth().width(tables->rows()));
    double anything = 0.2;
    if (note.kind == CaseNote::Kind::picture && note.row > 0) anything = 0.05 / stitches;
    if (note.kind == CaseNote::Kind::look && note.seen.what == What::place) anything = 0.02 / stitches;
    return sure * p + (1 - sure) * anything;
}

double Case::Inner::heard(const CaseNote& note, const CaseForecast& f, InVain* before) const {
    const double p = likelihoodOf(note.look, f, note.seen, errors);
    const bool inVain =
        isSearch(note.look.way) && note.seen.what == What::nothing && f.seen.what != What::nothing;
    return before != nullptr && inVain ? before->also(p) : p;
}

double Case::Inner::named(std::int32_t h, const CaseNote& note, const CaseForecast& f) {
    Namings& called = soFar.named[h];
    const double p = likelihoodOf(note.look, f, note.seen, errors, &called);
    // What was seen elsewhere was not this.
    const bool here =
        note.seen.what != What::place || (std::abs(note.seen.row - f.seen.row) <= 1 &&
                                          (f.along || std::abs(note.seen.column - f.seen.column) <= 1));
    if (here) {
        std::uint8_t& times =
            called.times[static_cast<std::size_t>(calledFrom(note.look.side, note.seen.oddity))];
        if (times < 100) ++times;
    }
    return p;
}

bool Case::Inner::sameKind(std::size_t a, std::size_t b) const {
    const CaseHypothesis& x = tables->at(a);
    const CaseHypothesis& y = tables->at(b);
    if (tables->id(x.kind) == tables->id(y.kind)) return true;
    if (!tables->isListed(x) || !tables->isListed(y)) return false;
    return tables->looksOf(a) == tables->looksOf(b) || areTwins(a, b);
}

bool Case::Inner::areTwins(std::size_t a, std::size_t b) const {
    const auto one = again.find(static_cast<std::int32_t>(a));
    const auto other = again.find(static_cast<std::int32_t>(b));
    return one != again.end() && other != again.end() && one->second.twin >= 0 &&
           one->second.twin == other->second.twin;
}

bool Case::Inner::samePlace(std::size_t a, std::size_t b) const {
    const CaseHypothesis& x = tables->at(a);
    const CaseHypothesis& y = tables->at(b);
    if (std::abs(x.seenRow - y.seenRow) > 1) return false;
    // Of what nobody has listed, all along a row is another thing than at one place of it.
    const bool listed = tables->isListed(x) || tables->isListed(y);
    const bool either = tables->isWholeRow(x) || tables->isWholeRow(y);
    if (either && !listed) return tables->isWholeRow(x) && tables->isWholeRow(y);
    return either || std::abs(x.column - y.column) <= 1;
}

std::vector<CaseCluster> Case::Inner::clusters(std::size_t most) const {
    std::vector<std::int32_t> heavy;
    for (const std::int32_t h : now().alive()) {
        if (now().weight(static_cast<std::size_t>(h)) > 1e-5) heavy.push_back(h);
    }
    std::sort(heavy.begin(), heavy.end(), [&](std::int32_t a, std::int32_t b) {
        const double wa = now().weight(static_cast<std::size_t>(a));
        const double wb = now().weight(static_cast<std::size_t>(b));
        return wa != wb ? wa > wb : a < b;
    });
    // About each of the heaviest; the best one takes what lies in it, then the next.
    std::vector<CaseCluster> found;
    std::vector<bool> taken(heavy.size(), false);
    while (found.size() < most) {
        CaseCluster best;
        std::vector<std::size_t> members;
        int tried = 0;
        for (std::size_t i = 0; i < heavy.size() && tried < 24; ++i) {
            if (taken[i]) continue;
            ++tried;
            const auto a = static_cast<std::size_t>(heavy[i]);
            CaseCluster c;
            c.best = heavy[i];
            std::vector<std::size_t> in;
            for (std::size_t j = 0; j < heavy.size(); ++j) {
                const auto b = static_cast<std::size_t>(heavy[j]);
                const bool twins = areTwins(a, b);
                if (!twins && !samePlace(a, b)) continue;
                c.place += now().weight(b);
                if (taken[j] || !(twins || sameKind(a, b))) continue;
                c.weight += now().weight(b);
                in.push_back(j);
            }
            if (c.weight > best.weight * (1 + 1e-9)) {
                best = c;
                members = std::move(in);
            }
            if (heavy.size() > 4000 && tried >= 8) break;
        }
        if (best.best < 0) break;
        // Told is its heaviest, if that is most of it; else its middle, beside which all of it lies.
        std::int32_t heaviest = best.best;
        for (const std::size_t j : members) {
            taken[j] = true;
            if (now().weight(static_cast<std::size_t>(heavy[j])) >
                now().weight(static_cast<std::size_t>(heaviest)))
                heaviest = heavy[j];
        }
        if (now().weight(static_cast<std::size_t>(heaviest)) > best.weight / 2) {
            best.best = heaviest;
        } else {
            // Of the kinds that look alike there, the likeliest, as near to the middle as it lies.
            std::map<int, double> kinds;
            for (const std::size_t j : members)
                kinds[tables->at(static_cast<std::size_t>(heavy[j])).kind] +=
                    now().weight(static_cast<std::size_t>(heavy[j]));
            const auto kind = std::max_element(kinds.begin(), kinds.end(), [](const auto& a, const auto& b) {
                                  return a.second < b.second;
                              })->first;
            const CaseHypothesis& middle = tables->at(static_cast<std::size_t>(best.best));
            const auto off = [&](std::int32_t h) {
                const CaseHypothesis& it = tables->at(static_cast<std::size_t>(h));
                return std::abs(it.seenRow - middle.seenRow) + std::abs(it.column - middle.column);
            };
            std::int32_t nearest = -1;
            for (const std::size_t j : members) {
                if (tables->at(static_cast<std::size_t>(heavy[j])).kind != kind) continue;
                if (nearest < 0 || off(heavy[j]) < off(nearest)) nearest = heavy[j];
            }
            if (nearest >= 0) best.best = nearest;
        }
        if (!tables->isListed(tables->at(static_cast<std::size_t>(best.best)))) {
            std::vector<std::int32_t> all;
            all.reserve(members.size());
            for (const std::size_t j : members) all.push_back(heavy[j]);
            best.best = whereFound(best.best, all);
        }
        found.push_back(best);
    }
    return found;
}

/// She found something in that row, or beside it, at two places that are not one.
bool Case::Inner::isSeenAlong(int row) const {
    constexpr int kApart = 4;
    std::vector<int> columns;
    for (const CaseNote& note : notes) {
        if (note.kind != CaseNote::Kind::look || !isPositive(note)) continue;
        const bool place = note.seen.what == What::place;
        if (!place && note.seen.what != What::sign && note.seen.what != What::unnamed) continue;
        if (std::abs((place ? note.seen.row : note.look.rowFrom) - row) > 1) continue;
        columns.push_back(place ? note.seen.column : note.look.columnFrom);
    }
    const auto [low, high] = std::minmax_element(columns.begin(), columns.end());
    return low != columns.end() && *high - *low >= kApart;
}

bool Case::Inner::isSettled(const std::vector<CaseCluster>& best) const {
    if (best.empty()) return false;
    // Where something lies that nobody has listed is less sure than where a mistake lies that is known.
    const CaseHypothesis& top = tables->at(static_cast<std::size_t>(best.front().best));
    const bool listed = tables->isListed(top);
    if (!listed && tables->isWholeRow(top) && !isSeenAlong(top.row)) return false;
    const bool asSure = listed || (littleLeft && best.front().place >= 1 - (1 - manners.settleAt) * 0.3);
    if (best.front().weight >= (asSure ? manners.settleAt : 1 - (1 - manners.settleAt) * 0.3)) return true;
    constexpr double kLikely = 0.82;
    return listed && nothingLeft && best.front().place >= manners.settleAt && best.front().weight >= kLikely;
}

// ---- what is asked next ----------------------------------------------------------------------------------

int Case::Inner::looks() const {
    return static_cast<int>(std::count(wasAsked.begin(), wasAsked.end(), true));
}

std::optional<CaseQuestion> Case::Inner::firstQuestion() const {
    if (notes.empty()) return safeQuestion();
    const auto has = [&](CaseNote::Kind kind) {
        return std::any_of(notes.begin(), notes.end(), [&](const CaseNote& n) { return n.kind == kind; });
    };
    const bool onlySafe = std::all_of(notes.begin(), notes.end(),
                                      [](const CaseNote& n) { return n.kind == CaseNote::Kind::safe; });
    if (onlySafe) return pictureQuestion();
    const bool counted = std::any_of(notes.begin(), notes.end(), [](const CaseNote& n) {
        return n.kind == CaseNote::Kind::look &&
               (n.look.way == LookWay::countSpan || n.look.way == LookWay::rowFits);
    });
    const bool pointed =
        notes.back().kind == CaseNote::Kind::picture &&
        (notes.back().picture == CasePicture::hole || notes.back().picture == CasePicture::oddStitch ||
         notes.back().picture == CasePicture::nothing);
    if (pointed && has(CaseNote::Kind::safe) && !counted && !has(CaseNote::Kind::cameOut))
        return cameOutQuestion(meant.rowsDone);
    return std::nullopt;
}

/// A mistake that shows at several places is believed only if two of them were seen: one alone may be
/// something else.
void Case::Inner::eachOdd(std::size_t h, const std::function<void(int, int)>& see) const {
    const auto knitted = soFar.knitted.find(static_cast<std::int32_t>(h));
    if (knitted == soFar.knitted.end()) {
        tables->eachOdd(h, see);
        return;
    }
    for (const OddPlace& odd : knitted->second->inner().odd) see(odd.row, odd.column);
}

std::optional<Look> Case::Inner::signElsewhere(std::size_t h) const {
    if (!tables->isListed(tables->at(h))) return std::nullopt;
    std::vector<std::pair<int, int>> seen;
    for (const CaseNote& note : notes) {
        if (note.kind != CaseNote::Kind::look || !isPositive(note)) continue;
        if (note.seen.what == What::place) seen.emplace_back(note.seen.row, note.seen.column);
        if (note.seen.what == What::sign || note.seen.what == What::unnamed)
            seen.emplace_back(note.look.rowFrom, note.look.columnFrom);
    }
    if (seen.empty()) return std::nullopt;
    // A whole row worked otherwise is odd further along than what only reaches over some stitches of it.
    const bool whole = tables->isWholeRow(tables->at(h));
    const int aside = whole ? 8 : 3;
    const auto apart = [&](const std::pair<int, int>& a, const std::pair<int, int>& b) {
        return std::abs(a.first - b.first) > 2 || std::abs(a.second - b.second) > aside;
    };
    for (const auto& a : seen) {
        for (const auto& b : seen) {
            if (apart(a, b)) return std::nullopt;
        }
    }
    // The place furthest along its row or column from there that should show something.
    std::optional<Look> best;
    int furthest = 0;
    const auto see = [&](int row, int column) {
        if (row < 0 || row > tables->rows() || column < 1 || column > tables->cloth().width(row)) return;
        int off = 1000;
        for (const auto& [r, c] : seen) {
            if (!apart({row, column}, {r, c})) return;
            off = std::min(off, std::abs(row - r) + std::abs(column - c));
        }
        if (off <= furthest || off > 40) return;
        const Look look = closeLookAt(row, column);
        if (soFar.asked.count(text(look)) > 0) return;
        const CaseForecast f = forecastOf(look, *tables, h, soFar);
        if (f.seen.what != What::sign || (f.doubt != CaseDoubt::none && !whole)) return;
        furthest = off;
        best = look;
    };
    eachOdd(h, see);
    return best;
}

void Case::Inner::ask() {
    const Lightly lightly(*this, belief);
    chooseNext();
}

void Case::Inner::chooseNext() {
    constexpr std::size_t kClusters = 4;
    constexpr double kLittle = 0.15;
    nothingLeft = false;
    littleLeft = false;
    unconfirmed = false;
    question = firstQuestion();
    if (question) return;
    if (now().alive().empty()) return;
    std::vector<CaseCluster> best = clusters(kClusters);
    // What seems likely is knitted again, and has to stand that.
    for (int i = 0; i < 3 && !best.empty() && knitAgain(likeliest()); ++i) best = clusters(kClusters);
    // What seems settled stands against every kind that could have happened there.
    for (int i = 0; i < 2 && isSettled(best) && knitAgain(rivalsOf(best.front().best)); ++i)
        best = clusters(kClusters);
    if (looks() >= manners.mostLooks) return;
    const Stand stand = isSettled(best) ? standOf(best.front()) : Stand{false, {}};
    if (stand.firm || stand.look) {
        if (const auto owed = owedFor(best.front())) {
            look(*owed, 0);
        } else if (stand.look) {
            look(*stand.look, 0);
        } else if (const auto confirm = confirming(best.front())) {
            look(confirm->look, confirm->bits);
            unconfirmed = true;
        }
        return;
    }
    // The throw depends on what was told, not on how often she went back.
    Seeded dice(start.seed * 1000003ULL + notes.size());
    const double offset = static_cast<double>(dice.next() >> 11U) / 9007199254740992.0;
    CaseSample sample = sampleOf(*tables, now(), manners.sample, offset);
    labelByCluster(sample, best);
    NextLookManners next;
    next.errors = errors;
    next.pace = pace;
    next.perLook = manners.perLook;
    next.leastBits = manners.leastBits;
    // Where many are left the first sample tells as much, and a larger one would be slow.
    constexpr std::size_t kFewLeft = 50'000;
    std::optional<CaseSample> closer;
    if (now().alive().size() <= kFewLeft) {
        closer = sampleOf(*tables, now(), manners.sample * NextLookManners::kCloser, offset);
        labelByCluster(*closer, best);
    }
    const NextLook found = nextLook(*tables, sample, soFar, next, closer ? &*closer : nullptr);
    nothingLeft = !found.any;
    littleLeft = found.bits < kLittle;
    if ((littleLeft || nothingLeft) && isSettled(best)) {
        const Stand late = standOf(best.front());
        if (late.look) return look(*late.look, 0);
        if (late.firm) return;
    }
    if (found.any) look(found.look, found.bits);
}

/// A row or a stitch up or down is one thing to settle on: which of them it is need not be asked.
void Case::Inner::labelByCluster(CaseSample& sample, const std::vector<CaseCluster>& best) const {
    constexpr double kLikely = 0.05;
    std::int32_t next = 0;
    for (const std::int32_t label : sample.labels) next = std::max(next, label + 1);
    for (std::size_t i = 0; i < sample.hypotheses.size(); ++i) {
        const auto h = static_cast<std::size_t>(sample.hypotheses[i]);
        for (std::size_t c = 0; c < best.size(); ++c) {
            const auto top = static_cast<std::size_t>(best[c].best);
            if (best[c].weight < kLikely || !(areTwins(top, h) || (samePlace(top, h) && sameKind(top, h))))
                continue;
            sample.labels[i] = next + static_cast<std::int32_t>(c);
            break;
        }
    }
}

void Case::Inner::look(const Look& at, double bits) {
    question = questionFor(at, *looked, *tables, pace);
    question->bits = bits;
    likeliestFirst(*question);
}

/// Of many names the likeliest come first; "as it should be" stays before them and "none of these" behind.
void Case::Inner::likeliestFirst(CaseQuestion& q) const {
    constexpr int kEnough = 200;
    std::array<double, kOddSigns> seen{};
    const CaseSample sample = sampleOf(*tables, now(), kEnough, 0.5);
    for (std::size_t i = 0; i < sample.hypotheses.size(); ++i) {
        const CaseForecast f = tables->forecast(q.look, static_cast<std::size_t>(sample.hypotheses[i]));
        seen[static_cast<std::size_t>(f.seen.oddity)] += sample.weights[i];
    }
    const auto named = [](const CaseChoice& c) {
        return c.note.seen.oddity != OddSign::none && c.note.seen.oddity != OddSign::other;
    };
    const auto from = std::find_if(q.choices.begin(), q.choices.end(), named);
    const auto to = std::find_if_not(from, q.choices.end(), named);
    std::stable_sort(from, to, [&](const CaseChoice& a, const CaseChoice& b) {
        return seen[static_cast<std::size_t>(a.note.seen.oddity)] >
               seen[static_cast<std::size_t>(b.note.seen.oddity)];
    });
}

// ---- what she may tell -----------------------------------------------------------------------------------

tl::expected<void, std::string> Case::Inner::check(const CaseNote& note) const {
    const int rows = tables->rows();
    const auto bad = [](std::string words) { return tl::unexpected<std::string>(std::move(words)); };
    const auto rowIs = [&](int row, int most) -> tl::expected<void, std::string> {
        if (row < 0 || row > most) return bad(fmt::format("there is no row {}: {} rows are done", row, rows));
        return {};
    };
    const auto columnIs = [&](int row, int column) -> tl::expected<void, std::string> {
        const int width = tables->cloth().width(std::clamp(row, 0, rows));
        // One or two more than was meant may well be there.
        if (column < 1 || column > width + 2)
            return bad(fmt::format("there is no stitch {} in row {}: it has {}", column, row, width));
        return {};
    };
    if (note.kind == CaseNote::Kind::picture && note.row > 0) {
        if (auto ok = rowIs(note.row, rows); !ok) return ok;
        return columnIs(note.row, note.column);
    }
    if (note.kind == CaseNote::Kind::fine) {
        if (auto ok = rowIs(note.look.rowFrom, rows); !ok) return ok;
        return rowIs(note.look.rowTo, rows);
    }
    if (note.kind != CaseNote::Kind::look) return {};
    const Look& look = note.look;
    const int most = look.way == LookWay::rowFits ? rows + 1 : rows;
    if (auto ok = rowIs(look.rowFrom, most); !ok) return ok;
    if (auto ok = rowIs(look.rowTo, most); !ok) return ok;
    const bool columns =
        look.way != LookWay::armsLength && look.way != LookWay::rowFits && look.way != LookWay::bothEnds;
    if (columns) {
        if (auto ok = columnIs(look.rowFrom, look.columnFrom); !ok) return ok;
        if (auto ok = columnIs(look.rowTo, look.columnTo); !ok) return ok;
    }
    if (note.told && note.seen.what == What::place) {
        const int low = std::min(look.rowFrom, look.rowTo);
        const int high = std::max(look.rowFrom, look.rowTo);
        if (note.seen.row < low || note.seen.row > high)
            return bad(fmt::format("row {} is not among the rows that were looked at, {} to {}",
                                   note.seen.row, low, high));
    }
    if (note.told && note.seen.what == What::ninth && (note.seen.by < 1 || note.seen.by > 9))
        return bad(fmt::format("there are nine parts, 1 to 9: {} is none of them", note.seen.by));
    return {};
}

// ---- the case --------------------------------------------------------------------------------------------

tl::expected<Case, std::string> Case::begin(const CaseStart& start, const CaseManners& manners) {
    auto meant = meantBy(start);
    if (!meant) return tl::unexpected<std::string>(meant.error());
    return begin(start, std::move(*meant), manners);
}

tl::expected<Case, std::string> Case::begin(const CaseStart& start, CaseMeant meant,
                                            const CaseManners& manners) {
    auto inner = std::make_unique<Inner>();
    inner->start = start;
    inner->manners = manners;
    if (meant.rowsDone < 1 || meant.rowsDone > static_cast<int>(meant.script.rows.size()))
        return tl::unexpected<std::string>(fmt::format("{} rows are done, but the pattern has {}",
                                                       meant.rowsDone, meant.script.rows.size()));
    Script done = meant.script;
    done.rows.resize(static_cast<std::size_t>(meant.rowsDone));
    auto knitted = knit(done, start.setup);
    if (!knitted) return tl::unexpected<std::string>(sentence(knitted.error()));
    inner->knitting.emplace(std::move(*knitted));
    inner->meant = std::move(meant);
    inner->looked =
        std::make_unique<LookedAt>(*inner->knitting->fabric, *inner->knitting->fabric, &inner->meant.script);
    inner->tables = std::make_unique<CaseTables>(inner->meant.script, start.setup, inner->meant.rowsDone,
                                                 start.priors, manners.effects);
    inner->errors = start.errors;
    inner->errors.busy = isBusy(inner->meant.script);
    inner->pace.countStitch *= start.beginner;
    inner->pace.count *= start.beginner;
    inner->beginAgain();
    return Case(std::move(inner));
}

Case::Case(std::unique_ptr<Inner> inner) : inner_(std::move(inner)) {}
Case::Case(Case&& other) noexcept = default;
Case& Case::operator=(Case&& other) noexcept = default;
Case::~Case() = default;

const CaseStart& Case::start() const {
    return inner_->start;
}
const CaseMeant& Case::meant() const {
    return inner_->meant;
}
const Fabric& Case::fabric() const {
    return *inner_->knitting->fabric;
}
const LookedAt& Case::looked() const {
    return *inner_->looked;
}
const std::optional<CaseQuestion>& Case::question() const {
    return inner_->question;
}

tl::expected<void, std::string> Case::tell(const CaseNote& note) {
    if (auto ok = inner_->check(note); !ok) return ok;
    const auto& asked = inner_->question;
    const bool answers =
        asked && asked->kind == note.kind && (note.kind != CaseNote::Kind::look || asked->look == note.look);
    inner_->notes.push_back(note);
    inner_->wasAsked.push_back(answers && note.kind != CaseNote::Kind::safe);
    inner_->take(note);
    inner_->ask();
    return {};
}

tl::expected<void, Case::Refusal> Case::tell(const std::vector<CaseNote>& notes) {
    for (std::size_t i = 0; i < notes.size(); ++i) {
        if (auto ok = inner_->check(notes[i]); !ok) return tl::unexpected<Refusal>(Refusal{i, ok.error()});
    }
    for (const CaseNote& note : notes) {
        inner_->notes.push_back(note);
        inner_->wasAsked.push_back(false);
        inner_->take(note);
    }
    inner_->ask();
    return {};
}

void Case::cantTell() {
    if (!inner_->question) return;
    CaseNote note;
    note.kind = inner_->question->kind;
    note.look = inner_->question->look;
    note.told = false;
    inner_->notes.push_back(note);
    inner_->wasAsked.push_back(note.kind != CaseNote::Kind::safe);
    inner_->take(note);
    inner_->ask();
}

bool Case::back() {
    if (inner_->notes.empty()) return false;
    inner_->notes.pop_back();
    inner_->wasAsked.pop_back();
    inner_->beginAgain();
    return true;
}

const std::vector<CaseNote>& Case::notes() const {
    return inner_->notes;
}
int Case::looks() const {
    return inner_->looks();
}
const CaseTables& Case::tables() const {
    return *inner_->tables;
}
const std::vector<double>& Case::weights() const {
    return inner_->belief.weights();
}

std::map<std::string, double> learnedPriors(const std::map<std::string, int>& met, double asMany) {
    double usual = 0;
    double seen = 0;
    for (const Fault* fault : catalogue()) usual += priorOf(fault->id);
    for (const auto& [id, times] : met) seen += findFault(id) != nullptr ? std::max(0, times) : 0;
    std::map<std::string, double> priors;
    for (const Fault* fault : catalogue()) {
        const auto it = met.find(std::string(fault->id));
        const double times = it == met.end() ? 0 : std::max(0, it->second);
        priors[std::string(fault->id)] =
            usual * (asMany * priorOf(fault->id) / usual + times) / (asMany + seen);
    }
    return priors;
}

}  // namespace loopmend
