// SPDX-License-Identifier: MIT
// Pictures of signs on her own knitting: worked, looked at again, small, and found for what a beginner points
// at.
#include <catch2/catch.hpp>

#include "diagnosis/sign_examples.h"
#include "fabric/itinerary.h"

using namespace loopmend;

namespace {

CaseStart on(CaseGround ground) {
    CaseStart start;
    start.ground = ground;
    start.stitches = 200;
    start.rowsDone = 150;
    return start;
}

}  // namespace

TEST_CASE("the five pictures exist on every ground, and each shows what it says") {
    for (const CaseGround ground :
         {CaseGround::plain, CaseGround::garter, CaseGround::rib, CaseGround::seed}) {
        SignExamples examples(on(ground));
        const SignExamples::Example* nothing = examples.of(CasePicture::nothing);
        REQUIRE(nothing != nullptr);
        CHECK(nothing->fault.empty());
        CHECK(nothing->fabric->loopCount() < 400);
        for (const CasePicture picture :
             {CasePicture::looseLoop, CasePicture::hole, CasePicture::bump, CasePicture::oddStitch}) {
            INFO(name(ground) << " " << name(picture));
            const SignExamples::Example* example = examples.of(picture);
            REQUIRE(example != nullptr);
            CHECK_FALSE(example->fault.empty());
            CHECK(knotOf(*example->fabric) != knotOf(*nothing->fabric));
        }
    }
}

TEST_CASE("signs are shown on her own pattern, as that side shows them") {
    CaseStart start;
    start.pattern =
        "Multiple of 6 plus 1.\nRow 1 (RS): k1, *yo, k2tog, k4; rep from * to end.\nRow 2: p.\nRow 3: "
        "k.\nRow 4: p.\n";
    start.stitches = 121;
    start.rowsDone = 90;
    SignExamples examples(start);
    const SignExamples::Example* missed = examples.of(OddSign::noHole, Side::right);
    REQUIRE(missed != nullptr);
    CHECK(missed->fabric->loopCount() < 400);
    LookedAt meant(*examples.of(CasePicture::nothing)->fabric);
    CHECK(meant.width(1) == 13);
    REQUIRE(examples.of(OddSign::bump, Side::right) != nullptr);
    REQUIRE(examples.of(OddSign::v, Side::wrong) != nullptr);
    CHECK(examples.of(OddSign::crossRight, Side::right) == nullptr);  // no cable could be miscrossed
    // A pattern that does not come out on few stitches is shown on plain knitting.
    start.pattern = "Cast on 90 sts.\nRow 1: k40, yo, k2tog, k48.\nRow 2: p.\n";
    SignExamples wide(start);
    CHECK(LookedAt(*wide.of(CasePicture::nothing)->fabric).width(1) == 10);
}
