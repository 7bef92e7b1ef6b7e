// SPDX-License-Identifier: MIT
// Sentences that work rows again: `Repeat rows 1-4 3 times`, `Work 4 more pattern repeats`, `Rep these 2 rows
// until 12 sts remain`.
#include "pattern/reader.h"

#include <algorithm>

#include <fmt/format.h>

namespace loopmend {

/// `Repeat rows 1-4`, `Rep last 2 rows`, `These 8 rows form the pattern`, `Rows 1-8 form the pattern`.
bool Reader::repeatAhead() {
    const std::size_t start = at_;
    const auto rows = [&](std::size_t i) {
        return isAny({"row", "rows", "rnd", "rnds", "round", "rounds"}, i);
    };
    bool found = false;
    const auto timesAhead = [&] {
        int n = 0;
        bool more = false;
        if (isAny({",", "another"})) ++at_;
        return times(n, more);
    };
    const bool then = take("then");
    int again = 0;
    if (patternAgain(nullptr) || nameAgain(nullptr)) {
        found = true;
    } else if (then && rows(0)) {
        ++at_;  // ", then row 1 again"
        found = number(again) && (!takeAny({"-", "to", "and", "&"}) || number(again)) &&
                (take("again") || timesAhead());
    } else if (take("work")) {
        // "Work these 6 rows 3 times", "work rows 1-6 twice more"
        takeAny({"the", "these", "those"});
        takeAny({"last", "previous", "above"});
        int n = 0;
        if (rows(0)) {
            ++at_;
            found = number(n) && (!takeAny({"-", "to", "through", "and", "&"}) || number(n)) && timesAhead();
        } else {
            found = number(n) && rows(0) && (++at_, timesAhead());
        }
    } else if (takeAny({"rep", "repeat"})) {
        take("from");
        if (is("this") && rows(1) && peek(1).text.back() != 's') {  // "Rep this row 13 times"
            at_ = start;
            return true;
        }
        takeAny({"the", "these", "those"});
        takeAny({"last", "previous", "above"});
        found = rows(0) || (numberAhead() && rows(1)) || (numberAhead() && peek(1).glued && rows(2));
        int n = 0;
        if (!found && ordinal(n)) {
            // "Rep 1st and 2nd rows"
            if (takeAny({"-", "to", "and", "&", ","})) ordinal(n);
            found = rows(0);
        }
    } else if (takeAny({"these", "the"})) {
        found = numberAhead() && rows(1) && isAny({"form", "set", "make", "are"}, 2);
    } else if (rows(0)) {
        ++at_;
        int n = 0;
        if (number(n)) {
            if (takeAny({"-", "to", "through", "and"})) number(n);
            found = isAny({"form", "forms", "set", "sets", "make", "makes"});
        }
    }
    at_ = start;
    return found;
}

/// `Work rib rnd 10 times more`, `rep eyelet row twice`: which row by its name.
bool Reader::nameAgain(RepeatRows* repeat) {
    const std::size_t start = at_;
    int n = 0;
    bool more = false;
    int row = 0;
    bool found = false;
    if (takeAny({"work", "rep", "repeat"})) {
        take("the");
        if (peek().kind == TokenKind::word && !isAny({"last", "previous", "this"})) {
            row = namedRow(peek().text);
            ++at_;
            bool round = false;
            found = rowWord(round) && (times(n, more) || isAny({"until", "till"})) && (row > 0 || !repeat);
        }
    }
    if (found && repeat) {
        repeat->rows = {row, row};
        repeat->times = n;
        repeat->more = more;
    } else {
        at_ = start;
    }
    return found;
}

/// `Work 4 more pattern repeats`, `rep patt 3 times more`: how often, if that is asked.
bool Reader::patternAgain(int* times) {
    const std::size_t start = at_;
    const auto pattern = [&] {
        take("the");
        return takeAny({"patt", "pattern", "them"});
    };
    int n = 0;
    bool more = false;
    bool found = false;
    if (takeAny({"work", "rep", "repeat"})) {
        if (pattern()) {
            found = this->times(n, more);
        } else if (number(n)) {
            takeAny({"more", "further"});
            found = pattern() && takeAny({"repeats", "reps", "repeat", "rep"});
        }
    }
    if (found && times) {
        *times = n;
    } else {
        at_ = start;
    }
    return found;
}

void Reader::repeatStatement(const Statement& statement) {
    RepeatRows repeat;
    repeat.after = out_.rows.size();
    const int lastRow = lastNumber();
    const bool then = take("then");
    int again = 0;
    if (patternAgain(&again)) {
        repeat.rows = !out_.repeats.empty() ? out_.repeats.back().rows : RowSpan{offset_ + 1, lastRow};
        repeat.times = again;
        repeat.more = true;
        repeat.place = placeFrom(statement.begin);
        if (lastRow <= offset_ || again == 0) {
            problem(statement.begin, "There are no rows before these words that could be repeated.",
                    {"Repeat rows 1-4 3 more times."});
            return;
        }
        goOnWith(repeat);
        return;
    }
    if (nameAgain(&repeat)) {
        repeat.place = placeFrom(statement.begin);
        if (repeat.times == 0 && !untilCount(repeat, statement.begin)) return;
        if (repeat.times > 0) countOfRepeats(repeat, statement.begin);
        goOnWith(repeat);
        return;
    }
    const bool verb = takeAny({"rep", "repeat", "work"});
    const bool from = verb && take("from");
    takeAny({"the", "these", "those"});
    const bool last = takeAny({"last", "previous", "above", "this"});
    bool round = false;
    int n = 1;
    bool known = false;
    if (rowWord(round)) {
        if (!last && number(n)) {
            n += offset_;
            repeat.rows = {n, from ? lastRow : n};
            if (takeAny({"-", "to", "through", "and", "&"}) && number(repeat.rows.last))
                repeat.rows.last += offset_;
            known = true;
        } else if (last) {
            repeat.rows = {lastRow, lastRow};
            known = true;
        }
    } else if (ordinal(n)) {
        n += offset_;
        repeat.rows = {n, from ? lastRow : n};
        if (takeAny({"-", "to", "and", "&", ","}) && ordinal(repeat.rows.last)) repeat.rows.last += offset_;
        rowWord(round);
        known = true;
    } else if (number(n)) {
        // `Row 2 and all wrong-side rows`: the last of them carries no number of its own.
        const bool toEven = (lastRow - offset_) % 2 == 1 && n == lastRow - offset_ + 1 &&
                            std::any_of(out_.rows.begin(), out_.rows.end(),
                                        [](const Row& row) { return row.every != Every::none; });
        const int end = toEven ? lastRow + 1 : lastRow;
        repeat.rows = {end - n + 1, end};
        rowWord(round);
        known = true;
    }
    take("inclusive");
    take(",");
    if (!is("total", 1)) takeAny({"a", "another"});
    bool more = false;
    int count = 0;
    if (!verb && then && take("again")) {
        repeat.times = 1;
        repeat.more = true;
    } else if ((verb || then) && times(count, more)) {
        repeat.times = count;
        repeat.more = more || (then && !verb) || tokens_->list[statement.begin + 1].text == "another";
    }
    const std::size_t behind = at_;
    // What is left of the statement says how long or why: "for pattern", "until piece measures 10 cm".
    repeat.place = placeFrom(statement.begin);
    if (!known || repeat.rows.first < 1 || repeat.rows.last < repeat.rows.first) {
        problem(statement.begin, "It is not clear which rows are repeated.",
                {"Repeat rows 1-4 3 more times."});
        return;
    }
    for (std::size_t i = statement.begin; verb && i < statement.end; ++i) {
        bool isRound = false;
        at_ = i + 1;
        if (!isAnyOf(tokens_->list[i].text, {"dec", "inc", "decreasing", "increasing"}) || rowWord(isRound))
            continue;
        at_ = i;
        Evenly evenly;
        if (repeat.times > 0 && evenlyWords(evenly) && evenly.last &&
            (repeat.times > 1 || repeat.more || repeat.rows.last != lastRow)) {
            separators();
            Row counted;
            rowCount(counted);
            repeatThenEvenly(repeat, evenly, counted.printedCount, statement.begin);
            return;
        }
        at_ = statement.end;
        problem(i, "What is shaped besides while these rows are repeated is not understood.",
                {"a row of its own: Next row: k to last st, kfb"});
        return;
    }
    at_ = behind;
    if (repeat.times == 0 && verb && !untilCount(repeat, statement.begin)) return;
    if (repeat.times > 0) countOfRepeats(repeat, statement.begin);
    goOnWith(repeat);
}

/// `Rep rows 3-4 three times. (42 sts)`: the count says whether the rows worked already are one of them.
void Reader::countOfRepeats(RepeatRows& repeat, std::size_t start) {
    takeAny({",", "."});
    Row counted;
    if (!rowCount(counted) || !counted.printedCount) return;
    const auto leaves = [&](bool more) {
        RepeatRows so = repeat;
        so.more = more;
        out_.repeats.push_back(so);
        const std::optional<std::int64_t> n = standing().stitches;
        out_.repeats.pop_back();
        return n;
    };
    const std::optional<std::int64_t> left = leaves(repeat.more);
    if (!left || *left == *counted.printedCount) return;
    if (!repeat.more && leaves(true) == *counted.printedCount) {
        repeat.more = true;
        understood(start, "repeat rows",
                   fmt::format("{} times is counted behind the rows as they stand: the printed count says so",
                               repeat.times));
        return;
    }
    problem(start,
            fmt::format("These repeats leave {} stitches, but {} are printed.", *left, *counted.printedCount),
            {fmt::format("({} sts)", *left)});
}

/// Rows that are repeated are what the piece goes on with.
void Reader::goOnWith(const RepeatRows& repeat) {
    established_ = {};
    established_.kind = Established::Kind::rows;
    established_.rows = repeat.rows;
    established_.since = out_.rows.size();
    out_.repeats.push_back(repeat);
}

/// `until 12 sts remain`: how often that is. False, with a problem, if it never is.
bool Reader::untilCount(RepeatRows& repeat, std::size_t start) {
    const std::size_t here = at_;
    take(",");
    int target = 0;
    const bool until = takeAny({"until", "till", "to"});
    if (until) {
        const std::size_t behind = at_;
        takeAny({"all", "every"});
        takeAny({"the", "of"});
        takeAny({"heel", "short", "rem", "remaining", "unworked"});
        if (stitchWord() && takeAny({"have", "has", "are", "is"}) && (take("been"), take("worked"))) {
            repeat.untilWorked = true;
            repeat.place = placeFrom(start);
            return true;
        }
        at_ = behind;
        takeSeq({"there", "are"}) || takeSeq({"you", "have"}) || take("only");
        if (!number(target) || target < 1 || !stitchWord()) target = 0;
    }
    if (target == 0) {
        at_ = here;
        return true;
    }
    repeat.place = placeFrom(start);
    const std::optional<std::int64_t> now = standing().stitches;
    if (!now) {
        problem(start, "How often is not said, and without the stitches cast on it cannot be told.",
                {"5 more times", "Cast on 60 sts"});
        return false;
    }
    std::int64_t n = *now;
    constexpr int kMost = 1000;
    int times = 0;
    for (; n != target && times < kMost; ++times) {
        const std::int64_t before = n;
        repeat.times = times + 1;
        repeat.more = true;
        out_.repeats.push_back(repeat);
        n = standing().stitches.value_or(0);
        out_.repeats.pop_back();
        if (n == before || (n != target && (before < target) != (n < target))) break;
    }
    if (n != target) {
        problem(start,
                fmt::format("There are {} stitches, and repeating these rows never leaves {}.", *now, target),
                {});
        return false;
    }
    repeat.times = times;
    repeat.more = true;
    return times > 0;
}

}  // namespace loopmend
