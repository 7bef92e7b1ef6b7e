// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <string_view>

#include "picture/canvas.h"

namespace loopmend {

/// Text as it stands in XML or HTML, between tags or in an attribute. Control characters are left out: XML
/// does not allow them at all.
std::string escaped(std::string_view text);

/// `#1f2a30`
std::string hexColour(const Colour& colour);

}  // namespace loopmend
