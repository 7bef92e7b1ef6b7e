// SPDX-License-Identifier: MIT
//
// Pictures of the screen that were looked at, kept in tests/golden/screen. After a change that is meant:
//   LOOPMEND_UPDATE_GOLDEN=1 loopmend-test-golden     and look at them again.
// A picture that differs is written, with the difference, to the folder of the test program's run.
#include <catch2/catch.hpp>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <map>
#include <optional>
#include <sstream>

#include "app/gl/cloth_renderer.h"
#include "app/gl/offscreen.h"
#include "golden/scenes.h"

namespace loopmend {
namespace {

using app::ClothLook;
using app::ClothMark;
using app::ClothRenderer;
using app::ClothStyle;
using app::MarkKind;
using app::OffscreenGl;

/// A renderer without a window. Software draws the same on every machine.
struct Rig {
    OffscreenGl gl;
    ClothRenderer renderer;

    static Rig made() {
        setenv("LIBGL_ALWAYS_SOFTWARE", "1", 0);
        auto gl = OffscreenGl::made();
        INFO((gl ? std::string() : gl.error()));
        REQUIRE(gl.has_value());
        auto renderer = ClothRenderer::made();
        INFO((renderer ? std::string() : renderer.error()));
        REQUIRE(renderer.has_value());
        return {std::move(*gl), std::move(*renderer)};
    }

