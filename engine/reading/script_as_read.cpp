// SPDX-License-Identifier: MIT
// A script in the words in which reading tells it: one knot, one name.
#include <algorithm>

#include "pattern/op_kinds.h"
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
        int stitch = 0;    // each its own
    };
    static constexpr std::size_t kNone = static_cast<std::size_t>(-1);

    explicit Needle(int castOn) { putBack(castOn, Made{0, kNone}); }

    bool has() const { return !ahead_.empty(); }
    std::size_t count() const { return ahead_.size(); }
    Made next() const { return ahead_.back(); }
    void take(int n) {
        for (; n > 0 && !ahead_.empty(); --n) ahead_.pop_back();
    }
    void putBack(int n, Made made) {
        for (; n > 0; --n) ahead_.push_back({made.row, made.step, stitches_++});
    }
    void make(int n, Made made) {
        for (; n > 0; --n) behind_.push_back({made.row, made.step, stitches_++});
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
    int stitches_ = 0;
};

bool isSlip(Op op) {
    return slips(op) || op == Op::doubled;
}

void workOn(Needle& needle, const Step& step, Needle::Made made) {
    if (isSlip(step.op)) {
        needle.slip();
    } else if (step.op == Op::castOnKnitted) {
        needle.putBack(step.count, made);
    } else {
        needle.take(uses(step));
        needle.make(makes(step), made);
    }
}

void endRow(Needle& needle, const Script& script, const WorkedRow& row) {
    const bool turns =
        !row.steps.empty() && (row.steps.back().op == Op::turn || row.steps.back().op == Op::wrapTurn);
    needle.endRow(script.round && !turns && row.facing == Facing::right);
}

/// Led round the last stitch of the needle and left there, the yarn goes by it as by a stitch that is slipped
/// at the end of a row and again at the start of the next.
void tellWrapsAtTheEnd(Script& script) {
    struct Wrap {
        std::size_t row;
        int stitch;
    };
    std::vector<Wrap> wraps;
    std::vector<int> doubled;  // stitches: beyond their first leg lies the other
    Needle needle(script.castOn);
    for (std::size_t r = 0; r < script.rows.size(); ++r) {
        const std::vector<Step>& steps = script.rows[r].steps;
        for (std::size_t i = 0; i < steps.size(); ++i) {
            if (needle.has()) {
                const int stitch = needle.next().stitch;
                const bool lifts = steps[i].op == Op::knitWithWrap || steps[i].op == Op::purlWithWrap;
                if (lifts)
                    wraps.erase(std::remove_if(wraps.begin(), wraps.end(),
                                               [&](const Wrap& w) { return w.stitch == stitch; }),
                                wraps.end());
                if (steps[i].op == Op::doubled) doubled.push_back(stitch);
                const bool alone = std::find(doubled.begin(), doubled.end(), stitch) == doubled.end();
                if (steps[i].op == Op::wrapTurn && needle.count() == 1 && alone && !script.round)
                    wraps.push_back({r, stitch});
            }
            workOn(needle, steps[i], {r, i});
        }
        endRow(needle, script, script.rows[r]);
    }
    for (const Wrap& wrap : wraps) {
        WorkedRow& row = script.rows[wrap.row];
        // By habit on the side of the Vs (Op::wrapTurn).
        bool front = row.facing == Facing::right;
        for (auto step = row.steps.rbegin(); step != row.steps.rend(); ++step) {
            const bool linked = uses(*step) > 0 && makes(*step) > 0 && !isSlip(step->op);
            if (!linked) continue;
            front = !purls(step->op);
            break;
        }
        Step& last = row.steps.back();
        last.op = front ? Op::slipPurlwiseFront : Op::slipPurlwiseBack;
        if (wrap.row + 1 < script.rows.size()) {
            std::vector<Step>& next = script.rows[wrap.row + 1].steps;
            next.insert(next.begin(), last);
        }
    }
}

