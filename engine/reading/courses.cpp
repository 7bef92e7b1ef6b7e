// SPDX-License-Identifier: MIT
#include "reading/courses.h"

#include "fabric/floats.h"
#include "fabric/hands.h"

#include <algorithm>

namespace loopmend {

namespace {

std::size_t at(EntryId e) {
    return static_cast<std::size_t>(e.value);
}

class Layout {
  public:
    explicit Layout(const Fabric& fabric) : f_(fabric) {
        c_.rows = rowsOf(fabric);
        const auto n = static_cast<std::size_t>(f_.entryCount());
        c_.marks.assign(n, 0);
        consumedIn_.assign(n, Rows::kNotPlaced);
        place_.assign(n, -1);
    }

    Courses run() {
        c_.list.resize(static_cast<std::size_t>(c_.rows.last) + 1);
        weighMarks();
        sortEntries();
        for (std::size_t r = 0; r < c_.list.size(); ++r) {
            c_.list[r].row = static_cast<std::int32_t>(r);
            layOut(c_.list[r]);
        }
        markRounds();
        return std::move(c_);
    }

  private:
    using What = CourseItem::What;

    // ---- which entries belong to which row
    // ------------------------------------------------------------------

    /// What came out into each strand, once a strand: a whole row may lie in one.
    void weighMarks() {
        for (std::int32_t y = 0; y < f_.yarnCount(); ++y) {
            const Yarn& yarn = f_[YarnId{y}];
            if (yarn.flags.gone != 0) continue;
            std::int64_t strand = yarn.leadUm;
            for (EntryId e = yarn.first; e;) {
                if (f_.isLoop(e) && !f_.isNothing(e)) {
                    strand = f_[e].strandUm;
                    e = f_[e].next;
                    continue;
                }
                const EntryId first = e;
                std::int32_t free = 0;
                std::int32_t others = 0;
                for (; e && (!f_.isLoop(e) || f_.isNothing(e)); e = f_[e].next) {
                    if (f_.isLoop(e)) {
                        strand += std::int64_t{f_[e].um} + f_[e].strandUm;
                    } else {
                        (f_.isFree(e) ? free : others) += 1;
                    }
                }
                if (free == 0) continue;
                const auto shared = static_cast<std::int32_t>(
                    std::max<std::int64_t>(strand - std::int64_t{others} * yarn.strandUm, 0));
                const bool isLong = shareOf(shared, yarn.strandUm, free, 0, 1, !e).loop * 2 > yarn.loopUm;
                const std::int64_t stitch = std::int64_t{yarn.loopUm} + yarn.strandUm;
                const std::int64_t more = std::int64_t{shared} - (e ? yarn.strandUm : 0) + stitch / 2;
                const std::int64_t stitches = std::clamp<std::int64_t>(more / stitch, 0, free);
                if (c_.stitchParts.empty()) c_.stitchParts.assign(c_.marks.size(), 0);
                for (EntryId m = first; m != e; m = f_[m].next) {
                    if (f_.isLoop(m) || !f_.isFree(m)) continue;
                    if (isLong) c_.marks[at(m)] |= Courses::kLongRung;
                    c_.stitchParts[at(m)] = static_cast<std::int32_t>(stitches * Courses::kParts / free);
                }
            }
        }
    }

