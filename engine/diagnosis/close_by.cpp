// SPDX-License-Identifier: MIT
#include "diagnosis/close_by.h"

#include <cstdlib>

namespace loopmend {

Look closeLookAt(int row, int column, Side side) {
    Look look;
    look.way = LookWay::closeLook;
    look.rowFrom = look.rowTo = row;
    look.columnFrom = look.columnTo = column;
    look.side = side;
    return look;
}

std::vector<CloseBy> closeBy(const LookedAt& piece, int row, int column, Side side) {
    std::vector<CloseBy> found;
    for (const int dr : {0, 1, -1})
        for (const int dc : {0, 1, -1, 2, -2}) {
            const Look look = closeLookAt(row + dr, column + dc, side);
            if (look.rowFrom < 1 || look.columnFrom < 1 || look.columnFrom > piece.width(look.rowFrom))
                continue;
            const Sighting seen = answer(look, piece);
            if (seen.what != Sighting::What::sign || seen.oddity == OddSign::none) continue;
            found.push_back({seen.oddity, look.rowFrom, look.columnFrom, std::abs(dr) + std::abs(dc)});
        }
    return found;
}

}  // namespace loopmend
