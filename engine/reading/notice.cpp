// SPDX-License-Identifier: MIT
#include "reading/notice.h"

#include <algorithm>
#include <array>

#include <fmt/format.h>

#include "reading/landmarks.h"
#include "reading/read.h"

namespace loopmend {

namespace {

constexpr std::size_t kCues = static_cast<std::size_t>(Cue::other) + 1;

/// A row in which the hands need no looking: one face all over, slipped edges allowed.
bool isPlain(const ReadRow& row) {
    const Cell* first = nullptr;
    for (std::size_t i = 0; i < row.cells.size(); ++i) {
        const Symbol& s = row.cells[i].symbol;
        const bool edge = i == 0 || i + 1 == row.cells.size();
        if (edge && s.sight == Sight::slipped) continue;
        if (s.sight == Sight::rung) continue;
        if (s.sight != Sight::stitch || s.twist != 0 || s.sisters != 1 || s.crossing != Lean::none ||
            s.boundOff)
            return false;
        if (first == nullptr) first = &row.cells[i];
        if (s.face != first->symbol.face) return false;
    }
    return true;
}

/// Everything that shows at its own place but what stands free; how tall a stitch is shows in the rows above.
bool sameSight(const Symbol& a, const Symbol& b) {
    Symbol x = a;
    Symbol y = b;
    x.tall = y.tall = 0;
    x.strandsBehind = y.strandsBehind = 0;
    x.strandsInFront = y.strandsInFront = 0;
    return looksAlike(x, y);
}

std::vector<const Cell*> worked(const ReadRow& row) {
    std::vector<const Cell*> cells(row.cells.size(), nullptr);
    std::size_t n = 0;
    for (const Cell& cell : row.cells) {
        if (cell.stitch < 1) continue;
        cells[static_cast<std::size_t>(cell.stitch) - 1] = &cell;
        ++n;
    }
    cells.resize(n);
    return cells;
}

/// Stitches at the end of a row when it was worked: what came out later was there.
int stitchesThen(const ReadRow& row) {
    return row.stitches + row.cameOut;
}

class Comparer {
  public:
    Comparer(const Fabric& meant, const Fabric& actual, Terms terms, Attention attention)
        : meantFabric_(meant),
          actualFabric_(actual),
          terms_(terms),
          attention_(attention),
          meant_(readFrom(meant, Side::right)),
          actual_(readFrom(actual, Side::right)) {
        last_ = static_cast<int>(actual_.rows.size()) - 1;
        rows_ = std::min(meant_.rows.size(), actual_.rows.size());
        for (const ReadRow& row : meant_.rows) plain_.push_back(isPlain(row));
    }

    std::vector<Notice> run() {
        for (std::size_t r = 1; r < rows_; ++r) {
            // Behind a turn that was not meant no row lies beside its own any more.
            if (compareTurns(static_cast<int>(r))) break;
            compareRow(static_cast<int>(r));
        }
        looseStitches();
        brokenLines();
        const auto found = [](const std::optional<Notice>& n) { return n.has_value(); };
        if (std::none_of(first_.begin(), first_.end(), found)) whatElseShows();
        std::vector<Notice> all;
        for (const std::optional<Notice>& n : first_) {
            if (n) all.push_back(*n);
        }
        std::stable_sort(all.begin(), all.end(), [](const Notice& a, const Notice& b) {
            return a.row != b.row ? a.row < b.row : a.visibility > b.visibility;
        });
        return all;
    }

  private:
    const ReadRow& meant(int row) const { return meant_.rows[static_cast<std::size_t>(row)]; }
    const ReadRow& actual(int row) const { return actual_.rows[static_cast<std::size_t>(row)]; }
    bool plain(int row) const { return plain_[static_cast<std::size_t>(row)]; }

