// SPDX-License-Identifier: MIT
#include "fabric/pairing.h"

#include <algorithm>
#include <array>
#include <queue>
#include <unordered_map>

#include "fabric/itinerary.h"

namespace loopmend {

namespace {

constexpr std::int32_t kMove = 101;          // a loop left out or put in, in hundredths
constexpr std::int32_t kSubstitution = 100;  // two loops of which at least one host is the same
constexpr std::int32_t kStranger =
    250;  // two loops that share no host: dearer than leaving out and putting in

using Sequence = std::vector<EntryId>;

/// The entries of the normal form, yarn by yarn.
std::vector<Sequence> sequencesOf(const Fabric& f, const Numbering& n) {
    std::vector<Sequence> sequences;
    for (std::size_t i = 0; i < n.yarns.size(); ++i) {
        Sequence s;
        const bool reversed = n.reversed[i];
        for (EntryId e = reversed ? f[n.yarns[i]].last : f[n.yarns[i]].first; e;
             e = reversed ? f[e].prev : f[e].next) {
            if (n[e].yarn != 0) s.push_back(e);
        }
        sequences.push_back(std::move(s));
    }
    return sequences;
}

class Search {
  public:
    Search(const Fabric& meant, const Fabric& actual, Pairing& pairing, int effort)
        : m_(meant), a_(actual), out_(pairing), effort_(effort) {
        inMeant_.assign(static_cast<std::size_t>(m_.entryCount()), -1);
        inActual_.assign(static_cast<std::size_t>(a_.entryCount()), -1);
    }

    void pairYarn(const Sequence& meant, const Sequence& actual) {
        ms_ = &meant;
        as_ = &actual;
        for (std::size_t i = 0; i < meant.size(); ++i) inMeant_[at(meant[i])] = static_cast<std::int32_t>(i);
        for (std::size_t j = 0; j < actual.size(); ++j)
            inActual_[at(actual[j])] = static_cast<std::int32_t>(j);
        const std::int32_t end = search();
        keep(end);
        walkedMeant_.resize(inMeant_.size(), false);
        walkedActual_.resize(inActual_.size(), false);
        for (const EntryId e : meant) {
            inMeant_[at(e)] = -1;
            walkedMeant_[at(e)] = true;
        }
        for (const EntryId e : actual) {
            inActual_[at(e)] = -1;
            walkedActual_[at(e)] = true;
        }
    }

    /// Whether two paired loops have the same links under the final pairing.
    bool sameLinks(LoopId meant, LoopId actual) const {
        LinkId x = m_[meant].firstLink;
        LinkId y = a_[actual].firstLink;
        for (; x && y; x = m_[x].nextInLoop, y = a_[y].nextInLoop) {
            if (!sameForm(m_[x].form, a_[y].form) || out_.actual(m_[x].host) != a_[y].host) return false;
        }
        return !x && !y && m_[meant].flags.anchored == a_[actual].flags.anchored &&
               m_.run(meant) == a_.run(actual);
    }

  private:
    /// A stretch of the walk without differences: it begins at (i, j) after an edit that took di, dj entries.
    struct Node {
        std::int32_t parent;
        std::int32_t i, j;
        std::int8_t di, dj;
    };
    struct Open {
        std::int32_t cost;
        std::int32_t progress;
        std::int32_t order;
        std::int32_t i, j;
        std::int32_t node;
        bool operator<(const Open& o) const {  // for a queue that gives the best first
            if (cost != o.cost) return cost > o.cost;
            if (progress != o.progress) return progress < o.progress;
            return order > o.order;
        }
    };

    static std::size_t at(EntryId e) { return static_cast<std::size_t>(e.value); }

    static bool sameForm(const LinkForm& x, const LinkForm& y) {
        return x.twist == y.twist && x.side == y.side && x.part == y.part && x.plies == y.plies;
    }

    /// The actual partner of a meant entry under the edits made so far; none: unpaired. known: false if its
    /// yarn has not been walked yet.
    EntryId partner(EntryId meant, std::int32_t node, bool& known) const {
        const std::int32_t h = inMeant_[at(meant)];
        known = true;
        if (h < 0) {
            known = !walkedMeant_.empty() && walkedMeant_[at(meant)];
            return out_.actualOf[at(meant)];
        }
        std::int32_t n = node;
        while (n >= 0 && h < nodes_[static_cast<std::size_t>(n)].i) {
            const Node& edit = nodes_[static_cast<std::size_t>(n)];
            if (h >= edit.i - edit.di) {  // taken by this edit
                return edit.dj == 1 ? (*as_)[static_cast<std::size_t>(edit.j - 1)] : EntryId{};
            }
            n = edit.parent;
        }
        const std::int32_t shift =
            n >= 0 ? nodes_[static_cast<std::size_t>(n)].j - nodes_[static_cast<std::size_t>(n)].i : 0;
        const std::int32_t j = h + shift;
        return j >= 0 && j < static_cast<std::int32_t>(as_->size()) ? (*as_)[static_cast<std::size_t>(j)]
                                                                    : EntryId{};
    }

