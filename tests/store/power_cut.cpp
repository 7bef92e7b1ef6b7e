// SPDX-License-Identifier: MIT
#include <catch2/catch.hpp>
#include <string>

#include "forgetful_disk.h"
#include "store/files.h"

namespace loopmend {

TEST_CASE("a power cut at any moment leaves the old file or the new one, never something between") {
    const std::string before = "the old file";
    const std::string after = "a new and longer file";
    bool sawOld = false;
    bool sawNew = false;
    for (int step = 1;; ++step) {
        REQUIRE(step < 20);
        CAPTURE(step);
        ForgetfulDisk disk(step);
        disk.put("a", before);
        const bool said = writeFile(disk, "a", after).has_value();
        for (const bool namesKept : {false, true}) {
            for (const std::size_t torn : {std::size_t{0}, std::size_t{5}, after.size() - 1}) {
                const std::string found = disk.after("a", namesKept, torn);
                CAPTURE(namesKept, torn, found);
                CHECK((found == before || found == after));
                sawOld = sawOld || found == before;
                sawNew = sawNew || found == after;
                if (said && !disk.cut()) CHECK(found == after);
            }
        }
        if (!disk.cut()) break;
    }
    CHECK(sawOld);
    CHECK(sawNew);
}

}  // namespace loopmend
