// SPDX-License-Identifier: MIT
#pragma once

#include <string>

#include "app/panes.h"

namespace loopmend::app {

/// Scrolls the sheet being drawn by so many times its height, nearly.
void scrollBy(float pages);

/// A paper that lies over the whole table, in two columns where there is room for them; otherwise the second
/// follows below the first.
class WidePaper {
  public:
    /// name: of its own, so that it lies where it was left when it comes out again. pages: whole sheets to
    /// scroll by, from Page Up and Page Down.
    WidePaper(const Desk& desk, const char* name, float pages);
    ~WidePaper();
    WidePaper(const WidePaper&) = delete;
    WidePaper& operator=(const WidePaper&) = delete;

    /// What follows stands in the second column.
    void second();

  private:
    std::string name_;
    float side_ = 0;  ///< width of the first column; 0: only one
    float pages_ = 0;
    float textSize_ = 1;
};

/// A button as wide as its column.
bool wideButton(const Desk& desk, const std::string& id, const std::string& words, Controls::Kind kind,
                std::string_view key = {}, bool enabled = true);

}  // namespace loopmend::app
