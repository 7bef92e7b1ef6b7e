// SPDX-License-Identifier: MIT
#include "cli/mending.h"

#include <fmt/format.h>
#include <CLI/CLI.hpp>

#include "cli/worked_from.h"
#include "repair/uneven.h"

namespace loopmend {

void Mending::addTo(CLI::App& command) {
    command.add_option("FABRIC", actualPath_, "the fabric as it is")->required()->type_name("");
    command.add_option("--meant", meantPath_, "the fabric as it was meant to be")
        ->required()
        ->type_name("FABRIC");
    command.add_flag("--all", all_, "also plans that leave a difference");
}

tl::expected<void, Failure> Mending::prepare(Console& console) {
    auto actual = console.readFabric(actualPath_);
    if (!actual) return tl::unexpected<Failure>(actual.error());
    auto meant = console.readFabric(meantPath_);
    if (!meant) return tl::unexpected<Failure>(meant.error());
    actual_ = std::make_unique<FabricFile>(std::move(*actual));
    meant_ = std::make_unique<FabricFile>(std::move(*meant));
    same_ = nothingToMend(meant_->fabric, actual_->fabric);
    if (same_) return {};
    const auto script = scriptFor(*meant_, inputName(meantPath_));
    if (!script) return tl::unexpected<Failure>(script.error());
    auto knitter = knitterOver(*actual_, inputName(actualPath_));
    if (!knitter) return fail(knitter.error().message);
    knitter_ = std::make_unique<Knitter>(std::move(*knitter));
    PlanAsk ask;
    ask.all = all_;
    if (!pacePath_.empty()) {
        const auto text = console.read(pacePath_);
        if (!text) return tl::unexpected<Failure>(text.error());
        const auto pace = Pace::from(*text);
        if (!pace) return fail(fmt::format("{}: {}", inputName(pacePath_), pace.error()));
        ask.pace = *pace;
    }
    ways_ = waysBack(meant_->fabric, *script, *knitter_, ask);
    for (std::size_t i = 0; i < ways_.all.size(); ++i) {
        if (all_ || ways_.all[i].plan.proved) listed_.push_back(i);
    }
    return {};
}

}  // namespace loopmend
