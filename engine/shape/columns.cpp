// SPDX-License-Identifier: MIT
#include "shape/columns.h"

#include <algorithm>

#include "fabric/floats.h"

namespace loopmend {

namespace {

std::size_t at(EntryId e) {
    return static_cast<std::size_t>(e.value);
}

class Sweep {
  public:
    Sweep(const Fabric& fabric, const Rows& rows) : f_(fabric), rows_(rows) {
        const auto n = static_cast<std::size_t>(fabric.entryCount());
        out_.ofRow.assign(n, Rows::kNotPlaced);
        out_.height.assign(n, 0);
        out_.slips.assign(n, 0);
        out_.tied.assign(n, EntryId{});
        out_.over.assign(n, LoopId{});
        out_.begins.assign(n, false);
        out_.joins.assign(n, EntryId{});
        out_.copies.assign(n, LoopId{});
        out_.behind.assign(n, LoopId{});
        out_.besideHost.assign(n, false);
        column_.assign(n, kNone);
        done_.assign(static_cast<std::size_t>(fabric.crossingCount()), false);
    }

    ColumnGrid run() {
        numberRows();
        noteFaceToFace();
        stackPasses();
        for (SweptRow& row : out_.rows) {
            for (std::size_t i = 0; i < row.entries.size(); ++i) {
                if (f_.isLoop(row.entries[i])) {
                    layLoop(row, i);
                } else {
                    layPass(row.entries[i]);
                }
            }
            noteNeighbours(row);
            noteCrossings(row);
        }
        return std::move(out_);
    }

  private:
    static constexpr int kNone = -1;

    /// A place in the order: the live loop that stands there and what was laid there last.
    struct Column {
        LoopId top;
        EntryId face;
        int right = kNone;
        int left = kNone;
        int gapOnLeft = 0;  ///< columns bound off between it and its left neighbour
    };

    void numberRows() {
        std::int32_t lowest = 0;
        std::int32_t highest = 0;
        for (std::int32_t y = 0; y < f_.yarnCount(); ++y) {
            const Yarn& yarn = f_[YarnId{y}];
            if (yarn.flags.gone != 0) continue;
            std::int32_t row = 0;
            Run run = Run::leftward;
            bool started = false;
            for (EntryId e = yarn.first; e; e = f_[e].next) {
                if (f_.isLoop(e) && f_.isNothing(e)) continue;
                const std::int32_t placed = rows_[e];
                if (placed != Rows::kNotPlaced) {
                    row = placed;
                } else if (started && (f_.run(e) != run || passesOwnRow(e, row))) {
                    ++row;  // a mark beyond a turn, or beyond the end of a round
                } else if (!started) {
                    row = nextPlaced(e);
                }
                run = f_.run(e);
                started = true;
                out_.ofRow[at(e)] = row;
                lowest = std::min(lowest, row);
                highest = std::max(highest, row);
            }
        }
        for (std::int32_t y = 0; y < f_.yarnCount(); ++y) {
            if (f_[YarnId{y}].flags.gone == 0) gatherPickedUp(YarnId{y});
        }
        out_.rows.resize(static_cast<std::size_t>(highest - lowest + 1));
        for (std::int32_t r = lowest; r <= highest; ++r)
            out_.rows[static_cast<std::size_t>(r - lowest)].row = r;
        for (std::int32_t y = 0; y < f_.yarnCount(); ++y) {
            if (f_[YarnId{y}].flags.gone != 0) continue;
            for (EntryId e = f_[YarnId{y}].first; e; e = f_[e].next) {
                if (out_.row(e) == Rows::kNotPlaced) continue;
                if (!caughtAcross(e))
                    out_.rows[static_cast<std::size_t>(out_.row(e) - lowest)].entries.push_back(e);
            }
        }
        // Where a float is caught it lies over a stitch of its own row, which another yarn makes.
        for (std::int32_t i = 0; i < f_.entryCount(); ++i) {
            const EntryId e{i};
            if (!f_.has(e) || out_.row(e) == Rows::kNotPlaced || !caughtAcross(e)) continue;
            out_.rows[static_cast<std::size_t>(out_.row(e) - lowest)].entries.push_back(e);
        }
    }

