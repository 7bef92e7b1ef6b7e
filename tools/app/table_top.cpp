// SPDX-License-Identifier: MIT
#include "app/table_top.h"

#include "fabric/refusal.h"

namespace loopmend::app {

Side TableTop::seen() const {
    if (session_) return session_->seen();
    return turnedOver_ ? opposite(facing()) : facing();
}

void TableTop::turnOver() {
    if (session_) {
        session_->turnOver();
    } else {
        turnedOver_ = !turnedOver_;
    }
}

bool TableTop::perform(const Move& move) {
    if (session_) return session_->perform(move);
    const Result<LoopId> done = piece_->work().perform(move);
    said_ = done ? std::string() : sentence(done.error());
    return done.has_value();
}

bool TableTop::undo() {
    said_.clear();
    return session_ ? session_->undo() : piece_->work().undo();
}

bool TableTop::redo() {
    said_.clear();
    return session_ ? session_->redo() : piece_->work().redo();
}

bool TableTop::knitRow() {
    if (session_) {
        const std::vector<Move> moves = session_->knitRow();
        for (const Move& move : moves) {
            if (!session_->perform(move)) return false;
        }
        return !moves.empty();
    }
    const std::vector<Move> moves = piece_->restOfRow();
    for (const Move& move : moves) {
        if (!perform(move)) return false;
    }
    return !moves.empty();
}

}  // namespace loopmend::app
