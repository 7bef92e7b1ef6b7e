// SPDX-License-Identifier: MIT
// Text -> chart.
#include <algorithm>
#include <array>
#include <map>

#include <fmt/format.h>

#include "pattern/chart_text.h"
#include "pattern/edit_distance.h"
#include "pattern/parse.h"
#include "pattern/plain_words.h"
#include "pattern/print.h"

namespace loopmend {

namespace {

constexpr std::size_t kMostChartRows = 5000;

/// Words between blanks on one line, with where they stand.
struct Bit {
    std::string_view text;
    std::size_t begin = 0;  ///< byte in the whole text
};

bool allDigits(std::string_view text) {
    return !text.empty() &&
           std::all_of(text.begin(), text.end(), [](char c) { return c >= '0' && c <= '9'; });
}

std::optional<int> numberOf(std::string_view text, int most = kLargestNumber) {
    if (!allDigits(text) || text.size() > 7) return std::nullopt;
    const int value = std::stoi(std::string(text));
    return value > most ? std::nullopt : std::optional<int>(value);
}

std::string lower(std::string_view text) {
    std::string out(text);
    for (char& c : out)
        if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
    return out;
}

std::string_view trimmed(std::string_view text) {
    const std::size_t first = text.find_first_not_of(" \t\r");
    if (first == std::string_view::npos) return {};
    return text.substr(first, text.find_last_not_of(" \t\r") - first + 1);
}

constexpr std::array<std::string_view, 12> kKeys = {"title",     "multiple", "cast on",  "worked",
                                                    "first row", "hand",     "yarns",    "repeat",
                                                    "note",      "bind off", "cast off", "style"};

class Parsing {
  public:
    explicit Parsing(std::string_view text) { chart_.text.assign(text); }

    WrittenChart run() {
        lines();
        legend();  // it may explain signs of the grid
        for (const Line& line : grid_) row(line);
        finish();
        return std::move(chart_);
    }

  private:
    struct Line {
        std::string_view text;
        std::size_t begin = 0;
        int number = 0;
    };

    Place placeOf(const Line& line, std::size_t begin, std::size_t end) const {
        Place place;
        place.line = line.number;
        place.column = 1;
        for (std::size_t i = line.begin; i < begin; ++i)
            if ((static_cast<unsigned char>(chart_.text[i]) & 0xC0U) != 0x80U) ++place.column;
        place.begin = static_cast<std::uint32_t>(begin);
        place.end = static_cast<std::uint32_t>(end);
        return place;
    }

    void problem(const Line& line, std::string_view words, std::string message,
                 std::vector<std::string> suggestions = {}, int row = 0) {
        // Nothing has no place of its own: it may be a view of nowhere.
        const std::size_t begin =
            words.empty() ? line.begin : static_cast<std::size_t>(words.data() - chart_.text.data());
        const Place place = placeOf(line, begin, begin + words.size());
        Problem told;
        told.row = row;
        told.line = place.line;
        told.column = place.column;
        told.words = std::string(words.substr(0, 60));
        told.message = std::move(message);
        told.suggestions = std::move(suggestions);
        chart_.problems.push_back(std::move(told));
    }

