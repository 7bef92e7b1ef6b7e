// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <string>
#include <vector>

#include "app/panes.h"

namespace loopmend::app {

/// Choosing a file: a folder's patterns and tables as a list, or a path typed in. One page, nothing modal.
class FilesPane {
  public:
    enum class For : std::uint8_t { open, save, picture, exportLog, importLog, page, ownPattern };

    void begin(For what, const std::string& folder, const std::string& name);
    For what() const { return what_; }
    /// Pushes openFile, saveFile, exportPicture and so on with the path.
    void draw(const Desk& desk);

  private:
    void look();
    void enter(const std::string& folder);

    For what_ = For::open;
    std::string folder_;
    std::array<char, 512> path_{};
    std::vector<std::string> folders_;
    std::vector<std::string> files_;
    std::string trouble_;
};

}  // namespace loopmend::app
