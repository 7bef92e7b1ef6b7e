// SPDX-License-Identifier: MIT
#include "reading/scripts.h"

#include <algorithm>
#include <cctype>
#include <initializer_list>
#include <stdexcept>

#include <fmt/format.h>

namespace loopmend {

namespace {

const std::vector<std::pair<std::string_view, Op>>& shortNames() {
    static const std::vector<std::pair<std::string_view, Op>> names = {
        {"k", Op::knit},
        {"p", Op::purl},
        {"ktbl", Op::knitTbl},
        {"ptbl", Op::purlTbl},
        {"sl", Op::slipPurlwiseBack},
        {"slf", Op::slipPurlwiseFront},
        {"slk", Op::slipKnitwiseBack},
        {"slkf", Op::slipKnitwiseFront},
        {"yo", Op::yarnOver},
        {"ryo", Op::yarnOverReverse},
        {"k2tog", Op::k2tog},
        {"ssk", Op::ssk},
        {"skp", Op::skp},
        {"k2togtbl", Op::k2togTbl},
        {"p2tog", Op::p2tog},
        {"p2togtbl", Op::p2togTbl},
        {"ssp", Op::ssp},
        {"spp", Op::spp},
        {"k3tog", Op::k3tog},
        {"k3togtbl", Op::k3togTbl},
        {"sssk", Op::sssk},
        {"p3tog", Op::p3tog},
        {"p3togtbl", Op::p3togTbl},
        {"sk2p", Op::sk2p},
        {"sp2p", Op::sp2p},
        {"s2kp", Op::s2kp},
        {"s2pp", Op::s2pp},
        {"s1k2po", Op::slip1k2Over},
        {"k2togpo", Op::k2togOver},
        {"kfb", Op::kfb},
        {"kpk", Op::kpk},
        {"kyok", Op::kyok},
        {"m1l", Op::m1Left},
        {"m1r", Op::m1Right},
        {"m1lp", Op::m1PurlLeft},
        {"m1rp", Op::m1PurlRight},
        {"m1o", Op::m1Open},
        {"co", Op::castOn},
        {"bo", Op::bindOff},
        {"bop", Op::bindOffPurl},
        {"po", Op::passOver},
        {"kb", Op::knitBelow},
        {"pb", Op::purlBelow},
        {"hold", Op::hold},
    };
    return names;
}

bool carriesCount(Op op) {
    return op == Op::yarnOver || op == Op::yarnOverReverse || op == Op::kpk || op == Op::kyok ||
           op == Op::castOn || op == Op::bindOff || op == Op::bindOffPurl || op == Op::hold;
}

Step cable(std::string_view word) {
    Step step;
    step.op = Op::cable;
    step.over = static_cast<std::int16_t>(word[1] - '0');
    step.under = static_cast<std::int16_t>(word[3] - '0');
    step.front = word[4] == 'f';
    const std::string_view rest = word.substr(5);
    step.purlUnder = rest.find('u') != std::string_view::npos;
    step.purlOver = rest.find('o') != std::string_view::npos;
    return step;
}

}  // namespace

std::vector<Step> steps(std::string_view text) {
    std::vector<Step> out;
    std::size_t i = 0;
    while (i < text.size()) {
        if (text[i] == ' ') {
            ++i;
            continue;
        }
        const std::size_t end = std::min(text.find(' ', i), text.size());
        const std::string_view word = text.substr(i, end - i);
        i = end;
        if (word.size() >= 5 && word[0] == 'c' && word[2] == '/') {
            out.push_back(cable(word));
            continue;
        }
        const std::pair<std::string_view, Op>* best = nullptr;
        for (const auto& name : shortNames()) {
            if (word.substr(0, name.first.size()) != name.first) continue;
            if (best != nullptr && best->first.size() > name.first.size()) continue;
            const std::string_view rest = word.substr(name.first.size());
            if (std::all_of(rest.begin(), rest.end(), [](char c) { return c >= '0' && c <= '9'; }))
                best = &name;
        }
        if (best == nullptr) throw std::invalid_argument(std::string(word));
        const std::string_view digits = word.substr(best->first.size());
        const int n = digits.empty() ? 1 : std::stoi(std::string(digits));
        Step step;
        step.op = best->second;
        if (carriesCount(step.op)) {
            step.count = static_cast<std::int16_t>(n);
            out.push_back(step);
        } else {
            out.insert(out.end(), static_cast<std::size_t>(n), step);
        }
    }
    return out;
}

Script scriptFrom(int castOn, const std::vector<std::string>& rows, bool round, Facing first) {
    Script script;
    script.castOn = castOn;
    script.round = round;
    for (const std::string& text : rows) {
        WorkedRow row;
        row.number = row.printed = static_cast<int>(script.rows.size()) + 1;
        row.round = round;
        row.facing = round || (script.rows.size() % 2 == 0) == (first == Facing::right) ? Facing::right
                                                                                        : Facing::wrong;
        row.steps = steps(text);
        script.rows.push_back(row);
    }
    return script;
}

std::string textOf(const std::vector<Step>& all) {
    std::string text;
    for (std::size_t i = 0; i < all.size(); ++i) {
        const Step& step = all[i];
        if (!text.empty()) text += ' ';
        if (step.op == Op::cable) {
            text += fmt::format("c{}/{}{}{}{}", step.over, step.under, step.front ? 'f' : 'b',
                                step.purlUnder ? "u" : "", step.purlOver ? "o" : "");
            continue;
        }
        const auto name = std::find_if(shortNames().begin(), shortNames().end(),
                                       [&](const auto& n) { return n.second == step.op; });
        text += name->first;
        std::size_t n = 1;
        if (carriesCount(step.op)) {
            n = static_cast<std::size_t>(step.count);
        } else {
            while (i + 1 < all.size() && all[i + 1] == step) {
                ++n;
                ++i;
            }
        }
        if (n > 1) text += fmt::format("{}", n);
    }
    return text;
}

std::string textOf(const Script& script) {
    std::string text = fmt::format("cast on {}{}\n", script.castOn, script.round ? ", round" : "");
    for (const WorkedRow& row : script.rows) {
        text += fmt::format("{} {}: {}\n", row.number, row.facing == Facing::right ? "rs" : "ws",
                            textOf(row.steps));
    }
    return text;
}

namespace {

// The operations of a draw; plain ones weigh more.
std::vector<Op> opsOf(const Draw& draw) {
    std::vector<Op> ops(8, Op::knit);
    ops.insert(ops.end(), 6, Op::purl);
    const auto more = [&](bool wanted, std::initializer_list<Op> some) {
        if (wanted) ops.insert(ops.end(), some);
    };
    more(true, {Op::yarnOver, Op::yarnOver, Op::k2tog,       Op::ssk,         Op::p2tog,
                Op::ssp,      Op::k3tog,    Op::sssk,        Op::p3tog,       Op::sk2p,
                Op::s2kp,     Op::s2pp,     Op::slip1k2Over, Op::kpk,         Op::kyok,
                Op::m1Left,   Op::m1Right,  Op::m1PurlLeft,  Op::m1PurlRight, Op::m1Open});
    more(draw.twins, {Op::skp, Op::spp, Op::sp2p});
    more(draw.twists, {Op::knitTbl, Op::purlTbl, Op::k2togTbl, Op::p2togTbl, Op::k3togTbl, Op::p3togTbl,
                       Op::kfb, Op::kfb});
    more(draw.slips, {Op::slipPurlwiseBack, Op::slipPurlwiseFront});
    more(draw.turns, {Op::slipKnitwiseBack, Op::slipKnitwiseFront, Op::yarnOverReverse});
    more(draw.edges, {Op::castOn, Op::bindOff, Op::bindOffPurl, Op::passOver, Op::k2togOver, Op::hold});
    more(draw.cables, {Op::cable, Op::cable});
    more(draw.below, {Op::knitBelow, Op::purlBelow});
    return ops;
}

Step anyStep(const std::vector<Op>& ops) {
    Step step;
    step.op = *rc::gen::elementOf(ops);
    const auto upTo = [](int most) { return static_cast<std::int16_t>(*rc::gen::inRange(1, most + 1)); };
    switch (step.op) {
        case Op::yarnOver:
        case Op::castOn:
        case Op::bindOff:
        case Op::bindOffPurl:
        case Op::hold: step.count = upTo(2); break;
        case Op::kpk: step.count = *rc::gen::element<std::int16_t>(1, 2, 4, 5); break;
        case Op::kyok: step.count = *rc::gen::element<std::int16_t>(1, 5); break;
        case Op::cable:
            step.over = upTo(3);
            step.under = upTo(3);
            step.front = *rc::gen::arbitrary<bool>();
            step.purlOver = *rc::gen::inRange(0, 4) == 0;
            step.purlUnder = *rc::gen::inRange(0, 4) == 0;
            break;
        default: break;
    }
    return step;
}

// What the hands could do, but nobody could name from the knot, or what needs a neighbour to be something.
bool sensible(const Knitter& k, const std::vector<Step>& row, const Step& step) {
    const Fabric& f = k.fabric();
    const Op last = row.empty() ? Op::purl : row.back().op;
    const std::vector<LoopId> behind = k.behind();
    const std::size_t n = behind.size();
    if (step.op == Op::passOver) {
        if (last == Op::cable || last == Op::slip1k2Over || last == Op::castOn || last == Op::hold)
            return false;
        return n > 1 && k.inThisRow(behind[n - 1]) && k.inThisRow(behind[n - 2]) &&
               f[behind[n - 1]].prev == behind[n - 2];
    }
    if (step.op >= Op::m1Left && step.op <= Op::m1Open) {
        // A bar lies between two stitches of the row below, and not in the chain of a bind-off.
        const LoopId next = k.ahead().front();
        const EntryId from = f.run(next) != k.run() ? EntryId{next} : f[next].prev;
        const EntryId to = from ? f[from].next : EntryId{};
        if (!k.inTheRound() && behind.empty()) return false;
        if (!k.inTheRound() && from && to && f.run(from) != f.run(to)) return false;
        if (!from || !to || k.inThisRow(from) || k.inThisRow(to)) return false;
        for (LinkId l = f.isLoop(to) ? f[to].firstLink : LinkId{}; l; l = f[l].nextInLoop)
            if (f[l].host == from) return false;
        return true;
    }
    if (step.op == Op::k2togOver) return n > 0 && k.inThisRow(behind.back());
    if (step.op == Op::hold) return last != Op::passOver;
    if (step.op == Op::knitBelow || step.op == Op::purlBelow) {
        const LoopId top = k.ahead().front();
        const LinkId link = f[top].firstLink;
        return link && f[top].prev != f[link].host && f[f[link].host].firstLink &&
               f[f[f[link].host].firstLink].host && !f[f[link].host].crossing && !f[top].crossing &&
               f[top].flags.anchored == 0;
    }
    return true;
}

void addRow(Knitting& knitting, Script& script, const std::vector<Op>& ops) {
    Knitter& k = knitting.knitter;
    WorkedRow row;
    row.number = row.printed = static_cast<int>(script.rows.size()) + 1;
    row.round = script.round;
    row.facing = k.facing() == Side::right ? Facing::right : Facing::wrong;
    RowWork work(k);
    const auto add = [&](const Step& step) {
        if (!work.work(step)) return false;
        row.steps.push_back(step);
        return true;
    };
    int spare = k.aheadCount() - 4;  // so that something is always left
    while (k.aheadCount() > 0) {
        const Step step = anyStep(ops);
        const int lost = uses(step) - makes(step);
        const bool binds = step.op == Op::bindOff || step.op == Op::bindOffPurl;
        if (uses(step) + (binds ? 2 : 0) > k.aheadCount() || lost > spare || !sensible(k, row.steps, step) ||
            (lost < 0 && k.aheadCount() + static_cast<int>(k.behind().size()) > 24)) {
            add(steps("k").front());
            continue;
        }
        if (!add(step)) continue;
        spare -= lost;
        if (binds) add(steps(step.op == Op::bindOff ? "k" : "p").front());  // the loop left
    }
    script.rows.push_back(row);
    endRow(k);
}

}  // namespace

rc::Gen<Case> anyCase(Draw draw, Setup setup) {
    return rc::gen::noShrink(rc::gen::exec([=] {
        Case c;
        c.setup = setup;
        if (*rc::gen::arbitrary<bool>()) c.setup.castOn = CastOn::backward;
        c.script.castOn = *rc::gen::inRange(6, 14);
        c.script.round = *rc::gen::inRange(0, 3) == 0;
        const bool wrongFirst = !c.script.round && *rc::gen::arbitrary<bool>();
        Script begun = c.script;
        begun.rows.push_back({});
        begun.rows.front().facing = wrongFirst ? Facing::wrong : Facing::right;
        Knitting knitting = castOn(begun, c.setup);
        const int rows = *rc::gen::inRange(1, 7);
        const std::vector<Op> ops = opsOf(draw);
        for (int r = 0; r < rows; ++r) addRow(knitting, c.script, ops);
        return c;
    }));
}

std::ostream& operator<<(std::ostream& out, const Case& c) {
    return out << textOf(c.script) << (c.setup.castOn == CastOn::backward ? "backward loops" : "long-tail");
}

Fabric reloaded(const Fabric& fabric) {
    auto again = fabricFrom(itinerary(fabric));
    if (!again) throw std::runtime_error(again.error().message);
    return std::move(*again);
}

}  // namespace loopmend