    /// Drawn through one loop to the one side and through another to the other.
    void noteFaceToFace() {
        for (std::int32_t i = 0; i < f_.entryCount(); ++i) {
            const EntryId loop{i};
            if (!f_.has(loop) || !f_.isLoop(loop)) continue;
            LinkId through[2];
            int n = 0;
            for (LinkId l = f_[loop].firstLink; l && n < 3; l = f_[l].nextInLoop) {
                if (out_.row(f_[l].host) == out_.row(loop)) continue;
                if (n < 2) through[n] = l;
                ++n;
            }
            if (n != 2 || f_[through[0]].form.side == f_[through[1]].form.side) continue;
            const bool opening =
                f_[through[0]].form.part == Part::opening && f_[through[1]].form.part == Part::opening;
            if (opening) out_.behind[at(loop)] = f_[through[0]].host;
        }
    }

    /// It goes by a loop of this row, or by one that the yarn went by in this row before.
    bool passesOwnRow(EntryId e, std::int32_t row) const {
        if (f_.isLoop(e)) return false;
        const LoopId passed = f_.passed(e);
        if (out_.row(passed) == row) return true;
        const EntryId prev = f_[e].prev;
        if (prev && !f_.isLoop(prev) && f_.passed(prev) == passed) return false;
        for (PassId p = f_[f_[passed].strands].first; p; p = f_[p].passNext) {
            if (p != e && f_[p].yarn == f_[e].yarn && f_.run(p) == f_.run(e) && out_.row(p) == row)
                return true;
        }
        return false;
    }

    bool pickedUp(EntryId e) const {
        return f_.isLoop(e) && f_[e].firstLink && f_[f_[e].firstLink].form.part != Part::opening;
    }

    /// Loops picked up along an edge are one row, whatever rows the edge is made of.
    void gatherPickedUp(YarnId yarn) {
        for (EntryId e = f_[yarn].first; e; e = f_[e].next) {
            if (!pickedUp(e) || out_.row(e) == Rows::kNotPlaced) continue;
            std::int32_t row = out_.row(e);
            EntryId last = e;
            for (EntryId k = f_[e].next; k && pickedUp(k) && f_.run(k) == f_.run(e); k = f_[k].next) {
                row = std::max(row, out_.row(k));
                last = k;
            }
            for (;; e = f_[e].next) {
                out_.ofRow[at(e)] = row;
                if (e == last) break;
            }
        }
    }

    std::int32_t nextPlaced(EntryId e) const {
        for (; e; e = f_[e].next) {
            if (rows_[e] != Rows::kNotPlaced) return rows_[e];
        }
        return 0;
    }

    /// The two passes of a wrap at a turn lie at one level; everything else that goes by a loop lies above
    /// what went by before.
    void stackPasses() {
        for (std::int32_t i = 0; i < f_.entryCount(); ++i) {
            const EntryId loop{i};
            if (!f_.has(loop) || !f_.isLoop(loop) || !f_[loop].strands) continue;
            std::int32_t level = 0;
            PassId before;
            for (PassId p = f_[f_[loop].strands].first; p; p = f_[p].passNext) {
                if (workedInRow(loop, out_.row(p))) continue;
                const bool sameLevel =
                    before && (out_.row(p) == out_.row(before) || isWrap(before, p) || isWrap(p, before));
                if (!sameLevel) ++level;
                out_.height[at(p)] = level;
                before = p;
            }
            out_.slips[at(loop)] = level;
        }
    }

    /// What something of this row goes through: another yarn worked there, and the strand is its float.
    LoopId workedInRow(LoopId loop, std::int32_t row) const {
        for (LinkId k = f_[loop].firstKid; k; k = f_[k].nextInHost) {
            if (out_.row(f_[k].loop) == row) return f_[k].loop;
        }
        return {};
    }

