// SPDX-License-Identifier: MIT
#pragma once

#include <functional>
#include <map>
#include <string>
#include <string_view>
#include <vector>

#include <tl/expected.hpp>

#include "diagnosis/case.h"
#include "store/files.h"

/// The case file: what a knitter was knitting and what she noticed, in JSON, so that it can be written by
/// hand.
///
///     { "pattern": "Cast on 16 sts.\nRow 1: k.\nRow 2: p.", "stitches": 16, "rows_done": 24,
///       "noticed": [
///         { "kind": "count", "row": 24, "stitches": 15, "sure": 0.95 },
///         { "kind": "row-does-not-fit", "row": 25, "by": -1 },
///         { "kind": "landmark-breaks", "landmark": "double-decrease", "row": 19, "repeat": 3 },
///         { "kind": "looks", "row": 18, "stitch": 12, "seen": "no-hole" },
///         { "kind": "fine", "row_from": 1, "row_to": 16 },
///         { "kind": "picture", "picture": "hole", "row": 18, "column": 12 },
///         { "kind": "came-out", "by": -1 }, { "kind": "safe" },
///         { "kind": "look", "look": "search:row=3-6,column=2-9", "what": "place", "seen": "hole", "row": 4,
///           "column": 5 } ] }
///
/// - `pattern` is its text, or the path of a file with it (see `patternBeside`). Without it `ground` is one
///   of `plain`, `garter`, `rib`, `seed`, `unknown`. `stitches` (0 or left out: she does not know),
///   `rows_done`, `facing` (`rs`, `ws`; said, not needed), `seed`, `beginner` (seconds of counting against
///   the usual).
/// - Each line of `noticed` may carry `sure` (0 to 1), `seconds` (not needed) and `told` (false: she could
///   not tell). `looks` is a close look. `look` is any look, as `text(Look)` writes it, and what came of it:
///   `what` (`nothing`, `number`, `beyond`, `ninth`, `place`, `sign`, `repeat`, `unnamed`, `unclear`) with
///   `by`, `seen`, `row` and `column`. A look can be named by its way as well: `"kind": "close"`, with its
///   places in `look_at`.
/// - Files that the program writes have `format` and `version` too. A newer version, a foreign file, text
///   that is no JSON and words that are not known are refused, each with its line; nothing is half-read.
namespace loopmend {

inline constexpr int kCaseFileVersion = 1;

struct CaseFile {
    CaseStart start;
    std::vector<CaseNote> notes;  ///< with their lines
};

/// Reads the text of a case file. `name` is what the sentence of a refusal calls it.
/// `findPattern` makes the words of a pattern of what stands there (a path, say).
using FindPattern = std::function<tl::expected<std::string, FileError>(const std::string&)>;
tl::expected<CaseFile, FileError> caseFromText(std::string_view text, const std::string& name,
                                               const FindPattern& findPattern = {});
/// What is no pattern's words (one line without a colon) is the path of a file that `read` reads; it begins
/// at the folder of `file`.
FindPattern patternBeside(const std::string& file, const FindPattern& read);
/// Takes up the case: refuses what contradicts its own pattern, a row past the end, a stitch outside the row,
/// each with its line.
tl::expected<Case, FileError> caseFrom(const CaseFile& file, const std::string& name,
                                       const CaseManners& manners = {});
std::string caseText(const CaseStart& start, const std::vector<CaseNote>& notes);

/// Reads and writes whole files (store/files.h), patterns beside them too.
tl::expected<CaseFile, FileError> readCase(Disk& disk, const std::string& path);
tl::expected<void, FileError> writeCase(Disk& disk, const std::string& path, const CaseStart& start,
                                        const std::vector<CaseNote>& notes);

/// How often mistakes are made: lines of a fault's id and a number, `missed_yo 10`; `#` begins a remark.
/// `not-in-list` is what nobody has listed. Refused with the line: an unknown id, a number below 0.
tl::expected<std::map<std::string, double>, FileError> priorsFromText(std::string_view text,
                                                                      const std::string& name);
std::string priorsText(const std::map<std::string, double>& priors);

}  // namespace loopmend
