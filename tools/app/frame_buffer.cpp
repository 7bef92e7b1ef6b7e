// SPDX-License-Identifier: MIT
#include "app/frame_buffer.h"

#include <algorithm>

#define GL_GLEXT_PROTOTYPES
#include <GL/glcorearb.h>
#include <stb_image_write.h>

#include "store/files.h"

namespace loopmend::app {

tl::expected<void, std::string> writePng(const Pixels& pixels, const std::string& path) {
    std::string bytes;
    const auto append = [](void* to, void* data, int size) {
        static_cast<std::string*>(to)->append(static_cast<const char*>(data), static_cast<std::size_t>(size));
    };
    if (stbi_write_png_to_func(append, &bytes, pixels.width, pixels.height, 4, pixels.rgba.data(),
                               pixels.width * 4) == 0) {
        return tl::make_unexpected(std::string("the picture could not be made"));
    }
    if (const auto written = writeFile(path, bytes); !written)
        return tl::make_unexpected(written.error().message);
    return {};
}

FrameBuffer::~FrameBuffer() {
    if (buffer_ != 0) glDeleteFramebuffers(1, &buffer_);
    if (colour_ != 0) glDeleteTextures(1, &colour_);
}

void FrameBuffer::begin(int width, int height, std::uint32_t ground) {
    if (buffer_ == 0) {
        glGenFramebuffers(1, &buffer_);
        glGenTextures(1, &colour_);
    }
    glBindFramebuffer(GL_FRAMEBUFFER, buffer_);
    if (width != width_ || height != height_) {
        width_ = width;
        height_ = height;
        glBindTexture(GL_TEXTURE_2D, colour_);
        glTexImage2D(GL_TEXTURE_2D, 0, GL_RGBA8, width, height, 0, GL_RGBA, GL_UNSIGNED_BYTE, nullptr);
        glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, GL_NEAREST);
        glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, GL_NEAREST);
        glFramebufferTexture2D(GL_FRAMEBUFFER, GL_COLOR_ATTACHMENT0, GL_TEXTURE_2D, colour_, 0);
    }
    glViewport(0, 0, width_, height_);
    const auto part = [&](unsigned shift) { return static_cast<float>((ground >> shift) & 0xFFU) / 255; };
    glDisable(GL_SCISSOR_TEST);
    glClearColor(part(0), part(8), part(16), 1);
    glClear(GL_COLOR_BUFFER_BIT);
}

void FrameBuffer::show() const {
    glBindFramebuffer(GL_READ_FRAMEBUFFER, buffer_);
    glBindFramebuffer(GL_DRAW_FRAMEBUFFER, 0);
    glBlitFramebuffer(0, 0, width_, height_, 0, 0, width_, height_, GL_COLOR_BUFFER_BIT, GL_NEAREST);
    glBindFramebuffer(GL_FRAMEBUFFER, 0);
}

Pixels FrameBuffer::read() const {
    Pixels pixels;
    pixels.width = width_;
    pixels.height = height_;
    const auto row = static_cast<std::size_t>(width_) * 4;
    pixels.rgba.resize(row * static_cast<std::size_t>(height_));
    glBindFramebuffer(GL_READ_FRAMEBUFFER, buffer_);
    glPixelStorei(GL_PACK_ALIGNMENT, 1);
    glReadPixels(0, 0, width_, height_, GL_RGBA, GL_UNSIGNED_BYTE, pixels.rgba.data());
    glBindFramebuffer(GL_READ_FRAMEBUFFER, 0);
    for (std::size_t top = 0, bottom = static_cast<std::size_t>(height_); top + 1 < bottom; ++top) {
        --bottom;
        std::swap_ranges(pixels.rgba.begin() + static_cast<std::ptrdiff_t>(top * row),
                         pixels.rgba.begin() + static_cast<std::ptrdiff_t>((top + 1) * row),
                         pixels.rgba.begin() + static_cast<std::ptrdiff_t>(bottom * row));
    }
    for (std::size_t i = 3; i < pixels.rgba.size(); i += 4) pixels.rgba[i] = 255;
    return pixels;
}

}  // namespace loopmend::app
