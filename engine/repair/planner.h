// SPDX-License-Identifier: MIT
#pragma once

#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "repair/builder.h"

namespace loopmend {

/// As in plan.h, where the pairing is known.
std::vector<std::string> differencesOf(const Fabric& meant, const Fabric& actual, const Pairing& pairing,
                                       const StitchPlaces& meantSpots, const StitchPlaces& actualSpots);

/// Two fabrics held side by side once, and generators of plans tried over them one after another, each in the
/// journal and taken back.
class Planner {
  public:
    using Generator = std::function<bool(const Situation&, PlanBuilder&)>;
    struct Tried {
        bool made = false;  ///< the generator found a way; it need not be what was meant
        Plan plan;
    };
    struct Refused {
        PlanFamily family;
        std::string why;
    };

    Planner(const Fabric& meant, const Script& script, Knitter& knitter, const PlanAsk& ask);
    Planner(const Planner&) = delete;
    Planner& operator=(const Planner&) = delete;

    /// The knot is as it was meant; lengths may still differ.
    bool sameKnot() const { return sameKnot_; }
    const Situation& situation() const { return *situation_; }
    Tried tryOut(PlanFamily family, const Generator& make);
    /// Plans that can reach what was meant, cheapest first.
    std::vector<Plan> provable();
    /// Families that did not, and why (empty: nothing to say).
    const std::vector<Refused>& refused() const { return refused_; }

  private:
    void add(PlanFamily family, const Generator& make);
    void keep(PlanFamily family, Tried tried);
    void addColumns(PlanFamily family);
    void addTink();
    void addRip();
    void addDepths();
    void addBackInto();
    bool isQuickest(const Plan& plan) const;
    std::size_t stitchesFrom(int row) const;
    void addRejoined();
    void addStartAgain();

    const std::string& meantKnot();

    std::string meantKnot_;  ///< empty until it is asked for
    Knitter& knitter_;
    PlanAsk ask_;
    bool sameKnot_ = false;
    Pairing pairing_;
    std::unique_ptr<StitchPlaces> meantSpots_;
    std::unique_ptr<StitchPlaces> actualSpots_;
    std::unique_ptr<Situation> situation_;
    std::vector<bool> there_;
    std::vector<Plan> plans_;
    std::vector<Refused> refused_;
};

}  // namespace loopmend
