// SPDX-License-Identifier: MIT
//
// Files on the machine's own disk: read within a limit, written whole or not at all whichever step fails.
#include "store/files.h"

#include <sys/stat.h>
#include <unistd.h>

#include <catch2/catch.hpp>
#include <cerrno>
#include <filesystem>
#include <string>

#include "store/failing_disk.h"
#include "store/scratch.h"

namespace loopmend {
namespace {

using Strings = std::vector<std::string>;

std::string messageOf(const tl::expected<void, FileError>& written) {
    return written ? "" : written.error().message;
}

bool contains(const std::string& text, const std::string& part) {
    return text.find(part) != std::string::npos;
}

}  // namespace

TEST_CASE("what is written is read") {
    const Scratch scratch;
    const std::string file = scratch.path("a");
    const std::string bytes("one\0two\r\n\xff\n", 12);
    REQUIRE(writeFile(file, bytes));
    CHECK(readFile(file).value() == bytes);
    REQUIRE(writeFile(file, ""));
    CHECK(readFile(file).value().empty());
    CHECK(scratch.names() == Strings{"a"});
}

TEST_CASE("the old file or the new one is there whole, whichever step fails") {
    const std::string before = "the old file\n";
    const std::string after(100'000, 'n');
    for (const bool powerCut : {false, true}) {
        for (const bool overOld : {false, true}) {
            int step = 1;
            for (;; ++step) {
                REQUIRE(step < 20);
                CAPTURE(powerCut, overOld, step);
                const Scratch scratch;
                const std::string file = scratch.path("a");
                if (overOld) REQUIRE(writeFile(file, before));
                FailingDisk disk(step, EIO, powerCut);
                const std::string message = messageOf(writeFile(disk, file, after));
                if (!disk.failed()) {
                    CHECK(message.empty());
                    break;
                }
                const auto now = readFile(file);
                if (message.empty()) {
                    // Said to be done: then it is (only the folder could not be made safe yet).
                    REQUIRE(now);
                    CHECK(*now == after);
                } else {
                    CHECK(contains(message, "cannot write " + file + ": the disk reports an error"));
                    CHECK(now.has_value() == overOld);
                    if (now) CHECK(*now == before);
                }
                // Nothing is left lying about, but after a power cut.
                if (!powerCut) CHECK(scratch.names().size() == (now ? 1U : 0U));
            }
            CHECK(step > 6);
        }
    }
}

TEST_CASE("what a power cut left behind stops nobody") {
    const Scratch scratch;
    FailingDisk disk(3, EIO, true);
    CHECK_FALSE(writeFile(disk, scratch.path("a"), "lost"));
    CHECK(scratch.names() == Strings{".loopmend-unfinished-1"});
    REQUIRE(writeFile(scratch.path("a"), "kept"));
    CHECK(readFile(scratch.path("a")).value() == "kept");
}

TEST_CASE("a file that cannot be read says why and what to do") {
    const Scratch scratch;
    const auto message = [](const std::string& path, std::size_t most = kMostBytes) {
        const auto read = readFile(path, most);
        return read ? std::string("read") : read.error().message;
    };
    const std::string none = scratch.path("none");
    CHECK(message(none) == "cannot read " + none + ": there is no such file; check its name and folder");
    CHECK(message(scratch.folder()) ==
          "cannot read " + scratch.folder() + ": it is a folder; name a file in it");
    CHECK(contains(message(""), "without a name"));

    const std::string large = scratch.path("large");
    REQUIRE(writeFile(large, std::string((std::size_t{1} << 20) + 1, 'x')));
    CHECK(contains(message(large, std::size_t{1} << 20), "it is larger than 1 MB"));
    CHECK(message(large) == "read");
    // Not a file with a size: the limit holds while reading.
    CHECK(contains(message("/dev/zero", std::size_t{1} << 20), "it is larger than 1 MB"));

    if (::geteuid() != 0) {
        std::filesystem::permissions(large, std::filesystem::perms::none);
        CHECK(contains(message(large), "you have no permission"));
    }
}

TEST_CASE("a file that cannot be written says why and what to do") {
    const Scratch scratch;
    const auto message = [](const std::string& path) { return messageOf(writeFile(path, "text")); };
    CHECK(message(scratch.folder()) ==
          "cannot write " + scratch.folder() + ": it is a folder; name a file in it");
    const std::string nowhere = scratch.path("no/such/file");
    CHECK(message(nowhere) == "cannot write " + nowhere + ": there is no folder " + scratch.path("no/such") +
                                  "; make it first or name another");
    CHECK(contains(message(scratch.path("new/")), "there is no folder"));
    REQUIRE(writeFile(scratch.path("file"), ""));
    CHECK(contains(message(scratch.path("file/below")), "there is no folder " + scratch.path("file")));
    CHECK(contains(message(""), "without a name"));
    CHECK(contains(message(scratch.path(std::string(300, 'n'))), "the name is too long"));
    CHECK(scratch.names() == Strings{"file"});
    // Not even root may make files here.
    CHECK(contains(message("/proc/loopmend"), "nothing may be written in the folder /proc"));
    if (::geteuid() != 0) {
        std::filesystem::permissions(scratch.folder(),
                                     std::filesystem::perms::owner_read | std::filesystem::perms::owner_exec);
        CHECK(contains(message(scratch.path("a")), "nothing may be written in the folder"));
        std::filesystem::permissions(scratch.folder(), std::filesystem::perms::owner_all);
    }
}

TEST_CASE("a device is written straight and stays a device") {
    REQUIRE(writeFile("/dev/null", "text"));
    CHECK(std::filesystem::is_character_file("/dev/null"));
    if (std::filesystem::exists("/dev/full")) {
        const std::string message = messageOf(writeFile("/dev/full", "text"));
        CHECK(message ==
              "cannot write /dev/full: there is no room left on the disk; make room or name another "
              "disk");
        CHECK(std::filesystem::is_character_file("/dev/full"));
    }
}

TEST_CASE("a link stays a link, and permissions stay") {
    const Scratch scratch;
    std::filesystem::create_directory(scratch.path("far"));
    const std::string real = scratch.path("far/real");
    const std::string link = scratch.path("link");
    REQUIRE(writeFile(real, "old"));
    REQUIRE(::chmod(real.c_str(), 0640) == 0);
    std::filesystem::create_symlink("far/real", link);
    REQUIRE(writeFile(link, "new"));
    CHECK(std::filesystem::is_symlink(link));
    CHECK(readFile(real).value() == "new");
    struct stat now {};
    REQUIRE(::stat(real.c_str(), &now) == 0);
    CHECK((now.st_mode & 0777) == 0640);

    std::filesystem::create_symlink("far/none/at-all", scratch.path("broken"));
    const std::string message = messageOf(writeFile(scratch.path("broken"), "new"));
    CHECK(contains(message, "cannot write " + scratch.path("broken")));
}

}  // namespace loopmend
