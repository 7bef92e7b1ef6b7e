// SPDX-License-Identifier: MIT
#include "tutor/lesson_handout_sampler.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <set>
#include <utility>

#include <fmt/format.h>

#include "fabric/itinerary.h"
#include "fault/catalogue.h"
#include "fault/knit_with.h"
#include "fault/steps.h"
#include "pattern/parse.h"
#include "pattern/print.h"
#include "reading/script.h"
#include "tutor/row_words.h"
#include "tutor/swatch.h"
#include "tutor/words.h"

namespace loopmend {

namespace {

bool sameWork(const WorkedRow& a, const WorkedRow& b) {
    return a.facing == b.facing && a.round == b.round && a.steps == b.steps;
}

/// Rows after `start` repeat every `period` rows to the end.
bool repeats(const std::vector<WorkedRow>& rows, std::size_t start, std::size_t period) {
    if (start + period >= rows.size()) return false;
    for (std::size_t i = start + period; i < rows.size(); ++i) {
        if (!sameWork(rows[i], rows[i - period])) return false;
    }
    return true;
}

std::string rowWords(const WorkedRow& worked, int number, Terms terms) {
    Row row;
    row.round = worked.round;
    row.spans = {{number, number}};
    if (!worked.round) row.facing = worked.facing;
    row.items = shortestItems(worked.steps);
    return printRow(row, terms);
}

// ---- the mistake

/// Mistakes that are made the same way wherever they stand.
struct Purpose {
    std::string_view id;
    std::string_view words;
};
constexpr std::array kPurposes = {
    Purpose{"drop_left_behind", "let it slide off the left needle unworked, and go on with the next one"},
    Purpose{"lost_yo", "let the strand of the last row's yarn over slide off the needle, and go on"},
    Purpose{"missed_yo", "leave the yarn over out"},
    Purpose{"accidental_yo", "lay the yarn over the needle once, before you work it"},
    Purpose{"worked_the_bar", "first lift the strand that lies before it, and work that as a stitch too"},
    Purpose{"knit_below", "go into the stitch one row further down, and let the upper loop fall into it"},
    Purpose{"slip_float_back", "slip it without working it; the strand lies on the wrong side"},
    Purpose{"slip_float_front", "slip it without working it; the strand lies on the right side"},
    Purpose{"yo_closed", "work the yarn over through its far leg, so that it is twisted shut"},
    Purpose{"twist_wrap", "wrap the yarn round the needle the other way; in the next row work it as always"},
    Purpose{"twist_tbl", "work it through its back leg"},
    Purpose{"twist_pickup", "take it off, put it back with its left leg in front, and work it as always"},
    Purpose{"missed_dec", "leave the decrease out: work the first of its stitches alone"},
    Purpose{"merged", "work it together with the next one"},
    Purpose{"wrong_lean", "work the decrease that leans the other way"},
    Purpose{"dec_3_for_2", "take one stitch more into the decrease"},
    Purpose{"dec_off_by_one", "work the next stitch first and the decrease beside its place"},
    Purpose{"dec_yo_swapped", "change the order of the decrease and its yarn over"},
    Purpose{"cdd_wrong_stack", "slip one stitch, work the other two together, and pass the slipped one over"},
    Purpose{"dec_twisted", "do not turn the stitches first: work them together through their back legs"},
    Purpose{"missed_inc", "leave the increase out"},
    Purpose{"m1_open", "work the lifted strand through the leg that leads, so that it stays open"},
    Purpose{"m1_wrong_lean", "lift the strand from the other side, so that it leans the other way"},
    Purpose{"kfb_accident", "knit it, leave it on the needle, and knit its back leg too"},
    Purpose{"inc_off_by_one", "make the increase on the other side of the next stitch"},
    Purpose{"miscrossed", "hold the stitches of the cable needle on the other side of the work"},
    Purpose{"cross_missed", "do not cross: work the stitches as they hang"},
    Purpose{"decrease_escaped", "let the first of the stitches slide out of the decrease"},
};

const WorkedRow* rowAt(const Script& script, int row) {
    return row >= 1 && row <= static_cast<int>(script.rows.size())
               ? &script.rows[static_cast<std::size_t>(row) - 1]
               : nullptr;
}

/// The row as hands with the mistake in them work it; empty: pattern words cannot say it.
std::string workedWords(const Script& script, const Setup& setup, const FaultPlace& place, Terms terms) {
    Script some = script;
    some.rows.resize(static_cast<std::size_t>(place.row));
    const auto spoiled = knitWith(some, setup, {place}, After::rowEnd);
    if (!spoiled) return {};
    const ScriptReading read =
        readScript(*spoiled->actual.fabric, setup.mirrored ? Knits::leftHanded : Knits::rightHanded);
    if (static_cast<int>(read.script.rows.size()) != place.row || read.left != 0) return {};
    some.rows.back().steps = read.script.rows.back().steps;
    const auto again = knit(some, setup);
    if (!again || knotOf(*again->fabric) != knotOf(*spoiled->actual.fabric)) return {};
    return rowWords(some.rows.back().steps, terms);
}

class Mistake {
  public:
    Mistake(const LessonSwatch& swatch, const Script& script, const Setup& setup, Terms terms)
        : swatch_(swatch), script_(script), setup_(setup), terms_(terms) {}

