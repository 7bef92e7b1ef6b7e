// SPDX-License-Identifier: MIT
#include "tutor/lesson_handout.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include <fmt/format.h>

#include "fabric/rows.h"
#include "picture/drawing.h"
#include "repair/columns_seen.h"
#include "repair/workplace.h"
#include "tutor/session.h"

namespace loopmend {

namespace {

/// Plays a lesson, and writes down what a page to take home should say.
class Player {
  public:
    Player(const Lesson& lesson, Terms terms, bool mirrored) : session_(lesson, terms, mirrored) {
        handout_.title = lesson.title;
        if (!lesson.first().member.empty()) {
            handout_.from = fmt::format("Harbour Lane evening knitting circle: {}'s {}",
                                        lesson.first().member, lesson.first().thing);
        }
        findPlace();
    }

    Handout play() {
        constexpr int kMostPages = 50;  // lessons have about ten
        for (int i = 0; i < kMostPages; ++i) {
            page();
            if (!session_.canGoOn() || session_.page().step == session_.page().steps) break;
            session_.next();
        }
        return std::move(handout_);
    }

  private:
    /// The stitches and rows that the pictures show: about the open loops, if there are any.
    void findPlace() {
        const Fabric& f = session_.fabric();
        const SeenColumns columns(f);
        const Rows rows = rowsOf(f);
        constexpr int kAround = 4;
        constexpr int kBelow = 2;
        for (std::int32_t i = 0; i < f.entryCount(); ++i) {
            const LoopId loop{i};
            if (!f.has(loop) || !f.isLoop(loop) || !f.isLoose(loop) || f.isNothing(loop)) continue;
            const int column = static_cast<int>(std::lround(columns.of(loop))) + 1;
            const int first = std::max(1, column - kAround);
            const int last = column + kAround;
            const int row = std::max(0, static_cast<int>(rows[loop]) - kBelow);
            options_.firstStitch = options_.firstStitch == 0 ? first : std::min(options_.firstStitch, first);
            options_.lastStitch = std::max(options_.lastStitch, last);
            options_.firstRow = options_.firstRow == 0 ? row : std::min(options_.firstRow, row);
        }
        options_.caption = false;
    }

    std::vector<HandoutPicture> bothFaces() const {
        DrawingOptions options = options_;
        for (const PageMark& mark : session_.marks()) {
            Highlight highlight;
            switch (mark.kind) {
                case PageMarkKind::next:
                    highlight.colour = 1;
                    highlight.line = Highlight::Line::dashes;
                    break;
                case PageMarkKind::through:
                    highlight.colour = 5;
                    highlight.line = Highlight::Line::dots;
                    break;
                case PageMarkKind::mustGo:
                    highlight.colour = 6;
                    highlight.line = Highlight::Line::dashes;
                    break;
                case PageMarkKind::keep:
                    highlight.colour = 3;
                    highlight.line = Highlight::Line::dots;
                    break;
                default: highlight.colour = 2; break;
            }
            for (const std::vector<EntryId>* list : {&mark.loops, &mark.rungs}) {
                for (const EntryId entry : *list) {
                    highlight.entry = entry;
                    options.highlights.push_back(highlight);
                }
            }
        }
        std::vector<HandoutPicture> pictures;
        for (const Side side : {session_.facing(), opposite(session_.facing())}) {
            options.side = side;
            HandoutPicture picture;
            picture.drawing = drawingOf(session_.fabric(), options);
            picture.caption =
                fmt::format("{}: the {} side", side == session_.facing() ? "Facing you" : "The other face",
                            side == Side::right ? "right" : "wrong");
            picture.drawing.title = picture.caption;
            pictures.push_back(std::move(picture));
        }
        return pictures;
    }

    static HandoutStep stepOf(const Page& page, bool withTask) {
        HandoutStep step;
        step.heading = page.heading;
        step.sentences = page.paragraphs;
        if (withTask && !page.task.empty()) step.sentences.push_back(page.task);
        step.caution = page.caution;
        return step;
    }

    void page() {
        const StepKind kind = session_.step();
        const std::size_t at = handout_.steps.size();
        const bool byHand = kind == StepKind::putRight || kind == StepKind::makeSafe;
        handout_.steps.push_back(stepOf(session_.page(), !byHand));
        if (kind == StepKind::nextTime || kind == StepKind::inWool) return;
        if (!byHand) handout_.steps[at].pictures = bothFaces();
        const std::uint64_t before = session_.version();
        doWhatIsAsked();
        if (session_.seen() != session_.facing()) session_.turnOver();
        if (byHand && session_.version() != before) {
            HandoutStep done;
            done.part = true;
            done.heading = "And then";
            done.sentences = session_.page().paragraphs;
            done.pictures = bothFaces();
            handout_.steps.push_back(std::move(done));
        }
    }