    /// Every row gets its entries in the order of the yarn; several yarns one after the other.
    void sortEntries() {
        starts_.resize(c_.list.size());
        for (std::int32_t y = 0; y < f_.yarnCount(); ++y) {
            const Yarn& yarn = f_[YarnId{y}];
            if (yarn.flags.gone != 0) continue;
            std::int32_t row = -1;
            std::int32_t open = -1;  // the row in which this yarn's entries are being listed
            EntryId before;
            bool inBare = false;  // among loops without links that lie side by side
            for (EntryId e = yarn.first; e; e = f_[e].next) {
                const bool placed = c_.rows[e] != Rows::kNotPlaced;
                if (placed) {
                    row = c_.rows[e];
                } else if (!f_.isLoop(e) && row >= 0 && before && beginsRow(before, e)) {
                    ++row;  // a mark behind a turn
                }
                const EntryId last = before;
                before = e;
                if (row < 0 || row > c_.rows.last) continue;
                if (f_[e].flags.rowEnds != 0) c_.list[static_cast<std::size_t>(row)].ended = true;
                if (f_.isLoop(e)) {
                    if (!placed || f_.isNothing(e)) continue;
                    if (isBare(e) && isLiftedWrap(e)) {
                        mark(e, Courses::kBar | Courses::kLiftedWrap);
                        c_.list[static_cast<std::size_t>(row)].wrapAtEnd = e;
                        continue;
                    }
                    if (isBare(e) && isFurtherTurn(f_, e)) {
                        inBare = false;
                    } else if (isBare(e)) {
                        if (!inBare) markBars(e);
                        inBare = true;
                        if (c_.isBar(e)) {
                            markCaughtFloat(e);
                            continue;
                        }
                    } else {
                        inBare = false;
                    }
                    markTuck(e);
                    markKnittedOn(e);
                    markSpare(e);
                }
                Course& course = c_.list[static_cast<std::size_t>(row)];
                if (row != open) {
                    course.goesOn = picksUp(e) && last && !beginsRow(last, e);
                    starts_[static_cast<std::size_t>(row)].push_back(course.items.size());
                    open = row;
                }
                CourseItem item;
                item.entry = e;
                item.what = f_.isLoop(e) ? What::loop : f_.isFree(e) ? What::rung : What::slip;
                item.loop = f_.isLoop(e) ? e : f_.passed(e);
                course.items.push_back(item);
            }
        }
    }

    /// Drawn through its neighbour, which stays where it is: nothing but a knitted cast-on does that. The
    /// first of them in mid-row is drawn through the next stitch, and the yarn turns for it.
    void markKnittedOn(LoopId loop) {
        const LinkId link = f_[loop].firstLink;
        if (!link || f_[link].nextInLoop || f_[link].form.part != Part::opening) return;
        const LoopId host = f_[link].host;
        const auto next = [&](LoopId of, LinkId through) {
            return f_[of].prev == f_[through].host && f_.run(f_[through].host) == f_.run(of);
        };
        if (next(loop, link)) {
            if (stays(host, loop)) mark(loop, Courses::kKnittedOn);
            return;
        }
        const EntryId before = f_[loop].prev;
        const EntryId after = f_[loop].next;
        if (!before || !after || !f_.isLoop(after) || f_.run(before) == f_.run(loop) || !stays(host, loop))
            return;
        bool chain = f_.run(after) != f_.run(loop);
        for (LinkId l = f_[after].firstLink; l && !chain; l = f_[l].nextInLoop)
            chain = f_[l].host == loop && next(after, l) && stays(loop, after);
        if (chain) mark(loop, Courses::kKnittedOn);
    }
    bool stays(LoopId host, LoopId loop) const {
        if (f_.isHeld(host)) return true;
        for (LinkId k = f_[host].firstKid; k; k = f_[k].nextInHost) {
            const LoopId kid = f_[k].loop;
            if (kid != loop && f_[k].form.part == Part::opening && !isChainLink(f_, f_[k]) &&
                c_.rows[kid] > c_.rows[loop])
                return true;
        }
        return false;
    }

    /// Drawn through one loop to the one side and through another to the other: two pieces, face to face.
    void markSpare(LoopId loop) {
        LinkId a;
        LinkId b;
        for (LinkId l = f_[loop].firstLink; l; l = f_[l].nextInLoop) {
            if (isChainLink(f_, f_[l])) continue;
            if (b) return;
            (a ? b : a) = l;
        }
        if (b && f_[a].form.side != f_[b].form.side && f_[a].form.part == Part::opening)
            mark(f_[a].host, Courses::kSpare);
    }

    bool picksUp(EntryId e) const {
        return f_.isLoop(e) && f_[e].firstLink && f_[f_[e].firstLink].form.part != Part::opening;
    }

