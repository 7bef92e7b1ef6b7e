// SPDX-License-Identifier: MIT
// Pictures that were looked at, kept in tests/golden. After a change that is meant:
//   LOOPMEND_UPDATE_GOLDEN=1 loopmend-test-picture "[golden]"     and look at them again.
#include <catch2/catch.hpp>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "picture/paper/paper.h"
#include "picture/paper/pixels.h"
#include "picture/scenes.h"

namespace loopmend {
namespace {

std::filesystem::path goldenFile(const Scene& scene, Side side) {
    return std::filesystem::path(LOOPMEND_SOURCE_DIR) / "tests" / "golden" /
           (scene.name + (side == Side::right ? "-right.png" : "-wrong.png"));
}

std::string drawn(const Scene& scene, Side side) {
    const Swatch swatch = scene.knit();
    const auto png = onPaper(drawingOf(*swatch.fabric, plainOptions(scene, side)), PaperFormat::png, {3.5});
    REQUIRE(png.has_value());
    return *png;
}

std::string bytesOf(const std::filesystem::path& file) {
    std::ifstream in(file, std::ios::binary);
    std::ostringstream text;
    text << in.rdbuf();
    return text.str();
}

/// Other versions of the drawing library smooth edges a little differently; anything else is a change.
bool looksTheSame(const PixelDifference& d) {
    return d.mean < 0.01 && d.patch < 0.06;
}

}  // namespace

TEST_CASE("every stitch a knitter must know looks as it did when it was looked at", "[golden]") {
    const bool write = std::getenv("LOOPMEND_UPDATE_GOLDEN") != nullptr;
    for (const Scene& scene : scenes()) {
        for (const Side side : {Side::right, Side::wrong}) {
            const std::filesystem::path file = goldenFile(scene, side);
            INFO(file.string());
            const std::string png = drawn(scene, side);
            if (write) std::ofstream(file, std::ios::binary) << png;
            const auto now = pixelsOf(png);
            const auto before = pixelsOf(bytesOf(file));
            REQUIRE(now.has_value());
            REQUIRE(before.has_value());
            const PixelDifference d = difference(*now, *before);
            INFO("mean " << d.mean << ", worst patch " << d.patch);
            CHECK(looksTheSame(d));
        }
    }
}

TEST_CASE("no two of the pictures look the same, so that a mix-up would show", "[golden]") {
    std::vector<Pixels> all;
    std::vector<std::string> names;
    for (const Scene& scene : scenes()) {
        for (const Side side : {Side::right, Side::wrong}) {
            if (scene.name == "missed-yarn-over") continue;  // it is the k2tog alone
            all.push_back(*pixelsOf(bytesOf(goldenFile(scene, side))));
            names.push_back(goldenFile(scene, side).filename().string());
        }
    }
    for (std::size_t i = 0; i < all.size(); ++i) {
        for (std::size_t k = i + 1; k < all.size(); ++k) {
            INFO(names[i] << " and " << names[k]);
            CHECK_FALSE(looksTheSame(difference(all[i], all[k])));
        }
    }
}

}  // namespace loopmend
