// SPDX-License-Identifier: MIT
#include "outside/case_knitter.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <numeric>

#include <fmt/format.h>

#include "case_answers.h"
#include "diagnosis/case_inner.h"
#include "diagnosis/priors.h"
#include "diagnosis/tables.h"
#include "fabric/itinerary.h"
#include "fault/catalogue.h"
#include "outside/patterns_tsv.h"
#include "pattern/counts.h"
#include "reading/answer_piece.h"

namespace loopmend::seeded {

namespace {

using What = Sighting::What;

constexpr std::array<const char*, 21> kPatterns = {"L38", "M02", "M15", "M16", "M18", "L12", "L28",
                                                   "L29", "D04", "L01", "H05", "H06", "R02", "D02",
                                                   "B14", "D01", "L23", "W01", "L47", "H02", "H03"};
constexpr std::array<std::pair<int, int>, 6> kSizes = {
    {{20, 20}, {40, 40}, {60, 60}, {100, 60}, {120, 100}, {200, 100}}};
constexpr int kAsked = 5;  // of her mistakes that happen where the dice fall

double uniform(Seeded& dice) {
    return static_cast<double>(dice.next() >> 11U) / 9007199254740992.0;
}
double normal(Seeded& dice) {
    double sum = 0;
    for (int i = 0; i < 12; ++i) sum += uniform(dice);
    return sum - 6;
}

const outside::BookPattern* bookOf(const std::string& id) {
    static const std::vector<outside::BookPattern> kBooks = outside::bookPatterns();
    for (const auto& book : kBooks) {
        if (book.id == id) return &book;
    }
    return nullptr;
}

/// A row by how long ago: half of the time soon after, half of the time any time.
int rowBack(Seeded& dice, int rows) {
    if (dice.below(2) == 0) return 1 + dice.below(rows);
    int lag = 0;
    while (lag + 1 < rows && uniform(dice) < 0.88) ++lag;
    return rows - lag;
}

std::optional<FaultPlace> somewhere(Seeded& dice, const Fault& fault, const SeededCase& c) {
    for (int i = 0; i < kAsked; ++i) {
        Wanted wanted;
        const bool top = fault.suffered() && !fault.runs && !fault.inCloth;
        const int row = fault.castsOn != nullptr ? 1 : top ? c.rows : rowBack(dice, c.rows);
        wanted.rowFrom = row;
        wanted.rowTo = std::min(c.rows, row + (i > 1 ? 4 : 0));
        Script done = c.script;
        done.rows.resize(static_cast<std::size_t>(c.rows));
        const std::vector<FaultPlace> places = placesFor(fault, done, {}, wanted);
        if (!places.empty())
            return places[static_cast<std::size_t>(dice.below(static_cast<int>(places.size())))];
    }
    return std::nullopt;
}

Look wholePiece(const SeededCase& c, Side side) {
    Look whole;
    whole.way = LookWay::searchPatch;
    whole.side = side;
    whole.rowTo = c.rows + 3;
    whole.columnFrom = 1;
    whole.columnTo = 100000;
    return whole;
}

/// Where a piece shows most plainly that it is odd; nothing: nowhere.
Sighting plainestOf(const SeededCase& c, const LookedAt& piece) {
    const Sighting right = answer(wholePiece(c, Side::right), piece);
    return right.what != What::nothing ? right : answer(wholePiece(c, Side::wrong), piece);
}

/// All that is odd is of the kind that is hardly seen: crossed feet, split yarn.
bool isHard(const SeededCase& c) {
    const auto ease = [&](Side side) { return answer(wholePiece(c, side), *c.looked).ease; };
    return ease(Side::right) == Ease::hard || ease(Side::wrong) == Ease::hard;
}

/// She, at her piece.
class Knitter_ {
  public:
    Knitter_(const SeededCase& c, const Bending& bending)
        : c_(c), bending_(bending), dice_(c.seed * 7919 + 17) {
        LookErrors usual;
        for (const WorkedRow& row : c.script.rows) {
            for (const Step& s : row.steps) busy_ = busy_ || uses(s) > 1 || s.op == Op::yarnOver;
        }
        usual.busy = busy_;
        errors_ = usual.times(c.scale * bending.errors);
        errors_.misnames = bending.misnames;
        if (bending.falseAlarm) errors_.falseAlarm = *bending.falseAlarm * c.scale;
        if (bending.compareOverlooks) errors_.compareOverlooks = *bending.compareOverlooks * c.scale;
        errors_.busy = busy_;
    }

