// SPDX-License-Identifier: MIT
#pragma once

#include <string_view>

#include "tries_words.h"

/// Any bytes at all, given to what reads texts from outside. Each throws std::logic_error where a reader
/// breaks its promise: what is read without complaint is written and read again as the same. The fuzzer
/// (tools/fuzz) and the test that replays its corpus (tests/corpus) run the same five.
namespace loopmend::testing {

/// A fabric file. The check at its end is put right first, so that what stands behind it is reached.
void tryFabric(std::string_view bytes);
/// A lesson file.
void tryLesson(std::string_view bytes);
/// A file of the table, its check put right too.
void tryTable(std::string_view bytes);

using Try = void (*)(std::string_view);
struct NamedTry {
    std::string_view name;
    Try run;
};
inline constexpr NamedTry kTries[] = {{"words", tryWords},
                                      {"chart", tryChart},
                                      {"fabric", tryFabric},
                                      {"lesson", tryLesson},
                                      {"table", tryTable}};

}  // namespace loopmend::testing
