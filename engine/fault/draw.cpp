// SPDX-License-Identifier: MIT
#include "fault/draw.h"

#include <algorithm>

#include <fmt/format.h>

#include "fault/knit_with.h"
#include "fault/steps.h"
#include "pattern/numbers.h"
#include "pattern/print.h"
#include "reading/notice.h"

namespace loopmend {

std::uint64_t Seeded::next() {
    state_ += 0x9E3779B97F4A7C15ULL;
    std::uint64_t z = state_;
    z = (z ^ (z >> 30U)) * 0xBF58476D1CE4E5B9ULL;
    z = (z ^ (z >> 27U)) * 0x94D049BB133111EBULL;
    return z ^ (z >> 31U);
}

int Seeded::below(int n) {
    const auto range = static_cast<std::uint64_t>(std::max(n, 1));
    // The first numbers that would make the small remainders more frequent are thrown again.
    const std::uint64_t reject = (0 - range) % range;
    std::uint64_t thrown = next();
    while (thrown < reject) thrown = next();
    return static_cast<int>(thrown % range);
}

namespace {

/// The rows that are asked for, and of them the places.
class Asked {
  public:
    Asked(const Wanted& wanted, const Script& script)
        : wanted_(wanted), rows_(static_cast<int>(script.rows.size())) {}

    bool row(int row) const {
        return row >= wanted_.rowFrom && row <= (wanted_.rowTo > 0 ? wanted_.rowTo : rows_) &&
               (wanted_.below < 0 || row == rows_ - wanted_.below);
    }
    /// A place as wide as `width` stitches.
    bool place(const WorkedRow& words, int row, int step, int stitch, int width) const {
        if (!this->row(row)) return false;
        const int inRow = stitchesIn(words);
        const int last = stitch + width - 1;
        if (wanted_.atEdge && stitch != 1 && last != inRow) return false;
        if (stitch <= wanted_.clearOfEdges || last > inRow - wanted_.clearOfEdges) return false;
        if (stitch < wanted_.stitchFrom || (wanted_.stitchTo > 0 && last > wanted_.stitchTo)) return false;
        if (wanted_.near > 0 && (last < wanted_.near - kNear || stitch > wanted_.near + kNear - 1))
            return false;
        if (wanted_.on.empty()) return true;
        Step one = words.steps[static_cast<std::size_t>(step)];
        if (one.op == Op::knit || one.op == Op::purl) one.count = 1;
        return printStep(one) == wanted_.on;
    }

