// SPDX-License-Identifier: MIT
// Which skill a question exercises.
#include <array>

#include "tutor/question.h"

namespace loopmend {

namespace {

struct SkillOf {
    std::string_view of;
    std::string_view skill;
};

// The first line of a table is what is exercised where nothing else is said.
constexpr std::array<SkillOf, 18> kPointAt = {{{"", "stitch-parts"},
                                               {"v", "knit-or-purl"},
                                               {"bump", "knit-or-purl"},
                                               {"neck", "the-neck"},
                                               {"open-loop", "run-or-not"},
                                               {"rung", "long-or-short-rung"},
                                               {"short-rung", "long-or-short-rung"},
                                               {"long-rung", "long-or-short-rung"},
                                               {"hole", "yarn-overs"},
                                               {"decrease", "which-on-top"},
                                               {"double-decrease", "three-into-one"},
                                               {"increase", "new-stitches"},
                                               {"crossed", "crossed-feet"},
                                               {"slipped", "slipped-stitches"},
                                               {"cable", "which-arm"},
                                               {"yarn-needle", "which-way"},
                                               {"first-row", "count-rows"},
                                               {"on-needle", "count-stitches"}}};
constexpr std::array<SkillOf, 8> kName = {{{"", "knit-or-purl"},
                                           {"hole", "yarn-overs"},
                                           {"decrease", "which-on-top"},
                                           {"double-decrease", "three-into-one"},
                                           {"increase", "new-stitches"},
                                           {"crossed", "crossed-feet"},
                                           {"slipped", "slipped-stitches"},
                                           {"cable", "which-arm"}}};
constexpr std::array<SkillOf, 9> kCount = {{{"", "count-stitches"},
                                            {"rows", "count-rows"},
                                            {"ridges", "count-ridges"},
                                            {"rungs", "long-or-short-rung"},
                                            {"rows-since", "rows-since"},
                                            {"holes", "yarn-overs"},
                                            {"decreases", "which-on-top"},
                                            {"row-change", "rows-that-balance"},
                                            {"row-that-moved", "count-that-moved"}}};
constexpr std::array<SkillOf, 3> kOnTop = {
    {{"", "which-on-top"}, {"double-decrease", "three-into-one"}, {"cable", "which-arm"}}};
constexpr std::array<SkillOf, 5> kWhenTurned = {{{"", "both-faces"},
                                                 {"decrease", "decreases-from-behind"},
                                                 {"double-decrease", "decreases-from-behind"},
                                                 {"slipped", "slipped-stitches"},
                                                 {"hole", "both-faces"}}};

constexpr std::array<SkillOf, 6> kWritten = {{{"", "written-repeats"},
                                              {"squares", "chart-directions"},
                                              {"squares-behind", "chart-wrong-side"},
                                              {"no-stitch", "chart-gaps"},
                                              {"box", "chart-repeats"},
                                              {"due", "place-in-chart"}}};

template <std::size_t n>
std::string_view in(const std::array<SkillOf, n>& table, std::string_view of) {
    for (const SkillOf& line : table) {
        if (line.of == of) return line.skill;
    }
    return table.front().skill;
}

}  // namespace

std::string_view skillOf(const QuestionWanted& wanted) {
    switch (wanted.kind) {
        case QuestionKind::pointAt: return in(kPointAt, wanted.of);
        case QuestionKind::twoSigns: return "why-one-out";
        case QuestionKind::name: return in(kName, wanted.of);
        case QuestionKind::count: return in(kCount, wanted.of);
        case QuestionKind::whichSide: return "which-side";
        case QuestionKind::neck: return "the-neck";
        case QuestionKind::mount: return "leading-leg";
        case QuestionKind::onTop: return in(kOnTop, wanted.of);
        case QuestionKind::willItRun:
        case QuestionKind::ifItDrops: return "run-or-not";
        case QuestionKind::whenTurned: return in(kWhenTurned, wanted.of);
        case QuestionKind::trace: return "columns-and-rows";
        case QuestionKind::root: return "root-of-it";
        case QuestionKind::rungKind: return "long-or-short-rung";
        case QuestionKind::whichPlan: return "leave-or-mend";
        case QuestionKind::written: return in(kWritten, wanted.of);
    }
    return {};
}

}  // namespace loopmend
