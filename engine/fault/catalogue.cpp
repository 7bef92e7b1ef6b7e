// SPDX-License-Identifier: MIT
#include "fault/catalogue.h"

#include <algorithm>
#include <numeric>

#include "fault/families.h"

namespace loopmend {

namespace {

/// Letters to change, leave out or put in.
std::size_t lettersApart(std::string_view a, std::string_view b) {
    std::vector<std::size_t> row(b.size() + 1);
    std::iota(row.begin(), row.end(), std::size_t{0});
    for (std::size_t i = 0; i < a.size(); ++i) {
        std::size_t corner = row[0];
        row[0] = i + 1;
        for (std::size_t j = 0; j < b.size(); ++j) {
            const std::size_t changed = corner + (a[i] == b[j] ? 0U : 1U);
            corner = row[j + 1];
            row[j + 1] = std::min({row[j] + 1, corner + 1, changed});
        }
    }
    return row[b.size()];
}

}  // namespace

std::string_view name(Family family) {
    switch (family) {
        case Family::drops: return "drops";
        case Family::strands: return "strands";
        case Family::stitches: return "stitches";
        case Family::shaping: return "shaping";
        case Family::cables: return "cables";
        case Family::rows: return "rows";
        case Family::repeats: return "repeats";
        case Family::starts: return "starts";
        case Family::edges: return "edges";
        case Family::colours: return "colors";
        case Family::harm: return "harm";
        case Family::lengths: return "lengths";
    }
    return "drops";
}

std::vector<const Fault*> catalogue() {
    FaultList all;
    for (const auto& family :
         {dropFaults, strandFaults, stitchFaults, shapingFaults, cableFaults, rowFaults, repeatFaults,
          startFaults, edgeFaults, colourFaults, harmFaults, lengthFaults}) {
        const FaultList list = family();
        all.insert(all.end(), list.begin(), list.end());
    }
    return all;
}

std::vector<const Fault*> lessonFaults() {
    FaultList all = catalogue();
    all.erase(std::remove_if(all.begin(), all.end(), [](const Fault* f) { return !f->inLessons; }),
              all.end());
    return all;
}

const Fault* findFault(std::string_view id) {
    for (const Fault* fault : catalogue()) {
        if (fault->id == id) return fault;
    }
    return nullptr;
}

std::string_view nearestFault(std::string_view id) {
    std::string_view nearest;
    std::size_t least = 0;
    for (const Fault* fault : catalogue()) {
        const std::size_t apart = lettersApart(id, fault->id);
        if (!nearest.empty() && apart >= least) continue;
        nearest = fault->id;
        least = apart;
    }
    return nearest;
}

std::string_view name(const Fault& fault, Terms terms) {
    return terms == Terms::uk && !fault.ukName.empty() ? fault.ukName : fault.name;
}

}  // namespace loopmend
