// SPDX-License-Identifier: MIT
// Mending by column. What is wrong and everything drawn through it is let down; the right loops that this
// would set free are pinned first, so that the run stops there by itself; then the meant loops are hooked up
// again, lowest first, each from the strand in which it should lie.
#include <algorithm>
#include <optional>

#include <fmt/format.h>

#include "fabric/hands.h"
#include "fabric/itinerary.h"
#include "repair/builder.h"

namespace loopmend {

namespace {

class ColumnPlan {
  public:
    ColumnPlan(const Situation& s, PlanBuilder& b) : s_(s), b_(b), f_(b.fabric()) {
        const auto actual = static_cast<std::size_t>(s_.actual.entryCount());
        cone_.assign(actual, false);
        now_.assign(static_cast<std::size_t>(s_.meant.entryCount()), LoopId{});
    }

    bool make() {
        // Crossed arms and strands that go by on the wrong side need moves of their own.
        if (s_.pairing.crossingsDiffer() || !s_.pairing.complete) return false;
        findCone();
        for (std::int32_t i = 0; i < s_.meant.entryCount(); ++i) {
            const LoopId a = s_.pairing.actualOf[static_cast<std::size_t>(i)];
            if (a && s_.actual.isLoop(a) && !inCone(a)) now_[static_cast<std::size_t>(i)] = a;
        }
        return pinRim() && letDown() && hookUp() && seatTops() && b_.takeOutPins();
    }

  private:
    bool inCone(LoopId a) const { return cone_[static_cast<std::size_t>(a.value)]; }
    LoopId now(LoopId meant) const { return now_[static_cast<std::size_t>(meant.value)]; }

    void addToCone(LoopId a) {
        if (inCone(a)) return;
        cone_[static_cast<std::size_t>(a.value)] = true;
        order_.push_back(a);
        for (LinkId l = s_.actual[a].firstKid; l; l = s_.actual[l].nextInHost) addToCone(s_.actual[l].loop);
    }

    void findCone() {
        for (const LoopId a : s_.pairing.extra) addToCone(a);
        for (const LoopId a : s_.pairing.changed) addToCone(a);
        // A strand that goes by on the wrong side is only free when the loop it passes is open.
        for (const PassId p : s_.pairing.extraPasses) {
            for (LinkId l = s_.actual[s_.actual.passed(p)].firstKid; l; l = s_.actual[l].nextInHost) {
                addToCone(s_.actual[l].loop);
            }
        }
    }

    std::string at(StitchPlace spot) const { return fmt::format("row {}, stitch {}", spot.row, spot.stitch); }

    bool pinRim() {
        std::vector<LoopId> rim;
        for (const LoopId a : order_) {
            for (const LoopId host : s_.actual.hostsRightToLeft(a)) {
                if (inCone(host) || std::find(rim.begin(), rim.end(), host) != rim.end()) continue;
                bool freed = true;
                for (LinkId l = s_.actual[host].firstKid; l; l = s_.actual[l].nextInHost) {
                    freed = freed && inCone(s_.actual[l].loop);
                }
                if (freed) rim.push_back(host);
            }
        }
        for (std::int32_t i = 0; i < s_.actual.entryCount(); ++i) {
            const EntryId e{i};
            if (s_.actual.has(e) && s_.actual.isLoop(e) && s_.actual.isLoose(e) && !s_.actual.isNothing(e) &&
                !inCone(e)) {
                rim.push_back(e);
            }
        }
        for (const LoopId loop : rim) {
            Move pin;
            pin.kind = MoveKind::pin;
            pin.loops = {loop};
            b_.needs(loop);
            if (pinOf(f_, loop)) continue;
            const StitchPlace spot = s_.actualSpots.of(loop);
            if (!b_.add(std::move(pin), spot,
                        fmt::format("Put a pin through the loop at {}, so that it cannot run.", at(spot)))) {
                return false;
            }
        }
        return true;
    }

    bool letDown() {
        for (const LoopId a : order_) {
            if (!f_.has(a)) continue;
            if (pinOf(f_, a)) {
                Move unpin;
                unpin.kind = MoveKind::unpin;
                unpin.loops = {a};
                if (!b_.add(std::move(unpin), s_.actualSpots.of(a), "Take the pin out: this loop has to go."))
                    return false;
            }
            if (!f_.isLive(a) || !f_.isHeld(a)) continue;
            Move drop;
            drop.kind = MoveKind::drop;
            drop.loops = {a};
            const StitchPlace spot = s_.actualSpots.of(a);
            if (!b_.add(std::move(drop), spot,
                        fmt::format("Let the stitch above {} slide off the needle.", at(spot)))) {
                return false;
            }
        }
        for (bool moved = true; moved;) {
            moved = false;
            for (const LoopId a : order_) {
                if (!f_.has(a) || !f_.isLoop(a) || !f_.isLoose(a)) continue;
                if (!f_[a].firstLink && f_.passesOf(a).empty()) continue;
                Move run;
                run.kind = MoveKind::letRun;
                run.loops = {a};
                const StitchPlace spot = s_.actualSpots.of(a);
                if (!b_.add(std::move(run), spot,
                            fmt::format("Let it run down from {} to the pin.", at(spot))))
                    return false;
                moved = true;
            }
        }
        for (const LoopId a : order_) {
            if (f_.has(a) && !f_.isNothing(a)) return false;  // something holds it that a run does not undo
        }
        return true;
    }

