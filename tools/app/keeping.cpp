// SPDX-License-Identifier: MIT
#include "app/keeping.h"

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <utility>

#include <fmt/format.h>

#include "store/files.h"

namespace loopmend::app {

std::string Keeping::path() const {
    return folder_ + "/settings.loopmend";
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
    kept.lesson = last_.lessonText;
    kept.lessonDone = last_.lessonDone;
    kept.trouble = std::move(file.trouble);
    return kept;
}

std::optional<std::string> Keeping::write(const Kept& kept) {
    if (folder_.empty() || !mayWrite_) return std::nullopt;
    KeptSettings now = last_;
    now.textSize = std::clamp(static_cast<int>(std::lround(kept.settings.textSize * 100)), kLeastTextSize,
                              kMostTextSize);
    now.dark = kept.settings.dark;
    now.drawing = kept.settings.drawing;
    now.reducedMotion = kept.settings.reducedMotion;
    now.mirrored = kept.settings.mirrored;
    now.terms = kept.settings.ukWords ? Terms::uk : Terms::us;
    now.lessonText = kept.lesson;
    now.lessonDone = kept.lessonDone;
    if (now == last_) return std::nullopt;
    std::error_code error;
    std::filesystem::create_directories(folder_, error);
    MachineDisk disk;
    if (const auto written = writeSettings(disk, path(), now); !written) {
        return fmt::format("What you did could not be kept: {}.", written.error().message);
    }
    last_ = std::move(now);
    return std::nullopt;
}

}  // namespace loopmend::app
