// SPDX-License-Identifier: MIT
// Columns that change places.
#include "reading/script_reader.h"

#include <algorithm>

namespace loopmend {

using What = CourseItem::What;

std::size_t ScriptReader::readCable(std::size_t i, const Links& first) {
    const LoopId lead = first.met[0].host;  // the first of those worked before the held ones
    const int over = crossingsOf(lead);
    if (over == 0) return 0;
    LoopId held;
    bool inFront = false;
    eachCrossing(lead, [&](const Crossing& x, bool leadIsA) {
        held = leadIsA ? x.b : x.a;
        inFront = leadIsA ? x.sign > 0 : x.sign < 0;
    });
    const int under = crossingsOf(held);
    Step step;
    step.op = Op::cable;
    step.over = static_cast<std::int16_t>(over);
    step.under = static_cast<std::int16_t>(under);
    step.front = inFront == (stance_.facing == Side::right);
    std::vector<LoopId> hosts;
    std::vector<HeldTurns> wound;
    for (int k = 0; k < over + under; ++k) {
        const std::size_t j = i + static_cast<std::size_t>(k);
        if (j >= items_.size() || items_[j].what != What::loop) return 0;
        const LinkId link = f_[items_[j].loop].firstLink;
        if (!link) return 0;
        bool& tbl = k < under ? step.tblUnder : step.tblOver;
        tbl = tbl || linksOf(f_, c_, items_[j].loop, stance_).met[0].turns % 2 != 0;
    }
    for (int k = 0; k < over + under; ++k) {
        const std::size_t j = i + static_cast<std::size_t>(k);
        if (j >= items_.size() || items_[j].what != What::loop) return 0;
        const Links links = linksOf(f_, c_, items_[j].loop, stance_);
        if (links.count != 1 || links.passedOver || links.split || links.underLeg ||
            kidsInRow(links.met[0].host) != 1 || hasOlderKid(links.met[0].host) ||
            f_[items_[j].loop].yarn != f_[items_[i].loop].yarn)
            return 0;
        const int turns = links.met[0].turns;
        if (turns < -1) return 0;
        // Through the back legs what sat left leg in front comes out open.
        const bool tbl = k < under ? step.tblUnder : step.tblOver;
        if (!tbl && turns % 2 != 0) return 0;
        if (tbl ? turns >= 0 : turns > 0)
            wound.push_back({links.met[0].host, turns + (turns % 2 != 0 ? 1 : 0)});
        bool& purl = k < under ? step.purlUnder : step.purlOver;
        if (k == 0 || k == under) purl = links.purl;
        if (purl != links.purl) return 0;
        hosts.push_back(links.met[0].host);
    }
    for (int k = 0; k < over + under; ++k) {
        const bool isUnder = k < under;
        const LoopId host = hosts[static_cast<std::size_t>(k)];
        if (crossingsOf(host) != (isUnder ? over : under)) return 0;
        bool right = true;
        eachCrossing(host, [&](const Crossing& x, bool isA) {
            const auto from = hosts.begin() + (isUnder ? under : 0);
            const auto to = isUnder ? hosts.end() : hosts.begin() + under;
            right = right && std::find(from, to, isA ? x.b : x.a) != to;
            // Those held lay nearer to the tip before.
            const bool heldIsA = isUnder ? !isA : isA;
            right = right && heldIsA == (stance_.run == Run::leftward);
            right = right && (heldIsA ? x.sign < 0 : x.sign > 0) == inFront;
        });
        if (!right) return 0;
    }
    for (const HeldTurns& w : wound) {
        if (!sitsTurned(w.loop, w.turns)) unnamedStitch(items_[i].loop);
    }
    add(step, items_[i].loop, false);
    stitch_ += over + under - 1;
    return static_cast<std::size_t>(over + under);
}

}  // namespace loopmend
