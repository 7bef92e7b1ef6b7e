// SPDX-License-Identifier: MIT
#pragma once

#include <string>

#include <tl/expected.hpp>

namespace loopmend::app {

class App;

/// Plays the lesson on the table from its first page to its last, as somebody does who asks for every hint, and keeps
/// a picture of each page and of each move. Returns a sentence on where they lie.
tl::expected<std::string, std::string> play(App& app, const std::string& folder);

/// Draws and takes in what the cloth does until nothing moves any more (or so many seconds have gone by).
void settle(App& app, double mostSeconds = 20);

}  // namespace loopmend::app
