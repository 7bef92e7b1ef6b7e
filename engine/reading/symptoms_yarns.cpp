// SPDX-License-Identifier: MIT
#include "reading/symptoms_yarns.h"

#include <algorithm>

#include <fmt/format.h>

namespace loopmend {

namespace {

class YarnLooker {
  public:
    YarnLooker(const Fabric& fabric, const Reading& reading, const CellsByLoop& cells,
               const std::vector<Landmark>& lines, Terms terms, SymptomList& out)
        : f_(fabric), reading_(reading), cells_(cells), lines_(lines), terms_(terms), out_(out) {}

    void run() {
        lookAtTurns();
        lookAtBands();
        lookAtYarns();
    }

  private:
    /// From a row on all plain stitches are larger or smaller.
    void lookAtBands() {
        constexpr std::size_t kRows = 3;
        std::vector<double> mean;
        std::vector<int> rowOf;
        for (const ReadRow& row : reading_.rows) {
            std::int64_t um = 0;
            std::int64_t usual = 0;
            for (const Cell& cell : row.cells) {
                const Symbol& s = cell.symbol;
                if (row.row < 1 || s.sight != Sight::stitch || s.sisters > 1 || s.tall > 0 || s.loose)
                    continue;
                um += f_[cell.loop].um;
                usual += f_[f_[cell.loop].yarn].loopUm;
            }
            if (usual == 0) continue;
            mean.push_back(static_cast<double>(um) / static_cast<double>(usual));
            rowOf.push_back(row.row);
        }
        if (mean.size() < 2 * kRows) return;
        for (std::size_t i = kRows; i + kRows <= mean.size(); ++i) {
            double below = 0;
            double above = 0;
            bool steady = true;
            for (std::size_t k = 0; k < kRows; ++k) {
                below += mean[i - 1 - k] / kRows;
                above += mean[i + k] / kRows;
            }
            for (std::size_t k = 0; k < kRows; ++k) {
                steady = steady && mean[i - 1 - k] < below * 1.02 && mean[i - 1 - k] > below * 0.98 &&
                         mean[i + k] < above * 1.02 && mean[i + k] > above * 0.98;
            }
            if (!steady || (above < below * 1.06 && above > below * 0.94)) continue;
            out_.addRow(SymptomKind::band, rowOf[i],
                        fmt::format("from row {} on all stitches are {}", rowOf[i],
                                    above > below ? "larger" : "smaller"));
            return;
        }
    }

    void lookAtYarns() {
        for (std::int32_t j = 0; j < f_.joinCount(); ++j) {
            if (f_[JoinId{j}].twist != 0 && f_.has(f_[JoinId{j}].loop)) {
                out_.addRow(SymptomKind::twistedRound, 1,
                            "the cast-on winds about the needle: the round was joined twisted");
                break;
            }
        }
        if (f_.yarnCount() < 2) return;
        lookAtFloats();
        lookAtEnds();
        lookAtSlits();
    }

    void lookAtFloats() {
        for (std::int32_t y = 0; y < f_.yarnCount(); ++y) {
            const Yarn& yarn = f_[YarnId{y}];
            if (yarn.flags.gone != 0) continue;
            for (EntryId e = yarn.first; e;) {
                const EntryId from = e;
                e = f_[e].next;
                if (!f_.isLoop(from)) continue;
                std::int64_t passes = 0;
                bool straight = true;
                for (; e && !f_.isLoop(e); e = f_[e].next) {
                    passes += f_.isFree(e) ? 0 : 1;
                    straight = straight && f_.run(e) == f_.run(from);
                }
                if (passes < 2 || !straight || !e) continue;
                // Each stitch that is passed takes a strand's length; less puckers (a third is plain to see).
                if (std::int64_t{f_[from].strandUm} * 3 < (passes + 1) * yarn.strandUm * 2) {
                    const Cell* cell = cells_.of(from);
                    if (cell != nullptr)
                        out_.add(
                            SymptomKind::tightFloat, *cell,
                            fmt::format("a strand over {} stitches is too short: the cloth puckers", passes));
                }
            }
        }
    }

    /// Ends inside a row; those at an edge are woven in there and trouble nobody.
    void lookAtEnds() {
        for (std::int32_t y = 0; y < f_.yarnCount(); ++y) {
            const Yarn& yarn = f_[YarnId{y}];
            if (yarn.flags.gone != 0) continue;
            bool ball = false;
            const auto see = [&](EntryId e, bool begins) {
                const Cell* cell = cells_.of(e);
                if (cell == nullptr || cell->row == 0 || cell->symbol.live) return;
                const ReadRow& row = reading_.rows[static_cast<std::size_t>(cell->row)];
                if (&row.cells.front() == cell || &row.cells.back() == cell || row.round) return;
                // Beside a stitch of the same color: the yarn itself was broken or joined.
                const std::size_t at = static_cast<std::size_t>(cell - row.cells.data());
                const Symbol& right = row.cells[at - 1].symbol;
                const Symbol& left = row.cells[at + 1].symbol;
                if (right.colour != cell->symbol.colour || left.colour != cell->symbol.colour) return;
                out_.add(SymptomKind::yarnEnds, *cell,
                         begins ? "a yarn begins in the middle of this row"
                                : "a yarn ends in the middle of this row",
                         SeenFrom::wrong);
            };
            ball = yarn.flags.ball != 0;
            if (y > 0) see(yarn.first, true);
            if (!ball) see(yarn.last, false);
        }
    }

