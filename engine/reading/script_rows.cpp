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
    for (std::size_t r = 1; r < c_.list.size(); ++r) {
        const Course& course = c_.list[r];
        out_.script.round = out_.script.round || course.round;
        if (r + 1 == c_.list.size() && course.items.empty() && course.wrapAtStart) break;
        if (!course.goesOn || rows_.empty()) {
            rows_.emplace_back();
            courses_.push_back({&course, &course});
        }
        if (courses_.back().first->castsOn) courses_.back().first = &course;
        courses_.back().last = &course;
        readRow(course);
    }
    out_.script.round = out_.script.round || f_.joinCount() > 0;
    for (std::int32_t j = 0; j < f_.joinCount(); ++j) {
        const Join& join = f_[JoinId{j}];
        if (join.loop) out_.script.twist = static_cast<std::int8_t>(join.twist);  // else it was turned out
    }
    for (const HeldTurns& w : heldTurns()) sitsTurned(w.loop, w.turns);
    for (std::size_t r = 0; r < rows_.size(); ++r) assemble(r);
    joinGrafts();
    if (!yarns_.empty()) {
        out_.script.yarns.clear();
        for (const YarnId yarn : yarns_) out_.script.yarns += f_[yarn].flags.colour;
    }
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
    rows_.back().push_back({step, loop, over, false});
    if (loop) setYarn(f_[loop].yarn, loop);
}
void ScriptReader::addSlip(Op op, LoopId loop, PassId pass) {
    add(op, LoopId{});
    rows_.back().back().loop = loop;
    setYarn(f_[pass].yarn, pass);
}
void ScriptReader::remember(EntryId e) {
    stepOf_[at(e)] = {static_cast<std::int32_t>(rows_.size()) - 1,
                      static_cast<std::int32_t>(rows_.back().size()) - 1};
}

void ScriptReader::readRow(const Course& course) {
    course_ = &course;
    stance_.run = course.run;
    stance_.mirrored = out_.mirrored;
    stance_.facing = (course.run == Run::leftward) != out_.mirrored ? Side::right : Side::wrong;
    stitch_ = 0;
    items_.assign(course.items.begin(), course.items.end());
    if (course.run == Run::rightward) std::reverse(items_.begin(), items_.end());
    beginRow(course);
    if (!course.goesOn) lastItem_ = LoopId{};
    for (std::size_t i = 0; i < items_.size();) {
        letFall(items_[i], false);
        std::size_t n = readItem(i);
        // Further turns belong to their stitch: what falls after it falls after them.
        while (i + n < items_.size() && items_[i + n].what == CourseItem::What::loop &&
               isFurtherTurn(f_, items_[i + n].loop))
            n += readItem(i + n);
        for (std::size_t k = 0; k < n; ++k) letFall(items_[i + k], true);
        i += n;
        lastItem_ = items_[i - 1].loop;
    }
    endRow(course);
    if (!items_.empty()) {
        lastMade_ = items_.back().loop;
        if (!course.goesOn) firstOfRound_ = out_.script.round ? items_.front().loop : LoopId{};
    }
}

