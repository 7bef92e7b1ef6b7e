// SPDX-License-Identifier: MIT
// The pages of the eye: make it safe, look, count and find it.
#include <algorithm>
#include <cstdlib>

#include <fmt/format.h>

#include "fabric/hands.h"
#include "fault/draw.h"
#include "reading/symptoms.h"
#include "tutor/steps.h"

namespace loopmend {

namespace {

using Thing = PointTarget::Thing;

int rungsOver(const SessionState& s, LoopId loop) {
    return static_cast<int>(s.fabric().passesOf(loop).size());
}

// ---- make it safe

void showSafe(const SessionState& s, Page& page) {
    page.heading = "Make it safe";
    const std::vector<LoopId>& open = s.standing().open;
    if (open.empty() && s.standing().onHook) {
        page.paragraphs = {"The hook holds the stitch: nothing runs while it does.",
                           "Before you lay the hook down, put a pin through it."};
        return;
    }
    if (open.empty()) {
        page.paragraphs = {"Nothing can run from here. Now there is all the time in the world."};
        return;
    }
    const Fabric& f = s.fabric();
    const std::vector<PassId> rungs = f.passesOf(open.front());
    // A stitch that ran has let out its yarn; one that was left behind has not.
    const bool ran = !rungs.empty() && std::all_of(rungs.begin(), rungs.end(),
                                                   [&](PassId rung) { return isLongRung(f, rung); });
    std::string what = "One stitch is off the needle and stands open.";
    if (!rungs.empty()) what = "One stitch is off the needle and stands open, under bare strands.";
    if (ran) what = "One stitch came off the needle and ran down. The column of bare strands is a *ladder*.";
    if (open.size() > 1)
        what = fmt::format("{} stitches have come off the needle.",
                           capital(numberWord(static_cast<int>(open.size()))));
    page.paragraphs = {fmt::format("Here is {}.", whose(s)), std::move(what), "Nothing is lost. It waits."};
    page.task = ran ? "Put a pin through the open loop at the foot of the ladder."
                    : "Put a pin through the open loop.";
    page.caution = "Don't pull, and leave the needle where it is.";
}

bool isSafe(const SessionState& s) {
    return s.standing().open.empty();
}

void pointSafe(SessionState& s, const PointTarget& t) {
    const Scene scene = sceneNow(s);
    s.said = isRoot(scene, t) ? (s.standing().open.empty() ? "That is the one, and it is held."
                                                           : "That is the one. Now the pin.")
                              : aboutTarget(scene, t);
}

std::string hintSafe(const SessionState& s, int rung) {
    if (s.standing().open.empty()) return {};
    if (rung < 4) return rootHint(s, rung);
    return moveHint(s, 4);
}

// ---- look

std::string seenWords(const SessionState& s) {
    const Scene scene = sceneNow(s);
    const std::vector<PointTarget> all = roots(scene);
    if (all.empty()) return "Every stitch looks like its neighbors.";
    const LoopId root = all.front().entry;
    if (all.front().thing == Thing::strand) return "Between two stitches the strand lies bare.";
    if (isWound(scene)) return "The edge of the cast-on does not lie one way all along the needle.";
    if (wasOpen(scene, root)) {
        const int n = rungsOver(s, root);
        if (n == 0) return "One loop stands with nothing through it.";
        // What is drawn toward the right side is bare behind the loop there, and in front of it from behind.
        const Fabric& f = scene.view.fabric;
        const LinkId below = f[root].firstLink;
        const bool v = below && f[below].form.side == s.seen();
        // Not how many: that is asked later.
        return fmt::format("{} {} an open loop.",
                           n == 1 ? "A bare strand lies" : "Bare strands lie one above the other,",
                           v ? "behind" : "in front of");
    }
    for (const Symptom& symptom : symptoms(scene.view.fabric, scene.reading, s.terms)) {
        if (symptom.loop == root) return asSentence(symptom.words);
    }
    return fmt::format("One place shows {}.", lookWords(scene, root));
}

void showLook(const SessionState& s, Page& page) {
    page.heading = "Look";
    page.paragraphs = {"Cloth has two faces, and each tells half.", seenWords(s)};
    const StepMemory& m = s.here();
    page.task = !m.turned   ? "Turn it over and look at the other face."
                : !m.tugged ? "Now tug it gently sideways, and see what moves."
                            : "";
    page.caution = s.standing().open.empty() ? "" : "A loop is not pinned: be gentle.";
}

bool looked(const SessionState& s) {
    return s.here().turned && s.here().tugged;
}

void pointLook(SessionState& s, const PointTarget& t) {
    const Scene scene = sceneNow(s);
    s.said = t.thing == Thing::loop && scene.view.fabric.has(t.entry)
                 ? fmt::format("{}: {}.", capital(lookWords(scene, t.entry)),
                               placeWords(scene.view, scene.places, t.entry))
                 : aboutTarget(scene, t);
}

std::string hintLook(const SessionState& s, int rung) {
    switch (rung) {
        case 1:
        case 2: return rootHint(s, rung);
        case 3:
            return "What is a V on this face is a bump on the other. The other face may show it more "
                   "plainly.";
        default:
            return !s.here().turned ? "Turn the cloth over."
                                    : "Tug gently beside the place that looks different.";
    }
}

// ---- count and find it

/// Places that are to be pointed at: one, or one for each of several mistakes that lie apart.
std::vector<std::vector<PointTarget>> placesWanted(const SessionState& s, const Scene& scene) {
    std::vector<std::vector<PointTarget>> places;
    if (s.wanted.faults.size() > 1) places = rootPlaces(scene);
    if (places.size() < 2) {
        places.clear();
        std::vector<PointTarget> all = roots(scene);
        if (!all.empty()) places.push_back(std::move(all));
    }
    const std::size_t most = std::max<std::size_t>(1, s.wanted.faults.size());
    if (places.size() > most) places.resize(most);
    return places;
}

/// How far down it is: rungs of a ladder, or rows below the needle. None: nothing to be counted.
struct Depth {
    int n = 0;
    bool rungs = false;
};
std::optional<Depth> depthOf(const SessionState& s) {
    const Scene scene = sceneOfFault(s);
    if (placesWanted(s, scene).size() > 1 || isWound(scene)) return std::nullopt;
    const std::vector<PointTarget> all = roots(scene);
    if (all.empty()) return std::nullopt;
    const Fabric& f = scene.view.fabric;
    // Of several places, the one that she pointed at.
    PointTarget place = all.front();
    for (const Evidence& e : s.here().evidence) {
        if (isRoot(scene, e.target)) place = e.target;
    }
    const LoopId root = place.entry;
    if (place.thing == Thing::loop && wasOpen(scene, root)) {
        const int rungs = static_cast<int>(f.passesOf(root).size());
        if (rungs > 0) return Depth{rungs, true};
        return std::nullopt;
    }
    if (place.thing == Thing::loop && f.isLive(root)) return std::nullopt;  // on the needle itself
    return Depth{rowsDown(scene.places, root), false};
}

bool isOneOf(const std::vector<PointTarget>& place, const PointTarget& t) {
    return std::any_of(place.begin(), place.end(),
                       [&](const PointTarget& p) { return p.thing == t.thing && p.entry == t.entry; });
}

/// The first place that she has not pointed at.
std::vector<PointTarget> placeLeft(const SessionState& s, const Scene& scene) {
    for (std::vector<PointTarget>& place : placesWanted(s, scene)) {
        const bool seen = std::any_of(s.here().evidence.begin(), s.here().evidence.end(),
                                      [&](const Evidence& e) { return isOneOf(place, e.target); });
        if (!seen) return std::move(place);
    }
    return {};
}

bool asksPlace(const SessionState& s) {
    return !roots(sceneOfFault(s)).empty();
}

void showFind(const SessionState& s, Page& page) {
    page.heading = "Count and find it";
    const Scene then = sceneOfFault(s);
    const std::vector<PointTarget> all = roots(then);
    const bool open = !all.empty() && all.front().thing == Thing::loop && wasOpen(then, all.front().entry);
    const std::optional<Depth> depth = depthOf(s);
    if (!all.empty() && roots(sceneNow(s)).empty()) {
        page.paragraphs = {"There is nothing left to find: it is mended already."};
        if (depth && depth->rungs)
            page.paragraphs.push_back(fmt::format("It had run {}.", many(depth->n, "row", "rows")));
        return;
    }
    if (!s.here().pointed) {
        if (open) {
            page.paragraphs = {
                then.view.fabric.passesOf(all.front().entry).empty()
                    ? "One loop hangs free, off the needle, with nothing drawn through it."
                    : "Follow the bare strands down. Under the last one stands the loop that waits."};
            page.task = "Point at the open loop.";
        } else {
            // Said alike where nothing is wrong: the page does not tell.
            page.paragraphs = {"Go up the columns and along the rows, on both faces.",
                               "The lowest place that is not like the others is where it began."};
            page.task = "Point at it, or say that nothing is wrong.";
        }
        const std::size_t places = placesWanted(s, then).size();
        if (places > 1) {
            const std::size_t seen = s.here().evidence.size();
            page.task = seen > 0 ? "Point at the other place, too."
                                 : fmt::format("Point at {} places where something began.",
                                               numberWord(static_cast<int>(places)));
        }
        return;
    }
    if (isWound(then)) {
        page.paragraphs = {"The edge winds about the needle, and so does the whole ring that hangs on it."};
        return;
    }
    page.paragraphs = {
        depth && depth->rungs ? std::string("Each bare strand is a *rung*: the yarn of one stitch, one row.")
        : topWords(s.fabric()) == "needle"
            ? std::string("Count down from the needle. The loops on the needle are not a row yet.")
            : std::string("Count down from the chain at the edge. It is not one of the rows.")};
    if (depth)
        page.task = depth->rungs ? std::string("How many rungs are there?")
                                 : fmt::format("How many rows below the {} is it?", topWords(s.fabric()));
}

std::vector<Option> findOptions(const SessionState& s) {
    std::vector<Option> options;
    const std::optional<Depth> depth = depthOf(s);
    if (!s.here().pointed) {
        if (s.startStanding.open.empty())
            options = {{kNothingWrong, "Nothing is wrong here"}, {kCannotTell, "I can't tell yet"}};
        return options;
    }
    if (!depth) return options;
    // The right one stands first, in the middle or last, as the seed has it.
    const int first = std::max(depth->rungs ? 1 : 0, depth->n - Seeded(s.wanted.yarn.seed + 2).below(3));
    for (int n = first; n <= first + 2; ++n)
        options.push_back({fmt::format("{}", n), n == 0 ? "None" : capital(numberWord(n))});
    options.push_back({kCannotTell, "I can't tell yet"});
    return options;
}

Answer answerFind(const SessionState& s, const std::string& key) {
    const std::optional<Depth> depth = depthOf(s);
    if (key == kNothingWrong) {
        if (asksPlace(s))
            return {ChoiceState::notThis, "It may look so from here. One place is not like its neighbors."};
        if (!s.sawBothFaces())
            return {ChoiceState::notThis,
                    "Perhaps. One face tells half: turn it over first, and look again."};
        return {ChoiceState::right, "So it is: every stitch is as it was meant. Looking was worth it."};
    }
    if (key == kCannotTell)
        return {ChoiceState::notThis,
                asksPlace(s) ? "That is honest. Come near, and touch one after the other as you count."
                             : "That is honest. Go over it once more, row by row."};
    if (!depth) return {ChoiceState::notThis, ""};
    if (key == fmt::format("{}", depth->n))
        return {ChoiceState::right, depth->rungs
                                        ? fmt::format("Yes, {}: so many stitches are to be made again.",
                                                      many(depth->n, "rung", "rungs"))
                                        : fmt::format("Yes, {} down.", many(depth->n, "row", "rows"))};
    const bool over = std::atoi(key.c_str()) > depth->n;
    return {
        ChoiceState::notThis,
        over ? "That is more than lie there. Perhaps the needle was counted too?"
             : "There are more. Perhaps the one right at the needle was left out, or the one at the foot?"};
}

bool found(const SessionState& s) {
    if (!asksPlace(s)) {
        const std::vector<std::string>& chosen = s.here().chosen;
        return s.sawBothFaces() && std::find(chosen.begin(), chosen.end(), kNothingWrong) != chosen.end();
    }
    if (s.mended) return true;
    return s.here().pointed && (s.here().answered || !depthOf(s));
}

std::string placeFound(const Scene& scene, const PointTarget& t) {
    return isWound(scene) ? "the edge of the cast-on" : acrossWords(scene.view, scene.places, t.entry);
}

void pointFind(SessionState& s, const PointTarget& t) {
    const Scene scene = sceneNow(s);
    const std::vector<std::vector<PointTarget>> places = placesWanted(s, scene);
    const auto place = std::find_if(places.begin(), places.end(),
                                    [&](const std::vector<PointTarget>& p) { return isOneOf(p, t); });
    StepMemory& m = s.here();
    if (place == places.end()) {
        if (!m.pointed && t.thing != Thing::nothing && !s.mended) {
            ++m.misses;
            if (m.first.empty()) m.first = "elsewhere";
        }
        s.said = aboutTarget(scene, t);
        if (places.empty() && s.startStanding.asMeant) s.said += " It is like its neighbors.";
        return;
    }
    if (m.first.empty()) m.first = "there";
    const bool known = std::any_of(m.evidence.begin(), m.evidence.end(),
                                   [&](const Evidence& e) { return isOneOf(*place, e.target); });
    if (!known) {
        Evidence evidence;
        if (std::optional<Evidence> sign = signAt(scene, t)) evidence = std::move(*sign);
        evidence.target = t;
        // How far down is asked next.
        evidence.words = capital(placeFound(scene, t));
        m.evidence.push_back(std::move(evidence));
    }
    const bool all = placeLeft(s, scene).empty();
    m.pointed = m.pointed || all;
    s.said = fmt::format("That is {}: {}.", all ? "the place" : "one of them", placeFound(scene, t));
}

std::string hintFind(const SessionState& s, int rung) {
    const std::optional<Depth> depth = depthOf(s);
    if (!s.here().pointed) {
        if (!asksPlace(s) && !s.sawBothFaces() && rung >= 3)
            return rung == 3 ? "One face tells half." : "Turn it over, and look again. Then choose.";
        const std::vector<PointTarget> left = placeLeft(s, sceneNow(s));
        return left.empty() ? rootHint(s, rung) : rootHint(s, rung, left);
    }
    if (!depth) return {};
    switch (rung) {
        case 1:
            return depth->rungs ? "Look between the open loop and the needle."
                                : "Look up the column from that place to the needle.";
        case 2:
            return depth->rungs ? "Each rung lies straight across the gap."
                                : "Each V or bump in the column is one row.";
        case 3:
            return depth->rungs ? "One row came out for each rung."
                                : "A loop on the needle is not knitted yet, so it is not counted.";
        default: return fmt::format("Count {}.", numberWord(depth->n));
    }
}

void lightFind(const SessionState& s, int hints, std::vector<PageMark>& marks) {
    if (!s.here().pointed) {
        const std::vector<PointTarget> left = placeLeft(s, sceneNow(s));
        if (!left.empty()) lightPlace(s, hints, left, marks);
        return;
    }
    const std::vector<PointTarget> all = roots(sceneNow(s));
    if (hints < 2 || all.empty()) return;
    PageMark notice;
    notice.kind = PageMarkKind::notice;
    notice.rungs = s.fabric().passesOf(all.front().entry);
    if (!notice.rungs.empty()) marks.push_back(std::move(notice));
}

void lightSafe(const SessionState& s, int hints, std::vector<PageMark>& marks) {
    if (!s.standing().open.empty()) lightRoot(s, hints, marks);
}

void lightLook(const SessionState& s, int hints, std::vector<PageMark>& marks) {
    lightRoot(s, std::min(hints, 2), marks);
}

}  // namespace

StepRules makeSafeRules() {
    StepRules rules{showSafe, isSafe};
    rules.point = pointSafe;
    rules.hint = hintSafe;
    rules.light = lightSafe;
    return rules;
}

StepRules lookRules() {
    StepRules rules{showLook, looked};
    rules.point = pointLook;
    rules.hint = hintLook;
    rules.light = lightLook;
    return rules;
}

StepRules findRules() {
    StepRules rules{showFind, found};
    rules.point = pointFind;
    rules.options = findOptions;
    rules.answer = answerFind;
    rules.hint = hintFind;
    rules.light = lightFind;
    return rules;
}

}  // namespace loopmend
