// SPDX-License-Identifier: MIT
// Before a place is believed: has it been seen at its very cell, and where does what is odd there end?
// Something that nobody has listed fits whatever was seen about there, and a listed mistake may look much
// like it; what tells them apart is what lies just beside, and what an explanation leaves over.
#include <algorithm>
#include <cstdlib>

#include "diagnosis/case_inner.h"
#include "diagnosis/close_by.h"
#include "reading/answer_piece.h"

namespace loopmend {

namespace {

using What = Sighting::What;
using Stand = Case::Inner::Stand;

/// Rows and stitches off that are just beside what is explained.
constexpr int kRowsAside = 4;
constexpr int kColumnsAside = 8;
/// A patch of as few loops, looked at in vain, shows that what she found in it was nothing.
constexpr int kSmallPatch = 30;
/// Of the doubt with which one may settle, what is left of one that is as good as sure.
constexpr double kBeyondDoubt = 0.1;
/// Counts that nothing at one place makes: one is a slip.
constexpr int kSlips = 1;
/// Stitches beside its own that may still be gone with it.
constexpr int kGoneWith = 4;
/// What a tug reaches to either side.
constexpr int kTugRows = 3;
constexpr int kTugStitches = 4;
/// Of a whole row: stitches to either side that are looked at.
constexpr int kAlong = 7;
/// Stitches from one that is odd to those beside it.
constexpr int kBesideIt = 2;
/// Toward an end of a row: in that part of it.
constexpr int kPartOfRow = 4;

bool tellsPlace(const CaseNote& note) {
    return note.kind == CaseNote::Kind::look && isPositive(note) && note.seen.what == What::place &&
           note.seen.column > 0 && note.look.way != LookWay::follow;
}

bool isCloseSign(const CaseNote& note) {
    return note.kind == CaseNote::Kind::look && isPositive(note) && note.look.way == LookWay::closeLook &&
           (note.seen.what == What::sign || note.seen.what == What::unnamed);
}

bool isInVain(const CaseNote& note) {
    return note.kind == CaseNote::Kind::look && note.told && note.seen.what == What::nothing;
}

bool isPatch(LookWay way) {
    return way == LookWay::searchPatch || way == LookWay::stretchPatch;
}

int loopsOf(const Look& patch) {
    return (patch.rowTo - patch.rowFrom + 1) * (patch.columnTo - patch.columnFrom + 1);
}

Side otherSide(Side side) {
    return side == Side::right ? Side::wrong : Side::right;
}

/// How far a place lies from the nearest that is odd.
struct Aside {
    int rows = 1000;
    int columns = 1000;
    int most() const { return std::max(rows, columns); }
    bool exact() const { return most() == 0; }
    bool near() const { return most() <= 1; }
    bool beside() const { return !near() && rows <= kRowsAside && columns <= kColumnsAside; }
};

/// One explanation, and what she has seen of it.
class Standing {
  public:
    Standing(const Case::Inner& in, std::size_t h, bool sure)
        : in_(in),
          h_(h),
          sure_(sure),
          it_(in.tables->at(h)),
          listed_(in.tables->isListed(it_)),
          row_(in.tables->isWholeRow(it_)),
          width_(in.tables->cloth().width(it_.row)) {
        const auto knitted = in.soFar.knitted.find(static_cast<std::int32_t>(h));
        piece_ = knitted == in.soFar.knitted.end() ? nullptr : knitted->second;
    }

    Stand stand() {
        if (listed_ && piece_ == nullptr) return stand_;
        if (!listed_) ask(in_.belowIt(h_));
        leftOver();
        leftOverClose();
        if (!listed_) leftOverTugs();
        atItsCell();
        if (listed_) {
            atAnother();
            freeBeside();
            lowestRung();
            aloneInItsRow();
            return stand_;
        }
        if (row_) {
            alongIt();
        } else {
            counts();
            closeBeside();
            onlyNotJoined();
        }
        return stand_;
    }

  private:
    /// False: that was looked at already.
    bool ask(const std::optional<Look>& look) {
        if (!look || in_.soFar.asked.count(text(*look)) > 0) return false;
        if (!stand_.look) stand_.look = look;
        return true;
    }
    std::optional<Look> patch(int rowFrom, int rowTo, int columnFrom, int columnTo, Side side) const {
        Look look;
        look.way = LookWay::searchPatch;
        look.side = side;
        const int rows = std::max(1, in_.tables->rows());
        look.rowFrom = std::clamp(rowFrom, 1, rows);
        look.rowTo = std::clamp(rowTo, look.rowFrom, rows);
        const int width = std::max(1, in_.tables->cloth().width(look.rowFrom));
        look.columnFrom = std::clamp(columnFrom, 1, width);
        look.columnTo = std::clamp(columnTo, look.columnFrom, width);
        return look;
    }

