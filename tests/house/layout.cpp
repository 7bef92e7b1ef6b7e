// SPDX-License-Identifier: MIT
//
// What stands at the top of the project, and how every source file is kept.
#include <algorithm>
#include <catch2/catch.hpp>
#include <filesystem>
#include <set>
#include <string>
#include <vector>

#include "house/project.h"

namespace loopmend {
namespace {

// Also build/, which tools/run and tools/test make and git ignores.
bool mayStandAtTop(const std::string& name) {
    static const std::set<std::string> allowed = {"CMakeLists.txt", "README.md", "DEVELOPERS.md",
                                                  "engine",         "lessons",   "assets",
                                                  "tests",          "tools",     "build"};
    return startsWith(name, ".") || allowed.count(name) != 0;
}

// Complaints about how a source file is kept, apart from what it says.
std::vector<std::string> untidy(const ProjectFile& file) {
    constexpr std::size_t kMostLines = 700;
    std::vector<std::string> wrong;
    const std::vector<std::string> lines = linesOf(file.text);
    const auto licensed = [](const std::string& line) {
        return endsWith(line, "SPDX-License-Identifier: MIT");
    };
    const std::size_t head = std::min<std::size_t>(lines.size(), 2);
    if (std::none_of(lines.begin(), lines.begin() + static_cast<std::ptrdiff_t>(head), licensed))
        wrong.push_back(file.path + ": no line 'SPDX-License-Identifier: MIT' on top");
    if (lines.size() > kMostLines)
        wrong.push_back(file.path + ": " + std::to_string(lines.size()) +
                        " lines; this is more than one idea");
    for (std::size_t i = 0; i < lines.size(); ++i) {
        const std::string at = file.path + ":" + std::to_string(i + 1);
        if (lines[i].find('\t') != std::string::npos) wrong.push_back(at + ": a tab");
        if (endsWith(lines[i], "\r")) wrong.push_back(at + ": a carriage return");
        if (endsWith(lines[i], " ")) wrong.push_back(at + ": a space at the end");
    }
    if (!endsWith(file.text, "\n")) wrong.push_back(file.path + ": the last line does not end");
    if (endsWith(file.path, ".h") && std::find(lines.begin(), lines.end(), "#pragma once") == lines.end())
        wrong.push_back(file.path + ": no #pragma once");
    return wrong;
}

}  // namespace

TEST_CASE("nothing stands at the top that does not belong there") {
    std::vector<std::string> wrong;
    for (const auto& entry : std::filesystem::directory_iterator(projectRoot())) {
        const std::string name = entry.path().filename().string();
        if (!mayStandAtTop(name)) wrong.push_back(name);
    }
    for (const ProjectFile& file : projectFiles()) {
        const std::string name = file.path.substr(0, file.path.find('/'));
        // Git must never keep what was built.
        if (!mayStandAtTop(name) || name == "build") wrong.push_back(file.path);
    }
    INFO(
        "Only CMakeLists.txt, README.md, DEVELOPERS.md, engine, lessons, assets, tests, tools and dot files "
        "stand "
        "at the top. Not these:"
        << listed(wrong));
    CHECK(wrong.empty());

    CHECK_FALSE(mayStandAtTop("docs"));
    CHECK_FALSE(mayStandAtTop("LICENSE"));
    CHECK_FALSE(mayStandAtTop("Engine"));
    CHECK(mayStandAtTop(".ci"));
    CHECK(mayStandAtTop("engine"));
}

TEST_CASE("every source file is licensed, short and clean") {
    std::vector<std::string> wrong;
    std::size_t sources = 0;
    for (const ProjectFile& file : projectFiles()) {
        if (!isSource(file)) continue;
        ++sources;
        for (std::string& complaint : untidy(file)) wrong.push_back(std::move(complaint));
    }
    CHECK(sources > 10);
    INFO(listed(wrong));
    CHECK(wrong.empty());
}

TEST_CASE("the check of source files bites") {
    const std::string good = "// SPDX-License-Identifier: MIT\n#pragma once\n";
    CHECK(untidy({"engine/a.h", good}).empty());
    CHECK(untidy({"tools/a", "#!/bin/sh\n# SPDX-License-Identifier: MIT\n"}).empty());
    CHECK(untidy({"engine/a.h", "// SPDX-License-Identifier: MIT\n"}).size() == 1);
    CHECK(untidy({"engine/a.h", "#pragma once\n"}).size() == 1);
    CHECK(untidy({"engine/a.h", good + "\tint a;\n"}).size() == 1);
    CHECK(untidy({"engine/a.h", good + "int a;\r\n"}).size() == 1);
    CHECK(untidy({"engine/a.h", good + "int a; \n"}).size() == 1);
    CHECK(untidy({"engine/a.h", good + "int a;"}).size() == 1);
    CHECK(untidy({"engine/a.h", good + std::string(698, '\n')}).empty());
    CHECK(untidy({"engine/a.h", good + std::string(699, '\n')}).size() == 1);
    CHECK(isSource({"tools/run", "#!/usr/bin/env bash\n"}));
    CHECK_FALSE(isSource({"README.md", "# Loopmend\n"}));
}

TEST_CASE("ctest asks for the tests of one file at a time, so each stands where it is asked for") {
    // Not asked for: headers, and the .cpp file of a header. And one main serves all.
    std::set<std::string> headers;
    for (const ProjectFile& file : projectFiles())
        if (endsWith(file.path, ".h")) headers.insert(file.path.substr(0, file.path.size() - 2));
    std::vector<std::string> wrong;
    for (const ProjectFile& file : projectFiles()) {
        if (!startsWith(file.path, "tests/") || !isCpp(file.path)) continue;
        const std::string code = codeOnly(file.text);
        const bool shared = headers.count(file.path.substr(0, file.path.rfind('.'))) != 0;
        for (const char* macro : {"TEST_CASE", "SCENARIO"})
            if (shared && code.find(macro) != std::string::npos)
                wrong.push_back(file.path + ": " + macro + " in a shared file is never run");
        if (code.find("CATCH_CONFIG_MAIN") != std::string::npos)
            wrong.push_back(file.path + ": a main of its own");
    }
    INFO(listed(wrong));
    CHECK(wrong.empty());
}

TEST_CASE("a property that fails fails its test") {
    // rc::check only returns whether the property held; rc::prop of <rapidcheck/catch.h> tells Catch.
    std::vector<std::string> wrong;
    for (const ProjectFile& file : projectFiles()) {
        if (!startsWith(file.path, "tests/") || !isCpp(file.path)) continue;
        const std::string code = codeOnly(file.text);
        for (std::size_t at = code.find("rc::check("); at != std::string::npos;
             at = code.find("rc::check(", at + 1)) {
            const std::string before = code.substr(0, at);
            if (!endsWith(before, "CHECK(") && !endsWith(before, "REQUIRE("))
                wrong.push_back(file.path + ": use rc::prop, or REQUIRE(rc::check(...))");
        }
    }
    INFO(listed(wrong));
    CHECK(wrong.empty());
}

TEST_CASE("no file names a place on somebody's machine") {
    // Parted, so that this file does not name them either.
    const std::vector<std::string> places = {std::string("/wo") + "rk/", std::string("/tmp/lo") + "om",
                                             std::string("shar") + "ed/", std::string("/ho") + "me/",
                                             std::string("/ro") + "ot/"};
    std::vector<std::string> wrong;
    for (const ProjectFile& file : projectFiles()) {
        if (file.text.find('\0') != std::string::npos) continue;  // not text
        for (const std::string& place : places)
            if (file.text.find(place) != std::string::npos) wrong.push_back(file.path + ": " + place);
    }
    INFO(listed(wrong));
    CHECK(wrong.empty());
}

}  // namespace loopmend
