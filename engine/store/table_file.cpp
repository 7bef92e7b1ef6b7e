// SPDX-License-Identifier: MIT
#include "store/table_file.h"

#include <algorithm>
#include <limits>
#include <optional>
#include <set>

#include <fmt/format.h>

#include "store/lines.h"

namespace loopmend {

namespace {

constexpr TextFormat kFormat{"table", kTableFileVersion, "a file of Loopmend's table",
                             "name a file that was saved from the table", "take another copy of it"};

std::string_view sideWord(Side side) {
    return side == Side::right ? "right" : "wrong";
}

std::optional<Side> sideFrom(std::string_view word) {
    const std::optional<bool> right = oneOfTwo(word, "right", "wrong");
    if (!right) return std::nullopt;
    return *right ? Side::right : Side::wrong;
}

/// Puts a value where it belongs; false: it made no sense.
template <class Value, class Place>
bool put(std::optional<Value> value, Place& place) {
    if (!value) return false;
    place = static_cast<Place>(std::move(*value));
    return true;
}

bool readCastOn(std::string_view value, TableNotes& notes) {
    const std::size_t blank = std::min(value.find(' '), value.size());
    if (blank == value.size() || !put(castOnFrom(value.substr(0, blank)), notes.castOn)) return false;
    return put(wholeNumber(value.substr(blank + 1)), notes.stitches);
}

bool readLengths(std::string_view value, TableNotes& notes) {
    const std::size_t slash = value.find('/');
    if (slash == std::string_view::npos) return false;
    return put(wholeNumber(value.substr(0, slash)), notes.loopUm) &&
           put(wholeNumber(value.substr(slash + 1)), notes.strandUm);
}

bool readFault(std::string_view value, TableNotes& notes) {
    auto place = parsePlace(value);
    if (!place) return false;
    notes.faults.push_back(std::move(*place));
    return true;
}

/// `A0 B1 C-`: a color and the yarn's number; `-`: nothing is worked of it yet.
std::optional<std::vector<BallAtHand>> ballsFrom(std::string_view value) {
    std::vector<BallAtHand> balls;
    while (!value.empty()) {
        const std::string_view word = value.substr(0, value.find(' '));
        value.remove_prefix(std::min(value.size(), word.size() + 1));
        if (word.size() < 2) return std::nullopt;
        BallAtHand ball{word.front(), -1};
        if (word.substr(1) != "-" && !put(wholeNumber(word.substr(1)), ball.yarn)) return std::nullopt;
        balls.push_back(ball);
    }
    return balls;
}

std::string ballsText(const std::vector<BallAtHand>& balls) {
    std::string words;
    for (const BallAtHand& ball : balls) {
        words += fmt::format("{}{}{}", words.empty() ? "" : " ", ball.color,
                             ball.yarn < 0 ? "-" : std::to_string(ball.yarn));
    }
    return words;
}

std::optional<std::uint32_t> colorFrom(std::string_view value) {
    const std::optional<std::uint64_t> n = longNumber(value);
    if (!n || *n > std::numeric_limits<std::uint32_t>::max()) return std::nullopt;
    return static_cast<std::uint32_t>(*n);
}

/// Whether the value makes sense for this note; a note that is not known always does.
bool readNote(const NamedValue& line, TableNotes& notes, Stance& stance) {
    const std::string_view name = line.name;
    const std::string_view value = line.value;
    if (name == "pattern") return put(unescapedValue(value), notes.pattern);
    if (name == "cast-on") return readCastOn(value, notes);
    if (name == "lengths") return readLengths(value, notes);
    if (name == "rows") return put(wholeNumber(value), notes.rows);
    if (name == "fault") return readFault(value, notes);
    if (name == "after") return put(afterFrom(value), notes.after);
    if (name == "seed") return put(longNumber(value), notes.seed);
    if (name == "tex") return put(decimalFrom(value), notes.tex);
    if (name == "needle") return put(decimalFrom(value), notes.needleMm);
    if (name == "color") return put(colorFrom(value), notes.color);
    if (name == "session") return put(unescapedValue(value), notes.session);
    if (name == "facing") return put(sideFrom(value), stance.facing);
    if (name == "round") return put(oneOfTwo(value), stance.round);
    if (name == "habit") return put(habitFrom(value), stance.habit);
    if (name == "mirrored") return put(oneOfTwo(value), stance.mirrored);
    if (name == "yarn") return put(wholeNumber(value), stance.yarn);
    if (name == "balls") return put(ballsFrom(value), stance.balls);
    if (name == "floats") return put(sideFrom(value), stance.floats);
    if (name == "did" || name == "back" || name == "measure" || name == "check") return false;
    notes.unknown.emplace_back(name, value);
    return true;
}

struct Body {
    TableNotes notes;
    WorkStart start;
    std::vector<Move> done;
    std::vector<Move> undone;
};

/// Reads all lines; the reason to refuse, or nothing.
std::string refusedBody(std::string_view lines, Body& body) {
    std::set<std::string_view> seen;
    bool fabric = false;
    while (!lines.empty() && !fabric) {
        const NamedValue line = takeNamedValue(lines);
        if (line.name == "knot") {
            const NamedValue second = takeNamedValue(lines);
            if (second.name != "measure") break;
            body.start.lines = {std::string(line.value), std::string(second.value)};
            fabric = true;
            break;
        }
        const bool again = line.name != "fault" && !seen.insert(line.name).second;
        if (line.name.empty() || again || !readNote(line, body.notes, body.start.stance))
            return senseless(kFormat, line);
    }
    if (!fabric) return fmt::format("the fabric itself is not in it; {}", kFormat.again);
    while (!lines.empty()) {
        const NamedValue line = takeNamedValue(lines);
        const auto move = moveFrom(line.value);
        const bool did = line.name == "did" && body.undone.empty();
        if (!move || (!did && line.name != "back")) return senseless(kFormat, line);
        (did ? body.done : body.undone).push_back(*move);
    }
    return "";
}

tl::unexpected<FileError> refused(const std::string& name, const std::string& reason) {
    return tl::unexpected<FileError>(FileError{fmt::format("cannot read {}: {}", name, reason)});
}

}  // namespace

std::string tableText(const Work& work, const TableNotes& notes) {
    std::string text;
    const auto note = [&](std::string_view name, std::string_view value) {
        text += fmt::format("{} {}\n", name, value);
    };
    if (!notes.pattern.empty()) note("pattern", escapedValue(notes.pattern));
    note("cast-on", fmt::format("{} {}", wordOf(notes.castOn), notes.stitches));
    note("lengths", fmt::format("{}/{}", notes.loopUm, notes.strandUm));
    note("rows", std::to_string(notes.rows));
    for (const FaultPlace& fault : notes.faults) note("fault", loopmend::text(fault));
    note("after", name(notes.after));
    note("seed", std::to_string(notes.seed));
    note("tex", decimal(notes.tex));
    note("needle", decimal(notes.needleMm));
    note("color", std::to_string(notes.color));
    if (!notes.session.empty()) note("session", escapedValue(notes.session));
    for (const auto& [unknown, value] : notes.unknown) note(unknown, value);
    const Stance& stance = work.start().stance;
    note("facing", sideWord(stance.facing));
    note("round", stance.round ? "yes" : "no");
    note("habit", wordOf(stance.habit));
    note("mirrored", stance.mirrored ? "yes" : "no");
    note("yarn", std::to_string(stance.yarn));
    if (!stance.balls.empty()) note("balls", ballsText(stance.balls));
    note("floats", sideWord(stance.floats));
    note("knot", work.start().lines.knot);
    note("measure", work.start().lines.measure);
    for (const Move& move : work.done()) note("did", textOf(move));
    for (const Move& move : work.undone()) note("back", textOf(move));
    return framed(kFormat, text);
}

tl::expected<TableFile, FileError> tableFromText(std::string_view text, const std::string& name) {
    const auto lines = unframed(kFormat, text);
    if (!lines) return refused(name, lines.error());
    Body body;
    if (const std::string reason = refusedBody(*lines, body); !reason.empty()) return refused(name, reason);
    auto work = Work::from(body.start);
    if (!work) {
        return refused(name, fmt::format("it tells of no possible fabric ({}); {}", work.error().message,
                                         kFormat.again));
    }
    if (const auto resumed = work->resume(body.done, body.undone); !resumed) {
        return refused(
            name, fmt::format("its move {} cannot be done on this fabric ({}); {}", resumed.error().move + 1,
                              sentence(resumed.error().refusal), kFormat.again));
    }
    return TableFile{std::move(*work), std::move(body.notes)};
}

tl::expected<TableFile, FileError> readTable(Disk& disk, const std::string& path) {
    const auto text = readFile(disk, path);
    if (!text) return tl::unexpected<FileError>(text.error());
    return tableFromText(*text, path);
}

tl::expected<void, FileError> writeTable(Disk& disk, const std::string& path, const Work& work,
                                         const TableNotes& notes) {
    return writeFile(disk, path, tableText(work, notes));
}

}  // namespace loopmend
