// SPDX-License-Identifier: MIT
#include "cli/worked_from.h"

#include <fmt/format.h>

#include "fabric/itinerary.h"
#include "pattern/counts.h"
#include "pattern/parse.h"
#include "reading/script.h"

namespace loopmend {

Setup setupFor(const FabricNotes& notes) {
    Setup setup;
    setup.castOn = notes.castOn;
    setup.habit = notes.habit;
    setup.mirrored = notes.mirrored;
    return setup;
}

tl::expected<Script, Failure> scriptFor(const FabricFile& file, const std::string& name) {
    const FabricNotes& notes = file.notes;
    if (!notes.pattern.empty() && notes.stitches > 0) {
        // The words may have been meant otherwise than they are read here, so they are tried.
        auto script = expand(parse(notes.pattern), notes.stitches, notes.rows);
        if (script) {
            const auto knitting = knit(*script, setupFor(notes));
            if (knitting && knotOf(*knitting->fabric) == knotOf(file.fabric)) return std::move(*script);
        }
    }
    auto script = scriptOf(file.fabric, notes.mirrored ? Knits::leftHanded : Knits::asItShows);
    if (script) return std::move(*script);
    return fail(fmt::format("cannot tell how {} was worked: {}; knit the meant fabric from its pattern", name,
                            sentence(script.error().unnamed)));
}

}  // namespace loopmend
