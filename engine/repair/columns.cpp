// SPDX-License-Identifier: MIT
// Mending by column. What is wrong and everything drawn through it is let down; the right loops that this
// would set free are pinned first, so that the run stops there by itself; then the meant loops are hooked up
// again, lowest first, each from the strand in which it should lie.
#include <algorithm>
#include <optional>
#include <set>
#include <unordered_map>

#include <fmt/format.h>

#include "fabric/hands.h"
#include "fabric/itinerary.h"
#include "repair/arms.h"
#include "repair/builder.h"
#include "repair/yarn_need.h"

namespace loopmend {

namespace {

class ColumnPlan {
  public:
    ColumnPlan(const Situation& s, PlanBuilder& b, const ColumnWay& way)
        : s_(s),
          b_(b),
          f_(b.fabric()),
          below_(way.below),
          panel_(way.panel),
          arms_(s, f_, way.below, way.arm) {
        now_.assign(static_cast<std::size_t>(s_.meant.entryCount()), LoopId{});
    }

    /// There is yarn for what has to be made again. Asked of a fabric from which rows above are still to be
    /// taken back: they change nothing about it.
    bool hasYarn() {
        if (!s_.pairing.complete) return b_.refuse("it is too different from what was meant");
        look();
        return yarnNeedOf(s_.meant, f_, redo_, now_).possible ||
               b_.refuse("there is no yarn in the strands for so many rungs");
    }

    bool make() {
        if (!s_.pairing.complete) return b_.refuse("it is too different from what was meant");
        look();
        if (redo_.size() > kMany &&
            static_cast<double>(redo_.size()) * s_.ask.pace.hookFactor * s_.ask.pace.secondsPerStitch >
                2 * s_.ripSeconds) {
            return b_.refuse("so many stitches would come undone that taking back rows is far quicker");
        }
        const YarnNeed need = yarnNeedOf(s_.meant, f_, redo_, now_);
        if (!need.possible) return b_.refuse("there is no yarn in the strands for so many rungs");
        b_.leaves(need.leaves, need.shortageMm);
        return seatFallen() && pinRim() && letDown() && hookUp() && seatTops() &&
               (below_ > 0 || b_.takeOutPins());
    }

  private:
    static constexpr std::size_t kMany = 500;

    void look() {
        findCone();
        for (std::int32_t i = 0; i < s_.meant.entryCount(); ++i) {
            const LoopId a = s_.pairing.actualOf[static_cast<std::size_t>(i)];
            if (a && f_.has(a) && f_.isLoop(a) && !inCone(a)) now_[static_cast<std::size_t>(i)] = a;
        }
        listRedo();
    }

    bool inCone(LoopId a) const { return cone_.count(a.value) != 0; }
    LoopId now(LoopId meant) const { return now_[static_cast<std::size_t>(meant.value)]; }
    bool isMeantHere(LoopId meant) const { return below_ == 0 || s_.meantSpots.of(meant).row < below_; }
    bool isHere(LoopId actual) const {
        return f_.has(actual) && (below_ == 0 || s_.actualSpots.of(actual).row < below_);
    }

    void addToCone(LoopId a) {
        std::vector<LoopId> waiting{a};
        while (!waiting.empty()) {
            const LoopId l = waiting.back();
            waiting.pop_back();
            if (!cone_.insert(l.value).second) continue;
            order_.push_back(l);
            std::vector<LoopId> kids;
            for (LinkId k = f_[l].firstKid; k; k = f_[k].nextInHost) kids.push_back(f_[k].loop);
            waiting.insert(waiting.end(), kids.rbegin(), kids.rend());
        }
    }
    void addAbove(LoopId host) {
        for (LinkId l = f_[host].firstKid; l; l = f_[l].nextInHost) addToCone(f_[l].loop);
    }

    void findCone() {
        for (const LoopId a : s_.pairing.extra) {
            if (f_.has(a) && !f_.isNothing(a)) addToCone(a);
        }
        for (const LoopId a : s_.pairing.changed) {
            if (isHere(a)) addToCone(a);
        }
        // A strand that goes by on the wrong side, or should, is only free when the loop it passes is open.
        for (const PassId p : s_.pairing.extraPasses) {
            if (f_.has(p) && !f_.isLoop(p)) addAbove(f_.passed(p));
        }
        for (const PassId p : s_.pairing.missingPasses) {
            const LoopId passed = s_.meant.passed(p);
            const LoopId a = s_.pairing.actual(passed);
            if (a && f_.has(a) && f_.isLoop(a) && isMeantHere(passed)) addAbove(a);
        }
        for (const LoopId foot : arms_.feet()) addAbove(foot);
    }

