// SPDX-License-Identifier: MIT
#include "tutor/swatch.h"

#include <algorithm>
#include <stdexcept>

#include <fmt/format.h>

#include "fabric/itinerary.h"
#include "pattern/counts.h"
#include "pattern/parse.h"

namespace loopmend {

namespace {

/// Rows beyond those of the lesson, so that she may knit on.
constexpr int kRowsOn = 12;

Script rowsOf(const LessonSwatch& wanted) {
    if (wanted.pattern.empty())
        return stockGround(wanted.ground, wanted.stitches, wanted.rows + kRowsOn, wanted.round);
    const Pattern pattern = parse(wanted.pattern);
    if (!pattern.problems.empty()) throw std::invalid_argument(pattern.problems.front().message);
    // A piece that ends has no more rows to knit on.
    for (int more = kRowsOn;; --more) {
        tl::expected<Script, Problem> script = expand(pattern, wanted.stitches, wanted.rows + more);
        if (script) return std::move(*script);
        if (more == 0) throw std::invalid_argument(script.error().message);
    }
}

void keepRows(Script& script, int rows) {
    if (static_cast<int>(script.rows.size()) > rows) script.rows.resize(static_cast<std::size_t>(rows));
}

}  // namespace

Swatch::Swatch(const LessonSwatch& wanted, Terms terms, bool mirrored) : setup_(wanted.setup) {
    setup_.mirrored = mirrored;
    script_ = rowsOf(wanted);
    Script knitted = script_;
    keepRows(knitted, wanted.rows);
    auto both = knitWith(knitted, setup_, wanted.faults, wanted.after);
    if (!both) throw std::invalid_argument(both.error().message);
    rows_ = both->rows;
    actual_ = std::move(both->actual);
    keepRows(knitted, rows_);
    story_ = explain(knitted, setup_, *actual_->fabric, terms);
    for (const FaultPlace& fault : wanted.faults) lessonFaults_.push_back(fault.id);
}

Script Swatch::scriptTo(int rows, int steps) const {
    Script script = script_;
    keepRows(script, rows + (steps > 0 ? 1 : 0));
    if (steps > 0 && static_cast<int>(script.rows.size()) > rows) {
        std::vector<Step>& last = script.rows.back().steps;
        last.resize(std::min(last.size(), static_cast<std::size_t>(steps)));
    }
    return script;
}

const Fabric& Swatch::meantAt(int rows, int steps) const {
    const auto key = std::make_pair(rows, steps);
    const auto known = meant_.find(key);
    if (known != meant_.end()) return *known->second.fabric;
    Script whole = script_;
    keepRows(whole, rows);
    tl::expected<Knitting, RowFault> knitting = knit(whole, setup_);
    if (!knitting) throw std::logic_error(sentence(knitting.error()));
    if (steps > 0 && rows < static_cast<int>(script_.rows.size())) {
        RowWork work(knitting->knitter);
        const std::vector<Step>& row = script_.rows[static_cast<std::size_t>(rows)].steps;
        for (std::size_t i = 0; i < std::min(row.size(), static_cast<std::size_t>(steps)); ++i) {
            if (!work.work(row[i])) break;
        }
    }
    return *meant_.emplace(key, std::move(*knitting)).first->second.fabric;
}

const std::string& Swatch::knotAt(int rows, int steps) const {
    std::string& knot = knots_[std::make_pair(rows, steps)];
    if (knot.empty()) knot = knotOf(meantAt(rows, steps));
    return knot;
}

const FoundFault* Swatch::found() const {
    if (story_.explanations.empty() || story_.explanations.front().faults.empty()) return nullptr;
    return &story_.explanations.front().faults.front();
}

std::vector<std::string> Swatch::rightFaults() const {
    std::vector<std::string> ids;
    if (story_.nothingWrong) return ids;
    for (const Explanation& e : story_.explanations) {
        for (const FoundFault& f : e.faults) ids.push_back(f.id);
        ids.insert(ids.end(), e.sameFabricAs.begin(), e.sameFabricAs.end());
    }
    // Several at once are beyond the diagnosis: the author's word is taken for them.
    if (ids.empty()) ids = lessonFaults_;
    return ids;
}

}  // namespace loopmend
