// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <vector>

#include "fabric/fabric.h"

/// Two fabrics walked along their yarns side by side, place by place of the normal form.
namespace loopmend {

/// One yarn as it was worked.
struct WalkedYarn {
    YarnId yarn;
    bool backwards = false;        ///< it is walked from its last end
    std::vector<EntryId> entries;  ///< those of the normal form
    std::vector<LoopId> loops;
};

/// A fabric's entries, yarn by yarn, and the number of each there: yarns are counted apart, so that a stitch
/// more in one moves no number of another. Yarns lie in the order of the rows in which they begin, and of the
/// normal form.
struct Walk {
    static constexpr std::int32_t kOfYarn = 1 << 24;  ///< numbers of the n-th yarn begin with n * kOfYarn

    const Fabric* fabric = nullptr;
    std::vector<WalkedYarn> yarns;
    std::vector<std::int32_t> place;   ///< by entry id: in its yarn's `entries`; -1: none of the normal form
    std::vector<std::int32_t> number;  ///< by entry id: n * kOfYarn + its place in `loops`
    std::vector<std::int32_t> rank;    ///< by yarn id: its place in `yarns`; -1: not in the knot

    /// In the `entries` of its yarn.
    std::int32_t placeOf(EntryId id) const { return lookUp(place, id.value); }
    /// Number of a loop.
    std::int32_t operator[](LoopId id) const { return lookUp(number, id.value); }
    std::int32_t rankOf(YarnId id) const { return lookUp(rank, id.value); }
    LoopId loop(std::int32_t n) const {
        return yarns[static_cast<std::size_t>(n / kOfYarn)].loops[static_cast<std::size_t>(n % kOfYarn)];
    }
    std::size_t loopCount() const;

  private:
    static std::int32_t lookUp(const std::vector<std::int32_t>& by, std::int32_t id) {
        const auto i = static_cast<std::size_t>(id);
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
    /// By the meant walk's yarns: place of the first entry that differs; the length of the shorter one if it
    /// just ends; -1: all entries agree.
    std::vector<std::int32_t> at;
    bool otherYarns = false;  ///< the actual fabric has more yarns
    bool onlyTwist = false;
    std::vector<LoopId> meant;  ///< loops of the meant fabric at which more differs: crossings, the needle

    /// All entries agree.
    bool none() const;
    /// Both agree there, and before it along that yarn.
    bool agreesAt(const Walk& walk, LoopId loop) const;
};
Parting parting(const Walk& meant, const Walk& actual);

/// What is not said by the entries of two walks that agree: which yarns run to a ball and their colors, what
/// crosses, joined rounds, what tools hold in which order. With all entries alike both are the same knot.
bool sameBesides(const Walk& a, const Walk& b);
/// The order of strands that go by one loop agrees; both loops have the same number.
bool sameStrands(const Walk& a, LoopId x, const Walk& b, LoopId y);
/// The same knot, compared entry by entry.
bool sameKnot(const Walk& a, const Walk& b);

/// Two loops of one number take the same yarn, and so do the strands after them.
inline bool sameLength(const Fabric& f, LoopId x, const Fabric& g, LoopId y) {
    return f[x].um == g[y].um && f[x].strandUm == g[y].strandUm;
}
/// The first loop of `a` whose yarn has another length in `b`, of two walks of one knot; none: no one.
LoopId firstOtherLength(const Walk& a, const Walk& b);

}  // namespace loopmend
