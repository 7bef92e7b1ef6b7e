// SPDX-License-Identifier: MIT
#include "picture/set_off.h"

namespace loopmend {

std::vector<SetOff> setOff(std::string_view words) {
    std::vector<SetOff> all;
    for (std::size_t open = words.find('*'); open != std::string_view::npos;) {
        const std::size_t close = words.find('*', open + 1);
        if (close == std::string_view::npos) break;
        const std::string_view between = words.substr(open + 1, close - open - 1);
        const bool isWord = !between.empty() && between.front() != ' ' && between.back() != ' ' &&
                            between.find_first_of("0123456789;") == std::string_view::npos;
        if (isWord) all.push_back({open, close});
        open = isWord ? words.find('*', close + 1) : close;
    }
    return all;
}

}  // namespace loopmend
