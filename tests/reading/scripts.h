// SPDX-License-Identifier: MIT
#pragma once

#include <rapidcheck.h>

#include <ostream>
#include <string>
#include <string_view>
#include <vector>

#include "fabric/itinerary.h"
#include "pattern/op.h"
#include "pattern/working.h"

namespace loopmend {

/// Steps from words: `k3 p2 yo k2tog`. A number behind a name is how many times (yo2, co3, bo4, kpk5: the
/// count); c2/1f c2/1b cross stitches, and behind that u: those worked first purled, o: those held purled, v
/// and t: likewise through the back. `1:k3` with yarn 1, `1&k` which is first led round the one before.
std::vector<Step> steps(std::string_view text);

/// A script of rows of words, flat or round; flat rows take turns, the first faces `first`.
Script scriptFrom(int castOn, const std::vector<std::string>& rows, bool round = false,
                  Facing first = Facing::right);

/// Words of steps, as `steps` reads them.
std::string textOf(const std::vector<Step>& steps);
std::string textOf(const Script& script);

/// What comes out of both lines of a fabric's text.
Fabric reloaded(const Fabric& fabric);

/// Which operations a random script may draw from.
struct Draw {
    bool twists = true;  ///< through the back, kfb: they hang on how loops sit
    bool turns = false;  ///< slipped knitwise, reverse yarn-overs: loops that sit left leg in front
    bool slips = true;
    bool edges = true;  ///< cast on and bind off in mid-row, stitches passed over, holders
    bool cables = true;
    bool below = false;      ///< into the stitch below
    bool twins = true;       ///< the same knot under two names: skp, spp, sp2p
    bool made = true;        ///< stitches made from the bar
    bool shortRows = false;  ///< turns in mid-row: plain, wrapped, doubled; wraps lifted or left
    bool lifted = false;     ///< lifted increases
    bool wraps = false;      ///< the yarn several times round the needle, the turns let fall or worked
    bool yarns = false;      ///< two or three yarns, linked or not
    bool picks = false;      ///< stitches picked up along the rows' ends
    bool knittedOn = false;  ///< more stitches cast on by knitting
};

/// A faultless script of rows that fit one upon the other, and who works it.
struct Case {
    Script script;
    Setup setup;
};
rc::Gen<Case> anyCase(Draw draw = {}, Setup setup = {});
std::ostream& operator<<(std::ostream& out, const Case& c);

}  // namespace loopmend
