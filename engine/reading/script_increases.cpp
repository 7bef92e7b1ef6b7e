// SPDX-License-Identifier: MIT
// Several loops out of one base, and one stitch passed over two.
#include "reading/script_reader.h"

#include <algorithm>

namespace loopmend {

using What = CourseItem::What;

std::size_t ScriptReader::readSeveralIntoOne(std::size_t i, const Links& first) {
    const LoopId host = first.met[0].host;
    const int kids = kidsInRow(host);
    if (kids < 2 || hasOlderKid(host) || c_.isBar(host) || first.passedOver) return 0;
    std::vector<Links> all = {first};
    int overs = 0;
    bool contiguous = true;
    std::size_t n = 1;
    std::vector<LoopId> loops = {items_[i].loop};
    bool passedOver = false;
    for (int found = 1; found < kids && i + n < items_.size(); ++n) {
        const CourseItem& item = items_[i + n];
        if (item.what != What::loop) return 0;
        const Links links = linksOf(f_, c_, item.loop, stance_);
        if (links.count == 0 && f_[item.loop].flags.anchored == 0 && !links.passedOver) {
            ++overs;
            contiguous = contiguous && static_cast<std::size_t>(overs) == all.size();
            continue;
        }
        if (links.count != 1 || links.met[0].host != host || passedOver) return 0;
        all.push_back(links);
        loops.push_back(item.loop);
        passedOver = links.passedOver;
        ++found;
    }
    const auto made = static_cast<int>(all.size());
    if (made != kids || (overs > 0 && (overs != made - 1 || !contiguous))) return 0;
    Step step;
    const int base = windOfFirst(all);
    const auto turns = [&](int k) { return all[static_cast<std::size_t>(k)].met[0].turns - base; };
    const auto purl = [&](int k) { return all[static_cast<std::size_t>(k)].purl; };
    bool exact = true;
    const bool purled = purl(0);
    const bool eachLeg = overs == 0 && made >= 2 && purl(1) == purled;
    if (overs > 0) {
        step.op = purled ? Op::pyop : Op::kyok;
        step.count = static_cast<std::int16_t>(made + overs);
        for (int k = 0; k < made; ++k) exact = exact && turns(k) == 0 && purl(k) == purled;
    } else if (eachLeg) {
        step.op = purled ? Op::pfb : Op::kfb;
        step.count = static_cast<std::int16_t>(made == 2 ? 1 : made);
        exact = turns(0) == 0 && (turns(1) == -1 || turns(1) == 1);
        for (int k = 0; k < made; ++k)
            exact = exact && purl(k) == purled && turns(k) == (k % 2 == 0 ? 0 : turns(1));
        if (exact && (turns(1) == 1 || base != 0)) exact = sitsTurned(host, base);
    } else {
        step.op = purled ? Op::pkp : Op::kpk;
        step.count = static_cast<std::int16_t>(made);
        for (int k = 0; k < made; ++k) exact = exact && turns(k) == 0 && purl(k) == (purled == (k % 2 == 0));
    }
    if (exact && !eachLeg && base != 0) exact = sitsTurned(host, base);
    if (step.count == 3 && !eachLeg) step.count = 1;
    for (const Links& links : all) exact = exact && !links.split && !links.underLeg;
    exact = exact && crossingsOf(host) == 0 && inOrder(host, loops);
    if (!exact) unnamedStitch(items_[i].loop);
    add(step, items_[i].loop, passedOver);
    stitch_ += static_cast<int>(n) - 1;
    return n;
}

int ScriptReader::windOfFirst(const std::vector<Links>& all) {
    const int turns = all.front().met[0].turns;
    return turns >= 2 ? turns - turns % 2 : 0;
}

bool ScriptReader::inOrder(LoopId host, std::vector<LoopId> made) const {
    if (stance_.run == Run::rightward) std::reverse(made.begin(), made.end());
    std::size_t n = 0;
    for (LinkId k = f_[host].firstKid; k; k = f_[k].nextInHost) {
        if (f_[k].form.part != Part::opening || isChainLink(f_, f_[k]) || c_.rows[f_[k].loop] != course_->row)
            continue;
        if (made[n++] != f_[k].loop) return false;
    }
    return true;
}

std::size_t ScriptReader::readPassedOverTwo(std::size_t i, const Links& first) {
    if (i + 1 >= items_.size() || items_[i + 1].what != What::loop) return 0;
    const Links second = linksOf(f_, c_, items_[i + 1].loop, stance_);
    const LoopId passed = first.met[1].host;
    if (second.count != 2 || second.met[1].host != passed || kidsInRow(passed) != 2 || hasOlderKid(passed))
        return 0;
    const auto fits = [](const Links& links) {
        return !links.purl && !links.mixed && !links.split && links.met[0].ahead == 1 &&
               links.met[0].turns % 2 == 0 && links.met[0].turns >= 0;
    };
    if (!fits(first) || !fits(second) || first.passedOver || second.passedOver) return 0;
    if (first.met[1].turns != second.met[1].turns) return 0;
    bool exact = first.met[1].turns % 2 == 0 && first.met[1].turns >= 0;
    for (const Met& met : {first.met[0], first.met[1], second.met[0]}) {
        if (exact && met.turns > 0) exact = sitsTurned(met.host, met.turns);
    }
    if (!exact) unnamedStitch(items_[i].loop);
    add(Op::slip1k2Over, items_[i].loop);
    ++stitch_;
    return 2;
}

LoopId ScriptReader::workedBefore(std::size_t i) const {
    return i > 0 && (items_[i - 1].what == What::loop || items_[i - 1].what == What::slip)
               ? items_[i - 1].loop
               : LoopId{};
}

bool ScriptReader::takenNext(std::size_t i, LoopId loop) const {
    for (std::size_t j = i + 1; j < items_.size(); ++j) {
        if (items_[j].what == What::slip) return items_[j].loop == loop;
        if (items_[j].what != What::loop) continue;
        const Links links = linksOf(f_, c_, items_[j].loop, stance_);
        if (links.count == 0 || links.underLeg || c_.isBar(links.met[0].host)) continue;
        bool older = false;
        for (int k = 0; k < std::min(links.count, Links::kMost); ++k) {
            // Out of a stitch that another one stands in already it is lifted too.
            const bool lifted = hasOlderKid(links.met[k].host);
            if (!lifted && links.met[k].ahead == 0 && links.met[k].host == loop) return true;
            older = older || lifted;
        }
        if (!older) return false;
    }
    return false;
}

/// A loop of this row into a stitch that one of an older row stands in already: right of it, and that one is
/// the next on the left needle; or left of it, and the last one worked stands on that.
std::size_t ScriptReader::readLifted(std::size_t i, const Links& links) {
    const LoopId loop = items_[i].loop;
    const LoopId host = links.met[0].host;
    if (!hasOlderKid(host) || links.split || links.met[0].turns != 0) return 0;
    const bool leftward = stance_.run == Run::leftward;
    LinkId mine;
    LinkId before;  // among the host's links, right of mine
    LinkId after;
    for (LinkId k = f_[host].firstKid; k; k = f_[k].nextInHost) {
        if (f_[k].form.part != Part::opening || isChainLink(f_, f_[k])) continue;
        if (c_.rows[f_[k].loop] > course_->row) continue;  // lifted out of it later
        if (mine) {
            after = k;
            break;
        }
        if (f_[k].loop == loop) {
            mine = k;
        } else {
            before = k;
        }
    }
    const auto stands = [&](LinkId k) {
        return k && c_.rows[f_[k].loop] < course_->row && f_[f_[k].loop].firstLink == k;
    };
    // Several may be lifted out of the same stitch one after another, and more in later rows.
    for (LinkId k = leftward ? after : before; k; k = leftward ? f_[k].nextInHost : f_[k].prevInHost) {
        if (c_.rows[f_[k].loop] >= course_->row) continue;
        if (!stands(k) || !takenNext(i, f_[k].loop)) break;
        add(links.purl ? Op::liftedRightPurl : Op::liftedRight, loop, 1, links.passedOver);
        return 1;
    }
    const LinkId beside = leftward ? before : after;
    const LoopId last = workedBefore(i);
    if (stands(beside) && last && f_[last].firstLink && f_[f_[last].firstLink].host == f_[beside].loop) {
        add(links.purl ? Op::liftedLeftPurl : Op::liftedLeft, loop, 1, links.passedOver);
        return 1;
    }
    return 0;
}

}  // namespace loopmend
