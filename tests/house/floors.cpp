// SPDX-License-Identifier: MIT
//
// The floors of the engine: a module includes only modules on lower floors, and of the world outside only
// what its work needs.
#include <catch2/catch.hpp>
#include <map>
#include <regex>
#include <set>
#include <string>
#include <vector>

#include "house/project.h"

namespace loopmend {
namespace {

// Ground first. Modules on one floor do not know each other.
const std::map<std::string, int> kFloor = {{"fabric", 0}, {"pattern", 1}, {"reading", 2},   {"shape", 2},
                                           {"fault", 3},  {"picture", 3}, {"diagnosis", 4}, {"repair", 4},
                                           {"tutor", 5},  {"store", 6},   {"paper", 6}};

bool mayInclude(const std::string& from, const std::string& to) {
    if (from == to) return true;
    if (kFloor.count(from) == 0 || kFloor.count(to) == 0) return false;
    // Paper is picture's side wing: it draws what picture lays out and knows nothing of faults and repairs.
    if (from == "paper") return to == "picture" || (to != "fault" && mayInclude("picture", to));
    if (to == "paper") return false;
    return kFloor.at(to) < kFloor.at(from);
}

// "fabric/loop.h" -> fabric; "picture/paper/svg.h" -> paper; anything else by its first folder.
std::string moduleOf(const std::string& path) {
    if (startsWith(path, "picture/paper/")) return "paper";
    const std::size_t slash = path.find('/');
    return slash == std::string::npos ? "" : path.substr(0, slash);
}

struct Include {
    std::string what;
    bool angled = false;
    std::size_t line = 0;
};

std::vector<Include> includesOf(const std::string& text) {
    static const std::regex pattern(R"(^\s*#\s*include\s*([<"])([^>"]+)[>"])");
    std::vector<Include> includes;
    const std::vector<std::string> lines = linesOf(text);
    for (std::size_t i = 0; i < lines.size(); ++i) {
        std::smatch match;
        if (std::regex_search(lines[i], match, pattern))
            includes.push_back({match[2].str(), match[1].str() == "<", i + 1});
    }
    return includes;
}

// What is wrong with <what> in this module; empty if nothing.
std::string wrongOutside(const std::string& module, const std::string& what) {
    static const std::set<std::string> talksToTheMachine = {
        "iostream", "fstream", "filesystem", "cstdio", "stdio.h", "chrono", "ctime",
        "time.h",   "random",  "thread",     "mutex",  "atomic",  "future", "condition_variable",
        "unistd.h"};
    // Missing from clang 14 with libc++ 13, which must be able to compile the engine too.
    static const std::set<std::string> tooNew = {"format",     "ranges",     "expected", "source_location",
                                                 "stop_token", "syncstream", "print",    "generator",
                                                 "stacktrace", "spanstream"};
    if (tooNew.count(what) != 0) return "is newer than the compilers of the other builds";
    if (talksToTheMachine.count(what) != 0) {
        const bool files =
            what == "fstream" || what == "filesystem" || what == "cstdio" || what == "iostream";
        const bool threads = what == "thread" || what == "mutex" || what == "atomic" ||
                             what == "condition_variable" || what == "future";
        if (module == "store" || (module == "paper" && files) || (module == "shape" && threads)) return "";
        return "brings files, the clock, chance or threads into the engine";
    }
    if (startsWith(what, "fmt/") || what == "tl/expected.hpp") return "";
    if (startsWith(what, "cereal/")) return module == "store" ? "" : "belongs in store/ alone";
    if (startsWith(what, "cairo")) return module == "paper" ? "" : "belongs in picture/paper/ alone";
    if (startsWith(what, "Eigen/")) return module == "shape" ? "" : "belongs in shape/ alone";
    const bool standard = what.find_first_of("/.") == std::string::npos;
    if (standard || ((module == "store" || module == "paper") && endsWith(what, ".h"))) {
        for (const char* window : {"SDL", "GL", "EGL", "GLES", "imgui"})
            if (startsWith(what, window)) return "belongs to the window";
        return "";
    }
    return "is nothing that the engine may know";
}

// Complaints about one file; its path is seen from engine/.
std::vector<std::string> wrongIncludes(const std::string& path, const std::string& text) {
    std::vector<std::string> wrong;
    const std::string from = moduleOf(path);
    for (const Include& include : includesOf(text)) {
        std::string why;
        if (include.angled) {
            why = wrongOutside(from, include.what);
        } else if (moduleOf(include.what).empty()) {
            why = "must be named with its folder";
        } else if (!mayInclude(from, moduleOf(include.what))) {
            why = "is not on a lower floor than " + from;
        }
        if (!why.empty())
            wrong.push_back("engine/" + path + ":" + std::to_string(include.line) + ": " + include.what +
                            " " + why);
    }
    return wrong;
}

// The modules that engine/CMakeLists.txt lets each module link.
std::map<std::string, std::set<std::string>> linkedModules(const std::string& cmake) {
    static const std::regex call(R"(^\s*loopmend_module\(\s*(\w+)\s+\S+([^)]*)\))");
    std::map<std::string, std::set<std::string>> linked;
    for (const std::string& line : linesOf(cmake)) {
        std::smatch match;
        if (!std::regex_search(line, match, call)) continue;
        std::set<std::string>& lower = linked[match[1].str()];
        static const std::regex word(R"(\w+)");
        const std::string rest = match[2].str();
        for (std::sregex_iterator it(rest.begin(), rest.end(), word), end; it != end; ++it)
            lower.insert(it->str());
    }
    return linked;
}

}  // namespace

