// SPDX-License-Identifier: MIT
#include "pattern/problem_at.h"

#include <utility>

namespace loopmend {

Problem problemAt(const Pattern& pattern, const Place& place, int row, std::string message,
                  std::vector<std::string> suggestions) {
    Problem problem;
    problem.row = row;
    problem.line = place.line;
    problem.column = place.column;
    problem.words = wordsAt(pattern, place);
    problem.message = std::move(message);
    problem.suggestions = std::move(suggestions);
    return problem;
}

}  // namespace loopmend
