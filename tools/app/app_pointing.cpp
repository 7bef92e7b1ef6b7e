// SPDX-License-Identifier: MIT
//
// Pointing: with the pointer, with the arrow keys, at stitches, strands and parts of a stitch.
#include <algorithm>
#include <cmath>

#include <SDL.h>
#include <fmt/format.h>
#include <imgui.h>

#include "app/app.h"
#include "pattern/plain_words.h"
#include "repair/builder.h"

namespace loopmend::app {

/// The next place in the direction of an arrow key: near, and rather straight ahead than aside.
bool App::walk(int code) {
    PixelPoint way;
    switch (code) {
        case SDLK_LEFT: way = {-1, 0}; break;
        case SDLK_RIGHT: way = {1, 0}; break;
        case SDLK_UP: way = {0, -1}; break;
        case SDLK_DOWN: way = {0, 1}; break;
        default: return false;
    }
    const Side seen = handSide();
    const std::size_t which = seen == table_->seen() ? 0 : 1;
    std::vector<PointedAt> places;
    if (inHand_ == 0) {
        const StitchPlaces all(table_->fabric());
        for (const auto& row : all.rows()) {
            for (const LoopId loop : row) places.push_back({PointedAt::What::loop, loop});
        }
        for (const PointedAt& rung : stops(table_->work(), Notion::hook, seen)) {
            if (rung.what == PointedAt::What::rung) places.push_back(rung);
        }
    } else {
        places = stops(table_->work(), static_cast<Notion>(inHand_ - 1), seen);
    }
    if (places.empty()) return true;
    const auto where = [&](const PointedAt& p) -> std::optional<PixelPoint> {
        if (p.what == PointedAt::What::tips) return tipsAt();
        const auto drawn = cloth_.whereIs(p.entry, which);
        if (!drawn) return std::nullopt;
        if (p.what != PointedAt::What::strand) return drawn->at;
        // The strand lies between its stitch and the next one.
        const Fabric& fabric = table_->fabric();
        EntryId next = fabric[p.entry].next;
        while (next && !fabric.isLoop(next)) next = fabric[next].next;
        const auto other = next ? cloth_.whereIs(next, which) : std::nullopt;
        if (!other) return drawn->at;
        return PixelPoint{(drawn->at.x + other->at.x) / 2, (drawn->at.y + other->at.y) / 2};
    };
    std::optional<PixelPoint> from = pointed_ ? where(*pointed_) : std::nullopt;
    // Along a row from stitch to stitch of that row; up and down to those of others.
    const StitchPlaces stitches(table_->fabric());
    const bool inRow = way.y == 0;
    const int row = inHand_ == 0 && pointed_ && pointed_->what == PointedAt::What::loop
                        ? stitches.of(pointed_->entry).row
                        : -1;
    const PointedAt* best = nullptr;
    double bestCost = 0;
    for (const PointedAt& place : places) {
        if (pointed_ && place == *pointed_) continue;
        const bool byRow = row >= 0 && place.what == PointedAt::What::loop;
        const bool sameRow = byRow && stitches.of(place.entry).row == row;
        if (byRow && sameRow != inRow) continue;
        const auto there = where(place);
        if (!there) continue;
        double cost = 0;
        if (from) {
            const double dx = there->x - from->x;
            const double dy = there->y - from->y;
            const double ahead = dx * way.x + dy * way.y;
            const double aside = std::abs(dx * way.y - dy * way.x);
            if (ahead < (sameRow ? 0.5 : 2)) continue;
            // At an edge there is nothing farther on: the row above is not to the left.
            if (inHand_ == 0 && !sameRow && ahead < 0.8 * aside) continue;
            cost = sameRow ? ahead : ahead + 2.5 * aside;
        } else {
            cost = static_cast<double>(&place - places.data());
        }
        if (best == nullptr || cost < bestCost) {
            best = &place;
            bestCost = cost;
        }
    }
    if (best != nullptr) {
        pointed_ = *best;
        part_ = YarnPart::head;
        wholePart_ = true;
        offersOf_ = 0;
        notice_.clear();
    }
    return true;
}

/// Where the next stitch is worked: at the first stitch of the left needle, or the last one of the right.
std::optional<PixelPoint> App::tipsAt() const {
    const Knitter& knitter = table_->work().knitter();
    const std::vector<LoopId> ahead = knitter.ahead();
    const std::vector<LoopId> behind = knitter.behind();
    if (ahead.empty() && behind.empty()) return std::nullopt;
    const auto drawn = cloth_.whereIs(ahead.empty() ? behind.back() : ahead.front());
    if (!drawn) return std::nullopt;
    return PixelPoint{drawn->at.x, drawn->low.y};
}

std::optional<PixelPoint> App::drawnAt(EntryId entry, std::size_t which) const {
    const auto drawn = cloth_.whereIs(entry, which);
    if (!drawn || !drawn->visible || isWide()) return std::nullopt;
    const Sheets sheets = layoutNow();
    if (!sheets.cloth.contains(static_cast<float>(drawn->at.x), static_cast<float>(drawn->at.y)))
        return std::nullopt;
    return drawn->at;
}

namespace {

/// Every few pixels of a box, the ones nearest to its middle first.
template <class Fits>
std::optional<PixelPoint> searched(PixelPoint low, PixelPoint high, Fits fits) {
    const PixelPoint middle{(low.x + high.x) / 2, (low.y + high.y) / 2};
    std::optional<PixelPoint> best;
    double bestFar = 0;
    for (double y = std::floor(low.y); y <= high.y; y += 2) {
        for (double x = std::floor(low.x); x <= high.x; x += 2) {
            const double away = std::hypot(x - middle.x, y - middle.y);
            if ((best && away >= bestFar) || !fits(x, y)) continue;
            best = PixelPoint{x, y};
            bestFar = away;
        }
    }
    return best;
}

bool isBar(const Picked& picked) {
    // The outer half of what is called the feet lies between two stitches.
    return picked.part == YarnPart::foot && (picked.along < 0.045 || picked.along > 0.955);
}

}  // namespace

std::optional<PixelPoint> App::drawnAt(EntryId entry, PointTarget::Spot spot) const {
    const auto drawn = cloth_.whereIs(entry);
    if (!drawn || isWide()) return std::nullopt;
    const Box box = layoutNow().cloth;
    return searched(drawn->low, drawn->high, [&](double x, double y) {
        if (!box.contains(static_cast<float>(x), static_cast<float>(y))) return false;
        const auto picked = cloth_.at(static_cast<float>(x), static_cast<float>(y));
        if (!picked || picked->entry != entry || picked->distance > 0) return false;
        switch (spot) {
            case PointTarget::Spot::whole: return true;
            case PointTarget::Spot::head: return picked->part == YarnPart::head;
            case PointTarget::Spot::rightLeg: return picked->part == YarnPart::rightLeg;
            case PointTarget::Spot::leftLeg: return picked->part == YarnPart::leftLeg;
            case PointTarget::Spot::foot: return picked->part == YarnPart::foot && !isBar(*picked);
        }
        return false;
    });
}

std::optional<PixelPoint> App::barAt(EntryId before) const {
    const auto drawn = cloth_.whereIs(before);
    if (!drawn || isWide()) return std::nullopt;
    const Box box = layoutNow().cloth;
    const double reach = (drawn->high.x - drawn->low.x) * 0.7;
    return searched({drawn->low.x - reach, drawn->low.y}, {drawn->high.x + reach, drawn->high.y + reach},
                    [&](double x, double y) {
                        if (!box.contains(static_cast<float>(x), static_cast<float>(y))) return false;
                        const auto picked = cloth_.at(static_cast<float>(x), static_cast<float>(y));
                        if (!picked || picked->distance > 0 || !isBar(*picked)) return false;
                        const LoopId bar =
                            picked->along > 0.5 ? picked->entry : table_->fabric()[picked->entry].prev;
                        return bar == before;
                    });
}

Side App::handSide() const {
    return cloth_.looking.both && pointedSide_ ? *pointedSide_ : table_->seen();
}

void App::takePointer(const Sheets& layout) {
    const bool inCloth = layout.cloth.contains(input_.x, input_.y);
    if (inCloth && input_.wheel != 0) {
        cloth_.nearer(std::pow(1.2, static_cast<double>(input_.wheel)), input_.x, input_.y);
        moving_ = true;
    }
    if (dragging_ && input_.down[2] && input_.moved) {
        const ImVec2 before = ImGui::GetIO().MousePosPrev;
        cloth_.moveBy(input_.x - before.x, input_.y - before.y);
        moving_ = true;
    }
    dragging_ = inCloth && input_.down[2];
    if (paper_ == Paper::showing) return;
    if (inCloth && (input_.moved || input_.pressed[0] || input_.pressed[1])) {
        point(cloth_.at(input_.x, input_.y), cloth_.sideAt(input_.x, input_.y).value_or(table_->seen()));
    }
    if (inCloth && input_.pressed[0]) {
        controls_.goTo(Area::cloth);
        commands_.push(Ask::doIt);
    }
    if (inCloth && input_.pressed[1]) commands_.push(Ask::otherWay);
}

void App::point(const std::optional<Picked>& picked, Side side) {
    std::optional<PointedAt> now;
    YarnPart part = YarnPart::head;
    const Fabric& fabric = table_->fabric();
    if (picked) {
        part = picked->part;
        if (picked->part == YarnPart::tool) {
            now = PointedAt{PointedAt::What::tips, {}};
        } else if (picked->part == YarnPart::rung) {
            now = PointedAt{PointedAt::What::rung, picked->entry};
        } else if (fabric.has(picked->entry) && fabric.isLoop(picked->entry)) {
            now = PointedAt{PointedAt::What::loop, picked->entry};
            if (isBar(*picked)) {
                LoopId before = picked->entry;
                if (picked->along < 0.5) before = fabric[before].prev;
                while (before && !fabric.isLoop(before)) before = fabric[before].prev;
                // A tool takes the bar only where it has something to do with it.
                const PointedAt bar{PointedAt::What::strand, before};
                if (before && (inHand_ == 0 ||
                               !offersAt(table_->work(), static_cast<Notion>(inHand_ - 1), bar, terms(), side)
                                    .empty())) {
                    now = bar;
                    part = YarnPart::strand;
                }
            }
        }
    }
    const bool same = now.has_value() == pointed_.has_value() && (!now || *now == *pointed_) &&
                      side == handSide() && part == part_ && !wholePart_;
    if (same) return;
    part_ = part;
    wholePart_ = false;
    pointedSide_ = side;
    pointed_ = now;
    offersOf_ = 0;
}

/// Its head, its legs as they face her, its feet, the bar to the stitch worked after it, and all of it again.
void App::nextPart() {
    if (!pointed_ || !pointed_->entry) return;
    if (pointed_->what == PointedAt::What::strand) {
        pointed_->what = PointedAt::What::loop;
        part_ = YarnPart::head;
        wholePart_ = true;
    } else if (pointed_->what != PointedAt::What::loop) {
        return;
    } else if (wholePart_) {
        wholePart_ = false;
        part_ = YarnPart::head;
    } else {
        switch (part_) {
            case YarnPart::head: part_ = YarnPart::rightLeg; break;
            case YarnPart::rightLeg: part_ = YarnPart::leftLeg; break;
            case YarnPart::leftLeg: part_ = YarnPart::foot; break;
            default:
                part_ = YarnPart::strand;
                pointed_->what = PointedAt::What::strand;
                break;
        }
    }
    offersOf_ = 0;
}

/// What the lesson is told.
PointTarget App::target() const {
    PointTarget target;
    if (!pointed_) return target;
    switch (pointed_->what) {
        case PointedAt::What::loop: target.thing = PointTarget::Thing::loop; break;
        case PointedAt::What::rung: target.thing = PointTarget::Thing::rung; break;
        case PointedAt::What::strand: target.thing = PointTarget::Thing::strand; break;
        case PointedAt::What::tips: target.thing = PointTarget::Thing::needle; break;
    }
    target.entry = pointed_->entry;
    if (target.thing != PointTarget::Thing::loop || wholePart_) return target;
    // In the picture of the other side right and left have changed places.
    const bool other = handSide() != table_->seen();
    switch (part_) {
        case YarnPart::head: target.spot = PointTarget::Spot::head; break;
        case YarnPart::leftLeg:
            target.spot = other ? PointTarget::Spot::rightLeg : PointTarget::Spot::leftLeg;
            break;
        case YarnPart::rightLeg:
            target.spot = other ? PointTarget::Spot::leftLeg : PointTarget::Spot::rightLeg;
            break;
        default: target.spot = PointTarget::Spot::foot; break;
    }
    return target;
}

void App::refreshOffers() {
    if (offersOf_ == table_->version()) return;
    offersOf_ = table_->version();
    offers_.clear();
    offer_ = 0;
    free_.placeWords.clear();
    free_.showFaults = false;
    if (!pointed_) return;
    if (pointed_->entry && !table_->fabric().has(pointed_->entry)) {
        pointed_.reset();
        return;
    }
    if (inHand_ > 0) {
        offers_ = offersAt(table_->work(), static_cast<Notion>(inHand_ - 1), *pointed_, terms(), handSide());
        const auto fits =
            std::find_if(offers_.begin(), offers_.end(), [](const Offer& o) { return o.possible; });
        if (fits != offers_.end()) offer_ = static_cast<std::size_t>(fits - offers_.begin());
    }
    free_.placeWords = pointedWords();
}

/// What lies under the pointer, as the tray says it.
std::string App::pointedWords() const {
    if (!pointed_) return {};
    switch (pointed_->what) {
        case PointedAt::What::tips: return "The needle.";
        case PointedAt::What::rung: return "A strand across the gap.";
        case PointedAt::What::strand: return "The bar beside: " + placeWords(pointed_->entry);
        case PointedAt::What::loop: break;
    }
    std::string place = placeWords(pointed_->entry);
    if (wholePart_ || inHand_ != 0) return place;
    switch (part_) {
        case YarnPart::head: return place + " Its head.";
        case YarnPart::leftLeg: return place + " Its left leg.";
        case YarnPart::rightLeg: return place + " Its right leg.";
        default: return place + " Its feet.";
    }
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
    const bool right = handSide() == Side::right;
    const int fromRight = right ? here.column : widest + 1 - here.column;
    const int fromLeft = widest + 1 - fromRight;
    const std::string side = fromRight <= fromLeft
                                 ? fmt::format("{} from the right", ordinalNumber(fromRight))
                                 : fmt::format("{} from the left", ordinalNumber(fromLeft));
    return fmt::format("Row {}, {} as it faces you.", here.row, side);
}

}  // namespace loopmend::app
