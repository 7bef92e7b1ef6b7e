// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include <tl/expected.hpp>

#include "fabric/fabric.h"
#include "pattern/op.h"
#include "pattern/terms.h"
#include "reading/landmarks.h"
#include "reading/read.h"

/// Looks at a piece of knitting as data: what a knitter is asked to do with eyes and fingers, what can come
/// of it, how long it takes and how often she is wrong; and what a perfect eye would find.
namespace loopmend {

/// Ways of looking, as the command line names them.
enum class LookWay : std::uint8_t {
    armsLength,     ///< `glance`: held at arm's length, which ninth looks different
    countSpan,      ///< `count`: stitches of a span of a row, on the needle or some rows down
    rowFits,        ///< `row-fits`: does the row to be worked fit the stitches that are there
    closeLook,      ///< `close`: three rows by five stitches about a place: what is odd there; if it is not
                    ///< known what was meant and nothing stands out, what is in the middle of it
    follow,         ///< `follow`: a line, down from one row to another
    compareRepeat,  ///< `compare`: a stretch of one row against the pattern
    oddRepeat,      ///< `odd-repeat`: which repeat of a row is unlike its sisters
    searchPatch,    ///< `search`: a patch of at most 200 loops, for anything odd
    stretchPatch,   ///< `stretch`: a patch pulled sideways: does a loop stand free
    slantLight,     ///< `slant`: light from the side, and a finger over it: bump, crossed feet, tall stitch
    tug,            ///< `tug`: a place pulled: does a loop or a long bar give
    turnOver,       ///< `turn-over`: one stitch from the other side
    bothEnds,       ///< `both-ends`: rows counted up both edges
};
inline constexpr int kLookWays = static_cast<int>(LookWay::bothEnds) + 1;
inline constexpr int kMostInPatch = 200;     ///< loops that are searched, or pulled, at once
inline constexpr int kMostUnderLight = 400;  ///< loops that light falls on at once

std::string_view name(LookWay way);

/// One look. Rows count as worked (1: the first after the cast-on); columns from the right edge as the right
/// side shows it, from 1, in the row as it was meant. What a way does not need is left alone.
struct Look {
    LookWay way = LookWay::armsLength;
    int rowFrom = 0;  ///< the row (follow: where she begins, above); patches: the lowest row
    int rowTo = 0;    ///< follow: the lowest row; patches: the highest; else as rowFrom
    int columnFrom = 0;
    int columnTo = 0;
    Side side = Side::right;                      ///< that looks at her
    LandmarkKind landmark = LandmarkKind::spine;  ///< follow
    int width = 0;                                ///< oddRepeat: stitches of one repeat

    friend bool operator==(const Look& a, const Look& b) {
        return a.way == b.way && a.rowFrom == b.rowFrom && a.rowTo == b.rowTo &&
               a.columnFrom == b.columnFrom && a.columnTo == b.columnTo && a.side == b.side &&
               a.landmark == b.landmark && a.width == b.width;
    }
};

/// `close:row=18,column=22,side=ws`, `follow:line=double-decrease,row=23-1,column=5`,
/// `odd-repeat:row=9,column=3-26,repeat=6`. `lookFrom` reads what `text` writes.
std::string text(const Look& look);
tl::expected<Look, std::string> lookFrom(std::string_view text);

/// What can be odd, or be seen, at one place.
enum class OddSign : std::uint8_t {
    none,  ///< as it should be
    v,
    bump,
    hole,
    noHole,
    leansRight,
    leansLeft,
    upright,   ///< several together, a middle one on top
    gathered,  ///< several together, seen from the side that hides their lean
    noJoin,    ///< nothing grows together where it should
    crossRight,
    crossLeft,
    noCross,
    crossedFeet,
    tall,          ///< a stitch over several rows
    acrossStrand,  ///< a strand across it
    twoFromOne,
    onBar,
    freeLoop,
    ladder,
    split,
    otherColour,
    edge,    ///< the cast-on, a bind-off, a picked-up stitch
    slides,  ///< the pattern stands over other stitches than before
    longBar,
    slack,  ///< a stitch clearly larger than it should be
    tight,  ///< or smaller
    other,
};
inline constexpr int kOddSigns = static_cast<int>(OddSign::other) + 1;
std::string_view name(OddSign oddity);
/// In a knitter's words: `a hole`.
std::string words(OddSign oddity, Terms terms = Terms::us);

/// How easily it is overlooked (design of the error model: slides least, crossed feet and split yarn most).
enum class Ease : std::uint8_t { slides, usual, hard };
Ease easeOf(OddSign oddity);

/// What came of a look.
struct Sighting {
    enum class What : std::uint8_t {
        nothing,  ///< nothing odd; fits; no such place
        number,   ///< `by`
        beyond,   ///< a number beyond the list
        ninth,   ///< `by` 1 to 9: right, middle, left of the top six rows, then of the next fourteen, then of
                 ///< the older ones (right and left as the right side shows them)
        place,   ///< `oddity` at `row` and `column`; ways that ask only where leave `oddity` at other
        sign,    ///< `oddity`, where she was told to look
        repeat,  ///< `by`: number of the repeat, in the order worked
        unnamed,  ///< something is there, none of the list
        unclear,  ///< what she was to look at is not there
    };
    What what = What::nothing;
    OddSign oddity = OddSign::none;
    int by = 0;
    int row = 0;
    int column = 0;
    Ease ease = Ease::usual;  ///< of the truth; no part of what she says

