// SPDX-License-Identifier: MIT
#include <algorithm>
#include <cmath>
#include <filesystem>

#include <fmt/format.h>

#include "app/app.h"
#include "repair/builder.h"
#include "store/files.h"

namespace loopmend::app {

namespace {

/// What the free table begins with: a scarf of the evening circle.
constexpr const char* kFreePattern =
    "Harbour Lane scarf, plain\n"
    "Cast on 20 sts.\n"
    "Row 1 (RS): k to end.\n"
    "Row 2: p to end.\n"
    "Repeat rows 1-2 7 times.\n";

ClothOptions clothOptions(std::uint64_t seed) {
    ClothOptions options;
    options.seed = seed;
    return options;
}

std::string ordinal(int n) {
    const int tens = n % 100;
    const char* end = "th";
    if (tens < 11 || tens > 13) end = n % 10 == 1 ? "st" : n % 10 == 2 ? "nd" : n % 10 == 3 ? "rd" : "th";
    return fmt::format("{}{}", n, end);
}

}  // namespace

int App::rowInHand() const {
    const int last = StitchPlaces(table_->fabric()).lastRow();
    return table_->work().knitter().rowBegun() ? last : last + 1;
}

std::string App::placeWords(LoopId loop) const {
    const Fabric& fabric = table_->fabric();
    if (!fabric.has(loop) || !fabric.isLoop(loop)) return {};
    const StitchPlaces places(fabric);
    const StitchPlace here = places.of(loop);
    if (here.row == 0) return "A stitch of the cast-on edge.";
    int widest = 0;
    for (const LoopId other : places.rows()[static_cast<std::size_t>(here.row)]) {
        widest = std::max(widest, places.of(other).column);
    }
    const bool right = table_->seen() == Side::right;
    const int fromRight = right ? here.column : widest + 1 - here.column;
    const int fromLeft = widest + 1 - fromRight;
    const std::string side = fromRight <= fromLeft ? fmt::format("{} from the right", ordinal(fromRight))
                                                   : fmt::format("{} from the left", ordinal(fromLeft));
    return fmt::format("Row {}, {} as it faces you.", here.row, side);
}

void App::perform(const Command& command) {
    if (command.ask != Ask::doIt && command.ask != Ask::otherWay) notice_.clear();
    switch (command.ask) {
        case Ask::hint:
        case Ask::goOn:
        case Ask::goBack:
        case Ask::choose: {
            Session* session = table_->session();
            if (session == nullptr || paper_ != Paper::work) break;
            if (command.ask == Ask::hint) (void)session->hint();
            if (command.ask == Ask::choose) session->choose(command.n);
            if (command.ask == Ask::goBack) session->back();
            if (command.ask == Ask::goOn) {
                const Page& page = session->page();
                if (page.step == page.steps && session->done()) {
                    lessonDone_ = true;
                    paper_ = Paper::shelf;
                } else if (session->canGoOn()) {
                    session->next();
                } else {
                    notice("This page still asks for something: " + page.task);
                }
            }
            if (session->done()) lessonDone_ = true;
            offersOf_ = 0;
            break;
        }
        case Ask::turnOver:
        case Ask::bothSides:
        case Ask::nearer:
        case Ask::farther:
        case Ask::tiltUp:
        case Ask::tiltDown:
        case Ask::turnLeft:
        case Ask::turnRight:
        case Ask::asYouHoldIt:
        case Ask::pull:
        case Ask::tug:
        case Ask::slant:
        case Ask::lightRow:
        case Ask::lightColumn:
        case Ask::lightParts:
        case Ask::traceYarn:
        case Ask::otherLook: performLooking(command); break;
        case Ask::takeNotion:
            inHand_ = command.n;
            offersOf_ = 0;
            controls_.goTo(Area::cloth);
            break;
        case Ask::doIt: doOffer(); break;
        case Ask::otherWay:
            if (!offers_.empty()) offer_ = (offer_ + 1) % offers_.size();
            break;
        case Ask::letGo:
            if (paper_ != Paper::work) {
                paper_ = Paper::work;
            } else if (inHand_ != 0) {
                inHand_ = 0;
            } else {
                pointed_.reset();
            }
            offersOf_ = 0;
            break;
        case Ask::undo:
            if (!table_->undo()) notice("There is nothing to take back.");
            break;
        case Ask::redo:
            if (!table_->redo()) notice("There is nothing to do again.");
            break;
        case Ask::knitRow:
            if (!table_->knitRow()) {
                notice(
                    "The stitches on the needles do not come out with the next row; put them right first.");
            }
            break;
        case Ask::turnWork: {
            Move turn;
            turn.kind = MoveKind::turn;
            if (!table_->perform(turn)) notice(table_->said());
            break;
        }
        case Ask::textSize:
        case Ask::ground:
        case Ask::motion:
        case Ask::hand:
        case Ask::words:
        case Ask::rowsAsChart:
        case Ask::keys:
        case Ask::close: performManners(command); break;
        default: performTable(command); break;
    }
    keepProgress();
}

void App::performLooking(const Command& command) {
    Looking& looking = cloth_.looking;
    const auto light = [&](Light what) { looking.light = looking.light == what ? Light::none : what; };
    Session* session = table_->session();
    const LoopId at = pointed_ && pointed_->entry ? pointed_->entry : LoopId{};
    switch (command.ask) {
        case Ask::turnOver: table_->turnOver(); break;
        case Ask::bothSides: looking.both = !looking.both; break;
        case Ask::nearer:
            cloth_.nearerMiddle(1.25);
            if (session != nullptr) session->look(LookKind::near, at);
            break;
        case Ask::farther: cloth_.nearerMiddle(0.8); break;
        case Ask::tiltUp: looking.tilt = std::min(70.0, looking.tilt + 10); break;
        case Ask::tiltDown: looking.tilt = std::max(-70.0, looking.tilt - 10); break;
        case Ask::turnLeft: looking.turn = std::max(-70.0, looking.turn - 10); break;
        case Ask::turnRight: looking.turn = std::min(70.0, looking.turn + 10); break;
        case Ask::asYouHoldIt:
            cloth_.asYouHoldIt();
            if (table_->seen() != table_->facing()) table_->turnOver();
            break;
        case Ask::pull: looking.pulled = !looking.pulled; break;
        case Ask::tug:
            cloth_.tug();
            if (session != nullptr) session->look(LookKind::tug, at);
            break;
        case Ask::slant:
            looking.slant = !looking.slant;
            if (session != nullptr && looking.slant) session->look(LookKind::slant, at);
            break;
        case Ask::lightRow: light(Light::row); break;
        case Ask::lightColumn: light(Light::column); break;
        case Ask::lightParts: light(Light::parts); break;
        case Ask::traceYarn: light(Light::yarn); break;
        case Ask::otherLook:
            settings_.drawing = !settings_.drawing;
            looking.drawing = settings_.drawing;
            break;
        default: break;
    }
    offersOf_ = 0;
}

void App::doOffer() {
    if (paper_ != Paper::work && paper_ != Paper::shelf) return;
    if (inHand_ == 0) {
        Session* session = table_->session();
        if (session == nullptr) return;
        PointTarget target;
        if (pointed_) {
            switch (pointed_->what) {
                case PointedAt::What::loop: target.thing = PointTarget::Thing::loop; break;
                case PointedAt::What::rung: target.thing = PointTarget::Thing::rung; break;
                case PointedAt::What::strand: target.thing = PointTarget::Thing::strand; break;
                case PointedAt::What::tips: target.thing = PointTarget::Thing::needle; break;
            }
            target.entry = pointed_->entry;
            if (target.thing == PointTarget::Thing::loop) {
                target.spot = part_ == YarnPart::head       ? PointTarget::Spot::head
                              : part_ == YarnPart::leftLeg  ? PointTarget::Spot::leftLeg
                              : part_ == YarnPart::rightLeg ? PointTarget::Spot::rightLeg
                                                            : PointTarget::Spot::foot;
            }
        }
        session->pointAt(target);
        return;
    }
    if (offers_.empty()) {
        notice("That tool has nothing to do there.");
        return;
    }
    const Offer offer = offers_[offer_];
    if (!offer.possible) {
        notice(offer.refusal);
        return;
    }
    if (!table_->perform(offer.move) && table_->session() == nullptr) notice(table_->said());
    offersOf_ = 0;
}

void App::lay(TableTop table) {
    table_ = std::make_unique<TableTop>(std::move(table));
    pointed_.reset();
    offersOf_ = 0;
    inHand_ = 0;
    savedVersion_ = table_->version();
    std::uint64_t seed = 7;
    if (const Session* session = table_->session()) seed = session->piece().yarn.seed;
    cloth_.looking.drawing = settings_.drawing;
    cloth_.lay(*table_, clothOptions(seed));
}

void App::beginLesson(bool anew) {
    const Lesson lesson = firstLesson();
    if (!anew && !lessonText_.empty()) {
        if (auto session = Session::from(lesson, lessonText_)) {
            lay(TableTop(std::move(*session)));
            paper_ = Paper::work;
            return;
        } else {
            notice("The lesson could not be taken up where it was left; it begins anew. " + session.error());
        }
    }
    lessonDone_ = lessonDone_ && !anew;
    lay(TableTop(Session(lesson, terms(), settings_.mirrored)));
    tableName_ = lesson.title;
    paper_ = Paper::work;
}

void App::pieceAgain(Recipe recipe) {
    auto piece = FreePiece::from(std::move(recipe));
    if (!piece) {
        notice(piece.error());
        return;
    }
    const bool unsaved = table_->piece() != nullptr;
    lay(TableTop(std::move(*piece)));
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
    const auto homeFolder = [&] {
        return tablePath_.empty() ? std::string() : std::filesystem::path(tablePath_).parent_path().string();
    };
    switch (command.ask) {
        case Ask::shelf: paper_ = paper_ == Paper::shelf ? Paper::work : Paper::shelf; break;
        case Ask::lesson:
            if (table_->session() == nullptr) beginLesson(false);
            paper_ = Paper::work;
            break;
        case Ask::lessonAnew: beginLesson(true); break;
        case Ask::freeTable:
            paper_ = Paper::work;
            if (table_->piece() != nullptr) break;
            if (auto piece = FreePiece::knitted(kFreePattern, 0, settings_.mirrored)) {
                tableName_ = "Harbour Lane scarf, plain";
                tablePath_.clear();
                lay(TableTop(std::move(*piece)));
            } else {
                notice(piece.error());
            }
            break;
        case Ask::showFiles:
            if (command.n == 2) {
                files_.begin(FilesPane::For::picture, homeFolder(), "cloth.png");
            } else if (command.n == 1) {
                files_.begin(FilesPane::For::save, homeFolder(), "my-swatch.table");
            } else {
                files_.begin(FilesPane::For::open, homeFolder(), "");
            }
            paper_ = Paper::files;
            controls_.goTo(Area::page);
            break;
        case Ask::openFile: openPath(command.words); break;
        case Ask::saveFile:
            if (table_->piece() == nullptr) {
                notice("A lesson is kept by itself; nothing needs saving.");
            } else if (!command.words.empty()) {
                savePath(command.words);
            } else if (!tablePath_.empty()) {
                savePath(tablePath_);
            } else {
                performTable({Ask::showFiles, 1, {}});
            }
            break;
        case Ask::exportPicture: {
            const auto written = writePng(clothPicture(), command.words);
            notice(written ? "The picture lies in " + command.words
                           : "The picture was not written: " + written.error());
            paper_ = Paper::work;
            break;
        }
        case Ask::fewerRows: changePiece([](Recipe& r) { r.rows = std::max(1, r.rows - 1); }); break;
        case Ask::moreRows: changePiece([](Recipe& r) { r.rows = std::min(200, r.rows + 1); }); break;
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
        case Ask::showPlans: free_.showPlans = !free_.showPlans; break;
        default: break;
    }
}

void App::performManners(const Command& command) {
    switch (command.ask) {
        case Ask::textSize:
            settings_.textSize =
                std::clamp(settings_.textSize + 0.1F * static_cast<float>(command.n), 0.8F, 2.0F);
            styleStale_ = true;
            break;
        case Ask::ground:
            settings_.dark = !settings_.dark;
            styleStale_ = true;
            break;
        case Ask::motion: settings_.reducedMotion = !settings_.reducedMotion; break;
        case Ask::hand:
            settings_.mirrored = !settings_.mirrored;
            if (table_->session() != nullptr) {
                beginLesson(true);
                paper_ = Paper::shelf;
                notice("The lesson lies there for your hand, from its first page.");
            } else {
                changePiece([&](Recipe& r) { r.mirrored = settings_.mirrored; });
            }
            break;
        case Ask::words:
            settings_.ukWords = !settings_.ukWords;
            if (Session* session = table_->session()) {
                lessonText_ = session->text();
                session->setTerms(terms());
            }
            break;
        case Ask::rowsAsChart: rows_.asChart = !rows_.asChart; break;
        case Ask::keys: paper_ = paper_ == Paper::keys ? Paper::work : Paper::keys; break;
        case Ask::close: closing_ = true; break;
        default: break;
    }
}

Pixels App::clothPicture() const {
    return cloth_.picture();
}

void App::keepProgress() {
    if (const Session* session = table_->session()) lessonText_ = session->text();
    Keeping::Kept kept;
    kept.settings = settings_;
    kept.lesson = lessonText_;
    kept.lessonDone = lessonDone_;
    if (const auto trouble = keeping_.write(kept)) notice(*trouble);
}

}  // namespace loopmend::app
