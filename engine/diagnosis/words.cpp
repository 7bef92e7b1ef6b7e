// SPDX-License-Identifier: MIT
#include "diagnosis/words.h"

#include <string_view>

#include <fmt/format.h>

#include "fault/catalogue.h"
#include "pattern/plain_words.h"

namespace loopmend {

namespace {

struct Sign {
    std::string_view id;
    std::string_view words;
};

// What tells a mistake from its look-alikes (common practice).
constexpr Sign kSigns[] = {
    {"drop_live",
     "Tug gently sideways: a loop stands free, level with its neighbors, and no strand lies above it."},
    {"drop_left_behind",
     "Tug gently sideways: a loop stands free, and the strands above it are short, one for each row without "
     "it."},
    {"lost_yo", "There is no hole, and the strand between the two stitches is long and slack."},
    {"decrease_escaped",
     "Beside the decrease a loop stands free, or lies beside the stitch that should hold it."},
    {"missed_yo", "There is no hole, and the strand between the two stitches is of the ordinary length."},
    {"accidental_yo", "A hole, and above it a column that grows out of nothing."},
    {"worked_the_bar", "A hole smaller than a yarn over; its strand belongs to the row below."},
    {"knit_below", "Two heads lie one above the other under one stitch."},
    {"slip_float_back", "A tall stitch; on the wrong side a straight strand lies across it."},
    {"slip_float_front", "A straight strand lies across a tall stitch on the right side."},
    {"yo_closed", "The hole is pinched shut and the feet of its stitch are crossed."},
    {"wrong_kp", "One head lies in front of the legs where it should lie behind, or the other way round."},
    {"twist_wrap", "The feet are crossed to the right, like a slash."},
    {"twist_tbl", "The feet are crossed to the left, like a backslash."},
    {"twist_pickup", "The feet are crossed to the right, like a slash, in one stitch only."},
    {"missed_dec", "Two columns go up side by side where they should become one."},
    {"merged", "Two columns become one, and one stitch holds both loops: nothing is loose."},
    {"wrong_lean", "Follow the strand on top down: it comes from the other column."},
    {"dec_3_for_2", "Three columns become one, in a thicker knot."},
    {"dec_off_by_one", "The count is right, but the decrease stands one column beside its line."},
    {"dec_yo_swapped", "The decrease is in order and the hole lies on its other side."},
    {"cdd_wrong_stack", "The chain up the middle is broken: the center stitch lies under another."},
    {"dec_twisted", "It leans as it should, but the stitch on top has crossed feet."},
    {"missed_inc", "No new column begins where one should."},
    {"m1_open", "A small hole at the foot of the new column."},
    {"m1_wrong_lean", "The foot of the new column is crossed to the other side."},
    {"kfb_accident", "Two columns share one foot, and a small bar lies across the second."},
    {"inc_off_by_one", "The new column begins one stitch beside its line."},
    {"miscrossed", "Where the ropes cross, the other one lies in front."},
    {"wrong_row", "One row goes right across the cloth as a ridge, or as a smooth gap in garter stitch."},
    {"extra_row",
     "Count the rows between two lines of the pattern: there are more than in the repeat below."},
    {"missed_row", "Every repeat of the row is wrong alike: the pattern is shorter there, right across."},
    {"sides_swapped", "Above a line right across, the pattern stands on the other side."},
    {"turned_midrow", "Count the rows to the left and to the right of the small hole: they differ by two."},
    {"last_left", "The edge stitch is tall, and its column has two rows fewer than the one beside it."},
    {"turn_unclosed", "At the turn a bar lies across, or a hole and one stitch too many."},
    {"rib_shift", "The ribs stop at one row and go on a stitch beside, right across."},
    {"seed_to_rib", "A few stitches side by side stand out of the pattern, two or three rows high."},
    {"repeat_drift", "The lines of the pattern step sideways, from the first repeat that is off."},
    {"marker_moved", "Only one repeat is off, and the one beside it has a stitch fewer."},
    {"cross_wrong_row",
     "Count the strands between two crossings: they are not as many as between the others."},
    {"cast_on_count", "The count is off from the first row on, always by the same number."},
    {"joined_round_twisted", "Laid flat, the work winds round the needle and never hangs as a tube."},
    {"wrong_size_read", "The count is right for another size of the pattern."},
    {"cross_missed", "The columns run straight on, and there is no gap at the row of the crossing."},
};

std::string_view signOf(std::string_view id) {
    for (const Sign& sign : kSigns) {
        if (sign.id == id) return sign.words;
    }
    if (id.substr(0, 6) == "ladder")
        return "Strands lie one above the other over a free loop, each as long as a whole stitch.";
    const Fault* fault = findFault(id);
    return fault == nullptr ? std::string_view{} : fault->sign;
}

std::string placeOf(const FoundFault& f) {
    const Fault* const fault = findFault(f.id);
    if (fault != nullptr && fault->castsOn != nullptr) return "before row 1";
    if (f.rowTo > f.row) return fmt::format("rows {} to {}", f.row, f.rowTo);
    if (fault != nullptr && fault->wholeRow) return fmt::format("row {}", f.row);
    if (f.stitchTo > f.stitch)
        return fmt::format("row {}, between the {} and the {} stitch worked", f.row, ordinalNumber(f.stitch),
                           ordinalNumber(f.stitchTo));
    return fmt::format("row {}, the {} stitch worked", f.row, ordinalNumber(f.stitch));
}

}  // namespace

std::string wordsOf(const FoundFault& found, const Script& meant, Terms terms) {
    const Fault* fault = findFault(found.id);
    if (fault == nullptr) return {};
    const int last = static_cast<int>(meant.rows.size());
    std::string words = fmt::format("{}: {}.", capital(std::string(name(*fault, terms))), placeOf(found));
    if (found.seenRow != found.row) words += fmt::format(" It is seen in row {}.", found.seenRow);
    if (fault->runs) {
        const int top = found.rows > 0 ? found.row + found.rows - 1 : last;
        if (top > found.row) words += fmt::format(" It ran down from row {}.", top);
    }
    if (!found.afterOpen) {
        switch (found.after) {
            case After::byCount:
                words += " After it the rows were worked as they are written, one stitch beside their place.";
                break;
            case After::byReading: words += " After it every stitch was kept above its own column."; break;
            case After::rowEnd: break;
        }
    }
    const std::string_view sign = signOf(found.id);
    if (!sign.empty()) words += fmt::format(" {}", sign);
    return spelled(words, terms);
}

std::string signWords(std::string_view faultId, Terms terms) {
    return spelled(std::string(signOf(faultId)), terms);
}

std::string wordsOf(const Explanations& all, Terms terms) {
    if (all.nothingWrong) return "Nothing is wrong: every stitch is as it was meant.";
    if (!all.explanations.empty()) {
        std::string words;
        for (const FoundFault& found : all.explanations.front().faults) {
            const Fault* fault = findFault(found.id);
            words += fmt::format("{}{}, {}", words.empty() ? "Most likely: " : "; and ",
                                 fault == nullptr ? "" : name(*fault, terms), placeOf(found));
        }
        return spelled(words + ".", terms);
    }
    if (!all.unknown.empty()) {
        const UnknownPlace& at = all.unknown.front();
        if (at.stitch == 0)
            return fmt::format("No known mistake explains it; the first thing that differs is in row {}.",
                               at.row);
        return fmt::format(
            "No known mistake explains it; the first stitch that differs is in row {}, the {} worked.",
            at.row, ordinalNumber(at.stitch));
    }
    return "No known mistake explains it.";
}

}  // namespace loopmend
