// SPDX-License-Identifier: MIT
#pragma once

#include <string>

#include <CLI/CLI.hpp>

namespace loopmend {

/// Help in plain words: an option, the name of its value, what it does.
class PlainHelp : public CLI::Formatter {
  public:
    PlainHelp() {
        column_width(32);
        label("SUBCOMMAND", "COMMAND");
        label("Subcommands", "Commands");
        label("Positionals", "Given");
    }
    std::string make_option_opts(const CLI::Option* option) const override {
        if (option->get_type_size() == 0) return "";
        const std::string type = option->get_type_name();
        return " " + type.substr(0, type.find(':')) + (option->get_expected_max() > 1 ? "..." : "");
    }
};

}  // namespace loopmend