    bool beginsRow(EntryId before, EntryId e) const {
        return f_.run(before) != f_.run(e) || f_[before].flags.rowEnds != 0;
    }

    bool isBare(EntryId e) const {
        return f_.isLoop(e) && !f_[e].firstLink && f_[e].flags.anchored == 0 && !f_.isNothing(e);
    }

    /// A lifted bar and a yarn-over are the same knot and differ in their yarn alone: the bar's was the
    /// strand's. Of loops without links that lie side by side, one for which the strand before it was not
    /// shortened came from the ball, as long as there is more yarn than a bare strand has. (A strand before a
    /// stitch with others passed over it is up to half a yarn-over longer than others.)
    void markBars(EntryId first) {
        const Yarn& yarn = f_[f_[first].yarn];
        EntryId before = f_[first].prev;
        std::int64_t natural = yarn.strandUm;
        for (; before && !f_.isLoop(before); before = f_[before].prev) natural += yarn.strandUm;
        const std::int64_t strand = before ? f_[before].strandUm : yarn.leadUm;
        std::int64_t more = strand - natural;
        std::int64_t passed = 0;
        bool marks = false;
        bare_.clear();
        EntryId e = first;
        for (; e && (!f_.isLoop(e) || isBare(e) || f_.isNothing(e)); e = f_[e].next) {
            if (!f_.isLoop(e)) {
                passed += yarn.strandUm;
                marks = marks || f_.isFree(e);
                continue;
            }
            more += f_[e].um + f_[e].strandUm - passed;
            passed = 0;
            if (isBare(e)) bare_.push_back(e);
        }
        more -= e ? passed : -yarn.strandUm;  // at the end the strand is not drawn from the ball yet
        const auto isShort = [&](LoopId l) { return std::int64_t{f_[l].um} * 10 <= yarn.loopUm * 3; };
        if (marks) {  // what came out lies in the strands: a loop's own yarn must tell
            for (const LoopId l : bare_) {
                if (isShort(l)) mark(l, Courses::kBar);
            }
            return;
        }
        std::int64_t lies = strand;  // since the last loop that came from the ball
        for (EntryId at = first; at != e; at = f_[at].next) {
            if (!f_.isLoop(at)) {
                natural += yarn.strandUm;
                continue;
            }
            const std::int64_t own = std::max(f_[at].um, yarn.loopUm * 2 / 3) + std::int64_t{yarn.strandUm};
            if (isBare(at) && !isShort(at) && lies * 4 >= natural * 3 && more * 5 >= own * 3) {
                more -= own;
                lies = f_[at].strandUm;
                natural = yarn.strandUm;
                continue;
            }
            if (isBare(at)) mark(at, Courses::kBar);
            lies += f_[at].um + std::int64_t{f_[at].strandUm};
        }
    }

    /// A strand led round a stitch at a turn, lifted, and caught together with that stitch: the other half of
    /// it still goes by the stitch, and the yarn turns between them.
    bool isLiftedWrap(LoopId bare) const {
        const LinkId kid = f_[bare].firstKid;
        if (!kid) return false;
        for (const EntryId beside : {f_[bare].next}) {
            if (!beside || f_.isLoop(beside) || f_.run(beside) == f_.run(bare)) continue;
            const LoopId stitch = f_.passed(beside);
            if (stitch == bare) continue;  // slipped
            for (LinkId l = f_[f_[kid].loop].firstLink; l; l = f_[l].nextInLoop) {
                if (f_[l].host == stitch) return true;
            }
        }
        return false;
    }

    /// Caught by the loop that goes through it and through the stitch across which it lay.
    void markCaughtFloat(LoopId bar) {
        const LinkId kid = f_[bar].firstKid;
        if (!kid) return;
        for (LinkId l = f_[f_[kid].loop].firstLink; l; l = f_[l].nextInLoop) {
            const LoopId stitch = f_[l].host;
            if (stitch != bar && c_.rows[stitch] == c_.rows[bar] && layAcross(f_, bar, stitch))
                mark(bar, Courses::kCaughtFloat);
        }
    }

