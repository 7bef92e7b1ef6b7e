// SPDX-License-Identifier: MIT
#include "repair/sewn.h"

#include <algorithm>
#include <cstdlib>

#include <fmt/format.h>

#include "repair/count_fixes.h"
#include "repair/uneven.h"

namespace loopmend {

namespace {

std::string at(StitchPlace spot) {
    return fmt::format("row {}, stitch {}", spot.row, spot.stitch);
}

bool isOpen(const Fabric& f, LoopId l) {
    if (!f.has(l) || !f.isLoop(l) || !f.isLive(l) || f.isNothing(l) || f[l].flags.anchored != 0) return false;
    return f.isLoose(l) || pinOf(f, l);
}

std::vector<LoopId> realLoops(const Fabric& f, const std::vector<LoopId>& row) {
    std::vector<LoopId> loops;
    for (const LoopId l : row) {
        if (!f.isNothing(l)) loops.push_back(l);
    }
    return loops;
}

}  // namespace

bool planFasten(const Situation& s, PlanBuilder& b) {
    const Fabric& f = b.fabric();
    std::vector<LoopId> open;
    for (std::int32_t i = 0; i < f.entryCount(); ++i) {
        if (isOpen(f, LoopId{i})) open.push_back(LoopId{i});
    }
    if (open.empty()) return b.refuse("no stitch hangs open");
    constexpr std::size_t kMost = 4;
    if (open.size() > kMost) return b.refuse("so many open stitches are not sewn down");
    for (const LoopId l : open) {
        const StitchPlace spot = s.actualSpots.of(l);
        b.needs(l);
        if (!b.add(moveOn(MoveKind::fasten, l), spot,
                   fmt::format(
                       "At {}: lead a short length of the same yarn through the open stitch, draw it to the "
                       "other side and sew it to the stitch beside it. It cannot run any more.",
                       at(spot))))
            return false;
    }
    b.leaves(Leaves::visible, 0);
    if (stitchesTooMany(s, b.knitter()) == 0) return true;
    return planFudge(s, b) || b.refuse("sewn down it holds, but the count cannot be put right in this row");
}

namespace {

/// Stitches that go through the same, the same way, row by row from the cast-on, whatever yarn they are of:
/// actual and meant. Empty: something else differs.
std::vector<std::pair<LoopId, LoopId>> alikeButForYarn(const Situation& s, const Fabric& f) {
    std::vector<std::pair<LoopId, LoopId>> pairs;
    std::vector<LoopId> at(static_cast<std::size_t>(s.meant.entryCount()));
    const auto& rows = s.meantSpots.rows();
    for (std::size_t r = 0; r < rows.size(); ++r) {
        for (const LoopId m : realLoops(s.meant, rows[r])) {
            LoopId a = r == 0 ? s.pairing.actual(m) : LoopId{};
            const LinkId link = s.meant[m].firstLink;
            if (!a && link) {
                const LoopId host = at[static_cast<std::size_t>(s.meant[link].host.value)];
                if (!host) return {};
                LinkId kid = f[host].firstKid;
                for (LinkId k = s.meant[link].prevInHost; k && kid; k = s.meant[k].prevInHost)
                    kid = f[kid].nextInHost;
                if (!kid || f.linkCount(f[kid].loop) != s.meant.linkCount(m)) return {};
                const LinkForm& x = s.meant[link].form;
                const LinkForm& y = f[kid].form;
                if (x.side != y.side || x.twist != y.twist) return {};
                a = f[kid].loop;
            }
            if (!a) return {};
            at[static_cast<std::size_t>(m.value)] = a;
            if (r > 0) pairs.emplace_back(a, m);
        }
    }
    return pairs;
}

}  // namespace

bool planDuplicateOver(const Situation& s, PlanBuilder& b) {
    const Fabric& f = b.fabric();
    bool colors = false;
    for (std::int32_t y = 1; y < s.meant.yarnCount(); ++y)
        colors = colors || s.meant[YarnId{y}].flags.colour != s.meant[YarnId{0}].flags.colour;
    if (!colors) return b.refuse("it is of one color");
    const std::vector<std::pair<LoopId, LoopId>> pairs = alikeButForYarn(s, f);
    if (pairs.empty()) return b.refuse("more than colors is wrong");
    std::vector<std::pair<LoopId, LoopId>> over;
    for (const auto& [a, m] : pairs) {
        if (f[f[a].yarn].flags.colour != s.meant[s.meant[m].yarn].flags.colour) over.emplace_back(a, m);
    }
    if (over.empty()) return b.refuse("the colors are right");
    constexpr std::size_t kMost = 60;
    if (over.size() > kMost) return b.refuse("so many stitches are not sewn over");
    for (const auto& [a, m] : over) {
        if (f.isLive(a)) return b.refuse("a stitch still on the needle cannot be sewn over");
        Move move = moveOn(MoveKind::sewOver, a);
        move.color = s.meant[s.meant[m].yarn].flags.colour;
        move.run = f.run(a);
        const StitchPlace spot = s.actualSpots.of(a);
        if (!b.add(std::move(move), spot,
                   fmt::format(
                       "At {}: sew over the stitch in the right color, following its V: up through its foot, "
                       "round the two legs above, and down where you came up.",
                       at(spot))))
            return false;
    }
    b.leaves(Leaves::visible, 0);
    return true;
}

bool planSnipAndGraft(const Situation& s, PlanBuilder& b) {
    const Fabric& f = b.fabric();
    const Pairing& p = s.pairing;
    if (!p.missing.empty() || !p.extra.empty() || p.crossingsDiffer() || !p.extraPasses.empty() ||
        !p.missingPasses.empty() || p.changed.empty())
        return b.refuse("it is more than one row of single stitches");
    const int row = s.actualSpots.of(p.changed.front()).row;
    for (const LoopId a : p.changed) {
        // The stitches above hang in those of the row: they are sewn with them.
        if (s.actualSpots.of(a).row != row || f.linkCount(a) != 1)
            return b.refuse("it is more than one row of single stitches");
    }
    const auto& rows = s.actualSpots.rows();
    const bool offNeedle = f[f.needle()].first == HeldId{};
    if (row < 2 || row + 1 > s.actualSpots.lastRow())
        return b.refuse("there is no row above or below to hold it");
    if (s.actualSpots.lastRow() - row < kRowsAbove && !offNeedle)
        return b.refuse("so near the needle nothing is cut");
    const std::vector<LoopId> below = realLoops(f, rows[static_cast<std::size_t>(row - 1)]);
    const std::vector<LoopId> wrong = realLoops(f, rows[static_cast<std::size_t>(row)]);
    const std::vector<LoopId> above = realLoops(f, rows[static_cast<std::size_t>(row + 1)]);
    if (below.size() != wrong.size() || above.size() != wrong.size() || wrong.size() < 3)
        return b.refuse("the row is shaped, and cannot be sewn stitch for stitch");
    for (const std::vector<LoopId>* list : {&wrong, &above}) {
        for (const LoopId l : *list) {
            if (f.linkCount(l) != 1)
                return b.refuse("the row is shaped, and cannot be sewn stitch for stitch");
        }
    }
    const auto thread = [&](LoopId l, int r) {
        Move move = moveOn(MoveKind::thread, l);
        move.through = ThreadThrough::row;
        return b.add(std::move(move), {r, 0, 0},
                     fmt::format("Draw a smooth thread through every stitch of row {}, and count them.", r));
    };
    if (!thread(below.front(), row - 1) || !thread(above.front(), row + 1)) return false;
    for (const LoopId l : below) b.needs(l);
    for (const LoopId l : above) b.needs(l);
    b.caution(
        "Scissors only now that both rows are threaded: read both counts aloud first. Flat, by daylight, and "
        "not when you are tired.");
    const std::size_t middle = wrong.size() / 2;
    if (!b.add(moveOn(MoveKind::snip, wrong[middle - 1]), s.actualSpots.of(wrong[middle - 1]),
               "Snip one leg in the middle of the wrong row, once, away from both threads."))
        return false;
    b.caution("Never cut a second time: draw the yarn out stitch by stitch, outward from the cut.");
    for (const std::size_t i : {middle - 1, middle}) {
        Move out = moveOn(MoveKind::pickOut, wrong[i]);
        if (!b.add(std::move(out), {row, 0, 0}, "Pick the yarn out of its row, from the cut outward."))
            return false;
    }
    Move graft;
    graft.kind = MoveKind::graft;
    graft.run = f.run(above.front()) == Run::leftward ? Run::rightward : Run::leftward;
    if (b.knitter().inTheRound()) graft.run = f.run(below.front());
    graft.loops = below;
    graft.others = above;
    if (f.run(below.front()) != graft.run) std::reverse(graft.loops.begin(), graft.loops.end());
    if (f.run(above.front()) != graft.run) std::reverse(graft.others.begin(), graft.others.end());
    const Side facing = b.knitter().facing();
    for (const LoopId l : graft.loops) {
        const LoopId m = p.meant(l);
        const LinkId kid = m ? s.meant[m].firstKid : LinkId{};
        if (!kid) return b.refuse("the row is shaped, and cannot be sewn stitch for stitch");
        graft.sewnKnit.push_back(s.meant[kid].form.side == facing);
    }
    for (const LoopId l : graft.others) {
        const LoopId m = p.meant(l);
        if (!m) return false;
        graft.overKnit.push_back(s.meant[s.meant[m].firstLink].form.side == facing);
    }
    if (!b.add(std::move(graft), {row, 0, 0},
               fmt::format(
                   "Sew row {} anew with a length of the same yarn, stitch by stitch as it was meant.", row)))
        return false;
    for (const LoopId l : {below.front(), above.front()}) {
        if (!threadOf(f, l)) continue;  // what is sewn through is off it already
        if (!b.add(moveOn(MoveKind::unthread, l), {}, "Draw the thread out.")) return false;
    }
    b.leaves(Leaves::visible, 0);
    return true;
}

namespace {

/// What easing may leave: the worst that is still seen, and what the loops that stayed small lack together.
void tellWhatIsLeft(const Situation& s, const Fabric& f, const Uneven& left, PlanBuilder& b) {
    double lackMm = 0;
    bool slack = !left.floats.empty() || !left.strands.empty();
    for (const LoopId a : left.loops) {
        const std::int32_t over = f[a].um - s.meant[s.pairing.meant(a)].um;
        if (over < 0) {
            lackMm -= over / 1000.0;
        } else {
            slack = true;
        }
    }
    b.leaves(slack ? Leaves::visible : left.none() ? Leaves::exact : Leaves::tight, lackMm);
}

}  // namespace

bool planEase(const Situation& s, PlanBuilder& b) {
    const Fabric& f = b.fabric();
    const Uneven uneven = unevenIn(s.meant, f, s.pairing);
    if (uneven.none()) return b.refuse("no stitch is much larger or smaller than it should be");
    constexpr std::size_t kMost = 60;
    if (uneven.size() > kMost) return b.refuse("so many stitches are not eased one by one");
    const auto off = [&](LoopId a) { return f[a].um - s.meant[s.pairing.meant(a)].um; };
    if (!uneven.loops.empty())
        b.caution("Never cut a snag: the yarn is all there, in the pulled loop or its neighbors.");
    if (!uneven.floats.empty())
        b.caution(
            "Stretch the cloth once between your hands when a strand is eased, and look at both sides.");
    // What is too large gives first, the largest first.
    std::vector<LoopId> loops = uneven.loops;
    std::stable_sort(loops.begin(), loops.end(), [&](LoopId x, LoopId y) { return off(x) > off(y); });
    // Where there is none to draw on it stays as it is; what is left in the end decides.
    const auto draw = [&](LoopId a, bool strand, std::string words) {
        Move move = moveOn(MoveKind::drawSlack, a);
        if (strand) {
            move.loops.clear();
            move.strand = a;
        }
        const Knitter::State before = b.knitter().mark();
        if (!b.add(std::move(move), s.actualSpots.of(a), std::move(words))) b.knitter().rollBack(before);
    };
    for (const LoopId a : uneven.strands) {
        draw(a, true,
             fmt::format("After {}: with a blunt needle draw the slack of the wide strand along the row, "
                         "one leg at a time, into the stitches on both sides.",
                         at(s.actualSpots.of(a))));
    }
    for (const LoopId a : uneven.floats) {
        const bool tight = f[a].strandUm < s.meant[s.pairing.meant(a)].strandUm;
        draw(a, true,
             fmt::format("After {}, on the wrong side: with a blunt needle draw {}, one leg at a time.",
                         at(s.actualSpots.of(a)),
                         tight ? "slack into the short strand from the stitches of its yarn on both sides"
                               : "the slack of the long strand into the stitches of its yarn on both sides"));
    }
    for (const LoopId a : loops) {
        const int um = off(a);
        if (std::abs(um) * 6 <= s.meant[s.pairing.meant(a)].um) continue;  // a neighbor has settled it
        const StitchPlace spot = s.actualSpots.of(a);
        draw(a, false,
             um > 0
                 ? fmt::format("At {}: with a blunt needle draw the slack along the row, one leg at a time, "
                               "into the stitches beside it, on both sides.",
                               at(spot))
                 : fmt::format("At {}: with a blunt needle draw slack from the stitches beside it into this "
                               "one, one leg at a time.",
                               at(spot)));
    }
    const Uneven left = unevenIn(s.meant, f, s.pairing);
    if (left.size() * 2 > uneven.size()) return b.refuse("there is no slack nearby to draw on");
    tellWhatIsLeft(s, f, left, b);
    return true;
}

}  // namespace loopmend
