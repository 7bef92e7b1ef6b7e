// SPDX-License-Identifier: MIT
#include "reading/symptoms.h"

#include <algorithm>

#include <fmt/format.h>

#include "reading/columns.h"
#include "reading/landmarks.h"
#include "reading/symptoms_yarns.h"

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
    int openMade = 0;
    int tight = 0;
    int slack = 0;
    int made = 0;
    int twos = 0;    // two together
    int threes = 0;  // more than two
    int crossedJoins = 0;
    int oddColor = 0;
    int floats = 0;         // strands of other colors by the stitches
    int floatsInFront = 0;  // of them on the side that was asked
};

RowFacts factsOf(const ReadRow& row) {
    RowFacts facts;
    for (const Cell& cell : row.cells) {
        const Symbol& s = cell.symbol;
        if (s.sight == Sight::rung) continue;
        ++facts.stitches;
        facts.tight += s.tight ? 1 : 0;
        facts.slack += s.slack ? 1 : 0;
        facts.holes += s.sight == Sight::hole ? 1 : 0;
        facts.joins += s.sight == Sight::together ? 1 : 0;
        facts.crossed += s.sight == Sight::stitch && s.sisters == 1 && s.twist != 0 ? 1 : 0;
        facts.begun += (s.sisters > 1 && s.sister > 1) || s.sight == Sight::made ? 1 : 0;
        facts.made += s.sight == Sight::made ? 1 : 0;
        facts.openMade += s.sight == Sight::made && s.twist == 0 ? 1 : 0;
        facts.twos += s.sight == Sight::together && s.bases == 2 ? 1 : 0;
        facts.crossedJoins += s.sight == Sight::together && s.twist != 0 ? 1 : 0;
        facts.threes += s.sight == Sight::together && s.bases > 2 ? 1 : 0;
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
        : f_(fabric), reading_(reading), c_(fabric, reading), terms_(terms), cells_(fabric, c_) {}

    std::vector<Symptom> run() {
        lines_ = landmarks(f_, reading_);
        for (int row = 0; row < c_.rows(); ++row) {
            const ReadRow& read = reading_.rows[static_cast<std::size_t>(row)];
            facts_ = factsOf(read);
            for (Place p = c_.first(row); p < c_.last(row); ++p) {
                facts_.oddColor += isOddColor(p) ? 1 : 0;
                if (f_.yarnCount() > 1) countFloats(c_.cell(p));
            }
            for (Place p = c_.first(row); p < c_.last(row); ++p) lookAt(p);
            lookAtHand(row);
        }
        lookAtLines();
        lookAtOpenRows();
        lookAtRidges();
        lookAtEdges();
        yarnSymptoms(f_, reading_, cells_, lines_, terms_, out_);
        std::stable_sort(out_.all.begin(), out_.all.end(), [](const Symptom& a, const Symptom& b) {
            return a.row != b.row ? a.row < b.row : a.column < b.column;
        });
        return std::move(out_.all);
    }

  private:
    /// The side on which this stitch is a V: feet and leans are covered by heads on the other.
    SeenFrom vSide(const Symbol& s) const {
        return (s.face == Face::v) == (reading_.side == Side::right) ? SeenFrom::right : SeenFrom::wrong;
    }

    bool isStitch(Place p, Face face) const {
        if (p == kNone) return false;
        const Symbol& s = c_.cell(p).symbol;
        return s.sight == Sight::stitch && s.face == face;
    }

    /// A stitch of another color than all that touches it.
    bool isOddColor(Place p) const {
        if (f_.yarnCount() < 2) return false;
        const Symbol& s = c_.cell(p).symbol;
        if (s.sight == Sight::rung || s.sight == Sight::slipped) return false;
        const auto other = [&](Place q) { return q == kNone || c_.cell(q).symbol.colour != s.colour; };
        return c_.left(p) != kNone && c_.right(p) != kNone && c_.below(p) != kNone && other(c_.left(p)) &&
               other(c_.right(p)) && other(c_.below(p)) && other(c_.above(p)) &&
               c_.cell(c_.left(p)).symbol.colour == c_.cell(c_.right(p)).symbol.colour;
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
            out_.add(SymptomKind::split, cell,
                     "a stitch whose plies lie apart: the needle went through the yarn");
        if (s.sight == Sight::hole && !isTakenAs(p, Sight::turned) && facts_.holes == 1 &&
            facts_.joins == 0 && facts_.stitches > 3) {
            out_.add(SymptomKind::loneHole, cell, "a hole, and no two stitches joined near it");
        }
        if (s.sight == Sight::stitch && s.sisters == 1) {
            if (s.face == Face::bump && among(p, Face::v))
                out_.add(SymptomKind::loneBump, cell, fmt::format("a bump among V's{}", heightWords(cell)));
            if (s.face == Face::v && among(p, Face::bump))
                out_.add(SymptomKind::loneV, cell, fmt::format("a V among bumps{}", heightWords(cell)));
            if (s.twist != 0 && few(facts_.crossed, facts_.stitches) && !onSlipKnot(cell)) {
                out_.add(SymptomKind::crossedFeet, cell,
                         fmt::format("the feet of one stitch are crossed {}, one row below this one",
                                     handWords(s.twistHand())),
                         vSide(s));
            }
        }
        if (s.sight == Sight::together && s.bases == 2 && facts_.holes == 0 &&
            few(facts_.joins, facts_.stitches)) {
            out_.add(SymptomKind::loneJoin, cell,
                     "two columns grow together here, and no hole makes up for it");
        }
        if ((s.sisters > 1 && s.sister > 1 && facts_.begun == 1) ||
            (s.sight == Sight::made && facts_.begun == 1 && facts_.stitches > 3)) {
            out_.add(SymptomKind::extraColumn, cell,
                     s.sight == Sight::made ? "a new column begins on the bar between two stitches"
                                            : "two columns rise from one stitch");
        }
        if (s.tall > 0 && s.sight == Sight::stitch && few(facts_.tall, facts_.stitches) && !atEdge(p) &&
            !isTakenAs(p, Sight::wrapped)) {
            out_.add(SymptomKind::tallStitch, cell,
                     fmt::format("a stitch tall over {} rows, a strand {} it", s.tall + 1,
                                 s.strandsInFront > 0 ? "across" : "behind"));
        }
        if (s.sight == Sight::tuck && s.bases > 0 && few(facts_.tall, facts_.stitches)) {
            out_.add(SymptomKind::tallStitch, cell,
                     "a thick V, the stitch below and its strand caught in one");
        }
        if (s.sight == Sight::together && s.bases > 2 && facts_.threes == 1 && facts_.twos > 1)
            out_.add(SymptomKind::thickJoin, cell,
                     "three stitches gathered in a row where others are joined by twos");
        if (s.sight == Sight::together && s.twist != 0 && facts_.joins > 1 &&
            facts_.crossedJoins * 3 <= facts_.joins)
            out_.add(SymptomKind::crossedFeet, cell,
                     "the feet under one decrease are crossed, those of the others lie open", vSide(s));
        if (s.sight == Sight::together && s.bases == 3 && s.lean != Lean::upright && inSpine(p))
            out_.add(SymptomKind::wrongStack, cell,
                     "a double decrease whose middle stitch is not on top, in a spine where the others are",
                     vSide(s));
        if (s.sight == Sight::made && s.twist == 0 && facts_.openMade == 1 && facts_.made > 2)
            out_.add(SymptomKind::openMade, cell,
                     "a small hole at the foot of a made stitch; the others are closed");
        if (isOddColor(p) && few(facts_.oddColor, facts_.stitches))
            out_.add(SymptomKind::loneColor, cell, fmt::format("one stitch of another {}", colorIn(terms_)));
        if (s.sight == Sight::pickedUp && (s.face == Face::bump) == (reading_.side == Side::right) &&
            (c_.right(p) == kNone || c_.cell(c_.right(p)).symbol.sight != Sight::pickedUp))
            out_.add(SymptomKind::pickedUpRidge, cell,
                     "picked up from the back: the edge lies as a ridge on the right side", SeenFrom::right);
        strandsAt(cell);
        if (s.tight || s.slack) pulledStitch(p);
    }

    /// What closes a turn: the strand of the turn is caught together with its stitch.
    bool isTakenAs(Place p, Sight sight) const {
        for (LinkId k = f_[c_.cell(p).loop].firstKid; k; k = f_[k].nextInHost) {
            const Cell* kid = cells_.of(f_[k].loop);
            if (kid != nullptr && kid->symbol.sight == sight) return true;
        }
        return false;
    }
    /// The first loop of a yarn may be a slip knot, which sits as it was tied.
    bool onSlipKnot(const Cell& cell) const {
        const LinkId link = f_[cell.loop].firstLink;
        if (!link) return false;
        const LoopId base = f_[link].host;
        return f_[base].flags.anchored != 0 && !f_.loopBefore(base);
    }

    bool isUpright(Place p) const {
        return p != kNone && c_.cell(p).symbol.sight == Sight::together &&
               c_.cell(p).symbol.lean == Lean::upright;
    }
    /// Upright double decreases stand below and above in its columns.
    bool inSpine(Place p) const {
        constexpr int kReach = 8;
        const auto near = [&](Place q, bool up) {
            for (int i = 0; q != kNone && i < kReach; ++i) {
                if (isUpright(q)) return true;
                q = up ? c_.takenBy(q) : c_.below(q);
            }
            return false;
        };
        return (near(c_.below(p), false) || (c_.below(p) != kNone && near(c_.left(c_.below(p)), false)) ||
                (c_.below(p) != kNone && near(c_.right(c_.below(p)), false))) &&
               near(c_.takenBy(p), true);
    }

    /// A strand of another color on its way past a stitch.
    bool isFloat(PassId p, const Cell& cell) const {
        const EntryId before = f_[p].prev;
        const EntryId after = f_[p].next;
        return !f_.isFree(p) && before && after &&
               f_[f_[p].yarn].flags.colour != f_[f_[cell.loop].yarn].flags.colour &&
               f_.run(before) == f_.run(after);
    }
    void countFloats(const Cell& cell) {
        if (cell.symbol.sight == Sight::rung || cell.symbol.sight == Sight::slipped) return;
        const StrandsId strands = f_[cell.loop].strands;
        if (!strands) return;
        for (PassId p = f_[strands].first; p; p = f_[p].passNext) {
            if (!isFloat(p, cell)) continue;
            ++facts_.floats;
            facts_.floatsInFront += f_.passSide(p) == reading_.side ? 1 : 0;
        }
    }

    /// Strands that lie at a stitch: wraps of a turn, floats.
    void strandsAt(const Cell& cell) {
        const StrandsId strands = f_[cell.loop].strands;
        if (!strands) return;
        for (PassId p = f_[strands].first; p; p = f_[p].passNext) {
            if (f_.isFree(p)) continue;
            const bool inFront = f_.passSide(p) == reading_.side;
            const EntryId after = f_[p].next;
            const bool turns =
                after && !f_.isLoop(after) && f_.passed(after) == cell.loop && f_.run(after) != f_.run(p);
            if (turns) {
                out_.add(SymptomKind::wrapLeft, cell,
                         "a bar lies round the foot of a stitch: a wrap that was left");
            } else if (isFloat(p, cell) && inFront && facts_.floatsInFront * 4 <= facts_.floats) {
                out_.add(SymptomKind::floatInFront, cell,
                         fmt::format("a strand of another {} lies before this stitch", colorIn(terms_)),
                         reading_.side == Side::right ? SeenFrom::right : SeenFrom::wrong);
            }
        }
    }

    void looseStitch(const Cell& cell) {
        const Symbol& s = cell.symbol;
        const int rungs = s.longRungs + s.shortRungs;
        if (s.edgeLoops > 0) {
            out_.add(SymptomKind::edgeLoop, cell,
                     fmt::format("a stitch stands free at the edge, {} big loop{} hanging above it",
                                 s.edgeLoops, s.edgeLoops == 1 ? "" : "s"));
        } else if (rungs > 0) {
            const char* kind = s.longRungs == 0 ? " short" : s.shortRungs == 0 ? "" : " uneven";
            out_.add(SymptomKind::ladder, cell,
                     fmt::format("a stitch stands free under a ladder of {}{} rung{}", rungs, kind,
                                 rungs == 1 ? "" : "s"));
        } else {
            out_.add(SymptomKind::freeLoop, cell, "a stitch stands free, with nothing through it");
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
        if (oneHand()) return;
        out_.add(SymptomKind::pulled, cell,
                 cell.symbol.tight ? "a stitch much tighter than its neighbours"
                                   : "a stitch much slacker than its neighbours");
    }

    /// Most stitches of the row are tight, or most are slack.
    bool oneHand() const {
        return facts_.stitches > 3 && std::max(facts_.tight, facts_.slack) * 4 > facts_.stitches * 3;
    }
    void lookAtHand(int row) {
        if (row > 0 && oneHand())
            out_.addRow(SymptomKind::pulled, row,
                        facts_.tight > facts_.slack
                            ? "the stitches of this row are all much tighter than those of the cloth"
                            : "the stitches of this row are all much slacker than those of the cloth");
    }

    void lookAtLines() {
        for (const Landmark& mark : lines_) {
            for (const LineBreak& at : mark.breaks) {
                const bool hand = mark.kind == LandmarkKind::cable ||
                                  mark.kind == LandmarkKind::rightLeaning ||
                                  mark.kind == LandmarkKind::leftLeaning;
                Symptom symptom;
                symptom.kind = hand ? SymptomKind::wrongHand : SymptomKind::lineBreaks;
                symptom.row = at.row;
                symptom.column = mark.rowFrom == mark.rowTo ? at.column : mark.column;
                symptom.words = words(mark, terms_);
                out_.all.push_back(std::move(symptom));
            }
        }
    }

    /// Several open stitches side by side.
    void lookAtOpenRows() {
        constexpr int kSeveral = 3;
        for (const ReadRow& row : reading_.rows) {
            int run = 0;
            const Cell* first = nullptr;
            const auto close = [&] {
                if (run >= kSeveral)
                    out_.addRow(
                        SymptomKind::openRow, row.row,
                        fmt::format("{} stitches side by side stand open: the needle is out of them", run),
                        first->column);
                run = 0;
            };
            for (const Cell& cell : row.cells) {
                if (cell.symbol.loose && cell.symbol.sight != Sight::slipped) {
                    if (run == 0) first = &cell;
                    ++run;
                } else {
                    close();
                }
            }
            close();
        }
    }

    /// A ridge inside cloth of V's: three rows to either side without one.
    void lookAtRidges() {
        constexpr int kApart = 4;
        std::vector<int> rows;
        for (const Landmark& mark : lines_) {
            if (mark.kind == LandmarkKind::ridge) rows.push_back(mark.rowFrom);
        }
        std::sort(rows.begin(), rows.end());
        if (rows.size() != 1 || c_.rows() < 2 * kApart) return;
        const int row = rows[0];
        const auto isV = [&](int r) {
            if (r < 1 || r >= c_.rows()) return true;
            return std::all_of(reading_.rows[static_cast<std::size_t>(r)].cells.begin(),
                               reading_.rows[static_cast<std::size_t>(r)].cells.end(), [](const Cell& c) {
                                   return c.symbol.face == Face::v && c.symbol.sight == Sight::stitch;
                               });
        };
        for (int r = row - kApart + 1; r < row + kApart; ++r) {
            if (r != row && !isV(r)) return;
        }
        if (row < kApart || row > c_.rows() - kApart) return;
        out_.addRow(SymptomKind::ridge, row, "a row of bumps runs across the V's");
    }

    void lookAtEdges() {
        const bool turns = std::any_of(lines_.begin(), lines_.end(),
                                       [](const Landmark& m) { return m.kind == LandmarkKind::turn; });
        if (turns) return;  // stitches that waited at a turn are tall, and are meant to be
        for (const Landmark& mark : lines_) {
            if (mark.kind != LandmarkKind::edge || mark.rowFrom == mark.rowTo) continue;
            if (mark.selvedge == Selvedge::slipped) continue;
            const Cell* tall = nullptr;
            int talls = 0;
            int rows = 0;
            for (const ReadRow& row : reading_.rows) {
                if (row.row < 1 || row.cells.empty()) continue;
                if ((mark.left ? row.waitingLeft : row.waitingRight) > 0) continue;
                const Cell& cell = mark.left ? row.cells.back() : row.cells.front();
                ++rows;
                if (cell.symbol.tall == 0 || cell.symbol.sight == Sight::slipped) continue;
                tall = &cell;
                ++talls;
            }
            constexpr int kFew = 5;
            if (talls == 1 && rows >= kFew)
                out_.add(SymptomKind::tallEdge, *tall,
                         fmt::format("one tall stitch at the {} edge, {} rows high",
                                     mark.left ? "left" : "right", tall->symbol.tall + 1));
        }
    }

    const Fabric& f_;
    const Reading& reading_;
    Columns c_;
    Terms terms_;
    RowFacts facts_;
    std::vector<Landmark> lines_;
    CellsByLoop cells_;
    SymptomList out_;
};

}  // namespace

std::string_view name(SymptomKind kind) {
    constexpr std::string_view kNames[] = {
        "ladder",       "free-loop",    "edge-loop",    "lone-hole",      "lone-bump",     "lone-v",
        "crossed-feet", "two-into-one", "extra-column", "tall-stitch",    "wrong-hand",    "line-breaks",
        "turned",       "split",        "pulled",       "open-row",       "ridge",         "thick-join",
        "wrong-stack",  "open-made",    "wrap-left",    "float-in-front", "tight-float",   "slit",
        "lone-color",   "tall-edge",    "band",         "yarn-ends",      "twisted-round", "picked-up-ridge"};
    return kNames[static_cast<std::size_t>(kind)];
}

std::string_view name(SeenFrom seen) {
    return seen == SeenFrom::right ? "rs" : seen == SeenFrom::wrong ? "ws" : "both";
}

std::vector<Symptom> symptoms(const Fabric& fabric, const Reading& reading, Terms terms) {
    return Looker(fabric, reading, terms).run();
}

}  // namespace loopmend