    bool isWrap(PassId first, PassId second) const {
        return f_[first].next == second && f_.run(first) != f_.run(second) && !f_.isFree(first);
    }

    bool standing(LoopId loop) const {
        const int c = column_[at(loop)];
        return c != kNone && columns_[static_cast<std::size_t>(c)].top == loop;
    }

    Column& column(int c) { return columns_[static_cast<std::size_t>(c)]; }

    int newColumn(LoopId top) {
        Column c;
        c.top = top;
        c.face = top;
        columns_.push_back(c);
        return static_cast<int>(columns_.size()) - 1;
    }

    void insertBeside(int c, int beside, bool leftOfIt) {
        const int right = leftOfIt ? beside : column(beside).right;
        const int left = leftOfIt ? column(beside).left : beside;
        column(c).right = right;
        column(c).left = left;
        // What is cast on in a gap fills it.
        const int gap = right != kNone ? std::max(0, column(right).gapOnLeft - 1) : 0;
        column(c).gapOnLeft = leftOfIt ? gap : 0;
        if (right != kNone) column(right).gapOnLeft = leftOfIt ? 0 : gap;
        if (right != kNone) column(right).left = c;
        if (left != kNone) column(left).right = c;
    }

    void takeOut(int c) {
        const Column old = column(c);
        if (old.right != kNone) column(old.right).left = old.left;
        if (old.left != kNone) column(old.left).right = old.right;
        column(c).right = kNone;
        column(c).left = kNone;
    }

    /// Hosts that still stand, from right to left, and whether one of them is of this very row (a chain).
    std::vector<LoopId> standingHosts(LoopId loop) const {
        std::vector<LoopId> hosts;
        if (pickedUp(loop)) return hosts;
        if (f_.linkCount(loop) == 1) {
            const LoopId only = f_[f_[loop].firstLink].host;
            if (standing(only)) hosts.push_back(only);
            return hosts;
        }
        for (const LoopId h : f_.hostsRightToLeft(loop)) {
            if (standing(h) && out_.behind[at(loop)] != h) hosts.push_back(h);
        }
        return hosts;
    }

    /// The column of an entry of this row that is already laid.
    int columnOf(EntryId e) const {
        if (const LoopId under = out_.over[at(e)]) return standing(under) ? column_[at(under)] : kNone;
        if (f_.isLoop(e)) return standing(e) ? column_[at(e)] : kNone;
        const LoopId passed = f_.passed(e);
        return standing(passed) ? column_[at(passed)] : kNone;
    }

    /// Of what it goes through, the one that its row comes to first.
    int hostColumn(EntryId e) const {
        if (!f_.isLoop(e)) return columnOf(e);
        if (pickedUp(e)) return kNone;
        std::vector<LoopId> hosts = f_.hostsRightToLeft(e);
        if (f_.run(e) == Run::rightward) std::reverse(hosts.begin(), hosts.end());
        for (const LoopId host : hosts) {
            if (standing(host) && out_.behind[at(e)] != host) return column_[at(host)];
        }
        return kNone;
    }

    /// Drawn through the loop before it, which stays on the needle or is worked again in a row above. In
    /// mid-row the yarn turns for the first of them, and turns again for what is worked next.
    bool isCastOnThrough(LoopId loop) const {
        const LinkId link = f_[loop].firstLink;
        if (!link || link != f_[loop].lastLink || f_[link].form.part != Part::opening) return false;
        const LoopId host = f_[link].host;
        if (f_[loop].prev != host || !standing(host) || !worksOn(host, loop)) return false;
        if (f_.run(host) == f_.run(loop)) return true;
        const EntryId after = f_[loop].next;
        if (!after || !f_.isLoop(after)) return false;
        if (f_.run(after) != f_.run(loop)) return true;
        const LinkId next = f_[after].firstLink;
        return next && f_[next].host == loop && worksOn(loop, after);
    }
    bool worksOn(LoopId host, LoopId loop) const {
        if (f_.isHeld(host)) return true;
        for (LinkId l = f_[host].firstKid; l; l = f_[l].nextInHost) {
            if (out_.row(f_[l].loop) > out_.row(loop)) return true;
        }
        return false;
    }

