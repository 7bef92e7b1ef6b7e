// SPDX-License-Identifier: MIT
#include "swatch.h"

#include <algorithm>
#include <cstdlib>
#include <map>
#include <set>
#include <stdexcept>

namespace loopmend {

namespace {

[[noreturn]] void wrong(const std::string& what) {
    throw std::runtime_error(what);
}

void castOn(Knitter& k, int n, Begin begin) {
    switch (begin) {
        case Begin::longTail:
            if (!k.castOnLongTail(n)) wrong("long-tail cast-on");
            return;
        case Begin::backward:
            if (!k.castOnBackward(n)) wrong("backward cast-on");
            return;
        case Begin::bare: break;
    }
    if (!k.castOnBackward(n)) wrong("cast-on");
    for (const LoopId loop : k.behind()) {
        Fabric& f = k.fabric();
        const HeldId h = f.heldOn(loop, f.needle());
        f.setMount(h, f[h].state.mount, 0);
    }
}

using Work = std::function<Result<LoopId>(Knitter&)>;

Result<LoopId> lastOf(Knitter& k, const Result<void>& done) {
    if (!done) return tl::unexpected<Refusal>(done.error());
    const std::vector<LoopId> right = k.behind();
    return right.empty() ? LoopId{} : right.back();
}

const std::map<std::string, Work, std::less<>>& vocabulary() {
    using Into = Knitter::Into;
    static const std::map<std::string, Work, std::less<>> kWords = {
        {"k", [](Knitter& k) { return k.knit(); }},
        {"p", [](Knitter& k) { return k.purl(); }},
        {"ktbl", [](Knitter& k) { return k.knitTbl(); }},
        {"ptbl", [](Knitter& k) { return k.purlTbl(); }},
        {"kfront", [](Knitter& k) { return k.knit(Leg::front); }},
        {"pfront", [](Knitter& k) { return k.purl(Leg::front); }},
        {"sl", [](Knitter& k) { return k.slip(SlipWay::purlwise, false); }},
        {"slf", [](Knitter& k) { return k.slip(SlipWay::purlwise, true); }},
        {"slk", [](Knitter& k) { return k.slip(SlipWay::knitwise, false); }},
        {"slkf", [](Knitter& k) { return k.slip(SlipWay::knitwise, true); }},
        {"slb", [](Knitter& k) { return k.slip(SlipWay::fromBehind, false); }},
        {"back", [](Knitter& k) { return lastOf(k, k.slipBack()); }},
        {"yo", [](Knitter& k) { return k.yarnOver(); }},
        {"ryo", [](Knitter& k) { return k.yarnOver(true); }},
        {"k2tog", [](Knitter& k) { return k.k2tog(); }},
        {"p2tog", [](Knitter& k) { return k.p2tog(); }},
        {"k3tog", [](Knitter& k) { return k.k3tog(); }},
        {"p3tog", [](Knitter& k) { return k.p3tog(); }},
        {"k2togtbl", [](Knitter& k) { return k.k2togTbl(); }},
        {"p2togtbl", [](Knitter& k) { return k.p2togTbl(); }},
        {"k3togtbl", [](Knitter& k) { return k.k3togTbl(); }},
        {"p3togtbl", [](Knitter& k) { return k.p3togTbl(); }},
        {"ssk", [](Knitter& k) { return k.ssk(); }},
        {"ssp", [](Knitter& k) { return k.ssp(); }},
        {"sssk", [](Knitter& k) { return k.sssk(); }},
        {"skp", [](Knitter& k) { return k.skp(); }},
        {"skppw", [](Knitter& k) { return k.skp(SlipWay::purlwise); }},
        {"spp", [](Knitter& k) { return k.spp(); }},
        {"sppkw", [](Knitter& k) { return k.spp(SlipWay::knitwise); }},
        {"sk2p", [](Knitter& k) { return k.sk2p(); }},
        {"sp2p", [](Knitter& k) { return k.sp2p(); }},
        {"s2kp", [](Knitter& k) { return k.s2kp(); }},
        {"s2pp", [](Knitter& k) { return k.s2pp(); }},
        {"psso", [](Knitter& k) { return k.passOver(); }},
        {"sk2o", [](Knitter& k) { return k.slipKnitOver(2); }},
        {"kfb", [](Knitter& k) { return k.kfb(); }},
        {"kpk", [](Knitter& k) { return k.kpk(); }},
        {"kyok", [](Knitter& k) { return k.kyok(); }},
        {"kyokyok",
         [](Knitter& k) {
             return k.workInto({Into::knit, Into::yarnOver, Into::knit, Into::yarnOver, Into::knit});
         }},
        {"pfb",
         [](Knitter& k) {
             return k.workInto({Into::purl, Into::purlOtherLeg});
         }},
        {"pkp",
         [](Knitter& k) {
             return k.workInto({Into::purl, Into::knit, Into::purl});
         }},
        {"pyop",
         [](Knitter& k) {
             return k.workInto({Into::purl, Into::yarnOver, Into::purl});
         }},
        {"m1l", [](Knitter& k) { return k.makeOne(Hand::left); }},
        {"m1r", [](Knitter& k) { return k.makeOne(Hand::right); }},
        {"m1lp", [](Knitter& k) { return k.makeOne(Hand::left, true); }},
        {"m1rp", [](Knitter& k) { return k.makeOne(Hand::right, true); }},
        {"m1o", [](Knitter& k) { return k.makeOne(Hand::left, false, true); }},
        {"bar", [](Knitter& k) { return k.liftBar(false); }},
        {"rli", [](Knitter& k) { return k.liftedIncrease(Hand::right); }},
        {"lli", [](Knitter& k) { return k.liftedIncrease(Hand::left); }},
        {"kbelow", [](Knitter& k) { return k.workBelow(false); }},
        {"pbelow", [](Knitter& k) { return k.workBelow(true); }},
        {"wt", [](Knitter& k) { return lastOf(k, k.wrapAndTurn()); }},
        {"wtb", [](Knitter& k) { return lastOf(k, k.wrapAndTurn(false)); }},
        {"wwrap", [](Knitter& k) { return k.workWithWrap(); }},
        {"gt", [](Knitter& k) { return k.germanTurn(); }},
        {"tink", [](Knitter& k) { return lastOf(k, k.tink()); }},
    };
    return kWords;
}

/// "2/2f", "1/2bx": sets apart the numbers and the rest. False if the word is no crossing.
bool crossing(std::string_view word, int& over, int& under, bool& front, bool& alone) {
    if (word.size() < 4 || word[1] != '/') return false;
    over = word[0] - '0';
    under = word[2] - '0';
    front = word[3] == 'f';
    alone = word.size() > 4 && word[4] == 'x';
    return true;
}

}  // namespace

std::vector<std::string> words() {
    std::vector<std::string> names;
    for (const auto& [name, work] : vocabulary()) names.push_back(name);
    return names;
}

Result<LoopId> workWord(Knitter& k, std::string_view word) {
    int over = 0;
    int under = 0;
    bool front = false;
    bool alone = false;
    if (crossing(word, over, under, front, alone)) {
        return k.whole([&]() -> Result<LoopId> {
            const Result<void> crossed = k.cross(over, under, front);
            if (!crossed) return tl::unexpected<Refusal>(crossed.error());
            Result<LoopId> last = LoopId{};
            for (int i = 0; !alone && i < over + under && last; ++i) last = k.knit();
            return last;
        });
    }
    if (word.substr(0, 2) == "bo")
        return lastOf(k, k.bindOff(word.size() > 2 ? std::stoi(std::string(word.substr(2))) : 1));
    if (word.substr(0, 2) == "co")
        return lastOf(k, k.castOnBackward(word.size() > 2 ? std::stoi(std::string(word.substr(2))) : 1));
    if (const auto it = vocabulary().find(word); it != vocabulary().end()) return it->second(k);
    std::size_t letters = word.size();
    while (letters > 0 && word[letters - 1] >= '0' && word[letters - 1] <= '9') --letters;
    const auto it = vocabulary().find(word.substr(0, letters));
    if (it == vocabulary().end() || letters == word.size()) wrong("no such word: " + std::string(word));
    Result<LoopId> last = LoopId{};
    for (int n = std::stoi(std::string(word.substr(letters))); n > 0 && last; --n) last = it->second(k);
    return last;
}

Swatch::Swatch(int stitches, const Start& start)
    : fabric_(std::make_unique<Fabric>()),
      yarn_(fabric_->addYarn('A', kLoopUm, kStrandUm)),
      knitter_(*fabric_, yarn_, start.round ? start.facing : opposite(start.facing), false, start.habit,
               start.mirrored) {
    castOn(knitter_, stitches, start.begin);
    if (!start.round) {
        knitter_.turn();
    } else if (!knitter_.joinRound(start.twist)) {
        wrong("join");
    }
}

LoopId Swatch::work(std::string_view said) {
    LoopId last;
    while (!said.empty()) {
        const std::size_t end = std::min(said.find(' '), said.size());
        const std::string_view word = said.substr(0, end);
        said.remove_prefix(std::min(end + 1, said.size()));
        if (word.empty()) continue;
        if (word == "*") {
            rest();
        } else if (word == "|") {
            next();
        } else {
            const Result<LoopId> done = workWord(knitter_, word);
            if (!done) wrong(std::string(word) + ": " + sentence(done.error()));
            last = *done;
        }
    }
    return last;
}

void Swatch::rest() {
    while (knitter_.aheadCount() > 0) {
        const Result<LoopId> done = knitter_.facing() == Side::right ? knitter_.knit() : knitter_.purl();
        if (!done) wrong(sentence(done.error()));
    }
}

void Swatch::next() {
    if (!knitter_.inTheRound()) {
        knitter_.turn();
    } else if (const Result<void> ended = knitter_.endRound(); !ended) {
        wrong(sentence(ended.error()));
    }
}

void Swatch::rows(int n) {
    for (int i = 0; i < n; ++i) {
        rest();
        next();
    }
}

Swatch plainSwatch(int stitches, int rows, const Start& start) {
    Swatch swatch(stitches, start);
    swatch.rows(rows);
    return swatch;
}

std::string text(const Fabric& fabric) {
    const Itinerary lines = itinerary(fabric);
    return lines.knot + "\n" + lines.measure;
}

Fabric reloaded(const Fabric& fabric) {
    const Itinerary lines = itinerary(fabric);
    tl::expected<Fabric, TextFault> read = fabricFrom(lines);
    if (!read) wrong(read.error().message + ": " + lines.knot + "\n" + lines.measure);
    return std::move(*read);
}

bool roundTrips(const Fabric& fabric) {
    const Itinerary lines = itinerary(fabric);
    const tl::expected<Fabric, TextFault> read = fabricFrom(lines);
    if (!read) return false;
    const Itinerary again = itinerary(*read);
    return again.knot == lines.knot && again.measure == lines.measure;
}

LoopId sameLoop(const Fabric& fabric, LoopId loop, const Fabric& other) {
    const Numbering here = numbering(fabric);
    const Numbering there = numbering(other);
    for (std::size_t i = 0; i < here.order.size(); ++i) {
        if (here.order[i] == loop) return there.order.at(i);
    }
    return {};
}

YarnId sameYarn(const Fabric& fabric, YarnId yarn, const Fabric& other) {
    const Numbering here = numbering(fabric);
    const Numbering there = numbering(other);
    for (std::size_t i = 0; i < here.yarns.size(); ++i) {
        if (here.yarns[i] == yarn) return there.yarns.at(i);
    }
    return {};
}

std::vector<LoopId> loopsOf(const Fabric& fabric) {
    std::vector<LoopId> loops;
    for (std::int32_t y = 0; y < fabric.yarnCount(); ++y) {
        if (fabric[YarnId{y}].flags.gone != 0) continue;
        for (EntryId e = fabric[YarnId{y}].first; e; e = fabric[e].next) {
            if (fabric.isLoop(e)) loops.push_back(e);
        }
    }
    return loops;
}

std::vector<LoopId> looseLoops(const Fabric& fabric) {
    std::vector<LoopId> loose;
    for (const LoopId loop : loopsOf(fabric)) {
        if (fabric.isLoose(loop) && !fabric.isNothing(loop)) loose.push_back(loop);
    }
    return loose;
}

std::vector<PassId> passesIn(const Fabric& fabric) {
    std::vector<PassId> passes;
    for (std::int32_t y = 0; y < fabric.yarnCount(); ++y) {
        if (fabric[YarnId{y}].flags.gone != 0) continue;
        for (EntryId e = fabric[YarnId{y}].first; e; e = fabric[e].next) {
            if (!fabric.isLoop(e)) passes.push_back(e);
        }
    }
    return passes;
}

LoopId hostOf(const Fabric& fabric, LoopId loop) {
    const std::vector<LoopId> hosts = fabric.hostsRightToLeft(loop);
    return hosts.empty() ? LoopId{} : hosts.front();
}

LoopId below(const Fabric& fabric, LoopId loop, int n) {
    for (; n > 0 && loop; --n) loop = hostOf(fabric, loop);
    return loop;
}

bool standsOn(const Fabric& fabric, LoopId loop, LoopId ancestor) {
    std::vector<LoopId> open{loop};
    std::set<std::int32_t> seen;
    while (!open.empty()) {
        const LoopId at = open.back();
        open.pop_back();
        if (at == ancestor) return true;
        if (!seen.insert(at.value).second) continue;
        for (const LinkId l : fabric.linksOf(at)) open.push_back(fabric[l].host);
    }
    return false;
}

LoopId topOf(const Knitter& knitter, LoopId ancestor) {
    std::vector<LoopId> held = knitter.behind();
    for (const LoopId loop : knitter.ahead()) held.push_back(loop);
    for (const LoopId loop : held) {
        if (standsOn(knitter.fabric(), loop, ancestor)) return loop;
    }
    wrong("nothing on the needle stands there");
}

std::string form(const Fabric& fabric, LoopId loop) {
    std::vector<LinkId> links = fabric.linksOf(loop);
    if (links.empty()) return "o";
    const Side side = fabric[links.front()].form.side;
    std::string kind(side == Side::right ? "k" : "p");
    // The bight ends on the side to which it was drawn.
    if (side == Side::right) std::reverse(links.begin(), links.end());
    std::string twists;
    std::string stack;
    bool twisted = false;
    for (const LinkId l : links) {
        const LinkForm& at = fabric[l].form;
        if (at.side != side) kind = "?";
        twisted = twisted || at.twist != 0;
        twists += (at.twist < 0 ? "" : "+") + std::to_string(at.twist);
        int right = 0;
        for (const LinkId other : links) right += fabric[other].form.place < at.place ? 1 : 0;
        stack += static_cast<char>('a' + right);
    }
    return kind + (twisted ? twists : "") + (links.size() > 1 ? " " + stack : "");
}

char lean(const Fabric& fabric, LoopId loop) {
    const std::string said = form(fabric, loop);
    const std::size_t at = said.find(' ');
    if (at == std::string::npos) return ' ';
    const std::string stack = said.substr(at + 1);
    if (stack.front() == 'a') return '\\';
    return stack.front() == *std::max_element(stack.begin(), stack.end()) ? '/' : '|';
}

void seat(Fabric& fabric, LoopId loop, Mount mount) {
    const HeldId place = fabric.heldOn(loop, fabric.needle());
    const Result<HeldId> held = fabric.hold(loop, fabric.needle(), place, mount);
    if (!held) wrong("seat: " + sentence(held.error()));
}

LoopId hookUp(Fabric& fabric, LoopId foot, Side toward, int twist, int rung) {
    const std::vector<PassId> all = rungs(fabric, foot);
    Hooking hooking;
    hooking.rung = all.at(static_cast<std::size_t>(rung));
    hooking.through = {{foot, static_cast<std::int8_t>(twist), 0}};
    hooking.toward = toward;
    const Result<LoopId> loop = hook(fabric, hooking);
    if (!loop) wrong("hook: " + sentence(loop.error()));
    return *loop;
}

LoopId hookAll(Fabric& fabric, LoopId foot) {
    LoopId top = foot;
    while (!rungs(fabric, top).empty()) top = hookUp(fabric, top);
    seat(fabric, top);
    return top;
}

LoopId hanging(const Fabric& fabric) {
    LoopId found;
    for (HeldId h = fabric[fabric.needle()].first; h; h = fabric[h].next) {
        if (fabric[h].state.hanging == 0) continue;
        if (found) wrong("several loops hang");
        found = fabric[h].loop;
    }
    if (!found) wrong("nothing hangs");
    return found;
}

int cases(int n) {
    if (const char* times = std::getenv("LOOPMEND_CASES")) return n * std::max(1, std::atoi(times));
#if defined(__SANITIZE_ADDRESS__)
    return std::max(1, n / 4);
#else
    return 2 * n;
#endif
}

}  // namespace loopmend
