// SPDX-License-Identifier: MIT
#include "pupil.h"

#include <stdexcept>

#include <fmt/format.h>

#include "tutor/solver.h"
#include "tutor/standing.h"
#include "tutor/words.h"

namespace loopmend::pupil {

std::string text(const Page& page) {
    std::string all = fmt::format("{} {}/{} {} {} {}\n", page.heading, page.step, page.steps, page.hasHint,
                                  page.canGoOn, page.canGoBack);
    for (const std::string& p : page.paragraphs) all += p + "\n";
    all += "> " + page.task + "\n! " + page.caution + "\n\" " + page.said + "\n";
    for (const Choice& c : page.choices) all += fmt::format("( {} {}\n", static_cast<int>(c.state), c.text);
    for (const std::string& e : page.evidence) all += "* " + e + "\n";
    for (const std::string& h : page.hints) all += "? " + h + "\n";
    return all;
}

int words(const Page& page) {
    int n = wordCount(page.task);
    for (const std::string& p : page.paragraphs) n += wordCount(p);
    return n;
}

void askAll(Session& session) {
    while (session.page().hasHint) (void)session.hint();
}

std::vector<PointTarget> targets(const Fabric& f) {
    std::vector<PointTarget> all;
    for (std::int32_t i = 0; i < f.entryCount(); ++i) {
        const EntryId e{i};
        if (!f.has(e)) continue;
        if (!f.isLoop(e)) {
            all.push_back({PointTarget::Thing::rung, e});
            continue;
        }
        all.push_back({PointTarget::Thing::loop, e});
        all.push_back({PointTarget::Thing::strand, e});
    }
    return all;
}

namespace {

bool pointAtSigns(Session& session, const Watch& watch) {
    for (int face = 0; face < 2 && !session.canGoOn(); ++face) {
        for (const PointTarget& target : targets(session.fabric())) {
            session.pointAt(target);
            if (session.canGoOn()) break;
        }
        watch(session);
        if (session.canGoOn()) break;
        session.turnOver();
    }
    return session.canGoOn();
}

}  // namespace

int mend(Session& session, const Watch& watch) {
    constexpr int kMost = 400;
    for (int n = 0; n < kMost; ++n) {
        if (session.canGoOn()) return n;
        askAll(session);
        watch(session);
        const std::optional<Move> move = session.shownMove();
        if (!move) return -1;
        if (!session.perform(*move)) return -1;
        watch(session);
    }
    return -1;
}

bool doPage(Session& session, const Watch& watch) {
    watch(session);
    if (session.canGoOn()) return true;
    switch (session.step()) {
        case StepKind::makeSafe:
        case StepKind::putRight: return mend(session, watch) >= 0;
        case StepKind::look:
        case StepKind::ask:
        case StepKind::find:
            // The same that the program does when it plays a lesson by itself.
            (void)solvePage(session);
            watch(session);
            break;
        case StepKind::whatHappened:
            for (int i = 0; i < static_cast<int>(session.page().choices.size()); ++i) {
                session.choose(i);
                watch(session);
            }
            return session.canGoOn() || pointAtSigns(session, watch);
        case StepKind::choose: {
            // Every answer is tried; the way then gone is the one that was called right.
            const auto n = static_cast<int>(session.page().choices.size());
            for (int i = 0; i < n; ++i) {
                session.choose(i);
                watch(session);
            }
            for (int i = 0; i < n; ++i) {
                if (session.page().choices[static_cast<std::size_t>(i)].state == ChoiceState::right)
                    session.choose(i);
            }
            break;
        }
        case StepKind::check:
            session.look(LookKind::tug);
            watch(session);
            session.turnOver();
            watch(session);
            for (int i = 0; i < static_cast<int>(session.page().choices.size()); ++i) session.choose(i);
            watch(session);
            for (int row = 0; row < 6 && !session.canGoOn(); ++row) {
                for (const Move& move : session.knitRow()) {
                    if (!session.perform(move)) return false;
                    watch(session);
                }
            }
            break;
        case StepKind::nextTime:
        case StepKind::inWool: break;
    }
    return session.canGoOn() || session.done();
}

std::vector<StepKind> doAll(Session& session, const Watch& watch) {
    std::vector<StepKind> seen{session.step()};
    while (!session.done()) {
        if (!doPage(session, watch))
            throw std::runtime_error(fmt::format("page \"{}\" lets nobody go on:\n{}", session.page().heading,
                                                 text(session.page())));
        session.next();
        seen.push_back(session.step());
    }
    watch(session);
    return seen;
}

LoopId openLoop(const Session& session) {
    const std::vector<LoopId> open = openLoops(session.fabric());
    return open.empty() ? LoopId{} : open.front();
}

bool moved(Session& session, std::string_view line) {
    const tl::expected<Move, MoveFault> move = moveFrom(line);
    if (!move) throw std::runtime_error(move.error().message);
    return session.perform(*move);
}

}  // namespace loopmend::pupil
