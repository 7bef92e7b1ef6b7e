// SPDX-License-Identifier: MIT
#include "app/gl/offscreen.h"

#include <EGL/egl.h>
#include <EGL/eglext.h>

#define GL_GLEXT_PROTOTYPES
#include <GL/glcorearb.h>

namespace loopmend::app {

struct OffscreenGl::State {
    EGLDisplay display = EGL_NO_DISPLAY;
    EGLContext context = EGL_NO_CONTEXT;

    State() = default;
    State(const State&) = delete;
    State& operator=(const State&) = delete;
    ~State() {
        if (display == EGL_NO_DISPLAY) return;
        eglMakeCurrent(display, EGL_NO_SURFACE, EGL_NO_SURFACE, EGL_NO_CONTEXT);
        if (context != EGL_NO_CONTEXT) eglDestroyContext(display, context);
        eglTerminate(display);
    }
};

OffscreenGl::OffscreenGl(std::unique_ptr<State> state) : state_(std::move(state)) {}
OffscreenGl::OffscreenGl(OffscreenGl&&) noexcept = default;
OffscreenGl& OffscreenGl::operator=(OffscreenGl&&) noexcept = default;
OffscreenGl::~OffscreenGl() = default;

tl::expected<OffscreenGl, std::string> OffscreenGl::made() {
    auto state = std::make_unique<State>();
    const auto platform =
        reinterpret_cast<PFNEGLGETPLATFORMDISPLAYEXTPROC>(eglGetProcAddress("eglGetPlatformDisplayEXT"));
    if (platform == nullptr)
        return tl::unexpected(std::string("no OpenGL without a window: this EGL knows no platforms"));
    state->display = platform(EGL_PLATFORM_SURFACELESS_MESA, EGL_DEFAULT_DISPLAY, nullptr);
    if (state->display == EGL_NO_DISPLAY || eglInitialize(state->display, nullptr, nullptr) == EGL_FALSE) {
        state->display = EGL_NO_DISPLAY;
        return tl::unexpected(std::string("no OpenGL without a window: EGL does not start"));
    }
    if (eglBindAPI(EGL_OPENGL_API) == EGL_FALSE)
        return tl::unexpected(std::string("no OpenGL without a window: this EGL has OpenGL ES only"));
    const EGLint wanted[] = {EGL_CONTEXT_MAJOR_VERSION,
                             3,
                             EGL_CONTEXT_MINOR_VERSION,
                             3,
                             EGL_CONTEXT_OPENGL_PROFILE_MASK,
                             EGL_CONTEXT_OPENGL_CORE_PROFILE_BIT,
                             EGL_NONE};
    state->context = eglCreateContext(state->display, EGL_NO_CONFIG_KHR, EGL_NO_CONTEXT, wanted);
    if (state->context == EGL_NO_CONTEXT ||
        eglMakeCurrent(state->display, EGL_NO_SURFACE, EGL_NO_SURFACE, state->context) == EGL_FALSE)
        return tl::unexpected(std::string("no OpenGL without a window: the driver has no OpenGL 3.3"));
    return OffscreenGl(std::move(state));
}

std::string OffscreenGl::renderer() const {
    const auto* name = reinterpret_cast<const char*>(glGetString(GL_RENDERER));
    return name != nullptr ? name : "unknown";
}

}  // namespace loopmend::app
