// SPDX-License-Identifier: MIT
#pragma once

#include <string>

#include "cli/console.h"
#include "pattern/working.h"

namespace loopmend {

/// How a piece was begun and by whose hands, as its file notes it.
Setup setupFor(const FabricNotes& notes);

/// The rows that work a fabric: by the pattern it was made from if that gives this very fabric, else read off
/// its stitches. Fails if neither tells. `name` is what the sentence calls the file.
tl::expected<Script, Failure> scriptFor(const FabricFile& file, const std::string& name);

}  // namespace loopmend
