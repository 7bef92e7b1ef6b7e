// SPDX-License-Identifier: MIT
#include "reading/stitch_facts.h"

#include <algorithm>

#include <fmt/format.h>

#include "fabric/hands.h"
#include "fabric/itinerary.h"
#include "fabric/rows.h"
#include "pattern/plain_words.h"
#include "reading/read.h"

namespace loopmend {

namespace {

/// Where in its script the operation stands: the first step of its kind, in the sampler's row if it is there.
struct Standing {
    std::size_t row;
    std::size_t step;
};

std::optional<Standing> standingOf(const Sampler& sampler) {
    const std::vector<WorkedRow>& rows = sampler.script.rows;
    const auto in = [&](std::size_t r, int from) -> std::optional<Standing> {
        for (std::size_t i = 0; i < rows[r].steps.size(); ++i) {
            int stitch = 1;
            for (std::size_t k = 0; k < i; ++k) stitch += makes(rows[r].steps[k]);
            if (rows[r].steps[i].op == sampler.shows.front() && stitch >= from) return Standing{r, i};
        }
        return std::nullopt;
    };
    const auto own = static_cast<std::size_t>(sampler.row - 1);
    if (own < rows.size()) {
        if (const auto there = in(own, sampler.stitch)) return there;
    }
    for (std::size_t r = 0; r < rows.size(); ++r) {
        if (const auto there = in(r, 0)) return there;
    }
    return std::nullopt;
}

/// Takes stitches back until the knot is the one of before, or nothing of the row is left; then does what
/// hands still have to do.
void takeBack(Knitter& knitter, const std::string& before, int changed, StitchFacts& facts) {
    const auto isBefore = [&] { return knotOf(knitter.fabric()) == before; };
    for (facts.takenBack = 0; !isBefore(); ++facts.takenBack) {
        if (facts.takenBack >= changed || !knitter.rowBegun() || !knitter.tink()) break;
    }
    const std::string taking = fmt::format("taking back {}", many(facts.takenBack, "stitch", "stitches"));
    facts.comesBack = isBefore();
    if (facts.comesBack) {
        facts.takenBackWords = facts.takenBack == 0 ? "there is no stitch to take back"
                                                    : taking + " undoes it; the needle is as it was before";
        return;
    }
    if (knitter.uncross() > 0 && isBefore()) {
        facts.comesBack = true;
        facts.takenBackWords = taking + " undoes it, once the columns are crossed back";
        return;
    }
    // What was lifted from the row below, or laid over the needle, stays on it.
    const std::vector<LoopId> ahead = knitter.ahead();
    if (!ahead.empty() && !knitter.fabric()[ahead.front()].firstLink && knitter.drop(ahead.front())) {
        knitter.fabric().forgetPlace(knitter.fabric().heldOn(ahead.front(), knitter.fabric().needle()));
        facts.comesBack = isBefore();
    }
    if (!facts.comesBack && facts.takenBack == 0) {
        facts.takenBackWords = "it is not taken back stitch by stitch";
        return;
    }
    facts.takenBackWords =
        facts.comesBack
            ? taking + " leaves the lifted strand on the needle; let it fall, and all is as it was"
            : taking + " does not make it as it was before";
}

LoopId topOf(const Fabric& f, LoopId loop) {
    while (f[loop].firstKid) loop = f[f[loop].firstKid].loop;
    return loop;
}

void letRunThrough(Fabric& fabric, const std::vector<LoopId>& made, StitchFacts& facts) {
    if (made.empty()) return;
    const Rows rows = rowsOf(fabric);
    std::vector<bool> stood(static_cast<std::size_t>(fabric.entryCount()));
    for (std::int32_t e = 0; e < fabric.entryCount(); ++e)
        stood[static_cast<std::size_t>(e)] =
            fabric.has(EntryId{e}) && fabric.isLoop(EntryId{e}) && !fabric.isLive(EntryId{e});
    const LoopId top = topOf(fabric, made.front());
    if (!fabric.heldOn(top, fabric.needle()) || !fabric.letGo(top, fabric.needle(), true)) {
        facts.runsWords = "nothing runs: it is held";
        return;
    }
    letRunFrom(fabric, top);
    facts.runs = !fabric.has(made.front()) || fabric.isNothing(made.front());
    std::int32_t lowest = 1 << 30;
    for (std::int32_t e = 0; e < static_cast<std::int32_t>(stood.size()); ++e) {
        const LoopId loop{e};
        if (!stood[static_cast<std::size_t>(e)] || !fabric.has(loop) || !fabric.isLive(loop) ||
            fabric.isHeld(loop) || (fabric.isNothing(loop)))
            continue;
        ++facts.opens;
        lowest = std::min(lowest, std::max(0, rows[loop]));
    }
    facts.runsTo = facts.opens > 0 ? lowest : rows[made.front()];
    const std::string to =
        facts.runsTo == 0 ? std::string("to the cast-on") : fmt::format("to row {}", facts.runsTo);
    if (!facts.runs) {
        facts.runsWords = facts.opens > 0 ? fmt::format("a run from above stops in row {}", facts.runsTo)
                                          : "a run from above stops before it";
    } else if (facts.opens == 0) {
        facts.runsWords = "a run from above ends here: below it nothing stands open";
    } else if (facts.opens == 1) {
        facts.runsWords = fmt::format("a run from above goes through it {}", to);
    } else {
        facts.runsWords = fmt::format("a run from above forks here and goes on {}: {} stitches stand open",
                                      to, numberWord(facts.opens));
    }
}

std::vector<std::string> looks(const Fabric& fabric, Side side, bool mirrored,
                               const std::vector<LoopId>& made, Terms terms) {
    const Reading reading = readFrom(fabric, side, mirrored ? Knits::leftHanded : Knits::asItShows);
    std::vector<std::string> said;
    for (const ReadRow& row : reading.rows) {
        std::vector<const Cell*> cells;
        for (const Cell& cell : row.cells) {
            if (std::find(made.begin(), made.end(), cell.loop) != made.end()) cells.push_back(&cell);
        }
        if (side == Side::wrong) std::reverse(cells.begin(), cells.end());
        for (const Cell* cell : cells) {
            const std::string look = words(cell->symbol, terms);
            if (std::find(said.begin(), said.end(), look) == said.end()) said.push_back(look);
        }
    }
    return said;
}

/// Of what is no step of a row: how the piece was begun, whose cast-on is looked at, or how several rows lie.
std::optional<StitchFacts> factsOfRow(const Sampler& sampler, Terms terms) {
    const auto whole = knitSampler(sampler);
    if (!whole) return std::nullopt;
    StitchFacts facts;
    const bool begins = sampler.shows.front() == Op::castOn || sampler.shows.front() == Op::castOnKnitted;
    const Reading reading = readFrom(*whole->fabric, Side::right);
    for (const ReadRow& row : reading.rows) {
        if (row.row != (begins ? 0 : sampler.row)) continue;
        for (const Cell& cell : row.cells) facts.loops.push_back(cell.loop);
    }
    const bool mirrored = sampler.setup.mirrored;
    facts.looksRight = looks(*whole->fabric, Side::right, mirrored, facts.loops, terms);
    facts.looksWrong = looks(*whole->fabric, Side::wrong, mirrored, facts.loops, terms);
    if (begins) {
        facts.takenBackWords = "the piece begins with it";
        facts.runsWords = "a run from above ends at it";
    }
    return facts;
}

}  // namespace

std::optional<StitchFacts> stitchFacts(const Sampler& sampler, Terms terms) {
    const std::optional<Standing> standing = standingOf(sampler);
    if (!standing) return factsOfRow(sampler, terms);
    const std::vector<WorkedRow>& rows = sampler.script.rows;
    StitchFacts facts;

    Knitting partly = castOn(sampler.script, sampler.setup);
    for (std::size_t r = 0; r < standing->row; ++r) {
        if (!workRow(partly.knitter, rows[r])) return std::nullopt;
        endRow(partly.knitter, rows[r]);
    }
    RowWork work(partly.knitter);
    const std::vector<Step>& steps = rows[standing->row].steps;
    for (std::size_t i = 0; i < standing->step; ++i) {
        if (!work.work(steps[i])) return std::nullopt;
    }
    const std::string before = knotOf(*partly.fabric);
    const std::int32_t entries = partly.fabric->entryCount();
    int made = 0;
    std::size_t last = standing->step;
    for (; last < steps.size() && last < standing->step + sampler.shows.size() &&
           steps[last].op == sampler.shows[last - standing->step];
         ++last) {
        if (!work.work(steps[last])) return std::nullopt;
        made += makes(steps[last]);
        facts.change += makes(steps[last]) - uses(steps[last]);
    }
    std::vector<LoopId> moved;
    for (std::int32_t e = entries; e < partly.fabric->entryCount(); ++e) {
        const EntryId entry{e};
        if (!partly.fabric->has(entry)) continue;
        if (partly.fabric->isLoop(entry)) {
            facts.loops.push_back(entry);
        } else {
            moved.push_back(partly.fabric->passed(entry));
        }
    }
    // A lifted bar is a loop, too, but no stitch to be taken back.
    const auto changed = static_cast<int>(facts.loops.empty() ? moved.size() : facts.loops.size());
    takeBack(partly.knitter, before, made > 0 ? made : changed, facts);

    const auto whole = knitSampler(sampler);
    if (!whole) return std::nullopt;
    std::vector<LoopId> seen = facts.loops;
    if (seen.empty()) seen = moved;
    if (facts.loops.empty()) facts.loops = moved;
    const bool mirrored = sampler.setup.mirrored;
    facts.looksRight = looks(*whole->fabric, Side::right, mirrored, seen, terms);
    facts.looksWrong = looks(*whole->fabric, Side::wrong, mirrored, seen, terms);
    letRunThrough(*whole->fabric, facts.loops, facts);
    return facts;
}

}  // namespace loopmend
