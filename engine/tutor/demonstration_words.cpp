// SPDX-License-Identifier: MIT
#include "tutor/demonstration_words.h"

#include <algorithm>
#include <utility>

#include <fmt/format.h>

#include "fault/needle.h"
#include "pattern/print.h"
#include "repair/move_words.h"

namespace loopmend {

namespace {

constexpr int kMostWords = 20;

LoopId firstOf(const Move& move) {
    return move.loops.empty() ? LoopId{} : move.loops.front();
}

bool isOpen(const Work& work, LoopId loop) {
    const Fabric& f = work.fabric();
    return loop && f.has(loop) && f.isLoop(loop) && f.isLive(loop);
}

bool isOnNeedle(const Work& work, LoopId loop) {
    const Fabric& f = work.fabric();
    return f.has(loop) && f.isLoop(loop) && onNeedle(f, loop);
}

/// `fifth from the right`: they all see which side faces them.
std::string across(const AsSeen& view, const StitchPlaces& places, LoopId loop) {
    std::string words = acrossWords(view, places, loop);
    for (const std::string_view too : {" as it faces you", "the one ", "the "}) {
        const std::size_t at = words.find(too);
        if (at == std::string::npos || (too.front() != ' ' && at != 0)) continue;
        words.erase(at, too.size());
    }
    return words;
}

std::string withPlace(std::string words, const std::string& place) {
    return place.empty() ? words + "." : fmt::format("{}, {}.", words, place);
}

class Told {
  public:
    Told(const Work& work, const AsSeen& view, const StitchPlaces& places)
        : work_(work), view_(view), places_(places) {}

    std::string of(const Move& move) const {
        const LoopId loop = firstOf(move);
        switch (move.kind) {
            case MoveKind::pin:
                return withPlace(isOnNeedle(work_, loop) || !isOpen(work_, loop)
                                     ? "Put a pin through the stitch that must stay"
                                     : "Put a pin through the open stitch",
                                 across(view_, places_, loop));
            case MoveKind::unpin:
                return isOpen(work_, loop) ? "Take the pin out: this stitch must come undone."
                                           : "Take the pin out: another stitch holds this one now.";
            case MoveKind::drop:
                if (view_.fabric.has(loop) && !view_.fabric[loop].firstLink)
                    return "Let the loose strand fall off the needle: no stitch stands under it.";
                return withPlace("Let one stitch slide off the needle", across(view_, places_, loop));
            case MoveKind::letRun:
                return move.count > 0 ? fmt::format("Tug the loose stitch. Let it run down {}.",
                                                    many(move.count, "row", "rows"))
                                      : std::string("Tug the loose stitch. Let it run down to the pin.");
            case MoveKind::hook: return hook(move);
            case MoveKind::liftBar: return liftBar(move);
            case MoveKind::seat:
                return fmt::format("Put the stitch on the needle, {} leg in front.", frontLeg(move.mount));
            case MoveKind::remount:
                return fmt::format("Turn the stitch on the needle: {} leg in front.", frontLeg(move.mount));
            case MoveKind::tink:
                return move.count == 1 ? std::string("Take back the last stitch.")
                                       : fmt::format("Take back the last {} stitches, one by one.",
                                                     numberWord(move.count));
            case MoveKind::rip: return rip(move);
            case MoveKind::work: return workOn(move);
            default: return wordsOf(work_, move, view_.terms, view_.seen);
        }
        return {};
    }

  private:
    bool fromBehind() const { return view_.seen != view_.facing; }
    const char* row() const { return work_.knitter().inTheRound() ? "round" : "row"; }

    /// A mount is the same from both sides: what is right and in front here is left and behind there, and the
    /// other leg right and in front.
    const char* frontLeg(Mount mount) const {
        return (mount == Mount::western) != view_.mirrored ? "right" : "left";
    }

    std::string hook(const Move& move) const {
        const bool toward = move.knit != fromBehind();
        const std::vector<LoopId>& loops = move.loops.empty() ? work_.stacked() : move.loops;
        const std::string rung = move.rung == 0   ? "the bare strand"
                                 : move.rung == 1 ? "the lowest rung"
                                                  : fmt::format("rung {} from below", move.rung);
        const char* face = toward ? "V" : "bump";
        const auto turned =
            std::find_if(move.twists.begin(), move.twists.end(), [](int t) { return t != 0; });
        if (turned != move.twists.end()) {
            return fmt::format("Turn the stitch half round, to the {}. Draw {} {} you through it: a {}.",
                               *turned < 0 ? "left" : "right", rung, toward ? "toward" : "away from", face);
        }
        if (loops.size() > 1) {
            return fmt::format("{} on the hook{}. Draw {} {} you: a {}.",
                               loops.size() == 2 ? "Both stitches" : "All these stitches",
                               loops.size() == 2 ? frontOne(move, loops) : "", rung,
                               toward ? "toward" : "away from", face);
        }
        return toward ? fmt::format(
                            "Hook in from the front. Catch {} behind the stitch. Draw it toward "
                            "you: a V.",
                            rung)
                      : fmt::format(
                            "Hook in from behind. Catch {} in front of it. Push it away from you: "
                            "a bump.",
                            rung);
    }

