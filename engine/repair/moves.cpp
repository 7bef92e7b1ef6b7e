// SPDX-License-Identifier: MIT
#include "repair/moves.h"

#include <algorithm>
#include <array>
#include <optional>
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

constexpr std::array<std::pair<std::string_view, MoveKind>, 14> kNames = {{{"pin", MoveKind::pin},
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
                                                                           {"turn", MoveKind::turn}}};

/// Reads the words of one line from left to right.
class LineReader {
  public:
    explicit LineReader(std::string_view line) : line_(line), words_(splitAtBlanks(line)) {}

    tl::expected<Move, MoveFault> read() {
        if (words_.empty()) return fault("the line is empty");
        const auto* name = std::find_if(kNames.begin(), kNames.end(),
                                        [&](const auto& entry) { return entry.first == words_[0]; });
        if (name == kNames.end()) {
            return fault(
                fmt::format("\"{}\" is no move; moves are pin, unpin, drop, let-run, stack, hook-k, hook-p, "
                            "lift-bar, seat, remount, tink, rip, work and turn",
                            words_[0].substr(0, 40)));
        }
        Move move;
        move.kind = name->second;
        at_ = 1;
        switch (move.kind) {
            case MoveKind::turn: break;
            case MoveKind::work: return work(std::move(move));
            case MoveKind::tink:
            case MoveKind::rip:
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
                if (!loops(move, 1)) return fault(fmt::format("{} needs a loop", words_[0]));
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
        } else {
            return MoveFault{"hook needs a rung or a bar"};
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

std::string textOf(const Move& move) {
    const auto loops = [&] {
        std::string text;
        for (const LoopId l : move.loops) text += fmt::format(" {}", l.value);
        return text;
    };
    switch (move.kind) {
        case MoveKind::pin: return "pin" + loops();
        case MoveKind::unpin: return "unpin" + loops();
        case MoveKind::drop: return "drop" + loops();
        case MoveKind::letRun:
            return "let-run" + loops() + (move.count > 0 ? fmt::format(" {}", move.count) : "");
        case MoveKind::stack: return "stack" + loops();
        case MoveKind::hook: {
            std::string text = move.knit ? "hook-k" : "hook-p";
            text += move.rung > 0 ? fmt::format(" rung {}", move.rung)
                                  : fmt::format(" bar {}", move.strand.value);
            text += move.loops.empty() ? " stack" : " loop" + loops();
            if (!move.twists.empty()) {
                text += " twist";
                for (const std::int8_t t : move.twists) text += fmt::format(" {}", t);
            }
            return text;
        }
        case MoveKind::liftBar: {
            const std::string text = fmt::format("lift-bar {}", move.strand.value);
            if (move.liftTo == LiftTo::hanging) return text;
            if (move.liftTo == LiftTo::pin) return text + " pin";
            return text + (move.mount == Mount::eastern ? " seat left-leg" : " seat");
        }
        case MoveKind::seat: {
            std::string text = "seat" + loops() + (move.mount == Mount::eastern ? " left-leg" : "");
            if (move.atRightEnd) return text + " beside right-end";
            return move.beside ? text + fmt::format(" beside {}", move.beside.value) : text;
        }
        case MoveKind::remount:
            return "remount" + loops() + (move.mount == Mount::eastern ? " left-leg" : " right-leg");
        case MoveKind::tink: return fmt::format("tink {}", move.count);
        case MoveKind::rip: return fmt::format("rip {}", move.count);
        case MoveKind::work: return "work " + printSteps(move.steps);
        case MoveKind::turn: return "turn";
    }
    return "turn";
}

tl::expected<Move, MoveFault> moveFrom(std::string_view line) {
    return LineReader(line).read();
}

}  // namespace loopmend
