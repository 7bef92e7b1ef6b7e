// SPDX-License-Identifier: MIT
#include "app/keeping.h"

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <utility>

#include <fmt/format.h>

#include "store/files.h"
#include "store/lines.h"

namespace loopmend::app {

namespace fs = std::filesystem;

namespace {

constexpr TextFormat kProgress = {"progress", 1, "a lesson's progress", "leave it alone", "begin it anew"};
constexpr const char* kEnding = ".progress";
/// What earlier versions kept, in the settings, was of this lesson.
constexpr const char* kFirstKept = "a-stitch-that-ran";

/// Ids of lessons and exercises become names of files: nothing else does.
bool isPlain(const std::string& id) {
    return !id.empty() && id.size() <= 120 && id.front() != '.' &&
           std::all_of(id.begin(), id.end(), [](char c) {
               return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') ||
                      c == '-' || c == '_' || c == '.';
           });
}

/// Out of the way, under a name that is free.
bool putAside(const std::string& path) {
    std::error_code error;
    for (int n = 1; n < 100; ++n) {
        const std::string aside = n == 1 ? path + ".kept" : fmt::format("{}.kept-{}", path, n);
        if (fs::exists(aside, error)) continue;
        fs::rename(path, aside, error);
        return !error;
    }
    return false;
}

}  // namespace

std::string progressText(const KeptLesson& kept) {
    return framed(kProgress,
                  fmt::format("lesson {}\nrun {}\ndone {}\nended {}\nat {}\ntext {}\n", escapedValue(kept.id),
                              escapedValue(kept.run), kept.done ? "yes" : "no", kept.ended ? "yes" : "no",
                              std::max<std::int64_t>(0, kept.at), escapedValue(kept.text)));
}

std::optional<KeptLesson> progressFromText(std::string_view text) {
    const auto inside = unframed(kProgress, text);
    if (!inside) return std::nullopt;
    std::string_view lines = *inside;
    KeptLesson kept;
    while (!lines.empty()) {
        const NamedValue line = takeNamedValue(lines);
        const auto value = unescapedValue(line.value);
        if (!value) return std::nullopt;
        if (line.name == "lesson") kept.id = *value;
        if (line.name == "run") kept.run = *value;
        if (line.name == "text") kept.text = *value;
        if (line.name == "done" || line.name == "ended") {
            const auto yes = oneOfTwo(*value);
            if (!yes) return std::nullopt;
            (line.name == "done" ? kept.done : kept.ended) = *yes;
        }
        if (line.name == "at") {
            const auto at = longNumber(*value);
            if (!at) return std::nullopt;
            kept.at = static_cast<std::int64_t>(*at);
        }
    }
    if (!isPlain(kept.id)) return std::nullopt;
    return kept;
}

std::string Keeping::path() const {
    return folder_ + "/settings.loopmend";
}

std::string Keeping::pathOf(const std::string& id) const {
    return folder_ + "/lessons/" + id + kEnding;
}

Keeping::Kept Keeping::read() {
    Kept kept;
    if (folder_.empty()) return kept;
    MachineDisk disk;
    SettingsRead file = readSettings(disk, path());
    last_ = std::move(file.settings);
    mayWrite_ = file.mayWrite;
    kept.settings.textSize = static_cast<float>(last_.textSize) / 100;
    kept.settings.dark = last_.dark;
    kept.settings.drawing = last_.drawing;
    kept.settings.reducedMotion = last_.reducedMotion;
    kept.settings.mirrored = last_.mirrored;
    kept.settings.ukWords = last_.terms == Terms::uk;
    kept.lesson = last_.lesson;
    kept.trouble = std::move(file.trouble);
    readLessons(kept.trouble);
    if (!last_.lessonText.empty() || last_.lessonDone) {
        // From a version that kept one lesson in the settings: its own file first, then out of the settings.
        KeptLesson old;
        old.id = last_.lesson.empty() ? kFirstKept : last_.lesson;
        old.done = last_.lessonDone;
        old.ended = last_.lessonDone;
        old.text = last_.lessonText;
        if (kept.lesson.empty()) kept.lesson = old.id;
        if (lesson(old.id) == nullptr && write(old)) return kept;
        last_.lessonText.clear();
        last_.lessonDone = false;
        last_.lesson = old.id;
        if (mayWrite_) (void)writeSettings(disk, path(), last_);
    }
    return kept;
}

void Keeping::readLessons(std::string& trouble) {
    std::error_code error;
    std::vector<std::string> files;
    for (fs::directory_iterator at(folder_ + "/lessons", error), end; !error && at != end;
         at.increment(error)) {
        if (at->path().extension() == kEnding) files.push_back(at->path().string());
    }
    std::sort(files.begin(), files.end());
    for (const std::string& file : files) {
        const auto bytes = readFile(file);
        auto kept = bytes ? progressFromText(*bytes) : std::nullopt;
        if (kept && fs::path(file).stem() == kept->id) {
            lessons_[kept->id] = std::move(*kept);
            continue;
        }
        if (!bytes || !putAside(file)) continue;
        if (!trouble.empty()) trouble += ' ';
        trouble += fmt::format("How far {} had come could not be read; the file lies aside as {}.kept.",
                               fs::path(file).stem().string(), fs::path(file).filename().string());
    }
}

const KeptLesson* Keeping::lesson(const std::string& id) const {
    const auto found = lessons_.find(id);
    return found == lessons_.end() ? nullptr : &found->second;
}

std::optional<std::string> Keeping::write(const KeptLesson& lesson) {
    const KeptLesson* before = this->lesson(lesson.id);
    if (before != nullptr && *before == lesson) return std::nullopt;
    if (!isPlain(lesson.id)) return std::nullopt;
    if (!folder_.empty()) {
        std::error_code error;
        fs::create_directories(folder_ + "/lessons", error);
        if (const auto written = writeFile(pathOf(lesson.id), progressText(lesson)); !written)
            return fmt::format("What you did could not be kept: {}.", written.error().message);
    }
    lessons_[lesson.id] = lesson;
    return std::nullopt;
}

std::optional<std::string> Keeping::forgetLessons() {
    MachineDisk disk;
    std::optional<std::string> trouble;
    for (const auto& [id, kept] : lessons_) {
        if (folder_.empty()) continue;
        if (const int error = disk.remove(pathOf(id)); error != 0 && !trouble)
            trouble = fmt::format("{} could not be taken away: {}.", pathOf(id), reasonOf(error));
    }
    lessons_.clear();
    return trouble;
}

std::optional<std::string> Keeping::write(const Settings& settings, const std::string& lesson) {
    if (folder_.empty() || !mayWrite_) return std::nullopt;
    KeptSettings now = last_;
    now.textSize =
        std::clamp(static_cast<int>(std::lround(settings.textSize * 100)), kLeastTextSize, kMostTextSize);
    now.dark = settings.dark;
    now.drawing = settings.drawing;
    now.reducedMotion = settings.reducedMotion;
    now.mirrored = settings.mirrored;
    now.terms = settings.ukWords ? Terms::uk : Terms::us;
    now.lesson = lesson;
    if (now == last_) return std::nullopt;
    std::error_code error;
    fs::create_directories(folder_, error);
    MachineDisk disk;
    if (const auto written = writeSettings(disk, path(), now); !written) {
        return fmt::format("What you did could not be kept: {}.", written.error().message);
    }
    last_ = std::move(now);
    return std::nullopt;
}

}  // namespace loopmend::app
