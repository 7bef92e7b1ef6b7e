// SPDX-License-Identifier: MIT
#pragma once

#include <functional>
#include <string>

#include "app/cloth_pane.h"
#include "app/panes.h"
#include "tutor/demonstration.h"

namespace loopmend::app {

/// A mending that is being shown to a group.
class Showing {
  public:
    /// std::invalid_argument if the swatch cannot be knitted.
    Showing(Lesson lesson, int swatch, Terms terms, bool mirrored);

    Demonstration& now() { return now_; }
    const Demonstration& now() const { return now_; }
    const LessonSwatch& piece() const { return lesson_.swatches[static_cast<std::size_t>(swatch_)]; }
    const std::string& title() const { return title_; }
    bool mirrored() const { return mirrored_; }
    /// The same move, seen from the same side, by left hands or by right ones.
    void setMirrored(bool mirrored);
    /// The cloth as the next move will make it, for a ghost.
    void afterNext(const std::function<void(const Fabric&)>& look);

    bool frozen = false;
    bool slow = false;

  private:
    Lesson lesson_;
    int swatch_ = 0;
    Terms terms_;
    bool mirrored_ = false;
    std::string title_;
    Demonstration now_;
    Demonstration ahead_;  ///< one move farther
};

/// The words under the cloth, and what can be asked for.
void drawShowing(const Desk& desk, const Showing& showing);

}  // namespace loopmend::app
