// SPDX-License-Identifier: MIT
// Strands: passes and their lists, cutting and joining, sewing, easing.
#include "fabric/fabric.h"

#include <unordered_set>

namespace loopmend {

StrandsId Fabric::strandsOf(LoopId loop) {
    if (const StrandsId list = (*this)[loop].strands) return list;
    const StrandsId list{static_cast<std::int32_t>(strands_.add())};
    strands_.at(index(list)).loop = loop;
    write(loop, &Entry::strands, list);
    return list;
}

void Fabric::listPass(PassId pass, StrandsId list, PassId below) {
    const PassId under = below ? (*this)[below].passPrev : (*this)[list].last;
    write(pass, &Entry::goingBy, list);
    write(pass, &Entry::passPrev, under);
    write(pass, &Entry::passNext, below);
    if (under) {
        write(under, &Entry::passNext, pass);
    } else {
        write(list, &Strands::first, pass);
    }
    if (below) {
        write(below, &Entry::passPrev, pass);
    } else {
        write(list, &Strands::last, pass);
    }
}

void Fabric::unlistPass(PassId pass) {
    const Entry e = (*this)[pass];
    if (e.passPrev) {
        write(e.passPrev, &Entry::passNext, e.passNext);
    } else {
        write(e.goingBy, &Strands::first, e.passNext);
    }
    if (e.passNext) {
        write(e.passNext, &Entry::passPrev, e.passPrev);
    } else {
        write(e.goingBy, &Strands::last, e.passPrev);
    }
}

void Fabric::removePass(PassId pass) {
    unlistPass(pass);
    removeFromYarn(pass);
}

Result<PassId> Fabric::lay(YarnId yarn, EntryId after, LoopId loop, Side side, Run run, PassId below) {
    if (!has(loop)) return refuse(Why::noSuchThing);
    if (!isLoop(loop)) return refuse(Why::notALoop);
    const PassId pass = newEntry(true, run);
    EntryFlags flags = (*this)[pass].flags;
    flags.passSide = static_cast<std::uint32_t>(side) & 1U;
    setFlags(pass, flags);
    insertAfter(pass, yarn, after);
    listPass(pass, strandsOf(loop), below);
    return pass;
}

Result<void> Fabric::unlay(PassId pass) {
    if (!has(pass) || isLoop(pass)) return refuse(Why::noSuchThing);
    removePass(pass);
    return {};
}

void Fabric::setPassSide(PassId pass, Side side) {
    EntryFlags flags = (*this)[pass].flags;
    flags.passSide = static_cast<std::uint32_t>(side) & 1U;
    setFlags(pass, flags);
}

void Fabric::handStrandsOn(LoopId from, LoopId to) {
    const StrandsId list = (*this)[from].strands;
    if (!list || !(*this)[list].first) return;
    const StrandsId mine = (*this)[to].strands;
    if (!mine || !(*this)[mine].first) {
        write(list, &Strands::loop, to);
        write(to, &Entry::strands, list);
        write(from, &Entry::strands, StrandsId{});
        return;
    }
    handStrandsOnFrom(from, (*this)[list].first, to);
}

void Fabric::handStrandsOnFrom(LoopId from, PassId lowest, LoopId to) {
    const StrandsId list = (*this)[from].strands;
    const PassId under = (*this)[lowest].passPrev;
    if (!under && !(*this)[to].strands) {
        handStrandsOn(from, to);
        return;
    }
    const StrandsId mine = strandsOf(to);
    const PassId top = (*this)[list].last;
    for (PassId p = lowest; p; p = (*this)[p].passNext) write(p, &Entry::goingBy, mine);
    if (under) {
        write(under, &Entry::passNext, PassId{});
    } else {
        write(list, &Strands::first, PassId{});
    }
    write(list, &Strands::last, under);
    const PassId beneath = (*this)[mine].last;
    write(lowest, &Entry::passPrev, beneath);
    if (beneath) {
        write(beneath, &Entry::passNext, lowest);
    } else {
        write(mine, &Strands::first, lowest);
    }
    write(mine, &Strands::last, top);
}

// ---- cutting, joining, sewing
// --------------------------------------------------------------------------------

Result<YarnId> Fabric::cut(EntryId after) {
    if (!has(after)) return refuse(Why::noSuchThing);
    const YarnId yarn = (*this)[after].yarn;
    const Yarn old = (*this)[yarn];
    const YarnId rest = addYarn(old.flags.colour, old.loopUm, old.strandUm);
    write(rest, &Yarn::flags, old.flags);
    setBall(yarn, false);
    const LoopId owner = isLoop(after) ? after : loopBefore(after);
    const std::int32_t strand = strandAfter(yarn, owner);
    const EntryId first = (*this)[after].next;
    if (!first) return rest;
    write(rest, &Yarn::leadUm, strand / 2);
    setStrandAfter(yarn, owner, strand - strand / 2);
    write(after, &Entry::next, EntryId{});
    write(first, &Entry::prev, EntryId{});
    write(rest, &Yarn::first, first);
    write(rest, &Yarn::last, old.last);
    write(yarn, &Yarn::last, after);
    for (EntryId e = first; e; e = (*this)[e].next) write(e, &Entry::yarn, rest);
    return rest;
}

void Fabric::reverse(YarnId yarn) {
    const Yarn old = (*this)[yarn];
    std::int32_t strand = old.leadUm;  // the strand before an entry becomes the strand after it
    for (EntryId e = old.first; e;) {
        const Entry was = (*this)[e];
        write(e, &Entry::prev, was.next);
        write(e, &Entry::next, was.prev);
        EntryFlags flags = was.flags;
        flags.run ^= 1U;
        setFlags(e, flags);
        if (was.flags.pass == 0) {
            write(e, &Entry::strandUm, strand);
            strand = was.strandUm;
        }
        e = was.next;
    }
    write(yarn, &Yarn::leadUm, strand);
    write(yarn, &Yarn::first, old.last);
    write(yarn, &Yarn::last, old.first);
}

Result<void> Fabric::join(YarnId yarn, YarnId other, End otherEnd) {
    if (yarn == other) return refuse(Why::sameYarn);
    if ((*this)[yarn].flags.gone != 0 || (*this)[other].flags.gone != 0) return refuse(Why::noSuchThing);
    if ((*this)[yarn].flags.ball != 0) return refuse(Why::hasBall);
    if (otherEnd == End::last) {
        if ((*this)[other].flags.ball != 0) return refuse(Why::hasBall);
        reverse(other);
    }
    const Yarn tail = (*this)[other];
    const EntryId last = (*this)[yarn].last;
    const LoopId owner = !last || isLoop(last) ? last : loopBefore(last);
    setStrandAfter(yarn, owner, strandAfter(yarn, owner) + tail.leadUm);
    if (tail.first) {
        write(tail.first, &Entry::prev, last);
        if (last) {
            write(last, &Entry::next, tail.first);
        } else {
            write(yarn, &Yarn::first, tail.first);
        }
        write(yarn, &Yarn::last, tail.last);
        for (EntryId e = tail.first; e; e = (*this)[e].next) write(e, &Entry::yarn, yarn);
    }
    setBall(yarn, tail.flags.ball != 0);
    YarnFlags flags = tail.flags;
    flags.gone = 1;
    flags.ball = 0;
    write(other, &Yarn::flags, flags);
    write(other, &Yarn::first, EntryId{});
    write(other, &Yarn::last, EntryId{});
    write(other, &Yarn::leadUm, 0);
    return {};
}

bool Fabric::standsOn(LoopId loop, LoopId other) const {
    std::vector<LoopId> open{loop};
    std::unordered_set<std::int32_t> seen;
    while (!open.empty()) {
        const LoopId at = open.back();
        open.pop_back();
        if (at == other) return true;
        if (!seen.insert(at.value).second) continue;
        for (LinkId l = (*this)[at].firstLink; l; l = (*this)[l].nextInLoop) open.push_back((*this)[l].host);
    }
    return false;
}

Result<LoopId> Fabric::thread(YarnId yarn, Run run, std::int32_t um, const std::vector<Through>& hosts,
                              const std::vector<Under>& unders) {
    if ((*this)[yarn].flags.ball != 0) return refuse(Why::hasBall);
    for (const Through& t : hosts) {
        if (!has(t.host) || !isLoop(t.host)) return refuse(Why::noSuchThing);
    }
    for (const Under& u : unders) {
        if (!has(u.loop) || !isLoop(u.loop)) return refuse(Why::noSuchThing);
    }
    for (const Through& t : hosts) {
        // Under a loop and through one that stands on it: no order of drawing loops could make that.
        for (const Under& u : unders) {
            if (standsOn(t.host, u.loop)) return refuse(Why::ownHost);
        }
    }
    const LoopId loop = newEntry(false, run);
    insertAfter(loop, yarn, (*this)[yarn].last);
    write(loop, &Entry::um, um);
    const LoopId before = loopBefore(loop);
    setStrandAfter(yarn, before, strandAfter(yarn, before) + (*this)[yarn].strandUm);
    for (const Through& t : hosts) {
        const LinkId link = newLink(loop, t.host, t.form);
        addToLoop(link, -1);
        addToHost(link, t.slot);
    }
    for (const Under& u : unders) {
        const LinkId link = newLink(u.loop, loop, u.form);
        addToLoop(link, u.at);
        addToHost(link, -1);
    }
    return loop;
}

Result<void> Fabric::unthread(LoopId loop) {
    if (!has(loop)) return refuse(Why::noSuchThing);
    if (!isLoop(loop)) return refuse(Why::notALoop);
    const YarnId yarn = (*this)[loop].yarn;
    const bool atFirst = !loopBefore(loop);
    EntryId after = (*this)[loop].next;
    while (after && !isLoop(after)) after = (*this)[after].next;
    if (!atFirst && after) return refuse(Why::notNeighbours);
    if (!atFirst && (*this)[yarn].flags.ball != 0) return refuse(Why::hasBall);
    while (const LinkId kid = (*this)[loop].firstKid) {
        removeFromLoop(kid);
        removeFromHost(kid);
    }
    while (const LinkId link = (*this)[loop].firstLink) {
        removeFromLoop(link);
        removeFromHost(link);
    }
    while ((*this)[loop].held) removeHeld((*this)[loop].held);
    setAnchored(loop, false);
    return sink(loop);
}

Result<void> Fabric::ease(LoopId from, LoopId to, std::int32_t um) {
    if (!has(from) || !has(to)) return refuse(Why::noSuchThing);
    if (!isLoop(from) || !isLoop(to)) return refuse(Why::notALoop);
    if ((*this)[from].yarn != (*this)[to].yarn) return refuse(Why::sameYarn);
    if (um < 0 || (*this)[from].um < um) return refuse(Why::tooLittleYarn, um, (*this)[from].um);
    write(from, &Entry::um, (*this)[from].um - um);
    write(to, &Entry::um, (*this)[to].um + um);
    return {};
}

Result<void> Fabric::easeFromBall(LoopId loop, std::int32_t um) {
    if (!has(loop)) return refuse(Why::noSuchThing);
    if (!isLoop(loop)) return refuse(Why::notALoop);
    const Yarn& yarn = (*this)[(*this)[loop].yarn];
    if (yarn.flags.ball == 0) return refuse(Why::noBall);
    EntryId last = yarn.last;
    while (last != loop && !isLoop(last)) last = (*this)[last].prev;
    if (last != loop) return refuse(Why::yarnElsewhere);
    if ((*this)[loop].um + um < 0) return refuse(Why::tooLittleYarn, -um, (*this)[loop].um);
    write(loop, &Entry::um, (*this)[loop].um + um);
    return {};
}

Result<void> Fabric::easeFromStrand(LoopId before, LoopId loop, std::int32_t um) {
    if (!has(before) || !has(loop)) return refuse(Why::noSuchThing);
    if (!isLoop(before) || !isLoop(loop)) return refuse(Why::notALoop);
    if ((*this)[before].yarn != (*this)[loop].yarn) return refuse(Why::sameYarn);
    if (um > (*this)[before].strandUm) return refuse(Why::tooLittleYarn, um, (*this)[before].strandUm);
    if (-um > (*this)[loop].um) return refuse(Why::tooLittleYarn, -um, (*this)[loop].um);
    write(before, &Entry::strandUm, (*this)[before].strandUm - um);
    write(loop, &Entry::um, (*this)[loop].um + um);
    return {};
}

Result<void> Fabric::trim(YarnId yarn, End end) {
    if (end == End::first) {
        write(yarn, &Yarn::leadUm, 0);
        return {};
    }
    if ((*this)[yarn].flags.ball != 0) return refuse(Why::hasBall);
    const EntryId last = (*this)[yarn].last;
    setStrandAfter(yarn, !last || isLoop(last) ? last : loopBefore(last), 0);
    return {};
}

}  // namespace loopmend