    /// The yarn led round a stitch at a turn: by it on one side and back on the other. At the end of the
    /// needle a stitch slipped before and after the turn is the same knot; there it is read as slipped.
    bool isWrap(PassId pass) const {
        const auto backBy = [&](EntryId other) {
            return other && !f_.isLoop(other) && f_.passed(other) == f_.passed(pass) &&
                   f_.run(other) != f_.run(pass) && f_.passSide(other) != f_.passSide(pass);
        };
        const auto lifted = [&](EntryId other) {
            return other && f_.isLoop(other) && c_.isLiftedWrap(other) && f_.run(other) != f_.run(pass);
        };
        if (lifted(f_[pass].prev) || lifted(f_[pass].next)) return true;
        const bool turnsAfter = backBy(f_[pass].next);
        if (!turnsAfter && !backBy(f_[pass].prev)) return false;
        const bool beyondIsLeft = (f_.run(pass) == Run::leftward) == turnsAfter;
        const std::int32_t beyond = place_[at(f_.passed(pass))] + (beyondIsLeft ? 1 : -1);
        return beyond >= 0 && beyond < static_cast<std::int32_t>(needle_.size()) &&
               !goesAway(needle_[static_cast<std::size_t>(beyond)]);
    }

    void mark(EntryId e, std::uint8_t m) { c_.marks[at(e)] |= m; }

    /// The loop above a tuck goes through two: one without links, and what that one once stood on. Two
    /// together of a yarn-over and a slipped stitch are the same links; the slip's strand tells them apart.
    void markTuck(LoopId loop) {
        LoopId a;
        LoopId b;
        for (LinkId l = f_[loop].firstLink; l; l = f_[l].nextInLoop) {
            if (isChainLink(f_, f_[l])) continue;
            if (b) return;
            (a ? b : a) = f_[l].host;
        }
        if (!b) return;
        const auto bare = [&](LoopId h) { return !f_[h].firstLink && f_[h].flags.anchored == 0; };
        if (bare(a) == bare(b)) return;
        const LoopId top = bare(a) ? a : b;
        const LoopId base = bare(a) ? b : a;
        const std::int32_t row = c_.rows[top];
        if (c_.has(top, Courses::kBar) || c_.rows[base] >= row || c_.rows[loop] == row) return;
        if (f_[base].strands) {
            for (PassId p = f_[f_[base].strands].first; p; p = f_[p].passNext) {
                if (c_.rows[p] == row && f_[p].yarn == f_[top].yarn) return;
            }
        }
        mark(top, Courses::kTuckTop);
        if (tuckBase_.empty()) tuckBase_.resize(c_.marks.size());
        tuckBase_[at(top)] = base;
    }

    LoopId tuckBase(LoopId top) const { return tuckBase_[at(top)]; }

    /// Both legs of a stitch pulled up at a turn. At the end of a row the same knot is a stitch worked into
    /// the one below; there the yarn tells.
    bool isTurn(LoopId loop) const {
        const LoopId base = f_[loop].prev;
        if (!base || !f_.isLoop(base) || f_.run(base) == f_.run(loop)) return false;
        const std::int32_t place = place_[at(base)];
        if (place < 0) return false;
        if (f_.isLive(loop) && f_.isLive(base) && onNeedle(loop) && onNeedle(base)) return isBare(loop);
        if (!c_.has(loop, Courses::kTuckTop) || tuckBase(loop) != base) return false;
        const bool inside =
            f_.run(loop) == Run::leftward ? place > 0 : place + 1 < static_cast<std::int32_t>(needle_.size());
        // Laid over the needle it has less yarn than a stitch that was worked and then dropped.
        return inside || std::int64_t{f_[loop].um} * 6 < std::int64_t{f_[f_[loop].yarn].loopUm} * 5;
    }

    // ---- one row upon the needle
    // ----------------------------------------------------------------------------

