// SPDX-License-Identifier: MIT
#include "reading/scripts.h"

#include <algorithm>
#include <cctype>
#include <initializer_list>
#include <stdexcept>

#include <fmt/format.h>

#include "fabric/floats.h"
#include "fabric/rows.h"
#include "pattern/sign.h"
#include "reading/courses.h"

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
        {"pfb", Op::pfb},
        {"pkp", Op::pkp},
        {"pyop", Op::pyop},
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
        {"kw", Op::knitWraps},
        {"pw", Op::purlWraps},
        {"fall", Op::letFall},
        {"rli", Op::liftedRight},
        {"lli", Op::liftedLeft},
        {"rlip", Op::liftedRightPurl},
        {"llip", Op::liftedLeftPurl},
        {"turn", Op::turn},
        {"wt", Op::wrapTurn},
        {"ds", Op::doubled},
        {"kds", Op::knitDoubled},
        {"pds", Op::purlDoubled},
        {"kwrap", Op::knitWithWrap},
        {"pwrap", Op::purlWithWrap},
        {"pu", Op::pickUp},
        {"puc", Op::pickUp},
        {"pub", Op::pickUp},
        {"cor", Op::castOnRight},
        {"cok", Op::castOnKnitted},
        {"bot", Op::bindOffTogether},
        {"kfl", Op::knitWithFloat},
        {"pfl", Op::purlWithFloat},
    };
    return names;
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
    step.tblUnder = rest.find('v') != std::string_view::npos;
    step.tblOver = rest.find('t') != std::string_view::npos;
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
        std::string_view word = text.substr(i, end - i);
        i = end;
        std::uint8_t yarn = 0;
        bool link = false;
        if (word.size() > 2 && (word[1] == ':' || word[1] == '&')) {
            yarn = static_cast<std::uint8_t>(word[0] - '0');
            link = word[1] == '&';
            word.remove_prefix(2);
        }
        Edge edge = Edge::side;
        if (word.substr(0, 3) == "puc" || word.substr(0, 3) == "pub") {
            edge = word[2] == 'c' ? Edge::castOn : Edge::boundOff;
        }
        if (word.size() >= 5 && word[0] == 'c' && word[2] == '/') {
            out.push_back(cable(word));
            out.back().yarn = yarn;
            out.back().link = link;
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
        step.yarn = yarn;
        step.edge = edge;
        step.link = link;
        if (hasCount(step.op)) {
            step.count = static_cast<std::int16_t>(n);
            out.push_back(step);
        } else {
            out.push_back(step);
            step.link = false;
            out.insert(out.end(), static_cast<std::size_t>(n) - 1, step);
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
        if (step.yarn > 0 || step.link) text += fmt::format("{}{}", step.yarn, step.link ? '&' : ':');
        if (step.op == Op::cable) {
            text += fmt::format("c{}/{}{}{}{}{}{}", step.over, step.under, step.front ? 'f' : 'b',
                                step.purlUnder ? "u" : "", step.purlOver ? "o" : "", step.tblUnder ? "v" : "",
                                step.tblOver ? "t" : "");
            continue;
        }
        const auto name = std::find_if(shortNames().begin(), shortNames().end(),
                                       [&](const auto& n) { return n.second == step.op; });
        text += name->first;
        if (step.op == Op::pickUp)
            text += step.edge == Edge::side ? "" : step.edge == Edge::castOn ? "c" : "b";
        std::size_t n = 1;
        if (hasCount(step.op)) {
            n = static_cast<std::size_t>(step.count);
        } else {
            Step same = step;
            same.link = false;
            while (i + 1 < all.size() && all[i + 1] == same) {
                ++n;
                ++i;
            }
        }
        if (n > 1) text += fmt::format("{}", n);
    }
    return text;
}

