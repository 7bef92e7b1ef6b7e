// SPDX-License-Identifier: MIT
// Needles, rows and the stitches that take one loop or several together.
#include "fabric/knitter.h"

#include "fabric/hands.h"

#include <algorithm>

namespace loopmend {

Knitter::Knitter(Fabric& fabric, YarnId yarn, Side facing, bool round, Habit habit, bool mirrored)
    : fabric_(&fabric),
      yarn_(yarn),
      facing_(facing),
      run_((facing == Side::right) != mirrored ? Run::leftward : Run::rightward),
      round_(round),
      habit_(habit),
      mirrored_(mirrored) {}

Knitter::State Knitter::mark() {
    return {fabric_->mark(), facing_, round_, yarn_, floats_, tension_, atHand_};
}

void Knitter::rollBack(const State& state) {
    fabric_->rollBack(state.fabric);
    facing_ = state.facing;
    round_ = state.round;
    yarn_ = state.yarn;
    floats_ = state.floats;
    tension_ = state.tension;
    atHand_ = state.atHand;
    run_ = (facing_ == Side::right) != mirrored_ ? Run::leftward : Run::rightward;
}

void Knitter::takeYarn(YarnId yarn, Side floats) {
    yarn_ = yarn;
    floats_ = floats;
}

// ---- the needle: one order from right to left with a gap; the left needle begins beyond the gap in her
// direction ---

HeldId Knitter::aheadPlace() const {
    const Tool& needle = (*fabric_)[fabric_->needle()];
    if (run_ == Run::leftward) return needle.tip;
    return needle.tip ? (*fabric_)[needle.tip].prev : needle.last;
}

HeldId Knitter::nextAhead(HeldId place) const {
    return run_ == Run::leftward ? (*fabric_)[place].next : (*fabric_)[place].prev;
}

HeldId Knitter::behindPlace() const {
    const Tool& needle = (*fabric_)[fabric_->needle()];
    if (run_ == Run::rightward) return needle.tip;
    return needle.tip ? (*fabric_)[needle.tip].prev : needle.last;
}

HeldId Knitter::nextBehind(HeldId place) const {
    return run_ == Run::leftward ? (*fabric_)[place].prev : (*fabric_)[place].next;
}

std::vector<LoopId> Knitter::ahead() const {
    std::vector<LoopId> loops;
    for (HeldId h = aheadPlace(); h; h = nextAhead(h)) {
        const LoopId loop = (*fabric_)[h].loop;
        if ((*fabric_)[h].state.hanging == 0 && !isDoubling(loop)) loops.push_back(loop);
    }
    return loops;
}

int Knitter::aheadCount() const {
    int n = 0;
    for (HeldId h = aheadPlace(); h; h = nextAhead(h)) {
        n += (*fabric_)[h].state.hanging == 0 && !isDoubling((*fabric_)[h].loop) ? 1 : 0;
    }
    return n;
}

std::vector<LoopId> Knitter::behind() const {
    std::vector<LoopId> loops;
    for (HeldId h = behindPlace(); h; h = nextBehind(h)) {
        const LoopId loop = (*fabric_)[h].loop;
        if ((*fabric_)[h].state.hanging == 0 && !isDoubling(loop)) loops.push_back(loop);
    }
    std::reverse(loops.begin(), loops.end());
    return loops;
}

bool Knitter::inThisRow(LoopId loop) const {
    // Asked of stitches near the tip, and so near the yarn's end.
    for (EntryId e = loop; e; e = (*fabric_)[e].next) {
        if ((*fabric_)[e].flags.rowEnds != 0) return false;
    }
    return true;
}

std::int32_t Knitter::nextHeld(int n, std::vector<HeldId>& places) const {
    for (HeldId h = aheadPlace(); h && static_cast<int>(places.size()) < n; h = nextAhead(h)) {
        if ((*fabric_)[h].state.hanging == 0) places.push_back(h);
    }
    return static_cast<std::int32_t>(places.size());
}

void Knitter::passHanging(HeldId from, HeldId until) {
    // A fallen loop met on the way stays behind: the strand that goes by it is a short rung.
    for (HeldId h = from; h && h != until; h = nextAhead(h)) {
        if ((*fabric_)[h].state.hanging == 0) continue;
        (void)fabric_->lay(yarn_, (*fabric_)[yarn_].last, (*fabric_)[h].loop, yarnSide(false), run_);
    }
}

void Knitter::moveTipPast(HeldId place) {
    const HeldId tip = run_ == Run::leftward ? (*fabric_)[place].next : place;
    if ((*fabric_)[fabric_->needle()].tip != tip) fabric_->setTip(tip);
}

void Knitter::moveTipBack(HeldId place) {
    const HeldId tip = run_ == Run::leftward ? place : (*fabric_)[place].next;
    if ((*fabric_)[fabric_->needle()].tip != tip) fabric_->setTip(tip);
}

HeldId Knitter::putOnRight(LoopId loop, Mount mount, std::int8_t turns) {
    const HeldId tip = (*fabric_)[fabric_->needle()].tip;
    const HeldId held = *fabric_->hold(loop, fabric_->needle(), tip, mount, turns);
    if (run_ == Run::rightward) fabric_->setTip(held);
    return held;
}

HeldId Knitter::putOnLeft(LoopId loop, Mount mount, std::int8_t turns) {
    const HeldId tip = (*fabric_)[fabric_->needle()].tip;
    const HeldId held = *fabric_->hold(loop, fabric_->needle(), tip, mount, turns);
    if (run_ == Run::leftward) fabric_->setTip(held);
    return held;
}

// ---- mounts, legs, lengths
// -----------------------------------------------------------------------------------

Mount Knitter::wrapMount(bool purl) const {
    const bool turned = habit_ == Habit::eastern || (habit_ == Habit::combination && purl);
    return mountOf(turned ? Mount::eastern : Mount::western);
}

bool Knitter::sitsTurned(HeldId place) const {
    return mountOf((*fabric_)[place].state.mount) == Mount::eastern;
}

std::int8_t Knitter::twistOf(HeldState state, bool back) const {
    const int hers = (mountOf(state.mount) == Mount::eastern ? 1 : 0) - (back ? 1 : 0);
    return static_cast<std::int8_t>((mirrored_ ? -hers : hers) + state.turns);
}

std::int8_t Knitter::place(int i) const {
    return static_cast<std::int8_t>(run_ == Run::leftward ? i : -i);
}

std::int32_t Knitter::ordinaryUm() const {
    return (*fabric_)[yarn_].loopUm * tension_.loop / 100;
}
std::int32_t Knitter::smallUm() const {
    return ordinaryUm() * 2 / 3;
}
std::int32_t Knitter::ordinaryStrandUm() const {
    return (*fabric_)[yarn_].strandUm * tension_.strand / 100;
}

Result<LoopId> Knitter::newLoop(std::int32_t um) {
    layFloats();
    const Yarn& yarn = (*fabric_)[yarn_];
    std::int32_t strands = 1;
    for (EntryId e = yarn.last; e && !fabric_->isLoop(e); e = (*fabric_)[e].prev) ++strands;
    return fabric_->liftFromBall(yarn_, run_, um, strands * ordinaryStrandUm());
}

void Knitter::layFloats() {
    // A further colour goes by what other yarns have worked since, named by what those loops stand on: the
    // level at which a slipped stitch is named too. What it goes by already, since its last loop, is left.
    if (fabric_->yarnCount() < 2) return;
    EntryId last = (*fabric_)[yarn_].last;
    while (last && fabric_->isLoop(last) && fabric_->isNothing(last)) last = (*fabric_)[last].prev;
    // A float begins at a stitch.
    if (!last || (!fabric_->isLoop(last) && !fabric_->loopBefore(last))) return;
    if (!inThisRow(last) && !floatsOverJoin()) return;
    const auto isLaid = [&](LoopId host) {
        for (EntryId e = last; e && !fabric_->isLoop(e); e = (*fabric_)[e].prev) {
            if (fabric_->passed(e) == host) return true;
        }
        return false;
    };
    std::vector<LoopId> skipped;
    for (HeldId h = behindPlace(); h; h = nextBehind(h)) {
        const LoopId loop = (*fabric_)[h].loop;
        // What fell out of a row below and only hangs there ends no float.
        if ((*fabric_)[h].state.hanging != 0 && !inThisRow(loop)) continue;
        if ((*fabric_)[loop].yarn == yarn_ || !inThisRow(loop)) break;
        const LinkId link = (*fabric_)[loop].firstLink;
        if (link && isLaid((*fabric_)[link].host)) break;
        skipped.push_back(loop);
    }
    std::reverse(skipped.begin(), skipped.end());
    for (const LoopId loop : skipped) layFloatPast(loop);
}

// ---- rows
// ----------------------------------------------------------------------------------------------------

void Knitter::startRow() {
    for (std::int32_t y = 0; y < fabric_->yarnCount(); ++y) {
        const EntryId last = (*fabric_)[YarnId{y}].last;
        if (last && (*fabric_)[last].flags.rowEnds == 0) fabric_->setRowEnds(last, true);
    }
}

void Knitter::turn() {
    startRow();
    facing_ = opposite(facing_);
    run_ = opposite(run_);
}

Result<void> Knitter::endRound() {
    if (!round_) return refuse(Why::notInTheRound);
    if (const int left = aheadCount(); left > 0) return refuse(Why::rowNotWorked, left);
    startRow();
    const Tool& needle = (*fabric_)[fabric_->needle()];
    fabric_->setTip(run_ == Run::leftward ? needle.first : HeldId{});
    return {};
}

Result<void> Knitter::joinRound(int twist) {
    const std::vector<LoopId> worked = behind();
    if (worked.empty()) return refuse(Why::nothingBefore);
    fabric_->addJoin(worked.back(), twist);
    round_ = true;
    return endRound();
}

// ---- stitches
// ------------------------------------------------------------------------------------------------

Result<LoopId> Knitter::work(int n, bool purl, Leg leg) {
    return n == 1 ? workOne(purl, leg) : workMany(n, purl, leg);
}

Result<LoopId> Knitter::workOne(bool purl, Leg leg) {
    HeldId from = aheadPlace();
    HeldId h = from;
    while (h && (*fabric_)[h].state.hanging != 0) h = nextAhead(h);
    if (!h) return refuse(Why::notEnoughStitches, 1, 0);
    if ((*fabric_)[yarn_].flags.ball == 0) return refuse(Why::noBall);
    const LoopId host = (*fabric_)[h].loop;
    const HeldState state = (*fabric_)[h].state;
    const bool back = leg == Leg::leading ? sitsTurned(h) : leg == Leg::back;
    const bool plain = h == from && (*fabric_)[host].held == h && !(*fabric_)[h].alsoHeld;
    settleYarnOver(purl);
    layFloats();
    if (!plain) passHanging(from, h);
    moveTipPast(h);
    if (!plain) (void)fabric_->letGo(host, fabric_->needle(), false);
    const LoopId loop = *newLoop(ordinaryUm());
    LinkForm form;
    form.twist = twistOf(state, back);
    form.side = sideOf(purl);
    (void)fabric_->pull(loop, host, form, forwardSlot());
    if (plain) {  // the new loop takes the very place on the needle, on the other side of the gap
        fabric_->passOn(h, loop, wrapMount(purl));
    } else {
        putOnRight(loop, wrapMount(purl));
    }
    return loop;
}

Result<LoopId> Knitter::workMany(int n, bool purl, Leg leg) {
    std::vector<HeldId> places;
    const HeldId from = aheadPlace();
    if (nextHeld(n, places) < n)
        return refuse(Why::notEnoughStitches, n, static_cast<std::int32_t>(places.size()));
    if ((*fabric_)[yarn_].flags.ball == 0) return refuse(Why::noBall);
    struct Taken {
        LoopId loop;
        HeldState state;
    };
    std::vector<Taken> taken;
    taken.reserve(places.size());
    for (const HeldId h : places) taken.push_back({(*fabric_)[h].loop, (*fabric_)[h].state});
    const bool back = leg == Leg::leading ? sitsTurned(places.front()) : leg == Leg::back;
    settleYarnOver(purl);
    layFloats();
    passHanging(from, places.back());
    moveTipPast(places.back());
    for (const Taken& t : taken) (void)fabric_->letGo(t.loop, fabric_->needle(), false);
    const LoopId loop = *newLoop(ordinaryUm());
    // Through the front legs the needle meets the farthest loop first, through the back legs the nearest. The
    // bight goes through them in the order in which they lie, from where it enters: reversed for a knit.
    const bool nearestFirst = back == purl;
    for (int i = 0; i < n; ++i) {
        const int j = nearestFirst ? i : n - 1 - i;
        const Taken& t = taken[static_cast<std::size_t>(j)];
        LinkForm form;
        form.twist = twistOf(t.state, back);
        form.side = sideOf(purl);
        form.place = place(j);
        (void)fabric_->pull(loop, t.loop, form, forwardSlot());
    }
    putOnRight(loop, wrapMount(purl));
    return loop;
}

Result<LoopId> Knitter::slip(SlipWay way, bool yarnInFront) {
    std::vector<HeldId> places;
    const HeldId from = aheadPlace();
    if (nextHeld(1, places) < 1) return refuse(Why::notEnoughStitches, 1, 0);
    const HeldId h = places.front();
    const LoopId loop = (*fabric_)[h].loop;
    const Mount hers = mountOf((*fabric_)[h].state.mount);
    int turns = (*fabric_)[h].state.turns;
    Mount mount = hers;
    const int wind = mirrored_ ? -2 : 2;
    if (way == SlipWay::knitwise) {
        if (hers == Mount::western) {
            mount = Mount::eastern;
        } else {
            turns += wind;
        }
    } else if (way == SlipWay::fromBehind) {
        if (hers == Mount::eastern) {
            mount = Mount::western;
        } else {
            turns -= wind;
        }
    }
    settleYarnOver(yarnInFront);
    layFloats();
    passHanging(from, h);
    if (mount != hers || turns != (*fabric_)[h].state.turns) {
        fabric_->setMount(h, mountOf(mount), static_cast<std::int8_t>(turns));
    }
    moveTipPast(h);
    (void)fabric_->lay(yarn_, (*fabric_)[yarn_].last, loop, yarnSide(yarnInFront), run_);
    return loop;
}

Result<LoopId> Knitter::yarnOver(bool reverse) {
    if ((*fabric_)[yarn_].flags.ball == 0) return refuse(Why::noBall);
    const Result<LoopId> loop = newLoop(smallUm());
    putOnRight(*loop, mountOf(reverse ? Mount::eastern : Mount::western));
    return loop;
}

Result<void> Knitter::remount(LoopId loop, Mount mount) {
    const HeldId h = fabric_->heldOn(loop, fabric_->needle());
    if (!h || (*fabric_)[h].state.hanging != 0) return refuse(Why::notHeld);
    fabric_->setMount(h, mountOf(mount), (*fabric_)[h].state.turns);
    return {};
}

Result<void> Knitter::drop(LoopId loop) {
    return fabric_->letGo(loop, fabric_->needle(), true);
}

Result<void> Knitter::backOneRow() {
    if (rowBegun()) return refuse(Why::rowNotWorked, static_cast<std::int32_t>(behind().size()));
    const bool opened = openFastening();
    const bool turned = turnedIntoRow();
    const PassId wrap = wrapAtTurn();
    const YarnId wrapped = wrap ? (*fabric_)[wrap].yarn : YarnId{};
    if (wrap) (void)fabric_->unlay(wrap);
    // The row ends of the yarns that worked it are open again. A yarn that has not worked since an older row
    // ends in a loop that stands, or that another strand goes by.
    bool worked = false;
    for (std::int32_t y = 0; y < fabric_->yarnCount(); ++y) {
        const EntryId e = (*fabric_)[YarnId{y}].last;
        if (!e || (*fabric_)[e].flags.rowEnds == 0) continue;
        const bool loop = fabric_->isLoop(e);
        if (!fabric_->isLive(loop ? e : fabric_->passed(e)) || (loop && !fabric_->passesOf(e).empty()))
            continue;
        fabric_->setRowEnds(e, false);
        worked = true;
    }
    if (!worked) return refuse(Why::nothingToUndo);
    if (!turned) {
        fabric_->setTip(run_ == Run::leftward ? HeldId{} : (*fabric_)[fabric_->needle()].first);
    } else {
        facing_ = opposite(facing_);
        run_ = opposite(run_);
    }
    if (wrap) (void)fabric_->unlay((*fabric_)[wrapped].last);
    if (opened) {
        // However often the empty needles were turned since, the chain goes on from where it ended.
        const LoopId last((*fabric_)[yarn_].last);
        if (run_ != fabric_->run(last)) {
            facing_ = opposite(facing_);
            run_ = opposite(run_);
        }
        const HeldId own = fabric_->heldOn(last, fabric_->needle());
        fabric_->setTip(run_ == Run::leftward ? (*fabric_)[own].next : own);
    }
    return {};
}

/// Of a piece bound off to its end: the yarn's end is drawn out of the last loop, which goes on the needle.
/// The end counts as long enough to work with again.
bool Knitter::openFastening() {
    const EntryId last = (*fabric_)[yarn_].last;
    if (!last || !fabric_->isLoop(last)) return false;
    const bool fastened = (*fabric_)[yarn_].flags.ball == 0 && (*fabric_)[last].flags.anchored != 0 &&
                          (*fabric_)[last].firstLink && fabric_->isLive(last);
    if (!fastened) return false;
    fabric_->setAnchored(last, false);
    fabric_->setBall(yarn_, true);
    // What fell off and was chained past only hangs there; what the row did not come to waits ahead.
    const auto ofThatRow = [&](EntryId loop) {
        EntryId e = (*fabric_)[last].prev;
        while (e && e != loop && (*fabric_)[e].flags.rowEnds == 0) e = (*fabric_)[e].prev;
        return e && e == loop;
    };
    const bool leftward = fabric_->run(last) == Run::leftward;
    HeldId before = leftward ? HeldId{} : (*fabric_)[fabric_->needle()].first;
    for (HeldId h = (*fabric_)[fabric_->needle()].first; h; h = (*fabric_)[h].next) {
        if ((*fabric_)[h].state.hanging != 0 || ofThatRow((*fabric_)[h].loop)) continue;
        before = leftward ? h : (*fabric_)[h].next;
        if (leftward) break;
    }
    (void)fabric_->hold(last, fabric_->needle(), before, mountOf(Mount::western));
    return true;
}

int Knitter::uncross() {
    int pairs = 0;
    for (bool moved = true; moved;) {
        moved = false;
        for (HeldId h = (*fabric_)[fabric_->needle()].first; h && !moved; h = (*fabric_)[h].next) {
            HeldId next = (*fabric_)[h].next;
            while (next && (*fabric_)[next].state.hanging != 0) next = (*fabric_)[next].next;
            if (!next) break;
            const LoopId right = (*fabric_)[h].loop;
            const LoopId left = (*fabric_)[next].loop;
            for (CrossingId c = (*fabric_)[right].crossing; c;) {
                const Crossing& x = (*fabric_)[c];
                if (x.sign != 0 && x.a == left && x.b == right && fabric_->isLive(left) &&
                    fabric_->isLive(right)) {
                    moved = fabric_->cross(right, left, x.sign > 0 ? right : left).has_value();
                    break;
                }
                c = x.a == right ? x.nextOfA : x.nextOfB;
            }
        }
        pairs += moved ? 1 : 0;
    }
    return pairs;
}

HeldId Knitter::backToStitch() {
    // A loop that hangs is come by on the way back as on the way out, unless it is of this row: then it is
    // next.
    HeldId h = behindPlace();
    while (h && (*fabric_)[h].state.hanging != 0 && !inThisRow((*fabric_)[h].loop)) {
        moveTipBack(h);
        h = behindPlace();
    }
    return h;
}

bool Knitter::rowBegun() const {
    // What waits on the right needle since a turn in mid-row was not worked in this row; the strand that a
    // wrap left in it came with the turn.
    const PassId wrap = wrapAtTurn();
    bool any = false;
    for (std::int32_t y = 0; y < fabric_->yarnCount() && !any; ++y) {
        const EntryId e = (*fabric_)[YarnId{y}].last;
        any = e && e != wrap && (*fabric_)[e].flags.rowEnds == 0;
    }
    // The stitch worked last before the turn is the first ahead; one slipped on from there went past it.
    for (std::int32_t y = 0; y < fabric_->yarnCount() && !any; ++y) {
        EntryId e = (*fabric_)[YarnId{y}].last;
        if (e && e == wrap) e = (*fabric_)[e].prev;
        if (!e) continue;
        const LoopId last = fabric_->isLoop(e) ? LoopId{e} : fabric_->passed(e);
        const HeldId h = fabric_->heldOn(last, fabric_->needle());
        if (h && (*fabric_)[h].state.hanging == 0 && (wrap || !isBehind(last))) return false;
    }
    if (castOnLast()) return true;
    for (HeldId h = behindPlace(); h; h = nextBehind(h)) {
        if ((*fabric_)[h].state.hanging == 0 || inThisRow((*fabric_)[h].loop)) return true;
    }
    return false;
}

Result<void> Knitter::slipBack() {
    const HeldId h = backToStitch();
    if (!h || (*fabric_)[h].state.hanging != 0) return refuse(Why::nothingBefore);
    moveTipBack(h);
    takeInTails();
    unsettleYarnOver(yarn_);
    (void)backToStitch();
    return {};
}

bool Knitter::isBehind(LoopId loop) const {
    const HeldId own = fabric_->heldOn(loop, fabric_->needle());
    if (!own || (*fabric_)[own].state.hanging != 0) return false;  // most are not: no look along the needle
    // From the tip both ways: what is asked for lies near it.
    HeldId a = aheadPlace();
    for (HeldId h = behindPlace(); h; h = nextBehind(h)) {
        if (h == own) return true;
        if (a && a == own) return false;
        if (a) a = nextAhead(a);
    }
    return false;
}

/// Something holds it that is no thread: a thread stays in what comes back onto the needle.
bool Knitter::isKept(LoopId loop) const {
    for (HeldId h = (*fabric_)[loop].held; h; h = (*fabric_)[h].alsoHeld) {
        const ToolKind tool = (*fabric_)[(*fabric_)[h].tool].kind;
        // A pin, or a ring worked in, keeps no loop from the needle.
        const bool keeps = tool != ToolKind::lifeline && tool != ToolKind::pin;
        if (keeps && (*fabric_)[h].state.hanging == 0) return true;
    }
    return false;
}

void Knitter::takeInTails() {
    // What a yarn goes by at its end in this row is what was slipped or wrapped; a float, or the strand past
    // a stitch given back, comes in with the stitch.
    for (std::int32_t y = 0; y < fabric_->yarnCount(); ++y) {
        const auto end = [&] { return (*fabric_)[YarnId{y}].last; };
        while (end() && !fabric_->isLoop(end()) &&
               ((*fabric_)[end()].flags.rowEnds == 0 ? !isBehind(fabric_->passed(end()))
                                                     : wentOverJoin(end()))) {
            (void)fabric_->unlay(end());
        }
    }
}

void Knitter::comeToNewest() {
    // Taking back follows the yarn. A stitch of this row that fell may hang elsewhere than it was worked: the
    // arms between which it hung have been uncrossed since.
    EntryId newest = (*fabric_)[yarn_].last;
    while (newest && !fabric_->isLoop(newest)) newest = (*fabric_)[newest].prev;
    if (!newest || !inThisRow(newest)) return;
    const HeldId h = fabric_->heldOn(newest, fabric_->needle());
    if (!h || (*fabric_)[h].state.hanging == 0 || h == behindPlace()) return;
    fabric_->forgetPlace(h);
    const HeldId now = fabric_->hang(newest, fabric_->needle(), (*fabric_)[fabric_->needle()].tip);
    if (run_ == Run::rightward) fabric_->setTip(now);
}

Result<void> Knitter::tink() {
    if (const LoopId loop = castOnLast()) {
        const Result<std::vector<LoopId>> freed = undo(*fabric_, loop);
        if (!freed) return tl::unexpected<Refusal>(freed.error());
        takeInTails();
        fabric_->reelIn(yarn_);
        return {};
    }
    comeToNewest();
    const HeldId h = backToStitch();
    if (!h || !rowBegun()) return refuse(Why::nothingToUndo);
    const LoopId loop = (*fabric_)[h].loop;
    if (!inThisRow(loop)) return slipBack();  // a stitch of an older row was only slipped across
    if ((*fabric_)[loop].flags.anchored != 0) {
        // A half-hitch at the end of the yarn pulls flat; a knot with something in it does not.
        const EntryId last = (*fabric_)[(*fabric_)[loop].yarn].last;
        if ((*fabric_)[loop].firstLink || last != loop) return refuse(Why::anchored);
        fabric_->setAnchored(loop, false);
    }
    std::vector<LoopId> hosts = fabric_->hostsRightToLeft(loop);
    if (run_ == Run::rightward) std::reverse(hosts.begin(), hosts.end());
    const LinkId entered = (*fabric_)[loop].lastLink;
    if (entered && (*fabric_)[entered].form.part != Part::opening) hosts.clear();  // an edge is no stitch
    const YarnId yarn = (*fabric_)[loop].yarn;
    const LoopId doubled = isDoubling(loop) ? EntryId{(*fabric_)[loop].prev} : LoopId{};
    std::vector<LoopId> spare;  // drawn through from the other face: they came from a piece held behind
    for (const LinkId l : fabric_->linksOf(loop)) {
        if ((*fabric_)[l].form.side != (*fabric_)[(*fabric_)[loop].lastLink].form.side)
            spare.push_back((*fabric_)[l].host);
    }
    const Result<std::vector<LoopId>> freed = undo(*fabric_, loop);
    if (!freed) return tl::unexpected<Refusal>(freed.error());
    takeInTails();
    for (auto it = hosts.rbegin(); it != hosts.rend(); ++it) {
        if (!waits(*it) || isKept(*it) || wrapGoesBack(*it, hosts) || floatGoesBack(*it, hosts)) continue;
        if (std::find(spare.begin(), spare.end(), *it) != spare.end()) {
            spareGoesBack(*it);
            continue;
        }
        // Asked last whether it is of this row: of a stitch far from the yarn's end that takes a while.
        if (fabric_->run(*it) == run_ && fabric_->isLive(*it) && fabric_->linkCount(*it) > 0 &&
            inThisRow(*it)) {
            putOnRight(*it, mountOf(Mount::western));  // the stitch before it in a bind-off chain
        } else {
            putOnLeft(*it, mountOf(Mount::western));
        }
    }
    takeInTails();  // a float that began in a stitch just given back
    fabric_->reelIn(yarn);
    unsettleYarnOver(yarn);
    (void)backToStitch();
    if (doubled) moveTipBack(fabric_->heldOn(doubled, fabric_->needle()));
    return {};
}

}  // namespace loopmend
