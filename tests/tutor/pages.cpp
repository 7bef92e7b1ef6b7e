// SPDX-License-Identifier: MIT
// What pages say: short, kind, the same after saving, right for either hand.
#include <set>

#include <fmt/format.h>
#include <catch2/catch.hpp>

#include "course.h"
#include "fault/catalogue.h"
#include "pupil.h"
#include "tutor/standing.h"
#include "tutor/words.h"

using namespace loopmend;

namespace {

constexpr int kMostWords = 60;

void checkWords(const Session& session) {
    const Page& page = session.page();
    CHECK(pupil::words(page) <= kMostWords);
    CHECK_FALSE(page.heading.empty());
    const std::string all = pupil::text(page);
    for (const char* model : {"loop graph", "host", "itinerary", "cone", "rim", "follow-through", "ladder_",
                              "  ", "..", "{", "row 0", "-1"}) {
        INFO(all);
        CHECK(all.find(model) == std::string::npos);
    }
    if (session.terms() == Terms::uk) {
        CHECK(all.find("neighbor") == std::string::npos);
        CHECK(all.find("toward ") == std::string::npos);
        CHECK(all.find("stockinette") == std::string::npos);
    } else {
        CHECK(all.find("neighbour") == std::string::npos);
        CHECK(all.find("stocking stitch") == std::string::npos);
    }
    for (const std::string& said : page.paragraphs) CHECK_FALSE(said.empty());
    if (!page.said.empty()) CHECK((page.said.back() == '.' || page.said.back() == '?'));
}

}  // namespace

TEST_CASE("Every page is short and in a knitter's words, in both kinds of English, for both hands") {
    for (const Terms terms : {Terms::us, Terms::uk}) {
        for (const bool mirrored : {false, true}) {
            Session session(firstLesson(), terms, mirrored);
            pupil::doAll(session, checkWords);
            CHECK(session.done());
        }
    }
}

TEST_CASE("A saved lesson opens at the same page, after everything she does") {
    Session session(firstLesson(), Terms::uk, true);
    int n = 0;
    pupil::doAll(session, [&](const Session& now) {
        if (++n % 3 != 0 && now.step() != StepKind::check) return;
        const auto again = Session::from(firstLesson(), now.text());
        REQUIRE(again);
        CHECK(pupil::text(again->page()) == pupil::text(now.page()));
        CHECK(again->text() == now.text());
        CHECK(again->seen() == now.seen());
        CHECK(again->hintsGiven() == now.hintsGiven());
        CHECK(again->marks().size() == now.marks().size());
    });
    CHECK(n > 20);
}

TEST_CASE("What is no saved lesson is refused with a sentence") {
    const Lesson lesson = firstLesson();
    const std::string good = Session(lesson).text();
    CHECK(Session::from(lesson, good));
    CHECK_FALSE(Session::from(lesson, ""));
    CHECK_FALSE(Session::from(lesson, "loompaste 7\n"));
    CHECK_FALSE(Session::from(lesson, good + "dance 7\n"));
    CHECK_FALSE(Session::from(lesson, good + "move fly 7\n"));
    CHECK_FALSE(Session::from(lesson, good + "point loop x whole\n"));
    Lesson other = lesson;
    other.id = "another";
    const auto wrong = Session::from(other, good);
    REQUIRE_FALSE(wrong);
    CHECK_FALSE(wrong.error().empty());
}

TEST_CASE("Pages turn back freely, and forward as far as she has been") {
    Session session(firstLesson());
    CHECK_FALSE(session.canGoOn());
    session.next();
    CHECK(session.page().step == 1);
    pupil::doPage(session, [](const Session&) {});
    session.next();
    session.back();
    CHECK(session.page().step == 1);
    CHECK(session.canGoOn());
    session.next();
    CHECK(session.page().step == 2);
    CHECK_FALSE(session.canGoOn());
}

