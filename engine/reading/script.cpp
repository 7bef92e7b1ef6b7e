// SPDX-License-Identifier: MIT
#include "reading/script.h"

#include <fmt/format.h>

#include "reading/script_reader.h"

namespace loopmend {

namespace {

/// A duplicate stitch goes through what a stitch goes through, and under what goes through that.
bool coversAStitch(const Fabric& f, LoopId sewn) {
    const LinkId link = f[sewn].firstLink;
    if (!link || f[sewn].flags.anchored != 0) return false;
    for (LinkId k = f[f[link].host].firstKid; k; k = f[k].nextInHost) {
        const LoopId stitch = f[k].loop;
        if (f[stitch].yarn == f[sewn].yarn) continue;
        bool covers = true;
        for (LinkId over = f[sewn].firstKid; over; over = f[over].nextInHost) {
            bool both = false;
            for (LinkId l = f[f[over].loop].firstLink; l; l = f[l].nextInLoop)
                both = both || f[l].host == stitch;
            covers = covers && both;
        }
        if (covers) return true;
    }
    return false;
}

/// The loops of threads that only cover stitches.
std::vector<LoopId> sewnOver(const Fabric& f) {
    std::vector<LoopId> sewn;
    for (std::int32_t y = 1; y < f.yarnCount(); ++y) {
        const Yarn& yarn = f[YarnId{y}];
        if (yarn.flags.gone != 0 || yarn.flags.ball != 0) continue;
        std::vector<LoopId> loops;
        bool all = true;
        for (EntryId e = yarn.first; e && all; e = f[e].next) {
            if (!f.isLoop(e) || f.isNothing(e)) continue;
            all = coversAStitch(f, e);
            loops.push_back(e);
        }
        if (all) sewn.insert(sewn.end(), loops.begin(), loops.end());
    }
    return sewn;
}

}  // namespace

ScriptReading readScript(const Fabric& fabric, Knits hands) {
    const std::vector<LoopId> sewn = sewnOver(fabric);
    if (!sewn.empty()) {
        Fabric bare = fabric;
        bool drawn = true;
        for (auto it = sewn.rbegin(); it != sewn.rend() && drawn; ++it)
            drawn = bare.unthread(*it).has_value();
        if (drawn) {
            ScriptReading reading = readScript(bare, hands);
            reading.sewn = sewn;
            return reading;
        }
    }
    const Courses courses = coursesOf(fabric);
    ScriptReading out;
    out.mirrored = hands == Knits::leftHanded || (hands == Knits::asItShows && showsLeftHanded(courses));
    ScriptReader(fabric, courses, out).run();
    return out;
}

tl::expected<Script, ScriptReading> scriptOf(const Fabric& fabric, Knits hands) {
    ScriptReading reading = readScript(fabric, hands);
    if (!reading.unnamed.empty()) return tl::make_unexpected(std::move(reading));
    return std::move(reading.script);
}

std::string sentence(const std::vector<Unnamed>& unnamed) {
    if (unnamed.empty()) return "every stitch can be named";
    const Unnamed& first = unnamed.front();
    const std::string place = first.stitch > 0 ? fmt::format("row {}, stitch {}", first.row, first.stitch)
                                               : fmt::format("row {}", first.row);
    return unnamed.size() == 1 ? fmt::format("{} is no stitch I know: {}", place, first.words)
                               : fmt::format("{} places are no stitches I know; the first is {}: {}",
                                             unnamed.size(), place, first.words);
}

}  // namespace loopmend
