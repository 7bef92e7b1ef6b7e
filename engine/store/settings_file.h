// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <tl/expected.hpp>

#include "pattern/terms.h"
#include "store/files.h"

/// The settings file: how a person likes the program, and how far her lesson has come.
///
/// A text in UTF-8 as store/lines.h describes it:
///
///     loopmend settings 1
///     text-size 100
///     ground light
///     look wool
///     reduced-motion no
///     mirrored no
///     terms us
///     lesson a-stitch-that-ran
///     lesson-done no
///     lesson-text ...
///     check 0f1e2d3c4b5a6978
///
/// Every line may be missing; one that this version does not know is kept and written back.
namespace loopmend {

/// The newest version of the format that this program reads and the one it writes.
inline constexpr int kSettingsFileVersion = 1;

/// Letters are never smaller or larger than this, in hundredths of the ordinary size.
inline constexpr int kLeastTextSize = 80;
inline constexpr int kMostTextSize = 200;

struct KeptSettings {
    int textSize = 100;    ///< hundredths of the ordinary size, kLeastTextSize to kMostTextSize
    bool dark = false;     ///< a dark ground
    bool drawing = false;  ///< the yarn as a technique drawing, else as wool
    bool reducedMotion = false;
    bool mirrored = false;  ///< left-handed
    Terms terms = Terms::us;
    std::string lesson;  ///< the lesson begun last; empty: none
    bool lessonDone = false;
    std::string lessonText;  ///< what that lesson wants to find again
    /// Lines of a newer program, name and value as they stand in the file.
    std::vector<std::pair<std::string, std::string>> unknown;

    friend bool operator==(const KeptSettings& a, const KeptSettings& b) {
        return a.textSize == b.textSize && a.dark == b.dark && a.drawing == b.drawing &&
               a.reducedMotion == b.reducedMotion && a.mirrored == b.mirrored && a.terms == b.terms &&
               a.lesson == b.lesson && a.lessonDone == b.lessonDone && a.lessonText == b.lessonText &&
               a.unknown == b.unknown;
    }
};

std::string settingsText(const KeptSettings& settings);
/// `name` is what the sentence of a refusal calls the file.
tl::expected<KeptSettings, FileError> settingsFromText(std::string_view text, const std::string& name);

/// What reading the settings came to. There are always some.
struct SettingsRead {
    KeptSettings settings;
    std::string trouble;  ///< one sentence with its full stop, or empty: what was wrong and where the old
                          ///< file is kept
    bool mayWrite =
        true;  ///< false: the old file could be neither read nor put aside; it must not be written over
};
/// Reads the settings. No file: the ordinary ones, and nothing to say. A file that is damaged, newer or
/// foreign is put aside beside it as `NAME.kept` (`.kept-2`, ...), and the ordinary ones are used.
SettingsRead readSettings(Disk& disk, const std::string& path);

tl::expected<void, FileError> writeSettings(Disk& disk, const std::string& path,
                                            const KeptSettings& settings);

}  // namespace loopmend
