// SPDX-License-Identifier: MIT
//
// The log of attempts: what was added is there after any kill, torn write or failing disk, and what is
// damaged is told and kept aside.
#include "store/attempt_log.h"

#include <sys/wait.h>
#include <unistd.h>

#include <rapidcheck/catch.h>
#include <catch2/catch.hpp>

#include <cerrno>
#include <csignal>
#include <filesystem>
#include <string>
#include <vector>

#include <fmt/format.h>

#include "fabric/itinerary.h"
#include "store/failing_disk.h"
#include "store/forgetful_disk.h"
#include "store/scratch.h"
#include "tutor/progress.h"

namespace loopmend {
namespace {

Attempt attempt(int n, std::string run = "r1") {
    Attempt a;
    a.lesson = "hook-it-up";
    a.run = std::move(run);
    a.swatch = n % 3;
    a.step = n;
    a.what = "ask count";
    a.skill = "hook-up";
    a.right = n % 2 == 0;
    a.tries = 1 + n % 3;
    a.hints = n % 4;
    a.strayMoves = n % 5;
    a.truth = "12";
    a.chosen = "13\twith\na tab\\";
    a.at = 1'700'000'000 + n;
    a.seconds = 20 + n;
    a.reckonedSeconds = n % 3 == 0 ? 0 : 31 * n;
    return a;
}

std::vector<Attempt> some(int count) {
    std::vector<Attempt> list;
    for (int n = 0; n < count; ++n) list.push_back(attempt(n));
    return list;
}

bool same(const Attempt& a, const Attempt& b) {
    return a.lesson == b.lesson && a.run == b.run && a.swatch == b.swatch && a.step == b.step &&
           a.what == b.what && a.skill == b.skill && a.right == b.right && a.tries == b.tries &&
           a.hints == b.hints && a.strayMoves == b.strayMoves && a.truth == b.truth && a.chosen == b.chosen &&
           a.at == b.at && a.seconds == b.seconds && a.reckonedSeconds == b.reckonedSeconds;
}

/// How many of the first of `all` are there, and nothing else; -1: something else.
int firstOf(const std::vector<Attempt>& all, const std::vector<Attempt>& found) {
    if (found.size() > all.size()) return -1;
    for (std::size_t i = 0; i < found.size(); ++i) {
        if (!same(all[i], found[i])) return -1;
    }
    return static_cast<int>(found.size());
}

bool contains(const std::string& text, const std::string& part) {
    return text.find(part) != std::string::npos;
}

std::string bytesOf(const std::string& path) {
    return readFile(path).value();
}

}  // namespace

TEST_CASE("attempts come back as they were added") {
    const Scratch scratch;
    MachineDisk disk;
    const std::string path = scratch.path("attempts");
    const std::vector<Attempt> all = some(9);
    {
        AttemptLog log(disk, path);
        CHECK(log.attempts().empty());
        CHECK(log.trouble().empty());
        for (const Attempt& a : all) REQUIRE(log.append({a}));
        REQUIRE(log.append({}));
        CHECK(firstOf(all, log.attempts()) == 9);
    }
    AttemptLog log(disk, path);
    CHECK(log.trouble().empty());
    CHECK(firstOf(all, log.attempts()) == 9);
    // Only added to: what stood there stays byte for byte.
    const std::string before = bytesOf(path);
    REQUIRE(log.append({attempt(9)}));
    CHECK(bytesOf(path).substr(0, before.size()) == before);
    CHECK(scratch.names() == std::vector<std::string>{"attempts"});
}

TEST_CASE("any attempt has a line of its own") {
    rc::prop("words and numbers of any kind", [] {
        Attempt a;
        for (std::string* const words : {&a.lesson, &a.run, &a.what, &a.skill, &a.truth, &a.chosen})
            *words = *rc::gen::arbitrary<std::string>();
        for (int* const n : {&a.swatch, &a.step, &a.tries, &a.hints, &a.strayMoves})
            *n = *rc::gen::inRange(0, 100'000'000);
        a.right = *rc::gen::arbitrary<bool>();
        a.at = *rc::gen::arbitrary<std::int32_t>();
        a.seconds = *rc::gen::arbitrary<std::int32_t>();
        a.reckonedSeconds = *rc::gen::arbitrary<std::int32_t>();
        const auto read = attemptsFromText(attemptsText({a, a}), "log");
        RC_ASSERT(read.has_value());
        RC_ASSERT((read->damagedLines == 0 && read->attempts.size() == 2));
        RC_ASSERT(same(read->attempts[1], a));
    });
    Attempt odd = attempt(1);
    odd.tries = -4;
    odd.strayMoves = 2'000'000'000;
    const auto read = attemptsFromText(attemptsText({odd}), "log");
    REQUIRE(read);
    REQUIRE(read->attempts.size() == 1);
    CHECK(read->attempts[0].tries == 0);
}

TEST_CASE("torn at any byte, what is whole is there, and the next attempt is kept") {
    const std::vector<Attempt> all = some(3);
    const std::string whole = attemptsText(all);
    MachineDisk disk;
    for (std::size_t cut = 0; cut <= whole.size(); ++cut) {
        CAPTURE(cut);
        const Scratch scratch;
        const std::string path = scratch.path("attempts");
        REQUIRE(writeFile(path, whole.substr(0, cut)));
        int found = 0;
        {
            AttemptLog log(disk, path);
            REQUIRE(log.mayWrite());
            found = firstOf(all, log.attempts());
            REQUIRE(found >= 0);
            const std::string left = whole.substr(0, cut);
            const bool lineTorn = !left.empty() && left.back() != '\n' &&
                                  left.find('\n') != std::string::npos && found < 3 && whole[cut] != '\n';
            CHECK(log.trouble().empty() == !lineTorn);
            if (lineTorn) CHECK(contains(log.trouble(), "1 line of what you did"));
            REQUIRE(log.append({attempt(7)}));
        }
        AttemptLog log(disk, path);
        CHECK(log.trouble().empty());
        std::vector<Attempt> wanted(all.begin(), all.begin() + found);
        wanted.push_back(attempt(7));
        CHECK(firstOf(wanted, log.attempts()) == found + 1);
    }
}

TEST_CASE("one byte wrong anywhere costs its line at most, and the line is kept aside") {
    const std::vector<Attempt> all = some(4);
    const std::string whole = attemptsText(all);
    const std::size_t head = whole.find('\n') + 1;
    for (std::size_t i = 0; i < whole.size(); ++i) {
        CAPTURE(i);
        std::string damaged = whole;
        damaged[i] = static_cast<char>(damaged[i] ^ 0x01);
        const auto read = attemptsFromText(damaged, "log");
        if (i < head) {
            // The first line says what it is.
            if (read) CHECK(read->damagedLines > 0);
            continue;
        }
        REQUIRE(read);
        CHECK(read->attempts.size() >= 2);  // a line end lost joins two lines
        CHECK(read->attempts.size() < 4);
        CHECK(read->damagedLines >= 1);
        CHECK_FALSE(read->damaged.empty());
    }
    const Scratch scratch;
    MachineDisk disk;
    const std::string path = scratch.path("attempts");
    std::string damaged = whole;
    damaged[head + 30] = '#';
    REQUIRE(writeFile(path, damaged));
    AttemptLog log(disk, path);
    CHECK(log.attempts().size() == 3);
    CHECK(contains(log.trouble(), "1 line of what you did before could not be read any more"));
    CHECK(contains(log.trouble(), "it is kept as " + path + ".kept."));
    CHECK(contains(damaged, bytesOf(path + ".kept")));
    // The next damage does not write over what is kept.
    REQUIRE(writeFile(path, damaged));
    CHECK(contains(AttemptLog(disk, path).trouble(), ".kept-2"));
    CHECK(scratch.names() == std::vector<std::string>{"attempts", "attempts.kept", "attempts.kept-2"});
}

TEST_CASE("a log of the first format is read, and written anew with what is added") {
    // Its lines end with the seconds, and are checked without what came later.
    const std::vector<Attempt> all = some(5);
    std::string text = "loopmend attempts 1\n";
    std::string now = attemptsText(all);
    now.erase(0, now.find('\n') + 1);
    while (!now.empty()) {
        const std::string line = now.substr(0, now.find('\n'));
        now.erase(0, line.size() + 1);
        const std::size_t check = line.find('\t') + 1;
        const std::string rest = line.substr(check, line.rfind('\t') - check);
        text += fmt::format("{:016x}\t{}\n", hashOf(rest), rest);
    }
    const Scratch scratch;
    MachineDisk disk;
    const std::string path = scratch.path("attempts");
    REQUIRE(writeFile(path, text));
    {
        AttemptLog log(disk, path);
        CHECK(log.trouble().empty());
        REQUIRE(log.attempts().size() == all.size());
        for (std::size_t i = 0; i < all.size(); ++i) {
            Attempt without = all[i];
            without.reckonedSeconds = 0;
            CHECK(same(log.attempts()[i], without));
        }
        CHECK(bytesOf(path) == text);
        REQUIRE(log.append({attempt(7)}));
    }
    AttemptLog log(disk, path);
    CHECK(log.trouble().empty());
    REQUIRE(log.attempts().size() == all.size() + 1);
    CHECK(same(log.attempts().back(), attempt(7)));
    CHECK(bytesOf(path).substr(0, 20) == "loopmend attempts 2\n");
    // Lines of the one format are none of the other.
    CHECK(attemptsFromText("loopmend attempts 2" + text.substr(19), "log")->damagedLines == 5);
}

TEST_CASE("newer and foreign files are refused and stay as they are") {
    MachineDisk disk;
    for (const std::string text : {"loopmend attempts 3\nsomething new\n", "loopmend table 1\n", "[window]\n",
                                   "\xff\xfe\n", "loopmend attempts x\n"}) {
        CAPTURE(text);
        const Scratch scratch;
        const std::string path = scratch.path("attempts");
        REQUIRE(writeFile(path, text));
        AttemptLog log(disk, path);
        CHECK_FALSE(log.mayWrite());
        CHECK_FALSE(log.trouble().empty());
        CHECK_FALSE(log.append({attempt(1)}));
        CHECK_FALSE(log.importFrom(path));
        CHECK_FALSE(log.removeAll());
        CHECK(bytesOf(path) == text);
        CHECK(scratch.names() == std::vector<std::string>{"attempts"});
    }
    const auto newer = attemptsFromText("loopmend attempts 3\n", "log");
    REQUIRE_FALSE(newer);
    CHECK(contains(newer.error().message, "a newer Loopmend wrote it (format 3, this one reads up to 2)"));
}

TEST_CASE("whichever step of the disk fails, nothing that was safe is lost and nothing comes twice") {
    const std::vector<Attempt> all = some(6);
    for (const bool powerCut : {false, true}) {
        for (int step = 1;; ++step) {
            REQUIRE(step < 60);
            CAPTURE(powerCut, step);
            const Scratch scratch;
            const std::string path = scratch.path("attempts");
            FailingDisk disk(step, ENOSPC, powerCut);
            int safe = 0;
            bool may = true;
            {
                AttemptLog log(disk, path);
                may = log.mayWrite();
                for (const Attempt& a : all) {
                    const auto added = log.append({a});
                    if (added) safe = static_cast<int>(log.attempts().size());
                    if (!added && may) CHECK(contains(added.error().message, path));
                }
                static_cast<void>(log.append({}).has_value());  // what failed is tried again
            }
            const bool failed = disk.failed();
            MachineDisk sound;
            AttemptLog log(sound, path);
            const int found = firstOf(all, log.attempts());
            CHECK(found >= safe);
            // After one step that failed, the next attempt brought everything.
            if (!powerCut && may) CHECK(found == 6);
            if (!failed) break;
        }
    }
}

TEST_CASE("after a power cut every attempt that was said to be safe is there") {
    const std::vector<Attempt> all = some(4);
    for (int step = 1;; ++step) {
        REQUIRE(step < 60);
        CAPTURE(step);
        ForgetfulDisk disk(step);
        int safe = 0;
        {
            AttemptLog log(disk, "a");
            for (const Attempt& a : all) {
                if (log.append({a}) && !disk.cut()) safe = static_cast<int>(log.attempts().size());
            }
        }
        for (const bool namesKept : {false, true}) {
            for (const std::size_t torn : {std::size_t{0}, std::size_t{40}, std::size_t{200}}) {
                std::string bytes = disk.after("a", namesKept, torn);
                if (bytes == "(nothing)" || bytes == "(never safe)") bytes.clear();
                CAPTURE(namesKept, torn);
                const auto read = attemptsFromText(bytes, "a");
                REQUIRE(read);
                // Bytes that were safe cannot be torn off; this disk forgets the whole unsafe state.
                if (torn >= 200 || disk.cut() == false) CHECK(firstOf(all, read->attempts) >= 0);
                if (!disk.cut()) CHECK(firstOf(all, read->attempts) == safe);
            }
        }
        if (!disk.cut()) break;
    }
}

TEST_CASE("a program killed while it adds loses at most what it was adding") {
    const Scratch scratch;
    const std::string path = scratch.path("attempts");
    int most = 0;
    for (int round = 0; round < 12; ++round) {
        int told[2];
        REQUIRE(::pipe(told) == 0);
        const pid_t child = ::fork();
        REQUIRE(child >= 0);
        if (child == 0) {
            MachineDisk disk;
            AttemptLog log(disk, path);
            for (int n = static_cast<int>(log.attempts().size());; ++n) {
                if (!log.append({attempt(n)})) ::_exit(1);
                if (::write(told[1], &n, sizeof n) != static_cast<ssize_t>(sizeof n)) ::_exit(1);
            }
        }
        ::close(told[1]);
        int last = most - 1;
        for (int i = 0; i <= round * 3; ++i) {
            int n = 0;
            if (::read(told[0], &n, sizeof n) != static_cast<ssize_t>(sizeof n)) break;
            last = n;
        }
        REQUIRE(::kill(child, SIGKILL) == 0);
        int status = 0;
        REQUIRE(::waitpid(child, &status, 0) == child);
        CHECK(WIFSIGNALED(status));
        int n = 0;
        while (::read(told[0], &n, sizeof n) == static_cast<ssize_t>(sizeof n)) last = n;
        ::close(told[0]);
        MachineDisk disk;
        const AttemptLog log(disk, path);
        const int found = static_cast<int>(log.attempts().size());
        CHECK(found >= last + 1);
        CHECK(found <= last + 2);
        for (int i = 0; i < found; ++i) CHECK(log.attempts()[static_cast<std::size_t>(i)].step == i);
        most = found;
    }
    CHECK(most > 12);
}

TEST_CASE("a log is taken along, brought together with another, and forgotten") {
    const Scratch scratch;
    MachineDisk disk;
    const std::string copy = scratch.path("copy");
    AttemptLog here(disk, scratch.path("here"));
    REQUIRE(here.append(some(5)));
    REQUIRE(here.append({finishedRun("hook-it-up", "r1", 5)}));
    REQUIRE(here.exportTo(copy));
    CHECK(bytesOf(copy) == bytesOf(scratch.path("here")));

    AttemptLog there(disk, scratch.path("there"));
    REQUIRE(there.append({attempt(3), attempt(3, "r2")}));
    const auto taken = there.importFrom(copy);
    REQUIRE(taken);
    CHECK(taken->added == 5);
    CHECK(taken->words.empty());
    CHECK(there.attempts().size() == 7);
    const auto again = there.importFrom(copy);
    REQUIRE(again);
    CHECK(again->added == 0);
    CHECK(AttemptLog(disk, scratch.path("there")).attempts().size() == 7);

    CHECK_FALSE(there.importFrom(scratch.path("nowhere")));
    REQUIRE(writeFile(copy, bytesOf(copy) + "rubbish\n"));
    const auto damaged = there.importFrom(copy);
    REQUIRE(damaged);
    CHECK(contains(damaged->words, "1 line of " + copy + " could not be read and was left out."));

    REQUIRE(writeFile(scratch.path("there"), bytesOf(scratch.path("there")) + "torn"));
    AttemptLog torn(disk, scratch.path("there"));
    CHECK(contains(torn.trouble(), "kept as"));
    REQUIRE(torn.removeAll());
    CHECK(torn.attempts().empty());
    CHECK(scratch.names() == std::vector<std::string>{"copy", "here"});
    REQUIRE(torn.removeAll());
    REQUIRE(torn.append({attempt(1)}));
    CHECK(AttemptLog(disk, scratch.path("there")).attempts().size() == 1);
}

TEST_CASE("a log that vanishes while the program runs is written again") {
    const Scratch scratch;
    MachineDisk disk;
    const std::string path = scratch.path("attempts");
    AttemptLog log(disk, path);
    REQUIRE(log.append(some(2)));
    std::filesystem::remove(path);
    REQUIRE(log.append({attempt(2)}));
    CHECK(firstOf(some(3), AttemptLog(disk, path).attempts()) == 3);
}

}  // namespace loopmend
