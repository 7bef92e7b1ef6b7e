// SPDX-License-Identifier: MIT
#include "fabric/rows.h"

#include <algorithm>
#include <unordered_map>

namespace loopmend {

namespace {

class Walk {
  public:
    explicit Walk(const Fabric& fabric) : f_(fabric) {
        row_.assign(static_cast<std::size_t>(f_.entryCount()), Rows::kNotPlaced);
    }

    std::vector<std::int32_t> run() {
        std::vector<Pointer> pointers;
        for (std::int32_t y = 0; y < f_.yarnCount(); ++y) {
            Pointer p;
            p.yarn = YarnId{y};
            p.at = f_[p.yarn].first;
            p.waitsToPickUp = y > 0 && p.at && picksUp(p.at);
            if (f_[p.yarn].flags.gone == 0) pointers.push_back(p);
        }
        while (walkOn(pointers) || beginPickingUp(pointers)) {
        }
        return std::move(row_);
    }

  private:
    static constexpr std::int32_t kNone = -1;

    struct Pointer {
        YarnId yarn;
        EntryId at;
        EntryId from;  ///< where the row being walked begins
        std::int32_t row = 0;
        bool started = false;
        bool picking = false;
        bool ended = false;     ///< a row mark was passed
        bool toAndFro = false;  ///< the row being walked began with a turn
        bool waitsToPickUp = false;
        Run direction = Run::leftward;
    };

    /// A yarn that begins with stitches picked up along an edge could have come at any time: it comes when
    /// the others can go no further.
    bool beginPickingUp(std::vector<Pointer>& pointers) const {
        for (Pointer& p : pointers) {
            if (!p.waitsToPickUp) continue;
            p.waitsToPickUp = false;
            p.row = highest_;
            return true;
        }
        return false;
    }

    bool walkOn(std::vector<Pointer>& pointers) {
        bool moved = false;
        for (Pointer& p : pointers) {
            for (; p.at && !p.waitsToPickUp; p.at = f_[p.at].next) {
                const bool endsRow = f_[p.at].flags.rowEnds != 0;
                if (!f_.isLoop(p.at) && f_.isFree(p.at)) {
                    p.ended = p.ended || endsRow;
                    continue;
                }
                if (waits(p.at, p.yarn)) break;
                const std::int32_t met = highestMet(p.at, p.yarn);
                const bool turned = p.started && f_.run(p.at) != p.direction;
                const bool picks = picksUp(p.at);
                const bool before =
                    p.ended && !turned && (isBarOfJoin(p.at) || (p.toAndFro && isBarOfTurn(p.at)));
                const bool begins = turned || (p.ended && !before) || (picks && !p.picking) || met == p.row;
                if (begins || (met > p.row && !lift(p, met))) {
                    p.row = std::max(p.row, met) + 1;
                    p.from = p.at;
                    p.toAndFro = turned;
                }
                if (!p.started) p.from = p.at;
                p.ended = endsRow || before;
                p.started = true;
                p.direction = f_.run(p.at);
                // A strand lifted between two of them changes nothing.
                p.picking = picks || (p.picking && f_.isLoop(p.at) && !f_[p.at].firstLink);
                place(p.at, p.row);
                moved = true;
            }
        }
        return moved;
    }

    void place(EntryId e, std::int32_t row) {
        highest_ = std::max(highest_, row);
        row_[static_cast<std::size_t>(e.value)] = row;
        if (!f_.isLoop(e)) passed_[key(f_[e].yarn, f_.passed(e))] = row;
    }

    /// A loop of a higher row was met inside a row: the row lies higher than its first stitches told, which
    /// went into stitches slipped through the rows between. Not if anything stands on them: then a row ended
    /// unseen.
    bool lift(Pointer& p, std::int32_t met) {
        if (!p.from) return false;
        for (EntryId e = p.from; e != p.at; e = f_[e].next) {
            if (!f_.isLoop(e)) continue;
            for (LinkId k = f_[e].firstKid; k; k = f_[k].nextInHost) {
                if (row(f_[k].loop) != Rows::kNotPlaced) return false;
            }
        }
        p.row = met + 1;
        for (EntryId e = p.from; e != p.at; e = f_[e].next) {
            if (row(e) != Rows::kNotPlaced) place(e, p.row);
        }
        return true;
    }

    static std::uint64_t key(YarnId yarn, LoopId loop) {
        return (static_cast<std::uint64_t>(yarn.value) << 32U) | static_cast<std::uint32_t>(loop.value);
    }
    std::int32_t row(EntryId e) const { return row_[static_cast<std::size_t>(e.value)]; }

    /// A host that is the loop's own neighbour along the yarn (a bind-off chain) tells nothing about rows;
    /// past a stitch that fell, whose rung is only a mark, it is still the neighbour.
    bool isChain(LoopId loop, LoopId host) const {
        if (f_.run(host) != f_.run(loop)) return false;
        EntryId before = f_[loop].prev;
        while (before && !f_.isLoop(before) && f_.isFree(before)) before = f_[before].prev;
        return before == host;
    }

