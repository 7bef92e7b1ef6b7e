// SPDX-License-Identifier: MIT
#include "pattern/print.h"

#include <algorithm>

#include <fmt/format.h>

namespace loopmend {

namespace {

/// Says things one after another, and which yarn each is worked with where that changes.
class Teller {
  public:
    Teller(Terms terms, std::string_view yarns, int inHand) : terms_(terms), yarns_(yarns), inHand_(inHand) {}

    std::string item(const Item& item);
    /// `x, y, z`
    std::string joined(const std::vector<Item>& items);
    /// `with B `, or nothing
    std::string yarnWords(const Step& step);

  private:
    Terms terms_;
    std::string_view yarns_;
    int inHand_;  ///< -1: nobody knows
};

constexpr std::string_view kLetters = "ABCDEFGHIJKLMNOPQRSTUVWXYZ";

/// `B`, and `B2` for a second ball of that color.
std::string yarnName(std::string_view yarns, std::size_t yarn) {
    if (yarns.size() <= yarn) yarns = kLetters;
    if (yarns.size() <= yarn) return "A";
    std::size_t ball = 1;
    for (std::size_t i = 0; i < yarn; ++i) ball += yarns[i] == yarns[yarn] ? 1 : 0;
    return ball == 1 ? std::string(1, yarns[yarn]) : fmt::format("{}{}", yarns[yarn], ball);
}

/// ` to end`, ` to last 3 sts`
std::string extent(const Item& item) {
    if (item.until == Until::end) return " to end";
    return item.last == 1 ? std::string(" to last st") : fmt::format(" to last {} sts", item.last);
}

std::string wraps(std::string_view word, int count) {
    if (count <= 1) return std::string(word);
    return count == 2 ? fmt::format("{} twice", word) : fmt::format("{} {} times", word, count);
}

/// k1, p1, k1, ... or k1, yo, k1, ...; or begun with a purl.
std::string intoOne(Op op, std::string_view first, std::string_view second, int loops) {
    if (loops == 1 || loops == 3) return std::string(name(op));
    std::string text = "(";
    for (int i = 0; i < loops; ++i) {
        if (i > 0) text += ", ";
        text += i % 2 == 0 ? first : second;
    }
    return text + ") in next st";
}

std::string cable(const Step& step) {
    const bool open = !step.tblOver && !step.tblUnder;
    if (open && step.front && !step.purlOver)
        return fmt::format("{}/{} {}", step.over, step.under, step.purlUnder ? "LPC" : "LC");
    if (open && !step.front && !step.purlUnder)
        return fmt::format("{}/{} {}", step.under, step.over, step.purlOver ? "RPC" : "RC");
    return fmt::format("sl {} to cn and hold in {}, {}{}{}, {}{}{} from cn", step.over,
                       step.front ? "front" : "back", step.purlUnder ? "p" : "k", step.under,
                       step.tblUnder ? " tbl" : "", step.purlOver ? "p" : "k", step.over,
                       step.tblOver ? " tbl" : "");
}

/// A stitch with the number that is printed in it; an empty number (for a run) leaves it out.
std::string stitchWords(const Step& step, std::string_view n, bool yarnSaid, Terms terms) {
    switch (step.op) {
        case Op::knit: return fmt::format("k{}", n);
        case Op::purl: return fmt::format("p{}", n);
        case Op::knitTbl: return fmt::format("k{} tbl", n);
        case Op::purlTbl: return fmt::format("p{} tbl", n);
        case Op::knitBelow: return fmt::format("k{} below", n);
        case Op::purlBelow: return fmt::format("p{} below", n);
        case Op::slipPurlwiseBack: return fmt::format("sl{}{}", n, yarnSaid ? " wyib" : "");
        case Op::slipPurlwiseFront: return fmt::format("sl{} wyif", n);
        case Op::slipKnitwiseBack: return fmt::format("sl{} kwise{}", n, yarnSaid ? " wyib" : "");
        case Op::slipKnitwiseFront: return fmt::format("sl{} kwise wyif", n);
        case Op::yarnOver:
        case Op::yarnOverReverse: return wraps(name(step.op), step.count);
        case Op::kpk: return intoOne(step.op, "k1", "p1", step.count);
        case Op::kyok: return intoOne(step.op, "k1", "yo", step.count);
        case Op::pkp: return intoOne(step.op, "p1", "k1", step.count);
        case Op::pyop: return intoOne(step.op, "p1", "yo", step.count);
        case Op::kfb:
        case Op::pfb: {  // kfb, kfbf, kfbfb
            std::string word(1, step.op == Op::kfb ? 'k' : 'p');
            for (int i = 0; i < makes(step); ++i) word += i % 2 == 0 ? 'f' : 'b';
            return word;
        }
        case Op::castOn: return fmt::format("cast on {}", step.count);
        case Op::bindOff:
        case Op::bindOffPurl: {
            const std::string_view verb = terms == Terms::uk ? "cast off" : "bind off";
            const std::string count = n.empty() ? std::string() : fmt::format(" {}", step.count);
            return fmt::format("{}{}{}", verb, count, step.op == Op::bindOffPurl ? " purlwise" : "");
        }
        case Op::hold: return n.empty() ? std::string("hold") : fmt::format("hold {}", step.count);
        case Op::bindOffTogether:
            return fmt::format("{}{} together", terms == Terms::uk ? "cast off" : "bind off",
                               n.empty() ? std::string() : fmt::format(" {}", step.count));
        case Op::castOnRight: return fmt::format("cast on {} turned right", step.count);
        case Op::castOnKnitted: return fmt::format("cast on {} knitted", step.count);
        case Op::knitWithWrap: return "k1 with its wrap";
        case Op::purlWithWrap: return "p1 with its wrap";
        case Op::knitWithFloat: return "k1 with its float";
        case Op::purlWithFloat: return "p1 with its float";
        case Op::pickUp:
            return fmt::format("pick up and knit {} along the {}edge", step.count,
                               step.edge == Edge::castOn     ? "cast-on "
                               : step.edge == Edge::boundOff ? "bound-off "
                                                             : "");
        case Op::cable: return cable(step);
        case Op::knitWraps: return fmt::format("k{} {}", n, wraps("wrapping", std::max<int>(step.count, 2)));
        case Op::purlWraps: return fmt::format("p{} {}", n, wraps("wrapping", std::max<int>(step.count, 2)));
        case Op::letFall: return n.empty() ? "let fall" : fmt::format("let {} fall", n);
        case Op::skp: return terms == Terms::uk ? "skpo" : "skp";
        default: return std::string(name(step.op));
    }
}

std::string Teller::yarnWords(const Step& step) {
    if (step.yarn == inHand_ && !step.link) return {};
    inHand_ = step.yarn;
    return fmt::format("with {}{} ", yarnName(yarns_, step.yarn), step.link ? " linked" : "");
}

std::string Teller::joined(const std::vector<Item>& items) {
    std::string text;
    for (const Item& one : items) {
        if (!text.empty()) text += ", ";
        text += item(one);
    }
    return text;
}

/// The first yarn of what is said; -1 if nothing is worked.
int firstYarn(const std::vector<Item>& items, bool& several) {
    int first = -1;
    for (const Item& item : items) {
        if (item.kind == ItemKind::marker) continue;
        const bool nested = item.kind == ItemKind::group || item.kind == ItemKind::star;
        const int here = nested ? firstYarn(item.items, several) : item.step.yarn;
        if (first < 0) first = here;
        several = several || (here >= 0 && here != first);
    }
    return first;
}

std::string Teller::item(const Item& item) {
    switch (item.kind) {
        case ItemKind::stitch: {
            const std::string with = yarnWords(item.step);
            if (item.times != 1 && !printedWithNumber(item.step.op))
                return fmt::format("({}{}) {} times", with, printStep(item.step, terms_), item.times);
            return with + stitchWords(item.step, std::to_string(item.times), item.yarnSaid, terms_);
        }
        case ItemKind::group:
        case ItemKind::star: {
            bool several = false;
            (void)firstYarn(item.items, several);
            if (several) inHand_ = -1;  // what is worked again begins again with its own yarn
            const std::string inner = joined(item.items);
            return item.kind == ItemKind::group ? fmt::format("({}) {} times", inner, item.times)
                                                : fmt::format("*{}; rep from *{}", inner, extent(item));
        }
        case ItemKind::run: {
            const std::string with = yarnWords(item.step);
            return with + stitchWords(item.step, "", item.yarnSaid, terms_) + extent(item);
        }
        case ItemKind::follow:
            return yarnWords(item.step) +
                   (item.opposite ? "knit the purls and purl the knits"
                                  : "knit the knits and purl the purls") +
                   extent(item);
        case ItemKind::marker: return item.removed ? "remove marker" : item.slipped ? "sm" : "pm";
    }
    return {};
}

std::string rowList(const Row& row) {
    std::string text;
    for (std::size_t i = 0; i < row.spans.size(); ++i) {
        if (i > 0) text += i + 1 == row.spans.size() && row.every == Every::none ? " and " : ", ";
        const RowSpan& span = row.spans[i];
        text += span.first == span.last ? std::to_string(span.first)
                                        : fmt::format("{}-{}", span.first, span.last);
    }
    return text;
}

std::string_view everyWords(Every every) {
    switch (every) {
        case Every::odd: return "every odd";
        case Every::even: return "every even";
        case Every::right: return "all RS";
        case Every::wrong: return "all WS";
        case Every::none: break;
    }
    return {};
}

std::string head(const Row& row) {
    const std::string_view one = row.round ? "Rnd" : "Row";
    const std::string_view many = row.round ? "Rnds" : "Rows";
    const bool plural = row.every == Every::right || row.every == Every::wrong;
    std::string text;
    if (row.spans.empty()) {
        text = fmt::format("{} {}", everyWords(row.every),
                           plural ? (row.round ? "rnds" : "rows") : (row.round ? "rnd" : "row"));
        text[0] = static_cast<char>(text[0] - 'a' + 'A');
    } else if (row.spans.size() == 1 && row.spans[0].last == 0) {
        text = row.round ? "Set-up rnd" : "Set-up row";
    } else {
        const bool several = row.spans.size() > 1 || row.spans[0].first != row.spans[0].last;
        text = fmt::format("{} {}", several ? many : one, rowList(row));
        if (row.every != Every::none)
            text += fmt::format(" and {} {}", everyWords(row.every),
                                plural ? (row.round ? "rnds" : "rows") : (row.round ? "rnd" : "row"));
    }
    if (row.facing) text += *row.facing == Facing::right ? " (RS)" : " (WS)";
    return text;
}

}  // namespace

std::string printStep(const Step& step, Terms terms) {
    return stitchWords(step, "1", true, terms);
}

std::string printItem(const Item& item, Terms terms) {
    bool several = false;
    return Teller(terms, kLetters, firstYarn({item}, several)).item(item);
}

namespace {

std::string bodyOf(const Row& row, Terms terms, std::string_view yarns, int inHand) {
    if (!row.sameAs) return Teller(terms, yarns, inHand).joined(row.items);
    const std::string_view word = row.round ? "rnd" : "row";
    if (row.sameAs->first == row.sameAs->last) return fmt::format("as {} {}", word, row.sameAs->first);
    return fmt::format("as {}s {}-{}", word, row.sameAs->first, row.sameAs->last);
}

std::string rowOf(const Row& row, Terms terms, std::string_view yarns, int inHand) {
    std::string text = fmt::format("{}: {}.", head(row), bodyOf(row, terms, yarns, inHand));
    if (row.printedCount)
        text += fmt::format(" ({} {})", *row.printedCount, *row.printedCount == 1 ? "st" : "sts");
    return text;
}

}  // namespace

std::string printBody(const Row& row, Terms terms) {
    return bodyOf(row, terms, kLetters, 0);
}

std::string printRow(const Row& row, Terms terms) {
    return rowOf(row, terms, kLetters, 0);
}

std::string print(const Pattern& pattern, Terms terms) {
    std::string text;
    if (!pattern.title.empty()) text += fmt::format("# {}\n", pattern.title);
    if (pattern.multiple) {
        text += pattern.multiple->plus == 0
                    ? fmt::format("Multiple of {}.\n", pattern.multiple->of)
                    : fmt::format("Multiple of {} plus {}.\n", pattern.multiple->of, pattern.multiple->plus);
    }
    if (pattern.castOn)
        text += fmt::format("Cast on {} {}.\n", *pattern.castOn, *pattern.castOn == 1 ? "st" : "sts");
    if (pattern.round) text += "Worked in the round.\n";
    const bool several = pattern.yarns.size() > 1;
    if (several) {
        text += "Yarns:";
        for (std::size_t i = 0; i < pattern.yarns.size(); ++i)
            text += fmt::format("{} {}", i > 0 ? "," : "", yarnName(pattern.yarns, i));
        text += ".\n";
    }
    std::size_t repeat = 0;
    const auto repeatsUpTo = [&](std::size_t rows) {
        for (; repeat < pattern.repeats.size() && pattern.repeats[repeat].after <= rows; ++repeat) {
            const RepeatRows& again = pattern.repeats[repeat];
            const std::string_view word = pattern.round ? "rnd" : "row";
            text += again.rows.first == again.rows.last
                        ? fmt::format("Repeat {} {}", word, again.rows.first)
                        : fmt::format("Repeat {}s {}-{}", word, again.rows.first, again.rows.last);
            if (again.times > 0)
                text += fmt::format(" {}{} {}", again.times, again.more ? " more" : "",
                                    again.times == 1 ? "time" : "times");
            text += ".\n";
        }
    };
    for (std::size_t i = 0; i < pattern.rows.size(); ++i) {
        repeatsUpTo(i);
        text += rowOf(pattern.rows[i], terms, pattern.yarns, several ? -1 : 0);
        text += '\n';
    }
    repeatsUpTo(pattern.rows.size());
    if (pattern.bindOffAtEnd) text += terms == Terms::uk ? "Cast off.\n" : "Bind off.\n";
    return text;
}

std::string printSteps(const std::vector<Step>& steps, Terms terms, std::string_view yarns) {
    std::string text;
    Teller teller(terms, yarns, 0);
    for (std::size_t i = 0; i < steps.size();) {
        // Only the first of several is said to be linked.
        Step same = steps[i];
        same.link = false;
        std::size_t n = 1;
        while (i + n < steps.size() && steps[i + n] == same) ++n;
        if (!text.empty()) text += ", ";
        text += teller.yarnWords(steps[i]);
        const bool plain = steps[i].op == Op::knit || steps[i].op == Op::purl;
        if (plain) {
            text += fmt::format("{}{}", steps[i].op == Op::knit ? 'k' : 'p', n);
            i += n;
        } else {
            text += printStep(steps[i], terms);
            ++i;
        }
    }
    return text;
}

}  // namespace loopmend