    Aside asideOf(int row, int column) const {
        Aside best;
        const auto see = [&](int rows, int columns) {
            const Aside aside{rows, columns};
            if (aside.most() < best.most()) best = aside;
        };
        if (piece_ != nullptr && listed_) {
            for (const OddPlace& p : piece_->inner().odd)
                see(std::abs(p.row - row), std::abs(p.column - column));
            for (const OddPlace& p : piece_->inner().free)
                see(std::abs(p.row - row), std::abs(p.column - column));
            return best;
        }
        const bool up = it_.kind == in_.tables->kinds() + CaseTables::kColumn;
        see(up ? std::max(0, it_.row - row) : std::abs(it_.row - row),
            row_ ? 0 : std::abs(it_.column - column));
        return best;
    }
    /// Of all that a close look reaches, the nearest.
    Aside asideOfClose(const Look& look) const {
        Aside best;
        for (int r = look.rowFrom - kCloseRows; r <= look.rowFrom + kCloseRows; ++r) {
            for (int c = look.columnFrom - kCloseStitches; c <= look.columnFrom + kCloseStitches; ++c) {
                const Aside aside = asideOf(r, c);
                if (aside.most() < best.most()) best = aside;
            }
        }
        return best;
    }

    /// Of the places at which the piece is odd that next to one at which it was seen.
    OddPlace nearestTo(int row, int column) const {
        OddPlace nearest{row, column};
        int least = 1000;
        for (const OddPlace& p : piece_->inner().odd) {
            const int off = std::abs(p.row - row) + std::abs(p.column - column);
            if (off >= least) continue;
            least = off;
            nearest = p;
        }
        return nearest;
    }

    /// Something lies beside it that it does not explain. Of a mistake that is listed that may be another
    /// one.
    void more() {
        if (!listed_) stand_.firm = false;
    }

    /// Above a row that is odd as a whole, rows may be odd for its sake.
    bool comesOfIt(int row) const { return row_ && row > it_.row; }

    /// A place found beside it is looked at once more, closer, unless that was in vain already.
    void leftOver() {
        for (const CaseNote& note : in_.notes) {
            if (!tellsPlace(note)) continue;
            const int r = note.seen.row;
            const int c = note.seen.column;
            const Aside aside = asideOf(r, c);
            if (!aside.beside() || comesOfIt(r)) continue;
            const bool nothing = std::any_of(in_.notes.begin(), in_.notes.end(), [&](const CaseNote& other) {
                const Look& at = other.look;
                return isInVain(other) && isPatch(at.way) && at.rowFrom <= r && at.rowTo >= r &&
                       at.columnFrom <= c && at.columnTo >= c && loopsOf(at) <= kSmallPatch;
            });
            const int off = aside.rows > 0 ? 1 : 0;  // another row may have been told a row off
            if (!nothing && !ask(patch(r - off, r + off, c - 1, c + 1, note.look.side))) more();
        }
    }

    /// What she saw close by is there: from the other side, too, as far as she has looked.
    bool isThere(Look close) {
        close.side = otherSide(close.side);
        const bool nothing = std::any_of(in_.notes.begin(), in_.notes.end(),
                                         [&](const CaseNote& n) { return isInVain(n) && n.look == close; });
        return !nothing && !ask(close);
    }

    /// The same of what she saw close by; there from the other side.
    void leftOverClose() {
        for (const CaseNote& note : in_.notes) {
            if (!isCloseSign(note) || !asideOfClose(note.look).beside() || comesOfIt(note.look.rowFrom))
                continue;
            if (listed_ && answer(note.look, *piece_).what != What::nothing) continue;
            if (isThere(note.look)) more();
        }
    }

    /// The same of what gave where she tugged.
    void leftOverTugs() {
        for (const CaseNote& note : in_.notes) {
            if (note.kind != CaseNote::Kind::look || note.look.way != LookWay::tug || !isPositive(note))
                continue;
            const Aside aside = asideOf(note.look.rowFrom, note.look.columnFrom);
            if (aside.rows > kTugRows || aside.columns > kTugStitches) more();
        }
    }

