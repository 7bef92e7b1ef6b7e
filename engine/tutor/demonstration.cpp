// SPDX-License-Identifier: MIT
#include "tutor/demonstration.h"

#include <algorithm>
#include <stdexcept>
#include <utility>

#include <fmt/format.h>

#include "reading/counts.h"
#include "reading/read.h"
#include "tutor/demonstration_words.h"
#include "tutor/lesson_handout_moves.h"
#include "tutor/lesson_handout_pictures.h"
#include "tutor/lesson_handout_words.h"
#include "tutor/standing.h"

namespace loopmend {

struct Demonstration::State {
    State(const Lesson& what, std::size_t swatchIndex, Terms words, bool leftHanded, std::string way)
        : lesson(what),
          index(static_cast<int>(swatchIndex)),
          family(std::move(way)),
          wanted(lesson.swatches.at(swatchIndex)),
          terms(words),
          mirrored(leftHanded),
          swatch(wanted, words, leftHanded),
          work(swatch.takeActual()) {
        const Standing standing = standingOf(swatch, work, false);
        asMeant = standing.asMeant;
        // The author's ways come first.
        const auto isWanted = [&](const Plan& plan) {
            if (!family.empty()) return nameOf(plan.family) == family;
            return wanted.repairs.empty() || std::find(wanted.repairs.begin(), wanted.repairs.end(),
                                                       nameOf(plan.family)) != wanted.repairs.end();
        };
        auto plan = std::find_if(standing.plans.begin(), standing.plans.end(), isWanted);
        if (plan == standing.plans.end()) plan = standing.plans.begin();
        if (plan == standing.plans.end()) return;
        leaves = plan->leaves;
        asWasMeant = plan->proved;
        cautions = plan->cautions;
        keep = plan->needsOnTool;
        mustGo = drawnThrough(work.fabric(), standing.wrong);
        for (const std::vector<LoopId>* list : {&standing.wrong, &standing.lacking, &standing.open})
            places.insert(places.end(), list->begin(), list->end());
        for (const PlannedMove& planned : plan->moves) {
            if (planned.move.kind == MoveKind::drop || planned.move.kind == MoveKind::letRun)
                lastUndoing = static_cast<int>(moves.size());
            moves.push_back(planned.move);
        }
    }

    Side facing() const { return work.knitter().facing(); }
    Side seen() const { return turned ? opposite(facing()) : facing(); }
    AsSeen view() const { return {work.fabric(), seen(), facing(), mirrored, terms}; }
    int at() const { return static_cast<int>(work.done().size()); }
    const Move* nextMove() const {
        return at() < static_cast<int>(moves.size()) ? &moves[static_cast<std::size_t>(at())] : nullptr;
    }
    bool opens() const {
        const Move* move = nextMove();
        return move != nullptr && (move->kind == MoveKind::drop || move->kind == MoveKind::letRun);
    }

    /// What the plan itself warns of before the next move; empty: nothing.
    std::string ownCaution() const {
        for (const Caution& caution : cautions) {
            if (static_cast<int>(caution.beforeMove) == at()) return caution.words;
        }
        return {};
    }

