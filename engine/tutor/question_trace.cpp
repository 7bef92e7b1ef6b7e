// SPDX-License-Identifier: MIT
// Questions of the whole cloth: a column or a row followed, two signs, and where it all began.
#include <algorithm>
#include <utility>

#include <fmt/format.h>

#include "tutor/question_cloth.h"

namespace loopmend {

namespace {

using Thing = PointTarget::Thing;
using PartAt = PointTarget::Spot;

/// What is a sign itself is not said to be as it was meant.
void dropSigns(const AskedCloth& cloth, Question& q) {
    const auto from = std::remove_if(q.tempting.begin(), q.tempting.end(), [&](const TemptingTarget& t) {
        return t.target.thing != Thing::rung && t.rightFor != "the row you notice is the row" &&
               signAt(cloth.scene, t.target);
    });
    q.tempting.erase(from, q.tempting.end());
}

}  // namespace

// ---- tracing

Asked askTrace(AskedCloth& cloth) {
    constexpr int kLong = 4;
    const bool column = cloth.wanted.of != "row";
    const LoopId from = cloth.choose(cloth.stitches("plain"));
    if (!from) return cannotAsk("there is no stitch to begin at");
    const Columns& columns = cloth.columns();
    std::vector<LoopId> steps;
    std::vector<std::pair<LoopId, const char*>> tempting;
    if (column) {
        // Down, or up where the edge is near.
        Columns::Place at = Columns::kNone;
        for (Columns::Place p = 0; p < columns.count(); ++p) {
            if (columns.cell(p).loop == from && columns.cell(p).symbol.sight != Sight::slipped) at = p;
        }
        if (at == Columns::kNone) return cannotAsk("that column cannot be followed");
        for (const bool down : {true, false}) {
            steps.clear();
            tempting.clear();
            LoopId last = from;
            for (Columns::Place p = down ? columns.below(at) : columns.above(at);
                 p != Columns::kNone && static_cast<int>(steps.size()) < kLong;
                 p = down ? columns.below(p) : columns.above(p)) {
                const Cell& c = columns.cell(p);
                if (c.symbol.sight == Sight::rung || c.row < 1) break;
                if (c.loop == last) continue;
                last = c.loop;
                steps.push_back(c.loop);
                for (const Columns::Place side : {columns.left(p), columns.right(p)}) {
                    if (side != Columns::kNone) tempting.emplace_back(columns.cell(side).loop, "column");
                }
            }
            if (static_cast<int>(steps.size()) == kLong) break;
        }
        if (steps.size() < 2) return cannotAsk("that column is too short to be followed");
        Question q;
        const bool down = cloth.scene.places.of(steps.front()).row < cloth.scene.places.of(from).row;
        q.words =
            fmt::format("Follow the column of the lit stitch {}: point at {}, one after the other.",
                        down ? "down" : "up", many(static_cast<int>(steps.size()), "stitch", "stitches"));
        q.about = {litLoop(PageMarkKind::notice, from)};
        q.inOrder = true;
        for (const LoopId l : steps) q.targets.push_back({targetOf(l)});
        for (const auto& [l, kind] : tempting)
            tempt(q, targetOf(l),
                  "That one stands in the column beside it. Two legs that meet below are one V.",
                  "the legs of two stitches make a V");
        return finished(
            std::move(q), cloth, from,
            {fmt::format("Begin at the lit stitch: {}.", cloth.place(from)),
             "Look into each stitch: the next one of its column is right through it.",
             "Two legs that meet below are one stitch. The upside-down V lies between two columns.",
             down ? "Go straight down, stitch by stitch." : "Go straight up, stitch by stitch."});
    }
    const StitchPlace at = cloth.scene.places.of(from);
    const std::vector<LoopId>& row = cloth.scene.places.rows()[static_cast<std::size_t>(at.row)];
    const auto neighbor = [&](int by) {
        for (const LoopId l : row) {
            if (cloth.scene.places.of(l).column == at.column + by) return l;
        }
        return LoopId{};
    };
    // Columns are counted from the right edge of the right side. The end with more room is taken.
    const int step = at.column * 2 <= static_cast<int>(row.size()) ? 1 : -1;
    Question q;
    for (int i = 1; i <= kLong; ++i) {
        const LoopId l = neighbor(step * i);
        if (!l) break;
        q.targets.push_back({targetOf(l)});
    }
    if (q.targets.size() < 2) return cannotAsk("that row is too short to be followed");
    const bool left = (step > 0) == (cloth.seen() == Side::right);
    q.words =
        fmt::format("Follow the row of the lit stitch to the {}: point at {}, one after the other.",
                    left ? "left" : "right", many(static_cast<int>(q.targets.size()), "stitch", "stitches"));
    q.about = {litLoop(PageMarkKind::notice, from)};
    q.inOrder = true;
    for (const std::vector<PointTarget>& target : q.targets)
        temptRound(cloth, q, target.front().entry,
                   "That one stands in another row. Follow the yarn from stitch to stitch.",
                   "a row steps up from stitch to stitch");
    return finished(std::move(q), cloth, from,
                    {fmt::format("Begin at the lit stitch: {}.", cloth.place(from)),
                     "The yarn goes from one foot to the next, along the row.",
                     "Stitches of one row stand side by side, at one height.",
                     fmt::format("Go straight to the {}.", left ? "left" : "right")});
}

// ---- signs and the root

Asked askSigns(AskedCloth& cloth) {
    const std::vector<Evidence::Kind> kinds = signsToBeSeen(cloth.scene);
    if (kinds.size() < 2) return cannotAsk("there are not two signs there");
    Question q;
    q.targets.resize(2);
    const Fabric& f = cloth.fabric();
    const auto look = [&](const PointTarget& t) {
        const std::optional<Evidence> sign = signAt(cloth.scene, t);
        if (!sign) return;
        const bool face =
            sign->kind == Evidence::Kind::seenFromRight || sign->kind == Evidence::Kind::seenFromWrong;
        for (std::size_t i = 0; i < 2; ++i) {
            const bool faceWanted =
                kinds[i] == Evidence::Kind::seenFromRight || kinds[i] == Evidence::Kind::seenFromWrong;
            if (sign->kind == kinds[i] || (face && faceWanted)) q.targets[i].push_back(t);
        }
    };
    for (std::int32_t i = 0; i < f.entryCount(); ++i) {
        const EntryId e{i};
        if (!f.has(e)) continue;
        if (!f.isLoop(e)) {
            look({Thing::rung, e, PartAt::whole});
            continue;
        }
        look(targetOf(e));
        look({Thing::strand, e, PartAt::whole});
    }
    if (q.targets[0].empty() || q.targets[1].empty()) return cannotAsk("there are not two signs there");
    const bool faces = kinds[0] == Evidence::Kind::seenFromRight;
    q.words = faces ? "Point at the sign that something is not as meant, on both faces: turn the work over."
                    : "Point at two different signs that something is not as meant.";
    const LoopId root = q.targets[0].front().entry;
    temptRound(cloth, q, root, "That one is as it was meant.", "a mistake pulls at its neighbors");
    tempt(q, {Thing::strand, root, PartAt::whole}, "That bar is as it should be.", "the bar is a stitch");
    dropSigns(cloth, q);
    Question done =
        finished(std::move(q), cloth, root,
                 {"Look where one place is not like its neighbors.",
                  faces ? "What lies in front on one face lies behind on the other."
                        : "An empty loop is one sign. Bare strands above it are another.",
                  "One sign alone can deceive. Two that agree do not.",
                  fmt::format("One is {}{}.", cloth.place(root), faces ? ". See it from both faces" : "")});
    done.lights[3].clear();
    for (const std::vector<PointTarget>& targets : done.targets)
        done.lights[3].push_back(litTargets(PageMarkKind::next, {targets.front()}));
    return done;
}

Asked askRoot(AskedCloth& cloth) {
    const std::vector<PointTarget> all = roots(cloth.scene);
    if (all.empty()) return cannotAsk("nothing is wrong there");
    const LoopId root = all.front().entry;
    Question q;
    q.words = "Point at the place where it all began: the lowest row, and the stitch in it.";
    q.targets = {all};
    const Fabric& f = cloth.fabric();
    const StitchPlaces& places = cloth.scene.places;
    if (f.has(root) && f.isLoop(root)) {
        for (LinkId k = f[root].firstKid; k; k = f[k].nextInHost)
            tempt(q, targetOf(f[k].loop), "There it shows. It began lower down.",
                  "the row you notice is the row");
        const int column = places.of(root).column;
        for (const LoopId l : places.rows().back()) {
            if (places.of(l).column == column)
                tempt(q, targetOf(l), "That one is on the needle. It began lower down.",
                      "the row you notice is the row");
        }
        temptRound(cloth, q, root, "That one is as it was meant. The place is right beside it.",
                   "a mistake pulls at its neighbors");
        for (const PassId rung : f.passesOf(root))
            tempt(q, {Thing::rung, rung, PartAt::whole}, "That is a rung. It began under the lowest one.",
                  "the rung is the stitch");
    }
    dropSigns(cloth, q);
    return finished(std::move(q), cloth, root,
                    {"Look row by row, from the edge up, for the first place that is not like the others.",
                     "What is wrong above may only carry on what began below.",
                     "The root is the lowest place that is not as it was meant.",
                     fmt::format("It is {}.", cloth.place(root))});
}

}  // namespace loopmend
