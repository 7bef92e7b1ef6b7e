// SPDX-License-Identifier: MIT
//
// What the code of the engine may not say.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cctype>
#include <regex>
#include <set>
#include <string>
#include <vector>

#include "house/project.h"

namespace loopmend {
namespace {

// The words of an identifier, in small letters: "yarnOver", "yarn_over" and "kYarnOver" all hold yarn, over.
std::vector<std::string> wordsOf(const std::string& identifier) {
    std::vector<std::string> words(1);
    for (const char c : identifier) {
        const auto u = static_cast<unsigned char>(c);
        if ((std::isupper(u) != 0 || c == '_') && !words.back().empty()) words.emplace_back();
        if (c != '_') words.back().push_back(static_cast<char>(std::tolower(u)));
    }
    return words;
}

// Identifiers in the records that say how a loop was made. A loop is where its yarn goes and nothing else:
// were an operation stored, a mended loop and one knitted right would no longer be the same.
std::vector<std::string> operationsIn(const std::string& header) {
    static const std::set<std::string> operations = {
        "knit",      "knitted", "purl",     "purled",    "k",       "p",        "k2tog",    "p2tog",
        "k3tog",     "tog",     "ssk",      "ssp",       "skp",     "sk2p",     "kfb",      "m1",
        "yo",        "tbl",     "yarnover", "make",      "made",    "increase", "decrease", "increased",
        "decreased", "cable",   "cabled",   "slip",      "slipped", "wrap",     "wrapped",  "cast",
        "bind",      "bound",   "stitch",   "operation", "op",      "rung",     "dropped"};
    std::string code = codeOnly(header);
    // Needles and pins may differ in kind; loops may not.
    code = std::regex_replace(code, std::regex(R"(\bToolKind\s+kind\b|\bToolKind\b)"), "");
    std::vector<std::string> found;
    static const std::regex identifier(R"([A-Za-z_]\w*)");
    for (std::sregex_iterator it(code.begin(), code.end(), identifier), end; it != end; ++it) {
        const std::vector<std::string> words = wordsOf(it->str());
        for (std::size_t i = 0; i < words.size(); ++i) {
            const bool yarnOver = words[i] == "yarn" && i + 1 < words.size() && words[i + 1] == "over";
            // k and p alone are indices in a loop; as words of a longer name they are stitches.
            const bool letter = words[i].size() == 1 && (words.size() == 1 || i == 0);
            if (yarnOver || words[i] == "kind" || (operations.count(words[i]) != 0 && !letter))
                found.push_back(it->str());
        }
    }
    return found;
}

// The names of the types that a header declares.
std::vector<std::string> typesIn(const std::string& header) {
    static const std::regex type(R"(\b(?:struct|class|union|enum(?:\s+class)?)\s+([A-Za-z_]\w*))");
    const std::string code = codeOnly(header);
    std::vector<std::string> names;
    for (std::sregex_iterator it(code.begin(), code.end(), type), end; it != end; ++it)
        names.push_back((*it)[1].str());
    return names;
}

}  // namespace

TEST_CASE("no record of the fabric names an operation") {
    std::size_t records = 0;
    for (const ProjectFile& file : projectFiles()) {
        if (file.path != "engine/fabric/records.h") continue;
        ++records;
        const std::vector<std::string> found = operationsIn(file.text);
        INFO(file.path << listed(found));
        CHECK(found.empty());
        for (const char* record : {"struct Link ", "struct Entry ", "struct Held "}) {
            INFO(record);
            CHECK(file.text.find(record) != std::string::npos);
        }
    }
    CHECK(records == 1);
}

TEST_CASE("no type of the fabric is an operation, but for the Knitter's own terms") {
    std::vector<std::string> wrong;
    for (const ProjectFile& file : projectFiles()) {
        if (!startsWith(file.path, "engine/fabric/") || !endsWith(file.path, ".h")) continue;
        if (startsWith(file.path, "engine/fabric/knitter")) continue;
        for (const std::string& name : typesIn(file.text))
            if (!operationsIn(name).empty()) wrong.push_back(file.path + ": " + name);
    }
    INFO(listed(wrong));
    CHECK(wrong.empty());
    CHECK(typesIn("struct Link {}; enum class Side : int { a }; // struct No\nclass Fabric;") ==
          std::vector<std::string>{"Link", "Side", "Fabric"});
}

TEST_CASE("the check of the records bites") {
    for (const char* wrong :
         {"struct Entry { bool knit; };", "struct Entry { Kind kind; };", "enum class Stitch { knit, purl };",
          "struct Link { int isK2tog; };", "bool yarnOver;", "bool yarn_over;", "int slippedBefore;",
          "std::uint8_t kind;", "enum class StitchKind { plain };", "bool wasDropped;", "int cableWidth;",
          "constexpr int kSsk = 1;"}) {
        INFO(wrong);
        CHECK_FALSE(operationsIn(wrong).empty());
    }
    for (const char* right : {"struct Tool { ToolKind kind = ToolKind::needle; };",
                              "/// a knit stitch\nstruct Link { LoopId host; };", "int k = 0;",
                              "enum class Mount { western, eastern };", "constexpr int kMostLinks = 7;"}) {
        INFO(right);
        CHECK(operationsIn(right).empty());
    }
}

TEST_CASE("the engine keeps to the C++ of every compiler that will build it") {
    // clang 14 with libc++ 13 lacks these.
    static const std::regex tooNew(
        R"(std\s*::\s*(ranges|views|bit_cast|jthread|source_location|expected|format|stop_token)\b)");
    const auto firstTooNew = [](const std::string& text) {
        std::smatch match;
        const std::string code = codeOnly(text);
        return std::regex_search(code, match, tooNew) ? match.str() : std::string();
    };
    std::vector<std::string> wrong;
    for (const ProjectFile& file : projectFiles()) {
        if (!isCpp(file.path) || !startsWith(file.path, "engine/")) continue;
        const std::string found = firstTooNew(file.text);
        if (!found.empty()) wrong.push_back(file.path + ": " + found);
    }
    INFO(listed(wrong));
    CHECK(wrong.empty());
    CHECK(firstTooNew("auto a = std::bit_cast<int>(b);") == "std::bit_cast");
    CHECK(firstTooNew("// std::ranges are missing there\nint a;").empty());
}

TEST_CASE("comments and strings are told from code") {
    CHECK(codeOnly("a // b\nc") == "a     \nc");
    CHECK(codeOnly("a /* b\n c */ d") == "a     \n      d");
    CHECK(codeOnly("f(\"a//b\", '\"', 1'000) // x") == "f(\"    \", ' ', 1'000)     ");
    CHECK(codeOnly("R\"x(\")x\" + a // b") == "R\"   )x\" + a     ");
    CHECK(wordsOf("yarnOver") == std::vector<std::string>{"yarn", "over"});
    CHECK(wordsOf("kYarn_over") == std::vector<std::string>{"k", "yarn", "over"});
}

}  // namespace loopmend
