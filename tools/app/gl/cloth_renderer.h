// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <memory>
#include <string>
#include <vector>

#include <tl/expected.hpp>

#include "picture/canvas.h"
#include "picture/ribbons.h"
#include "picture/view.h"

namespace loopmend::app {

enum class ClothLook {
    wool,    ///< plies, soft light and shadow
    drawing  ///< pale yarn with dark outlines, as in a handbook
};

/// What is said about an entry. Each shows in a way of its own, also without color.
enum class MarkKind : std::uint8_t {
    pointedAt,       ///< a broad halo
    evidence,        ///< a narrow halo, and dashes along the yarn
    mustComeUndone,  ///< dots along the yarn
    column,          ///< a thin line along the yarn
    row,             ///< a thin dotted line along the yarn
};
struct ClothMark {
    EntryId entry;
    MarkKind kind = MarkKind::pointedAt;
};

struct ClothStyle {
    ClothLook look = ClothLook::wool;
    bool dark = false;  ///< dark ground
    Colour ground{0.87, 0.86, 0.83};
    /// Pictures drawn so many times as large, then made small again: 1 while things move, 2 for one that
    /// stays.
    int smooth = 2;
    bool shadows = true;
    double lightDegrees = 45;   ///< how high the light stands: 15 (slanting, shows bumps) to 90
    std::vector<Colour> yarns;  ///< by yarn; empty: `yarnColours`
};
/// The ground that goes with a table, and yarns that people with any colour vision can tell apart, one of
/// them dark.
Colour groundColour(bool dark);
std::vector<Colour> yarnColours(ClothLook look, bool dark);

/// Draws cloth into a picture of its own. Made, used and let go with the same OpenGL context current. It
/// leaves the framebuffer that it found bound; of the rest of the state it restores what Dear ImGui does not
/// set by itself.
class ClothRenderer {
  public:
    /// The error is a sentence.
    static tl::expected<ClothRenderer, std::string> made();
    ClothRenderer(ClothRenderer&&) noexcept;
    ClothRenderer& operator=(ClothRenderer&&) noexcept;
    ~ClothRenderer();

    void upload(const RibbonMesh& mesh);
    /// What a hand move would do, drawn translucent over the cloth; with entries, only those.
    void uploadGhost(const RibbonMesh& mesh, const std::vector<EntryId>& only = {});
    void dropGhost();

    /// Draws a picture of the size of the view. False: the driver cannot make one so large.
    bool draw(const View& view, const ClothStyle& style, const std::vector<ClothMark>& marks = {});

    /// The picture, as OpenGL has it: its bottom row is the first. For ImGui::Image with uv (0, 1) to (1, 0).
    unsigned texture() const;
    int width() const;
    int height() const;
    /// Read back: red, green, blue; the top row is the first.
    std::vector<std::uint8_t> rgb() const;

  private:
    struct State;
    explicit ClothRenderer(std::unique_ptr<State> state);
    std::unique_ptr<State> state_;
};

}  // namespace loopmend::app
