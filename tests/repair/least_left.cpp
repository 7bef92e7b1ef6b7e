// SPDX-License-Identifier: MIT
#include "repair/least_left.h"

#include <algorithm>
#include <iterator>
#include <limits>

namespace loopmend {

namespace {

/// Along its one yarn; empty if there are several.
std::vector<LoopId> loopsOfOneYarn(const Fabric& f) {
    std::vector<LoopId> loops;
    bool any = false;
    for (std::int32_t y = 0; y < f.yarnCount(); ++y) {
        if (f[YarnId{y}].flags.gone != 0 || !f[YarnId{y}].first) continue;
        if (any) return {};
        any = true;
        for (EntryId e = f[YarnId{y}].first; e; e = f[e].next) {
            if (f.isLoop(e) && !f.isNothing(e)) loops.push_back(e);
        }
    }
    return loops;
}

bool onNeedle(const Fabric& f, LoopId loop) {
    const HeldId h = f.heldOn(loop, f.needle());
    return h && f[h].state.hanging == 0;
}

/// Loops that come of it: a bar that is lifted is one too.
int comeOf(const Step& step) {
    switch (step.op) {
        case Op::m1Left:
        case Op::m1Right:
        case Op::m1PurlLeft:
        case Op::m1PurlRight:
        case Op::m1Open:
        case Op::knitWithWrap:
        case Op::purlWithWrap: return 3;  // of two wraps both
        default: return std::max(1, makes(step));
    }
}

/// What changes links of loops that stand, or makes them otherwise than at the yarn's end.
bool isBeyond(const Step& step) {
    switch (step.op) {
        case Op::passOver:
        case Op::k2togOver:
        case Op::slip1k2Over:
        case Op::bindOff:
        case Op::bindOffPurl:
        case Op::bindOffTogether:
        case Op::knitBelow:
        case Op::purlBelow:
        case Op::knitWithFloat:
        case Op::purlWithFloat:
        case Op::pickUp:
        case Op::castOnKnitted:
        case Op::hold: return true;
        default: return false;
    }
}

}  // namespace

LeastLeft::LeastLeft(const Fabric& meant, const Script& script, const Pace& pace, Run next)
    : ripSeconds_(pace.ripSecondsPerStitch),
      turnSeconds_(pace.otherMoveSeconds),
      hookSeconds_(pace.hookFactor * pace.secondsPerStitch),
      startSeconds_(pace.hookSetUpSeconds),
      barSeconds_(pace.otherMoveSeconds),
      seatSeconds_(pace.seatFactor * pace.secondsPerStitch),
      otherSeconds_(pace.otherMoveSeconds),
      pinSeconds_(pace.pinSeconds),
      // Or the work is turned in between.
      alternateSeconds_(std::min(hookSeconds_ * (pace.alternateFactor - 1), turnSeconds_)) {
    int most = 1;
    int mostCrossed = 1;
    bool beyond = false;
    for (const WorkedRow& row : script.rows) {
        for (const Step& step : row.steps) {
            int& come = step.op == Op::cable ? mostCrossed : most;
            come = std::max(come, comeOf(step));
            beyond = beyond || isBeyond(step);
            // Taken back one by one several may come onto the needle at once.
            if (step.op == Op::cable) continue;
            seatSeconds_ =
                std::min(seatSeconds_, pace.tinkFactor * pace.secondsPerStitch / std::max(1, uses(step)));
        }
    }
    mostCrossed = std::max(most, mostCrossed);
    const std::vector<LoopId> order = loopsOfOneYarn(meant);
    if (beyond || order.empty()) return;
    std::vector<std::int32_t> place(static_cast<std::size_t>(meant.entryCount()), -1);
    for (std::size_t i = 0; i < order.size(); ++i)
        place[static_cast<std::size_t>(order[i].value)] = static_cast<std::int32_t>(i);
    meant_.resize(order.size());
    turnsLast_ = meant.run(order.back()) != next;
    for (std::size_t i = 0; i < order.size(); ++i) {
        Loop& loop = meant_[i];
        loop.anchored = meant[order[i]].flags.anchored != 0;
        loop.waits = onNeedle(meant, order[i]);
        loop.run = meant.run(order[i]);
        loop.workSeconds = pace.secondsPerStitch / most;
        for (LinkId l = meant[order[i]].firstLink; l; l = meant[l].nextInLoop) {
            const std::int32_t host = place[static_cast<std::size_t>(meant[l].host.value)];
            // Not up along the yarn: sewn, or chained another way.
            if (host < 0 || host >= static_cast<std::int32_t>(i)) {
                meant_.clear();
                return;
            }
            if (meant[meant[l].host].crossing) loop.workSeconds = pace.secondsPerStitch / mostCrossed;
            const LinkForm& form = meant[l].form;
            loop.through.push_back({host, form.side, form.twist, form.plies});
            Loop& under = meant_[static_cast<std::size_t>(host)];
            if (under.firstKid < 0) under.firstKid = static_cast<std::int32_t>(i);
            under.lastKid = static_cast<std::int32_t>(i);
        }
        for (EntryId e = meant[order[i]].next; e && !meant.isLoop(e); e = meant[e].next)
            loop.strand.push_back(
                {place[static_cast<std::size_t>(meant.passed(e).value)], meant.passSide(e)});
    }
    for (std::int32_t x = 0; x < meant.crossingCount(); ++x) {
        const Crossing& crossing = meant[CrossingId{x}];
        if (crossing.sign == 0) continue;
        crossed_.push_back({place[static_cast<std::size_t>(crossing.a.value)],
                            place[static_cast<std::size_t>(crossing.b.value)], crossing.sign});
    }
}

LeastLeft::Kept LeastLeft::keptIn(const Fabric& f, const std::vector<LoopId>& order) const {
    using Stays = Kept::Stays;
    const std::size_t n = meant_.size();
    Kept kept;
    std::vector<Stays>& stays = kept.stays;
    std::vector<LoopId>& as = kept.as;
    stays.assign(n, Stays::no);
    as.assign(n, LoopId{});
    kept.is.assign(static_cast<std::size_t>(f.entryCount()), -1);
    std::size_t anchored = 0;
    const auto matches = [&](const Loop& loop, LoopId c) {
        std::size_t k = 0;
        for (LinkId l = f[c].firstLink; l; l = f[l].nextInLoop, ++k) {
            if (k >= loop.through.size()) return false;
            const Through& t = loop.through[k];
            const LinkForm& form = f[l].form;
            if (as[static_cast<std::size_t>(t.host)] != f[l].host || form.side != t.side ||
                form.twist != t.twist || form.plies != t.plies)
                return false;
        }
        return k == loop.through.size();
    };
    // Where the loop before yarn-overs is none of them: they are all that lies bare between the last that
    // stays and the one loop after them.
    const auto bareBefore = [&](std::size_t i, LoopId& found) {
        std::size_t after = i;
        while (after < n && meant_[after].through.empty() && !meant_[after].anchored) ++after;
        if (after == n) return Stays::maybe;
        const std::vector<Through>& through = meant_[after].through;
        const auto alike = std::count_if(meant_.begin(), meant_.end(),
                                         [&](const Loop& other) { return other.through == through; });
        for (const Through& t : through) {
            if (static_cast<std::size_t>(t.host) >= i ||
                stays[static_cast<std::size_t>(t.host)] != Stays::yes)
                return Stays::maybe;
        }
        std::vector<LoopId> there;
        std::copy_if(order.begin(), order.end(), std::back_inserter(there),
                     [&](LoopId c) { return f[c].firstLink && matches(meant_[after], c); });
        if (alike != 1 || there.size() != 1 || meant_[after].anchored) return Stays::maybe;
        std::size_t bare = 0;
        for (EntryId e = f[there.front()].prev; e; e = f[e].prev) {
            if (!f.isLoop(e) || f.isNothing(e)) continue;
            if (kept.is[static_cast<std::size_t>(e.value)] >= 0) break;
            if (f[e].firstLink || f[e].flags.anchored != 0) continue;
            ++bare;
            found = e;
        }
        if (bare == 0) return Stays::no;
        return bare == after - i ? Stays::yes : Stays::maybe;
    };
    for (std::size_t i = 0; i < n; ++i) {
        const Loop& loop = meant_[i];
        LoopId found;
        if (loop.through.empty() && loop.anchored) {
            while (anchored < order.size() &&
                   (f[order[anchored]].firstLink || f[order[anchored]].flags.anchored == 0))
                ++anchored;
            if (anchored < order.size()) found = order[anchored++];
            if (!found) return kept;
        } else if (loop.through.empty()) {
            // A yarn-over lies right after the loop before it.
            if (i == 0 || stays[i - 1] != Stays::yes) {
                const bool first = i > 0 && !meant_[i - 1].through.empty();
                stays[i] = first ? bareBefore(i, as[i]) : Stays::maybe;
                if (stays[i] == Stays::yes)
                    kept.is[static_cast<std::size_t>(as[i].value)] = static_cast<std::int32_t>(i);
                continue;
            }
            // Of several side by side nobody can tell which is which, unless all are there.
            const auto next = [&f](EntryId e) {
                e = f[e].next;
                while (e && (!f.isLoop(e) || f.isNothing(e))) e = f[e].next;
                return e;
            };
            const auto isBare = [&f](EntryId e) { return e && !f[e].firstLink && f[e].flags.anchored == 0; };
            int wanted = 0;
            for (std::size_t k = i; k < n && meant_[k].through.empty() && !meant_[k].anchored; ++k) ++wanted;
            int there = 0;
            for (EntryId e = next(as[i - 1]); isBare(e); e = next(e)) ++there;
            // None: before what comes after it. What was worked too often may lie between.
            bool none = there == 0;
            const std::size_t after = i + static_cast<std::size_t>(wanted);
            if (none && after < n) {
                const std::vector<Through>& through = meant_[after].through;
                none = !through.empty() && std::all_of(through.begin(), through.end(), [&](const Through& t) {
                    return stays[static_cast<std::size_t>(t.host)] == Stays::yes;
                });
                EntryId e = next(as[i - 1]);
                while (none && e && !matches(meant_[after], e)) {
                    none = !isBare(e);
                    e = next(e);
                }
                none = none && e;
            } else if (none) {
                for (EntryId e = next(as[i - 1]); e; e = next(e)) none = none && !isBare(e);
            }
            if (there == wanted) {
                found = next(as[i - 1]);
            } else if (!none) {
                stays[i] = Stays::maybe;
                continue;
            }
        } else {
            bool maybe = false;
            bool none = false;
            for (const Through& t : loop.through) {
                maybe = maybe || stays[static_cast<std::size_t>(t.host)] == Stays::maybe;
                none = none || stays[static_cast<std::size_t>(t.host)] == Stays::no;
            }
            if (none) continue;
            if (maybe) {
                stays[i] = Stays::maybe;
                continue;
            }
            const auto under = static_cast<std::size_t>(loop.through.front().host);
            // Of several alike out of one nobody can tell which is which, unless all are there.
            std::size_t wanted = 0;
            std::size_t nth = 0;
            for (std::int32_t k = meant_[under].firstKid; k >= 0 && k <= meant_[under].lastKid; ++k) {
                if (!(meant_[static_cast<std::size_t>(k)].through == loop.through)) continue;
                nth += k < static_cast<std::int32_t>(i) ? 1 : 0;
                ++wanted;
            }
            std::vector<LoopId> there;
            for (const LoopId c : order) {
                if (f[c].firstLink && f[f[c].firstLink].host == as[under] && matches(loop, c))
                    there.push_back(c);
            }
            if (there.size() == wanted) {
                found = there[nth];
            } else if (!there.empty()) {
                stays[i] = Stays::maybe;
                continue;
            }
        }
        if (!found) continue;
        stays[i] = Stays::yes;
        as[i] = found;
        kept.is[static_cast<std::size_t>(found.value)] = static_cast<std::int32_t>(i);
    }
    kept.known = true;
    return kept;
}

/// For each strand and each crossing that is not as it should be: the loops of which one has to be made anew.
/// Only where all that lies there is kept, and held by loops that are.
std::vector<std::vector<std::int32_t>> LeastLeft::atOdds(const Fabric& f, const std::vector<LoopId>& order,
                                                         const Kept& kept) const {
    std::vector<std::vector<std::int32_t>> all;
    const auto place = [&](LoopId loop) { return kept.is[static_cast<std::size_t>(loop.value)]; };
    // The loops that hold it. False: it may come open without any of them.
    const auto addHolding = [&](std::int32_t i, std::vector<std::int32_t>& loops) {
        if (i < 0 || kept.stays[static_cast<std::size_t>(i)] != Kept::Stays::yes) return false;
        const LoopId loop = kept.as[static_cast<std::size_t>(i)];
        if (f.isLive(loop)) return false;
        for (LinkId k = f[loop].firstKid; k; k = f[k].nextInHost) {
            const std::int32_t kid = place(f[k].loop);
            if (kid < 0) return false;
            loops.push_back(kid);
        }
        return true;
    };
    for (std::size_t c = 0; c + 1 < order.size(); ++c) {
        const std::int32_t i = place(order[c]);
        if (i < 0 || place(order[c + 1]) != i + 1) continue;
        std::vector<GoesBy> strand;
        std::vector<std::int32_t> loops{i, i + 1};
        bool sure = true;
        for (EntryId e = f[order[c]].next; e != order[c + 1] && sure; e = f[e].next) {
            if (f.isLoop(e)) continue;
            const std::int32_t by = place(f.passed(e));
            sure = !f.isFree(e) && addHolding(by, loops);
            strand.push_back({by, f.passSide(e)});
        }
        const std::vector<GoesBy>& wanted = meant_[static_cast<std::size_t>(i)].strand;
        for (const GoesBy& by : wanted) sure = sure && addHolding(by.loop, loops);
        if (sure && !(strand == wanted)) all.push_back(std::move(loops));
    }
    std::vector<Crossed> crossed;
    const auto addCrossing = [&](const Crossed& x) {
        std::vector<std::int32_t> loops{x.a, x.b};
        if (addHolding(x.a, loops) && addHolding(x.b, loops)) all.push_back(std::move(loops));
    };
    for (std::int32_t x = 0; x < f.crossingCount(); ++x) {
        const Crossing& crossing = f[CrossingId{x}];
        if (crossing.sign == 0 || !f.has(crossing.a) || !f.has(crossing.b)) continue;
        const Crossed here{place(crossing.a), place(crossing.b), crossing.sign};
        if (here.a < 0 || here.b < 0) continue;
        crossed.push_back(here);
        if (std::find(crossed_.begin(), crossed_.end(), here) == crossed_.end()) addCrossing(here);
    }
    for (const Crossed& x : crossed_) {
        if (std::find(crossed.begin(), crossed.end(), x) == crossed.end()) addCrossing(x);
    }
    return all;
}

/// The strand in which it would have to be hooked is a bare bar between two loops that stay.
bool LeastLeft::isShort(const Fabric& f, const Kept& kept, std::size_t i) const {
    if (i == 0 || i + 1 >= meant_.size() || kept.stays[i - 1] != Kept::Stays::yes ||
        kept.stays[i + 1] != Kept::Stays::yes)
        return false;
    EntryId e = f[kept.as[i - 1]].next;
    while (e && (!f.isLoop(e) || f.isNothing(e))) e = f[e].next;
    if (e != EntryId{kept.as[i + 1]}) return false;
    const Yarn& yarn = f[f[kept.as[i - 1]].yarn];
    return f[kept.as[i - 1]].strandUm * 2 <= yarn.loopUm;
}

/// How many loops below `cut` have to be made anew if this one is: it, and what stands on it. 0: it is
/// worked.
int LeastLeft::heightBelow(std::int32_t loop, std::size_t cut) const {
    int n = 0;
    for (; loop >= 0 && static_cast<std::size_t>(loop) < cut;
         loop = meant_[static_cast<std::size_t>(loop)].firstKid)
        ++n;
    return n;
}

/// On the needle when all from `cut` on is still to be worked.
bool LeastLeft::waits(std::size_t i, std::size_t cut) const {
    const Loop& loop = meant_[i];
    if (loop.firstKid < 0) return loop.waits;
    return static_cast<std::size_t>(loop.firstKid) >= cut;
}

/// Through each of what it goes through; and what goes the other way than all that is hooked below it.
double LeastLeft::hookingOf(const Kept& kept, std::size_t i) const {
    const Loop& loop = meant_[i];
    bool hooked = false;
    bool alike = false;
    for (const Through& t : loop.through) {
        const auto host = static_cast<std::size_t>(t.host);
        if (kept.stays[host] != Kept::Stays::no) continue;
        hooked = true;
        const std::vector<Through>& below = meant_[host].through;
        alike = alike || below.empty() || below.front().side == t.side;
    }
    return hookSeconds_ * static_cast<double>(loop.through.size()) +
           (hooked && !alike ? alternateSeconds_ : 0.0);
}

LeastLeft::Removing LeastLeft::removing(const Fabric& f, const std::vector<LoopId>& order, const Kept& kept,
                                        const std::vector<bool>& mayHang) const {
    const std::size_t n = meant_.size();
    Removing removing{std::vector<double>(n + 1, 0.0), std::vector<int>(n + 1, 0)};
    std::vector<std::size_t> at(static_cast<std::size_t>(f.entryCount()), order.size());
    for (std::size_t p = 0; p < order.size(); ++p) at[static_cast<std::size_t>(order[p].value)] = p;
    const auto is = [&](LoopId l) { return kept.is[static_cast<std::size_t>(l.value)]; };
    struct ToHold {
        std::int32_t i;     ///< which one is to be held
        std::size_t until;  ///< the place of the last loop through it
    };
    std::vector<double> runs(order.size(), 0.0);
    std::vector<ToHold> held;
    for (std::size_t p = 0; p < order.size(); ++p) {
        const LoopId l = order[p];
        if (is(l) < 0) {
            if (!f.isLive(l) || f[l].flags.anchored != 0) continue;
            runs[p] = (f[l].firstLink ? otherSeconds_ : 0.0) + (f.isHeld(l) ? otherSeconds_ : 0.0);
            continue;
        }
        if (f.isLive(l) || f.isHeld(l) || f[l].flags.anchored != 0) continue;
        const auto id = static_cast<std::size_t>(l.value);
        if (id >= mayHang.size() || mayHang[id]) continue;
        std::size_t last = 0;
        bool all = true;
        for (LinkId k = f[l].firstKid; k; k = f[k].nextInHost) {
            all = all && is(f[k].loop) < 0;
            last = std::max(last, at[static_cast<std::size_t>(f[k].loop.value)]);
        }
        if (all) held.push_back({is(l), last});
    }
    std::vector<double> runsBefore(order.size() + 1, 0.0);
    for (std::size_t p = 0; p < order.size(); ++p) runsBefore[p + 1] = runsBefore[p] + runs[p];
    for (std::size_t cut = 0; cut <= n; ++cut) {
        // What comes back from the yarn's end lies after the last that stays; whatever else came back would
        // have to be hooked up.
        double least = std::numeric_limits<double>::infinity();
        double gone = 0;
        for (std::size_t p = order.size() + 1; p-- > 0;) {
            double all = gone + runsBefore[p];
            for (const ToHold& h : held)
                all += static_cast<std::size_t>(h.i) < cut && h.until < p ? pinSeconds_ : 0.0;
            least = std::min(least, all);
            if (p == 0) break;
            const std::int32_t i = is(order[p - 1]);
            if (i >= 0 && static_cast<std::size_t>(i) < cut) gone += hookSeconds_;
        }
        removing.runs[cut] = least;
        // The longest that stand in their order.
        std::vector<std::int32_t> ends;
        int staying = 0;
        for (const LoopId l : order) {
            const std::int32_t i = is(l);
            if (i < 0 || static_cast<std::size_t>(i) >= cut) continue;
            ++staying;
            const auto it = std::lower_bound(ends.begin(), ends.end(), i);
            if (it == ends.end()) {
                ends.push_back(i);
            } else {
                *it = i;
            }
        }
        removing.outOfOrder[cut] = staying - static_cast<int>(ends.size());
    }
    return removing;
}

double LeastLeft::seconds(const Fabric& f, LoopId at, const std::vector<bool>& mayHang) const {
    using Stays = Kept::Stays;
    if (meant_.empty()) return 0;
    const std::vector<LoopId> order = loopsOfOneYarn(f);
    if (order.empty()) return 0;
    const std::size_t n = meant_.size();
    const Kept kept = keptIn(f, order);
    if (!kept.known) return 0;
    const std::vector<Stays>& stays = kept.stays;
    const std::vector<LoopId>& as = kept.as;
    const std::vector<std::int32_t>& is = kept.is;
    const std::vector<std::vector<std::int32_t>> odds = atOdds(f, order, kept);
    const bool anyMaybe = std::find(stays.begin(), stays.end(), Stays::maybe) != stays.end();
    const Removing removal = removing(f, order, kept, mayHang);
    const bool allHeld = std::all_of(order.begin(), order.end(), [&](LoopId c) {
        return !f.isLive(c) || f.isHeld(c) || f[c].flags.anchored != 0;
    });
    const auto extras = static_cast<int>(std::count_if(
        order.begin(), order.end(), [&](LoopId c) { return is[static_cast<std::size_t>(c.value)] < 0; }));
    const bool goesOn = at && f.has(at) && (is[static_cast<std::size_t>(at.value)] >= 0 || anyMaybe);
    const auto isHeld = [&](std::size_t i) {
        return stays[i] == Stays::maybe || (stays[i] == Stays::yes && onNeedle(f, as[i]));
    };

    // All that is to be worked, and the turns between rows.
    double works = 0;
    for (std::size_t i = 0; i < n; ++i) {
        works += meant_[i].workSeconds;
        if (i > 0 && meant_[i].run != meant_[i - 1].run) works += turnSeconds_;
    }
    // From the loop `cut` on all are new, none of them kept: the first one that is worked.
    double least = std::numeric_limits<double>::infinity();
    double made = 0;
    int lifted = 0;  // strands that are lifted already, and lie over no needle yet
    for (EntryId e{0}; e.value < f.entryCount(); ++e.value)
        lifted += f.has(e) && f.isLoop(e) && f.isNothing(e) ? 1 : 0;
    int starts = 0;
    std::size_t lastShort = 0;
    for (std::size_t cut = 0; cut <= n; ++cut) {
        int unheld = 0;
        for (std::size_t i = 0; i < cut; ++i) unheld += waits(i, cut) && !isHeld(i) ? 1 : 0;
        const double seats = seatSeconds_ * unheld;
        const bool removes = extras > 0 && !anyMaybe;
        int keeps = 0;
        for (std::size_t i = 0; i < cut; ++i) keeps += stays[i] != Stays::no ? 1 : 0;
        const int goes = std::max(0, static_cast<int>(order.size()) - keeps);
        const double out = std::min(barSeconds_ * 0.8, ripSeconds_ * goes);
        // Where something is at odds below the cut, a column at least is hooked up.
        double oddly = 0;
        if (made == 0) {
            for (const std::vector<std::int32_t>& loops : odds) {
                int lowest = std::numeric_limits<int>::max();
                for (const std::int32_t i : loops) lowest = std::min(lowest, heightBelow(i, cut));
                if (lowest > 0)
                    oddly = std::max(oddly, lowest * hookSeconds_ + (goesOn ? 0.0 : startSeconds_));
            }
        }
        const double ahead = made + startSeconds_ * std::max(0, starts - (goesOn ? 1 : 0)) +
                             (cut < n ? works + (turnsLast_ ? turnSeconds_ : 0.0) : 0.0);
        double all = ahead + oddly + std::max(seats + out, removes ? barSeconds_ * 0.8 : 0.0);
        const int again = removal.outOfOrder[cut];
        // It has to be let run, from a loop on top that is let go, and what is hooked up there is seated.
        const double reordered =
            again == 0 ? 0.0
                       : again * hookSeconds_ + (made == 0 && !goesOn ? startSeconds_ : 0.0) + otherSeconds_ +
                             (allHeld ? otherSeconds_ : 0.0) + (unheld == 0 ? seatSeconds_ : 0.0);
        if (anyMaybe) {
            all = std::max(all, ahead + reordered + seats);
        } else {
            const double back = std::min(barSeconds_ * 0.8, ripSeconds_ * std::max(0, goes - extras));
            all = std::max(all, ahead + std::max({oddly, removal.runs[cut], reordered}) + seats + back);
        }
        least = std::min(least, all);
        if (cut == n) break;
        works -= meant_[cut].workSeconds;
        if (cut + 1 < n && meant_[cut + 1].run != meant_[cut].run) works -= turnSeconds_;
        if (stays[cut] != Stays::no) continue;
        const Loop& loop = meant_[cut];
        if (loop.through.empty()) {
            if (lifted > 0) {
                --lifted;
            } else {
                made += std::min(barSeconds_, loop.workSeconds);
            }
            continue;
        }
        made += hookingOf(kept, cut);
        // Three times as long, or a loop beside it is made anew as well.
        if (isShort(f, kept, cut) && cut >= lastShort + 3) {
            made += hookSeconds_;
            lastShort = cut;
        }
        bool bottom = true;
        for (const Through& t : loop.through)
            bottom = bottom && stays[static_cast<std::size_t>(t.host)] == Stays::yes;
        starts += bottom ? 1 : 0;
    }
    return least;
}

}  // namespace loopmend
