// SPDX-License-Identifier: MIT
#pragma once

#include "pattern/parse.h"
#include "pattern/pattern.h"

#include <string>
#include <string_view>
#include <vector>

namespace loopmend {

/// Rows under a name of their own that other rows lean on: `Panel A (10 sts)` and its rows, then `Row 1: k10,
/// work panel A, k10`.
struct Panel {
    std::string name;                ///< `panel a`
    std::vector<std::string> words;  ///< of the name; `pattern` as `patt`
    int line = 1;                    ///< of its heading
    int stitches = 0;                ///< printed in its heading; 0: they are counted
    std::string text;                ///< its rows, all else blank, so that places stay
    std::vector<std::vector<Item>> rows;
};

/// The panels of a text, and the text without them. A heading is one only if its name is said again
/// elsewhere.
struct Panels {
    std::vector<Panel> list;
    std::string text;
};
Panels panelsOf(std::string_view text);

/// Reads the rows of each; what is wrong with them goes to the problems of the pattern.
void readPanels(Panels& panels, const ParseOptions& options, Pattern& pattern);

/// Puts the stitches of panels where rows ask for them (Item::panel). A panel whose row is not said keeps a
/// count of its own: it goes on with its next row each time. Where rows that are repeated ask for it, they
/// are written out until all panels are through at once.
void workPanels(const Panels& panels, Pattern& pattern);

}  // namespace loopmend
