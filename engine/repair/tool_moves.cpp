// SPDX-License-Identifier: MIT
#include "repair/tool_moves.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "fabric/rows.h"
#include "fault/needle.h"
#include "repair/columns_seen.h"
#include "repair/usual_lengths.h"

namespace loopmend {

namespace {

bool isFixed(const Fabric& f, LoopId loop) {
    for (HeldId h = f[loop].held; h; h = f[h].alsoHeld) {
        if (f[h].state.hanging == 0 && f.fixes(f[h].tool)) return true;
    }
    return false;
}

/// A yarn ends right beside this loop, and the end is none of the ball's: before it, after it.
bool endsBefore(const Fabric& f, LoopId loop) {
    return !f.loopBefore(loop);
}
bool endsAfter(const Fabric& f, LoopId loop) {
    return !loopBeside(f, loop, false) && f[f[loop].yarn].flags.ball == 0;
}

class Suggestions {
  public:
    Suggestions(const Work& work, const SeenColumns& columns, Side seen)
        : work_(work), f_(work.fabric()), columns_(columns), seen_(seen) {}

    std::vector<ToolMove> at(Notion notion, const PointedAt& at) {
        using What = PointedAt::What;
        const bool tips = at.what == What::tips;
        const LoopId loop = tips ? LoopId{} : at.what == What::rung ? f_.passed(at.entry) : at.entry;
        switch (notion) {
            case Notion::thread:
            case Notion::spareNeedle:
                if (at.what != What::strand) threadAt(loop, notion == Notion::spareNeedle);
                break;
            case Notion::cableNeedle:
                if (!tips && at.what != What::strand) cable(loop);
                break;
            case Notion::scissors:
                if (tips) {
                    cutYarn();
                } else if (at.what == What::rung) {
                    cut(f_.loopBefore(at.entry),
                        "This is a strand of the ladder, the yarn of a stitch: never cut it.");
                } else {
                    cut(loop);
                }
                break;
            case Notion::bluntNeedle:
                if (at.what == What::loop) blunt(loop);
                if (at.what == What::strand) bluntStrand(loop);
                if (at.what == What::rung && !f_.isFree(at.entry)) fasten(at.entry);
                break;
            default: break;
        }
        return std::move(moves_);
    }

  private:
    void add(Move move, bool always = true, std::string barred = {}) {
        moves_.push_back({std::move(move), always, std::move(barred)});
    }

    // ---- threads and spare needles

    void threadAt(LoopId loop, bool spare) {
        Move through = moveOn(MoveKind::thread, loop);
        through.spare = spare;
        if (!loop) {
            through.loops.clear();
            through.through = ThreadThrough::needle;
            const HeldId first = f_[f_.needle()].first;
            if (first && threadOf(f_, f_[first].loop, spare)) return takeOut(f_[first].loop, spare);
            return add(std::move(through));
        }
        if (threadOf(f_, loop, spare)) return takeOut(loop, spare);
        if (f_.isLive(loop) && !onNeedle(f_, loop)) {
            Move hold = through;
            hold.loops = openLoops();
            if (std::find(hold.loops.begin(), hold.loops.end(), loop) != hold.loops.end()) {
                if (hold.loops.size() > 1) add(std::move(hold), false);
                add(through);
            }
        }
        through.through = ThreadThrough::row;
        add(std::move(through));
    }
    void takeOut(LoopId loop, bool spare) {
        Move out = moveOn(MoveKind::unthread, loop);
        out.spare = spare;
        add(std::move(out));
    }
    /// All that hangs open, from right to left as the right side shows it.
    std::vector<LoopId> openLoops() const {
        std::vector<LoopId> open;
        for (std::int32_t i = 0; i < f_.entryCount(); ++i) {
            const LoopId l{i};
            if (f_.has(l) && f_.isLoop(l) && f_.isOpen(l) && !f_.isNothing(l) && f_[l].flags.anchored == 0)
                open.push_back(l);
        }
        std::stable_sort(open.begin(), open.end(),
                         [&](LoopId a, LoopId b) { return columns_.of(a) < columns_.of(b); });
        return open;
    }

    // ---- the cable needle

