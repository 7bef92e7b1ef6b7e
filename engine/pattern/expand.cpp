// SPDX-License-Identifier: MIT
// From words to single operations.
#include "pattern/counts.h"

#include <algorithm>

#include <fmt/format.h>

namespace loopmend {

namespace {

/// A row is refused before it becomes absurd; a whole script too.
constexpr std::size_t kMostSteps = 20'000'000;

/// Writes one row's steps, counting stitches off the left needle as it goes.
class RowWriter {
  public:
    RowWriter(WorkedRow& row, std::int64_t stitches, const std::vector<bool>& looksKnit)
        : row_(row), stitches_(stitches), looksKnit_(looksKnit) {}

    bool write(const std::vector<Item>& items) {
        for (const Item& item : items)
            if (!write(item)) return false;
        return true;
    }

    std::int64_t used() const { return used_; }

    const Place& where() const { return where_; }

  private:
    bool write(const Item& item) {
        // Brackets with nothing but markers in them take no stitches, so the stitches alone do not end them.
        if (--patience_ < 0 || row_.steps.size() > static_cast<std::size_t>(kMostStitches)) return false;
        where_ = item.place;
        switch (item.kind) {
            case ItemKind::stitch:
                for (int i = 0; i < item.times; ++i)
                    if (!put(i == 0 ? item.step : unlinked(item.step), item.yarnSaid)) return false;
                return true;
            case ItemKind::group:
                for (int i = 0; i < item.times; ++i)
                    if (!write(item.items)) return false;
                return true;
            case ItemKind::star: {
                const std::int64_t each = usesOf(item);
                const std::int64_t there = stitches_ - used_ - keeps(item);
                if (each <= 0 || there < each || there % each != 0) return false;
                for (std::int64_t i = 0; i < there / each; ++i)
                    if (!write(item.items)) return false;
                return true;
            }
            case ItemKind::run: {
                const std::int64_t each = uses(item.step);
                const std::int64_t there = stitches_ - used_ - keeps(item);
                if (each <= 0 || there < 0 || there % each != 0) return false;
                if (item.step.op == Op::bindOff || item.step.op == Op::bindOffPurl ||
                    item.step.op == Op::hold)
                    return runOfMany(item, there);
                for (std::int64_t i = 0; i < there / each; ++i)
                    if (!put(i == 0 ? item.step : unlinked(item.step), item.yarnSaid)) return false;
                return true;
            }
            case ItemKind::follow: {
                const std::int64_t there = stitches_ - used_ - keeps(item);
                if (there < 0) return false;
                for (std::int64_t i = 0; i < there; ++i) {
                    // What looks knitted from the right side looks purled from the wrong one. The loops hang
                    // the other way about when the work has been turned, so the row before is read from its
                    // end.
                    bool knit = appears(used_);
                    if (item.opposite) knit = !knit;
                    Step step = i == 0 ? item.step : unlinked(item.step);
                    step.op = knit ? Op::knit : Op::purl;
                    if (!put(step, true)) return false;
                }
                return true;
            }
            case ItemKind::marker: return true;
        }
        return false;
    }

    /// Only the first of several stitches is worked with the yarn led round the one before.
    static Step unlinked(Step step) {
        step.link = false;
        return step;
    }

    static std::int64_t keeps(const Item& item) { return item.until == Until::last ? item.last : 0; }

    bool appears(std::int64_t stitch) const {
        const bool fromRight = looksKnit_[static_cast<std::size_t>(stitch)];
        return row_.facing == Facing::right ? fromRight : !fromRight;
    }

    /// "Bind off to end" is one operation over all of them.
    bool runOfMany(const Item& item, std::int64_t there) {
        while (there > 0) {
            Step step = item.step;
            step.count = static_cast<std::int16_t>(std::min<std::int64_t>(there, kLargestNumber));
            there -= step.count;
            if (!put(step, true)) return false;
        }
        return true;
    }

