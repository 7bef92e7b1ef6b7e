// SPDX-License-Identifier: MIT
#include "app/cloth_pane.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "picture/telling.h"

namespace loopmend::app {

namespace {

constexpr double kSnap = 12;          // window units
constexpr double kFlipSeconds = 0.5;  // to turn the cloth over
constexpr double kTugSeconds = 0.6;
constexpr double kSlow = 0.25;

Colour colourOf(Ink ink) {
    return {(ink & 0xFFU) / 255.0, ((ink >> 8U) & 0xFFU) / 255.0, ((ink >> 16U) & 0xFFU) / 255.0};
}

/// The stitches, and room for the needle above them.
ClothBounds fitted(const Path& path) {
    ClothBounds bounds = boundsOf(path, false);
    if (bounds.empty()) return boundsOf(path);
    bounds.high.y += path.gauge.rowMm;
    bounds.low.x -= 1.6 * path.gauge.stitchMm;
    bounds.high.x += 1.6 * path.gauge.stitchMm;
    return bounds;
}

}  // namespace

ClothPane::ClothPane(std::function<void()> wake) : worker_(std::move(wake)) {}

std::optional<std::string> ClothPane::begin() {
    auto front = ClothRenderer::made();
    if (!front) return front.error();
    auto back = ClothRenderer::made();
    if (!back) return back.error();
    front_.emplace(std::move(*front));
    back_.emplace(std::move(*back));
    return std::nullopt;
}

void ClothPane::lay(const Piece& piece, const ClothOptions& options) {
    worker_.lay(piece.fabric, piece.version, options);
    told_ = piece.version;
    showNoGhost();
    path_.reset();
    fabric_.reset();
    panes_.clear();
    fitWanted_ = true;
    resting_ = false;
    shownSide_ = piece.seen;
    asYouHoldIt();
}

void ClothPane::showNoGhost() {
    ghostMove_.reset();
    ghost_.reset();
    ghostStale_ = true;
}

bool ClothPane::update(const Piece& piece, double seconds, const Pace& pace) {
    const bool stillness = pace.stillness;
    worker_.setPace(stillness, pace.slow, pace.frozen);
    frozen_ = pace.frozen;
    if (piece.version != told_) {
        told_ = piece.version;
        resting_ = false;
        worker_.follow(piece.fabric, told_);
    }
    if (pace.frozen && path_) return false;
    if (pace.slow) seconds *= kSlow;
    if (auto state = worker_.newest()) {
        path_ = std::move(state->path);
        fabric_ = std::move(state->fabric);
        resting_ = state->still && state->version == told_;
        trouble_ = std::move(state->trouble);
        meshStale_ = true;
        pictureStale_ = true;
        panes_.clear();
        if (fitWanted_ || bounds_.empty()) {
            bounds_ = fitted(*path_);
            fitWanted_ = !state->still && fitWanted_ && !resting_;
        }
    }
    if (auto ghost = worker_.newestGhost(); ghost && ghostMove_) {
        ghost_ = std::move(ghost);
        ghostStale_ = true;
        pictureStale_ = true;
    }
    if (shownSide_ != piece.seen) {
        shownSide_ = piece.seen;
        flip_ = stillness ? 0 : 1;
        pictureStale_ = true;
    }
    bool moving = false;
    const auto toward = [&](double& value, double goal, double rate) {
        if (value == goal) return;
        const double step = rate * seconds;
        value = stillness || std::abs(value - goal) <= step ? goal : value + (goal > value ? step : -step);
        pictureStale_ = true;
        moving = moving || value != goal;
    };
    toward(flip_, 0, 1 / kFlipSeconds);
    if (tugLeft_ > 0) toward(tugLeft_, 0, 1);
    const double tugged =
        stillness || tugLeft_ <= 0 ? 0 : 0.14 * std::sin(tugLeft_ / kTugSeconds * 3.14159265);
    const double pullGoal = (looking.pulled ? kGentlePull : 1) + tugged;
    if (tugLeft_ > 0) {
        pullNow_ = pullGoal;
    } else {
        toward(pullNow_, pullGoal, 1);
    }
    return moving;
}

View ClothPane::viewOf(Side side, const Box& box) const {
    View view =
        View::fitting(bounds_, static_cast<int>(box.width()), static_cast<int>(box.height()), 26, side);
    view.pixelsPerMm *= zoom_;
    view.centre = view.centre + shift_;
    view.tiltDegrees = looking.tilt;
    view.turnDegrees = looking.turn;
    view.pull = pullNow_;
    if (flip_ > 0.5) {
        view.side = opposite(side);
        view.turnDegrees += (1 - flip_) * 178;
    } else if (flip_ > 0) {
        view.turnDegrees -= flip_ * 178;
    }
    return view;
}

void ClothPane::draw(const Box& box, float scale, const Dress& dress, const std::vector<ClothMark>& marks) {
    if (!front_ || !path_ || box.width() < 8 || box.height() < 8) return;
    box_ = box;
    Box near = box;
    Box beside = box;
    if (looking.both) {
        near.right = beside.left = (box.left + box.right) / 2;
    }
    const View view = viewOf(shownSide_, near);
    const double detail = ribbonDetail(view.pixelsPerMm * static_cast<double>(scale));
    if (meshStale_ || detail != meshDetail_) {
        RibbonOptions options;
        options.pixelsPerMm = detail;
        const RibbonMesh mesh = ribbonsOf(*path_, *fabric_, options);
        front_->upload(mesh);
        back_->upload(mesh);
        meshStale_ = false;
        meshDetail_ = detail;
        pictureStale_ = true;
    }
    if (ghostStale_) {
        ghostStale_ = false;
        pictureStale_ = true;
        for (ClothRenderer* renderer : {&*front_, &*back_}) {
            const std::vector<EntryId> entries = ghost_ ? ghostEntries() : std::vector<EntryId>();
            if (entries.empty()) {
                renderer->dropGhost();
                continue;
            }
            RibbonOptions options;
            options.pixelsPerMm = detail;
            options.openness = false;
            renderer->uploadGhost(ribbonsOf(ghost_->tried.path, *ghost_->fabric, options), entries);
        }
    }
    ClothStyle style;
    style.look = looking.drawing ? ClothLook::drawing : ClothLook::wool;
    style.dark = dress.dark;
    style.ground = colourOf(dress.ground);
    style.lightDegrees = looking.slant ? kSlantingLight : kOrdinaryLight;
    style.smooth = dress.smooth && still() ? 2 : 1;
    style.yarns = yarnColours(style.look, dress.dark);
    std::rotate(style.yarns.begin(), style.yarns.begin() + dress.wool % static_cast<int>(style.yarns.size()),
                style.yarns.end());
    const Drawn wanted{near, scale, style.look, dress.dark, style.smooth, looking.both, looking.slant, marks};
    if (!pictureStale_ && wanted == drawn_) return;
    drawn_ = wanted;
    shown_.clear();
    panes_.clear();
    const auto picture = [&](ClothRenderer& renderer, const Box& where, const View& seen) {
        View fine =
            seen.sized(static_cast<int>(where.width() * scale), static_cast<int>(where.height() * scale));
        fine.pixelsPerMm *= static_cast<double>(scale);
        renderer.draw(fine, style, marks);
        shown_.push_back({renderer.texture(), where, seen.side});
        panes_.push_back({where, seen, Picker(*path_, *fabric_, seen)});
    };
    picture(*front_, near, view);
    if (looking.both) picture(*back_, beside, viewOf(opposite(shownSide_), beside));
    view_ = view;
    box_ = near;
    pictureStale_ = false;
}

/// What the move makes; where it makes nothing, what it moves.
std::vector<EntryId> ClothPane::ghostEntries() const {
    std::vector<EntryId> fresh;
    for (const EntryId entry : ghost_->tried.changed) {
        if (ghost_->fabric->has(entry) && ghost_->fabric->isLoop(entry) && !fabric_->has(entry))
            fresh.push_back(entry);
    }
    if (fresh.empty()) fresh = ghostMove_->loops;
    return fresh;
}

void ClothPane::showGhost(std::uint64_t version, const std::optional<Move>& move, const TryOut& tryOut) {
    if (move == ghostMove_ && (!move || ghostVersion_ == version)) return;
    ghostMove_ = move;
    ghostVersion_ = version;
    ghost_.reset();
    ghostStale_ = true;
    if (!move) return;
    tryOut([&](const Fabric& after) { worker_.ghost(after); });
}

Pixels ClothPane::picture() const {
    Pixels pixels;
    if (!front_) return pixels;
    pixels.width = front_->width();
    pixels.height = front_->height();
    const std::vector<std::uint8_t> rgb = front_->rgb();
    pixels.rgba.reserve(rgb.size() / 3 * 4);
    for (std::size_t i = 0; i + 2 < rgb.size(); i += 3) {
        pixels.rgba.insert(pixels.rgba.end(), {rgb[i], rgb[i + 1], rgb[i + 2], 255});
    }
    return pixels;
}

const ClothPane::Pane* ClothPane::paneAt(float x, float y) const {
    for (const Pane& pane : panes_) {
        if (pane.box.contains(x, y)) return &pane;
    }
    return nullptr;
}

std::optional<Picked> ClothPane::at(float x, float y) const {
    const Pane* pane = paneAt(x, y);
    if (pane == nullptr) return std::nullopt;
    return pane->picker.at({static_cast<double>(x - pane->box.left), static_cast<double>(y - pane->box.top)},
                           kSnap);
}

std::optional<Side> ClothPane::sideAt(float x, float y) const {
    const Pane* pane = paneAt(x, y);
    if (pane == nullptr) return std::nullopt;
    return pane == panes_.data() ? shownSide_ : opposite(shownSide_);
}

namespace {

std::optional<DrawnPlace> movedBy(std::optional<DrawnPlace> place, const Box& box) {
    if (!place) return place;
    for (PixelPoint* p : {&place->at, &place->low, &place->high}) {
        p->x += static_cast<double>(box.left);
        p->y += static_cast<double>(box.top);
    }
    return place;
}

}  // namespace

std::optional<DrawnPlace> ClothPane::whereIs(EntryId entry, std::size_t which) const {
    if (which >= panes_.size()) return std::nullopt;
    return movedBy(panes_[which].picker.whereIs(entry), panes_[which].box);
}

std::optional<DrawnPlace> ClothPane::whereIs(ToolId tool) const {
    return panes_.empty() ? std::nullopt : movedBy(panes_[0].picker.whereIs(tool), panes_[0].box);
}

Ink ClothPane::woolInk(bool dark, int wool) const {
    const std::vector<Colour> yarns =
        yarnColours(looking.drawing ? ClothLook::drawing : ClothLook::wool, dark);
    const Colour c = yarns[static_cast<std::size_t>(wool) % yarns.size()];
    const auto byte = [](double share) { return static_cast<Ink>(std::lround(share * 255)); };
    return 0xFF000000U | (byte(c.b) << 16U) | (byte(c.g) << 8U) | byte(c.r);
}

std::optional<ClothPane::YarnEnd> ClothPane::ballEnd() const {
    if (!path_ || !fabric_) return std::nullopt;
    for (auto strand = path_->strands.rbegin(); strand != path_->strands.rend(); ++strand) {
        if (!strand->yarn || strand->points.size() < 4 || (*fabric_)[strand->yarn].flags.ball == 0) continue;
        const PixelPoint last = view_.pixel(strand->points.back().at);
        const PixelPoint before = view_.pixel(strand->points[strand->points.size() - 4].at);
        const double length = std::max(1e-6, std::hypot(last.x - before.x, last.y - before.y));
        return YarnEnd{{last.x + static_cast<double>(box_.left), last.y + static_cast<double>(box_.top)},
                       {(last.x - before.x) / length, (last.y - before.y) / length},
                       strand->mm * view_.pixelsPerMm};
    }
    return std::nullopt;
}

void ClothPane::asYouHoldIt() {
    looking.tilt = 0;
    looking.turn = 0;
    looking.pulled = false;
    looking.both = false;
    zoom_ = 1;
    shift_ = {};
    if (path_) bounds_ = fitted(*path_);
    pictureStale_ = true;
}

void ClothPane::nearer(double factor, float x, float y) {
    const PixelPoint about{static_cast<double>(x - box_.left), static_cast<double>(y - box_.top)};
    const double before = zoom_;
    zoom_ = std::clamp(zoom_ * factor, 0.4, 12.0);
    const View moved = view_.nearer(zoom_ / before, about);
    shift_ = shift_ + (moved.centre - view_.centre);
    pictureStale_ = true;
}

void ClothPane::nearerMiddle(double factor) {
    zoom_ = std::clamp(zoom_ * factor, 0.4, 12.0);
    pictureStale_ = true;
}

void ClothPane::moveBy(float dx, float dy) {
    const View moved = view_.moved({0, 0}, {static_cast<double>(dx), static_cast<double>(dy)});
    shift_ = shift_ + (moved.centre - view_.centre);
    pictureStale_ = true;
}

void ClothPane::tug() {
    tugLeft_ = kTugSeconds;
}

bool ClothPane::still() const {
    return frozen_ || (resting_ && worker_.quiet() && flip_ == 0 && tugLeft_ <= 0);
}

}  // namespace loopmend::app