    /// Where two blocks meet: each yarn turns there, and neither goes round the other.
    void lookAtSlits() {
        for (const Landmark& mark : lines_) {
            if (mark.kind != LandmarkKind::colours || mark.rowFrom == mark.rowTo) continue;
            int open = 0;
            int first = 0;
            const int column = mark.column;
            if (!onOneRow(mark)) continue;
            for (int row = mark.rowFrom; row <= mark.rowTo; ++row) {
                const Cell* right = nullptr;
                const Cell* left = nullptr;
                for (const Cell& cell : reading_.rows[static_cast<std::size_t>(row)].cells) {
                    if (cell.column == column) right = &cell;
                    if (cell.column == column + 1) left = &cell;
                }
                const bool apart = right != nullptr && left != nullptr && turnsBeside(*right, true) &&
                                   turnsBeside(*left, false);
                if (apart) {
                    if (open == 0) first = row;
                    ++open;
                }
            }
            constexpr int kFew = 4;
            if (open >= kFew)
                out_.addRow(SymptomKind::slit, first,
                            fmt::format("an upright slit between two {}s, {} rows high: nothing crosses it",
                                        colorIn(terms_), open),
                            column);
        }
    }
    /// What meets there stands on one row: else two pieces only hang side by side.
    bool onOneRow(const Landmark& mark) const {
        const Cell* right = nullptr;
        const Cell* left = nullptr;
        for (const Cell& cell : reading_.rows[static_cast<std::size_t>(mark.rowFrom)].cells) {
            if (cell.column == mark.column) right = &cell;
            if (cell.column == mark.column + 1) left = &cell;
        }
        if (right == nullptr || left == nullptr) return false;
        const LinkId a = f_[right->loop].firstLink;
        const LinkId b = f_[left->loop].firstLink;
        if (!a || !b) return false;
        const LoopId x = f_[a].host;
        const LoopId y = f_[b].host;
        return f_.loopBefore(x) == y || f_.loopBefore(y) == x;
    }
    /// The yarn of a stitch turns on that side of it, and lies round nothing there.
    bool turnsBeside(const Cell& cell, bool leftSide) const {
        if (cell.symbol.sight == Sight::rung || cell.symbol.sight == Sight::slipped) return false;
        const bool leftward = f_.run(cell.loop) == Run::leftward;
        const EntryId beside = leftward == leftSide ? f_[cell.loop].next : f_[cell.loop].prev;
        if (!beside) return false;
        return f_.isLoop(beside) && f_.run(beside) != f_.run(cell.loop);
    }

    void lookAtTurns() {
        for (const ReadRow& row : reading_.rows) {
            const bool fromRight = (row.facing == Facing::right) != reading_.mirrored;
            const int before = fromRight ? row.waitingRight : row.waitingLeft;
            if (row.row == 0 || before == 0 || !turnedBefore(row)) continue;
            out_.addRow(SymptomKind::turned, row.row,
                        fmt::format("the row begins past {} stitch{}: the work was turned in mid-row", before,
                                    before == 1 ? "" : "es"));
        }
    }
    /// Whether the row below ended in the middle of a row: beside what it stands on, there are stitches of
    /// the same row that wait. (Else another piece hangs on the needle there, or stitches were put on it.)
    bool turnedBefore(const ReadRow& row) const {
        const Cell* last = nullptr;
        for (const Cell& cell : reading_.rows[static_cast<std::size_t>(row.row) - 1].cells) {
            if (last == nullptr || cell.stitch > last->stitch) last = &cell;
        }
        if (last == nullptr) return false;
        for (const Cell& cell : row.cells) {  // cast on anew, or bound off
            if (cell.symbol.chained || (cell.stitch == 1 && cell.symbol.sight == Sight::castOn)) return false;
        }
        const auto waits = [&](LoopId loop) {
            if (!loop || f_[loop].flags.anchored != 0) return false;
            for (LinkId k = f_[loop].firstKid; k; k = f_[k].nextInHost) {
                const Cell* kid = cells_.of(f_[k].loop);
                if (kid != nullptr && kid->row <= row.row) return false;
            }
            return true;
        };
        const auto beside = [&](LoopId base) {
            EntryId next = f_[base].next;
            while (next && !f_.isLoop(next)) next = f_[next].next;
            const LoopId before = f_.loopBefore(base);
            const Run run = f_.run(base);
            return (next && f_.run(next) == run && waits(next)) ||
                   (before && f_.run(before) == run && waits(before));
        };
        if (last->symbol.sight == Sight::slipped && beside(last->loop)) return true;
        for (LinkId l = f_[last->loop].firstLink; l; l = f_[l].nextInLoop) {
            if (beside(f_[l].host)) return true;
        }
        // A turn that lays its yarn over the needle, or round the next stitch, first.
        return !f_[last->loop].firstLink || f_[last->loop].strands;
    }

    const Fabric& f_;
    const Reading& reading_;
    const CellsByLoop& cells_;
    const std::vector<Landmark>& lines_;
    Terms terms_;
    SymptomList& out_;
};

}  // namespace

CellsByLoop::CellsByLoop(const Fabric& fabric, const Columns& columns)
    : f_(fabric), cell_(static_cast<std::size_t>(fabric.entryCount()), nullptr) {
    for (Columns::Place p = 0; p < columns.count(); ++p) {
        const Cell& cell = columns.cell(p);
        if (cell.symbol.sight != Sight::slipped && cell.symbol.sight != Sight::rung)
            cell_[static_cast<std::size_t>(cell.loop.value)] = &cell;
    }
}

const Cell* CellsByLoop::of(EntryId entry) const {
    return entry && f_.isLoop(entry) ? cell_[static_cast<std::size_t>(entry.value)] : nullptr;
}

void yarnSymptoms(const Fabric& fabric, const Reading& reading, const CellsByLoop& cells,
                  const std::vector<Landmark>& lines, Terms terms, SymptomList& out) {
    YarnLooker(fabric, reading, cells, lines, terms, out).run();
}

}  // namespace loopmend