    void notice(int row, Cue cue, Visibility visibility, int seenRow, int seenStitch, std::string text,
                SeenFrom seenFrom = SeenFrom::both) {
        if (row < 0) return;
        const bool hidden = attention_.looksAt != SeenFrom::both && seenFrom != SeenFrom::both &&
                            attention_.looksAt != seenFrom;
        if (hidden) return;
        std::optional<Notice>& first = first_[static_cast<std::size_t>(cue)];
        if (first && (first->row < row || (first->row == row && first->visibility >= visibility))) return;
        first = Notice{row, cue, visibility, seenRow, seenStitch, std::move(text), seenFrom};
    }

    /// The next row in which something has to be set upon this one; -1 if she has not come to it.
    int nextPattern(int row) const {
        for (int r = row + 1; r < static_cast<int>(rows_); ++r) {
            if (!plain(r)) return r;
        }
        return -1;
    }
    /// The row that meets what is different here; this row itself while nothing stands on it.
    int nextRow(int row) const { return std::min(row + 1, last_); }

    /// Where she compares the repeats of a pattern row, it is seen in its own row.
    int nextPatternFor(int row) const {
        return attention_.comparesRepeats && !plain(row) ? row : nextPattern(row);
    }
    int nextRowFor(int row) const { return attention_.comparesRepeats && !plain(row) ? row : nextRow(row); }
    /// Feet and leans lie open where the stitch is a V.
    static SeenFrom vSide(const Symbol& s) { return s.face == Face::v ? SeenFrom::right : SeenFrom::wrong; }

    /// A row that the yarn did not work to its end, or that begins in the middle.
    bool compareTurns(int row) {
        const ReadRow& a = meant(row);
        const ReadRow& b = actual(row);
        if (a.waitingLeft == b.waitingLeft && a.waitingRight == b.waitingRight) return false;
        if (row == last_) return false;  // not done yet
        notice(row, Cue::turn, Visibility::plain, row, 1,
               fmt::format("row {} is turned where it should not be, or not where it should", row));
        return true;
    }

    void compareRow(int row) {
        const int more = stitchesThen(actual(row)) - stitchesThen(meant(row));
        if (more != 0) {
            notice(row, Cue::count, Visibility::ifLookedFor, row, 0,
                   fmt::format("{} stitches where {} should be: {}", actual(row).stitches,
                               meant(row).stitches, shortOrOver(more)));
        }
        const int before = stitchesThen(actual(row - 1)) - stitchesThen(meant(row - 1));
        if (before != 0 && !plain(row)) {
            notice(row, Cue::rowDoesNotFit, Visibility::plain, row, 0,
                   fmt::format("row {} does not fit: {}", row, shortOrOver(before)));
        }
        if (actual(row).cameOut != meant(row).cameOut) return;  // what came out is told where it stands free
        const std::vector<const Cell*> a = worked(meant(row));
        const std::vector<const Cell*> b = worked(actual(row));
        compareHoles(row, a, b);
        if (before == 0 && a.size() == b.size()) {
            compareHolesMoved(row, a, b);
            for (std::size_t i = 0; i < a.size(); ++i) {
                if (!sameSight(a[i]->symbol, b[i]->symbol)) compareCells(row, *a[i], *b[i]);
            }
            return;
        }
        // Rows of different length: the first place that differs, from each end.
        const std::size_t n = std::min(a.size(), b.size());
        std::size_t i = 0;
        while (i < n && sameSight(a[i]->symbol, b[i]->symbol)) ++i;
        if (i < n) compareCells(row, *a[i], *b[i]);
        if (before != 0 && i < n && !plain(row)) {
            notice(row, Cue::wrongColumn, Visibility::plain, row, b[i]->stitch,
                   fmt::format("the pattern of row {} stands over other stitches from stitch {} on", row,
                               b[i]->stitch));
        }
    }

    static std::string shortOrOver(int more) {
        return fmt::format("{} {}", more < 0 ? -more : more, more < 0 ? "short" : "over");
    }

