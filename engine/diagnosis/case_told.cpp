// SPDX-License-Identifier: MIT
// What the case believes, said to a knitter.
#include <algorithm>
#include <cmath>
#include <cstdlib>

#include <fmt/format.h>

#include "diagnosis/case_inner.h"
#include "diagnosis/close_by.h"
#include "diagnosis/hitting_sets.h"
#include "diagnosis/told_place.h"
#include "fabric/itinerary.h"
#include "reading/answer_piece.h"

namespace loopmend {

namespace {

/// `row 9`, `rows 9 to 12`.
std::string stretch(const char* one, const char* several, int from, int to) {
    return from == to ? fmt::format("{} {}", one, from) : fmt::format("{} {} to {}", several, from, to);
}

using What = Sighting::What;

std::string rowWords(int row, int rows) {
    const int below = rows - row;
    if (below == 0) return fmt::format("row {}, the newest", row);
    return fmt::format("row {}, {} row{} below the needle", row, below, below == 1 ? "" : "s");
}

/// A sentence put into another brings its own full stop.
std::string oneStop(std::string sentence) {
    while (sentence.size() > 1 && sentence.substr(sentence.size() - 2) == "..") sentence.pop_back();
    return sentence;
}

std::string needleWords(int off) {
    if (off == 0) return "the number of stitches is right";
    return fmt::format("{} stitch{} too {} on the needle", std::abs(off), std::abs(off) == 1 ? "" : "es",
                       off < 0 ? "few" : "many");
}

/// What a close look at a place would show if it were that one, and not if it were this; else what it leaves
/// on the needle. Empty: no such place is known.
std::string unlike(const Case::Inner& in, std::size_t other, std::size_t it, Terms terms) {
    constexpr int kPlaces = 40;
    std::string told;
    int places = 0;
    in.eachOdd(other, [&](int row, int column) {
        if (!told.empty() || row < 1 || column < 1 || ++places > kPlaces) return;
        for (const Side side : {Side::right, Side::wrong}) {
            const Look look = closeLookAt(row, column, side);
            const Sighting there = forecastOf(look, *in.tables, other, in.soFar).seen;
            const Sighting here = forecastOf(look, *in.tables, it, in.soFar).seen;
            if (there.what != What::sign || (here.what == there.what && here.oddity == there.oddity))
                continue;
            told = fmt::format(" That one would show {} in row {}, stitch {} from the right edge{}.",
                               words(there.oddity, terms), row, column,
                               side == Side::wrong ? ", on the wrong side" : "");
            return;
        }
    });
    if (!told.empty()) return told;
    const int off = in.tables->offAfter(other, in.tables->rows());
    return off != in.tables->offAfter(it, in.tables->rows())
               ? fmt::format(" With that one: {}.", needleWords(off))
               : "";
}

std::string_view nameOf(const CaseTables& tables, int kind, Terms terms) {
    return tables.fault(kind) != nullptr ? name(*tables.fault(kind), terms)
                                         : std::string_view("something that is not in my list");
}

CaseExplanation explanationOf(const CaseTables& t, const CaseHypothesis& it, Terms terms) {
    CaseExplanation e;
    e.id = std::string(t.id(it.kind));
    e.after = static_cast<After>(it.after);
    e.row = it.row;
    e.stitch = it.stitch;
    e.column = it.column;
    e.seenRow = it.seenRow;
    e.name = std::string(nameOf(t, it.kind, terms));
    return e;
}

/// It is knitted again as a whole, and what she saw is held against the cloth itself.
void prove(const Case& c, const Case::Inner& in, std::size_t h, CaseExplanation& e) {
    const CaseTables& t = *in.tables;
    const auto m = c.model(e);
    if (!m) return;
    // What was meant is read already, unless she stopped earlier.
    const auto lookedAt = [&](const FaultyKnitting& made) {
        const Fabric& actual = *made.actual.fabric;
        return made.rows == in.meant.rowsDone ? LookedAt(actual, *in.looked, &in.meant.script)
                                              : LookedAt(actual, *made.meant.fabric, &in.meant.script);
    };
    const LookedAt piece = lookedAt(*m->knitting);
    double table = 0;
    double exact = 0;
    for (const CaseNote& note : in.notes) {
        if (note.kind != CaseNote::Kind::look || !note.told) continue;
        exact += std::log(likelihoodOf(note.look, forecastOfTold(note.look, note.seen, piece, in.errors),
                                       note.seen, in.errors));
        table += std::log(likelihoodOf(note, t, h, in.errors));
    }
    e.checked = exact > table - 3;
    // Kinds that no look tells apart are proved so: the same knot, and the same in every look.
    const std::string knot = knotOf(*m->knitting->actual.fabric);
    std::vector<std::string> tried = {e.id};
    for (const std::int32_t other : in.now().alive()) {
        const auto o = static_cast<std::size_t>(other);
        if (tried.size() > 6) break;
        if (!in.samePlace(h, o) || t.looksOf(o) != t.looksOf(h) || !t.isListed(t.at(o))) continue;
        const std::string id(t.id(t.at(o).kind));
        if (std::find(tried.begin(), tried.end(), id) != tried.end()) continue;
        tried.push_back(id);
        const auto twin =
            knitWith(m->script, m->setup, {t.placeOf(t.at(o))}, static_cast<After>(t.at(o).after));
        if (!twin) continue;
        if (knotOf(*twin->actual.fabric) == knot || sameInAllLooks(piece, lookedAt(*twin)))
            e.sameAs.push_back(id);
    }
}

}  // namespace

bool sameInAllLooks(const LookedAt& a, const LookedAt& b) {
    const LookedAt::Inner& x = a.inner();
    const LookedAt::Inner& y = b.inner();
    const auto same = [](const std::vector<OddPlace>& p, const std::vector<OddPlace>& q) {
        return p.size() == q.size() &&
               std::equal(p.begin(), p.end(), q.begin(), [](const auto& s, const auto& t) {
                   return s.row == t.row && s.column == t.column && s.sign == t.sign &&
                          s.onRight == t.onRight && s.onWrong == t.onWrong;
               });
    };
    const std::vector<ReadRow>& rows = a.reading().rows;
    const std::vector<ReadRow>& others = b.reading().rows;
    if (!same(x.odd, y.odd) || !same(x.free, y.free) || x.slack != y.slack || rows.size() != others.size())
        return false;
    for (std::size_t r = 0; r < rows.size(); ++r) {
        const ReadRow& p = rows[r];
        const ReadRow& q = others[r];
        if (p.stitches != q.stitches || p.cameOut != q.cameOut || p.cells.size() != q.cells.size())
            return false;
    }
    return true;
}

CasePlace Case::place(Terms) const {
    const Inner& in = *inner_;
    const CaseTables& t = *in.tables;
    CasePlace p;
    const int rows = t.rows();
    int widest = 1;
    for (int r = 0; r <= rows; ++r) {
        widest = std::max(widest, t.cloth().width(r));
        p.loopsInAll += t.cloth().width(r);
    }
    p.byRow.assign(static_cast<std::size_t>(rows) + 1, 0);
    p.byColumn.assign(static_cast<std::size_t>(widest) + 1, 0);
    double runs = 0;
    double off = 0;
    Heard strips(t.strips());
    const auto isOff = [&](std::size_t h) {
        Heard::Part* const part =
            strips.part(t.stripOf(h), t.at(h).column, [&] { return t.apartInCount(h, rows); });
        if (part != nullptr && part->known) return part->chance > 0;
        const bool is = t.offAfter(h, rows) != 0;
        if (part != nullptr) *part = {true, false, is ? 1.0 : 0.0};
        return is;
    };
    for (const std::int32_t h : in.now().alive()) {
        const CaseHypothesis& it = t.at(static_cast<std::size_t>(h));
        const double w = in.now().weight(static_cast<std::size_t>(h));
        p.byRow[it.seenRow] += w;
        p.byColumn[std::min<std::size_t>(it.column, p.byColumn.size() - 1)] += w;
        if (isOff(static_cast<std::size_t>(h))) off += w;
        const Fault* const f = t.fault(it.kind);
        if (f != nullptr && f->family == Family::drops) runs += w;
    }
    // The narrowest stretch of rows, and of columns, that holds enough.
    const auto narrowest = [](const std::vector<double>& weights, double share, int& from, int& to) {
        double total = 0;
        for (const double w : weights) total += w;
        from = 0;
        to = static_cast<int>(weights.size()) - 1;
        double sum = 0;
        std::size_t low = 0;
        for (std::size_t high = 0; high < weights.size(); ++high) {
            sum += weights[high];
            while (low < high && sum - weights[low] >= share * total) sum -= weights[low++];
            if (sum >= share * total && static_cast<int>(high - low) < to - from) {
                from = static_cast<int>(low);
                to = static_cast<int>(high);
            }
        }
    };
    narrowest(p.byRow, 0.95, p.rowFrom, p.rowTo);
    narrowest(p.byColumn, 0.95, p.columnFrom, p.columnTo);
    p.columnFrom = std::max(1, p.columnFrom);
    for (int r = p.rowFrom; r <= p.rowTo; ++r)
        p.loops += std::max(0, std::min(p.columnTo, t.cloth().width(r)) - p.columnFrom + 1);
    p.words =
        p.loops >= p.loopsInAll
            ? fmt::format("It may be anywhere: {} stitches.", p.loopsInAll)
            : fmt::format("Nine in ten that it lies in {}, {} from the right: {} of {} stitches.",
                          stretch("row", "rows", p.rowFrom, p.rowTo),
                          stretch("stitch", "stitches", p.columnFrom, p.columnTo), p.loops, p.loopsInAll);
    if (off < 0.05) p.ruledOut.emplace_back("The number of stitches is right.");
    if (off > 0.95) p.ruledOut.emplace_back("It is one that changes the number of stitches.");
    if (runs < 0.02) p.ruledOut.emplace_back("No stitch hangs free.");
    const auto rowsBelow = [&](int to) {
        double sum = 0;
        for (int r = 0; r <= to; ++r) sum += p.byRow[static_cast<std::size_t>(r)];
        return sum;
    };
    if (p.rowFrom > 1 && rowsBelow(p.rowFrom - 1) < 0.02)
        p.ruledOut.push_back(fmt::format("Rows 1 to {} are right, as far as one can tell.", p.rowFrom - 1));
    return p;
}

std::vector<CaseExplanation> Case::explanations(int most, Terms terms) const {
    const Inner& in = *inner_;
    const CaseTables& t = *in.tables;
    const Inner::Lightly lightly(in, in.now());
    std::vector<CaseExplanation> list;
    std::vector<std::size_t> numbers;
    for (const CaseCluster& c : in.clusters(static_cast<std::size_t>(std::max(1, most)))) {
        const auto h = static_cast<std::size_t>(c.best);
        const CaseHypothesis& it = t.at(h);
        CaseExplanation e = explanationOf(t, it, terms);
        e.probability = c.weight;
        e.placeProbability = c.place;
        Sighting at = t.plainestOf(h, Side::right);
        if (at.what == What::place) e.seenRow = at.row;
        const Fault* const f = t.fault(it.kind);
        if (f != nullptr) e.fault = t.placeOf(it);
        const std::string where =
            t.isWholeRow(it) ? rowWords(it.row, t.rows())
                             : fmt::format("{}, stitch {} of that row (counted from the right edge: {})",
                                           rowWords(it.row, t.rows()), it.stitch, it.column);
        e.words = fmt::format("{}: {}.", e.name, where);
        e.words.front() = static_cast<char>(std::toupper(static_cast<unsigned char>(e.words.front())));
        // The two signs: what is seen there, and what it does to the count, or how it is told.
        std::vector<std::string> signs;
        if (at.what == What::place && f != nullptr)
            signs.push_back(fmt::format("{} in row {}", words(at.oddity, terms), at.row));
        signs.push_back(needleWords(t.offAfter(h, t.rows())));
        e.signs = fmt::format("The signs: {}.", fmt::join(signs, "; "));
        if (f != nullptr && !f->sign.empty()) e.signs += fmt::format(" {}.", f->sign);
        e.signs = oneStop(std::move(e.signs));
        list.push_back(std::move(e));
        numbers.push_back(h);
    }
    // Runners-up at the same place; what tells them apart is their own sign.
    constexpr double kMayBe = 0.02;
    for (std::size_t i = 0; i < list.size(); ++i) {
        CaseExplanation& e = list[i];
        std::optional<std::size_t> named;
        bool unlisted = false;
        for (std::size_t j = 0; j < list.size(); ++j) {
            const CaseExplanation& other = list[j];
            if (j == i || std::abs(e.seenRow - other.seenRow) > 2 || std::abs(e.column - other.column) > 3 ||
                e.id == other.id)
                continue;
            if (std::find(e.taken.begin(), e.taken.end(), other.id) == e.taken.end())
                e.taken.push_back(other.id);
            if (other.fault && !named) named = j;
            unlisted = unlisted || (!other.fault && other.probability >= kMayBe);
        }
        if (named) {
            const Fault& other = *findFault(list[*named].id);
            e.notThis =
                oneStop(fmt::format("It is not: {}.{}", name(other, terms),
                                    other.sign.empty() ? unlike(in, numbers[*named], numbers[i], terms)
                                                       : fmt::format(" That one: {}.", other.sign)));
        } else if (unlisted) {
            e.notThis = "It may be something that is not in my list.";
        }
    }
    return list;
}

std::optional<CaseModel> Case::model(const CaseExplanation& explanation) const {
    if (!explanation.fault) return std::nullopt;
    const Inner& in = *inner_;
    CaseModel m;
    m.script = in.meant.script;
    m.script.rows.resize(static_cast<std::size_t>(in.meant.rowsDone));
    m.setup = in.start.setup;
    m.faults = {*explanation.fault};
    m.after = explanation.after;
    auto piece = knitWith(m.script, m.setup, m.faults, m.after);
    if (!piece) return std::nullopt;
    m.knitting = std::make_unique<FaultyKnitting>(std::move(*piece));
    return m;
}

/// The likeliest mistake in the list by these notes alone; -1: none.
std::int32_t Case::Inner::explains(const std::vector<std::size_t>& which) const {
    const CaseTables& t = *tables;
    Belief second(t.priors());
    for (const std::size_t i : which) {
        const CaseNote& note = notes[i];
        Heard strips(t.strips());
        second.update([&](std::int32_t number) {
            const auto o = static_cast<std::size_t>(number);
            Heard::Part* const part =
                strips.part(t.sharedStripOf(o), t.at(o).column, [&] { return apartOf(note, t, o); });
            if (part != nullptr && part->known) return part->chance;
            const double p = t.can(o) ? likelihoodOf(note, t, o, errors) : 0.0;
            if (part != nullptr) *part = {true, false, p};
            return p;
        });
    }
    std::int32_t best = -1;
    for (const std::int32_t o : second.alive()) {
        const auto i = static_cast<std::size_t>(o);
        if (!t.isListed(t.at(i))) continue;
        if (best < 0 || second.weight(i) > second.weight(static_cast<std::size_t>(best))) best = o;
    }
    return best;
}

CaseSettled Case::settled(Terms terms) const {
    const Inner& in = *inner_;
    const CaseTables& t = *in.tables;
    const Inner::Lightly lightly(in, in.now());
    CaseSettled s;
    const std::vector<CaseCluster> best = in.clusters(1);
    if (best.empty()) {
        s.words = "What was noticed cannot all be so: nothing that could happen to these rows explains it.";
        return s;
    }
    const auto h = static_cast<std::size_t>(best.front().best);
    std::vector<CaseExplanation> all = explanations(8, terms);
    s.explanation = all.front();
    // The very cloth may come of it elsewhere too.
    for (const auto& [other, its] : in.again) {
        const auto o = static_cast<std::size_t>(other);
        if (!its.looked || !in.areTwins(h, o) || in.samePlace(h, o)) continue;
        s.explanation->words +=
            fmt::format(" It may as well have been stitch {} of {}: the cloth is the same.", t.at(o).stitch,
                        rowWords(t.at(o).row, t.rows()));
        break;
    }
    s.place = best.front().place >= in.manners.settleAt;
    const auto isEnough = [&] {
        const Inner::Stand stand = in.standOf(best.front());
        // Of a mistake that is listed the last looks may be wanting.
        const bool looked = !stand.look || (t.isListed(t.at(h)) && in.looks() >= in.manners.mostLooks);
        return stand.firm && looked && !in.secondSign(h);
    };
    // What rests on one answer is looked at once more, as long as looks are left.
    s.settled = in.isSettled(best) && !in.unconfirmed && isEnough();
    // A large piece is not knitted again at every answer.
    const bool last = s.settled || !in.question || !in.takesLong();
    if (last) prove(*this, in, h, *s.explanation);

    // What it leaves unexplained.
    const auto fits = [&](const CaseNote& note, std::int32_t o) {
        return goesWith(note, t, static_cast<std::size_t>(o), in.errors);
    };
    constexpr double kUnexplained = 0.02;
    std::vector<std::vector<int>> conflicts;
    double least = 0.05;
    std::vector<std::size_t> unexplained;
    for (std::size_t i = 0; i < in.notes.size(); ++i) {
        const CaseNote& note = in.notes[i];
        if (!note.told || note.kind == CaseNote::Kind::safe) continue;
        const double p = fits(note, best.front().best);
        if (isPositive(note) && p < kUnexplained) unexplained.push_back(i);
        // It goes with nothing better than that.
        constexpr double kBest = 2;
        if (p >= least * kBest) continue;
        double most = p;
        for (const std::int32_t other : in.now().alive()) {
            if (in.now().weight(static_cast<std::size_t>(other)) > 1e-4)
                most = std::max(most, fits(note, other));
        }
        if (p < least * std::max(most, 0.3)) {
            least = p / std::max(most, 0.3);
            s.leastCredible = static_cast<int>(i);
        }
    }
    if (s.leastCredible >= 0) {
        const CaseNote& odd = in.notes[static_cast<std::size_t>(s.leastCredible)];
        s.contradiction = fmt::format("This does not go with it: {}{}", words(odd, terms),
                                      odd.line > 0 ? fmt::format(" (line {})", odd.line) : "");
    }
    // Two mistakes, only if one leaves something unexplained that another explains.
    if (last && !unexplained.empty()) {
        const std::int32_t other = in.explains(unexplained);
        for (const CaseNote& note : in.notes) {
            if (!isPositive(note)) continue;
            std::vector<int> set;
            if (fits(note, best.front().best) >= kUnexplained) set.push_back(0);
            if (other >= 0 && fits(note, other) >= kUnexplained) set.push_back(1);
            if (!set.empty()) conflicts.push_back(std::move(set));
        }
        const std::vector<std::vector<int>> sets = hittingSets(conflicts, 2);
        const bool pair = other >= 0 && !sets.empty() &&
                          std::all_of(sets.begin(), sets.end(), [](const auto& x) { return x.size() == 2; });
        if (pair) {
            const CaseHypothesis& it = t.at(static_cast<std::size_t>(other));
            CaseExplanation e = explanationOf(t, it, terms);
            e.fault = t.placeOf(it);
            e.words = fmt::format("{}: {}, stitch {}.", e.name, rowWords(it.row, t.rows()), it.stitch);
            s.second = std::move(e);
        }
    }
    if (s.settled) {
        s.words = s.explanation->words;
        if (s.second) s.words += fmt::format(" And a second mistake: {}", s.second->words);
    } else if (s.place) {
        s.words = fmt::format("It lies at row {}, stitch {} from the right; what it is is not certain yet.",
                              s.explanation->row, s.explanation->column);
    } else {
        s.words = "Not settled yet. " + place(terms).words;
    }
    return s;
}

}  // namespace loopmend
