// SPDX-License-Identifier: MIT
#include "store/attempt_log.h"

#include <array>
#include <cerrno>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <optional>
#include <set>
#include <tuple>
#include <utility>

#include <fmt/format.h>

#include "fabric/itinerary.h"
#include "store/lines.h"
#include "tutor/progress.h"

namespace loopmend {

namespace {

constexpr std::string_view kHead = "loopmend attempts ";
constexpr std::size_t kFields = 15;
constexpr std::size_t kFieldsOfFirstFormat = 14;  // without the reckoned seconds
constexpr std::size_t kCheckDigits = 16;
constexpr int kMostKept = 100;

std::string field(std::string_view words) {
    std::string text;
    for (const char c : escapedValue(words)) {
        if (c == '\t') {
            text += "\\t";
        } else {
            text += c;
        }
    }
    return text;
}

std::optional<std::string> unfield(std::string_view text) {
    std::string words;
    for (std::size_t i = 0; i < text.size(); ++i) {
        if (text[i] != '\\') {
            words += text[i];
            continue;
        }
        if (++i == text.size()) return std::nullopt;
        switch (text[i]) {
            case 't': words += '\t'; break;
            case 'n': words += '\n'; break;
            case 'r': words += '\r'; break;
            case '\\': words += '\\'; break;
            default: return std::nullopt;
        }
    }
    return words;
}

std::string firstLine() {
    return fmt::format("{}{}\n", kHead, kAttemptLogVersion);
}

std::string lineOf(const Attempt& a) {
    const std::string rest = fmt::format(
        "{}\t{}\t{}\t{}\t{}\t{}\t{}\t{}\t{}\t{}\t{}\t{}\t{}\t{}\t{}", field(a.lesson), field(a.run), a.swatch,
        a.step, field(a.what), field(a.skill), a.right ? "yes" : "no", a.tries, a.hints, a.strayMoves,
        field(a.truth), field(a.chosen), a.at, a.seconds, a.reckonedSeconds);
    return fmt::format("{:016x}\t{}\n", hashOf(rest), rest);
}

bool readCount(std::string_view text, int& number) {
    const std::optional<int> n = wholeNumber(text);
    if (n) number = *n;
    return n.has_value();
}

/// Moments before 1970 are some clock's mistake, but no reason to lose the line.
bool readMoment(std::string_view text, std::int64_t& moment) {
    const bool before = !text.empty() && text.front() == '-';
    const std::optional<std::uint64_t> n = longNumber(before ? text.substr(1) : text);
    constexpr auto kMost = static_cast<std::uint64_t>(std::numeric_limits<std::int64_t>::max());
    if (!n || *n > kMost) return false;
    moment = before ? -static_cast<std::int64_t>(*n) : static_cast<std::int64_t>(*n);
    return true;
}

bool readWords(std::string_view text, std::string& words) {
    std::optional<std::string> read = unfield(text);
    if (read) words = std::move(*read);
    return read.has_value();
}

bool readSeconds(std::string_view text, std::int32_t& seconds) {
    std::int64_t read = 0;
    if (!readMoment(text, read) || read < std::numeric_limits<std::int32_t>::min() ||
        read > std::numeric_limits<std::int32_t>::max())
        return false;
    seconds = static_cast<std::int32_t>(read);
    return true;
}

/// A line without its end, of a log of that format.
std::optional<Attempt> attemptFrom(std::string_view line, int format) {
    const std::size_t count = format < 2 ? kFieldsOfFirstFormat : kFields;
    if (line.size() <= kCheckDigits || line[kCheckDigits] != '\t') return std::nullopt;
    std::string_view rest = line.substr(kCheckDigits + 1);
    if (line.substr(0, kCheckDigits) != fmt::format("{:016x}", hashOf(rest))) return std::nullopt;
    std::array<std::string_view, kFields> fields;
    for (std::size_t i = 0; i < count; ++i) {
        const std::size_t tab = rest.find('\t');
        if ((tab == std::string_view::npos) != (i + 1 == count)) return std::nullopt;
        fields[i] = rest.substr(0, tab);
        if (tab != std::string_view::npos) rest.remove_prefix(tab + 1);
    }
    Attempt a;
    const std::optional<bool> right = oneOfTwo(fields[6]);
    if (!readWords(fields[0], a.lesson) || !readWords(fields[1], a.run) || !readCount(fields[2], a.swatch) ||
        !readCount(fields[3], a.step) || !readWords(fields[4], a.what) || !readWords(fields[5], a.skill) ||
        !right || !readCount(fields[7], a.tries) || !readCount(fields[8], a.hints) ||
        !readCount(fields[9], a.strayMoves) || !readWords(fields[10], a.truth) ||
        !readWords(fields[11], a.chosen) || !readMoment(fields[12], a.at) ||
        !readSeconds(fields[13], a.seconds) ||
        (count > kFieldsOfFirstFormat && !readSeconds(fields[14], a.reckonedSeconds))) {
        return std::nullopt;
    }
    a.right = *right;
    return a;
}

/// Counts outside what a line can say are some program's mistake; the line must be readable all the same.
Attempt sayable(Attempt a) {
    constexpr int kMost = 99'999'999;
    for (int* const n : {&a.swatch, &a.step, &a.tries, &a.hints, &a.strayMoves})
        *n = *n < 0 ? 0 : *n > kMost ? kMost : *n;
    if (a.at == std::numeric_limits<std::int64_t>::min()) a.at = 0;
    return a;
}

std::string keptName(const std::string& path, int n) {
    return n == 1 ? path + ".kept" : fmt::format("{}.kept-{}", path, n);
}

std::string counted(int n, std::string_view one, std::string_view many) {
    return fmt::format("{} {}", n, n == 1 ? one : many);
}

std::string sentence(std::string words) {
    if (!words.empty() && words[0] == 'c') words[0] = 'C';
    return words;
}

}  // namespace

std::string attemptsText(const std::vector<Attempt>& attempts) {
    std::string text = firstLine();
    for (const Attempt& a : attempts) text += lineOf(sayable(a));
    return text;
}

tl::expected<AttemptsRead, FileError> attemptsFromText(std::string_view text, const std::string& name) {
    const auto refused = [&](const std::string& why) {
        return tl::unexpected<FileError>(FileError{fmt::format("cannot read {}: {}", name, why)});
    };
    AttemptsRead read;
    const std::string first = firstLine();
    if (text.size() < first.size() && first.compare(0, text.size(), text) == 0) {
        read.cut = !text.empty();
        return read;
    }
    constexpr std::string_view kForeign =
        "it is no log of attempts of Loopmend; name a file that Loopmend has written";
    if (text.substr(0, kHead.size()) != kHead) return refused(std::string(kForeign));
    const std::size_t end = text.find('\n');
    const std::optional<int> version = end == std::string_view::npos
                                           ? std::nullopt
                                           : wholeNumber(text.substr(kHead.size(), end - kHead.size()));
    if (!version || *version == 0) return refused(std::string(kForeign));
    if (*version > kAttemptLogVersion) {
        return refused(
            fmt::format("a newer Loopmend wrote it (format {}, this one reads up to {}); use that one",
                        *version, kAttemptLogVersion));
    }
    read.format = *version;
    text.remove_prefix(end + 1);
    while (!text.empty()) {
        const std::size_t stop = text.find('\n');
        const std::string_view line = text.substr(0, stop);
        // A whole line without its end was written, but what comes after it must not be glued to it.
        read.cut = read.cut || stop == std::string_view::npos;
        if (std::optional<Attempt> a = attemptFrom(line, *version)) {
            read.attempts.push_back(std::move(*a));
        } else {
            read.cut = true;
            ++read.damagedLines;
            read.damaged += line;
            read.damaged += '\n';
        }
        text.remove_prefix(stop == std::string_view::npos ? text.size() : stop + 1);
    }
    return read;
}

std::vector<Attempt> mergedAttempts(const std::vector<Attempt>& first, const std::vector<Attempt>& second) {
    std::vector<Attempt> all;
    std::set<std::tuple<std::string, std::string, int, int, bool>> seen;
    for (const std::vector<Attempt>* list : {&first, &second}) {
        for (const Attempt& a : *list) {
            if (seen.emplace(a.lesson, a.run, a.swatch, a.step, isFinishedRun(a)).second) all.push_back(a);
        }
    }
    return all;
}

AttemptLog::AttemptLog(Disk& disk, std::string path) : disk_(&disk), path_(std::move(path)) {
    read();
}

tl::expected<std::string, FileError> AttemptLog::keepAside(std::string_view bytes) {
    for (int i = 1;; ++i) {
        const std::string name = keptName(path_, i);
        Disk::Kind kind = Disk::Kind::other;
        std::string target;
        if (i < kMostKept && (disk_->look(name, kind, target) != 0 || kind != Disk::Kind::nothing)) {
            continue;
        }
        const auto written = writeFile(*disk_, name, bytes);
        if (!written) return tl::unexpected<FileError>(written.error());
        return name;
    }
}

void AttemptLog::read() {
    Disk::Kind kind = Disk::Kind::nothing;
    std::string target;
    if (disk_->look(path_, kind, target) == 0 && kind == Disk::Kind::nothing) return;
    const auto text = readFile(*disk_, path_);
    const auto lines =
        text ? attemptsFromText(*text, path_) : tl::unexpected<FileError>(FileError{text.error()});
    if (!lines) {
        mayWrite_ = false;
        trouble_ =
            fmt::format("{}. It stays as it is, and nothing new is kept.", sentence(lines.error().message));
        return;
    }
    attempts_ = mergedAttempts({}, lines->attempts);
    // What is added to an older log has more in a line than its first line says.
    whole_ = lines->cut || text->empty() || lines->format < kAttemptLogVersion;
    damaged_ = lines->damaged;
    if (damaged_.empty()) return;
    const bool one = lines->damagedLines == 1;
    trouble_ = fmt::format("{} of what you did before could not be read any more and {} left out",
                           counted(lines->damagedLines, "line", "lines"), one ? "was" : "were");
    const auto written = writeWhole();
    trouble_ += kept_.empty() ? "." : fmt::format("; {} kept as {}.", one ? "it is" : "they are", kept_);
    if (!written) trouble_ += ' ' + sentence(written.error().message) + '.';
}

tl::expected<void, FileError> AttemptLog::writeWhole() {
    // What cannot be read is not written over before it lies safe beside it.
    if (!damaged_.empty()) {
        const auto kept = keepAside(damaged_);
        if (!kept) return tl::unexpected<FileError>(kept.error());
        kept_ = *kept;
        damaged_.clear();
    }
    auto written = writeFile(*disk_, path_, attemptsText(attempts_));
    if (written) whole_ = false;
    return written;
}

tl::unexpected<FileError> AttemptLog::notOurs(std::string_view what) const {
    return tl::unexpected<FileError>(FileError{
        fmt::format("cannot {} {}: it could not be read as a log of ours; move it away first", what, path_)});
}

tl::expected<void, FileError> AttemptLog::append(const std::vector<Attempt>& attempts) {
    std::string lines;
    for (const Attempt& a : attempts) {
        attempts_.push_back(sayable(a));
        lines += lineOf(attempts_.back());
    }
    if (!mayWrite_) return notOurs("add to");
    if (whole_) return writeWhole();
    if (lines.empty()) return {};
    int file = -1;
    int error = disk_->append(path_, file);
    if (error == 0) {
        error = disk_->write(file, lines);
        if (error == 0) error = disk_->sync(file);
        const int closed = disk_->close(file);
        if (error == 0) error = closed;
    }
    if (error == 0) return {};
    // Its end may be torn now, or the file be gone: next time all of it is written.
    whole_ = true;
    if (error == ENOENT) return writeWhole();
    return tl::unexpected<FileError>(FileError{
        fmt::format("cannot add to {}: {}; it is tried again with the next step", path_, reasonOf(error))});
}

tl::expected<void, FileError> AttemptLog::exportTo(const std::string& path) const {
    return writeFile(*disk_, path, attemptsText(attempts_));
}

tl::expected<AttemptLog::Imported, FileError> AttemptLog::importFrom(const std::string& path) {
    const auto text = readFile(*disk_, path);
    if (!text) return tl::unexpected<FileError>(text.error());
    auto read = attemptsFromText(*text, path);
    if (!read) return tl::unexpected<FileError>(read.error());
    if (!mayWrite_) return notOurs("add to");
    const std::size_t before = attempts_.size();
    std::vector<Attempt> all = mergedAttempts(attempts_, read->attempts);
    Imported imported;
    imported.added = static_cast<int>(all.size() - before);
    if (read->damagedLines > 0) {
        imported.words = fmt::format("{} of {} could not be read and {} left out.",
                                     counted(read->damagedLines, "line", "lines"), path,
                                     read->damagedLines == 1 ? "was" : "were");
    }
    std::swap(attempts_, all);
    if (const auto written = writeWhole(); !written) {
        std::swap(attempts_, all);
        whole_ = true;
        return tl::unexpected<FileError>(written.error());
    }
    return imported;
}

tl::expected<void, FileError> AttemptLog::removeAll() {
    if (!mayWrite_) return notOurs("delete");
    for (int i = 0; i <= kMostKept; ++i) {
        const std::string name = i == 0 ? path_ : keptName(path_, i);
        const int error = disk_->remove(name);
        if (error == ENOENT && i > 0) break;
        if (error != 0 && error != ENOENT) {
            return tl::unexpected<FileError>(
                FileError{fmt::format("cannot delete {}: {}; delete it by hand", name, reasonOf(error))});
        }
    }
    attempts_.clear();
    trouble_.clear();
    damaged_.clear();
    kept_.clear();
    whole_ = true;
    return {};
}

}  // namespace loopmend
