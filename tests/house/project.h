// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <vector>

namespace loopmend {

/// A file that belongs to the project (what git tracks, or would), read whole.
struct ProjectFile {
    std::string path;  ///< from the project's folder, with forward slashes
    std::string text;
};

/// Every file of the project in the order of their paths, from git where this is a checkout and from the
/// folder itself, less build/, where it is not. Throws if nothing is found: an empty list would pass any
/// test.
const std::vector<ProjectFile>& projectFiles();

/// The folder at the top of the project, without a slash at the end.
std::string projectRoot();

bool startsWith(const std::string& text, const std::string& head);
bool endsWith(const std::string& text, const std::string& tail);

/// C++ sources and headers.
bool isCpp(const std::string& path);

/// C++, CMake files and scripts (known by their first line): what must carry a licence line.
bool isSource(const ProjectFile& file);

std::vector<std::string> linesOf(const std::string& text);

/// The C++ text with comments and the insides of string literals blanked, line breaks kept.
std::string codeOnly(const std::string& cpp);

/// The complaints one to a line, for a test's message.
std::string listed(const std::vector<std::string>& complaints);

}  // namespace loopmend
