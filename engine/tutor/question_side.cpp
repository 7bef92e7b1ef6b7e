// SPDX-License-Identifier: MIT
// Which side faces her; and which way of mending.
#include <algorithm>
#include <utility>

#include <fmt/format.h>

#include "tutor/question_cloth.h"
#include "tutor/ways.h"

namespace loopmend {

namespace {

/// Whether the tail of the cast-on hangs at the right edge, as the right side shows it; none: it cannot be
/// told.
std::optional<bool> tailAtRight(const AskedCloth& cloth) {
    const Fabric& f = cloth.fabric();
    const std::vector<std::vector<LoopId>>& rows = cloth.scene.places.rows();
    if (f.yarnCount() < 1 || rows.empty() || rows.front().size() < 3) return std::nullopt;
    EntryId e = f[YarnId{0}].first;
    while (e && !f.isLoop(e)) e = f[e].next;
    // The hitches of a long-tail cast-on lie below its loops.
    for (int up = 0; e && up < 2; ++up) {
        const auto& row = rows.front();
        if (std::find(row.begin(), row.end(), e) != row.end()) {
            const int column = cloth.scene.places.of(e).column;
            if (column == 1) return true;
            if (column == static_cast<int>(row.size())) return false;
            return std::nullopt;
        }
        const LinkId kid = f[e].firstKid;
        if (!kid) break;
        e = f[kid].loop;
    }
    return std::nullopt;
}

std::string asAnswer(std::string words) {
    if (!words.empty() && words.back() == '.') words.pop_back();
    return words;
}

}  // namespace

Asked askSide(AskedCloth& cloth) {
    if (cloth.swatch.script().round)
        return cannotAsk("in the round the right side always faces the knitter: there is nothing to ask");
    const std::optional<bool> tail = tailAtRight(cloth);
    if (!tail) return cannotAsk("the tail of the cast-on is not there to tell");
    const auto side = [](Side s) { return s == Side::right ? "right" : "wrong"; };
    const Side seen = cloth.seen();
    const auto edge = [&](Side from) { return *tail == (from == Side::right) ? "right" : "left"; };
    int bumps = 0;
    int all = 0;
    for (const ReadRow& row : cloth.scene.reading.rows) {
        for (const Cell& cell : row.cells) {
            ++all;
            bumps += cell.symbol.face == Face::bump ? 1 : 0;
        }
    }
    const auto both = [&](std::string key, Side claim, const std::string& because) {
        return fixed(std::move(key), fmt::format("The {} side: {}", side(claim), because));
    };
    Answers answers;
    answers.right(both("tail", seen, fmt::format("the cast-on tail hangs at the lower {}", edge(seen))),
                  "Yes. The tail stays where it is, and tells for good.");
    const char* why = "Look for the tail of the cast-on: on this piece it tells which side is which.";
    answers.wrong(both("other-tail", opposite(seen),
                       fmt::format("the cast-on tail hangs at the lower {}", edge(opposite(seen)))),
                  why, "the tail is where it always is");
    // What tempts: a reason that holds for other cloth.
    if (2 * bumps >= all && seen == Side::right)
        answers.wrong(both("bumps", Side::wrong, "bumps are what a wrong side shows"), why,
                      "the side with bumps is the wrong side");
    if (2 * bumps < all && seen == Side::wrong)
        answers.wrong(both("bumps", Side::right, "Vs are what a right side shows"), why,
                      "the side with Vs is the right side");
    answers.wrong(both("last-row", opposite(seen), "the last row was knitted with that side in front"), why,
                  "an odd row is always a right-side row");
    answers.wrong(fixed("alike", "Nobody can tell: both faces are alike"), why,
                  "without a marker nobody can tell");
    Question q;
    q.words = "Which side of the work faces you, and what tells?";
    q.answers = answers.mixed(cloth.dice);
    const LoopId at = cloth.scene.places.rows().front().front();
    return finished(
        std::move(q), cloth, at,
        {"Look along the cast-on edge.", "One tail of yarn hangs from it, at one end.",
         fmt::format("On this piece, with the right side in front, the tail hangs at the lower {}.",
                     edge(Side::right)),
         fmt::format("It is the {} side.", side(seen))});
}

Asked askPlan(AskedCloth& cloth) {
    const Standing& standing = cloth.scene.standing;
    Answers answers;
    Question q;
    q.words = "Which way would you put it right, and why?";
    const LoopId root = roots(cloth.scene).empty() ? LoopId{} : roots(cloth.scene).front().entry;
    if (standing.asMeant) {
        q.words = "Would you mend anything here, and how?";
        answers.right(fixed("nothing-wrong", "Nothing: every stitch is as it was meant"),
                      "So it is. Looking was worth it.");
        const char* why = "Look once more, on both faces: no place differs from its neighbors.";
        answers.wrong(fixed("column", "Let one column run down, and hook it up again"), why, "wrong_kp");
        answers.wrong(fixed("rip", "Take back the last row, and knit it again"), why, "accidental_yo");
        answers.wrong(fixed("one-more", "Make one stitch, so that the count comes out"), why,
                      "an uneven look is a wrong count");
        q.answers = answers.mixed(cloth.dice);
        return finished(std::move(q), cloth, {},
                        {"Look at both faces, row by row.", "All stitches look like their neighbors.",
                         "What is sound is not mended.", "Nothing is to be mended."});
    }
    const Plan* best = standing.best();
    if (best == nullptr) return cannotAsk("no way of mending it is known");
    const auto because = [](PlanFamily family) {
        switch (family) {
            case PlanFamily::column: return "only that column comes undone";
            case PlanFamily::tink: return "only the newest stitches come undone";
            case PlanFamily::rip:
                return "everything above the place comes undone, and nothing is left to see";
            default: return "";
        }
    };
    const auto way = [&](const Plan& plan) {
        return fixed(
            std::string(nameOf(plan.family)),
            fmt::format("{}: {}", asAnswer(wayWords(cloth.swatch, cloth.scene, plan)), because(plan.family)));
    };
    answers.right(way(*best), "Yes. The fewer stitches come undone, the fewer have to be made again.");
    for (const Plan& plan : standing.plans) {
        if (&plan != best)
            answers.wrong(
                way(plan), "That works too, but more comes undone, or it leaves a trace.",
                plan.family == PlanFamily::column ? "wrong_kp" : "the surest way is to take it all back");
    }
    const int off =
        static_cast<int>(standing.pairing.missing.size()) - static_cast<int>(standing.pairing.extra.size());
    const bool open = somethingCameOut(cloth.scene);
    if (open)
        answers.wrong(fixed("sew", "Close the gap with a needle and thread: it is quicker"),
                      "The loop stays open behind the thread. One day it runs.", "a gap is only a gap");
    if (off > 0)
        answers.wrong(fixed("one-more", "Make one stitch anywhere in the next row: the count is right again"),
                      "Then the count is right, and the place is still wrong.", "missed_inc");
    if (off < 0)
        answers.wrong(
            fixed("one-less", "Knit two together anywhere in the next row: the count is right again"),
            "Then the count is right, and the place is still wrong.", "missed_dec");
    answers.wrong(fixed("all", "Take back the whole piece, to be on the safe side"),
                  "All that is sound would be lost with it.", "one mistake, all lost");
    answers.wrong(fixed("on", "Knit on: wool forgives"),
                  "It lies deeper with every row, and more has to come undone for it.", "it mends itself");
    q.answers = answers.mixed(cloth.dice);
    return finished(std::move(q), cloth, root,
                    {"Look at the place, and at what stands above it.",
                     best->family == PlanFamily::column ? "Only one column is touched by it."
                                                        : "More than one column is touched by it.",
                     "The fewer stitches come undone, the fewer have to be made again.",
                     wayWords(cloth.swatch, cloth.scene, *best)});
}

}  // namespace loopmend