std::size_t ScriptReader::readItem(std::size_t i) {
    const CourseItem& item = items_[i];
    switch (item.what) {
        case What::slip:
            ++stitch_;
            addSlip(f_.passSide(item.entry) == stance_.facing ? Op::slipPurlwiseFront : Op::slipPurlwiseBack,
                    item.loop, item.entry);
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
    const auto spare = [&](std::size_t j) {
        return j < items_.size() && items_[j].what == CourseItem::What::away && c_.isSpare(items_[j].loop);
    };
    std::size_t n = 0;  // some of them may have been bound off together with others since
    while (spare(i + n)) ++n;
    const HeldId held = i + n < items_.size() && items_[i + n].what == CourseItem::What::away
                            ? f_[items_[i + n].loop].held
                            : HeldId{};
    if (n == 0 && (!held || f_[held].state.hanging != 0)) {
        unnamed(items_[i].loop, "a stitch was left behind and stands free");
        return 1;
    }
    const ToolId tool = held ? f_[held].tool : ToolId{};
    const auto onIt = [&](LoopId loop) {
        if (!tool) return false;
        const HeldId h = f_.heldOn(loop, tool);
        return h && f_[h].state.hanging == 0;
    };
    while (i + n < items_.size() && items_[i + n].what == What::away &&
           (spare(i + n) || onIt(items_[i + n].loop)))
        ++n;
    int count = static_cast<int>(n);
    if (i > 0 && items_[i - 1].what == What::loop && onIt(items_[i - 1].loop)) {
        ScriptRaw& last = rows_.back().back();
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
    if (c_.isKnittedOn(loop) || (entry.flags.anchored != 0 && !entry.firstLink)) return readCastOnLoop(loop);
    const Links links = linksOf(f_, c_, loop, stance_);
    if (f_.isLoose(loop) && entry.flags.anchored == 0) unnamed(loop, "a stitch stands free");
    if (c_.isDoubled(loop)) {
        add(Op::doubled, loop);
        return 1;
    }
    if (c_.isTuckTop(loop)) {
        add(Op::knit, loop);
        return 1;
    }
    if (links.count == 0 && isFurtherTurn(f_, loop) && readFurtherTurn(loop)) return 1;
    if (links.count == 0) {
        add(Op::yarnOver, loop, 1, links.passedOver);
        remember(loop);
        return 1;
    }
    if (links.underLeg) {
        const std::size_t picked = readPickedUp(i);
        if (picked > 0) return picked;
    }
    if (links.count == 1 && !links.underLeg) {
        if (readLifted(i, links) > 0) return 1;
        const std::size_t into = readSeveralIntoOne(i, links);
        if (into > 0) return into;
        const std::size_t crossed = readCable(i, links);
        if (crossed > 0) return crossed;
    }
    if (links.count == 2) {
        if (links.mixed) return readTogetherWithSpare(loop, links);
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
    const int fallen = named.op == Op::knit || named.op == Op::purl ? turnsFallen(f_, loop) : 0;
    if (fallen > 0 && f_[loop].firstKid && !links.passedOver) {
        add(named.op == Op::knit ? Op::knitWraps : Op::purlWraps, loop, 1 + fallen);
        fallen_.push_back({loop, fallen});
        return 1;
    }
    add(named.op, loop, 1, links.passedOver);
    return 1;
}

bool ScriptReader::leftByBindOff(const Links& links) const {
    return links.count > 1 && c_.rows[links.met[0].host] == course_->row && nameOf(c_, links).exact;
}

int ScriptReader::kidsInRow(LoopId host) const {
    int kids = 0;
    for (LinkId k = f_[host].firstKid; k; k = f_[k].nextInHost) {
        kids += f_[k].form.part == Part::opening && !isChainLink(f_, f_[k]) && !c_.isKnittedOn(f_[k].loop) &&
                        c_.rows[f_[k].loop] == course_->row
                    ? 1
                    : 0;
    }
    return kids;
}

bool ScriptReader::hasOlderKid(LoopId host) const {
    for (LinkId k = f_[host].firstKid; k; k = f_[k].nextInHost) {
        if (f_[k].form.part == Part::opening && !isChainLink(f_, f_[k]) &&
            c_.rows[f_[k].loop] < course_->row && !c_.isKnittedOn(f_[k].loop))
            return true;
    }
    return false;
}

bool ScriptReader::sharedOrCrossed(LoopId host) const {
    return kidsInRow(host) > 1 || hasOlderKid(host) || crossingsOf(host) > 0;
}

int ScriptReader::crossingsOf(LoopId host) const {
    int n = 0;
    eachCrossing(host, [&](const Crossing&, bool) { ++n; });
    return n;
}

}  // namespace loopmend
