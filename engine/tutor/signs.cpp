// SPDX-License-Identifier: MIT
#include "tutor/signs.h"

#include <algorithm>
#include <cstdlib>

#include <fmt/format.h>

#include "fabric/hands.h"

namespace loopmend {

namespace {

using Kind = Evidence::Kind;
using Thing = PointTarget::Thing;

bool contains(const std::vector<LoopId>& loops, LoopId l) {
    return std::find(loops.begin(), loops.end(), l) != loops.end();
}

/// A wrong loop, or one whose legs a wrong loop crosses.
bool looksWrong(const Scene& s, LoopId l) {
    if (contains(s.standing.wrong, l)) return true;
    for (LinkId k = s.view.fabric[l].firstKid; k; k = s.view.fabric[k].nextInHost) {
        if (s.view.fabric[k].form.twist != 0 && contains(s.standing.wrong, s.view.fabric[k].loop))
            return true;
    }
    return false;
}

Kind seenFrom(Side side) {
    return side == Side::right ? Kind::seenFromRight : Kind::seenFromWrong;
}

int rungsAbove(const Fabric& f, LoopId l) {
    return static_cast<int>(f.passesOf(l).size());
}

/// The open loop whose rung this is.
LoopId footOf(const Scene& s, PassId rung) {
    const Fabric& f = s.view.fabric;
    return f.has(rung) && !f.isLoop(rung) ? f.passed(rung) : LoopId{};
}

std::string awayWords(const Scene& s, LoopId from, LoopId root) {
    const StitchPlace a = s.places.of(from);
    const StitchPlace b = s.places.of(root);
    if (a.column == 0 || b.column == 0) return {};
    // Columns are counted from the right edge as the right side shows it.
    const int across = s.view.seen == Side::right ? b.column - a.column : a.column - b.column;
    const int up = b.row - a.row;
    if (across != 0 && up != 0)
        return fmt::format("Look further to the {} and further {}.", across > 0 ? "left" : "right",
                           up > 0 ? "up" : "down");
    if (across != 0)
        return fmt::format("The row is right. Look further to the {}.", across > 0 ? "left" : "right");
    if (up != 0) return fmt::format("The column is right. Look further {}.", up > 0 ? "up" : "down");
    return {};
}

LoopId anchorOf(const Scene& s, const PointTarget& t) {
    if (t.thing == Thing::rung) return footOf(s, t.entry);
    return t.entry;
}

}  // namespace

bool wasOpen(const Scene& s, LoopId l) {
    // A pin makes it safe and changes nothing of what it tells.
    const Fabric& f = s.view.fabric;
    return l == s.standing.onHook || contains(s.standing.open, l) ||
           (f.isLive(l) && f.isHeld(l) && pinOf(f, l));
}

std::string lookWords(const Scene& s, LoopId l) {
    const Cell* cell = cellOf(s.reading, l);
    if (cell == nullptr) return "a loop";
    std::string text = words(cell->symbol, s.view.terms);
    if (cell->symbol.twist == 0 && cell->symbol.feet != 0) text += " with crossed feet";
    if (contains(s.standing.larger, l)) text += ", larger than it should be";
    if (contains(s.standing.smaller, l)) text += ", smaller than it should be";
    return text;
}

std::vector<Kind> signsToBeSeen(const Scene& s) {
    std::vector<Kind> signs;
    const Fabric& f = s.view.fabric;
    bool open = false;
    bool rungs = false;
    for (std::int32_t i = 0; i < f.entryCount(); ++i) {
        const LoopId l{i};
        if (!f.has(l) || !f.isLoop(l) || !wasOpen(s, l)) continue;
        open = true;
        rungs = rungs || rungsAbove(f, l) > 0;
    }
    if (open) signs.push_back(Kind::openLoop);
    if (rungs) signs.push_back(Kind::rungs);
    if (!s.standing.wrong.empty()) {
        signs.push_back(Kind::seenFromRight);
        signs.push_back(Kind::seenFromWrong);
    }
    if (!s.standing.lacking.empty() && !open) signs.push_back(Kind::bareStrand);
    if (!s.standing.unevenStrands.empty() || !s.standing.unevenFloats.empty())
        signs.push_back(Kind::strandSize);
    return signs;
}

std::optional<Evidence> signAt(const Scene& s, const PointTarget& t) {
    const Fabric& f = s.view.fabric;
    if (t.thing == Thing::rung) {
        const LoopId foot = footOf(s, t.entry);
        if (!foot || !wasOpen(s, foot)) return std::nullopt;
        const int n = rungsAbove(f, foot);
        return Evidence{
            Kind::rungs, t,
            n == 1 ? std::string("a strand with no stitch in it, above the open loop")
                   : fmt::format("{} strands with no stitch in them, one above the other", numberWord(n))};
    }
    if (t.thing == Thing::strand) {
        if (contains(s.standing.unevenStrands, t.entry))
            return Evidence{Kind::strandSize, t,
                            "a bar between two stitches that is wider than its neighbors"};
        if (contains(s.standing.unevenFloats, t.entry))
            return Evidence{Kind::strandSize, t, "a strand of another length than the stitches it passes"};
        if (!contains(s.standing.lacking, t.entry)) return std::nullopt;
        // Over an open loop the bare strand is one of its rungs.
        const std::vector<PointTarget> all = roots(s);
        if (!all.empty() && all.front().thing == Thing::loop && wasOpen(s, all.front().entry))
            return Evidence{Kind::rungs, t, "a strand with no stitch in it, above the open loop"};
        return Evidence{Kind::bareStrand, t, "a bare strand where a stitch should stand"};
    }
    if (t.thing != Thing::loop || !f.has(t.entry) || !f.isLoop(t.entry)) return std::nullopt;
    if (wasOpen(s, t.entry))
        return Evidence{Kind::openLoop, t,
                        fmt::format("an open loop, {}", placeWords(s.view, s.places, t.entry))};
    if (looksWrong(s, t.entry))
        return Evidence{seenFrom(s.view.seen), t,
                        fmt::format("{}, {}", lookWords(s, t.entry), placeWords(s.view, s.places, t.entry))};
    return std::nullopt;
}

namespace {

bool isWoundEdge(const Scene& s, LoopId loop) {
    const std::vector<LoopId>& wound = s.standing.wound;
    return std::find(wound.begin(), wound.end(), loop) != wound.end();
}

}  // namespace

std::vector<PointTarget> roots(const Scene& s) {
    std::vector<PointTarget> found;
    const Fabric& f = s.view.fabric;
    for (std::int32_t i = 0; i < f.entryCount(); ++i) {
        const LoopId l{i};
        if (f.has(l) && f.isLoop(l) && wasOpen(s, l)) found.push_back({Thing::loop, l});
    }
    if (!found.empty()) return found;
    int lowest = -1;
    const auto meet = [&](LoopId l) {
        const int row = s.places.of(l).row;
        if (lowest < 0 || row < lowest) lowest = row;
    };
    for (const LoopId l : s.standing.wrong) meet(l);
    for (const LoopId l : s.standing.lacking) meet(l);
    for (const LoopId l : s.standing.unevenStrands) meet(l);
    for (const LoopId l : s.standing.unevenFloats) meet(l);
    for (const LoopId l : s.standing.wrong) {
        if (s.places.of(l).row != lowest) continue;
        found.push_back({Thing::loop, l});
        for (LinkId k = f[l].firstLink; k; k = f[k].nextInLoop) {
            if (f[k].form.twist != 0) found.push_back({Thing::loop, f[k].host});
        }
    }
    for (const LoopId l : s.standing.lacking) {
        if (s.places.of(l).row == lowest) found.push_back({Thing::strand, l});
    }
    for (const std::vector<LoopId>* strands : {&s.standing.unevenStrands, &s.standing.unevenFloats}) {
        for (const LoopId l : *strands) {
            if (s.places.of(l).row == lowest) found.push_back({Thing::strand, l});
        }
    }
    if (found.empty()) {
        for (const LoopId l : s.standing.wound) found.push_back({Thing::loop, l});
    }
    return found;
}

bool isWound(const Scene& s) {
    const std::vector<PointTarget> all = roots(s);
    return !all.empty() && isWoundEdge(s, all.front().entry);
}

std::vector<std::vector<PointTarget>> rootPlaces(const Scene& s) {
    // What lies in columns next to each other belongs together: a mistake shows beside and above its root.
    constexpr int kApart = 3;
    const Fabric& f = s.view.fabric;
    struct Sign {
        PointTarget target;
        int column;
        int row;
        bool open;
        std::size_t place;
    };
    std::vector<Sign> signs;
    const auto add = [&](const PointTarget& t, bool open) {
        const StitchPlace at = s.places.of(t.entry);
        signs.push_back({t, at.column, at.row, open, signs.size()});
    };
    for (std::int32_t i = 0; i < f.entryCount(); ++i) {
        const LoopId l{i};
        if (f.has(l) && f.isLoop(l) && wasOpen(s, l)) add({Thing::loop, l}, true);
    }
    for (const LoopId l : s.standing.wrong) add({Thing::loop, l}, false);
    for (const LoopId l : s.standing.lacking) add({Thing::strand, l}, false);
    for (const LoopId l : s.standing.unevenStrands) add({Thing::strand, l}, false);
    for (const LoopId l : s.standing.unevenFloats) add({Thing::strand, l}, false);
    for (bool changed = true; changed;) {
        changed = false;
        for (Sign& a : signs) {
            for (const Sign& b : signs) {
                // Two open loops are two places.
                if (a.place <= b.place || (a.open && b.open) || std::abs(a.column - b.column) >= kApart)
                    continue;
                a.place = b.place;
                changed = true;
            }
        }
    }
    std::vector<std::vector<PointTarget>> places;
    for (const bool open : {true, false}) {
        for (std::size_t p = 0; p < signs.size(); ++p) {
            int lowest = -1;
            bool hasOpen = false;
            for (const Sign& sign : signs) {
                if (sign.place != p) continue;
                hasOpen = hasOpen || sign.open;
                if (lowest < 0 || sign.row < lowest) lowest = sign.row;
            }
            if (lowest < 0 || hasOpen != open) continue;
            std::vector<PointTarget> place;
            for (const Sign& sign : signs) {
                if (sign.place != p || (open ? !sign.open : sign.row != lowest)) continue;
                place.push_back(sign.target);
                if (open || sign.target.thing != Thing::loop) continue;
                for (LinkId k = f[sign.target.entry].firstLink; k; k = f[k].nextInLoop) {
                    if (f[k].form.twist != 0) place.push_back({Thing::loop, f[k].host});
                }
            }
            places.push_back(std::move(place));
        }
    }
    return places;
}

bool isRoot(const Scene& s, const PointTarget& t) {
    const std::vector<PointTarget> all = roots(s);
    return std::any_of(all.begin(), all.end(),
                       [&](const PointTarget& r) { return r.thing == t.thing && r.entry == t.entry; });
}

std::string aboutTarget(const Scene& s, const PointTarget& t) {
    const Fabric& f = s.view.fabric;
    const std::vector<PointTarget> all = roots(s);
    std::string what;
    switch (t.thing) {
        case Thing::nothing: return "That is the table. Point at a loop or a strand of the cloth.";
        case Thing::needle: return "That is the needle. What you look for is in the cloth.";
        case Thing::tail: return "That is the tail of the cast-on. It is fast.";
        case Thing::ball: return "That is the yarn to the ball. It is as it should be.";
        case Thing::rung:
            if (!footOf(s, t.entry)) return "That strand is no longer there.";
            what = "That is a rung: yarn of a stitch that came out.";
            return !all.empty() && all.front().thing == Thing::loop && all.front().entry == footOf(s, t.entry)
                       ? what + " Follow the rungs down to the loop under them."
                       : what;
        case Thing::strand: what = "That is the bar between two stitches, not a stitch."; break;
        case Thing::loop:
            if (!f.has(t.entry) || !f.isLoop(t.entry)) return "That loop is no longer there.";
            if (wasOpen(s, t.entry)) {
                what = "That loop is open: nothing goes through it.";
            } else if (f.isLive(t.entry) && f.isHeld(t.entry)) {
                what = "That stitch sits on the needle. It is safe.";
            } else if (isWoundEdge(s, t.entry)) {
                what = "That is the cast-on edge. It does not lie one way all along the needle.";
            } else if (f[t.entry].flags.anchored != 0 || s.places.of(t.entry).row <= 0) {
                what = "That is the cast-on edge. It is sound.";
            } else {
                const bool anyOpen =
                    !all.empty() && all.front().thing == Thing::loop && wasOpen(s, all.front().entry);
                what = fmt::format("That is {}.{}", lookWords(s, t.entry),
                                   anyOpen ? " Another stitch is drawn through it, so it is held." : "");
            }
            break;
    }
    if (all.empty()) return what;
    const std::string away = awayWords(s, anchorOf(s, t), all.front().entry);
    return away.empty() ? what : fmt::format("{} {}", what, away);
}

}  // namespace loopmend
