// SPDX-License-Identifier: MIT
#include "repair/pointing.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <limits>

#include "fabric/hands.h"
#include "fabric/rows.h"
#include "fault/needle.h"
#include "repair/anew.h"
#include "repair/builder.h"
#include "repair/columns_seen.h"
#include "repair/move_words.h"
#include "repair/tool_moves.h"

namespace loopmend {

namespace {

constexpr const char* kOtherSide = "You are looking at the other side: turn it back to knit on.";

/// Makes the offers of one pointing.
class Pointing {
  public:
    Pointing(Work& work, Terms terms, Side seen)
        : work_(work), f_(work.fabric()), columns_(f_), terms_(terms), seen_(seen) {}

    std::vector<Offer> offers(Notion notion, PointedAt at) {
        if (at.what != PointedAt::What::tips && !f_.has(at.entry)) return {};
        if (at.what == PointedAt::What::rung && f_.isLoop(at.entry)) return {};
        if (at.what == PointedAt::What::loop && !f_.isLoop(at.entry)) at.what = PointedAt::What::rung;
        switch (notion) {
            case Notion::pin: pin(at); break;
            case Notion::hook: hook(at); break;
            case Notion::needle: needle(at); break;
            case Notion::fingers: fingers(at); break;
            default: tool(notion, at); break;
        }
        return std::move(offers_);
    }

  private:
    // ---- what lies there

    Knitter& knitter() { return work_.knitter(); }
    Side facing() { return knitter().facing(); }
    /// A rung belongs to the open loop under it.
    LoopId loopAt(const PointedAt& at) const {
        return at.what == PointedAt::What::rung ? f_.passed(at.entry) : at.entry;
    }
    LoopId topOfColumn(LoopId loop) const {
        while (f_[loop].firstKid) loop = f_[f_[loop].firstKid].loop;
        return loop;
    }
    Mount opposed(LoopId loop) const { return opposite(hers(f_[f_.heldOn(loop, f_.needle())].state.mount)); }
    Mount hers(Mount mount) const { return work_.knitter().mirrored() ? opposite(mount) : mount; }

    // ---- making offers

    void tool(Notion notion, const PointedAt& at) {
        for (ToolMove& suggested : toolMoves(work_, columns_, notion, at, seen_)) {
            if (!suggested.always) {
                also(std::move(suggested.move));
                continue;
            }
            const std::size_t had = offers_.size();
            offer(std::move(suggested.move));
            if (offers_.size() == had || suggested.barred.empty()) continue;
            offers_.back().possible = false;
            offers_.back().refusal = std::move(suggested.barred);
        }
    }

    void offer(Move move, std::string words = {}) {
        for (const Offer& o : offers_) {
            if (o.move == move) return;
        }
        Offer o;
        o.words = words.empty() ? wordsOf(work_, move, terms_, seen_) : std::move(words);
        const bool worksOn = move.kind == MoveKind::work || move.kind == MoveKind::tink ||
                             move.kind == MoveKind::rip || move.kind == MoveKind::turn;
        if (worksOn && seen_ != facing()) {
            o.possible = false;
            o.refusal = kOtherSide;
        } else if (const Result<void> tried = work_.tryOut(move); !tried) {
            o.possible = false;
            o.refusal = refusalOf(work_, move, tried.error(), terms_);
        }
        o.caution = cautionOf(work_, move);
        o.move = std::move(move);
        offers_.push_back(std::move(o));
    }
    /// Only if hands can do it.
    void also(Move move, std::string words = {}) {
        const std::size_t had = offers_.size();
        offer(std::move(move), std::move(words));
        if (offers_.size() > had && !offers_.back().possible) offers_.pop_back();
    }
    static Move counted(MoveKind kind, int count) {
        Move move;
        move.kind = kind;
        move.count = count;
        return move;
    }
    static Move working(std::vector<Step> steps) {
        Move move;
        move.kind = MoveKind::work;
        move.steps = std::move(steps);
        return move;
    }
    static Move lifting(LoopId before, LiftTo to, Mount mount = Mount::western) {
        Move move;
        move.kind = MoveKind::liftBar;
        move.strand = before;
        move.liftTo = to;
        move.mount = mount;
        return move;
    }

    // ---- pins

    void pin(const PointedAt& at) {
        if (at.what == PointedAt::What::tips) return;
        if (at.what == PointedAt::What::strand) return offer(lifting(at.entry, LiftTo::pin));
        const LoopId loop = loopAt(at);
        offer(moveOn(pinOf(f_, loop) ? MoveKind::unpin : MoveKind::pin, loop));
    }