    /// `, the left one in front`
    std::string frontOne(const Move& move, const std::vector<LoopId>& loops) const {
        Move stack;
        stack.kind = MoveKind::stack;
        stack.loops = loops;
        const std::string words = wordsOf(work_, move.loops.empty() ? stack : move, view_.terms, view_.seen);
        for (const char* which : {"right", "left"}) {
            if (words.find(fmt::format("the {} one in front", which)) != std::string::npos)
                return fmt::format(", the {} one in front", which);
        }
        return {};
    }

    std::string liftBar(const Move& move) const {
        std::string words = "Lift the bare strand between the two stitches";
        switch (move.liftTo) {
            case LiftTo::hanging: return words + ": it becomes a stitch.";
            case LiftTo::pin: return words + ", and put a pin through it.";
            case LiftTo::needle: break;
        }
        return words + fmt::format(" onto the needle, {} leg in front.", frontLeg(move.mount));
    }

    std::string rip(const Move& move) const {
        if (work_.knitter().rowBegun() && move.count == 1)
            return fmt::format("Take back what is worked of this {}.", row());
        return fmt::format(
            "Draw out the last {}. Put every stitch on the needle.",
            move.count == 1 ? std::string(row()) : fmt::format("{} {}s", numberWord(move.count), row()));
    }

    std::string workOn(const Move& move) const {
        if (move.steps.empty()) return {};
        const Step& first = move.steps.front();
        const auto n = static_cast<int>(move.steps.size());
        const bool alike =
            std::all_of(move.steps.begin(), move.steps.end(), [&](const Step& s) { return s == first; });
        if (alike && (first.op == Op::knit || first.op == Op::purl)) {
            const bool knit = first.op == Op::knit;
            const std::string stitches = many(n, "stitch", "stitches");
            if (!fromBehind()) return fmt::format("{} {}.", knit ? "Knit" : "Purl", stitches);
            // A stitch drawn toward one side is drawn away from the other.
            return fmt::format("From the other side {} {} {}: you see {}.", stitches, n == 1 ? "is" : "are",
                               knit ? "knitted" : "purled",
                               knit ? (n == 1 ? "a bump" : "bumps") : (n == 1 ? "a V" : "Vs"));
        }
        std::string words = wordsOf(work_, move, view_.terms, view_.seen);
        if (wordCount(words) > kMostWords - (fromBehind() ? 4 : 0))
            words = fmt::format("Work the {} as it is written.", row());
        if (fromBehind() && !words.empty() && words[0] >= 'A' && words[0] <= 'Z')
            words = fmt::format("From the other side: {}{}", static_cast<char>(words[0] - 'A' + 'a'),
                                words.substr(1));
        return words;
    }

    const Work& work_;
    const AsSeen& view_;
    const StitchPlaces& places_;
};

}  // namespace

std::string moveHeading(const Work& work, const Move& move) {
    const bool round = work.knitter().inTheRound();
    if (move.kind == MoveKind::pin && isOnNeedle(work, firstOf(move))) return "Pin what stays";
    if (move.kind == MoveKind::rip && move.count > 0 && round) return "Take rounds out";
    if (move.kind == MoveKind::turn && round) return "The next round";
    return briefly(move);
}

std::string groupWords(const Work& work, const AsSeen& view, const StitchPlaces& places, const Move& move) {
    return spelled(Told(work, view, places).of(move), view.terms);
}

std::vector<PageMark> marksOf(const Work& work, const Move& move) {
    PageMark next;
    next.kind = PageMarkKind::next;
    PageMark through;
    through.kind = PageMarkKind::through;
    if (move.kind == MoveKind::hook) {
        through.loops = move.loops.empty() ? work.stacked() : move.loops;
        if (move.rung == 0) {
            next.strands.push_back(move.strand);
        } else if (!through.loops.empty()) {
            const std::vector<PassId> rungs = work.fabric().passesOf(through.loops.front());
            const auto i = static_cast<std::size_t>(move.rung - 1);
            if (i < rungs.size()) next.rungs.push_back(rungs[i]);
        }
    } else if (move.kind == MoveKind::liftBar) {
        next.strands.push_back(move.strand);
    } else {
        next.loops = move.loops;
    }
    std::vector<PageMark> marks;
    for (PageMark* mark : {&next, &through}) {
        if (!mark->loops.empty() || !mark->rungs.empty() || !mark->strands.empty())
            marks.push_back(std::move(*mark));
    }
    return marks;
}

}  // namespace loopmend
