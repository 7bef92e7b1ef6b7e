// SPDX-License-Identifier: MIT
#include "repair/moves.h"

#include <algorithm>
#include <array>
#include <cstdlib>
#include <optional>
#include <tuple>
#include <utility>

#include <fmt/format.h>

#include "pattern/counts.h"
#include "pattern/numbers.h"
#include "pattern/parse.h"
#include "pattern/print.h"

namespace loopmend {

namespace {

using Words = std::vector<std::string_view>;

tl::expected<std::vector<Step>, MoveFault> stepsFrom(std::string_view text, bool andOne = false) {
    // Letters are places in the row of yarns, whichever of them are named here.
    constexpr std::string_view kYarns = "Yarns: A, B, C, D, E, F, G, H.\n";
    const bool several = text.find("with ") != std::string_view::npos;
    const Pattern pattern =
        parse(fmt::format("{}Row 1: {}{}", several ? kYarns : "", text, andOne ? ", k1" : ""));
    if (!pattern.problems.empty()) return tl::make_unexpected(MoveFault{pattern.problems.front().message});
    if (pattern.rows.empty()) return tl::make_unexpected(MoveFault{"there is nothing to work"});
    const RowCounts counts = countsOf(pattern.rows.front());
    // Steps that take no stitch (a yarn-over, a make-one) are no row by themselves: one more is added.
    if (counts.uses.base == 0 && !andOne) return stepsFrom(text, true);
    auto script = expand(pattern, static_cast<int>(counts.uses.base), 1);
    if (!script) return tl::make_unexpected(MoveFault{script.error().message});
    std::vector<Step> steps = std::move(script->rows.front().steps);
    if (andOne) steps.pop_back();
    return steps;
}

constexpr std::array<std::pair<std::string_view, MoveKind>, 34> kNames = {
    {{"pin", MoveKind::pin},
     {"unpin", MoveKind::unpin},
     {"drop", MoveKind::drop},
     {"let-run", MoveKind::letRun},
     {"stack", MoveKind::stack},
     {"hook-k", MoveKind::hook},
     {"hook-p", MoveKind::hook},
     {"lift-bar", MoveKind::liftBar},
     {"seat", MoveKind::seat},
     {"remount", MoveKind::remount},
     {"tink", MoveKind::tink},
     {"rip", MoveKind::rip},
     {"work", MoveKind::work},
     {"turn", MoveKind::turn},
     {"inspect", MoveKind::inspect},
     {"tug", MoveKind::tug},
     {"count", MoveKind::count},
     {"mark", MoveKind::mark},
     {"slip-to", MoveKind::slipTo},
     {"sort", MoveKind::sort},
     {"thread", MoveKind::thread},
     {"unthread", MoveKind::unthread},
     {"cross", MoveKind::cross},
     {"pass-over", MoveKind::passOver},
     {"draw-slack", MoveKind::drawSlack},
     {"snip", MoveKind::snip},
     {"pick-out", MoveKind::pickOut},
     {"graft", MoveKind::graft},
     {"sew-over", MoveKind::sewOver},
     {"fasten", MoveKind::fasten},
     {"weave", MoveKind::weave},
     {"join", MoveKind::join},
     {"cast-on", MoveKind::castOn},
     {"turn-join", MoveKind::turnJoin}}};

/// Reads the words of one line from left to right.
class LineReader {
  public:
    explicit LineReader(std::string_view line) : line_(line), words_(splitAtBlanks(line)) {}

