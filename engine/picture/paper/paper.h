// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include <tl/expected.hpp>

#include "picture/canvas.h"

/// Drawings as the bytes of a file: whoever writes it, writes it whole. The same drawing gives the same
/// bytes.
namespace loopmend {

enum class PaperFormat { svg, pdf, png };

/// The format that a file name asks for by its ending (.svg, .pdf, .png in any case).
std::optional<PaperFormat> paperFormatOf(std::string_view fileName);

struct PaperOptions {
    double pixelsPerMm = 8;  ///< of a png; brought down where the picture would pass 10 000 pixels a side
};

/// A drawing on paper; the error is a sentence (no memory for a png, a drawing without size).
tl::expected<std::string, std::string> onPaper(const Drawing& drawing, PaperFormat format,
                                               const PaperOptions& options = {});

/// Several drawings as the sheets of one pdf, each of its own size; the error is a sentence.
tl::expected<std::string, std::string> onSheets(const std::vector<Drawing>& drawings,
                                                const std::string& title);

}  // namespace loopmend
