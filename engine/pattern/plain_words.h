// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <string_view>

#include "pattern/terms.h"

/// Numbers and spelling as sentences for a person want them.
namespace loopmend {

/// `13th`.
std::string ordinalNumber(int n);
/// `three`, up to twelve; then figures.
std::string numberWord(int n);
/// `third`, up to twelfth; then `13th`.
std::string ordinalWord(int n);
/// `one row`, `six rows`.
std::string many(int n, std::string_view one, std::string_view more);
std::string capital(std::string words);
/// A refusal's or note's words as a sentence: capital letter, full stop.
std::string asSentence(std::string words);
/// On one line: control characters are blanks, and none stands at an end.
std::string oneLine(std::string words);
/// US spelling into UK where asked.
std::string spelled(std::string words, Terms terms);
/// What has no letter in it and no digit, as the signs of a chart, is looked at, not read, and not counted.
int wordCount(std::string_view words);

}  // namespace loopmend
