// SPDX-License-Identifier: MIT
// A trial that is gone on with by reading, without the meant knitting beside it: of a needle no more is asked
// than which columns are there.
#include <algorithm>

#include "diagnosis/trials.h"
#include "fault/needle.h"
#include "fault/steps.h"

namespace loopmend {

namespace {

bool isSimple(const Step& step) {
    return step.yarn == 0 && !step.link && (isPlain(step) || isDecrease(step) || step.op == Op::yarnOver);
}

}  // namespace

/// The rows above are of stitches, decreases and yarn overs alone.
int Trials::simpleAbove() const {
    int row = rows_;
    const auto simple = [&](const WorkedRow& words) {
        return !words.steps.empty() && std::all_of(words.steps.begin(), words.steps.end(), isSimple);
    };
    while (row > 0 && simple(whole_.rows[static_cast<std::size_t>(row) - 1])) --row;
    return row;
}

/// What stands along both needles, in the order in which the next row comes to it; none: not in one order.
std::optional<std::vector<Trials::Stands>> Trials::standingNow() const {
    const SideBySide& both = base_->both();
    if (!both.meant().knitter.behind().empty() || !both.actual().knitter.behind().empty())
        return std::nullopt;
    const std::vector<LoopId> meant = both.meant().knitter.ahead();
    std::vector<Stands> all;
    auto next = meant.begin();
    const auto passMeant = [&](auto until) {
        for (; next != until; ++next) {
            const LoopId actual = both.actualOf(*next);
            if (actual && onNeedle(base_->fabric(), actual)) return false;
            all.push_back(Stands::missing);
        }
        return true;
    };
    for (const LoopId loop : both.actual().knitter.ahead()) {
        const LoopId stands = both.meantOf(loop);
        if (!stands || !onNeedle(base_->meant(), stands)) {
            all.push_back(Stands::extra);
            continue;
        }
        const auto it = std::find(next, meant.end(), stands);
        if (it == meant.end() || both.actualOf(stands) != loop || !passMeant(it)) return std::nullopt;
        all.push_back(Stands::there);
        ++next;
    }
    if (!passMeant(meant.end())) return std::nullopt;
    return all;
}

/// Works a row as SideBySide does by reading. False: it is not as simple as that, and what was worked is good
/// for nothing.
bool Trials::readAlone(Knitter& hands, const WorkedRow& row, std::vector<Stands>& standing) {
    RowWork work(hands);
    std::vector<Stands> made;
    made.reserve(standing.size());
    auto at = standing.begin();
    const auto workExtras = [&](int step) {
        for (; at != standing.end() && *at == Stands::extra; ++at) {
            if (!hands.work(1, plainIsPurl(row, step), Leg::leading)) return false;
            made.push_back(Stands::extra);
        }
        return true;
    };
    const int steps = static_cast<int>(row.steps.size());
    for (int i = 0; i < steps; ++i) {
        if (!workExtras(i)) return false;
        const Step& step = row.steps[static_cast<std::size_t>(i)];
        const int wanted = uses(step);
        if (standing.end() - at < wanted) return false;
        const auto end = at + wanted;
        if (std::find(at, end, Stands::extra) != end) return false;
        const int there = static_cast<int>(std::count(at, end, Stands::there));
        at = end;
        const int meant = makes(step);
        int actual = 0;
        if (there == wanted) {
            if (!work.work(step)) return false;
            actual = meant;
        } else if (there > 0) {
            for (const Step& fewer : withFewer(step, there, 0, there)) {
                if (!work.work(fewer)) return false;
                actual += makes(fewer);
            }
        }
        for (int n = 0; n < std::max(meant, actual); ++n)
            made.push_back(n >= actual ? Stands::missing : n >= meant ? Stands::extra : Stands::there);
    }
    if (!workExtras(steps) || at != standing.end()) return false;
    endRow(hands, row);
    if (!hands.inTheRound()) std::reverse(made.begin(), made.end());
    standing.swap(made);
    return true;
}

}  // namespace loopmend
