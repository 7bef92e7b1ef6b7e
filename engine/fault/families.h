// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "fault/fault.h"

/// One list a family, one entry a fault. Only the catalogue asks for them.
namespace loopmend {

using FaultList = std::vector<const Fault*>;

FaultList dropFaults();
FaultList strandFaults();
FaultList stitchFaults();
FaultList shapingFaults();
FaultList cableFaults();
FaultList rowFaults();
FaultList repeatFaults();
FaultList startFaults();
FaultList edgeFaults();
FaultList colourFaults();
FaultList harmFaults();
FaultList lengthFaults();

template <std::size_t n>
FaultList listOf(const Fault (&faults)[n]) {
    FaultList list;
    for (const Fault& fault : faults) list.push_back(&fault);
    return list;
}

/// What a worked-in fault says after a move: how many steps it has done, or why it could not.
template <class T>
Result<int> did(const Result<T>& move, int steps = 1) {
    if (!move) return tl::unexpected<Refusal>(move.error());
    return steps;
}

}  // namespace loopmend
