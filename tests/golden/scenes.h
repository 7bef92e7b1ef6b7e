// SPDX-License-Identifier: MIT
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "pattern/working.h"
#include "picture/paper/pixels.h"
#include "picture/view.h"
#include "shape/path.h"

/// Small pieces with something in them that a knitter must see, each with a twin in which one stitch is
/// different.
namespace loopmend {

struct GoldenScene {
    std::string name;
    std::function<Knitting()> knit;
    std::function<Knitting()> spoiled;
};
const std::vector<GoldenScene>& goldenScenes();

/// The yarn of a piece as it comes to lie.
Path goldenPath(const Fabric& fabric);
/// All of it, in a small picture.
View goldenView(const Path& path, Side side);

}  // namespace loopmend