    /// A place told a row or a stitch off may be another mistake, or none that is listed.
    void atItsCell() {
        const CaseNote* near = nullptr;
        int times = 0;
        bool otherwise = false;  // called something that it is not
        for (const CaseNote& note : in_.notes) {
            if (!tellsPlace(note)) continue;
            const Aside aside = asideOf(note.seen.row, note.seen.column);
            if (aside.exact()) return listed_ ? whereHandsDidIt() : void();
            if (!aside.near()) continue;
            near = &note;
            ++times;
            otherwise = otherwise || (listed_ && answer(note.look, *piece_).oddity != note.seen.oddity);
        }
        if (listed_ && near == nullptr) return overlooked();
        const Side side = near != nullptr ? near->look.side : Side::right;
        if (listed_) {
            const OddPlace cell = nearestTo(near->seen.row, near->seen.column);
            // A place is told a row or a stitch off now and then, but hardly twice.
            if (!ask(patch(cell.row, cell.row, cell.column - 1, cell.column + 1, side)) &&
                (times > 1 || otherwise) && !sure_)
                stand_.firm = false;
            return;
        }
        const int off = row_ ? kAlong : 1;
        const int low = it_.column - off;
        const int high = it_.column + off;
        if (!ask(patch(it_.row, it_.row, low, high, side)) &&
            !ask(patch(it_.row - 1, it_.row + 1, low, high, side)) &&
            !ask(patch(it_.row, it_.row, low, high, otherSide(side))))
            stand_.firm = false;
    }

    /// Found at another of several places at which it shows, and not where it is plainest: much else would
    /// show there, so it must be as good as sure.
    void atAnother() {
        if (sure_ || in_.errors.another <= 0) return;
        for (const CaseNote& note : in_.notes) {
            if (!tellsPlace(note)) continue;
            const Sighting plainest = answer(note.look, *piece_);
            if (plainest.what != What::place) continue;
            const bool there = std::abs(plainest.row - note.seen.row) <= 1 &&
                               std::abs(plainest.column - note.seen.column) <= 1;
            if (!there && asideOf(note.seen.row, note.seen.column).near()) stand_.firm = false;
        }
    }

    /// Named close by, but searched for in vain: once more, at the cell that was named. In vain again: then
    /// it must be as good as sure.
    void overlooked() {
        const CaseNote* named = nullptr;
        bool vain = false;
        for (const CaseNote& note : in_.notes) {
            vain = vain || (isInVain(note) && note.look.way == LookWay::searchPatch &&
                            answer(note.look, *piece_).what != What::nothing);
            if (isCloseSign(note) && asideOfClose(note.look).exact()) named = &note;
        }
        if (!vain || named == nullptr) return;
        const OddPlace cell = nearestTo(named->look.rowFrom, named->look.columnFrom);
        if (!ask(patch(cell.row, cell.row, cell.column - 1, cell.column + 1,
                       cell.onRight ? Side::right : Side::wrong)) &&
            !sure_)
            stand_.firm = false;
    }

    /// What shows over several stitches and was found two or more aside of where the hands did it: there,
    /// too.
    void whereHandsDidIt() {
        if (row_ || in_.tables->fault(it_.kind)->suffered()) return;
        const OddPlace* site = nullptr;
        for (const OddPlace& p : piece_->inner().odd) {
            if (p.row == it_.row && p.column == it_.column) site = &p;
        }
        if (site == nullptr) return;
        const CaseNote* aside = nullptr;
        for (const CaseNote& note : in_.notes) {
            if (!tellsPlace(note) || std::abs(note.seen.row - site->row) > kRowsAside) continue;
            const int off = std::abs(note.seen.column - site->column);
            if (off <= 1) return;
            if (off <= kColumnsAside && note.seen.row == site->row) aside = &note;
        }
        if (aside == nullptr) return;
        const int away = site->column > aside->seen.column ? 1 : -1;
        ask(patch(site->row, site->row, std::min(site->column, site->column + away),
                  std::max(site->column, site->column + away), site->onRight ? Side::right : Side::wrong));
    }

    /// What is not in the list changes the count by one, or takes away what lies there, but nothing
    /// elsewhere.
    void counts() {
        int slips = 0;
        for (const CaseNote& note : in_.notes) {
            if (note.kind != CaseNote::Kind::look || !note.told) continue;
            const bool elsewhere =
                note.look.columnFrom > it_.column + kGoneWith || note.look.columnTo < it_.column - kGoneWith;
            if (note.seen.what == What::beyond || (note.seen.what == What::unclear && elsewhere)) ++slips;
        }
        if (slips > kSlips) stand_.firm = false;
    }

