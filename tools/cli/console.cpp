// SPDX-License-Identifier: MIT
#include "cli/console.h"

#include <unistd.h>

#include <cerrno>
#include <cstdlib>

#include <fmt/format.h>
#include <CLI/CLI.hpp>

namespace loopmend {

namespace {

int writeTo(int file, std::string_view bytes) {
    while (!bytes.empty()) {
        const ssize_t n = ::write(file, bytes.data(), bytes.size());
        if (n < 0 && errno == EINTR) continue;
        if (n < 0) return errno;
        bytes.remove_prefix(static_cast<std::size_t>(n));
    }
    return 0;
}

int readInput(std::string& bytes) {
    char block[1 << 16];
    for (;;) {
        const ssize_t n = ::read(STDIN_FILENO, block, sizeof block);
        if (n < 0 && errno == EINTR) continue;
        if (n < 0) return errno;
        if (n == 0) return 0;
        bytes.append(block, static_cast<std::size_t>(n));
        if (bytes.size() > kMostBytes) return EFBIG;
    }
}

bool showsColours() {
    const char* const off = std::getenv("NO_COLOR");
    const char* const terminal = std::getenv("TERM");
    return (off == nullptr || *off == '\0') && ::isatty(STDOUT_FILENO) != 0 && terminal != nullptr &&
           std::string_view(terminal) != "dumb";
}

}  // namespace

std::string inputName(const std::string& path) {
    return path == "-" ? "standard input" : path;
}

void Console::addManners(CLI::App& command) {
    command.add_flag("--json", json_, "one JSON document instead of words");
    command.add_option("--terms", words_, "the words used: us (bind off) or uk (cast off)")
        ->check(CLI::IsMember({"us", "uk"}))
        ->type_name("us|uk");
}

tl::expected<std::string, Failure> Console::read(const std::string& path) {
    if (path != "-") {
        auto bytes = readFile(path);
        if (!bytes) return fail(bytes.error().message);
        return std::move(*bytes);
    }
    if (inputRead_) return fail("standard input (-) can stand for one file only; name the other one");
    inputRead_ = true;
    std::string bytes;
    const int error = readInput(bytes);
    if (error != 0) {
        return fail(fmt::format("cannot read standard input: {}; give a file instead", reasonOf(error)));
    }
    return bytes;
}

tl::expected<FabricFile, Failure> Console::readFabric(const std::string& path) {
    const auto text = read(path);
    if (!text) return tl::unexpected<Failure>(text.error());
    auto fabric = fabricFromText(*text, inputName(path));
    if (!fabric) return fail(fabric.error().message);
    return std::move(*fabric);
}

tl::expected<void, Failure> Console::mayWrite(const std::string& path) const {
    if (path == "-" && json_) {
        return fail("-o - and --json both want standard output; name a file after -o or leave --json out");
    }
    return {};
}

tl::expected<void, Failure> Console::write(const std::string& path, std::string_view bytes) {
    if (path == "-") {
        results_ += bytes;
        return {};
    }
    const auto written = writeFile(path, bytes);
    if (!written) return fail(written.error().message);
    return {};
}

void Console::printJson(const Json& document) {
    // Names from a file may hold any bytes.
    results_ += document.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

void Console::tell(const std::string& outputPath, const std::string& line) {
    if (json_) return;
    if (outputPath == "-") {
        remark(line);
    } else {
        print(line + "\n");
    }
}

void Console::remark(std::string line) const {
    for (char& c : line) {
        if (static_cast<unsigned char>(c) < ' ' || c == 127) c = '?';  // from a file name, say
    }
    writeTo(STDERR_FILENO, line + "\n");
}

tl::expected<void, Failure> Console::finish() {
    const int error = writeTo(STDOUT_FILENO, results_);
    results_.clear();
    if (error != 0) {
        return fail(fmt::format("cannot write standard output: {}; write to another place", reasonOf(error)));
    }
    return {};
}

std::string Console::bold(const std::string& text) const {
    return showsColours() ? "\033[1m" + text + "\033[0m" : text;
}

}  // namespace loopmend