    std::vector<std::string> of(const FaultPlace& place) const {
        const Fault* fault = findFault(place.id);
        const WorkedRow* row = rowAt(script_, place.row);
        if (fault == nullptr || row == nullptr) return {};
        if (fault->suffered()) return suffered(*fault, place);
        const std::optional<int> step = stepOfStitch(*row, place.stitch);
        const std::string how =
            onPurpose(place.id, step ? row->steps[static_cast<std::size_t>(*step)] : Step{});
        std::vector<std::string> words;
        if (fault->castsOn != nullptr) {
            words.push_back(fmt::format("Before {} {}: {}.", lower(), place.row, how));
        } else if (fault->wholeRow) {
            words.push_back(fmt::format("{} {}: {}.", rowName(), place.row, how));
        } else {
            words.push_back(fmt::format("{} {}: at the {} stitch, {}.", rowName(), place.row,
                                        ordinalWord(place.stitch), how));
        }
        const std::string worked = workedWords(script_, setup_, place, terms_);
        if (!worked.empty() && worked != rowWords(row->steps, terms_))
            words.push_back(fmt::format("So {} {} is: {}.", lower(), place.row, worked));
        if (place.row < swatch_.rows) {
            switch (swatch_.after) {
                case After::byReading:
                    words.push_back("Then knit on, and keep every stitch above its own column.");
                    break;
                case After::byCount:
                    words.push_back(fmt::format("Then work the {}s on just as they are written.", lower()));
                    break;
                case After::rowEnd:
                    words.push_back(fmt::format("Stop at the end of that {}.", lower()));
                    break;
            }
        }
        return words;
    }

  private:
    std::string rowName() const { return script_.round ? "Round" : "Row"; }
    std::string lower() const { return script_.round ? "round" : "row"; }

    /// What came out later, after the rows were knitted.
    std::vector<std::string> suffered(const Fault& fault, const FaultPlace& place) const {
        std::vector<std::string> words;
        if (fault.inCloth) {
            words.push_back(
                fmt::format("When all is knitted, find the {} stitch that you worked in {} {}: {}.",
                            ordinalWord(place.stitch), lower(), place.row, fault.onPurpose));
            return words;
        }
        const int fell = fault.runs ? swatch_.rows : place.row;
        const int top = place.rows > 0 ? place.row + place.rows - 1 : fell;
        words.push_back(
            fmt::format("After {} {}, find the stitch on the needle that stands {} the {} stitch "
                        "worked in {} {}.",
                        lower(), top, top == place.row ? "where" : "in one column with",
                        ordinalWord(place.stitch), lower(), place.row));
        if (top == place.row)
            words.back() = fmt::format("After {} {}, find the {} stitch that you worked in it.", lower(), top,
                                       ordinalWord(place.stitch));
        if (fault.runs) {
            const int rows = top - place.row + 1;
            words.push_back(
                fmt::format("Let it slide off the needle and run down {}, as far as {} {} and no "
                            "farther: put a pin through the open stitch while you carry it.",
                            many(rows, lower(), lower() + "s"), lower(), place.row));
        } else {
            words.push_back("Let it slide off the needle and leave it so. A pin holds it on the way.");
        }
        if (top < swatch_.rows)
            words.push_back(place.rows > 0 ? "Then take the pin out and knit on over the gap."
                                           : "Then take the pin out and knit on past it.");
        return words;
    }

