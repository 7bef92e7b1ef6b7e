// SPDX-License-Identifier: MIT
#include "reading/read.h"

#include "reading/both_sides.h"
#include "reading/courses.h"
#include "reading/look.h"

#include <algorithm>

namespace loopmend {

namespace {

class Reader {
  public:
    Reader(const Fabric& fabric, const Courses& courses, Side side, Reading& out)
        : f_(fabric), c_(courses), side_(side), out_(out) {
        home_.assign(static_cast<std::size_t>(f_.entryCount()), {-1, -1});
    }

    void run() {
        out_.rows.reserve(c_.list.size());
        for (const Course& course : c_.list) readRow(course);
        addStrandsOfOtherYarns();
        readNeedle();
    }

  private:
    using What = CourseItem::What;
    struct Home {
        std::int32_t row;
        std::int32_t index;
    };

    Home& home(LoopId loop) { return home_[static_cast<std::size_t>(loop.value)]; }
    Strand strandOf(PassId pass) const {
        return f_.passSide(pass) == side_ ? Strand::inFront : Strand::behind;
    }

    void readRow(const Course& course) {
        out_.rows.emplace_back();
        ReadRow& row = out_.rows.back();
        row.row = course.row;
        row.round = course.round;
        row.facing = (course.run == Run::leftward) != out_.mirrored ? Facing::right : Facing::wrong;
        row.stitches = course.after;
        // Where a row goes on along an edge, what lies behind was worked in it.
        const bool leftward = course.run == Run::leftward;
        row.waitingRight = course.goesOn && leftward ? 0 : course.toRight;
        row.waitingLeft = course.goesOn && !leftward ? 0 : course.toLeft;
        row.cells.reserve(course.items.size());
        std::int32_t column = course.toRight;
        std::int64_t cameOut = 0;
        for (const CourseItem& item : course.items) {
            if (item.what == What::away) continue;
            if (item.what == What::stay) {
                ++column;
                continue;
            }
            Cell cell;
            cell.loop = item.loop;
            cell.row = course.row;
            if (item.what != What::rung) cell.column = ++column;
            if (item.what == What::loop) {
                cell.symbol = look(f_, c_, item.loop, side_);
                home(item.loop) = {course.row, static_cast<std::int32_t>(row.cells.size())};
            } else if (item.what == What::slip) {
                const Strand strand = strandOf(item.entry);
                cell.symbol.sight = Sight::slipped;
                cell.symbol.strand = strand;
                cell.symbol.live = f_.isLive(item.loop);
                cell.symbol.loose = f_.isLoose(item.loop);
                cell.symbol.colour = f_[f_[item.loop].yarn].flags.colour;
                const Home h = home(item.loop);
                if (h.row >= 0) {
                    Symbol& own = out_.rows[static_cast<std::size_t>(h.row)]
                                      .cells[static_cast<std::size_t>(h.index)]
                                      .symbol;
                    cell.symbol.face = own.face;
                    ++own.tall;
                    ++(strand == Strand::behind ? own.strandsBehind : own.strandsInFront);
                }
            } else {
                cell.symbol.sight = Sight::rung;
                cell.symbol.rung = rungOf(item.entry);
                cameOut += c_.stitchIn(item.entry);
            }
            row.cells.push_back(cell);
        }
        row.cameOut = static_cast<std::int32_t>((cameOut + Courses::kParts / 2) / Courses::kParts);
        std::int32_t stitch = 0;
        const auto count = [&](Cell& cell) {
            if (cell.column > 0) cell.stitch = ++stitch;
        };
        if (course.run == Run::leftward) {
            std::for_each(row.cells.begin(), row.cells.end(), count);
        } else {
            std::for_each(row.cells.rbegin(), row.cells.rend(), count);
        }
    }

    Rung rungOf(PassId pass) const {
        const auto sameLoop = [&](EntryId other) {
            return other && !f_.isLoop(other) && f_.passed(other) == f_.passed(pass) &&
                   f_.run(other) != f_.run(pass);
        };
        if (sameLoop(f_[pass].prev) || sameLoop(f_[pass].next)) return Rung::edgeLoop;
        return c_.isLongRung(pass) ? Rung::longRung : Rung::shortRung;
    }

    /// Floats of a further colour lie behind or before stitches that were worked in that row.
    void addStrandsOfOtherYarns() {
        if (f_.yarnCount() < 2) return;
        for (ReadRow& row : out_.rows) {
            for (Cell& cell : row.cells) {
                if (cell.symbol.sight == Sight::slipped || cell.symbol.sight == Sight::rung) continue;
                const StrandsId strands = f_[cell.loop].strands;
                if (!strands) continue;
                for (PassId p = f_[strands].first; p; p = f_[p].passNext) {
                    if (f_[p].yarn == f_[cell.loop].yarn || f_.isFree(p)) continue;
                    ++(strandOf(p) == Strand::behind ? cell.symbol.strandsBehind
                                                     : cell.symbol.strandsInFront);
                }
            }
        }
    }

    void readNeedle() {
        for (HeldId h = f_[f_.needle()].first; h; h = f_[h].next) {
            if (f_[h].state.hanging != 0) continue;
            LiveLoop live;
            live.loop = f_[h].loop;
            live.row = c_.rows[live.loop];
            for (LinkId l = f_[live.loop].firstLink; l; l = f_[l].nextInLoop) {
                if (isChainLink(f_, f_[l])) continue;
                live.neck = f_[l].form.side == side_ ? Neck::smooth : Neck::bar;
                break;
            }
            out_.needle.push_back(live);
        }
        for (std::int32_t y = 0; y < f_.yarnCount(); ++y) {
            if (f_[YarnId{y}].flags.gone != 0) continue;
            for (EntryId e = f_[YarnId{y}].first; e; e = f_[e].next) {
                if (f_.isLoop(e) && f_.isLive(e) && !f_.isNothing(e) && f_[e].flags.anchored == 0 &&
                    f_.isLoose(e)) {
                    out_.loose.push_back(e);
                }
            }
        }
    }

    const Fabric& f_;
    const Courses& c_;
    Side side_;
    Reading& out_;
    std::vector<Home> home_;  // by loop: where its cell is
};

Reading readAs(const Fabric& fabric, const Courses& courses, Side side, Knits hands) {
    Reading reading;
    reading.side = side;
    reading.mirrored = hands == Knits::leftHanded || (hands == Knits::asItShows && showsLeftHanded(courses));
    Reader(fabric, courses, side, reading).run();
    return reading;
}

}  // namespace

Reading readFrom(const Fabric& fabric, Side side, Knits hands) {
    return readAs(fabric, coursesOf(fabric), side, hands);
}

BothSides readBothSides(const Fabric& fabric, Knits hands) {
    const Courses courses = coursesOf(fabric);
    return {readAs(fabric, courses, Side::right, hands), readAs(fabric, courses, Side::wrong, hands)};
}

const Cell* cellOf(const Reading& reading, LoopId loop) {
    for (const ReadRow& row : reading.rows) {
        for (const Cell& cell : row.cells) {
            if (cell.loop == loop && cell.symbol.sight != Sight::slipped && cell.symbol.sight != Sight::rung)
                return &cell;
        }
    }
    return nullptr;
}

const Cell* cellAt(const Reading& reading, int row, int stitch) {
    if (row < 0 || row >= static_cast<int>(reading.rows.size())) return nullptr;
    for (const Cell& cell : reading.rows[static_cast<std::size_t>(row)].cells) {
        if (cell.stitch == stitch) return &cell;
    }
    return nullptr;
}

}  // namespace loopmend