    void crossing(const std::vector<LoopId>& ours, const std::vector<LoopId>& theirs) {
        if (ours.empty() || theirs.empty()) return;
        for (const bool frontSeen : {true, false}) {
            Move move;
            move.kind = MoveKind::cross;
            move.loops = ours;
            move.others = theirs;
            move.inFront = frontSeen == (seen_ == work_.knitter().facing());
            add(std::move(move), !onNeedle(f_, ours.front()) ? false : true);
        }
    }

    void cable(LoopId loop) {
        const std::vector<LoopId> ahead = work_.knitter().ahead();
        const auto it = std::find(ahead.begin(), ahead.end(), loop);
        if (it != ahead.end()) {
            const auto n = static_cast<std::size_t>(it - ahead.begin()) + 1;
            const auto left = ahead.size() - n;
            std::vector<std::size_t> past;
            for (const std::size_t m : {n, std::size_t{1}, std::size_t{2}}) {
                if (m <= left && std::find(past.begin(), past.end(), m) == past.end()) past.push_back(m);
            }
            for (const std::size_t m : past) {
                const auto middle = ahead.begin() + static_cast<std::ptrdiff_t>(n);
                crossing({ahead.begin(), middle}, {middle, middle + static_cast<std::ptrdiff_t>(m)});
            }
            return;
        }
        if (!f_.isLive(loop) || onNeedle(f_, loop)) return;
        // An arm that was let down: the open stitches side by side in its row.
        const auto open = [&](EntryId e) {
            return e && f_.isLive(e) && !onNeedle(f_, e) && f_.run(e) == f_.run(loop);
        };
        LoopId first = loop;
        while (open(loopBeside(f_, first, true))) first = loopBeside(f_, first, true);
        std::vector<LoopId> arm{first};
        while (open(loopBeside(f_, arm.back(), false))) arm.push_back(loopBeside(f_, arm.back(), false));
        std::vector<LoopId> partners;
        for (const LoopId a : arm) {
            for (CrossingId c = f_[a].crossing; c; c = f_[c].a == a ? f_[c].nextOfA : f_[c].nextOfB) {
                const LoopId other = f_[c].a == a ? f_[c].b : f_[c].a;
                const bool mine = std::find(arm.begin(), arm.end(), other) != arm.end();
                if (!mine && std::find(partners.begin(), partners.end(), other) == partners.end())
                    partners.push_back(other);
            }
        }
        if (!partners.empty()) return crossing(arm, partners);
        for (const bool back : {false, true}) {
            std::vector<LoopId> beside;
            LoopId at = back ? arm.front() : arm.back();
            while (beside.size() < arm.size()) {
                at = loopBeside(f_, at, back);
                if (!at || f_.run(at) != f_.run(loop)) break;
                beside.push_back(at);
            }
            crossing(arm, beside);
        }
    }

    // ---- scissors

    void cutYarn() {
        LoopId last = f_[work_.knitter().yarn()].last;
        if (last && !f_.isLoop(last)) last = f_.loopBefore(last);
        if (last) add(moveOn(MoveKind::snip, last));
    }
    void cut(LoopId loop, std::string barred = {}) {
        if (!loop) return;
        const bool inside = static_cast<bool>(loopBeside(f_, loop, false));
        if (barred.empty() && inside) {
            if (f_[loop].um * 2 > f_[f_[loop].yarn].loopUm * 3) {
                barred = "This is a snag: ease it back with the blunt needle, never cut it.";
            } else if (rowIsCut(loop)) {
                barred = "This row is cut already. Once is enough: pick it out with the blunt needle.";
            } else if (!rowsBesideAreHeld(f_, loop)) {
                barred = "Thread the row above and the row below first, every stitch of them.";
            }
        }
        add(moveOn(MoveKind::snip, loop), true, std::move(barred));
    }
    /// Some end of yarn lies in the row, and not at its edge.
    bool rowIsCut(LoopId loop) const {
        for (const bool back : {true, false}) {
            LoopId at = loop;
            for (LoopId l = loopBeside(f_, at, back); l && f_.run(l) == f_.run(loop);
                 l = loopBeside(f_, l, back))
                at = l;
            const LoopId beyond = loopBeside(f_, at, back);
            if (beyond) continue;
            const bool end =
                back ? endsBefore(f_, at) && !f_.hostsRightToLeft(at).empty() : endsAfter(f_, at);
            if (end && f_[at].firstKid) return true;
        }
        return false;
    }

