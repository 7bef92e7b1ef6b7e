// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <vector>

namespace loopmend {

/// Where a fabric stood: hand it to `Fabric::rollBack`.
struct JournalMark {
    std::uint32_t length = 0;
    std::array<std::uint32_t, 8> sizes{};
};

/// Every change of a fabric as (place, old word), newest last. Eight bytes a change; a plain stitch is about
/// ten.
///
/// A record made after the newest mark needs no changes kept: rolling back to that mark, or to any older one,
/// drops the record whole. So what is kept is the change of what stood before, not the making of what is new.
class Journal {
  public:
    struct Change {
        std::uint32_t where;  ///< pool in the top three bits, word of that pool below
        std::uint32_t old;
    };

    static constexpr std::uint32_t kPoolShift = 29;

    void keep(std::uint32_t pool, std::uint32_t word, std::uint32_t old) {
        changes_.push_back({(pool << kPoolShift) | word, old});
    }
    Change takeLast() {
        const Change last = changes_.back();
        changes_.pop_back();
        return last;
    }
    std::uint32_t length() const { return static_cast<std::uint32_t>(changes_.size()); }
    std::size_t bytes() const { return changes_.size() * sizeof(Change); }
    void forget() { std::vector<Change>().swap(changes_); }

  private:
    std::vector<Change> changes_;
};

}  // namespace loopmend
