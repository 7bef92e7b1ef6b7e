// SPDX-License-Identifier: MIT
#pragma once

#include <string>

#include "tutor/signs.h"

namespace loopmend {

/// A way of mending as an answer: `Hook the fallen column up again, six rungs.`
std::string wayWords(const Swatch& swatch, const Scene& scene, const Plan& plan);
/// Something has come out and waits, on a pin or free.
bool somethingCameOut(const Scene& scene);

}  // namespace loopmend
