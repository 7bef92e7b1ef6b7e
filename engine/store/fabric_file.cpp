// SPDX-License-Identifier: MIT
#include "store/fabric_file.h"

#include <algorithm>
#include <optional>
#include <set>

#include <fmt/format.h>

#include "fabric/itinerary.h"
#include "pattern/working_yarns.h"
#include "store/lines.h"

namespace loopmend {

namespace {

constexpr TextFormat kFormat{"fabric", kFabricFileVersion, "a fabric file",
                             "name a file that knit or mend has written",
                             "take another copy of it, or knit it again"};

/// One of two words: whether it is the first.
bool oneOf(std::string_view value, std::string_view yes, std::string_view no, bool& result) {
    result = value == yes;
    return result || value == no;
}

bool readCastOn(std::string_view value, FabricNotes& notes) {
    const std::size_t blank = value.find(' ');
    if (blank == std::string_view::npos) return false;
    const std::optional<int> n = wholeNumber(value.substr(blank + 1));
    const std::optional<CastOn> castOn = castOnFrom(value.substr(0, blank));
    if (!n || !castOn) return false;
    notes.castOn = *castOn;
    notes.stitches = *n;
    return true;
}

/// Whether the value makes sense for this note; a note that is not known always does.
bool readNote(std::string_view name, std::string_view value, FabricNotes& notes) {
    bool yes = false;
    if (name == "facing") {
        if (!oneOf(value, "right", "wrong", yes)) return false;
        notes.facing = yes ? Side::right : Side::wrong;
    } else if (name == "round") {
        return oneOf(value, "yes", "no", notes.round);
    } else if (name == "mirrored") {
        return oneOf(value, "yes", "no", notes.mirrored);
    } else if (name == "habit") {
        const std::optional<Habit> habit = habitFrom(value);
        if (habit) notes.habit = *habit;
        return habit.has_value();
    } else if (name == "cast-on") {
        return readCastOn(value, notes);
    } else if (name == "rows") {
        const std::optional<int> n = wholeNumber(value);
        if (n) notes.rows = *n;
        return n.has_value();
    } else if (name == "pattern") {
        std::optional<std::string> text = unescapedValue(value);
        if (text) notes.pattern = std::move(*text);
        return text.has_value();
    } else {
        notes.unknown.emplace_back(name, value);
    }
    return true;
}

/// Reads notes and the two lines; the reason to refuse, or nothing.
std::string refusedBody(std::string_view body, FabricNotes& notes, Itinerary& lines) {
    std::set<std::string_view> seen;
    while (!body.empty()) {
        const NamedValue line = takeNamedValue(body);
        if (line.name == "knot") {
            const NamedValue second = takeNamedValue(body);
            if (second.name != "measure" || !body.empty()) break;
            lines.knot = line.value;
            lines.measure = second.value;
            return "";
        }
        if (line.name.empty() || !seen.insert(line.name).second || !readNote(line.name, line.value, notes))
            return senseless(kFormat, line);
    }
    return "the fabric itself is not in it; take another copy of it, or knit it again";
}

tl::unexpected<FileError> refused(const std::string& name, const std::string& reason) {
    return tl::unexpected<FileError>(FileError{fmt::format("cannot read {}: {}", name, reason)});
}

}  // namespace

std::string fabricText(const Fabric& fabric, const FabricNotes& notes) {
    std::string text = fmt::format("facing {}\n", notes.facing == Side::right ? "right" : "wrong");
    text += fmt::format("round {}\n", notes.round ? "yes" : "no");
    text += fmt::format("habit {}\n", wordOf(notes.habit));
    text += fmt::format("mirrored {}\n", notes.mirrored ? "yes" : "no");
    if (notes.stitches > 0) {
        text += fmt::format("cast-on {} {}\n", wordOf(notes.castOn), notes.stitches);
    }
    text += fmt::format("rows {}\n", notes.rows);
    if (!notes.pattern.empty()) text += fmt::format("pattern {}\n", escapedValue(notes.pattern));
    for (const auto& [name, value] : notes.unknown) text += fmt::format("{} {}\n", name, value);
    const Itinerary lines = itinerary(fabric);
    text += fmt::format("knot {}\nmeasure {}\n", lines.knot, lines.measure);
    return framed(kFormat, text);
}

tl::expected<FabricFile, FileError> fabricFromText(std::string_view text, const std::string& name) {
    const auto body = unframed(kFormat, text);
    if (!body) return refused(name, body.error());
    FabricNotes notes;
    Itinerary lines;
    if (const std::string reason = refusedBody(*body, notes, lines); !reason.empty()) {
        return refused(name, reason);
    }
    tl::expected<Fabric, TextFault> fabric = fabricFrom(lines);
    if (!fabric) {
        return refused(name,
                       fmt::format("it tells of no possible fabric ({}); take another copy of it, or knit "
                                   "it again",
                                   fabric.error().message));
    }
    return FabricFile{std::move(*fabric), std::move(notes)};
}

namespace {

/// Of the yarns that have a ball, in the order of the text.
std::string colorsOf(const Fabric& fabric) {
    std::string colors;
    for (std::int32_t i = 0; i < fabric.yarnCount(); ++i) {
        const YarnFlags flags = fabric[YarnId{i}].flags;
        if (flags.gone == 0 && flags.ball != 0) colors += flags.colour;
    }
    return colors;
}

}  // namespace

tl::expected<Knitter, FileError> knitterOver(FabricFile& file, const std::string& name) {
    for (std::int32_t i = 0; i < file.fabric.yarnCount(); ++i) {
        const Yarn& yarn = file.fabric[YarnId{i}];
        if (yarn.flags.gone != 0 || yarn.flags.ball == 0) continue;
        Knitter knitter(file.fabric, YarnId{i}, file.notes.facing, file.notes.round, file.notes.habit,
                        file.notes.mirrored);
        if (file.fabric.yarnCount() > 1) layOutYarns(knitter, colorsOf(file.fabric));
        return knitter;
    }
    return tl::unexpected<FileError>(
        FileError{fmt::format("cannot knit on {}: no yarn in it has a ball; join a ball first", name)});
}

}  // namespace loopmend