    /// The meant loops that have to be made, and which of them stand on which.
    void listRedo() {
        std::unordered_map<std::int32_t, std::size_t> place;
        const auto want = [&](LoopId m) {
            if (!now(m) && isMeantHere(m) && !s_.meant.isNothing(m)) redo_.push_back(m);
        };
        for (const LoopId m : s_.pairing.missing) want(m);
        for (const LoopId a : order_) {
            if (const LoopId m = s_.pairing.meant(a)) want(m);
        }
        for (int r = 0; r < below_ && r <= s_.meantSpots.lastRow(); ++r) {  // rows above are gone already
            for (const LoopId m : s_.meantSpots.rows()[static_cast<std::size_t>(r)]) want(m);
        }
        std::sort(redo_.begin(), redo_.end(), [&](LoopId x, LoopId y) {
            const StitchPlace p = s_.meantSpots.of(x);
            const StitchPlace q = s_.meantSpots.of(y);
            return p.row != q.row ? p.row < q.row : p.stitch != q.stitch ? p.stitch < q.stitch : x < y;
        });
        redo_.erase(std::unique(redo_.begin(), redo_.end()), redo_.end());
        for (std::size_t i = 0; i < redo_.size(); ++i) place.emplace(redo_[i].value, i);
        waits_.assign(redo_.size(), 0);
        above_.assign(redo_.size(), {});
        for (std::size_t i = 0; i < redo_.size(); ++i) {
            for (LinkId l = s_.meant[redo_[i]].firstLink; l; l = s_.meant[l].nextInLoop) {
                const auto host = place.find(s_.meant[l].host.value);
                if (host == place.end()) continue;
                ++waits_[i];
                above_[host->second].push_back(i);
            }
        }
    }

    std::string at(StitchPlace spot) const { return fmt::format("row {}, stitch {}", spot.row, spot.stitch); }

    /// What fell off the needle and belongs there needs no pin: it goes back before anything is let go.
    bool seatFallen() {
        if (below_ > 0 || s_.pairing.crossingsDiffer()) return true;
        for (HeldId h = s_.meant[s_.meant.needle()].first; h; h = s_.meant[h].next) {
            if (s_.meant[h].state.hanging != 0) continue;
            const LoopId loop = now(s_.meant[h].loop);
            if (!loop || !f_.isLoose(loop)) continue;
            const HeldId own = f_.heldOn(loop, f_.needle());
            if (!own) continue;
            b_.needs(loop);
            Move seat;
            seat.kind = MoveKind::seat;
            seat.loops = {loop};
            if (!b_.add(std::move(seat), s_.actualSpots.of(loop),
                        "Put the stitch that fell back on the needle, right leg in front."))
                return false;
        }
        return true;
    }

    bool pinRim() {
        std::vector<LoopId> rim;
        std::set<std::int32_t> known;
        const auto meet = [&](LoopId l) {
            if (known.insert(l.value).second) rim.push_back(l);
        };
        for (const LoopId a : order_) {
            for (const LoopId host : f_.hostsRightToLeft(a)) {
                if (inCone(host)) continue;
                bool freed = true;
                for (LinkId l = f_[host].firstKid; l; l = f_[l].nextInHost) {
                    freed = freed && inCone(f_[l].loop);
                }
                if (freed) meet(host);
            }
        }
        for (std::int32_t i = 0; i < f_.entryCount(); ++i) {
            const EntryId e{i};
            if (f_.has(e) && f_.isLoop(e) && f_.isLoose(e) && !f_.isNothing(e) && !inCone(e)) meet(e);
        }
        for (const LoopId loop : rim) b_.needs(loop);
        if (!s_.ask.holdRims) return true;
        if (panel_) return ontoSpareNeedle(rim);
        for (const LoopId loop : rim) {
            if (pinOf(f_, loop)) continue;
            Move pin;
            pin.kind = MoveKind::pin;
            pin.loops = {loop};
            const StitchPlace spot = s_.actualSpots.of(loop);
            if (!b_.add(std::move(pin), spot,
                        fmt::format("Put a pin through the loop at {}, so that it cannot run.", at(spot)))) {
                return false;
            }
        }
        return true;
    }

    /// The rim of a panel lies on a thin needle, in its order from right to left.
    bool ontoSpareNeedle(const std::vector<LoopId>& rim) {
        Move thread;
        thread.kind = MoveKind::thread;
        thread.spare = true;
        for (const LoopId l : rim) {
            if (!pinOf(f_, l)) thread.loops.push_back(l);
        }
        if (thread.loops.size() < 2) return b_.refuse("one column alone is no panel");
        thread.loops = b_.workplace().rightToLeft(std::move(thread.loops));
        const StitchPlace spot = s_.actualSpots.of(thread.loops.front());
        b_.caution("Lay the cloth on a board, and pin every strand that comes out flat, in its order.");
        return b_.add(
            std::move(thread), spot,
            fmt::format("Put a thin needle through the stitches below the panel, from {} on: they stay.",
                        at(spot)));
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
            if (f_.has(a) && !f_.isNothing(a))
                return b_.refuse("something holds a stitch that has to come out");
        }
        return true;
    }

