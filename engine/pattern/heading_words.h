// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace loopmend {

/// The words of a line, in lower case, without figures and marks: of headings (`LEFT FRONT:`), before a text
/// is cut into statements. Remarks (`# ...`, `// ...`) have none.
std::vector<std::string> headingWords(std::string_view text);

}  // namespace loopmend
