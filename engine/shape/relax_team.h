// SPDX-License-Identifier: MIT
#pragma once

#include <atomic>
#include <cstdint>
#include <thread>
#include <type_traits>
#include <vector>

namespace loopmend {

/// A few threads that do numbered tasks together, many short rounds a second. Which thread does a task must
/// not matter: a task writes only what is its own.
///
/// Tasks are taken one by one, so a thread that the machine has no time for holds nobody up: the caller does
/// what is left. Between rounds the others look for a while and then sleep.
class Team {
  public:
    /// threads: the caller included.
    explicit Team(int threads) {
        for (int t = 1; t < threads; ++t) workers_.emplace_back([this] { work(); });
    }
    Team(const Team&) = delete;
    Team& operator=(const Team&) = delete;
    ~Team() {
        ticket_.store(kOver, std::memory_order_release);
        ticket_.notify_all();
        for (std::thread& w : workers_) w.join();
    }

    /// Does task(0) ... task(tasks - 1) and comes back when all are done; fewer than 65536.
    template <class Task>
    void run(int tasks, Task&& task) {
        if (workers_.empty() || tasks < 2) {
            for (int i = 0; i < tasks; ++i) task(i);
            return;
        }
        using T = std::remove_reference_t<Task>;
        what_ = const_cast<void*>(static_cast<const void*>(&task));
        call_ = [](void* what, int i) { (*static_cast<T*>(what))(i); };
        done_.store(0, std::memory_order_relaxed);
        round_ = (round_ + 1) & 0x7fffffffU;
        ticket_.store(static_cast<std::uint64_t>(round_) << 32U | static_cast<std::uint64_t>(tasks) << 16U,
                      std::memory_order_release);
        ticket_.notify_all();
        while (takeOne()) {
        }
        while (done_.load(std::memory_order_acquire) < tasks) std::this_thread::yield();
    }

  private:
    static constexpr std::uint64_t kOver = ~std::uint64_t{0};

    /// A ticket: round, number of tasks, next task. Whoever moves it on has that task, and the round cannot
    /// end before it is done.
    static bool isLeft(std::uint64_t ticket) { return (ticket & 0xffffU) < (ticket >> 16U & 0xffffU); }

    bool takeOne() {
        std::uint64_t ticket = ticket_.load(std::memory_order_acquire);
        while (ticket != kOver && isLeft(ticket)) {
            if (!ticket_.compare_exchange_weak(ticket, ticket + 1, std::memory_order_acq_rel)) continue;
            call_(what_, static_cast<int>(ticket & 0xffffU));
            done_.fetch_add(1, std::memory_order_release);
            return true;
        }
        return false;
    }

    void work() {
        for (int idle = 0;; ++idle) {
            if (takeOne()) {
                idle = 0;
                continue;
            }
            const std::uint64_t ticket = ticket_.load(std::memory_order_acquire);
            if (ticket == kOver) return;
            if (isLeft(ticket)) continue;
            if (idle > 2000) {
                ticket_.wait(ticket, std::memory_order_acquire);
            } else if (idle > 200) {
                std::this_thread::yield();
            }
        }
    }

    std::vector<std::thread> workers_;
    void* what_ = nullptr;
    void (*call_)(void*, int) = nullptr;
    std::uint32_t round_ = 0;
    std::atomic<std::uint64_t> ticket_{0};
    std::atomic<int> done_{0};
};

}  // namespace loopmend
