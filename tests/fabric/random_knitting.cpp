// SPDX-License-Identifier: MIT
#include "random_knitting.h"

#include <algorithm>

namespace loopmend {

int Dice::below(int n) {
    if (n <= 1) return 0;
    if (listed_) {
        const std::uint16_t thrown = next_ < throws_.size() ? throws_[next_++] : std::uint16_t{1};
        return static_cast<int>(thrown) % n;
    }
    state_ ^= state_ << 13U;
    state_ ^= state_ >> 7U;
    state_ ^= state_ << 17U;
    return static_cast<int>((state_ >> 11U) % static_cast<std::uint64_t>(n));
}

namespace {

const std::vector<std::string>& anyWord() {
    static const std::vector<std::string> kWords = {
        "k",    "p",     "k",     "p",      "k",      "p",        "ktbl",     "ptbl", "kfront", "sl",
        "slf",  "slk",   "slb",   "yo",     "ryo",    "k2tog",    "p2tog",    "ssk",  "ssp",    "skp",
        "spp",  "skppw", "k3tog", "p3tog",  "sssk",   "k2togtbl", "p2togtbl", "sk2p", "sp2p",   "s2kp",
        "s2pp", "kfb",   "kpk",   "kyok",   "pfb",    "pkp",      "pyop",     "m1l",  "m1r",    "m1lp",
        "m1o",  "rli",   "lli",   "kbelow", "pbelow", "1/1f",     "1/1bx",    "2/1f", "2/2bx",  "sk2o",
        "bo2",  "co2",   "wwrap", "wt",     "gt",     "psso"};
    return kWords;
}

bool narrows(const std::string& word) {
    static const std::vector<std::string> kWords = {
        "k2tog",    "p2tog",    "ssk",  "ssp",  "skp",  "spp",  "skppw", "k3tog", "p3tog", "sssk",
        "k2togtbl", "p2togtbl", "sk2p", "sp2p", "s2kp", "s2pp", "sk2o",  "bo2",   "psso"};
    return std::find(kWords.begin(), kWords.end(), word) != kWords.end();
}

bool widens(const std::string& word) {
    static const std::vector<std::string> kWords = {"yo",  "ryo",  "kfb", "kpk", "kyok", "m1l",
                                                    "m1r", "m1lp", "m1o", "rli", "lli",  "co2"};
    return std::find(kWords.begin(), kWords.end(), word) != kWords.end();
}

std::vector<EntryId> entriesOf(const Fabric& f) {
    std::vector<EntryId> entries;
    for (std::int32_t y = 0; y < f.yarnCount(); ++y) {
        if (f[YarnId{y}].flags.gone != 0) continue;
        for (EntryId e = f[YarnId{y}].first; e; e = f[e].next) entries.push_back(e);
    }
    return entries;
}

std::vector<LoopId> liveLoops(const Fabric& f) {
    std::vector<LoopId> live;
    for (const LoopId loop : loopsOf(f)) {
        if (f.isLive(loop)) live.push_back(loop);
    }
    return live;
}

std::vector<YarnId> yarnsOf(const Fabric& f, bool ball) {
    std::vector<YarnId> yarns;
    for (std::int32_t y = 0; y < f.yarnCount(); ++y) {
        const YarnFlags flags = f[YarnId{y}].flags;
        if (flags.gone == 0 && (flags.ball != 0) == ball) yarns.push_back(YarnId{y});
    }
    return yarns;
}

LinkForm anyForm(Dice& dice) {
    LinkForm form;
    form.side = dice.chance(50) ? Side::right : Side::wrong;
    form.twist = static_cast<std::int8_t>(dice.chance(60) ? 0 : dice.below(5) - 2);
    form.part = static_cast<Part>(dice.chance(70) ? 0 : dice.below(4));
    form.plies = static_cast<Plies>(dice.chance(80) ? 0 : dice.below(3));
    form.place = static_cast<std::int8_t>(dice.below(7) - 3);
    return form;
}

Run anyRun(Dice& dice) {
    return dice.chance(50) ? Run::leftward : Run::rightward;
}
Side anySide(Dice& dice) {
    return dice.chance(50) ? Side::right : Side::wrong;
}

}  // namespace

Swatch randomSwatch(Dice& dice, int rows, int stitches) {
    Start start;
    start.begin = static_cast<Begin>(dice.below(3));
    start.habit = static_cast<Habit>(dice.below(3));
    start.mirrored = dice.chance(30);
    start.round = dice.chance(30);
    start.twist = dice.chance(70) ? 0 : 2;
    Swatch swatch(stitches, start);
    const bool twoYarns = dice.chance(30);
    for (int r = 0; r < rows; ++r) {
        if (twoYarns && r == 0) (void)swatch.fabric().addYarn('B', kLoopUm, kStrandUm);
        randomRow(swatch, dice);
        swatch.next();
    }
    return swatch;
}

void randomRow(Swatch& swatch, Dice& dice) {
    Knitter& k = swatch.knitter();
    for (int tries = 0; tries < 200 && k.aheadCount() > 0; ++tries) {
        const std::string& word = dice.pick(anyWord());
        const auto width = static_cast<int>(k.ahead().size() + k.behind().size());
        if (narrows(word) && width < 6) continue;
        if (widens(word) && width > 14) continue;
        if ((word == "wt" || word == "gt") && (k.inTheRound() || dice.chance(80))) continue;
        if (word == "bo2" && dice.chance(70)) continue;
        if (dice.chance(2) && width > 7 && k.aheadCount() > 2) (void)k.leaveOnHolder(1);
        if (swatch.fabric().yarnCount() > 1 && dice.chance(30)) {
            const std::vector<YarnId> yarns = yarnsOf(swatch.fabric(), true);
            k.takeYarn(dice.pick(yarns), anySide(dice));
        }
        if (dice.chance(1)) {
            const LoopId edge = dice.pick(loopsOf(swatch.fabric()));
            auto part = static_cast<Part>(1 + dice.below(3));
            if (k.mirrored() && part != Part::bothLegs)  // her right leg
                part = part == Part::rightLeg ? Part::leftLeg : Part::rightLeg;
            if (!swatch.fabric().isLive(edge)) (void)k.pickUp(edge, part, anySide(dice));
        }
        (void)workWord(k, word);
    }
    swatch.rest();
}

void randomPlainRow(Swatch& swatch, Dice& dice, bool decreases) {
    static const std::vector<std::string> kSingle = {"k", "p", "k", "p", "ktbl", "ptbl"};
    static const std::vector<std::string> kNarrow = {"k2tog", "ssk",      "skp",      "p2tog", "ssp",
                                                     "spp",   "k2togtbl", "p2togtbl", "k3tog", "sssk",
                                                     "sk2p",  "s2kp",     "s2pp",     "p3tog", "sp2p"};
    Knitter& k = swatch.knitter();
    while (k.aheadCount() > 0) {
        const auto width = static_cast<int>(k.ahead().size() + k.behind().size());
        const bool narrow = decreases && width > 6 && dice.chance(25);
        (void)workWord(k, dice.pick(narrow ? kNarrow : kSingle));
    }
}

bool randomHandMove(Swatch& swatch, Dice& dice) {
    Fabric& f = swatch.fabric();
    Knitter& k = swatch.knitter();
    switch (dice.below(7)) {
        case 0: {
            std::vector<LoopId> held = k.ahead();
            for (const LoopId loop : k.behind()) held.push_back(loop);
            return !held.empty() && k.drop(dice.pick(held)).has_value();
        }
        case 1: return letRun(f, 1 + dice.below(8)) > 0;
        case 2: return k.tink().has_value();
        case 3: {
            std::vector<LoopId> open;
            for (const LoopId loop : loopsOf(f)) {
                if (f.isOpen(loop) && !f.passesOf(loop).empty()) open.push_back(loop);
            }
            if (open.empty()) return false;
            Hooking hooking;
            const LoopId foot = dice.pick(open);
            hooking.rung = dice.pick(rungs(f, foot));
            hooking.through.push_back({foot, static_cast<std::int8_t>(dice.below(3) - 1), 0});
            const LoopId other = dice.pick(open);
            if (other != foot && dice.chance(40)) hooking.through.push_back({other, 0, 1});
            hooking.toward = anySide(dice);
            if (dice.chance(50)) hooking.skipped = anySide(dice);
            return hook(f, hooking).has_value();
        }
        case 4: {
            const std::vector<LoopId> loose = looseLoops(f);
            if (loose.empty()) return false;
            const LoopId loop = dice.pick(loose);
            if (f.heldOn(loop, f.needle()) && dice.chance(60)) {
                seat(f, loop, dice.chance(50) ? Mount::western : Mount::eastern);
                return true;
            }
            const ToolId pin = f.addTool(dice.chance(50) ? ToolKind::pin : ToolKind::hook);
            return f.hold(loop, pin, HeldId{}, Mount::western).has_value();
        }
        case 5: {
            const LoopId loop = dice.pick(loopsOf(f));
            return undo(f, loop).has_value();
        }
        default: {
            if (k.aheadCount() == 0) return false;
            return workWord(k, dice.chance(50) ? "k" : "sl").has_value();
        }
    }
}

bool randomPrimitive(Fabric& f, Dice& dice) {
    const std::vector<EntryId> entries = entriesOf(f);
    const std::vector<LoopId> loops = loopsOf(f);
    const std::vector<LoopId> live = liveLoops(f);
    if (loops.empty() || live.empty()) return false;
    const LoopId loop = dice.pick(loops);
    const LoopId open = dice.pick(live);
    const EntryId entry = dice.pick(entries);
    const YarnId yarn = f[entry].yarn;
    const std::vector<PassId> passes = passesIn(f);
    const ToolId tool{dice.below(f.toolCount())};
    const HeldId heldHere = f.heldOn(loop, tool);
    switch (dice.below(24)) {
        case 0: {
            const std::vector<YarnId> balls = yarnsOf(f, true);
            if (balls.empty()) return false;
            return f
                .liftFromBall(dice.pick(balls), anyRun(dice), 7000, 1500,
                              dice.chance(70) ? End::last : End::first)
                .has_value();
        }
        case 1:
        case 2: return f.liftInStrand(yarn, entry, anyRun(dice), dice.below(1500)).has_value();
        case 3: return f.sink(open).has_value();
        case 4:
        case 5: return f.pull(open, loop, anyForm(dice), dice.below(3) - 1).has_value();
        case 6: return f.unpull(open).has_value();
        case 7: {
            const HeldId before = dice.chance(50) ? f[tool].first : HeldId{};
            return f
                .hold(dice.chance(80) ? open : loop, tool, before,
                      dice.chance(50) ? Mount::western : Mount::eastern,
                      static_cast<std::int8_t>(dice.chance(80) ? 0 : dice.below(5) - 2))
                .has_value();
        }
        case 8: return f.letGo(loop, tool, dice.chance(50)).has_value();
        case 9:
            if (!heldHere) return false;
            if (f[heldHere].state.hanging != 0) {
                f.forgetPlace(heldHere);
            } else {
                f.setMount(heldHere, dice.chance(50) ? Mount::western : Mount::eastern, 1);
            }
            return true;
        case 10:
            if (f[open].held) return false;
            (void)f.hang(open, f.needle(), dice.chance(50) ? f[f.needle()].first : HeldId{});
            return true;
        case 11: {
            const HeldId on = f.heldOn(loop, f.needle());
            if (!on) return false;
            f.setTip(dice.chance(80) ? on : HeldId{});
            return true;
        }
        case 12: {
            const HeldId right = f.heldOn(loop, f.needle());
            if (!right || !f[right].next) return false;
            const LoopId left = f[f[right].next].loop;
            return f.cross(loop, left, dice.chance(50) ? loop : left).has_value();
        }
        case 13: {
            const LoopId other = dice.pick(loops);
            return f.cross(loop, other, dice.chance(50) ? loop : other).has_value();
        }
        case 14: return f.cut(entry).has_value();
        case 15: {
            const std::vector<YarnId> cut = yarnsOf(f, false);
            if (cut.empty()) return false;
            return f.join(dice.pick(cut), yarn, dice.chance(50) ? End::first : End::last).has_value();
        }
        case 16: {
            std::vector<YarnId> cut = yarnsOf(f, false);
            if (cut.empty()) {
                const YarnId sewing = f.addYarn('S', 8000, 1000);
                f.setBall(sewing, false);
                cut.push_back(sewing);
            }
            std::vector<Fabric::Through> through;
            std::vector<Fabric::Under> under;
            for (int n = dice.below(3); n > 0; --n)
                through.push_back({dice.pick(loops), anyForm(dice), dice.below(3) - 1});
            if (dice.chance(40)) under.push_back({dice.pick(loops), anyForm(dice), dice.below(2)});
            return f.thread(dice.pick(cut), anyRun(dice), 7000, through, under).has_value();
        }
        case 17: return dice.chance(50) && f.unthread(loop).has_value();
        case 18: return f.ease(loop, dice.pick(loops), dice.below(3000)).has_value();
        case 19:
        case 20: {
            const std::vector<PassId> there = f.passesOf(loop);
            const PassId above = there.empty() || dice.chance(50) ? PassId{} : dice.pick(there);
            return f.lay(yarn, entry, loop, anySide(dice), anyRun(dice), above).has_value();
        }
        case 21:
            if (passes.empty()) return false;
            if (dice.chance(50)) return f.unlay(dice.pick(passes)).has_value();
            f.setPassSide(dice.pick(passes), anySide(dice));
            return true;
        case 22: {
            const LoopId other = dice.pick(loops);
            if (other == loop) return false;
            const std::vector<PassId> there = f.passesOf(loop);
            if (there.empty() || dice.chance(50)) {
                f.handStrandsOn(loop, other);
            } else {
                f.handStrandsOnFrom(loop, dice.pick(there), other);
            }
            return true;
        }
        default:
            switch (dice.below(4)) {
                case 0: f.setAnchored(loop, dice.chance(50)); return true;
                case 1:
                    if (f.joinCount() > 4) return false;
                    f.addJoin(loop, dice.below(3) - 1);
                    return true;
                case 2: f.handJoinsTo(loop, dice.pick(loops)); return true;
                default: f.setRowEnds(entry, dice.chance(50)); return true;
            }
    }
}

void randomTwoColourRow(Swatch& swatch, YarnId other, Dice& dice) {
    Knitter& k = swatch.knitter();
    while (k.aheadCount() > 0) {
        k.takeYarn(dice.chance(60) ? swatch.yarn() : other, Side::wrong);
        (void)workWord(k, dice.chance(70) == (k.facing() == Side::right) ? "k" : "p");
    }
}

}  // namespace loopmend
