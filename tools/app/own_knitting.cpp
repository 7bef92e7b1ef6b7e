// SPDX-License-Identifier: MIT
#include "app/own_knitting.h"

#include <algorithm>
#include <utility>

#include <fmt/format.h>

#include "pattern/numbers.h"

namespace loopmend::app {

namespace {

/// More loops than that take the program too long to lay down as yarn.
constexpr int kMostDrawn = 6000;
/// Of each kind of mistake the likeliest place is shown, of so many kinds.
constexpr std::size_t kShown = 6;
constexpr int kLookedThrough = 40;
/// Of a large piece so many rows and stitches are laid down where nothing is asked of a place.
constexpr int kAtNeedle = 20;

template <std::size_t N>
void put(std::array<char, N>& text, int number) {
    const std::string digits = number > 0 ? std::to_string(number) : std::string();
    text.fill('\0');
    std::copy_n(digits.begin(), std::min(digits.size(), N - 1), text.begin());
}

}  // namespace

tl::expected<OwnKnitting, std::string> OwnKnitting::from(const CaseStart& start,
                                                         const std::vector<CaseNote>& notes) {
    OwnKnitting own(false);
    own.start_ = start;
    auto begun = Case::begin(start);
    if (!begun) return tl::unexpected<std::string>(begun.error());
    own.case_.emplace(std::move(*begun));
    for (const CaseNote& note : notes) {
        if (const auto told = own.case_->tell(note); !told) return tl::unexpected<std::string>(told.error());
    }
    own.name_ = start.pattern.empty() ? std::string(loopmend::name(start.ground)) : "your pattern";
    own.stage_ = Stage::asking;
    put(own.stitches, start.stitches);
    put(own.rows, start.rowsDone);
    own.look();
    return own;
}

void OwnKnitting::setGround(CaseGround ground) {
    start_.ground = ground;
    start_.pattern.clear();
    switch (ground) {
        case CaseGround::plain: name_ = "plain (stockinette)"; break;
        case CaseGround::garter: name_ = "garter"; break;
        case CaseGround::rib: name_ = "rib"; break;
        case CaseGround::seed: name_ = "seed stitch"; break;
        case CaseGround::unknown: name_ = "knitting of which the pattern is not known"; break;
    }
    stage_ = Stage::size;
}

void OwnKnitting::setPattern(std::string name, std::string words, int wide, int done) {
    name_ = std::move(name);
    start_.pattern = std::move(words);
    put(stitches, wide);
    put(rows, done);
    stage_ = Stage::size;
}

bool OwnKnitting::back() {
    said_.clear();
    switch (stage_) {
        case Stage::safe: return false;
        case Stage::what: stage_ = Stage::safe; return true;
        case Stage::size: stage_ = Stage::what; return true;
        case Stage::asking: break;
    }
    if (waiting_) {
        waiting_.reset();
        return true;
    }
    if (!case_->back()) {
        stage_ = Stage::size;
        return true;
    }
    look();
    return true;
}

std::optional<std::string> OwnKnitting::begin(bool mirrored) {
    const std::string wide(stitches.data());
    const std::string high(rows.data());
    const auto stitchCount = wide.empty() ? std::optional<int>(0) : wholeNumber(wide);
    const auto rowCount = wholeNumber(high);
    if (!stitchCount) return "\"" + wide + "\" is no number of stitches. Leave it empty if you do not know.";
    if (!rowCount || *rowCount < 1)
        return "How many rows are done, more or less? Count the ridges or the Vs at an edge, and type the "
               "number.";
    start_.stitches = *stitchCount;
    start_.rowsDone = *rowCount;
    start_.setup.mirrored = mirrored;
    auto begun = Case::begin(start_);
    if (!begun) {
        std::string words = begun.error();
        if (!words.empty() && words[0] >= 'a' && words[0] <= 'z')
            words[0] = static_cast<char>(words[0] - 'a' + 'A');
        return words + ".";
    }
    case_.emplace(std::move(*begun));
    stage_ = Stage::asking;
    // On the way here she was told to stop; it need not be asked again.
    if (const auto& first = case_->question(); first && first->kind == CaseNote::Kind::safe) {
        CaseNote safe;
        safe.kind = CaseNote::Kind::safe;
        (void)case_->tell(safe);
    }
    look();
    return std::nullopt;
}

void OwnKnitting::look() {
    ++version_;
    waiting_.reset();
    place_ = case_->place(terms_);
    explanations_.clear();
    for (CaseExplanation& found : case_->explanations(kLookedThrough, terms_)) {
        const bool known = std::any_of(explanations_.begin(), explanations_.end(),
                                       [&](const CaseExplanation& before) { return before.id == found.id; });
        if (!known && explanations_.size() < kShown) explanations_.push_back(std::move(found));
    }
    settled_ = case_->settled(terms_);
    part_.reset();
    if (isDrawn()) return;
    // About what is asked; where that is the whole piece, about where it may lie, or at the needle.
    const auto& question = case_->question();
    const bool here = question && question->rowTo > 0;
    const int top = case_->meant().rowsDone;
    const bool small = 10 * place_.loops < place_.loopsInAll;
    if (here && question->columnTo > 0) {
        part_ = OwnPart::about(*case_, question->rowFrom, question->rowTo, question->columnFrom,
                               question->columnTo);
    } else if (small) {
        part_ = OwnPart::about(*case_, place_.rowFrom, place_.rowTo, place_.columnFrom, place_.columnTo);
    } else {
        part_ = OwnPart::about(*case_, here ? question->rowFrom : top - kAtNeedle,
                               here ? question->rowTo : top, 1, kAtNeedle);
    }
}

void OwnKnitting::setTerms(Terms terms) {
    if (terms == terms_) return;
    terms_ = terms;
    if (case_) look();
}

void OwnKnitting::tell(CaseNote note) {
    said_.clear();
    if (const auto told = case_->tell(note); !told) {
        said_ = told.error();
        return;
    }
    look();
}

void OwnKnitting::choose(std::size_t which) {
    if (!case_->question() || which >= case_->question()->choices.size()) return;
    const CaseChoice& choice = case_->question()->choices[which];
    if (choice.place) {
        waiting_ = which;
        said_.clear();
    } else {
        tell(choice.note);
    }
}

const CaseChoice* OwnKnitting::waiting() const {
    if (!waiting_ || !case_->question()) return nullptr;
    return &case_->question()->choices[*waiting_];
}

void OwnKnitting::pointAt(int row, int column) {
    const CaseChoice* choice = waiting();
    if (choice == nullptr) return;
    CaseNote note = choice->note;
    if (note.kind == CaseNote::Kind::picture) {
        note.row = row;
        note.column = column;
    } else {
        note.seen.row = row;
        note.seen.column = column;
    }
    tell(note);
}

void OwnKnitting::nowhere() {
    const CaseChoice* choice = waiting();
    if (choice == nullptr) return;
    if (choice->note.kind == CaseNote::Kind::picture) {
        tell(choice->note);
    } else {
        cantTell();
    }
}

void OwnKnitting::cantTell() {
    said_.clear();
    case_->cantTell();
    look();
}

Recipe OwnKnitting::meant() const {
    return recipeOf(case_->meant().script, case_->meant().rowsDone, start_.setup.mirrored);
}

std::optional<Recipe> OwnKnitting::as(const CaseExplanation& explanation) const {
    if (!explanation.fault) return std::nullopt;
    Recipe recipe = meant();
    recipe.faults = {*explanation.fault};
    recipe.after = explanation.after;
    return recipe;
}

std::optional<OwnPart> OwnKnitting::partWith(const CaseExplanation& explanation) const {
    return OwnPart::with(*case_, explanation, kMostDrawn);
}

std::optional<StitchPlace> OwnKnitting::inPiece(const StitchPlace& at) const {
    if (isDrawn()) return at;
    return part_ ? part_->inPiece(at) : std::nullopt;
}

bool OwnKnitting::isDrawn() const {
    return case_ && case_->fabric().entryCount() <= kMostDrawn;
}

}  // namespace loopmend::app