    bool pairedHosts(LoopId meantHost, LoopId actualHost, std::int32_t node) const {
        bool known = false;
        const EntryId p = partner(meantHost, node, known);
        if (known) return p == actualHost;
        // A yarn not walked yet: alike as long as the actual host is not walked either.
        return inActual_[at(actualHost)] < 0 && (walkedActual_.empty() || !walkedActual_[at(actualHost)]);
    }

    bool agree(EntryId x, EntryId y, std::int32_t node) const {
        if (m_.isLoop(x) != a_.isLoop(y) || m_.run(x) != a_.run(y)) return false;
        if (!m_.isLoop(x))
            return m_.passSide(x) == a_.passSide(y) && pairedHosts(m_.passed(x), a_.passed(y), node);
        if (m_[x].flags.anchored != a_[y].flags.anchored) return false;
        LinkId l = m_[x].firstLink;
        LinkId k = a_[y].firstLink;
        for (; l && k; l = m_[l].nextInLoop, k = a_[k].nextInLoop) {
            if (!sameForm(m_[l].form, a_[k].form) || !pairedHosts(m_[l].host, a_[k].host, node)) return false;
        }
        return !l && !k;
    }

    std::int32_t substitution(EntryId x, EntryId y, std::int32_t node) const {
        if (m_.isLoop(x) != a_.isLoop(y)) return 2 * kMove + 1;
        if (!m_.isLoop(x)) return kSubstitution;
        if (!m_[x].firstLink && !a_[y].firstLink) return kSubstitution;
        for (LinkId l = m_[x].firstLink; l; l = m_[l].nextInLoop) {
            for (LinkId k = a_[y].firstLink; k; k = a_[k].nextInLoop) {
                if (pairedHosts(m_[l].host, a_[k].host, node)) return kSubstitution;
            }
        }
        return kStranger;
    }

    std::int32_t search() {
        nodes_.clear();
        std::priority_queue<Open> open;
        std::unordered_map<std::int64_t, std::int32_t> seen;
        std::int32_t order = 0;
        open.push({0, 0, order++, 0, 0, -1});
        const auto n = static_cast<std::int32_t>(ms_->size());
        const auto k = static_cast<std::int32_t>(as_->size());
        Open farthest = open.top();
        int looked = 0;
        while (!open.empty()) {
            Open now = open.top();
            open.pop();
            while (now.i < n && now.j < k && agree((*ms_)[index(now.i)], (*as_)[index(now.j)], now.node)) {
                ++now.i;
                ++now.j;
            }
            if (now.i + now.j > farthest.i + farthest.j) farthest = now;
            if (now.i == n && now.j == k) return close(now);
            if (++looked > effort_) {
                out_.complete = false;
                return close(farthest);
            }
            const std::int64_t cell = (static_cast<std::int64_t>(now.i) << 32) | now.j;
            const auto [it, fresh] = seen.emplace(cell, now.cost);
            if (!fresh) {
                if (it->second <= now.cost) continue;
                it->second = now.cost;
            }
            const auto push = [&](std::int32_t cost, std::int8_t di, std::int8_t dj) {
                nodes_.push_back({now.node, now.i + di, now.j + dj, di, dj});
                open.push({now.cost + cost, now.i + di + now.j + dj, order++, now.i + di, now.j + dj,
                           static_cast<std::int32_t>(nodes_.size()) - 1});
            };
            if (now.i < n && now.j < k) {
                push(substitution((*ms_)[index(now.i)], (*as_)[index(now.j)], now.node), 1, 1);
            }
            if (now.i < n) push(kMove, 1, 0);
            if (now.j < k) push(kMove, 0, 1);
        }
        return close(farthest);
    }

    static std::size_t index(std::int32_t i) { return static_cast<std::size_t>(i); }

    /// Remembers where the last stretch ends, so that `keep` pairs no further.
    std::int32_t close(const Open& now) {
        endI_ = now.i;
        return now.node;
    }

