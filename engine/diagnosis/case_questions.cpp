// SPDX-License-Identifier: MIT
// What is asked, and what can be answered, in a knitter's words.
#include <algorithm>
#include <array>
#include <cstdlib>

#include <fmt/format.h>

#include "diagnosis/case_inner.h"
#include "pattern/plain_words.h"

namespace loopmend {

namespace {

using What = Sighting::What;

CaseChoice choice(const Look& look, Sighting seen, std::string said, bool place = false) {
    CaseChoice c;
    c.words = std::move(said);
    c.note.kind = CaseNote::Kind::look;
    c.note.look = look;
    c.note.seen = seen;
    c.place = place;
    return c;
}

Sighting seen(What what, int by = 0, OddSign sign = OddSign::none) {
    Sighting s;
    s.what = what;
    s.by = by;
    s.oddity = sign;
    return s;
}

std::string count(int by, int most) {
    if (by == 0) return "as many as there should be";
    const int n = std::abs(by);
    return fmt::format("{}{} too {}", n, n == most ? " or more" : "", by < 0 ? "few" : "many");
}

std::string rowByTouch(int row, int rows) {
    const int below = rows - row;
    if (row == 0) return "the cast-on edge";
    if (below < 0) return "the row that comes next";
    if (below == 0) return "the stitches just under the needle";
    if (below == 1) return "one row under the newest one";
    return fmt::format("the {} row counted down from the needle", ordinalNumber(below + 1));
}

void addSigns(CaseQuestion& q, const Look& look, bool place) {
    for (const OddSign sign :
         {OddSign::hole,         OddSign::noHole,     OddSign::bump,        OddSign::v,
          OddSign::freeLoop,     OddSign::ladder,     OddSign::crossedFeet, OddSign::tall,
          OddSign::acrossStrand, OddSign::leansRight, OddSign::leansLeft,   OddSign::upright,
          OddSign::gathered,     OddSign::noJoin,     OddSign::twoFromOne,  OddSign::onBar,
          OddSign::crossRight,   OddSign::crossLeft,  OddSign::noCross,     OddSign::split,
          OddSign::slack,        OddSign::tight,      OddSign::otherColour}) {
        const What what = place ? What::place : What::sign;
        q.choices.push_back(choice(look, seen(what, 0, sign), words(sign), place));
    }
}

}  // namespace

std::string_view name(CasePicture picture) {
    constexpr std::array<std::string_view, kCasePictures + 1> kNames = {
        "loop-or-ladder", "hole", "bump", "odd-stitch", "nothing", "something"};
    return kNames[static_cast<std::size_t>(picture)];
}

std::string words(CasePicture picture, Terms) {
    switch (picture) {
        case CasePicture::looseLoop: return "a loose loop, or a ladder of bars";
        case CasePicture::hole: return "a hole";
        case CasePicture::bump: return "a bump or a ridge";
        case CasePicture::oddStitch: return "an odd stitch";
        case CasePicture::nothing: return "I see nothing";
        case CasePicture::something: return "something, I can't say what";
    }
    return "";
}

std::string words(const CaseNote& note, Terms terms) {
    if (note.kind == CaseNote::Kind::safe) return "She stopped, and pinned what is open.";
    std::string unsure = note.sure < 0.65 ? " (guessing)" : note.sure < 0.95 ? " (fairly sure)" : "";
    if (!note.told) {
        return note.kind == CaseNote::Kind::look ? fmt::format("{} She can't tell.", words(note.look, terms))
                                                 : "She can't tell.";
    }
    switch (note.kind) {
        case CaseNote::Kind::look:
            return fmt::format("{} {}{}", words(note.look, terms), words(note.look, note.seen, terms),
                               unsure);
        case CaseNote::Kind::picture:
            if (note.row > 0)
                return fmt::format("She points at row {}, stitch {} from the right: {}{}.", note.row,
                                   note.column, words(note.picture, terms), unsure);
            return fmt::format("What does she see? {}{}.", words(note.picture, terms), unsure);
        case CaseNote::Kind::cameOut:
            return fmt::format("Did the row come out? {}{}.",
                               note.seen.by < 0   ? "Too few stitches"
                               : note.seen.by > 0 ? "Too many stitches"
                                                  : "Yes",
                               unsure);
        case CaseNote::Kind::fine:
            return fmt::format("Rows {} to {} look right{}.", note.look.rowFrom, note.look.rowTo, unsure);
        case CaseNote::Kind::safe: break;
    }
    return "";
}

CaseQuestion safeQuestion() {
    CaseQuestion q;
    q.kind = CaseNote::Kind::safe;
    q.words =
        "Stop where you are, and don't pull. Lay the work flat. If a loop stands open, put a pin or a spare "
        "needle through it, so that it cannot run.";
    q.why = "Nothing gets worse while you look.";
    CaseChoice done;
    done.words = "Done";
    done.note.kind = CaseNote::Kind::safe;
    q.choices.push_back(done);
    return q;
}

CaseQuestion pictureQuestion() {
    CaseQuestion q;
    q.kind = CaseNote::Kind::picture;
    q.words = "Point at it, and say which of these it is.";
    q.why = "Place and sign in one touch.";
    q.seconds = 10;
    for (int i = 0; i < kCasePictures; ++i) {
        CaseChoice c;
        c.note.kind = CaseNote::Kind::picture;
        c.note.picture = static_cast<CasePicture>(i);
        c.words = words(c.note.picture);
        c.place = c.note.picture != CasePicture::nothing;
        q.choices.push_back(c);
    }
    return q;
}

CaseQuestion cameOutQuestion(int row) {
    CaseQuestion q;
    q.kind = CaseNote::Kind::cameOut;
    q.words = fmt::format("Did the last row come out (row {})?", row);
    q.why = "Whether a stitch is missing or too many.";
    q.seconds = 4;
    q.rowFrom = q.rowTo = row;
    for (const int by : {0, -1, 1}) {
        CaseChoice c;
        c.note.kind = CaseNote::Kind::cameOut;
        c.note.seen = seen(What::number, by);
        c.words = by == 0 ? "yes, it came out" : by < 0 ? "too few stitches" : "too many stitches";
        q.choices.push_back(c);
    }
    return q;
}

CaseQuestion questionFor(const Look& look, const LookedAt& piece, const CaseTables& tables,
                         const LookPace& pace) {
    CaseQuestion q;
    q.look = look;
    q.words = words(look, piece);
    q.seconds = seconds(look, pace);
    const int rows = tables.rows();
    const int low = std::min(look.rowFrom, look.rowTo);
    const int high = std::max(look.rowFrom, look.rowTo);
    q.rowFrom = low;
    q.rowTo = std::min(high, rows);
    q.columnFrom = std::min(look.columnFrom, look.columnTo);
    q.columnTo = std::max(look.columnFrom, look.columnTo);
    q.touch = low == high ? rowByTouch(low, rows)
                          : fmt::format("from {} up to {}", rowByTouch(low, rows), rowByTouch(high, rows));
    const auto add = [&](Sighting s, std::string said, bool place = false) {
        q.choices.push_back(choice(look, s, std::move(said), place));
    };
    switch (look.way) {
        case LookWay::armsLength: {
            q.rowFrom = 0;
            q.rowTo = 0;
            q.touch = "the whole piece";
            q.why = "Where to look first.";
            constexpr std::array<const char*, 3> kBand = {"the top six rows", "the fourteen rows below those",
                                                          "the older rows"};
            constexpr std::array<const char*, 3> kThird = {"right", "middle", "left"};
            add(seen(What::nothing), "it looks the same everywhere");
            for (int i = 0; i < 9; ++i) {
                const int shown = look.side == Side::right ? i % 3 : 2 - i % 3;
                add(seen(What::ninth, i + 1),
                    fmt::format("{}, {} third", kBand[static_cast<std::size_t>(i / 3)],
                                kThird[static_cast<std::size_t>(shown)]));
            }
            break;
        }
        case LookWay::countSpan:
        case LookWay::bothEnds:
        case LookWay::rowFits: {
            const int most = look.way == LookWay::countSpan ? 2 : 6;
            q.why = look.way == LookWay::bothEnds ? "Whether the work was turned in the middle of a row."
                                                  : "Whether a stitch is missing here, or one too many.";
            if (look.way == LookWay::countSpan) {
                const int n = q.columnTo - q.columnFrom + 1;
                q.words += fmt::format(" There should be {}.", n);
            }
            if (look.way == LookWay::bothEnds) q.rowFrom = q.rowTo = 0;
            add(seen(What::number, 0),
                look.way == LookWay::bothEnds ? "the same on both edges" : count(0, most));
            for (int by = 1; by <= (look.way == LookWay::countSpan ? 2 : 3); ++by) {
                if (look.way == LookWay::bothEnds) {
                    add(seen(What::number, by), fmt::format("{} more up the right edge", by));
                    add(seen(What::number, -by), fmt::format("{} more up the left edge", by));
                } else {
                    add(seen(What::number, -by), count(-by, 0));
                    add(seen(What::number, by), count(by, 0));
                }
            }
            add(seen(What::beyond), "more than that");
            break;
        }
        case LookWay::closeLook:
        case LookWay::turnOver:
            q.rowFrom = std::max(0, look.rowFrom - 1);
            q.rowTo = std::min(rows, look.rowFrom + 1);
            q.columnFrom = std::max(1, look.columnFrom - 2);
            q.columnTo = look.columnFrom + 2;
            q.why = "What it is.";
            add(seen(What::nothing), "all as it should be");
            addSigns(q, look, false);
            add(seen(What::unnamed), "something, but none of these");
            break;
        case LookWay::tug:
            q.rowFrom = std::max(0, look.rowFrom - 3);
            q.rowTo = std::min(rows, look.rowFrom + 3);
            q.columnFrom = std::max(1, look.columnFrom - 4);
            q.columnTo = look.columnFrom + 4;
            q.why = "Whether a loop hangs free there.";
            add(seen(What::nothing), "nothing gives");
            add(seen(What::sign, 0, OddSign::freeLoop), "a loop comes free");
            add(seen(What::sign, 0, OddSign::longBar), "a long bar gives");
            break;
        case LookWay::follow:
        case LookWay::compareRepeat:
            q.why = "Where the pattern stops standing on what is below it.";
            add(seen(What::nothing),
                look.way == LookWay::follow ? "it does not break" : "they do not differ");
            add(seen(What::place), "here (point at it)", true);
            break;
        case LookWay::oddRepeat: {
            q.why = "Which repeat is unlike its sisters.";
            add(seen(What::nothing), "they are all alike");
            const int repeats = look.width > 0 ? (q.columnTo - q.columnFrom + 1) / look.width : 0;
            for (int i = 1; i <= std::min(repeats, 40); ++i)
                add(seen(What::repeat, i), fmt::format("the {} as worked", ordinalNumber(i)));
            break;
        }
        case LookWay::searchPatch:
            q.why = "Whether it lies here, and what it is.";
            add(seen(What::nothing), "nothing odd here");
            addSigns(q, look, true);
            add(seen(What::place, 0, OddSign::slides), "the pattern stands over other stitches", true);
            add(seen(What::place, 0, OddSign::other), "something, but none of these", true);
            break;
        case LookWay::stretchPatch:
            q.why = "Whether a stitch hangs free.";
            add(seen(What::nothing), "no loop stands free");
            add(seen(What::place, 0, OddSign::freeLoop), "a loop stands free (point at it)", true);
            break;
        case LookWay::slantLight:
            q.why = "Light from the side shows what the eye passes over.";
            add(seen(What::nothing), "nothing stands out");
            for (const OddSign sign : {OddSign::bump, OddSign::crossedFeet, OddSign::tall})
                add(seen(What::place, 0, sign), words(sign), true);
            break;
    }
    return q;
}

}  // namespace loopmend
