// SPDX-License-Identifier: MIT
#include "repair/yarn_need.h"

#include <algorithm>
#include <unordered_map>

namespace loopmend {

namespace {

/// Stitches to be made between two kept loops, in one strand.
struct Group {
    LoopId from;  ///< kept, in the meant fabric; none: the yarn's beginning
    LoopId to;    ///< none: the yarn runs on to its end
    std::vector<LoopId> loops;
    double lackUm = 0;  ///< below 0: too much
    int neighbors = 0;
};

class Need {
  public:
    Need(const Fabric& meant, const Fabric& actual, const std::vector<LoopId>& redo,
         const std::vector<LoopId>& now, const YarnTable& table)
        : m_(meant), a_(actual), now_(now), table_(table) {
        for (const LoopId l : redo) redo_.emplace(l.value, -1);
        for (const LoopId l : redo) group(l);
    }

    YarnNeed answer(const std::vector<LoopId>& redo) {
        YarnNeed need;
        std::vector<bool> told(groups_.size(), false);
        for (const LoopId l : redo) {
            const auto g = static_cast<std::size_t>(redo_.at(l.value));
            const Group& group = groups_[g];
            const int below = heightOf(l);
            if (isEnough(group)) continue;
            rung_[l.value] = below + 1;
            if (told[g]) continue;
            told[g] = true;
            weigh(group, need);
        }
        return need;
    }

  private:
    LoopId now(LoopId meant) const { return now_[static_cast<std::size_t>(meant.value)]; }

    void group(LoopId l) {
        if (redo_.at(l.value) >= 0) return;
        Group group;
        LoopId first = l;
        for (EntryId e = m_[l].prev; e; e = m_[e].prev) {
            if (!m_.isLoop(e)) continue;
            if (now(e)) {
                group.from = e;
                break;
            }
            first = e;
        }
        double want = group.from ? m_[group.from].strandUm : m_[m_[l].yarn].leadUm;
        const auto number = static_cast<std::int32_t>(groups_.size());
        for (EntryId e = first; e; e = m_[e].next) {
            if (!m_.isLoop(e)) continue;
            if (now(e)) {
                group.to = e;
                break;
            }
            want += m_[e].um + m_[e].strandUm;
            const auto at = redo_.find(e.value);
            if (at == redo_.end()) continue;
            at->second = number;
            group.loops.push_back(e);
        }
        if (group.from && group.to) {
            const double there = have(now(group.from), now(group.to));
            if (there >= 0) group.lackUm = want - there;
        }
        group.neighbors = neighbors(group);
        groups_.push_back(std::move(group));
    }

    /// Hands are never so even that a twentieth of a loop says anything.
    bool isEnough(const Group& group) const {
        return std::abs(group.lackUm) < 0.05 * (group.from ? a_[a_[now(group.from)].yarn].loopUm : 0) ||
               !group.from || !group.to;
    }

    /// Yarn between two kept loops; below 0: the one does not follow the other.
    double have(LoopId from, LoopId to) const {
        double um = a_[from].strandUm;
        for (EntryId e = a_[from].next; e != to; e = a_[e].next) {
            if (!e) return -1;
            if (a_.isLoop(e)) um += a_[e].um + a_[e].strandUm;
        }
        return um;
    }

    int neighbors(const Group& group) const {
        int found = 0;
        for (const bool back : {true, false}) {
            const LoopId start = back ? group.from : group.to;
            if (!start) continue;
            const LoopId kept = now(start);
            int side = 0;
            for (EntryId e = kept; e && side < table_.neighborsEachSide && a_.run(e) == a_.run(kept);
                 e = back ? a_[e].prev : a_[e].next) {
                if (a_.isLoop(e) && !a_.isNothing(e)) ++side;
            }
            found += side;
        }
        return found;
    }

    /// How many rungs of the kind lie below a loop in its column.
    int heightOf(LoopId l) const {
        int height = 0;
        for (LinkId k = m_[l].firstLink; k; k = m_[k].nextInLoop) {
            const auto at = rung_.find(m_[k].host.value);
            if (at != rung_.end()) height = std::max(height, at->second);
        }
        return height;
    }

    void weigh(const Group& group, YarnNeed& need) const {
        const double loopUm = std::max(1, a_[a_[now(group.from)].yarn].loopUm);
        int height = 0;
        for (const LoopId l : group.loops) height = std::max(height, heightOf(l));
        const double open = std::max(0.0, 1.0 - table_.closesPerRow * height);
        double lent = group.neighbors * table_.lends * loopUm * open;
        const bool hole =
            std::any_of(group.loops.begin(), group.loops.end(), [&](LoopId l) { return !m_[l].firstLink; });
        if (hole && group.lackUm > 0) lent = std::min(lent, group.lackUm * table_.lendsToHole);
        const double left = std::max(0.0, std::abs(group.lackUm) - lent);
        const double scale = table_.loopMm / (loopUm / 1000.0);
        const double each = left / 1000.0 / static_cast<double>(group.loops.size()) * scale;
        if (group.lackUm < 0) {
            if (each > table_.tightMm) need.leaves = std::max(need.leaves, Leaves::visible);
            return;
        }
        need.shortageMm += left / 1000.0;
        need.ease.insert(need.ease.end(), group.loops.begin(), group.loops.end());
        if (each > table_.visibleMm) {
            need.possible = false;
        } else if (each > table_.tightMm) {
            need.leaves = std::max(need.leaves, Leaves::visible);
        } else if (each > table_.exactMm) {
            need.leaves = std::max(need.leaves, Leaves::tight);
        }
    }

    const Fabric& m_;
    const Fabric& a_;
    const std::vector<LoopId>& now_;
    YarnTable table_;
    std::unordered_map<std::int32_t, std::int32_t> redo_;  ///< meant loop -> its group
    std::unordered_map<std::int32_t, int> rung_;           ///< ... -> which rung of its column it is, from 1
    std::vector<Group> groups_;
};

}  // namespace

YarnNeed yarnNeedOf(const Fabric& meant, const Fabric& actual, const std::vector<LoopId>& redo,
                    const std::vector<LoopId>& now, const YarnTable& table) {
    if (redo.empty()) return {};
    return Need(meant, actual, redo, now, table).answer(redo);
}

}  // namespace loopmend
