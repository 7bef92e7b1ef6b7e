// SPDX-License-Identifier: MIT
#pragma once

#include <memory>
#include <vector>

#include "reading/answer.h"
#include "reading/both_sides.h"
#include "reading/columns.h"

/// What `LookedAt` keeps. Only the answering of looks includes this.
namespace loopmend {

/// One place that is odd: unlike what was meant, or standing out.
struct OddPlace {
    int row = 0;
    int column = 0;
    OddSign sign = OddSign::other;  ///< as the right side shows it
    bool onRight = true;            ///< shows from the right side
    bool onWrong = true;

    bool shows(Side side) const { return side == Side::right ? onRight : onWrong; }
};

/// How a row lies against the row that was meant, in the order worked: so many stitches from its beginning
/// and from its end look alike; between them stitch by stitch, as far as they find together again.
struct RowMatch {
    int alike = 0;
    int alikeAtEnd = 0;
    int meant = 0;  ///< stitches
    int actual = 0;
    std::vector<int> between;  ///< of the meant stitches between: the actual one; 0: none
    /// The stitch of the actual row that is this one of the meant row; 0: it cannot be told.
    int actualOf(int stitch) const {
        if (stitch < 1 || stitch > meant) return 0;
        if (stitch <= alike) return stitch;
        if (meant - stitch < alikeAtEnd) return actual - (meant - stitch);
        return between[static_cast<std::size_t>(stitch - alike - 1)];
    }
};

/// A fabric that was read; columns and lines are those of its right side.
struct ReadPiece {
    ReadPiece(const Fabric& fabric, Knits hands);

    BothSides sides;
    Columns columns;
    std::vector<Landmark> lines;

    const Reading& right() const { return sides.right; }
};

struct LookedAt::Inner {
    /// Of a fabric that was read; compared with what was meant, if that is known.
    Inner(const Fabric& fabric, std::shared_ptr<const ReadPiece> read, std::shared_ptr<const ReadPiece> meant,
          const Script* script);

    std::shared_ptr<const ReadPiece> is;
    std::shared_ptr<const ReadPiece> was;  ///< as it was meant, if that is known
    std::vector<RowMatch> matches;         ///< by row
    std::vector<int> stitchesMeant;        ///< on the needle after each row, also of rows to come
    std::vector<OddPlace> odd;             ///< by row, then by column
    std::vector<std::size_t> oddFrom;      ///< by row: where its odd places begin; one more at the end
    std::vector<OddPlace> free;            ///< stitches that stand free, by row
    std::vector<bool> slack;               ///< by place of its columns: a long bar beside it

    bool compared() const { return was != nullptr; }
    int rows() const { return static_cast<int>(is->right().rows.size()) - 1; }
    const ReadRow* row(const Reading& reading, int r) const {
        return r >= 0 && r < static_cast<int>(reading.rows.size())
                   ? &reading.rows[static_cast<std::size_t>(r)]
                   : nullptr;
    }
    /// Cells with a stitch number, in the order worked.
    static std::vector<const Cell*> worked(const ReadRow& row);

  private:
    void compare();
    void countMeant(const Script* script);
    void compareRow(int r);
    void compareTurns();
    void compareSizes(const Cell& a, const Cell& b, int row);
    void comparePair(const Cell* a, const Cell& b, int row);
    void compareLost(const Cell& a, int row, int column);
    void whatStandsOut(const Fabric& fabric);
    void findFree();
    void findSlack(const Fabric& fabric);
    void sortOdd();
    void add(int row, int column, OddSign sign, bool onRight = true, bool onWrong = true);
};

/// The sign of one stitch by itself, as the side that was read shows it.
OddSign signOf(const Symbol& symbol);
/// What is odd about a stitch that should look otherwise; none if they look alike. Both as one side shows
/// them.
OddSign signAgainst(const Symbol& meant, const Symbol& actual);
/// The same sign as the other side shows it.
OddSign turnedOver(OddSign sign);
/// What light from the side, and a finger, show of it; none: nothing.
OddSign slanted(OddSign sign);

Sighting said(Sighting::What what);
/// A number, or that it is beyond the list.
Sighting number(int by, int most);

}  // namespace loopmend
