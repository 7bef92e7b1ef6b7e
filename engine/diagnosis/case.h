// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include <tl/expected.hpp>

#include "fabric/fabric.h"
#include "fault/knit_with.h"
#include "fault/place.h"
#include "pattern/op.h"
#include "pattern/terms.h"
#include "pattern/working.h"
#include "reading/answer.h"

/// The case: a knitter's own knitting, of which nobody knows more than what she meant and what she sees. A
/// few looks, asked for one at a time, and what happened and where.
///
/// `Case` is what a window or a terminal holds: it asks (`question`), is told (`answer`, `cantTell`, `back`)
/// and says what it believes (`place`, `explanations`, `settled`). It is its start and its observations and
/// nothing else, so keeping those two keeps all of it (store/case_file.h). Deterministic: the same answers
/// give the same questions on every machine.
///
/// Rows count as worked (1: the first after the cast-on); columns from the right edge as the right side shows
/// it, from 1; stitches as worked, from 1.
namespace loopmend {

class CaseTables;   // tables.h
class CaseEffects;  // case_effects.h

// ---- how it begins -------------------------------------------------------------------------------------

/// What is known of the ground, if there is no pattern.
enum class CaseGround : std::uint8_t { plain, garter, rib, seed, unknown };
inline constexpr int kCaseGrounds = static_cast<int>(CaseGround::unknown) + 1;
/// `plain`, `garter`, `rib`, `seed`, `unknown`.
std::string_view name(CaseGround ground);
std::optional<CaseGround> caseGroundFrom(std::string_view name);

/// What she was knitting.
struct CaseStart {
    std::string pattern;  ///< its words; empty: only a ground is known
    CaseGround ground = CaseGround::plain;
    int stitches = 0;  ///< cast on; 0: she does not know (a pattern that works on several counts: as many as
                       ///< its own text says, else some 24)
    int rowsDone = 0;  ///< rows worked, the one in hand among them if it was worked to its end
    Setup setup;
    std::uint64_t seed = 1;  ///< of the throws that draw a sample for the next look
    double beginner = 1;     ///< seconds of counting, against the usual
    LookErrors errors;       ///< how often she is wrong
    /// How often mistakes are made, by fault id, in place of the usual weights (priors.h). `not-in-list`
    /// weighs what nobody has listed.
    std::map<std::string, double> priors;
};

/// What she was to have on her needles: the rows meant, and how many of them are done.
struct CaseMeant {
    Script script;  ///< all rows known, those to come too
    int rowsDone = 0;
};
/// Works out what was meant. The failure is a sentence: what in the start does not fit together.
tl::expected<CaseMeant, std::string> meantBy(const CaseStart& start);

// ---- what she notices ----------------------------------------------------------------------------------

/// The five pictures that a beginner points at.
enum class CasePicture : std::uint8_t {
    looseLoop,
    hole,
    bump,
    oddStitch,
    nothing,
    something,  ///< no picture: something is wrong about there
};
inline constexpr int kCasePictures = static_cast<int>(CasePicture::nothing) + 1;  ///< that are shown
std::string_view name(CasePicture picture);  ///< `loop-or-ladder`, `hole`, `bump`, `odd-stitch`, `nothing`,
                                             ///< `something`
std::string words(CasePicture picture, Terms terms = Terms::us);

/// One thing that was noticed or told.
struct CaseNote {
    enum class Kind : std::uint8_t {
        look,     ///< `look` and what came of it
        picture,  ///< she pointed at `row`, `column` and said which of the five
        cameOut,  ///< the row in hand: `seen.by` -1 too few stitches, 0 it came out, 1 too many
        fine,     ///< rows `look.rowFrom` to `look.rowTo` look right to her
        safe,     ///< she has stopped and pinned what is open (says nothing about the mistake)
    };
    Kind kind = Kind::look;
    Look look;
    Sighting seen;
    CasePicture picture = CasePicture::nothing;
    int row = 0;  ///< picture: where she points; 0: nowhere
    int column = 0;
    bool told = true;  ///< false: she could not tell
    double sure = 1;   ///< 0 to 1: how sure she is (fairly sure 0.8, guessing 0.5)
    int line = 0;      ///< of the file it was read from; 0: none

