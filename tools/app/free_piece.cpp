// SPDX-License-Identifier: MIT
#include "app/free_piece.h"

#include <algorithm>
#include <utility>

#include <fmt/format.h>

#include "fault/catalogue.h"
#include "pattern/counts.h"
#include "pattern/parse.h"
#include "pattern/print.h"
#include "repair/builder.h"
#include "repair/uneven.h"

namespace loopmend::app {

namespace {

std::string placed(const Problem& problem) {
    std::string words =
        problem.line > 0 ? fmt::format("Line {}: {}", problem.line, problem.message) : problem.message;
    if (!problem.suggestions.empty())
        words += fmt::format("; perhaps it should say \"{}\"", problem.suggestions.front());
    return words;
}

Pattern patternOf(const Recipe& recipe) {
    ParseOptions options;
    options.part = recipe.part;
    return parse(recipe.pattern, options);
}

Setup setupOf(const Recipe& recipe) {
    Setup setup;
    setup.mirrored = recipe.mirrored;
    return setup;
}

}  // namespace

std::string instructionsOf(const Recipe& recipe) {
    const Pattern pattern = patternOf(recipe);
    return pattern.parts.size() > 1 ? print(pattern) : recipe.pattern;
}

struct FreePiece::Read {
    Script script;
    std::vector<std::string> parts;
    std::vector<Understood> readings;
};

tl::expected<FreePiece::Read, std::string> FreePiece::read(Recipe& recipe) {
    Pattern pattern = patternOf(recipe);
    if (!pattern.problems.empty()) return tl::unexpected<std::string>(placed(pattern.problems.front()));
    const CheckReport report = check(pattern);
    if (!report.problems.empty()) return tl::unexpected<std::string>(placed(report.problems.front()));
    const auto printed = static_cast<int>(rowOrder(pattern).rows.size());
    if (printed == 0) {
        return tl::unexpected<std::string>(
            std::string("There is no row in this text; write rows, as \"Row 1: k to end.\""));
    }
    if (recipe.stitches == 0) recipe.stitches = static_cast<int>(report.castOn);
    if (recipe.rows == 0) recipe.rows = printed;
    auto script = expand(pattern, recipe.stitches, recipe.rows);
    if (!script) return tl::unexpected<std::string>(placed(script.error()));
    return Read{std::move(*script), std::move(pattern.parts), std::move(pattern.understood)};
}

tl::expected<FreePiece, std::string> FreePiece::knitted(std::string pattern, int rows, bool mirrored) {
    Recipe recipe;
    recipe.pattern = std::move(pattern);
    recipe.rows = rows;
    recipe.mirrored = mirrored;
    return from(std::move(recipe));
}

tl::expected<FreePiece, std::string> FreePiece::from(Recipe recipe) {
    auto read = FreePiece::read(recipe);
    if (!read) return tl::unexpected<std::string>(read.error());
    auto knitting = knitWith(read->script, setupOf(recipe), recipe.faults, recipe.after);
    if (!knitting) return tl::unexpected<std::string>(knitting.error().message);
    return FreePiece(std::move(recipe), std::move(*read), std::move(knitting->meant),
                     Work(std::move(knitting->actual)));
}

tl::expected<FreePiece, std::string> FreePiece::with(Recipe recipe, Work work) {
    auto read = FreePiece::read(recipe);
    if (!read) return tl::unexpected<std::string>(read.error());
    auto meant = knit(read->script, setupOf(recipe));
    if (!meant) return tl::unexpected<std::string>(sentence(meant.error()));
    return FreePiece(std::move(recipe), std::move(*read), std::move(*meant), std::move(work));
}

FreePiece::FreePiece(Recipe recipe, Read read, Knitting meant, Work work)
    : recipe_(std::move(recipe)),
      parts_(std::move(read.parts)),
      readings_(std::move(read.readings)),
      script_(std::move(read.script)),
      meant_(std::move(meant)),
      work_(std::move(work)) {}

std::vector<Move> FreePiece::restOfRow() const {
    const Fabric& fabric = work_.fabric();
    const Knitter& knitter = work_.knitter();
    const int lastRow = StitchPlaces(fabric).lastRow();
    const int row = knitter.rowBegun() ? lastRow : lastRow + 1;
    const auto script = expand(patternOf(recipe_), recipe_.stitches, row);
    if (!script || script->rows.empty()) return {};
    const std::vector<Step>& steps = script->rows.back().steps;
    int done = knitter.rowBegun() ? static_cast<int>(knitter.behind().size()) : 0;
    std::size_t from = 0;
    while (from < steps.size() && done > 0) done -= makes(steps[from++]);
    int left = 0;
    for (std::size_t i = from; i < steps.size(); ++i) left += uses(steps[i]);
    if (done != 0 || left != knitter.aheadCount()) return {};
    std::vector<Move> moves;
    if (from < steps.size()) {
        Move work;
        work.kind = MoveKind::work;
        work.steps.assign(steps.begin() + static_cast<std::ptrdiff_t>(from), steps.end());
        moves.push_back(std::move(work));
    }
    if (turnsEarly(script->rows.back())) return moves;
    Move turn;
    turn.kind = MoveKind::turn;
    moves.push_back(std::move(turn));
    return moves;
}

std::vector<FaultOffer> FreePiece::faultsAt(LoopId loop, Terms terms) const {
    const StitchPlace where = StitchPlaces(work_.fabric()).of(loop);
    std::vector<FaultOffer> offers;
    if (where.row < 1 || where.stitch < 1) return offers;
    for (const Fault* fault : catalogue()) {
        // What befalls a row is named by its first stitch.
        FaultPlace there{std::string(fault->id), where.row, fault->wholeRow ? 1 : where.stitch, 0};
        std::vector<FaultPlace> all = recipe_.faults;
        all.push_back(there);
        if (!place(script_, there)) continue;
        if (!knitWith(script_, setupOf(recipe_), all, recipe_.after)) continue;
        std::string words(name(*fault, terms));
        if (!words.empty() && words[0] >= 'a' && words[0] <= 'z')
            words[0] = static_cast<char>(words[0] - 'a' + 'A');
        offers.push_back({std::move(there), std::move(words), fault->family});
    }
    return offers;
}

void FreePiece::setPace(const Pace& pace) {
    if (pace.text() == pace_.text()) return;
    pace_ = pace;
    waysOf_ = 0;
}

const WaysBack& FreePiece::ways() {
    if (waysOf_ != work_.version()) {
        waysOf_ = work_.version();
        mended_ = nothingToMend(meant(), work_.fabric());
        PlanAsk ask;
        ask.pace = pace_;
        ways_ = mended_ ? WaysBack() : waysBack(meant(), script_, work_.knitter(), ask);
    }
    return ways_;
}

bool FreePiece::isMended() {
    (void)ways();
    return mended_;
}

}  // namespace loopmend::app
