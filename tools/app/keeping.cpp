// SPDX-License-Identifier: MIT
#include "app/keeping.h"

#include <filesystem>
#include <string_view>

#include <fmt/format.h>

#include "store/files.h"

namespace loopmend::app {

Keeping::Kept Keeping::read() const {
    return {};
}

std::optional<std::string> Keeping::write(const Kept& /*kept*/) {
    return std::nullopt;
}

}  // namespace loopmend::app
