// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <string_view>

#include <nlohmann/json.hpp>
#include <tl/expected.hpp>

#include "pattern/terms.h"
#include "store/fabric_file.h"

namespace CLI {  // NOLINT(readability-identifier-naming): the library's own
class App;
}

namespace loopmend {

/// Keys stay in the order in which they are put in.
using Json = nlohmann::ordered_json;

/// Why a command ends without its result: one sentence, no full stop, and what the program ends with.
struct Failure {
    std::string message;
    int exit = 2;
};
inline tl::unexpected<Failure> fail(std::string message, int exit = 2) {
    return tl::unexpected<Failure>(Failure{std::move(message), exit});
}

/// What the program ends with if the command was done: 0, or 1 if something is wrong with what was given.
using Outcome = tl::expected<int, Failure>;

/// Files, standard input and output, and the manners that all commands share. Results are kept until the
/// command is done, so that nothing is half-written.
class Console {
  public:
    /// Adds --json and --terms to a command.
    void addManners(CLI::App& command);

    bool json() const { return json_; }
    Terms terms() const { return words_ == "uk" ? Terms::uk : Terms::us; }

    /// A file's bytes; `-` is standard input, which can be read once.
    tl::expected<std::string, Failure> read(const std::string& path);
    tl::expected<FabricFile, Failure> readFabric(const std::string& path);
    /// Writes a file whole or not at all; `-` adds to the results.
    tl::expected<void, Failure> write(const std::string& path, std::string_view bytes);
    /// Refuses two results for standard output: a file and a JSON document.
    tl::expected<void, Failure> mayWrite(const std::string& path) const;

    /// To standard output, once the command is done.
    void print(std::string_view text) { results_ += text; }
    void printJson(const Json& document);
    /// A sentence about what was done: on standard output, unless the result itself goes there.
    void tell(const std::string& outputPath, const std::string& line);
    /// One line to standard error, now.
    void remark(std::string line) const;
    /// Writes the results out.
    tl::expected<void, Failure> finish();

    /// For a terminal that shows it; the text itself otherwise.
    std::string bold(const std::string& text) const;

  private:
    bool json_ = false;
    std::string words_ = "us";
    bool inputRead_ = false;
    std::string results_;
};

/// `-` as a person would call it.
std::string inputName(const std::string& path);

}  // namespace loopmend
