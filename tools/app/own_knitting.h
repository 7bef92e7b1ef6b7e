// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "app/free_piece.h"
#include "app/own_part.h"
#include "app/panes.h"
#include "app/sign_pictures.h"
#include "diagnosis/case.h"

namespace loopmend::app {

/// Somebody's own knitting, of which this program sees nothing: she says what it is, is asked for one look
/// after another, and is told what happened and where. Draws nothing itself.
class OwnKnitting {
  public:
    enum class Stage : std::uint8_t {
        safe,   ///< first: stop, and make safe what can run
        what,   ///< plain, rib, a pattern ...
        size,   ///< stitches and rows
        asking  ///< there is a case
    };

    explicit OwnKnitting(bool justWentWrong) : stage_(justWentWrong ? Stage::safe : Stage::what) {}
    /// Taken up again. The failure is a sentence.
    static tl::expected<OwnKnitting, std::string> from(const CaseStart& start,
                                                       const std::vector<CaseNote>& notes);

    Stage stage() const { return stage_; }
    void goOn() { stage_ = stage_ == Stage::safe ? Stage::what : stage_; }
    void setGround(CaseGround ground);
    /// `stitches`: 0 if the pattern says how many, or many will do; rows: printed.
    void setPattern(std::string name, std::string words, int stitches, int rows);
    const std::string& name() const { return name_; }
    /// A step back: of the questions, or of the beginning. False: there is none.
    bool back();

    /// What is typed in; empty: she does not know.
    std::array<char, 8> stitches{};
    std::array<char, 8> rows{};
    /// One sentence if what was typed does not do.
    std::optional<std::string> begin(bool mirrored);

    const CaseStart& start() const { return start_; }

    // ---- asking
    const Case& asked() const { return *case_; }
    /// An answer; one that needs a place then waits for it.
    void choose(std::size_t which);
    /// The answer that waits for a place to be pointed at.
    const CaseChoice* waiting() const;
    void pointAt(int row, int column);
    /// She cannot say where.
    void nowhere();
    void cantTell();
    /// The sentence that says why an answer was not taken; empty: it was.
    const std::string& said() const { return said_; }

    const CasePlace& place() const { return place_; }
    /// The likeliest first, each kind of mistake once, at its likeliest place.
    const std::vector<CaseExplanation>& explanations() const { return explanations_; }
    const CaseSettled& settled() const { return settled_; }
    /// Another number after each answer.
    int version() const { return version_; }
    void setTerms(Terms terms);

    /// The piece as it was meant, and as an explanation has it (none: it cannot be knitted).
    Recipe meant() const;
    std::optional<Recipe> as(const CaseExplanation& explanation) const;

    /// A model of the whole of it can be drawn within a moment.
    bool isDrawn() const;
    /// Else the part about what is asked; none: it is drawn whole, or cannot be cut there.
    const std::optional<OwnPart>& part() const { return part_; }
    /// And the part from a mistake up to the needle, with it; none: it lies too deep, or cannot be made
    /// there.
    std::optional<OwnPart> partWith(const CaseExplanation& explanation) const;
    /// Where a stitch of what is drawn lies in her piece; none: it is none of it.
    std::optional<StitchPlace> inPiece(const StitchPlace& at) const;

  private:
    void tell(CaseNote note);
    void look();

    Stage stage_;
    std::string name_;
    CaseStart start_;
    std::optional<Case> case_;
    std::optional<std::size_t> waiting_;
    std::string said_;
    Terms terms_ = Terms::us;
    CasePlace place_;
    std::vector<CaseExplanation> explanations_;
    CaseSettled settled_;
    std::optional<OwnPart> part_;
    int version_ = 0;
};

struct OwnPageState {
    std::string onTable;  ///< the name of a pattern that lies on the free table and can be taken; else empty
    float pages = 0;      ///< to be scrolled by
    bool all = false;     ///< every answer is shown, not only the first ones
    bool fresh = false;   ///< another question than before: it is read from its top
    SignPictures* pictures = nullptr;  ///< of what to look for
};
void drawOwnPage(const Desk& desk, OwnKnitting& own, const OwnPageState& state);

}  // namespace loopmend::app
