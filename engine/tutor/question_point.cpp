// SPDX-License-Identifier: MIT
// Questions that are answered by pointing.
#include <algorithm>
#include <utility>

#include <fmt/format.h>

#include "fabric/hands.h"
#include "fault/needle.h"
#include "repair/workplace.h"
#include "tutor/question_cloth.h"

namespace loopmend {

namespace {

using Thing = PointTarget::Thing;
using PartAt = PointTarget::Spot;

bool inFabric(const AskedCloth& cloth, LoopId l) {
    return l && cloth.fabric().has(l) && cloth.fabric().isLoop(l);
}

// ---- parts of one stitch

Asked askPart(AskedCloth& cloth, std::string_view of) {
    // Parts are seen best where it is a V. What is chosen must not change when the work is turned.
    std::vector<LoopId> loops;
    for (const LoopId l : cloth.stitches("plain")) {
        if (cloth.cell(l)->symbol.face == Face::v) loops.push_back(l);
    }
    if (loops.empty() || cloth.wanted.row > 0) loops = cloth.stitches("plain");
    const LoopId loop = cloth.choose(loops);
    if (!loop) return cannotAsk("there is no plain stitch there");
    Question q;
    const std::string said = of == "leg" ? "one leg" : fmt::format("the {}", of);
    q.words = fmt::format("Point at {} of the lit stitch: {}.", said, cloth.place(loop));
    q.about = {litLoop(PageMarkKind::notice, loop)};
    if (of == "head") q.targets = {{targetOf(loop, PartAt::head)}};
    if (of == "foot") q.targets = {{targetOf(loop, PartAt::foot)}};
    if (of == "leg") q.targets = {{targetOf(loop, PartAt::rightLeg), targetOf(loop, PartAt::leftLeg)}};
    const char* where = of == "head"   ? "The head is the round top, where the next stitch is drawn through."
                        : of == "foot" ? "The feet are where the legs come together, below."
                                       : "The legs are the two sides of the loop, from the feet up.";
    tempt(q, targetOf(loop, PartAt::head), std::string("That is its head. ") + where,
          "the middle of the stitch is its head");
    tempt(q, targetOf(loop, PartAt::foot), std::string("That is its foot. ") + where, "the foot is the top");
    tempt(q, targetOf(loop, PartAt::rightLeg), std::string("That is a leg. ") + where, "a leg is the whole");
    tempt(q, targetOf(loop, PartAt::leftLeg), std::string("That is a leg. ") + where, "a leg is the whole");
    tempt(q, {Thing::strand, loop, PartAt::whole},
          std::string("That is the bar between two stitches. ") + where, "the bar is part of the stitch");
    return finished(std::move(q), cloth, loop,
                    {fmt::format("Look at the lit stitch: {}.", cloth.place(loop)),
                     "A stitch is a loop: two legs that meet below at the feet, and a head on top.", where,
                     of == "head"   ? "Point at its top."
                     : of == "foot" ? "Point at its lowest part."
                                    : "Point at one of its two sides."});
}

Asked askBar(AskedCloth& cloth) {
    const Fabric& f = cloth.fabric();
    std::vector<LoopId> loops;
    for (const LoopId l : cloth.stitches("plain")) {
        const EntryId next = f[l].next;
        if (!next || !f.isLoop(next) || f.isLive(next)) continue;
        const Cell* a = cloth.cell(l);
        const Cell* b = cloth.cell(next);
        if (b != nullptr && a->row == b->row) loops.push_back(l);
    }
    const LoopId loop = cloth.choose(loops);
    if (!loop) return cannotAsk("there is no bar between two stitches there");
    const LoopId next = f[loop].next;
    Question q;
    q.words = fmt::format("Point at the bar between the two lit stitches. One is {}.", cloth.place(loop));
    q.about = {litLoops(PageMarkKind::notice, {loop, next})};
    q.targets = {{{Thing::strand, loop, PartAt::whole}}};
    for (const LoopId l : {loop, next}) {
        tempt(q, targetOf(l, PartAt::head), "That is a head. The bar runs from foot to foot.",
              "the bar is a stitch");
        tempt(q, targetOf(l, PartAt::rightLeg), "That is a leg. The bar runs between the feet.",
              "the bar is a leg");
        tempt(q, targetOf(l, PartAt::leftLeg), "That is a leg. The bar runs between the feet.",
              "the bar is a leg");
    }
    return finished(std::move(q), cloth, loop,
                    {"Look between the two lit stitches.", "It is the yarn that goes from one to the next.",
                     "It is no stitch: nothing is drawn through it, and it belongs to both.",
                     "Point at the strand between their feet."});
}

Asked askNeckBar(AskedCloth& cloth) {
    const Fabric& f = cloth.fabric();
    std::vector<LoopId> loops;
    for (const LiveLoop& live : cloth.reading(Side::right).needle) {
        if (live.neck != Neck::none && f[live.loop].firstLink &&
            inFabric(cloth, f[f[live.loop].firstLink].host))
            loops.push_back(live.loop);
    }
    const LoopId loop = cloth.choose(loops);
    if (!loop) return cannotAsk("no stitch on the needle has a neck to be looked at");
    const LoopId host = f[f[loop].firstLink].host;
    bool bar = false;
    for (const LiveLoop& live : cloth.scene.reading.needle)
        bar = bar || (live.loop == loop && live.neck == Neck::bar);
    Question q;
    q.words = fmt::format("Point at the bar at the neck of the lit stitch: {}.{}", cloth.place(loop),
                          bar ? "" : " On this face it lies behind: turn the work over if you like.");
    q.about = {litLoop(PageMarkKind::notice, loop)};
    q.targets = {{targetOf(host, PartAt::head), targetOf(host, PartAt::whole)}};
    tempt(q, targetOf(loop), "That is the loop itself. Its neck is just below the needle.",
          "the loop itself is knit or purl");
    tempt(q, targetOf(host, PartAt::foot), "A little higher: the head that lies round the neck.",
          "the whole stitch below is the neck");
    tempt(q, {Thing::strand, loop, PartAt::whole},
          "That bar runs to the next stitch. The neck is under the loop itself.", "any bar is a neck");
    return finished(std::move(q), cloth, loop,
                    {fmt::format("Look at the lit stitch: {}.", cloth.place(loop)),
                     "Look just below the needle, where the loop comes out of the stitch below.",
                     "The head of the stitch below lies round it: in front on a purl, behind on a knit.",
                     "Point at the head of the stitch below the lit one."});
}

// ---- one of many

std::string kindWords(std::string_view of, Face face) {
    if (of == "v") return "a V";
    if (of == "bump") return "a bump";
    if (of == "hole") return "a hole that is meant: the strand over it";
    if (of == "decrease") return "a place where two stitches become one";
    if (of == "double-decrease") return "a place where three stitches become one";
    if (of == "increase") return "a stitch that begins a new column";
    if (of == "crossed") return "a stitch with crossed feet";
    if (of == "slipped") return "a slipped stitch";
    if (of == "cable") return "a stitch that crosses its neighbor";
    (void)face;
    return "it";
}

Asked askAny(AskedCloth& cloth, std::string_view of) {
    const bool byFace = of == "v" || of == "bump";
    const Face face = of == "v" ? Face::v : Face::bump;
    std::vector<LoopId> right;
    std::vector<LoopId> wrong;
    for (const ReadRow& row : cloth.scene.reading.rows) {
        for (const Cell& c : row.cells) {
            const Symbol& s = c.symbol;
            if (row.row < 1 || !inFabric(cloth, c.loop) || s.sight == Sight::rung) continue;
            if (byFace) {
                // A loop on the needle shows only its neck.
                if (s.sight != Sight::stitch || cloth.fabric().isLive(c.loop)) continue;
                (s.face == face ? right : wrong).push_back(c.loop);
            } else {
                const Cell* r = cloth.cell(c.loop);
                std::string_view kind = r == nullptr ? std::string_view() : kindOf(r->symbol);
                const bool feet = r != nullptr && of == "crossed" && r->symbol.sight == Sight::stitch &&
                                  r->symbol.feet != 0;
                (kind == of || feet ? right : wrong).push_back(c.loop);
            }
        }
    }
    if (right.empty()) return cannotAsk(fmt::format("there is no {} there", of));
    const LoopId shown = cloth.choose(right);
    Question q;
    q.words = fmt::format("Point at {}.", kindWords(of, face));
    std::vector<PointTarget> all;
    all.reserve(right.size());
    for (const LoopId l : right) all.push_back(targetOf(l));
    q.targets = {std::move(all)};
    const LoopId anchor = shown ? shown : right.front();
    std::string notice;
    std::string why;
    std::string rightFor;
    if (of == "v") {
        notice = "Two legs that meet below: that is a V.";
        why = "There the head of the stitch below lies across: it is a bump.";
        rightFor = "wrong_kp";
    } else if (of == "bump") {
        notice = "A head that lies across, like a small wave: that is a bump.";
        why = "There two legs meet below: it is a V.";
        rightFor = "wrong_kp";
    } else if (of == "hole") {
        notice = "A hole that is meant has a column above it, and none below.";
        why = "A column goes on below it, so there is no hole under it.";
        rightFor = "accidental_yo";
    } else if (of == "crossed") {
        notice = "Where the feet cross, one leg lies over the other at the bottom.";
        why = "Its feet stand side by side.";
        rightFor = "twist_tbl";
    } else if (of == "slipped") {
        notice = "It is taller than its neighbors, and a strand goes straight past it.";
        why = "It is one row high, like its neighbors.";
        rightFor = "slip_float_back";
    } else if (of == "increase") {
        notice = "A column that begins in the middle of the cloth.";
        why = "Its column goes on below it.";
        rightFor = "kfb_accident";
    } else if (of == "cable") {
        notice = "Two columns change places.";
        why = "Its column goes straight up.";
        rightFor = "miscrossed";
    } else {
        notice = "Follow two columns up to where they are one.";
        why = "Only one column goes into it.";
        rightFor = of == "decrease" ? "merged" : "dec_3_for_2";
    }
    temptRound(cloth, q, anchor, why, rightFor);
    for (std::size_t i = 0; i < wrong.size() && q.tempting.size() < 3; ++i)
        tempt(q, targetOf(wrong[i]), why, rightFor);
    if (inFabric(cloth, anchor))
        tempt(q, {Thing::strand, anchor, PartAt::whole}, "That is the bar between two stitches.",
              "the bar is a stitch");
    Question done = finished(std::move(q), cloth, anchor,
                             {"Go along the rows, from the needle down.", notice,
                              byFace ? "What is a V on this face is a bump on the other."
                                     : "It differs from the plain stitches round it.",
                              fmt::format("One is {}.", cloth.place(anchor))});
    // One is enough to be shown.
    done.lights[3] = {litLoop(PageMarkKind::next, anchor)};
    return done;
}

Asked askOpen(AskedCloth& cloth) {
    const Fabric& f = cloth.fabric();
    std::vector<PointTarget> open;
    for (std::int32_t i = 0; i < f.entryCount(); ++i) {
        const LoopId l{i};
        if (!f.has(l) || !f.isLoop(l) || f.isNothing(l) || f[l].flags.anchored != 0 || !f.isLive(l)) continue;
        if (f.isLoose(l) || pinOf(f, l)) open.push_back(targetOf(l));
    }
    if (open.empty()) return cannotAsk("no loop stands open there");
    const LoopId loop = open.front().entry;
    Question q;
    q.words = "Point at an open loop: one with no stitch drawn through it, that is not on the needle.";
    q.targets = {open};
    for (const LiveLoop& live : cloth.scene.reading.needle) {
        if (std::abs(cloth.scene.places.of(live.loop).column - cloth.scene.places.of(loop).column) <= 1)
            tempt(q, targetOf(live.loop), "That one sits on the needle: it is safe.", "drop_live");
    }
    temptRound(cloth, q, loop, "Another stitch is drawn through that one: it is held.", "drop_left_behind");
    for (const PassId rung : f.passesOf(loop))
        tempt(q, {Thing::rung, rung, PartAt::whole}, "That is a rung: the loop stands under the lowest one.",
              "the rung is the stitch");
    return finished(std::move(q), cloth, loop,
                    {"Look where the cloth gapes, or where bare strands lie.",
                     "Look for a loop that is empty, like a sling.",
                     "What has a stitch drawn through it cannot run. An empty loop can.",
                     fmt::format("It is {}.", cloth.place(loop))});
}

Asked askRungAt(AskedCloth& cloth, std::string_view of) {
    const Fabric& f = cloth.fabric();
    std::vector<PointTarget> rungs;
    std::vector<PointTarget> others;
    for (std::int32_t i = 0; i < f.entryCount(); ++i) {
        const PassId p{i};
        if (!f.has(p) || f.isLoop(p) || !f.passed(p)) continue;
        const LoopId foot = f.passed(p);
        if (!f.isLive(foot) || f[foot].flags.anchored != 0 || onNeedle(f, foot)) continue;
        const bool fits = of == "rung" || (of == "long-rung") == isLongRung(f, p);
        (fits ? rungs : others).push_back({Thing::rung, p, PartAt::whole});
    }
    if (rungs.empty()) return cannotAsk("there is no such rung there");
    const LoopId foot = f.passed(rungs.front().entry);
    Question q;
    q.words = of == "rung"        ? "Point at a rung: a bare strand with no stitch in it."
              : of == "long-rung" ? "Point at a long rung: a slack one, that a stitch came out of."
                                  : "Point at a short rung: a straight one, with nothing to spare.";
    q.targets = {rungs};
    for (const PointTarget& t : others)
        tempt(q, t, of == "long-rung" ? "That one goes straight across." : "That one is slack.",
              of == "long-rung" ? "drop_left_behind" : "ladder_stockinette");
    tempt(q, targetOf(foot), "That is the loop under the rungs.", "the rung is the stitch");
    temptRound(cloth, q, foot, "That is a stitch. A rung has no stitch in it.", "drop_left_behind");
    return finished(std::move(q), cloth, foot,
                    {"Look above the open loop.", "Bare strands lie right across, one above the other.",
                     "Where a stitch came out, only its yarn is left.",
                     fmt::format("They lie above the open loop, {}.", cloth.place(foot))});
}

Asked askYarn(AskedCloth& cloth) {
    const Fabric& f = cloth.fabric();
    LoopId newest;
    for (std::int32_t y = 0; y < f.yarnCount(); ++y) {
        const YarnId yarn{y};
        if (f[yarn].flags.gone || !f[yarn].flags.ball) continue;
        EntryId e = f[yarn].last;
        while (e && !f.isLoop(e)) e = f[e].prev;
        if (e) newest = e;
    }
    const std::vector<LiveLoop>& needle = cloth.reading(Side::right).needle;
    if (!newest || needle.size() < 3) return cannotAsk("no yarn runs to a ball there");
    Question q;
    q.words =
        "You come back after a break. Point at the stitch that the yarn to the ball comes from: its "
        "needle goes in your working hand.";
    q.targets = {
        {targetOf(newest), {Thing::ball, {}, PartAt::whole}, {Thing::strand, newest, PartAt::whole}}};
    const LoopId rightEnd = needle.front().loop;
    const LoopId leftEnd = needle.back().loop;
    const HeldId tip = f[f.needle()].tip;
    if (tip)
        tempt(q, targetOf(f[tip].loop), "No yarn comes out of that one: it waits to be worked.",
              "the needle with more stitches goes left");
    tempt(q, targetOf(rightEnd), "No yarn runs to the ball from there.", "work always begins at the right");
    tempt(q, targetOf(leftEnd), "No yarn runs to the ball from there.",
          "the needle with more stitches goes left");
    const std::size_t middle = needle.size() / 2;
    tempt(q, targetOf(needle[middle].loop), "No yarn runs to the ball from there.",
          "any stitch may be the next");
    return finished(std::move(q), cloth, newest,
                    {"Find the ball, and follow its yarn to the work.",
                     "It comes out of one stitch on the needle: the last one that was worked.",
                     "The needle with that stitch was in the working hand when you stopped.",
                     fmt::format("It is {}.", cloth.place(newest))});
}

Asked askRowOf(AskedCloth& cloth, int row) {
    const std::vector<std::vector<LoopId>>& rows = cloth.scene.places.rows();
    if (static_cast<int>(rows.size()) < 4) return cannotAsk("the piece is too short");
    std::vector<PointTarget> all;
    for (const LoopId l : rows[static_cast<std::size_t>(row)]) all.push_back(targetOf(l));
    if (all.empty()) return cannotAsk("that row is not there");
    const LoopId loop = cloth.choose(rows[static_cast<std::size_t>(row)]);
    const LoopId anchor = loop ? loop : all.front().entry;
    Question q;
    q.words = "Point at a stitch of the first row above the cast-on edge: where counting rows begins.";
    q.targets = {std::move(all)};
    const int column = cloth.scene.places.of(anchor).column;
    for (const int r : {row - 1, row + 1, static_cast<int>(rows.size()) - 1}) {
        if (r < 0) continue;
        for (const LoopId l : rows[static_cast<std::size_t>(r)]) {
            if (cloth.scene.places.of(l).column != column) continue;
            tempt(q, targetOf(l),
                  r < row                                  ? "That is the cast-on edge."
                  : r == static_cast<int>(rows.size()) - 1 ? "That one is on the needle."
                                                           : "That is one row too high.",
                  r < row ? "the cast-on edge is a row" : "the edge hides the first row");
        }
    }
    return finished(
        std::move(q), cloth, anchor,
        {"Look at the lower edge.", "The edge is a row of knots. Right above it stands the first row.",
         "The cast-on is not a row that was knitted.", fmt::format("One is {}.", cloth.place(anchor))});
}

Asked askOnNeedle(AskedCloth& cloth) {
    std::vector<PointTarget> all;
    std::vector<LoopId> loops;
    for (const LiveLoop& live : cloth.reading(Side::right).needle) {
        all.push_back(targetOf(live.loop));
        loops.push_back(live.loop);
    }
    const LoopId loop = cloth.choose(loops);
    if (!loop) return cannotAsk("there is no stitch on the needle");
    Question q;
    q.words = "Point at a stitch that is on the needle.";
    q.targets = {std::move(all)};
    const Fabric& f = cloth.fabric();
    const StitchPlaces& places = cloth.scene.places;
    for (const LoopId l : loops) {
        if (std::abs(places.of(l).column - places.of(loop).column) > 1) continue;
        for (LinkId k = f[l].firstLink; k; k = f[k].nextInLoop)
            tempt(q, targetOf(f[k].host), "That one is just below: a stitch is drawn through it already.",
                  "the row below the needle is on it");
    }
    Question done = finished(std::move(q), cloth, loop,
                             {"Look along the needle.", "Loops that the needle goes through are on it.",
                              "The stitches below hold these, and are no longer on the needle.",
                              fmt::format("One is {}.", cloth.place(loop))});
    done.lights[3] = {litLoop(PageMarkKind::next, loop)};
    return done;
}

}  // namespace

Asked askPoint(AskedCloth& cloth) {
    std::string_view of = cloth.wanted.of;
    constexpr std::string_view kParts[] = {"head", "leg", "foot", "bar"};
    if (of.empty()) of = kParts[cloth.dice.below(4)];
    if (of == "head" || of == "leg" || of == "foot") return askPart(cloth, of);
    if (of == "bar") return askBar(cloth);
    if (of == "neck") return askNeckBar(cloth);
    if (of == "open-loop") return askOpen(cloth);
    if (of == "rung" || of == "long-rung" || of == "short-rung") return askRungAt(cloth, of);
    if (of == "yarn-needle") return askYarn(cloth);
    if (of == "first-row") return askRowOf(cloth, 1);
    if (of == "on-needle") return askOnNeedle(cloth);
    for (const std::string_view kind :
         {"v", "bump", "hole", "decrease", "double-decrease", "increase", "crossed", "slipped", "cable"}) {
        if (of == kind) return askAny(cloth, of);
    }
    return cannotAsk(fmt::format("\"{}\" is nothing to be pointed at", of));
}

}  // namespace loopmend
