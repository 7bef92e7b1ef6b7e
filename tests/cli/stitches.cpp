// SPDX-License-Identifier: MIT
#include <catch2/catch.hpp>
#include <string>

#include "cli/program.h"

namespace loopmend {

TEST_CASE("stitches are listed, told in full, and shown on a sheet") {
    const Bench bench;
    const Ran list = bench.run({"stitches"});
    CHECK(list.exit == 0);
    CHECK(contains(list.out, "  k2tog "));
    CHECK(contains(list.out, "  cross-2-2-left "));

    const Ran one = bench.run({"stitches", "k2tog"});
    CHECK(one.exit == 0);
    CHECK(contains(one.out, "left one on top"));
    CHECK(contains(one.out, "forks"));

    const Ran json = bench.run({"stitches", "k2tog", "k", "--json"});
    CHECK(json.exit == 0);
    const auto stitches = json.json()["stitches"];
    REQUIRE(stitches.size() == 2);
    for (const auto& s : stitches) {
        if (s["id"] == "k2tog") {
            CHECK(s["count_effect"] == -1);
            CHECK(s["most_like"] == "ssk");
            CHECK(s["look"]["nearer"] > 1);
        }
        CHECK(s["comes_back_whole"] == true);
        CHECK_FALSE(s["looks_rs"].empty());
    }

    const std::string sheet = bench.path("stitches.html");
    const Ran written = bench.run({"stitches", "k2tog", "ssk", "-o", sheet});
    INFO(written.err);
    CHECK(written.exit == 0);
    CHECK(contains(bench.bytes("stitches.html"), "<svg"));
}

TEST_CASE("a stitch that is not there, and a sheet of no known kind") {
    const Bench bench;
    const Ran none = bench.run({"stitches", "frog"});
    CHECK(none.exit == 2);
    CHECK(contains(none.err, "loopmend-cli stitches"));
    const Ran kind = bench.run({"stitches", "k", "-o", bench.path("k.doc")});
    CHECK(kind.exit == 2);
    CHECK(contains(kind.err, ".html or .pdf"));
}

}  // namespace loopmend