    friend bool operator==(const Sighting& a, const Sighting& b) {
        return a.what == b.what && a.oddity == b.oddity && a.by == b.by && a.row == b.row &&
               a.column == b.column;
    }
};

/// A piece made ready for any number of looks: read once, and compared once with what was meant. Keeps what
/// it has read; the fabrics need not outlive it. Linear in their loops.
class LookedAt {
  public:
    /// Nothing is known of what was meant: odd is what stands out (symptoms.h).
    explicit LookedAt(const Fabric& actual, Knits hands = Knits::asItShows);
    /// script: what is worked on, also after the last row that was meant so far.
    LookedAt(const Fabric& actual, const Fabric& meant, const Script* script = nullptr,
             Knits hands = Knits::asItShows);
    /// The same, of many that were meant to be one and the same piece: that is read only once (its own
    /// comparison does not matter, its hands should be these).
    LookedAt(const Fabric& actual, const LookedAt& meant, const Script* script = nullptr,
             Knits hands = Knits::asItShows);
    LookedAt(LookedAt&& other) noexcept;
    LookedAt& operator=(LookedAt&& other) noexcept;
    ~LookedAt();

    /// From the right side.
    const Reading& reading() const;
    const std::vector<Landmark>& lines() const;
    /// Rows worked.
    int rows() const;
    /// Stitches of a row as it was meant (else as it is); 0 if there is no such row.
    int width(int row) const;

    struct Inner;
    const Inner& inner() const { return *inner_; }

  private:
    std::unique_ptr<const Inner> inner_;
};

/// What a perfect eye finds. Total over any fabric and any look. O(the rows and stitches looked at; arm's
/// length: what is odd; follow, count: the rows down to the cast-on).
Sighting answer(const Look& look, const LookedAt& piece);

/// All that can come of a look, each once, the blameless one first.
std::vector<Sighting> outcomesOf(const Look& look);

/// How often a knitter is wrong; the defaults are the design's, to be adjusted to her.
struct LookErrors {
    double overlooksSlide = 0.25;  ///< at arm's length
    double overlooks = 0.40;       ///< at arm's length, anything else
    double overlooksHard = 0.80;   ///< at arm's length, crossed feet and split yarn
    double wrongNinth = 0.10;
    double offByOneIn60 = 0.05;  ///< counting: a share that grows with the stitches
    double misfit = 0.02;
    double closeOverlooks = 0.05;
    double misnames = 0.03;
    double followOverlooks = 0.10;
    double followOffByOne = 0.10;
    double compareOverlooks = 0.15;
    double searchOverlooks = 0.30;      ///< in lace or colour (the design); plain ground has half of it
    double searchOverlooksHard = 0.50;  ///< crossed feet, split yarn
    double stretchOverlooks = 0.15;
    double slantOverlooks = 0.25;
    double tugWrong = 0.05;
    double besideByOne = 0.12;  ///< a place told a row or a stitch off (from a trial)
    double falseAlarm = 0.03;   ///< something seen where nothing is, anywhere alike (from a trial)
    /// Of several places that are odd a good eye tells the plainest. Real hands tell others too: each of them
    /// has so much beside it (a guess), all together at most half. 0: who always tells the plainest.
    double another = 0.08;
    bool busy = true;  ///< lace or colour

    /// The same knitter, wrong so many times as often.
    LookErrors times(double factor) const;
};

struct Chance {
    Sighting seen;
    double probability = 0;
};
/// Probability of each outcome, given the true one; they sum to 1. What is not listed does not happen.
std::vector<Chance> confusion(const Look& look, const Sighting& truth, const LookErrors& errors = {});

/// Seconds that looks take.
struct LookPace {
    double glance = 5;
    double countStitch = 0.4;
    double count = 4;
    double rowFits = 10;
    double close = 6;
    double followRow = 0.5;
    double follow = 5;
    double compareStitch = 0.7;
    double oddRepeatStitch = 0.12;
    double compare = 5;
    double searchLoop = 0.2;
    double stretch = 10;
    double slant = 8;
    double tug = 5;
    double turnOver = 8;
    double bothEnds = 15;
    /// A beginner counts at half the speed.
    static LookPace beginner();
};
double seconds(const Look& look, const LookPace& pace = {});

/// The request in a knitter's words, places as she has the work in her hands: `Look closely at the 3rd row
/// below the needle, the 7th stitch from the right as the right side faces you: ...`.
std::string words(const Look& look, const LookedAt& piece, Terms terms = Terms::us);
/// The same with row numbers, for when there is no piece.
std::string words(const Look& look, Terms terms = Terms::us);
/// What came of it, in one sentence.
std::string words(const Look& look, const Sighting& seen, Terms terms = Terms::us);

}  // namespace loopmend
