// SPDX-License-Identifier: MIT
#include "tutor/closer_look.h"

#include <catch2/catch.hpp>

#include "course.h"
#include "fault/catalogue.h"
#include "fault/draw.h"
#include "sampled.h"

using namespace loopmend;

namespace {

Lesson lessonWith(const char* id, StockGround ground = StockGround::stockinette) {
    Lesson lesson;
    lesson.id = "any";
    LessonSwatch swatch;
    swatch.ground = ground;
    swatch.stitches = 18;
    swatch.rows = 20;
    Wanted wanted;
    wanted.rowFrom = 8;
    wanted.rowTo = 14;
    const auto place =
        drawPlace(3, *findFault(id), stockGround(ground, swatch.stitches, swatch.rows), swatch.setup, wanted);
    REQUIRE(place);
    swatch.faults = {*place};
    lesson.swatches = {swatch};
    return lesson;
}

}  // namespace

TEST_CASE("What is hard to see is looked at in the way that shows it") {
    const WayOfLooking twisted = closerLook(lessonWith("twist_tbl"));
    CHECK(twisted.plain());
    CHECK_FALSE(twisted.asHeld());
    // Left-handed cloth is another cloth, and is looked at as well.
    CHECK(closerLook(lessonWith("twist_tbl"), true).plain());
    // A bump among V's can be seen from where she sits; closer is nearer then.
    CHECK_FALSE(closerLook(lessonWith("wrong_kp")).asHeld());
}

TEST_CASE("Closer tells nothing about where a mistake is, nor whether there is one") {
    Lesson faulty = lessonWith("twist_tbl");
    const WayOfLooking way = closerLook(faulty);
    // A sound piece before it in the same lesson is looked at in the same way.
    LessonSwatch sound = faulty.swatches.front();
    sound.faults.clear();
    faulty.swatches.insert(faulty.swatches.begin(), sound);
    const WayOfLooking both = closerLook(faulty);
    CHECK(both.nearer == way.nearer);
    CHECK(both.slant == way.slant);
    CHECK(both.pull == way.pull);
    CHECK(both.otherSide == way.otherSide);
}

TEST_CASE("Every lesson of the course can be looked at closer") {
    int i = 0;
    for (const Lesson& lesson : wholeCourse().lessons()) {
        if (!isSampled(i++)) continue;
        INFO(lesson.id);
        const WayOfLooking way = closerLook(lesson);
        CHECK_FALSE(way.asHeld());
        CHECK(way.nearer <= 3);
    }
}
