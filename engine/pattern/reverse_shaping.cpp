// SPDX-License-Identifier: MIT
#include "pattern/reverse_shaping.h"

#include "pattern/order.h"
#include "pattern/print.h"
#include "pattern/problem_at.h"

#include <algorithm>
#include <optional>
#include <utility>

#include <fmt/format.h>

namespace loopmend {

namespace {

/// Each the twin of the other, on the other side and with the other lean.
constexpr std::pair<Op, Op> kTwins[] = {
    {Op::knit, Op::purl},
    {Op::slipPurlwiseBack, Op::slipPurlwiseFront},
    {Op::slipKnitwiseBack, Op::slipKnitwiseFront},
    {Op::k2tog, Op::ssp},
    {Op::ssk, Op::p2tog},
    {Op::skp, Op::spp},
    {Op::sssk, Op::p3tog},
    {Op::sk2p, Op::sp2p},
    {Op::s2kp, Op::s2pp},
    {Op::m1Left, Op::m1PurlRight},
    {Op::m1Right, Op::m1PurlLeft},
    {Op::bindOff, Op::bindOffPurl},
    {Op::kpk, Op::pkp},
    {Op::kyok, Op::pyop},
    {Op::knitBelow, Op::purlBelow},
    {Op::knitWraps, Op::purlWraps},
    {Op::liftedRight, Op::liftedRightPurl},
    {Op::liftedLeft, Op::liftedLeftPurl},
    {Op::knitDoubled, Op::purlDoubled},
    {Op::knitWithWrap, Op::purlWithWrap},
    {Op::knitWithFloat, Op::purlWithFloat},
};
/// Their own twins.
constexpr Op kAlike[] = {Op::yarnOver, Op::m1Open, Op::castOn,   Op::castOnKnitted, Op::passOver, Op::hold,
                         Op::letFall,  Op::turn,   Op::wrapTurn, Op::doubled,       Op::pickUp};

std::optional<Step> twin(Step step) {
    if (step.op == Op::cable) {
        // Held behind on the wrong side is in front on the right one.
        step.front = !step.front;
        step.purlOver = !step.purlOver;
        step.purlUnder = !step.purlUnder;
        if (step.tblOver || step.tblUnder) return std::nullopt;
        return step;
    }
    for (const auto& [knitted, purled] : kTwins) {
        if (step.op == knitted) {
            step.op = purled;
            return step;
        }
        if (step.op == purled) {
            step.op = knitted;
            return step;
        }
    }
    if (std::find(std::begin(kAlike), std::end(kAlike), step.op) != std::end(kAlike)) return step;
    return std::nullopt;
}

class Reversal {
  public:
    explicit Reversal(Pattern& pattern) : pattern_(pattern) {}

    void work() {
        if (pattern_.round) {
            complain(pattern_.rows.empty() ? Place{} : pattern_.rows.front().place, 0,
                     "Shaping in the round is not reversed here: write the rounds out.");
            return;
        }
        const Facing first = rowOrder(pattern_).first;
        bool marked = false;
        for (Row& row : pattern_.rows) {
            row_ = row.spans.empty() ? 0 : row.spans.front().first;
            if (row.facing) row.facing = opposite(*row.facing);
            marked = marked || row.facing;
            if (row.every == Every::right) {
                row.every = Every::wrong;
            } else if (row.every == Every::wrong) {
                row.every = Every::right;
            }
            sound_ = true;
            turn(row.items);
            row.sound = row.sound && sound_;
        }
        if (!marked && first == Facing::right && !pattern_.rows.empty()) {
            // The first row says which side it is worked on.
            for (Row& row : pattern_.rows) {
                const bool begins = !row.spans.empty() && row.spans.front().first <= 1;
                if (!begins) continue;
                row.facing = Facing::wrong;
                break;
            }
        }
    }

  private:
    void turn(std::vector<Item>& items) {
        for (Item& item : items) {
            if (item.kind == ItemKind::stitch || item.kind == ItemKind::run) {
                if (const std::optional<Step> step = twin(item.step)) {
                    // A slip that does not say where its yarn is keeps it on the wrong side by itself.
                    if (item.yarnSaid) item.step = *step;
                } else {
                    complain(
                        item.place, row_,
                        fmt::format("How {} looks in a mirror cannot be worked here: write the piece out.",
                                    printStep(item.step)));
                    sound_ = false;
                }
            }
            turn(item.items);
        }
    }

    void complain(const Place& place, int row, std::string message) {
        Problem problem = problemAt(pattern_, place, row, std::move(message));
        problem.line = std::max(place.line, 1);
        problem.column = std::max(place.column, 1);
        pattern_.problems.push_back(std::move(problem));
    }

    Pattern& pattern_;
    int row_ = 0;
    bool sound_ = true;
};

}  // namespace

void reverseShaping(Pattern& pattern) {
    Reversal(pattern).work();
}

}  // namespace loopmend
