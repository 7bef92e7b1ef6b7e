// SPDX-License-Identifier: MIT
#include "shape/cloth_changes.h"

#include <algorithm>

namespace loopmend {

namespace {

/// splitmix64 (Steele, Lea, Flood: Fast splittable pseudorandom number generators, OOPSLA 2014) as a hash.
class Footprint {
  public:
    void add(std::int64_t value) {
        std::uint64_t z = state_ + 0x9e3779b97f4a7c15U + static_cast<std::uint64_t>(value);
        z = (z ^ (z >> 30U)) * 0xbf58476d1ce4e5b9U;
        z = (z ^ (z >> 27U)) * 0x94d049bb133111ebU;
        state_ = z ^ (z >> 31U);
    }
    std::uint64_t value() const { return state_ | 1U; }

  private:
    std::uint64_t state_ = 0;
};

void addForm(Footprint& print, const LinkForm& form) {
    print.add(form.twist);
    print.add(static_cast<int>(form.side));
    print.add(static_cast<int>(form.part));
    print.add(static_cast<int>(form.plies));
    print.add(form.place);
}

void addLoop(Footprint& print, const Fabric& f, LoopId loop) {
    const Entry& entry = f[loop];
    print.add(entry.um);
    print.add(entry.strandUm);
    print.add(entry.flags.anchored);
    for (LinkId l = entry.firstLink; l; l = f[l].nextInLoop) {
        print.add(f[l].host.value);
        addForm(print, f[l].form);
    }
    print.add(-1);
    for (LinkId k = entry.firstKid; k; k = f[k].nextInHost) {
        print.add(f[k].loop.value);
        addForm(print, f[k].form);
    }
    print.add(-2);
    for (HeldId h = entry.held; h; h = f[h].alsoHeld) {
        print.add(f[h].tool.value);
        print.add(static_cast<int>(f[h].state.mount));
        print.add(f[h].state.hanging);
        print.add(f[h].state.turns);
    }
    print.add(-3);
    for (CrossingId c = entry.crossing; c; c = f[c].a == loop ? f[c].nextOfA : f[c].nextOfB) {
        print.add(f[c].a.value);
        print.add(f[c].b.value);
        print.add(f[c].sign);
    }
}

void addPass(Footprint& print, const Fabric& f, PassId pass) {
    print.add(f.passed(pass).value);
    print.add(static_cast<int>(f.passSide(pass)));
    print.add(f.isFree(pass) ? 1 : 0);
    print.add(f[pass].passPrev.value);
    const LoopId before = f.loopBefore(pass);
    print.add(before ? f[before].strandUm : f[f[pass].yarn].leadUm);
}

}  // namespace

std::vector<std::uint64_t> footprintsOf(const Fabric& fabric) {
    std::vector<std::uint64_t> out(static_cast<std::size_t>(fabric.entryCount()), 0);
    for (std::int32_t i = 0; i < fabric.entryCount(); ++i) {
        const EntryId e{i};
        if (!fabric.has(e)) continue;
        Footprint print;
        print.add(fabric[e].prev.value);
        print.add(fabric[e].next.value);
        print.add(fabric[e].yarn.value);
        print.add(static_cast<int>(fabric.run(e)));
        if (fabric.isLoop(e)) {
            addLoop(print, fabric, e);
        } else {
            addPass(print, fabric, e);
        }
        out[static_cast<std::size_t>(i)] = print.value();
    }
    return out;
}

std::uint64_t toolsPrintOf(const Fabric& fabric) {
    Footprint print;
    for (std::int32_t t = 0; t < fabric.toolCount(); ++t) {
        const Tool& tool = fabric[ToolId{t}];
        print.add(static_cast<int>(tool.kind));
        for (HeldId h = tool.first; h; h = fabric[h].next) {
            print.add(fabric[h].loop.value);
            print.add(fabric[h].state.hanging);
            print.add(h == tool.tip ? 1 : 0);
        }
        print.add(-1);
    }
    for (std::int32_t j = 0; j < fabric.joinCount(); ++j) {
        const Join& join = fabric[JoinId{j}];
        if (!join.loop) continue;
        print.add(join.loop.value);
        print.add(join.twist);
    }
    return print.value();
}

std::vector<EntryId> changedBetween(const std::vector<std::uint64_t>& before,
                                    const std::vector<std::uint64_t>& now) {
    std::vector<EntryId> changed;
    const std::size_t n = std::max(before.size(), now.size());
    for (std::size_t i = 0; i < n; ++i) {
        const std::uint64_t a = i < before.size() ? before[i] : 0;
        const std::uint64_t b = i < now.size() ? now[i] : 0;
        if (a != b) changed.push_back(EntryId{static_cast<std::int32_t>(i)});
    }
    return changed;
}

}  // namespace loopmend
