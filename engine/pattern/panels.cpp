// SPDX-License-Identifier: MIT
#include "pattern/panels.h"

#include "pattern/counts.h"
#include "pattern/heading_words.h"
#include "pattern/part_of_row.h"

#include <algorithm>
#include <cctype>

#include <fmt/format.h>

namespace loopmend {

namespace {

constexpr std::size_t kMostWritten = 400;
constexpr int kMostRowsOfPanel = 200;
constexpr std::size_t kMostPanels = 40;

bool digit(char c) {
    return std::isdigit(static_cast<unsigned char>(c)) != 0;
}

std::vector<std::string> wordsOf(std::string_view text) {
    std::vector<std::string> words = headingWords(text);
    std::replace(words.begin(), words.end(), std::string("pattern"), std::string("patt"));
    return words;
}

bool isRowHead(std::string_view line) {
    const std::vector<std::string> words = wordsOf(line.substr(0, 40));
    if (words.empty()) return false;
    for (const std::string_view word : {"row", "rows", "rnd", "rnds", "round", "rounds"}) {
        if (words.front() == word) return true;
        if (words.size() > 1 && (words.front() == "all" || words.front() == "every") &&
            std::find(words.begin(), words.end(), word) != words.end())
            return true;
    }
    return false;
}

int firstNumber(std::string_view line) {
    const auto at = std::find_if(line.begin(), line.end(), digit);
    int n = 0;
    for (auto i = at; i != line.end() && digit(*i); ++i) n = std::min(n * 10 + (*i - '0'), kLargestNumber);
    return n;
}

/// A heading that may name a panel: at most four words, one of them what such rows are called.
bool heading(std::string_view line, Panel& panel) {
    const std::size_t behind = std::min({line.find('('), line.find(':'), line.find(" over "), line.size()});
    const std::string_view name = line.substr(0, behind);
    if (std::any_of(name.begin(), name.end(), digit)) return false;
    panel.words = wordsOf(name);
    if (!panel.words.empty() && panel.words.front() == "the") panel.words.erase(panel.words.begin());
    constexpr std::size_t kMostWords = 4;
    if (panel.words.empty() || panel.words.size() > kMostWords) return false;
    const bool called = std::any_of(panel.words.begin(), panel.words.end(), [](const std::string& word) {
        return word == "panel" || word == "patt" || word == "motif" || word == "chart" || word == "cable" ||
               word == "lace";
    });
    if (!called) return false;
    const std::string_view rest = line.substr(behind);
    // Rows on the line of the heading are not looked for.
    if (rest.find(',') != std::string_view::npos) return false;
    panel.stitches = rest.find("st") == std::string_view::npos ? 0 : firstNumber(rest);
    for (const std::string& word : panel.words) panel.name += (panel.name.empty() ? "" : " ") + word;
    return true;
}

/// Whether words stand one behind the other in a text, and again.
bool isSaidTwice(const std::vector<std::string>& text, const std::vector<std::string>& words) {
    const auto first = std::search(text.begin(), text.end(), words.begin(), words.end());
    return first != text.end() &&
           std::search(first + 1, text.end(), words.begin(), words.end()) != text.end();
}

std::string onlyThese(std::string_view text, std::size_t begin, std::size_t end, bool kept) {
    std::string out(text);
    for (std::size_t i = 0; i < out.size(); ++i) {
        const bool inside = i >= begin && i < end;
        if (inside != kept && out[i] != '\n') out[i] = ' ';
    }
    return out;
}

bool asks(const std::vector<Item>& items, bool onlyByItsCount) {
    return std::any_of(items.begin(), items.end(), [&](const Item& item) {
        return (item.panel > 0 && (item.panelRow == 0 || !onlyByItsCount)) ||
               asks(item.items, onlyByItsCount);
    });
}

/// Puts the stitches in. at: the row whose turn it is, of each panel. used: whose turn it was.
void putIn(const Panels& panels, const std::vector<std::size_t>& at, std::vector<bool>& used,
           std::vector<Item>& items) {
    std::vector<Item> out;
    for (Item& item : items) {
        if (item.panel == 0) {
            putIn(panels, at, used, item.items);
            out.push_back(std::move(item));
            continue;
        }
        const auto which = static_cast<std::size_t>(item.panel) - 1;
        const Panel& panel = panels.list[which];
        if (panel.rows.empty()) continue;
        if (item.panelRow == 0) used[which] = true;
        const std::size_t row = item.panelRow > 0 ? static_cast<std::size_t>(item.panelRow) - 1 : at[which];
        for (Item stitch : panel.rows[row % panel.rows.size()]) {
            stitch.place = item.place;
            out.push_back(std::move(stitch));
        }
    }
    items = std::move(out);
}

}  // namespace

Panels panelsOf(std::string_view text) {
    Panels panels;
    panels.text.assign(text);
    const std::vector<std::string> all = wordsOf(text);
    int line = 1;
    for (std::size_t at = 0; at < text.size(); ++line) {
        std::size_t end = std::min(text.find('\n', at), text.size());
        Panel panel;
        const std::size_t body = std::min(end + 1, text.size());
        if (heading(text.substr(at, end - at), panel) && panels.list.size() < kMostPanels &&
            isSaidTwice(all, panel.words)) {
            panel.line = line;
            std::size_t last = body;
            int row = 0;
            int lines = 0;
            for (std::size_t next = body; next < text.size();) {
                const std::size_t stop = std::min(text.find('\n', next), text.size());
                const std::string_view here = text.substr(next, stop - next);
                const bool blank = std::all_of(here.begin(), here.end(),
                                               [](char c) { return c == ' ' || c == '\t' || c == '\r'; });
                const bool head = isRowHead(here);
                const int number = head ? firstNumber(here) : 0;
                const bool indented = !here.empty() && (here.front() == ' ' || here.front() == '\t');
                if (blank || (!head && !indented) || (head && number > 0 && number <= row)) break;
                row = std::max(row, number);
                last = std::min(stop + 1, text.size());
                next = last;
                ++lines;
            }
            if (lines > 0) {
                panel.text = onlyThese(text, body, last, true);
                panels.text = onlyThese(panels.text, at, last, false);
                panels.list.push_back(std::move(panel));
                line += lines;
                end = last - 1;
            }
        }
        at = end + 1;
    }
    return panels;
}

void readPanels(Panels& panels, const ParseOptions& options, Pattern& pattern) {
    for (Panel& panel : panels.list) {
        const Pattern rows = parse(panel.text, options);
        pattern.problems.insert(pattern.problems.end(), rows.problems.begin(), rows.problems.end());
        pattern.understood.insert(pattern.understood.end(), rows.understood.begin(), rows.understood.end());
        if (!rows.problems.empty()) continue;
        const RowOrder order = rowOrder(rows);
        const auto wrong = [&](std::string message) {
            pattern.problems.push_back(
                {0, panel.line, 1, panel.name, std::move(message), {"Panel A (12 sts)"}, 0});
        };
        int stitches = panel.stitches;
        if (stitches == 0) {
            const std::optional<Multiple> multiple = countAll(rows).multiple;
            if (!multiple || multiple->of != 0) {
                wrong("Over how many stitches these rows are worked is not said.");
                continue;
            }
            stitches = static_cast<int>(std::min<std::int64_t>(multiple->least, kLargestNumber));
        }
        const tl::expected<Script, Problem> script =
            expand(rows, stitches, std::min(static_cast<int>(order.rows.size()), kMostRowsOfPanel));
        if (!script) {
            pattern.problems.push_back(script.error());
            continue;
        }
        for (const WorkedRow& row : script->rows) panel.rows.push_back(itemsOf(row.steps));
    }
}

void workPanels(const Panels& panels, Pattern& pattern) {
    const bool byCount = std::any_of(pattern.rows.begin(), pattern.rows.end(),
                                     [](const Row& row) { return asks(row.items, true); });
    std::vector<std::size_t> at(panels.list.size());
    std::vector<bool> used(panels.list.size());
    if (!byCount) {
        for (Row& row : pattern.rows) {
            if (asks(row.items, false)) putIn(panels, at, used, row.items);
        }
        return;
    }
    const RowOrder order = rowOrder(pattern);
    std::vector<Row> rows;
    const auto work = [&](std::size_t position) {
        const OrderedRow& ordered = order.rows[position];
        Row row = pattern.rows[ordered.row];
        const Row& head = pattern.rows[ordered.head];
        const int n = static_cast<int>(rows.size()) + 1;
        row.spans = {{n, n}};
        row.every = Every::none;
        row.round = head.round;
        row.facing = n == 1 ? head.facing : std::nullopt;
        const std::optional<std::int64_t> printed = printedAfter(pattern, ordered);
        row.printedCount =
            printed ? std::optional<int>(static_cast<int>(std::min<std::int64_t>(*printed, kMostStitches)))
                    : std::nullopt;
        row.place = head.place;
        std::fill(used.begin(), used.end(), false);
        putIn(panels, at, used, row.items);
        for (std::size_t i = 0; i < at.size(); ++i) {
            if (used[i]) at[i] = (at[i] + 1) % std::max<std::size_t>(panels.list[i].rows.size(), 1);
        }
        rows.push_back(std::move(row));
    };
    std::vector<std::size_t> atLoop = at;
    for (std::size_t i = 0; i < order.rows.size() && i < kMostWritten; ++i) {
        if (i == order.loopFirst) atLoop = at;
        work(i);
    }
    std::vector<RepeatRows> repeats;
    if (order.loopPrinted && order.loopEnd == order.rows.size() && order.loopEnd > order.loopFirst) {
        while (at != atLoop && rows.size() < kMostWritten) {
            for (std::size_t i = order.loopFirst; i < order.loopEnd; ++i) work(i);
        }
        RepeatRows repeat;
        for (const RepeatRows& printed : pattern.repeats) {
            if (printed.times == 0) repeat = printed;
        }
        repeat.rows = {static_cast<int>(order.loopFirst) + 1, static_cast<int>(rows.size())};
        repeat.after = rows.size();
        repeats.push_back(repeat);
    }
    pattern.rows = std::move(rows);
    pattern.repeats = std::move(repeats);
    const Panel& first = panels.list.front();
    pattern.understood.push_back({0, first.line, 1, first.name,
                                  "rows under a name of their own are counted by themselves: each time that "
                                  "they are asked for, the next of them is worked, also where other rows "
                                  "begin again"});
}

}  // namespace loopmend