    Sighting answerTo(const Look& look) {
        const Sighting truth = seenBy(look);
        std::vector<Chance> chances = confusion(look, truth, errors_);
        int& before = overlooked_[static_cast<std::size_t>(look.way)];
        // What was overlooked once is overlooked again more easily.
        if (truth.what != What::nothing && before > 0) {
            double miss = 0;
            for (const Chance& ch : chances) miss += ch.seen.what == What::nothing ? ch.probability : 0;
            if (miss > 0 && miss < 1) {
                const double again = std::pow(miss, 1.0 / (1 + before));
                for (Chance& ch : chances)
                    ch.probability *= ch.seen.what == What::nothing ? again / miss : (1 - again) / (1 - miss);
            }
        }
        double u = uniform(dice_);
        Sighting said = chances.front().seen;
        for (const Chance& ch : chances) {
            said = ch.seen;
            if (u < ch.probability) break;
            u -= ch.probability;
        }
        if (c_.unlisted && look.way == LookWay::closeLook && said.what == What::sign && dice_.below(2) == 0) {
            said.what = What::unnamed;  // her mistake has no name that she knows
            said.oddity = OddSign::none;
        }
        if (truth.what != What::nothing && said.what == What::nothing) ++before;
        said.ease = Ease::usual;
        return said;
    }

    CaseNote begin() {
        CaseNote note;
        if (c_.starts == StartsWith::row || c_.starts == StartsWith::count) {
            note.look.way = c_.starts == StartsWith::row ? LookWay::rowFits : LookWay::countSpan;
            note.look.rowFrom = note.look.rowTo = c_.starts == StartsWith::row ? c_.rows + 1 : c_.rows;
            if (c_.starts == StartsWith::count) {
                note.look.columnFrom = 1;
                note.look.columnTo = c_.looked->width(c_.rows);
            }
            note.seen = answerTo(note.look);
            return note;
        }
        note.kind = CaseNote::Kind::picture;
        if (c_.starts == StartsWith::feeling) return note;
        // Somewhere about there; one in seven is quite elsewhere.
        const FaultPlace& fault = c_.faults.front();
        Sighting at = seenBy(wholePiece(c_, Side::right));
        if (at.what == What::nothing) at = seenBy(wholePiece(c_, Side::wrong));
        note.picture = CasePicture::something;
        int row = at.what == What::nothing ? fault.row : at.row;
        int column = at.what == What::nothing ? fault.stitch : at.column;
        row += dice_.below(9) - 4;
        column += dice_.below(17) - 8;
        if (uniform(dice_) < 0.15) {
            row = 1 + dice_.below(c_.rows);
            column = 1 + dice_.below(std::max(1, c_.looked->width(std::min(row, c_.rows))));
        }
        note.row = std::clamp(row, 1, c_.rows);
        note.column = std::clamp(column, 1, std::max(1, c_.looked->width(note.row)));
        return note;
    }

  private:
    /// What a good eye finds there.
    Sighting seenBy(const Look& look) {
        const Sighting plainest = answer(look, *c_.looked);
        const bool patch = look.way == LookWay::searchPatch || look.way == LookWay::slantLight;
        if (!bending_.anyPlace || !patch || plainest.what != What::place) return plainest;
        std::vector<Sighting> all;
        for (const OddPlace& odd : c_.looked->inner().odd) {
            Look cell = look;
            cell.rowFrom = cell.rowTo = odd.row;
            cell.columnFrom = cell.columnTo = odd.column;
            const bool inside = odd.row >= look.rowFrom && odd.row <= look.rowTo &&
                                odd.column >= look.columnFrom && odd.column <= look.columnTo;
            if (!inside) continue;
            const Sighting one = answer(cell, *c_.looked);
            if (one.what == What::place) all.push_back(one);
        }
        return all.empty() ? plainest
                           : all[static_cast<std::size_t>(dice_.below(static_cast<int>(all.size())))];
    }

