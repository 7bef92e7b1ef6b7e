// SPDX-License-Identifier: MIT
#include <algorithm>
#include <utility>

#include <fmt/format.h>

#include "app/app.h"

namespace loopmend::app {

namespace {

bool isDoneByHands(Ask what) {
    switch (what) {
        case Ask::takeNotion:
        case Ask::undo:
        case Ask::redo:
        case Ask::knitRow:
        case Ask::turnWork: return true;
        default: return false;
    }
}

}  // namespace

void App::perform(const Command& command) {
    if (command.ask != Ask::doIt && command.ask != Ask::otherWay) notice_.clear();
    const bool wasAsked = std::exchange(anewAsked_, false);
    if (own_ && ownOpen_ && isDoneByHands(command.ask)) {
        notice("This is a model of your knitting. Tools come when it is known what happened.");
        return;
    }
    switch (command.ask) {
        case Ask::hint:
        case Ask::goOn:
        case Ask::goBack:
        case Ask::choose: performPage(command); break;
        case Ask::turnOver:
        case Ask::bothSides:
        case Ask::nearer:
        case Ask::closer:
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
        case Ask::nextPart: nextPart(); break;
        case Ask::doIt: doOffer(); break;
        case Ask::otherWay:
            if (!offers_.empty()) offer_ = (offer_ + 1) % offers_.size();
            break;
        case Ask::letGo: letGo(); break;
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
        case Ask::lessonAnew:
            // What she did there would be gone: asked twice.
            anewAsked_ = !wasAsked;
            if (wasAsked) openLesson(command.words.empty() ? kept_.id : command.words, true);
            break;
        case Ask::textSize:
        case Ask::ground:
        case Ask::motion:
        case Ask::hand:
        case Ask::words:
        case Ask::rowsAsChart:
        case Ask::close: performManners(command); break;
        case Ask::practiseSkill:
        case Ask::level:
        case Ask::practiseWord:
        case Ask::copyWord:
        case Ask::exportLog:
        case Ask::importLog:
        case Ask::forgetAll: performLearning(command); break;
        case Ask::showPlans:
        case Ask::chooseWay:
        case Ask::moreWays:
        case Ask::wayForward:
        case Ask::wayBack:
        case Ask::wayByHand: performWays(command); break;
        case Ask::wentWrong:
        case Ask::ownKnitting:
        case Ask::ownGround:
        case Ask::ownPattern:
        case Ask::ownSize:
        case Ask::ownAll:
        case Ask::ownNowhere:
        case Ask::ownCannotTell:
        case Ask::ownShow:
        case Ask::ownAgain:
        case Ask::ownAnew: performOwn(command); break;
        case Ask::showMending:
        case Ask::showForward:
        case Ask::showBack:
        case Ask::showMirrored:
        case Ask::showFrozen:
        case Ask::showSlowly:
        case Ask::showPage: performShowing(command); break;
        default: performTable(command); break;
    }
    takeAttempts();
    keepProgress();
}

void App::performPage(const Command& command) {
    if (own_ && ownOpen_) {
        performOwn(command);
        return;
    }
    Session* session = table_->session();
    if (session == nullptr || paper_ != Paper::work) return;
    if (command.ask == Ask::hint) (void)session->hint();
    if (command.ask == Ask::choose) session->choose(command.n);
    if (command.ask == Ask::goBack) session->back();
    if (command.ask == Ask::goOn) {
        const Page& page = session->page();
        if (session->done() && page.step == page.steps) {
            openPaper(Paper::shelf);
        } else if (session->canGoOn()) {
            session->next();
        } else {
            notice("This page still asks for something: " + page.task);
        }
    }
    if (session->swatch() != swatchLaid_) {
        pointed_.reset();
        inHand_ = 0;
        layShown();
    }
    offersOf_ = 0;
}

/// Whatever lies over the table is put away; then what hands hold; then what is pointed at.
void App::letGo() {
    switch (paper_) {
        case Paper::liking:
        case Paper::practice:
        case Paper::group:
        case Paper::progress:
            forgetAsked_ = false;
            openPaper(Paper::shelf);
            break;
        case Paper::showing: openPaper(showingFrom_); break;
        case Paper::files:
            openPaper(files_.what() == FilesPane::For::page && showing_ ? Paper::showing
                      : files_.what() == FilesPane::For::exportLog ||
                              files_.what() == FilesPane::For::importLog
                          ? Paper::progress
                          : Paper::work);
            break;
        case Paper::shelf:
        case Paper::keys: openPaper(Paper::work); break;
        case Paper::work:
            if (inHand_ != 0) {
                inHand_ = 0;
            } else {
                pointed_.reset();
            }
            break;
    }
    offersOf_ = 0;
}

void App::performLooking(const Command& command) {
    Looking& looking = cloth_.looking;
    const auto light = [&](Light what) { looking.light = looking.light == what ? Light::none : what; };
    Session* session = table_->session();
    const LoopId at = pointed_ && pointed_->entry ? pointed_->entry : LoopId{};
    switch (command.ask) {
        case Ask::turnOver:
            if (paper_ == Paper::showing) {
                showing_->now().turnOver();
            } else {
                table_->turnOver();
            }
            break;
        case Ask::bothSides:
            looking.both = !looking.both;
            pointedSide_.reset();
            break;
        case Ask::nearer:
            cloth_.nearerMiddle(1.25);
            if (session != nullptr) session->look(LookKind::near, at);
            break;
        case Ask::closer: lookCloser(); break;
        case Ask::farther: cloth_.nearerMiddle(0.8); break;
        case Ask::tiltUp: looking.tilt = std::min(70.0, looking.tilt + 10); break;
        case Ask::tiltDown: looking.tilt = std::max(-70.0, looking.tilt - 10); break;
        case Ask::turnLeft: looking.turn = std::max(-70.0, looking.turn - 10); break;
        case Ask::turnRight: looking.turn = std::min(70.0, looking.turn + 10); break;
        case Ask::asYouHoldIt:
            cloth_.asYouHoldIt();
            closer_.reset();
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

void App::lookCloser() {
    if (closer_) {
        cloth_.asYouHoldIt();
        cloth_.looking.slant = false;
        if (closer_->otherSide && table_->seen() != table_->facing()) table_->turnOver();
        closer_.reset();
        return;
    }
    Session* session = table_->session();
    if (session == nullptr) {
        closer_ = closerLookAtAnything();
    } else {
        if (closerOf_ != session->lesson().id) {
            closerOf_ = session->lesson().id;
            closerWay_ = closerLook(session->lesson(), session->mirrored());
        }
        closer_ = closerWay_;
    }
    if (closer_->otherSide && table_->seen() == table_->facing()) table_->turnOver();
    cloth_.looking.pulled = closer_->pull > 1;
    cloth_.looking.slant = closer_->slant;
    const auto place = pointed_ && pointed_->entry ? drawnAt(pointed_->entry) : std::nullopt;
    if (place) {
        cloth_.nearer(closer_->nearer, static_cast<float>(place->x), static_cast<float>(place->y));
    } else {
        cloth_.nearerMiddle(closer_->nearer);
    }
    if (session != nullptr)
        session->look(LookKind::near, pointed_ && pointed_->entry ? pointed_->entry : LoopId{});
}

void App::doOffer() {
    if (paper_ != Paper::work) return;
    if (own_ && ownOpen_) {
        pointOwn();
        return;
    }
    if (inHand_ == 0) {
        Session* session = table_->session();
        if (session == nullptr) return;
        session->pointAt(target());
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
                openLesson(kept_.id, true);
                openPaper(Paper::liking);
                notice("The lesson lies there for your hand, from its first page.");
            } else {
                changePiece([&](Recipe& r) { r.mirrored = settings_.mirrored; });
            }
            break;
        case Ask::words:
            settings_.ukWords = !settings_.ukWords;
            if (Session* session = table_->session()) session->setTerms(terms());
            break;
        case Ask::rowsAsChart:
            // Words, a chart, put away.
            if (!rows_.shown) {
                rows_.shown = true;
                rows_.asChart = false;
            } else if (!rows_.asChart) {
                rows_.asChart = true;
            } else {
                rows_.shown = rows_.asChart = false;
            }
            break;
        case Ask::close: closing_ = true; break;
        default: break;
    }
}

}  // namespace loopmend::app
