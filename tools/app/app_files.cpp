// SPDX-License-Identifier: MIT
#include <algorithm>
#include <filesystem>

#include "app/app.h"
#include "store/files.h"
#include "store/lesson_file.h"
#include "store/table_file.h"

namespace loopmend::app {

namespace {

constexpr std::string_view kTableHead = "loopmend table";
constexpr std::string_view kFabricHead = "loopmend fabric";

std::string fileName(const std::string& path) {
    return std::filesystem::path(path).filename().string();
}

/// Cases say so, or are called so; any other object is a lesson.
bool looksLikeCase(const std::string& path, const std::string& bytes) {
    return std::filesystem::path(path).extension() == ".case" ||
           (isObject(bytes) && bytes.find("\"loopmend case\"") != std::string::npos);
}

}  // namespace

void App::showFiles(int what) {
    const std::string folder =
        tablePath_.empty() ? std::string() : std::filesystem::path(tablePath_).parent_path().string();
    constexpr const char* kNames[] = {
        "", "my-swatch.table", "cloth.png", "my-steps.attempts", "my-steps.attempts", "page.html", ""};
    if (what < 0 || what > 6) return;
    files_.begin(static_cast<FilesPane::For>(what), folder, kNames[what]);
    openPaper(Paper::files);
}

void App::openPath(const std::string& path) {
    const auto bytes = readFile(path);
    if (!bytes) {
        notice("Not opened: " + bytes.error().message + ".");
        return;
    }
    if (bytes->compare(0, kTableHead.size(), kTableHead) == 0) {
        openTable(path, *bytes);
        return;
    }
    if (bytes->compare(0, kFabricHead.size(), kFabricHead) == 0) {
        notice(fileName(path) +
               " is a fabric of the command line; open the pattern it was knitted from instead.");
        return;
    }
    if (looksLikeCase(path, *bytes)) {
        openCase(path);
        return;
    }
    if (isObject(*bytes)) {
        openLessonFile(fileName(path), *bytes);
        return;
    }
    auto piece = FreePiece::knitted(*bytes, 0, settings_.mirrored);
    if (!piece) {
        notice(fileName(path) + ": " + piece.error());
        return;
    }
    lay(TableTop(std::move(*piece)));
    tableName_ = fileName(path);
    tablePath_.clear();
    openPaper(Paper::work);
}

void App::openLessonFile(const std::string& name, const std::string& bytes) {
    auto lesson = lessonFromText(bytes, name);
    if (!lesson) {
        std::string words = lesson.error().words();
        std::replace(words.begin(), words.end(), '\n', ' ');
        notice("Not opened: " + words);
        return;
    }
    openLesson(learning_.lend(std::move(*lesson)), true);
}

void App::openTable(const std::string& path, const std::string& bytes) {
    auto table = tableFromText(bytes, fileName(path));
    if (!table) {
        notice("Not opened: " + table.error().message + ".");
        return;
    }
    Recipe recipe;
    recipe.pattern = table->notes.pattern;
    recipe.stitches = table->notes.stitches;
    recipe.rows = table->notes.rows;
    recipe.mirrored = table->work.knitter().mirrored();
    recipe.faults = table->notes.faults;
    recipe.after = table->notes.after;
    auto piece = FreePiece::with(std::move(recipe), std::move(table->work));
    if (!piece) {
        notice(fileName(path) + ": " + piece.error());
        return;
    }
    lay(TableTop(std::move(*piece)));
    tableName_ = fileName(path);
    tablePath_ = path;
    openPaper(Paper::work);
}

void App::savePath(const std::string& path) {
    const FreePiece* piece = table_->piece();
    if (piece == nullptr) return;
    const Recipe& recipe = piece->recipe();
    TableNotes notes;
    notes.pattern = instructionsOf(recipe);
    notes.stitches = recipe.stitches;
    notes.rows = recipe.rows;
    notes.faults = recipe.faults;
    notes.after = recipe.after;
    MachineDisk disk;
    const auto written = writeTable(disk, path, piece->work(), notes);
    if (!written) {
        notice("Not saved: " + written.error().message + ".");
        return;
    }
    tablePath_ = path;
    tableName_ = fileName(path);
    savedVersion_ = table_->version();
    openPaper(Paper::work);
    notice("Saved in " + path);
}

}  // namespace loopmend::app