    tl::expected<Move, MoveFault> read() {
        if (words_.empty()) return fault("the line is empty");
        const auto* name = std::find_if(kNames.begin(), kNames.end(),
                                        [&](const auto& entry) { return entry.first == words_[0]; });
        if (name == kNames.end()) {
            std::string all;
            for (const auto& entry : kNames) {
                if (!all.empty()) all += entry.first == kNames.back().first ? " and " : ", ";
                all += entry.first;
            }
            return fault(fmt::format("\"{}\" is no move; moves are {}", words_[0].substr(0, 40), all));
        }
        Move move;
        move.kind = name->second;
        at_ = 1;
        switch (move.kind) {
            case MoveKind::turn:
            case MoveKind::tug: break;
            case MoveKind::work: return work(std::move(move));
            case MoveKind::rip:
                if (take("to-thread")) break;
                [[fallthrough]];
            case MoveKind::tink:
                move.count = count().value_or(1);
                if (move.count < 1) return fault("how many must be one or more");
                break;
            case MoveKind::letRun:
                if (!loops(move, 1)) return fault("let-run needs a loop");
                move.count = count().value_or(0);
                if (move.count < 0) return fault("how many must be one or more");
                break;
            case MoveKind::pin:
            case MoveKind::unpin:
            case MoveKind::drop:
            case MoveKind::mark:
            case MoveKind::slipTo:
            case MoveKind::sort:
            case MoveKind::snip:
                if (!loops(move, 1)) return fault(fmt::format("{} needs a loop", words_[0]));
                break;
            case MoveKind::unthread:
                if (!loops(move, 1)) return fault("unthread needs a loop");
                move.spare = take("spare");
                break;
            case MoveKind::stack:
                loops(move, 100);
                if (move.loops.size() < 2) return fault("stack needs two loops or more");
                break;
            case MoveKind::liftBar:
                if (const std::optional<int> n = count(); n && *n >= 0) move.strand = LoopId{*n};
                if (!move.strand) return fault("lift-bar needs the loop before the strand");
                if (take("pin")) {
                    move.liftTo = LiftTo::pin;
                } else if (take("seat")) {
                    move.liftTo = LiftTo::needle;
                    if (take("left-leg")) move.mount = Mount::eastern;
                }
                break;
            case MoveKind::seat:
            case MoveKind::remount:
                if (!loops(move, 1)) return fault(fmt::format("{} needs a loop", words_[0]));
                if (take("left-leg")) move.mount = Mount::eastern;
                (void)take("right-leg");
                if (take("beside")) {
                    if (take("right-end")) {
                        move.atRightEnd = true;
                    } else if (const std::optional<int> n = count(); n && *n >= 0) {
                        move.beside = LoopId{*n};
                    } else {
                        return fault("beside needs a loop or right-end");
                    }
                }
                break;
            case MoveKind::hook: {
                move.knit = words_[0] == "hook-k";
                if (const std::optional<MoveFault> wrong = hook(move))
                    return tl::unexpected<MoveFault>(*wrong);
                break;
            }
            default:
                if (const std::optional<MoveFault> wrong = more(move))
                    return tl::unexpected<MoveFault>(*wrong);
                break;
        }
        if (at_ < words_.size())
            return fault(fmt::format("\"{}\" is not understood here", words_[at_].substr(0, 40)));
        return move;
    }

