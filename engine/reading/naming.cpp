// SPDX-License-Identifier: MIT
#include "reading/naming.h"

namespace loopmend {

namespace {

// Half turns that are whole winds of the loop, and what is left for the leg that was entered.
int windOf(int turns) {
    return turns >= 2 ? turns - turns % 2 : 0;
}

struct Order {
    Op op;
    int count;
    bool purl;
    int ahead[3];  // in the order of the bight
};

// What lies on top follows from the order in which the needle or the passed loops came (craft: stacks).
constexpr Order kOpen[] = {
    {Op::k2tog, 2, false, {0, 1, 0}}, {Op::ssk, 2, false, {1, 0, 0}},   {Op::p2tog, 2, true, {1, 0, 0}},
    {Op::ssp, 2, true, {0, 1, 0}},    {Op::k3tog, 3, false, {0, 1, 2}}, {Op::sssk, 3, false, {2, 1, 0}},
    {Op::sk2p, 3, false, {1, 2, 0}},  {Op::s2kp, 3, false, {2, 0, 1}},  {Op::p3tog, 3, true, {2, 1, 0}},
    {Op::s2pp, 3, true, {2, 0, 1}},
};
constexpr Order kBackLegs[] = {
    {Op::k2togTbl, 2, false, {1, 0, 0}},
    {Op::k3togTbl, 3, false, {2, 1, 0}},
    {Op::p2togTbl, 2, true, {0, 1, 0}},
    {Op::p3togTbl, 3, true, {0, 1, 2}},
};

template <std::size_t n>
const Order* find(const Order (&table)[n], const Links& links) {
    for (const Order& order : table) {
        if (order.count != links.count || order.purl != links.purl) continue;
        bool same = true;
        for (int i = 0; i < order.count; ++i) same = same && order.ahead[i] == links.met[i].ahead;
        if (same) return &order;
    }
    return nullptr;
}

Named nearest(const Links& links) {
    Named named;
    named.exact = false;
    named.op = links.count <= 1   ? (links.purl ? Op::purl : Op::knit)
               : links.count == 2 ? (links.purl ? Op::p2tog : Op::k2tog)
                                  : (links.purl ? Op::p3tog : Op::k3tog);
    return named;
}

Named nameOne(const Courses& c, const Links& links) {
    const Met& met = links.met[0];
    Named named;
    if (c.isBar(met.host)) {
        if (met.turns == 0 && !links.purl) {
            named.op = Op::m1Open;
        } else if (met.turns == -1) {
            named.op = links.purl ? Op::m1PurlLeft : Op::m1Left;
        } else if (met.turns == 1) {
            named.op = links.purl ? Op::m1PurlRight : Op::m1Right;
        } else {
            named = nearest(links);
            named.op = links.purl ? Op::m1PurlLeft : Op::m1Open;
        }
        return named;
    }
    named.wound[0] = windOf(met.turns);
    const int leg = met.turns - named.wound[0];
    if (leg == 0) {
        named.op = links.purl ? Op::purl : Op::knit;
    } else if (leg == -1) {
        named.op = links.purl ? Op::purlTbl : Op::knitTbl;
    } else {
        return nearest(links);
    }
    return named;
}

// A stitch and what lies beside it on the needle, entered together: the strands that were led round it or lay
// across it (`mark`), or its own second legs. The stitch lies in front on the side of its V.
Named nameWithStrand(const Courses& c, const Links& links, Op knitted, Op purled, std::uint8_t mark) {
    Named named;
    named.op = links.purl ? purled : knitted;
    named.exact = mark != Courses::kDoubled || links.count == 2;
    for (int i = 0; i < links.count; ++i) {
        named.exact = named.exact && links.met[i].turns == 0 &&
                      links.met[i].ahead == (links.purl ? links.count - 1 - i : i);
        if (mark != Courses::kDoubled)
            named.exact = named.exact && c.has(links.met[i].host, mark) == (i + 1 < links.count);
    }
    return named;
}

// The top of a tuck and what it stood on, entered together.
Named nameTuck(const Links& links, int top) {
    Named named;
    named.op = links.purl ? Op::purlBelow : Op::knitBelow;
    named.exact = links.met[top].ahead == 0 && top == (links.purl ? 1 : 0) && links.met[0].turns == 0 &&
                  links.met[1].turns == 0;
    return named;
}

}  // namespace

Links linksOf(const Fabric& f, const Courses& c, LoopId loop, const RowStance& stance) {
    Links out;
    // A stitch passed over is the last that the loop was drawn through. The loop left by a bind-off is its
    // neighbour too, but worked together with the next it lies nearest to the tip and is met in its order.
    LinkId over = f[loop].lastLink;
    if (over && !isChainLink(f, f[over])) over = LinkId{};
    int place[Links::kMost] = {0, 0, 0};
    bool first = true;
    for (LinkId l = f[loop].firstLink; l; l = f[l].nextInLoop) {
        const Link& link = f[l];
        const bool purl = link.form.side != stance.facing;
        out.mixed = out.mixed || (!first && purl != out.purl);
        if (first) out.purl = purl;
        first = false;
        out.split = out.split || link.form.plies != Plies::whole;
        if (l == over) {
            out.passedOver = true;
            continue;
        }
        out.underLeg = out.underLeg || link.form.part != Part::opening;
        if (out.count < Links::kMost) {
            Met& met = out.met[out.count];
            met.host = link.host;
            met.purl = purl;
            met.turns = stance.mirrored ? -link.form.twist : link.form.twist;
            if (isHalfHitch(f, c, link.host) && c.rows[link.host] >= 0) {
                // A backward loop sits with half a turn: in a row it was turned either way, in the cast-on
                // the usual one.
                met.turns += c.rows[link.host] == 0 || met.turns < 0 ? 1 : -1;
            }
            place[out.count] = stance.run == Run::leftward ? link.form.place : -link.form.place;
        }
        ++out.count;
    }
    const int n = out.count < Links::kMost ? out.count : Links::kMost;
    for (int i = 0; i < n; ++i) {
        for (int j = 0; j < n; ++j) out.met[i].ahead += place[j] < place[i] ? 1 : 0;
    }
    return out;
}

Named nameOf(const Courses& c, const Links& links) {
    if (links.count > Links::kMost || links.mixed || links.split || links.underLeg || links.count == 0)
        return nearest(links);
    if (links.count == 1) return nameOne(c, links);
    for (int i = 0; i < links.count; ++i) {
        if (c.isTuckTop(links.met[i].host)) return nameTuck(links, i);
        if (c.isDoubled(links.met[i].host))
            return nameWithStrand(c, links, Op::knitDoubled, Op::purlDoubled, Courses::kDoubled);
        if (c.isLiftedWrap(links.met[i].host))
            return nameWithStrand(c, links, Op::knitWithWrap, Op::purlWithWrap, Courses::kLiftedWrap);
        if (c.isCaughtFloat(links.met[i].host))
            return nameWithStrand(c, links, Op::knitWithFloat, Op::purlWithFloat, Courses::kCaughtFloat);
        if (c.isBar(links.met[i].host)) return nearest(links);
    }
    Named named;
    bool back = false;
    for (int i = 0; i < links.count; ++i) {
        named.wound[i] = windOf(links.met[i].turns);
        const int leg = links.met[i].turns - named.wound[i];
        if (leg != 0 && leg != -1) return nearest(links);
        back = back || leg == -1;
    }
    const Order* order = back ? find(kBackLegs, links) : find(kOpen, links);
    if (order == nullptr && !back) {  // open all the same, if every loop sat left leg in front
        back = true;
        order = find(kBackLegs, links);
    }
    if (order == nullptr) return nearest(links);
    named.op = order->op;
    if (back) {
        // Through the back legs whatever sat left leg in front stays open.
        for (int i = 0; i < links.count; ++i) {
            named.eastern[i] = links.met[i].turns - named.wound[i] == 0;
        }
    }
    return named;
}

}  // namespace loopmend
