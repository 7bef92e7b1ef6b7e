// SPDX-License-Identifier: MIT
// From words to single operations.
#include "pattern/counts.h"
#include "pattern/op_kinds.h"
#include "pattern/problem_at.h"

#include <algorithm>

#include <fmt/format.h>

namespace loopmend {

namespace {

/// A row is refused before it becomes absurd; a whole script too.
constexpr std::size_t kMostSteps = 20'000'000;

/// Writes one row's steps, counting stitches off the left needle as it goes.
class RowWriter {
  public:
    /// doubled: which of the stitches ahead show two legs; empty: none does.
    RowWriter(WorkedRow& row, std::int64_t stitches, const std::vector<bool>& looksKnit,
              const std::vector<bool>& doubled)
        : row_(row), stitches_(stitches), looksKnit_(looksKnit), doubled_(doubled) {}

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
                if (takesMany(item.step.op)) return runOfMany(item, there);
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
        const int taken = uses(step);
        const bool plain = step.op == Op::knit || step.op == Op::purl;
        // Both legs of a doubled stitch are worked as one when the row comes to it (common practice).
        if (plain && knittedOn_ == 0 && isDoubled(met_))
            step.op = step.op == Op::knit ? Op::knitDoubled : Op::purlDoubled;
        const std::int64_t first = std::min<std::int64_t>(knittedOn_, taken);
        knittedOn_ -= first;
        met_ += taken - first;
        used_ += taken;
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

    bool isDoubled(std::int64_t stitch) const {
        return stitch < static_cast<std::int64_t>(doubled_.size()) &&
               doubled_[static_cast<std::size_t>(stitch)];
    }

    WorkedRow& row_;
    std::int64_t stitches_;
    const std::vector<bool>& looksKnit_;
    const std::vector<bool>& doubled_;
    std::int64_t used_ = 0;
    std::int64_t met_ = 0;        ///< of the stitches that were ahead at first
    std::int64_t knittedOn_ = 0;  ///< cast on before them since, not worked yet
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
        case Op::pkp:
            for (int i = 0; i < made; ++i) add(i % 2 == 1);
            break;
        case Op::cable:
            for (int i = 0; i < step.under; ++i) add(!step.purlUnder);
            for (int i = 0; i < step.over; ++i) add(!step.purlOver);
            break;
        default:
            for (int i = 0; i < made; ++i) add(!purls(step.op));
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

std::vector<bool> doubledAfter(const WorkedRow& row, const std::vector<bool>& before) {
    std::vector<bool> after;
    std::size_t used = 0;
    for (const Step& step : row.steps) {
        for (int i = 0; i < makes(step); ++i)
            after.push_back(step.op == Op::doubled ||
                            (slips(step.op) && used < before.size() && before[used]));
        if (step.op == Op::passOver && after.size() > 1) after.erase(after.end() - 2);
        used += static_cast<std::size_t>(uses(step));
    }
    return after;
}

/// Something known of each stitch on the needle: those ahead from the tip on, those behind up to the tip.
struct Known {
    bool kept = false;
    std::vector<bool> ahead;
    std::vector<bool> behind;

