// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <vector>

#include <nlohmann/json.hpp>

#include "store/scratch.h"

namespace loopmend {

/// What a run of the command line came to.
struct Ran {
    int exit = -1;
    std::string out;
    std::string err;

    /// The one JSON document on standard output; fails the test if it is none.
    nlohmann::ordered_json json() const;
};

/// A folder in which the real command line is run.
class Bench {
  public:
    /// Runs loopmend-cli with these words in the folder; `input` is its standard input.
    Ran run(const std::vector<std::string>& words, const std::string& input = "") const;
    /// A shell line in the folder, in which $CLI is the command line.
    Ran shell(const std::string& line) const;

    std::string path(const std::string& name) const { return scratch_.path(name); }
    const std::string& folder() const { return scratch_.folder(); }
    std::vector<std::string> names() const { return scratch_.names(); }
    void put(const std::string& name, const std::string& bytes) const;
    std::string bytes(const std::string& name) const;

  private:
    Scratch scratch_;  ///< the folder
    Scratch aside_;    ///< what is written and read by standard input and output
};

/// Fails the test unless the program ended with `exit` and wrote nothing but one line to standard error,
/// which names what was being done and holds `parts`.
void checkRefused(const Ran& ran, int exit, const std::vector<std::string>& parts);

bool contains(const std::string& text, const std::string& part);

/// Six rows of eyelets over a multiple of 4 plus 1, three plain rows and no cast-on of its own.
extern const char* const kEyelets;

/// Knits kEyelets with a mistake into spoiled.fabric, and the same rows as they were meant into meant.fabric.
/// Returns the hash of the spoiled knot.
std::string knitBoth(const Bench& bench, const std::string& fault, const std::string& after, int rows);

}  // namespace loopmend
