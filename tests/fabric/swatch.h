// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "fabric/fabric.h"
#include "fabric/hands.h"
#include "fabric/itinerary.h"
#include "fabric/knitter.h"
#include "fabric/rows.h"

/// What the tests of the fabric share: small pieces of knitting, words for working them, and ways of asking
/// what came of it.
namespace loopmend {

constexpr std::int32_t kLoopUm = 9000;
constexpr std::int32_t kStrandUm = 2000;

enum class Begin {
    bare,      ///< loops knotted at their feet, so that row 1 is the first row anyone has worked
    longTail,  ///< already one row
    backward   ///< half-hitches
};

struct Start {
    Begin begin = Begin::bare;
    bool round = false;  ///< flat: the right side faces the first row
    Habit habit = Habit::western;
    bool mirrored = false;
    Side facing = Side::right;  ///< of the first row
    int twist = 0;              ///< of a band in the round, in half turns
};

/// A piece on the needle and the knitter who works it.
class Swatch {
  public:
    explicit Swatch(int stitches, const Start& start = {});

    Fabric& fabric() { return *fabric_; }
    const Fabric& fabric() const { return *fabric_; }
    Knitter& knitter() { return knitter_; }
    const Knitter& knitter() const { return knitter_; }
    YarnId yarn() const { return yarn_; }

    /// Works what the words say, as they face the knitter; a refusal throws. Returns the last loop made.
    ///   k3 p2 yo ssk ...  names of Knitter's operations with an optional count (`words()` lists them)
    ///   2/2f 1/1b         a crossing and its stitches knitted; 2/2fx: the crossing alone
    ///   bo2 co3           binds off, casts on
    ///   *                 the rest of the row plain: knitted on the right side, purled on the wrong one
    ///   |                 turns, or ends the round
    LoopId work(std::string_view words);
    /// Whole plain rows; the work is turned after each.
    void rows(int n);
    void rest();
    void next();

    std::string knot() const { return knotOf(*fabric_); }
    Itinerary lines() const { return itinerary(*fabric_); }

  private:
    std::unique_ptr<Fabric> fabric_;
    YarnId yarn_;
    Knitter knitter_;
};

/// A row of plain knitting, then n plain rows, turned; faces the right side if n is even.
Swatch plainSwatch(int stitches, int rows, const Start& start = {});

/// The words of `Swatch::work` that take no number.
std::vector<std::string> words();
/// One word at a knitter's needles.
Result<LoopId> workWord(Knitter& knitter, std::string_view word);

/// Both lines as one text, for comparison.
std::string text(const Fabric& fabric);
/// The fabric read back from its own two lines; throws what was wrong with them.
Fabric reloaded(const Fabric& fabric);
/// Both lines of a reloaded fabric are those of the fabric.
bool roundTrips(const Fabric& fabric);
/// The same loop in a reloaded fabric.
LoopId sameLoop(const Fabric& fabric, LoopId loop, const Fabric& other);
YarnId sameYarn(const Fabric& fabric, YarnId yarn, const Fabric& other);

/// Every loop of every yarn, along the yarns.
std::vector<LoopId> loopsOf(const Fabric& fabric);
std::vector<LoopId> looseLoops(const Fabric& fabric);  ///< but for those that are nothing
std::vector<PassId> passesIn(const Fabric& fabric);
/// The loop n below, by right-most hosts.
LoopId below(const Fabric& fabric, LoopId loop, int n);
bool standsOn(const Fabric& fabric, LoopId loop, LoopId ancestor);
/// The loop on the needle that stands on another.
LoopId topOf(const Knitter& knitter, LoopId ancestor);
/// The loop that a loop goes through; several: the right-most.
LoopId hostOf(const Fabric& fabric, LoopId loop);

/// How a loop goes through what it stands on, as the right side shows it: `k` or `p` with the twist, and for
/// several hosts the stack from the right side to the wrong side, in letters from right to left: `k ba`,
/// `p-1 ab`.
std::string form(const Fabric& fabric, LoopId loop);
/// `/` the left-most host lies on top, `\` the right-most, `|` another; a blank for a single one.
char lean(const Fabric& fabric, LoopId loop);

/// Puts a loop that hangs under the needle, or a hooked one, back on it.
void seat(Fabric& fabric, LoopId loop, Mount mount = Mount::western);
/// Hooks the rung with that number, counted from the lowest, through one loop.
LoopId hookUp(Fabric& fabric, LoopId foot, Side toward = Side::right, int twist = 0, int rung = 0);
/// Hooks every rung in order, knit as the right side shows it, and seats the top.
LoopId hookAll(Fabric& fabric, LoopId foot);
/// The loop that now hangs below a place of the needle; throws if there is not just one.
LoopId hanging(const Fabric& fabric);

/// How many cases a property is tried on: a few times n, fewer under the sanitizers; n times LOOPMEND_CASES
/// if that is set.
int cases(int n);

}  // namespace loopmend
