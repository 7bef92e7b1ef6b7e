// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <string>

#include "app/free_piece.h"
#include "tutor/session.h"

namespace loopmend::app {

/// What lies on the table: a lesson's cloth or a free piece, and the hands on it. One way to do a move,
/// whichever it is.
class TableTop {
  public:
    explicit TableTop(Session session) : session_(std::make_unique<Session>(std::move(session))) {}
    explicit TableTop(FreePiece piece) : piece_(std::make_unique<FreePiece>(std::move(piece))) {}

    /// Exactly one of these is there.
    Session* session() { return session_.get(); }
    const Session* session() const { return session_.get(); }
    FreePiece* piece() { return piece_.get(); }
    const FreePiece* piece() const { return piece_.get(); }

    Work& work() { return session_ ? session_->work() : piece_->work(); }
    const Work& work() const {
        return session_ ? static_cast<const Session&>(*session_).work()
                        : static_cast<const FreePiece&>(*piece_).work();
    }
    const Fabric& fabric() const { return work().fabric(); }
    std::uint64_t version() const { return session_ ? session_->version() : piece_->work().version(); }
    const Script& script() const { return session_ ? session_->script() : piece_->script(); }

    /// The side that faces the knitter, for which moves are said, and the side that is looked at now.
    Side facing() const { return work().knitter().facing(); }
    Side seen() const;
    void turnOver();

    /// False: hands cannot do that, and `said` tells why.
    bool perform(const Move& move);
    bool undo();
    bool redo();
    /// Works the rest of the row in hand as it is meant, and turns.
    bool knitRow();

    /// What the last move came to, on a free piece (a lesson says it on its page).
    const std::string& said() const { return said_; }
    void say(std::string words) { said_ = std::move(words); }

  private:
    std::unique_ptr<Session> session_;
    std::unique_ptr<FreePiece> piece_;
    bool turnedOver_ = false;
    std::string said_;
};

}  // namespace loopmend::app