    template <class Visit>
    void met(EntryId e, Visit visit) const {
        if (!f_.isLoop(e)) {
            visit(f_.passed(e));
            return;
        }
        for (LinkId l = f_[e].firstLink; l; l = f_[l].nextInLoop) {
            if (!isChain(e, f_[l].host)) visit(f_[l].host);
        }
    }

    /// Lifted where one round passes over into the next, and worked last in that one: it is of the round
    /// before. (What is passed over the stitch worked next to it is of the same round.)
    bool isBarOfJoin(EntryId e) const {
        if (!f_.isLoop(e) || f_[e].firstLink || f_[e].flags.anchored != 0 || f_[e].flags.rowEnds != 0)
            return false;
        const LinkId link = f_[e].firstKid;
        const LoopId kid = link ? f_[link].loop : LoopId{};
        if (!kid || f_[kid].yarn != f_[e].yarn || f_[e].next == kid) return false;
        if (f_[kid].flags.rowEnds == 0 && f_[kid].next) return false;
        for (EntryId after = f_[e].next; after; after = f_[after].next) {
            if (after == kid) return true;
            if (f_[after].flags.rowEnds != 0 || f_.run(after) != f_.run(e)) return false;
        }
        return false;
    }

    /// Lifted where the yarn turns after a row that was ended, before a row that begins with a yarn-over: the
    /// strand there is of the row below, as between two stitches. (Worked to and fro, no row begins in the
    /// direction of the one before it.)
    bool isBarOfTurn(EntryId e) const {
        if (!f_.isLoop(e) || f_[e].firstLink || f_[e].flags.anchored != 0 || f_[e].flags.rowEnds != 0)
            return false;
        for (EntryId after = f_[e].next; after; after = f_[after].next) {
            if (!f_.isLoop(after) && f_.isFree(after)) continue;
            if (f_.run(after) != f_.run(e)) return true;
            if (!f_.isLoop(after) || f_[after].firstLink || f_[after].flags.rowEnds != 0) return false;
        }
        return false;
    }

    bool waits(EntryId e, YarnId yarn) const {
        bool missing = false;
        bool allMine = true;
        met(e, [&](LoopId h) {
            missing = missing || row(h) == Rows::kNotPlaced;
            allMine = allMine && f_[h].yarn == yarn;
        });
        return missing && !allMine;
    }

    std::int32_t highestMet(EntryId e, YarnId yarn) const {
        std::int32_t highest = kNone;
        met(e, [&](LoopId h) {
            highest = std::max(highest, row(h));
            if (passed_.empty()) return;
            const auto it = passed_.find(key(yarn, h));
            if (it != passed_.end()) highest = std::max(highest, it->second);
        });
        return highest;
    }

    /// A row was ended after what lies before it; loops that are nothing are no entries.
    bool beginsByNote(EntryId e) const {
        for (EntryId before = f_[e].prev; before; before = f_[before].prev) {
            if (f_[before].flags.rowEnds != 0) return true;
            if (!f_.isLoop(before) || !f_.isNothing(before)) return false;
        }
        return false;
    }

    bool picksUp(EntryId e) const {
        if (!f_.isLoop(e)) return false;
        for (LinkId l = f_[e].firstLink; l; l = f_[l].nextInLoop) {
            if (f_[l].form.part != Part::opening) return true;
        }
        return false;
    }

    const Fabric& f_;
    std::vector<std::int32_t> row_;
    std::int32_t highest_ = 0;
    std::unordered_map<std::uint64_t, std::int32_t> passed_;
};

}  // namespace

Rows rowsOf(const Fabric& f) {
    Rows rows;
    rows.ofEntry = Walk(f).run();
    std::int32_t zero = 0;
    bool ended = false;
    for (std::int32_t y = 0; y < f.yarnCount(); ++y) {
        EntryId e = f[YarnId{y}].first;
        while (e && (f[e].flags.rowEnds == 0 || rows[e] == Rows::kNotPlaced)) e = f[e].next;
        if (!e) continue;
        zero = ended ? std::min(zero, rows[e]) : rows[e];
        ended = true;
    }
    for (std::int32_t& r : rows.ofEntry) {
        if (r == Rows::kNotPlaced) continue;
        r -= zero;
        rows.last = std::max(rows.last, r);
    }
    return rows;
}

std::vector<std::vector<LoopId>> loopsByRow(const Fabric& f, const Rows& rows) {
    std::vector<std::vector<LoopId>> byRow(static_cast<std::size_t>(rows.last) + 1);
    for (std::int32_t y = 0; y < f.yarnCount(); ++y) {
        if (f[YarnId{y}].flags.gone != 0) continue;
        for (EntryId e = f[YarnId{y}].first; e; e = f[e].next) {
            if (!f.isLoop(e) || f.isNothing(e) || rows[e] < 0) continue;
            byRow[static_cast<std::size_t>(rows[e])].push_back(e);
        }
    }
    return byRow;
}

}  // namespace loopmend