std::string textOf(const Script& script) {
    std::string text = fmt::format("cast on {}{}{}\n", script.castOn, script.round ? ", round" : "",
                                   script.twist != 0 ? fmt::format(", twist {}", script.twist) : "");
    if (script.yarns != "A") text += fmt::format("yarns {}\n", script.yarns);
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
    more(draw.made, {Op::m1Left, Op::m1Right, Op::m1PurlLeft, Op::m1PurlRight, Op::m1Open});
    more(draw.lifted, {Op::liftedRight, Op::liftedLeft, Op::liftedRightPurl, Op::liftedLeftPurl});
    more(draw.wraps, {Op::knitWraps, Op::purlWraps, Op::knitWraps});
    more(draw.knittedOn, {Op::castOnKnitted, Op::castOnRight});
    more(true,
         {Op::yarnOver, Op::yarnOver, Op::k2tog, Op::ssk, Op::p2tog, Op::ssp, Op::k3tog, Op::sssk, Op::p3tog,
          Op::sk2p, Op::s2kp, Op::s2pp, Op::slip1k2Over, Op::kpk, Op::kyok, Op::pkp, Op::pyop});
    more(draw.twins, {Op::skp, Op::spp, Op::sp2p});
    more(draw.twists, {Op::knitTbl, Op::purlTbl, Op::k2togTbl, Op::p2togTbl, Op::k3togTbl, Op::p3togTbl,
                       Op::kfb, Op::kfb, Op::pfb});
    more(draw.slips, {Op::slipPurlwiseBack, Op::slipPurlwiseFront});
    more(draw.turns, {Op::slipKnitwiseBack, Op::slipKnitwiseFront, Op::yarnOverReverse});
    more(draw.edges, {Op::castOn, Op::bindOff, Op::bindOffPurl, Op::passOver, Op::k2togOver, Op::hold});
    more(draw.cables, {Op::cable, Op::cable});
    more(draw.below, {Op::knitBelow, Op::purlBelow});
    return ops;
}

