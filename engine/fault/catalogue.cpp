// SPDX-License-Identifier: MIT
#include "fault/catalogue.h"

#include <algorithm>

#include "fault/families.h"
#include "pattern/edit_distance.h"

namespace loopmend {

namespace {

/// Put together once: faults are looked up by the thousand.
const FaultList& everyFault() {
    static const FaultList kAll = [] {
        FaultList all;
        for (const auto& family :
             {dropFaults, strandFaults, stitchFaults, shapingFaults, cableFaults, rowFaults, repeatFaults,
              startFaults, edgeFaults, colourFaults, harmFaults, lengthFaults}) {
            const FaultList list = family();
            all.insert(all.end(), list.begin(), list.end());
        }
        return all;
    }();
    return kAll;
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
    return everyFault();
}

std::vector<const Fault*> lessonFaults() {
    FaultList all = catalogue();
    all.erase(std::remove_if(all.begin(), all.end(), [](const Fault* f) { return !f->inLessons; }),
              all.end());
    return all;
}

const Fault* findFault(std::string_view id) {
    for (const Fault* fault : everyFault()) {
        if (fault->id == id) return fault;
    }
    return nullptr;
}

std::string_view nearestFault(std::string_view id) {
    std::string_view nearest;
    int least = 0;
    for (const Fault* fault : everyFault()) {
        const int apart = lettersApart(id, fault->id);
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
