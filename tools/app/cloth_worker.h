// SPDX-License-Identifier: MIT
#pragma once

#include <condition_variable>
#include <cstdint>
#include <functional>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <thread>

#include "fabric/fabric.h"
#include "shape/cloth.h"

namespace loopmend::app {

/// The cloth as it lies at some moment.
struct ClothState {
    std::shared_ptr<const Path> path;
    std::shared_ptr<const Fabric> fabric;  ///< that the path shows
    std::uint64_t version = 0;             ///< of the fabric, as `lay` and `follow` were told
    bool still = false;   ///< it lies at rest; no newer state comes unless the fabric changes
    std::string trouble;  ///< why the yarn is drawn unrelaxed, or empty
};

/// What a move would lead to.
struct GhostState {
    std::shared_ptr<const Fabric> fabric;  ///< after it
    Cloth::Tried tried;
};

/// Lays and relaxes cloth on a thread of its own, so that the window never waits. The fabric is copied when
/// it is handed over.
class ClothWorker {
  public:
    /// `wake` is called on the worker's thread whenever a newer state is there.
    explicit ClothWorker(std::function<void()> wake);
    ~ClothWorker();
    ClothWorker(const ClothWorker&) = delete;
    ClothWorker& operator=(const ClothWorker&) = delete;

    /// A new piece: drawn at once, then relaxed.
    void lay(const Fabric& fabric, std::uint64_t version, const ClothOptions& options);
    /// The same piece after a hand move or an undo.
    void follow(const Fabric& fabric, std::uint64_t version);
    /// Asks for the ghost of a move: `after` is what it would make of the fabric followed last.
    void ghost(const Fabric& after);
    std::optional<GhostState> newestGhost();
    /// jumps: without relaxing in steps, the next state is the one at rest. slow: small steps, with a pause
    /// after each. frozen: nothing is worked on.
    void setPace(bool jumps, bool slow, bool frozen);

    /// The newest state, if it was not taken yet.
    std::optional<ClothState> newest();
    /// Nothing is being worked on and everything was taken.
    bool quiet() const;

  private:
    struct Order {
        std::shared_ptr<const Fabric> fabric;
        std::uint64_t version = 0;
        std::optional<ClothOptions> fresh;
    };
    void run();
    void publish(const Cloth& cloth, const Order& shown, bool still);

    std::function<void()> wake_;
    mutable std::mutex mutex_;
    std::condition_variable called_;
    std::optional<Order> order_;
    std::shared_ptr<const Fabric> ghostOrder_;
    std::optional<GhostState> ghost_;
    std::optional<ClothState> state_;
    bool busy_ = false;
    bool jumps_ = false;
    bool slow_ = false;
    bool frozen_ = false;
    bool ending_ = false;
    std::thread thread_;
};

}  // namespace loopmend::app
