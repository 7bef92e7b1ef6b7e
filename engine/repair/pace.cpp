// SPDX-License-Identifier: MIT
#include "repair/pace.h"

#include <algorithm>
#include <array>
#include <cstdlib>
#include <utility>

#include <fmt/format.h>

namespace loopmend {

namespace {

struct Figure {
    std::string_view name;
    double Pace::*value;
};

constexpr std::array<Figure, 26> kFigures = {{{"seconds-per-stitch", &Pace::secondsPerStitch},
                                              {"take-back", &Pace::tinkFactor},
                                              {"rip-seconds", &Pace::ripSecondsPerStitch},
                                              {"seat", &Pace::seatFactor},
                                              {"seat-threaded", &Pace::seatThreadedFactor},
                                              {"hook", &Pace::hookFactor},
                                              {"alternate", &Pace::alternateFactor},
                                              {"edge-loop", &Pace::edgeLoopFactor},
                                              {"short-rung", &Pace::shortRungFactor},
                                              {"shared-strand", &Pace::sharedStrandFactor},
                                              {"hook-set-up-seconds", &Pace::hookSetUpSeconds},
                                              {"panel-set-up-seconds", &Pace::panelSetUpSeconds},
                                              {"panel", &Pace::panelFactor},
                                              {"panel-row-seconds", &Pace::panelRowSeconds},
                                              {"pin-seconds", &Pace::pinSeconds},
                                              {"thread", &Pace::threadFactor},
                                              {"slack-seconds", &Pace::slackSeconds},
                                              {"sew", &Pace::sewFactor},
                                              {"sew-over-seconds", &Pace::sewOverSeconds},
                                              {"fasten-seconds", &Pace::fastenSeconds},
                                              {"weave-seconds", &Pace::weaveSeconds},
                                              {"unchain", &Pace::unchainFactor},
                                              {"cast-on", &Pace::castOnFactor},
                                              {"snip-seconds", &Pace::snipSeconds},
                                              {"turn-join-seconds", &Pace::turnJoinSeconds},
                                              {"wash-seconds", &Pace::washSeconds}}};

constexpr std::string_view kBlanks = " \t\r";

std::string_view trimmed(std::string_view text) {
    const std::size_t from = text.find_first_not_of(kBlanks);
    if (from == std::string_view::npos) return {};
    return text.substr(from, text.find_last_not_of(kBlanks) - from + 1);
}

}  // namespace

std::string Pace::text() const {
    std::string lines;
    for (const Figure& figure : kFigures) lines += fmt::format("{} {:g}\n", figure.name, this->*figure.value);
    return lines;
}

tl::expected<Pace, std::string> Pace::from(std::string_view text) {
    Pace pace;
    int number = 0;
    while (!text.empty()) {
        const std::size_t end = text.find('\n');
        std::string_view line = text.substr(0, end);
        text = end == std::string_view::npos ? std::string_view{} : text.substr(end + 1);
        ++number;
        line = trimmed(line.substr(0, line.find('#')));
        if (line.empty()) continue;
        const std::string_view name = line.substr(0, line.find_first_of(kBlanks));
        const std::string value(trimmed(line.substr(name.size())));
        const auto* figure =
            std::find_if(kFigures.begin(), kFigures.end(), [&](const Figure& f) { return f.name == name; });
        if (figure == kFigures.end()) {
            return tl::make_unexpected(
                fmt::format("line {}: \"{}\" is no figure of a pace; they are seconds-per-stitch, take-back, "
                            "hook and so on",
                            number, name.substr(0, 40)));
        }
        char* rest = nullptr;
        const double read = std::strtod(value.c_str(), &rest);
        if (value.empty() || *rest != '\0' || !(read > 0) || read > 100000) {
            return tl::make_unexpected(
                fmt::format("line {}: {} needs a number above 0", number, figure->name));
        }
        pace.*(figure->value) = read;
    }
    return pace;
}

Pace Pace::calibrated(const std::vector<Attempted>& attempts) const {
    constexpr double kAway = 10.0;
    constexpr double kWeight = 3.0;
    std::vector<double> ratios;
    for (const Attempted& a : attempts) {
        if (!(a.reckonedSeconds > 0) || !(a.tookSeconds > 0)) continue;
        const double ratio = a.tookSeconds / a.reckonedSeconds;
        if (ratio < kAway) ratios.push_back(ratio);
    }
    if (ratios.empty()) return *this;
    std::sort(ratios.begin(), ratios.end());
    const std::size_t half = ratios.size() / 2;
    const double middle = ratios.size() % 2 == 1 ? ratios[half] : (ratios[half - 1] + ratios[half]) / 2;
    const auto n = static_cast<double>(ratios.size());
    Pace pace = *this;
    pace.secondsPerStitch *= (middle * n + kWeight) / (n + kWeight);
    return pace;
}

}  // namespace loopmend
