// SPDX-License-Identifier: MIT
// The first lesson, worked in several ways.
#include <fmt/format.h>
#include <catch2/catch.hpp>

#include "course.h"
#include "fabric/itinerary.h"
#include "pupil.h"
#include "tutor/standing.h"

using namespace loopmend;

namespace {

/// Turns to the page on which the mending is done.
void goToPutRight(Session& session) {
    while (session.step() != StepKind::putRight) {
        REQUIRE(pupil::doPage(session, [](const Session&) {}));
        session.next();
    }
}

const pupil::Watch kNobody = [](const Session&) {};

bool isHome(const Session& session) {
    const Swatch swatch(session.piece(), session.terms(), session.mirrored());
    return knotOf(session.fabric()) == knotOf(swatch.meantAt(swatch.rows()));
}

}  // namespace

TEST_CASE("The first lesson can be worked to its end by what it shows") {
    Session session(firstLesson());
    const std::vector<StepKind> seen = pupil::doAll(session, kNobody);
    CHECK(session.done());
    CHECK(seen.front() == StepKind::makeSafe);
    CHECK(seen.back() == StepKind::inWool);
    CHECK(seen.size() == firstLesson().first().steps.size());
}

TEST_CASE("The mending is shown move by move, and done by those moves") {
    Session session(firstLesson());
    goToPutRight(session);
    int rungs = 0;
    while (!session.canGoOn()) {
        const std::optional<Move> shown = session.shownMove();
        REQUIRE(shown);
        CHECK_FALSE(session.page().task.empty());
        CHECK_FALSE(session.marks().empty());
        rungs += shown->kind == MoveKind::hook ? 1 : 0;
        REQUIRE(session.perform(*shown));
    }
    CHECK(rungs == 6);
    CHECK(isHome(session));
    CHECK_FALSE(session.shownMove());
}

TEST_CASE("Ripping the rows and knitting them again mends it too") {
    Session session(firstLesson());
    REQUIRE(pupil::moved(session, fmt::format("pin {}", pupil::openLoop(session).value)));
    goToPutRight(session);
    REQUIRE(pupil::moved(session, "rip 6"));
    CHECK_FALSE(session.canGoOn());
    // The rest as the hints have it: the loop goes back on the needle, six rows are knitted.
    CHECK(pupil::mend(session, kNobody) >= 0);
    CHECK(isHome(session));
}

TEST_CASE("The way that she chose is the way that is shown") {
    Session session(firstLesson());
    while (session.step() != StepKind::choose) {
        REQUIRE(pupil::doPage(session, kNobody));
        session.next();
    }
    const auto n = static_cast<int>(session.page().choices.size());
    for (int i = 0; i < n; ++i) {
        session.choose(i);
        if (session.page().choices[static_cast<std::size_t>(i)].state == ChoiceState::possible) break;
    }
    REQUIRE(session.canGoOn());
    session.next();
    REQUIRE(session.step() == StepKind::putRight);
    int rows = 0;
    while (!session.canGoOn()) {
        const std::optional<Move> shown = session.shownMove();
        REQUIRE(shown);
        CHECK(shown->kind != MoveKind::hook);
        rows += shown->kind == MoveKind::work ? 1 : 0;
        REQUIRE(session.perform(*shown));
    }
    CHECK(rows == 6);
    CHECK(isHome(session));
}

TEST_CASE("Taken back after it was mended, it is not mended") {
    Session session(firstLesson());
    goToPutRight(session);
    REQUIRE(pupil::mend(session, kNobody) >= 0);
    REQUIRE(session.undo());
    CHECK_FALSE(session.canGoOn());
    REQUIRE(session.redo());
    CHECK(session.canGoOn());
    session.next();
    REQUIRE(session.undo());
    CHECK(session.page().task == "Put that right first.");
    pupil::askAll(session);
    REQUIRE(session.shownMove());
    REQUIRE(session.perform(*session.shownMove()));
    pupil::doAll(session, kNobody);
    CHECK(session.done());
}

TEST_CASE("It need not be pinned before it is hooked up") {
    Session session(firstLesson());
    // On the very first page, with nothing but the hook.
    LoopId loop = pupil::openLoop(session);
    for (int i = 0; i < 6; ++i) {
        REQUIRE(pupil::moved(session, fmt::format("hook-k rung 1 loop {}", loop.value)));
        CHECK(session.canGoOn());  // what sits on the hook cannot run
        loop = session.work().made().back();
    }
    REQUIRE(pupil::moved(session, fmt::format("seat {}", loop.value)));
    CHECK(isHome(session));
    pupil::doAll(session, kNobody);
    CHECK(session.done());
}

