// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "shape/relax_bed.h"
#include "shape/relax_team.h"

namespace loopmend {

/// Pieces of yarn that lie near each other, and the forces where they touch.
///
/// The list holds every pair nearer than contact distance + skin; it serves until a point has moved by nearly
/// half the skin. Pairs are summed in four fixed shares whatever the number of threads, so that the sums are
/// the same bytes.
class Contacts {
  public:
    static constexpr int kShares = 4;

    struct Sums {
        double energy = 0;
        float nearest2 = 1e9F;    ///< smallest squared distance, in radii
        float closeness2 = 1e9F;  ///< smallest squared distance over contact distance
        double pull[2] = {0, 0};  ///< on the periods of a patch that repeats
    };

    /// skin in radii.
    void rebuild(const RodBed& bed, Team& team, float skin);
    /// A point moved so far (squared) since then that a pair may be missing.
    bool worn(float moved2) const { return moved2 > 0.2F * skin_ * skin_; }
    const Quad& placed(int point) const { return placed_[static_cast<std::size_t>(point)]; }
    std::size_t size() const { return pairs_.size(); }

    /// One share. Adds forces into the share's own row; the fourth component adds up the load of contacts.
    void forces(const RodBed& bed, int share, float thickness, float stiffness);
    const Sums& sums(int share) const { return sums_[static_cast<std::size_t>(share)]; }
    /// What the shares say about a point.
    Quad at(int point) const {
        Quad sum{0, 0, 0, 0};
        for (const Row& row : rows_) {
            if (point >= row.first && point < row.end) sum += row.force[static_cast<std::size_t>(point)];
        }
        return sum;
    }

  private:
    struct Pair {
        std::int32_t i;
        std::int32_t j;
    };
    struct Shift {
        float x;  ///< periods that j is moved by
        float y;
    };
    struct Row {
        int first = 0;
        int end = 0;
        std::vector<Quad> force;
    };

    void findIn(const RodBed& bed, Team& team);
    void findPeriodic(const RodBed& bed);
    void share(const RodBed& bed);
    template <bool periodic>
    void forcesOf(const RodBed& bed, int share, float thickness, float stiffness);

    float skin_ = 0;
    std::vector<Pair> pairs_;    ///< in groups of four
    std::vector<Shift> shifts_;  ///< of a patch that repeats
    std::vector<Quad> placed_;
    std::array<std::size_t, kShares + 1> cuts_{};  ///< of pairs_
    std::array<Row, kShares> rows_;
    std::array<Sums, kShares> sums_;

    // The grid, kept from one rebuilding to the next.
    std::vector<float> lengths_;  ///< of pieces as they lie
    std::vector<int> cellOf_;
    std::vector<int> begin_;
    std::vector<int> in_;
    std::vector<std::vector<Pair>> found_;
};

}  // namespace loopmend
