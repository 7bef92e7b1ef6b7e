// SPDX-License-Identifier: MIT
#include "tutor/judge.h"

#include <algorithm>

#include <fmt/format.h>

#include "fabric/hands.h"

namespace loopmend {

namespace {

bool contains(const std::vector<LoopId>& loops, LoopId l) {
    return std::find(loops.begin(), loops.end(), l) != loops.end();
}

std::size_t passesWrong(const Pairing& p) {
    return p.missingPasses.size() + p.extraPasses.size();
}

/// How a loop differs from the one it stands for.
std::string differenceWords(const Scene& s, const Fabric& meant, LoopId loop) {
    const Fabric& f = s.view.fabric;
    const LoopId should = s.standing.pairing.meant(loop);
    if (!should) return "That makes a stitch too many.";
    const std::vector<LinkId> is = f.linksOf(loop);
    const std::vector<LinkId> due = meant.linksOf(should);
    if (is.size() > due.size()) return "Two stitches are joined in one now.";
    if (is.size() < due.size()) return "One of the loops that belong together was left out.";
    for (std::size_t i = 0; i < is.size(); ++i) {
        const LinkForm& a = f[is[i]].form;
        const LinkForm& b = meant[due[i]].form;
        if (a.side != b.side) {
            const bool bumpNow = a.side != s.view.seen;
            return fmt::format("It was drawn through the other way: a {} now, where a {} is meant.",
                               bumpNow ? "bump" : "V", bumpNow ? "V" : "bump");
        }
        if (a.twist != b.twist) return "The loop was turned half round: its feet are crossed now.";
    }
    return "That stitch is not as it was meant.";
}

std::string leftWords(const Standing& s) {
    int hooks = 0;
    for (const PlannedMove& m : s.best()->moves) hooks += m.move.kind == MoveKind::hook ? 1 : 0;
    if (hooks > 0) return fmt::format("{} to go.", capital(many(hooks, "rung", "rungs")));
    return {};
}

std::string goodWords(const Scene& s, const Move& move, bool counts) {
    std::string words;
    switch (move.kind) {
        case MoveKind::pin: words = "Pinned. Nothing can run from there now."; break;
        case MoveKind::unpin: words = "The pin is out."; break;
        case MoveKind::drop: words = "It is off the needle."; break;
        case MoveKind::letRun: words = "It ran down as far as it should."; break;
        case MoveKind::stack: words = "They are on the hook."; break;
        case MoveKind::hook: words = "One stitch more."; break;
        case MoveKind::liftBar: words = "The strand is a loop again."; break;
        case MoveKind::seat: words = "It is back on the needle."; break;
        case MoveKind::remount: {
            const bool rightLeg = (move.mount == Mount::western) != s.view.mirrored;
            words = fmt::format("It sits {} leg in front now.", rightLeg ? "right" : "left");
            if (move.mount != Mount::western) words += " Knitted like the others, its feet would cross.";
            break;
        }
        case MoveKind::tink: words = "Taken back."; break;
        case MoveKind::rip: words = "The rows are back and the loops are on the needle."; break;
        case MoveKind::work: words = "Worked."; break;
        case MoveKind::turn: words = "The work is turned."; break;
        case MoveKind::thread: words = "Nothing below it can run now."; break;
        case MoveKind::unthread: words = "It is out."; break;
        case MoveKind::cross: words = "They have changed places."; break;
        case MoveKind::snip: words = "It is cut."; break;
        case MoveKind::pickOut: words = "It is out of its row."; break;
        case MoveKind::graft: words = "The row is sewn."; break;
        case MoveKind::sewOver: words = "It is covered."; break;
        case MoveKind::fasten: words = "Nothing can run from there now."; break;
        default: words = "Done."; break;
    }
    if (counts && s.standing.best() != nullptr) {
        const std::string left = leftWords(s.standing);
        if (!left.empty()) words += " " + left;
    }
    return words;
}

std::string mendedWords(const Standing& s) {
    return s.shows ? "That is it: it holds, and shows a little."
                   : "That is it: every stitch is as it was meant.";
}

constexpr std::string_view kWayHome = " You can take it back, or go on from here: both lead home.";

}  // namespace

Before beforeMove(const Standing& s) {
    Before b;
    b.open = s.open;
    b.wrong = s.wrong;
    b.passesWrong = passesWrong(s.pairing);
    b.lacking = s.pairing.missing.size();
    b.asMeant = s.asMeant;
    if (const Plan* plan = s.best()) {
        b.seconds = plan->seconds;
        b.moves = plan->moves.size();
    }
    return b;
}

bool isNearer(const Standing& after, const Before& before) {
    if (after.asMeant) return true;
    if (before.asMeant || after.best() == nullptr) return false;
    return before.seconds == 0 || after.best()->seconds < before.seconds + 1e-9 ||
           after.best()->moves.size() < before.moves;
}

std::string followedWords(const Scene& s, const Move& move, bool counts) {
    const bool onward = move.kind == MoveKind::work || move.kind == MoveKind::turn;
    return s.standing.asMeant && !onward ? mendedWords(s.standing) : goodWords(s, move, counts);
}

std::string workedWords(const Scene& s, EntryId firstNew, const Fabric& meant) {
    for (const LoopId l : s.standing.wrong) {
        if (!(l < firstNew)) return differenceWords(s, meant, l) + std::string(kWayHome);
    }
    if (s.standing.asMeant) return "Worked.";
    const std::vector<PointTarget> all = roots(s);
    if (!all.empty() && all.front().thing == PointTarget::Thing::loop && wasOpen(s, all.front().entry)) {
        return "Worked. The open loop still waits below, and the strand that now lies over it is a short "
               "one." +
               std::string(kWayHome);
    }
    return "Worked. What is wrong below lies one row deeper now." + std::string(kWayHome);
}

std::string didWords(const Scene& s, const Before& before, const Move& move, LoopId made, const Fabric& meant,
                     bool counts) {
    const Fabric& f = s.view.fabric;
    if (s.standing.asMeant) {
        if (move.kind == MoveKind::work || move.kind == MoveKind::turn) return goodWords(s, move, counts);
        return before.asMeant ? goodWords(s, move, counts) : mendedWords(s.standing);
    }
    const bool leftOut = passesWrong(s.standing.pairing) > before.passesWrong;
    if (move.kind == MoveKind::hook && leftOut && move.rung != 1)
        return "A rung was left out below this one. It lies across as a bare bar." + std::string(kWayHome);
    if (made && contains(s.standing.wrong, made))
        return differenceWords(s, meant, made) + std::string(kWayHome);
    if (isNearer(s.standing, before)) return goodWords(s, move, counts);
    for (const LoopId l : s.standing.wrong) {
        if (!contains(before.wrong, l) &&
            (!s.standing.pairing.meant(l) || move.kind == MoveKind::work || move.kind == MoveKind::hook)) {
            return differenceWords(s, meant, l) + std::string(kWayHome);
        }
    }
    if (move.kind == MoveKind::letRun || s.standing.pairing.missing.size() > before.lacking) {
        for (const LoopId l : s.standing.open) {
            const int n = static_cast<int>(f.passesOf(l).size());
            if (n > 0)
                return fmt::format(
                    "It ran: {} above the open loop now. Put a pin through it before it goes on.",
                    many(n, "rung", "rungs"));
        }
    }
    for (const LoopId l : s.standing.open) {
        if (contains(before.open, l)) continue;
        return fmt::format("A loop stands open now: {}. Put a pin through it, or take it back.",
                           placeWords(s.view, s.places, l));
    }
    if (move.kind == MoveKind::pin) return "That loop is held already. The pin does no harm.";
    return goodWords(s, move, counts);
}

}  // namespace loopmend
