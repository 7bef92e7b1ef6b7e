// SPDX-License-Identifier: MIT
// What the fuzzer found worth keeping (tests/corpus/READER/*; tools/fuzz adds to it), read again.
#include "tries.h"

#include <catch2/catch.hpp>

#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>

namespace loopmend::testing {

TEST_CASE("the fuzzer's corpus is read without a broken promise") {
    for (const NamedTry& one : kTries) {
        const std::filesystem::path folder =
            std::filesystem::path(LOOPMEND_SOURCE_DIR "/tests/corpus") / one.name;
        REQUIRE(std::filesystem::is_directory(folder));
        int read = 0;
        for (const auto& entry : std::filesystem::directory_iterator(folder)) {
            std::ifstream in(entry.path(), std::ios::binary);
            std::stringstream bytes;
            bytes << in.rdbuf();
            INFO(entry.path().string());
            CHECK_NOTHROW(one.run(bytes.str()));
            ++read;
        }
        INFO(folder.string());
        CHECK(read > 0);
    }
}

TEST_CASE("the corpus stays small") {
    std::uintmax_t bytes = 0;
    for (const auto& entry :
         std::filesystem::recursive_directory_iterator(LOOPMEND_SOURCE_DIR "/tests/corpus"))
        if (entry.is_regular_file()) bytes += entry.file_size();
    CHECK(bytes < 200'000);
}

}  // namespace loopmend::testing