    bool goesThrough(LoopId loop, LoopId host) const {
        for (LinkId l = f_[loop].firstLink; l; l = f_[l].nextInLoop) {
            if (f_[l].host == host) return true;
        }
        return false;
    }

    /// The older loop of this row, of another yarn, that goes through all that this one goes through, and
    /// under all that goes through this one.
    LoopId copied(LoopId loop) const {
        if (!f_[loop].firstLink || !f_[loop].firstKid) return {};
        for (LinkId k = f_[f_[f_[loop].firstLink].host].firstKid; k; k = f_[k].nextInHost) {
            const LoopId other = f_[k].loop;
            if (f_[other].yarn == f_[loop].yarn || out_.row(other) != out_.row(loop) || !standing(other))
                continue;
            bool same = true;
            for (LinkId l = f_[loop].firstLink; l; l = f_[l].nextInLoop)
                same = same && (goesThrough(other, f_[l].host));
            for (LinkId l = f_[loop].firstKid; l; l = f_[l].nextInHost)
                same = same && (goesThrough(f_[l].loop, other));
            if (same) return other;
        }
        return {};
    }

    void layLoop(SweptRow& row, std::size_t i) {
        const LoopId loop = row.entries[i];
        if (const LoopId same = copied(loop)) {
            out_.copies[at(loop)] = same;
            return;
        }
        if (isCastOnThrough(loop)) {
            const int c = newColumn(loop);
            column_[at(loop)] = c;
            insertBeside(c, column_[at(f_[f_[loop].firstLink].host)], f_.run(loop) == Run::leftward);
            out_.besideHost[at(loop)] = true;
            return;
        }
        if (const LoopId behind = out_.behind[at(loop)]; behind && standing(behind)) goesAway(behind);
        const std::vector<LoopId> hosts = standingHosts(loop);
        for (const LoopId h : hosts) {
            // In a bind-off the loop before goes, but it still stands beside this one.
            if (out_.row(h) != out_.row(loop) || hosts.size() < 2) continue;
            const bool leftward = f_.run(loop) == Run::leftward;
            row.beside.push_back(leftward ? Beside{h, loop, 0} : Beside{loop, h, 0});
        }
        if (!hosts.empty()) {
            // The middle one keeps its place in the order; what was drawn together with it goes.
            LoopId keep = hosts[hosts.size() / 2];
            for (const LoopId h : hosts) {
                if (out_.row(h) != out_.row(loop)) keep = h;
            }
            if (hosts.size() > 2 && out_.row(hosts[1]) != out_.row(loop)) keep = hosts[1];
            const int c = column_[at(keep)];
            for (const LoopId h : hosts) {
                if (h == keep) continue;
                const int dead = column_[at(h)];
                const int right = column(dead).right;
                const bool boundOff = out_.row(h) == out_.row(loop);
                if (right != kNone) column(right).gapOnLeft += column(dead).gapOnLeft + (boundOff ? 1 : 0);
                takeOut(dead);
                column(dead).top = LoopId{};
            }
            column(c).top = loop;
            column(c).face = loop;
            column_[at(loop)] = c;
            joinSections(loop, c);
            return;
        }
        if (const LoopId under = lyingOver(loop)) {
            out_.over[at(loop)] = under;
            // A float that is caught hangs where the stitch stands, which keeps its neighbors.
            if (out_.row(under) != out_.row(loop)) column(column_[at(under)]).face = loop;
            return;
        }
        if (const int gap = openBelow(loop); gap != kNone) {
            column(gap).top = loop;
            column(gap).face = loop;
            column_[at(loop)] = gap;
            return;
        }
        const int c = newColumn(loop);
        column_[at(loop)] = c;
        const bool leftward = f_.run(loop) == Run::leftward;
        const EntryId before = f_[loop].prev;
        // Picked up along an edge, it begins a section of its own, whatever the yarn went by before.
        const bool sameRow = before && out_.row(before) == row.row && (!pickedUp(loop) || pickedUp(before));
        if (sameRow && columnOf(before) != kNone) {
            insertBeside(c, columnOf(before), leftward);
        } else if (const int next = nextColumn(row, i); next != kNone) {
            insertBeside(c, next, !leftward);
        } else if (const int sibling = siblingColumn(loop); sibling != kNone) {
            insertBeside(c, sibling, leftward);
        }
        out_.begins[at(loop)] = static_cast<bool>(f_[loop].firstLink) && column(c).right == kNone &&
                                column(c).left == kNone && siblingColumn(loop) == kNone;
        if (f_[loop].firstLink && f_[f_[loop].firstLink].form.part != Part::opening)
            out_.begins[at(loop)] = true;
    }