    Lesson lesson;
    int index;
    std::string family;
    LessonSwatch wanted;
    Terms terms;
    bool mirrored;
    Swatch swatch;
    Work work;
    bool asMeant = false;
    Leaves leaves = Leaves::exact;
    bool asWasMeant = true;  ///< the plan ends in the very cloth that was meant
    std::vector<Caution> cautions;
    std::vector<Move> moves;
    std::vector<LoopId> keep;     ///< must be held before anything is let go
    std::vector<LoopId> mustGo;   ///< comes undone on the way
    std::vector<EntryId> places;  ///< where it went wrong
    int lastUndoing = -1;         ///< the last move that lets something go
    bool turned = false;          ///< seen from the side that does not face the knitter
};

Demonstration::Demonstration(const Lesson& lesson, int swatch, Terms terms, bool mirrored,
                             std::string family) {
    if (swatch < 0 || swatch >= static_cast<int>(lesson.swatches.size()))
        throw std::invalid_argument("the lesson has no such swatch");
    state_ =
        std::make_unique<State>(lesson, static_cast<std::size_t>(swatch), terms, mirrored, std::move(family));
}
Demonstration::Demonstration(Demonstration&&) noexcept = default;
Demonstration& Demonstration::operator=(Demonstration&&) noexcept = default;
Demonstration::~Demonstration() = default;

int Demonstration::moves() const {
    return static_cast<int>(state_->moves.size());
}

int Demonstration::at() const {
    return state_->at();
}

bool Demonstration::forward() {
    const Move* move = state_->nextMove();
    if (move == nullptr) return false;
    if (state_->work.canRedo()) return state_->work.redo();
    // The way was carried out before it was chosen: nothing on it is refused.
    if (!state_->work.perform(*move)) throw std::logic_error("a proved way was refused: " + textOf(*move));
    return true;
}

bool Demonstration::back() {
    return state_->work.undo();
}

void Demonstration::goTo(int move) {
    const int to = std::clamp(move, 0, moves());
    while (at() < to && forward()) {
    }
    while (at() > to && back()) {
    }
}

const Fabric& Demonstration::fabric() const {
    return state_->work.fabric();
}

std::uint64_t Demonstration::version() const {
    return state_->work.version();
}

Side Demonstration::facing() const {
    return state_->facing();
}

Side Demonstration::seen() const {
    return state_->seen();
}

void Demonstration::turnOver() {
    state_->turned = !state_->turned;
}

std::string Demonstration::heading() const {
    if (const Move* move = state_->nextMove()) return moveHeading(state_->work, *move);
    if (moves() > 0) return state_->asWasMeant ? "It is right" : "It is mended";
    return state_->asMeant ? "Nothing to mend" : "Stop here";
}

std::string Demonstration::words() const {
    const State& s = *state_;
    if (const Move* move = s.nextMove()) return groupWords(s.work, s.view(), StitchPlaces(fabric()), *move);
    if (moves() == 0 && !s.asMeant) return "No short way is known. Put a pin in it and ask.";
    if (moves() > 0 && !s.asWasMeant) return "It holds, and shows a little to whoever looks for it.";
    const int n = liveStitches(readFrom(fabric(), seen()));
    return n == 0 ? std::string("Every stitch is as it was meant.")
                  : fmt::format("Every stitch is as it was meant: {} on the needle.", numberWord(n));
}

std::string Demonstration::caution() const {
    const State& s = *state_;
    if (s.nextMove() == nullptr) {
        return s.leaves != Leaves::tight || moves() == 0
                   ? std::string()
                   : spelled("One place is tight. Ease yarn in from its neighbors.", s.terms);
    }
    if (std::string own = s.ownCaution(); !own.empty()) return spelled(std::move(own), s.terms);
    if (s.opens() && !s.keep.empty()) return "Pin first what must stay.";
    return openLoops(fabric()).empty() ? std::string() : "A stitch stands open: do not pull.";
}

bool Demonstration::warns() const {
    return state_->nextMove() != nullptr && !state_->ownCaution().empty();
}

std::optional<Move> Demonstration::next() const {
    const Move* move = state_->nextMove();
    return move == nullptr ? std::nullopt : std::optional(*move);
}

std::vector<PageMark> Demonstration::marks() const {
    const State& s = *state_;
    const Move* move = s.nextMove();
    if (move == nullptr) return {};
    std::vector<PageMark> marks;
    const auto add = [&](PageMarkKind kind, const std::vector<LoopId>& loops) {
        PageMark mark;
        mark.kind = kind;
        for (const LoopId loop : loops) {
            if (fabric().has(loop) && fabric().isLoop(loop)) mark.loops.push_back(loop);
        }
        if (!mark.loops.empty()) marks.push_back(std::move(mark));
    };
    if (at() <= s.lastUndoing) {
        add(PageMarkKind::mustGo, s.mustGo);
        add(PageMarkKind::keep, s.keep);
    }
    for (PageMark& mark : marksOf(s.work, *move)) marks.push_back(std::move(mark));
    return marks;
}

const std::vector<EntryId>& Demonstration::places() const {
    return state_->places;
}

Handout Demonstration::pageToTakeHome() const {
    const State& s = *state_;
    Handout handout;
    handout.title = s.lesson.title;
    handout.from = handoutFrom(s.wanted);
    handout.foot = fmt::format("Exercise: {}", s.lesson.id);
    // Walked through once more from here, so that this one stays where it is.
    Demonstration again(s.lesson, s.index, s.terms, s.mirrored, s.family);
    again.goTo(at());
    if (s.turned) again.turnOver();
    HandoutStep now;
    now.heading = at() == 0 ? "Where it begins" : "Where we stopped";
    if (at() > 0 && at() < moves())
        now.sentences = {
            fmt::format("{} of {} are done.", capital(many(at(), "move", "moves")), numberWord(moves()))};
    now.caution = caution();
    std::vector<EntryId> about = s.places;
    for (const Move& move : s.moves) about.insert(about.end(), move.loops.begin(), move.loops.end());
    now.pictures = bothFaces(viewAbout(fabric(), about), fabric(), seen(), {});
    if (s.nextMove() == nullptr) now.sentences.push_back(words());
    handout.steps.push_back(std::move(now));
    HandoutStep rest = movesInDrawings(again);
    rest.heading = "What is still to be done";
    if (!rest.pictures.empty()) handout.steps.push_back(std::move(rest));
    explainTerms(handout, s.terms);
    return handout;
}

}  // namespace loopmend
