// SPDX-License-Identifier: MIT
// Questions about stitches on the needle, and about what runs.
#include <algorithm>
#include <utility>

#include <fmt/format.h>

#include "fabric/hands.h"
#include "fault/needle.h"
#include "repair/workplace.h"
#include "tutor/question_cloth.h"

namespace loopmend {

namespace {

std::vector<LoopId> onNeedle(const AskedCloth& cloth) {
    std::vector<LoopId> loops;
    for (const LiveLoop& live : cloth.reading(Side::right).needle) loops.push_back(live.loop);
    return loops;
}

Question about(AskedCloth& cloth, LoopId loop, std::string words, Answers& answers) {
    Question q;
    q.words = std::move(words);
    q.about = {litLoop(PageMarkKind::notice, loop)};
    q.answers = answers.mixed(cloth.dice);
    return q;
}

/// The columns of a copy come down: how far, and whether they fork.
struct Fallen {
    int stitches = 0;  ///< that came out
    int rows = 0;
    bool forks = false;
    bool toEdge = false;  ///< as far as the cast-on
};
Fallen letFall(const Fabric& cloth, LoopId loop, const StitchPlaces& places) {
    Fabric copy = cloth;
    std::vector<bool> there(static_cast<std::size_t>(copy.entryCount()), false);
    for (std::int32_t i = 0; i < copy.entryCount(); ++i)
        there[static_cast<std::size_t>(i)] = copy.has(EntryId{i}) && copy.isLoop(EntryId{i});
    Fallen fallen;
    const std::vector<LoopId> openBefore = openLoops(copy);
    if (!copy.letGo(loop, copy.needle(), true)) return fallen;
    fallen.stitches = letRunFrom(copy, loop);
    int lowest = places.of(loop).row;
    for (std::int32_t i = 0; i < cloth.entryCount(); ++i) {
        const LoopId l{i};
        if (!there[static_cast<std::size_t>(i)] || (copy.has(l) && copy.isLoop(l) && !copy.isNothing(l)))
            continue;
        lowest = std::min(lowest, places.of(l).row);
    }
    // What lies under the first row is the edge.
    fallen.rows = fallen.stitches == 0 ? 0 : places.of(loop).row - std::max(lowest, 1) + 1;
    fallen.toEdge = lowest <= 1;
    int open = 0;
    for (std::int32_t i = 0; i < copy.entryCount(); ++i) {
        const LoopId l{i};
        if (!copy.has(l) || !copy.isLoop(l) || !copy.isLive(l) || copy.isHeld(l) || copy.isNothing(l))
            continue;
        if (std::find(openBefore.begin(), openBefore.end(), l) != openBefore.end()) continue;
        ++open;
    }
    fallen.forks = open > 1;
    return fallen;
}

std::string fallWords(const Fallen& fallen) {
    if (fallen.rows <= 1) return "Only that one loop comes out; nothing below it runs";
    const std::string rows = many(fallen.rows, "row", "rows");
    if (fallen.forks) return fmt::format("Its column runs down {}, and forks where two were one", rows);
    return fallen.toEdge ? fmt::format("Its column runs down {}, to the cast-on edge", rows)
                         : fmt::format("Its column runs down {}, and stops there", rows);
}

}  // namespace

Asked askNeck(AskedCloth& cloth) {
    std::vector<LoopId> loops;
    for (const LiveLoop& live : cloth.reading(Side::right).needle) {
        if (live.neck != Neck::none) loops.push_back(live.loop);
    }
    const LoopId loop = cloth.choose(loops);
    if (!loop) return cannotAsk("no stitch on the needle has a neck to be looked at");
    bool bar = false;
    for (const LiveLoop& live : cloth.scene.reading.needle)
        bar = bar || (live.loop == loop && live.neck == Neck::bar);
    // Key: what it is on the right side, whichever side is looked at.
    const bool barOnRight = bar == (cloth.seen() == Side::right);
    const std::string knit = "A knit stitch: nothing lies across its neck";
    const std::string purl = "A purl stitch: a bar lies across its neck";
    const Reply smooth{barOnRight == bar ? "knit" : "purl", knit, purl};
    const Reply barred{barOnRight == bar ? "purl" : "knit", purl, knit};
    Answers answers;
    answers.right(bar ? barred : smooth, "Yes: its neck tells.");
    answers.wrong(bar ? smooth : barred, "Look below the needle: is there a bar right across, or not?",
                  "wrong_kp");
    answers.wrong(fixed("nobody", "Nobody can tell while it is on the needle"),
                  "The loop itself looks the same. But its neck, just below the needle, tells.",
                  "the loop itself is knit or purl");
    answers.wrong(fixed("yarn-over", "A yarn over: it has no neck"),
                  "A yarn over only lies across the needle. This one comes out of a stitch below.",
                  "accidental_yo");
    return finished(
        about(cloth, loop,
              fmt::format("Knit or purl, as it faces you? Look at the lit stitch: {}.", cloth.place(loop)),
              answers),
        cloth, loop,
        {fmt::format("Look at the lit stitch: {}.", cloth.place(loop)),
         "Look at its neck: the place just below the needle.",
         "A purl leaves the head of the stitch below in front, like a scarf round a neck.",
         fmt::format("The answer: {}.", bar ? purl : knit)});
}

Asked askMount(AskedCloth& cloth) {
    const LoopId loop = cloth.choose(onNeedle(cloth));
    if (!loop) return cannotAsk("there is no stitch on the needle");
    const Fabric& f = cloth.fabric();
    const HeldId held = f.heldOn(loop, f.needle());
    if (!held) return cannotAsk("there is no stitch on the needle");
    const bool rightLeg = f[held].state.mount == Mount::western;
    // The leg that leads lies nearer to the tip: a left-handed knitter's is the left one.
    const bool leads = rightLeg != cloth.scene.view.mirrored;
    const auto say = [](bool right, bool open) {
        return fmt::format("The {} leg. Worked through it, the feet {}", right ? "right" : "left",
                           open ? "stay open" : "cross");
    };
    const char* why = "See which leg lies on your side of the needle.";
    Answers answers;
    answers.right(fixed(rightLeg ? "right-leg" : "left-leg", say(rightLeg, leads)),
                  leads ? "Yes. That leg leads: it is the nearer one to the tip."
                        : "Yes. The other leg leads: work through that one, or turn the stitch.");
    answers.wrong(fixed(rightLeg ? "left-leg" : "right-leg", say(!rightLeg, !leads)), why, "twist_pickup");
    answers.wrong(fixed("mixed", say(rightLeg, !leads)),
                  "It is that leg. But what is worked through the leg nearer to the tip stays open.",
                  "twist_tbl");
    answers.wrong(fixed("always-wrong", fmt::format("The {} leg, and that is a mistake in any case",
                                                    cloth.scene.view.mirrored ? "right" : "left")),
                  "A stitch may sit either way. It only matters which leg is worked through.",
                  "that leg in front is always wrong");
    return finished(
        about(cloth, loop,
              fmt::format("Which leg of the lit stitch lies in front of the needle? It is {}.",
                          cloth.place(loop)),
              answers),
        cloth, loop,
        {fmt::format("Look at the lit stitch: {}.", cloth.place(loop)),
         "One leg passes in front of the needle, the other behind it.",
         "Worked through the leg nearer to the tip, the feet stay open. Through the other, they cross.",
         fmt::format("It is the {} leg.", rightLeg ? "right" : "left")});
}

Asked askRun(AskedCloth& cloth) {
    const Fabric& f = cloth.fabric();
    std::vector<LoopId> open;
    std::vector<LoopId> held;
    std::vector<LoopId> bound;
    for (std::int32_t i = 0; i < f.entryCount(); ++i) {
        const LoopId l{i};
        if (!f.has(l) || !f.isLoop(l) || f.isNothing(l) || f[l].flags.anchored != 0) continue;
        if (cloth.cell(l) == nullptr || cloth.cell(l)->row < 1) continue;
        (f.isLoose(l) ? open : f.isLive(l) ? held : bound).push_back(l);
    }
    std::vector<LoopId> all;
    if (cloth.wanted.row > 0) {
        for (const auto* list : {&open, &held, &bound}) all.insert(all.end(), list->begin(), list->end());
    } else {
        const int throwOf = cloth.dice.below(3);
        all = !open.empty() && throwOf != 2 ? open : throwOf == 1 && !held.empty() ? held : bound;
    }
    if (cloth.wanted.of == "open") all = open;
    if (cloth.wanted.of == "held") all = held;
    if (cloth.wanted.of == "bound") all = bound;
    const LoopId loop = cloth.choose(all);
    if (!loop) return cannotAsk("there is no such stitch there");
    const bool pin = bool(pinOf(f, loop));
    const int state = f.isLoose(loop) ? 0 : f.isLive(loop) ? 1 : 2;
    const Reply replies[] = {
        fixed("open", "It can run: nothing goes through it, and nothing holds it"),
        fixed("held", pin ? "It is safe: the pin holds it" : "It is safe: it sits on the needle"),
        fixed("bound", "It is safe: another stitch is drawn through it")};
    const char* whys[] = {"If nothing were drawn through it, it would stand open like a sling.",
                          "Look whether the needle, or a pin, goes through it.",
                          "Look into it: is a stitch drawn through, or is it empty?"};
    const std::string rights[] = {"Yes. Pin it before anything else.",
                                  "Yes. It waits there as long as it likes.",
                                  "Yes. What is held by a stitch above cannot run."};
    const std::string for_[] = {state == 2 ? "drop_left_behind" : "drop_live",
                                "all that is near the needle is on it", "what lies in the cloth never runs"};
    Answers answers;
    answers.right(replies[state], rights[state]);
    for (int i = 0; i < 3; ++i) {
        if (i != state) answers.wrong(replies[i], whys[state], for_[i]);
    }
    answers.wrong(fixed("hole", "It will run: there is a gap beside it"),
                  "A gap alone does no harm. Only an empty loop can run.", "any hole will run");
    return finished(
        about(cloth, loop, fmt::format("Will the lit stitch run? It is {}.", cloth.place(loop)), answers),
        cloth, loop,
        {fmt::format("Look at the lit stitch: {}.", cloth.place(loop)),
         "Look for three things: a stitch through it, the needle, a pin.",
         "A loop runs only if nothing is drawn through it and nothing holds it.",
         fmt::format("The answer: {}.", replies[state].text)});
}

Asked askDrop(AskedCloth& cloth) {
    const LoopId loop = cloth.choose(onNeedle(cloth));
    if (!loop) return cannotAsk("there is no stitch on the needle to fall");
    const Fallen truth = letFall(cloth.fabric(), loop, cloth.scene.places);
    const std::string key = fmt::format("runs-{}{}", truth.rows, truth.forks ? "-forks" : "");
    Answers answers;
    answers.right(fixed(key, fallWords(truth)),
                  "Yes. Each stitch of the column hangs by the one above it, and by nothing else.");
    const char* why = "Each stitch hangs by the one above it, and by nothing else. Follow the column down.";
    if (truth.rows > 1)
        answers.wrong(fixed("one", "Only that one loop comes out; the row below holds it"), why,
                      "the row below holds it");
    answers.wrong(fixed("beside", "It runs, and the stitches on both sides run with it"), why,
                  "a run spreads to its neighbors");
    answers.wrong(fixed("row", "The whole row comes undone"), why, "one stitch lost, all lost");
    if (truth.rows <= 1)
        answers.wrong(fixed("deep", "Its column runs down to the cast-on edge"),
                      "Nothing but a strand, or the edge, is under it.", "drop_live");
    return finished(
        about(cloth, loop,
              fmt::format("The lit stitch, {}, falls off, and the cloth is tugged. What happens?",
                          cloth.place(loop)),
              answers),
        cloth, loop,
        {fmt::format("Look at the lit stitch: {}.", cloth.place(loop)), "Follow its column down, row by row.",
         "A stitch is held by what is drawn through it. With that gone, it comes out too.",
         fmt::format("The answer: {}.", fallWords(truth))});
}

Asked askRung(AskedCloth& cloth) {
    const Fabric& f = cloth.fabric();
    std::vector<PassId> rungs;
    for (std::int32_t i = 0; i < f.entryCount(); ++i) {
        const PassId p{i};
        if (f.has(p) && !f.isLoop(p) && f.passed(p) && f.isLive(f.passed(p)) &&
            f[f.passed(p)].flags.anchored == 0 && !onNeedle(f, f.passed(p)))
            rungs.push_back(p);
    }
    const auto isLong = [&](PassId p) { return isLongRung(f, p); };
    if (cloth.wanted.of == "long")
        rungs.erase(std::remove_if(rungs.begin(), rungs.end(), [&](PassId p) { return !isLong(p); }),
                    rungs.end());
    if (cloth.wanted.of == "short")
        rungs.erase(std::remove_if(rungs.begin(), rungs.end(), isLong), rungs.end());
    if (rungs.empty()) return cannotAsk("there is no such rung there");
    const PassId rung = rungs[static_cast<std::size_t>(cloth.dice.below(static_cast<int>(rungs.size())))];
    const LoopId foot = f.passed(rung);
    const bool isLongOne = isLong(rung);
    const Reply longOne =
        fixed("long", "A long rung: a stitch came out of it, and it can be hooked with ease");
    const Reply shortOne =
        fixed("short", "A short rung: no stitch ever stood there, and hooked it will be tight");
    Answers answers;
    answers.right(isLongOne ? longOne : shortOne,
                  isLongOne ? "Yes: it is slack." : "Yes: it goes straight across, with nothing to spare.");
    answers.wrong(isLongOne ? shortOne : longOne, "Compare it with the bars between other stitches.",
                  isLongOne ? "drop_left_behind" : "ladder_stockinette");
    answers.wrong(fixed("bar", "No rung: the bar between two stitches, as everywhere"),
                  "Under it stands an open loop. That makes it a rung.", "the bar is a stitch");
    answers.wrong(fixed("any", "Any rung: they are all alike"),
                  "They are not. A stitch that came out left its yarn there; one left behind did not.",
                  "any rung can be hooked");
    Question q;
    q.words = fmt::format("Is the lit strand a long rung or a short one? It lies above the open loop {}.",
                          cloth.place(foot));
    PageMark lit;
    lit.kind = PageMarkKind::notice;
    lit.rungs = {rung};
    q.about = {std::move(lit)};
    q.answers = answers.mixed(cloth.dice);
    return finished(
        std::move(q), cloth, foot,
        {"Look at the lit strand, and at the ones above and below it.",
         "Is it slack, or does it go straight across?",
         "A stitch that ran lets out its yarn. A stitch that was left behind has none to let out.",
         isLongOne ? "It is a long one." : "It is a short one."});
}

}  // namespace loopmend
