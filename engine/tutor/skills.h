// SPDX-License-Identifier: MIT
#pragma once

#include <string_view>
#include <vector>

/// What there is to be learned, and what has to be known before it.
namespace loopmend {

/// What kind of thing a skill is.
enum class SkillKind : unsigned char {
    seeing,       ///< reading stitches, counting, finding a place
    diagnosing,   ///< saying what went wrong and where
    mending,      ///< by hand
    instructions  ///< reading words and charts
};

struct Skill {
    std::string_view id;    ///< of files and logs: `knit-or-purl`
    std::string_view name;  ///< for a learner: `Tell knit from purl`
    SkillKind kind = SkillKind::seeing;
    std::vector<std::string_view> needs;  ///< ids
};

/// All skills; each after everything that it needs.
const std::vector<Skill>& skills();
/// None if there is no such id.
const Skill* findSkill(std::string_view id);

}  // namespace loopmend
