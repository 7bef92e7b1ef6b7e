// SPDX-License-Identifier: MIT
#include "reading/symptoms.h"

#include <algorithm>

#include <fmt/format.h>

#include "reading/columns.h"
#include "reading/landmarks.h"

namespace loopmend {

namespace {

using Place = Columns::Place;
constexpr Place kNone = Columns::kNone;

/// What a row holds, so that one of a kind can be told from many.
struct RowFacts {
    int stitches = 0;
    int holes = 0;
    int joins = 0;
    int crossed = 0;
    int begun = 0;  // columns that begin on another's base or on a bar
    int tall = 0;
};

RowFacts factsOf(const ReadRow& row) {
    RowFacts facts;
    for (const Cell& cell : row.cells) {
        const Symbol& s = cell.symbol;
        if (s.sight == Sight::rung) continue;
        ++facts.stitches;
        facts.holes += s.sight == Sight::hole ? 1 : 0;
        facts.joins += s.sight == Sight::together ? 1 : 0;
        facts.crossed += s.sight == Sight::stitch && s.sisters == 1 && s.twist != 0 ? 1 : 0;
        facts.begun += (s.sisters > 1 && s.sister > 1) || s.sight == Sight::made ? 1 : 0;
        facts.tall += s.tall > 0 || s.sight == Sight::slipped || s.sight == Sight::tuck ? 1 : 0;
    }
    return facts;
}

/// One in a row, or few among very many: it stands out.
bool few(int some, int all) {
    return some == 1 ? all > 3 : some * 12 < all;
}

class Looker {
  public:
    Looker(const Fabric& fabric, const Reading& reading, Terms terms)
        : f_(fabric), reading_(reading), c_(fabric, reading), terms_(terms) {}

    std::vector<Symptom> run() {
        for (int row = 0; row < c_.rows(); ++row) {
            const ReadRow& read = reading_.rows[static_cast<std::size_t>(row)];
            facts_ = factsOf(read);
            for (Place p = c_.first(row); p < c_.last(row); ++p) lookAt(p);
        }
        lookAtLines();
        lookAtTurns();
        std::stable_sort(out_.begin(), out_.end(), [](const Symptom& a, const Symptom& b) {
            return a.row != b.row ? a.row < b.row : a.column < b.column;
        });
        return std::move(out_);
    }

  private:
    void add(SymptomKind kind, const Cell& cell, std::string text) {
        out_.push_back({kind, cell.row, cell.stitch, cell.column, cell.loop, std::move(text)});
    }

    bool isStitch(Place p, Face face) const {
        if (p == kNone) return false;
        const Symbol& s = c_.cell(p).symbol;
        return s.sight == Sight::stitch && s.face == face;
    }

    /// All that is round a stitch shows the other face: two to each side, one below and one above.
    bool among(Place p, Face face) const {
        const Place right = c_.right(p);
        const Place left = c_.left(p);
        if (!isStitch(right, face) || !isStitch(left, face)) return false;
        if (!isStitch(c_.right(right), face) && c_.right(right) != kNone) return false;
        if (!isStitch(c_.left(left), face) && c_.left(left) != kNone) return false;
        const Place below = c_.below(p);
        const Place above = c_.above(p);
        if (below != kNone && c_.cell(below).row > 0 && !isStitch(below, face)) return false;
        return above == kNone || isStitch(above, face);
    }

    void lookAt(Place p) {
        const Cell& cell = c_.cell(p);
        const Symbol& s = cell.symbol;
        if (s.sight == Sight::rung || s.sight == Sight::slipped || (s.sight == Sight::castOn && !s.loose))
            return;
        if (s.loose) {
            looseStitch(cell);
            return;
        }
        if (s.split)
            add(SymptomKind::split, cell, "a stitch whose plies lie apart: the needle went through the yarn");
        if (s.sight == Sight::hole && facts_.holes == 1 && facts_.joins == 0 && facts_.stitches > 3) {
            add(SymptomKind::loneHole, cell, "a hole, and no two stitches joined near it");
        }
        if (s.sight == Sight::stitch && s.sisters == 1) {
            if (s.face == Face::bump && among(p, Face::v))
                add(SymptomKind::loneBump, cell, fmt::format("a bump among V's{}", heightWords(cell)));
            if (s.face == Face::v && among(p, Face::bump))
                add(SymptomKind::loneV, cell, fmt::format("a V among bumps{}", heightWords(cell)));
            if (s.twist != 0 && few(facts_.crossed, facts_.stitches)) {
                add(SymptomKind::crossedFeet, cell,
                    fmt::format("the feet of one stitch are crossed {}, one row below this one",
                                handWords(s.twistHand())));
            }
        }
        if (s.sight == Sight::together && s.bases == 2 && facts_.holes == 0 &&
            few(facts_.joins, facts_.stitches)) {
            add(SymptomKind::loneJoin, cell, "two columns grow together here, and no hole makes up for it");
        }
        if ((s.sisters > 1 && s.sister > 1 && facts_.begun == 1) ||
            (s.sight == Sight::made && facts_.begun == 1 && facts_.stitches > 3)) {
            add(SymptomKind::extraColumn, cell,
                s.sight == Sight::made ? "a new column begins on the bar between two stitches"
                                       : "two columns rise from one stitch");
        }
        if (s.tall > 0 && s.sight == Sight::stitch && few(facts_.tall, facts_.stitches) && !atEdge(p)) {
            add(SymptomKind::tallStitch, cell,
                fmt::format("a stitch tall over {} rows, a strand {} it", s.tall + 1,
                            s.strandsInFront > 0 ? "across" : "behind"));
        }
        if (s.sight == Sight::tuck && s.bases > 0 && few(facts_.tall, facts_.stitches)) {
            add(SymptomKind::tallStitch, cell, "a thick V, the stitch below and its strand caught in one");
        }
        if (s.tight || s.slack) pulledStitch(p);
    }

