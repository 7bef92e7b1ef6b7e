// SPDX-License-Identifier: MIT
#include "tutor/swatch.h"

#include <algorithm>
#include <stdexcept>

#include <fmt/format.h>

#include "diagnosis/words.h"
#include "fabric/itinerary.h"
#include "fault/catalogue.h"
#include "fault/confusions.h"
#include "pattern/counts.h"
#include "pattern/parse.h"
#include "repair/uneven.h"

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
        if (script) {
            // Nothing is worked on when all was bound off.
            while (static_cast<int>(script->rows.size()) > wanted.rows && script->rows.back().steps.empty())
                script->rows.pop_back();
            return std::move(*script);
        }
        if (more == 0) throw std::invalid_argument(script.error().message);
    }
}

void keepRows(Script& script, int rows) {
    if (static_cast<int>(script.rows.size()) > rows) script.rows.resize(static_cast<std::size_t>(rows));
}

}  // namespace

Swatch::Swatch(const LessonSwatch& wanted, Terms terms, bool mirrored) : setup_(wanted.setup), terms_(terms) {
    setup_.mirrored = mirrored;
    script_ = rowsOf(wanted);
    Script knitted = script_;
    keepRows(knitted, wanted.rows);
    auto both = knitWith(knitted, setup_, wanted.faults, wanted.after);
    if (!both) throw std::invalid_argument(both.error().message);
    rows_ = both->rows;
    actual_ = std::move(both->actual);
    lessonFaults_ = wanted.faults;
    atRowEnd_ = *actual_->fabric;
    if (wanted.stitchesOfRow > 0) beginRow(wanted.stitchesOfRow);
    if (!wanted.faults.empty())
        ends_ = endsOf(meantAt(rows_, steps_), scriptTo(rows_, steps_), actual_->knitter, wanted.repairs);
}

bool Swatch::isAsMeant(const Fabric& fabric, const std::string& knot, int rows, int steps) const {
    if (knotAt(rows, steps) != knot) return false;
    if (!ends_.sizes) return true;
    const Fabric& meant = meantAt(rows, steps);
    return unevenIn(meant, fabric, pairUp(meant, fabric)).size() <= ends_.unevenLeft;
}

void Swatch::beginRow(int stitches) {
    if (rows_ >= static_cast<int>(script_.rows.size()))
        throw std::invalid_argument("the piece has no further row to be put down in the middle of");
    RowWork work(actual_->knitter);
    int done = 0;
    for (const Step& step : script_.rows[static_cast<std::size_t>(rows_)].steps) {
        if (done >= stitches) break;
        if (!work.work(step))
            throw std::invalid_argument(
                "the row in hand cannot be worked over that mistake as it is written");
        done += stitchesOf(step);
        ++steps_;
    }
    // A row worked to its end would have to be turned: it is put down before its last stitch.
    if (actual_->knitter.aheadCount() == 0)
        throw std::invalid_argument(
            "the row in hand has no more stitches than that: put it down further back in it");
}

const Explanations& Swatch::story() const {
    if (!story_) {
        Script knitted = script_;
        keepRows(knitted, rows_);
        if (knotOf(atRowEnd_) == knotAt(rows_) && !ends_.sizes) {
            story_.emplace();
            story_->nothingWrong = true;
            story_->rows = rows_;
        } else {
            if (ends_.sizes) {
                story_.emplace();
                story_->rows = rows_;
            } else {
                story_ = explain(knitted, setup_, atRowEnd_, terms_);
            }
            tellSeveral(knitted);
        }
    }
    return *story_;
}

/// Of several at once the author's word is taken: among what makes the very cloth, or where that is beyond
/// the diagnosis.
void Swatch::tellSeveral(const Script& knitted) const {
    std::vector<Explanation>& told = story_->explanations;
    if (lessonFaults_.size() == 1 && !ends_.sizes) {
        // What the author did made this very cloth, whatever else makes it too.
        const std::vector<std::string> right = rightFaults();
        const bool known = std::find(right.begin(), right.end(), lessonFaults_.front().id) != right.end();
        if (known || told.empty()) return;
        told.insert(told.begin(), authorsWord(knitted));
        return;
    }
    const auto theirs = std::find_if(told.begin(), told.end(), [&](const Explanation& e) {
        return std::all_of(lessonFaults_.begin(), lessonFaults_.end(), [&](const FaultPlace& place) {
            return std::any_of(e.faults.begin(), e.faults.end(), [&](const FoundFault& f) {
                return f.id == place.id && f.row == place.row && f.stitch <= place.stitch &&
                       place.stitch <= f.stitchTo;
            });
        });
    });
    if (theirs != told.end()) std::rotate(told.begin(), theirs, theirs + 1);
    if (!told.empty()) return;
    story_->explanations.push_back(authorsWord(knitted));
    story_->words = told.front().words;
}

Explanation Swatch::authorsWord(const Script& knitted) const {
    Explanation all;
    all.probability = 1;
    for (const FaultPlace& place : lessonFaults_) {
        FoundFault found;
        found.id = place.id;
        found.row = place.row;
        found.seenRow = place.row;
        found.stitch = place.stitch;
        found.stitchTo = place.stitch;
        found.rows = place.rows;
        found.afterOpen = true;
        all.words += (all.words.empty() ? "" : " ") + wordsOf(found, knitted, terms_);
        all.faults.push_back(std::move(found));
    }
    return all;
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
    const Explanations& all = story();
    if (all.explanations.empty() || all.explanations.front().faults.empty()) return nullptr;
    return &all.explanations.front().faults.front();
}

std::vector<std::string> Swatch::rightFaults() const {
    std::vector<std::string> ids;
    for (const Explanation& e : story().explanations) {
        for (const FoundFault& f : e.faults) ids.push_back(f.id);
        ids.insert(ids.end(), e.sameFabricAs.begin(), e.sameFabricAs.end());
    }
    // Where the cloth does not tell, the author's word is taken.
    if (ids.empty() && !story().nothingWrong) {
        for (const FaultPlace& place : lessonFaults_) ids.push_back(place.id);
    }
    return ids;
}

const std::vector<std::string>& Swatch::takenFor() const {
    if (!takenFor_) {
        takenFor_.emplace();
        const Fault* fault = found() == nullptr ? nullptr : findFault(found()->id);
        if (fault != nullptr) {
            if (const auto example = exampleOf(*fault)) takenFor_ = easilyTakenFor(likenesses(*example));
        }
    }
    return *takenFor_;
}

std::vector<std::vector<std::string>> Swatch::causes() const {
    std::vector<std::vector<std::string>> all;
    const std::vector<Explanation>& told = story().explanations;
    if (told.empty() || told.front().faults.size() == 1) {
        std::vector<std::string> right = rightFaults();
        if (!right.empty()) all.push_back(std::move(right));
        return all;
    }
    for (const FoundFault& f : told.front().faults) {
        const bool known =
            std::any_of(all.begin(), all.end(), [&](const auto& c) { return c.front() == f.id; });
        if (!known) all.push_back({f.id});
    }
    return all;
}

}  // namespace loopmend