    /// Sorts lines into head, grid and legend.
    void lines() {
        enum class Part { head, grid, legend } part = Part::head;
        const std::string_view text = chart_.text;
        int number = 0;
        bool named = false;
        for (std::size_t at = 0; at < text.size();) {
            const std::size_t end = std::min(text.find('\n', at), text.size());
            Line line{trimmed(text.substr(at, end - at)), at, ++number};
            at = end + 1;
            if (number == 1 && line.text.substr(0, 3) == "\xEF\xBB\xBF") line.text.remove_prefix(3);
            if (line.text.empty() || line.text.substr(0, 2) == "//") continue;
            const std::string word = lower(line.text);
            if (!named) {
                named = true;
                if (head(line, word)) continue;
            }
            if (word == "chart:") {
                part = Part::grid;
                seen_ = true;
            } else if (word == "legend:") {
                part = Part::legend;
            } else if (part == Part::head) {
                fact(line);
            } else if (part == Part::grid) {
                grid_.push_back(line);
            } else {
                legend_.push_back(line);
            }
        }
        if (!named || !seen_ || grid_.empty()) {
            Problem told;
            told.line = std::max(number, 1);
            told.column = 1;
            told.message =
                seen_ ? "There is no row below “Chart:”." : "There is no line “Chart:” with rows below it.";
            told.suggestions = {seen_ ? "| | | 1" : "Chart:"};
            chart_.problems.push_back(std::move(told));
        }
        if (grid_.size() > kMostChartRows) {
            problem(grid_[kMostChartRows], grid_[kMostChartRows].text,
                    fmt::format("A chart has {} rows at most.", kMostChartRows));
            grid_.resize(kMostChartRows);
        }
    }

    bool head(const Line& line, const std::string& word) {
        if (word.substr(0, kChartHead.size()) != kChartHead) {
            problem(line, line.text, "The first line does not say that this is a chart.",
                    {"loopmend chart 1"});
            return false;
        }
        const std::string_view version = trimmed(line.text.substr(kChartHead.size()));
        if (version != "1")
            problem(line, line.text,
                    numberOf(version) ? "This chart was written by a newer program than this one."
                                      : "The first line does not give the version.",
                    {"loopmend chart 1"});
        return true;
    }

    void fact(const Line& line) {
        const std::size_t colon = line.text.find(':');
        const std::string_view name = trimmed(line.text.substr(0, colon));
        const std::string key = lower(name);
        const std::string_view value =
            colon == std::string_view::npos ? std::string_view{} : trimmed(line.text.substr(colon + 1));
        if (colon == std::string_view::npos || std::find(kKeys.begin(), kKeys.end(), key) == kKeys.end()) {
            constexpr int kNear = 2;
            const auto apart = [&](std::string_view known) { return lettersApart(key, known, {}, kNear); };
            const auto near = std::min_element(kKeys.begin(), kKeys.end(),
                                               [&](auto a, auto b) { return apart(a) < apart(b); });
            std::vector<std::string> suggestions;
            if (apart(*near) <= kNear) {
                std::string fixed(*near);
                fixed[0] = static_cast<char>(fixed[0] - 'a' + 'A');
                suggestions.push_back(fixed + ":");
            } else {
                suggestions.push_back("Note: " + std::string(line.text));
            }
            problem(line, name.empty() ? line.text : name, "This is no line that a chart begins with.",
                    std::move(suggestions));
            return;
        }
        const std::string said = lower(value);
        const auto refuse = [&](std::string message, std::vector<std::string> suggestions) {
            problem(line, value.empty() ? name : value, std::move(message), std::move(suggestions));
        };
        if (key == "title") {
            chart_.title = oneLine(std::string(value));
        } else if (key == "note") {
            chart_.notes.push_back(oneLine(std::string(value)));
        } else if (key == "cast on") {
            chart_.castOn = numberOf(value);
            if (!chart_.castOn) refuse("Here stands how many stitches are cast on.", {"Cast on: 21"});
        } else if (key == "multiple") {
            multiple(said, refuse);
        } else if (key == "worked") {
            chart_.round = said == "in rounds" || said == "in the round";
            if (!chart_.round && said != "in rows")
                refuse("A chart is worked in rows or in rounds.", {"in rows", "in rounds"});
        } else if (key == "first row") {
            if (said == "right side" || said == "rs") {
                first_ = Facing::right;
            } else if (said == "wrong side" || said == "ws") {
                first_ = Facing::wrong;
            } else {
                refuse("Here stands which side faces you in the first row.", {"right side", "wrong side"});
            }
            firstLine_ = line;
        } else if (key == "hand") {
            chart_.leftHanded = said == "left";
            if (!chart_.leftHanded && said != "right")
                refuse("A knitter's hand is right or left.", {"left", "right"});
        } else if (key == "yarns") {
            const bool good =
                !value.empty() && value.size() <= 256 &&
                std::all_of(value.begin(), value.end(), [](char c) { return c >= 'A' && c <= 'Z'; });
            if (good)
                chart_.yarns = std::string(value);
            else
                refuse("Here stands a capital letter for the colour of each yarn.", {"AB"});
        } else if (key == "style") {
            faces_ = said == "face and reverse";
            if (!faces_ && said != "symbols")
                refuse("This notation is not known.", {"face and reverse", "symbols"});
        } else if (key == "repeat") {
            repeats_.push_back({line, value});
        } else {
            chart_.bindOffAtEnd = said == "at the end" || said == "all";
            if (!chart_.bindOffAtEnd) refuse("All stitches can be bound off at the end.", {"at the end"});
        }
    }

