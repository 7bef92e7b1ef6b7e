// SPDX-License-Identifier: MIT
#include "repair/notion.h"

namespace loopmend {

Notion notionFor(const Move& move) {
    switch (move.kind) {
        case MoveKind::pin:
        case MoveKind::unpin:
        case MoveKind::mark: return Notion::pin;
        case MoveKind::stack:
        case MoveKind::hook: return Notion::hook;
        case MoveKind::liftBar: return move.liftTo == LiftTo::needle ? Notion::needle : Notion::pin;
        case MoveKind::seat:
        case MoveKind::remount:
        case MoveKind::tink:
        case MoveKind::castOn:
        case MoveKind::turnJoin:
        case MoveKind::work:
        case MoveKind::passOver:
        case MoveKind::slipTo: return Notion::needle;
        case MoveKind::thread:
        case MoveKind::unthread: return move.spare ? Notion::spareNeedle : Notion::thread;
        case MoveKind::cross: return Notion::cableNeedle;
        case MoveKind::snip: return Notion::scissors;
        case MoveKind::drawSlack:
        case MoveKind::pickOut:
        case MoveKind::graft:
        case MoveKind::sewOver:
        case MoveKind::fasten:
        case MoveKind::weave:
        case MoveKind::join: return Notion::bluntNeedle;
        case MoveKind::drop:
        case MoveKind::letRun:
        case MoveKind::rip:
        case MoveKind::turn:
        case MoveKind::inspect:
        case MoveKind::tug:
        case MoveKind::count:
        case MoveKind::sort: return Notion::fingers;
    }
    return Notion::fingers;
}

}  // namespace loopmend
