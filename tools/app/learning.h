// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "store/attempt_log.h"
#include "store/lesson_file.h"
#include "tutor/progress.h"

namespace loopmend::app {

/// What there is to learn, and what the learner made of it: the course, exercises by their words, the log of
/// attempts and what it adds up to.
class Learning {
  public:
    /// `lessons`: the folder of the course. `data`: where the log is kept; empty: it is not.
    Learning(const std::string& lessons, const std::string& data);
    Learning(const Learning&) = delete;
    Learning& operator=(const Learning&) = delete;

    const Course& course() const { return course_; }
    /// What could not be read, in sentences; empty: nothing.
    const std::string& trouble() const { return trouble_; }

    /// A lesson of the course, or the exercise of that word. None: there is no such thing.
    const Lesson* find(const std::string& id);
    /// A lesson from a file of its author's: what it is found by from now on. It is tried, and kept apart
    /// from a lesson of the course with the same id.
    std::string lend(Lesson lesson);
    bool isOfCourse(const std::string& id) const { return course_.find(id) != nullptr; }
    /// How many lessons of the course come before it; none: it is not of the course.
    std::optional<int> indexOf(const std::string& id) const;

    /// One sentence if they could not be written; they are remembered all the same.
    std::optional<std::string> append(const std::vector<Attempt>& attempts);
    const std::vector<Attempt>& attempts() const;
    const Progress& progress() const { return progress_; }

    /// The log's file; empty: nothing is kept.
    const std::string& logPath() const { return logPath_; }
    /// Each returns a sentence that says what came of it.
    std::string exportTo(const std::string& path) const;
    std::string importFrom(const std::string& path);
    /// One sentence if it could not be done.
    std::optional<std::string> forget();

    /// Skills that can be practiced, in the order of `skills()`.
    const std::vector<const Skill*>& practiced();

  private:
    void addUp();

    Course course_;
    std::string trouble_;
    std::map<std::string, Lesson> exercises_;
    MachineDisk disk_;
    std::string logPath_;
    std::optional<AttemptLog> log_;
    std::vector<Attempt> unkept_;  ///< where nothing is kept
    Progress progress_;
    std::vector<const Skill*> practiced_;
    bool practicedKnown_ = false;
};

}  // namespace loopmend::app
