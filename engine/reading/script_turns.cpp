// SPDX-License-Identifier: MIT
// Where rows begin and end: turns in mid-row, the yarn led round a stitch, stitches pulled up to two legs.
#include "reading/script_reader.h"

#include <fmt/format.h>

namespace loopmend {

const Course* ScriptReader::next(const Course& course) const {
    const auto r = static_cast<std::size_t>(course.row) + 1;
    return r < c_.list.size() ? &c_.list[r] : nullptr;
}

bool ScriptReader::wrapsInFront(EntryId wrap) const {
    if (!f_.isLoop(wrap)) return f_.passSide(wrap) == stance_.facing;
    for (const EntryId other : {f_[wrap].next, f_[wrap].prev}) {
        if (other && !f_.isLoop(other) && f_.run(other) != f_.run(wrap))
            return f_.passSide(other) != stance_.facing;
    }
    return true;
}

void ScriptReader::beginRow(const Course& course) {
    if (course.goesOn) return;
    if (course.castsOn) {
        waiting_ = 0;
        return;
    }
    const int past = course.run == Run::leftward ? course.toRight : course.toLeft;
    const bool doubles =
        !items_.empty() && items_.front().what == CourseItem::What::loop && c_.isDoubled(items_.front().loop);
    if (past != waiting_ + (doubles ? 1 : 0))
        unnamed({}, fmt::format("the row begins past {} stitches: the work was turned", past));
    if (wrapSlip_ != Op::turn && course.wrapAtStart) add(wrapSlip_, {});
    waiting_ = 0;
    wrapSlip_ = Op::turn;
}

void ScriptReader::endRow(const Course& course) {
    const Course* after = next(course);
    if (after != nullptr && after->goesOn) return;
    const int ahead = course.run == Run::leftward ? course.toLeft : course.toRight;
    const Course* onward = after != nullptr && after->castsOn ? next(*after) : after;
    const bool turns = onward != nullptr && onward->run != course.run;
    // A round worked back to its beginning is turned there anyway.
    const bool early = out_.script.round && turns && stance_.facing == Side::right;
    if (ahead == 0 && !early && !course.wrapAtEnd) return;
    if (ahead > 0 && after == nullptr && !course.ended) {
        out_.left = ahead;
        return;
    }
    if (after != nullptr && !turns) {
        unnamed({}, fmt::format("the row was left with {} stitches to come", ahead));
        return;
    }
    waiting_ = ahead;
    if (!course.wrapAtEnd) {
        add(Op::turn, {});
        return;
    }
    const YarnId yarn = f_[course.wrapAtEnd].yarn;
    const bool front = wrapsInFront(course.wrapAtEnd);
    if (front != wrapsByHabit()) {
        wrapSlip_ = front ? Op::slipPurlwiseFront : Op::slipPurlwiseBack;
        add(wrapSlip_, {});
        add(Op::turn, {});
        return;
    }
    add(Op::wrapTurn, {});
    rows_.back().back().step.yarn = yarnIndex(yarn);
}

bool ScriptReader::wrapsByHabit() const {
    for (auto item = items_.rbegin(); item != items_.rend(); ++item) {
        if (item->what != CourseItem::What::loop) continue;
        if (const LinkId link = f_[item->loop].lastLink) return f_[link].form.side == stance_.facing;
    }
    return stance_.facing == Side::right;
}

}  // namespace loopmend