    static int holes(const std::vector<const Cell*>& cells) {
        return static_cast<int>(std::count_if(cells.begin(), cells.end(),
                                              [](const Cell* c) { return c->symbol.sight == Sight::hole; }));
    }

    void compareHoles(int row, const std::vector<const Cell*>& a, const std::vector<const Cell*>& b) {
        const int more = holes(b) - holes(a);
        if (more == 0) return;
        const auto isHole = [](const Cell* c) { return c->symbol.sight == Sight::hole; };
        const std::size_t n = std::min(a.size(), b.size());
        std::size_t i = 0;
        while (i < n && isHole(a[i]) == isHole(b[i])) ++i;
        const int stitch = static_cast<int>(i) + 1;
        if (more < 0) {
            notice(nextPatternFor(row), Cue::holeMissing, Visibility::ifLookedFor, row, stitch,
                   fmt::format("a hole is missing in row {}", row));
        } else {
            // In a plain ground the next row meets a strand that no stitch was left for.
            const bool ground = holes(a) == 0;
            notice(ground ? nextRow(row) : nextPatternFor(row), Cue::holeExtra,
                   ground ? Visibility::plain : Visibility::ifLookedFor, row, stitch,
                   fmt::format("row {} has a hole too many", row));
        }
    }

    /// As many holes as there should be, one of them over another stitch.
    void compareHolesMoved(int row, const std::vector<const Cell*>& a, const std::vector<const Cell*>& b) {
        if (holes(a) != holes(b)) return;
        for (std::size_t i = 0; i < a.size(); ++i) {
            if ((a[i]->symbol.sight == Sight::hole) == (b[i]->symbol.sight == Sight::hole)) continue;
            notice(nextPatternFor(row), Cue::holeMissing, Visibility::ifLookedFor, row, b[i]->stitch,
                   fmt::format("a hole of row {} stands over another stitch", row));
            return;
        }
    }