    /// The right-most place on the needle of what a loop goes through; -1 if nothing of it was there.
    std::int32_t placeOf(const CourseItem& item) const {
        if (item.what == What::rung) return -1;
        if (item.what == What::slip) return place_[at(item.loop)];
        std::int32_t least = -1;
        for (LinkId l = f_[item.loop].firstLink; l; l = f_[l].nextInLoop) {
            if (f_[l].form.part != Part::opening || c_.isSpare(f_[l].host)) continue;
            const std::int32_t p = place_[at(f_[l].host)];
            if (p >= 0 && (least < 0 || p < least)) least = p;
        }
        if (least < 0 && c_.has(item.loop, Courses::kTuckTop)) return place_[at(tuckBase(item.loop))];
        return least;
    }

    LoopId barOf(const CourseItem& item) const {
        if (item.what != What::loop || !f_[item.loop].firstLink) return {};
        const LoopId host = f_[f_[item.loop].firstLink].host;
        return c_.has(host, Courses::kBar) ? host : LoopId{};
    }
    /// The place on the needle of what lies before or behind a bar along its yarn.
    std::int32_t placeBeside(LoopId bar, EntryId Entry::*way) const {
        EntryId e = f_[bar].*way;
        while (e && f_.isLoop(e) && c_.isBar(e)) e = f_[e].*way;
        return e ? place_[at(f_.isLoop(e) ? e : f_.passed(e))] : -1;
    }
    bool goesAway(LoopId loop) const {
        if (onNeedle(loop)) return false;
        if (c_.isSpare(loop)) return true;
        for (LinkId k = f_[loop].firstKid; k; k = f_[k].nextInHost) {
            const bool stands = f_[k].form.part == Part::opening && !c_.isKnittedOn(f_[k].loop);
            if (stands) return false;
        }
        return true;
    }
    /// Drawn through by the yarn's end: it is off the needle at once.
    bool isFastened(LoopId loop) const {
        return f_[loop].flags.anchored != 0 && f_[loop].firstLink && !onNeedle(loop);
    }

    /// A stitch made from the bar beside a stitch that leaves the needle in this row reaches that far.
    template <class Reach>
    void reachBeside(const CourseItem& item, Reach reach) const {
        const LoopId bar = barOf(item);
        if (!bar) return;
        for (const auto way : {&Entry::prev, &Entry::next}) {
            const std::int32_t p = placeBeside(bar, way);
            if (p >= 0 && goesAway(needle_[static_cast<std::size_t>(p)])) reach(p);
        }
    }

    /// Where an item is laid among what the row did not take: a stitch made from the bar lies left of the
    /// bar's right neighbour.
    std::int32_t layAt(const CourseItem& item, std::int32_t place) const {
        const LoopId bar = place >= 0 ? LoopId{} : barOf(item);
        if (!bar) return place;
        const bool leftward = f_.run(bar) == Run::leftward;
        const std::int32_t right = placeBeside(bar, leftward ? &Entry::prev : &Entry::next);
        const std::int32_t left = placeBeside(bar, leftward ? &Entry::next : &Entry::prev);
        // At the join of a round the stitch before the bar lies at the other end of the needle.
        return leftward ? (left >= 0 ? left : right + 1) : (right >= 0 ? right + 1 : left);
    }

    void consume(const CourseItem& item, std::int32_t row) {
        if (c_.isKnittedOn(item.loop)) return;
        for (LinkId l = f_[item.loop].firstLink; l; l = f_[l].nextInLoop) {
            if (f_[l].form.part == Part::opening && !c_.isSpare(f_[l].host))
                consumedIn_[at(f_[l].host)] = row;
        }
        if (c_.has(item.loop, Courses::kTuckTop)) consumedIn_[at(tuckBase(item.loop))] = row;
    }

    bool usedIn(LoopId loop, std::int32_t row) const { return consumedIn_[at(loop)] == row; }

    bool onNeedle(LoopId loop) const {
        const HeldId h = f_.heldOn(loop, f_.needle());
        return h && f_[h].state.hanging == 0;
    }

