// SPDX-License-Identifier: MIT
//
// Ways back on the free table: chosen, gone through on the cloth, and done by hand.
#include "app/app.h"

namespace loopmend::app {

void App::performWays(const Command& command) {
    FreePiece* piece = table_->piece();
    if (piece == nullptr) return;
    piece->setPace(learning_.progress().pace);
    std::optional<ChosenWay>& chosen = free_.chosen;
    // Hands have done something else in between: what was shown is no more what lies there.
    if (chosen && piece->work().done().size() != chosen->before + chosen->shown) chosen.reset();
    switch (command.ask) {
        case Ask::showPlans:
            free_.showPlans = !free_.showPlans;
            chosen.reset();
            free_.byHand = false;
            break;
        case Ask::chooseWay: {
            chosen.reset();
            free_.byHand = false;
            const auto& all = piece->ways().all;
            const auto n = static_cast<std::size_t>(command.n);
            if (command.n >= 0 && n < all.size()) chosen = ChosenWay{all[n], 0, piece->work().done().size()};
            break;
        }
        case Ask::moreWays: free_.moreWays = !free_.moreWays; break;
        case Ask::wayForward:
            if (!chosen || chosen->shown >= chosen->way.plan.moves.size()) return;
            if (!table_->perform(chosen->way.plan.moves[chosen->shown].move)) {
                notice(table_->said());
                return;
            }
            ++chosen->shown;
            break;
        case Ask::wayBack:
            if (!chosen || chosen->shown == 0 || !table_->undo()) return;
            --chosen->shown;
            break;
        case Ask::wayByHand:
            if (!chosen) return;
            for (; chosen->shown > 0 && table_->undo(); --chosen->shown) {
            }
            chosen.reset();
            free_.byHand = true;
            controls_.goTo(Area::cloth);
            break;
        default: break;
    }
    offersOf_ = 0;
}

/// Before the first move: what must come undone, and what must be held.
void App::lightWay(std::vector<ClothMark>& marks) const {
    if (table_->piece() == nullptr || !free_.showPlans || !free_.chosen || free_.chosen->shown != 0) return;
    const Plan& plan = free_.chosen->way.plan;
    const Fabric& fabric = table_->fabric();
    for (const LoopId loop : plan.comesUndone) {
        if (fabric.has(loop)) marks.push_back({loop, MarkKind::mustComeUndone});
    }
    for (const LoopId loop : plan.needsOnTool) {
        if (fabric.has(loop)) marks.push_back({loop, MarkKind::column});
    }
}

}  // namespace loopmend::app