    template <class Refuse>
    void multiple(const std::string& said, Refuse refuse) {
        PrintedMultiple printed;
        const std::size_t plus = said.find_first_of("p+");
        const auto of = numberOf(trimmed(std::string_view(said).substr(0, plus)));
        std::optional<int> more = 0;
        if (plus != std::string::npos) {
            std::string_view rest = std::string_view(said).substr(plus);
            rest.remove_prefix(rest.substr(0, 4) == "plus" ? 4 : 1);
            more = numberOf(trimmed(rest));
        }
        if (!of || *of < 1 || !more) {
            refuse("Here stands which numbers of stitches come out.", {"Multiple: 4 plus 1"});
            return;
        }
        printed.of = *of;
        printed.plus = *more;
        chart_.multiple = printed;
    }

    static std::vector<Bit> bitsOf(const Line& line, const char* base) {
        std::vector<Bit> bits;
        const std::string_view text = line.text;
        const auto offset = static_cast<std::size_t>(text.data() - base);
        for (std::size_t i = 0; i < text.size();) {
            const char c = text[i];
            if (c == ' ' || c == '\t') {
                ++i;
                continue;
            }
            std::size_t end = i + 1;
            if (c != '[' && c != ']')
                while (end < text.size() && text[end] != ' ' && text[end] != '\t' && text[end] != '[' &&
                       text[end] != ']')
                    ++end;
            bits.push_back({text.substr(i, end - i), offset + i});
            i = end;
        }
        return bits;
    }

    /// `Q  RS k2tog; WS p2tog`
    void legend() {
        for (const Line& line : legend_) {
            const std::size_t blank = line.text.find_first_of(" \t");
            const std::string_view glyph = line.text.substr(0, blank);
            if (blank == std::string_view::npos || glyph == "#" || glyph == ":" || glyph == "~" ||
                glyph[0] == '[' || glyph[0] == '.')
                continue;
            const std::string_view words = trimmed(line.text.substr(blank));
            for (std::size_t at = 0; at < words.size();) {
                const std::size_t end = std::min(words.find(';', at), words.size());
                meaning(line, glyph, trimmed(words.substr(at, end - at)));
                at = end + 1;
            }
        }
    }

    void meaning(const Line& line, std::string_view glyph, std::string_view words) {
        Facing facing = Facing::right;
        const std::string side = lower(words.substr(0, 3));
        if (side == "rs " || side == "ws ") {
            if (side == "ws ") facing = Facing::wrong;
            words = trimmed(words.substr(3));
        }
        const auto known = signOfGlyph(glyph);
        if (known) {
            const auto step = stepOf(*known, facing);
            if (step && (words == printStep(*step, Terms::us) || words == printStep(*step, Terms::uk)))
                return;
            const auto said = oneStep(words);
            if (!said || !step) return;  // a remark of the writer's, or of another program's
            if (signOf(*said, facing) == *known) return;
            const std::string usual = glyphOf(shown(signOf(*said, facing)));
            problem(line, words,
                    fmt::format("“{}” is {} here, whatever the legend says.", glyph, printStep(*step)),
                    {usual, fmt::format("{} {}", glyph, printStep(*step))});
            return;
        }
        const auto said = oneStep(words);
        if (!said) {
            problem(line, words, fmt::format("What “{}” stands for is not understood.", glyph),
                    {fmt::format("{} RS k2tog", glyph)});
            return;
        }
        own_.emplace(std::string(glyph), signOf(*said, facing));
    }

