// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string>

#include "app/settings.h"
#include "store/settings_file.h"

namespace loopmend::app {

/// What stays between runs: settings, and how far a lesson has come. Written whole or not at all, at every
/// change, so that a kill loses nothing. A file that cannot be read is put aside and said so.
class Keeping {
  public:
    explicit Keeping(std::string folder) : folder_(std::move(folder)) {}

    struct Kept {
        Settings settings;
        std::string lesson;  ///< Session::text, empty: none begun
        bool lessonDone = false;
        std::string trouble;  ///< one sentence, or empty
    };
    Kept read();
    /// Writes if anything changed. One sentence if it could not be written.
    std::optional<std::string> write(const Kept& kept);

  private:
    std::string path() const;

    std::string folder_;
    KeptSettings last_;  ///< as it lies on the disk
    bool mayWrite_ = true;
};

}  // namespace loopmend::app
