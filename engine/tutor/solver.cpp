// SPDX-License-Identifier: MIT
#include "tutor/solver.h"

#include <algorithm>
#include <vector>

namespace loopmend {

namespace {

constexpr int kMostMoves = 400;
constexpr int kMostRows = 8;

/// The page's task is done. (The last page has no next.)
bool finished(const Session& session) {
    return session.canGoOn() || session.done();
}

void askAll(Session& session) {
    while (session.page().hasHint) {
        if (session.hint().rung == 0) break;
    }
}

int choices(const Session& session) {
    return static_cast<int>(session.page().choices.size());
}

/// Answers one after another, until one holds: what can be done too is not enough.
void chooseUntilRight(Session& session) {
    for (int i = 0; i < choices(session); ++i) {
        session.choose(i);
        if (i < choices(session) &&
            session.page().choices[static_cast<std::size_t>(i)].state == ChoiceState::right)
            return;
    }
}

/// What the hints have lit as the very thing.
std::vector<PointTarget> lit(const Session& session) {
    std::vector<PointTarget> found;
    for (const PageMark& mark : session.marks()) {
        if (mark.kind != PageMarkKind::next) continue;
        for (const EntryId e : mark.loops) {
            // Which part of it is said in words: each is tried.
            for (const PointTarget::Spot spot :
                 {PointTarget::Spot::whole, PointTarget::Spot::head, PointTarget::Spot::rightLeg,
                  PointTarget::Spot::leftLeg, PointTarget::Spot::foot})
                found.push_back({PointTarget::Thing::loop, e, spot});
        }
        for (const EntryId e : mark.rungs)
            found.push_back({PointTarget::Thing::rung, e, PointTarget::Spot::whole});
        for (const EntryId e : mark.strands)
            found.push_back({PointTarget::Thing::strand, e, PointTarget::Spot::whole});
    }
    return found;
}

void pointWhereLit(Session& session) {
    for (const PointTarget& target : lit(session)) {
        const std::size_t counted = session.page().evidence.size();
        session.pointAt(target);
        if (finished(session)) return;
        // One thing after another: what lights next is another thing.
        if (session.step() == StepKind::ask && session.page().evidence.size() > counted) return;
    }
}

void pointAtEverything(Session& session) {
    const Fabric& f = session.fabric();
    for (std::int32_t i = 0; i < f.entryCount() && !finished(session); ++i) {
        const EntryId e{i};
        if (!f.has(e)) continue;
        if (!f.isLoop(e)) {
            session.pointAt({PointTarget::Thing::rung, e, PointTarget::Spot::whole});
            continue;
        }
        session.pointAt({PointTarget::Thing::loop, e, PointTarget::Spot::whole});
        session.pointAt({PointTarget::Thing::strand, e, PointTarget::Spot::whole});
    }
}

bool followMoves(Session& session) {
    for (int n = 0; n < kMostMoves && !finished(session); ++n) {
        if (!session.shownMove()) askAll(session);
        if (const std::optional<Move> move = session.shownMove()) {
            if (!session.perform(*move)) return false;
        } else if (!session.undo()) {
            return false;
        }
    }
    return finished(session);
}

void solveAsk(Session& session) {
    constexpr int kMostTries = 40;
    for (int n = 0; n < kMostTries && !finished(session); ++n) {
        askAll(session);
        if (choices(session) > 0) {
            chooseUntilRight(session);
            continue;
        }
        // A sign of the other face is found from there.
        const std::size_t counted = session.page().evidence.size();
        pointWhereLit(session);
        if (!finished(session) && session.page().evidence.size() == counted) session.turnOver();
    }
}

void solveFind(Session& session) {
    // Both faces first: only then *nothing is wrong* can be said.
    session.turnOver();
    session.turnOver();
    constexpr int kMostPlaces = 6;
    for (int n = 0; n < kMostPlaces && !finished(session); ++n) {
        askAll(session);
        if (lit(session).empty())
            chooseUntilRight(session);
        else
            pointWhereLit(session);
    }
}

void solveCause(Session& session) {
    // Several things may have happened: all answers are tried.
    for (int i = 0; i < choices(session) && !finished(session); ++i) session.choose(i);
    for (int face = 0; face < 2 && !finished(session); ++face) {
        pointAtEverything(session);
        if (!finished(session)) session.turnOver();
    }
}

/// The face that faces her knitting, as the page found it.
void turnBack(Session& session) {
    if (session.seen() != session.facing()) session.turnOver();
}

void solveCheck(Session& session) {
    constexpr int kMostRounds = 4;
    for (int n = 0; n < kMostRounds && !finished(session); ++n) {
        session.look(LookKind::tug);
        session.turnOver();
        turnBack(session);
        chooseUntilRight(session);
        for (int row = 0; row < kMostRows && !finished(session); ++row) {
            for (const Move& move : session.knitRow()) {
                if (finished(session) || !session.perform(move)) break;
            }
            // Something is not as it was meant: first that.
            if (session.page().choices.empty()) break;
        }
        if (!finished(session) && session.page().choices.empty()) {
            for (int move = 0; move < kMostMoves && session.page().choices.empty(); ++move) {
                if (!session.shownMove()) askAll(session);
                const std::optional<Move> next = session.shownMove();
                if (!(next ? session.perform(*next) : session.undo())) return;
            }
        }
    }
}

}  // namespace

bool solvePage(Session& session) {
    if (finished(session)) return true;
    switch (session.step()) {
        case StepKind::makeSafe:
        case StepKind::putRight: return followMoves(session);
        case StepKind::look:
            session.turnOver();
            session.look(LookKind::tug);
            break;
        case StepKind::ask: solveAsk(session); break;
        case StepKind::find: solveFind(session); break;
        case StepKind::whatHappened: solveCause(session); break;
        case StepKind::choose: chooseUntilRight(session); break;
        case StepKind::check: solveCheck(session); break;
        case StepKind::nextTime:
        case StepKind::inWool: break;
    }
    turnBack(session);
    return finished(session);
}

bool solveLesson(Session& session, void (*onPage)(const Session&, bool done, void* with), void* with) {
    const auto tell = [&](bool done) {
        if (onPage != nullptr) onPage(session, done, with);
    };
    while (true) {
        tell(false);
        const bool solved = solvePage(session);
        tell(solved);
        if (!solved) return false;
        if (session.done()) return true;
        session.next();
    }
}

}  // namespace loopmend
