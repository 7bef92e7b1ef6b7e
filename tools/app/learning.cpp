// SPDX-License-Identifier: MIT
#include "app/learning.h"

#include <filesystem>
#include <utility>

#include <fmt/format.h>

#include "tutor/practice.h"

namespace loopmend::app {

namespace {

void add(std::string& trouble, const std::string& words) {
    if (words.empty()) return;
    if (!trouble.empty()) trouble += ' ';
    trouble += words;
}

}  // namespace

Learning::Learning(const std::string& lessons, const std::string& data) {
    if (auto read = readCourse(disk_, lessons)) {
        course_ = std::move(read->course);
        for (const LessonFileError& problem : read->problems) add(trouble_, problem.words());
    } else {
        add(trouble_, "The lessons could not be read. " + read.error().words());
    }
    if (!data.empty()) {
        std::error_code error;
        std::filesystem::create_directories(data, error);
        logPath_ = data + "/attempts.loopmend";
        log_.emplace(disk_, logPath_);
        add(trouble_, log_->trouble());
    }
    addUp();
}

void Learning::addUp() {
    progress_ = progressOf(attempts());
}

const std::vector<Attempt>& Learning::attempts() const {
    return log_ ? log_->attempts() : unkept_;
}

const Lesson* Learning::find(const std::string& id) {
    if (const Lesson* lesson = course_.find(id)) return lesson;
    if (const auto made = exercises_.find(id); made != exercises_.end()) return &made->second;
    const auto wanted = exerciseFrom(id);
    if (!wanted) return nullptr;
    auto lesson = exerciseOf(*wanted);
    if (!lesson) return nullptr;
    return &exercises_.emplace(id, std::move(*lesson)).first->second;
}

std::string Learning::lend(Lesson lesson) {
    std::string id = "tried-" + lesson.id;
    exercises_.insert_or_assign(id, std::move(lesson));
    return id;
}

std::optional<int> Learning::indexOf(const std::string& id) const {
    int n = 0;
    for (const Course::Unit& unit : course_.units) {
        for (const Lesson& lesson : unit.lessons) {
            if (lesson.id == id) return n;
            ++n;
        }
    }
    return std::nullopt;
}

std::optional<std::string> Learning::append(const std::vector<Attempt>& attempts) {
    if (attempts.empty()) return std::nullopt;
    std::optional<std::string> trouble;
    if (log_) {
        if (const auto written = log_->append(attempts); !written)
            trouble =
                fmt::format("What you did could not be added to your log: {}.", written.error().message);
    } else {
        unkept_.insert(unkept_.end(), attempts.begin(), attempts.end());
    }
    addUp();
    return trouble;
}

std::string Learning::exportTo(const std::string& path) const {
    if (!log_) {
        const auto written = writeFile(path, attemptsText(unkept_));
        return written ? "Your log lies in " + path : "Not written: " + written.error().message + ".";
    }
    const auto written = log_->exportTo(path);
    return written ? "Your log lies in " + path : "Not written: " + written.error().message + ".";
}

std::string Learning::importFrom(const std::string& path) {
    if (!log_) return "Nothing is kept in this run, so nothing was taken in.";
    const auto imported = log_->importFrom(path);
    if (!imported) return "Not taken in: " + imported.error().message + ".";
    addUp();
    std::string words = imported->added == 0   ? std::string("Everything in that file was here before.")
                        : imported->added == 1 ? std::string("One step was taken in.")
                                               : fmt::format("{} steps were taken in.", imported->added);
    add(words, imported->words);
    return words;
}

std::optional<std::string> Learning::forget() {
    unkept_.clear();
    std::optional<std::string> trouble;
    if (log_) {
        if (const auto removed = log_->removeAll(); !removed)
            trouble = fmt::format("Your log could not be taken away: {}.", removed.error().message);
    }
    addUp();
    return trouble;
}

const std::vector<const Skill*>& Learning::practiced() {
    if (!practicedKnown_) {
        practicedKnown_ = true;
        for (const Skill& skill : skills()) {
            if (canBeExercised(skill.id)) practiced_.push_back(&skill);
        }
    }
    return practiced_;
}

}  // namespace loopmend::app
