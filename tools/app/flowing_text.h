// SPDX-License-Identifier: MIT
#pragma once

#include <string>

#include "app/style.h"

namespace loopmend::app {

/// A paragraph at the cursor of the current sheet, wrapped at its edge and where it says so itself (`\n`).
/// Words between asterisks are trade words that are met for the first time: they are underlined, in a colour
/// of their own.
void flowingText(const std::string& words, Ink ink, Ink trade);

}  // namespace loopmend::app