    void compareCells(int row, const Cell& a, const Cell& b) {
        const Symbol& x = a.symbol;
        const Symbol& y = b.symbol;
        if (y.sight == Sight::rung || x.sight == Sight::hole || y.sight == Sight::hole) return;
        const int stitch = b.stitch;
        if (x.sight == Sight::tuck || y.sight == Sight::tuck) {
            // The loose strand below it is of the same stitch.
            const bool strandOnly = x.bases == 0 || y.bases == 0;
            if (!strandOnly) {
                notice(nextRow(row), Cue::strand, Visibility::ifLookedFor, row, stitch,
                       fmt::format("a stitch of row {} goes into the one below", row));
            }
            return;
        }
        const bool joinedOne =
            (x.sight == Sight::together) != (y.sight == Sight::together) || x.bases != y.bases;
        if (joinedOne && x.sight != Sight::slipped && y.sight != Sight::slipped) {
            const int at = nextPatternFor(row);
            const bool more = y.bases > x.bases;
            notice(at < 0 ? nextRow(row) : at, Cue::joined, Visibility::ifLookedFor, row, stitch,
                   more ? fmt::format("in row {} stitches grow together that should not", row)
                        : fmt::format("in row {} stitches do not grow together that should", row));
            return;
        }
        if (x.sight == Sight::slipped || y.sight == Sight::slipped) {
            notice(
                nextRow(row), Cue::strand, Visibility::ifLookedFor, row, stitch,
                fmt::format("row {} has a tall stitch or a strand where it should not, or lacks one", row));
            return;
        }
        if (x.crossing != y.crossing || x.crossesOver != y.crossesOver) {
            notice(row, Cue::crossing, Visibility::ifLookedFor, row, stitch,
                   y.crossing == Lean::none ? fmt::format("row {} lacks a crossing", row)
                   : x.crossing == Lean::none
                       ? fmt::format("row {} has a crossing too many", row)
                       : fmt::format("the crossing of row {} leans the other way", row));
            return;
        }
        if (x.face != y.face) {
            // Among stitches of the other face it is met on the very next row.
            const bool even = plain(row);
            notice(attention_.readsNecks ? row : nextRowFor(row), Cue::face,
                   even ? Visibility::plain : Visibility::ifLookedFor, row, stitch,
                   fmt::format("a {} for a {} in row {}", y.face == Face::bump ? "bump" : "V",
                               x.face == Face::bump ? "bump" : "V", row));
            return;
        }
        if (x.lean != y.lean || x.stack != y.stack) {
            const bool spine = x.lean == Lean::upright;
            notice(row, Cue::lean, spine ? Visibility::ifLookedFor : Visibility::rare, row, stitch,
                   fmt::format("a decrease of row {} leans another way", row), vSide(y));
            return;
        }
        if (x.sisters != y.sisters || x.sister != y.sister || x.sight != y.sight) {
            notice(nextRow(row), Cue::column, Visibility::ifLookedFor, row, stitch,
                   fmt::format("a column begins in row {} where none should, or none begins where one should",
                               row));
            return;
        }
        if (x.sight == Sight::made && (x.twist == 0) != (y.twist == 0)) {
            notice(nextRow(row), y.twist == 0 ? Cue::holeExtra : Cue::holeMissing, Visibility::ifLookedFor,
                   row, stitch,
                   fmt::format("a stitch made in row {} {}", row,
                               y.twist == 0 ? "leaves a small hole" : "leaves no hole"));
            return;
        }
        if (x.twist != y.twist || x.twists != y.twists) {
            notice(row, Cue::twist, Visibility::rare, row - 1, 0,
                   fmt::format(
                       "feet are crossed that should not be, or open that should be crossed: seen in row {}",
                       row - 1),
                   vSide(y));
            return;
        }
        if (x.colour != y.colour) {
            notice(nextRow(row), Cue::color, Visibility::ifLookedFor, row, stitch,
                   fmt::format("stitch {} of row {} is of another color", stitch, row));
            return;
        }
        notice(nextRow(row), Cue::other, Visibility::ifLookedFor, row, stitch,
               fmt::format("row {} looks different at stitch {}", row, stitch));
    }

    void looseStitches() {
        // Loose stitches that were meant to be (a needle pulled out in both) are no difference.
        if (actual_.loose.size() <= meant_.loose.size()) return;
        for (const ReadRow& row : actual_.rows) {
            for (const Cell& cell : row.cells) {
                const Symbol& s = cell.symbol;
                if (!s.loose || s.sight == Sight::slipped) continue;
                const int longs = s.longRungs + s.edgeLoops;
                if (longs > 0) {
                    notice(last_, Cue::ladder, Visibility::plain, row.row, cell.stitch,
                           fmt::format("a ladder stands above row {}", row.row));
                } else {
                    // It shows in the row that went on without it.
                    notice(std::min(row.row + 1, last_), Cue::freeLoop,
                           row.row == last_ ? Visibility::plain : Visibility::ifLookedFor, row.row,
                           cell.stitch, fmt::format("a stitch of row {} stands free", row.row));
                }
            }
        }
    }

    void brokenLines() {
        std::vector<std::pair<LandmarkKind, int>> known;
        for (const Landmark& mark : landmarks(meantFabric_, meant_)) {
            for (const int row : mark.breaksAt) known.emplace_back(mark.kind, row);
        }
        std::sort(known.begin(), known.end());
        for (const Landmark& mark : landmarks(actualFabric_, actual_)) {
            for (const int row : mark.breaksAt) {
                if (std::binary_search(known.begin(), known.end(), std::pair{mark.kind, row})) continue;
                // A hole or a decrease that is not there is missed when the pattern comes again; the next row
                // of a rib does not find its knits and purls; a spine jumps itself.
                const bool stitches =
                    mark.kind == LandmarkKind::eyelets || mark.kind == LandmarkKind::eyeletRow ||
                    mark.kind == LandmarkKind::rightLeaning || mark.kind == LandmarkKind::leftLeaning;
                const int at = stitches ? nextPatternFor(row)
                               : mark.kind == LandmarkKind::rib && !attention_.readsNecks ? nextRow(row)
                                                                                          : row;
                // One decrease that leans otherwise shows only to who looks along their line.
                const bool faint =
                    mark.kind == LandmarkKind::rightLeaning || mark.kind == LandmarkKind::leftLeaning;
                notice(at, Cue::landmark, faint ? Visibility::ifLookedFor : Visibility::plain, row, 0,
                       words(mark, terms_));
            }
        }
    }

