// SPDX-License-Identifier: MIT
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "fault/draw.h"
#include "reading/columns.h"
#include "tutor/question.h"

/// What the questions share: the cloth that is asked, what would lie there after another mistake, and the
/// list of answers.
namespace loopmend {

/// The cloth at one place if another mistake had been made there and nothing else.
struct Otherwise {
    std::string_view fault;
    const Fabric& fabric;
    const Reading& rightSide;
    const Reading& wrongSide;
    const Cell* right;  ///< the place, from the right side; never none
    const Cell* wrong;
};

class AskedCloth {
  public:
    AskedCloth(const Swatch& swatch, const Scene& scene, const QuestionWanted& wanted, std::uint64_t seed);

    const Swatch& swatch;
    const Scene& scene;
    const QuestionWanted& wanted;
    Seeded dice;

    const Fabric& fabric() const { return scene.view.fabric; }
    Terms terms() const { return scene.view.terms; }
    Side seen() const { return scene.view.seen; }
    /// From either side, whichever she sees: what is chosen must not change when the work is turned.
    const Reading& reading(Side side) const;
    const Columns& columns() const;
    const Cell* cell(LoopId loop) const { return cellOf(reading(Side::right), loop); }
    const Cell* cellSeen(LoopId loop) const { return cellOf(scene.reading, loop); }

    /// Stitches of one kind, from below up: `plain`, `hole`, `decrease`, `double-decrease`, `increase`,
    /// `crossed`, `slipped`, `cable`; empty: plain ones.
    std::vector<LoopId> stitches(std::string_view of) const;
    /// The one that the author names, else one drawn from the seed, away from the edges if it can be; none:
    /// there is none.
    LoopId choose(std::vector<LoopId> loops);

    /// `the fifth from the right as it faces you, two rows below the needle`.
    std::string place(LoopId loop) const { return placeWords(scene.view, scene.places, loop); }
    /// Each mistake that can happen at the stitch, those that are easily taken for what is there first, until
    /// `visit` says false.
    void otherwise(LoopId loop, const std::function<bool(const Otherwise&)>& visit);

  private:
    mutable std::optional<Reading> readings_[2];
    mutable std::optional<Columns> columns_;
};

/// What kind of stitch it is, in the words of `QuestionWanted::of`; empty: none of those.
std::string_view kindOf(const Symbol& symbol);
/// What it is, for a beginner, in one line: `A knit stitch: a V`.
std::string sightWords(const Symbol& symbol, Terms terms);

/// Marks.
PageMark litLoop(PageMarkKind kind, LoopId loop);
PageMark litLoops(PageMarkKind kind, std::vector<LoopId> loops);
PageMark litTargets(PageMarkKind kind, const std::vector<PointTarget>& targets);
/// The cloth round a place.
PageMark litAround(const AskedCloth& cloth, LoopId loop);
PointTarget targetOf(LoopId loop, PointTarget::Spot spot = PointTarget::Spot::whole);

/// An answer as it is said for the side she sees and for the other one: it stays one answer when the work is
/// turned.
struct Reply {
    std::string key;
    std::string text;
    std::string turned;
};

/// One whose words are the same from either side; they are its key as well, if none is given.
Reply fixed(std::string key, const std::string& text);
inline Reply fixed(const std::string& text) {
    return fixed(text, text);
}

/// Collects answers: no two of them are one on either side.
class Answers {
  public:
    void right(const Reply& reply, std::string why);
    /// False: there is such an answer already.
    bool wrong(const Reply& reply, std::string why, std::string rightFor);
    int wrongs() const { return static_cast<int>(answers_.size()) - 1; }
    /// In an order that tells nothing; at most `most` wrong ones.
    std::vector<QuestionAnswer> mixed(Seeded& dice, int most = 3);

  private:
    bool known(const Reply& reply) const;
    std::vector<QuestionAnswer> answers_;
    std::vector<Reply> replies_;
};

/// A place that is easily pointed at instead; nothing, if it is a right one.
void tempt(Question& q, const PointTarget& target, std::string why, std::string rightFor);
/// Stitches beside, below and above, that are easily taken for it.
void temptRound(AskedCloth& cloth, Question& q, LoopId loop, const std::string& why,
                const std::string& rightFor);

using Asked = tl::expected<Question, std::string>;
Asked cannotAsk(std::string words);
/// The last touch: four rungs, lights of the answer.
Question finished(Question question, const AskedCloth& cloth, LoopId about, std::vector<std::string> hints);

/// One for each family of questions.
Asked askPoint(AskedCloth& cloth);
Asked askSigns(AskedCloth& cloth);
Asked askRoot(AskedCloth& cloth);
Asked askName(AskedCloth& cloth);
Asked askTurned(AskedCloth& cloth);
Asked askOnTop(AskedCloth& cloth);
Asked askCount(AskedCloth& cloth);
Asked askSide(AskedCloth& cloth);
Asked askNeck(AskedCloth& cloth);
Asked askMount(AskedCloth& cloth);
Asked askRun(AskedCloth& cloth);
Asked askDrop(AskedCloth& cloth);
Asked askRung(AskedCloth& cloth);
Asked askTrace(AskedCloth& cloth);
Asked askPlan(AskedCloth& cloth);
Asked askWritten(AskedCloth& cloth);

}  // namespace loopmend
