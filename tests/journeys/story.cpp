// SPDX-License-Identifier: MIT
//
// The story of tools/story: every command of it works, and its page has every picture and sentence.
#include <sys/wait.h>

#include <catch2/catch.hpp>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <regex>
#include <set>
#include <sstream>
#include <string>
#include <vector>

#include "store/scratch.h"

namespace loopmend {
namespace {

std::string slurp(const std::string& path) {
    std::ifstream file(path, std::ios::binary);
    std::ostringstream bytes;
    bytes << file.rdbuf();
    return bytes.str();
}

/// Plays the story with a command line; what it ended with.
int play(const std::string& cli, const std::string& folder, const std::string& log) {
    const std::string line = std::string("bash '") + LOOPMEND_SOURCE_DIR + "/tools/story' '" + cli + "' '" +
                             folder + "' >'" + log + "' 2>&1";
    const int status = std::system(line.c_str());
    REQUIRE(WIFEXITED(status));
    return WEXITSTATUS(status);
}

/// Everything that a pattern with one group finds.
std::vector<std::string> all(const std::string& text, const char* pattern) {
    const std::regex regex(pattern);
    std::vector<std::string> found;
    for (std::sregex_iterator it(text.begin(), text.end(), regex), end; it != end; ++it)
        found.push_back((*it)[1]);
    return found;
}

/// What a person reads of a page.
std::string wordsOn(const std::string& page) {
    std::string words = std::regex_replace(page, std::regex("<style>[^]*?</style>|<code>[^]*?</code>"), " ");
    words = std::regex_replace(words, std::regex("<[^>]*>"), " ");
    return std::regex_replace(words, std::regex("\\s+"), " ");
}

bool contains(const std::string& text, const std::string& part) {
    return text.find(part) != std::string::npos;
}
/// The page has every picture, each from both sides, and may be carried anywhere.
void checkWhole(const std::string& folder, const std::string& page, const std::string& madeIn) {
    // Every picture is there, is one, and is told to those who cannot see it.
    const auto images = all(page, "<img src=\"([^\"]*)\"");
    const auto alts = all(page, "<img src=\"[^\"]*\" alt=\"([^\"]+)\"");
    CHECK(images.size() >= 12);
    CHECK(alts.size() == images.size());
    CHECK(std::set<std::string>(images.begin(), images.end()).size() == images.size());
    for (const std::string& image : images) {
        INFO(image);
        const std::string svg = slurp(folder + "/" + image);
        CHECK(svg.rfind("<svg", 0) == 0);
        CHECK(contains(svg, "</svg>"));
    }
    // From both sides, and as a chart: as meant, spoiled, mended.
    for (const char* name :
         {"meant-right", "meant-wrong", "meant-chart", "hole-missing-right", "hole-missing-wrong",
          "hole-missing-chart", "hole-missing-place", "mended-10-right", "mended-10-wrong", "ladder-right",
          "ladder-wrong", "ladder-chart", "half-way", "mended-16-right", "mended-16-wrong"}) {
        INFO(name);
        CHECK(contains(page, std::string("src=\"") + name + ".svg\""));
        CHECK(slurp(folder + "/" + name + ".png").rfind("\x89PNG", 0) == 0);
        CHECK(slurp(folder + "/" + name + ".pdf").rfind("%PDF", 0) == 0);
    }
    // The page may be carried anywhere: links lead to files beside it.
    for (const std::string& link : all(page, "(?:href|src)=\"([^\"]*)\"")) {
        INFO(link);
        CHECK_FALSE(contains(link, "/"));
        CHECK(std::filesystem::file_size(folder + "/" + link) > 0);
    }
    CHECK_FALSE(contains(page, madeIn));

    // Mended is as it was meant, to the last byte of its picture.
    CHECK(slurp(folder + "/mended-10-right.svg") == slurp(folder + "/meant-right.svg"));
    CHECK(slurp(folder + "/mended-10-wrong.svg") == slurp(folder + "/meant-wrong.svg"));
    CHECK(slurp(folder + "/hole-missing-right.svg") != slurp(folder + "/meant-right.svg"));
}

/// It is told in plain words, with the commands that made it.
void checkTold(const std::string& page) {
    const std::string words = wordsOn(page);
    for (const char* sentence :
         {"Harbour Lane evening knitting circle", "It adds up", "It does not add up",
          "one yarn over was forgotten", "There should be seventeen", "issed yarn over", "row 5", "Plan 1",
          "Plan 2", "othing shows afterwards", "Thread a row that is right", "Mended: it is as it was meant",
          "the stitch runs down four rows", "adder", "Put a pin", "Rest your hands"}) {
        INFO(sentence);
        CHECK(contains(words, sentence));
    }
    for (const char* command :
         {"loopmend-cli check", "loopmend-cli knit", "--fault missed_yo@5,7", "loopmend-cli draw",
          "--side ws", "--style chart", "loopmend-cli explain", "loopmend-cli plan", "loopmend-cli mend"}) {
        INFO(command);
        CHECK(contains(page, command));
    }
    // Words of the model are for developers.
    for (const char* model : {"loop graph", "itinerary", "cone", "follow-through", "host"}) {
        INFO(model);
        CHECK_FALSE(std::regex_search(words, std::regex(std::string("\\b") + model + "s?\\b")));
    }
    // Every sentence that we wrote can be read in one breath.
    for (const std::string& paragraph : all(page, "<p>([^<]*)</p>")) {
        for (const std::string& sentence : all(paragraph, "([^.!?:]+[.!?:])")) {
            INFO(sentence);
            CHECK(all(sentence, "(\\S+)").size() <= 25);
        }
    }
}

/// Played again where one stands, a story that fails says so, and leaves no page that looks whole.
void checkFailing(const std::string& folder, const Scratch& scratch) {
    // A command line whose mending does not mend.
    const std::string broken = scratch.path("broken");
    std::ofstream(broken) << "#!/bin/sh\n[ \"$1\" = mend ] && { echo no >&2; exit 1; }\nexec '"
                          << LOOPMEND_CLI << "' \"$@\"\n";
    std::filesystem::permissions(broken, std::filesystem::perms::owner_all);
    CHECK(play(broken, folder, scratch.path("log")) == 1);
    const std::string log = slurp(scratch.path("log"));
    CHECK(contains(log, "tools/story: \"loopmend-cli mend "));
    CHECK(contains(log, "ended with 1, not 0"));
    CHECK_FALSE(std::filesystem::exists(folder + "/index.html"));

    CHECK(play(scratch.path("none"), folder, scratch.path("log")) == 2);
    CHECK(contains(slurp(scratch.path("log")), "there is no program"));
}

}  // namespace

TEST_CASE("the story is played and told to its end; one that fails leaves no page") {
    const Scratch scratch;
    const std::string folder = scratch.path("a story");
    const int ended = play(LOOPMEND_CLI, folder, scratch.path("log"));
    INFO(slurp(scratch.path("log")));
    REQUIRE(ended == 0);
    const std::string page = slurp(folder + "/index.html");
    checkWhole(folder, page, scratch.folder());
    checkTold(page);
    checkFailing(folder, scratch);
}

}  // namespace loopmend
