// SPDX-License-Identifier: MIT
// What was read of a row put together into its steps: counts, chains, stitches passed over.
#include "reading/script_reader.h"

#include <utility>

namespace loopmend {

namespace {

/// Nobody can tell whether it was made before its neighbours went on to a holder, or after.
bool standsAlone(const ScriptRaw& raw) {
    const Op op = raw.step.op;
    return op == Op::yarnOver || op == Op::yarnOverReverse || op == Op::castOn || op == Op::castOnRight;
}

bool isStitch(const ScriptRaw& raw, Op op) {
    return raw.step.op == op;
}

}  // namespace

void ScriptReader::assemble(std::size_t r) {
    const Course& course = *courses_[r].first;
    course_ = &course;
    stitch_ = 0;
    WorkedRow row;
    row.number = row.printed = static_cast<int>(r) + 1;
    row.round = course.round || out_.script.round;
    row.facing = (course.run == Run::leftward) != out_.mirrored ? Facing::right : Facing::wrong;
    out_.madeBy.emplace_back();
    std::vector<LoopId>& made = out_.madeBy.back();
    const auto emit = [&](const Step& step, LoopId loop) {
        row.steps.push_back(step);
        made.push_back(loop);
    };
    std::vector<ScriptRaw>& all = rows_[r];
    for (std::size_t i = all.size(); i-- > 0;) {
        if (all[i].step.op != Op::hold || (i > 0 && all[i - 1].left)) continue;
        for (std::size_t k = i; k + 1 < all.size() && standsAlone(all[k + 1]); ++k)
            std::swap(all[k], all[k + 1]);
    }
    row.steps.reserve(all.size());
    made.reserve(all.size());
    for (std::size_t i = 0; i < all.size(); ++i) {
        const ScriptRaw& one = all[i];
        const bool joins = one.step.op == Op::castOn || one.step.op == Op::castOnRight ||
                           one.step.op == Op::castOnKnitted || one.step.op == Op::yarnOver ||
                           one.step.op == Op::yarnOverReverse;
        if (joins && !one.over) {
            Step step = one.step;
            while (i + 1 < all.size() && all[i + 1].step.op == step.op && all[i + 1].step.yarn == step.yarn &&
                   !all[i + 1].over) {
                step.count = static_cast<std::int16_t>(step.count + all[++i].step.count);
            }
            emit(step, one.loop);
            continue;
        }
        const std::size_t chain = chainFrom(all, i);
        if (chain > 0) {
            const ScriptRaw& last = all[i + chain];
            const bool fastened = f_[last.loop].flags.anchored != 0;
            Step bind;
            bind.op = one.step.op == Op::knit   ? Op::bindOff
                      : one.step.op == Op::purl ? Op::bindOffPurl
                                                : Op::bindOffTogether;
            bind.yarn = one.step.yarn;
            bind.count = static_cast<std::int16_t>(chain + (fastened ? 1 : 0));
            emit(bind, {});
            // Knitted on, stitches go through the loop left, which then waits on the left needle.
            const bool knittedOn = i + chain + 1 < all.size() &&
                                   all[i + chain + 1].step.op == Op::castOnKnitted &&
                                   f_[f_[all[i + chain + 1].loop].firstLink].host == last.loop;
            if (!fastened && !last.left && !knittedOn) {
                Step left = last.step;
                if (left.op == Op::bindOffTogether) left.op = Op::knit;
                emit(left, last.loop);
            }
            i += chain;
            continue;
        }
        if (one.loop && f_[one.loop].flags.anchored != 0 && f_[one.loop].firstLink &&
            c_.rows[one.loop] >= course.row && c_.rows[one.loop] <= courses_[r].last->row) {
            Step bind;
            bind.op = one.step.op == Op::purl              ? Op::bindOffPurl
                      : one.step.op == Op::bindOffTogether ? Op::bindOffTogether
                                                           : Op::bindOff;
            bind.yarn = one.step.yarn;
            if (one.over ||
                (one.step.op != Op::knit && one.step.op != Op::purl && one.step.op != Op::bindOffTogether))
                unnamed(one.loop, "the last stitch is fastened");
            emit(bind, {});
            continue;
        }
        if (one.over && one.step.op == Op::k2tog) {
            Step step = one.step;
            step.op = Op::k2togOver;
            emit(step, one.loop);
            continue;
        }
        emit(one.step, one.loop);
        if (one.over) {
            Step pass;
            pass.op = Op::passOver;
            emit(pass, {});
        }
    }
    settleYarns(row.steps);
    out_.script.rows.push_back(std::move(row));
}

std::size_t ScriptReader::chainFrom(const std::vector<ScriptRaw>& all, std::size_t i) {
    const Op op = all[i].step.op;
    if ((op != Op::knit && op != Op::purl && op != Op::bindOffTogether) || all[i].over) return 0;
    std::size_t n = 0;
    while (i + n + 1 < all.size() && all[i + n + 1].over && isStitch(all[i + n + 1], op) &&
           all[i + n + 1].step.yarn == all[i].step.yarn)
        ++n;
    return n;
}

}  // namespace loopmend