    const LessonSwatch& swatch_;
    const Script& script_;
    const Setup& setup_;
    Terms terms_;
};

// ---- what it takes

/// Needles: mm and what US packets call them (common practice).
constexpr std::array<std::pair<double, const char*>, 15> kUsSizes = {{{2.0, "0"},
                                                                      {2.25, "1"},
                                                                      {2.75, "2"},
                                                                      {3.25, "3"},
                                                                      {3.5, "4"},
                                                                      {3.75, "5"},
                                                                      {4.0, "6"},
                                                                      {4.5, "7"},
                                                                      {5.0, "8"},
                                                                      {5.5, "9"},
                                                                      {6.0, "10"},
                                                                      {6.5, "10 1/2"},
                                                                      {8.0, "11"},
                                                                      {9.0, "13"},
                                                                      {10.0, "15"}}};

/// Kinds of yarn by metres to 100 g, thick ones first (common practice).
struct YarnKind {
    double metres;
    const char* words;
    const char* us;
    const char* uk;
};
constexpr std::array<YarnKind, 6> kYarns = {{{90, "very thick", "super bulky", "super chunky"},
                                             {150, "thick", "bulky", "chunky"},
                                             {215, "medium", "worsted", "aran"},
                                             {265, "medium light", "light worsted", "double knitting"},
                                             {350, "light", "sport", "5 ply"},
                                             {1e9, "thin", "fingering", "4 ply"}}};

std::string stockWords(const LessonSwatch& swatch, Terms terms) {
    std::string words(name(swatch.ground));
    switch (swatch.ground) {
        case StockGround::stockinette: return std::string(word(Word::stockinette, terms));
        case StockGround::seed: return std::string(word(Word::seedStitch, terms));
        case StockGround::garter: return "garter stitch";
        default: return words;
    }
}

void collect(const std::vector<Step>& steps, Terms terms, std::set<std::string>& known,
             std::vector<std::string>& into) {
    for (const Step& step : steps) {
        const std::string printed =
            step.op == Op::skp && terms == Terms::uk ? "skpo" : std::string(name(step.op));
        std::string line;
        if (step.op == Op::cable) {
            line = fmt::format(
                "{}: put {} on a cable needle and hold {} {}; work {} from the left needle, "
                "then the {} on the cable needle",
                printStep(step, terms), many(step.over, "stitch", "stitches"), step.over == 1 ? "it" : "them",
                step.front ? "in front" : "behind", numberWord(step.under), numberWord(step.over));
        } else {
            const std::string meaning = spelled(std::string(longName(step.op, terms)), terms);
            if (printed == meaning) continue;  // said in full
            line = fmt::format("{}: {}", printed, meaning);
        }
        if (known.insert(line).second) into.push_back(std::move(line));
    }
}

/// What its ways of mending need besides.
std::string sewingThings(const LessonSwatch& swatch) {
    bool thread = false;
    bool needle = false;
    bool scissors = false;
    for (const PlanFamily way : furtherWays(swatch.repairs)) {
        scissors = scissors || way == PlanFamily::snipAndGraft;
        thread = thread || way == PlanFamily::snipAndGraft || way == PlanFamily::lifelineFirst;
        needle = needle || way == PlanFamily::snipAndGraft || way == PlanFamily::fasten ||
                 way == PlanFamily::sewIn || way == PlanFamily::duplicateOver || way == PlanFamily::ease;
    }
    return fmt::format("{}{}{}", thread ? ", a smooth thread" : "", needle ? ", a blunt sewing needle" : "",
                       scissors ? ", small scissors" : "");
}

}  // namespace

std::string onPurpose(std::string_view fault, const Step& meant) {
    if (fault == "wrong_kp")
        return isPurl(meant) ? "knit it instead of purling it" : "purl it instead of knitting it";
    for (const Purpose& purpose : kPurposes) {
        if (purpose.id == fault) return std::string(purpose.words);
    }
    const Fault* known = findFault(fault);
    return known == nullptr ? std::string{} : std::string(known->onPurpose);
}

std::vector<std::string> patternWords(const Script& script, Terms terms) {
    constexpr std::size_t kMostBefore = 4;
    const std::vector<WorkedRow>& rows = script.rows;
    const char* row = script.round ? "round" : "row";
    std::size_t start = 0;
    std::size_t period = 0;
    for (std::size_t p = 1; p < rows.size() && period == 0; ++p) {
        for (std::size_t s = 0; s <= kMostBefore && period == 0; ++s) {
            if (!repeats(rows, s, p)) continue;
            start = s;
            period = p;
        }
    }
    const std::size_t told = period == 0 ? rows.size() : start + period;
    std::vector<std::string> words;
    for (std::size_t i = 0; i < told; ++i) words.push_back(rowWords(rows[i], static_cast<int>(i) + 1, terms));
    if (told == rows.size()) return words;
    words.push_back(
        period == 1
            ? fmt::format("Repeat {} {}, until {} {} is done.", row, start + 1, row, rows.size())
            : fmt::format("Repeat {}s {}-{}, until {} {} is done.", row, start + 1, told, row, rows.size()));
    return words;
}

std::string yarnWords(const LessonYarn& yarn, Terms terms) {
    constexpr double kMetresTimesTex = 100'000;  // 1 tex is 1 g to 1000 m
    const double metres = kMetresTimesTex / std::max(1.0, yarn.tex);
    const auto kind =
        std::find_if(kYarns.begin(), kYarns.end() - 1, [&](const YarnKind& k) { return metres < k.metres; });
    return fmt::format("{} yarn ({}), smooth and pale: about {:.0f} m to 100 g", capital(kind->words),
                       terms == Terms::us ? kind->us : kind->uk, std::round(metres / 10) * 10);
}

std::string needleWords(double mm, bool round, Terms terms) {
    std::string words = fmt::format("{:g} mm {}needles", mm, round ? "round or double-pointed " : "");
    if (terms == Terms::us) {
        for (const auto& [size, us] : kUsSizes) {
            if (std::abs(size - mm) < 0.01) words += fmt::format(" (US {})", us);
        }
    }
    return words;
}

Sampler samplerOf(const LessonSwatch& swatch, Terms terms, bool mirrored) {
    Sampler sampler;
    const Swatch cloth(swatch, terms, mirrored);
    const Script script = cloth.scriptTo(cloth.rows(), 0);
    Setup setup = swatch.setup;
    setup.mirrored = mirrored;
    sampler.needs = {yarnWords(swatch.yarn, terms) + ".",
                     needleWords(swatch.yarn.needleMm, script.round, terms) +
                         ", a crochet hook of that size or smaller, a safety pin" + sewingThings(swatch) +
                         "."};
    sampler.rows.push_back(fmt::format("Cast on {} stitches{}{}.", script.castOn,
                                       setup.castOn == CastOn::backward ? " with backward loops" : "",
                                       script.round ? " and join them to a round, not twisted" : ""));
    if (swatch.pattern.empty()) sampler.rows.back() += fmt::format(" This is {}.", stockWords(swatch, terms));
    for (std::string& row : patternWords(script, terms)) sampler.rows.push_back(std::move(row));
    if (swatch.stitchesOfRow > 0)
        sampler.rows.push_back(fmt::format("Work {} of the next {}, and put it down there.",
                                           many(swatch.stitchesOfRow, "stitch", "stitches"),
                                           script.round ? "round" : "row"));
    if (mirrored) sampler.rows.push_back("Left-handed: work every row from the left end to the right end.");
    const Mistake mistake(swatch, script, setup, terms);
    for (const FaultPlace& place : swatch.faults) {
        for (std::string& words : mistake.of(place))
            sampler.mistake.push_back(spelled(std::move(words), terms));
    }
    std::set<std::string> known;
    for (const WorkedRow& row : script.rows) collect(row.steps, terms, known, sampler.abbreviations);
    return sampler;
}

}  // namespace loopmend
