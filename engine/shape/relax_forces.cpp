// SPDX-License-Identifier: MIT
#include "shape/relax_forces.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace loopmend {

void Forces::compute(const RodBed& bed, Contacts& contacts, Team& team, float thickness, float friction,
                     const std::vector<Quad>& velocity) {
    team.run(Contacts::kShares,
             [&](int share) { contacts.forces(bed, share, thickness, stiffness_.contact); });
    team.run(static_cast<int>(blocks_.size()), [&](int block) {
        onBlock(bed, contacts, block, friction);
        if (bed.images.empty()) sum(bed, block, velocity);
    });
    energy_ = power_ = force2_ = velocity2_ = pull_[0] = pull_[1] = 0;
    nearest2_ = closeness2_ = 1e9F;
    for (int k = 0; k < Contacts::kShares; ++k) {
        const Contacts::Sums& s = contacts.sums(k);
        energy_ += s.energy;
        nearest2_ = std::min(nearest2_, s.nearest2);
        closeness2_ = std::min(closeness2_, s.closeness2);
        for (int d = 0; d < 2; ++d) pull_[d] += s.pull[d];
    }
    if (!bed.images.empty()) {
        for (const RodBed::Image& image : bed.images) {
            Quad& f = force_[static_cast<std::size_t>(image.point)];
            force_[static_cast<std::size_t>(image.of)] += f;
            pull_[0] += static_cast<double>(f[0]);
            f = Quad{0, 0, 0, 0};
        }
        for (int b = 0; b < static_cast<int>(blocks_.size()); ++b) sum(bed, b, velocity);
    }
    for (const Block& b : blocks_) {
        energy_ += b.energy;
        power_ += b.power;
        force2_ += b.force2;
        velocity2_ += b.velocity2;
    }
}

void Forces::onBlock(const RodBed& bed, const Contacts& contacts, int block, float friction) {
    const int from = block * kBlock;
    const int to = std::min(bed.n, from + kBlock);
    // Entry k of these belongs to point from - 1 + k.
    std::array<Quad, kBlock + 2> pull;
    std::array<Quad, kBlock + 2> corner;
    std::array<Quad, kBlock + 2> touch;
    const Quad none{0, 0, 0, 0};
    double energy = 0;
    for (int i = from - 1; i <= to; ++i) {
        const auto k = static_cast<std::size_t>(i - from + 1);
        pull[k] = corner[k] = touch[k] = none;
        if (i < 0 || i >= bed.n) continue;
        const auto p = static_cast<std::size_t>(i);
        const bool own = i >= from && i < to;
        touch[k] = contacts.at(i);
        if (bed.rest[p] > 0) {
            const Quad d = bed.x[p + 1] - bed.x[p];
            const float l = std::sqrt(dot3(d, d)) + 1e-9F;
            const float e = (l - bed.rest[p]) / bed.rest[p];
            pull[k] = d * (stiffness_.stretch * e / l);
            if (own) energy += static_cast<double>(0.5F * stiffness_.stretch * bed.rest[p] * e * e);
        }
        if (bed.bend[p] > 0) {
            const Quad c = bed.x[p - 1] - bed.x[p] * 2 + bed.x[p + 1];
            const float size = std::sqrt(dot3(c, c)) + 1e-6F;
            const float open = std::max(-1.0F, 1 - bed.set[p] / size);
            corner[k] = c * (bed.bend[p] * open);
            if (own) {
                const float off = size - bed.set[p];
                energy += static_cast<double>(0.5F * bed.bend[p] * off * off);
            }
        }
    }
    for (int i = from; i < to; ++i) {
        const auto k = static_cast<std::size_t>(i - from + 1);
        const auto p = static_cast<std::size_t>(i);
        Quad f = pull[k] - pull[k - 1] - corner[k - 1] + corner[k] * 2 - corner[k + 1] + touch[k];
        const float z = bed.x[p][2];
        f[2] -= stiffness_.flatten * z;
        energy += static_cast<double>(0.5F * stiffness_.flatten * z * z);
        f[3] = 0;
        float keep = bed.free[p];
        float rub = bed.grip.empty() ? 0.0F : bed.grip[p];
        if (friction > 0) {
            const float load = 0.25F * (touch[k - 1][3] + touch[k + 1][3]) + 0.5F * touch[k][3];
            rub += friction * (load + kCling);
        }
        if (rub > 0 && keep > 0) keep = std::max(0.0F, 1 - rub / (std::sqrt(dot3(f, f)) + 1e-9F));
        // Images pass on what they get to the point they show.
        if (bed.free[p] == 0 && !bed.images.empty()) keep = 1;
        force_[p] = f * keep;
    }
    blocks_[static_cast<std::size_t>(block)].energy = energy;
}

void Forces::sum(const RodBed& bed, int block, const std::vector<Quad>& velocity) {
    Block& b = blocks_[static_cast<std::size_t>(block)];
    b.power = b.force2 = b.velocity2 = 0;
    const int to = std::min(bed.n, (block + 1) * kBlock);
    Quad pv{0, 0, 0, 0};
    Quad ff = pv;
    Quad vv = pv;
    for (int i = block * kBlock; i < to; ++i) {
        const Quad f = force_[static_cast<std::size_t>(i)];
        const Quad v = velocity[static_cast<std::size_t>(i)];
        pv += f * v;
        ff += f * f;
        vv += v * v;
    }
    for (int d = 0; d < 3; ++d) {
        b.power += static_cast<double>(pv[d]);
        b.force2 += static_cast<double>(ff[d]);
        b.velocity2 += static_cast<double>(vv[d]);
    }
}

}  // namespace loopmend
