// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string>

#include "app/settings.h"

namespace loopmend::app {

/// What stays between runs: settings, and how far a lesson has come. Written whole or not at all, at every change, so
/// that a kill loses nothing. A file that cannot be read is left where it is and said so.
class Keeping {
  public:
    explicit Keeping(std::string folder) : folder_(std::move(folder)) {}

    struct Kept {
        Settings settings;
        std::string lesson;  ///< Session::text, empty: none begun
        bool lessonDone = false;
        std::string trouble;  ///< one sentence, or empty
    };
    Kept read() const;
    /// One sentence if it could not be written.
    std::optional<std::string> write(const Kept& kept);

  private:
    std::string folder_;
};

}  // namespace loopmend::app