    void turnOver(const std::vector<bool>& made, std::size_t used, bool turned) {
        behind.insert(behind.end(), made.begin(), made.end());
        std::vector<bool> rest(ahead.begin() + static_cast<std::ptrdiff_t>(std::min(used, ahead.size())),
                               ahead.end());
        if (turned) {
            std::reverse(behind.begin(), behind.end());
            std::reverse(rest.begin(), rest.end());
        }
        ahead = std::move(behind);
        behind = std::move(rest);
    }
};

bool uses(const std::vector<Item>& items, Op op) {
    return std::any_of(items.begin(), items.end(),
                       [op](const Item& item) { return item.step.op == op || uses(item.items, op); });
}

bool usesFollow(const Pattern& pattern) {
    return std::any_of(pattern.rows.begin(), pattern.rows.end(), [](const Row& row) {
        return std::any_of(row.items.begin(), row.items.end(),
                           [](const Item& item) { return item.kind == ItemKind::follow; });
    });
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
    Known looks;
    looks.kept = usesFollow(pattern);
    if (looks.kept) looks.ahead.assign(static_cast<std::size_t>(stitches), true);
    Known doubled;
    doubled.kept = std::any_of(pattern.rows.begin(), pattern.rows.end(),
                               [](const Row& row) { return uses(row.items, Op::doubled); });
    if (doubled.kept) doubled.ahead.assign(static_cast<std::size_t>(stitches), false);
    OnNeedle needle{stitches, 0};
    std::size_t steps = 0;
    bool backAgain = false;  // in the round: turned, so that the wrong side faces the row
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
        worked.facing = pattern.round ? (backAgain ? Facing::wrong : Facing::right)
                                      : facingOf(pattern, order, static_cast<std::size_t>(i));
        if (looks.kept) looks.ahead.resize(static_cast<std::size_t>(needle.ahead), true);
        if (doubled.kept) doubled.ahead.resize(static_cast<std::size_t>(needle.ahead), false);

        const RowCounts counts = countsOf(words);
        RowWriter writer(worked, needle.ahead, looks.ahead, doubled.ahead);
        const bool written = writer.write(words.items);
        steps += worked.steps.size();
        if (steps > kMostSteps || worked.steps.size() > static_cast<std::size_t>(kMostStitches))
            return tl::make_unexpected(problemAt(pattern, words.place, ordered.printed,
                                                 "These are more stitches than can be worked here."));
        const bool stays = counts.turns && writer.used() < needle.ahead;
        if (!written || (writer.used() != needle.ahead && !stays)) {
            std::string uses =
                counts.uses.perRepeat > 0
                    ? fmt::format("{} and {} for each repeat", counts.uses.base, counts.uses.perRepeat)
                    : std::to_string(counts.uses.base);
            const std::string again =
                ordered.printed == i + 1 ? std::string() : fmt::format(", worked as row {},", i + 1);
            Problem problem =
                problemAt(pattern, writer.where(), ordered.printed,
                          fmt::format("{} {}{} cannot be worked: there are {} stitches{} and it uses {}.",
                                      word, ordered.printed, again, needle.ahead,
                                      needle.behind > 0 ? fmt::format(" ahead, {} wait behind", needle.behind)
                                                        : std::string(),
                                      uses));
            const std::int64_t spare = needle.ahead - counts.uses.base - counts.leaves;
            const std::int64_t over =
                counts.uses.perRepeat > 0 && spare >= 0 ? spare % counts.uses.perRepeat : spare;
            problem.misses = static_cast<int>(std::clamp<std::int64_t>(over, -kMostStitches, kMostStitches));
            return tl::make_unexpected(std::move(problem));
        }
        std::int64_t made = 0;
        for (const Step& step : worked.steps) made += makes(step);
        // A row worked to its end is turned anyway, but for a round.
        const bool early = counts.turns &&
                           (stays || worked.steps.back().op == Op::wrapTurn || (pattern.round && !backAgain));
        if (counts.turns && !early && worked.steps.size() > 1) worked.steps.pop_back();
        const bool turned = !pattern.round || backAgain || counts.turns;
        const auto used = static_cast<std::size_t>(std::max<std::int64_t>(writer.used(), 0));
        if (looks.kept) looks.turnOver(looksAfter(worked, looks.ahead), used, turned);
        if (doubled.kept) doubled.turnOver(doubledAfter(worked, doubled.ahead), used, turned);
        needle = {needle.behind + made, needle.ahead - writer.used()};
        backAgain = pattern.round && turned && !backAgain;
        if (made < 0 || needle.ahead < 0 || needle.all() > kMostStitches)
            return tl::make_unexpected(
                problemAt(pattern, words.place, ordered.printed,
                          fmt::format("{} {} leaves {} stitches.", word, ordered.printed, needle.all())));
        script.rows.push_back(std::move(worked));
    }
    return script;
}

}  // namespace loopmend