    // ---- the hook

    void hook(const PointedAt& at) {
        if (at.what == PointedAt::What::tips) return;
        if (at.what == PointedAt::What::strand) return hookStrand(at.entry);
        const LoopId loop = loopAt(at);
        const std::vector<PassId> strands = f_.passesOf(loop);
        if (at.what == PointedAt::What::rung && !f_.isFree(at.entry)) {
            // Left out lower down, it still can be drawn through the open stitch above: too late, a wrong
            // one.
            const LoopId top = topOfColumn(loop);
            if (f_.isOpen(top) && top != loop) return hookPass(at.entry, top);
        }
        if (at.what == PointedAt::What::rung) {
            const auto it = std::find(strands.begin(), strands.end(), at.entry);
            return hookRung(loop, at.entry, static_cast<int>(it - strands.begin()) + 1);
        }
        if (!f_.isOpen(loop)) return offer(hooking({loop}, 1, {}, seen_));
        if (!strands.empty()) return hookRung(loop, strands.front(), 1);
        if (const LoopId bar = columns_.strandAbove(loop)) return hookBar(bar, loop);
        // Hooked to its top: the hook puts it on the needle.
        if (!pinOf(f_, loop)) return seat(loop);
        offer(hooking({loop}, 1, {}, seen_));
        seat(loop);
    }

    Move hooking(std::vector<LoopId> frontFirst, int rung, LoopId strand, Side toward, int twist = 0) {
        Move move;
        move.kind = MoveKind::hook;
        move.knit = toward == facing();
        if (seen_ != facing()) std::reverse(frontFirst.begin(), frontFirst.end());
        if (twist != 0) move.twists.assign(frontFirst.size(), static_cast<std::int8_t>(twist));
        move.loops = std::move(frontFirst);
        move.rung = rung;
        move.strand = strand;
        return move;
    }

    /// Both ways through one loop, the likely one first, then with a half turn.
    void hookThrough(LoopId loop, int rung, LoopId strand) {
        const Side likely = columns_.nextSide(loop);
        offer(hooking({loop}, rung, strand, likely));
        offer(hooking({loop}, rung, strand, opposite(likely)));
    }
    void hookTurned(LoopId loop, int rung, LoopId strand) {
        const Side likely = columns_.nextSide(loop);
        also(hooking({loop}, rung, strand, likely, -1));
        also(hooking({loop}, rung, strand, likely, +1));
        Move pierced = hooking({loop}, rung, strand, likely);
        pierced.plies = Plies::pierced;
        also(std::move(pierced));
    }
    void hookPass(PassId pass, LoopId loop) {
        const Side likely = columns_.nextSide(loop);
        for (const Side toward : {likely, opposite(likely)}) {
            Move move = hooking({loop}, 0, {}, toward);
            move.pass = pass;
            offer(std::move(move));
        }
    }

    /// The open loops that one strand crosses beside this rung, this one included, from right to left as she
    /// sees them.
    std::vector<LoopId> feetOf(PassId rung) const {
        std::vector<LoopId> feet{f_.passed(rung)};
        for (const bool back : {true, false}) {
            for (EntryId e = rung;;) {
                e = back ? f_[e].prev : f_[e].next;
                if (!e || f_.isLoop(e) || !f_.isFree(e) || f_.run(e) != f_.run(rung)) break;
                const LoopId foot = f_.passed(e);
                if (std::find(feet.begin(), feet.end(), foot) != feet.end()) break;
                feet.push_back(foot);
            }
        }
        std::sort(feet.begin(), feet.end(), [&](LoopId a, LoopId b) {
            const double x = columns_.of(a);
            const double y = columns_.of(b);
            return x != y ? (x < y) == (seen_ == Side::right) : a < b;
        });
        return feet;
    }

