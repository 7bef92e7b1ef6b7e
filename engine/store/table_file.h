// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <tl/expected.hpp>

#include "fault/place.h"
#include "pattern/working.h"
#include "repair/work.h"
#include "store/files.h"

/// The table file: what lies on the table, how it came there and what was done to it, so that all of it can
/// be taken up again, undo and redo included.
///
/// A text in UTF-8 as store/lines.h describes it:
///
///     loopmend table 1
///     pattern Cast on 16 sts.\nRow 1: k.\nRow 2: p.\n
///     cast-on long-tail 16
///     lengths 16800/4200
///     rows 12
///     fault ladder_stockinette@7,8,6
///     after reading
///     seed 7
///     tex 400
///     needle 6
///     color 0
///     session heading on\n ...
///     facing right
///     round no
///     habit western
///     mirrored no
///     yarn 0
///     balls A0 B1
///     floats wrong
///     knot yarn A ball < ...
///     measure yarn 2000 ...
///     did pin 41
///     did let-run 112
///     back seat 113
///     check 0f1e2d3c4b5a6978
///
/// - First what was meant and what it is knitted with (TableNotes): `fault` may stand several times, the
///   others once. A note that is missing has the value that TableNotes gives it; one that this version does
///   not know is kept and written back as it stood.
/// - Then how the knitter stands (Stance) and the two lines of the fabric at the start (fabric/itinerary.h).
/// - Then the hand moves done since, oldest first, and those taken back, the one to be done again first, as
///   repair/moves.h writes them.
///
/// A file that is damaged, cut short, newer or foreign, or whose moves cannot be done on its fabric, is
/// refused with one sentence and left alone; nothing of it is used.
namespace loopmend {

/// The newest version of the format that this program reads and the one it writes.
inline constexpr int kTableFileVersion = 1;

/// What a table file says beside the work itself.
struct TableNotes {
    std::string pattern;  ///< the instructions meant; empty: none
    CastOn castOn = CastOn::longTail;
    int stitches = 0;                ///< cast on; 0: not noted
    std::int32_t loopUm = 16800;     ///< an ordinary loop, µm
    std::int32_t strandUm = 4200;    ///< an ordinary strand between two loops, µm
    int rows = 0;                    ///< worked before any mistake is mended
    std::vector<FaultPlace> faults;  ///< put in, in that order
    After after = After::byReading;
    std::uint64_t seed = 1;   ///< small unevenness of the picture
    double tex = 400;         ///< yarn, grams a kilometre
    double needleMm = 6;      ///< needle, mm
    std::uint32_t color = 0;  ///< which of the picture's wools
    std::string session;      ///< whatever a lesson wants to find again; empty: no lesson
    /// Notes of a newer program, name and value as they stand in the file.
    std::vector<std::pair<std::string, std::string>> unknown;

    friend bool operator==(const TableNotes& a, const TableNotes& b) {
        return a.pattern == b.pattern && a.castOn == b.castOn && a.stitches == b.stitches &&
               a.loopUm == b.loopUm && a.strandUm == b.strandUm && a.rows == b.rows && a.faults == b.faults &&
               a.after == b.after && a.seed == b.seed && a.tex == b.tex && a.needleMm == b.needleMm &&
               a.color == b.color && a.session == b.session && a.unknown == b.unknown;
    }
};

struct TableFile {
    Work work;
    TableNotes notes;
};

/// The text of a table file.
std::string tableText(const Work& work, const TableNotes& notes);

/// Reads the text of a table file. `name` is what the sentence of a refusal calls it.
tl::expected<TableFile, FileError> tableFromText(std::string_view text, const std::string& name);

/// Reads and writes whole files (store/files.h).
tl::expected<TableFile, FileError> readTable(Disk& disk, const std::string& path);
tl::expected<void, FileError> writeTable(Disk& disk, const std::string& path, const Work& work,
                                         const TableNotes& notes);

}  // namespace loopmend