    bool hookUp() {
        // One column to its top, then the next: each time the first loop whose hosts all stand.
        std::vector<int> waits = waits_;
        std::set<std::size_t> ready;
        for (std::size_t i = 0; i < redo_.size(); ++i) {
            if (waits[i] == 0 && standsFree(redo_[i])) ready.insert(i);
        }
        std::size_t made = 0;
        if (!arms_.uncross(b_, now_) || !arms_.crossWhatStands(b_, now_)) return false;
        while (!ready.empty()) {
            const auto first =
                std::find_if(ready.begin(), ready.end(), [&](std::size_t i) { return mayBeMade(i); });
            if (first == ready.end()) return b_.refuse("arms that cross wait for each other");
            const std::size_t i = next_ && ready.count(*next_) != 0 && mayBeMade(*next_) ? *next_ : *first;
            ready.erase(i);
            if (!hookOne(redo_[i]) || !arms_.crossWhatStands(b_, now_)) return false;
            ++made;
            next_.reset();
            for (const std::size_t k : above_[i]) {
                if (--waits[k] > 0 || !standsFree(redo_[k])) continue;
                ready.insert(k);
                if (!panel_ && (!next_ || k < *next_)) next_ = k;
            }
        }
        return made == redo_.size() || b_.refuse("a stitch would stand on one that is not there");
    }

    /// What crosses below it has crossed.
    bool mayBeMade(std::size_t i) const {
        for (LinkId l = s_.meant[redo_[i]].firstLink; l; l = s_.meant[l].nextInLoop) {
            if (arms_.waitsAbove(s_.meant[l].host)) return false;
        }
        return true;
    }

    bool standsFree(LoopId m) const {
        for (LinkId l = s_.meant[m].firstLink; l; l = s_.meant[l].nextInLoop) {
            if (!now(s_.meant[l].host)) return false;
        }
        return true;
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

    /// Below a row that was taken back: what was made hangs where it hung, and goes onto the needle there.
    bool seatWhereItHangs() {
        for (const LoopId m : redo_) {
            const LoopId loop = now(m);
            const HeldId own = f_.heldOn(loop, f_.needle());
            if (!f_.isLive(loop) || !own || f_[own].state.hanging == 0) continue;
            Move seat;
            seat.kind = MoveKind::seat;
            seat.loops = {loop};
            if (!b_.add(std::move(seat), s_.meantSpots.of(m),
                        "Put the stitch back on the needle, right leg in front."))
                return false;
        }
        return s_.hasCrossings || seatNewTops();
    }

    /// What is made anew on top of a new column hung nowhere: it goes beside the stitch to its right.
    bool seatNewTops() {
        std::vector<LoopId> row = s_.meantSpots.rows()[static_cast<std::size_t>(below_ - 1)];
        std::sort(row.begin(), row.end(), [&](LoopId x, LoopId y) {
            return s_.meantSpots.of(x).column < s_.meantSpots.of(y).column;
        });
        LoopId right;
        for (const LoopId m : row) {
            const LoopId loop = now(m);
            if (!loop || !f_.isLive(loop) || f_.isNothing(loop)) continue;
            if (!f_.heldOn(loop, f_.needle())) {
                Move seat;
                seat.kind = MoveKind::seat;
                seat.loops = {loop};
                seat.beside = right;
                seat.atRightEnd = !right;
                if (!b_.add(std::move(seat), s_.meantSpots.of(m),
                            "Put the stitch on the needle beside its neighbor, right leg in front."))
                    return false;
            }
            right = loop;
        }
        return true;
    }

    bool seatTops() {
        if (below_ > 0) return seatWhereItHangs();
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
    int below_;  ///< only meant rows lower than this; 0: all
    bool panel_;
    Arms arms_;
    std::set<std::int32_t> cone_;  ///< actual loops
    std::vector<LoopId> order_;    ///< the cone, as it was found
    std::vector<LoopId> now_;      ///< by meant entry id: the loop that stands for it
    std::vector<LoopId> redo_;
    std::vector<int> waits_;  ///< by place in redo_: links to loops that have to be made as well
    std::vector<std::vector<std::size_t>> above_;
    std::optional<std::size_t> next_;  ///< goes on in the column hooked last
};

}  // namespace

bool columnsHaveYarn(const Situation& situation, PlanBuilder& builder, const ColumnWay& way) {
    return ColumnPlan(situation, builder, way).hasYarn();
}

bool mendColumns(const Situation& situation, PlanBuilder& builder, const ColumnWay& way) {
    return ColumnPlan(situation, builder, way).make();
}

}  // namespace loopmend