    void layOut(Course& course) {
        const std::int32_t row = course.row;
        course.before = static_cast<std::int32_t>(needle_.size());
        arrange(course);
        std::vector<CourseItem> items;
        items.swap(course.items);
        items.erase(std::remove_if(items.begin(), items.end(),
                                   [&](const CourseItem& i) {
                                       return i.what == What::slip && isWrap(i.entry) &&
                                              takeWrap(course, i.entry);
                                   }),
                    items.end());
        course.castsOn =
            row > 0 && !items.empty() && std::all_of(items.begin(), items.end(), [&](const CourseItem& i) {
                return i.what == What::loop && c_.isKnittedOn(i.loop);
            });
        if (row > 0) {
            const Course& below = c_.list[static_cast<std::size_t>(row) - 1];
            if (course.castsOn) course.goesOn = !below.ended && row > 1;
            if (below.castsOn) course.goesOn = true;
        }
        const EntryId doubled = doubledAt(course, items);
        for (const CourseItem& item : items) {
            if (item.what == What::loop) consume(item, row);
        }
        if (doubled && usedIn(f_[doubled].prev, row)) {
            c_.marks[at(doubled)] &= static_cast<std::uint8_t>(~Courses::kDoubled);
        }

        std::int32_t low = -1;
        std::int32_t high = -1;
        const auto reach = [&](std::int32_t p) {
            if (p < 0) return;
            low = low < 0 ? p : std::min(low, p);
            high = std::max(high, p);
        };
        for (const CourseItem& item : items) {
            if (course.castsOn) break;
            reach(placeOf(item));
            reachBeside(item, reach);
        }
        const auto size = static_cast<std::int32_t>(needle_.size());
        if (low < 0) {  // nothing of the needle was touched: it lies where this row began
            low = course.castsOn ? besideFirst(items, course.run)
                  : doubled && c_.isDoubled(doubled)
                      ? place_[at(f_[doubled].prev)] + (course.run == Run::leftward ? 1 : 0)
                      : tipOf(course);
            high = low - 1;
        }
        for (; high + 1 < size && usedIn(needle_[static_cast<std::size_t>(high + 1)], row); ++high) {
        }
        const auto awayAt = [&](std::int32_t p) { return goesAway(needle_[static_cast<std::size_t>(p)]); };
        while (low > 0 && awayAt(low - 1)) --low;
        while (high + 1 < size && awayAt(high + 1)) ++high;
        std::vector<LoopId> next;
        next.reserve(needle_.size() + 8);
        course.items.reserve(items.size() + 8);
        const auto passBy = [&](std::int32_t p) {
            const LoopId loop = needle_[static_cast<std::size_t>(p)];
            if (usedIn(loop, row)) return;
            const bool stays = !goesAway(loop);
            course.items.push_back({stays ? What::stay : What::away, loop, loop});
            if (stays) next.push_back(loop);
        };
        const auto unreached = [&](std::int32_t from, std::int32_t to, std::int32_t& count) {
            for (std::int32_t p = from; p < to; ++p) {
                const LoopId loop = needle_[static_cast<std::size_t>(p)];
                if (!goesAway(loop)) {
                    next.push_back(loop);
                    ++count;
                } else {
                    course.items.push_back({What::away, loop, loop});
                }
            }
        };
        unreached(0, low, course.toRight);
        std::int32_t p = low;
        for (const CourseItem& item : items) {
            const std::int32_t place = course.castsOn ? -1 : placeOf(item);
            for (const std::int32_t until = layAt(item, place); p < until; ++p) passBy(p);
            if (item.what == What::slip) {
                if (place < 0 || usedIn(item.loop, row)) continue;  // a float, a strand left by hands
                if (place == p) ++p;
            }
            course.items.push_back(item);
            if (item.what == What::slip ||
                (item.what == What::loop && !usedIn(item.loop, row) && !isFastened(item.loop))) {
                next.push_back(item.loop);
            }
        }
        for (; p <= high; ++p) passBy(p);
        unreached(high + 1, size, course.toLeft);

        for (const LoopId loop : needle_) place_[at(loop)] = -1;
        needle_.swap(next);
        for (std::size_t i = 0; i < needle_.size(); ++i) {
            place_[at(needle_[i])] = static_cast<std::int32_t>(i);
            const LoopId loop = needle_[i];
            if ((f_[loop].firstKid || f_[loop].held) && !c_.isDoubled(loop)) ++course.after;
        }
    }

