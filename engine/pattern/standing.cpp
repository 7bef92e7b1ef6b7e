// SPDX-License-Identifier: MIT
// Where a piece stands behind the rows read so far, and what it would go on with.
#include "pattern/reader.h"

#include "pattern/counts.h"
#include "pattern/markers.h"
#include "pattern/op_kinds.h"

#include <algorithm>

#include <fmt/format.h>

namespace loopmend {

namespace {

/// Whether a row knits everything that it works, or purls everything; neither if both or some of neither
/// kind.
void plainKinds(const std::vector<Item>& items, bool& allKnit, bool& allPurl) {
    for (const Item& item : items) {
        if (item.kind == ItemKind::marker) continue;
        if (item.kind == ItemKind::group || item.kind == ItemKind::star) {
            plainKinds(item.items, allKnit, allPurl);
        } else if (item.kind == ItemKind::follow || item.step.op == Op::cable ||
                   item.step.op == Op::yarnOver ||
                   (uses(item.step) == makes(item.step) && item.step.op != Op::knit &&
                    item.step.op != Op::purl)) {
            allKnit = allPurl = false;
        } else {
            (purls(item.step.op) ? allKnit : allPurl) = false;
        }
    }
}

/// Whether a row works every stitch as one plain op, or none of any other kind.
bool onlyPlain(const std::vector<Item>& items, bool& knits, bool& purls) {
    for (const Item& item : items) {
        if (item.kind == ItemKind::follow) return false;
        if (item.kind == ItemKind::marker) continue;
        if (item.kind == ItemKind::group || item.kind == ItemKind::star) {
            if (!onlyPlain(item.items, knits, purls)) return false;
        } else if (item.step.op == Op::knit) {
            knits = true;
        } else if (item.step.op == Op::purl) {
            purls = true;
        } else {
            return false;
        }
    }
    return true;
}

/// The count changes again and again along the row: no shaping of edges.
bool changesInRepeat(const std::vector<Item>& items) {
    return std::any_of(items.begin(), items.end(), [](const Item& item) {
        return (item.kind == ItemKind::star || item.kind == ItemKind::run) && usesOf(item) != makesOf(item);
    });
}

}  // namespace

int Reader::lastNumber() const {
    int last = 0;
    for (const Row& row : out_.rows)
        for (const RowSpan& span : row.spans) last = std::max(last, span.last);
    // `Row 2 and every even row`: the one behind the last odd row has no words of its own.
    const bool every = std::any_of(out_.rows.begin(), out_.rows.end(),
                                   [](const Row& row) { return row.every != Every::none; });
    for (const RepeatRows& repeat : out_.repeats)
        if (every && repeat.rows.last == last + 1) ++last;
    return last;
}

/// The number before rows that a sentence adds: `every even row` has closed the last odd one by then.
int Reader::lastWorked() {
    const int last = lastNumber();
    if (std::none_of(out_.rows.begin(), out_.rows.end(),
                     [](const Row& row) { return row.every != Every::none; }))
        return last;
    const RowOrder order = rowOrder(out_);
    const bool closed = std::any_of(order.rows.begin(), order.rows.end(), [&](const OrderedRow& ordered) {
        return ordered.printed == last + 1 && out_.rows[ordered.head].every != Every::none;
    });
    if (!closed) return last;
    settleEvery();
    return last + 1;
}

/// Where the piece stands behind the rows read so far.
Reader::Standing Reader::standing() const {
    if (!asksForMarks(out_)) return standingAfter(out_);
    Pattern followed = out_;
    followMarks(followed);
    return standingAfter(followed);
}

Reader::Standing Reader::standingAfter(const Pattern& pattern) {
    Standing now;
    const RowOrder order = rowOrder(pattern);
    const bool round = pattern.round || std::any_of(pattern.rows.begin(), pattern.rows.end(),
                                                    [](const Row& row) { return row.round; });
    now.round = round;
    now.side = round ? Facing::right : facingOf(pattern, order, order.rows.size());
    if (!pattern.castOn) return now;
    OnNeedle n{*pattern.castOn, 0};
    for (const OrderedRow& ordered : order.rows) {
        const Row& row = pattern.rows[ordered.row];
        const Row& head = pattern.rows[ordered.head];
        if (!row.sound) {
            if (!head.printedCount) return now;
            n = {*head.printedCount, 0};
            continue;
        }
        const RowCounts counts = countsOf(row);
        const std::int64_t repeats = nearestRepeats(counts, n.ahead);
        n = missesAt(counts, n.ahead, repeats) != 0 && head.printedCount ? OnNeedle{*head.printedCount, 0}
                                                                         : needleAfter(counts, n, repeats);
        n.ahead = std::max<std::int64_t>(n.ahead, 0);
    }
    now.stitches = n.all();
    return now;
}

/// The rows from which the piece goes on, if nobody has said: those that were repeated, or what the rows so
/// far are.
void Reader::assume(std::size_t start) {
    if (established_.kind != Established::Kind::nothing) {
        if (established_.kind == Established::Kind::rows && established_.since < out_.rows.size()) {
            // Rows have been worked since that may have changed the count: go on as the stitches lie, where
            // that is the same.
            bool shaped = false;
            for (std::size_t i = established_.since; i < out_.rows.size(); ++i)
                shaped = shaped || (!out_.rows[i].sameAs && !out_.rows[i].items.empty());
            if (shaped) {
                const std::optional<NamedGround> ground = groundOf(established_.rows);
                if (ground) {
                    established_.kind = Established::Kind::ground;
                    established_.ground = *ground;
                    established_.worked = 1;
                }
            }
        }
        return;
    }
    if (out_.rows.empty()) return;
    established_.since = out_.rows.size();
    const int last = lastNumber();
    const int first = last > offset_ ? offset_ + 1 : 1;
    const std::optional<NamedGround> ground = groundOf({first, last});
    if (ground) {
        established_.kind = Established::Kind::ground;
        established_.ground = *ground;
        established_.worked = 1;
        understood(start, "even",
                   "which pattern goes on is not said; the rows so far are read as what goes on, stitch over "
                   "stitch");
        return;
    }
    established_.kind = Established::Kind::rows;
    established_.rows = {first, last};
    understood(
        start, "even",
        fmt::format("which pattern goes on is not said; it is read as rows {} to {} from the first again",
                    first, last));
}

/// Rows of knits and purls only, as a ground: all knit, plain, as they face, or each the other way about.
std::optional<NamedGround> Reader::groundOf(const RowSpan& span) const {
    const RowOrder order = rowOrder(out_);
    bool isRound = out_.round;
    bool rightKnit = true;
    bool rightPurl = true;
    bool wrongKnit = true;
    bool wrongPurl = true;
    for (const Row& row : out_.rows) isRound = isRound || row.round;
    for (std::size_t i = 0; i < order.rows.size(); ++i) {
        if (order.rows[i].printed < span.first || order.rows[i].printed > span.last) continue;
        const bool right = isRound || facingOf(out_, order, i) == Facing::right;
        plainKinds(out_.rows[order.rows[i].row].items, right ? rightKnit : wrongKnit,
                   right ? rightPurl : wrongPurl);
    }
    if (isRound && rightKnit) return NamedGround{Ground::stockinette};
    if (isRound && rightPurl) return NamedGround{Ground::reverseStockinette};
    if (!isRound && rightKnit && wrongKnit) return NamedGround{Ground::allKnit};
    if (!isRound && rightPurl && wrongPurl) return NamedGround{Ground::allPurl};
    if (!isRound && rightKnit && wrongPurl) return NamedGround{Ground::stockinette};
    if (!isRound && rightPurl && wrongKnit) return NamedGround{Ground::reverseStockinette};
    bool plain = true;
    Pattern some;
    some.round = out_.round;
    some.yarns = out_.yarns;
    for (const Row& row : out_.rows) {
        if (row.spans.empty() || row.spans.front().first < span.first || row.spans.front().first > span.last)
            continue;
        if (row.round) some.round = true;
        if (row.sameAs) continue;
        bool k = false;
        bool p = false;
        // What else a shaped row does is told by the rest of it.
        if (!onlyPlain(row.items, k, p) && !row.items.empty() &&
            (usesOf(row.items) == makesOf(row.items) || changesInRepeat(row.items)))
            plain = false;
        some.rows.push_back(row);
    }
    if (!plain || some.rows.empty()) return std::nullopt;
    // Worked over some stitches, is every row as the one before shows itself, or just the other way about?
    const int rows = std::min(span.last - span.first + 1, 24);
    for (Row& row : some.rows) row.facing.reset();
    const std::optional<Multiple> multiple = countAll(some).multiple;
    if (!multiple) return NamedGround{Ground::asTheyFace};
    const std::int64_t stitches = multiple->least + multiple->of;
    if (stitches > 400) return std::nullopt;
    const auto script =
        expand(some, static_cast<int>(stitches), rows + (rows % 2 == 0 || some.round ? 1 : 0));
    if (!script) return NamedGround{Ground::asTheyFace};
    bool as = true;
    bool opposite = true;
    for (std::size_t i = 1; i < script->rows.size(); ++i) {
        const WorkedRow& row = script->rows[i];
        const WorkedRow& before = script->rows[i - 1];
        if (row.steps.size() != before.steps.size()) return NamedGround{Ground::asTheyFace};
        for (std::size_t j = 0; j < row.steps.size(); ++j) {
            const bool knit = row.steps[j].op == Op::knit;
            const bool below = some.round ? before.steps[j].op == Op::knit
                                          : before.steps[row.steps.size() - 1 - j].op == Op::purl;
            (knit == below ? opposite : as) = false;
        }
    }
    if (as) return NamedGround{Ground::asTheyFace};
    if (opposite) return NamedGround{Ground::seed};
    return std::nullopt;
}

}  // namespace loopmend
