// SPDX-License-Identifier: MIT
// What can come of a look, how often each is seen for the true one, how long it takes.
#include <algorithm>
#include <cmath>
#include <cstdlib>

#include "reading/answer.h"

namespace loopmend {

namespace {

using What = Sighting::What;

constexpr int kMostOff = 2;
constexpr int kMostMisfit = 6;

Sighting make(What what, int by = 0, OddSign sign = OddSign::none, int row = 0, int column = 0) {
    Sighting s;
    s.what = what;
    s.by = by;
    s.oddity = sign;
    s.row = row;
    s.column = column;
    return s;
}

void numbers(int most, std::vector<Sighting>& out) {
    out.push_back(make(What::number, 0));
    for (int by = 1; by <= most; ++by) {
        out.push_back(make(What::number, -by));
        out.push_back(make(What::number, by));
    }
    out.push_back(make(What::beyond));
}

/// Signs that are told by name.
bool isNamed(OddSign sign) {
    return sign != OddSign::none && sign != OddSign::other && sign != OddSign::longBar &&
           sign != OddSign::slides;
}

struct Box {
    int rowFrom;
    int rowTo;
    int columnFrom;
    int columnTo;
};
Box boxOf(const Look& look) {
    return {std::min(look.rowFrom, look.rowTo), std::max(look.rowFrom, look.rowTo),
            std::min(look.columnFrom, look.columnTo), std::max(look.columnFrom, look.columnTo)};
}
int loopsIn(const Box& box) {
    return (box.rowTo - box.rowFrom + 1) * (box.columnTo - box.columnFrom + 1);
}

template <class Each>
void eachPlace(const Look& look, Each each) {
    const Box box = boxOf(look);
    for (int row = box.rowFrom; row <= box.rowTo; ++row) {
        for (int column = box.columnFrom; column <= box.columnTo; ++column) each(row, column);
    }
}

double clamped(double p) {
    return std::clamp(p, 0.0, 0.95);
}

/// A place told one row or one stitch off, as far as that is a place of the look.
std::vector<Sighting> beside(const Look& look, const Sighting& truth) {
    const Box box = boxOf(look);
    std::vector<Sighting> all;
    const auto add = [&](int row, int column) {
        if (row < box.rowFrom || row > box.rowTo || column < box.columnFrom || column > box.columnTo) return;
        Sighting s = truth;
        s.row = row;
        s.column = column;
        all.push_back(s);
    };
    add(truth.row - 1, truth.column);
    add(truth.row + 1, truth.column);
    add(truth.row, truth.column - 1);
    add(truth.row, truth.column + 1);
    return all;
}

/// What a sign is most easily called instead.
OddSign mistakenFor(OddSign sign) {
    switch (sign) {
        case OddSign::v: return OddSign::bump;
        case OddSign::bump: return OddSign::acrossStrand;
        case OddSign::acrossStrand: return OddSign::bump;
        case OddSign::hole: return OddSign::ladder;
        case OddSign::ladder: return OddSign::hole;
        case OddSign::leansRight: return OddSign::leansLeft;
        case OddSign::leansLeft: return OddSign::leansRight;
        case OddSign::upright: return OddSign::leansRight;
        case OddSign::gathered: return OddSign::leansRight;
        case OddSign::crossRight: return OddSign::crossLeft;
        case OddSign::crossLeft: return OddSign::crossRight;
        case OddSign::crossedFeet: return OddSign::tall;
        case OddSign::tall: return OddSign::crossedFeet;
        case OddSign::twoFromOne: return OddSign::onBar;
        case OddSign::onBar: return OddSign::twoFromOne;
        case OddSign::freeLoop: return OddSign::tall;
        case OddSign::split: return OddSign::crossedFeet;
        case OddSign::slack: return OddSign::tall;
        case OddSign::tight: return OddSign::crossedFeet;
        default: return OddSign::bump;
    }
}

class Chances {
  public:
    Chances(const Look& look, const Sighting& truth, const LookErrors& e)
        : look_(look), truth_(truth), e_(e) {}

    std::vector<Chance> run() {
        if (truth_.what == What::unclear) {
            add(truth_, 1);
            return std::move(out_);
        }
        switch (look_.way) {
            case LookWay::armsLength: armsLength(); break;
            case LookWay::countSpan: count(); break;
            case LookWay::rowFits: number(e_.misfit, kMostMisfit); break;
            case LookWay::bothEnds: number(e_.tugWrong, kMostMisfit); break;
            case LookWay::closeLook:
            case LookWay::turnOver: sign(); break;
            case LookWay::follow: follow(); break;
            case LookWay::compareRepeat: places(e_.compareOverlooks); break;
            case LookWay::oddRepeat: repeat(); break;
            case LookWay::searchPatch:
                places(truth_.ease == Ease::hard ? e_.searchOverlooksHard
                       : e_.busy                 ? e_.searchOverlooks
                                                 : e_.searchOverlooks / 2);
                break;
            case LookWay::stretchPatch: places(e_.stretchOverlooks); break;
            case LookWay::slantLight: places(e_.slantOverlooks); break;
            case LookWay::tug: tug(); break;
        }
        return std::move(out_);
    }