    void looseStitch(const Cell& cell) {
        const Symbol& s = cell.symbol;
        const int rungs = s.longRungs + s.shortRungs;
        if (s.edgeLoops > 0) {
            add(SymptomKind::edgeLoop, cell,
                fmt::format("a stitch stands free at the edge, {} big loop{} hanging above it", s.edgeLoops,
                            s.edgeLoops == 1 ? "" : "s"));
        } else if (rungs > 0) {
            const char* kind = s.longRungs == 0 ? " short" : s.shortRungs == 0 ? "" : " uneven";
            add(SymptomKind::ladder, cell,
                fmt::format("a stitch stands free under a ladder of {}{} rung{}", rungs, kind,
                            rungs == 1 ? "" : "s"));
        } else {
            add(SymptomKind::freeLoop, cell, "a stitch stands free, with nothing through it");
        }
    }

    static std::string handWords(Lean lean) {
        return lean == Lean::left ? "to the left" : lean == Lean::right ? "to the right" : "right round";
    }

    std::string heightWords(const Cell& cell) const {
        const int below = c_.rows() - 1 - cell.row;
        return below == 0 ? std::string(" at the needle")
                          : fmt::format(", {} row{} below the needle", below, below == 1 ? "" : "s");
    }

    bool atEdge(Place p) const { return c_.left(p) == kNone || c_.right(p) == kNone; }

    void pulledStitch(Place p) {
        const Cell& cell = c_.cell(p);
        const auto alike = [&](Place q) {
            return q != kNone && (cell.symbol.tight ? c_.cell(q).symbol.tight : c_.cell(q).symbol.slack);
        };
        if (alike(c_.left(p)) && alike(c_.right(p))) return;  // a row of them is a hand, not a stitch
        add(SymptomKind::pulled, cell,
            cell.symbol.tight ? "a stitch much tighter than its neighbours"
                              : "a stitch much slacker than its neighbours");
    }

    void lookAtLines() {
        for (const Landmark& mark : landmarks(f_, reading_)) {
            for (const int row : mark.breaksAt) {
                Symptom symptom;
                symptom.kind =
                    mark.kind == LandmarkKind::cable ? SymptomKind::wrongHand : SymptomKind::lineBreaks;
                symptom.row = row;
                symptom.column = mark.column;
                symptom.words = words(mark, terms_);
                out_.push_back(std::move(symptom));
            }
        }
    }

    void lookAtTurns() {
        for (const ReadRow& row : reading_.rows) {
            const bool fromRight = (row.facing == Facing::right) != reading_.mirrored;
            const int before = fromRight ? row.waitingRight : row.waitingLeft;
            if (row.row == 0 || before == 0) continue;
            Symptom symptom;
            symptom.kind = SymptomKind::turned;
            symptom.row = row.row;
            symptom.words = fmt::format("the row begins past {} stitch{}: the work was turned in mid-row",
                                        before, before == 1 ? "" : "es");
            out_.push_back(std::move(symptom));
        }
    }

    const Fabric& f_;
    const Reading& reading_;
    Columns c_;
    Terms terms_;
    RowFacts facts_;
    std::vector<Symptom> out_;
};

}  // namespace

std::string_view name(SymptomKind kind) {
    constexpr std::string_view kNames[] = {"ladder",       "free-loop",   "edge-loop",    "lone-hole",
                                           "lone-bump",    "lone-v",      "crossed-feet", "two-into-one",
                                           "extra-column", "tall-stitch", "wrong-hand",   "line-breaks",
                                           "turned",       "split",       "pulled"};
    return kNames[static_cast<std::size_t>(kind)];
}

std::vector<Symptom> symptoms(const Fabric& fabric, const Reading& reading, Terms terms) {
    return Looker(fabric, reading, terms).run();
}

}  // namespace loopmend
