// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "reading/columns.h"
#include "reading/landmarks.h"
#include "reading/symptoms.h"

/// Signs that are seen along a yarn or over many rows. Only the finding of symptoms includes this.
namespace loopmend {

/// Symptoms as they are found.
struct SymptomList {
    std::vector<Symptom> all;

    void add(SymptomKind kind, const Cell& cell, std::string words, SeenFrom seenFrom = SeenFrom::both) {
        all.push_back({kind, cell.row, cell.stitch, cell.column, cell.loop, std::move(words), seenFrom});
    }
    void addRow(SymptomKind kind, int row, std::string words, int column = 0) {
        Symptom symptom;
        symptom.kind = kind;
        symptom.row = row;
        symptom.column = column;
        symptom.words = std::move(words);
        all.push_back(std::move(symptom));
    }
};

inline std::string_view colorIn(Terms terms) {
    return terms == Terms::uk ? "colour" : "color";
}

/// Where the loop of a place along a yarn is seen.
class CellsByLoop {
  public:
    CellsByLoop(const Fabric& fabric, const Columns& columns);
    /// The cell of a loop in its own row; none if it has none, or if this is no loop.
    const Cell* of(EntryId entry) const;

  private:
    const Fabric& f_;
    std::vector<const Cell*> cell_;
};

/// Turns in mid-row, bands of larger or smaller stitches, floats, ends, slits, a twisted round.
void yarnSymptoms(const Fabric& fabric, const Reading& reading, const CellsByLoop& cells,
                  const std::vector<Landmark>& lines, Terms terms, SymptomList& out);

}  // namespace loopmend
