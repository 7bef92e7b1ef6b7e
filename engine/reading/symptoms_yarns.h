// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "reading/columns.h"
#include "reading/landmarks.h"
#include "reading/symptoms.h"

/// Signs that are seen along a yarn or over many rows. Only the finding of symptoms includes this.
namespace loopmend {

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
                  const std::vector<Landmark>& lines, Terms terms, std::vector<Symptom>& out);

}  // namespace loopmend
