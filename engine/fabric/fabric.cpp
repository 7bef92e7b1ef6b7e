// SPDX-License-Identifier: MIT
#include "fabric/fabric.h"

#include <algorithm>

namespace loopmend {

namespace {

constexpr std::uint32_t bit(Run run) {
    return static_cast<std::uint32_t>(run);
}

}  // namespace

Fabric::Fabric() {
    addTool(ToolKind::needle);
}

YarnId Fabric::addYarn(char colour, std::int32_t loopUm, std::int32_t strandUm) {
    const YarnId id{static_cast<std::int32_t>(yarns_.add())};
    Yarn& yarn = yarns_.at(index(id));
    yarn.flags.colour = colour;
    yarn.loopUm = loopUm;
    yarn.strandUm = strandUm;
    return id;
}

void Fabric::setBall(YarnId yarn, bool ball) {
    YarnFlags flags = (*this)[yarn].flags;
    flags.ball = ball ? 1 : 0;
    write(yarn, &Yarn::flags, flags);
}

ToolId Fabric::addTool(ToolKind kind) {
    const ToolId id{static_cast<std::int32_t>(tools_.add())};
    tools_.at(index(id)).kind = kind;
    return id;
}

void Fabric::setTip(HeldId firstOnLeft) {
    write(needle(), &Tool::tip, firstOnLeft);
}

// ---- entries along a yarn
// ------------------------------------------------------------------------------------

EntryId Fabric::newEntry(bool pass, Run run) {
    const EntryId id{static_cast<std::int32_t>(entries_.add())};
    Entry& entry = entries_.at(index(id));
    entry.flags.pass = pass ? 1U : 0U;
    entry.flags.run = bit(run) & 1U;
    return id;
}

void Fabric::insertAfter(EntryId entry, YarnId yarn, EntryId after) {
    const EntryId next = after ? (*this)[after].next : (*this)[yarn].first;
    write(entry, &Entry::yarn, yarn);
    write(entry, &Entry::prev, after);
    write(entry, &Entry::next, next);
    if (after) {
        write(after, &Entry::next, entry);
    } else {
        write(yarn, &Yarn::first, entry);
    }
    if (next) {
        write(next, &Entry::prev, entry);
    } else {
        write(yarn, &Yarn::last, entry);
    }
}

void Fabric::removeFromYarn(EntryId entry) {
    const Entry e = (*this)[entry];
    if (e.prev) {
        write(e.prev, &Entry::next, e.next);
    } else {
        write(e.yarn, &Yarn::first, e.next);
    }
    if (e.next) {
        write(e.next, &Entry::prev, e.prev);
    } else {
        write(e.yarn, &Yarn::last, e.prev);
    }
    EntryFlags flags = e.flags;
    if (flags.rowEnds != 0 && e.prev && (*this)[e.prev].flags.rowEnds == 0) setRowEnds(e.prev, true);
    flags.gone = 1;
    setFlags(entry, flags);
}

LoopId Fabric::loopBefore(EntryId id) const {
    EntryId e = (*this)[id].prev;
    while (e && !isLoop(e)) e = (*this)[e].prev;
    return e;
}

std::int32_t Fabric::strandAfter(YarnId yarn, LoopId loopOrLead) const {
    return loopOrLead ? (*this)[loopOrLead].strandUm : (*this)[yarn].leadUm;
}

void Fabric::setStrandAfter(YarnId yarn, LoopId loopOrLead, std::int32_t um) {
    if (loopOrLead) {
        write(loopOrLead, &Entry::strandUm, um);
    } else {
        write(yarn, &Yarn::leadUm, um);
    }
}

Result<LoopId> Fabric::liftFromBall(YarnId yarn, Run run, std::int32_t um, std::int32_t strandUm, End end) {
    const LoopId loop = newEntry(false, run);
    Entry& entry = entries_.at(index(loop));
    entry.um = um;
    if (end == End::first) {
        entry.strandUm = (*this)[yarn].first ? strandUm : 0;
        insertAfter(loop, yarn, EntryId{});
        return loop;
    }
    if ((*this)[yarn].flags.ball == 0) {
        entries_.shrinkTo(index(loop));
        return refuse(Why::noBall);
    }
    insertAfter(loop, yarn, (*this)[yarn].last);
    if (strandUm != 0) {
        const LoopId before = loopBefore(loop);
        setStrandAfter(yarn, before, strandAfter(yarn, before) + strandUm);
    }
    return loop;
}

Result<LoopId> Fabric::liftInStrand(YarnId yarn, EntryId after, Run run, std::int32_t um,
                                    std::int32_t strandAfterUm) {
    const LoopId owner = !after ? LoopId{} : isLoop(after) ? after : loopBefore(after);
    const std::int32_t strand = strandAfter(yarn, owner);
    if (um < 0 || um > strand || strandAfterUm > strand - um) return refuse(Why::tooLittleYarn, um, strand);
    const std::int32_t behind = strandAfterUm >= 0 ? strandAfterUm : (strand - um) / 2;
    const LoopId loop = newEntry(false, run);
    insertAfter(loop, yarn, after);
    write(loop, &Entry::um, um);
    write(loop, &Entry::strandUm, behind);
    setStrandAfter(yarn, owner, strand - um - behind);
    return loop;
}

Result<void> Fabric::sink(LoopId loop) {
    if (!has(loop)) return refuse(Why::noSuchThing);
    if (!isLoop(loop)) return refuse(Why::notALoop);
    if (!isLive(loop)) return refuse(Why::notLive);
    if ((*this)[loop].firstLink || isHeld(loop)) return refuse(Why::inUse);
    if ((*this)[loop].flags.anchored != 0) return refuse(Why::anchored);
    // A join is a place along the yarn. Handed to a loop of another row, it would depend on which of two
    // loops goes first.
    handJoinsTo(loop, loopBefore(loop));
    dropCrossings(loop);
    while ((*this)[loop].held) removeHeld((*this)[loop].held);
    if (const StrandsId list = (*this)[loop].strands) {
        while ((*this)[list].first) removePass((*this)[list].first);
    }
    const Entry e = (*this)[loop];
    const LoopId owner = loopBefore(loop);
    setStrandAfter(e.yarn, owner, strandAfter(e.yarn, owner) + e.um + e.strandUm);
    removeFromYarn(loop);
    return {};
}

void Fabric::reelIn(YarnId yarn) {
    if ((*this)[yarn].flags.ball == 0) return;
    while ((*this)[yarn].last && !isLoop((*this)[yarn].last) && isFree((*this)[yarn].last)) {
        removePass((*this)[yarn].last);
    }
    const EntryId last = (*this)[yarn].last;
    const LoopId owner = !last || isLoop(last) ? last : loopBefore(last);
    if (strandAfter(yarn, owner) != 0) setStrandAfter(yarn, owner, 0);
}

// ---- links
// ---------------------------------------------------------------------------------------------------

LinkId Fabric::newLink(LoopId loop, LoopId host, LinkForm form) {
    const LinkId id{static_cast<std::int32_t>(links_.add())};
    Link& link = links_.at(index(id));
    link.loop = loop;
    link.host = host;
    link.form = form;
    return id;
}

void Fabric::addToHost(LinkId link, std::int32_t slot) {
    const LoopId host = (*this)[link].host;
    LinkId before;  // the link that will stand to the left of the new one
    if (slot >= 0) {
        before = (*this)[host].firstKid;
        for (std::int32_t i = 0; i < slot && before; ++i) before = (*this)[before].nextInHost;
    }
    const LinkId after = before ? (*this)[before].prevInHost : (*this)[host].lastKid;
    write(link, &Link::prevInHost, after);
    write(link, &Link::nextInHost, before);
    if (after) {
        write(after, &Link::nextInHost, link);
    } else {
        write(host, &Entry::firstKid, link);
    }
    if (before) {
        write(before, &Link::prevInHost, link);
    } else {
        write(host, &Entry::lastKid, link);
    }
}

void Fabric::removeFromHost(LinkId link) {
    const Link l = (*this)[link];
    if (l.prevInHost) {
        write(l.prevInHost, &Link::nextInHost, l.nextInHost);
    } else {
        write(l.host, &Entry::firstKid, l.nextInHost);
    }
    if (l.nextInHost) {
        write(l.nextInHost, &Link::prevInHost, l.prevInHost);
    } else {
        write(l.host, &Entry::lastKid, l.prevInHost);
    }
}

void Fabric::addToLoop(LinkId link, std::int32_t at) {
    const LoopId loop = (*this)[link].loop;
    LinkId before;
    if (at < 0) {
        before = (*this)[loop].lastLink;
    } else {
        LinkId next = (*this)[loop].firstLink;
        for (std::int32_t i = 0; i < at && next; ++i) {
            before = next;
            next = (*this)[next].nextInLoop;
        }
    }
    const LinkId next = before ? (*this)[before].nextInLoop : (*this)[loop].firstLink;
    write(link, &Link::nextInLoop, next);
    if (before) {
        write(before, &Link::nextInLoop, link);
    } else {
        write(loop, &Entry::firstLink, link);
    }
    if (!next) write(loop, &Entry::lastLink, link);
}

void Fabric::removeFromLoop(LinkId link) {
    const LoopId loop = (*this)[link].loop;
    LinkId before;
    for (LinkId l = (*this)[loop].firstLink; l != link; l = (*this)[l].nextInLoop) before = l;
    const LinkId next = (*this)[link].nextInLoop;
    if (before) {
        write(before, &Link::nextInLoop, next);
    } else {
        write(loop, &Entry::firstLink, next);
    }
    if (!next) write(loop, &Entry::lastLink, before);
}

Result<LinkId> Fabric::pull(LoopId loop, LoopId host, LinkForm form, std::int32_t slot) {
    if (!has(loop) || !has(host)) return refuse(Why::noSuchThing);
    if (!isLoop(loop) || !isLoop(host)) return refuse(Why::notALoop);
    if (loop == host) return refuse(Why::ownHost);
    if (!isLive(loop)) return refuse(Why::notLive);
    const LinkId link = newLink(loop, host, form);
    addToLoop(link, -1);
    addToHost(link, slot);
    if ((*this)[host].strands) dropIdlePasses(loop, host, form.side);
    return link;
}

void Fabric::dropIdlePasses(LoopId loop, LoopId host, Side side) {
    // A strand that goes by a loop on the side from which its own neighbour is drawn through that loop
    // crosses nothing: this is what makes slip, knit, pass over the same knot as slip, slip, knit together.
    const auto isHostOf = [&](LoopId passedLoop) {
        for (LinkId l = (*this)[loop].firstLink; l; l = (*this)[l].nextInLoop) {
            if ((*this)[l].host == passedLoop) return true;
        }
        return false;
    };
    for (const bool back : {true, false}) {
        EntryId e = back ? (*this)[loop].prev : (*this)[loop].next;
        while (e && !isLoop(e)) {
            const EntryId beyond = back ? (*this)[e].prev : (*this)[e].next;
            // A mark fixes nothing, so what lies beyond it is still next to the loop.
            if (!isFree(e)) {
                if (run(e) != run(loop) || !isHostOf(passed(e))) break;
                if (passed(e) == host && passSide(e) == opposite(side)) removePass(e);
            }
            e = beyond;
        }
    }
}

Result<LoopId> Fabric::unpull(LoopId loop) {
    if (!has(loop)) return refuse(Why::noSuchThing);
    if (!isLoop(loop)) return refuse(Why::notALoop);
    if (!isLive(loop)) return refuse(Why::notLive);
    const LinkId link = (*this)[loop].lastLink;
    if (!link) return refuse(Why::noLinks);
    const LoopId host = (*this)[link].host;
    removeFromLoop(link);
    removeFromHost(link);
    return host;
}

// ---- tools
// ---------------------------------------------------------------------------------------------------

void Fabric::linkHeld(HeldId held, HeldId before) {
    const ToolId tool = (*this)[held].tool;
    const HeldId after = before ? (*this)[before].prev : (*this)[tool].last;
    write(held, &Held::prev, after);
    write(held, &Held::next, before);
    if (after) {
        write(after, &Held::next, held);
    } else {
        write(tool, &Tool::first, held);
    }
    if (before) {
        write(before, &Held::prev, held);
    } else {
        write(tool, &Tool::last, held);
    }
}

void Fabric::unlinkHeld(HeldId held) {
    const Held h = (*this)[held];
    if (h.prev) {
        write(h.prev, &Held::next, h.next);
    } else {
        write(h.tool, &Tool::first, h.next);
    }
    if (h.next) {
        write(h.next, &Held::prev, h.prev);
    } else {
        write(h.tool, &Tool::last, h.prev);
    }
    if ((*this)[h.tool].tip == held) write(h.tool, &Tool::tip, h.next);
}

void Fabric::removeHeld(HeldId held) {
    const Held h = (*this)[held];
    unlinkHeld(held);
    if ((*this)[h.loop].held == held) {
        write(h.loop, &Entry::held, h.alsoHeld);
        return;
    }
    HeldId before = (*this)[h.loop].held;
    while ((*this)[before].alsoHeld != held) before = (*this)[before].alsoHeld;
    write(before, &Held::alsoHeld, h.alsoHeld);
}

HeldId Fabric::insertHeld(LoopId loop, ToolId tool, HeldId before, HeldState state) {
    const HeldId id{static_cast<std::int32_t>(held_.add())};
    Held& held = held_.at(index(id));
    held.loop = loop;
    held.tool = tool;
    held.state = state;
    held.alsoHeld = (*this)[loop].held;
    write(loop, &Entry::held, id);
    linkHeld(id, before);
    return id;
}

HeldId Fabric::heldOn(LoopId id, ToolId tool) const {
    for (HeldId h = (*this)[id].held; h; h = (*this)[h].alsoHeld) {
        if ((*this)[h].tool == tool) return h;
    }
    return {};
}

Result<HeldId> Fabric::hold(LoopId loop, ToolId tool, HeldId before, Mount mount, std::int8_t turns) {
    if (!has(loop)) return refuse(Why::noSuchThing);
    if (!isLoop(loop)) return refuse(Why::notALoop);
    if (const HeldId old = heldOn(loop, tool)) {
        if ((*this)[old].state.hanging == 0) return refuse(Why::alreadyHeld);
    }
    HeldState state;
    state.mount = mount;
    state.turns = turns;
    HeldId kept;  // put back where it hangs: the very place, on its side of the gap between the tips
    for (HeldId h = (*this)[loop].held; h;) {
        const HeldId next = (*this)[h].alsoHeld;
        if ((*this)[h].state.hanging != 0 && (fixes(tool) || (*this)[h].tool == tool)) {
            if (h == before) {
                kept = h;
            } else {
                removeHeld(h);
            }
        }
        h = next;
    }
    if (!kept) return insertHeld(loop, tool, before, state);
    write(kept, &Held::state, state);
    return kept;
}

Result<void> Fabric::letGo(LoopId loop, ToolId tool, bool keepPlace) {
    if (!has(loop)) return refuse(Why::noSuchThing);
    const HeldId held = heldOn(loop, tool);
    if (!held || (*this)[held].state.hanging != 0) return refuse(Why::notHeld);
    bool fixedElsewhere = false;
    for (HeldId h = (*this)[loop].held; h; h = (*this)[h].alsoHeld)
        fixedElsewhere =
            fixedElsewhere || (h != held && (*this)[h].state.hanging == 0 && fixes((*this)[h].tool));
    if (keepPlace && isLive(loop) && !fixedElsewhere) {
        HeldState state;
        state.hanging = 1;
        write(held, &Held::state, state);
    } else {
        removeHeld(held);
    }
    return {};
}

void Fabric::passOn(HeldId held, LoopId to, Mount mount) {
    const Held h = (*this)[held];
    write(h.loop, &Entry::held, HeldId{});
    write(held, &Held::loop, to);
    if (h.state.mount != mount || h.state.turns != 0) setMount(held, mount, 0);
    write(to, &Entry::held, held);
}

void Fabric::forgetPlace(HeldId held) {
    removeHeld(held);
}

void Fabric::setMount(HeldId held, Mount mount, std::int8_t turns) {
    HeldState state = (*this)[held].state;
    state.mount = mount;
    state.turns = turns;
    write(held, &Held::state, state);
}

HeldId Fabric::hang(LoopId loop, ToolId tool, HeldId before) {
    HeldState state;
    state.hanging = 1;
    return insertHeld(loop, tool, before, state);
}

bool Fabric::fixes(ToolId tool) const {
    const ToolKind kind = (*this)[tool].kind;
    return kind != ToolKind::pin && kind != ToolKind::hook;
}

// ---- crossings and joins
// -------------------------------------------------------------------------------------

bool Fabric::inFrontSomewhere(LoopId from, LoopId to) const {
    std::vector<LoopId> open{from};
    std::vector<LoopId> seen{from};
    while (!open.empty()) {
        const LoopId at = open.back();
        open.pop_back();
        for (CrossingId c = (*this)[at].crossing; c;) {
            const Crossing& x = (*this)[c];
            const CrossingId next = x.a == at ? x.nextOfA : x.nextOfB;
            const LoopId front = x.sign > 0 ? x.b : x.a;
            const LoopId behind = x.sign > 0 ? x.a : x.b;
            if (x.sign != 0 && front == at) {
                if (behind == to) return true;
                if (std::find(seen.begin(), seen.end(), behind) == seen.end()) {
                    seen.push_back(behind);
                    open.push_back(behind);
                }
            }
            c = next;
        }
    }
    return false;
}

Result<void> Fabric::cross(LoopId right, LoopId left, LoopId front) {
    if (!has(right) || !has(left)) return refuse(Why::noSuchThing);
    if (!isLoop(right) || !isLoop(left)) return refuse(Why::notALoop);
    if (right == left || (front != right && front != left)) return refuse(Why::notNeighbours);
    const std::int32_t sign = front == left ? 1 : -1;
    CrossingId pair;
    for (CrossingId c = (*this)[right].crossing; c && !pair;) {
        const Crossing& x = (*this)[c];
        if ((x.a == right && x.b == left) || (x.a == left && x.b == right)) pair = c;
        c = x.a == right ? x.nextOfA : x.nextOfB;
    }
    const std::int32_t before = pair ? (*this)[pair].sign : 0;
    if (before == sign) return refuse(Why::crossedTwice);
    if (before == 0 && inFrontSomewhere(front == left ? right : left, front))
        return refuse(Why::crossedInARing);
    if (pair && before == 0 && (*this)[pair].a != right) {
        const Crossing x = (*this)[pair];  // undone before; now the other one stands right
        write(pair, &Crossing::a, x.b);
        write(pair, &Crossing::b, x.a);
        write(pair, &Crossing::nextOfA, x.nextOfB);
        write(pair, &Crossing::nextOfB, x.nextOfA);
    }
    if (!pair) {
        pair = CrossingId{static_cast<std::int32_t>(crossings_.add())};
        Crossing& x = crossings_.at(index(pair));
        x.a = right;
        x.b = left;
        x.nextOfA = (*this)[right].crossing;
        x.nextOfB = (*this)[left].crossing;
        write(right, &Entry::crossing, pair);
        write(left, &Entry::crossing, pair);
    }
    write(pair, &Crossing::sign, before + sign);

    for (HeldId r = (*this)[right].held; r; r = (*this)[r].alsoHeld) {
        // What only hangs between them does not part them.
        const ToolId tool = (*this)[r].tool;
        bool gapBetween = false;
        HeldId l = (*this)[r].next;
        while (l && (*this)[l].loop != left && (*this)[l].state.hanging != 0) {
            gapBetween = gapBetween || (*this)[tool].tip == l;
            l = (*this)[l].next;
        }
        if (!l || (*this)[l].loop != left) continue;
        gapBetween = gapBetween || (*this)[tool].tip == l;
        const HeldId beyond = (*this)[l].next;
        unlinkHeld(r);
        linkHeld(r, beyond);
        if (gapBetween) write(tool, &Tool::tip, r);
        break;
    }
    return {};
}

void Fabric::dropCrossings(LoopId loop) {
    for (CrossingId c = (*this)[loop].crossing; c;) {
        const Crossing& x = (*this)[c];
        const CrossingId next = x.a == loop ? x.nextOfA : x.nextOfB;
        if (x.sign != 0) write(c, &Crossing::sign, 0);
        c = next;
    }
}

void Fabric::addJoin(LoopId after, std::int32_t twist) {
    const JoinId id{static_cast<std::int32_t>(joins_.add())};
    Join& join = joins_.at(index(id));
    join.loop = after;
    join.twist = twist;
}

void Fabric::handJoinsTo(LoopId loop, LoopId heir) {
    for (std::int32_t i = 0; i < joinCount(); ++i) {
        if ((*this)[JoinId{i}].loop == loop) write(JoinId{i}, &Join::loop, heir);
    }
}

void Fabric::setAnchored(LoopId loop, bool anchored) {
    EntryFlags flags = (*this)[loop].flags;
    flags.anchored = anchored ? 1 : 0;
    setFlags(loop, flags);
}

void Fabric::setRowEnds(EntryId entry, bool ends) {
    EntryFlags flags = (*this)[entry].flags;
    flags.rowEnds = ends ? 1 : 0;
    setFlags(entry, flags);
}

// ---- the journal
// ---------------------------------------------------------------------------------------------

JournalMark Fabric::mark() {
    freshFrom_ = {entries_.size(), links_.size(), strands_.size(),   held_.size(),
                  tools_.size(),   yarns_.size(), crossings_.size(), joins_.size()};
    return {journal_.length(), freshFrom_};
}

void Fabric::rollBack(const JournalMark& mark) {
    while (journal_.length() > mark.length) {
        const Journal::Change change = journal_.takeLast();
        const std::uint32_t word = change.where & ((1U << Journal::kPoolShift) - 1);
        void* place = nullptr;
        switch (static_cast<PoolNumber>(change.where >> Journal::kPoolShift)) {
            case kEntries: place = entries_.word(word); break;
            case kLinks: place = links_.word(word); break;
            case kStrands: place = strands_.word(word); break;
            case kHeld: place = held_.word(word); break;
            case kTools: place = tools_.word(word); break;
            case kYarns: place = yarns_.word(word); break;
            case kCrossings: place = crossings_.word(word); break;
            case kJoins: place = joins_.word(word); break;
        }
        std::memcpy(place, &change.old, 4);
    }
    entries_.shrinkTo(mark.sizes[kEntries]);
    links_.shrinkTo(mark.sizes[kLinks]);
    strands_.shrinkTo(mark.sizes[kStrands]);
    held_.shrinkTo(mark.sizes[kHeld]);
    tools_.shrinkTo(mark.sizes[kTools]);
    yarns_.shrinkTo(mark.sizes[kYarns]);
    crossings_.shrinkTo(mark.sizes[kCrossings]);
    joins_.shrinkTo(mark.sizes[kJoins]);
    freshFrom_ = mark.sizes;
}

void Fabric::forgetJournal() {
    journal_.forget();
}

std::size_t Fabric::bytes() const {
    return entries_.bytes() + links_.bytes() + strands_.bytes() + held_.bytes() + tools_.bytes() +
           yarns_.bytes() + crossings_.bytes() + joins_.bytes();
}

// ---- looking
// -------------------------------------------------------------------------------------------------

bool Fabric::isHeld(LoopId id) const {
    for (HeldId h = (*this)[id].held; h; h = (*this)[h].alsoHeld) {
        if ((*this)[h].state.hanging == 0) return true;
    }
    return false;
}

bool Fabric::isOpen(LoopId id) const {
    if (!isLive(id)) return false;
    for (HeldId h = (*this)[id].held; h; h = (*this)[h].alsoHeld) {
        if ((*this)[h].state.hanging == 0 && fixes((*this)[h].tool)) return false;
    }
    return true;
}

bool Fabric::isLoose(LoopId id) const {
    return isLoop(id) && isLive(id) && !isHeld(id) && (*this)[id].flags.anchored == 0;
}

bool Fabric::isNothing(LoopId id) const {
    return isLoose(id) && !(*this)[id].firstLink;
}

int Fabric::linkCount(LoopId id) const {
    int n = 0;
    for (LinkId l = (*this)[id].firstLink; l; l = (*this)[l].nextInLoop) ++n;
    return n;
}

int Fabric::kidCount(LoopId id) const {
    int n = 0;
    for (LinkId l = (*this)[id].firstKid; l; l = (*this)[l].nextInHost) ++n;
    return n;
}

std::int32_t Fabric::loopCount() const {
    std::int32_t n = 0;
    for (std::int32_t i = 0; i < entryCount(); ++i) {
        const EntryId e{i};
        if (has(e) && isLoop(e) && !isNothing(e)) ++n;
    }
    return n;
}

std::vector<LinkId> Fabric::linksOf(LoopId id) const {
    std::vector<LinkId> links;
    for (LinkId l = (*this)[id].firstLink; l; l = (*this)[l].nextInLoop) links.push_back(l);
    return links;
}

std::vector<PassId> Fabric::passesOf(LoopId id) const {
    std::vector<PassId> passes;
    if (const StrandsId list = (*this)[id].strands) {
        for (PassId p = (*this)[list].first; p; p = (*this)[p].passNext) passes.push_back(p);
    }
    return passes;
}

std::vector<LoopId> Fabric::hostsRightToLeft(LoopId id) const {
    std::vector<LinkId> links = linksOf(id);
    std::stable_sort(links.begin(), links.end(),
                     [&](LinkId x, LinkId y) { return (*this)[x].form.place < (*this)[y].form.place; });
    std::vector<LoopId> hosts;
    for (const LinkId l : links) {
        const LoopId host = (*this)[l].host;
        if (std::find(hosts.begin(), hosts.end(), host) == hosts.end()) hosts.push_back(host);
    }
    return hosts;
}

std::int64_t Fabric::totalUm() const {
    std::int64_t total = 0;
    for (std::int32_t y = 0; y < yarnCount(); ++y) {
        const Yarn& yarn = (*this)[YarnId{y}];
        if (yarn.flags.gone != 0) continue;
        total += yarn.leadUm;
        for (EntryId e = yarn.first; e; e = (*this)[e].next) {
            if (isLoop(e)) total += (*this)[e].um + (*this)[e].strandUm;
        }
    }
    return total;
}

}  // namespace loopmend
