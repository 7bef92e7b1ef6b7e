// SPDX-License-Identifier: MIT
#pragma once

#include "pattern/pattern.h"

#include <string>
#include <vector>

namespace loopmend::outside {

/// One line of patterns.tsv: a stitch pattern read in a public-domain book (source, place and ebook number in
/// the line), with the stitches after each row as recorded by whoever read it.
struct BookPattern {
    std::string id;
    std::string name;
    std::string category;
    std::string source;
    std::string place;
    std::string notes;
    int mult = 0;  ///< stitches of a repeat; 0 = worked on exactly `edge` stitches
    int edge = 0;
    bool round = false;
    int loopFirst = 0;
    int loopLast = 0;
    bool closes = false;
    bool countOnly =
        false;  ///< the notes say that its stitches were written plain: good for counts, not for looks
    std::vector<int> counts;  ///< after each row, for two repeats
    std::vector<int>
        perRepeat;  ///< the same split: perRepeat * repeats + edgeStitches; empty where mult is 0
    std::vector<int> edgeStitches;
    Pattern pattern;

    int castOn(int repeats) const { return mult * repeats + edge; }
    int after(std::size_t row, int repeats) const {
        return mult == 0 ? counts[row] : perRepeat[row] * repeats + edgeStitches[row];
    }
};

/// All of them, in the order of the file. Throws std::runtime_error with the line if the file is not as
/// expected.
std::vector<BookPattern> bookPatterns();

/// The notation of the file's column `rows`, as rows of our language: `1: k2 [yo k2tog]* | 2,4: [p1]*`.
std::vector<Row> rowsFromNotation(const std::string& notation, bool round);

}  // namespace loopmend::outside
