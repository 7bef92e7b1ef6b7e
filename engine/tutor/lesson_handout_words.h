// SPDX-License-Identifier: MIT
#pragma once

#include "pattern/terms.h"
#include "picture/handout.h"

namespace loopmend {

/// Sets each trade term off where the handout uses it first, and says there what it means, unless the page
/// says so itself.
void explainTerms(Handout& handout, Terms terms);

}  // namespace loopmend