/// What the next rows do to stitches of this one: a stitch dropped into the one below reads as a knit, a loop
/// let fall is not there at all.
void lookAhead(Script& script) {
    Needle needle(script.castOn);
    for (std::size_t r = 0; r < script.rows.size(); ++r) {
        std::vector<Step>& steps = script.rows[r].steps;
        for (std::size_t i = 0; i < steps.size(); ++i) {
            Step& step = steps[i];
            if (step.op == Op::turn && !needle.has() &&
                (!script.round || script.rows[r].facing == Facing::wrong)) {
                step.count = 0;  // the row ends there
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
            workOn(needle, step, {r, i});
        }
        endRow(needle, script, script.rows[r]);
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

Step oneName(Step step) {
    if (step.op == Op::skp) step.op = Op::ssk;
    if (step.op == Op::spp) step.op = Op::p2tog;
    if (step.op == Op::sp2p) step.op = Op::p3tog;
    if (step.op == Op::slipKnitwiseBack) step.op = Op::slipPurlwiseBack;
    if (step.op == Op::slipKnitwiseFront) step.op = Op::slipPurlwiseFront;
    if (step.op == Op::yarnOverReverse) step.op = Op::yarnOver;
    if (isSeveralFromOne(step.op) && step.count == 3) step.count = 1;
    return step;
}

bool joins(Op op) {
    return op == Op::yarnOver || op == Op::castOn || op == Op::castOnRight || op == Op::castOnKnitted;
}

/// A row stitch by stitch, and which of them the one before was passed over: a chain is a chain whether it
/// was called one or not.
class RowAsRead {
  public:
    explicit RowAsRead(const std::vector<Step>& row) {
        for (const Step& step : row) take(oneName(step));
        for (std::size_t i = all_.size(); i-- > 0;) {
            if (all_[i].step.op != Op::hold || (i > 0 && !all_[i - 1].told)) continue;
            for (std::size_t k = i; k + 1 < all_.size() && standsAlone(all_[k + 1]); ++k)
                std::swap(all_[k], all_[k + 1]);
        }
    }

    std::vector<Step> steps() const {
        std::vector<Step> out;
        for (std::size_t i = 0; i < all_.size(); ++i) {
            const Part& one = all_[i];
            const std::size_t chain = chainFrom(i);
            if (chain > 0) {
                Step bind = one.step;
                bind.op = one.step.op == Op::purl ? Op::bindOffPurl : Op::bindOff;
                bind.count = static_cast<std::int16_t>(chain);
                out.push_back(bind);
                i += chain;
                const bool goesOn = i + 1 < all_.size() && all_[i + 1].over;
                if (all_[i].told || goesOn) out.push_back(all_[i].step);
                continue;
            }
            Step* last = out.empty() ? nullptr : &out.back();
            if (i > 0 && last != nullptr && joins(one.step.op) && !one.over && last->op == one.step.op &&
                last->yarn == one.step.yarn && !all_[i - 1].over) {
                last->count = static_cast<std::int16_t>(last->count + one.step.count);
                continue;
            }
            out.push_back(one.step);
            if (!one.over) continue;
            if (one.step.op == Op::k2tog) {
                out.back().op = Op::k2togOver;
            } else {
                Step pass = one.step;
                pass.op = Op::passOver;
                pass.count = 1;
                pass.link = false;
                out.push_back(pass);
            }
        }
        return out;
    }

  private:
    struct Part {
        Step step;
        bool over = false;
        bool told = true;  ///< false: the loop that a chain leaves, which no step has called a stitch yet
    };

    /// Nobody can tell whether it was made before its neighbours went on to a holder, or after.
    static bool standsAlone(const Part& part) {
        return joins(part.step.op) && part.step.op != Op::castOnKnitted;
    }

    void take(const Step& step) {
        const bool stitch = uses(step) == 1 && makes(step) == 1;
        const bool left = !all_.empty() && !all_.back().told;
        if (step.op == Op::bindOff || step.op == Op::bindOffPurl) {
            Step one = step;
            one.op = step.op == Op::bindOff ? Op::knit : Op::purl;
            one.count = 1;
            if (!left) all_.push_back({one, false, true});
            for (int k = 0; k < step.count; ++k) all_.push_back({one, true, true});
            all_.back().told = false;
        } else if (left && stitch) {
            all_.back().told = true;
        } else if (step.op == Op::passOver && !all_.empty()) {
            passOver();
        } else if (step.op == Op::k2togOver) {
            Step one = step;
            one.op = Op::k2tog;
            all_.push_back({one, true, true});
        } else {
            Step one = step;
            const bool after = !all_.empty() && all_.back().step.op == Op::bindOffTogether;
            if (after && stitch) one.op = Op::knit;
            all_.push_back({one, false, true});
        }
    }

    /// Over the loop made last.
    void passOver() {
        Part& last = all_.back();
        if (!joins(last.step.op) || last.step.count < 2) {
            last.over = true;
            return;
        }
        Part one = last;
        --last.step.count;
        one.step.count = 1;
        one.over = true;
        all_.push_back(one);
    }

    std::size_t chainFrom(std::size_t i) const {
        const Part& first = all_[i];
        if ((first.step.op != Op::knit && first.step.op != Op::purl) || first.over) return 0;
        std::size_t n = 0;
        while (i + n + 1 < all_.size() && all_[i + n + 1].over && all_[i + n + 1].step.op == first.step.op &&
               all_[i + n + 1].step.yarn == first.step.yarn)
            ++n;
        return n;
    }

    std::vector<Part> all_;
};

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
    tellWrapsAtTheEnd(out);
    lookAhead(out);
    renumberYarns(out);
    for (WorkedRow& row : out.rows) row.steps = RowAsRead(row.steps).steps();
    return out;
}

}  // namespace loopmend
