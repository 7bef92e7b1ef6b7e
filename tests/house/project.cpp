// SPDX-License-Identifier: MIT
#include "house/project.h"

#include <algorithm>
#include <cctype>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <memory>
#include <sstream>
#include <stdexcept>

namespace loopmend {

namespace fs = std::filesystem;

namespace {

// Tracked files and new ones that are not ignored; empty where this is no checkout or git is not installed.
std::vector<std::string> pathsFromGit() {
    const std::string command =
        "git -C '" + projectRoot() + "' ls-files -z --cached --others --exclude-standard 2>/dev/null";
    const std::unique_ptr<FILE, int (*)(FILE*)> pipe(popen(command.c_str(), "r"), pclose);
    std::vector<std::string> paths;
    if (!pipe) return paths;
    std::string path;
    for (int c = std::fgetc(pipe.get()); c != EOF; c = std::fgetc(pipe.get())) {
        if (c != 0) {
            path.push_back(static_cast<char>(c));
        } else {
            paths.push_back(path);
            path.clear();
        }
    }
    return paths;
}

std::vector<std::string> pathsFromFolder() {
    std::vector<std::string> paths;
    const fs::path root = projectRoot();
    for (fs::recursive_directory_iterator it(root), end; it != end; ++it) {
        const std::string name = it->path().filename().string();
        if (it.depth() == 0 && (name == "build" || name == ".git" || name == ".cache")) {
            if (it->is_directory()) it.disable_recursion_pending();
        } else if (it->is_regular_file()) {
            paths.push_back(it->path().lexically_relative(root).generic_string());
        }
    }
    return paths;
}

std::vector<ProjectFile> readProject() {
    std::vector<std::string> paths = pathsFromGit();
    if (paths.empty()) paths = pathsFromFolder();
    std::sort(paths.begin(), paths.end());
    std::vector<ProjectFile> files;
    for (const std::string& path : paths) {
        // Git still lists a file that was deleted a moment ago.
        std::ifstream in(projectRoot() + "/" + path, std::ios::binary);
        if (!in || !fs::is_regular_file(projectRoot() + "/" + path)) continue;
        files.push_back({path, std::string(std::istreambuf_iterator<char>(in), {})});
    }
    if (files.empty()) throw std::runtime_error("no file of the project found under " + projectRoot());
    return files;
}

}  // namespace

const std::vector<ProjectFile>& projectFiles() {
    static const std::vector<ProjectFile> files = readProject();
    return files;
}

std::string projectRoot() {
    return LOOPMEND_SOURCE_DIR;
}

bool startsWith(const std::string& text, const std::string& head) {
    return text.rfind(head, 0) == 0;
}

bool endsWith(const std::string& text, const std::string& tail) {
    return text.size() >= tail.size() && text.compare(text.size() - tail.size(), tail.size(), tail) == 0;
}

bool isCpp(const std::string& path) {
    return endsWith(path, ".h") || endsWith(path, ".cpp");
}

bool isSource(const ProjectFile& file) {
    return isCpp(file.path) || endsWith(file.path, "CMakeLists.txt") || endsWith(file.path, ".cmake") ||
           endsWith(file.path, ".sh") || startsWith(file.text, "#!");
}

std::vector<std::string> linesOf(const std::string& text) {
    std::vector<std::string> lines;
    std::istringstream in(text);
    for (std::string line; std::getline(in, line);) lines.push_back(line);
    return lines;
}

std::string codeOnly(const std::string& cpp) {
    enum class In { code, lineComment, blockComment, text, character };
    std::string out = cpp;
    In in = In::code;
    for (std::size_t i = 0; i < cpp.size(); ++i) {
        const char c = cpp[i];
        const char next = i + 1 < cpp.size() ? cpp[i + 1] : '\0';
        switch (in) {
            case In::code: {
                // An apostrophe after a digit or letter parts the digits of a number.
                const bool afterWord = i > 0 && std::isalnum(static_cast<unsigned char>(cpp[i - 1])) != 0;
                if (c == '/' && next == '/') in = In::lineComment;
                if (c == '/' && next == '*') in = In::blockComment;
                if (in != In::code) out[i] = ' ';
                if (c == '"' && i > 0 && cpp[i - 1] == 'R') {
                    const std::string delimiter = cpp.substr(i + 1, cpp.find('(', i) - i - 1);
                    const std::size_t close = cpp.find(')' + delimiter + '"', i);
                    const std::size_t end = close == std::string::npos ? cpp.size() : close;
                    for (++i; i < end; ++i)
                        if (cpp[i] != '\n') out[i] = ' ';
                    i += delimiter.size() + 1;
                    break;
                }
                if (c == '"') in = In::text;
                if (c == '\'' && !afterWord) in = In::character;
                break;
            }
            case In::lineComment:
                if (c == '\n')
                    in = In::code;
                else
                    out[i] = ' ';
                break;
            case In::blockComment:
                if (c != '\n') out[i] = ' ';
                if (c == '/' && cpp[i - 1] == '*') in = In::code;
                break;
            case In::text:
            case In::character:
                if (c == '\n' || c == (in == In::text ? '"' : '\'')) {
                    in = In::code;
                } else {
                    out[i] = ' ';
                    if (c == '\\' && next != '\n') out[++i] = ' ';
                }
                break;
        }
    }
    return out;
}

std::string listed(const std::vector<std::string>& complaints) {
    std::string text;
    for (const std::string& complaint : complaints) text += "\n  " + complaint;
    return text;
}

}  // namespace loopmend