    const SeededCase& c_;
    const Bending& bending_;
    Seeded dice_;
    bool busy_ = false;
    LookErrors errors_;
    std::array<int, kLookWays> overlooked_ = {};
};

bool near(int a, int b) {
    return std::abs(a - b) <= 1;
}

/// Column of a stitch as worked, in the meant row.
int columnOf(const SeededCase& c, int row, int stitch) {
    const CaseCloth cloth(c.script, {}, c.rows);
    return cloth.columnOf(std::clamp(row, 1, c.rows), stitch);
}

int shownRow(const SeededCase& c, const FaultPlace& where) {
    const auto placed = place(c.script, where);
    if (!placed || !placed->fault->misread()) return where.row;
    return std::min(firstDifference(c.script, *placed).inRow, c.rows);
}

/// Rows at which her mistake lies, and where it shows.
bool isItsRow(const SeededCase& c, const FaultPlace& truth, int row) {
    return near(row, truth.row) || near(row, shownRow(c, truth));
}

bool sameCloth(const SeededCase& c, const FaultPlace& where, After after) {
    Script done = c.script;
    done.rows.resize(static_cast<std::size_t>(c.rows));
    const auto piece = knitWith(done, {}, {where}, after);
    if (!piece) return false;
    return knotOf(*piece->actual.fabric) == knotOf(*c.piece->actual.fabric) ||
           sameInAllLooks(LookedAt(*piece->actual.fabric, *piece->meant.fabric, &c.script), *c.looked);
}

/// The kind, or one that makes the very cloth (at a place within one).
bool sameKind(const SeededCase& c, const CaseExplanation& said, const FaultPlace& truth) {
    if (said.id == truth.id) return true;
    for (const After after : {c.after, said.after}) {
        for (int dr = -1; dr <= 1; ++dr) {
            for (int ds = -1; ds <= 1; ++ds) {
                FaultPlace where = truth;
                where.id = said.id;
                where.row += dr;
                where.stitch += ds;
                if (where.row >= 1 && where.row <= c.rows && where.stitch >= 1 && sameCloth(c, where, after))
                    return true;
            }
        }
    }
    return false;
}

/// She is sent where her mistake shows most plainly: there what she is told shows most plainly, too. What is
/// not in the list is told to lie where it shows.
bool showsThere(const SeededCase& c, const Case& asked, const CaseExplanation& said) {
    const Sighting plainest = plainestOf(c, *c.looked);
    Sighting told;
    told.what = What::place;
    told.row = said.row;
    told.column = said.column;
    if (said.fault) {
        const auto model = asked.model(said);
        if (!model) return false;
        told = plainestOf(
            c, LookedAt(*model->knitting->actual.fabric, *model->knitting->meant.fabric, &c.script));
    }
    return plainest.what == What::place && told.what == What::place && near(told.row, plainest.row) &&
           near(told.column, plainest.column);
}

/// What the tables forecast for the truth, if they know it.
std::string tableSays(const Case& c, const SeededCase& hidden, const Look& look) {
    const CaseTables& t = c.tables();
    for (std::size_t h = 0; h < t.size(); ++h) {
        const CaseHypothesis& it = t.at(h);
        if (t.id(it.kind) == hidden.faults.front().id && it.row == hidden.faults.front().row &&
            it.stitch == hidden.faults.front().stitch &&
            (it.after == static_cast<int>(hidden.after) || t.fault(it.kind)->suffered()))
            return words(look, t.forecast(look, h).seen) + fmt::format(" p {:.2g}", c.weights()[h]);
    }
    return "not known";
}

}  // namespace

std::optional<SeededCase> seededCase(int n, const Bending& bending) {
    SeededCase c;
    c.seed = static_cast<std::uint64_t>(n) + 1;
    Seeded dice(c.seed * 104729 + 7);
    c.pattern = kPatterns[static_cast<std::size_t>(n) % kPatterns.size()];
    const auto [wide, rows] = kSizes[static_cast<std::size_t>(n) / kPatterns.size() % kSizes.size()];
    const outside::BookPattern* const book = bookOf(c.pattern);
    if (book == nullptr) return std::nullopt;
    c.category = book->category;
    const int least = book->mult > 6 ? 2 : 3;
    const int repeats =
        book->mult > 0 ? std::max(least, (wide - book->edge + book->mult / 2) / book->mult) : 1;
    auto script = expand(book->pattern, book->castOn(repeats), rows + 4);
    if (!script) return std::nullopt;
    c.script = std::move(*script);
    c.rows = rows;

    // Kinds by how often they are made, bent for this knitter.
    const std::vector<const Fault*> faults = lessonFaults();
    std::vector<double> weights;
    for (const Fault* f : faults) weights.push_back(std::sqrt(priorOf(f->id)) * std::exp(0.5 * normal(dice)));
    c.unlisted = bending.unlistedAll || uniform(dice) < 0.05;
    const bool two = uniform(dice) < 0.05;
    c.scale = 0.5 + 1.5 * uniform(dice);
    Script done = c.script;
    done.rows.resize(static_cast<std::size_t>(c.rows));
    for (int attempt = 0; attempt < 60; ++attempt) {
        double u = uniform(dice) * std::accumulate(weights.begin(), weights.end(), 0.0);
        std::size_t kind = 0;
        while (kind + 1 < weights.size() && u >= weights[kind]) u -= weights[kind++];
        const auto where = somewhere(dice, *faults[kind], c);
        if (!where) {
            weights[kind] = 0;
            continue;
        }
        const double how = uniform(dice);
        c.after = how < 0.4 ? After::byReading : how < 0.7 ? After::byCount : After::rowEnd;
        if (c.after == After::rowEnd && rowOf(done, *where) != c.rows) {
            // She stops at the end of that row: it is the newest one.
            if (faults[kind]->suffered()) {
                c.after = After::byReading;
            } else {
                Wanted top;
                top.rowFrom = top.rowTo = c.rows;
                const auto last = placesFor(*faults[kind], done, {}, top);
                if (last.empty()) {
                    c.after = After::byReading;
                    c.faults = {*where};
                } else {
                    c.faults = {last[static_cast<std::size_t>(dice.below(static_cast<int>(last.size())))]};
                }
            }
        }
        if (c.faults.empty()) c.faults = {*where};
        if (two) {
            const Fault& second =
                *faults[static_cast<std::size_t>(dice.below(static_cast<int>(faults.size())))];
            if (const auto also = somewhere(dice, second, c)) c.faults.push_back(*also);
            std::sort(c.faults.begin() + 1, c.faults.end(),
                      [](const auto& a, const auto& b) { return a.row < b.row; });
        }
        auto piece = knitWith(done, {}, c.faults, c.after);
        if (!piece && c.faults.size() > 1) {
            c.faults.resize(1);
            piece = knitWith(done, {}, c.faults, c.after);
        }
        if (!piece || piece->rows != c.rows ||
            knotOf(*piece->actual.fabric) == knotOf(*piece->meant.fabric)) {
            c.faults.clear();
            continue;
        }
        c.piece = std::make_unique<FaultyKnitting>(std::move(*piece));
        break;
    }
    if (!c.piece) return std::nullopt;
    c.looked = std::make_unique<LookedAt>(*c.piece->actual.fabric, *c.piece->meant.fabric, &c.script);
    const bool off = c.piece->counts.back().actual != c.piece->counts.back().meant;
    if (off && c.after == After::rowEnd) {
        c.starts = StartsWith::row;
    } else if (off && uniform(dice) < 0.7) {
        c.starts = StartsWith::count;
    } else {
        c.starts = uniform(dice) < 0.8 ? StartsWith::place : StartsWith::feeling;
    }
    return c;
}

CaseResult solve(const SeededCase& hidden, const Bending& bending, std::shared_ptr<CaseEffects> effects,
                 bool log) {
    CaseResult result;
    CaseStart start;
    start.rowsDone = hidden.rows;
    start.seed = hidden.seed;
    if (hidden.unlisted) {
        for (const FaultPlace& f : hidden.faults) start.priors[f.id] = 0;
    }
    if (!bending.anyPlace) start.errors.another = 0;  // she tells the plainest, and is taken to
    CaseManners manners;
    manners.settleAt = bending.settleAt;
    manners.mostLooks = bending.mostLooks;
    manners.perLook = bending.perLook;
    manners.effects = std::move(effects);
    CaseMeant meant;
    meant.script = hidden.script;
    meant.rowsDone = hidden.rows;
    auto made = Case::begin(start, std::move(meant), manners);
    if (!made) {
        result.said = made.error();
        return result;
    }
    Case& c = *made;
    Knitter_ she(hidden, bending);
    const CaseNote first = she.begin();
    if (log) result.log += "  " + words(first) + "\n";
    if (const auto told = c.tell(first); !told) result.log += told.error() + "\n";
    const auto says = [&](const CaseQuestion& q) {
        const Sighting seen = she.answerTo(q.look);
        result.seconds += q.seconds;
        if (log)
            result.log +=
                fmt::format("  {} [{:.2f} bits] -> {} (truth: {}; table: {})\n", text(q.look), q.bits,
                            words(q.look, seen), words(q.look, answer(q.look, *hidden.looked)),
                            tableSays(c, hidden, q.look));
        return seen;
    };
    result.notReadAgain = answerLooks(c, says, [&](const auto& told) {
        if (!told) result.log += told.error() + "\n";
        if (!log) return;
        for (const CaseExplanation& e : c.explanations(2))
            result.log += fmt::format("      {} @{},{} c{} {} p {:.3f} place {:.3f}\n", e.id, e.row, e.stitch,
                                      e.column, name(e.after), e.probability, e.placeProbability);
    });
    result.looks = c.looks();
    const auto best = c.explanations(2);
    if (best.empty()) {
        result.said = "nothing";
        return result;
    }
    const CaseExplanation& e = best.front();
    result.settled = c.settled().settled;
    result.said = fmt::format("{}@{},{} {:.2f}", e.id, e.row, e.stitch, e.probability);
    result.secondOrFirstUnlisted =
        std::any_of(best.begin(), best.end(), [](const auto& x) { return !x.fault; });
    bool sameRow = false;
    for (const FaultPlace& truth : hidden.faults) {
        const Fault* const f = findFault(truth.id);
        const int column = columnOf(hidden, truth.row, truth.stitch);
        const bool row = near(e.row, truth.row) || near(e.seenRow, shownRow(hidden, truth));
        sameRow = sameRow || row;
        bool place = row && (f->wholeRow || near(e.column, column));
        bool kind = hidden.unlisted && !e.fault;
        if (!kind && place) kind = sameKind(hidden, e, truth);
        if (e.fault && !(place && kind) && hidden.faults.size() == 1 && sameCloth(hidden, *e.fault, e.after))
            place = kind = true;
        result.rightSite = result.rightSite || place;
        result.right = result.right || (place && kind);
    }
    const bool shows = showsThere(hidden, c, e);
    // What is told of a whole row names no stitch.
    const bool toldRow = e.fault && findFault(e.fault->id)->wholeRow;
    result.rightPlace = result.rightSite || (toldRow && sameRow) || shows;
    result.right = result.right || (shows && hidden.unlisted && !e.fault);
    return result;
}

BaselineResult recount(const SeededCase& hidden, bool halving) {
    constexpr int kStretch = 10;   // stitches compared at once
    constexpr int kRowsAside = 5;  // of where she points
    constexpr int kMostSeconds = 5400;
    BaselineResult result;
    Bending plain;
    plain.falseAlarm = 0.005;  // somebody who reads a pattern stitch by stitch
    if (isHard(hidden)) plain.compareOverlooks = 0.5;
    Knitter_ she(hidden, plain);
    const CaseNote note = she.begin();
    const int rows = hidden.rows;
    const auto timed = [&](const Look& look) {
        result.seconds += seconds(look);
        ++result.looks;
        return she.answerTo(look);
    };
    const auto count = [&](int row) {
        Look look;
        look.way = LookWay::countSpan;
        look.rowFrom = look.rowTo = row;
        look.columnFrom = 1;
        look.columnTo = hidden.looked->width(row);
        const Sighting s = timed(look);
        return s.what == What::number ? s.by : 9;
    };
    // A close look shows her mistake, a row and two stitches off at most. What is odd elsewhere only comes of
    // it, and she reads on.
    const auto isIt = [&](int row, int column) {
        constexpr int kStitches = 2;
        return std::any_of(hidden.faults.begin(), hidden.faults.end(), [&](const FaultPlace& truth) {
            return isItsRow(hidden, truth, row) &&
                   (findFault(truth.id)->wholeRow ||
                    std::abs(column - columnOf(hidden, truth.row, truth.stitch)) <= kStitches);
        });
    };
    std::vector<int> order;
    if (note.kind == CaseNote::Kind::look) {
        int found = 0;
        if (!halving) {
            int q = rows;
            while (q > 0 && count(q) != 0) --q;
            found = q + 1;
        } else {
            int low = 0;
            int high = rows;
            while (high - low > 1) {
                const int middle = (low + high) / 2;
                (count(middle) != 0 ? high : low) = middle;
            }
            found = high;
        }
        for (const int q : {found, found - 1, found + 1, found - 2, found + 2}) {
            if (q >= 1 && q <= rows) order.push_back(q);
        }
        for (int q = rows; q >= 1; --q) {
            if (std::abs(q - found) > 2) order.push_back(q);
        }
    } else if (note.row > 0) {
        for (int q = std::min(rows, note.row + kRowsAside); q >= std::max(1, note.row - kRowsAside); --q)
            order.push_back(q);
    } else {
        for (int q = rows; q >= 1; --q) order.push_back(q);
    }
    for (const int q : order) {
        const int width = hidden.looked->width(q);
        std::vector<int> stretches;
        if (note.kind != CaseNote::Kind::look && note.row > 0) {
            const int there = note.column - kStretch / 2;
            stretches = {there, there - kStretch, there + kStretch};
        } else {
            for (int c = 1; c <= width; c += kStretch) stretches.push_back(c);
        }
        for (const int from : stretches) {
            if (result.seconds > kMostSeconds) return result;
            Look look;
            look.way = LookWay::compareRepeat;
            look.rowFrom = look.rowTo = q;
            look.columnFrom = std::max(1, from);
            look.columnTo = std::min(width, from + kStretch - 1);
            if (look.columnTo < look.columnFrom) continue;
            const Sighting s = timed(look);
            if (s.what != What::place) continue;
            Look close;
            close.way = LookWay::closeLook;
            close.rowFrom = close.rowTo = q;
            close.columnFrom = close.columnTo = s.column;
            const Sighting sign = timed(close);
            if (sign.what != What::sign || !isIt(q, s.column)) continue;
            result.settled = true;
            for (const FaultPlace& truth : hidden.faults) {
                const int column = columnOf(hidden, truth.row, truth.stitch);
                result.right = result.right || (isItsRow(hidden, truth, q) && near(s.column, column) &&
                                                sign.oddity == answer(close, *hidden.looked).oddity);
            }
            return result;
        }
    }
    return result;
}

}  // namespace loopmend::seeded
