// SPDX-License-Identifier: MIT
#include "store/lines.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <locale>
#include <sstream>

#include <fmt/format.h>

#include "fabric/itinerary.h"

namespace loopmend {

namespace {

constexpr std::size_t kCheckLine = 6 + 16 + 1;  // `check `, the digits, the line feed

bool isPrefixOf(std::string_view head, std::string_view text) {
    return text.substr(0, head.size()) == head;
}

}  // namespace

std::string framed(const TextFormat& format, std::string_view lines) {
    std::string text = fmt::format("loopmend {} {}\n{}", format.word, format.version, lines);
    text += fmt::format("check {:016x}\n", hashOf(text));
    return text;
}

tl::expected<std::string_view, std::string> unframed(const TextFormat& format, std::string_view text) {
    const auto refused = [](std::string reason) { return tl::unexpected<std::string>(std::move(reason)); };
    if (text.empty()) return refused(fmt::format("it is empty; {}", format.instead));
    const std::string head = fmt::format("loopmend {} ", format.word);
    const std::string first = fmt::format("{}{}\n", head, format.version);
    const std::string cutShort = fmt::format("it is cut short; {}", format.again);
    const std::string foreign = fmt::format("it is not {} of Loopmend; {}", format.called, format.instead);
    if (text.size() < first.size() && isPrefixOf(text, first)) return refused(cutShort);
    if (!isPrefixOf(head, text)) return refused(foreign);
    const std::string_view firstLine = text.substr(0, text.find('\n'));
    const std::optional<int> version = wholeNumber(firstLine.substr(head.size()));
    if (!version || *version == 0) return refused(foreign);
    if (*version > format.version) {
        return refused(
            fmt::format("a newer Loopmend wrote it (format {}, this one reads up to {}); use that one",
                        *version, format.version));
    }
    if (!isPrefixOf(first, text)) return refused(fmt::format("its first line is damaged; {}", format.again));

    if (text.size() < first.size() + kCheckLine || text.back() != '\n') return refused(cutShort);
    const std::string_view check = text.substr(text.size() - kCheckLine);
    const std::string_view above = text.substr(0, text.size() - kCheckLine);
    if (!isPrefixOf("check ", check) || above.back() != '\n') return refused(cutShort);
    if (check.substr(6, 16) != fmt::format("{:016x}", hashOf(above)))
        return refused(fmt::format("it is damaged or was changed by hand; {}", format.again));
    return above.substr(first.size());
}

std::string escapedValue(std::string_view value) {
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

std::optional<std::string> unescapedValue(std::string_view text) {
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

std::optional<std::uint64_t> longNumber(std::string_view text) {
    constexpr std::uint64_t kMost = std::numeric_limits<std::uint64_t>::max();
    if (text.empty() || text.size() > 20) return std::nullopt;
    std::uint64_t n = 0;
    for (const char c : text) {
        if (c < '0' || c > '9') return std::nullopt;
        const auto digit = static_cast<std::uint64_t>(c - '0');
        if (n > (kMost - digit) / 10) return std::nullopt;
        n = n * 10 + digit;
    }
    return n;
}

std::string decimal(double value) {
    return fmt::format("{}", value);
}

std::optional<double> decimalFrom(std::string_view text) {
    std::istringstream in{std::string(text)};
    in.imbue(std::locale::classic());
    double value = 0;
    if (!(in >> value) || !std::isfinite(value) || decimal(value) != text) return std::nullopt;
    return value;
}

std::optional<bool> oneOfTwo(std::string_view value, std::string_view yes, std::string_view no) {
    if (value == yes) return true;
    if (value == no) return false;
    return std::nullopt;
}

std::string_view wordOf(Habit habit) {
    switch (habit) {
        case Habit::western: return "western";
        case Habit::eastern: return "eastern";
        case Habit::combination: return "combination";
    }
    return "western";
}

std::optional<Habit> habitFrom(std::string_view word) {
    for (const Habit habit : {Habit::western, Habit::eastern, Habit::combination}) {
        if (word == wordOf(habit)) return habit;
    }
    return std::nullopt;
}

std::string_view wordOf(CastOn castOn) {
    switch (castOn) {
        case CastOn::longTail: return "long-tail";
        case CastOn::backward: return "backward";
        case CastOn::knitted: return "knitted";
    }
    return "long-tail";
}

std::optional<CastOn> castOnFrom(std::string_view word) {
    for (const CastOn castOn : kCastOns) {
        if (word == wordOf(castOn)) return castOn;
    }
    return std::nullopt;
}

NamedValue takeNamedValue(std::string_view& lines) {
    const std::size_t end = lines.find('\n');
    const std::string_view line = lines.substr(0, end);
    lines.remove_prefix(std::min(lines.size(), end == std::string_view::npos ? lines.size() : end + 1));
    const std::size_t blank = std::min(line.find(' '), line.size());
    return {line.substr(0, blank), blank < line.size() ? line.substr(blank + 1) : std::string_view{}};
}

std::string senseless(const TextFormat& format, const NamedValue& line) {
    const std::string whole =
        line.value.empty() ? std::string(line.name) : fmt::format("{} {}", line.name, line.value);
    return fmt::format("its line \"{}\" makes no sense; {}", whole.substr(0, 40), format.again);
}

}  // namespace loopmend