    static std::optional<Step> oneStep(std::string_view words) {
        if (words.empty() || words.size() > 80) return std::nullopt;
        const Pattern pattern = parse("Row 1: " + std::string(words));
        if (!pattern.problems.empty() || pattern.rows.size() != 1 || pattern.rows[0].items.size() != 1)
            return std::nullopt;
        const Item& item = pattern.rows[0].items[0];
        if (item.kind != ItemKind::stitch || item.times != 1) return std::nullopt;
        return item.step;
    }

    /// As kept, of a right-handed piece.
    StitchSign shown(StitchSign sign) const { return chart_.leftHanded ? mirrored(sign) : sign; }

    std::optional<StitchSign> signOfGlyph(std::string_view glyph) const {
        if (faces_) {
            StitchSign sign;
            if (glyph == "O") sign.sign = Sign::purl;
            if (glyph == "X" || glyph == "O") return sign;
            return std::nullopt;
        }
        const auto sign = signFrom(glyph);
        if (!sign) return std::nullopt;
        return shown(*sign);
    }

    std::optional<StitchSign> signAt(std::string_view glyph) const {
        const auto sign = signOfGlyph(glyph);
        if (sign) return sign;
        const auto own = own_.find(std::string(glyph));
        if (own == own_.end()) return std::nullopt;
        return own->second;
    }

    void row(const Line& line) {
        std::vector<Bit> bits = bitsOf(line, chart_.text.data());
        WrittenRow out;
        const auto left = bits.empty() ? std::nullopt : numberOf(bits.front().text);
        const auto right = bits.size() < 2 ? std::nullopt : numberOf(bits.back().text);
        if (!left && !right) {
            problem(line, line.text, "The row has no number at the side where it begins.",
                    {std::string(line.text.substr(0, 60)) + fmt::format(" {}", nextNumber())});
            return;
        }
        if (left && right) {
            problem(line, bits.back().text, "A row has one number, at the side where it begins.");
        }
        const bool fromRight = right.has_value();
        out.number = fromRight ? *right : *left;
        if (left) bits.erase(bits.begin());
        if (right) bits.pop_back();
        out.facing = fromRight != chart_.leftHanded ? Facing::right : Facing::wrong;
        const std::size_t begin = static_cast<std::size_t>(line.text.data() - chart_.text.data());
        out.place = placeOf(line, begin, begin + line.text.size());
        cells(line, bits, out);
        if (!chart_.rows.empty() && out.number >= chart_.rows.back().number)
            problem(line, fromRight ? line.text : line.text.substr(0, line.text.find_first_of(" \t")),
                    fmt::format("Row {} stands below row {}: a chart goes from the bottom up.", out.number,
                                chart_.rows.back().number),
                    {}, out.number);
        chart_.rows.push_back(std::move(out));
    }

    int nextNumber() const { return chart_.rows.empty() ? 1 : std::max(chart_.rows.back().number - 1, 1); }

