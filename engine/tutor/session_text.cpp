// SPDX-License-Identifier: MIT
// A session as lines of text, and back.
#include <array>

#include <fmt/format.h>

#include "pattern/numbers.h"
#include "tutor/session.h"
#include "tutor/session_state.h"

namespace loopmend {

namespace {

constexpr std::array<std::string_view, 7> kThings = {"nothing", "loop", "rung", "strand",
                                                     "needle",  "tail", "ball"};
constexpr std::array<std::string_view, 5> kSpots = {"whole", "head", "right-leg", "left-leg", "foot"};
constexpr std::array<std::string_view, 3> kLooks = {"tug", "near", "slant"};

template <std::size_t n>
std::optional<std::size_t> indexOf(const std::array<std::string_view, n>& names, std::string_view name) {
    for (std::size_t i = 0; i < n; ++i) {
        if (names[i] == name) return i;
    }
    return std::nullopt;
}

/// Does what a line of the log says; false: it says nothing.
bool redoLine(Session& session, std::string_view line) {
    const std::vector<std::string_view> words = splitAtBlanks(line);
    if (words.empty()) return false;
    const std::string_view what = words[0];
    if (what == "point" && words.size() == 4) {
        const auto thing = indexOf(kThings, words[1]);
        const auto id = signedNumber(words[2]);
        const auto spot = indexOf(kSpots, words[3]);
        if (!thing || !id || !spot) return false;
        session.pointAt(
            {static_cast<PointTarget::Thing>(*thing), EntryId{*id}, static_cast<PointTarget::Spot>(*spot)});
        return true;
    }
    if (what == "choose" && words.size() == 2) {
        const auto index = signedNumber(words[1]);
        if (!index) return false;
        session.choose(*index);
        return true;
    }
    if (what == "look" && words.size() == 3) {
        const auto kind = indexOf(kLooks, words[1]);
        const auto id = signedNumber(words[2]);
        if (!kind || !id) return false;
        session.look(static_cast<LookKind>(*kind), LoopId{*id});
        return true;
    }
    if (what == "move" && words.size() > 1) {
        const tl::expected<Move, MoveFault> move = moveFrom(line.substr(5));
        if (!move) return false;
        (void)session.perform(*move);
        return true;
    }
    if (words.size() == 3 && what == "hint") {
        (void)session.hint();
        return true;
    }
    if (words.size() != 1) return false;
    if (what == "turn-over")
        session.turnOver();
    else if (what == "undo")
        (void)session.undo();
    else if (what == "redo")
        (void)session.redo();
    else if (what == "next")
        session.next();
    else if (what == "back")
        session.back();
    else
        return false;
    return true;
}

constexpr std::string_view kHead = "loopmend session 2";

}  // namespace

std::string pointLine(const PointTarget& t) {
    return fmt::format("point {} {} {}", kThings[static_cast<std::size_t>(t.thing)], t.entry.value,
                       kSpots[static_cast<std::size_t>(t.spot)]);
}

std::string lookLine(LookKind kind, LoopId at) {
    return fmt::format("look {} {}", kLooks[static_cast<std::size_t>(kind)], at.value);
}

std::string Session::text() const {
    const SessionWhole& s = *whole_;
    std::string text = fmt::format("{}\nlesson {}\nterms {}\nhands {}\n", kHead, s.lesson.id,
                                   s.terms == Terms::us ? "us" : "uk", s.mirrored ? "left" : "right");
    for (const std::string& line : s.log) text += line + "\n";
    return text;
}

tl::expected<Session, std::string> Session::from(const Lesson& lesson, std::string_view text) {
    std::vector<std::string_view> lines;
    while (!text.empty()) {
        const std::size_t end = std::min(text.find('\n'), text.size());
        lines.push_back(text.substr(0, end));
        text.remove_prefix(std::min(end + 1, text.size()));
    }
    const auto wrong = [](std::string words) { return tl::unexpected<std::string>(std::move(words)); };
    if (lines.size() < 4 || lines[0] != kHead)
        return wrong("this is no saved lesson, or one of another version of the program");
    if (lines[1] != "lesson " + lesson.id) return wrong("this was saved in another lesson");
    if (lines[2] != "terms us" && lines[2] != "terms uk")
        return wrong("line 3 should say whose words are used");
    if (lines[3] != "hands left" && lines[3] != "hands right")
        return wrong("line 4 should say whose hands they are");
    Session session(lesson, lines[2] == "terms uk" ? Terms::uk : Terms::us, lines[3] == "hands left");
    for (std::size_t i = 4; i < lines.size(); ++i) {
        if (!redoLine(session, lines[i])) return wrong(fmt::format("line {} means nothing here", i + 1));
    }
    // All of that was told when it was done.
    session.whole_->attempts.clear();
    return session;
}

}  // namespace loopmend
