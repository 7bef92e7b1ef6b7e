// SPDX-License-Identifier: MIT
#include "reading/courses.h"

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

    /// Every row gets its entries in the order of the yarn; several yarns one after the other.
    void sortEntries() {
        starts_.resize(c_.list.size());
        for (std::int32_t y = 0; y < f_.yarnCount(); ++y) {
            const Yarn& yarn = f_[YarnId{y}];
            if (yarn.flags.gone != 0) continue;
            std::int32_t row = -1;
            std::int32_t open = -1;  // the row in which this yarn's entries are being listed
            EntryId before;
            for (EntryId e = yarn.first; e; e = f_[e].next) {
                const bool placed = c_.rows[e] != Rows::kNotPlaced;
                if (placed) {
                    row = c_.rows[e];
                } else if (!f_.isLoop(e) && row >= 0 && before && beginsRow(before, e)) {
                    ++row;  // a mark behind a turn
                }
                before = e;
                if (row < 0 || row > c_.rows.last) continue;
                if (f_.isLoop(e)) {
                    if (!placed || f_.isNothing(e)) continue;
                    if (f_[e].flags.anchored == 0 && !f_[e].firstLink && takesNoYarn(e)) {
                        mark(e, Courses::kBar);
                        continue;
                    }
                    markTuck(e);
                }
                Course& course = c_.list[static_cast<std::size_t>(row)];
                if (row != open) {
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

    bool beginsRow(EntryId before, EntryId e) const {
        return f_.run(before) != f_.run(e) || f_[before].flags.rowEnds != 0;
    }

    /// What a lifted bar and a yarn-over differ in is their yarn alone: the bar's was the strand's before.
    bool takesNoYarn(LoopId loop) const {
        const Yarn& yarn = f_[f_[loop].yarn];
        std::int32_t natural = yarn.strandUm;
        EntryId e = f_[loop].prev;
        for (; e && !f_.isLoop(e); e = f_[e].prev) natural += yarn.strandUm;
        const std::int32_t strandBefore = e ? f_[e].strandUm : yarn.leadUm;
        for (e = f_[loop].next; e && !f_.isLoop(e); e = f_[e].next) natural += yarn.strandUm;
        const std::int64_t all = std::int64_t{strandBefore} + f_[loop].um + f_[loop].strandUm;
        return (all - natural) * 3 < yarn.loopUm;
    }

    /// The yarn led round a stitch at a turn: by it on one side and back on the other. At the end of the
    /// needle a stitch slipped before and after the turn is the same knot; there it is read as slipped.
    bool isWrap(PassId pass) const {
        const auto backBy = [&](EntryId other) {
            return other && !f_.isLoop(other) && f_.passed(other) == f_.passed(pass) &&
                   f_.run(other) != f_.run(pass) && f_.passSide(other) != f_.passSide(pass);
        };
        const bool turnsAfter = backBy(f_[pass].next);
        if (!turnsAfter && !backBy(f_[pass].prev)) return false;
        const bool beyondIsLeft = (f_.run(pass) == Run::leftward) == turnsAfter;
        const std::int32_t place = place_[at(f_.passed(pass))];
        return beyondIsLeft ? place + 1 < static_cast<std::int32_t>(needle_.size()) : place > 0;
    }

    void mark(EntryId e, std::uint8_t m) { c_.marks[at(e)] |= m; }

    /// The loop above a tuck goes through two: one without links, and what that one once stood on. Two
    /// together of a yarn-over and a slipped stitch are the same links; the slip's strand tells them apart.
    void markTuck(LoopId loop) {
        const LinkId first = f_[loop].firstLink;
        if (!first) return;
        const LinkId second = f_[first].nextInLoop;
        if (!second || f_[second].nextInLoop) return;
        const LoopId a = f_[first].host;
        const LoopId b = f_[second].host;
        const auto bare = [&](LoopId h) { return !f_[h].firstLink && f_[h].flags.anchored == 0; };
        if (bare(a) == bare(b)) return;
        const LoopId top = bare(a) ? a : b;
        const LoopId base = bare(a) ? b : a;
        const std::int32_t row = c_.rows[top];
        if (c_.has(top, Courses::kBar) || c_.rows[base] >= row || c_.rows[loop] == row) return;
        if (f_[top].prev == base) return;  // both legs of a stitch pulled up at a turn
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

    // ---- one row upon the needle
    // ----------------------------------------------------------------------------

    /// The right-most place on the needle of what a loop goes through; -1 if nothing of it was there.
    std::int32_t placeOf(const CourseItem& item) const {
        if (item.what == What::rung) return -1;
        if (item.what == What::slip) return place_[at(item.loop)];
        std::int32_t least = -1;
        for (LinkId l = f_[item.loop].firstLink; l; l = f_[l].nextInLoop) {
            if (f_[l].form.part != Part::opening) continue;
            const std::int32_t p = place_[at(f_[l].host)];
            if (p >= 0 && (least < 0 || p < least)) least = p;
        }
        if (least < 0 && c_.has(item.loop, Courses::kTuckTop)) return place_[at(tuckBase(item.loop))];
        return least;
    }

    void consume(const CourseItem& item, std::int32_t row) {
        if (item.what != What::loop) return;
        for (LinkId l = f_[item.loop].firstLink; l; l = f_[l].nextInLoop) {
            if (f_[l].form.part == Part::opening) consumedIn_[at(f_[l].host)] = row;
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
        items.erase(
            std::remove_if(items.begin(), items.end(),
                           [&](const CourseItem& i) { return i.what == What::slip && isWrap(i.entry); }),
            items.end());
        for (const CourseItem& item : items) consume(item, row);

        std::int32_t low = -1;
        std::int32_t high = -1;
        for (const CourseItem& item : items) {
            const std::int32_t p = placeOf(item);
            if (p < 0) continue;
            low = low < 0 ? p : std::min(low, p);
            high = std::max(high, p);
        }
        const auto size = static_cast<std::int32_t>(needle_.size());
        if (low < 0) {  // nothing of the needle was touched: it lies where this row began
            low = course.run == Run::leftward ? 0 : size;
            high = low - 1;
        }
        for (; high + 1 < size && usedIn(needle_[static_cast<std::size_t>(high + 1)], row); ++high) {
        }
        std::vector<LoopId> next;
        next.reserve(needle_.size() + 8);
        course.items.reserve(items.size() + 8);
        const auto passBy = [&](std::int32_t p) {
            const LoopId loop = needle_[static_cast<std::size_t>(p)];
            if (usedIn(loop, row)) return;
            const bool stays = f_[loop].firstKid || onNeedle(loop);
            course.items.push_back({stays ? What::stay : What::away, loop, loop});
            if (stays) next.push_back(loop);
        };
        const auto unreached = [&](std::int32_t from, std::int32_t to, std::int32_t& count) {
            for (std::int32_t p = from; p < to; ++p) {
                const LoopId loop = needle_[static_cast<std::size_t>(p)];
                if (f_[loop].firstKid || onNeedle(loop)) {
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
            const std::int32_t place = placeOf(item);
            for (; p < place; ++p) passBy(p);
            if (item.what == What::slip) {
                if (place < 0 || usedIn(item.loop, row)) continue;  // a float, a strand left by hands
                if (place == p) ++p;
            }
            course.items.push_back(item);
            if (item.what == What::slip || (item.what == What::loop && !usedIn(item.loop, row))) {
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
            if (f_[loop].firstKid || f_[loop].held) ++course.after;
        }
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
        struct Keyed {
            std::int32_t key;
            CourseItem item;
        };
        std::vector<Keyed> keyed;
        keyed.reserve(course.items.size());
        for (std::size_t s = 0; s + 1 < starts.size(); ++s) {
            std::int32_t key = -1;
            for (std::size_t i = starts[s]; i < starts[s + 1]; ++i) {
                key = std::max(key, placeOf(course.items[i]));
                keyed.push_back({key, course.items[i]});
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
    std::vector<LoopId> tuckBase_;                  // by loop: what the top of a tuck stood on; empty if none
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

bool isChainLink(const Fabric& fabric, const Link& link) {
    return fabric[link.loop].prev == link.host && fabric.run(link.host) == fabric.run(link.loop);
}

}  // namespace loopmend
