// SPDX-License-Identifier: MIT
#include "pattern/parts.h"

#include "pattern/heading_words.h"
#include "pattern/held_parts.h"

#include <algorithm>
#include <cctype>
#include <optional>
#include <utility>

namespace loopmend {

namespace {

constexpr std::string_view kPieces[] = {
    "back",   "front", "sleeve", "sleeves", "yoke",    "body",  "collar", "hood",    "cuff",  "cuffs",
    "bodice", "skirt", "pocket", "pockets", "border",  "thumb", "hand",   "crown",   "brim",  "strap",
    "sole",   "upper", "flap",   "mitten",  "mittens", "sock",  "glove",  "slipper", "bootee"};
constexpr std::string_view kWhich[] = {"left",  "right", "first", "second", "the", "one",
                                       "other", "both",  "two",   "make",   "and", "alike"};

struct Section {
    std::string name;
    int line = 1;
    std::size_t begin = 0;  ///< of its heading
    std::size_t body = 0;
    std::size_t end = 0;
    bool castOn = false;
    std::string as;
    std::string until;     ///< `as for back until the armhole shaping`: the words behind until
    std::size_t rest = 0;  ///< and where its own words go on
    bool reversed = false;
    long long joined = 0;
    std::optional<TakenUp> taken;
};

bool letter(char c) {
    return std::isalpha(static_cast<unsigned char>(c)) != 0;
}

template <std::size_t N>
bool among(const std::string_view (&list)[N], std::string_view word) {
    return std::find(std::begin(list), std::end(list), word) != std::end(list);
}

/// The name in words that can only be a heading; empty if they are none.
std::string pieceIn(const std::vector<std::string>& words) {
    std::string name;
    bool piece = false;
    for (const std::string& word : words) {
        const bool named = among(kPieces, word);
        if (!named && !among(kWhich, word)) return {};
        piece = piece || named;
        if (word == "alike" || word == "the" || word == "make" || word == "both" || word == "two") continue;
        name += name.empty() ? word : " " + word;
    }
    return piece && words.size() <= 6 ? name : std::string();
}

/// The heading of a line and where its body begins; empty if it has none.
std::string headingOf(std::string_view line, std::size_t& body) {
    const std::size_t colon = line.find(':');
    const std::string_view head = line.substr(0, colon);
    if (head.size() > 40 || std::any_of(head.begin(), head.end(), [](char c) {
            return !letter(c) && c != ' ' && c != '\t' && c != '\r' && c != '.' && c != '(' && c != ')' &&
                   c != '-';
        }))
        return {};
    body = colon == std::string_view::npos ? line.size() : colon + 1;
    return pieceIn(headingWords(head));
}

std::string lowered(std::string_view text) {
    std::string lower(text);
    for (char& c : lower) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
    return lower;
}

/// How far a piece is worked as another one: the words behind `until` or `to`, up to the end of the sentence.
void lookUntil(std::string_view text, Section& section) {
    const std::string body = lowered(text.substr(section.body, section.end - section.body));
    std::size_t at = std::min(body.find("as for"), body.find("as given"));
    if (at == std::string::npos) return;
    const std::string last = section.as.substr(section.as.rfind(' ') + 1);
    at = body.find(last, at);
    if (at == std::string::npos) return;
    at += last.size();
    while (at < body.size() && (std::isspace(static_cast<unsigned char>(body[at])) != 0 || body[at] == ','))
        ++at;
    for (const std::string_view word : {"until ", "till ", "up to ", "as far as ", "through ", "to "}) {
        if (body.compare(at, word.size(), word) != 0) continue;
        const std::size_t from = at + word.size();
        const std::size_t end = std::min(body.find_first_of(".;", from), body.size());
        section.until = (word == "through " ? "end of " : "") + body.substr(from, end - from);
        std::replace(section.until.begin(), section.until.end(), '\n', ' ');
        section.rest = section.body + std::min(end + 1, body.size());
        return;
    }
}

/// `row 12`, `the end of row 12`, `row 12 has been worked`: the number, and whether that row is worked too.
int rowIn(const std::string& words, bool& workedToo) {
    for (const std::string_view name : {"row ", "round ", "rnd "}) {
        const std::size_t at = words.find(name);
        if (at == std::string::npos) continue;
        int n = 0;
        for (std::size_t i = at + name.size();
             i < words.size() && std::isdigit(static_cast<unsigned char>(words[i])) != 0; ++i)
            n = std::min(n * 10 + (words[i] - '0'), 100'000);
        workedToo = words.find("end of") != std::string::npos || words.find("worked") != std::string::npos ||
                    words.find("complete") != std::string::npos;
        return n;
    }
    return 0;
}

/// The first row that a line's head names; 0: it names none.
int firstRowOf(std::string_view line) {
    const std::string lower = lowered(line.substr(0, std::min<std::size_t>(line.size(), 40)));
    for (const std::string_view name : {"rows ", "row ", "rounds ", "round ", "rnds ", "rnd "}) {
        if (lower.compare(0, name.size(), name) != 0) continue;
        int n = 0;
        for (std::size_t i = name.size();
             i < lower.size() && std::isdigit(static_cast<unsigned char>(lower[i])) != 0; ++i)
            n = std::min(n * 10 + (lower[i] - '0'), 100'000);
        return n;
    }
    return 0;
}

/// Where a piece that is worked as this one leaves it; none: it has no such place.
std::optional<std::size_t> placeOf(std::string_view text, const Section& section, const std::string& until) {
    bool workedToo = false;
    const int row = rowIn(until, workedToo);
    std::vector<std::string> named;
    for (std::string& word : headingWords(until)) {
        for (const std::string_view part : {"armhole", "underarm", "shoulder", "neck", "waist", "hem", "cuff",
                                            "sleeve", "heel", "toe", "thumb", "crown", "raglan", "yoke"}) {
            if (word == part || word == std::string(part) + "s") named.emplace_back(part);
        }
    }
    const bool byLength = until.find("measure") != std::string::npos;
    std::optional<std::size_t> found;
    for (std::size_t at = section.body; at < section.end;) {
        const std::size_t end = std::min(text.find('\n', at), section.end);
        const std::string_view line = text.substr(at, end - at);
        if (row > 0) {
            const int first = firstRowOf(line);
            if (first > row || (first == row && !workedToo)) return at;
            if (first == row) found = end;  // if no other row follows
        } else if (!byLength) {
            const std::string lower = lowered(line);
            const bool shaping = lower.find("shap") != std::string::npos ||
                                 lower.find(':') != std::string::npos || lower.size() <= 24;
            for (const std::string& name : named) {
                if (shaping && lower.find(name) != std::string::npos) return at;
            }
        }
        at = end + 1;
    }
    return found;
}

void lookInto(std::string_view text, Section& section) {
    if (section.taken) return;
    const std::string_view body = text.substr(section.body, section.end - section.body);
    const std::vector<std::string> words = headingWords(body);
    for (std::size_t i = 0; i + 1 < words.size(); ++i) {
        if (words[i] == "cast" && words[i + 1] == "on") section.castOn = true;
        // "as for right front", "as given for back"; at the head of it "As right mitten"
        const bool said = words[i + 1] == "for" || words[i + 1] == "given";
        if (words[i] == "as" && (said || i == 0) && section.as.empty()) {
            std::vector<std::string> name;
            for (std::size_t j = i + (said ? 2 : 1); j < words.size() && name.size() < 3; ++j) {
                if (words[j] == "for") continue;
                if (!among(kPieces, words[j]) && !among(kWhich, words[j])) break;
                name.push_back(words[j]);
                if (among(kPieces, words[j])) break;
            }
            section.as = pieceIn(name);
        }
        if (words[i].rfind("revers", 0) == 0 &&
            (words[i + 1].rfind("shaping", 0) == 0 || words[i + 1] == "all" || words[i + 1] == "the"))
            section.reversed = true;
    }
    if (!section.as.empty()) lookUntil(text, section);
    if (section.castOn || !section.as.empty()) return;
    // "Join: work across 30 sts of sleeve, 60 sts of back"
    for (const std::string_view word : {"join", "Join", "across"}) {
        const std::size_t at = body.find(word);
        if (at == std::string_view::npos) continue;
        section.joined = stitchesIn(body.substr(at, body.find_first_of(".\n", at) - at));
        if (section.joined > 0) return;
    }
}

/// The first word of a heading that is no piece's name (`Second side:`) stands before stitches taken up.
std::size_t behindLabel(std::string_view text, std::size_t at, std::string& name) {
    const std::size_t end = std::min(text.find_first_of(":.,\n", at), text.size());
    if (end == text.size() || text[end] != ':' || end - at > 40) return at;
    for (const std::string& word : headingWords(text.substr(at, end - at)))
        name += name.empty() ? word : " " + word;
    for (const std::string_view row : {"row", "next", "round", "rnd"}) {
        if (name.rfind(row, 0) == 0) name.clear();
    }
    std::size_t behind = end + 1;
    while (behind < text.size() && (text[behind] == ' ' || text[behind] == '\t')) ++behind;
    return behind;
}

/// Where each piece may begin: at its heading, or where stitches are taken up again.
std::vector<Section> sectionsOf(std::string_view text) {
    std::vector<Section> sections;
    int line = 1;
    const auto begin = [&](std::string name, std::size_t at, std::size_t body) {
        if (!sections.empty()) sections.back().end = at;
        Section section;
        section.name = std::move(name);
        section.line = line;
        section.begin = at;
        section.body = body;
        section.end = text.size();
        sections.push_back(std::move(section));
    };
    for (std::size_t i = 0; i < text.size(); ++line) {
        const std::size_t end = std::min(text.find('\n', i), text.size());
        std::size_t body = 0;
        std::string name = headingOf(text.substr(i, end - i), body);
        if (!name.empty()) begin(std::move(name), i, i + body);
        const bool remark = text[i] == '#' || text.substr(i, 2) == "//";
        for (std::size_t at = remark ? end : i; at < end;) {
            std::string label;
            std::optional<TakenUp> taken = takenUpAt(text, at);
            if (!taken) {
                const std::size_t behind = behindLabel(text, at, label);
                if (behind > at) taken = takenUpAt(text, behind);
            }
            if (taken) {
                // A heading right before it is its name.
                const bool named = !sections.empty() && sections.back().taken == std::nullopt &&
                                   text.substr(sections.back().body, at - std::min(at, sections.back().body))
                                           .find_first_not_of(" \t\r\n") == std::string_view::npos;
                if (sections.empty() || (named && sections.size() == 1)) {
                    Section whole;
                    whole.name = "main piece";
                    whole.castOn = true;
                    whole.end = sections.empty() ? text.size() : sections.front().begin;
                    sections.insert(sections.begin(), std::move(whole));
                }
                if (named) {
                    sections.back().body = taken->body;
                } else {
                    begin(label.empty() ? "held stitches" : label, at, taken->body);
                }
                sections.back().taken = taken;
            }
            const std::size_t stop = text.substr(at, end - at).find(". ");
            at = stop == std::string_view::npos ? end : at + stop + 2;
            while (at < end && text[at] == ' ') ++at;
        }
        i = end + 1;
    }
    return sections;
}

/// The lines before the first piece; where that has no heading, those before its cast-on or its first row.
std::size_t headOf(std::string_view text, const Section& first) {
    if (first.body > first.begin) return first.begin;
    for (std::size_t i = 0; i < text.size();) {
        const std::size_t end = std::min(text.find('\n', i), text.size());
        const std::string line = lowered(text.substr(i, end - i));
        if (line.find("cast on") != std::string::npos || line.rfind("co ", 0) == 0 || firstRowOf(line) > 0)
            return i;
        i = end + 1;
    }
    return 0;
}

/// The number of the first row printed in a piece's own lines; 0: none is.
int rowBehind(std::string_view text, const Section& piece) {
    for (std::size_t i = text.find('\n', piece.body); i < piece.end; i = text.find('\n', i + 1)) {
        if (const int row = firstRowOf(text.substr(i + 1, piece.end - std::min(i + 1, piece.end))))
            return row;
    }
    return 0;
}

}  // namespace

Parts partsOf(std::string_view text, std::size_t index) {
    Parts parts;
    std::vector<Section> sections = sectionsOf(text);
    if (sections.size() < 2) return parts;
    const std::size_t head = std::min(headOf(text, sections.front()), sections.front().end);
    for (Section& section : sections) lookInto(text, section);
    // Headings that begin nothing (`Crown`, within a hat) belong to the piece before them.
    std::vector<Section> pieces;
    for (Section& section : sections) {
        const bool begins =
            section.castOn || !section.as.empty() || section.joined > 0 || section.taken.has_value();
        if (begins) {
            pieces.push_back(section);
        } else if (!pieces.empty()) {
            pieces.back().end = section.end;
        }
    }
    if (pieces.size() < 2) return parts;
    for (const Section& piece : pieces) parts.names.push_back(piece.name);
    const std::size_t chosen = std::min(index, pieces.size() - 1);
    const Section& piece = pieces[chosen];
    parts.line = piece.line;
    parts.joined = piece.joined;
    parts.reversed = piece.reversed;
    if (piece.taken && chosen > 0) {
        parts.heldSince = chosen - 1;
        parts.held = piece.taken->stitches;
        parts.pickedUp = piece.taken->pickedUp;
        parts.heldFacing = piece.taken->facing;
    }
    std::vector<std::pair<std::size_t, std::size_t>> shown = {{0, head}};
    if (piece.as.empty()) {
        shown.emplace_back(piece.body, piece.end);
    } else {
        // "as for the front" where there is a left and a right one: the one that is written out
        const Section* other = nullptr;
        for (const Section& one : pieces) {
            if (&one == &piece || !one.as.empty()) continue;
            const bool same =
                one.name == piece.as || one.name == piece.as + "s" || one.name + "s" == piece.as;
            const bool loose =
                one.name.size() > piece.as.size() &&
                one.name.compare(one.name.size() - piece.as.size(), piece.as.size(), piece.as) == 0;
            if (same || (!other && loose)) other = &one;
        }
        if (other) {
            parts.as = other->name;
            const std::optional<std::size_t> place =
                piece.until.empty() ? other->end : placeOf(text, *other, piece.until);
            if (!place || (!piece.until.empty() && other->body > piece.body))
                parts.unknownUntil = piece.until;
            shown.emplace_back(other->body, place.value_or(other->end));
            if (!piece.until.empty()) {
                parts.until = piece.until;
                shown.emplace_back(piece.rest, piece.end);
            }
        } else {
            parts.unknownAs = piece.as;
        }
    }
    parts.text.assign(text);
    for (std::size_t i = 0; i < parts.text.size(); ++i) {
        bool kept = false;
        for (const auto& [begin, end] : shown) kept = kept || (i >= begin && i < end);
        if (!kept && parts.text[i] != '\n') parts.text[i] = ' ';
    }
    // The words that take the stitches up stand where the head of their first row would.
    if (piece.taken && piece.taken->row) {
        std::string row = "Row ";
        row += std::to_string(std::max(1, rowBehind(text, piece) - 1));
        row += ':';
        const std::size_t line = text.rfind('\n', piece.body == 0 ? 0 : piece.body - 1);
        const std::size_t begin = line == std::string_view::npos ? 0 : line + 1;
        if (piece.body >= begin + row.size()) parts.text.replace(piece.body - row.size(), row.size(), row);
    }
    return parts;
}

}  // namespace loopmend
