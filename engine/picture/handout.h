// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "picture/canvas.h"

/// A page to take home: headings, a few sentences and pictures, one step after another. From it come a web
/// page and sheets of paper (picture/paper/handout_paper.h).
namespace loopmend {

struct HandoutPicture {
    Drawing drawing;
    std::string caption;  ///< below it, broken into lines as wide as the picture's place
};

/// In sentences a word between two asterisks is a trade term at its first use: `*ladder*`.
struct HandoutStep {
    std::string heading;
    std::vector<std::string> sentences;
    std::vector<std::string> lines;        ///< as they are, asterisks too: rows of a pattern
    std::vector<std::string> choices;      ///< to be ticked with a pencil
    std::string caution;                   ///< where work or hands can come to harm; may be empty
    std::vector<HandoutPicture> pictures;  ///< side by side where they fit: both faces of the cloth, say
    int across = 2;         ///< so many of its pictures stand side by side, each as wide as the others
    bool part = false;      ///< a smaller step of the one before
    bool newSheet = false;  ///< begins a sheet of its own
};

struct Handout {
    std::string title;
    std::string from;  ///< whose evening it comes from; may be empty
    std::string foot;  ///< at the foot of every sheet, beside its number: which exercise it is; may be empty
    std::vector<HandoutStep> steps;
};

/// Sheets of paper, mm. Letters are large: for a table, not for a desk.
struct SheetSize {
    double widthMm = 210;
    double heightMm = 297;
    double marginMm = 16;
    double letterMm = 4.6;  ///< height of the letters' body, about 13 points
};
/// The size that is called `a4` or `letter` (215.9 by 279.4 mm); none if it has another name.
std::optional<SheetSize> sheetSizeFrom(std::string_view name);

/// The handout laid out on sheets, each numbered at its foot, from the second with the title at its head. A
/// step is kept on one sheet where it fits; a long one breaks between its pictures.
std::vector<Drawing> sheetsOf(const Handout& handout, const SheetSize& size = {});

/// Words broken into lines that are not wider; a longer word stands alone. The width is an upper bound for
/// the letters of DejaVu Sans, so that no line runs over.
std::vector<std::string> brokenLines(const std::string& words, double widthMm, double letterMm,
                                     bool bold = false);

}  // namespace loopmend