  private:
    void add(Sighting seen, double p) {
        if (p <= 0) return;
        for (Chance& c : out_) {
            if (c.seen == seen) {
                c.probability += p;
                return;
            }
        }
        seen.ease = Ease::usual;
        out_.push_back({seen, p});
    }
    /// One of the outcomes but these, all alike.
    void spread(double p) {
        std::vector<Sighting> others;
        for (const Sighting& s : outcomesOf(look_)) {
            if (!(s == truth_) && s.what != What::nothing && s.what != What::unclear) others.push_back(s);
        }
        if (others.empty()) {
            add(truth_, p);
            return;
        }
        for (const Sighting& s : others) out_.push_back({s, p / static_cast<double>(others.size())});
    }
    bool nothingThere() {
        if (truth_.what != What::nothing) return false;
        add(truth_, 1 - clamped(e_.falseAlarm));
        spread(clamped(e_.falseAlarm));
        return true;
    }

    void armsLength() {
        if (nothingThere()) return;
        const double missed = clamped(truth_.ease == Ease::slides ? e_.overlooksSlide
                                      : truth_.ease == Ease::hard ? e_.overlooksHard
                                                                  : e_.overlooks);
        const double off = (1 - missed) * clamped(e_.wrongNinth);
        add(truth_, 1 - missed - off);
        add(make(What::nothing), missed);
        spread(off);
    }

    void count() {
        const Box box = boxOf(look_);
        const double stitches = box.columnTo - box.columnFrom + 1;
        // 5 % in 60 stitches (design); a long row is never a mere guess (the trial's cap).
        number(std::min(e_.offByOneIn60 * stitches / 60, 0.3), kMostOff);
    }

    void number(double off, int most) {
        off = clamped(off);
        if (truth_.what == What::beyond) {
            add(truth_, 1 - off / 2);
            add(make(What::number, most), off / 4);
            add(make(What::number, -most), off / 4);
            return;
        }
        add(truth_, 1 - off);
        for (const int step : {-1, 1}) {
            const int by = truth_.by + step;
            add(std::abs(by) > most ? make(What::beyond) : make(What::number, by), off / 2);
        }
    }

    void sign() {
        if (truth_.what == What::nothing) {
            add(truth_, 1 - clamped(e_.falseAlarm));
            add(make(What::unnamed), clamped(e_.falseAlarm));
            return;
        }
        const double missed = clamped(e_.closeOverlooks);
        const double misnamed = clamped(e_.misnames);
        add(make(What::nothing), missed / 2);
        add(make(What::unnamed), truth_.what == What::unnamed ? 1 - missed / 2 : missed / 2);
        if (truth_.what == What::unnamed) return;
        add(make(What::sign, 0, mistakenFor(truth_.oddity)), misnamed);
        add(truth_, 1 - missed - misnamed);
    }

    void follow() {
        if (nothingThere()) return;
        const double missed = clamped(e_.followOverlooks);
        const double off = clamped(e_.followOffByOne);
        add(make(What::nothing), missed);
        const Box box = boxOf(look_);
        double kept = 1 - missed - off;
        for (const int step : {-1, 1}) {
            Sighting s = truth_;
            s.row += step;
            if (s.row < box.rowFrom || s.row > box.rowTo) {
                kept += off / 2;
            } else {
                add(s, off / 2);
            }
        }
        add(truth_, kept);
    }

    void places(double missed) {
        if (nothingThere()) return;
        missed = clamped(missed);
        const std::vector<Sighting> near = beside(look_, truth_);
        const double off = near.empty() ? 0 : (1 - missed) * clamped(e_.besideByOne);
        add(make(What::nothing), missed);
        add(truth_, 1 - missed - off);
        for (const Sighting& s : near) add(s, off / static_cast<double>(near.size()));
    }

    void repeat() {
        if (nothingThere()) return;
        const double missed = clamped(e_.compareOverlooks);
        const double off = (1 - missed) * clamped(e_.besideByOne);
        add(make(What::nothing), missed);
        add(truth_, 1 - missed - off);
        spread(off);
    }

    void tug() {
        const double wrong = clamped(e_.tugWrong);
        add(truth_, 1 - wrong);
        if (truth_.what == What::nothing) {
            spread(wrong);
        } else {
            add(make(What::nothing), wrong);
        }
    }

