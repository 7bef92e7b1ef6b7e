// SPDX-License-Identifier: MIT
#pragma once

#include <memory>
#include <string>

#include <tl/expected.hpp>

namespace loopmend::app {

/// An OpenGL 3.3 core context with neither a window nor a display: for pictures without somebody watching.
/// Current from when it is made until it goes.
class OffscreenGl {
  public:
    /// The error is a sentence.
    static tl::expected<OffscreenGl, std::string> made();
    OffscreenGl(OffscreenGl&&) noexcept;
    OffscreenGl& operator=(OffscreenGl&&) noexcept;
    ~OffscreenGl();

    /// The driver's name for what draws.
    std::string renderer() const;

  private:
    struct State;
    explicit OffscreenGl(std::unique_ptr<State> state);
    std::unique_ptr<State> state_;
};

}  // namespace loopmend::app
