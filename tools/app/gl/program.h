// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <string_view>
#include <utility>

#include <tl/expected.hpp>

namespace loopmend::app {

/// A program of the graphics card, and other things that live there and must be given back.
class GlProgram {
  public:
    GlProgram() = default;
    GlProgram(GlProgram&& other) noexcept : name_(std::exchange(other.name_, 0)) {}
    GlProgram& operator=(GlProgram&& other) noexcept {
        std::swap(name_, other.name_);
        return *this;
    }
    ~GlProgram();

    /// Compiles and links; the texts begin after the version line, then come `defines`. The
    /// error is a sentence with the driver's own words.
    static tl::expected<GlProgram, std::string> linked(std::string_view what, std::string_view vertex,
                                                       std::string_view fragment,
                                                       std::string_view defines = {});
    explicit operator bool() const { return name_ != 0; }
    void use() const;
    /// Of a uniform; -1 if the program does not use it.
    int place(const char* uniform) const;

  private:
    unsigned name_ = 0;
};

/// A texture that is drawn into, alone or with depth.
class GlCanvas {
  public:
    enum class Kind { colour, colourAndDepth, shade };

    GlCanvas() = default;
    explicit GlCanvas(Kind kind) : kind_(kind) {}
    GlCanvas(GlCanvas&& other) noexcept { *this = std::move(other); }
    GlCanvas& operator=(GlCanvas&& other) noexcept;
    ~GlCanvas();

    /// Makes it that large. What was in it is gone if its size changes. False: the driver cannot.
    bool resize(int width, int height);
    /// Draws go into all of it.
    void begin() const;
    unsigned texture() const { return colour_; }
    unsigned depth() const { return depth_; }
    unsigned buffer() const { return buffer_; }
    int width() const { return width_; }
    int height() const { return height_; }

  private:
    Kind kind_ = Kind::colour;
    unsigned buffer_ = 0;
    unsigned colour_ = 0;
    unsigned depth_ = 0;
    int width_ = 0;
    int height_ = 0;
};

}  // namespace loopmend::app
