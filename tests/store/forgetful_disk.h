// SPDX-License-Identifier: MIT
#pragma once

#include <cerrno>
#include <cstddef>
#include <map>
#include <string>
#include <vector>

#include "store/files.h"

/// A disk that forgets, at a power cut, whatever was not made safe: the worst that a machine may do.
namespace loopmend {

/// What is on such a disk: names lead to files, and both have a safe state and a state that may be lost.
class ForgetfulDisk : public Disk {
  public:
    /// Cuts the power before the nth call; calls from then on do nothing.
    explicit ForgetfulDisk(int cutBefore) : left_(cutBefore) {}

    void put(const std::string& path, const std::string& bytes) {
        files_.push_back({bytes, bytes});
        names_[path] = safeNames_[path] = files_.size() - 1;
    }
    bool cut() const { return left_ <= 0; }

    /// What a name holds after the cut. Names not yet safe are lost or kept, bytes not yet safe are lost but
    /// for the first `torn` of them.
    std::string after(const std::string& path, bool namesKept, std::size_t torn) const {
        const auto& names = namesKept ? names_ : safeNames_;
        const auto found = names.find(path);
        if (found == names.end()) return "(nothing)";
        const File& file = files_[found->second];
        return file.safe == file.now ? file.now : file.now.substr(0, torn);
    }

    int look(const std::string& path, Kind& kind, std::string& target) override {
        if (gone()) return EIO;
        kind = names_.count(path) != 0 ? Kind::file : Kind::nothing;
        target = path;
        return 0;
    }
    int read(const std::string& path, std::size_t, std::string& bytes) override {
        if (gone()) return EIO;
        const auto found = names_.find(path);
        if (found == names_.end()) return ENOENT;
        bytes = files_[found->second].now;
        return 0;
    }
    int create(const std::string& path, const std::string&, int& file) override {
        if (gone()) return EIO;
        if (names_.count(path) != 0) return EEXIST;
        file = static_cast<int>(files_.size());
        names_[path] = files_.size();
        files_.push_back({"(never safe)", ""});
        return 0;
    }
    int openOther(const std::string&, int&) override { return EIO; }
    int append(const std::string& path, int& file) override {
        if (gone()) return EIO;
        const auto found = names_.find(path);
        if (found == names_.end()) return ENOENT;
        file = static_cast<int>(found->second);
        return 0;
    }
    int write(int file, std::string_view bytes) override {
        if (gone()) return EIO;
        files_[static_cast<std::size_t>(file)].now += bytes;
        return 0;
    }
    int sync(int file) override {
        if (gone()) return EIO;
        files_[static_cast<std::size_t>(file)].safe = files_[static_cast<std::size_t>(file)].now;
        return 0;
    }
    int close(int) override { return gone() ? EIO : 0; }
    int rename(const std::string& from, const std::string& to) override {
        if (gone()) return EIO;
        names_[to] = names_[from];
        names_.erase(from);
        return 0;
    }
    int remove(const std::string& path) override {
        if (gone()) return EIO;
        names_.erase(path);
        return 0;
    }
    int syncFolder(const std::string&) override {
        if (gone()) return EIO;
        safeNames_ = names_;
        return 0;
    }

  private:
    struct File {
        std::string safe;
        std::string now;
    };
    bool gone() {
        if (left_ > 0) --left_;
        return left_ == 0;
    }

    std::vector<File> files_;
    std::map<std::string, std::size_t> names_;
    std::map<std::string, std::size_t> safeNames_;
    int left_;
};

}  // namespace loopmend
