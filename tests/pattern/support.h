// SPDX-License-Identifier: MIT
#pragma once

#include "pattern/counts.h"
#include "pattern/parse.h"
#include "pattern/print.h"

#include <initializer_list>
#include <string>
#include <string_view>
#include <vector>

namespace loopmend::testing {

/// All problems, one a line, for INFO.
std::string told(const std::vector<Problem>& problems);
/// The body of a row read from `words`, printed in normal form; the problems instead if there are any.
std::string normal(std::string_view words, const ParseOptions& options = {});
/// Words of a row and their normal form.
struct InNormalForm {
    const char* words;
    const char* normal;
};
void readsAll(std::initializer_list<InNormalForm> readings);
/// A whole text as it is printed back, without its last line feed; its problems instead if there are any, or
/// that what is printed is not read as the same rows.
std::string printedBack(std::string_view text, const ParseOptions& options = {});
/// What was taken which way, one a line: the words and the reading.
std::string readings(std::string_view text, const ParseOptions& options = {});
/// The problems of a row read from `words`.
std::vector<Problem> problemsOf(std::string_view words, const ParseOptions& options = {});
/// Stitches after each row of a report.
std::vector<std::int64_t> after(const CheckReport& report);

}  // namespace loopmend::testing
