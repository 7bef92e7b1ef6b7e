// SPDX-License-Identifier: MIT
#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstdio>
#include <cstdlib>
#include <memory>

#include "store/files.h"

namespace loopmend {

namespace {

/// errno may be 0 after a library call that only says that it failed.
int lastError() {
    return errno != 0 ? errno : EIO;
}

/// Calls again what a signal interrupted.
template <class Call>
auto untilDone(Call call) -> decltype(call()) {
    auto result = call();
    while (result < 0 && errno == EINTR) result = call();
    return result;
}

}  // namespace

int MachineDisk::look(const std::string& path, Kind& kind, std::string& target) {
    kind = Kind::nothing;
    target = path;
    if (path.empty()) return ENOENT;
    struct stat link {};
    if (::lstat(path.c_str(), &link) != 0) {
        if (errno != ENOENT) return lastError();
        return path.back() == '/' ? ENOENT : 0;
    }
    struct stat what = link;
    if (S_ISLNK(link.st_mode)) {
        // What a link leads to is written, and the link stays.
        const std::unique_ptr<char, void (*)(void*)> real(::realpath(path.c_str(), nullptr), &std::free);
        if (!real) return lastError();
        target = real.get();
        if (::stat(path.c_str(), &what) != 0) return lastError();
    }
    kind = S_ISREG(what.st_mode) ? Kind::file : S_ISDIR(what.st_mode) ? Kind::folder : Kind::other;
    return 0;
}

int MachineDisk::read(const std::string& path, std::size_t most, std::string& bytes) {
    bytes.clear();
    const int file = untilDone([&] { return ::open(path.c_str(), O_RDONLY | O_CLOEXEC); });
    if (file < 0) return lastError();
    int error = 0;
    struct stat what {};
    if (::fstat(file, &what) == 0 && S_ISREG(what.st_mode)) {
        if (what.st_size > 0 && static_cast<std::size_t>(what.st_size) > most) error = EFBIG;
        if (error == 0) bytes.reserve(static_cast<std::size_t>(what.st_size));
    }
    char block[1 << 16];
    while (error == 0) {
        const ssize_t n = untilDone([&] { return ::read(file, block, sizeof block); });
        if (n < 0) error = lastError();
        if (n <= 0) break;
        bytes.append(block, static_cast<std::size_t>(n));
        if (bytes.size() > most) error = EFBIG;
    }
    ::close(file);
    if (error != 0) bytes.clear();
    return error;
}

int MachineDisk::create(const std::string& path, const std::string& like, int& file) {
    file = untilDone([&] { return ::open(path.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666); });
    if (file < 0) return lastError();
    struct stat old {};
    if (::stat(like.c_str(), &old) == 0 && S_ISREG(old.st_mode)) {
        // Not worth failing for: a disk without permissions cannot keep them.
        static_cast<void>(::fchmod(file, old.st_mode & 0777) == 0);
    }
    return 0;
}

int MachineDisk::openOther(const std::string& path, int& file) {
    file = untilDone([&] { return ::open(path.c_str(), O_WRONLY | O_CLOEXEC); });
    return file < 0 ? lastError() : 0;
}

int MachineDisk::append(const std::string& path, int& file) {
    file = untilDone([&] { return ::open(path.c_str(), O_WRONLY | O_APPEND | O_CLOEXEC); });
    return file < 0 ? lastError() : 0;
}

int MachineDisk::write(int file, std::string_view bytes) {
    while (!bytes.empty()) {
        const ssize_t n = untilDone([&] { return ::write(file, bytes.data(), bytes.size()); });
        if (n < 0) return lastError();
        bytes.remove_prefix(static_cast<std::size_t>(n));
    }
    return 0;
}

int MachineDisk::sync(int file) {
    return untilDone([&] { return ::fsync(file); }) == 0 ? 0 : lastError();
}

int MachineDisk::close(int file) {
    // Not called again if interrupted: the file is closed then all the same.
    return ::close(file) == 0 || errno == EINTR ? 0 : lastError();
}

int MachineDisk::rename(const std::string& from, const std::string& to) {
    return std::rename(from.c_str(), to.c_str()) == 0 ? 0 : lastError();
}

int MachineDisk::remove(const std::string& path) {
    return ::unlink(path.c_str()) == 0 ? 0 : lastError();
}

int MachineDisk::syncFolder(const std::string& folder) {
    const int file = untilDone([&] { return ::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC); });
    if (file < 0) return lastError();
    const int error = untilDone([&] { return ::fsync(file); }) == 0 ? 0 : lastError();
    ::close(file);
    return error;
}

}  // namespace loopmend