  private:
    const Wanted& wanted_;
    int rows_;
};

std::vector<FaultPlace> placesMisread(const Fault& fault, const Script& script, const Asked& asked) {
    std::vector<FaultPlace> places;
    for (int row = 1; row <= static_cast<int>(script.rows.size()); ++row) {
        const WorkedRow& words = script.rows[static_cast<std::size_t>(row) - 1];
        int stitch = 1;
        for (int i = 0; i < static_cast<int>(words.steps.size()); ++i) {
            const int width = stitchesOf(words.steps[static_cast<std::size_t>(i)]);
            if (width > 0 && fault.canRead({script, row, i, 0}) &&
                (fault.wholeRow ? asked.row(row) : asked.place(words, row, i, stitch, width)))
                places.push_back({std::string(fault.id), row, stitch, 0});
            stitch += width;
        }
    }
    return places;
}

std::vector<FaultPlace> placesSuffered(const Fault& fault, const Script& script, const Setup& setup,
                                       const Asked& asked) {
    std::vector<FaultPlace> places;
    SideBySide both(script, setup, After::byReading);
    while (!both.done()) {
        if (!both.workRow()) return places;
    }
    both.split();
    const int rows = static_cast<int>(script.rows.size());
    for (int row = fault.runs || fault.inCloth ? 1 : rows; row <= rows; ++row) {
        const WorkedRow& words = script.rows[static_cast<std::size_t>(row) - 1];
        for (int stitch = 1; stitch <= stitchesIn(words); ++stitch) {
            if (!asked.place(words, row, *stepOfStitch(words, stitch), stitch, 1)) continue;
            const FaultPlace place{std::string(fault.id), row, stitch, 0};
            const SideBySide::Mark before = both.mark();
            if (both.suffer({&fault, place, 0})) places.push_back(place);
            both.rollBack(before);
        }
    }
    return places;
}

std::vector<FaultPlace> placesWorked(const Fault& fault, const Script& script, const Setup& setup,
                                     const Asked& asked) {
    std::vector<FaultPlace> places;
    Knitting knitting = castOn(script, setup);
    for (int r = 1; r <= static_cast<int>(script.rows.size()); ++r) {
        const WorkedRow& row = script.rows[static_cast<std::size_t>(r) - 1];
        RowWork work(knitting.knitter);
        int stitch = 1;
        for (int i = 0; i < static_cast<int>(row.steps.size()); ++i) {
            const Step& step = row.steps[static_cast<std::size_t>(i)];
            const int width = stitchesOf(step);
            const int each = fault.anyStitch ? 1 : std::max(width, 1);
            for (int k = 0; k < width && !takesLoopLeft(row, i); k += each) {
                const Spot spot{row, i, knitting.knitter, k};
                if (asked.place(row, r, i, stitch + k, each) && fault.standsOn(spot))
                    places.push_back({std::string(fault.id), r, stitch + k, 0});
            }
            stitch += width;
            if (!work.work(step)) return places;
        }
        endRow(knitting.knitter, row);
    }
    return places;
}

/// Some stitch looks otherwise from that side than it was meant to.
bool isSeenFrom(Side side, const Script& script, const Setup& setup, const FaultPlace& place) {
    const auto piece = knitWith(script, setup, {place}, After::byReading);
    if (!piece) return false;
    Attention attention;
    attention.looksAt = side == Side::right ? SeenFrom::right : SeenFrom::wrong;
    return firstNoticeable(*piece->meant.fabric, *piece->actual.fabric, attention).has_value();
}

bool readInto(std::string_view word, Wanted& wanted) {
    const std::size_t equals = word.find('=');
    const std::string_view name = word.substr(0, equals);
    if (name == "edge" && equals == std::string_view::npos) return wanted.atEdge = true;
    if (equals == std::string_view::npos) return false;
    const std::string_view value = word.substr(equals + 1);
    if (name == "on") {
        wanted.on = value;
        return !value.empty();
    }
    if (name == "seen") {
        if (value != "rs" && value != "ws") return false;
        wanted.seenFrom = value == "rs" ? Side::right : Side::wrong;
        return true;
    }
    const std::size_t dash = value.find('-');
    const auto from = wholeNumber(value.substr(0, dash));
    const auto to = dash == std::string_view::npos ? from : wholeNumber(value.substr(dash + 1));
    if (!from || !to || *from > *to) return false;
    if (name == "rows" && *from > 0) {
        wanted.rowFrom = *from;
        wanted.rowTo = *to;
        return true;
    }
    if (name == "stitches" && *from > 0) {
        wanted.stitchFrom = *from;
        wanted.stitchTo = *to;
        return true;
    }
    if (dash != std::string_view::npos) return false;
    int* const place = name == "clear"               ? &wanted.clearOfEdges
                       : name == "near" && *from > 0 ? &wanted.near
                       : name == "below"             ? &wanted.below
                                                     : nullptr;
    if (place == nullptr) return false;
    *place = *from;
    return true;
}

}  // namespace

tl::expected<Wanted, std::string> wantedFrom(std::string_view words) {
    Wanted wanted;
    std::string_view rest = words;
    while (!rest.empty()) {
        const std::string_view word = rest.substr(0, rest.find(','));
        rest.remove_prefix(std::min(rest.size(), word.size() + 1));
        if (readInto(word, wanted)) continue;
        return tl::make_unexpected(
            fmt::format("\"{}\" asks for no place; write rows=3-6, stitches=4-9, clear=2, edge, near=8, "
                        "below=3, on=k2tog or seen=rs|ws, with commas between",
                        word));
    }
    return wanted;
}

std::vector<FaultPlace> placesFor(const Fault& fault, const Script& script, const Setup& setup,
                                  const Wanted& wanted) {
    const Asked asked(wanted, script);
    if (fault.misread()) return placesMisread(fault, script, asked);
    if (fault.suffered()) return placesSuffered(fault, script, setup, asked);
    return placesWorked(fault, script, setup, asked);
}

std::optional<FaultPlace> drawPlace(std::uint64_t seed, const Fault& fault, const Script& script,
                                    const Setup& setup, const Wanted& wanted) {
    std::vector<FaultPlace> places = placesFor(fault, script, setup, wanted);
    Seeded dice(seed);
    while (!places.empty()) {
        const auto at = places.begin() + dice.below(static_cast<int>(places.size()));
        if (!wanted.seenFrom || isSeenFrom(*wanted.seenFrom, script, setup, *at)) return *at;
        places.erase(at);
    }
    return std::nullopt;
}

}  // namespace loopmend
