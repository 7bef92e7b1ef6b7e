// SPDX-License-Identifier: MIT
#pragma once

#include <string_view>

#include "fabric/knitter.h"
#include "pattern/op.h"

namespace loopmend {

/// Lays the yarns of a script (Script::yarns, a letter each) at the knitter's hand: for each letter a yarn of
/// that colour with a ball, else a new one like the one in her hand. A yarn of which nothing is worked yet is
/// no part of the fabric; with its first stitch it is joined, and its strand before that is the tail. Also
/// for a fabric read back from its text, where two yarns of one colour come in the order of the text.
void layOutYarns(Knitter& knitter, std::string_view colours);

/// Whether a step is worked with another yarn than the one in hand.
bool changesYarn(const Knitter& knitter, const Step& step);

}  // namespace loopmend