Step anyStep(const std::vector<Op>& ops, bool twists) {
    Step step;
    step.op = *rc::gen::elementOf(ops);
    const auto upTo = [](int most) { return static_cast<std::int16_t>(*rc::gen::inRange(1, most + 1)); };
    switch (step.op) {
        case Op::yarnOver:
        case Op::castOn:
        case Op::castOnRight:
        case Op::castOnKnitted:
        case Op::bindOff:
        case Op::bindOffPurl:
        case Op::hold: step.count = upTo(2); break;
        case Op::knitWraps:
        case Op::purlWraps: step.count = static_cast<std::int16_t>(1 + upTo(2)); break;
        case Op::kpk:
        case Op::pkp: step.count = *rc::gen::element<std::int16_t>(1, 2, 4, 5); break;
        case Op::kyok:
        case Op::pyop: step.count = *rc::gen::element<std::int16_t>(1, 5); break;
        case Op::kfb:
        case Op::pfb: step.count = *rc::gen::element<std::int16_t>(1, 3, 4); break;
        case Op::cable:
            step.over = upTo(3);
            step.under = upTo(3);
            step.front = *rc::gen::arbitrary<bool>();
            step.purlOver = *rc::gen::inRange(0, 4) == 0;
            step.purlUnder = *rc::gen::inRange(0, 4) == 0;
            step.tblOver = twists && *rc::gen::inRange(0, 4) == 0;
            step.tblUnder = twists && *rc::gen::inRange(0, 4) == 0;
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
    const bool lifts = step.op == Op::liftedRight || step.op == Op::liftedRightPurl;
    if (lifts || step.op == Op::liftedLeft || step.op == Op::liftedLeftPurl) {
        // Out of the stitch under the next one, or two under the last one, which are plain stitches.
        LoopId stitch = k.ahead().front();
        if (!lifts) {
            if (n == 0 || !k.inThisRow(behind.back()) || !f[behind.back()].firstLink) return false;
            stitch = f[f[behind.back()].firstLink].host;
            const bool plain = last == Op::knit || last == Op::purl || last == Op::k2tog || last == Op::ssk;
            if (!plain) return false;
        }
        const LinkId link = f[stitch].firstLink;
        // Between two stitches out of one it is said to be lifted to the right (reading/script.h).
        const LinkId next = f[k.ahead().front()].firstLink;
        if (!lifts && link && next && f[next].host == f[link].host) return false;
        return link && !k.inThisRow(stitch) && !f[link].nextInLoop && f[f[link].host].firstLink &&
               f[stitch].prev != f[link].host;
    }
    if (row.empty() ? false : row.back().op == Op::liftedRight || row.back().op == Op::liftedRightPurl)
        return uses(step) > 0 && step.op != Op::cable;
    if (step.op == Op::castOnKnitted)
        return last != Op::castOn && last != Op::castOnRight && last != Op::passOver && last != Op::hold &&
               last != Op::bindOff && last != Op::bindOffPurl;
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

/// Strands of other yarns lie across the next stitch, all of its own row: not where it stands on a stitch
/// that was slipped in a row below.
bool hasFloat(const Knitter& k) {
    const LoopId next = k.ahead().front();
    const Rows rows = rowsOf(k.fabric());
    bool any = false;
    for (const std::vector<PassId>& strand : floatsAcross(k.fabric(), next)) {
        any = true;
        if (rows[strand.front()] != rows[next]) return false;
    }
    return any;
}

/// What the rows so far leave for the next ones.
struct Waiting {
    bool turned = false;  // in mid-row, by a plain turn
    int doubled = 0;      // stitches
    bool wrapped = false;
};

void addRow(Knitting& knitting, Script& script, const Draw& draw, Waiting& waiting) {
    Knitter& k = knitting.knitter;
    const std::vector<Op> ops = opsOf(draw);
    WorkedRow row;
    row.number = row.printed = static_cast<int>(script.rows.size()) + 1;
    row.round = script.round;
    row.facing = k.facing() == Side::right ? Facing::right : Facing::wrong;
    RowWork work(k);
    std::uint8_t yarn = 0;
    if (draw.yarns)
        yarn = static_cast<std::uint8_t>(*rc::gen::inRange<int>(0, static_cast<int>(script.yarns.size())));
    std::vector<bool> used(script.yarns.size(), false);
    const auto add = [&](Step step) {
        step.yarn = yarn;
        const bool other = !row.steps.empty() && row.steps.back().yarn != yarn;
        const auto anyUsed = [&] { return std::any_of(used.begin(), used.end(), [](bool u) { return u; }); };
        step.link = other && !script.round && !used[yarn] && anyUsed() && *rc::gen::arbitrary<bool>();
        if (!work.work(step)) return false;
        used[yarn] = true;
        row.steps.push_back(step);
        return true;
    };
    const auto plain = [] { return steps(*rc::gen::arbitrary<bool>() ? "k" : "p").front(); };
    int spare = k.aheadCount() - 4;  // so that something is always left
    int worked = 0;
    const bool mayDouble = waiting.turned || (draw.shortRows && !script.round && !script.rows.empty());
    if (mayDouble && k.aheadCount() > 2 && *rc::gen::arbitrary<bool>() && add(steps("ds").front())) {
        ++waiting.doubled;
        worked = -1;
    }
    waiting.turned = false;
    bool turns = false;
    const bool falls = *rc::gen::arbitrary<bool>();
    const auto takesTurns = [&](int n) {
        const std::vector<LoopId> ahead = k.ahead();
        return std::any_of(ahead.begin(), ahead.begin() + std::min<std::ptrdiff_t>(n, k.aheadCount()),
                           [&](LoopId loop) { return isFurtherTurn(k.fabric(), loop); });
    };
    while (k.aheadCount() > 0) {
        ++worked;
        if (draw.shortRows) {
            const bool last = k.aheadCount() == 1;  // only flat, and only to lead the yarn round it
            if (worked > 2 && !(last && script.round) && uses(row.steps.back()) > 0 &&
                *rc::gen::inRange(0, 6) == 0) {
                const bool wraps = last || *rc::gen::arbitrary<bool>();
                if (add(steps(wraps ? "wt" : "turn").front())) {
                    turns = true;
                    waiting.turned = !wraps;
                    waiting.wrapped = waiting.wrapped || wraps;
                    break;
                }
            }
            const bool purl = *rc::gen::arbitrary<bool>();
            if (waiting.doubled > 0) {
                if (add(steps(purl ? "pds" : "kds").front())) {
                    --waiting.doubled;
                } else {
                    add(plain());
                }
                continue;
            }
            if (waiting.wrapped && *rc::gen::arbitrary<bool>() &&
                add(steps(purl ? "pwrap" : "kwrap").front()))
                continue;
        }
        if (draw.wraps && isFurtherTurn(k.fabric(), k.ahead().front())) {
            if (falls && add(steps("fall").front())) {
                --spare;
            } else {
                add(plain());
            }
            continue;
        }
        if (draw.yarns && *rc::gen::inRange(0, 4) == 0)
            yarn =
                static_cast<std::uint8_t>(*rc::gen::inRange<int>(0, static_cast<int>(script.yarns.size())));
        if (draw.yarns && hasFloat(k) && *rc::gen::arbitrary<bool>() &&
            add(steps(*rc::gen::arbitrary<bool>() ? "kfl" : "pfl").front()))
            continue;
        const Step step = draw.shortRows ? plain() : anyStep(ops, draw.twists);
        const int lost = uses(step) - makes(step);
        const bool binds = step.op == Op::bindOff || step.op == Op::bindOffPurl;
        const bool reaches = (draw.yarns || draw.wraps || draw.knittedOn) &&
                             uses(step) == 0;  // it would not tell where it lies
        if (uses(step) + (binds ? 2 : 0) > k.aheadCount() || lost > spare || reaches ||
            (draw.wraps && takesTurns(uses(step))) || !sensible(k, row.steps, step) ||
            (lost < 0 && k.aheadCount() + static_cast<int>(k.behind().size()) > 24)) {
            add(steps("k").front());
            continue;
        }
        if (!add(step)) continue;
        spare -= lost;
        if (binds) add(steps(step.op == Op::bindOff ? "k" : "p").front());  // the loop left
    }
    if (draw.picks && !turns && !script.round && *rc::gen::arbitrary<bool>()) {
        Step step = steps("pu").front();
        step.count = static_cast<std::int16_t>(*rc::gen::inRange(1, 6));
        (void)add(step);
    }
    script.rows.push_back(row);
    endRow(k, row);
}

}  // namespace

rc::Gen<Case> anyCase(Draw draw, Setup setup) {
    return rc::gen::noShrink(rc::gen::exec([=] {
        Case c;
        c.setup = setup;
        c.setup.castOn = *rc::gen::element(CastOn::longTail, CastOn::backward, CastOn::knitted);
        c.script.castOn = *rc::gen::inRange(6, 14);
        c.script.round = *rc::gen::inRange(0, 3) == 0;
        const bool wrongFirst = !c.script.round && *rc::gen::arbitrary<bool>();
        if (draw.yarns) c.script.yarns = *rc::gen::element<std::string>("AB", "ABA");
        Script begun = c.script;
        begun.rows.push_back({});
        begun.rows.front().facing = wrongFirst ? Facing::wrong : Facing::right;
        Knitting knitting = castOn(begun, c.setup);
        const int rows = *rc::gen::inRange(1, 7);
        Waiting waiting;
        for (int r = 0; r < rows; ++r) addRow(knitting, c.script, draw, waiting);
        // What was turned early is worked to its end.
        for (int r = 0; r < 12 && turnsEarly(c.script.rows.back()); ++r)
            addRow(knitting, c.script, draw, waiting);
        return c;
    }));
}

std::ostream& operator<<(std::ostream& out, const Case& c) {
    return out << textOf(c.script)
               << (c.setup.castOn == CastOn::backward  ? "backward loops"
                   : c.setup.castOn == CastOn::knitted ? "knitted on"
                                                       : "long-tail");
}

Fabric reloaded(const Fabric& fabric) {
    auto again = fabricFrom(itinerary(fabric));
    if (!again) throw std::runtime_error(again.error().message);
    return std::move(*again);
}

}  // namespace loopmend
