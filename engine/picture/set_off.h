// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <string_view>
#include <vector>

namespace loopmend {

/// A trade word that is set off in a sentence, `*rung*`: where its two asterisks stand.
struct SetOff {
    std::size_t open = 0;
    std::size_t close = 0;
};

/// Those of a sentence, from its beginning. The star of a pattern, `*k2, p2; rep from * to end`, is none:
/// what is set off begins and ends with a letter, and has neither numbers nor a semicolon in it.
std::vector<SetOff> setOff(std::string_view words);

}  // namespace loopmend
