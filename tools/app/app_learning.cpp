// SPDX-License-Identifier: MIT
//
// Practice, progress, and showing to a group.
#include <algorithm>
#include <stdexcept>
#include <utility>

#include <SDL.h>
#include <fmt/format.h>

#include "app/app.h"
#include "picture/paper/handout_paper.h"
#include "store/files.h"
#include "tutor/practice.h"

namespace loopmend::app {

namespace {

/// A page left open over the evening says nothing of how long it took.
constexpr std::int64_t kMostSeconds = 1800;

/// Spreads neighboring numbers far apart, so that exercises one after another have nothing in common.
std::uint64_t spread(std::uint64_t n) {
    n ^= n >> 30U;
    n *= 0xBF58476D1CE4E5B9U;
    n ^= n >> 27U;
    n *= 0x94D049BB133111EBU;
    return n ^ (n >> 31U);
}

/// Seeds are kept small, so that an exercise's word stays short.
constexpr std::uint64_t kSeeds = 29'000;

bool endsIn(const std::string& path, std::string_view end) {
    return path.size() >= end.size() && path.compare(path.size() - end.size(), end.size(), end) == 0;
}

}  // namespace

void App::performLearning(const Command& command) {
    switch (command.ask) {
        case Ask::practiseSkill: practise(command.words); break;
        case Ask::level: practice_.level = std::clamp(practice_.level + command.n, 0, kMostLevel); break;
        case Ask::practiseWord: {
            const auto wanted = exerciseFrom(command.words);
            if (!wanted) {
                notice("\"" + command.words + "\" is no exercise's word. Perhaps a letter is wrong.");
                break;
            }
            practice_.lastWord = exerciseId(*wanted);
            openLesson(practice_.lastWord, false);
            break;
        }
        case Ask::copyWord:
            SDL_SetClipboardText(practice_.lastWord.c_str());
            notice("Copied: " + practice_.lastWord);
            break;
        case Ask::exportLog:
            openPaper(Paper::progress);
            notice(learning_.exportTo(command.words));
            break;
        case Ask::importLog:
            openPaper(Paper::progress);
            notice(learning_.importFrom(command.words));
            break;
        case Ask::forgetAll: {
            forgetAsked_ = command.n == 0;
            if (command.n != 1) break;
            std::optional<std::string> trouble = learning_.forget();
            if (const auto more = keeping_.forgetLessons(); more && !trouble) trouble = more;
            // What lies on the table begins anew too, without a word of what was done before.
            kept_.text.clear();
            if (table_->session() != nullptr) openLesson(kept_.id, true);
            kept_.done = kept_.ended = false;
            openPaper(Paper::progress);
            notice(trouble ? *trouble : std::string("Everything is forgotten."));
            break;
        }
        default: break;
    }
}

/// A fresh exercise, as hard as was asked for.
void App::practise(const std::string& skill) {
    const SkillProgress* stands = learning_.progress().find(skill);
    int level = practice_.level;
    if (level == 0) level = stands != nullptr ? levelFor(*stands) : 1;
    level = nearestLevel(skill, level);
    if (level == 0) {
        notice("That cannot be practiced here; take its lesson once more.");
        return;
    }
    const auto begin = static_cast<std::uint64_t>(std::max<std::int64_t>(0, start_.now()));
    constexpr int kTries = 8;
    for (int i = 0; i < kTries; ++i) {
        ExerciseWanted wanted;
        wanted.skill = skill;
        wanted.level = level;
        wanted.seed = 1 + spread(begin + 7919 * (learning_.attempts().size() + ++drawn_)) % kSeeds;
        const std::string id = exerciseId(wanted);
        if (keeping_.lesson(id) != nullptr || learning_.find(id) == nullptr) continue;
        practice_.lastWord = id;
        openLesson(id, false);
        return;
    }
    notice("No fresh swatch could be made for that just now. Try another one.");
}

void App::takeAttempts() {
    Session* session = table_->session();
    if (session == nullptr) return;
    std::vector<Attempt> attempts = session->takeAttempts();
    const std::int64_t now = start_.now();
    const std::int64_t took =
        pageOpen_.first < 0 ? 0 : std::clamp<std::int64_t>(now - pageSince_, 0, kMostSeconds);
    for (Attempt& attempt : attempts) {
        attempt.run = kept_.run;
        attempt.at = now;
        attempt.seconds = static_cast<std::int32_t>(took);
    }
    const bool ended = session->done();
    if (ended && !kept_.ended) attempts.push_back(finishedRun(kept_.id, kept_.run, now));
    kept_.ended = kept_.ended || ended;
    kept_.done = kept_.done || ended;
    const std::pair<int, int> page{session->swatch(), session->page().step};
    if (page != pageOpen_) {
        pageOpen_ = page;
        pageSince_ = now;
    }
    if (const auto trouble = learning_.append(attempts)) notice(*trouble);
}

void App::keepProgress() {
    std::optional<std::string> trouble;
    if (const Session* session = table_->session()) {
        std::string text = session->text();
        // Nothing done, nothing to keep: opening a lesson is not beginning it.
        if (text != kept_.text && (!session->log().empty() || keeping_.lesson(kept_.id) != nullptr)) {
            kept_.text = std::move(text);
            kept_.at = start_.now();
            trouble = keeping_.write(kept_);
        }
    }
    const auto more = keeping_.write(settings_, kept_.id);
    if (trouble || more) notice(trouble ? *trouble : *more);
}

SwatchShows App::showsOf(const Lesson& lesson) const {
    const SwatchShows shows = loopmend::showsOf(lesson, learning_.progress(), start_.now());
    const KeptLesson* kept = keeping_.lesson(lesson.id);
    if (kept == nullptr) return shows;
    if (kept->done && (shows == SwatchShows::castOn || shows == SwatchShows::unfinished))
        return SwatchShows::finished;
    if (shows == SwatchShows::castOn && !kept->text.empty()) return SwatchShows::unfinished;
    return shows;
}

/// A free piece as something that can be shown; none: nothing is wrong with it, or nothing known mends it.
std::optional<Lesson> App::lessonOfPiece() const {
    if (const Session* session = table_->session()) return session->lesson();
    const Recipe& recipe = table_->piece()->recipe();
    if (recipe.faults.empty()) return std::nullopt;
    LessonSwatch swatch;
    swatch.pattern = instructionsOf(recipe);
    swatch.stitches = recipe.stitches;
    swatch.rows = recipe.rows;
    swatch.faults = recipe.faults;
    swatch.after = recipe.after;
    swatch.thing = tableName_;
    swatch.yarn.seed = 7;
    swatch.yarn.color = 1;
    Lesson lesson;
    lesson.id = "free-table";
    lesson.title = tableName_;
    lesson.swatches.push_back(std::move(swatch));
    if (!knits(lesson)) return std::nullopt;
    return lesson;
}

void App::show(Lesson lesson, int swatch) {
    if (paper_ != Paper::showing) showingFrom_ = Paper::group;
    try {
        showing_ = std::make_unique<Showing>(std::move(lesson), swatch, terms(), settings_.mirrored);
    } catch (const std::invalid_argument& broken) {
        notice(std::string("That cannot be shown: ") + broken.what());
        return;
    }
    openPaper(Paper::showing);
}

void App::performShowing(const Command& command) {
    if (command.ask == Ask::showMending) {
        if (!command.words.empty()) {
            const Lesson* lesson = learning_.find(command.words);
            if (lesson != nullptr) show(*lesson, command.n);
        } else if (auto lesson = lessonOfPiece()) {
            const Session* session = table_->session();
            show(std::move(*lesson), session != nullptr ? session->swatch() : 0);
        }
        return;
    }
    if (!showing_) return;
    switch (command.ask) {
        case Ask::showForward: (void)showing_->now().forward(); break;
        case Ask::showBack: (void)showing_->now().back(); break;
        case Ask::showMirrored:
            showing_->setMirrored(!showing_->mirrored());
            layShown();
            break;
        case Ask::showFrozen: showing_->frozen = !showing_->frozen; break;
        case Ask::showSlowly: showing_->slow = !showing_->slow; break;
        case Ask::showPage: {
            const Handout page = showing_->now().pageToTakeHome();
            tl::expected<std::string, std::string> bytes = std::string();
            if (endsIn(command.words, ".pdf")) {
                bytes = pdfOf(page);
            } else {
                bytes = htmlOf(page);
            }
            openPaper(Paper::showing);
            if (!bytes) {
                notice("Not written: " + bytes.error());
            } else if (const auto written = writeFile(command.words, *bytes); !written) {
                notice("Not written: " + written.error().message + ".");
            } else {
                notice("The page lies in " + command.words);
            }
            break;
        }
        default: break;
    }
}

}  // namespace loopmend::app