    /// The loop that a course begins with, if it is the second pair of legs of the stitch before it.
    LoopId doubledAt(const Course& course, const std::vector<CourseItem>& items) {
        if (items.empty()) return {};
        const CourseItem& first = course.run == Run::leftward ? items.front() : items.back();
        if (first.what != What::loop || !isBare(first.loop) || !isTurn(first.loop)) return {};
        for (const CourseItem& item : items) {
            if (item.what == What::slip && item.loop == f_[first.loop].prev) return {};
        }
        c_.marks[at(first.loop)] &= static_cast<std::uint8_t>(~Courses::kTuckTop);
        mark(first.loop, Courses::kDoubled);
        return first.loop;
    }

    /// Stitches knitted on come to lie before the one that the first of them was drawn through.
    std::int32_t besideFirst(const std::vector<CourseItem>& items, Run run) const {
        const LoopId first = run == Run::leftward ? items.front().loop : items.back().loop;
        const std::int32_t place = place_[at(f_[f_[first].firstLink].host)];
        return run == Run::leftward ? place + 1 : std::max(place, 0);
    }

    /// Where on the needle a course begins that takes nothing from it: where the one before ended; a round
    /// begins anew.
    std::int32_t tipOf(const Course& course) const {
        const auto size = static_cast<std::int32_t>(needle_.size());
        if (course.row == 0) return 0;
        const Course& before = c_.list[static_cast<std::size_t>(course.row) - 1];
        if (before.run == course.run && !course.goesOn) return course.run == Run::leftward ? 0 : size;
        return before.run == Run::leftward ? size - before.toLeft : before.toRight;
    }

    /// A half of a wrap, which is told with the turn.
    bool takeWrap(Course& course, PassId pass) {
        const bool back =
            f_[pass].prev && !f_.isLoop(f_[pass].prev)
                ? f_.passed(f_[pass].prev) == f_.passed(pass) && f_.run(f_[pass].prev) != f_.run(pass)
                : f_[pass].prev && c_.isLiftedWrap(f_[pass].prev);
        if (back) {
            course.wrapAtStart = true;
        } else {
            course.wrapAtEnd = pass;
        }
        return true;
    }

    /// From right to left. One yarn lies as it runs; several are laid together by what they stand on.
    void arrange(Course& course) {
        std::vector<std::size_t>& starts = starts_[static_cast<std::size_t>(course.row)];
        if (course.items.empty()) return;
        course.run = f_.run(course.items.front().entry);
        std::vector<std::int32_t> keys;
        const bool several = starts.size() > 1;
        starts.push_back(course.items.size());
        for (std::size_t s = 0; s + 1 < starts.size(); ++s) {
            const auto from = course.items.begin() + static_cast<std::ptrdiff_t>(starts[s]);
            const auto to = course.items.begin() + static_cast<std::ptrdiff_t>(starts[s + 1]);
            if (f_.run(from->entry) == Run::rightward) std::reverse(from, to);
        }
        if (!several) return;
        // What stands on nothing comes after what its yarn has met before it, and after what another yarn has
        // worked where it floats by; at the beginning, before what its yarn meets next.
        struct Keyed {
            std::int32_t key;
            CourseItem item;
        };
        constexpr std::int32_t kPhases = 4;
        std::vector<Keyed> keyed;
        keyed.reserve(course.items.size());
        for (std::size_t s = 0; s + 1 < starts.size(); ++s) {
            std::int32_t place = -1;
            std::int32_t phase = 0;  // of what stands on nothing there
            std::int32_t now = 1;
            const std::size_t from = keyed.size();
            for (std::size_t i = starts[s]; i < starts[s + 1]; ++i) {
                const CourseItem& item = course.items[i];
                const std::int32_t own = placeOf(item);
                if (own > place) {
                    if (place < 0) {
                        for (std::size_t k = from; k < keyed.size(); ++k) keyed[k].key = own * kPhases;
                    }
                    place = own;
                    phase = item.what == What::loop ? 2 : 3;
                    now = 1;
                } else if (own < place) {
                    now = std::max(now, phase);
                }
                keyed.push_back({place < 0 ? -1 : place * kPhases + now, item});
            }
        }
        std::stable_sort(keyed.begin(), keyed.end(),
                         [](const Keyed& a, const Keyed& b) { return a.key < b.key; });
        for (std::size_t i = 0; i < keyed.size(); ++i) course.items[i] = keyed[i].item;
    }

