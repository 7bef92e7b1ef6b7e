// SPDX-License-Identifier: MIT
#include "fault/severity.h"

#include <vector>

#include "fabric/itinerary.h"
#include "fabric/joining.h"
#include "fabric/pairing.h"
#include "fabric/rows.h"
#include "fabric/size.h"

namespace loopmend {

namespace {

bool isFloat(const Fabric& f, LoopId loop) {
    const EntryId next = f[loop].next;
    return next && !f.isLoop(next) && !f.isFree(next);
}

}  // namespace

std::string_view name(Severity severity) {
    switch (severity) {
        case Severity::run: return "run";
        case Severity::count: return "count";
        case Severity::size: return "size";
        case Severity::look: return "look";
        case Severity::none: break;
    }
    return "none";
}

std::string_view severityWords(Severity severity) {
    switch (severity) {
        case Severity::run: return "Left alone it unravels further.";
        case Severity::count: return "Left alone the stitches do not come out.";
        case Severity::size:
            return "Left alone the piece does not come out as large, or as flat, as it was meant.";
        case Severity::look: return "It may be left: it is looks only.";
        case Severity::none: break;
    }
    return "Nothing is different yet.";
}

bool changesSize(const Fabric& meant, const Fabric& actual) {
    const Rows rows = rowsOf(actual);
    if (rowsOf(meant).last != rows.last) return true;
    const Pairing pairing = pairUp(meant, actual);
    if (otherTwist(meant, actual, pairing).last) return true;
    const auto isOther = [&](LoopId loop) {
        const LoopId m = pairing.meant(loop);
        return m && meant.isLoop(m) && isOtherSize(actual[loop].um, meant[m].um);
    };
    for (const std::vector<LoopId>& row : loopsByRow(actual, rows)) {
        std::size_t other = 0;
        for (const LoopId loop : row) {
            other += isOther(loop) ? 1 : 0;
            const LoopId m = pairing.meant(loop);
            const bool both = m && meant.isLoop(m) && isFloat(actual, loop) && isFloat(meant, m);
            if (both && actual[loop].strandUm * 2 < meant[m].strandUm) return true;
        }
        if (!row.empty() && other * 4 >= row.size() * 3) return true;
    }
    return false;
}

Severity severityOf(const FaultExample& example, const FaultFacts& facts) {
    if (facts.canRun) return Severity::run;
    if (facts.countAtRow != 0 || facts.countLater != 0) return Severity::count;
    const Fabric& meant = *example.reading.meant.fabric;
    const Fabric& actual = *example.reading.actual.fabric;
    if (changesSize(meant, actual)) return Severity::size;
    const bool same = knotOf(meant) == knotOf(actual) && facts.noticedAfter < 0;
    return same ? Severity::none : Severity::look;
}

}  // namespace loopmend
