// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include <tl/expected.hpp>

namespace loopmend::app {

/// A picture in memory, rows from the top, four bytes a pixel: red, green, blue, 255.
struct Pixels {
    int width = 0;
    int height = 0;
    std::vector<std::uint8_t> rgba;
};
/// Writes it as PNG, whole or not at all. The failure is one sentence.
tl::expected<void, std::string> writePng(const Pixels& pixels, const std::string& path);

/// What the whole window is drawn into. Window-system buffers differ in a few edge pixels from driver to
/// driver; this one does not, so what is read back from it is what was shown.
class FrameBuffer {
  public:
    FrameBuffer() = default;
    ~FrameBuffer();
    FrameBuffer(const FrameBuffer&) = delete;
    FrameBuffer& operator=(const FrameBuffer&) = delete;

    /// Makes it that large and of one colour (0xAABBGGRR); draws go into it until `show`.
    void begin(int width, int height, std::uint32_t ground);
    /// Copies it onto the window, whose framebuffer is then bound.
    void show() const;
    Pixels read() const;

  private:
    unsigned buffer_ = 0;
    unsigned colour_ = 0;
    int width_ = 0;
    int height_ = 0;
};

}  // namespace loopmend::app
