// SPDX-License-Identifier: MIT
//
// A new machine has only what tools/packages.txt installs; on an old one a forgotten package goes unnoticed.
#include <catch2/catch.hpp>
#include <map>
#include <regex>
#include <set>
#include <string>
#include <vector>

#include "house/project.h"

namespace loopmend {
namespace {

// The package that brings <what>; empty for the compiler's own headers, "?" for one that nobody knows.
std::string packageOf(const std::string& what) {
    static const std::map<std::string, std::string> packages = {{"fmt/", "libfmt-dev"},
                                                                {"tl/", "libexpected-dev"},
                                                                {"cairo", "libcairo2-dev"},
                                                                {"CLI/", "libcli11-dev"},
                                                                {"nlohmann/", "nlohmann-json3-dev"},
                                                                {"catch2/", "catch2"},
                                                                {"rapidcheck", "librapidcheck-dev"},
                                                                {"benchmark/", "libbenchmark-dev"},
                                                                {"cereal/", "libcereal-dev"},
                                                                {"Eigen/", "libeigen3-dev"},
                                                                {"SDL", "libsdl2-dev"},
                                                                {"imgui", "libimgui-dev"},
                                                                {"backends/imgui", "libimgui-dev"},
                                                                {"stb_", "libimgui-dev"},
                                                                {"GL/", "libopengl-dev"},
                                                                {"EGL/", "libegl-dev"}};
    for (const auto& [head, package] : packages)
        if (startsWith(what, head)) return package;
    static const std::set<std::string> system = {"unistd.h", "fcntl.h"};
    const bool own =
        what.find_first_of("/.") == std::string::npos || startsWith(what, "sys/") || system.count(what) != 0;
    return own ? "" : "?";
}

std::set<std::string> installed(const std::string& list) {
    std::set<std::string> names;
    for (const std::string& line : linesOf(list))
        if (!startsWith(line, "#")) names.insert(line.substr(0, line.find(' ')));
    return names;
}

}  // namespace

TEST_CASE("every package that a source needs is installed by the scripts") {
    std::set<std::string> names;
    for (const ProjectFile& file : projectFiles())
        if (file.path == "tools/packages.txt") names = installed(file.text);
    REQUIRE(names.count("g++") == 1);
    static const std::regex include(R"(^\s*#\s*include\s*<([^>]+)>)");
    std::vector<std::string> wrong;
    for (const ProjectFile& file : projectFiles()) {
        if (!isCpp(file.path)) continue;
        for (const std::string& line : linesOf(file.text)) {
            std::smatch match;
            if (!std::regex_search(line, match, include)) continue;
            const std::string package = packageOf(match[1].str());
            if (!package.empty() && names.count(package) == 0)
                wrong.push_back(file.path + ": <" + match[1].str() + "> needs " + package +
                                " in tools/packages.txt");
        }
    }
    INFO(listed(wrong));
    CHECK(wrong.empty());

    CHECK(packageOf("cairo-svg.h") == "libcairo2-dev");
    CHECK(packageOf("vector").empty());
    CHECK(packageOf("SDL.h") == "libsdl2-dev");
    CHECK(packageOf("GLFW/glfw3.h") == "?");
    CHECK(installed("# a\ng++   the compiler\ncmake  the build\n") == std::set<std::string>{"g++", "cmake"});
}

}  // namespace loopmend
