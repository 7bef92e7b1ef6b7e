// SPDX-License-Identifier: MIT
#include "repair/work.h"

#include <algorithm>
#include <stdexcept>

namespace loopmend {

namespace {

WorkStart startOf(const Knitting& knitting) {
    const Knitter& k = knitting.knitter;
    const Fabric& f = *knitting.fabric;
    const std::vector<YarnId> yarns = numbering(f).yarns;
    const auto numberOf = [&](YarnId yarn) {
        const auto at = std::find(yarns.begin(), yarns.end(), yarn);
        return at == yarns.end() ? -1 : static_cast<int>(at - yarns.begin());
    };
    std::vector<BallAtHand> balls;
    for (const YarnId yarn : k.yarnsAtHand()) balls.push_back({f[yarn].flags.colour, numberOf(yarn)});
    return {itinerary(f),
            {k.facing(), k.inTheRound(), k.habit(), k.mirrored(), std::max(numberOf(k.yarn()), 0), k.floats(),
             std::move(balls)}};
}

Fabric readAgain(const Itinerary& lines) {
    tl::expected<Fabric, TextFault> fabric = fabricFrom(lines);
    if (!fabric)
        throw std::logic_error("a fabric could not be read from its own text: " + fabric.error().message);
    return std::move(*fabric);
}

}  // namespace

Work::Hands::Hands(Fabric cloth, const Stance& stance)
    : fabric(std::make_unique<Fabric>(std::move(cloth))),
      knitter(*fabric, YarnId{stance.yarn}, stance.facing, stance.round, stance.habit, stance.mirrored),
      workplace(knitter) {
    const Yarn like = (*fabric)[YarnId{stance.yarn}];
    std::vector<YarnId> atHand;
    for (const BallAtHand& ball : stance.balls) {
        atHand.push_back(ball.yarn >= 0 ? YarnId{ball.yarn}
                                        : fabric->addYarn(ball.color, like.loopUm, like.strandUm));
    }
    knitter.layOut(std::move(atHand));
    knitter.takeYarn(YarnId{stance.yarn}, stance.floats);
}

Work::Work(WorkStart start, Fabric fabric)
    : start_(std::move(start)), hands_(std::make_unique<Hands>(std::move(fabric), start_.stance)) {}

Work::Work(Knitting start) : start_(startOf(start)) {
    hands_ = std::make_unique<Hands>(readAgain(start_.lines), start_.stance);
}

tl::expected<Work, TextFault> Work::from(const WorkStart& start) {
    tl::expected<Fabric, TextFault> fabric = fabricFrom(start.lines);
    if (!fabric) return tl::unexpected<TextFault>(fabric.error());
    const auto isThere = [&](int yarn) { return yarn >= 0 && yarn < fabric->yarnCount(); };
    const auto isLaid = [&](const BallAtHand& ball) { return ball.yarn == -1 || isThere(ball.yarn); };
    const std::vector<BallAtHand>& balls = start.stance.balls;
    if (!isThere(start.stance.yarn) || !std::all_of(balls.begin(), balls.end(), isLaid)) {
        return tl::unexpected<TextFault>(TextFault{"there is no such yarn to work with"});
    }
    return Work(start, std::move(*fabric));
}

void Work::goBack(Before before) {
    hands_->knitter.rollBack(before.state);
    hands_->workplace.setStacked(std::move(before.stacked));
    hands_->knitter.layOut(std::move(before.atHand));
}

Result<LoopId> Work::perform(const Move& move) {
    Before was = before();
    const Result<LoopId> made = hands_->workplace.perform(move);
    if (!made) {
        goBack(std::move(was));
        return made;
    }
    done_.push_back(move);
    made_.push_back(*made);
    befores_.push_back(std::move(was));
    undone_.clear();
    ++version_;
    return made;
}

bool Work::undo() {
    if (done_.empty()) return false;
    goBack(std::move(befores_.back()));
    befores_.pop_back();
    made_.pop_back();
    undone_.push_back(std::move(done_.back()));
    done_.pop_back();
    ++version_;
    return true;
}

bool Work::redo() {
    if (undone_.empty()) return false;
    std::vector<Move> later = std::move(undone_);
    const Move move = std::move(later.back());
    later.pop_back();
    // What was done from the same fabric before can be done again.
    if (!perform(move)) throw std::logic_error("a move taken back could not be done again: " + textOf(move));
    undone_ = std::move(later);
    return true;
}

void Work::undoAll() {
    while (undo()) {
    }
}

void Work::redoAll() {
    while (redo()) {
    }
}

tl::expected<void, ReplayFault> Work::resume(const std::vector<Move>& done, const std::vector<Move>& undone) {
    if (!done_.empty() || !undone_.empty())
        throw std::logic_error("only a work without moves can be resumed");
    std::size_t number = 0;
    for (const std::vector<Move>* list : {&done, &undone}) {
        for (const Move& move : *list) {
            const Result<LoopId> made = perform(move);
            if (!made) {
                while (done_.size() > done.size()) (void)undo();
                undone_.clear();
                return tl::unexpected<ReplayFault>(ReplayFault{number, made.error()});
            }
            ++number;
        }
    }
    while (done_.size() > done.size()) (void)undo();
    return {};
}

}  // namespace loopmend
