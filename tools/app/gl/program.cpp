// SPDX-License-Identifier: MIT
#include "app/gl/program.h"

#include <algorithm>

#include <fmt/format.h>

#define GL_GLEXT_PROTOTYPES
#include <GL/glcorearb.h>

namespace loopmend::app {

namespace {

/// The texts are also right for OpenGL ES 3.0, but for this line.
constexpr std::string_view kVersion = "#version 330 core\n";

template <class Get, class Log>
std::string logOf(unsigned name, Get get, Log log) {
    int length = 0;
    get(name, GL_INFO_LOG_LENGTH, &length);
    std::string text(static_cast<std::size_t>(std::max(1, length)), ' ');
    log(name, length, nullptr, text.data());
    while (!text.empty() && (text.back() == '\0' || text.back() == '\n' || text.back() == ' '))
        text.pop_back();
    return text;
}

tl::expected<unsigned, std::string> compiled(std::string_view what, unsigned kind, std::string_view text,
                                             std::string_view defines) {
    const unsigned shader = glCreateShader(kind);
    const char* const texts[] = {kVersion.data(), defines.data(), text.data()};
    const int lengths[] = {static_cast<int>(kVersion.size()), static_cast<int>(defines.size()),
                           static_cast<int>(text.size())};
    glShaderSource(shader, 3, texts, lengths);
    glCompileShader(shader);
    int good = 0;
    glGetShaderiv(shader, GL_COMPILE_STATUS, &good);
    if (good != 0) return shader;
    const std::string log = logOf(shader, glGetShaderiv, glGetShaderInfoLog);
    glDeleteShader(shader);
    return tl::unexpected(fmt::format("the graphics driver does not take the {} program: {}", what, log));
}

}  // namespace

GlProgram::~GlProgram() {
    if (name_ != 0) glDeleteProgram(name_);
}

tl::expected<GlProgram, std::string> GlProgram::linked(std::string_view what, std::string_view vertex,
                                                       std::string_view fragment, std::string_view defines) {
    const auto v = compiled(what, GL_VERTEX_SHADER, vertex, defines.empty() ? std::string_view("") : defines);
    if (!v) return tl::unexpected(v.error());
    const auto f =
        compiled(what, GL_FRAGMENT_SHADER, fragment, defines.empty() ? std::string_view("") : defines);
    if (!f) {
        glDeleteShader(*v);
        return tl::unexpected(f.error());
    }
    GlProgram program;
    program.name_ = glCreateProgram();
    glAttachShader(program.name_, *v);
    glAttachShader(program.name_, *f);
    glLinkProgram(program.name_);
    glDeleteShader(*v);
    glDeleteShader(*f);
    int good = 0;
    glGetProgramiv(program.name_, GL_LINK_STATUS, &good);
    if (good == 0) {
        return tl::unexpected(fmt::format("the graphics driver does not take the {} program: {}", what,
                                          logOf(program.name_, glGetProgramiv, glGetProgramInfoLog)));
    }
    return program;
}

void GlProgram::use() const {
    glUseProgram(name_);
}

int GlProgram::place(const char* uniform) const {
    return glGetUniformLocation(name_, uniform);
}

GlCanvas& GlCanvas::operator=(GlCanvas&& other) noexcept {
    std::swap(kind_, other.kind_);
    std::swap(buffer_, other.buffer_);
    std::swap(colour_, other.colour_);
    std::swap(depth_, other.depth_);
    std::swap(width_, other.width_);
    std::swap(height_, other.height_);
    return *this;
}

GlCanvas::~GlCanvas() {
    if (buffer_ == 0) return;
    glDeleteFramebuffers(1, &buffer_);
    glDeleteTextures(1, &colour_);
    if (depth_ != 0) glDeleteTextures(1, &depth_);
}

bool GlCanvas::resize(int width, int height) {
    if (width == width_ && height == height_) return true;
    if (buffer_ == 0) {
        glGenFramebuffers(1, &buffer_);
        glGenTextures(1, &colour_);
        if (kind_ == Kind::colourAndDepth) glGenTextures(1, &depth_);
    }
    const auto texture = [&](unsigned name, int inner, unsigned format, unsigned type, int filter) {
        glBindTexture(GL_TEXTURE_2D, name);
        glTexImage2D(GL_TEXTURE_2D, 0, inner, width, height, 0, format, type, nullptr);
        glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, filter);
        glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, filter);
        glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_S, GL_CLAMP_TO_EDGE);
        glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_T, GL_CLAMP_TO_EDGE);
    };
    glBindFramebuffer(GL_FRAMEBUFFER, buffer_);
    if (kind_ == Kind::shade) {
        texture(colour_, GL_R8, GL_RED, GL_UNSIGNED_BYTE, GL_LINEAR);
    } else {
        texture(colour_, GL_RGBA8, GL_RGBA, GL_UNSIGNED_BYTE, GL_LINEAR);
    }
    glFramebufferTexture2D(GL_FRAMEBUFFER, GL_COLOR_ATTACHMENT0, GL_TEXTURE_2D, colour_, 0);
    if (depth_ != 0) {
        texture(depth_, GL_DEPTH_COMPONENT24, GL_DEPTH_COMPONENT, GL_UNSIGNED_INT, GL_NEAREST);
        glFramebufferTexture2D(GL_FRAMEBUFFER, GL_DEPTH_ATTACHMENT, GL_TEXTURE_2D, depth_, 0);
    }
    width_ = width;
    height_ = height;
    return glCheckFramebufferStatus(GL_FRAMEBUFFER) == GL_FRAMEBUFFER_COMPLETE;
}

void GlCanvas::begin() const {
    glBindFramebuffer(GL_FRAMEBUFFER, buffer_);
    glViewport(0, 0, width_, height_);
}

}  // namespace loopmend::app
