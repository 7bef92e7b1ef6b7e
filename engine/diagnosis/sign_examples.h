// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <memory>
#include <optional>
#include <string>

#include "diagnosis/case.h"
#include "reading/answer.h"

namespace loopmend {

/// What the signs of mistakes look like in a knitter's own pattern or ground: small pieces of it, each with a
/// mistake in it that gives the sign where she would look. Nothing is drawn by rule: the mistake is worked,
/// and looked at as she would (reading/answer.h). The commonest mistakes are tried first. Deterministic.
class SignExamples {
  public:
    struct Example {
        std::shared_ptr<const Fabric> fabric;
        OddSign sign = OddSign::none;
        int row = 0;        ///< where to look, as worked
        int column = 0;     ///< from the right edge as the right side shows it
        std::string fault;  ///< its id; empty: nothing is wrong there
    };

    /// The pieces are of as many stitches as a few repeats take, and at most nine rows, however large hers
    /// is. Where her pattern does not come out on so few, of plain knitting.
    explicit SignExamples(const CaseStart& start);

    /// Seen with that side facing. Nothing: no mistake of the list shows it in this pattern. The first call
    /// for a side looks for all of them, which takes some tenths of a second.
    const Example* of(OddSign sign, Side side);
    /// One of the five pictures, from the right side; of `nothing` a faultless piece.
    const Example* of(CasePicture picture);

  private:
    using Found = std::array<std::optional<Example>, kOddSigns>;
    void lookFor(Found& found, Side side) const;

    Setup setup_;
    Script script_;
    int rows_ = 0;
    std::array<std::optional<Found>, 2> bySide_;
};

}  // namespace loopmend