    void hookRung(LoopId loop, PassId rung, int number) {
        if (!work_.stacked().empty()) {
            also(hooking({}, number, {}, seen_));
            also(hooking({}, number, {}, opposite(seen_)));
        }
        const std::vector<LoopId> feet = feetOf(rung);
        // Less yarn than a stitch has: it held several stitches together.
        const bool one = feet.size() == 1 || isLongRung(f_, rung);
        if (one) hookThrough(loop, number, {});
        if (feet.size() > 1 && feet.size() <= 3) {
            std::vector<LoopId> order = feet;
            std::reverse(order.begin(), order.end());  // the left one in front: as two are knitted together
            const Side likely = columns_.nextSide(feet.front());
            for (const Side toward : {likely, opposite(likely)}) {
                std::vector<LoopId> other = order;
                if (order.size() == 2) {
                    offer(hooking(order, numberFor(order, rung), {}, toward));
                    std::reverse(other.begin(), other.end());
                    offer(hooking(other, numberFor(other, rung), {}, toward));
                } else {
                    offer(hooking(order, numberFor(order, rung), {}, toward));
                    std::reverse(other.begin(), other.end());
                    offer(hooking(other, numberFor(other, rung), {}, toward));
                    std::rotate(other.begin(), other.begin() + 1, other.begin() + 2);
                    offer(hooking(other, numberFor(other, rung), {}, toward));
                }
            }
        }
        if (!one) hookThrough(loop, number, {});
        hookTurned(loop, number, {});
    }

    /// Rungs are counted in the list of the loop named first; the same strand lies elsewhere in another's.
    int numberFor(const std::vector<LoopId>& frontFirst, PassId rung) {
        const LoopId first = seen_ == facing() ? frontFirst.front() : frontFirst.back();
        const std::vector<PassId> strands = f_.passesOf(first);
        const LoopId before = f_.loopBefore(rung);
        for (std::size_t i = 0; i < strands.size(); ++i) {
            if (f_.loopBefore(strands[i]) == before) return static_cast<int>(i) + 1;
        }
        return 1;
    }

    void hookBar(LoopId before, LoopId loop) {
        hookThrough(loop, 0, before);
        hookTurned(loop, 0, before);
    }

    void hookStrand(LoopId before) {
        for (const LoopId loop : columns_.openUnder(before)) hookBar(before, loop);
        offer(lifting(before, LiftTo::needle));
        if (!offers_.back().possible) offers_.pop_back();
        offer(lifting(before, LiftTo::pin));
    }

    // ---- the needle's tips

    void seat(LoopId loop) {
        Move move = moveOn(MoveKind::seat, loop);
        const HeldId own = f_.heldOn(loop, f_.needle());
        if (!own && f_.isLive(loop)) {
            move.beside = columns_.rightOnNeedle(loop);
            move.atRightEnd = !move.beside;
        }
        offer(move);
        if (!offers_.back().possible) return;
        move.mount = Mount::eastern;
        also(move);
    }

    void remountIfTurned(LoopId loop) {
        const Mount mount = hers(f_[f_.heldOn(loop, f_.needle())].state.mount);
        if (mount == Mount::eastern && knitter().habit() == Habit::western) remount(loop, Mount::western);
    }
    void remount(LoopId loop, Mount to) {
        Move move = moveOn(MoveKind::remount, loop);
        move.mount = to;
        also(std::move(move));
    }

    Step likelyStep(LoopId loop) {
        Step step;
        step.op = columns_.nextSide(loop) == facing() ? Op::knit : Op::purl;
        return step;
    }
    std::vector<Step> likelySteps(const std::vector<LoopId>& loops, std::size_t count) {
        std::vector<Step> steps;
        for (std::size_t i = 0; i < count; ++i) steps.push_back(likelyStep(loops[i]));
        return steps;
    }

    void turn() { offer(counted(MoveKind::turn, 0)); }

    void workNext(const std::vector<LoopId>& ahead) {
        const Step likely = likelyStep(ahead.front());
        offer(working({likely}));
        Step other;
        other.op = likely.op == Op::knit ? Op::purl : Op::knit;
        offer(working({other}));
        if (ahead.size() > 1) also(working(likelySteps(ahead, ahead.size())));
        also(counted(MoveKind::tink, 1));
        for (const Op op :
             {Op::slipPurlwiseBack, Op::slipPurlwiseFront, Op::yarnOver, Op::k2tog, Op::ssk, Op::p2tog}) {
            Step step;
            step.op = op;
            also(working({step}));
        }
    }

    /// A band that winds about the needle, as long as hands can still turn it.
    void turnBand() {
        for (std::int32_t j = 0; j < f_.joinCount(); ++j) {
            const Join& join = f_[JoinId{j}];
            if (join.loop && std::abs(join.twist) > 1)
                also(moveOn(MoveKind::turnJoin, join.loop, -join.twist / 2));
        }
    }

