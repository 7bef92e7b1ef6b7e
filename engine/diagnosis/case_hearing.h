// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstdint>
#include <utility>
#include <vector>

#include "diagnosis/case.h"
#include "diagnosis/case_chances.h"
#include "diagnosis/tables.h"

/// One answer held against millions of hypotheses: what it says of those that differ in their column alone is
/// worked out once.
namespace loopmend {

/// Looks of one way that should have shown a hypothesis, and did not. Few are told apart: each is kept once,
/// and by hypothesis only which.
class VainLooks {
  public:
    bool empty() const { return of_.empty(); }
    void clear();
    /// Nothing was in vain yet, of so many hypotheses.
    void begin(std::size_t hypotheses);
    /// As InVain::also of that hypothesis.
    double also(std::size_t hypothesis, double missed);

  private:
    struct Next {
        double missed = 0;
        std::uint32_t to = 0;
        double chance = 0;
    };
    std::vector<InVain> states_;
    std::vector<std::vector<Next>> next_;  ///< by state: where a look in vain leads
    std::vector<std::uint32_t> of_;        ///< by hypothesis
};

/// Of the strip of a hypothesis: where what a note says is not the same all along.
ApartColumns apartOf(const CaseNote& note, const CaseTables& tables, std::size_t hypothesis);

/// What an answer says of strips (CaseTables::stripOf), part by part, once it was worked out.
class Heard {
  public:
    explicit Heard(std::size_t strips) : strips_(strips) {}

    /// Its part of the strip; nullptr: it stands alone. apartOf() tells where the strip's parts end.
    struct Part {
        bool known = false;
        bool vain = false;  ///< `chance` is that of one look in vain, without those before
        double chance = 0;
    };
    template <class ApartOf>
    Part* part(std::int32_t strip, int column, ApartOf apartOf) {
        if (strip < 0) return nullptr;
        Strip& s = strips_[static_cast<std::size_t>(strip)];
        if (!s.known) {
            s.known = true;
            s.apart = apartOf();
        }
        const int part = s.apart.part(column);
        return part < 0 ? nullptr : &s.parts[static_cast<std::size_t>(part)];
    }

  private:
    struct Strip {
        bool known = false;
        ApartColumns apart;
        std::array<Part, ApartColumns::kParts> parts;
    };
    std::vector<Strip> strips_;
};

}  // namespace loopmend
