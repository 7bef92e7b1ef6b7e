// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include <tl/expected.hpp>

namespace loopmend {

/// A picture as rows of red, green and blue bytes, from the top left.
struct Pixels {
    int width = 0;
    int height = 0;
    std::vector<std::uint8_t> rgb;
};

/// Reads the bytes of a png. The error is a sentence.
tl::expected<Pixels, std::string> pixelsOf(std::string_view png);

/// The bytes of a png. The error is a sentence.
tl::expected<std::string, std::string> pngOf(const Pixels& pixels);

/// How much two pictures of one size differ, 0 to 1.
struct PixelDifference {
    double mean = 1;   ///< over the whole picture
    double patch = 1;  ///< over the square of 10 by 10 pixels that differs most
};
/// Two pictures of different sizes differ wholly.
PixelDifference difference(const Pixels& a, const Pixels& b);

}  // namespace loopmend
