// SPDX-License-Identifier: MIT
#include "diagnosis/redoing.h"

#include <algorithm>

#include "fault/knit_with.h"

namespace loopmend {

namespace {

bool catchesFloats(const WorkedRow& row) {
    return std::any_of(row.steps.begin(), row.steps.end(), [](const Step& step) {
        return step.op == Op::knitWithFloat || step.op == Op::purlWithFloat;
    });
}

}  // namespace

Redoing::Redoing(const Script& script, const Setup& setup, const std::vector<KnownFault>& known, int rows)
    : both_(script, setup, After::byReading),
      rows_(rows),
      any_(!known.empty()),
      worked_(script.rows.size() + 1),
      read_(worked_.size()),
      fallen_(worked_.size()) {
    for (const KnownFault& k : known) {
        const Fault& fault = *k.fault.fault;
        const auto row = static_cast<std::size_t>(k.fault.place.row);
        if (fault.misread()) {
            read_[row].push_back(k);
        } else if (!fault.suffered()) {
            worked_[row].push_back(k);
            for (const PlacedFault& again : alsoLater(script, k.fault))
                worked_[static_cast<std::size_t>(again.place.row)].push_back({again, k.after});
        } else {
            const std::size_t since = row + static_cast<std::size_t>(std::max(1, k.fault.place.rows)) - 1;
            // What fell after the last row fell in the order in which it is told, whatever it is.
            const bool last = ((fault.runs || fault.inCloth) && k.fault.place.rows == 0) ||
                              since >= static_cast<std::size_t>(rows);
            (last ? atLast_ : fallen_[since]).push_back(k);
        }
    }
    for (std::vector<KnownFault>& row : worked_) {
        std::stable_sort(row.begin(), row.end(), [](const KnownFault& a, const KnownFault& b) {
            return a.fault.step < b.fault.step;
        });
    }
    const auto begins = std::find_if(read_[1].begin(), read_[1].end(),
                                     [](const KnownFault& k) { return k.fault.fault->castsOn != nullptr; });
    if (begins != read_[1].end()) {
        both_.setAfter(begins->after);
        (void)both_.misread(begins->fault);
        read_[1].erase(begins);
    }
    worn_.assign(atLast_.size(), false);
    for (const KnownFault& k : atLast_) {
        // A float is caught by what its stitch stands on, two rows up.
        const auto up = static_cast<std::size_t>(k.fault.place.row) + 1;
        const bool caught = up < script.rows.size() && catchesFloats(script.rows[up]);
        wornFrom_.push_back(k.fault.place.row + (caught ? 2 : 1));
    }
    if (any_) both_.split();
}

Redoing::Redoing(const Redoing& before, const Script& script)
    : both_(before.both_, script),
      rows_(static_cast<int>(script.rows.size())),
      any_(false),
      worked_(script.rows.size() + 1),
      read_(worked_.size()),
      fallen_(worked_.size()) {}

bool Redoing::beginRow() {
    if (both_.step() >= 0 || !any_) return true;
    made_ = 0;
    for (const KnownFault& k : read_[static_cast<std::size_t>(both_.rows()) + 1]) {
        both_.setAfter(k.after);
        if (!both_.misread(k.fault)) return false;
    }
    return true;
}

bool Redoing::workTo(int step) {
    if (!beginRow()) return false;
    const std::vector<KnownFault>& here = worked_[static_cast<std::size_t>(both_.rows()) + 1];
    for (; made_ < here.size() && here[made_].fault.step <= step; ++made_) {
        const KnownFault& k = here[made_];
        if (both_.step() > k.fault.step || !both_.workTo(k.fault.step)) return false;
        both_.workWhatIsExtra();  // as she went on before this one
        both_.setAfter(k.after);
        if (!both_.makeMistake(k.fault)) return false;
    }
    return both_.step() <= step && both_.workTo(step);
}

bool Redoing::endRow() {
    const int row = both_.rows() + 1;
    const std::vector<KnownFault>& here = worked_[static_cast<std::size_t>(row)];
    while (made_ < here.size()) {
        const KnownFault& k = here[made_++];
        if (both_.step() > k.fault.step || !both_.workTo(k.fault.step)) return false;
        both_.workWhatIsExtra();  // as she went on before this one
        both_.setAfter(k.after);
        if (!both_.makeMistake(k.fault)) return false;
    }
    made_ = 0;
    if (!both_.endRow() || !suffer(fallen_[static_cast<std::size_t>(row)])) return false;
    wearThrough();
    return true;
}

bool Redoing::workRow() {
    const auto row = static_cast<std::size_t>(both_.rows()) + 1;
    if (!beginRow()) return false;
    if (!worked_[row].empty()) return !both_.nextRowIsMisread() && endRow();
    if (!both_.workRow() || !suffer(fallen_[row])) return false;
    wearThrough();
    return true;
}

bool Redoing::suffer(const std::vector<KnownFault>& fallen) {
    for (const KnownFault& k : fallen) {
        both_.setAfter(k.after);
        if (k.fault.place.row > both_.rows() || !both_.suffer(k.fault)) return false;
    }
    return true;
}

/// Where yarn wears through inside the cloth no row worked later has to do with it: it may as well come apart
/// as soon as the stitch is worked over, and each part of the yarn is seen beside its own.
void Redoing::wearThrough() {
    for (std::size_t i = 0; i < atLast_.size(); ++i) {
        const KnownFault& k = atLast_[i];
        if (worn_[i] || !k.fault.fault->inCloth || both_.rows() < wornFrom_[i]) continue;
        worn_[i] = both_.suffer(k.fault).has_value();
    }
}

bool Redoing::fallAtLast() {
    for (std::size_t i = 0; i < atLast_.size(); ++i) {
        if (!worn_[i] && !suffer({atLast_[i]})) return false;
    }
    return true;
}

void Redoing::rollBack(const Mark& mark) {
    both_.rollBack(mark.both);
    both_.setAfter(mark.after);
    made_ = mark.made;
    worn_ = mark.worn;
}

}  // namespace loopmend
