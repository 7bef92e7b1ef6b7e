// SPDX-License-Identifier: MIT
// Another cast-on, another join.
#include "fault/families.h"
#include "fault/place.h"

namespace loopmend {

namespace {

bool atTheBeginning(const Misreading& m) {
    return m.row == 1 && stitchOfStep(m.here(), m.step) == 1;
}

/// One too few, if nothing is said.
int castOnOff(const Misreading& m) {
    return m.by != 0 ? m.by : -1;
}

bool canMiscount(const Misreading& m) {
    return atTheBeginning(m) && m.script.castOn + castOnOff(m) > 1;
}

Start anotherNumber(const Misreading& m) {
    return {m.script.castOn + castOnOff(m), m.script.twist};
}

bool isJoined(const Misreading& m) {
    return atTheBeginning(m) && m.script.round;
}

/// A cast-on that went once round the needle is a band turned over twice.
Start onceRoundTheNeedle(const Misreading& m) {
    constexpr int kOnce = 2;
    return {m.script.castOn, static_cast<std::int8_t>(m.script.twist + (m.by != 0 ? m.by : kOnce))};
}

constexpr Fault kStarts[] = {
    {.id = "cast_on_count",
     .name = "wrong number cast on",
     .family = Family::starts,
     .canRead = canMiscount,
     .castsOn = anotherNumber,
     .wholeRow = true,
     .cause = "The stitches were counted once, or the slip knot was taken for one of them.",
     .prevention = "Put a marker after every twenty, and count twice before the first row.",
     .confusedWith = "merged accidental_yo"},
    {.id = "joined_round_twisted",
     .name = "cast-on joined with a twist",
     .family = Family::starts,
     .canRead = isJoined,
     .castsOn = onceRoundTheNeedle,
     .wholeRow = true,
     .cause = "The cast-on had wound itself round the needle when the round was joined.",
     .prevention = "Lay the cast-on flat, its edge down all the way round, before you join.",
     .confusedWith = "cast_on_count wrong_row"},
};

}  // namespace

FaultList startFaults() {
    return listOf(kStarts);
}

}  // namespace loopmend
