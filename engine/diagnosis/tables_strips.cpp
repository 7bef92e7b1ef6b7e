// SPDX-License-Identifier: MIT
// Hypotheses that differ in nothing but the column are told alike by most looks: far from what is looked at,
// nothing; above all of it, the same. Here is where that ends.
#include <algorithm>
#include <cstdlib>
#include <numeric>
#include <utility>

#include "diagnosis/tables.h"

namespace loopmend {

namespace {

constexpr int kOwn = 3;        // columns aside at which what was worked by count is its own (doubtOf)
constexpr int kAbout = 4;      // columns, and ...
constexpr int kAboutRows = 2;  // ... rows by which a box is widened before it is asked what reaches it
constexpr int kAtEdge = 6;     // columns at either edge (bothEnds)
constexpr int kFew = 8;        // stitches more or less

std::uint64_t mixed(std::uint64_t z) {
    z = (z ^ (z >> 30U)) * 0xBF58476D1CE4E5B9ULL;
    z = (z ^ (z >> 27U)) * 0x94D049BB133111EBULL;
    return z ^ (z >> 31U);
}

/// Numbers of keys, in the order in which they are first met.
class Numbering {
  public:
    Numbering() : slots_(1U << 16U) {}
    std::int32_t operator()(std::uint64_t key) {
        if (2 * static_cast<std::size_t>(count_) >= slots_.size()) grow();
        Slot& slot = find(key);
        if (slot.number < 0) slot = {key, count_++};
        return slot.number;
    }
    std::int32_t count() const { return count_; }

