// SPDX-License-Identifier: MIT
// The running window is killed in the middle of work, again and again: what it had shown is still there.
#include <catch2/catch.hpp>

#include <fcntl.h>
#include <sys/wait.h>
#include <unistd.h>

#include <csignal>
#include <cstdlib>
#include <string>
#include <vector>

#include <SDL.h>
#include <fmt/format.h>

#include "fabric/itinerary.h"
#include "store/attempt_log.h"
#include "store/scratch.h"
#include "window/pupil.h"
#include "window/ways.h"

namespace loopmend::app {
namespace {

constexpr const char* kFolder = "LOOPMEND_TEST_KEEP";
constexpr const char* kPipe = "LOOPMEND_TEST_PIPE";

/// What a person had seen on the screen before the power went.
struct Seen {
    int things = 0;  ///< she had done
    int page = 0;
    std::size_t steps = 0;  ///< in the log
};

std::vector<Seen> readAll(int pipe) {
    std::string text;
    char bytes[4096];
    for (ssize_t n = 0; (n = ::read(pipe, bytes, sizeof bytes)) > 0;)
        text.append(bytes, static_cast<std::size_t>(n));
    std::vector<Seen> all;
    for (std::size_t at = 0, end = 0; (end = text.find('\n', at)) != std::string::npos; at = end + 1) {
        Seen seen;
        unsigned long steps = 0;
        if (std::sscanf(text.c_str() + at, "%d %d %lu", &seen.things, &seen.page, &steps) == 3) {
            seen.steps = steps;
            all.push_back(seen);
        }
    }
    return all;
}

/// Starts this very program with its hidden test below.
pid_t worker(const std::string& folder, int pipe) {
    const pid_t child = ::fork();
    if (child != 0) return child;
    ::setenv(kFolder, folder.c_str(), 1);
    ::setenv(kPipe, std::to_string(pipe).c_str(), 1);
    const int nothing = ::open("/dev/null", O_WRONLY);
    ::dup2(nothing, STDOUT_FILENO);
    ::execl("/proc/self/exe", "loopmend-test-window", "a window that is going to be killed", nullptr);
    ::_exit(127);
}

}  // namespace

TEST_CASE("a window that is going to be killed", "[.]") {
    const char* folder = std::getenv(kFolder);
    const char* pipe = std::getenv(kPipe);
    REQUIRE(folder != nullptr);
    REQUIRE(pipe != nullptr);
    Hands hands(folder);
    const int out = std::atoi(pipe);
    Way way = keyboard(hands);
    const auto tell = [&] {
        const std::string line = fmt::format("{} {} {}\n", hands.session().log().size(), hands.page().step,
                                             hands.app().learning().attempts().size());
        REQUIRE(::write(out, line.data(), line.size()) == static_cast<ssize_t>(line.size()));
    };
    // Turns the cloth, pins, hooks, takes back, looks: something is done and kept all the time.
    for (int round = 0;; ++round) {
        way.turnOver();
        tell();
        way.tug();
        tell();
        if (!hands.session().canGoOn() && hands.session().step() == StepKind::makeSafe) {
            way.takeNotion(4);
            way.doAt(openStitch(hands.fabric()));
            tell();
        }
        if (hands.session().step() == StepKind::makeSafe || hands.session().step() == StepKind::look) {
            way.goOn();
            tell();
        }
        hands.key(SDLK_h);
        tell();
    }
}

TEST_CASE("the window is killed in the middle of work and goes on where it was", "[window]") {
    const Scratch scratch;
    Seen last;
    const int rounds = 8;
    for (int round = 0; round < rounds; ++round) {
        int pipe[2];
        REQUIRE(::pipe(pipe) == 0);
        const pid_t child = worker(scratch.folder(), pipe[1]);
        REQUIRE(child > 0);
        ::close(pipe[1]);
        // Not before it has shown something; then at some moment or other.
        char first = 0;
        REQUIRE(::read(pipe[0], &first, 1) == 1);
        ::usleep(static_cast<useconds_t>(1000 + 37'000 * round));
        REQUIRE(::kill(child, SIGKILL) == 0);
        int status = 0;
        REQUIRE(::waitpid(child, &status, 0) == child);
        REQUIRE(WIFSIGNALED(status));
        const std::vector<Seen> seen = readAll(pipe[0]);
        ::close(pipe[0]);
        if (!seen.empty()) last = seen.back();

        Keeping keeping(scratch.folder());
        CHECK(keeping.read().trouble.empty());
        const KeptLesson* kept = keeping.lesson("a-stitch-that-ran");
        REQUIRE(kept != nullptr);
        Hands hands(scratch.folder());
        CHECK(hands.app().notice().empty());
        CHECK(hands.session().text() == kept->text);
        CHECK(static_cast<int>(hands.session().log().size()) >= last.things);
        CHECK(hands.page().step >= last.page);
        CHECK(hands.app().learning().trouble().empty());
        CHECK(hands.app().learning().attempts().size() >= last.steps);
        CHECK(firstAttempts(hands.app().learning().attempts()).size() ==
              hands.app().learning().attempts().size());
    }
    CHECK(last.things > 0);
}

}  // namespace loopmend::app
