// SPDX-License-Identifier: MIT
#include "diagnosis/next_look.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <numeric>
#include <unordered_map>

#include "diagnosis/told_place.h"
#include "reading/answer_piece.h"

namespace loopmend {

namespace {

/// Where the sample's mistakes would be seen, summed over rectangles.
class Heat {
  public:
    Heat(const CaseTables& tables, const CaseSample& sample, Side side, bool freeOnly)
        : rows_(tables.rows()), columns_(1) {
        for (int r = 0; r <= rows_; ++r) columns_ = std::max(columns_, tables.cloth().width(r));
        sums_.assign(static_cast<std::size_t>((rows_ + 2) * (columns_ + 2)), 0);
        for (std::size_t i = 0; i < sample.hypotheses.size(); ++i) {
            const auto h = static_cast<std::size_t>(sample.hypotheses[i]);
            Sighting at;
            if (freeOnly) {
                Look all;
                all.way = LookWay::stretchPatch;
                all.rowTo = rows_;
                all.columnTo = 1'000'000;
                at = tables.forecast(all, h).seen;
            } else {
                at = tables.plainestOf(h, side);
            }
            if (at.what == Sighting::What::nothing) continue;
            cell(std::clamp(at.row, 0, rows_), std::clamp(at.column, 1, columns_)) += sample.weights[i];
        }
        for (int r = 0; r <= rows_; ++r) {
            for (int c = 1; c <= columns_; ++c)
                sum(r + 1, c) = cell(r, c) + sum(r + 1, c - 1) + sum(r, c) - sum(r, c - 1);
        }
    }
    int rows() const { return rows_; }
    int columns() const { return columns_; }
    double in(int rowFrom, int rowTo, int from, int to) const {
        return at(rowTo + 1, to) - at(rowFrom, to) - at(rowTo + 1, from - 1) + at(rowFrom, from - 1);
    }

