// SPDX-License-Identifier: MIT
#pragma once

#include <stdexcept>
#include <string>

#include "store/lesson_file.h"

/// The lessons that come with the program, as the tests need them.
namespace loopmend {

inline std::string courseFolder() {
    return std::string(LOOPMEND_SOURCE_DIR) + "/lessons";
}

/// All of it; std::runtime_error if any lesson cannot be read.
inline Course wholeCourse() {
    MachineDisk disk;
    auto read = readCourse(disk, courseFolder());
    if (!read) throw std::runtime_error(read.error().words());
    for (const LessonFileError& error : read->problems) throw std::runtime_error(error.words());
    return std::move(read->course);
}

inline Lesson lessonOfCourse(const std::string& id) {
    MachineDisk disk;
    auto lesson = readLesson(disk, courseFolder() + "/" + id + ".json");
    if (!lesson) throw std::runtime_error(lesson.error().words());
    return std::move(*lesson);
}

/// `a-stitch-that-ran`: the end of Oswin's scarf, one stitch run down six rows, every rung shown first.
inline Lesson firstLesson() {
    return lessonOfCourse("a-stitch-that-ran");
}

}  // namespace loopmend
