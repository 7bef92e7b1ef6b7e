// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include <tl/expected.hpp>

#include "tutor/asking.h"
#include "tutor/page.h"
#include "tutor/signs.h"
#include "tutor/swatch.h"

/// Questions about a cloth, with the right answer and the tempting wrong ones, all worked out from the cloth.
namespace loopmend {

/// One answer to choose.
struct QuestionAnswer {
    std::string key;   ///< the same while words change: `v`, `bump`, `12`
    std::string text;  ///< as it is shown
    bool right = false;
    std::string why;  ///< what is said when it is chosen, kindly: the sign that settles it
    /// Wrong: the fault for which it would be right, one that is confused with what is there; or, where
    /// nothing is wrong, a usual misbelief in a few words; empty for `nothing-wrong` and `cannot-tell`.
    std::string rightFor;
};

/// A place that is easily pointed at instead.
struct TemptingTarget {
    PointTarget target;
    std::string why;
    std::string rightFor;
};

struct Question {
    QuestionKind kind = QuestionKind::name;
    std::string words;            ///< one or two sentences, places as the cloth faces her
    std::vector<PageMark> about;  ///< lit while it is asked

    /// Answered by choosing: three or more, one of them right. Empty: answered by pointing.
    std::vector<QuestionAnswer> answers;

    /// Answered by pointing: for each thing to be pointed at, every target that counts for it.
    std::vector<std::vector<PointTarget>> targets;
    bool inOrder = false;  ///< traced: one after another
    std::vector<TemptingTarget> tempting;

    std::vector<std::string> hints;  ///< four rungs: where to look, what to notice, why, the answer
    std::vector<std::vector<PageMark>> lights;  ///< what each rung lights beside `about`
};

/// Works a question out. `seed` chooses what the author left open and the order of answers. The error is a
/// sentence: this cloth cannot be asked that.
tl::expected<Question, std::string> questionOf(const Swatch& swatch, const Scene& scene,
                                               const QuestionWanted& wanted, std::uint64_t seed);

/// Every question that this cloth can be asked, with the engine's choices for the seed.
std::vector<QuestionWanted> questionsFor(const Swatch& swatch, const Scene& scene, std::uint64_t seed);

/// The skill that a question exercises (tutor/skills.h).
std::string_view skillOf(const QuestionWanted& wanted);

}  // namespace loopmend
