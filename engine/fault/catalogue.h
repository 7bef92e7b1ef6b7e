// SPDX-License-Identifier: MIT
#pragma once

#include <string_view>
#include <vector>

#include "fault/fault.h"
#include "pattern/terms.h"

/// All mistakes this program knows, in the order in which they are listed.
namespace loopmend {

/// The faults; they live as long as the program.
std::vector<const Fault*> catalogue();
/// Those that practice draws, and that come first as what else it might be (Fault::inLessons). A lesson may
/// use any.
std::vector<const Fault*> lessonFaults();
/// None if there is no such id.
const Fault* findFault(std::string_view id);
/// The known id that is written most like this one.
std::string_view nearestFault(std::string_view id);
/// In a knitter's words.
std::string_view name(const Fault& fault, Terms terms);

}  // namespace loopmend