    /// One stitch that hangs free of the needle looks like another: a tug beside it tells whether it is
    /// alone.
    void freeBeside() {
        const std::vector<OddPlace>& odd = piece_->inner().odd;
        const int top = in_.tables->rows();
        if (odd.size() != 1 || odd.front().sign != OddSign::freeLoop || odd.front().row != top) return;
        constexpr int kOff = kTugStitches + 2;
        Look tug;
        tug.way = LookWay::tug;
        tug.rowFrom = tug.rowTo = top;
        tug.columnFrom = it_.column + kOff <= width_ ? it_.column + kOff : it_.column - kOff;
        tug.columnTo = tug.columnFrom;
        bool alone = tug.columnFrom < 1;
        for (const CaseNote& note : in_.notes) {
            if (note.kind != CaseNote::Kind::look || !note.told || note.look.rowTo < top - 1) continue;
            const int from = note.look.columnFrom - it_.column;
            const int to = note.look.columnTo - it_.column;
            const bool aside = from > kTugStitches + 1 || to < -kTugStitches - 1;
            if (note.look.way == LookWay::tug && aside) {
                alone = true;
                if (isPositive(note)) stand_.firm = false;
            }
            // Or it was looked at next to it already, and nothing was free there.
            const bool next = from > kCloseStitches + 1 || to < -kCloseStitches - 1;
            if (note.look.way == LookWay::closeLook && next && isInVain(note)) alone = true;
            if (isPatch(note.look.way) && isInVain(note) && note.look.rowTo == top && (from > 1 || to < -1))
                alone = true;
        }
        if (!alone) ask(tug);
    }

    /// One rung looks like the next: that it runs down so far must have been seen at its lowest, and nothing
    /// close below it.
    void lowestRung() {
        const OddPlace* low = nullptr;
        for (const OddPlace& p : piece_->inner().odd) {
            if (p.sign == OddSign::ladder && (low == nullptr || p.row < low->row)) low = &p;
        }
        if (low == nullptr || low->row < 1) return;
        bool seen = false;
        for (const CaseNote& note : in_.notes) {
            if (tellsPlace(note)) {
                seen = seen || (note.seen.row <= low->row + 1 &&
                                std::abs(note.seen.column - low->column) <= kColumnsAside);
            } else if (isCloseSign(note) && std::abs(note.look.columnFrom - low->column) <= kCloseStitches) {
                const int below = low->row - note.look.rowFrom;
                seen = seen || below >= 0;
                if (below > kCloseRows && below <= kRowsAside && isThere(note.look)) stand_.firm = false;
            }
        }
        if (!seen && !ask(patch(low->row, low->row, low->column - 1, low->column + 1,
                                low->onRight ? Side::right : Side::wrong)))
            stand_.firm = false;
    }

    /// All her row may have been worked so: then it is odd beside the stitch that was found, too.
    void aloneInItsRow() {
        if (row_ || piece_->inner().odd.empty()) return;
        const std::vector<OddPlace>& odd = piece_->inner().odd;
        const OddPlace& cell = odd.front();
        const bool single = std::all_of(odd.begin(), odd.end(), [&](const OddPlace& p) {
            return p.row == cell.row && std::abs(p.column - cell.column) <= 1;
        });
        if (!single || !mayBeItsRow(cell)) return;
        const int low = std::max(1, cell.column - kAlong);
        const int high = std::min(in_.tables->cloth().width(cell.row), cell.column + kAlong);
        // To the side on which there is more room.
        const bool up = high - cell.column >= cell.column - low;
        const int from = up ? cell.column + kBesideIt : low;
        const int to = up ? high : cell.column - kBesideIt;
        if (from > to) return;
        for (const CaseNote& note : in_.notes) {
            const Look& at = note.look;
            if (!isInVain(note) || at.way != LookWay::searchPatch || at.rowFrom > cell.row ||
                at.rowTo < cell.row)
                continue;
            if (at.columnTo - at.columnFrom >= kBesideIt &&
                (at.columnFrom > cell.column + 1 || at.columnTo < cell.column - 1))
                return;
        }
        ask(patch(cell.row, cell.row, from, to, cell.onRight ? Side::right : Side::wrong));
    }

    /// A row worked otherwise as a whole would be odd at all places at which she found something, too.
    bool mayBeItsRow(const OddPlace& cell) const {
        return std::any_of(in_.again.begin(), in_.again.end(), [&](const auto& other) {
            const CaseHypothesis& it = in_.tables->at(static_cast<std::size_t>(other.first));
            if (!other.second.looked || !in_.tables->isListed(it) || !in_.tables->isWholeRow(it))
                return false;
            const std::vector<OddPlace>& odd = other.second.looked->inner().odd;
            return std::any_of(odd.begin(), odd.end(), [&](const OddPlace& p) {
                return p.row == cell.row && p.column == cell.column && p.sign == cell.sign;
            });
        });
    }

