// SPDX-License-Identifier: MIT
#include "app/cloth_worker.h"

#include <chrono>
#include <utility>

namespace loopmend::app {

namespace {

// About one picture's worth of relaxing on a lesson's swatch.
constexpr int kStepsAPicture = 12;
constexpr std::chrono::milliseconds kSlowPause(40);

}  // namespace

ClothWorker::ClothWorker(std::function<void()> wake) : wake_(std::move(wake)), thread_([this] { run(); }) {}

ClothWorker::~ClothWorker() {
    {
        const std::lock_guard<std::mutex> lock(mutex_);
        ending_ = true;
    }
    called_.notify_all();
    thread_.join();
}

void ClothWorker::lay(const Fabric& fabric, std::uint64_t version, const ClothOptions& options) {
    {
        const std::lock_guard<std::mutex> lock(mutex_);
        order_ = Order{std::make_shared<const Fabric>(fabric), version, options};
    }
    called_.notify_all();
}

void ClothWorker::follow(const Fabric& fabric, std::uint64_t version) {
    {
        const std::lock_guard<std::mutex> lock(mutex_);
        std::optional<ClothOptions> fresh;
        if (order_) fresh = order_->fresh;  // a piece that was not begun yet is still to be laid
        order_ = Order{std::make_shared<const Fabric>(fabric), version, fresh};
    }
    called_.notify_all();
}

void ClothWorker::ghost(const Fabric& after) {
    {
        const std::lock_guard<std::mutex> lock(mutex_);
        ghostOrder_ = std::make_shared<const Fabric>(after);
    }
    called_.notify_all();
}

std::optional<GhostState> ClothWorker::newestGhost() {
    const std::lock_guard<std::mutex> lock(mutex_);
    return std::exchange(ghost_, std::nullopt);
}

void ClothWorker::setPace(bool jumps, bool slow, bool frozen) {
    {
        const std::lock_guard<std::mutex> lock(mutex_);
        jumps_ = jumps;
        slow_ = slow;
        if (frozen_ == frozen) return;
        frozen_ = frozen;
    }
    called_.notify_all();
}

std::optional<ClothState> ClothWorker::newest() {
    const std::lock_guard<std::mutex> lock(mutex_);
    return std::exchange(state_, std::nullopt);
}

bool ClothWorker::quiet() const {
    const std::lock_guard<std::mutex> lock(mutex_);
    return !order_ && !state_ && !busy_ && !ghostOrder_ && !ghost_;
}

void ClothWorker::publish(const Cloth& cloth, const Order& shown, bool still) {
    ClothState state;
    state.path = std::make_shared<const Path>(cloth.path());
    state.fabric = shown.fabric;
    state.version = shown.version;
    state.still = still;
    if (cloth.fault()) state.trouble = sentence(*cloth.fault());
    {
        const std::lock_guard<std::mutex> lock(mutex_);
        state_ = std::move(state);
        busy_ = !still;
    }
    wake_();
}

void ClothWorker::run() {
    std::optional<Cloth> cloth;
    Order shown;
    bool still = true;
    for (;;) {
        std::optional<Order> order;
        std::shared_ptr<const Fabric> after;
        bool jumps = false;
        bool slow = false;
        {
            std::unique_lock<std::mutex> lock(mutex_);
            called_.wait(lock,
                         [&] { return ending_ || order_ || (!still && !frozen_) || (ghostOrder_ && still); });
            if (ending_) return;
            slow = slow_;
            order = std::exchange(order_, std::nullopt);
            if (order) busy_ = true;
            jumps = jumps_;
            if (!order && still) after = ghostOrder_;
        }
        if (after) {
            GhostState ghost{after, cloth ? cloth->tried(*after) : Cloth::Tried{}};
            {
                const std::lock_guard<std::mutex> lock(mutex_);
                if (ghostOrder_ == after) ghostOrder_.reset();
                ghost_ = std::move(ghost);
            }
            wake_();
            continue;
        }
        if (order) {
            shown = std::move(*order);
            if (shown.fresh || !cloth) {
                cloth = Cloth::drawn(*shown.fabric, shown.fresh.value_or(ClothOptions{}));
            } else {
                cloth->follow(*shown.fabric);
            }
            still = false;
            if (!jumps) publish(*cloth, shown, false);
        } else {
            still = !cloth->advance(slow ? kStepsAPicture / 4 : kStepsAPicture);
            if (still || !jumps) publish(*cloth, shown, still);
            if (slow && !still && !jumps) {
                std::unique_lock<std::mutex> lock(mutex_);
                called_.wait_for(lock, kSlowPause, [&] { return ending_ || order_.has_value(); });
            }
        }
    }
}

}  // namespace loopmend::app
