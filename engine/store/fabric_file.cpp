// SPDX-License-Identifier: MIT
#include "store/fabric_file.h"

#include <algorithm>
#include <optional>
#include <set>

#include <fmt/format.h>

#include "fabric/itinerary.h"

namespace loopmend {

namespace {

constexpr std::string_view kFormat = "loopmend fabric ";
constexpr std::size_t kCheckLine = 6 + 16 + 1;  // `check `, the digits, the line feed

std::string escaped(std::string_view value) {
    std::string text;
    for (const char c : value) {
        if (c == '\n') {
            text += "\\n";
        } else if (c == '\r') {
            text += "\\r";
        } else if (c == '\\') {
            text += "\\\\";
        } else {
            text += c;
        }
    }
    return text;
}

std::optional<std::string> unescaped(std::string_view text) {
    std::string value;
    for (std::size_t i = 0; i < text.size(); ++i) {
        if (text[i] != '\\') {
            value += text[i];
            continue;
        }
        if (++i == text.size()) return std::nullopt;
        if (text[i] == 'n') {
            value += '\n';
        } else if (text[i] == 'r') {
            value += '\r';
        } else if (text[i] == '\\') {
            value += '\\';
        } else {
            return std::nullopt;
        }
    }
    return value;
}

std::optional<int> wholeNumber(std::string_view text) {
    constexpr std::size_t kMostDigits = 8;
    if (text.empty() || text.size() > kMostDigits) return std::nullopt;
    int n = 0;
    for (const char c : text) {
        if (c < '0' || c > '9') return std::nullopt;
        n = n * 10 + (c - '0');
    }
    return n;
}

std::string_view habitName(Habit habit) {
    switch (habit) {
        case Habit::western:
            return "western";
        case Habit::eastern:
            return "eastern";
        case Habit::combination:
            return "combination";
    }
    return "western";
}

std::optional<Habit> habitNamed(std::string_view name) {
    for (const Habit habit : {Habit::western, Habit::eastern, Habit::combination}) {
        if (name == habitName(habit)) return habit;
    }
    return std::nullopt;
}

/// One of two words: whether it is the first.
bool oneOf(std::string_view value, std::string_view yes, std::string_view no, bool& result) {
    result = value == yes;
    return result || value == no;
}

bool readCastOn(std::string_view value, FabricNotes& notes) {
    const std::size_t blank = value.find(' ');
    if (blank == std::string_view::npos) return false;
    const std::optional<int> n = wholeNumber(value.substr(blank + 1));
    bool longTail = true;
    if (!n || !oneOf(value.substr(0, blank), "long-tail", "backward", longTail)) return false;
    notes.castOn = longTail ? CastOn::longTail : CastOn::backward;
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
        const std::optional<Habit> habit = habitNamed(value);
        if (habit) notes.habit = *habit;
        return habit.has_value();
    } else if (name == "cast-on") {
        return readCastOn(value, notes);
    } else if (name == "rows") {
        const std::optional<int> n = wholeNumber(value);
        if (n) notes.rows = *n;
        return n.has_value();
    } else if (name == "pattern") {
        std::optional<std::string> text = unescaped(value);
        if (text) notes.pattern = std::move(*text);
        return text.has_value();
    } else {
        notes.unknown.emplace_back(name, value);
    }
    return true;
}

bool isPrefixOf(std::string_view head, std::string_view text) {
    return text.substr(0, head.size()) == head;
}

/// The reason to refuse, for `cannot read FILE: <reason>`; empty if the frame of the file is sound. Sets
/// `body` to the lines between the first and the last.
std::string refusedFrame(std::string_view text, std::string_view& body) {
    if (text.empty()) return "it is empty; name a file that knit or mend has written";
    const std::string first = fmt::format("{}{}\n", kFormat, kFabricFileVersion);
    const char* const cutShort = "it is cut short; take another copy of it, or knit it again";
    const char* const foreign =
        "it is not a fabric file of Loopmend; name a file that knit or mend has written";
    if (text.size() < first.size() && isPrefixOf(text, first)) return cutShort;
    if (!isPrefixOf(kFormat, text)) return foreign;
    const std::string_view firstLine = text.substr(0, text.find('\n'));
    const std::optional<int> version = wholeNumber(firstLine.substr(kFormat.size()));
    if (!version || *version == 0) return foreign;
    if (*version > kFabricFileVersion) {
        return fmt::format("a newer Loopmend wrote it (format {}, this one reads up to {}); use that one",
                           *version, kFabricFileVersion);
    }
    if (!isPrefixOf(first, text))
        return "its first line is damaged; take another copy of it, or knit it again";

    if (text.size() < first.size() + kCheckLine || text.back() != '\n') return cutShort;
    const std::string_view check = text.substr(text.size() - kCheckLine);
    const std::string_view above = text.substr(0, text.size() - kCheckLine);
    if (!isPrefixOf("check ", check) || above.back() != '\n') return cutShort;
    if (check.substr(6, 16) != fmt::format("{:016x}", hashOf(above))) {
        return "it is damaged or was changed by hand; take another copy of it, or knit it again";
    }
    body = above.substr(first.size());
    return "";
}

std::string_view takeLine(std::string_view& text) {
    const std::size_t end = text.find('\n');
    const std::string_view line = text.substr(0, end);
    text.remove_prefix(end + 1);
    return line;
}

/// Reads notes and the two lines; the reason to refuse, or nothing.
std::string refusedBody(std::string_view body, FabricNotes& notes, Itinerary& lines) {
    std::set<std::string_view> seen;
    while (!body.empty()) {
        const std::string_view line = takeLine(body);
        const std::size_t blank = std::min(line.find(' '), line.size());
        const std::string_view name = line.substr(0, blank);
        const std::string_view value = blank < line.size() ? line.substr(blank + 1) : std::string_view{};
        if (name == "knot") {
            const std::string_view second = body.empty() ? std::string_view{} : takeLine(body);
            if (!isPrefixOf("measure ", second) || !body.empty()) break;
            lines.knot = value;
            lines.measure = second.substr(8);
            return "";
        }
        if (name.empty() || !seen.insert(name).second || !readNote(name, value, notes)) {
            return fmt::format("its line \"{}\" makes no sense; take another copy of it, or knit it again",
                               line.substr(0, 40));
        }
    }
    return "the fabric itself is not in it; take another copy of it, or knit it again";
}

tl::unexpected<FileError> refused(const std::string& name, const std::string& reason) {
    return tl::unexpected<FileError>(FileError{fmt::format("cannot read {}: {}", name, reason)});
}

}  // namespace

