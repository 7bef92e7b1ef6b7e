// SPDX-License-Identifier: MIT
#include "app/files_pane.h"

#include <algorithm>
#include <filesystem>

#include <fmt/format.h>
#include <imgui.h>

namespace loopmend::app {

namespace fs = std::filesystem;

namespace {

constexpr std::size_t kMostShown = 40;

bool wanted(FilesPane::For what, const fs::path& path) {
    const std::string kind = path.extension().string();
    switch (what) {
        case FilesPane::For::open:
            return kind == ".txt" || kind == ".table" || kind == ".fabric" || kind == ".pattern" ||
                   kind == ".json" || kind == ".case";
        case FilesPane::For::save: return kind == ".table";
        case FilesPane::For::picture: return kind == ".png";
        case FilesPane::For::exportLog:
        case FilesPane::For::importLog: return kind == ".attempts";
        case FilesPane::For::page: return kind == ".html" || kind == ".pdf";
        case FilesPane::For::ownPattern: return kind == ".txt" || kind == ".pattern";
    }
    return false;
}

/// A file of the list is what is meant, and nothing of hers is written over by a slip.
bool takes(FilesPane::For what) {
    return what == FilesPane::For::open || what == FilesPane::For::importLog ||
           what == FilesPane::For::ownPattern;
}

}  // namespace

void FilesPane::begin(For what, const std::string& folder, const std::string& name) {
    what_ = what;
    enter(folder);
    const std::string path = (fs::path(folder_) / name).string();
    path_.fill('\0');
    path.copy(path_.data(), path_.size() - 1);
}

void FilesPane::enter(const std::string& folder) {
    std::error_code ignored;
    const fs::path whole =
        fs::weakly_canonical(folder.empty() ? fs::current_path(ignored) : fs::path(folder), ignored);
    folder_ = whole.string();
    look();
}

void FilesPane::look() {
    folders_.clear();
    files_.clear();
    trouble_.clear();
    std::error_code error;
    for (fs::directory_iterator at(folder_, error), end; !error && at != end; at.increment(error)) {
        const std::string name = at->path().filename().string();
        if (name.empty() || name.front() == '.') continue;
        std::error_code ignored;
        if (at->is_directory(ignored)) {
            folders_.push_back(name);
        } else if (wanted(what_, at->path())) {
            files_.push_back(name);
        }
    }
    if (error) trouble_ = fmt::format("The folder {} cannot be read; choose another one.", folder_);
    std::sort(folders_.begin(), folders_.end());
    std::sort(files_.begin(), files_.end());
}

void FilesPane::draw(const Desk& desk) {
    constexpr const char* kHeadings[] = {"Open",         "Save the table", "Export the picture",
                                         "Write a copy", "Take in a copy", "A page to take home",
                                         "Your pattern"};
    constexpr const char* kDo[] = {"Open it",    "Save it there",  "Write the PNG there", "Write it there",
                                   "Take it in", "Write it there", "That is it"};
    constexpr Ask kAsks[] = {Ask::openFile,  Ask::saveFile, Ask::exportPicture, Ask::exportLog,
                             Ask::importLog, Ask::showPage, Ask::ownPattern};
    const auto which = static_cast<std::size_t>(what_);
    heading(desk, kHeadings[which]);
    if (what_ == For::open) {
        paragraph(desk,
                  "A written pattern, a table saved before, a lesson or a case. You can also drop a file on "
                  "the window.",
                  desk.palette.text);
    }
    if (what_ == For::page)
        paragraph(desk, "A name that ends in .pdf is for printing, one that ends in .html for sending.",
                  desk.palette.text);
    Controls::Extra extra;
    extra.width = -1;
    const bool entered = desk.controls.field(Area::page, "files.path", path_.data(), path_.size(), -1);
    if (desk.controls.button(Area::page, "files.do", kDo[which], Controls::Kind::main, extra) || entered) {
        desk.commands.push(kAsks[which], 0, path_.data());
    }
    extra.key = "Esc";
    if (desk.controls.button(Area::page, "files.close", "Not now", Controls::Kind::button, extra)) {
        desk.commands.push(Ask::letGo);
    }
    if (!trouble_.empty()) aside(desk, "", trouble_);
    paragraph(desk, folder_, desk.palette.quiet);
    extra.key = {};
    std::string go;
    if (desk.controls.button(Area::page, "files.up", "..  (one folder up)", Controls::Kind::choice, extra))
        go = "..";
    std::size_t shown = 0;
    for (const std::string& name : files_) {
        if (++shown > kMostShown) break;
        if (desk.controls.button(Area::page, "files.file." + name, name, Controls::Kind::choice, extra)) {
            const std::string path = (fs::path(folder_) / name).string();
            path_.fill('\0');
            path.copy(path_.data(), path_.size() - 1);
            if (takes(what_)) desk.commands.push(kAsks[which], 0, path);
        }
    }
    for (const std::string& name : folders_) {
        if (++shown > kMostShown) break;
        if (desk.controls.button(Area::page, "files.folder." + name, name + "/", Controls::Kind::choice,
                                 extra))
            go = name;
    }
    if (!go.empty()) enter((fs::path(folder_) / go).string());
}

}  // namespace loopmend::app