TEST_CASE("Ten wrong moves, each gone on from as it lies, end mended") {
    struct Wrong {
        const char* what;
        std::function<bool(Session&)> doIt;
        const char* said;  ///< a word of what the page then says
    };
    const auto foot = [](const Session& s) { return pupil::openLoop(s).value; };
    const auto pinned = [](Session& s) {
        for (std::int32_t i = 0; i < s.fabric().entryCount(); ++i) {
            const LoopId l{i};
            if (s.fabric().has(l) && s.fabric().isLoop(l) && pinOf(s.fabric(), l)) return l.value;
        }
        return -1;
    };
    const std::vector<Wrong> wrongs = {
        {"let run, unpinned",
         [&](Session& s) {
             REQUIRE(pupil::moved(s, fmt::format("unpin {}", pinned(s))));
             return pupil::moved(s, fmt::format("let-run {} 2", foot(s)));
         },
         "ran"},
        {"the second rung first",
         [&](Session& s) { return pupil::moved(s, fmt::format("hook-k rung 2 loop {}", pinned(s))); },
         "left out"},
        {"the topmost rung first",
         [&](Session& s) { return pupil::moved(s, fmt::format("hook-k rung 6 loop {}", pinned(s))); },
         "left out"},
        {"pushed through the other way",
         [&](Session& s) { return pupil::moved(s, fmt::format("hook-p rung 1 loop {}", pinned(s))); },
         "other way"},
        {"hooked from the wrong side, the cloth turned over",
         [&](Session& s) {
             s.turnOver();
             return pupil::moved(s, fmt::format("hook-p rung 1 loop {}", pinned(s)));
         },
         "other way"},
        {"hooked with a half turn",
         [&](Session& s) {
             return pupil::moved(s, fmt::format("hook-k rung 1 loop {} twist -1", pinned(s)));
         },
         "crossed"},
        {"knitted on too early",
         [&](Session& s) {
             const std::vector<Move> row = s.knitRow();
             return s.perform(row.front()) && s.perform(row.back());
         },
         ""},
        {"purled where it should be knitted", [&](Session& s) { return pupil::moved(s, "work p5"); }, ""},
        {"another stitch let off the needle",
         [&](Session& s) {
             return pupil::moved(s, fmt::format("drop {}", s.work().knitter().ahead()[2].value));
         },
         "open"},
        {"a good row taken back", [&](Session& s) { return pupil::moved(s, "rip 1"); }, ""},
        {"stitches taken back", [&](Session& s) { return pupil::moved(s, "tink 4"); }, ""},
        {"a stitch turned on the needle and knitted",
         [&](Session& s) {
             REQUIRE(
                 pupil::moved(s, fmt::format("remount {} left-leg", s.work().knitter().ahead()[0].value)));
             return pupil::moved(s, "work k1");
         },
         ""},
    };
    for (const Wrong& wrong : wrongs) {
        INFO(wrong.what);
        Session session(firstLesson());
        goToPutRight(session);
        REQUIRE(wrong.doIt(session));
        CHECK_FALSE(session.canGoOn());
        CHECK_FALSE(session.page().said.empty());
        CHECK(session.page().said.find(wrong.said) != std::string::npos);
        UNSCOPED_INFO(session.page().said);

        // Taken back, it is as before; done again, as wrong as before.
        const std::string knot = knotOf(session.fabric());
        REQUIRE(session.undo());
        REQUIRE(session.redo());
        CHECK(knotOf(session.fabric()) == knot);
        CHECK(pupil::mend(session, kNobody) >= 0);
        pupil::doAll(session, kNobody);
        CHECK(session.done());
    }
}

TEST_CASE("The very move is always possible and brings it nearer") {
    for (const char* first : {"", "hook-k rung 2 loop {}", "hook-p rung 1 loop {}", "let-run {} 3"}) {
        Session session(firstLesson());
        const std::string line = fmt::format(fmt::runtime(first), pupil::openLoop(session).value);
        if (!line.empty()) REQUIRE(pupil::moved(session, line));
        goToPutRight(session);
        const Swatch swatch(session.piece(), Terms::us, false);
        double before = 1e9;
        while (!session.canGoOn()) {
            const Standing standing = standingOf(swatch, session.work(), false);
            REQUIRE(standing.best() != nullptr);
            CHECK(standing.best()->seconds <= before);
            before = standing.best()->seconds;
            pupil::askAll(session);
            REQUIRE(session.shownMove());
            REQUIRE(session.perform(*session.shownMove()));
        }
    }
}

TEST_CASE("A move that hands cannot do says why and changes nothing") {
    Session session(firstLesson());
    const std::string knot = knotOf(session.fabric());
    CHECK_FALSE(pupil::moved(session, fmt::format("hook-k rung 9 loop {}", pupil::openLoop(session).value)));
    CHECK_FALSE(session.page().said.empty());
    CHECK(knotOf(session.fabric()) == knot);
}
