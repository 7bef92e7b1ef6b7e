// SPDX-License-Identifier: MIT
#include "tutor/question.h"

#include <array>

#include <fmt/format.h>

#include "tutor/question_cloth.h"

namespace loopmend {

namespace {

/// What the kinds may be asked of; empty: the engine's choice.
struct KindOf {
    QuestionKind kind;
    std::array<std::string_view, 21> of;
};
constexpr std::array<KindOf, 16> kAll = {
    {{QuestionKind::pointAt,
      {"head",      "leg",       "foot",    "bar",       "v",          "bump", "neck",     "on-needle",
       "first-row", "open-loop", "rung",    "long-rung", "short-rung", "hole", "decrease", "double-decrease",
       "increase",  "crossed",   "slipped", "cable",     "yarn-needle"}},
     {QuestionKind::twoSigns, {}},
     {QuestionKind::name,
      {"plain", "hole", "decrease", "double-decrease", "increase", "crossed", "slipped", "cable"}},
     {QuestionKind::count,
      {"stitches", "rows", "ridges", "rungs", "rows-since", "holes", "decreases", "row-change",
       "row-that-moved"}},
     {QuestionKind::whichSide, {}},
     {QuestionKind::neck, {}},
     {QuestionKind::mount, {}},
     {QuestionKind::onTop, {"decrease", "double-decrease", "cable"}},
     {QuestionKind::willItRun, {"open", "held", "bound"}},
     {QuestionKind::whenTurned, {"plain", "hole", "decrease", "double-decrease", "slipped"}},
     {QuestionKind::trace, {"column", "row"}},
     {QuestionKind::ifItDrops, {}},
     {QuestionKind::root, {}},
     {QuestionKind::rungKind, {"long", "short"}},
     {QuestionKind::whichPlan, {}},
     {QuestionKind::written, {"words", "squares", "squares-behind", "no-stitch", "box", "due"}}}};

/// Why a stitch that the author names is not there; empty: it is there, or she named none.
std::string notThere(const AskedCloth& cloth) {
    const int row = cloth.wanted.row;
    if (row <= 0 || cloth.wanted.kind == QuestionKind::written) return {};  // of words it may be one to come
    const std::vector<ReadRow>& rows = cloth.reading(Side::right).rows;
    const int all = static_cast<int>(rows.size()) - 1;
    if (row > all)
        return fmt::format("the piece has {} row{} there, so there is no row {}", all, all == 1 ? "" : "s",
                           row);
    const int wide = rows[static_cast<std::size_t>(row)].stitches;
    if (cloth.wanted.stitch <= wide) return {};
    return fmt::format("row {} has {} stitch{}, so there is no stitch {} in it", row, wide,
                       wide == 1 ? "" : "es", cloth.wanted.stitch);
}

}  // namespace

tl::expected<Question, std::string> questionOf(const Swatch& swatch, const Scene& scene,
                                               const QuestionWanted& wanted, std::uint64_t seed) {
    AskedCloth cloth(swatch, scene, wanted, seed);
    Asked asked = [&] {
        switch (wanted.kind) {
            case QuestionKind::pointAt: return askPoint(cloth);
            case QuestionKind::twoSigns: return askSigns(cloth);
            case QuestionKind::name: return askName(cloth);
            case QuestionKind::count: return askCount(cloth);
            case QuestionKind::whichSide: return askSide(cloth);
            case QuestionKind::neck: return askNeck(cloth);
            case QuestionKind::mount: return askMount(cloth);
            case QuestionKind::onTop: return askOnTop(cloth);
            case QuestionKind::willItRun: return askRun(cloth);
            case QuestionKind::whenTurned: return askTurned(cloth);
            case QuestionKind::trace: return askTrace(cloth);
            case QuestionKind::ifItDrops: return askDrop(cloth);
            case QuestionKind::root: return askRoot(cloth);
            case QuestionKind::rungKind: return askRung(cloth);
            case QuestionKind::whichPlan: return askPlan(cloth);
            case QuestionKind::written: return askWritten(cloth);
        }
        return cannotAsk("nothing is asked");
    }();
    if (!asked) {
        const std::string why = notThere(cloth);
        return why.empty() ? asked : cannotAsk(why);
    }
    // One right answer, and two that tempt: less is no question.
    constexpr std::size_t kFewest = 3;
    if (asked->targets.empty() && asked->answers.size() < kFewest)
        return cannotAsk("this cloth has too few other answers to that");
    if (!asked->targets.empty() && asked->tempting.size() + 1 < kFewest)
        return cannotAsk("this cloth has too few other places for that");
    return asked;
}

std::vector<QuestionWanted> questionsFor(const Swatch& swatch, const Scene& scene, std::uint64_t seed) {
    std::vector<QuestionWanted> can;
    for (const KindOf& kind : kAll) {
        for (std::size_t i = 0; i < kind.of.size() && (i == 0 || !kind.of[i].empty()); ++i) {
            QuestionWanted wanted;
            wanted.kind = kind.kind;
            wanted.of = std::string(kind.of[i]);
            if (questionOf(swatch, scene, wanted, seed)) can.push_back(std::move(wanted));
        }
    }
    return can;
}

}  // namespace loopmend
