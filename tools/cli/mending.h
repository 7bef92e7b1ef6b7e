// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <memory>
#include <string>
#include <vector>

#include "cli/console.h"
#include "repair/ways_back.h"

namespace loopmend {

/// What `plan` and `mend` share: a fabric, the one it was meant to be, and the ways from one to the other.
class Mending {
  public:
    /// Adds FABRIC, --meant and --all to a command.
    void addTo(CLI::App& command);

    /// Reads both files and makes the plans.
    tl::expected<void, Failure> prepare(Console& console);

    FabricFile& actual() { return *actual_; }
    const FabricFile& meant() const { return *meant_; }
    /// She who mends; only if there is something to mend.
    Knitter& knitter() { return *knitter_; }
    const WaysBack& ways() const { return ways_; }
    /// Places in `ways().all` of the plans that are listed, cheapest first; none if there is nothing to mend,
    /// or no way. With --all also those that leave a difference.
    const std::vector<std::size_t>& listed() const { return listed_; }
    /// The plan of that number in the list, from 1.
    const Plan& plan(int number) const {
        return ways_.all[listed_[static_cast<std::size_t>(number - 1)]].plan;
    }
    std::string& pacePath() { return pacePath_; }
    bool same() const { return same_; }
    const std::string& actualPath() const { return actualPath_; }

  private:
    std::string actualPath_;
    std::string meantPath_;
    bool all_ = false;
    bool same_ = false;
    // On the heap, where they stay: the knitter holds on to the fabric.
    std::unique_ptr<FabricFile> actual_;
    std::unique_ptr<FabricFile> meant_;
    std::unique_ptr<Knitter> knitter_;
    WaysBack ways_;
    std::vector<std::size_t> listed_;
    std::string pacePath_;
};

}  // namespace loopmend