    void needle(const PointedAt& at) {
        const std::vector<LoopId> ahead = knitter().ahead();
        if (at.what == PointedAt::What::tips) {
            if (!ahead.empty()) {
                workNext(ahead);
            } else {
                turn();
                also(counted(MoveKind::tink, 1));
            }
            also(counted(MoveKind::rip, 1));
            turnBand();
            return;
        }
        if (at.what == PointedAt::What::strand) {
            offer(lifting(at.entry, LiftTo::needle));
            also(lifting(at.entry, LiftTo::needle, Mount::eastern));
            return;
        }
        const LoopId loop = loopAt(at);
        if (!onNeedle(f_, loop)) {
            if (!f_.isLive(loop) && threadOf(f_, loop)) offer(counted(MoveKind::rip, 0));
            seat(loop);
            if (!f_.isLive(loop)) ripDownTo(loop);
            beginAnew(loop);
            return;
        }
        remountIfTurned(loop);
        const auto it = std::find(ahead.begin(), ahead.end(), loop);
        if (it == ahead.begin() && !ahead.empty()) {
            workNext(ahead);
        } else if (it != ahead.end()) {
            offer(working(likelySteps(ahead, static_cast<std::size_t>(it - ahead.begin()))));
            also(working(likelySteps(ahead, ahead.size())));
        } else {
            const std::vector<LoopId> behind = knitter().behind();
            const auto back = std::find(behind.begin(), behind.end(), loop);
            if (ahead.empty() && back + 1 == behind.end()) turn();
            offer(counted(MoveKind::tink, static_cast<int>(behind.end() - back)));
        }
        remount(loop, opposed(loop));
        if (ahead.empty() || loop != ahead.front()) also(moveOn(MoveKind::slipTo, loop));
        overNeighbor(loop, ahead);
    }

    /// The far one of the two next to a tip goes over the near one.
    void overNeighbor(LoopId loop, const std::vector<LoopId>& ahead) {
        const std::vector<LoopId> behind = knitter().behind();
        Move move = moveOn(MoveKind::passOver, loop);
        if (ahead.size() > 1 && ahead[1] == loop) move.others = {ahead[0]};
        if (behind.size() > 1 && behind[behind.size() - 2] == loop) move.others = {behind.back()};
        if (!move.others.empty()) also(std::move(move));
    }

    /// From the cast-on edge all can be begun again: with as many stitches, or one more or fewer.
    void beginAnew(LoopId loop) {
        const StitchPlaces places(f_);
        if (places.rows().empty() || places.of(loop).row != 0) return;
        const std::vector<LoopId>& edge = places.rows().front();
        Move begin;
        begin.kind = MoveKind::castOn;
        begin.castOn = castOnOf(f_, edge);
        if (!knitter().inTheRound() && places.rows().size() > 1 && !places.rows()[1].empty()) {
            const bool leftward = f_.run(places.rows()[1].front()) == Run::leftward;
            begin.side = leftward != knitter().mirrored() ? Side::right : Side::wrong;
        }
        const auto n = static_cast<int>(edge.size());
        for (const int count : {n, n + 1, n - 1}) {
            begin.count = count;
            if (count > 0) also(begin);
        }
    }

    void ripDownTo(LoopId loop) {
        const Rows rows = rowsOf(f_);
        if (rows[loop] != Rows::kNotPlaced && rows.last > rows[loop]) {
            also(counted(MoveKind::rip, rows.last - rows[loop]));
        }
    }

    // ---- fingers

    /// From the right end as she sees it.
    void countTo(LoopId loop) {
        const Tool& needle = f_[f_.needle()];
        const bool fromRight = seen_ == Side::right;
        HeldId end = fromRight ? needle.first : needle.last;
        while (end && f_[end].state.hanging != 0) end = fromRight ? f_[end].next : f_[end].prev;
        if (!end || f_[end].loop == loop) return;
        Move move = moveOn(MoveKind::count, f_[end].loop);
        move.loops.push_back(loop);
        also(std::move(move));
    }

    void fingers(const PointedAt& at) {
        if (at.what == PointedAt::What::strand) return;
        if (at.what == PointedAt::What::tips) {
            turn();
            also(counted(MoveKind::rip, 1));
            also(counted(MoveKind::rip, 0));
            return;
        }
        const LoopId loop = loopAt(at);
        if (onNeedle(f_, loop)) {
            offer(moveOn(MoveKind::drop, loop));
            also(counted(MoveKind::rip, 1));
            turn();
            countTo(loop);
            return;
        }
        if (threadOf(f_, loop)) offer(counted(MoveKind::rip, 0));
        if (pinOf(f_, loop)) offer(moveOn(MoveKind::unpin, loop));
        offer(moveOn(MoveKind::letRun, loop, 1));
        also(moveOn(MoveKind::letRun, loop));
        if (rungs(f_, loop).size() > 1) also(moveOn(MoveKind::sort, loop));
        if (!f_.isLive(loop)) {
            const LoopId top = topOfColumn(loop);
            if (onNeedle(f_, top)) {
                also(moveOn(MoveKind::drop, top),
                     "Let the stitch at the top of this column slide off the needle.");
            }
            ripDownTo(loop);
        }
    }

