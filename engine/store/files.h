// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>

#include <tl/expected.hpp>

/// Files are read whole, within a limit, and written whole or not at all.
namespace loopmend {

/// A file that could not be read or written, or is not what it should be: one sentence for a person that says
/// what, where and what to do. No full stop at its end.
struct FileError {
    std::string message;
};

/// What writing and reading ask of the machine, so that tests can make any single step fail. Every call
/// returns 0 or an errno.
class Disk {
  public:
    enum class Kind : std::uint8_t {
        nothing,
        file,
        folder,
        other  ///< a device, a pipe: nothing that could be replaced
    };

    Disk() = default;
    Disk(const Disk&) = delete;
    Disk& operator=(const Disk&) = delete;
    virtual ~Disk() = default;

    /// What a path names, and the file it comes to if links lead on.
    virtual int look(const std::string& path, Kind& kind, std::string& target) = 0;
    /// The bytes of a file; EFBIG if there are more than `most`.
    virtual int read(const std::string& path, std::size_t most, std::string& bytes) = 0;
    /// Makes a new file for writing (EEXIST if there is one), with the permissions of `like` if that is
    /// there.
    virtual int create(const std::string& path, const std::string& like, int& file) = 0;
    /// Opens a device or pipe for writing.
    virtual int openOther(const std::string& path, int& file) = 0;
    /// Opens a file that is there for adding at its end (ENOENT if there is none).
    virtual int append(const std::string& path, int& file) = 0;
    virtual int write(int file, std::string_view bytes) = 0;
    /// Returns once the file's bytes are safe from a power cut.
    virtual int sync(int file) = 0;
    virtual int close(int file) = 0;
    virtual int rename(const std::string& from, const std::string& to) = 0;
    virtual int remove(const std::string& path) = 0;
    /// Returns once the names in a folder are safe from a power cut.
    virtual int syncFolder(const std::string& folder) = 0;
};

/// The machine's own disk.
class MachineDisk : public Disk {
  public:
    int look(const std::string& path, Kind& kind, std::string& target) override;
    int read(const std::string& path, std::size_t most, std::string& bytes) override;
    int create(const std::string& path, const std::string& like, int& file) override;
    int openOther(const std::string& path, int& file) override;
    int append(const std::string& path, int& file) override;
    int write(int file, std::string_view bytes) override;
    int sync(int file) override;
    int close(int file) override;
    int rename(const std::string& from, const std::string& to) override;
    int remove(const std::string& path) override;
    int syncFolder(const std::string& folder) override;
};

/// No file of ours comes near this.
inline constexpr std::size_t kMostBytes = std::size_t{256} << 20;

/// The bytes of a file (or pipe).
tl::expected<std::string, FileError> readFile(Disk& disk, const std::string& path,
                                              std::size_t most = kMostBytes);
tl::expected<std::string, FileError> readFile(const std::string& path, std::size_t most = kMostBytes);

/// Writes a file whole or not at all: aside in the same folder, flushed, renamed. Whatever happens meanwhile,
/// the old file or the new one is there whole. A device or pipe is written straight.
tl::expected<void, FileError> writeFile(Disk& disk, const std::string& path, std::string_view bytes);
tl::expected<void, FileError> writeFile(const std::string& path, std::string_view bytes);

/// An object of JSON, as lessons and cases are, and not a pattern's words.
bool isObject(std::string_view text);

/// The reason an errno stands for, as the end of a sentence: `there is no room left on the disk`.
std::string reasonOf(int error);

}  // namespace loopmend
