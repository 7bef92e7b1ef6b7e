// SPDX-License-Identifier: MIT
#include "reading/script.h"

#include <algorithm>

#include <fmt/format.h>

#include "reading/courses.h"
#include "reading/look.h"
#include "reading/naming.h"

namespace loopmend {

namespace {

/// A step before neighbours are joined. over: the stitch before it was passed over it.
struct Raw {
    Step step;
    LoopId loop;
    bool over = false;
    bool left = false;  // the loop that a bind-off left, put on a holder with what follows
};

bool isStitch(const Raw& raw, Op op) {
    return raw.step.op == op;
}

class ScriptReader {
  public:
    ScriptReader(const Fabric& fabric, const Courses& courses, ScriptReading& out)
        : f_(fabric), c_(courses), out_(out) {
        stepOf_.assign(static_cast<std::size_t>(f_.entryCount()), {-1, -1});
    }

    void run() {
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

  private:
    using What = CourseItem::What;
    struct StepPlace {
        std::int32_t row;
        std::int32_t index;
    };
    struct HeldTurns {
        LoopId loop;
        int turns;
    };

    std::size_t at(EntryId e) const { return static_cast<std::size_t>(e.value); }

    void unnamed(LoopId loop, std::string words) {
        out_.unnamed.push_back({loop, course_->row, loop ? stitch_ : 0, std::move(words)});
    }
    void unnamedStitch(LoopId loop) { unnamed(loop, words(look(f_, c_, loop, stance_.facing))); }

    void add(Op op, LoopId loop, int count = 1, bool over = false) {
        Step step;
        step.op = op;
        step.count = static_cast<std::int16_t>(count);
        add(step, loop, over);
    }
    void add(const Step& step, LoopId loop, bool over) {
        std::vector<Raw>& row = rows_[static_cast<std::size_t>(course_->row) - 1];
        row.push_back({step, loop, over, false});
    }
    void remember(EntryId e) {
        const std::vector<Raw>& row = rows_[static_cast<std::size_t>(course_->row) - 1];
        stepOf_[at(e)] = {course_->row - 1, static_cast<std::int32_t>(row.size()) - 1};
    }

    void readCastOn(const Course& course) {
        course_ = &course;
        for (const CourseItem& item : course.items) {
            if (item.what != What::loop) continue;
            ++out_.script.castOn;
            if (!f_[item.loop].firstLink) out_.castOn = CastOn::backward;
        }
    }

    void readRow(const Course& course) {
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
        if (behind > 0)
            unnamed({}, fmt::format("the row begins past {} stitches: the work was turned", behind));
        if (ahead > 0 && course.row == c_.rows.last) {
            out_.left = ahead;
        } else if (ahead > 0) {
            unnamed({}, fmt::format("the work was turned with {} stitches left", ahead));
        }
    }

    /// Returns how many items were read.
    std::size_t readItem(std::size_t i) {
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

    /// Stitches that went onto a holder: everything that lies there side by side.
    std::size_t readHeld(std::size_t i) {
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
            Raw& last = rows_[static_cast<std::size_t>(course_->row) - 1].back();
            last.left = last.over && (last.step.op == Op::knit || last.step.op == Op::purl);
            if (!last.left) unnamed(last.loop, "worked, and then left on a holder");
            ++count;
        }
        add(Op::hold, {}, count);
        return n;
    }

    std::size_t readLoop(std::size_t i) {
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

    /// The first of those worked together may be the loop that a bind-off left.
    bool leftByBindOff(const Links& links) const {
        return links.count > 1 && c_.rows[links.met[0].host] == course_->row && nameOf(c_, links).exact;
    }

    bool sharedOrCrossed(LoopId host) const {
        int kids = 0;
        for (LinkId k = f_[host].firstKid; k; k = f_[k].nextInHost) {
            kids += f_[k].form.part == Part::opening && !isChainLink(f_, f_[k]) ? 1 : 0;
        }
        return kids > 1 || crossingsOf(host) > 0;
    }

    template <class Visit>
    void eachCrossing(LoopId host, Visit visit) const {
        for (CrossingId x = f_[host].crossing; x;) {
            const Crossing& crossing = f_[x];
            const bool isA = crossing.a == host;
            if (crossing.sign != 0) visit(crossing, isA);
            x = isA ? crossing.nextOfA : crossing.nextOfB;
        }
    }
    int crossingsOf(LoopId host) const {
        int n = 0;
        eachCrossing(host, [&](const Crossing&, bool) { ++n; });
        return n;
    }

    // ---- several into one
    // ------------------------------------------------------------------------------------

    std::size_t readSeveralIntoOne(std::size_t i, const Links& first) {
        const LoopId host = first.met[0].host;
        int kids = 0;
        for (LinkId k = f_[host].firstKid; k; k = f_[k].nextInHost) {
            if (f_[k].form.part == Part::opening && !isChainLink(f_, f_[k])) ++kids;
        }
        if (kids < 2 || c_.isBar(host) || first.passedOver) return 0;
        std::vector<Links> all = {first};
        int overs = 0;
        bool contiguous = true;
        std::size_t n = 1;
        std::vector<LoopId> loops = {items_[i].loop};
        bool passedOver = false;
        for (int found = 1; found < kids && i + n < items_.size(); ++n) {
            const CourseItem& item = items_[i + n];
            if (item.what != What::loop) return 0;
            const Links links = linksOf(f_, item.loop, stance_);
            if (links.count == 0 && f_[item.loop].flags.anchored == 0 && !links.passedOver) {
                ++overs;
                contiguous = contiguous && static_cast<std::size_t>(overs) == all.size();
                continue;
            }
            if (links.count != 1 || links.met[0].host != host || passedOver) return 0;
            all.push_back(links);
            loops.push_back(item.loop);
            passedOver = links.passedOver;
            ++found;
        }
        const auto made = static_cast<int>(all.size());
        if (made != kids || (overs > 0 && (overs != made - 1 || !contiguous))) return 0;
        Step step;
        const int base = windOfFirst(all);
        const auto turns = [&](int k) { return all[static_cast<std::size_t>(k)].met[0].turns - base; };
        const auto purl = [&](int k) { return all[static_cast<std::size_t>(k)].purl; };
        bool exact = true;
        if (overs > 0) {
            step.op = Op::kyok;
            step.count = static_cast<std::int16_t>(made + overs);
            for (int k = 0; k < made; ++k) exact = exact && turns(k) == 0 && !purl(k);
        } else if (made == 2 && !purl(1) && !purl(0)) {
            step.op = Op::kfb;
            exact = turns(0) == 0 && (turns(1) == -1 || turns(1) == 1);
            if (exact && (turns(1) == 1 || base != 0)) exact = sitsTurned(host, base);
        } else {
            step.op = Op::kpk;
            step.count = static_cast<std::int16_t>(made);
            for (int k = 0; k < made; ++k) exact = exact && turns(k) == 0 && purl(k) == (k % 2 == 1);
        }
        if (exact && step.op != Op::kfb && base != 0) exact = sitsTurned(host, base);
        if (step.count == 3 && step.op != Op::kfb) step.count = 1;
        for (const Links& links : all) exact = exact && !links.split && !links.underLeg;
        exact = exact && crossingsOf(host) == 0 && inOrder(host, loops);
        if (!exact) unnamedStitch(items_[i].loop);
        add(step, items_[i].loop, passedOver);
        stitch_ += static_cast<int>(n) - 1;
        return n;
    }

    static int windOfFirst(const std::vector<Links>& all) {
        const int turns = all.front().met[0].turns;
        return turns >= 2 ? turns - turns % 2 : 0;
    }

    /// Loops into one base lie in it in the order in which they were made.
    bool inOrder(LoopId host, std::vector<LoopId> made) const {
        if (stance_.run == Run::rightward) std::reverse(made.begin(), made.end());
        std::size_t n = 0;
        for (LinkId k = f_[host].firstKid; k; k = f_[k].nextInHost) {
            if (f_[k].form.part != Part::opening || isChainLink(f_, f_[k])) continue;
            if (made[n++] != f_[k].loop) return false;
        }
        return true;
    }

    // ---- cables
    // --------------------------------------------------------------------------------------------

    std::size_t readCable(std::size_t i, const Links& first) {
        const LoopId lead = first.met[0].host;  // the first of those worked before the held ones
        const int over = crossingsOf(lead);
        if (over == 0) return 0;
        LoopId held;
        bool inFront = false;
        eachCrossing(lead, [&](const Crossing& x, bool leadIsA) {
            held = leadIsA ? x.b : x.a;
            inFront = leadIsA ? x.sign > 0 : x.sign < 0;
        });
        const int under = crossingsOf(held);
        Step step;
        step.op = Op::cable;
        step.over = static_cast<std::int16_t>(over);
        step.under = static_cast<std::int16_t>(under);
        step.front = inFront == (stance_.facing == Side::right);
        std::vector<LoopId> hosts;
        std::vector<HeldTurns> wound;
        for (int k = 0; k < over + under; ++k) {
            const std::size_t j = i + static_cast<std::size_t>(k);
            if (j >= items_.size() || items_[j].what != What::loop) return 0;
            const Links links = linksOf(f_, items_[j].loop, stance_);
            if (links.count != 1 || links.passedOver || links.split || links.underLeg ||
                f_.kidCount(links.met[0].host) != 1)
                return 0;
            const int turns = links.met[0].turns;
            if (turns < 0 || turns % 2 != 0) return 0;
            if (turns > 0) wound.push_back({links.met[0].host, turns});
            bool& purl = k < under ? step.purlUnder : step.purlOver;
            if (k == 0 || k == under) purl = links.purl;
            if (purl != links.purl) return 0;
            hosts.push_back(links.met[0].host);
        }
        for (int k = 0; k < over + under; ++k) {
            const bool isUnder = k < under;
            const LoopId host = hosts[static_cast<std::size_t>(k)];
            if (crossingsOf(host) != (isUnder ? over : under)) return 0;
            bool right = true;
            eachCrossing(host, [&](const Crossing& x, bool isA) {
                const auto from = hosts.begin() + (isUnder ? under : 0);
                const auto to = isUnder ? hosts.end() : hosts.begin() + under;
                right = right && std::find(from, to, isA ? x.b : x.a) != to;
                // Those held lay nearer to the tip before.
                const bool heldIsA = isUnder ? !isA : isA;
                right = right && heldIsA == (stance_.run == Run::leftward);
                right = right && (heldIsA ? x.sign < 0 : x.sign > 0) == inFront;
            });
            if (!right) return 0;
        }
        for (const HeldTurns& w : wound) {
            if (!sitsTurned(w.loop, w.turns)) unnamedStitch(items_[i].loop);
        }
        add(step, items_[i].loop, false);
        stitch_ += over + under - 1;
        return static_cast<std::size_t>(over + under);
    }

    // ---- a stitch passed over two
    // ----------------------------------------------------------------------------

    std::size_t readPassedOverTwo(std::size_t i, const Links& first) {
        if (i + 1 >= items_.size() || items_[i + 1].what != What::loop) return 0;
        const Links second = linksOf(f_, items_[i + 1].loop, stance_);
        const LoopId passed = first.met[1].host;
        if (second.count != 2 || second.met[1].host != passed || f_.kidCount(passed) != 2) return 0;
        const auto fits = [](const Links& links) {
            return !links.purl && !links.mixed && !links.split && links.met[0].ahead == 1 &&
                   links.met[0].turns % 2 == 0 && links.met[0].turns >= 0;
        };
        if (!fits(first) || !fits(second) || first.passedOver || second.passedOver) return 0;
        if (first.met[1].turns != second.met[1].turns) return 0;
        bool exact = first.met[1].turns % 2 == 0 && first.met[1].turns >= 0;
        for (const Met& met : {first.met[0], first.met[1], second.met[0]}) {
            if (exact && met.turns > 0) exact = sitsTurned(met.host, met.turns);
        }
        if (!exact) unnamedStitch(items_[i].loop);
        add(Op::slip1k2Over, items_[i].loop);
        ++stitch_;
        return 2;
    }

    // ---- how a loop sat
    // ---------------------------------------------------------------------------------------

    std::vector<HeldTurns> heldTurns() {
        std::vector<HeldTurns> held;
        for (std::int32_t t = 0; t < f_.toolCount(); ++t) {
            for (HeldId h = f_[ToolId{t}].first; h; h = f_[h].next) {
                const LoopId loop = f_[h].loop;
                int turns = out_.mirrored ? -f_[h].state.turns : f_[h].state.turns;
                if (f_[loop].flags.anchored != 0 && !f_[loop].firstLink) ++turns;
                if (turns > 0 && f_[h].state.hanging == 0) held.push_back({loop, turns});
            }
        }
        return held;
    }

    /// Makes the steps below put a loop left leg in front, and wind it so many half turns more: the last
    /// slips knitwise, or a yarn-over the other way. False: no slip or yarn-over is there to do it.
    bool sitsTurned(LoopId loop, int wound) {
        int needed = 1 + wound / 2;
        const bool backward = !f_[loop].firstLink && f_[loop].flags.anchored != 0;
        if (stepOf_[at(loop)].row >= 0) {  // a yarn-over
            raw(stepOf_[at(loop)]).step.op = Op::yarnOverReverse;
            --needed;
        }
        std::vector<StepPlace> slips;
        if (f_[loop].strands) {
            for (PassId p = f_[f_[loop].strands].first; p; p = f_[p].passNext) {
                if (stepOf_[at(p)].row >= 0) slips.push_back(stepOf_[at(p)]);
            }
        }
        for (auto it = slips.rbegin(); it != slips.rend() && needed > 0; ++it, --needed) {
            Op& op = raw(*it).step.op;
            if (op == Op::slipPurlwiseBack) op = Op::slipKnitwiseBack;
            if (op == Op::slipPurlwiseFront) op = Op::slipKnitwiseFront;
        }
        return needed <= 0 || (backward && wound == 2 && slips.empty());
    }
    Raw& raw(StepPlace place) {
        return rows_[static_cast<std::size_t>(place.row)][static_cast<std::size_t>(place.index)];
    }

    // ---- rows of steps
    // ------------------------------------------------------------------------------------------

    void assemble(std::size_t r) {
        const Course& course = c_.list[r + 1];
        course_ = &course;
        stitch_ = 0;
        WorkedRow row;
        row.number = row.printed = course.row;
        row.round = course.round;
        row.facing = (course.run == Run::leftward) != out_.mirrored ? Facing::right : Facing::wrong;
        out_.madeBy.emplace_back();
        std::vector<LoopId>& made = out_.madeBy.back();
        const auto emit = [&](const Step& step, LoopId loop) {
            row.steps.push_back(step);
            made.push_back(loop);
        };
        const std::vector<Raw>& all = rows_[r];
        row.steps.reserve(all.size());
        made.reserve(all.size());
        for (std::size_t i = 0; i < all.size(); ++i) {
            const Raw& one = all[i];
            const bool joins = one.step.op == Op::castOn || one.step.op == Op::yarnOver ||
                               one.step.op == Op::yarnOverReverse;
            if (joins && !one.over) {
                Step step = one.step;
                while (i + 1 < all.size() && all[i + 1].step.op == step.op && !all[i + 1].over) {
                    step.count = static_cast<std::int16_t>(step.count + all[++i].step.count);
                }
                emit(step, one.loop);
                continue;
            }
            const std::size_t chain = chainFrom(all, i);
            if (chain > 0) {
                const Raw& last = all[i + chain];
                const bool fastened = f_[last.loop].flags.anchored != 0;
                Step bind;
                bind.op = one.step.op == Op::knit ? Op::bindOff : Op::bindOffPurl;
                bind.count = static_cast<std::int16_t>(chain + (fastened ? 1 : 0));
                emit(bind, {});
                if (!fastened && !last.left) emit(last.step, last.loop);
                i += chain;
                continue;
            }
            if (one.loop && f_[one.loop].flags.anchored != 0 && f_[one.loop].firstLink &&
                c_.rows[one.loop] == course.row) {
                Step bind;
                bind.op = one.step.op == Op::purl ? Op::bindOffPurl : Op::bindOff;
                if (one.over || (one.step.op != Op::knit && one.step.op != Op::purl))
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
        out_.script.rows.push_back(std::move(row));
    }

    /// How many stitches of one kind from `i` on make a chain of a bind-off with the one at `i`.
    static std::size_t chainFrom(const std::vector<Raw>& all, std::size_t i) {
        const Op op = all[i].step.op;
        if ((op != Op::knit && op != Op::purl) || all[i].over) return 0;
        std::size_t n = 0;
        while (i + n + 1 < all.size() && all[i + n + 1].over && isStitch(all[i + n + 1], op)) ++n;
        return n;
    }

    const Fabric& f_;
    const Courses& c_;
    ScriptReading& out_;
    const Course* course_ = nullptr;
    RowStance stance_;
    int stitch_ = 0;
    std::vector<CourseItem> items_;       // of the row being read, in working order
    std::vector<std::vector<Raw>> rows_;  // by row, from row 1
    std::vector<StepPlace> stepOf_;       // by entry: the slip or yarn-over it is
};

}  // namespace

ScriptReading readScript(const Fabric& fabric, Knits hands) {
    const Courses courses = coursesOf(fabric);
    ScriptReading out;
    out.mirrored = hands == Knits::leftHanded || (hands == Knits::asItShows && showsLeftHanded(courses));
    ScriptReader(fabric, courses, out).run();
    return out;
}

tl::expected<Script, ScriptReading> scriptOf(const Fabric& fabric, Knits hands) {
    ScriptReading reading = readScript(fabric, hands);
    if (!reading.unnamed.empty()) return tl::make_unexpected(std::move(reading));
    return std::move(reading.script);
}

Script asRead(const Script& script) {
    Script out = script;
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
            if (last != nullptr && last->op == step.op &&
                (step.op == Op::yarnOver || step.op == Op::castOn)) {
                last->count = static_cast<std::int16_t>(last->count + step.count);
                continue;
            }
            if (last != nullptr && uses(step) == 1 && makes(step) == 1) {
                if (last->op == Op::bindOff) step.op = Op::knit;
                if (last->op == Op::bindOffPurl) step.op = Op::purl;
            }
            steps.push_back(step);
        }
        row.steps = steps;
    }
    return out;
}

std::string sentence(const std::vector<Unnamed>& unnamed) {
    if (unnamed.empty()) return "every stitch can be named";
    const Unnamed& first = unnamed.front();
    const std::string place = first.stitch > 0 ? fmt::format("row {}, stitch {}", first.row, first.stitch)
                                               : fmt::format("row {}", first.row);
    return unnamed.size() == 1 ? fmt::format("{} is no stitch I know: {}", place, first.words)
                               : fmt::format("{} places are no stitches I know; the first is {}: {}",
                                             unnamed.size(), place, first.words);
}

}  // namespace loopmend