  private:
    tl::unexpected<MoveFault> fault(std::string message) const {
        return tl::unexpected<MoveFault>({std::move(message)});
    }
    bool take(std::string_view word) {
        if (at_ >= words_.size() || words_[at_] != word) return false;
        ++at_;
        return true;
    }
    std::optional<int> count() {
        if (at_ >= words_.size()) return std::nullopt;
        const std::optional<int> n = signedNumber(words_[at_]);
        if (n) ++at_;
        return n;
    }
    bool loops(Move& move, std::size_t most) {
        while (move.loops.size() < most && at_ < words_.size()) {
            const std::optional<int> n = signedNumber(words_[at_]);
            if (!n || *n < 0) break;
            move.loops.push_back(LoopId{*n});
            ++at_;
        }
        return !move.loops.empty();
    }
    std::optional<MoveFault> hook(Move& move) {
        if (take("rung")) {
            move.rung = count().value_or(0);
            if (move.rung < 1) return MoveFault{"rungs count from 1, the lowest"};
        } else if (take("bar")) {
            const std::optional<int> n = count();
            if (!n || *n < 0) return MoveFault{"bar needs the loop before the strand"};
            move.strand = LoopId{*n};
        } else if (take("pass")) {
            const std::optional<int> n = count();
            if (!n || *n < 0) return MoveFault{"pass needs the number of a strand"};
            move.pass = PassId{*n};
        } else {
            return MoveFault{"hook needs a rung, a bar or a pass"};
        }
        if (!take("stack")) {
            if (!take("loop") || !loops(move, 100)) return MoveFault{"hook needs a loop, or stack"};
        }
        if (take("twist")) {
            while (const std::optional<int> n = count()) {
                if (*n < -9 || *n > 9) return MoveFault{"no loop is turned more than nine times"};
                move.twists.push_back(static_cast<std::int8_t>(*n));
            }
            if (move.twists.empty()) return MoveFault{"twist needs a number for each loop"};
        }
        if (take("pierced")) {
            move.plies = Plies::pierced;
        } else if (take("split")) {
            move.plies = Plies::some;
        }
        return std::nullopt;
    }
    /// k and p, one for each stitch.
    bool letters(std::vector<bool>& knit) {
        if (at_ >= words_.size()) return false;
        for (const char c : words_[at_]) {
            if (c != 'k' && c != 'p') return false;
            knit.push_back(c == 'k');
        }
        ++at_;
        return !knit.empty();
    }
    std::optional<MoveFault> more(Move& move) {
        switch (move.kind) {
            case MoveKind::inspect:
                if (take("wrong")) {
                    move.side = Side::wrong;
                } else if (!take("right")) {
                    return MoveFault{"inspect needs a side: right or wrong"};
                }
                return std::nullopt;
            case MoveKind::count:
                loops(move, 2);
                if (move.loops.size() < 2) return MoveFault{"count needs the first loop and the last"};
                return std::nullopt;
            case MoveKind::thread:
                if (take("needle")) {
                    move.through = ThreadThrough::needle;
                } else {
                    if (take("row")) move.through = ThreadThrough::row;
                    const std::size_t most = move.through == ThreadThrough::row ? 1 : 10'000;
                    if (!loops(move, most)) return MoveFault{"thread needs a row, loops, or needle"};
                }
                move.spare = take("spare");
                return std::nullopt;
            case MoveKind::cross:
                loops(move, 100);
                move.inFront = take("in-front");
                if (!move.inFront && !take("behind"))
                    return MoveFault{"cross needs in-front or behind between the two groups"};
                if (move.loops.empty() || !otherLoops(move, 100))
                    return MoveFault{"cross needs loops on both sides"};
                return std::nullopt;
            case MoveKind::passOver:
            case MoveKind::join:
                if (!loops(move, 1) || !otherLoops(move, 1))
                    return MoveFault{fmt::format("{} needs two loops", words_[0])};
                return std::nullopt;
            case MoveKind::drawSlack: return drawSlack(move);
            case MoveKind::pickOut:
                if (!loops(move, 1)) return MoveFault{"pick-out needs the loop at the cut end"};
                if (at_ < words_.size()) {
                    move.count = count().value_or(0);
                    if (move.count < 1) return MoveFault{"how many must be one or more"};
                }
                return std::nullopt;
            case MoveKind::graft: return graft(move);
            case MoveKind::sewOver:
                if (!loops(move, 10'000)) return MoveFault{"sew-over needs loops"};
                if (at_ < words_.size() && words_[at_].size() == 1 && words_[at_][0] >= 'A' &&
                    words_[at_][0] <= 'Z') {
                    move.color = words_[at_++][0];
                } else {
                    return MoveFault{"sew-over needs a color, a letter"};
                }
                if (take("rightward")) move.run = Run::rightward;
                return std::nullopt;
            case MoveKind::fasten:
                if (take("strand")) {
                    const std::optional<int> n = count();
                    if (!n || *n < 0) return MoveFault{"strand needs its number"};
                    move.pass = PassId{*n};
                } else if (!loops(move, 100)) {
                    return MoveFault{"fasten needs a loop or a strand"};
                }
                return std::nullopt;
            case MoveKind::castOn: return castOn(move);
            case MoveKind::turnJoin:
                if (!loops(move, 1)) return MoveFault{"turn-join needs the last loop cast on"};
                move.count = count().value_or(0);
                if (move.count == 0 || std::abs(move.count) > 4)
                    return MoveFault{"turn-join needs whole turns, four at the most"};
                return std::nullopt;
            case MoveKind::weave:
                if (!loops(move, 1)) return MoveFault{"weave needs the loop beside the end"};
                move.atFirst = take("first");
                return std::nullopt;
            default: return std::nullopt;
        }
    }
    std::optional<MoveFault> castOn(Move& move) {
        move.count = count().value_or(0);
        if (move.count < 1) return MoveFault{"cast-on needs how many stitches"};
        if (take("backward")) {
            move.castOn = CastOn::backward;
        } else if (take("knitted")) {
            move.castOn = CastOn::knitted;
        } else {
            (void)take("long-tail");
        }
        if (take("wrong")) move.side = Side::wrong;
        if (!take("twist")) return std::nullopt;
        const std::optional<int> turns = count();
        if (!turns || *turns < -9 || *turns > 9) return MoveFault{"twist needs half turns, nine at the most"};
        move.twists = {static_cast<std::int8_t>(*turns)};
        return std::nullopt;
    }
    bool otherLoops(Move& move, std::size_t most) {
        Move other;
        const bool any = loops(other, most);
        move.others = std::move(other.loops);
        return any;
    }
    std::optional<MoveFault> drawSlack(Move& move) {
        const MoveFault needs{
            "draw-slack needs a loop, or bar and a loop, or from where, to where and how much"};
        if (take("bar")) {
            const std::optional<int> n = count();
            if (!n || *n < 0) return needs;
            move.strand = LoopId{*n};
            if (at_ == words_.size()) return std::nullopt;
        }
        if (!loops(move, 1)) return needs;
        if (at_ == words_.size() && !move.strand) return std::nullopt;
        if (!move.strand && !otherLoops(move, 1)) return needs;
        if (move.strand) move.others = std::exchange(move.loops, {});
        const std::optional<int> um = count();
        if (!um || *um < 1) return MoveFault{"how much must be one micrometer or more"};
        move.um = *um;
        return std::nullopt;
    }
    std::optional<MoveFault> graft(Move& move) {
        if (!loops(move, 10'000) || !take("to") || !otherLoops(move, 10'000))
            return MoveFault{"graft needs loops, to, and the loops over them"};
        if (take("rightward")) move.run = Run::rightward;
        if (take("sewn") && !letters(move.sewnKnit)) return MoveFault{"sewn needs k and p"};
        if (take("over") && !letters(move.overKnit)) return MoveFault{"over needs k and p"};
        return std::nullopt;
    }
    tl::expected<Move, MoveFault> work(Move move) {
        const std::size_t from = line_.find("work") + 4;
        auto steps = stepsFrom(line_.substr(std::min(from, line_.size())));
        if (!steps) return tl::unexpected<MoveFault>(steps.error());
        move.steps = std::move(*steps);
        return move;
    }

    std::string_view line_;
    Words words_;
    std::size_t at_ = 0;
};

}  // namespace

Move moveOn(MoveKind kind, LoopId loop, int count) {
    Move move;
    move.kind = kind;
    move.loops = {loop};
    move.count = count;
    return move;
}

bool operator==(const Move& a, const Move& b) {
    const auto all = [](const Move& m) {
        return std::tie(m.kind, m.loops, m.others, m.count, m.rung, m.strand, m.pass, m.knit, m.twists,
                        m.plies, m.liftTo, m.mount, m.beside, m.atRightEnd, m.steps, m.side, m.through,
                        m.spare, m.inFront, m.um, m.run, m.sewnKnit, m.overKnit, m.color, m.atFirst,
                        m.castOn);
    };
    return all(a) == all(b);
}

namespace {

std::string listed(const std::vector<LoopId>& loops) {
    std::string text;
    for (const LoopId l : loops) text += fmt::format(" {}", l.value);
    return text;
}

std::string lettersOf(const std::vector<bool>& knit) {
    std::string text;
    for (const bool k : knit) text += k ? 'k' : 'p';
    return text;
}

std::string textOfHook(const Move& move) {
    std::string text = move.knit ? "hook-k" : "hook-p";
    text += move.pass       ? fmt::format(" pass {}", move.pass.value)
            : move.rung > 0 ? fmt::format(" rung {}", move.rung)
                            : fmt::format(" bar {}", move.strand.value);
    text += move.loops.empty() ? " stack" : " loop" + listed(move.loops);
    if (!move.twists.empty()) {
        text += " twist";
        for (const std::int8_t t : move.twists) text += fmt::format(" {}", t);
    }
    if (move.plies == Plies::pierced) text += " pierced";
    if (move.plies == Plies::some) text += " split";
    return text;
}

std::string textOfLift(const Move& move) {
    std::string text = fmt::format("lift-bar {}", move.strand.value);
    if (move.liftTo == LiftTo::hanging) return text;
    if (move.liftTo == LiftTo::pin) return text + " pin";
    return text + (move.mount == Mount::eastern ? " seat left-leg" : " seat");
}

std::string textOfSeat(const Move& move) {
    const std::string text = "seat" + listed(move.loops) + (move.mount == Mount::eastern ? " left-leg" : "");
    if (move.atRightEnd) return text + " beside right-end";
    return move.beside ? text + fmt::format(" beside {}", move.beside.value) : text;
}

std::string textOfThread(const Move& move) {
    std::string text = move.through == ThreadThrough::needle ? "thread needle"
                       : move.through == ThreadThrough::row  ? "thread row" + listed(move.loops)
                                                             : "thread" + listed(move.loops);
    return text + (move.spare ? " spare" : "");
}

std::string textOfSlack(const Move& move) {
    std::string text = "draw-slack";
    if (move.strand) text += fmt::format(" bar {}", move.strand.value);
    text += listed(move.loops) + listed(move.others);
    return move.um > 0 ? text + fmt::format(" {}", move.um) : text;
}

std::string textOfCastOn(const Move& move) {
    std::string text = fmt::format("cast-on {}", move.count);
    if (move.castOn == CastOn::backward) text += " backward";
    if (move.castOn == CastOn::knitted) text += " knitted";
    if (move.side == Side::wrong) text += " wrong";
    return move.twists.empty() ? text : text + fmt::format(" twist {}", move.twists.front());
}

std::string textOfGraft(const Move& move) {
    std::string text = "graft" + listed(move.loops) + " to" + listed(move.others);
    if (move.run == Run::rightward) text += " rightward";
    if (!move.sewnKnit.empty()) text += " sewn " + lettersOf(move.sewnKnit);
    if (!move.overKnit.empty()) text += " over " + lettersOf(move.overKnit);
    return text;
}

}  // namespace

std::string textOf(const Move& move) {
    switch (move.kind) {
        case MoveKind::pin: return "pin" + listed(move.loops);
        case MoveKind::unpin: return "unpin" + listed(move.loops);
        case MoveKind::drop: return "drop" + listed(move.loops);
        case MoveKind::letRun:
            return "let-run" + listed(move.loops) + (move.count > 0 ? fmt::format(" {}", move.count) : "");
        case MoveKind::stack: return "stack" + listed(move.loops);
        case MoveKind::hook: return textOfHook(move);
        case MoveKind::liftBar: return textOfLift(move);
        case MoveKind::seat: return textOfSeat(move);
        case MoveKind::remount:
            return "remount" + listed(move.loops) +
                   (move.mount == Mount::eastern ? " left-leg" : " right-leg");
        case MoveKind::tink: return fmt::format("tink {}", move.count);
        case MoveKind::rip: return move.count > 0 ? fmt::format("rip {}", move.count) : "rip to-thread";
        case MoveKind::work: return "work " + printSteps(move.steps);
        case MoveKind::turn: return "turn";
        case MoveKind::inspect: return move.side == Side::right ? "inspect right" : "inspect wrong";
        case MoveKind::tug: return "tug";
        case MoveKind::count: return "count" + listed(move.loops);
        case MoveKind::mark: return "mark" + listed(move.loops);
        case MoveKind::slipTo: return "slip-to" + listed(move.loops);
        case MoveKind::sort: return "sort" + listed(move.loops);
        case MoveKind::thread: return textOfThread(move);
        case MoveKind::unthread: return "unthread" + listed(move.loops) + (move.spare ? " spare" : "");
        case MoveKind::cross:
            return "cross" + listed(move.loops) + (move.inFront ? " in-front" : " behind") +
                   listed(move.others);
        case MoveKind::passOver: return "pass-over" + listed(move.loops) + listed(move.others);
        case MoveKind::drawSlack: return textOfSlack(move);
        case MoveKind::snip: return "snip" + listed(move.loops);
        case MoveKind::pickOut:
            return "pick-out" + listed(move.loops) + (move.count > 0 ? fmt::format(" {}", move.count) : "");
        case MoveKind::graft: return textOfGraft(move);
        case MoveKind::sewOver:
            return fmt::format("sew-over{} {}{}", listed(move.loops), move.color,
                               move.run == Run::rightward ? " rightward" : "");
        case MoveKind::fasten:
            return move.pass ? fmt::format("fasten strand {}", move.pass.value)
                             : "fasten" + listed(move.loops);
        case MoveKind::weave: return "weave" + listed(move.loops) + (move.atFirst ? " first" : "");
        case MoveKind::join: return "join" + listed(move.loops) + listed(move.others);
        case MoveKind::castOn: return textOfCastOn(move);
        case MoveKind::turnJoin: return "turn-join" + listed(move.loops) + fmt::format(" {}", move.count);
    }
    return "turn";
}

tl::expected<Move, MoveFault> moveFrom(std::string_view line) {
    return LineReader(line).read();
}

}  // namespace loopmend
