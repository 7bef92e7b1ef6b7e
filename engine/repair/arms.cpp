// SPDX-License-Identifier: MIT
#include "repair/arms.h"

#include <algorithm>
#include <array>
#include <set>

#include <fmt/format.h>

namespace loopmend {

namespace {

void addOnce(std::vector<LoopId>& loops, LoopId loop) {
    if (std::find(loops.begin(), loops.end(), loop) == loops.end()) loops.push_back(loop);
}

bool holds(const std::vector<LoopId>& loops, LoopId loop) {
    return std::find(loops.begin(), loops.end(), loop) != loops.end();
}

}  // namespace

Arms::Arms(const Situation& s, const Fabric& f, int below, Arm arm) : s_(s), below_(below) {
    const auto isHere = [&](const StitchPlaces& spots, LoopId loop) {
        return below == 0 || spots.of(loop).row + 1 < below;
    };
    for (std::int32_t i = 0; i < s.meant.crossingCount(); ++i) {
        const Crossing& c = s.meant[CrossingId{i}];
        if (c.sign != 0 && isHere(s.meantSpots, c.a)) all_.push_back({c.a, c.b, c.sign});
    }
    const auto free = [&](LoopId right, LoopId left) {
        for (const LoopId l : {right, left}) {
            if (!l || !f.has(l)) return;
        }
        if (arm != Arm::left) addOnce(feet_, right);
        if (arm != Arm::right) addOnce(feet_, left);
    };
    for (const CrossingId c : s.pairing.missingCrossings) {
        const Crossing& x = s.meant[c];
        if (isHere(s.meantSpots, x.a)) free(s.pairing.actual(x.a), s.pairing.actual(x.b));
    }
    for (const CrossingId c : s.pairing.extraCrossings) {
        const Crossing& x = f[c];
        if (x.sign != 0 && isHere(s.actualSpots, x.a)) free(x.a, x.b);
    }
}

std::vector<Arms::Group> Arms::grouped(const std::vector<Pair>& pairs) {
    std::vector<Group> groups;
    for (const Pair& p : pairs) {
        Group* home = nullptr;
        for (Group& g : groups) {
            if (g.sign == p.sign && (holds(g.right, p.right) || holds(g.left, p.left))) home = &g;
        }
        if (home == nullptr) {
            groups.push_back({});
            home = &groups.back();
            home->sign = p.sign;
        }
        addOnce(home->right, p.right);
        addOnce(home->left, p.left);
    }
    return groups;
}

bool Arms::stands(const Fabric& f, LoopId right, LoopId left, int sign) {
    for (CrossingId c = f[right].crossing; c; c = f[c].a == right ? f[c].nextOfA : f[c].nextOfB) {
        if (f[c].sign == sign && f[c].a == right && f[c].b == left) return true;
    }
    return false;
}

bool Arms::move(PlanBuilder& b, const Group& group, bool back) {
    // +1: the left one in front, as the right side shows it.
    const bool leftInFront = group.sign > 0;
    Move cross;
    cross.kind = MoveKind::cross;
    cross.loops = leftInFront ? group.left : group.right;
    cross.others = leftInFront ? group.right : group.left;
    cross.inFront = b.knitter().facing() == Side::right;
    const StitchPlace spot = s_.actualSpots.of(group.right.front());
    const char* where = cross.inFront ? "in front of" : "behind";
    return b.add(
        std::move(cross), spot,
        back ? fmt::format("Lead the stitches of the one arm back {} those of the other, the way they came.",
                           where)
             : fmt::format("Lead the stitches of the one arm {} those of the other: so they were meant to "
                           "cross.",
                           where));
}

bool Arms::uncross(PlanBuilder& b, const std::vector<LoopId>& now) {
    const Fabric& f = b.fabric();
    const auto at = [&](LoopId meant) { return now[static_cast<std::size_t>(meant.value)]; };
    std::set<std::array<std::int32_t, 3>> meant;
    for (const Pair& p : all_) meant.insert({at(p.right).value, at(p.left).value, p.sign});
    std::vector<Pair> extra;
    for (std::int32_t i = 0; i < f.crossingCount(); ++i) {
        const Crossing& c = f[CrossingId{i}];
        if (c.sign == 0 || !f.has(c.a) || !f.has(c.b) || f.isNothing(c.a) || f.isNothing(c.b)) continue;
        if (meant.count({c.a.value, c.b.value, c.sign}) != 0) continue;
        if (below_ == 0 || s_.actualSpots.of(c.a).row + 1 < below_) extra.push_back({c.a, c.b, c.sign});
    }
    for (const Group& group : grouped(extra)) {
        if (!move(b, group, true)) return false;
    }
    std::vector<Pair> wanted;
    for (const Pair& p : all_) {
        const LoopId right = at(p.right);
        const LoopId left = at(p.left);
        if (!right || !left || !stands(f, right, left, p.sign)) wanted.push_back(p);
    }
    wanted_ = grouped(wanted);
    return true;
}

bool Arms::crossWhatStands(PlanBuilder& b, const std::vector<LoopId>& now) {
    for (auto group = wanted_.begin(); group != wanted_.end();) {
        Group here;
        here.sign = group->sign;
        for (const LoopId l : group->right) here.right.push_back(now[static_cast<std::size_t>(l.value)]);
        for (const LoopId l : group->left) here.left.push_back(now[static_cast<std::size_t>(l.value)]);
        if (holds(here.right, LoopId{}) || holds(here.left, LoopId{})) {
            ++group;
            continue;
        }
        if (!move(b, here, false)) return false;
        group = wanted_.erase(group);
    }
    return true;
}

bool Arms::waitsAbove(LoopId meant) const {
    return std::any_of(wanted_.begin(), wanted_.end(),
                       [&](const Group& g) { return holds(g.right, meant) || holds(g.left, meant); });
}

}  // namespace loopmend