    /// Shown moves, answers, looks and touches in turn, and hints where nothing else is left.
    void doWhatIsAsked() {
        constexpr int kMost = 400;
        const bool looks = session_.step() == StepKind::look || session_.step() == StepKind::check;
        bool turned = !looks;
        bool tugged = !looks;
        moves_ = 0;
        for (int guard = 0; guard < kMost && !session_.canGoOn(); ++guard) {
            if (const std::optional<Move> shown = session_.shownMove()) {
                if (!takeMove(*shown)) return;
            } else if (answer()) {
                continue;
            } else if (!tugged) {
                tugged = true;
                session_.look(LookKind::tug);
            } else if (!turned) {
                turned = true;
                session_.turnOver();
            } else if (session_.step() == StepKind::check && knitOn()) {
                continue;
            } else if (pointAtMarks()) {
                continue;
            } else if (session_.page().hasHint) {
                (void)session_.hint();
            } else {
                return;
            }
        }
    }

    /// A move of its own; the third and further ones of one kind are told together.
    bool takeMove(const Move& move) {
        const std::string task = session_.page().task;
        HandoutStep part;
        part.part = true;
        part.sentences = {task};
        part.pictures = bothFaces();
        if (!session_.perform(move)) return false;
        ++moves_;
        HandoutStep& last = handout_.steps.back();
        const bool same = moves_ > 1 && last.part && last.sentences.front() == task;
        sameMoves_ = same ? sameMoves_ + 1 : 0;
        constexpr int kAlone = 2;
        if (sameMoves_ > kAlone) {
            last.heading =
                fmt::format("Moves {} to {}: the same again", moves_ - sameMoves_ + kAlone, moves_);
            last.pictures = std::move(part.pictures);
            return true;
        }
        part.heading = fmt::format("Move {}", moves_);
        handout_.steps.push_back(std::move(part));
        return true;
    }

    /// Answers a question; false: there is none. What holds, and what that means, is written down.
    bool answer() {
        const std::vector<Choice> choices = session_.page().choices;
        const std::string question = session_.page().task;
        if (question.empty() || choices.empty()) return false;
        std::vector<std::string> answers;
        bool tried = false;
        for (std::size_t i = 0; i < choices.size(); ++i) {
            if (choices[i].state != ChoiceState::open) continue;
            tried = true;
            session_.choose(static_cast<int>(i));
            const std::vector<Choice>& now = session_.page().choices;
            const bool stands = i < now.size() && now[i].text == choices[i].text;
            const bool right = stands ? now[i].state == ChoiceState::right : session_.canGoOn();
            if (!right && !(stands && now[i].state == ChoiceState::possible)) continue;
            std::string text = choices[i].text;
            if (text.back() != '.') text += '.';
            answers.push_back(
                fmt::format("*{}* {} {}", right ? "Answer:" : "Also possible:", text, session_.page().said));
            if (right) break;
        }
        std::vector<std::string>& sentences = handout_.steps.back().sentences;
        if (tried && std::find(sentences.begin(), sentences.end(), question) == sentences.end()) {
            sentences.push_back(question);
        }
        sentences.insert(sentences.end(), answers.rbegin(), answers.rend());
        return tried;
    }

    bool knitOn() {
        const std::vector<Move> moves = session_.knitRow();
        return !moves.empty() && std::all_of(moves.begin(), moves.end(),
                                             [&](const Move& move) { return session_.perform(move); });
    }

    /// Points at what the last hint has lit; false: nothing new to point at.
    bool pointAtMarks() {
        bool any = false;
        const auto point = [&](PointTarget::Thing thing, EntryId entry) {
            const PointTarget target{thing, entry, PointTarget::Spot::whole};
            if (std::find(pointed_.begin(), pointed_.end(), target) != pointed_.end()) return;
            pointed_.push_back(target);
            session_.pointAt(target);
            any = true;
        };
        for (const PageMark& mark : session_.marks()) {
            if (mark.kind != PageMarkKind::next) continue;
            for (const EntryId loop : mark.loops) point(PointTarget::Thing::loop, loop);
            for (const EntryId rung : mark.rungs) point(PointTarget::Thing::rung, rung);
            for (const EntryId strand : mark.strands) point(PointTarget::Thing::strand, strand);
        }
        return any;
    }

    Session session_;
    Handout handout_;
    DrawingOptions options_;
    int moves_ = 0;      ///< on this page
    int sameMoves_ = 0;  ///< of those, how many followed one that was asked for in the same words
    std::vector<PointTarget> pointed_;
};

}  // namespace

Handout handoutOf(const Lesson& lesson, Terms terms, bool mirrored) {
    return Player(lesson, terms, mirrored).play();
}

}  // namespace loopmend
