// SPDX-License-Identifier: MIT
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "app/settings.h"
#include "store/settings_file.h"

namespace loopmend::app {

/// How far somebody has come in one lesson or exercise.
struct KeptLesson {
    std::string id;
    std::string run;      ///< which time she works at it; the same after a restart
    bool done = false;    ///< its last page was reached once
    bool ended = false;   ///< and in this run
    std::string text;     ///< Session::text; empty: not begun, or put away
    std::int64_t at = 0;  ///< when it was worked at last, seconds since 1970 (UTC)

    friend bool operator==(const KeptLesson& a, const KeptLesson& b) {
        return a.id == b.id && a.run == b.run && a.done == b.done && a.ended == b.ended && a.text == b.text &&
               a.at == b.at;
    }
};

/// The text of a progress file: as store/lines.h describes it.
///
///     loopmend progress 1
///     lesson hook-it-up
///     run 1790001000-3
///     done no
///     ended no
///     at 1790001000
///     text ...
///     check 0f1e2d3c4b5a6978
std::string progressText(const KeptLesson& kept);
/// None: that is not a progress file of this version, or it is damaged.
std::optional<KeptLesson> progressFromText(std::string_view text);

/// What stays between runs: settings, and how far each lesson has come. Each is written whole or not at all,
/// at every change, so that a kill loses nothing. A file that cannot be read is put aside and said so.
///
/// In the folder: `settings.loopmend`, and a file for each lesson, `lessons/ID.progress`.
class Keeping {
  public:
    explicit Keeping(std::string folder) : folder_(std::move(folder)) {}

    struct Kept {
        Settings settings;
        std::string lesson;   ///< what was worked at last; empty: nothing yet
        std::string trouble;  ///< one sentence, or empty
    };
    Kept read();
    /// Writes if anything changed. One sentence if it could not be written.
    std::optional<std::string> write(const Settings& settings, const std::string& lesson);

    /// By id; none: never begun.
    const KeptLesson* lesson(const std::string& id) const;
    const std::map<std::string, KeptLesson>& lessons() const { return lessons_; }
    /// Writes if anything changed. One sentence if it could not be written.
    std::optional<std::string> write(const KeptLesson& lesson);
    /// Forgets how far every lesson has come. One sentence if something could not be taken away.
    std::optional<std::string> forgetLessons();

    /// Empty: nothing is kept.
    const std::string& folder() const { return folder_; }

  private:
    std::string path() const;
    std::string pathOf(const std::string& id) const;
    void readLessons(std::string& trouble);

    std::string folder_;
    KeptSettings last_;  ///< as it lies on the disk
    bool mayWrite_ = true;
    std::map<std::string, KeptLesson> lessons_;
};

}  // namespace loopmend::app