    void markRounds() {
        if (f_.joinCount() == 0) return;
        for (std::size_t r = 1; r < c_.list.size(); ++r) {
            c_.list[r].round = c_.list[r].run == c_.list[r - 1].run;
        }
        c_.list[0].round = c_.list.size() == 1 || c_.list[1].round;
    }

    const Fabric& f_;
    Courses c_;
    std::vector<std::vector<std::size_t>> starts_;  // by row: where each yarn's entries begin
    std::vector<std::int32_t> consumedIn_;          // by loop: the row that took it off the needle
    std::vector<std::int32_t> place_;               // by loop: its place on the needle
    std::vector<LoopId> needle_;                    // from right to left
    std::vector<LoopId> bare_;
    std::vector<LoopId> tuckBase_;  // by loop: what the top of a tuck stood on; empty if none
};

}  // namespace

Courses coursesOf(const Fabric& fabric) {
    return Layout(fabric).run();
}

bool showsLeftHanded(const Courses& courses) {
    for (std::size_t r = 1; r < courses.list.size(); ++r) {
        if (courses.list[r].round) return courses.list[r].run == Run::rightward;
    }
    return false;
}

namespace {

bool isCrossed(const Fabric& f, LoopId loop) {
    for (CrossingId x = f[loop].crossing; x;) {
        if (f[x].sign != 0) return true;
        x = f[x].a == loop ? f[x].nextOfA : f[x].nextOfB;
    }
    return false;
}

}  // namespace

bool isChainLink(const Fabric& fabric, const Link& link) {
    return fabric[link.loop].prev == link.host && fabric.run(link.host) == fabric.run(link.loop) &&
           !isCrossed(fabric, link.host);
}

bool isHalfHitch(const Fabric& fabric, const Courses& courses, LoopId loop) {
    if (fabric[loop].firstLink || fabric[loop].flags.anchored == 0) return false;
    const EntryId next = fabric[loop].next;
    return !next || !fabric.isLoop(next) || !courses.isKnittedOn(next);
}

bool isFurtherTurn(const Fabric& fabric, LoopId loop) {
    const Entry& e = fabric[loop];
    if (e.firstLink || e.flags.anchored != 0 || !e.prev || !fabric.isLoop(e.prev)) return false;
    const Yarn& yarn = fabric[e.yarn];
    return e.um >= yarn.loopUm &&
           std::int64_t{fabric[e.prev].strandUm} * 4 < std::int64_t{yarn.strandUm} * 3 &&
           (fabric[e.prev].firstLink || isFurtherTurn(fabric, e.prev));
}

int turnsFallen(const Fabric& fabric, LoopId loop) {
    const Entry& e = fabric[loop];
    const LinkId link = e.firstLink;
    if (!link || fabric[link].nextInLoop) return 0;
    const Yarn& yarn = fabric[e.yarn];
    const std::int64_t turns = (std::int64_t{e.um} + yarn.loopUm / 2) / yarn.loopUm - 1;
    if (turns < 1) return 0;
    // They gave their yarn to the stitch, and the strands between them to the strand.
    const std::int64_t off = e.um - (turns + 1) * yarn.loopUm;
    const std::int64_t strand = e.strandUm - turns * (yarn.strandUm / 4);
    const bool all = off * 20 <= yarn.loopUm && off * -20 <= yarn.loopUm;
    return all && strand * 10 >= std::int64_t{yarn.strandUm} * 9 ? static_cast<int>(turns) : 0;
}

}  // namespace loopmend
