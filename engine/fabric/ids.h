// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>

namespace loopmend {

/// A strong index. A default-made id names nothing and is false; ids of different tags never mix.
/// Ids are never used again within one fabric: what a rolled-back journal took away is the only exception.
template <class Tag>
struct Id {
    std::int32_t value = -1;

    constexpr Id() = default;
    constexpr explicit Id(std::int32_t v) : value(v) {}
    constexpr explicit operator bool() const { return value >= 0; }
    friend constexpr bool operator==(Id a, Id b) { return a.value == b.value; }
    friend constexpr bool operator!=(Id a, Id b) { return a.value != b.value; }
    friend constexpr bool operator<(Id a, Id b) { return a.value < b.value; }
};

/// An entry of a yarn: a loop or a pass. `LoopId` and `PassId` say which of the two is meant.
using EntryId = Id<struct EntryTag>;
using LoopId = EntryId;
using PassId = EntryId;
using LinkId = Id<struct LinkTag>;
using StrandsId = Id<struct StrandsTag>;
using HeldId = Id<struct HeldTag>;
using ToolId = Id<struct ToolTag>;
using YarnId = Id<struct YarnTag>;
using CrossingId = Id<struct CrossingTag>;
using JoinId = Id<struct JoinTag>;

}  // namespace loopmend
