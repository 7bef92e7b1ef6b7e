// SPDX-License-Identifier: MIT
#include "rebuild.h"

#include <algorithm>
#include <map>
#include <stdexcept>
#include <vector>

#include "swatch.h"

namespace loopmend {

namespace {

class Rebuilding {
  public:
    Rebuilding(const Fabric& from, bool mirrored) : from_(from), mirrored_(mirrored) {}

    Fabric all() {
        for (std::int32_t y = 0; y < from_.yarnCount(); ++y) {
            if (from_[YarnId{y}].flags.gone == 0) loopsOfYarn(YarnId{y});
        }
        for (const auto& [from, to] : loops_) links(LoopId{from});
        for (const auto& [from, to] : loops_) strands(LoopId{from});
        // Before anything is held: a crossing changes the order of the needle, which is as it should be
        // already.
        for (std::int32_t c = 0; c < from_.crossingCount(); ++c) crossing(from_[CrossingId{c}]);
        for (std::int32_t t = 0; t < from_.toolCount(); ++t) tool(ToolId{t});
        for (std::int32_t j = 0; j < from_.joinCount(); ++j) {
            const Join& join = from_[JoinId{j}];
            if (join.loop) to_.addJoin(loops_.at(join.loop.value), mirrored_ ? -join.twist : join.twist);
        }
        for (const auto& [from, to] : entries_) to_.setRowEnds(to, from_[EntryId{from}].flags.rowEnds != 0);
        for (const auto& [from, to] : loops_) to_.setAnchored(to, from_[LoopId{from}].flags.anchored != 0);
        for (const auto& [from, to] : yarns_) to_.setBall(to, from_[YarnId{from}].flags.ball != 0);
        return std::move(to_);
    }

  private:
    template <class T>
    T want(const Result<T>& result) const {
        if (!result) throw std::runtime_error("rebuilding: " + sentence(result.error()));
        return *result;
    }

    Run run(EntryId e) const { return mirrored_ ? opposite(from_.run(e)) : from_.run(e); }

    void loopsOfYarn(YarnId yarn) {
        const Yarn& old = from_[yarn];
        const YarnId made = to_.addYarn(old.flags.colour, old.loopUm, old.strandUm);
        yarns_[yarn.value] = made;
        std::int32_t strand = old.leadUm;
        EntryId last;
        for (EntryId e = old.first; e; e = from_[e].next) {
            if (!from_.isLoop(e)) continue;
            const LoopId loop = want(to_.liftFromBall(made, run(e), from_[e].um, strand));
            strand = from_[e].strandUm;
            loops_[e.value] = loop;
            entries_[e.value] = loop;
            last = loop;
        }
        // What lies after the last loop: a loop more, sunk again.
        if (strand != 0) (void)to_.sink(want(to_.liftFromBall(made, Run::leftward, strand, 0)));
    }

    void links(LoopId loop) {
        if (!linked_.insert({loop.value, true}).second) return;
        for (const LinkId l : from_.linksOf(loop)) links(from_[l].host);
        for (const LinkId l : from_.linksOf(loop)) {
            LinkForm form = from_[l].form;
            if (mirrored_) {
                form.twist = static_cast<std::int8_t>(-form.twist);
                form.place = static_cast<std::int8_t>(-form.place);
                if (form.part == Part::rightLeg) {
                    form.part = Part::leftLeg;
                } else if (form.part == Part::leftLeg) {
                    form.part = Part::rightLeg;
                }
            }
            // Its place among the links already drawn through the host.
            std::int32_t slot = 0;
            for (LinkId k = mirrored_ ? from_[l].nextInHost : from_[l].prevInHost; k;
                 k = mirrored_ ? from_[k].nextInHost : from_[k].prevInHost) {
                slot += drawn_.count(k.value) != 0 ? 1 : 0;
            }
            want(to_.pull(loops_.at(loop.value), loops_.at(from_[l].host.value), form, slot));
            drawn_[l.value] = true;
        }
    }

    void strands(LoopId loop) {
        for (const PassId p : from_.passesOf(loop)) {
            EntryId before = from_[p].prev;
            while (before && entries_.count(before.value) == 0) before = from_[before].prev;
            const YarnId yarn = yarns_.at(from_[p].yarn.value);
            entries_[p.value] = want(to_.lay(yarn, before ? entries_.at(before.value) : EntryId{},
                                             loops_.at(loop.value), from_.passSide(p), run(p)));
        }
    }

    void tool(ToolId old) {
        const ToolId made = old == from_.needle() ? to_.needle() : to_.addTool(from_[old].kind);
        for (HeldId h = from_[old].first; h; h = from_[h].next) {
            const Held& held = from_[h];
            const LoopId loop = loops_.at(held.loop.value);
            const HeldId before = mirrored_ ? to_[made].first : HeldId{};
            HeldId place;
            if (held.state.hanging != 0) {
                place = to_.hang(loop, made, before);
            } else {
                const Mount mount = mirrored_ ? opposite(held.state.mount) : held.state.mount;
                const auto turns = static_cast<std::int8_t>(mirrored_ ? -held.state.turns : held.state.turns);
                place = want(to_.hold(loop, made, before, mount, turns));
            }
            places_[h.value] = place;
        }
        const HeldId tip = from_[old].tip;
        if (!mirrored_) {
            if (tip) to_.setTip(places_.at(tip.value));
        } else if (old == from_.needle()) {
            const HeldId right = tip ? from_[tip].prev : from_[old].last;
            to_.setTip(right ? places_.at(right.value) : HeldId{});
        }
    }

    void crossing(const Crossing& x) {
        if (x.sign == 0) return;
        const LoopId right = loops_.at((mirrored_ ? x.b : x.a).value);
        const LoopId left = loops_.at((mirrored_ ? x.a : x.b).value);
        const bool leftFront = mirrored_ ? x.sign < 0 : x.sign > 0;
        if (!to_.cross(right, left, leftFront ? left : right)) throw std::runtime_error("rebuilding: cross");
    }

    const Fabric& from_;
    bool mirrored_;
    Fabric to_;
    std::map<std::int32_t, YarnId> yarns_;
    std::map<std::int32_t, LoopId> loops_;
    std::map<std::int32_t, EntryId> entries_;
    std::map<std::int32_t, HeldId> places_;
    std::map<std::int32_t, bool> linked_;
    std::map<std::int32_t, bool> drawn_;
};

}  // namespace

Fabric rebuilt(const Fabric& fabric, bool mirrored) {
    return Rebuilding(fabric, mirrored).all();
}

}  // namespace loopmend
