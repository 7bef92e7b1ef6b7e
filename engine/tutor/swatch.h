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
    /// Rows knitted at the start.
    int rows() const { return rows_; }
    /// The faultless cloth after so many rows and so many steps of the next row.
    const Fabric& meantAt(int rows, int steps = 0) const;
    /// Its first line of text: the same line, the same cloth.
    const std::string& knotAt(int rows, int steps = 0) const;
    /// The cloth at the start; once.
    Knitting takeActual() { return std::move(*actual_); }

    /// What happened, as the cloth at the start tells it.
    const Explanations& story() const { return story_; }
    /// The likeliest mistake; none: nothing is wrong, or nothing known explains it.
    const FoundFault* found() const;
    /// Every mistake that makes this very cloth.
    std::vector<std::string> rightFaults() const;

  private:
    Script script_;
    Setup setup_;
    int rows_ = 0;
    std::optional<Knitting> actual_;
    Explanations story_;
    std::vector<std::string> lessonFaults_;
    mutable std::map<std::pair<int, int>, Knitting> meant_;
    mutable std::map<std::pair<int, int>, std::string> knots_;
};

}  // namespace loopmend
