// SPDX-License-Identifier: MIT
//
// What lies on the table: a lesson, an exercise, a free piece.
#include <algorithm>
#include <filesystem>

#include <fmt/format.h>

#include "app/app.h"
#include "repair/builder.h"

namespace loopmend::app {

namespace {

/// What the free table begins with: a scarf of the evening circle.
constexpr const char* kFreePattern =
    "Harbour Lane scarf, plain\n"
    "Cast on 20 sts.\n"
    "Row 1 (RS): k to end.\n"
    "Row 2: p to end.\n"
    "Repeat rows 1-2 7 times.\n";

/// In these first lessons of the course the rows lie beside the cloth only when they are asked for.
constexpr int kWithoutRows = 10;

ClothOptions clothOptions(const LessonYarn* yarn) {
    ClothOptions options;
    options.seed = yarn != nullptr ? yarn->seed : 7;
    return options;
}

}  // namespace

int App::rowInHand() const {
    const int last = StitchPlaces(table_->fabric()).lastRow();
    return table_->work().knitter().rowBegun() ? last : last + 1;
}

void App::openPaper(Paper paper) {
    const bool toldOfTable = paper_ != Paper::showing;
    if (paper_ == paper) return;
    paper_ = paper;
    if (paper == Paper::shelf) bringIntoSight_ = kept_.id;
    if (isWide() || paper == Paper::showing || paper == Paper::files || paper == Paper::keys) {
        controls_.goTo(isWide() ? Area::shelf : paper == Paper::showing ? Area::notions : Area::page);
    } else {
        controls_.goTo(Area::cloth);
    }
    // The cloth shows what it showed before, or the piece that is shown to a group.
    if (toldOfTable != (paper != Paper::showing)) layShown();
}

/// What is to be seen on the cloth's place is laid there afresh.
void App::layShown() {
    closer_.reset();
    const LessonYarn* yarn = nullptr;
    if (paper_ == Paper::showing) {
        yarn = &showing_->piece().yarn;
    } else if (const Session* session = table_->session()) {
        yarn = &session->piece().yarn;
        swatchLaid_ = session->swatch();
    }
    offersOf_ = 0;
    cloth_.looking.drawing = settings_.drawing;
    cloth_.lay(shownPiece(), clothOptions(yarn));
    cloth_.looking.both = paper_ == Paper::showing;
}

void App::lay(TableTop table) {
    table_ = std::make_unique<TableTop>(std::move(table));
    pointed_.reset();
    pointedSide_.reset();
    offersOf_ = 0;
    inHand_ = 0;
    meant_.reset();
    savedVersion_ = table_->version();
    if (paper_ == Paper::showing) paper_ = Paper::work;
    ownOpen_ = false;
    rowsBelowTable_.reset();
    free_.ofOwn = false;
    free_.chosen.reset();
    free_.byHand = false;
    layShown();
}

void App::openLesson(const std::string& id, bool anew) {
    const Lesson* found = learning_.find(id);
    if (found == nullptr) {
        notice("That lesson is not here.");
        return;
    }
    if (!anew && table_ && table_->session() != nullptr && kept_.id == id && !kept_.ended) {
        ownOpen_ = false;
        openPaper(Paper::work);
        return;
    }
    const Lesson lesson = *found;
    if (const auto fits = knits(lesson); !fits) {
        notice("That lesson cannot be knitted: " + fits.error());
        return;
    }
    const KeptLesson* before = keeping_.lesson(id);
    KeptLesson now;
    now.id = id;
    now.done = before != nullptr && before->done;
    std::optional<Session> session;
    std::string trouble;
    if (!anew && before != nullptr && !before->text.empty() && !before->ended) {
        auto again = Session::from(lesson, before->text);
        if (again) {
            session = std::move(*again);
            now.run = before->run;
        } else {
            trouble = "The lesson could not be taken up where it was left; it begins anew. " + again.error();
        }
    }
    if (session) {
        session->setTerms(terms());
        (void)session->takeAttempts();
    } else {
        session.emplace(lesson, terms(), settings_.mirrored);
    }
    if (now.run.empty()) now.run = fmt::format("{}-{}", start_.now(), learning_.attempts().size());
    kept_ = std::move(now);
    pageOpen_ = {-1, -1};
    const auto index = learning_.indexOf(id);
    rows_.shown = roomForRows() && (!index || *index >= kWithoutRows);
    lay(TableTop(std::move(*session)));
    tableName_ = lesson.title;
    tablePath_.clear();
    openPaper(Paper::work);
    if (!trouble.empty()) notice(trouble);
}

void App::openFreeTable() {
    ownOpen_ = false;
    if (!table_ || table_->piece() == nullptr) {
        auto piece = FreePiece::knitted(kFreePattern, 0, settings_.mirrored);
        if (!piece) {
            notice(piece.error());
            return;
        }
        tableName_ = "Harbour Lane scarf, plain";
        tablePath_.clear();
        rows_.shown = roomForRows();
        lay(TableTop(std::move(*piece)));
    }
    openPaper(Paper::work);
}

/// The chart is of the rows as they are meant: the cloth's own would give the mistake away.
const Fabric* App::meantForChart() {
    if (table_->piece() != nullptr) return &table_->piece()->meant();
    const std::uint64_t key = static_cast<std::uint64_t>(swatchLaid_) + 1;
    if (!meant_ || meantOf_ != key) {
        meantOf_ = key;
        meant_.reset();
        Setup setup = table_->session()->piece().setup;
        setup.mirrored = table_->session()->mirrored();
        if (auto knitting = knit(table_->script(), setup)) meant_ = std::move(*knitting);
    }
    return meant_ ? meant_->fabric.get() : nullptr;
}

void App::pieceAgain(Recipe recipe) {
    auto piece = FreePiece::from(std::move(recipe));
    if (!piece) {
        notice(piece.error());
        return;
    }
    const bool unsaved = table_->piece() != nullptr;
    const bool ofOwn = free_.ofOwn;
    lay(TableTop(std::move(*piece)));
    free_.ofOwn = ofOwn;
    if (unsaved) savedVersion_ = 0;
}

void App::changePiece(const std::function<void(Recipe&)>& change) {
    const FreePiece* piece = table_->piece();
    if (piece == nullptr) return;
    if (piece->work().canUndo()) {
        notice("Hand moves have been done on this piece. Undo them first; they would be lost.");
        return;
    }
    Recipe recipe = piece->recipe();
    change(recipe);
    pieceAgain(std::move(recipe));
}

void App::performTable(const Command& command) {
    switch (command.ask) {
        case Ask::shelf: openPaper(paper_ == Paper::shelf ? Paper::work : Paper::shelf); break;
        case Ask::practice: openPaper(Paper::practice); break;
        case Ask::group: openPaper(Paper::group); break;
        case Ask::progress: openPaper(Paper::progress); break;
        case Ask::liking: openPaper(Paper::liking); break;
        case Ask::keys: openPaper(paper_ == Paper::keys ? Paper::work : Paper::keys); break;
        case Ask::lesson: openLesson(command.words.empty() ? kept_.id : command.words, false); break;
        case Ask::freeTable: openFreeTable(); break;
        case Ask::showFiles: showFiles(command.n); break;
        case Ask::openFile: openPath(command.words); break;
        case Ask::saveFile:
            if (table_->piece() == nullptr) {
                notice("A lesson is kept by itself; nothing needs saving.");
            } else if (!command.words.empty()) {
                savePath(command.words);
            } else if (!tablePath_.empty()) {
                savePath(tablePath_);
            } else {
                showFiles(1);
            }
            break;
        case Ask::exportPicture: {
            const auto written = writePng(cloth_.picture(), command.words);
            notice(written ? "The picture lies in " + command.words
                           : "The picture was not written: " + written.error());
            openPaper(Paper::work);
            break;
        }
        case Ask::fewerRows: changePiece([](Recipe& r) { r.rows = std::max(1, r.rows - 1); }); break;
        case Ask::moreRows: changePiece([](Recipe& r) { r.rows = std::min(200, r.rows + 1); }); break;
        case Ask::otherPiece:
            changePiece([&](Recipe& r) {
                r.part = static_cast<std::size_t>(std::max(0, command.n));
                r.stitches = r.rows = 0;
                r.faults.clear();
            });
            break;
        case Ask::showReadings: free_.showReadings = !free_.showReadings; break;
        case Ask::showFaults:
            if (FreePiece* piece = table_->piece(); piece != nullptr && pointed_ && pointed_->entry) {
                free_.faults = piece->faultsAt(pointed_->entry, terms());
                free_.showFaults = true;
            }
            break;
        case Ask::putIn:
            if (static_cast<std::size_t>(command.n) < free_.faults.size()) {
                const FaultOffer offer = free_.faults[static_cast<std::size_t>(command.n)];
                changePiece([&](Recipe& r) { r.faults.push_back(offer.place); });
                free_.showFaults = false;
            }
            break;
        case Ask::takeOutFaults: changePiece([](Recipe& r) { r.faults.clear(); }); break;
        case Ask::goOnAs:
            changePiece([&](Recipe& r) {
                r.after = command.n == 0 ? After::byReading : command.n == 1 ? After::byCount : After::rowEnd;
            });
            break;
        default: break;
    }
}

}  // namespace loopmend::app
