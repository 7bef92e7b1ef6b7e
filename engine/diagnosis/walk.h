// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <vector>

#include "fabric/fabric.h"

/// Two fabrics walked along their yarn side by side, place by place of the normal form.
namespace loopmend {

/// A fabric's entries in the order of its normal form, and each entry's number there.
struct Walk {
    const Fabric* fabric = nullptr;
    std::vector<EntryId> entries;
    std::vector<LoopId> loops;
    std::vector<std::int32_t> place;   ///< by entry id: in `entries`; -1: no entry of the normal form
    std::vector<std::int32_t> number;  ///< by entry id: in `loops`
    std::vector<bool> backwards;       ///< by yarn id: it is walked from its last end

    /// In `entries`.
    std::int32_t placeOf(EntryId id) const { return lookUp(place, id); }
    /// In `loops`.
    std::int32_t operator[](LoopId id) const { return lookUp(number, id); }

  private:
    static std::int32_t lookUp(const std::vector<std::int32_t>& by, EntryId id) {
        const auto i = static_cast<std::size_t>(id.value);
        return i < by.size() ? by[i] : -1;
    }
};
/// Linear. Each yarn is walked as it was worked, also where the normal form reads a piece that is bound off
/// from its other end.
Walk walkOf(const Fabric& fabric);

/// How far two entries agree, their hosts compared by number.
enum class Alike : std::uint8_t {
    same,
    butForTwist,  ///< only half turns of what they go through differ
    no,
};
Alike alike(const Walk& a, EntryId x, const Walk& b, EntryId y);

/// Where two walks first part.
struct Parting {
    std::int32_t at = -1;  ///< place of the first entry that differs; the length of the shorter one if it
                           ///< just ends; -1: all entries agree
    bool onlyTwist = false;
    std::vector<LoopId> meant;  ///< loops of the meant fabric at which more differs: crossings, the needle
};
Parting parting(const Walk& meant, const Walk& actual);

}  // namespace loopmend
