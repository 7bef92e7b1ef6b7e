// SPDX-License-Identifier: MIT
#include "repair/pair_by_place.h"

#include <algorithm>

namespace loopmend {

namespace {

/// A loop that is one, or a strand that something holds where it goes by.
bool counts(const Fabric& f, EntryId e) {
    return f.isLoop(e) ? !f.isNothing(e) : !f.isFree(e);
}

class ByPlace {
  public:
    ByPlace(const Fabric& meant, const Fabric& actual) : m_(meant), a_(actual) {
        p_.actualOf.assign(static_cast<std::size_t>(m_.entryCount()), EntryId{});
        p_.meantOf.assign(static_cast<std::size_t>(a_.entryCount()), EntryId{});
    }

    Pairing make(const StitchPlaces& meantSpots, const StitchPlaces& actualSpots) {
        // The hitches of a cast-on stand in no row: they come first along the yarn, and alike.
        tieBeginnings();
        const auto& meantRows = meantSpots.rows();
        const auto& actualRows = actualSpots.rows();
        const std::size_t rows = std::min(meantRows.size(), actualRows.size());
        for (std::size_t r = 0; r < rows; ++r) {
            const std::vector<LoopId> x = real(m_, meantRows[r]);
            const std::vector<LoopId> y = real(a_, actualRows[r]);
            if (x.size() != y.size()) {
                p_.complete = false;
                break;
            }
            for (std::size_t i = 0; i < x.size(); ++i) tie(x[i], y[i]);
        }
        if (meantRows.size() != actualRows.size()) p_.complete = false;
        passes();
        list();
        crossings();
        return std::move(p_);
    }

  private:
    static std::vector<LoopId> real(const Fabric& f, const std::vector<LoopId>& row) {
        std::vector<LoopId> loops;
        for (const LoopId l : row) {
            if (!f.isNothing(l)) loops.push_back(l);
        }
        return loops;
    }
    void tie(EntryId meant, EntryId actual) {
        p_.actualOf[static_cast<std::size_t>(meant.value)] = actual;
        p_.meantOf[static_cast<std::size_t>(actual.value)] = meant;
    }

    void tieBeginnings() {
        const auto hitches = [](const Fabric& f) {
            std::vector<LoopId> anchored;
            for (EntryId e = f[YarnId{0}].first; e; e = f[e].next) {
                if (f.isLoop(e) && f[e].flags.anchored != 0) anchored.push_back(e);
            }
            return anchored;
        };
        if (m_.yarnCount() == 0 || a_.yarnCount() == 0) return;
        const std::vector<LoopId> x = hitches(m_);
        const std::vector<LoopId> y = hitches(a_);
        if (x.size() != y.size()) return;
        for (std::size_t i = 0; i < x.size(); ++i) tie(x[i], y[i]);
    }

    bool sameLinks(LoopId meant, LoopId actual) const {
        LinkId x = m_[meant].firstLink;
        LinkId y = a_[actual].firstLink;
        for (; x && y; x = m_[x].nextInLoop, y = a_[y].nextInLoop) {
            const LinkForm& f = m_[x].form;
            const LinkForm& g = a_[y].form;
            if (f.twist != g.twist || f.side != g.side || f.part != g.part || f.plies != g.plies ||
                p_.actual(m_[x].host) != a_[y].host)
                return false;
        }
        return !x && !y && m_[meant].flags.anchored == a_[actual].flags.anchored &&
               m_.run(meant) == a_.run(actual);
    }

    /// Strands that go by something between two paired loops, in their order along the yarn.
    void passes() {
        const auto after = [](const Fabric& f, LoopId l) {
            std::vector<PassId> found;
            for (EntryId e = f[l].next; e && !f.isLoop(e); e = f[e].next) {
                if (counts(f, e)) found.push_back(e);
            }
            return found;
        };
        for (std::int32_t i = 0; i < m_.entryCount(); ++i) {
            const LoopId m{i};
            const LoopId a = p_.actualOf[static_cast<std::size_t>(i)];
            if (!a || !m_.has(m) || !m_.isLoop(m)) continue;
            const std::vector<PassId> x = after(m_, m);
            const std::vector<PassId> y = after(a_, a);
            for (std::size_t k = 0; k < std::min(x.size(), y.size()); ++k) tie(x[k], y[k]);
        }
    }

    void list() {
        for (std::int32_t i = 0; i < m_.entryCount(); ++i) {
            const EntryId e{i};
            if (!m_.has(e) || !counts(m_, e) || p_.actual(e)) continue;
            (m_.isLoop(e) ? p_.missing : p_.missingPasses).push_back(e);
        }
        for (std::int32_t i = 0; i < a_.entryCount(); ++i) {
            const EntryId e{i};
            if (!a_.has(e) || !counts(a_, e)) continue;
            const EntryId x = p_.meant(e);
            if (a_.isLoop(e)) {
                if (!x) {
                    p_.extra.push_back(e);
                } else if (!sameLinks(x, e)) {
                    p_.changed.push_back(e);
                }
            } else if (!x || m_.passSide(x) != a_.passSide(e) || p_.actual(m_.passed(x)) != a_.passed(e)) {
                p_.extraPasses.push_back(e);
                if (x) p_.missingPasses.push_back(x);
            }
        }
    }

    void crossings() {
        const auto has = [](const Fabric& f, LoopId right, LoopId left, int sign) {
            if (!right || !left) return false;
            for (CrossingId c = f[right].crossing; c; c = f[c].a == right ? f[c].nextOfA : f[c].nextOfB) {
                if (f[c].sign == sign && f[c].a == right && f[c].b == left) return true;
            }
            return false;
        };
        for (std::int32_t i = 0; i < m_.crossingCount(); ++i) {
            const Crossing& c = m_[CrossingId{i}];
            if (c.sign != 0 && !has(a_, p_.actual(c.a), p_.actual(c.b), c.sign))
                p_.missingCrossings.push_back(CrossingId{i});
        }
        for (std::int32_t i = 0; i < a_.crossingCount(); ++i) {
            const Crossing& c = a_[CrossingId{i}];
            if (c.sign != 0 && !has(m_, p_.meant(c.a), p_.meant(c.b), c.sign))
                p_.extraCrossings.push_back(CrossingId{i});
        }
    }

    const Fabric& m_;
    const Fabric& a_;
    Pairing p_;
};

}  // namespace

Pairing pairByPlace(const Fabric& meant, const Fabric& actual, const StitchPlaces& meantSpots,
                    const StitchPlaces& actualSpots) {
    return ByPlace(meant, actual).make(meantSpots, actualSpots);
}

}  // namespace loopmend
