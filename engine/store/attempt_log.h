// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include <tl/expected.hpp>

#include "store/files.h"
#include "tutor/attempt.h"

/// The log of attempts on the learner's own machine. Nothing in it says who she is, and nothing leaves the
/// machine by itself.
///
/// Text: the first line is `loopmend attempts 2`; every other line is one attempt, added at the end when it
/// happens and never changed:
///
///     0f1e2d3c4b5a6978 <tab> a-stitch-that-ran <tab> RUN <tab> ...
///
/// First 16 lower-case hex digits, the 64-bit FNV-1a hash of everything after the first tab up to the line's
/// end; then, divided by tabs: lesson, run, swatch, step, what, skill, right (`yes`, `no`), tries, hints,
/// stray moves, truth, chosen, at, seconds, reckoned seconds (a log of format 1 has none). In words `\t` is a
/// tab, `\n` a line feed, `\r` a carriage return and `\\` a backslash. Numbers are decimal. A line whose
/// check does not hold is damaged by itself alone.
namespace loopmend {

inline constexpr int kAttemptLogVersion = 2;

/// A log as text, whole.
std::string attemptsText(const std::vector<Attempt>& attempts);

/// What a log's text holds.
struct AttemptsRead {
    std::vector<Attempt> attempts;  ///< every line whose check holds, in the order of the lines
    std::string damaged;            ///< the other lines, as they are
    int damagedLines = 0;
    bool cut = false;  ///< something was torn or damaged, if only a line's end
    int format = kAttemptLogVersion;
};
/// The error is the reason to refuse the whole, for `cannot read FILE: ...`: newer, or no log. Text that is
/// cut within the first line holds nothing and is not refused.
tl::expected<AttemptsRead, FileError> attemptsFromText(std::string_view text, const std::string& name);

/// Both, each attempt once: those of the first in their order, then what is new. An attempt is the same if
/// lesson, run, swatch and step are (and that a run was finished is said once).
std::vector<Attempt> mergedAttempts(const std::vector<Attempt>& first, const std::vector<Attempt>& second);

/// The log in its place on the disk, read once and then added to.
class AttemptLog {
  public:
    /// Reads it; none there is an empty one. Lines damaged by a kill or a bad disk are dropped, told in
    /// `trouble` and kept aside in a file beside it. A newer or foreign file stays as it is, and nothing is
    /// written.
    AttemptLog(Disk& disk, std::string path);

    /// Everything so far, also what could not be written yet.
    const std::vector<Attempt>& attempts() const { return attempts_; }
    /// What happened when it was read, in sentences; empty: nothing.
    const std::string& trouble() const { return trouble_; }
    /// False: a newer or foreign file lies there.
    bool mayWrite() const { return mayWrite_; }

    /// Adds at the end and returns once it is safe from a power cut. What fails is kept in memory and written
    /// with the next one.
    tl::expected<void, FileError> append(const std::vector<Attempt>& attempts);
    /// A copy, written whole.
    tl::expected<void, FileError> exportTo(const std::string& path) const;
    /// Takes in a copy from elsewhere and writes the log whole; returns how many attempts were new. Damaged
    /// lines of the copy are passed over and told in `words`.
    struct Imported {
        int added = 0;
        std::string words;
    };
    tl::expected<Imported, FileError> importFrom(const std::string& path);
    /// Forgets everything: the file and what was kept aside by this program.
    tl::expected<void, FileError> removeAll();

  private:
    void read();
    /// Puts the damaged lines into a new file beside the log; its name.
    tl::expected<std::string, FileError> keepAside(std::string_view bytes);
    tl::expected<void, FileError> writeWhole();
    tl::unexpected<FileError> notOurs(std::string_view what) const;

    Disk* disk_;
    std::string path_;
    std::vector<Attempt> attempts_;
    std::string trouble_;
    std::string damaged_;  ///< lines that are not kept aside yet
    std::string kept_;     ///< where they are
    bool mayWrite_ = true;
    bool whole_ = true;  ///< write the file whole next time: it is not there, or its end may be torn
};

}  // namespace loopmend
