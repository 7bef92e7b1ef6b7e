// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <tl/expected.hpp>

#include "fabric/knitter.h"
#include "pattern/numbers.h"
#include "pattern/working.h"

/// What all our text files have in common. The first line names the format and its version, every other line
/// is a word, a blank and a value, and the last is a check over everything above it:
///
///     loopmend table 1
///     rows 12
///     ...
///     check 0f1e2d3c4b5a6978
///
/// `check` is the 64-bit FNV-1a hash, as 16 lower-case hex digits, of every byte above its line. Nothing
/// follows it. In a value `\n` is a line feed, `\r` a carriage return and `\\` a backslash.
namespace loopmend {

/// One of our formats, and how a refusal speaks of it.
struct TextFormat {
    std::string_view word;    ///< `fabric`
    int version = 1;          ///< the newest one, which is also the one written
    std::string_view called;  ///< `a fabric file`
    std::string_view
        instead;             ///< what to do about a foreign file: `name a file that knit or mend has written`
    std::string_view again;  ///< about a damaged one: `take another copy of it, or knit it again`
};

/// The lines with the first line before and the check after them.
std::string framed(const TextFormat& format, std::string_view lines);
/// The lines between; or the reason to refuse, for `cannot read FILE: <reason>`.
tl::expected<std::string_view, std::string> unframed(const TextFormat& format, std::string_view text);

std::string escapedValue(std::string_view value);
std::optional<std::string> unescapedValue(std::string_view text);

/// 0 to 2^64 - 1, digits only.
std::optional<std::uint64_t> longNumber(std::string_view text);
/// The shortest decimal that gives back the same number; and that number again. Only what `decimal` writes
/// for finite numbers is read.
std::string decimal(double value);
std::optional<double> decimalFrom(std::string_view text);

/// `yes` and `no`, or two other words; nothing else is read.
std::optional<bool> oneOfTwo(std::string_view value, std::string_view yes = "yes",
                             std::string_view no = "no");

/// `western`, `eastern`, `combination`.
std::string_view wordOf(Habit habit);
std::optional<Habit> habitFrom(std::string_view word);

/// `long-tail`, `backward`, `knitted`.
std::string_view wordOf(CastOn castOn);
std::optional<CastOn> castOnFrom(std::string_view word);
inline constexpr std::array<CastOn, 3> kCastOns = {CastOn::longTail, CastOn::backward, CastOn::knitted};

struct NamedValue {
    std::string_view name;
    std::string_view value;
};
/// The next line, which is taken off the text.
NamedValue takeNamedValue(std::string_view& lines);
/// `its line "rows -6" makes no sense; take another copy of it`.
std::string senseless(const TextFormat& format, const NamedValue& line);

}  // namespace loopmend
