// SPDX-License-Identifier: MIT
#include "store/settings_file.h"

#include <optional>
#include <set>

#include <fmt/format.h>

#include "store/lines.h"

namespace loopmend {

namespace {

constexpr TextFormat kFormat{"settings", kSettingsFileVersion, "a settings file",
                             "choose your settings again", "choose your settings again"};

bool readFlag(std::string_view value, bool& flag, std::string_view yes = "yes", std::string_view no = "no") {
    const std::optional<bool> is = oneOfTwo(value, yes, no);
    if (is) flag = *is;
    return is.has_value();
}

bool readWords(std::string_view value, std::string& words) {
    std::optional<std::string> text = unescapedValue(value);
    if (text) words = std::move(*text);
    return text.has_value();
}

bool readLine(const NamedValue& line, KeptSettings& settings) {
    if (line.name == "text-size") {
        const std::optional<int> n = wholeNumber(line.value);
        if (!n || *n < kLeastTextSize || *n > kMostTextSize) return false;
        settings.textSize = *n;
        return true;
    }
    if (line.name == "ground") return readFlag(line.value, settings.dark, "dark", "light");
    if (line.name == "look") return readFlag(line.value, settings.drawing, "drawing", "wool");
    if (line.name == "reduced-motion") return readFlag(line.value, settings.reducedMotion);
    if (line.name == "mirrored") return readFlag(line.value, settings.mirrored);
    if (line.name == "terms") {
        bool uk = false;
        if (!readFlag(line.value, uk, "uk", "us")) return false;
        settings.terms = uk ? Terms::uk : Terms::us;
        return true;
    }
    if (line.name == "lesson") return readWords(line.value, settings.lesson);
    if (line.name == "lesson-done") return readFlag(line.value, settings.lessonDone);
    if (line.name == "lesson-text") return readWords(line.value, settings.lessonText);
    settings.unknown.emplace_back(line.name, line.value);
    return true;
}

/// A name beside the file that nothing has yet; empty: none found.
std::string freeNameBeside(Disk& disk, const std::string& path) {
    for (int i = 1; i < 100; ++i) {
        std::string name = i == 1 ? path + ".kept" : fmt::format("{}.kept-{}", path, i);
        Disk::Kind kind = Disk::Kind::other;
        std::string target;
        if (disk.look(name, kind, target) == 0 && kind == Disk::Kind::nothing) return name;
    }
    return "";
}

}  // namespace

std::string settingsText(const KeptSettings& settings) {
    std::string text;
    const auto line = [&](std::string_view name, std::string_view value) {
        text += fmt::format("{} {}\n", name, value);
    };
    const auto yes = [](bool is) { return is ? "yes" : "no"; };
    line("text-size", std::to_string(settings.textSize));
    line("ground", settings.dark ? "dark" : "light");
    line("look", settings.drawing ? "drawing" : "wool");
    line("reduced-motion", yes(settings.reducedMotion));
    line("mirrored", yes(settings.mirrored));
    line("terms", settings.terms == Terms::uk ? "uk" : "us");
    if (!settings.lesson.empty()) line("lesson", escapedValue(settings.lesson));
    line("lesson-done", yes(settings.lessonDone));
    if (!settings.lessonText.empty()) line("lesson-text", escapedValue(settings.lessonText));
    for (const auto& [name, value] : settings.unknown) line(name, value);
    return framed(kFormat, text);
}

tl::expected<KeptSettings, FileError> settingsFromText(std::string_view text, const std::string& name) {
    const auto refused = [&](const std::string& reason) {
        return tl::unexpected<FileError>(FileError{fmt::format("cannot read {}: {}", name, reason)});
    };
    auto lines = unframed(kFormat, text);
    if (!lines) return refused(lines.error());
    KeptSettings settings;
    std::set<std::string_view> seen;
    while (!lines->empty()) {
        const NamedValue line = takeNamedValue(*lines);
        if (line.name.empty() || !seen.insert(line.name).second || !readLine(line, settings))
            return refused(senseless(kFormat, line));
    }
    return settings;
}

SettingsRead readSettings(Disk& disk, const std::string& path) {
    SettingsRead result;
    Disk::Kind kind = Disk::Kind::nothing;
    std::string target;
    if (disk.look(path, kind, target) == 0 && kind == Disk::Kind::nothing) return result;
    const auto text = readFile(disk, path);
    std::string why = text ? "" : text.error().message;
    if (text) {
        auto settings = settingsFromText(*text, path);
        if (settings) {
            result.settings = std::move(*settings);
            return result;
        }
        why = settings.error().message;
    }
    if (!why.empty() && why[0] == 'c') why[0] = 'C';
    const std::string aside = text ? freeNameBeside(disk, path) : "";
    if (!aside.empty() && disk.rename(path, aside) == 0) {
        result.trouble = fmt::format("{}. The old file is kept as {}.", why, aside);
    } else {
        result.mayWrite = false;
        result.trouble = fmt::format("{}. It stays as it is, and new settings are not kept.", why);
    }
    return result;
}

tl::expected<void, FileError> writeSettings(Disk& disk, const std::string& path,
                                            const KeptSettings& settings) {
    return writeFile(disk, path, settingsText(settings));
}

}  // namespace loopmend