    void cells(const Line& line, const std::vector<Bit>& bits, WrittenRow& out) {
        std::optional<std::size_t> opened;
        std::optional<std::size_t> closed;
        int room = 0;  // squares that the last sign still takes
        int width = 0;
        for (const Bit& bit : bits) {
            if (bit.text == "~") {
                if (--room < 0)
                    problem(line, bit.text, "The sign at its left does not take so many squares.",
                            {"leave it out"}, out.number);
                continue;
            }
            room = 0;
            if (bit.text == "[" || bit.text == "]") {
                const bool opens = bit.text == "[";
                if (opens ? opened.has_value() : (!opened || closed.has_value())) {
                    problem(line, bit.text,
                            opens ? "A row has one repeat, and this one has begun already."
                                  : "No repeat ends here: there is no [ before it.",
                            {}, out.number);
                    continue;
                }
                (opens ? opened : closed) = out.cells.size();
                continue;
            }
            ChartCell cell;
            cell.place = placeOf(line, bit.begin, bit.begin + bit.text.size());
            if (bit.text == "#") {
                cell.kind = ChartCell::Kind::none;
            } else if (bit.text == ":") {
                cell.kind = ChartCell::Kind::waiting;
            } else if (const auto sign = signAt(bit.text)) {
                cell.sign = *sign;
                room = cell.width() - 1;
                if (cell.sign.yarn >= chart_.yarns.size())
                    problem(line, bit.text,
                            fmt::format("The chart has {} yarn{}, and this is another.", chart_.yarns.size(),
                                        chart_.yarns.size() == 1 ? "" : "s"),
                            {"Yarns: AB"}, out.number);
            } else {
                problem(line, bit.text,
                        fmt::format("“{}” is no sign known here, and the legend does not explain it.",
                                    bit.text.substr(0, 20)),
                        near(bit.text), out.number);
                out.sound = false;
                continue;
            }
            width += cell.width();
            if (width > kMostSquares) {
                problem(line, bit.text, fmt::format("A row of a chart has {} squares at most.", kMostSquares),
                        {}, out.number);
                return;
            }
            out.cells.push_back(cell);
        }
        box(line, opened, closed, out);
        // Read from the left; kept from the right edge of a right-handed piece.
        if (chart_.leftHanded) return;
        std::reverse(out.cells.begin(), out.cells.end());
        if (!out.boxed()) return;
        const std::size_t first = out.cells.size() - out.boxEnd;
        out.boxEnd = out.cells.size() - out.boxFirst;
        out.boxFirst = first;
    }

    void box(const Line& line, std::optional<std::size_t> opened, std::optional<std::size_t> closed,
             WrittenRow& out) {
        if (!opened) return;
        if (!closed) {
            problem(line, line.text, "The repeat does not end: there is no ] behind the [.", {}, out.number);
            return;
        }
        int used = 0;
        for (std::size_t i = *opened; i < *closed; ++i) {
            const ChartCell& cell = out.cells[i];
            const auto step =
                cell.kind == ChartCell::Kind::stitch ? stepOf(cell.sign, out.facing) : std::nullopt;
            if (step) used += uses(*step);
        }
        if (used <= 0) {
            problem(line, line.text, "What is repeated takes no stitch, so it would never end.", {},
                    out.number);
            return;
        }
        out.boxFirst = *opened;
        out.boxEnd = *closed;
    }

    /// What a misspelt sign may have been.
    static std::vector<std::string> near(std::string_view glyph) {
        static constexpr std::pair<std::string_view, std::string_view> kLike[] = {
            {"k", "|"},     {"p", "-"},  {"I", "|"},    {"l", "|"},      {"_", "-"},     {"O", "o"},
            {"0", "o"},     {"yo", "o"}, {".", "#"},    {"X", "x"},      {"k2tog", "/"}, {"ssk", "\\"},
            {"skp", "\\'"}, {"sl", "v"}, {"m1", "M\\"}, {"p2tog", "/_"}, {"y", "Y"},     {"s", "v"},
        };
        std::vector<std::string> out;
        for (const auto& [from, to] : kLike)
            if (glyph == from) out.emplace_back(to);
        if (out.empty() && glyph.size() > 1) {
            const std::string first(glyph.substr(0, 1));
            if (signFrom(first)) out.push_back(first);
        }
        return out;
    }

