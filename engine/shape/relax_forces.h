// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "shape/relax_bed.h"
#include "shape/relax_contacts.h"
#include "shape/relax_team.h"

namespace loopmend {

/// The energy of a bed and its forces.
///
/// Per piece of rest length L, stretched by the share e:  1/2 stretch L e^2
/// Per corner with second difference c, set s:            1/2 (|c| - s)^2 / L^3
///   (the set has a size and no plane: a strand turns freely about itself)
/// Per pair of pieces that overlap by p:                  contact (1/2 p^2 + 3/2 p^4)
/// Per point:                                             1/2 flatten z^2
///
/// Friction is no energy: a point that carries the load N of contacts is not moved by forces up to
/// friction x (N + a little): dry friction, direction left open. The little is the cling of wool and table,
/// without which an end of yarn that touches nothing would never come to rest. A grip (Rod::grip) adds to it
/// from the first step.
class Forces {
  public:
    struct Stiffness {
        float stretch = 50;
        float contact = 10;
        float flatten = 0;
    };

    Forces(const RodBed& bed, const Stiffness& stiffness) : stiffness_(stiffness) {
        force_.resize(bed.x.size());
        blocks_.resize(static_cast<std::size_t>((bed.n + kBlock - 1) / kBlock));
    }

    /// At the places of the bed. thickness: share of the full one. Along the velocities, power is summed.
    void compute(const RodBed& bed, Contacts& contacts, Team& team, float thickness, float friction,
                 const std::vector<Quad>& velocity);

    const std::vector<Quad>& force() const { return force_; }
    double energy() const { return energy_; }
    double power() const { return power_; }
    double force2() const { return force2_; }
    double velocity2() const { return velocity2_; }
    float nearest2() const { return nearest2_; }
    float closeness2() const { return closeness2_; }
    const double* pull() const { return pull_; }

  private:
    static constexpr int kBlock = 512;
    static constexpr float kCling = 0.02F;
    struct Block {
        double energy = 0;
        double power = 0;
        double force2 = 0;
        double velocity2 = 0;
    };

    void onBlock(const RodBed& bed, const Contacts& contacts, int block, float friction);
    void sum(const RodBed& bed, int block, const std::vector<Quad>& velocity);

    Stiffness stiffness_;
    std::vector<Quad> force_;
    std::vector<Block> blocks_;
    double energy_ = 0;
    double power_ = 0;
    double force2_ = 0;
    double velocity2_ = 0;
    float nearest2_ = 0;
    float closeness2_ = 0;
    double pull_[2] = {0, 0};
};

}  // namespace loopmend
