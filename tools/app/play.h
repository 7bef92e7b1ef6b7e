// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <vector>

#include <tl/expected.hpp>

#include "tutor/page.h"

namespace loopmend::app {

class App;

/// A page as it was played: what it said at its end, and the pictures of the window that belong to it.
struct PlayedPage {
    Page page;
    std::vector<std::string> pictures;  ///< file names in the folder, in order
};

/// Plays the lesson on the table from its first page to its last, as somebody does who asks for every hint,
/// and keeps a picture of each page and of each move in a folder. The failure is one sentence.
tl::expected<std::vector<PlayedPage>, std::string> play(App& app, const std::string& folder);

/// Draws and takes in what the cloth does until nothing moves any more (or so many seconds have gone by).
void settle(App& app, double mostSeconds = 20);

}  // namespace loopmend::app
