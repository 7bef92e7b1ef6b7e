// SPDX-License-Identifier: MIT
#include "reading/look.h"

#include <algorithm>
#include <cstdlib>

namespace loopmend {

namespace {

struct Bases {
    int chains = 0;
    int count = 0;  // all but the chain
    const Link* first = nullptr;
    bool underLeg = false;
    bool oneLeg = false;
    bool split = false;
};

Bases basesOf(const Fabric& f, const Courses& c, LoopId loop) {
    Bases b;
    const bool knittedOn = c.isKnittedOn(loop);
    for (LinkId l = f[loop].firstLink; l; l = f[l].nextInLoop) {
        const Link& link = f[l];
        b.split = b.split || link.form.plies != Plies::whole;
        if (isChainLink(f, link) || knittedOn) {
            b.chains += knittedOn ? 0 : 1;
            continue;
        }
        if (b.first == nullptr) b.first = &link;
        ++b.count;
        b.underLeg = b.underLeg || link.form.part != Part::opening;
        b.oneLeg = b.oneLeg || link.form.part == Part::leftLeg || link.form.part == Part::rightLeg;
    }
    return b;
}

Face faceOf(const Link& link, Side side) {
    return link.form.side == side ? Face::v : Face::bump;
}

// Two bases of which one is a strand caught with a stitch: which sight that is; `together` if none of these.
Sight caughtStrand(const Fabric& f, const Courses& c, LoopId loop) {
    for (LinkId l = f[loop].firstLink; l; l = f[l].nextInLoop) {
        const LoopId strand = f[l].host;
        if (f[strand].firstLink || f[strand].flags.anchored != 0) continue;
        if (c.isTuckTop(strand)) return Sight::tuck;
        if (c.isCaughtFloat(strand)) return Sight::caught;
        for (LinkId k = f[loop].firstLink; k; k = f[k].nextInLoop) {
            const LoopId stitch = f[k].host;
            if (stitch == strand) continue;
            const EntryId before = f[strand].prev;
            const EntryId after = f[strand].next;
            if (before == stitch && f.run(strand) != f.run(stitch)) return Sight::turned;
            const auto goesBy = [&](EntryId e) { return e && !f.isLoop(e) && f.passed(e) == stitch; };
            if (c.isBar(strand) && (goesBy(before) || goesBy(after))) return Sight::wrapped;
        }
    }
    return Sight::together;
}

/// All of its bases but one are strands of other yarns that lay across that one.
bool catchesFloats(const Fabric& f, const Courses& c, LoopId loop, int bases) {
    int floats = 0;
    for (LinkId l = f[loop].firstLink; l; l = f[l].nextInLoop) floats += c.isCaughtFloat(f[l].host) ? 1 : 0;
    return floats > 0 && floats + 1 == bases;
}

void readStack(const Fabric& f, LoopId loop, Side side, int count, Symbol& s) {
    // The bight's last link lies on the side to which the loop was drawn.
    struct Base {
        std::int8_t place;
        std::int8_t twist;
    };
    std::array<Base, kMostInStack> bases{};
    int n = 0;
    Side toward = Side::right;
    for (LinkId l = f[loop].firstLink; l && n < kMostInStack; l = f[l].nextInLoop) {
        const Link& link = f[l];
        if (isChainLink(f, link)) continue;
        toward = link.form.side;
        bases[static_cast<std::size_t>(n++)] = {link.form.place,
                                                static_cast<std::int8_t>(twistSeen(f, link))};
    }
    const auto end = bases.begin() + n;
    const auto rank = [&](const Base& base) {  // from right to left as the right side shows it, from 1
        return 1 + static_cast<int>(std::count_if(bases.begin(), end,
                                                  [&](const Base& b) { return b.place < base.place; }));
    };
    const int top = rank(bases[static_cast<std::size_t>(n - 1)]);
    // Seen from its knit side: the strand on top of a `/` comes from the left.
    const bool rightMost = (top == 1) == (toward == Side::right);
    s.lean = n < 2 || count > kMostInStack ? Lean::none
             : top != 1 && top != n        ? Lean::upright
             : rightMost                   ? Lean::left
                                           : Lean::right;
    if (toward == side) std::reverse(bases.begin(), end);
    for (int i = 0; i < n; ++i) {
        const Base& base = bases[static_cast<std::size_t>(i)];
        const int r = rank(base);
        s.stack[static_cast<std::size_t>(i)] = static_cast<std::int8_t>(side == Side::right ? r : n + 1 - r);
        s.twists[static_cast<std::size_t>(i)] = base.twist;
        if (std::abs(base.twist) > std::abs(s.twist)) s.twist = base.twist;
    }
}

void readSisters(const Fabric& f, const Courses& c, const Link& mine, Side side, Symbol& s) {
    int count = 0;
    int place = 0;
    for (LinkId k = f[mine.host].firstKid; k; k = f[k].nextInHost) {
        const Link& kid = f[k];
        if (kid.form.part != Part::opening || isChainLink(f, kid) || c.isKnittedOn(kid.loop)) continue;
        ++count;
        if (kid.loop == mine.loop) place = count;
        if (c.rows[kid.loop] != c.rows[mine.loop]) s.sistersOfOtherRow = true;
    }
    if (count < 2 || place == 0) return;
    s.sisters = static_cast<std::int8_t>(std::min(count, 127));
    s.sister = static_cast<std::int8_t>(std::min(side == Side::right ? place : count + 1 - place, 127));
}

void readCrossings(const Fabric& f, LoopId loop, Side side, Symbol& s) {
    for (LinkId l = f[loop].firstLink; l; l = f[l].nextInLoop) {
        const LoopId host = f[l].host;
        for (CrossingId x = f[host].crossing; x;) {
            const Crossing& crossing = f[x];
            const bool right = crossing.a == host;
            x = right ? crossing.nextOfA : crossing.nextOfB;
            if (crossing.sign == 0) continue;
            s.crossing = crossing.sign > 0 ? Lean::right : Lean::left;
            const bool inFront = right == (crossing.sign < 0);
            s.crossesInFront = inFront == (side == Side::right);
            if (s.crossesOver < 127) ++s.crossesOver;
        }
    }
}

void readRungs(const Fabric& f, const Courses& c, LoopId loop, Symbol& s) {
    if (!f[loop].strands) return;
    PassId before;
    for (PassId p = f[f[loop].strands].first; p; p = f[p].passNext) {
        if (before && f[before].next == p && f.run(before) != f.run(p)) {
            // Two marks on one strand round the edge: one big loop.
            (c.isLongRung(before) ? s.longRungs : s.shortRungs)--;
            ++s.edgeLoops;
            before = PassId{};
            continue;
        }
        (c.isLongRung(p) ? s.longRungs : s.shortRungs)++;
        before = p;
    }
}

void readYarn(const Fabric& f, LoopId loop, Symbol& s) {
    const Yarn& yarn = f[f[loop].yarn];
    s.colour = yarn.flags.colour;
    if (s.sisters > 1 || (s.sight != Sight::stitch && s.sight != Sight::together)) return;
    s.slack = std::int64_t{f[loop].um} * 4 > std::int64_t{yarn.loopUm} * 5;
    s.tight = std::int64_t{f[loop].um} * 4 < std::int64_t{yarn.loopUm} * 3;
}

}  // namespace

int twistSeen(const Fabric& f, const Link& link) {
    const int twist = link.form.twist;
    if (f[link.host].firstLink || f[link.host].flags.anchored == 0) return twist;
    return twist - (twist > 0 ? 1 : -1);
}

Symbol look(const Fabric& f, const Courses& c, LoopId loop, Side side) {
    Symbol s;
    const Bases bases = basesOf(f, c, loop);
    s.bases = static_cast<std::int8_t>(std::min(bases.count, 127));
    s.chained = bases.chains > 0;
    s.anchored = f[loop].flags.anchored != 0;
    s.live = f.isLive(loop);
    s.loose = s.live && !s.anchored && f.isLoose(loop);
    s.split = bases.split;
    if (bases.first != nullptr) s.face = faceOf(*bases.first, side);

    const bool edge = c.rows[loop] == 0 || c.isKnittedOn(loop) || (s.anchored && bases.count == 0);
    if (bases.underLeg) {
        s.sight = Sight::pickedUp;
        s.oneLeg = bases.oneLeg;
    } else if (edge) {
        s.sight = Sight::castOn;
    } else if (bases.count == 0) {
        s.sight = c.isTuckTop(loop) ? Sight::tuck : Sight::hole;
    } else if (bases.count == 1) {
        s.sight = c.isBar(bases.first->host) ? Sight::made : Sight::stitch;
        s.twist = static_cast<std::int8_t>(twistSeen(f, *bases.first));
        s.stack[0] = 1;
        s.twists[0] = s.twist;
        readSisters(f, c, *bases.first, side, s);
    } else {
        s.sight = bases.count == 2                         ? caughtStrand(f, c, loop)
                  : catchesFloats(f, c, loop, bases.count) ? Sight::caught
                                                           : Sight::together;
        readStack(f, loop, side, bases.count, s);
    }
    if (bases.count > 0) readCrossings(f, loop, side, s);
    for (LinkId k = f[loop].firstKid; k; k = f[k].nextInHost) {
        const Link& kid = f[k];
        s.boundOff = s.boundOff || (isChainLink(f, kid) && !c.isKnittedOn(kid.loop));
        s.split = s.split || kid.form.plies != Plies::whole;
        if (kid.form.part != Part::opening) continue;
        const int twist = twistSeen(f, kid);
        if (std::abs(twist) > std::abs(s.feet)) s.feet = static_cast<std::int8_t>(twist);
    }
    if (s.loose) readRungs(f, c, loop, s);
    readYarn(f, loop, s);
    return s;
}

}  // namespace loopmend