    /// Between its neighbours stands only a loop of a row below that nothing ever goes through: what it was
    /// drawn through came out of that one, and it hangs in this place.
    int openBelow(LoopId loop) const {
        const EntryId before = f_[loop].prev;
        const EntryId after = f_[loop].next;
        if (f_[loop].firstLink || f_[loop].flags.anchored != 0 || !before || !after) return kNone;
        if (out_.row(before) != out_.row(loop) || out_.row(after) != out_.row(loop)) return kNone;
        const int b = columnOf(before);
        const int a = hostColumn(after);
        if (a == kNone || b == kNone || a == b) return kNone;
        const bool leftward = f_.run(loop) == Run::leftward;
        const Column& from = columns_[static_cast<std::size_t>(b)];
        const int c = leftward ? from.left : from.right;
        if (c == kNone) return kNone;
        const Column& gap = columns_[static_cast<std::size_t>(c)];
        const bool open = gap.top && gap.face == gap.top && f_.isOpen(gap.top);
        return open && (leftward ? gap.left : gap.right) == a ? c : kNone;
    }

    /// Bound off on another piece.
    void goesAway(LoopId loop) {
        const int c = column_[at(loop)];
        const int right = column(c).right;
        if (right != kNone) column(right).gapOnLeft += column(c).gapOnLeft + 1;
        takeOut(c);
        column(c).top = LoopId{};
    }

    /// The older loop that still stands and that something goes through together with this one.
    LoopId lyingOver(LoopId loop) const {
        if (f_[loop].firstLink || f_[loop].flags.anchored != 0) return {};
        for (LinkId k = f_[loop].firstKid; k; k = f_[k].nextInHost) {
            for (LinkId l = f_[f_[k].loop].firstLink; l; l = f_[l].nextInLoop) {
                const LoopId other = f_[l].host;
                if (other != loop && out_.row(other) < out_.row(loop) && standing(other)) return other;
            }
        }
        const LoopId across = caughtAcross(loop);
        return across && standing(across) ? across : LoopId{};
    }

    /// The stitch across which a float lay that is caught together with it; none: it is nothing of the kind.
    LoopId caughtAcross(EntryId e) const {
        if (!f_.isLoop(e) || f_[e].firstLink || f_[e].flags.anchored != 0) return {};
        for (LinkId k = f_[e].firstKid; k; k = f_[k].nextInHost) {
            for (LinkId l = f_[f_[k].loop].firstLink; l; l = f_[l].nextInLoop) {
                if (f_[l].host != e && layAcross(f_, e, f_[l].host)) return f_[l].host;
            }
        }
        return {};
    }

    /// The first place further on in this row that is known already, if nothing without a place lies between.
    int nextColumn(const SweptRow& row, std::size_t i) const {
        const YarnId yarn = f_[row.entries[i]].yarn;
        for (std::size_t k = i + 1; k < row.entries.size() && f_[row.entries[k]].yarn == yarn; ++k) {
            const int c = hostColumn(row.entries[k]);
            if (c != kNone && c != column_[at(row.entries[i])]) return c;
        }
        return kNone;
    }