    friend bool operator==(const CaseNote& a, const CaseNote& b) {
        return a.kind == b.kind && a.look == b.look && a.seen == b.seen && a.picture == b.picture &&
               a.row == b.row && a.column == b.column && a.told == b.told && a.sure == b.sure;
    }
};
/// In one sentence: what was looked at, and what she said.
std::string words(const CaseNote& note, Terms terms = Terms::us);

// ---- what it asks --------------------------------------------------------------------------------------

/// One answer that can be chosen.
struct CaseChoice {
    std::string words;
    CaseNote note;  ///< what choosing it tells
    bool place =
        false;  ///< she points at a place as well: set `note.seen.row/column` (picture: `row/column`)
};

struct CaseQuestion {
    CaseNote::Kind kind = CaseNote::Kind::look;
    Look look;
    std::string words;                ///< what to do and what to look for
    std::string touch;                ///< where that is, by touch: `the 3rd row below the needle`
    std::string why;                  ///< what it is to tell apart
    std::vector<CaseChoice> choices;  ///< *I can't tell* is always possible besides
    double seconds = 0;
    double bits = 0;  ///< expected
    /// What of the model is to be lit: rows and columns, both inclusive; rowTo 0: the whole piece.
    int rowFrom = 0;
    int rowTo = 0;
    int columnFrom = 0;
    int columnTo = 0;
};

// ---- what it believes ----------------------------------------------------------------------------------

/// A mistake at a place, as far as it is believed.
struct CaseExplanation {
    std::string id;  ///< of the fault; `not-in-list`: something at that place that is not in the catalogue
    After after = After::byReading;
    int row = 0;     ///< where the hands did it
    int stitch = 0;  ///< as worked in that row
    int column = 0;
    int seenRow = 0;                  ///< where it shows
    double probability = 0;           ///< of the cluster: this kind, a row and a stitch up or down
    double placeProbability = 0;      ///< of the place, whatever the kind
    std::vector<std::string> sameAs;  ///< other kinds that no look can tell from it: *proved*
    std::vector<std::string> taken;   ///< runners-up at that place
    std::string name;                 ///< in a knitter's words
    std::string words;                ///< what happened and where
    std::string signs;                ///< the two signs to know it by
    std::string notThis;              ///< what it is not, and what tells it apart
    std::optional<FaultPlace> fault;  ///< to be knitted again; none: not in the list
    bool checked = false;             ///< knitted again as a whole, and what she saw held against it
};

/// How small the place has become.
struct CasePlace {
    std::vector<double> byRow;     ///< index 0: the cast-on
    std::vector<double> byColumn;  ///< index 0 is unused
    int rowFrom = 0;               ///< the smallest box that holds nine tenths
    int rowTo = 0;
    int columnFrom = 0;
    int columnTo = 0;
    int loops = 0;  ///< that lie in it
    int loopsInAll = 0;
    std::string words;                  ///< `Somewhere in the top six rows, in the right third`
    std::vector<std::string> ruledOut;  ///< sentences: what it is not any more
};

/// The end of a case, or not yet.
struct CaseSettled {
    bool settled = false;
    bool place = false;  ///< at least the place is
    std::optional<CaseExplanation> explanation;
    /// Two mistakes, where no single one explains all she saw (the second one).
    std::optional<CaseExplanation> second;
    /// Observations that do not go together: index of the least credible one; -1: none.
    int leastCredible = -1;
    std::string contradiction;
    std::string words;  ///< one or two sentences for all of it
};

/// The meant piece and the piece as the explanation has it, to be mended on.
struct CaseModel {
    Script script;
    Setup setup;
    std::vector<FaultPlace> faults;
    After after = After::byReading;
    std::unique_ptr<FaultyKnitting> knitting;  ///< meant and actual, always there
};

// ---- the case itself -----------------------------------------------------------------------------------

struct CaseManners {
    double settleAt = 0.9;
    int mostLooks = 20;
    double leastBits = 0.01;  ///< no look promises more than this: stop asking
    int sample = 700;         ///< hypotheses drawn for the next look
    double perLook = 6;       ///< seconds that any look costs beside its own (reading, answering)
    /// Windows knitted for other cases, kept for speed; none: its own. Not to be shared by threads.
    std::shared_ptr<CaseEffects> effects = {};
};

class Case {
  public:
    /// Begins. The failure is a sentence for a person.
    static tl::expected<Case, std::string> begin(const CaseStart& start, const CaseManners& manners = {});
    /// The same from rows that are known already (a pattern that was read elsewhere).
    static tl::expected<Case, std::string> begin(const CaseStart& start, CaseMeant meant,
                                                 const CaseManners& manners = {});
    Case(Case&& other) noexcept;
    Case& operator=(Case&& other) noexcept;
    ~Case();

    const CaseStart& start() const;
    const CaseMeant& meant() const;
    /// The meant piece, knitted, and made ready for looks.
    const Fabric& fabric() const;
    const LookedAt& looked() const;

    /// What is to be asked next; none: nothing more is worth asking, or it is settled, or enough was asked.
    const std::optional<CaseQuestion>& question() const;
    /// Tells something: an answer, or whatever she notices by herself. The failure is a sentence: a row past
    /// the end, a stitch outside the row, an answer that the look cannot have; nothing is changed then.
    tl::expected<void, std::string> tell(const CaseNote& note);
    /// Several at once, as a file has them: nothing is asked in between. All or none.
    struct Refusal {
        std::size_t note = 0;
        std::string words;
    };
    tl::expected<void, Refusal> tell(const std::vector<CaseNote>& notes);
    /// She cannot tell: the same is not asked again.
    void cantTell();
    /// Takes the last answer back; false: there is none.
    bool back();
    const std::vector<CaseNote>& notes() const;
    /// Looks answered so far (what she noticed by herself does not count).
    int looks() const;

    CasePlace place(Terms terms = Terms::us) const;
    /// The best clusters, the likeliest first.
    std::vector<CaseExplanation> explanations(int most = 8, Terms terms = Terms::us) const;
    CaseSettled settled(Terms terms = Terms::us) const;
    /// What an explanation makes of the meant piece; none: it cannot be knitted (not in the list).
    std::optional<CaseModel> model(const CaseExplanation& explanation) const;

    const CaseTables& tables() const;
    /// Weights of all hypotheses, as `tables` numbers them.
    const std::vector<double>& weights() const;

    struct Inner;

  private:
    explicit Case(std::unique_ptr<Inner> inner);
    std::unique_ptr<Inner> inner_;
};

/// Priors learned from attempts: the usual weights, moved toward how often each mistake was met, as if the
/// usual ones had been seen `asMany` times.
std::map<std::string, double> learnedPriors(const std::map<std::string, int>& met, double asMany = 50);

}  // namespace loopmend
