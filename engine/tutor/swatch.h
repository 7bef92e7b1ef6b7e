// SPDX-License-Identifier: MIT
#pragma once

#include <map>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "diagnosis/explain.h"
#include "fault/knit_with.h"
#include "tutor/ends.h"
#include "tutor/lesson.h"

namespace loopmend {

/// The cloth of a lesson: as it was meant, at any stitch of any row; as it is at the start; and what happened
/// to it, found by the diagnosis and not taken from the lesson.
class Swatch {
  public:
    /// std::invalid_argument with a sentence, if it cannot be knitted.
    Swatch(const LessonSwatch& wanted, Terms terms, bool mirrored);

    /// The rows of the lesson and a few more, to knit on by.
    const Script& script() const { return script_; }
    /// The same up to a place: all rows before `row`, and `steps` of row `row` (0: none).
    Script scriptTo(int rows, int steps) const;
    const Setup& setup() const { return setup_; }
    /// Rows knitted at the start, and steps of the next one: put down in the middle of it.
    int rows() const { return rows_; }
    int steps() const { return steps_; }
    /// The faultless cloth after so many rows and so many steps of the next row.
    const Fabric& meantAt(int rows, int steps = 0) const;
    /// Its first line of text: the same line, the same cloth.
    const std::string& knotAt(int rows, int steps = 0) const;
    /// Where its mending may end besides the meant cloth, and what ways there are to it.
    const Ends& ends() const { return ends_; }
    /// Whether a cloth is as it was meant to be after so many rows and steps: its knot and, where sizes are
    /// what went wrong, these too.
    bool isAsMeant(const Fabric& fabric, const std::string& knot, int rows, int steps = 0) const;
    /// The cloth at the start; once.
    Knitting takeActual() { return std::move(*actual_); }

    /// What happened, as the cloth at the start tells it; found when it is first asked for.
    const Explanations& story() const;
    /// The likeliest mistake; none: nothing is wrong, or nothing known explains it.
    const FoundFault* found() const;
    /// Every mistake that makes this very cloth.
    std::vector<std::string> rightFaults() const;
    /// Mistakes for which the likeliest one is easily taken, the most alike first; found when first asked
    /// for.
    const std::vector<std::string>& takenFor() const;
    /// What has to be named to have named everything: one mistake a line, by any of its ids. Empty: nothing
    /// is wrong.
    std::vector<std::vector<std::string>> causes() const;

  private:
    void beginRow(int stitches);
    void tellSeveral(const Script& knitted) const;
    Explanation authorsWord(const Script& knitted) const;

    Script script_;
    Setup setup_;
    int rows_ = 0;
    int steps_ = 0;
    Terms terms_ = Terms::us;
    std::optional<Knitting> actual_;
    Ends ends_;
    Fabric atRowEnd_;  ///< at the start, without the row in hand: what the diagnosis is asked of
    mutable std::optional<Explanations> story_;
    mutable std::optional<std::vector<std::string>> takenFor_;
    std::vector<FaultPlace> lessonFaults_;
    mutable std::map<std::pair<int, int>, Knitting> meant_;
    mutable std::map<std::pair<int, int>, std::string> knots_;
};

}  // namespace loopmend