    int siblingColumn(LoopId loop) const {
        if (pickedUp(loop)) return kNone;
        for (LinkId l = f_[loop].firstLink; l; l = f_[l].nextInLoop) {
            for (LinkId k = f_[f_[l].host].firstKid; k; k = f_[k].nextInHost) {
                if (f_[k].loop != loop && standing(f_[k].loop)) return column_[at(f_[k].loop)];
            }
        }
        return kNone;
    }

    /// A row that is worked on over picked-up loops, or over what was cast on elsewhere, makes one order of
    /// two.
    void joinSections(LoopId loop, int c) {
        const EntryId before = f_[loop].prev;
        if (!before || out_.row(before) != out_.row(loop)) return;
        const int b = columnOf(before);
        if (b == kNone || b == c) return;
        if (f_.run(loop) == Run::leftward) {
            if (column(b).left != kNone || column(c).right != kNone || reaches(c, b)) return;
            column(b).left = c;
            column(c).right = b;
            out_.joins[at(loop)] = before;
        } else {
            if (column(b).right != kNone || column(c).left != kNone || reaches(b, c)) return;
            column(b).right = c;
            column(c).left = b;
            out_.joins[at(loop)] = before;
        }
    }

    bool reaches(int from, int to) const {
        for (int c = from; c != kNone; c = columns_[static_cast<std::size_t>(c)].left) {
            if (c == to) return true;
        }
        return false;
    }

    void layPass(PassId pass) {
        const LoopId passed = f_.passed(pass);
        if (const LoopId instead = workedInRow(passed, out_.row(pass))) {
            out_.tied[at(pass)] = instead;
            return;
        }
        if (!standing(passed)) return;  // a strand that was skipped when a column was hooked
        // Where a stitch fell, the strand of another yarn hangs where that of the first one does.
        const EntryId there = column(column_[at(passed)]).face;
        if (!f_.isLoop(there) && f_.passed(there) == passed && out_.row(there) == out_.row(pass) &&
            f_[there].yarn != f_[pass].yarn) {
            out_.tied[at(pass)] = there;
            return;
        }
        const EntryId before = f_[pass].prev;
        const bool wrap = before && !f_.isLoop(before) && isWrap(before, pass) && f_.passed(before) == passed;
        if (!wrap) column(column_[at(passed)]).face = pass;
    }

    void noteNeighbours(SweptRow& row) {
        std::vector<int> touched;
        for (const EntryId e : row.entries) {
            const int c = columnOf(e);
            if (c != kNone && column(c).face == e) touched.push_back(c);
        }
        for (const int c : touched) {
            if (const int l = column(c).left; l != kNone)
                row.beside.push_back({column(c).face, column(l).face, column(c).gapOnLeft});
            const int r = column(c).right;
            if (r != kNone && out_.row(column(r).face) != row.row)
                row.beside.push_back({column(r).face, column(c).face, column(r).gapOnLeft});
        }
    }

    /// Crossings whose columns stand side by side now, again and again until none is left.
    void noteCrossings(SweptRow& row) {
        for (bool moved = true; moved;) {
            moved = false;
            for (std::int32_t i = 0; i < f_.crossingCount(); ++i) {
                const Crossing& x = f_[CrossingId{i}];
                if (done_[static_cast<std::size_t>(i)] || x.sign == 0 || !standing(x.a) || !standing(x.b))
                    continue;
                const int a = column_[at(x.a)];
                const int b = column_[at(x.b)];
                if (column(a).left != b) continue;
                takeOut(a);
                insertBeside(a, b, true);
                row.swapped.push_back({x.a, x.b, 0});
                done_[static_cast<std::size_t>(i)] = true;
                moved = true;
            }
        }
    }

    const Fabric& f_;
    const Rows& rows_;
    ColumnGrid out_;
    std::vector<Column> columns_;
    std::vector<int> column_;  ///< by entry id
    std::vector<bool> done_;   ///< by crossing
};

}  // namespace

ColumnGrid columnsOf(const Fabric& fabric, const Rows& rows) {
    return Sweep(fabric, rows).run();
}

}  // namespace loopmend
