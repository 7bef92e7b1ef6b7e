// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

#include "store/files.h"

namespace loopmend {

/// The machine's disk, whose nth call fails; after a power cut so does every later one.
class FailingDisk : public Disk {
  public:
    FailingDisk(int failAt, int error, bool powerCut) : left_(failAt), error_(error), powerCut_(powerCut) {}

    int look(const std::string& path, Kind& kind, std::string& target) override {
        return failing() ? error_ : disk_.look(path, kind, target);
    }
    int read(const std::string& path, std::size_t most, std::string& bytes) override {
        return failing() ? error_ : disk_.read(path, most, bytes);
    }
    int create(const std::string& path, const std::string& like, int& file) override {
        return failing() ? error_ : disk_.create(path, like, file);
    }
    int openOther(const std::string& path, int& file) override {
        return failing() ? error_ : disk_.openOther(path, file);
    }
    int append(const std::string& path, int& file) override {
        return failing() ? error_ : disk_.append(path, file);
    }
    int write(int file, std::string_view bytes) override {
        if (!failing()) return disk_.write(file, bytes);
        disk_.write(file, bytes.substr(0, bytes.size() / 2));  // as a full disk does
        return error_;
    }
    int sync(int file) override { return failing() ? error_ : disk_.sync(file); }
    int close(int file) override {
        const int error = disk_.close(file);
        return failing() ? error_ : error;
    }
    int rename(const std::string& from, const std::string& to) override {
        return failing() ? error_ : disk_.rename(from, to);
    }
    int remove(const std::string& path) override { return failing() ? error_ : disk_.remove(path); }
    int syncFolder(const std::string& folder) override {
        return failing() ? error_ : disk_.syncFolder(folder);
    }

    bool failed() const { return left_ <= 0; }

  private:
    bool failing() {
        if (left_ > 0) --left_;
        if (left_ != 0) return false;
        if (!powerCut_) left_ = -1;
        return true;
    }

    MachineDisk disk_;
    int left_;
    int error_;
    bool powerCut_;
};

}  // namespace loopmend