    bool hookUp() {
        std::vector<LoopId> redo;
        for (const LoopId m : numbering(s_.meant).order) {
            if (!now(m)) redo.push_back(m);
        }
        // One column to its top, then the next: each time the first loop whose hosts all stand.
        LoopId last;
        while (!redo.empty()) {
            auto next = redo.end();
            for (auto it = redo.begin(); it != redo.end(); ++it) {
                if (!ready(*it)) continue;
                if (next == redo.end()) next = it;
                if (last && standsOn(*it, last)) {
                    next = it;
                    break;
                }
            }
            if (next == redo.end()) return false;
            const LoopId m = *next;
            redo.erase(next);
            if (!hookOne(m)) return false;
            last = m;
        }
        return true;
    }

    bool ready(LoopId m) const {
        for (LinkId l = s_.meant[m].firstLink; l; l = s_.meant[l].nextInLoop) {
            if (!now(s_.meant[l].host)) return false;
        }
        return true;
    }
    bool standsOn(LoopId m, LoopId host) const {
        for (LinkId l = s_.meant[m].firstLink; l; l = s_.meant[l].nextInLoop) {
            if (s_.meant[l].host == host) return true;
        }
        return false;
    }

    /// The standing loop before a meant one along the yarn.
    LoopId standingBefore(LoopId m) const {
        for (EntryId e = s_.meant[m].prev; e; e = s_.meant[e].prev) {
            if (s_.meant.isLoop(e) && now(e)) return now(e);
        }
        return {};
    }

    bool hookOne(LoopId m) {
        if (s_.meant[m].flags.anchored != 0) return false;
        const LoopId before = standingBefore(m);
        if (!before) return false;
        const StitchPlace spot = s_.meantSpots.of(m);
        if (!s_.meant[m].firstLink) {
            Move lift;
            lift.kind = MoveKind::liftBar;
            lift.strand = before;
            if (!b_.add(
                    std::move(lift), spot,
                    fmt::format("Lift the strand between the stitches at {}: it is the missing yarn-over.",
                                at(spot)))) {
                return false;
            }
        } else if (!hookThrough(m, before, spot)) {
            return false;
        }
        now_[static_cast<std::size_t>(m.value)] = b_.made();
        b_.account(f_[b_.made()].um, s_.meant[m].um);
        return true;
    }

    bool hookThrough(LoopId m, LoopId before, StitchPlace spot) {
        Move hooking;
        hooking.kind = MoveKind::hook;
        std::vector<LinkId> links = s_.meant.linksOf(m);
        const Side side = s_.meant[links.front()].form.side;
        hooking.knit = side == b_.knitter().facing();
        if (hooking.knit) std::reverse(links.begin(), links.end());  // front first, as it faces her
        bool turned = false;
        for (const LinkId l : links) {
            const LinkForm& form = s_.meant[l].form;
            if (form.side != side || form.part != Part::opening || form.plies != Plies::whole) return false;
            hooking.loops.push_back(now(s_.meant[l].host));
            hooking.twists.push_back(form.twist);
            turned = turned || form.twist != 0;
        }
        if (!turned) hooking.twists.clear();
        // The lowest of its rungs that lies in the strand where the meant loop should be.
        const std::vector<PassId> strands = f_.passesOf(hooking.loops.front());
        for (std::size_t i = 0; i < strands.size() && hooking.rung == 0; ++i) {
            EntryId e = f_[strands[i]].prev;
            while (e && !(f_.isLoop(e) && !f_.isNothing(e))) e = f_[e].prev;
            if (e == before) hooking.rung = static_cast<int>(i) + 1;
        }
        if (hooking.rung == 0) hooking.strand = before;
        const std::string which = rungWords(hooking.rung);
        return b_.add(std::move(hooking), spot,
                      hookWords(which, links.size(), spot, side == b_.knitter().facing(), turned));
    }

    /// Which strand to take: 1 is the lowest rung, 0 the bare bar.
    static std::string rungWords(int rung) {
        if (rung == 0) return "the bare strand between the stitches on both sides";
        if (rung == 1) return "the lowest rung";
        return fmt::format("rung {} from the lowest (those below it stay)", rung);
    }

    std::string hookWords(const std::string& which, std::size_t loops, StitchPlace spot, bool knit,
                          bool turned) const {
        const char* through = loops == 1 ? "the loop" : "all these loops together";
        std::string words =
            knit ? fmt::format("At {}: take {}, behind the loop, and draw it toward you through {}.",
                               at(spot), which, through)
                 : fmt::format("At {}: take {}, in front of the loop, and draw it away from you through {}.",
                               at(spot), which, through);
        if (turned) words += " Turn the loop half round first, as it was meant.";
        return words;
    }

    bool seatTops() {
        // From right to left, so that the neighbour on the right is on the needle already.
        LoopId right;
        for (HeldId h = s_.meant[s_.meant.needle()].first; h; h = s_.meant[h].next) {
            if (s_.meant[h].state.hanging != 0) continue;
            const LoopId loop = now(s_.meant[h].loop);
            if (!loop) return false;
            const HeldId own = f_.heldOn(loop, f_.needle());
            if (!own || f_[own].state.hanging != 0) {
                Move seat;
                seat.kind = MoveKind::seat;
                seat.loops = {loop};
                if (right) {
                    seat.beside = right;
                } else {
                    seat.atRightEnd = true;
                }
                if (!b_.add(std::move(seat), s_.meantSpots.of(s_.meant[h].loop),
                            "Put the stitch back on the needle, right leg in front.")) {
                    return false;
                }
            }
            right = loop;
        }
        return true;
    }

    const Situation& s_;
    PlanBuilder& b_;
    const Fabric& f_;
    std::vector<bool> cone_;     ///< by actual entry id
    std::vector<LoopId> order_;  ///< the cone, as it was found
    std::vector<LoopId> now_;    ///< by meant entry id: the loop that stands for it
};

}  // namespace

bool planColumns(const Situation& situation, PlanBuilder& builder) {
    return ColumnPlan(situation, builder).make();
}

}  // namespace loopmend