    // ---- the blunt needle

    void blunt(LoopId loop) {
        if (const Move sewn = graftAt(work_, loop); !sewn.loops.empty()) add(sewn);
        if (endsBefore(f_, loop) || endsAfter(f_, loop)) atEnd(loop);
        const std::int32_t usual = f_[f_[loop].yarn].loopUm;
        if (std::abs(f_[loop].um - usual) * 8 > usual) add(moveOn(MoveKind::drawSlack, loop), false);
        if (f_.isLive(loop) && !onNeedle(f_, loop)) {
            add(moveOn(MoveKind::fasten, loop));
        } else if (f_[loop].firstLink && !f_.isLive(loop)) {
            sewOver(loop);
        }
    }
    void atEnd(LoopId loop) {
        const bool sewn = f_[f_[loop].yarn].first == f_[f_[loop].yarn].last;
        if (f_[loop].firstKid && !sewn && f_[loop].firstLink) {
            Move out = moveOn(MoveKind::pickOut, loop);
            const std::string barred =
                rowsBesideAreHeld(f_, loop)
                    ? ""
                    : "Thread the row above and the row below first, every stitch of them.";
            add(out, true, barred);
            out.count = 1;
            add(std::move(out), false, barred);
        }
        joinAt(loop);
        Move weave = moveOn(MoveKind::weave, loop);
        add(weave, false);
        weave.atFirst = true;
        add(std::move(weave), false);
    }
    /// The end after a stitch and the nearest other end.
    void joinAt(LoopId loop) {
        if (!endsAfter(f_, loop)) return;
        LoopId nearest;
        double least = 2.5;
        for (std::int32_t y = 0; y < f_.yarnCount(); ++y) {
            const LoopId other = f_[YarnId{y}].first;
            if (!other || YarnId{y} == f_[loop].yarn || !f_.isLoop(other)) continue;
            const double away = std::abs(columns_.of(other) - columns_.of(loop));
            if (away >= least) continue;
            least = away;
            nearest = other;
        }
        if (!nearest) return;
        Move join = moveOn(MoveKind::join, loop);
        join.others = {nearest};
        add(std::move(join), false);
    }
    void sewOver(LoopId loop) {
        const char own = f_[f_[loop].yarn].flags.colour;
        std::string colors;
        for (std::int32_t y = 0; y < f_.yarnCount(); ++y) {
            const char color = f_[YarnId{y}].flags.colour;
            if (color != own && colors.find(color) == std::string::npos) colors += color;
        }
        if (colors.empty()) colors = own;
        for (const char color : colors) {
            Move over = moveOn(MoveKind::sewOver, loop);
            over.color = color;
            over.run = f_.run(loop);
            add(std::move(over), false);
        }
    }
    void fasten(PassId pass) {
        Move move;
        move.kind = MoveKind::fasten;
        move.pass = pass;
        add(std::move(move), false);
    }
    void bluntStrand(LoopId before) {
        const std::int32_t usual = usualStrandUm(f_, before);
        if (f_[before].strandUm * 2 > usual * 3 || f_[before].strandUm * 3 < usual * 2) {
            Move slack;
            slack.kind = MoveKind::drawSlack;
            slack.strand = before;
            add(std::move(slack), false);
        }
        std::vector<PassId> floats;
        for (EntryId e = f_[before].next; e && !f_.isLoop(e); e = f_[e].next) {
            if (!f_.isFree(e)) floats.push_back(e);
        }
        if (!floats.empty()) fasten(floats[floats.size() / 2]);
        sewShut(before);
    }

    /// Round the gap over a strand: up one side and down the other, as long as every stitch there stands.
    void sewShut(LoopId before) {
        const LoopId after = loopBeside(f_, before, false);
        if (!after) return;
        Move sew;
        sew.kind = MoveKind::fasten;
        for (const LoopId l : {before, above(before), above(after), after}) {
            if (l && std::find(sew.loops.begin(), sew.loops.end(), l) == sew.loops.end())
                sew.loops.push_back(l);
        }
        if (sew.loops.size() > 1) add(std::move(sew), false);
    }
    LoopId above(LoopId loop) const { return f_[loop].firstKid ? f_[f_[loop].firstKid].loop : LoopId{}; }

