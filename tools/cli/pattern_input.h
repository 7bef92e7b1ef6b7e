// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string>

#include "cli/console.h"
#include "pattern/parse.h"

namespace loopmend {

/// A written pattern on the command line, in words or as the text of a chart, and how its book means its
/// words.
class PatternInput {
  public:
    /// Adds PATTERN and the options of its reading to a command.
    void addTo(CLI::App& command);

    /// Reads it. What is wrong with its words is in Pattern::problems.
    tl::expected<Pattern, Failure> read(Console& console) const;
    /// Its text, for those who want to know whether it is a chart.
    tl::expected<std::string, Failure> readText(Console& console) const;
    /// The pattern in a text of words.
    Pattern fromWords(const std::string& text) const;

    const std::string& path() const { return path_; }

  private:
    std::string path_;
    bool m1IsYarnOver_ = false;
    std::string k1b_;
    int size_ = 1;
    int part_ = 1;
};

/// `line 3, column 7 (row 2): message`
std::string placed(const Problem& problem);
/// The same for programs.
Json documentOf(const Problem& problem);

}  // namespace loopmend
