// SPDX-License-Identifier: MIT
// Several yarns, and turns of a yarn round the needle that fell off it.
#include "reading/script_reader.h"

#include <algorithm>

namespace loopmend {

std::uint8_t ScriptReader::yarnIndex(YarnId yarn) {
    std::size_t i = 0;
    while (i < yarns_.size() && yarns_[i] != yarn) ++i;
    if (i == yarns_.size()) yarns_.push_back(yarn);
    return static_cast<std::uint8_t>(i);
}

void ScriptReader::setYarn(YarnId yarn, EntryId first) {
    Step& step = rows_.back().back().step;
    step.yarn = yarnIndex(yarn);
    if (yarns_.size() < 2 || !lastItem_) return;
    // Led round another yarn: its first strand in this row goes by what the stitch worked last stands on. In
    // the round a yarn floats by there anyway, unless it is new.
    if (f_[lastItem_].yarn == yarn) return;
    const auto inRow = [&](EntryId e) {
        return e && c_.rows[e] >= courses_.back().first->row && c_.rows[e] <= course_->row;
    };
    bool led = false;
    EntryId e = f_[first].prev;
    for (; inRow(e) && !f_.isLoop(e); e = f_[e].prev) {
        for (LinkId l = f_[lastItem_].firstLink; l; l = f_[l].nextInLoop)
            led = led || f_[l].host == f_.passed(e);
    }
    if (inRow(e) || (e && out_.script.round)) return;
    step.link = led;
}

bool ScriptReader::readFurtherTurn(LoopId loop) {
    if (rows_.back().empty()) return false;
    ScriptRaw& last = rows_.back().back();
    const bool first = last.step.op == Op::knit || last.step.op == Op::purl;
    if ((!first && last.step.op != Op::knitWraps && last.step.op != Op::purlWraps) || last.over) return false;
    if (first && last.loop != f_[loop].prev) return false;
    if (first) last.step.op = last.step.op == Op::knit ? Op::knitWraps : Op::purlWraps;
    ++last.step.count;
    return true;
}

void ScriptReader::letFall(const CourseItem& item, bool afterwards) {
    if (fallen_.empty()) return;
    const auto at = [&](LoopId stitch) {
        const auto it = std::find_if(fallen_.begin(), fallen_.end(), [&](const HeldTurns& t) {
            return t.loop == stitch && (f_.run(stitch) == stance_.run) == afterwards &&
                   c_.rows[stitch] < course_->row;
        });
        if (it == fallen_.end()) return;
        for (int k = 0; k < it->turns; ++k) add(Op::letFall, {});
        fallen_.erase(it);
    };
    if (item.what == CourseItem::What::slip) at(item.loop);
    if (item.what != CourseItem::What::loop) return;
    for (LinkId l = f_[item.loop].firstLink; l; l = f_[l].nextInLoop) at(f_[l].host);
}

}  // namespace loopmend