std::string fabricText(const Fabric& fabric, const FabricNotes& notes) {
    std::string text = fmt::format("{}{}\n", kFormat, kFabricFileVersion);
    text += fmt::format("facing {}\n", notes.facing == Side::right ? "right" : "wrong");
    text += fmt::format("round {}\n", notes.round ? "yes" : "no");
    text += fmt::format("habit {}\n", habitName(notes.habit));
    text += fmt::format("mirrored {}\n", notes.mirrored ? "yes" : "no");
    if (notes.stitches > 0) {
        text += fmt::format("cast-on {} {}\n", notes.castOn == CastOn::longTail ? "long-tail" : "backward",
                            notes.stitches);
    }
    text += fmt::format("rows {}\n", notes.rows);
    if (!notes.pattern.empty()) text += fmt::format("pattern {}\n", escaped(notes.pattern));
    for (const auto& [name, value] : notes.unknown) text += fmt::format("{} {}\n", name, value);
    const Itinerary lines = itinerary(fabric);
    text += fmt::format("knot {}\nmeasure {}\n", lines.knot, lines.measure);
    text += fmt::format("check {:016x}\n", hashOf(text));
    return text;
}

tl::expected<FabricFile, FileError> fabricFromText(std::string_view text, const std::string& name) {
    std::string_view body;
    if (const std::string reason = refusedFrame(text, body); !reason.empty()) return refused(name, reason);
    FabricNotes notes;
    Itinerary lines;
    if (const std::string reason = refusedBody(body, notes, lines); !reason.empty()) {
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

tl::expected<Knitter, FileError> knitterOver(FabricFile& file, const std::string& name) {
    for (std::int32_t i = 0; i < file.fabric.yarnCount(); ++i) {
        const Yarn& yarn = file.fabric[YarnId{i}];
        if (yarn.flags.gone != 0 || yarn.flags.ball == 0) continue;
        return Knitter(file.fabric, YarnId{i}, file.notes.facing, file.notes.round, file.notes.habit,
                       file.notes.mirrored);
    }
    return tl::unexpected<FileError>(
        FileError{fmt::format("cannot knit on {}: no yarn in it has a ball; join a ball first", name)});
}

}  // namespace loopmend