    /// `rows 1-4 3 more times after row 8`
    void repeat(const Line& line, std::string_view value) {
        std::vector<std::string> words;
        std::string word;
        for (const char c : lower(value) + " ") {
            const bool part = (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9');
            const bool changes = !word.empty() && ((word[0] <= '9') != (c <= '9'));
            if (!word.empty() && (!part || changes)) {
                words.push_back(word);
                word.clear();
            }
            if (part) word += c;
        }
        RepeatRows out;
        std::size_t at = 0;
        const auto number = [&](int& n) {
            const auto value_ = at < words.size() ? numberOf(words[at]) : std::nullopt;
            if (!value_) return false;
            n = *value_;
            ++at;
            return true;
        };
        const auto take = [&](std::initializer_list<std::string_view> any) {
            const bool is = at < words.size() && std::find(any.begin(), any.end(), words[at]) != any.end();
            if (is) ++at;
            return is;
        };
        take({"rows", "row", "rounds", "round", "rnds", "rnd"});
        bool good = number(out.rows.first);
        out.rows.last = out.rows.first;
        take({"to"});
        int n = 0;
        const bool toLast = good && number(n);
        if (toLast && at < words.size() &&
            (words[at] == "times" || words[at] == "time" || words[at] == "more")) {
            out.times = n;
        } else if (toLast) {
            out.rows.last = n;
            number(out.times);
        }
        out.more = take({"more"});
        const bool times = take({"times", "time"});
        int after = out.rows.last;
        if (take({"after"})) {
            take({"row", "round"});
            good = good && number(after);
        }
        good = good && at == words.size() && out.rows.first <= out.rows.last && times == (out.times > 0);
        if (!good) {
            problem(line, value.empty() ? line.text : value, "Here stands which rows are repeated.",
                    {"Repeat: rows 1-4", "Repeat: rows 1-4 3 more times"});
            return;
        }
        const auto found = std::find_if(chart_.rows.begin(), chart_.rows.end(),
                                        [&](const WrittenRow& row) { return row.number == after; });
        if (found == chart_.rows.end()) {
            problem(line, value, fmt::format("There is no row {} in the chart.", after));
            return;
        }
        out.after = static_cast<std::size_t>(found - chart_.rows.begin()) + 1;
        chart_.repeats.push_back(out);
    }

    /// A round begins at its own side, unless the work was turned within it.
    void rounds() {
        bool turned = false;
        for (const WrittenRow& row : chart_.rows) {
            if (row.facing == Facing::wrong && !turned) {
                Problem told;
                told.row = row.number;
                told.line = row.place.line;
                told.column = row.place.column;
                told.message = fmt::format("Every round begins at the {}: its number stands there.",
                                           chart_.leftHanded ? "left" : "right");
                told.suggestions = {"Worked: in rows"};
                chart_.problems.push_back(std::move(told));
                return;
            }
            turned = std::any_of(row.cells.begin(), row.cells.end(), [](const ChartCell& cell) {
                return cell.sign.sign == Sign::turnHere || cell.sign.sign == Sign::wrapTurn;
            });
        }
    }

    void finish() {
        std::reverse(chart_.rows.begin(), chart_.rows.end());
        if (chart_.round) rounds();
        for (const auto& [line, value] : repeats_) repeat(line, value);
        if (first_ && !chart_.round && !chart_.rows.empty() && chart_.rows.front().facing != *first_) {
            const bool right = *first_ == Facing::right;
            problem(firstLine_, firstLine_.text,
                    fmt::format("The {} side faces you in the first row, so its number stands at the {}.",
                                right ? "right" : "wrong", right != chart_.leftHanded ? "right" : "left"),
                    {right ? "First row: wrong side" : "First row: right side"}, chart_.rows.front().number);
        }
        std::stable_sort(chart_.problems.begin(), chart_.problems.end(),
                         [](const Problem& a, const Problem& b) {
                             return a.line != b.line ? a.line < b.line : a.column < b.column;
                         });
    }

    WrittenChart chart_;
    std::vector<Line> grid_;
    std::vector<Line> legend_;
    std::vector<std::pair<Line, std::string_view>> repeats_;
    std::map<std::string, StitchSign> own_;
    std::optional<Facing> first_;
    Line firstLine_;
    bool faces_ = false;
    bool seen_ = false;
};

}  // namespace

WrittenChart parseChart(std::string_view text) {
    return Parsing(text).run();
}

}  // namespace loopmend
