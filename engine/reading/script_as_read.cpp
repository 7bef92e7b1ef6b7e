// SPDX-License-Identifier: MIT
// A script in the words in which reading tells it: one knot, one name.
#include <algorithm>

#include "reading/script_reader.h"

namespace loopmend {

namespace {

bool needsYarn(Op op) {
    switch (op) {
        case Op::passOver:
        case Op::hold:
        case Op::turn:
        case Op::letFall: return false;
        default: return true;
    }
}

/// Which step made each stitch on the needle, followed through the rows: what a later row does to a stitch of
/// an older one may change that one's name.
class Needle {
  public:
    struct Made {
        std::size_t row;
        std::size_t step;  // kNone: of the cast-on
    };
    static constexpr std::size_t kNone = static_cast<std::size_t>(-1);

    explicit Needle(int castOn) : ahead_(static_cast<std::size_t>(std::max(castOn, 0)), Made{0, kNone}) {}

    bool has() const { return !ahead_.empty(); }
    Made next() const { return ahead_.back(); }
    void take(int n) {
        for (; n > 0 && !ahead_.empty(); --n) ahead_.pop_back();
    }
    void putBack(int n, Made made) { ahead_.insert(ahead_.end(), static_cast<std::size_t>(n), made); }
    void make(int n, Made made) {
        for (; n > 0; --n) behind_.push_back(made);
        for (; n < 0 && !behind_.empty(); ++n) behind_.pop_back();
    }
    void slip() {
        if (ahead_.empty()) return;
        behind_.push_back(ahead_.back());
        ahead_.pop_back();
    }
    void endRow(bool round) {
        if (round) {
            std::reverse(behind_.begin(), behind_.end());
            ahead_.insert(ahead_.end(), behind_.begin(), behind_.end());
            behind_.clear();
        } else {
            ahead_.swap(behind_);
        }
    }

  private:
    std::vector<Made> ahead_;   // the next one last
    std::vector<Made> behind_;  // the last one worked last
};

bool isSlip(Op op) {
    return op == Op::slipPurlwiseBack || op == Op::slipPurlwiseFront || op == Op::slipKnitwiseBack ||
           op == Op::slipKnitwiseFront || op == Op::doubled;
}

/// What the next rows do to stitches of this one: a stitch dropped into the one below reads as a knit, a loop
/// let fall is not there at all.
void lookAhead(Script& script) {
    Needle needle(script.castOn);
    for (std::size_t r = 0; r < script.rows.size(); ++r) {
        std::vector<Step>& steps = script.rows[r].steps;
        bool turns = false;
        for (std::size_t i = 0; i < steps.size(); ++i) {
            Step& step = steps[i];
            turns = step.op == Op::turn || step.op == Op::wrapTurn;
            if (step.op == Op::turn && !needle.has() &&
                (!script.round || script.rows[r].facing == Facing::wrong)) {
                step.count = 0;  // the row ends there
                continue;
            }
            const Needle::Made made{r, i};
            if (isSlip(step.op)) {
                needle.slip();
                continue;
            }
            if (step.op == Op::castOnKnitted) {
                needle.putBack(step.count, made);
                continue;
            }
            const bool below = step.op == Op::knitBelow || step.op == Op::purlBelow;
            if ((below || step.op == Op::letFall) && needle.has() && needle.next().step != Needle::kNone) {
                Step& older = script.rows[needle.next().row].steps[needle.next().step];
                if (below && uses(older) == 1 && makes(older) == 1) {
                    older.op = Op::knit;
                } else if (step.op == Op::letFall &&
                           (older.op == Op::yarnOver || older.op == Op::yarnOverReverse)) {
                    --older.count;
                    step.count = 0;
                }
            }
            needle.take(uses(step));
            needle.make(makes(step), made);
        }
        needle.endRow(script.round && !turns && script.rows[r].facing == Facing::right);
    }
    for (WorkedRow& row : script.rows) {
        row.steps.erase(std::remove_if(row.steps.begin(), row.steps.end(),
                                       [](const Step& step) { return step.count == 0; }),
                        row.steps.end());
    }
}

/// Yarns in the order in which they are first used.
void renumberYarns(Script& script) {
    std::vector<std::uint8_t> order = {0};
    for (WorkedRow& row : script.rows) {
        settleYarns(row.steps);
        for (Step& step : row.steps) {
            auto found = std::find(order.begin(), order.end(), step.yarn);
            if (found == order.end()) found = order.insert(found, step.yarn);
            step.yarn = static_cast<std::uint8_t>(found - order.begin());
        }
    }
    std::string colours;
    for (const std::uint8_t yarn : order) colours += yarn < script.yarns.size() ? script.yarns[yarn] : 'A';
    script.yarns = colours;
}

}  // namespace

void settleYarns(std::vector<Step>& row) {
    std::uint8_t inHand = 0;
    for (const Step& step : row) {
        if (!needsYarn(step.op)) continue;
        inHand = step.yarn;
        break;
    }
    for (Step& step : row) {
        if (needsYarn(step.op)) {
            inHand = step.yarn;
        } else {
            step.yarn = inHand;
            step.link = false;
        }
    }
}

Script asRead(const Script& script) {
    Script out = script;
    lookAhead(out);
    renumberYarns(out);
    for (WorkedRow& row : out.rows) {
        std::vector<Step> steps;
        for (Step step : row.steps) {
            if (step.op == Op::skp) step.op = Op::ssk;
            if (step.op == Op::spp) step.op = Op::p2tog;
            if (step.op == Op::sp2p) step.op = Op::p3tog;
            if (step.op == Op::slipKnitwiseBack) step.op = Op::slipPurlwiseBack;
            if (step.op == Op::slipKnitwiseFront) step.op = Op::slipPurlwiseFront;
            if (step.op == Op::yarnOverReverse) step.op = Op::yarnOver;
            if ((step.op == Op::kpk || step.op == Op::kyok) && step.count == 3) step.count = 1;
            Step* last = steps.empty() ? nullptr : &steps.back();
            const bool joins = step.op == Op::yarnOver || step.op == Op::castOn ||
                               step.op == Op::castOnRight || step.op == Op::castOnKnitted;
            if (last != nullptr && last->op == step.op && joins && last->yarn == step.yarn) {
                last->count = static_cast<std::int16_t>(last->count + step.count);
                continue;
            }
            if (last != nullptr && uses(step) == 1 && makes(step) == 1) {
                if (last->op == Op::bindOff || last->op == Op::bindOffTogether) step.op = Op::knit;
                if (last->op == Op::bindOffPurl) step.op = Op::purl;
            }
            steps.push_back(step);
        }
        row.steps = steps;
    }
    return out;
}

}  // namespace loopmend
