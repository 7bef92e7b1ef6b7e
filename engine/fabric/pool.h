// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <cstdint>
#include <memory>
#include <new>
#include <type_traits>
#include <vector>

namespace loopmend {

/// Records in blocks: addresses stay, nothing is copied on growth, and no capacity is wasted at a million
/// loops. Records are dropped only from the end (by rolling the journal back).
template <class Record>
class Pool {
  public:
    static constexpr std::uint32_t kWords = sizeof(Record) / 4;
    static_assert(sizeof(Record) % 4 == 0 && std::is_trivially_copyable_v<Record>);

    Pool() = default;
    Pool(const Pool& other) : size_(other.size_) {
        for (const auto& block : other.blocks_) {
            blocks_.push_back(std::make_unique<Block>(*block));
        }
    }
    Pool(Pool&&) noexcept = default;
    Pool& operator=(Pool other) noexcept {
        blocks_.swap(other.blocks_);
        size_ = other.size_;
        return *this;
    }
    ~Pool() = default;

    std::uint32_t size() const { return size_; }

    Record& at(std::uint32_t i) { return blocks_[i >> kShift]->record(i & kMask); }
    const Record& at(std::uint32_t i) const { return blocks_[i >> kShift]->record(i & kMask); }

    std::uint32_t add() {
        if ((size_ >> kShift) == blocks_.size()) blocks_.emplace_back(new Block);
        new (blocks_[size_ >> kShift]->place(size_ & kMask)) Record;
        return size_++;
    }

    void shrinkTo(std::uint32_t size) { size_ = size; }

    /// The address of a 32-bit word of the pool, counted over all records.
    void* word(std::uint32_t w) {
        return reinterpret_cast<std::byte*>(&at(w / kWords)) + std::size_t{w % kWords} * 4;
    }

    std::size_t bytes() const { return blocks_.size() * sizeof(Block); }

  private:
    static constexpr std::uint32_t kShift = 10;
    static constexpr std::uint32_t kMask = (1U << kShift) - 1;
    /// Left as it is until a record is made in it: clearing it first would cost as much as the record.
    struct Block {
        alignas(Record) std::byte bytes[sizeof(Record) * (kMask + 1)];

        void* place(std::uint32_t i) { return bytes + sizeof(Record) * i; }
        Record& record(std::uint32_t i) { return *std::launder(reinterpret_cast<Record*>(place(i))); }
        const Record& record(std::uint32_t i) const {
            return *std::launder(reinterpret_cast<const Record*>(bytes + sizeof(Record) * i));
        }
    };
    std::vector<std::unique_ptr<Block>> blocks_;
    std::uint32_t size_ = 0;
};

}  // namespace loopmend