    const Work& work_;
    const Fabric& f_;
    const SeenColumns& columns_;
    Side seen_;
    std::vector<ToolMove> moves_;
};

/// A loop that lost what it went through: it hangs by its feet.
bool hangsByFeet(const Fabric& f, LoopId loop) {
    return !f[loop].firstLink && f[loop].firstKid;
}

/// The side to which a loop's first link goes, if it has one.
std::optional<Side> linkSide(const Fabric& f, LoopId loop) {
    const LinkId link = loop ? f[loop].firstLink : LinkId{};
    if (!link) return std::nullopt;
    return f[link].form.side;
}

LoopId kidOf(const Fabric& f, LoopId loop) {
    const LinkId link = loop ? f[loop].firstKid : LinkId{};
    return link ? f[link].loop : LoopId{};
}

}  // namespace

bool rowsBesideAreHeld(const Fabric& f, LoopId loop) {
    const Rows rows = rowsOf(f);
    const std::int32_t row = rows[loop];
    if (row == Rows::kNotPlaced) return false;
    const auto byRow = loopsByRow(f, rows);
    for (const std::int32_t beside : {row - 1, row + 1}) {
        if (beside < 0 || beside >= static_cast<std::int32_t>(byRow.size())) return false;
        for (const LoopId l : byRow[static_cast<std::size_t>(beside)]) {
            if (!f.isNothing(l) && !isFixed(f, l)) return false;
        }
    }
    return true;
}

Move graftAt(const Work& work, LoopId below) {
    const Fabric& f = work.fabric();
    Move move;
    move.kind = MoveKind::graft;
    const ToolId lower = threadOf(f, below);
    if (!lower || !f.isLive(below)) return move;
    const auto listOf = [&](ToolId tool) {
        std::vector<LoopId> loops;
        for (HeldId h = f[tool].first; h; h = f[h].next) {
            if (f[h].state.hanging == 0) loops.push_back(f[h].loop);
        }
        return loops;
    };
    const std::vector<LoopId> lowers = listOf(lower);
    if (!std::all_of(lowers.begin(), lowers.end(), [&](LoopId l) { return f.isLive(l); })) return move;
    std::vector<LoopId> uppers;
    for (std::int32_t t = 0; t < f.toolCount() && uppers.empty(); ++t) {
        if (ToolId{t} == lower || !f[ToolId{t}].first) continue;
        std::vector<LoopId> held = listOf(ToolId{t});
        if (!held.empty() &&
            std::all_of(held.begin(), held.end(), [&](LoopId l) { return hangsByFeet(f, l); }))
            uppers = std::move(held);
    }
    if (uppers.empty()) return move;
    const bool round = work.knitter().inTheRound();
    const Run lowerRun = f.run(lowers.front());
    move.run = round ? lowerRun : opposite(lowerRun);
    // Threads hold a row from right to left.
    move.loops = lowers;
    move.others = uppers;
    if (move.run == Run::rightward) {
        std::reverse(move.loops.begin(), move.loops.end());
        std::reverse(move.others.begin(), move.others.end());
    }
    if (move.loops.size() != move.others.size()) return move;
    // What a column does in a row it does two rows on.
    const Side facing = work.knitter().facing();
    bool plain = true;
    for (std::size_t i = 0; i < move.loops.size(); ++i) {
        const LoopId kid = kidOf(f, move.others[i]);
        const Side sewn = linkSide(f, kid).value_or(Side::right);
        const Side over =
            linkSide(f, kidOf(f, kid)).value_or(linkSide(f, move.loops[i]).value_or(Side::right));
        plain = plain && sewn == Side::right && over == Side::right;
        move.sewnKnit.push_back(sewn == facing);
        move.overKnit.push_back(over == facing);
    }
    if (plain) {
        move.sewnKnit.clear();
        move.overKnit.clear();
    }
    return move;
}

std::vector<ToolMove> toolMoves(const Work& work, const SeenColumns& columns, Notion notion,
                                const PointedAt& at, Side seen) {
    return Suggestions(work, columns, seen).at(notion, at);
}

}  // namespace loopmend
