// SPDX-License-Identifier: MIT
// Rows of a fabric, item by item: what each was worked as.
#include "reading/script_reader.h"

#include <algorithm>

#include <fmt/format.h>

#include "reading/look.h"

namespace loopmend {

using What = CourseItem::What;

void ScriptReader::run() {
    readCastOn(c_.list.front());
    rows_.resize(c_.list.size() - 1);
    for (std::size_t r = 1; r < c_.list.size(); ++r) {
        out_.script.round = out_.script.round || c_.list[r].round;
        readRow(c_.list[r]);
    }
    for (const HeldTurns& w : heldTurns()) sitsTurned(w.loop, w.turns);
    for (std::size_t r = 0; r < rows_.size(); ++r) assemble(r);
    std::stable_sort(out_.unnamed.begin(), out_.unnamed.end(),
                     [](const Unnamed& a, const Unnamed& b) { return a.row < b.row; });
}

void ScriptReader::unnamedStitch(LoopId loop) {
    unnamed(loop, words(look(f_, c_, loop, stance_.facing)));
}

void ScriptReader::add(Op op, LoopId loop, int count, bool over) {
    Step step;
    step.op = op;
    step.count = static_cast<std::int16_t>(count);
    add(step, loop, over);
}
void ScriptReader::add(const Step& step, LoopId loop, bool over) {
    std::vector<ScriptRaw>& row = rows_[static_cast<std::size_t>(course_->row) - 1];
    row.push_back({step, loop, over, false});
}
void ScriptReader::remember(EntryId e) {
    const std::vector<ScriptRaw>& row = rows_[static_cast<std::size_t>(course_->row) - 1];
    stepOf_[at(e)] = {course_->row - 1, static_cast<std::int32_t>(row.size()) - 1};
}

void ScriptReader::readCastOn(const Course& course) {
    course_ = &course;
    for (const CourseItem& item : course.items) {
        if (item.what != What::loop) continue;
        ++out_.script.castOn;
        if (!f_[item.loop].firstLink) out_.castOn = CastOn::backward;
    }
}

void ScriptReader::readRow(const Course& course) {
    course_ = &course;
    stance_.run = course.run;
    stance_.mirrored = out_.mirrored;
    stance_.facing = (course.run == Run::leftward) != out_.mirrored ? Side::right : Side::wrong;
    stitch_ = 0;
    items_.assign(course.items.begin(), course.items.end());
    if (course.run == Run::rightward) std::reverse(items_.begin(), items_.end());
    for (std::size_t i = 0; i < items_.size();) i += readItem(i);
    const bool leftward = course.run == Run::leftward;
    const int behind = leftward ? course.toRight : course.toLeft;
    const int ahead = leftward ? course.toLeft : course.toRight;
    if (behind > 0) unnamed({}, fmt::format("the row begins past {} stitches: the work was turned", behind));
    if (ahead > 0 && course.row == c_.rows.last) {
        out_.left = ahead;
    } else if (ahead > 0) {
        unnamed({}, fmt::format("the work was turned with {} stitches left", ahead));
    }
}

std::size_t ScriptReader::readItem(std::size_t i) {
    const CourseItem& item = items_[i];
    switch (item.what) {
        case What::slip:
            ++stitch_;
            add(f_.passSide(item.entry) == stance_.facing ? Op::slipPurlwiseFront : Op::slipPurlwiseBack,
                item.loop);
            remember(item.entry);
            return 1;
        case What::stay: unnamed(item.loop, "a stitch was left where it was"); return 1;
        case What::away: return readHeld(i);
        case What::rung: return 1;  // its loose loop is told where it stands
        case What::loop: break;
    }
    ++stitch_;
    return readLoop(i);
}

std::size_t ScriptReader::readHeld(std::size_t i) {
    const HeldId held = f_[items_[i].loop].held;
    if (!held || f_[held].state.hanging != 0) {
        unnamed(items_[i].loop, "a stitch was left behind and stands free");
        return 1;
    }
    const ToolId tool = f_[held].tool;
    const auto onIt = [&](LoopId loop) {
        const HeldId h = f_.heldOn(loop, tool);
        return h && f_[h].state.hanging == 0;
    };
    std::size_t n = 1;
    while (i + n < items_.size() && items_[i + n].what == What::away && onIt(items_[i + n].loop)) ++n;
    int count = static_cast<int>(n);
    if (i > 0 && items_[i - 1].what == What::loop && onIt(items_[i - 1].loop)) {
        ScriptRaw& last = rows_[static_cast<std::size_t>(course_->row) - 1].back();
        last.left = last.over && (last.step.op == Op::knit || last.step.op == Op::purl);
        if (!last.left) unnamed(last.loop, "worked, and then left on a holder");
        ++count;
    }
    add(Op::hold, {}, count);
    return n;
}

std::size_t ScriptReader::readLoop(std::size_t i) {
    const LoopId loop = items_[i].loop;
    const Entry& entry = f_[loop];
    if (entry.flags.anchored != 0 && !entry.firstLink) {
        add(Op::castOn, loop);
        return 1;
    }
    const Links links = linksOf(f_, loop, stance_);
    if (f_.isLoose(loop) && entry.flags.anchored == 0) unnamed(loop, "a stitch stands free");
    if (c_.isTuckTop(loop)) {
        add(Op::knit, loop);
        return 1;
    }
    if (links.count == 0) {
        add(Op::yarnOver, loop, 1, links.passedOver);
        remember(loop);
        return 1;
    }
    if (links.count == 1 && !links.underLeg) {
        const std::size_t into = readSeveralIntoOne(i, links);
        if (into > 0) return into;
        const std::size_t crossed = readCable(i, links);
        if (crossed > 0) return crossed;
    }
    if (links.count == 2) {
        const std::size_t over = readPassedOverTwo(i, links);
        if (over > 0) return over;
    }
    Named named = nameOf(c_, links);
    for (int k = 0; k < std::min(links.count, Links::kMost); ++k) {
        const LoopId host = links.met[k].host;
        named.exact = named.exact && c_.rows[host] < course_->row;
        if (sharedOrCrossed(host)) named.exact = false;
        if (!named.exact) break;
        if (named.wound[k] != 0)
            named.exact = sitsTurned(host, named.wound[k]);
        else if (named.eastern[k])
            named.exact = sitsTurned(host, 0);
    }
    if (!named.exact && !leftByBindOff(links)) unnamedStitch(loop);
    add(named.op, loop, 1, links.passedOver);
    return 1;
}

bool ScriptReader::leftByBindOff(const Links& links) const {
    return links.count > 1 && c_.rows[links.met[0].host] == course_->row && nameOf(c_, links).exact;
}

bool ScriptReader::sharedOrCrossed(LoopId host) const {
    int kids = 0;
    for (LinkId k = f_[host].firstKid; k; k = f_[k].nextInHost) {
        kids += f_[k].form.part == Part::opening && !isChainLink(f_, f_[k]) ? 1 : 0;
    }
    return kids > 1 || crossingsOf(host) > 0;
}

int ScriptReader::crossingsOf(LoopId host) const {
    int n = 0;
    eachCrossing(host, [&](const Crossing&, bool) { ++n; });
    return n;
}

}  // namespace loopmend