    /// Every stitch is there and looks as it should: what catches the eye all the same, and should not.
    void whatElseShows() {
        const std::vector<Symptom> were = symptoms(meantFabric_, meant_, terms_);
        for (const Symptom& s : symptoms(actualFabric_, actual_, terms_)) {
            const auto same = [&](const Symptom& t) {
                return t.kind == s.kind && t.row == s.row && t.stitch == s.stitch;
            };
            if (std::any_of(were.begin(), were.end(), same)) continue;
            notice(nextRow(s.row), Cue::other, Visibility::ifLookedFor, s.row, s.stitch, s.words, s.seenFrom);
        }
        const auto ringed = [](const Fabric& fabric) {
            int pins = 0;
            for (std::int32_t t = 0; t < fabric.toolCount(); ++t) {
                const Tool& tool = fabric[ToolId{t}];
                pins += tool.kind == ToolKind::pin && tool.first ? 1 : 0;
            }
            return pins;
        };
        if (ringed(actualFabric_) <= ringed(meantFabric_)) return;
        for (const ReadRow& row : actual_.rows) {
            for (const Cell& cell : row.cells) {
                for (HeldId h = actualFabric_[cell.loop].held; h; h = actualFabric_[h].alsoHeld) {
                    if (actualFabric_[actualFabric_[h].tool].kind != ToolKind::pin) continue;
                    notice(nextRow(row.row), Cue::other, Visibility::plain, row.row, cell.stitch,
                           fmt::format("a ring is shut in round stitch {} of row {}", cell.stitch, row.row));
                }
            }
        }
    }

    const Fabric& meantFabric_;
    const Fabric& actualFabric_;
    Terms terms_;
    Attention attention_;
    Reading meant_;
    Reading actual_;
    std::size_t rows_ = 0;
    int last_ = 0;
    std::vector<bool> plain_;
    std::array<std::optional<Notice>, kCues> first_;
};

}  // namespace

std::string_view name(Cue cue) {
    constexpr std::array<std::string_view, kCues> kNames = {"count",         "row-does-not-fit",
                                                            "wrong-column",  "hole-missing",
                                                            "hole-extra",    "face",
                                                            "free-loop",     "ladder",
                                                            "joined",        "landmark",
                                                            "strand",        "crossing",
                                                            "column-begins", "lean",
                                                            "twist",         "color",
                                                            "turn",          "other"};
    return kNames[static_cast<std::size_t>(cue)];
}

std::vector<Notice> noticeable(const Fabric& meant, const Fabric& actual, Terms terms, Attention attention) {
    return Comparer(meant, actual, terms, attention).run();
}

std::optional<Notice> firstNoticeable(const Fabric& meant, const Fabric& actual, Attention attention,
                                      Terms terms) {
    const std::vector<Notice> all = noticeable(meant, actual, terms, attention);
    for (const Notice& n : all) {
        if (n.visibility != Visibility::rare && (n.cue != Cue::count || attention.counts)) return n;
    }
    for (const Notice& n : all) {
        if (n.cue == Cue::count) return n;
    }
    if (!all.empty()) return all.front();
    return std::nullopt;
}

}  // namespace loopmend
