// SPDX-License-Identifier: MIT
#include "fault/knit_with.h"

#include <algorithm>

#include <fmt/format.h>

#include "fault/catalogue.h"

namespace loopmend {

tl::expected<PlacedFault, FaultProblem> place(const Script& script, const FaultPlace& where) {
    const auto problem = [](FaultProblem::What what, std::string message) {
        return tl::unexpected<FaultProblem>(FaultProblem{what, std::move(message)});
    };
    PlacedFault placed{findFault(where.id), where, 0};
    if (placed.fault == nullptr) {
        return problem(FaultProblem::What::unknownFault,
                       fmt::format("there is no fault \"{}\"; the nearest word is \"{}\"", where.id,
                                   nearestFault(where.id)));
    }
    const int rows = static_cast<int>(script.rows.size());
    if (where.row < 1 || where.row > rows) {
        return problem(
            FaultProblem::What::noSuchRow,
            fmt::format("{} cannot be put in row {}: rows 1 to {} are worked", where.id, where.row, rows));
    }
    const WorkedRow& row = script.rows[static_cast<std::size_t>(where.row) - 1];
    const std::optional<int> step = stepOfStitch(row, where.stitch);
    if (!step) {
        return problem(FaultProblem::What::noSuchStitch,
                       fmt::format("{} cannot be put at stitch {}: row {} has stitches 1 to {}", where.id,
                                   where.stitch, where.row, stitchesIn(row)));
    }
    placed.step = *step;
    if (placed.fault->misread()) {
        if (placed.fault->canRead(misreadingOf(script, placed)) && where.stitch == stitchOfStep(row, *step))
            return placed;
        // Most are a matter of the row, or begin with a step: named by its first stitch.
        FaultPlace other = where;
        for (const int first : {stitchOfStep(row, *step), 1}) {
            placed.step = *stepOfStitch(row, first);
            other.stitch = first;
            if (first == where.stitch || !placed.fault->canRead(misreadingOf(script, placed))) continue;
            return problem(FaultProblem::What::cannotStand,
                           fmt::format("{} cannot happen at stitch {} of row {}; there it is named by "
                                       "stitch {}: write {}",
                                       where.id, where.stitch, where.row, first, text(other)));
        }
        return problem(FaultProblem::What::cannotStand,
                       fmt::format("{} cannot happen at stitch {} of row {}: the words there cannot be taken "
                                   "so; choose another row or stitch",
                                   where.id, where.stitch, where.row));
    }
    if (where.rows < 0 || where.row + std::max(where.rows, 1) - 1 > rows) {
        return problem(FaultProblem::What::noSuchRow,
                       fmt::format("{} cannot run through {} rows from row {} up: {} rows are worked",
                                   where.id, where.rows, where.row, rows));
    }
    return placed;
}

Differs firstDifference(const Script& script, const PlacedFault& fault, int last) {
    const auto rows = static_cast<int>(script.rows.size());
    int worked = fault.place.row;
    for (int row = fault.place.row; fault.fault->rowsFor != nullptr && row <= rows; ++row) {
        for (const WorkedRow& taken : fault.fault->rowsFor(misreadingOf(script, fault), row)) {
            if (worked > std::min(rows, last)) return {row, worked, 0};
            const std::vector<Step>& meant = script.rows[static_cast<std::size_t>(worked) - 1].steps;
            const auto other =
                std::mismatch(taken.steps.begin(), taken.steps.end(), meant.begin(), meant.end());
            if (other.first != taken.steps.end() || other.second != meant.end())
                return {row, worked, static_cast<int>(other.second - meant.begin())};
            ++worked;
        }
    }
    return {fault.place.row, fault.place.row, fault.step};
}

std::vector<PlacedFault> alsoLater(const Script& script, const PlacedFault& first) {
    std::vector<PlacedFault> later;
    if (!first.fault->everyRow) return later;
    const WorkedRow& row = script.rows[static_cast<std::size_t>(first.place.row) - 1];
    const auto wordsAt = [](const WorkedRow& r, int step) {
        return static_cast<std::size_t>(step) < r.steps.size() ? r.steps[static_cast<std::size_t>(step)]
                                                               : Step{};
    };
    for (int r = first.place.row + 1; r <= static_cast<int>(script.rows.size()); ++r) {
        const WorkedRow& other = script.rows[static_cast<std::size_t>(r) - 1];
        const std::optional<int> step = stepOfStitch(other, first.place.stitch);
        if (!step || other.facing != row.facing || wordsAt(other, *step) != wordsAt(row, first.step) ||
            wordsAt(other, *step + 1) != wordsAt(row, first.step + 1))
            continue;
        PlacedFault again = first;
        again.place.row = r;
        again.step = *step;
        later.push_back(std::move(again));
    }
    return later;
}

int rowOf(const Script& script, const PlacedFault& fault) {
    if (fault.fault->misread()) return firstDifference(script, fault).after;
    if (!fault.fault->suffered() || !(fault.fault->runs || fault.fault->inCloth)) return fault.place.row;
    if (fault.place.rows > 0) return fault.place.row + fault.place.rows - 1;
    return static_cast<int>(script.rows.size());
}

int rowOf(const Script& script, const FaultPlace& where) {
    const auto placed = place(script, where);
    return placed ? rowOf(script, *placed) : where.row;
}

tl::expected<FaultyKnitting, FaultProblem> knitWith(const Script& script, const Setup& setup,
                                                    const std::vector<FaultPlace>& faults, After after) {
    std::vector<std::vector<PlacedFault>> worked(script.rows.size() + 1);
    std::vector<std::vector<PlacedFault>> suffered(script.rows.size() + 1);
    int last = 0;
    for (const FaultPlace& where : faults) {
        const auto placed = place(script, where);
        if (!placed) return tl::unexpected<FaultProblem>(placed.error());
        const int row = rowOf(script, *placed);
        last = std::max(last, row);
        const int begins = placed->fault->misread() ? where.row : row;
        (placed->fault->suffered() ? suffered : worked)[static_cast<std::size_t>(begins)].push_back(*placed);
        for (PlacedFault& again : alsoLater(script, *placed))
            worked[static_cast<std::size_t>(again.place.row)].push_back(std::move(again));
    }
    if (after != After::rowEnd || faults.empty()) last = static_cast<int>(script.rows.size());
    SideBySide both(script, setup, after);
    for (int row = 1; row <= last; ++row) {
        std::vector<PlacedFault>& here = worked[static_cast<std::size_t>(row)];
        std::stable_sort(here.begin(), here.end(),
                         [](const PlacedFault& a, const PlacedFault& b) { return a.step < b.step; });
        const auto done = both.workRow(here);
        if (!done) return tl::unexpected<FaultProblem>(done.error());
        for (const PlacedFault& fault : suffered[static_cast<std::size_t>(row)]) {
            const auto fell = both.suffer(fault);
            if (!fell) return tl::unexpected<FaultProblem>(fell.error());
        }
    }
    const int rows = both.rows();
    const int handsRows = both.handsRows();
    std::vector<SideBySide::Counts> counts = both.counts();
    std::vector<Misfit> misfits = both.misfits();
    auto [meant, actual] = std::move(both).take();
    return FaultyKnitting{std::move(meant), std::move(actual), rows,
                          handsRows,        std::move(counts), std::move(misfits)};
}

}  // namespace loopmend