    const Look& look_;
    const Sighting& truth_;
    const LookErrors& e_;
    std::vector<Chance> out_;
};

}  // namespace

std::vector<Sighting> outcomesOf(const Look& look) {
    std::vector<Sighting> all;
    const auto add = [&](What what, int by = 0, OddSign sign = OddSign::none, int row = 0, int column = 0) {
        all.push_back(make(what, by, sign, row, column));
    };
    switch (look.way) {
        case LookWay::armsLength:
            add(What::nothing);
            for (int ninth = 1; ninth <= 9; ++ninth) add(What::ninth, ninth);
            break;
        case LookWay::countSpan:
            numbers(kMostOff, all);
            add(What::unclear);
            break;
        case LookWay::rowFits:
            numbers(kMostMisfit, all);
            add(What::unclear);
            break;
        case LookWay::bothEnds: numbers(kMostMisfit, all); break;
        case LookWay::closeLook:
        case LookWay::turnOver:
            add(What::nothing);
            for (int s = 0; s < kOddSigns; ++s) {
                const auto sign = static_cast<OddSign>(s);
                if (isNamed(sign) || sign == OddSign::slides) add(What::sign, 0, sign);
            }
            add(What::unnamed);
            add(What::unclear);
            break;
        case LookWay::follow: {
            const Box box = boxOf(look);
            add(What::nothing);
            for (int row = box.rowTo; row >= box.rowFrom; --row) add(What::place, 0, OddSign::none, row, 0);
            add(What::unclear);
            break;
        }
        case LookWay::compareRepeat: {
            const Box box = boxOf(look);
            add(What::nothing);
            for (int column = box.columnFrom; column <= box.columnTo; ++column)
                add(What::place, 0, OddSign::none, look.rowFrom, column);
            add(What::unclear);
            break;
        }
        case LookWay::oddRepeat: {
            const Box box = boxOf(look);
            add(What::nothing);
            const int repeats = look.width > 0 ? (box.columnTo - box.columnFrom + 1) / look.width : 0;
            for (int r = 1; r <= repeats; ++r) add(What::repeat, r);
            add(What::unclear);
            break;
        }
        case LookWay::searchPatch:
            add(What::nothing);
            eachPlace(look, [&](int row, int column) {
                for (int s = 0; s < kOddSigns; ++s) {
                    if (static_cast<OddSign>(s) != OddSign::none)
                        add(What::place, 0, static_cast<OddSign>(s), row, column);
                }
            });
            break;
        case LookWay::stretchPatch:
            add(What::nothing);
            eachPlace(look,
                      [&](int row, int column) { add(What::place, 0, OddSign::freeLoop, row, column); });
            break;
        case LookWay::slantLight:
            add(What::nothing);
            eachPlace(look, [&](int row, int column) {
                for (const OddSign sign : {OddSign::bump, OddSign::crossedFeet, OddSign::tall})
                    add(What::place, 0, sign, row, column);
            });
            break;
        case LookWay::tug:
            add(What::nothing);
            add(What::sign, 0, OddSign::freeLoop);
            add(What::sign, 0, OddSign::longBar);
            break;
    }
    return all;
}

std::vector<Chance> confusion(const Look& look, const Sighting& truth, const LookErrors& errors) {
    return Chances(look, truth, errors).run();
}

LookErrors LookErrors::times(double factor) const {
    LookErrors e = *this;
    for (double* p : {&e.overlooksSlide, &e.overlooks, &e.overlooksHard, &e.wrongNinth, &e.offByOneIn60,
                      &e.misfit, &e.closeOverlooks, &e.misnames, &e.followOverlooks, &e.followOffByOne,
                      &e.compareOverlooks, &e.searchOverlooks, &e.searchOverlooksHard, &e.stretchOverlooks,
                      &e.slantOverlooks, &e.tugWrong, &e.besideByOne, &e.falseAlarm})
        *p = std::clamp(*p * factor, 0.0, 0.45 > *p ? 0.45 : 0.9);
    return e;
}

LookPace LookPace::beginner() {
    LookPace pace;
    pace.countStitch *= 2;
    pace.count *= 2;
    return pace;
}

double seconds(const Look& look, const LookPace& pace) {
    const Box box = boxOf(look);
    const double stitches = box.columnTo - box.columnFrom + 1;
    switch (look.way) {
        case LookWay::armsLength: return pace.glance;
        case LookWay::countSpan: return pace.count + pace.countStitch * stitches;
        case LookWay::rowFits: return pace.rowFits;
        case LookWay::closeLook: return pace.close;
        case LookWay::follow: return pace.follow + pace.followRow * (box.rowTo - box.rowFrom);
        case LookWay::compareRepeat: return pace.compare + pace.compareStitch * stitches;
        case LookWay::oddRepeat: return pace.compare + pace.oddRepeatStitch * stitches;
        case LookWay::searchPatch: return pace.searchLoop * loopsIn(box);
        case LookWay::stretchPatch: return pace.stretch;
        case LookWay::slantLight: return pace.slant;
        case LookWay::tug: return pace.tug;
        case LookWay::turnOver: return pace.turnOver;
        case LookWay::bothEnds: return pace.bothEnds;
    }
    return 0;
}

}  // namespace loopmend