    /// Odd all along its row is odd toward both ends of it.
    void alongIt() {
        int low = width_ + 1;
        int high = 0;
        for (const CaseNote& note : in_.notes) {
            const bool place = tellsPlace(note);
            if (!place && !isCloseSign(note)) continue;
            if (std::abs((place ? note.seen.row : note.look.rowFrom) - it_.row) > 1) continue;
            low = std::min(low, place ? note.seen.column : note.look.columnFrom);
            high = std::max(high, place ? note.seen.column : note.look.columnFrom);
        }
        // Who overlooked it in a search is asked to look close.
        const auto end = [&](int from, int to) {
            const Look close = closeLookAt(it_.row, (from + to) / 2);
            if (!ask(patch(it_.row, it_.row, from, to, Side::right)) && !ask(close)) stand_.firm = false;
        };
        const int part = std::clamp(width_ / kPartOfRow, 1, 2 * kAlong + 1);
        if (low > part) end(1, part);
        if (high <= width_ - part) end(width_ - part + 1, width_);
        nothingBelow(1, part);
        nothingBelow(width_ - part + 1, width_);
    }

    /// What is odd from a row up may begin further down toward one end of it.
    void nothingBelow(int from, int to) {
        if (it_.row <= 1) return;
        const auto saw = [&](const CaseNote& note) {
            const Look& at = note.look;
            return isInVain(note) && isPatch(at.way) && at.rowFrom <= std::max(1, it_.row - 2) &&
                   at.rowTo >= it_.row - 1 && at.columnFrom <= to && at.columnTo >= from;
        };
        if (std::none_of(in_.notes.begin(), in_.notes.end(), saw))
            ask(patch(it_.row - kRowsAside, it_.row - 1, from, to, Side::right));
    }

    /// Where it ends to either side: close looks that do not reach it, nor what lies next to it.
    void closeBeside() {
        for (const int off : {kCloseStitches + 2, -kCloseStitches - 2}) {
            const Look close = closeLookAt(it_.row, it_.column + off);
            if (close.columnFrom < 1 || close.columnFrom > width_) continue;
            const bool saw = std::any_of(in_.notes.begin(), in_.notes.end(), [&](const CaseNote& note) {
                const Look& at = note.look;
                if (!isInVain(note)) return false;
                if (at.way == LookWay::closeLook)
                    return std::abs(at.rowFrom - it_.row) <= 1 &&
                           std::abs(at.columnFrom - close.columnFrom) <= 1;
                return isPatch(at.way) && at.rowFrom <= it_.row && at.rowTo >= it_.row &&
                       at.columnFrom <= close.columnFrom - kCloseStitches &&
                       at.columnTo >= close.columnFrom + kCloseStitches;
            });
            if (!saw) ask(close);
        }
    }

    /// Nothing joined where something should be says that a stitch was lost or gained about there, not where.
    void onlyNotJoined() {
        bool named = false;
        for (const CaseNote& note : in_.notes) {
            const bool here = tellsPlace(note) ? asideOf(note.seen.row, note.seen.column).near()
                                               : isCloseSign(note) && asideOfClose(note.look).near();
            if (!here || note.seen.what == What::unnamed || note.seen.oddity == OddSign::other) continue;
            if (note.seen.oddity != OddSign::noJoin) return;
            named = true;
        }
        if (named) stand_.firm = false;
    }

    const Case::Inner& in_;
    std::size_t h_;
    bool sure_;
    const CaseHypothesis& it_;
    bool listed_;
    bool row_;
    int width_;
    const LookedAt* piece_ = nullptr;
    Stand stand_;
};

}  // namespace

std::int32_t Case::Inner::whereFound(std::int32_t best, const std::vector<std::int32_t>& all) const {
    const auto times = [&](std::int32_t h) {
        const CaseHypothesis& it = tables->at(static_cast<std::size_t>(h));
        return std::count_if(notes.begin(), notes.end(), [&](const CaseNote& note) {
            return tellsPlace(note) && note.seen.row == it.row && note.seen.column == it.column;
        });
    };
    auto most = times(best);
    for (const std::int32_t h : all) {
        const auto found = times(h);
        if (found > most) {
            most = found;
            best = h;
        }
    }
    return best;
}

Stand Case::Inner::standOf(const CaseCluster& best) const {
    const auto h = static_cast<std::size_t>(best.best);
    // What is listed and fits all else she saw need not have been found at its cell, if she looked there.
    const bool sure =
        tables->isListed(tables->at(h)) && best.weight >= 1 - (1 - manners.settleAt) * kBeyondDoubt;
    return Standing(*this, h, sure).stand();
}

}  // namespace loopmend