    Pixels draw(const View& view, const ClothStyle& style, const std::vector<ClothMark>& marks = {}) {
        REQUIRE(renderer.draw(view, style, marks));
        return {renderer.width(), renderer.height(), renderer.rgb()};
    }
    Pixels draw(const Fabric& fabric, const Path& path, Side side, ClothLook look) {
        const View view = goldenView(path, side);
        RibbonOptions options;
        options.pixelsPerMm = 2 * view.pixelsPerMm;
        renderer.upload(ribbonsOf(path, fabric, options));
        ClothStyle style;
        style.look = look;
        return draw(view, style);
    }
};

const char* nameOf(ClothLook look) {
    return look == ClothLook::wool ? "wool" : "drawing";
}

std::string nameOf(const GoldenScene& scene, ClothLook look, Side side) {
    return scene.name + "-" + nameOf(look) + (side == Side::right ? "-right" : "-wrong");
}

std::filesystem::path goldenFile(const std::string& name) {
    return std::filesystem::path(LOOPMEND_SOURCE_DIR) / "tests" / "golden" / "screen" / (name + ".png");
}

std::string bytesOf(const std::filesystem::path& file) {
    std::ifstream in(file, std::ios::binary);
    std::ostringstream text;
    text << in.rdbuf();
    return text.str();
}

void write(const std::filesystem::path& file, const Pixels& pixels) {
    const auto png = pngOf(pixels);
    REQUIRE(png.has_value());
    std::filesystem::create_directories(file.parent_path());
    std::ofstream(file, std::ios::binary) << *png;
}

/// Fewer shades: what is kept is smaller, and much finer than the tolerance.
Pixels coarse(Pixels pixels) {
    for (std::uint8_t& v : pixels.rgb) v = static_cast<std::uint8_t>((v & 0xF0U) | 8U);
    return pixels;
}

/// Other versions of the software renderer may round otherwise; anything more is a change.
bool looksTheSame(const PixelDifference& d) {
    return d.mean < 0.012 && d.patch < 0.07;
}

void writeDifference(const std::string& name, const Pixels& now, const Pixels& before) {
    const std::filesystem::path folder = std::filesystem::current_path() / "golden-differences";
    write(folder / (name + "-now.png"), now);
    if (now.rgb.size() != before.rgb.size()) return;
    Pixels difference = now;
    for (std::size_t i = 0; i < now.rgb.size(); ++i)
        difference.rgb[i] =
            static_cast<std::uint8_t>(std::min(255, 4 * std::abs(int{now.rgb[i]} - int{before.rgb[i]})));
    write(folder / (name + "-difference.png"), difference);
}

/// Both looks, both sides.
template <class Each>
void everyWay(Each each) {
    for (const ClothLook look : {ClothLook::wool, ClothLook::drawing}) {
        for (const Side side : {Side::right, Side::wrong}) each(look, side);
    }
}

}  // namespace

TEST_CASE("every scene looks on the screen as it did when it was looked at, and its spoiled twin does not") {
    const bool update = std::getenv("LOOPMEND_UPDATE_GOLDEN") != nullptr;
    Rig rig = Rig::made();
    REQUIRE(goldenScenes().size() >= 20);
    for (const GoldenScene& scene : goldenScenes()) {
        const Knitting knitting = scene.knit();
        const Knitting twin = scene.spoiled();
        const Path path = goldenPath(*knitting.fabric);
        const Path twinPath = goldenPath(*twin.fabric);
        everyWay([&](ClothLook look, Side side) {
            const std::string name = nameOf(scene, look, side);
            INFO(name);
            const Pixels now = rig.draw(*knitting.fabric, path, side, look);
            if (update) write(goldenFile(name), coarse(now));
            const auto before = pixelsOf(bytesOf(goldenFile(name)));
            REQUIRE(before.has_value());
            const PixelDifference d = difference(coarse(now), *before);
            if (!looksTheSame(d)) writeDifference(name, now, *before);
            CAPTURE(d.mean, d.patch);
            CHECK(looksTheSame(d));
            const PixelDifference spoiled =
                difference(coarse(rig.draw(*twin.fabric, twinPath, side, look)), *before);
            CAPTURE(spoiled.mean, spoiled.patch);
            CHECK_FALSE(looksTheSame(spoiled));
        });
    }
}

TEST_CASE("no two of the pictures kept look the same, so that a mix-up would show") {
    std::map<std::string, Pixels> all;
    for (const GoldenScene& scene : goldenScenes()) {
        everyWay([&](ClothLook look, Side side) {
            const std::string name = nameOf(scene, look, side);
            const auto pixels = pixelsOf(bytesOf(goldenFile(name)));
            REQUIRE(pixels.has_value());
            all[name] = *pixels;
        });
    }
    for (auto a = all.begin(); a != all.end(); ++a) {
        for (auto b = std::next(a); b != all.end(); ++b) {
            INFO(a->first << " and " << b->first);
            REQUIRE_FALSE(looksTheSame(difference(a->second, b->second)));
        }
    }
}

TEST_CASE("a picture drawn twice is the same to the last bit, and so is one drawn from what was kept") {
    Rig rig = Rig::made();
    const Knitting k = goldenScenes()[9].knit();
    const Path path = goldenPath(*k.fabric);
    const Pixels first = rig.draw(*k.fabric, path, Side::right, ClothLook::wool);
    const View view = goldenView(path, Side::right);
    CHECK(rig.draw(view, {}).rgb == first.rgb);
    View other = view;
    other.tiltDegrees = 30;
    CHECK(rig.draw(other, {}).rgb != first.rgb);
    CHECK(rig.draw(view, {}).rgb == first.rgb);
    Rig again = Rig::made();
    CHECK(again.draw(*k.fabric, path, Side::right, ClothLook::wool).rgb == first.rgb);
}

TEST_CASE("each kind of mark is seen where its stitch is, and differs from the others without color") {
    Rig rig = Rig::made();
    const Knitting k = goldenScenes()[0].knit();
    const Path path = goldenPath(*k.fabric);
    const View view = View::fitting(boundsOf(path), 480, 400, 10);
    rig.renderer.upload(ribbonsOf(path, *k.fabric));
    // A stitch in the middle of the piece.
    EntryId entry;
    Point3 at;
    const Point3 middle = boundsOf(path, false).middle();
    for (const PathStrand& s : path.strands) {
        for (const PathPoint& p : s.points) {
            if (!s.tool && (!entry || length(p.at - middle) < length(at - middle))) {
                entry = p.entry;
                at = p.at;
            }
        }
    }
    const PixelPoint there = view.pixel(at);
    for (const ClothLook look : {ClothLook::wool, ClothLook::drawing}) {
        ClothStyle style;
        style.look = look;
        const auto gray = [&](Pixels p) {
            for (std::size_t i = 0; i + 2 < p.rgb.size(); i += 3) {
                const int v = (3 * p.rgb[i] + 6 * p.rgb[i + 1] + p.rgb[i + 2]) / 10;
                p.rgb[i] = p.rgb[i + 1] = p.rgb[i + 2] = static_cast<std::uint8_t>(v);
            }
            return p;
        };
        std::vector<Pixels> seen = {gray(rig.draw(view, style))};
        for (const MarkKind kind : {MarkKind::pointedAt, MarkKind::evidence, MarkKind::mustComeUndone,
                                    MarkKind::column, MarkKind::row}) {
            seen.push_back(gray(rig.draw(view, style, {{entry, kind}})));
            // Nothing changes far from the stitch.
            const Pixels& p = seen.back();
            for (int y = 0; y < p.height; ++y) {
                for (int x = 0; x < p.width; ++x) {
                    if (std::abs(x - there.x) < 95 && std::abs(y - there.y) < 95) continue;
                    const auto i = static_cast<std::size_t>(3 * (y * p.width + x));
                    REQUIRE(p.rgb[i] == seen.front().rgb[i]);
                }
            }
        }
        for (std::size_t i = 0; i < seen.size(); ++i) {
            for (std::size_t j = i + 1; j < seen.size(); ++j) {
                CAPTURE(nameOf(look), i, j);
                CHECK(difference(seen[i], seen[j]).patch > 0.05);
            }
        }
    }
}

TEST_CASE("a ghost is drawn over the cloth and leaves no trace when it goes") {
    Rig rig = Rig::made();
    const Knitting k = goldenScenes()[0].knit();
    const Knitting other = goldenScenes()[0].spoiled();
    const Path path = goldenPath(*k.fabric);
    const Path after = goldenPath(*other.fabric);
    const View view = goldenView(path, Side::right);
    rig.renderer.upload(ribbonsOf(path, *k.fabric));
    const Pixels before = rig.draw(view, {});
    rig.renderer.uploadGhost(ribbonsOf(after, *other.fabric), {after.strands.front().points[200].entry});
    const Pixels ghost = rig.draw(view, {});
    CHECK(difference(before, ghost).patch > 0.05);
    CHECK(difference(before, ghost).mean < 0.05);
    rig.renderer.dropGhost();
    CHECK(rig.draw(view, {}).rgb == before.rgb);
}

TEST_CASE("a cloth without anything on it is a bare ground") {
    Rig rig = Rig::made();
    rig.renderer.upload({});
    View view;
    view.width = 40;
    view.height = 30;
    ClothStyle style;
    style.ground = {1, 0, 0};
    const Pixels p = rig.draw(view, style);
    for (std::size_t i = 0; i < p.rgb.size(); i += 3) {
        REQUIRE(p.rgb[i] == 255);
        REQUIRE(p.rgb[i + 1] == 0);
    }
}

}  // namespace loopmend