TEST_CASE("Pointing at the wrong thing is answered for what it is") {
    Session session(firstLesson());
    const Fabric& f = session.fabric();
    const LoopId foot = pupil::openLoop(session);
    const auto says = [&](PointTarget::Thing thing, EntryId entry, const char* word) {
        session.pointAt({thing, entry});
        INFO(session.page().said);
        CHECK(session.page().said.find(word) != std::string::npos);
    };
    says(PointTarget::Thing::nothing, {}, "table");
    says(PointTarget::Thing::needle, {}, "needle");
    says(PointTarget::Thing::loop, session.work().knitter().ahead().front(), "safe");
    says(PointTarget::Thing::loop, session.work().knitter().ahead().front(), "down");
    says(PointTarget::Thing::rung, f.passesOf(foot).back(), "Follow the rungs down");
    says(PointTarget::Thing::strand, foot, "bar between two stitches");
    const StitchPlaces places(f);
    const StitchPlace at = places.of(foot);
    LoopId beside;
    LoopId below;
    for (std::int32_t i = 0; i < f.entryCount(); ++i) {
        const LoopId l{i};
        if (!f.has(l) || !f.isLoop(l)) continue;
        if (places.of(l).row == at.row && places.of(l).column == at.column + 2) beside = l;
        if (places.of(l).row == at.row - 2 && places.of(l).column == at.column) below = l;
    }
    says(PointTarget::Thing::loop, beside, "held");
    says(PointTarget::Thing::loop, beside, "to the right");  // she looks at the right side
    says(PointTarget::Thing::loop, below, "up");
    session.turnOver();
    says(PointTarget::Thing::loop, beside, "to the left");
    says(PointTarget::Thing::loop, foot, "the one");
    session.pointAt({PointTarget::Thing::loop, EntryId{99'999}});
    CHECK(session.page().said.find("table") != std::string::npos);
}

TEST_CASE("Places are counted from the edge as it faces her, on either side and for either hand") {
    for (const bool mirrored : {false, true}) {
        Session session(firstLesson(), Terms::us, mirrored);
        const LoopId foot = pupil::openLoop(session);
        const StitchPlaces places(session.fabric());
        const int column = places.of(foot).column;
        const auto across = [&](Side seen) {
            return acrossWords({session.fabric(), seen, session.facing(), mirrored, Terms::us}, places, foot);
        };
        const std::string fromRight = across(Side::right);
        const std::string fromWrong = across(Side::wrong);
        const bool nearRight = column <= 8;
        CHECK(fromRight.find(nearRight ? "from the right" : "from the left") != std::string::npos);
        CHECK(fromWrong.find(nearRight ? "from the left" : "from the right") != std::string::npos);
        CHECK(fromRight.find(ordinalWord(nearRight ? column : 17 - column)) != std::string::npos);
    }
    // The tenth stitch worked is the tenth from the right for the one, from the left for the other.
    Session right(firstLesson());
    Session left(firstLesson(), Terms::us, true);
    const int a = StitchPlaces(right.fabric()).of(pupil::openLoop(right)).column;
    const int b = StitchPlaces(left.fabric()).of(pupil::openLoop(left)).column;
    CHECK(a + b == 17);
}

TEST_CASE("Hints climb, are kept in the log, and light no more than they tell") {
    Session session(firstLesson());
    CHECK(session.marks().empty());
    std::set<std::string> texts;
    for (int rung = 1; rung <= 4; ++rung) {
        const Hint hint = session.hint();
        CHECK(hint.rung == rung);
        texts.insert(hint.text);
        bool very = false;
        for (const PageMark& mark : session.marks()) very = very || mark.kind == PageMarkKind::next;
        CHECK(very == (rung == 4));
        CHECK(session.shownMove().has_value() == (rung == 4));
    }
    CHECK(texts.size() == 4);
    CHECK(session.hint().rung == 4);
    CHECK(session.hintsGiven() == 4);
    CHECK(session.log().size() == 4);
}

TEST_CASE("Leaving it, saying that nothing is wrong, and not knowing yet are always answers to the choice") {
    Session session(firstLesson());
    while (session.step() != StepKind::choose) {
        REQUIRE(pupil::doPage(session, [](const Session&) {}));
        session.next();
    }
    const std::vector<Choice> choices = session.page().choices;
    REQUIRE(choices.size() >= 5);  // two ways at least, and these
    std::set<std::string> all;
    for (int i = 0; i < static_cast<int>(choices.size()); ++i) {
        all.insert(choices[static_cast<std::size_t>(i)].text);
        session.choose(i);
        CHECK_FALSE(session.page().said.empty());
        CHECK(session.page().choices[static_cast<std::size_t>(i)].state != ChoiceState::open);
    }
    CHECK(all.count("Leave it as it is.") == 1);
    CHECK(all.count("Nothing is wrong.") == 1);
    CHECK(all.count("I can't tell yet.") == 1);
}

TEST_CASE("A move is said for the face that she sees, for either hand") {
    for (const bool mirrored : {false, true}) {
        Session session(firstLesson(), Terms::us, mirrored);
        while (session.step() != StepKind::putRight) {
            REQUIRE(pupil::doPage(session, [](const Session&) {}));
            session.next();
        }
        REQUIRE(session.seen() == session.facing());
        CHECK(session.page().task.find("behind it") != std::string::npos);
        CHECK(session.page().task.find("toward you") != std::string::npos);
        const std::optional<Move> move = session.shownMove();
        session.turnOver();
        CHECK(session.page().task.find("in front of it") != std::string::npos);
        CHECK(session.page().task.find("away from you") != std::string::npos);
        CHECK(session.shownMove() == move);
        session.turnOver();
        while (session.shownMove() && session.shownMove()->kind == MoveKind::hook)
            REQUIRE(session.perform(*session.shownMove()));
        REQUIRE(session.shownMove());
        REQUIRE(session.shownMove()->kind == MoveKind::seat);
        // A left-handed knitter's needle comes from the other side.
        CHECK(session.page().task.find(mirrored ? "left leg in front" : "right leg in front") !=
              std::string::npos);
    }
}