TEST_CASE("no include of the engine runs upward, sideways or out of the house") {
    std::vector<std::string> wrong;
    std::size_t seen = 0;
    for (const ProjectFile& file : projectFiles()) {
        if (!startsWith(file.path, "engine/") || !isCpp(file.path)) continue;
        ++seen;
        for (std::string& complaint : wrongIncludes(file.path.substr(7), file.text))
            wrong.push_back(std::move(complaint));
    }
    CHECK(seen > 0);
    INFO(listed(wrong));
    CHECK(wrong.empty());
}

TEST_CASE("every folder of the engine is a module with a floor") {
    std::set<std::string> unknown;
    for (const ProjectFile& file : projectFiles()) {
        if (!startsWith(file.path, "engine/") || !isCpp(file.path)) continue;
        const std::string module = moduleOf(file.path.substr(7));
        if (kFloor.count(module) == 0) unknown.insert(file.path);
    }
    INFO(listed({unknown.begin(), unknown.end()}));
    CHECK(unknown.empty());
}

TEST_CASE("what a module includes it also links, and it links lower floors only") {
    std::map<std::string, std::set<std::string>> linked;
    for (const ProjectFile& file : projectFiles())
        if (file.path == "engine/CMakeLists.txt") linked = linkedModules(file.text);
    for (const auto& [module, floor] : kFloor) {
        INFO(module << " on floor " << floor);
        REQUIRE(linked.count(module) == 1);
    }
    std::vector<std::string> wrong;
    for (const auto& [module, lower] : linked)
        for (const std::string& other : lower)
            if (!mayInclude(module, other)) wrong.push_back(module + " links " + other);
    for (const ProjectFile& file : projectFiles()) {
        if (!startsWith(file.path, "engine/") || !isCpp(file.path)) continue;
        const std::string from = moduleOf(file.path.substr(7));
        for (const Include& include : includesOf(file.text)) {
            if (include.angled) continue;
            const std::string to = moduleOf(include.what);
            if (to != from && linked[from].count(to) == 0)
                wrong.push_back(file.path + " includes " + include.what + " but " + from + " does not link " +
                                to);
        }
    }
    INFO(listed(wrong));
    CHECK(wrong.empty());
}