    Work& work_;
    const Fabric& f_;
    SeenColumns columns_;
    Terms terms_;
    Side seen_;
    std::vector<Offer> offers_;
};

}  // namespace

std::vector<Offer> offersAt(Work& work, Notion notion, const PointedAt& at, Terms terms,
                            std::optional<Side> seen) {
    return Pointing(work, terms, seen.value_or(work.knitter().facing())).offers(notion, at);
}

std::vector<PointedAt> stops(const Work& work, Notion notion, std::optional<Side> seen) {
    using What = PointedAt::What;
    const Fabric& f = work.fabric();
    const SeenColumns columns(f);
    struct Stop {
        PointedAt at;
        double column = 0;
        int height = 0;
    };
    std::vector<Stop> found;
    const auto add = [&](What what, EntryId entry, double column, int height) {
        found.push_back({{what, entry}, column, height});
    };
    const bool everywhere = notion == Notion::thread || notion == Notion::spareNeedle ||
                            notion == Notion::scissors || notion == Notion::bluntNeedle;
    const Rows rows = everywhere ? rowsOf(f) : Rows{};
    for (std::int32_t i = 0; i < f.entryCount(); ++i) {
        const LoopId loop{i};
        if (!f.has(loop) || !f.isLoop(loop) || f.isNothing(loop)) continue;
        if (everywhere) {
            add(What::loop, loop, columns.of(loop), rows[loop]);
            continue;
        }
        if (!f.isLive(loop)) continue;
        const bool held = f.isHeld(loop);
        if (!held && !f.isLoose(loop)) continue;  // knotted: the end of a bind-off
        const bool open = f.isOpen(loop);
        const double column = columns.of(loop);
        if (notion != Notion::hook || open) add(What::loop, loop, column, 0);
        if (notion != Notion::hook) continue;
        int height = 0;
        for (const PassId rung : rungs(f, loop)) add(What::rung, rung, column, ++height);
        if (open && height == 0) {
            if (const LoopId bar = columns.strandAbove(loop)) add(What::strand, bar, column, 1);
        }
    }
    if (notion == Notion::hook || notion == Notion::needle) {
        for (HeldId h = f[f.needle()].first; h; h = f[h].next) {
            const LoopId next = columns.bareStrandAfter(f[h].loop);
            if (!next || !f.heldOn(next, f.needle())) continue;
            // Beside an open stitch there is that stitch to be seen to first.
            if (f.isLoose(f[h].loop) || f.isLoose(next)) continue;
            const PointedAt at{What::strand, f[h].loop};
            const bool there =
                std::any_of(found.begin(), found.end(), [&](const Stop& s) { return s.at == at; });
            if (!there) add(What::strand, f[h].loop, (columns.of(f[h].loop) + columns.of(next)) / 2, 0);
        }
    }
    if (notion == Notion::needle || notion == Notion::fingers) {
        // A thread in a row below, at its first stitch: yarn can be drawn out down to it.
        for (std::int32_t t = 0; t < f.toolCount(); ++t) {
            const HeldId first = f[ToolId{t}].first;
            if (!first || !threadOf(f, f[first].loop) || f.isLive(f[first].loop)) continue;
            add(What::loop, f[first].loop, columns.of(f[first].loop), -1);
        }
    }
    const bool atTips = notion == Notion::needle || notion == Notion::fingers || notion == Notion::scissors ||
                        notion == Notion::thread || notion == Notion::spareNeedle;
    if (atTips) add(What::tips, {}, columns.tip(), 1);
    const bool fromRight = seen.value_or(work.knitter().facing()) == Side::right;
    std::stable_sort(found.begin(), found.end(), [&](const Stop& a, const Stop& b) {
        if (a.column != b.column) return (a.column < b.column) == fromRight;
        return a.height < b.height;
    });
    std::vector<PointedAt> places;
    places.reserve(found.size());
    for (const Stop& s : found) places.push_back(s.at);
    return places;
}

}  // namespace loopmend