  private:
    // Row 0 of the sums is nothing; cells are written one row and one column on and summed in place.
    double& cell(int r, int c) { return sums_[static_cast<std::size_t>((r + 1) * (columns_ + 2) + c)]; }
    double& sum(int r, int c) { return sums_[static_cast<std::size_t>(r * (columns_ + 2) + c)]; }
    double at(int r, int c) const {
        return sums_[static_cast<std::size_t>(r * (columns_ + 2) + std::max(0, c))];
    }
    int rows_;
    int columns_;
    std::vector<double> sums_;
};

template <class Key>
std::vector<Key> heaviest(const std::unordered_map<std::uint32_t, double>& weights, std::size_t most, Key) {
    std::vector<std::pair<double, std::uint32_t>> list;
    list.reserve(weights.size());
    for (const auto& [key, weight] : weights) list.emplace_back(weight, key);
    std::sort(list.begin(), list.end(), [](const auto& a, const auto& b) {
        return a.first != b.first ? a.first > b.first : a.second < b.second;
    });
    std::vector<Key> keys;
    for (std::size_t i = 0; i < std::min(most, list.size()); ++i)
        keys.push_back(static_cast<Key>(list[i].second));
    return keys;
}

Look lookAt(LookWay way, int row, int column) {
    Look look;
    look.way = way;
    look.rowFrom = look.rowTo = row;
    look.columnFrom = look.columnTo = column;
    return look;
}

/// The heaviest window of so many loops and that shape.
void addWindows(std::vector<Look>& out, const Heat& heat, const std::vector<LookWay>& ways, int loops,
                Side side) {
    const int rows = heat.rows();
    const int columns = heat.columns();
    for (const int high : {2, 4, 8, 16, 32}) {
        const int h = std::min(high, rows);
        const int w = std::min(columns, std::max(3, loops / std::max(1, h)));
        if (h < high && high > 2 && h * 2 <= high) continue;
        double best = 0;
        int bestRow = 0;
        int bestColumn = 0;
        const int stepRow = std::max(1, h / 4);
        const int stepColumn = std::max(1, w / 6);
        for (int r = 1;; r += stepRow) {
            const int row = std::min(r, std::max(1, rows - h + 1));
            for (int c = 1;; c += stepColumn) {
                const int column = std::min(c, std::max(1, columns - w + 1));
                const double in = heat.in(row, std::min(rows, row + h - 1), column, column + w - 1);
                if (in > best * (1 + 1e-9)) {
                    best = in;
                    bestRow = row;
                    bestColumn = column;
                }
                if (column < c || column + w > columns) break;
            }
            if (row < r || row + h > rows) break;
        }
        if (best <= 0) continue;
        for (const LookWay way : ways) {
            Look look;
            look.way = way;
            look.rowFrom = bestRow;
            look.rowTo = std::min(rows, bestRow + h - 1);
            look.columnFrom = bestColumn;
            look.columnTo = bestColumn + w - 1;
            look.side = side;
            out.push_back(look);
        }
    }
}

std::uint64_t doubtKey(CaseDoubt doubt) {
    return static_cast<std::uint64_t>(doubt) * 0x2545F4914F6CDD1DULL;
}

}  // namespace

CaseForecast forecastOf(const Look& look, const CaseTables& tables, std::size_t h, const LookedSoFar& soFar) {
    if (!soFar.knitted.empty()) {
        const auto it = soFar.knitted.find(static_cast<std::int32_t>(h));
        if (it != soFar.knitted.end()) return forecastOf(look, *it->second);
    }
    return tables.forecast(look, h);
}

CaseForecast forecastOfTold(const Look& look, const Sighting& told, const CaseTables& tables, std::size_t h,
                            const LookedSoFar& soFar, const LookErrors& errors) {
    const auto it = soFar.knitted.find(static_cast<std::int32_t>(h));
    return it != soFar.knitted.end() ? forecastOfTold(look, told, *it->second, errors)
                                     : forecastOfTold(look, told, tables, h, errors);
}

CaseSample sampleOf(const CaseTables& tables, const Belief& belief, int count, double offset) {
    // Where a few weigh most, more draws are needed for as many others.
    constexpr int kMost = 8;
    std::vector<std::int32_t> drawn;
    int draws = count;
    for (;; draws *= 2) {
        drawn = belief.drawn(draws, offset);
        std::int32_t last = -1;
        int distinct = 0;
        for (const std::int32_t i : drawn) {
            distinct += i != last ? 1 : 0;
            last = i;
        }
        if (2 * distinct >= count || 2 * draws > kMost * count) break;
    }
    CaseSample sample;
    std::vector<std::int64_t> labels;
    for (const std::int32_t i : drawn) {
        const std::int32_t h = belief.alive()[static_cast<std::size_t>(i)];
        if (!sample.hypotheses.empty() && sample.hypotheses.back() == h) {
            sample.weights.back() += 1.0 / draws;
            continue;
        }
        if (!tables.can(static_cast<std::size_t>(h))) continue;
        sample.hypotheses.push_back(h);
        sample.weights.push_back(1.0 / draws);
        labels.push_back(tables.label(static_cast<std::size_t>(h)));
    }
    sample.labels = numbered(labels);
    return sample;
}

CaseSample wholeOf(const CaseTables& tables, const Belief& belief) {
    CaseSample sample;
    std::vector<std::int64_t> labels;
    for (const std::int32_t h : belief.alive()) {
        if (!tables.can(static_cast<std::size_t>(h))) continue;
        sample.hypotheses.push_back(h);
        sample.weights.push_back(belief.weight(static_cast<std::size_t>(h)));
        labels.push_back(tables.label(static_cast<std::size_t>(h)));
    }
    sample.labels = numbered(labels);
    return sample;
}

std::vector<Look> candidateLooks(const CaseTables& tables, const CaseSample& sample) {
    std::vector<Look> out;
    const int rows = tables.rows();
    const CaseCloth& cloth = tables.cloth();
    out.push_back(Look{});  // at arm's length, from either side
    out.back().side = Side::wrong;
    out.push_back(Look{});
    out.push_back(lookAt(LookWay::rowFits, rows + 1, 0));
    if (static_cast<int>(tables.script().rows.size()) <= rows) out.pop_back();
    out.push_back(lookAt(LookWay::bothEnds, 0, 0));

    // Rows and columns by quantiles of the sample.
    std::vector<std::pair<int, double>> byRow;
    std::vector<std::pair<int, double>> byColumn;
    double total = 0;
    for (std::size_t i = 0; i < sample.hypotheses.size(); ++i) {
        const CaseHypothesis& h = tables.at(static_cast<std::size_t>(sample.hypotheses[i]));
        byRow.emplace_back(h.row, sample.weights[i]);
        byColumn.emplace_back(h.column, sample.weights[i]);
        total += sample.weights[i];
    }
    const auto quantiles = [&](std::vector<std::pair<int, double>>& list, std::initializer_list<double> at) {
        std::sort(list.begin(), list.end());
        std::vector<int> values;
        for (const double q : at) {
            double sum = 0;
            for (const auto& [value, weight] : list) {
                sum += weight;
                if (sum >= q * total) {
                    if (values.empty() || values.back() != value) values.push_back(value);
                    break;
                }
            }
        }
        return values;
    };
    std::vector<int> qs = quantiles(byRow, {0.06, 0.15, 0.25, 0.4, 0.5, 0.6, 0.75, 0.85, 0.94});
    if (qs.empty() || qs.back() != rows) qs.push_back(rows);
    const std::vector<int> zs = quantiles(byColumn, {0.1, 0.3, 0.5, 0.7, 0.9});
    constexpr int kFewest = 4;  // fewer nobody counts
    const auto count = [&](int row, int from, int to) {
        const int width = cloth.width(row);
        if (width < 1 || row < 1) return;
        Look look = lookAt(LookWay::countSpan, row, 0);
        look.columnFrom = std::clamp(from, 1, width);
        look.columnTo = std::clamp(to, look.columnFrom, width);
        out.push_back(look);
    };
    for (const int q : qs) {
        const int width = cloth.width(q);
        count(q, 1, width);
        for (const int z : zs) {
            count(q, 1, std::max(kFewest, z));
            const int half = std::max(3, width / 16);
            count(q, z - half, z + half);
        }
    }
    // Patches, where something would be seen.
    const Heat right(tables, sample, Side::right, false);
    const Heat wrong(tables, sample, Side::wrong, false);
    const Heat open(tables, sample, Side::right, true);
    addWindows(out, right, {LookWay::searchPatch, LookWay::slantLight}, kMostInPatch, Side::right);
    addWindows(out, right, {LookWay::searchPatch}, 60, Side::right);
    addWindows(out, right, {LookWay::searchPatch}, 30, Side::right);
    addWindows(out, wrong, {LookWay::searchPatch}, 30, Side::wrong);
    addWindows(out, right, {LookWay::slantLight}, kMostUnderLight, Side::right);
    addWindows(out, wrong, {LookWay::searchPatch, LookWay::slantLight}, kMostInPatch, Side::wrong);
    addWindows(out, wrong, {LookWay::searchPatch}, 60, Side::wrong);
    addWindows(out, open, {LookWay::stretchPatch}, kMostInPatch, Side::right);
    // Single places.
    std::unordered_map<std::uint32_t, double> cells;
    for (std::size_t i = 0; i < sample.hypotheses.size(); ++i) {
        const auto h = static_cast<std::size_t>(sample.hypotheses[i]);
        const CaseHypothesis& it = tables.at(h);
        Sighting at = tables.plainestOf(h, Side::right);
        if (at.what == Sighting::What::nothing) at = tables.plainestOf(h, Side::wrong);
        const int row = at.what == Sighting::What::nothing ? it.row : std::clamp(at.row, 0, rows);
        const int column = at.what == Sighting::What::nothing ? it.column : std::max(1, at.column);
        cells[static_cast<std::uint32_t>(row) * 65536U + static_cast<std::uint32_t>(column)] +=
            sample.weights[i];
    }
    // Also where the hands did it: what spreads from there is plainest elsewhere.
    std::unordered_map<std::uint32_t, double> sites;
    for (std::size_t i = 0; i < sample.hypotheses.size(); ++i) {
        const CaseHypothesis& it = tables.at(static_cast<std::size_t>(sample.hypotheses[i]));
        const std::uint32_t cell = static_cast<std::uint32_t>(it.row) * 65536U + it.column;
        if (cells.count(cell) == 0) sites[cell] += sample.weights[i];
    }
    for (const std::uint32_t cell : heaviest(sites, 4, std::uint32_t{})) {
        out.push_back(
            lookAt(LookWay::closeLook, static_cast<int>(cell / 65536U), static_cast<int>(cell % 65536U)));
        out.push_back(lookAt(LookWay::tug, static_cast<int>(cell / 65536U), static_cast<int>(cell % 65536U)));
    }
    const std::vector<std::uint32_t> best = heaviest(cells, 10, std::uint32_t{});
    for (std::size_t i = 0; i < best.size(); ++i) {
        const auto row = static_cast<int>(best[i] / 65536U);
        const auto column = static_cast<int>(best[i] % 65536U);
        out.push_back(lookAt(LookWay::closeLook, row, column));
        if (i < 4) {
            out.push_back(lookAt(LookWay::closeLook, row, column));
            out.back().side = Side::wrong;
        }
        if (i < 5) out.push_back(lookAt(LookWay::tug, row, column));
    }
    return out;
}

void addWhereTheyDiffer(std::vector<Look>& looks, const CaseSample& sample, const LookedSoFar& soFar) {
    constexpr std::size_t kPieces = 6;
    constexpr std::size_t kPlaces = 6;
    constexpr std::size_t kMostOdd = 400;
    std::vector<std::pair<double, std::int32_t>> heavy;
    for (std::size_t i = 0; i < sample.hypotheses.size(); ++i) {
        if (soFar.knitted.count(sample.hypotheses[i]) > 0)
            heavy.emplace_back(-sample.weights[i], sample.hypotheses[i]);
    }
    std::sort(heavy.begin(), heavy.end());
    heavy.resize(std::min(heavy.size(), kPieces));
    if (heavy.size() < 2) return;
    double all = 0;
    std::map<std::array<int, 3>, double> odd;  // row, column and sign: what it weighs
    for (const auto& [weight, h] : heavy) {
        all -= weight;
        const std::vector<OddPlace>& places = soFar.knitted.at(h)->inner().odd;
        for (std::size_t i = 0; i < std::min(kMostOdd, places.size()); ++i)
            odd[{places[i].row, places[i].column, static_cast<int>(places[i].sign)}] -= weight;
    }
    std::map<std::pair<int, int>, double> cells;
    for (const auto& [at, weight] : odd) {
        double& best = cells[{at[0], at[1]}];
        best = std::max(best, std::min(weight, all - weight));
    }
    std::vector<std::pair<double, std::pair<int, int>>> list;
    for (const auto& [cell, splits] : cells) {
        if (splits > 0.03 * all && cell.first > 0) list.emplace_back(-splits, cell);
    }
    std::sort(list.begin(), list.end());
    list.resize(std::min(list.size(), kPlaces));
    for (const auto& [splits, cell] : list) {
        for (const Side side : {Side::right, Side::wrong}) {
            looks.push_back(lookAt(LookWay::closeLook, cell.first, cell.second));
            looks.back().side = side;
        }
        looks.push_back(lookAt(LookWay::tug, cell.first, cell.second));
        looks.push_back(lookAt(LookWay::searchPatch, cell.first, cell.second));
        looks.back().columnFrom = std::max(1, cell.second - 1);
        looks.back().columnTo = cell.second + 1;
    }
}

double bitsOf(const Look& look, const CaseTables& tables, const CaseSample& sample, const LookedSoFar& soFar,
              const LookErrors& errors) {
    Emissions em;
    em.classOf.reserve(sample.hypotheses.size());
    std::unordered_map<std::int64_t, std::int32_t> known;
    std::vector<const Look*> vain;
    if (isSearch(look.way)) {
        for (const Look& v : soFar.vain) {
            if (v.way == look.way) vain.push_back(&v);
        }
    }
    for (const std::int32_t number : sample.hypotheses) {
        const auto h = static_cast<std::size_t>(number);
        CaseForecast f = forecastOf(look, tables, h, soFar);
        if (f.any) {
            const auto like = soFar.like.find(number);
            if (like != soFar.like.end()) {
                f = {};
                f.seen = answer(look, *like->second);
                f.knitted = f.like = true;
            }
        }
        const Namings* called = nullptr;
        if (f.any && !soFar.named.empty()) {
            const auto at = soFar.named.find(number);
            if (at != soFar.named.end()) called = &at->second;
        }
        const std::uint64_t calledHash = called != nullptr ? called->hash() : 0;
        int before = 0;
        if (f.seen.what != Sighting::What::nothing) {
            for (const Look* v : vain)
                before += forecastOf(*v, tables, h, soFar).seen.what != Sighting::What::nothing ? 1 : 0;
        }
        const std::int64_t key =
            outcomeId(f.seen) ^ (static_cast<std::int64_t>(f.seen.ease) << 60) ^
            (f.any ? std::int64_t{1} << 62 : 0) ^ (f.along ? std::int64_t{1} << 61 : 0) ^
            (static_cast<std::int64_t>(std::min(before, 7)) << 53) ^
            static_cast<std::int64_t>(calledHash ^ doubtKey(f.doubt) ^ (f.like ? 0x9E3779B97F4A7C15ULL : 0));
        const auto [it, isNew] = known.try_emplace(key, static_cast<std::int32_t>(em.classes.size()));
        if (isNew) em.classes.push_back(outcomesOf(look, f, errors, before, called));
        em.classOf.push_back(it->second);
    }
    if (em.classes.size() < 2) return 0;
    return expectedBits(sample.weights, sample.labels, em);
}

NextLook nextLook(const CaseTables& tables, const CaseSample& sample, const LookedSoFar& soFar,
                  const NextLookManners& manners, const CaseSample* closer) {
    constexpr std::size_t kFew = 5;
    const auto scored = [&](const Look& look, const CaseSample& by) {
        NextLook next;
        next.look = look;
        next.bits = bitsOf(look, tables, by, soFar, manners.errors);
        next.seconds = seconds(look, manners.pace);
        next.score = next.bits / (next.seconds + manners.perLook);
        next.any = next.bits >= manners.leastBits;
        return next;
    };
    const auto better = [](const NextLook& a, const NextLook& b) { return a.score > b.score * (1 + 1e-9); };
    std::set<std::string> tried;
    std::vector<Look> looks = candidateLooks(tables, sample);
    addWhereTheyDiffer(looks, sample, soFar);
    std::vector<NextLook> best;  // the best first
    for (const Look& look : looks) {
        const std::string words = text(look);
        if (soFar.asked.count(words) > 0 || !tried.insert(words).second) continue;
        const NextLook next = scored(look, sample);
        if (!next.any) continue;
        const auto after = std::find_if(best.begin(), best.end(),
                                        [&](const NextLook& other) { return better(next, other); });
        if (after == best.end() && best.size() == kFew) continue;
        best.insert(after, next);
        if (best.size() > kFew) best.pop_back();
    }
    if (best.empty()) return {};
    if (closer == nullptr) return best.front();
    NextLook found;
    for (const NextLook& next : best) {
        const NextLook again = scored(next.look, *closer);
        if (again.any && better(again, found)) found = again;
    }
    return found;
}

}  // namespace loopmend