  private:
    struct Slot {
        std::uint64_t key = 0;
        std::int32_t number = -1;
    };
    Slot& find(std::uint64_t key) {
        std::size_t i = mixed(key) & (slots_.size() - 1);
        while (slots_[i].number >= 0 && slots_[i].key != key) i = (i + 1) & (slots_.size() - 1);
        return slots_[i];
    }
    void grow() {
        std::vector<Slot> old(slots_.size() * 2);
        old.swap(slots_);
        for (const Slot& slot : old) {
            if (slot.number >= 0) find(slot.key) = slot;
        }
    }
    std::vector<Slot> slots_;
    std::int32_t count_ = 0;
};

}  // namespace

void ApartColumns::add(const ApartColumns& other) {
    for (std::size_t i = 0; i < other.from.size() && other.from[i] != kFar; ++i)
        add(other.from[i], other.to[i]);
}

void ApartColumns::add(int low, int high) {
    if (low > high) return;
    // What touches is one.
    std::array<std::pair<int, int>, kMost + 1> list;
    std::size_t count = 0;
    bool placed = false;
    const auto put = [&](int first, int last) {
        if (count > 0 && first <= list[count - 1].second + 1) {
            list[count - 1].second = std::max(list[count - 1].second, last);
        } else {
            list[count++] = {first, last};
        }
    };
    for (std::size_t i = 0; i < from.size() && from[i] != kFar; ++i) {
        if (!placed && low < from[i]) {
            put(low, high);
            placed = true;
        }
        put(from[i], to[i]);
    }
    if (!placed) put(low, high);
    if (count > from.size()) {
        // One too many: the two that lie closest.
        std::size_t close = 0;
        for (std::size_t i = 1; i + 1 < count; ++i) {
            if (list[i + 1].first - list[i].second < list[close + 1].first - list[close].second) close = i;
        }
        list[close].second = list[close + 1].second;
        for (std::size_t i = close + 1; i + 1 < count; ++i) list[i] = list[i + 1];
        --count;
    }
    from.fill(kFar);
    to.fill(kFar);
    for (std::size_t i = 0; i < count; ++i) {
        from[i] = list[i].first;
        to[i] = list[i].second;
    }
}

void CaseTables::makeStrips() {
    // Of a step and the next one, as far as the end of a row is looked for by them: pairs by number.
    const int n = rows();
    std::vector<std::vector<std::uint64_t>> pairs(static_cast<std::size_t>(n) + 1);
    std::vector<const Step*> known;
    const auto numberOf = [&](const Step& step) {
        const auto it = std::find_if(known.rbegin(), known.rend(), [&](const Step* k) { return *k == step; });
        if (it != known.rend()) return static_cast<std::uint64_t>(known.rend() - it);
        known.push_back(&step);
        return static_cast<std::uint64_t>(known.size());
    };
    for (int r = 1; r <= n; ++r) {
        const std::vector<Step>& steps = script_.rows[static_cast<std::size_t>(r) - 1].steps;
        std::vector<std::uint64_t>& list = pairs[static_cast<std::size_t>(r)];
        list.resize(steps.size());
        std::uint64_t next = 0;
        for (std::size_t i = steps.size(); i-- > 0;) {
            const std::uint64_t own = numberOf(steps[i]);
            list[i] = (own << 32U) + next;
            next = own;
        }
    }
    // Of a large piece what comes again along the row is told alike a repeat further on.
    constexpr int kLongest = 60;
    again_.assign(static_cast<std::size_t>(n) + 1, 0);
    for (int r = n, again = 1; isLarge() && r >= 0; --r) {
        if (const int own = cloth_.repeat(r); own > 0) again = std::lcm(again, own);
        if (again > kLongest) break;
        again_[static_cast<std::size_t>(r)] = again;
    }
    Numbering numbering;
    Numbering pairNumber;
    stripOf_.clear();
    spreads_.assign(static_cast<std::size_t>(1 + *std::max_element(amongRows_.begin(), amongRows_.end())),
                    {});
    std::vector<std::int32_t> strips(hypotheses_.size());
    for (std::size_t h = 0; h < hypotheses_.size(); ++h) {
        const CaseHypothesis& it = hypotheses_[h];
        std::uint64_t words = 0;
        std::uint64_t like = 0;
        if (isListed(it)) {
            if (likeOf_[h] < 0) effect(h);
            like = static_cast<std::uint64_t>(likeOf_[h] >= 0 ? likeOf_[h] : effectOf_[h]) + 1;
            const int step = cloth_.stepOf(it.row, it.column);
            if (turnsBack_[it.kind]) {
                words = static_cast<std::uint64_t>(cloth_.moreBefore(it.row, step) + (1 << 12));
            } else if (likeOf_[h] >= 0 && standsByCount(it)) {
                words = static_cast<std::uint64_t>(pairNumber(pairs[it.row][static_cast<std::size_t>(step)]));
            }
        }
        std::uint64_t phase = 0;
        if (const int again = again_[it.row]; again > 0 && isListed(it) && standsByCount(it))
            phase = static_cast<std::uint64_t>(it.column % again);
        const std::uint64_t key =
            ((((((phase << 18U) + like) << 14U) + words) << 16U | it.row) << 2U | it.after) << 8U | it.kind;
        strips[h] = numbering(key);
    }
    stripOf_ = std::move(strips);
    endOfStrip_.assign(static_cast<std::size_t>(numbering.count()), -1);
    // Of large pieces all that the first look over the whole is to know, before she is asked for anything.
    if (isLarge()) {
        std::vector<bool> asked(endOfStrip_.size(), false);
        for (std::size_t h = 0; h < hypotheses_.size(); ++h) {
            if (stripOf_[h] < 0 || asked[static_cast<std::size_t>(stripOf_[h])]) continue;
            asked[static_cast<std::size_t>(stripOf_[h])] = true;
            endOf(h);
            if (likeOf_[h] >= 0) likeInRow(h);
        }
    }
    takenFrom_.assign(static_cast<std::size_t>(n) + 1, ApartColumns::kFar);
    for (int r = 0; r <= n; ++r) {
        int& lowest = takenFrom_[static_cast<std::size_t>(r)];
        for (int c = 1; c <= cloth_.width(r); ++c) {
            const int taken = cloth_.takenIn(r, c);
            if (taken > 0) lowest = std::min(lowest, taken);
        }
    }
}

bool CaseTables::isTakenIn(int row, int until) const {
    return takenFrom_[static_cast<std::size_t>(row)] <= until;
}

/// Columns aside from which on the odd places of what was worked by count come again as the words of their
/// rows do. Those of the edge of the window are left out (oddIn).
int CaseTables::steadyFrom(const CaseHypothesis& h, const CaseEffect& e) const {
    int steady = 0;
    for (const auto* list : {&e.odds, &e.free, &e.slack}) {
        for (const EffectOdd& odd : *list) {
            const int off = std::abs(odd.column);
            const int again = cloth_.repeat(std::clamp(h.row + odd.row, 0, rows()));
            if (again > 0 && 2 * again > e.along) return -1;
            if (again == 0) steady = std::max(steady, off);
            if (again == 0 || off > e.along) continue;
            const auto isThere = [&](int aside) {
                return std::any_of(list->begin(), list->end(), [&](const EffectOdd& other) {
                    return other.row == odd.row && other.sign == odd.sign && other.onRight == odd.onRight &&
                           other.onWrong == odd.onWrong && other.column == (odd.column < 0 ? -aside : aside);
                });
            };
            if (off + again <= e.along && !isThere(off + again)) steady = std::max(steady, off);
            if (off > again && !isThere(off - again)) steady = std::max(steady, off);
        }
    }
    return steady;
}

const CaseTables::Spread& CaseTables::spreadOf(const CaseHypothesis& h, const CaseEffect& e) const {
    auto& known = spreads_[static_cast<std::size_t>(amongRows_[h.row])];
    const auto [at, isNew] = known.try_emplace(&e);
    if (isNew) {
        Spread& s = at->second;
        for (const auto* list : {&e.odds, &e.free, &e.slack}) {
            for (const EffectOdd& odd : *list) {
                s.low = std::min<int>(s.low, odd.row);
                s.high = std::max<int>(s.high, odd.row);
                s.reach = std::max<int>(s.reach, std::abs(odd.column));
            }
        }
        s.copies = e.along > 0;
        if (again_[h.row] > 0 && e.aside) s.steady = steadyFrom(h, e);
    }
    return at->second;
}

/// How far aside a column may come between the row of a mistake and those from `low` to `high`.
int CaseTables::driftAbout(const CaseHypothesis& h, int low, int high) const {
    const int from = std::clamp(std::min<int>(low, h.row), 0, rows());
    const int to = std::clamp(std::max<int>(high, h.row), 0, rows());
    return std::max(cloth_.driftBetween(h.row, from), cloth_.driftBetween(h.row, to));
}

/// What lies about a mistake, or up its column, for a look at a box: `about` is all that matters of the
/// cloth, `looked` what is asked about. `inside`: between what lies at its sides it is all the same.
ApartColumns CaseTables::apartAbout(std::size_t number, const Box& about, const Box& looked,
                                    bool inside) const {
    const CaseHypothesis& h = at(number);
    ApartColumns apart;
    if (h.row > about.rowTo + kAboutRows) return apart;
    const auto withinSides = [&](int asideRight, int asideLeft) {
        const int first = about.columnFrom + asideRight;
        const int last = about.columnTo - asideLeft;
        const int low = std::min({about.columnFrom - asideRight, last, looked.columnTo - kOwn});
        const int high = std::max({about.columnTo + asideLeft, first, looked.columnFrom + kOwn});
        if (inside && first < last) {
            apart.add(low, first);
            apart.add(last, high);
        } else {
            apart.add(low, high);
        }
        return apart;
    };
    const auto within = [&](int aside) { return withinSides(aside, aside); };
    if (!isListed(h)) {
        const int form = h.kind - kinds();
        if (form == kColumn) return within(driftAbout(h, h.row, about.rowTo + 1));
        if (form >= kColumn) return ApartColumns::all();
        return h.row < about.rowFrom ? apart : within(0);
    }
    if (likeOf_[number] < 0) {
        const CaseEffect& e = effect(number);
        const Spread& s = spreadOf(h, e);
        if (standsByCount(h) || s.copies) return ApartColumns::all();
        if (!e.goesOn && anchorRow(h) + s.high < about.rowFrom) return apart;
        return within(s.reach + driftAbout(h, h.row + std::min(s.low, -kOwn), about.rowTo + 1));
    }
    // Whatever its own window is like, it is asked only where that of its like reaches.
    const CaseEffect& e = likeInRow(number);
    const Spread& s = spreadOf(h, e);
    const Box wide{about.rowFrom - kAboutRows, about.rowTo + kAboutRows, about.columnFrom - kAbout,
                   about.columnTo + kAbout};
    const CaseEffect& like = likeIt(number);
    const bool changes = standsByCount(h) && !like.off.empty() && like.off.front() != 0;
    if (changes && h.row + CaseEffects::kEndRows + kAboutRows >= wide.rowFrom) {
        // Something may be odd where its row ends.
        int width = cloth_.width(h.row);
        for (int r = h.row; r <= std::min(rows(), h.row + CaseEffects::kEndRows + kAboutRows); ++r)
            width = std::min(width, cloth_.width(r));
        if (cloth_.runsLeft(h.row) ? wide.columnTo >= width - kAbout : wide.columnFrom <= 1 + kAbout)
            return ApartColumns::all();
    }
    if (!e.goesOn && h.row + s.high < wide.rowFrom) return apart;
    if (s.copies && s.steady < 0) return ApartColumns::all();
    const int aside = kAbout + driftAbout(h, h.row + std::min(s.low, -kOwn), wide.rowTo + 1);
    if (!s.copies) return within(aside + s.reach);
    // Beside an edge of the cloth something of the edge of the window shows, too.
    int narrowest = cloth_.width(h.row);
    for (int r = std::max(0, wide.rowFrom); r <= std::min(rows(), wide.rowTo); ++r)
        narrowest = std::min(narrowest, cloth_.width(r));
    return withinSides(aside + (wide.columnFrom <= kOwn ? s.reach : s.steady),
                       aside + (wide.columnTo > narrowest - kOwn ? s.reach : s.steady));
}

/// Where the end of its row is near, what becomes of that is each one's own (endOf).
void CaseTables::addNearEnd(const CaseHypothesis& h, ApartColumns& apart) const {
    const int from = cloth_.columnOfStep(h.row, std::max(0, cloth_.steps(h.row) - CaseEffects::kEnd - 2));
    if (cloth_.runsLeft(h.row)) {
        apart.add(from, ApartColumns::kFar - 1);
    } else {
        apart.add(-ApartColumns::kFar, from);
    }
}

/// In which third of its row what is plainest of it lies.
ApartColumns CaseTables::apartInThirds(std::size_t number, const Look& look) const {
    const CaseHypothesis& h = at(number);
    const CaseEffect& e = likeInRow(number);
    if ((isListed(h) && turnsBack_[h.kind]) || driftsFar(h)) return ApartColumns::all();
    const bool byCount = isListed(h) && standsByCount(h);
    if (e.along > 0 && !(e.aside && byCount)) return ApartColumns::all();
    ApartColumns apart;
    const int few = isLarge() ? 2 : kFew;
    if (byCount) {
        if (!isLarge()) addNearEnd(h, apart);
        // Of what lies right under the needle, and where she is told to look, less is doubted.
        if (h.row + 1 >= rows()) apart.add(look.columnTo - kOwn, look.columnFrom + kOwn);
    }
    const std::int32_t first = isListed(h) ? e.plainest[look.side == Side::right ? 0 : 1] : 0;
    if (first < 0) return apart;
    // It is one of the places as plain as the plainest in that row: the right-most of them.
    const EffectOdd& plainest = e.odds[static_cast<std::size_t>(first)];
    const int row = h.row + plainest.row;
    if ((anchorRow(h) != h.row && plainest.row >= kLowOfRun) || row < 0 || row > rows() + e.moreRows) {
        // Of a deep run any of its rows.
        const Spread& s = spreadOf(h, e);
        if (byCount || s.copies) return ApartColumns::all();
        const int low = std::max(0, h.row + std::min(s.low, 0));
        const int high = std::min(rows(), anchorRow(h) + std::max(s.high, 0) + 1);
        int least = cloth_.width(h.row);
        int most = least;
        for (int r = low; r <= high; ++r) {
            least = std::min(least, cloth_.width(r));
            most = std::max(most, cloth_.width(r));
        }
        const int aside = s.reach + driftAbout(h, low, high) + kOwn;
        for (const int third : {1, 2})
            apart.add(third * (least - few) / 3 - aside, third * (most + few) / 3 + 2 + aside);
        return apart;
    }
    const int width = cloth_.width(std::min(row, rows()));
    const int again = e.along > 0 ? cloth_.repeat(std::min(row, rows())) : 0;
    int least = ApartColumns::kFar;
    int reach = 0;
    bool along = false;  // copies of it go along to the right edge
    bool some = false;   // shows wherever it is
    for (const EffectOdd& odd : e.odds) {
        if (odd.row != plainest.row || easeOf(odd.sign) != easeOf(plainest.sign) ||
            !(look.side == Side::right ? odd.onRight : odd.onWrong))
            continue;
        const int off = std::abs(odd.column);
        const bool comesAgain = again > 0 && again <= e.along && off > again;
        const bool kept = !comesAgain || off <= e.along;
        some = some || kept;
        along = along || (comesAgain && kept && odd.column < 0 && off > e.along - again);
        least = std::min<int>(least, odd.column);
        reach = std::max(reach, kept ? 0 : off);
    }
    if (!some) return ApartColumns::all();
    const int aside = driftAbout(h, row, row + 1) + kOwn;
    if (reach > 0) {
        // Of the edge of the window, but kept beside that of the cloth.
        const int right = reach + aside;
        const int left = width - reach - aside;
        apart.add(isLarge() ? right : -ApartColumns::kFar, right);
        apart.add(left, isLarge() ? left : ApartColumns::kFar - 1);
    }
    for (const int third : {1, 2}) {
        if (along) break;
        apart.add(third * (width - few) / 3 - least - aside, third * (width + few) / 3 + 2 - least + aside);
    }
    return apart;
}

/// What goes along its row is called alike wherever it was made: at what is plainest, and as plain in that
/// row, there is one sign, and near enough to be there beside either edge.
bool CaseTables::isPlainestAlike(const CaseHypothesis& h, const CaseEffect& e) const {
    const bool right = e.plainest[0] >= 0;
    const std::int32_t first = right ? e.plainest[0] : e.plainest[1];
    if (first < 0) return true;
    const EffectOdd& best = e.odds[static_cast<std::size_t>(first)];
    const int row = h.row + best.row;
    if (anchorRow(h) != h.row || row < 0 || row > rows()) return false;
    bool near = false;
    for (const EffectOdd& odd : e.odds) {
        if (odd.row != best.row || !(right ? odd.onRight : odd.onWrong) ||
            easeOf(odd.sign) != easeOf(best.sign))
            continue;
        if (odd.sign != best.sign) return false;
        near = near || std::abs(odd.column) <= e.along;
    }
    return near;
}

ApartColumns CaseTables::apartSeen(std::size_t number, int columnFrom, int columnTo) const {
    const CaseHypothesis& h = at(number);
    if (isWholeRow(h)) return ApartColumns::all();
    const CaseEffect& e = likeInRow(number);
    const Spread& s = spreadOf(h, e);
    if ((aboveOf(h) != nullptr && !isLarge()) || driftsFar(h)) return ApartColumns::all();
    if (s.copies && s.steady < 0 && (columnTo >= 1 || !isPlainestAlike(h, e))) return ApartColumns::all();
    ApartColumns apart;
    if (columnTo < 1) return apart;
    const int drift = driftAbout(h, h.row + std::min(s.low, 0), anchorRow(h) + std::max(s.high, 0) + 1);
    const int aside = (s.steady >= 0 ? s.steady : s.reach) + kOwn + drift;
    // Beside the right edge it may lie beyond.
    const int edge = s.reach + kOwn + drift;
    apart.add(isLarge() ? edge : -ApartColumns::kFar, edge);
    apart.add(columnFrom - aside, columnTo + aside);
    return apart;
}

ApartColumns CaseTables::apartInCount(std::size_t number, int row) const {
    const CaseHypothesis& h = at(number);
    ApartColumns apart;
    if (isWholeRow(h)) return ApartColumns::all();
    if (row < h.row || !isListed(h)) return apart;
    const Fault& f = *fault(h.kind);
    // Lacking stitches are taken in where their column goes into a decrease.
    const bool healing = isTakenIn(h.row, row);
    if (f.misread()) return ApartColumns::all();
    if (f.suffered()) {
        const CaseEffect& e = effect(number);
        return healing && row - anchorRow(h) >= static_cast<int>(e.off.size()) ? ApartColumns::all() : apart;
    }
    return healing && !standsByCount(h) ? ApartColumns::all() : apart;
}

ApartColumns CaseTables::apartInSpan(std::size_t number, int row, int from, int to) const {
    const CaseHypothesis& h = at(number);
    ApartColumns apart = apartInCount(number, row);
    if (apart.from[0] != ApartColumns::kFar || (from <= 1 && to >= cloth_.width(row))) return apart;
    if (countedIn(number, row) == 0) return apart;
    if (standsByCount(h) && row >= h.row) {
        addFoundAt(number, row, from, apart);
        addFoundAt(number, row, to, apart);
        return apart;
    }
    // In it or beside it.
    const int aside = driftAbout(h, h.row, row) + 1;
    apart.add(from - aside, from + aside);
    apart.add(to - aside, to + aside);
    return apart;
}

/// As foundAt(): what was meant in a column stands elsewhere if the mistake lies before it as worked.
void CaseTables::addFoundAt(std::size_t number, int row, int column, ApartColumns& apart) const {
    const CaseHypothesis& h = at(number);
    if (column <= 1 || column >= cloth_.width(row)) return;
    const int q = featureRow_[static_cast<std::size_t>(row)][static_cast<std::size_t>(column)];
    if (q > h.row) return;
    const Sinking& sinking = sinkingFrom(row, column);
    if (q == h.row) {
        const int c = sinking.down[static_cast<std::size_t>(q)];
        apart.add(c - 1, c + 1);
        return;
    }
    // The steps that may have taken it, or the ones that it was lost to.
    const int c = sinking.down[static_cast<std::size_t>(h.row) - 1];
    const bool left = cloth_.runsLeft(h.row);
    const int host = left ? c - 1 : cloth_.width(h.row - 1) - c;
    const int lost = std::max(0, -static_cast<int>(likeIt(number).left));
    const int steps = cloth_.steps(h.row);
    const auto firstWhere = [&](const auto& holds) {
        int low = 0;
        int high = steps;
        while (low < high) {
            const int middle = (low + high) / 2;
            if (holds(middle)) {
                high = middle;
            } else {
                low = middle + 1;
            }
        }
        return low;
    };
    const int first = firstWhere([&](int i) { return cloth_.takenBefore(h.row, i + 1) + lost > host; });
    const int beyond = firstWhere([&](int i) { return cloth_.takenBefore(h.row, i) > host; });
    const int width = cloth_.width(h.row);
    int low = cloth_.madeBefore(h.row, first) - 1;
    int high = cloth_.madeBefore(h.row, std::min(steps, beyond)) + 2;
    if (low <= 1) low = -ApartColumns::kFar;
    if (high >= width) high = ApartColumns::kFar - 1;
    if (left) {
        apart.add(low, high);
    } else {
        apart.add(width + 1 - high, width + 1 - low);
    }
}

ApartColumns CaseTables::apart(const Look& look, std::size_t number) const {
    const CaseHypothesis& h = at(number);
    if (isWholeRow(h)) return ApartColumns::all();
    const Box box{std::min(look.rowFrom, look.rowTo), std::max(look.rowFrom, look.rowTo),
                  std::min(look.columnFrom, look.columnTo), std::max(look.columnFrom, look.columnTo)};
    const auto about = [&](int r, int c) {
        // Of a large piece: wherever in a patch something lies, if that place was not told (apartOfTold).
        const bool inside =
            isLarge() && (look.way == LookWay::searchPatch || look.way == LookWay::slantLight ||
                          look.way == LookWay::stretchPatch);
        return apartAbout(number, {box.rowFrom - r, box.rowTo + r, box.columnFrom - c, box.columnTo + c}, box,
                          inside);
    };
    switch (look.way) {
        case LookWay::armsLength: return apartInThirds(number, look);
        case LookWay::countSpan: {
            const int row = std::clamp(look.rowFrom, 0, rows());
            return apartInSpan(number, row, box.columnFrom, box.columnTo);
        }
        case LookWay::rowFits: return apartInCount(number, std::min(look.rowFrom - 1, rows()));
        case LookWay::bothEnds: {
            ApartColumns apart;
            if (!isListed(h) || !fault(h.kind)->suffered()) return apart;
            apart.add(-ApartColumns::kFar, kAtEdge);
            apart.add(cloth_.width(h.row) - kAtEdge, ApartColumns::kFar - 1);
            return apart;
        }
        case LookWay::closeLook: return about(1, 2);
        case LookWay::tug: return about(3, 4);
        case LookWay::follow: return ApartColumns::all();
        default: return about(0, 0);
    }
}

}  // namespace loopmend