    bool put(Step step, bool yarnSaid) {
        used_ += uses(step);
        if (used_ > stitches_) return false;
        if (!yarnSaid && row_.facing == Facing::wrong) {
            // The strand of a slip lies on the wrong side unless it is said to lie elsewhere (common
            // practice).
            if (step.op == Op::slipPurlwiseBack) step.op = Op::slipPurlwiseFront;
            if (step.op == Op::slipKnitwiseBack) step.op = Op::slipKnitwiseFront;
        }
        if ((step.op == Op::yarnOver || step.op == Op::yarnOverReverse) && !row_.steps.empty() &&
            row_.steps.back().op == step.op && row_.steps.back().yarn == step.yarn &&
            row_.steps.back().count + step.count <= kLargestNumber) {
            row_.steps.back().count = static_cast<std::int16_t>(row_.steps.back().count + step.count);
            return true;
        }
        row_.steps.push_back(step);
        return true;
    }

    WorkedRow& row_;
    std::int64_t stitches_;
    const std::vector<bool>& looksKnit_;
    std::int64_t used_ = 0;
    int patience_ = 4 * kMostStitches;
    Place where_;
};

/// Whether each loop a step leaves looks knitted as the row faces the knitter; a slip keeps what was there.
void looksOf(const Step& step, const std::vector<bool>& before, std::size_t& used, bool faceRight,
             std::vector<bool>& after) {
    const auto add = [&](bool knitAsItFaces) { after.push_back(knitAsItFaces == faceRight); };
    const int made = makes(step);
    switch (step.op) {
        case Op::slipPurlwiseBack:
        case Op::slipPurlwiseFront:
        case Op::slipKnitwiseBack:
        case Op::slipKnitwiseFront: after.push_back(used < before.size() ? before[used] : true); break;
        case Op::purl:
        case Op::purlTbl:
        case Op::p2tog:
        case Op::p2togTbl:
        case Op::ssp:
        case Op::spp:
        case Op::p3tog:
        case Op::p3togTbl:
        case Op::sp2p:
        case Op::s2pp:
        case Op::purlBelow:
        case Op::liftedRightPurl:
        case Op::liftedLeftPurl:
        case Op::m1PurlLeft:
        case Op::m1PurlRight: add(false); break;
        case Op::purlWraps:  // the further turns are yarn-overs: they look like knits
            add(false);
            for (int i = 1; i < made; ++i) add(true);
            break;
        case Op::passOver:
            if (after.size() > 1) after.erase(after.end() - 2);
            break;
        case Op::kpk:
            for (int i = 0; i < made; ++i) add(i % 2 == 0);
            break;
        case Op::cable:
            for (int i = 0; i < step.under; ++i) add(!step.purlUnder);
            for (int i = 0; i < step.over; ++i) add(!step.purlOver);
            break;
        default:
            for (int i = 0; i < made; ++i) add(true);
            break;
    }
    used += static_cast<std::size_t>(uses(step));
}

std::vector<bool> looksAfter(const WorkedRow& row, const std::vector<bool>& before) {
    std::vector<bool> after;
    after.reserve(before.size());
    std::size_t used = 0;
    for (const Step& step : row.steps) looksOf(step, before, used, row.facing == Facing::right, after);
    return after;
}

bool usesFollow(const Pattern& pattern) {
    return std::any_of(pattern.rows.begin(), pattern.rows.end(), [](const Row& row) {
        return std::any_of(row.items.begin(), row.items.end(),
                           [](const Item& item) { return item.kind == ItemKind::follow; });
    });
}

Problem problemAt(const Pattern& pattern, const Place& place, int row, std::string message) {
    Problem problem;
    problem.row = row;
    problem.line = place.line;
    problem.column = place.column;
    problem.words = wordsAt(pattern, place);
    problem.message = std::move(message);
    return problem;
}

}  // namespace

tl::expected<Script, Problem> expand(const Pattern& pattern, int stitches, int rows) {
    if (!pattern.problems.empty()) return tl::make_unexpected(pattern.problems.front());
    const RowOrder order = rowOrder(pattern);
    const std::string_view word = pattern.round ? "Rnd" : "Row";
    if (!order.problems.empty()) return tl::make_unexpected(order.problems.front());
    if (stitches < 1 || stitches > kMostStitches)
        return tl::make_unexpected(
            problemAt(pattern, pattern.castOnPlace, 0,
                      fmt::format("{} stitches cannot be cast on: 1 to {} can.", stitches, kMostStitches)));
    if (rows < 0 || (rows > 0 && order.rows.empty()))
        return tl::make_unexpected(problemAt(pattern, Place{1, 1, 0, 0}, 0, "There is no row to work."));

    Script script;
    script.castOn = stitches;
    script.round = pattern.round;
    script.yarns = pattern.yarns;
    const bool follows = usesFollow(pattern);
    std::int64_t onNeedle = stitches;
    std::size_t steps = 0;
    std::vector<bool> looks(follows ? static_cast<std::size_t>(stitches) : 0, true);
    std::size_t position = 0;
    for (int i = 0; i < rows; ++i) {
        if (position == order.rows.size() ||
            (i >= static_cast<int>(order.rows.size()) && position == order.loopEnd))
            position = order.loopFirst;
        const OrderedRow& ordered = order.rows[position];
        const Row& words = pattern.rows[ordered.row];
        ++position;
        WorkedRow worked;
        worked.number = i + 1;
        worked.printed = ordered.printed;
        worked.round = pattern.round;
        worked.facing = facingOf(pattern, order, static_cast<std::size_t>(i));
        // The loops as this row meets them: turned work is met from its other end.
        if (follows && !pattern.round) std::reverse(looks.begin(), looks.end());
        if (follows) looks.resize(static_cast<std::size_t>(onNeedle), true);

        const RowCounts counts = countsOf(words);
        RowWriter writer(worked, onNeedle, looks);
        const bool written = writer.write(words.items);
        steps += worked.steps.size();
        if (steps > kMostSteps || worked.steps.size() > static_cast<std::size_t>(kMostStitches))
            return tl::make_unexpected(problemAt(pattern, words.place, ordered.printed,
                                                 "These are more stitches than can be worked here."));
        if (!written || writer.used() != onNeedle) {
            std::string uses =
                counts.uses.perRepeat > 0
                    ? fmt::format("{} and {} for each repeat", counts.uses.base, counts.uses.perRepeat)
                    : std::to_string(counts.uses.base);
            const std::string again =
                ordered.printed == i + 1 ? std::string() : fmt::format(", worked as row {},", i + 1);
            Problem problem =
                problemAt(pattern, writer.where(), ordered.printed,
                          fmt::format("{} {}{} cannot be worked: there are {} stitches and it uses {}.", word,
                                      ordered.printed, again, onNeedle, uses));
            const std::int64_t over = counts.uses.perRepeat > 0 && onNeedle >= counts.uses.base
                                          ? (onNeedle - counts.uses.base) % counts.uses.perRepeat
                                          : onNeedle - counts.uses.base;
            problem.misses = static_cast<int>(std::clamp<std::int64_t>(over, -kMostStitches, kMostStitches));
            return tl::make_unexpected(std::move(problem));
        }
        std::int64_t left = 0;
        for (const Step& step : worked.steps) left += makes(step);
        if (follows) looks = looksAfter(worked, looks);
        onNeedle = left;
        if (onNeedle < 0 || onNeedle > kMostStitches)
            return tl::make_unexpected(
                problemAt(pattern, words.place, ordered.printed,
                          fmt::format("{} {} leaves {} stitches.", word, ordered.printed, onNeedle)));
        script.rows.push_back(std::move(worked));
    }
    return script;
}

}  // namespace loopmend
