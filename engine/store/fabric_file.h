// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <tl/expected.hpp>

#include "fabric/knitter.h"
#include "pattern/working.h"
#include "store/files.h"

/// The fabric file: a fabric as it lies on the table, and what the knitter needs to know to go on.
///
/// A text in UTF-8, lines ended by one line feed, to be looked at but not edited (the last line would tell):
///
///     loopmend fabric 1
///     facing right
///     round no
///     habit western
///     mirrored no
///     cast-on long-tail 25
///     rows 12
///     pattern Cast on 25 sts.\nRow 1: *k1, p1; rep from * to last st, k1.\n
///     knot yarn A ball < ...
///     measure yarn 2000 ...
///     check 0f1e2d3c4b5a6978
///
/// - The first line names the format and its version. A program reads its own version and older ones.
/// - Then notes in any order, each a word, a blank and a value. In a value `\n` is a line feed, `\r` a
/// carriage
///   return and `\\` a backslash. A note that is missing has the value that FabricNotes gives it; one that
///   this version does not know is kept and written back as it stood; one that stands twice is an error.
///     facing right|wrong       the side that faces the knitter in the row she would work next
///     round yes|no             rounds, or rows to and fro
///     habit western|eastern|combination     how she wraps
///     mirrored yes|no          a left-handed knitter
///     cast-on long-tail|backward|knitted N          how the piece was begun, and with how many stitches
///     rows N                   rows or rounds worked after the cast-on
///     pattern TEXT             the instructions it was made from
/// - `knot` and `measure` are the two lines of fabric/itinerary.h, in this order, after the notes.
/// - `check` is the 64-bit FNV-1a hash, as 16 lower-case hex digits, of every byte above its line. Nothing
///   follows it.
///
/// A file that is damaged, cut short, newer or foreign is refused with one sentence; nothing of it is used.
namespace loopmend {

/// The newest version of the format that this program reads and the one it writes.
inline constexpr int kFabricFileVersion = 1;

/// What a fabric file says beside the fabric.
struct FabricNotes {
    Side facing = Side::right;
    bool round = false;
    Habit habit = Habit::western;
    bool mirrored = false;
    CastOn castOn = CastOn::longTail;
    int stitches = 0;  ///< cast on; 0: not noted
    int rows = 0;
    std::string pattern;  ///< empty: none
    /// Notes of a newer program, name and value as they stand in the file.
    std::vector<std::pair<std::string, std::string>> unknown;
};

struct FabricFile {
    Fabric fabric;
    FabricNotes notes;
};

/// The text of a fabric file.
std::string fabricText(const Fabric& fabric, const FabricNotes& notes);

/// Reads the text of a fabric file. `name` is what the sentence of a refusal calls it.
tl::expected<FabricFile, FileError> fabricFromText(std::string_view text, const std::string& name);

/// A knitter who goes on where the needle stands, with the yarn that has a ball; none if no yarn has one.
tl::expected<Knitter, FileError> knitterOver(FabricFile& file, const std::string& name);

}  // namespace loopmend
