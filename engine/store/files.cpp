// SPDX-License-Identifier: MIT
#include "store/files.h"

#include <cerrno>
#include <system_error>

#include <fmt/format.h>

namespace loopmend {

namespace {

std::string folderOf(const std::string& path) {
    const std::size_t slash = path.rfind('/');
    if (slash == std::string::npos) return ".";
    return slash == 0 ? "/" : path.substr(0, slash);
}

tl::unexpected<FileError> fail(std::string message) {
    return tl::unexpected<FileError>(FileError{std::move(message)});
}

tl::unexpected<FileError> cannotRead(const std::string& path, int error, std::size_t most) {
    if (path.empty()) return fail("cannot read a file without a name; give the name of a file");
    switch (error) {
        case ENOENT:
            return fail(
                fmt::format("cannot read {}: there is no such file; check its name and folder", path));
        case EISDIR: return fail(fmt::format("cannot read {}: it is a folder; name a file in it", path));
        case EACCES:
        case EPERM:
            return fail(fmt::format("cannot read {}: you have no permission; change that or copy it", path));
        case EFBIG:
            return fail(
                fmt::format("cannot read {}: it is larger than {} MB, so it cannot be a file of this "
                            "kind; name another",
                            path, most >> 20));
        default: return fail(fmt::format("cannot read {}: {}; try a copy of it", path, reasonOf(error)));
    }
}

tl::unexpected<FileError> cannotWrite(Disk& disk, const std::string& path, int error) {
    if (path.empty()) return fail("cannot write a file without a name; give the file a name");
    const std::string folder = folderOf(path);
    if (error == ENOENT) {
        // Some folders of the machine's own say so of any new name.
        Disk::Kind kind = Disk::Kind::nothing;
        std::string target;
        if (disk.look(folder, kind, target) == 0 && kind == Disk::Kind::folder) error = EACCES;
    }
    switch (error) {
        case ENOENT:
        case ENOTDIR:
            return fail(fmt::format("cannot write {}: there is no folder {}; make it first or name another",
                                    path, folder));
        case EISDIR: return fail(fmt::format("cannot write {}: it is a folder; name a file in it", path));
        case EACCES:
        case EPERM:
        case EROFS:
            return fail(
                fmt::format("cannot write {}: nothing may be written in the folder {}; change its "
                            "permissions or name another folder",
                            path, folder));
        case ENOSPC:
        case EDQUOT:
            return fail(
                fmt::format("cannot write {}: {}; make room or name another disk", path, reasonOf(error)));
        case ENAMETOOLONG:
            return fail(fmt::format("cannot write {}: the name is too long; choose a shorter one", path));
        default: return fail(fmt::format("cannot write {}: {}; try another folder", path, reasonOf(error)));
    }
}

/// A new empty file beside the one to be written. Its name says whose it is, should a power cut leave it
/// behind.
int createAside(Disk& disk, const std::string& target, std::string& aside, int& file) {
    constexpr int kMostTries = 100;
    const std::size_t slash = target.rfind('/');
    const std::string folder = slash == std::string::npos ? "" : target.substr(0, slash + 1);
    int error = EEXIST;
    for (int n = 1; n <= kMostTries && error == EEXIST; ++n) {
        aside = fmt::format("{}.loopmend-unfinished-{}", folder, n);
        error = disk.create(aside, target, file);
    }
    return error;
}

int fill(Disk& disk, int file, std::string_view bytes, bool sync) {
    int error = disk.write(file, bytes);
    if (error == 0 && sync) error = disk.sync(file);
    const int closed = disk.close(file);
    return error != 0 ? error : closed;
}

int writeWhole(Disk& disk, const std::string& path, std::string_view bytes) {
    Disk::Kind kind = Disk::Kind::nothing;
    std::string target;
    int error = disk.look(path, kind, target);
    if (error != 0) return error;
    int file = -1;
    if (kind == Disk::Kind::folder) return EISDIR;
    if (kind == Disk::Kind::other) {
        error = disk.openOther(path, file);
        return error != 0 ? error : fill(disk, file, bytes, false);
    }

    std::string aside;
    error = createAside(disk, target, aside, file);
    if (error != 0) return error;
    error = fill(disk, file, bytes, true);
    if (error == 0) error = disk.rename(aside, target);
    if (error != 0) {
        disk.remove(aside);
        return error;
    }
    // The new file is in place and whole; if its name cannot be made safe now, it will be soon.
    disk.syncFolder(folderOf(target));
    return 0;
}

}  // namespace

bool isObject(std::string_view text) {
    const std::size_t first = text.find_first_not_of(" \t\r\n");
    return first != std::string_view::npos && text[first] == '{';
}

std::string reasonOf(int error) {
    switch (error) {
        case ENOSPC: return "there is no room left on the disk";
        case EDQUOT: return "your share of the disk is used up";
        case EIO: return "the disk reports an error";
        case EPIPE: return "nobody reads it any more";
        default: break;
    }
    std::string reason = std::generic_category().message(error);
    if (!reason.empty() && reason[0] >= 'A' && reason[0] <= 'Z') {
        reason[0] = static_cast<char>(reason[0] - 'A' + 'a');
    }
    return reason;
}

tl::expected<std::string, FileError> readFile(Disk& disk, const std::string& path, std::size_t most) {
    std::string bytes;
    const int error = disk.read(path, most, bytes);
    if (error != 0) return cannotRead(path, error, most);
    return bytes;
}

tl::expected<std::string, FileError> readFile(const std::string& path, std::size_t most) {
    MachineDisk disk;
    return readFile(disk, path, most);
}

tl::expected<void, FileError> writeFile(Disk& disk, const std::string& path, std::string_view bytes) {
    const int error = writeWhole(disk, path, bytes);
    if (error != 0) return cannotWrite(disk, path, error);
    return {};
}

tl::expected<void, FileError> writeFile(const std::string& path, std::string_view bytes) {
    MachineDisk disk;
    return writeFile(disk, path, bytes);
}

}  // namespace loopmend