TEST_CASE("cereal and Cairo stay in their rooms outside the engine too") {
    std::vector<std::string> wrong;
    for (const ProjectFile& file : projectFiles()) {
        if (startsWith(file.path, "engine/") || !isCpp(file.path)) continue;
        for (const Include& include : includesOf(file.text))
            if (startsWith(include.what, "cereal/") || startsWith(include.what, "cairo"))
                wrong.push_back(file.path + ": " + include.what);
    }
    INFO(listed(wrong));
    CHECK(wrong.empty());
}

TEST_CASE("the check of the floors bites") {
    const auto complaints = [](const std::string& path, const std::string& text) {
        return wrongIncludes(path, text).size();
    };
    CHECK(complaints("fabric/a.cpp", "#include \"fabric/b.h\"\n") == 0);
    CHECK(complaints("pattern/a.cpp", "#include \"fabric/b.h\"\n") == 0);
    CHECK(complaints("store/a.cpp",
                     "#include \"repair/b.h\"\n#include <fstream>\n#include <cereal/cereal.hpp>\n") == 0);
    CHECK(complaints("picture/paper/a.cpp", "#include \"picture/b.h\"\n#include <cairo-svg.h>\n") == 0);
    CHECK(complaints("fabric/a.cpp",
                     "#include <fmt/format.h>\n#include <tl/expected.hpp>\n#include <vector>\n") == 0);

    CHECK(complaints("fabric/a.cpp", "#include \"pattern/b.h\"\n") == 1);
    CHECK(complaints("fabric/a.cpp", "  #  include \"store/b.h\"\n") == 1);
    CHECK(complaints("fabric/a.cpp", "#include \"b.h\"\n") == 1);
    CHECK(complaints("fabric/a.cpp", "#include \"../pattern/b.h\"\n") == 1);
    CHECK(complaints("diagnosis/a.cpp", "#include \"repair/b.h\"\n") == 1);
    CHECK(complaints("repair/a.cpp", "#include \"diagnosis/b.h\"\n") == 1);
    CHECK(complaints("reading/a.cpp", "#include \"shape/b.h\"\n") == 1);
    CHECK(complaints("shape/a.cpp", "#include \"reading/b.h\"\n") == 1);
    CHECK(complaints("fault/a.cpp", "#include \"picture/b.h\"\n") == 1);
    CHECK(complaints("picture/a.cpp", "#include \"fault/b.h\"\n") == 1);
    CHECK(complaints("picture/a.cpp", "#include \"picture/paper/b.h\"\n") == 1);
    CHECK(complaints("store/a.cpp", "#include \"picture/paper/b.h\"\n") == 1);
    CHECK(complaints("picture/paper/a.cpp", "#include \"repair/b.h\"\n") == 1);
    CHECK(complaints("picture/paper/a.cpp", "#include \"fault/b.h\"\n") == 1);
    CHECK(complaints("tutor/a.cpp", "#include \"cli/b.h\"\n") == 1);

    CHECK(complaints("picture/a.cpp", "#include <cairo.h>\n") == 1);
    CHECK(complaints("fabric/a.cpp", "#include <cereal/cereal.hpp>\n") == 1);
    for (const char* outside :
         {"SDL2/SDL.h", "SDL.h", "imgui.h", "imgui/imgui.h", "GL/gl.h", "GLES3/gl3.h", "iostream", "fstream",
          "filesystem", "chrono", "random", "format", "ranges", "nlohmann/json.hpp"}) {
        INFO(outside);
        CHECK(complaints("fabric/a.cpp", std::string("#include <") + outside + ">\n") == 1);
    }
    CHECK(complaints("store/a.cpp", "#include <SDL.h>\n") == 1);
    CHECK(wrongIncludes("fabric/a.cpp", "\n#include \"pattern/b.h\"\n").at(0) ==
          "engine/fabric/a.cpp:2: pattern/b.h is not on a lower floor than fabric");
}

}  // namespace loopmend