    void keep(std::int32_t node) {
        std::int32_t end = endI_;
        for (std::int32_t n = node;; n = nodes_[index(n)].parent) {
            const std::int32_t i0 = n >= 0 ? nodes_[index(n)].i : 0;
            const std::int32_t j0 = n >= 0 ? nodes_[index(n)].j : 0;
            for (std::int32_t i = i0; i < end; ++i) tie((*ms_)[index(i)], (*as_)[index(j0 + i - i0)]);
            if (n < 0) return;
            const Node& edit = nodes_[index(n)];
            const EntryId x = edit.di == 1 ? (*ms_)[index(edit.i - 1)] : EntryId{};
            const EntryId y = edit.dj == 1 ? (*as_)[index(edit.j - 1)] : EntryId{};
            if (x && y && m_.isLoop(x) == a_.isLoop(y)) tie(x, y);
            end = edit.i - edit.di;
        }
    }

    void tie(EntryId meant, EntryId actual) {
        out_.actualOf[at(meant)] = actual;
        out_.meantOf[at(actual)] = meant;
    }

    const Fabric& m_;
    const Fabric& a_;
    Pairing& out_;
    int effort_;
    const Sequence* ms_ = nullptr;
    const Sequence* as_ = nullptr;
    std::vector<std::int32_t> inMeant_;
    std::vector<std::int32_t> inActual_;
    std::vector<bool> walkedMeant_;
    std::vector<bool> walkedActual_;
    std::vector<Node> nodes_;
    std::int32_t endI_ = 0;
};

bool counts(const Fabric& f, const Crossing& x) {
    return x.sign != 0 && !f.isNothing(x.a) && !f.isNothing(x.b);
}

/// Crossings as (right, left, sign) among actual loops, of one fabric that are not among the other's.
void compareCrossings(const Fabric& m, const Fabric& a, Pairing& p) {
    using Key = std::array<std::int32_t, 3>;
    const auto listed = [](const Fabric& f, const auto& actualOf) {
        std::vector<std::pair<Key, CrossingId>> keys;
        for (std::int32_t i = 0; i < f.crossingCount(); ++i) {
            const Crossing& x = f[CrossingId{i}];
            if (counts(f, x))
                keys.push_back({{actualOf(x.a).value, actualOf(x.b).value, x.sign}, CrossingId{i}});
        }
        std::sort(keys.begin(), keys.end());
        return keys;
    };
    const auto meant = listed(m, [&](LoopId l) { return p.actual(l); });
    const auto actual = listed(a, [](LoopId l) { return l; });
    const auto onlyIn = [](const auto& these, const auto& those, std::vector<CrossingId>& out) {
        for (const auto& [key, id] : these) {
            const auto it = std::lower_bound(those.begin(), those.end(), key,
                                             [](const auto& entry, const Key& k) { return entry.first < k; });
            if (it == those.end() || it->first != key) out.push_back(id);
        }
    };
    onlyIn(meant, actual, p.missingCrossings);
    onlyIn(actual, meant, p.extraCrossings);
}

}  // namespace

Pairing pairUp(const Fabric& meant, const Fabric& actual, int effort) {
    Pairing p;
    p.actualOf.assign(static_cast<std::size_t>(meant.entryCount()), EntryId{});
    p.meantOf.assign(static_cast<std::size_t>(actual.entryCount()), EntryId{});
    const Numbering nm = numbering(meant);
    const Numbering na = numbering(actual);
    const std::vector<Sequence> sm = sequencesOf(meant, nm);
    const std::vector<Sequence> sa = sequencesOf(actual, na);
    Search search(meant, actual, p, effort);
    static const Sequence kNone;
    for (std::size_t i = 0; i < std::max(sm.size(), sa.size()); ++i) {
        search.pairYarn(i < sm.size() ? sm[i] : kNone, i < sa.size() ? sa[i] : kNone);
    }
    for (const Sequence& s : sm) {
        for (const EntryId e : s) {
            if (p.actual(e)) continue;
            (meant.isLoop(e) ? p.missing : p.missingPasses).push_back(e);
        }
    }
    for (const Sequence& s : sa) {
        for (const EntryId e : s) {
            const EntryId x = p.meant(e);
            if (!actual.isLoop(e)) {
                if (!x || meant.passSide(x) != actual.passSide(e) ||
                    p.actual(meant.passed(x)) != actual.passed(e)) {
                    p.extraPasses.push_back(e);
                    if (x) p.missingPasses.push_back(x);
                }
            } else if (!x) {
                p.extra.push_back(e);
            } else if (!search.sameLinks(x, e)) {
                p.changed.push_back(e);
            }
        }
    }
    compareCrossings(meant, actual, p);
    return p;
}

}  // namespace loopmend
