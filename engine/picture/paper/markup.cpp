// SPDX-License-Identifier: MIT
#include "picture/paper/markup.h"

#include <cmath>

#include <fmt/format.h>

namespace loopmend {

std::string escaped(std::string_view text) {
    std::string out;
    for (const char c : text) {
        switch (c) {
            case '&': out += "&amp;"; break;
            case '<': out += "&lt;"; break;
            case '>': out += "&gt;"; break;
            case '"': out += "&quot;"; break;
            case '\'': out += "&#39;"; break;
            default:
                if (static_cast<unsigned char>(c) >= 0x20 || c == '\t' || c == '\n') out += c;
        }
    }
    return out;
}

std::string hexColour(const Colour& c) {
    const auto byte = [](double x) { return static_cast<int>(std::lround(x * 255)); };
    return fmt::format("#{:02x}{:02x}{:02x}", byte(c.r), byte(c.g), byte(c.b));
}

}  // namespace loopmend
