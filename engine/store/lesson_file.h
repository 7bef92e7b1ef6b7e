// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include <tl/expected.hpp>

#include "store/files.h"
#include "tutor/lesson.h"
#include "tutor/lesson_check.h"

/// Lesson and course files: JSON, specified in DEVELOPERS.md.
namespace loopmend {

inline constexpr int kLessonFileVersion = 1;

/// Why a lesson file is not read: every problem with its place, at least one. `place` is the line and column
/// where the text itself is no JSON (`line 7, column 3`), else the path of the value.
struct LessonFileError {
    std::string file;
    std::vector<LessonProblem> problems;

    /// All of it in sentences, one a line.
    std::string words() const;
};

/// `name` is what a refusal calls the file. What is read has the right shape; whether it can be given is
/// `problemsOf`'s to say.
tl::expected<Lesson, LessonFileError> lessonFromText(std::string_view text, const std::string& name);
/// Values that are the usual ones are left out.
std::string lessonText(const Lesson& lesson);
tl::expected<Lesson, LessonFileError> readLesson(Disk& disk, const std::string& path);
tl::expected<void, FileError> writeLesson(Disk& disk, const std::string& path, const Lesson& lesson);

/// Lessons in the order in which they are given, by units.
struct Course {
    struct Unit {
        std::string title;
        std::string about;
        std::vector<Lesson> lessons;
    };
    std::string title;
    std::vector<Unit> units;

    std::vector<Lesson> lessons() const;
    /// None if there is no such id.
    const Lesson* find(std::string_view id) const;
};

/// Reads `course.json` of a folder and every lesson it names (`ID.json` beside it). Lessons that cannot be
/// read are left out and told in `problems`.
struct CourseRead {
    Course course;
    std::vector<LessonFileError> problems;
};
tl::expected<CourseRead, LessonFileError> readCourse(Disk& disk, const std::string& folder);

}  // namespace loopmend
